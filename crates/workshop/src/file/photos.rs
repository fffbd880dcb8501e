//! The designer's photographs, which lie beside the design. Whatever a file holds, it is looked at with limits first; what is kept
//! or printed carries nothing but the picture: it stands upright, no larger than a page needs, without where and when it was taken.

use super::put_whole;
use book::{PhotoKind, PhotoWords};
use design::Design;
use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::imageops::FilterType;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::hash::{DefaultHasher, Hasher};
use std::io::{self, Cursor, Read};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;
use terms::{Finding, Place};

/// Most bytes of a photograph's file.
pub const MOST_PHOTO_BYTES: usize = 20 * 1024 * 1024;

/// Most pixels in either direction of a file that is looked at.
const MOST_PIXELS: u32 = 12_000;

/// Most memory for looking at one.
const MOST_MEMORY: u64 = 256 * 1024 * 1024;

/// Pixels of the longer side that are kept: 300 to the inch over the 5 in that a page has for it.
const KEPT_PIXELS: u32 = 1600;

/// What is wrong with a photograph.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PhotoFault {
    /// There is no such file beside the design.
    Missing,
    /// It has more bytes than are read.
    TooLarge,
    /// It has more pixels than are looked at.
    TooManyPixels,
    /// It is no JPEG or PNG, or a broken one.
    Unreadable,
    /// The system's own word.
    Io(String),
}

impl PhotoFault {
    /// A stable code.
    pub fn code(&self) -> &'static str {
        match self {
            PhotoFault::Missing => "photo-missing",
            PhotoFault::TooLarge | PhotoFault::TooManyPixels => "photo-too-large",
            PhotoFault::Unreadable => "photo-unreadable",
            PhotoFault::Io(_) => "photo-not-read",
        }
    }
}

impl std::fmt::Display for PhotoFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            PhotoFault::Missing => f.write_str("there is no such file beside the design"),
            PhotoFault::TooLarge => write!(f, "the file is larger than {} MB", MOST_PHOTO_BYTES / (1024 * 1024)),
            PhotoFault::TooManyPixels => write!(
                f,
                "it has more than {MOST_PIXELS} pixels across or down, or more in all than are looked at"
            ),
            PhotoFault::Unreadable => f.write_str("it is no JPEG or PNG picture, or a broken one"),
            PhotoFault::Io(words) => f.write_str(words),
        }
    }
}

/// A picture made ready to be kept or printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The file.
    pub bytes: Arc<[u8]>,
    /// What kind of file.
    pub kind: PhotoKind,
    /// Width and height.
    pub pixels: (u32, u32),
}

/// Looks at a file's bytes and makes it ready.
///
/// # Errors
/// When it is too large or no picture.
pub fn shown(bytes: &[u8]) -> Result<Shown, PhotoFault> {
    if bytes.len() > MOST_PHOTO_BYTES {
        return Err(PhotoFault::TooLarge);
    }
    let mut reader = ImageReader::new(Cursor::new(bytes))
        .with_guessed_format()
        .map_err(|_| PhotoFault::Unreadable)?;
    let kind = match reader.format() {
        Some(ImageFormat::Jpeg) => PhotoKind::Jpeg,
        Some(ImageFormat::Png) => PhotoKind::Png,
        _ => return Err(PhotoFault::Unreadable),
    };
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_PIXELS);
    limits.max_image_height = Some(MOST_PIXELS);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits.clone());
    let faulty = |error| match error {
        image::ImageError::Limits(_) => PhotoFault::TooManyPixels,
        _ => PhotoFault::Unreadable,
    };
    let mut decoder = reader.into_decoder().map_err(faulty)?;
    limits.reserve(decoder.total_bytes()).map_err(faulty)?;
    decoder.set_limits(limits).map_err(faulty)?;
    let orientation = decoder.orientation().map_err(faulty)?;
    let mut picture = DynamicImage::from_decoder(decoder).map_err(faulty)?;
    picture.apply_orientation(orientation);
    if picture.width() > KEPT_PIXELS || picture.height() > KEPT_PIXELS {
        picture = picture.resize(KEPT_PIXELS, KEPT_PIXELS, FilterType::CatmullRom);
    }
    let pixels = (picture.width(), picture.height());
    let mut out = Vec::new();
    let written = match kind {
        PhotoKind::Jpeg => {
            DynamicImage::from(picture.to_rgb8()).write_with_encoder(JpegEncoder::new_with_quality(&mut out, 85))
        }
        PhotoKind::Png if picture.color().has_alpha() => {
            DynamicImage::from(picture.to_rgba8()).write_with_encoder(PngEncoder::new(&mut out))
        }
        PhotoKind::Png => DynamicImage::from(picture.to_rgb8()).write_with_encoder(PngEncoder::new(&mut out)),
    };
    written.map_err(|_| PhotoFault::Unreadable)?;
    Ok(Shown {
        bytes: out.into(),
        kind,
        pixels,
    })
}

/// Where a file was when it was last looked at.
type Seen = (PathBuf, Option<SystemTime>, u64);

/// The photographs of one folder; each is looked at once as long as its file stays as it is.
#[derive(Clone, Debug)]
pub struct Photos {
    folder: PathBuf,
    seen: Arc<Mutex<BTreeMap<Seen, Result<Shown, PhotoFault>>>>,
}

/// Most pictures that are remembered.
const MOST_SEEN: usize = 64;

impl Photos {
    /// Those of a folder.
    pub fn of(folder: &Path) -> Photos {
        Photos {
            folder: folder.to_path_buf(),
            seen: Arc::default(),
        }
    }

    /// The photograph of this name, ready to be printed.
    ///
    /// # Errors
    /// When it is not there or no picture that is taken.
    pub fn photo(&self, name: &str) -> Result<Shown, PhotoFault> {
        if !design::is_photo_name(name) {
            return Err(PhotoFault::Missing);
        }
        let place = self.folder.join(name);
        let about = fs::metadata(&place).map_err(of_io)?;
        if !about.is_file() {
            return Err(PhotoFault::Missing);
        }
        if about.len() > MOST_PHOTO_BYTES as u64 {
            return Err(PhotoFault::TooLarge);
        }
        let key = (place.clone(), about.modified().ok(), about.len());
        if let Some(known) = self.lock().get(&key) {
            return known.clone();
        }
        let mut bytes = Vec::new();
        let file = File::open(&place).map_err(of_io)?;
        file.take(MOST_PHOTO_BYTES as u64 + 1)
            .read_to_end(&mut bytes)
            .map_err(of_io)?;
        let made = shown(&bytes);
        let mut seen = self.lock();
        seen.retain(|(other, ..), _| *other != place);
        if seen.len() >= MOST_SEEN {
            seen.pop_first();
        }
        seen.insert(key, made.clone());
        made
    }

    /// The photographs of a design's blocks, and what is wrong with those that cannot be printed.
    pub fn of_design(&self, design: &Design) -> (Vec<PhotoWords>, Vec<Finding>) {
        let (mut photos, mut findings) = (Vec::new(), Vec::new());
        for block in design.blocks.iter().filter(|block| !block.photo.is_empty()) {
            match self.photo(&block.photo) {
                Ok(shown) => photos.push(PhotoWords {
                    block: block.name.clone(),
                    bytes: shown.bytes,
                    kind: shown.kind,
                    pixels: shown.pixels,
                    alt: block.photo_alt.clone(),
                }),
                Err(fault) => findings.push(Finding::care(
                    fault.code(),
                    Place::Block {
                        name: block.name.clone(),
                        patches: Vec::new(),
                        at: None,
                    },
                    format!("Its photograph \"{}\" is not printed: {fault}.", block.photo),
                    "Put a JPEG or PNG of that name beside the design, or take `photo` out.",
                )),
            }
        }
        (photos, findings)
    }

    /// Keeps a photograph of a block beside the design and gives its name. The name holds the picture's fingerprint, so that no
    /// other picture is overwritten and an undone change finds its own again.
    ///
    /// # Errors
    /// When it is no picture that is taken, or cannot be written.
    pub fn keep(&self, block: &str, bytes: &[u8]) -> Result<String, PhotoFault> {
        let shown = shown(bytes)?;
        let mut hasher = DefaultHasher::new();
        hasher.write(&shown.bytes);
        let stem: String = block
            .chars()
            .filter(|c| c.is_ascii_alphanumeric() || *c == '-')
            .take(64)
            .collect();
        let name = format!("{stem}-{:016x}.{}", hasher.finish(), shown.kind.ending());
        put_whole(&self.folder.join(&name), &shown.bytes).map_err(of_io)?;
        Ok(name)
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, BTreeMap<Seen, Result<Shown, PhotoFault>>> {
        self.seen.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn of_io(error: io::Error) -> PhotoFault {
    match error.kind() {
        io::ErrorKind::NotFound => PhotoFault::Missing,
        _ => PhotoFault::Io(error.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::{Rgb, RgbImage};

    /// Left half blue, right half gold.
    fn picture(width: u32, height: u32) -> RgbImage {
        RgbImage::from_fn(width, height, |x, _| {
            if x * 2 < width {
                Rgb([36, 64, 92])
            } else {
                Rgb([217, 164, 65])
            }
        })
    }

    fn jpeg(width: u32, height: u32) -> Vec<u8> {
        let mut out = Vec::new();
        let encoder = JpegEncoder::new_with_quality(&mut out, 90);
        DynamicImage::from(picture(width, height))
            .write_with_encoder(encoder)
            .unwrap();
        out
    }

    fn png(width: u32, height: u32) -> Vec<u8> {
        let mut out = Vec::new();
        DynamicImage::from(picture(width, height))
            .write_with_encoder(PngEncoder::new(&mut out))
            .unwrap();
        out
    }

    #[test]
    fn a_picture_taken_sideways_stands_and_tells_nothing_of_its_taking() {
        let plain = jpeg(40, 20);
        // Exif 2.32 (CIPA DC-008), 4.6: in an APP1 segment a TIFF header and one entry, Orientation (0x0112) = 6: the picture's top is at the
        // right side of what is seen; and behind it what a camera may write besides.
        let mut tiff = b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0".to_vec();
        tiff.extend(b"54 deg north, at home");
        let mut segment = b"Exif\0\0".to_vec();
        segment.extend(&tiff);
        let mut sideways = plain[..2].to_vec();
        sideways.extend([0xff, 0xe1]);
        sideways.extend(u16::try_from(segment.len() + 2).unwrap().to_be_bytes());
        sideways.extend(&segment);
        sideways.extend(&plain[2..]);
        let shown = shown(&sideways).unwrap();
        assert_eq!((shown.kind, shown.pixels), (PhotoKind::Jpeg, (20, 40)));
        let inside = |needle: &[u8]| shown.bytes.windows(needle.len()).any(|part| part == needle);
        assert!(!inside(b"Exif") && !inside(b"at home"));
        // Turned a quarter clockwise, what was left is on top.
        let upright = image::load_from_memory(&shown.bytes).unwrap().to_rgb8();
        assert!(upright.get_pixel(10, 5)[2] > 80 && upright.get_pixel(10, 35)[0] > 180);
    }

    #[test]
    fn a_large_picture_is_kept_smaller_in_its_proportions() {
        let large = shown(&png(3200, 800)).unwrap();
        assert_eq!((large.kind, large.pixels), (PhotoKind::Png, (1600, 400)));
        assert_eq!(shown(&png(300, 200)).unwrap().pixels, (300, 200));
        // The same picture is the same file again.
        assert_eq!(large, shown(&png(3200, 800)).unwrap());
    }

    #[test]
    fn what_is_no_picture_or_too_much_is_refused() {
        assert_eq!(shown(b""), Err(PhotoFault::Unreadable));
        assert_eq!(
            shown(b"<svg xmlns='http://www.w3.org/2000/svg'/>"),
            Err(PhotoFault::Unreadable)
        );
        assert_eq!(shown(b"GIF89a\x01\0\x01\0\0\0\0;"), Err(PhotoFault::Unreadable));
        assert_eq!(shown(&png(40, 40)[..60]), Err(PhotoFault::Unreadable));
        assert_eq!(shown(&png(MOST_PIXELS + 1, 1)), Err(PhotoFault::TooManyPixels));
        assert_eq!(shown(&vec![0; MOST_PHOTO_BYTES + 1]), Err(PhotoFault::TooLarge));
        // A small file that says it is 12 000 x 12 000 pixels of 8 bytes (PNG, ISO/IEC 15948, 11.2.2): more memory than is lent.
        let mut bomb = png(1, 1);
        bomb[16..24].copy_from_slice(&[0, 0, 0x2e, 0xe0, 0, 0, 0x2e, 0xe0]);
        bomb[24..26].copy_from_slice(&[16, 6]);
        // The chunk's check (annex D), so that nothing else is wrong with it.
        let check = !bomb[12..29].iter().fold(u32::MAX, |check, byte| {
            (0..8).fold(check ^ u32::from(*byte), |c, _| {
                if c & 1 == 1 { c >> 1 ^ 0xedb8_8320 } else { c >> 1 }
            })
        });
        bomb[29..33].copy_from_slice(&check.to_be_bytes());
        assert_eq!(shown(&bomb), Err(PhotoFault::TooManyPixels));
    }

    #[test]
    fn photographs_are_kept_beside_the_design_and_nowhere_else() {
        let folder = std::env::temp_dir().join(format!("workshop-photos-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        let photos = Photos::of(&folder);
        let name = photos.keep("beacon", &jpeg(60, 30)).unwrap();
        assert!(name.starts_with("beacon-") && name.ends_with(".jpg") && design::is_photo_name(&name));
        assert_eq!(photos.keep("beacon", &jpeg(60, 30)).unwrap(), name);
        assert_ne!(photos.keep("beacon", &jpeg(61, 30)).unwrap(), name);
        assert_eq!(photos.photo(&name).unwrap().pixels, (60, 30));
        for bad in [
            "../beacon.jpg",
            "/etc/passwd",
            ".hidden.jpg",
            "a/b.png",
            "C:x.png",
            "beacon.svg",
            "none.jpg",
        ] {
            assert_eq!(photos.photo(bad), Err(PhotoFault::Missing), "{bad}");
        }
        // Another picture under the same name is seen.
        fs::write(folder.join(&name), png(10, 10)).unwrap();
        assert_eq!(photos.photo(&name).unwrap().pixels, (10, 10));
        let text = super::super::EXAMPLES[1]
            .1
            .replacen("[[block]]\n", "[[block]]\nphoto = \"gone.jpg\"\n", 1);
        let (found, findings) = photos.of_design(&design::read_design(&text).unwrap());
        assert!(found.is_empty());
        assert_eq!(findings.iter().map(|f| f.code).collect::<Vec<_>>(), ["photo-missing"]);
        fs::remove_dir_all(&folder).unwrap();
    }
}
