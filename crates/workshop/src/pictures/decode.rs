//! A picture's bytes as a picture: PNG or JPEG, within bounds, upright, without what a camera wrote into it.

use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::imageops::FilterType;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use std::io::Cursor;

/// Most bytes of a picture that is brought in: what a good camera writes.
pub const MOST_BYTES: usize = 24 * 1024 * 1024;

/// Most pixels across or down that are read.
const MOST_SIDE: u32 = 12_000;

/// Most bytes a picture may take while it is read.
const MOST_MEMORY: u64 = 400 * 1024 * 1024;

/// Pixels across or down that are kept: more than a screen shows of a block.
const KEPT_SIDE: u32 = 2000;

/// How well a photograph is kept, of 100.
const QUALITY: u8 = 85;

/// A picture as it is kept.
#[derive(Clone, Debug)]
pub struct Picture {
    /// How its file's name ends.
    pub ending: &'static str,
    /// Its file.
    pub bytes: Vec<u8>,
    /// Pixels across and down.
    pub size: (u32, u32),
    /// The picture itself.
    pub image: DynamicImage,
}

/// Why a picture is not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureError {
    /// Stable code.
    pub code: &'static str,
    /// What is in the way, and what would do.
    pub words: String,
}

fn refused(code: &'static str, words: &str) -> PictureError {
    PictureError {
        code,
        words: words.to_string(),
    }
}

/// Decodes a picture and makes it what is kept: upright, at most 2000 pixels either way, nothing in it but the picture.
///
/// # Errors
/// `not-a-picture` for what is no PNG or JPEG, `picture-too-large`.
pub fn decode(bytes: &[u8]) -> Result<Picture, PictureError> {
    let large = || {
        refused(
            "picture-too-large",
            "This picture is too large: at most 24 million bytes and 12 000 pixels either way. Make it smaller first.",
        )
    };
    let unreadable = || {
        refused(
            "not-a-picture",
            "This is no picture that can be read. PNG and JPEG can.",
        )
    };
    if bytes.len() > MOST_BYTES {
        return Err(large());
    }
    let format = image::guess_format(bytes).map_err(|_| unreadable())?;
    let photograph = match format {
        ImageFormat::Jpeg => true,
        ImageFormat::Png => false,
        _ => return Err(unreadable()),
    };
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_SIDE);
    limits.max_image_height = Some(MOST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let wrong = |error: image::ImageError| match error {
        image::ImageError::Limits(_) => large(),
        _ => unreadable(),
    };
    let mut decoder = reader.into_decoder().map_err(wrong)?;
    if u64::from(decoder.dimensions().0) * u64::from(decoder.dimensions().1) * 4 > MOST_MEMORY {
        return Err(large());
    }
    let orientation = decoder.orientation().map_err(wrong)?;
    let mut image = DynamicImage::from_decoder(decoder).map_err(wrong)?;
    image.apply_orientation(orientation);
    if image.width().max(image.height()) > KEPT_SIDE {
        image = image.resize(KEPT_SIDE, KEPT_SIDE, FilterType::Triangle);
    }
    let mut kept = Vec::new();
    let (ending, written) = if photograph {
        let plain = DynamicImage::ImageRgb8(image.to_rgb8());
        (
            "jpg",
            plain.write_with_encoder(JpegEncoder::new_with_quality(&mut kept, QUALITY)),
        )
    } else {
        let plain = DynamicImage::ImageRgba8(image.to_rgba8());
        ("png", plain.write_with_encoder(PngEncoder::new(&mut kept)))
    };
    written.map_err(|_| unreadable())?;
    Ok(Picture {
        ending,
        bytes: kept,
        size: (image.width(), image.height()),
        image,
    })
}

/// What kind of picture a file's bytes are, and its pixels across and down, by its head alone. `None` when it is none.
pub fn measured(bytes: &[u8]) -> Option<(&'static str, (u32, u32))> {
    let format = image::guess_format(bytes).ok()?;
    let kind = match format {
        ImageFormat::Jpeg => "image/jpeg",
        ImageFormat::Png => "image/png",
        _ => return None,
    };
    let size = ImageReader::with_format(Cursor::new(bytes), format)
        .into_dimensions()
        .ok()?;
    (size.0 > 0 && size.1 > 0).then_some((kind, size))
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::{Rgb, RgbImage};

    fn encoded(image: &RgbImage, format: ImageFormat) -> Vec<u8> {
        let mut bytes = Vec::new();
        image.write_to(&mut Cursor::new(&mut bytes), format).unwrap();
        bytes
    }

    fn halves(width: u32, height: u32) -> RgbImage {
        RgbImage::from_fn(width, height, |x, _| {
            if x < width / 2 {
                Rgb([200, 30, 30])
            } else {
                Rgb([20, 40, 160])
            }
        })
    }

    /// The check value of a PNG's chunk (W3C PNG, annex D).
    fn crc(bytes: &[u8]) -> u32 {
        !bytes.iter().fold(u32::MAX, |mut crc, byte| {
            crc ^= u32::from(*byte);
            for _ in 0..8 {
                crc = if crc & 1 == 1 {
                    0xedb8_8320 ^ (crc >> 1)
                } else {
                    crc >> 1
                };
            }
            crc
        })
    }

    #[test]
    fn a_picture_is_kept_as_it_is_and_a_large_one_smaller() {
        let small = decode(&encoded(&halves(60, 40), ImageFormat::Png)).unwrap();
        assert_eq!((small.ending, small.size), ("png", (60, 40)));
        assert_eq!(small.image.to_rgb8().get_pixel(5, 5), &Rgb([200, 30, 30]));
        assert_eq!(measured(&small.bytes), Some(("image/png", (60, 40))));
        let large = decode(&encoded(&halves(3000, 1500), ImageFormat::Jpeg)).unwrap();
        assert_eq!((large.ending, large.size), ("jpg", (2000, 1000)));
        assert_eq!(measured(&large.bytes), Some(("image/jpeg", (2000, 1000))));
    }

    /// TIFF 6.0, tag 274 (Orientation) = 6: row 0 of what is stored is the right side as seen. In JPEG it stands in the APP1 segment
    /// that begins "Exif" (CIPA DC-008).
    #[test]
    fn a_photograph_on_its_side_is_turned_upright_and_tells_nothing_more() {
        let plain = encoded(&halves(64, 32), ImageFormat::Jpeg);
        let mut tiff: Vec<u8> = b"II\x2a\x00\x08\x00\x00\x00\x01\x00".to_vec();
        tiff.extend([0x12, 0x01, 3, 0, 1, 0, 0, 0, 6, 0, 0, 0, 0, 0, 0, 0]);
        let mut exif = b"Exif\0\0".to_vec();
        exif.extend(tiff);
        let mut told = plain[..2].to_vec();
        told.extend([0xff, 0xe1]);
        told.extend(u16::try_from(exif.len() + 2).unwrap().to_be_bytes());
        told.extend(&exif);
        told.extend(&plain[2..]);
        let upright = decode(&told).unwrap();
        assert_eq!(upright.size, (32, 64));
        // What was left is above: turned clockwise by a quarter.
        let pixel = *upright.image.to_rgb8().get_pixel(16, 8);
        assert!(pixel[0] > 150 && pixel[2] < 90, "{pixel:?}");
        assert!(!upright.bytes.windows(4).any(|w| w == b"Exif"));
    }

    #[test]
    fn what_is_no_picture_or_too_large_is_refused() {
        assert_eq!(decode(b"GIF89a....").unwrap_err().code, "not-a-picture");
        assert_eq!(decode(b"").unwrap_err().code, "not-a-picture");
        assert_eq!(
            decode(b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>").unwrap_err().code,
            "not-a-picture"
        );
        let mut torn = encoded(&halves(60, 40), ImageFormat::Png);
        torn.truncate(torn.len() / 2);
        assert_eq!(decode(&torn).unwrap_err().code, "not-a-picture");
        // A PNG's head alone says 50 000 by 50 000 pixels (W3C PNG, 11.2.1: IHDR); nothing is allotted for it.
        let mut bomb = encoded(&halves(8, 8), ImageFormat::Png);
        bomb[16..24].copy_from_slice(&[0, 0, 0xc3, 0x50, 0, 0, 0xc3, 0x50]);
        let check = crc(&bomb[12..29]).to_be_bytes();
        bomb[29..33].copy_from_slice(&check);
        assert_eq!(decode(&bomb).unwrap_err().code, "picture-too-large");
        assert_eq!(decode(&vec![0; MOST_BYTES + 1]).unwrap_err().code, "picture-too-large");
    }
}
