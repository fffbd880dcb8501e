//! Pictures of what comes after the top: the back in its lengths, the layers, the binding round a corner.

use super::canvas::{Canvas, Lettering, Pen, lettering_width};
use super::cloth::Cloth;
use crate::model::{Edition, Picture};
use crate::numbers::{THIN, set_length, unit};
use finishing::{Backing, Lay};

/// The back with its lengths and seams, to scale, seen from the right side.
pub(crate) fn back(backing: &Backing, cloth: &Cloth, edition: &Edition) -> Picture {
    let (across, down) = (backing.width.len.to_inches(), backing.height.len.to_inches());
    let scale = 120.0 / across.max(down);
    let (w, h) = (across * scale, down * scale);
    let letters = edition.letters();
    let mut canvas = Canvas::lettered(w + 4.0 + 46.0 * letters, h + 26.0, letters);
    let box_of = |x0: f64, y0: f64, x1: f64, y1: f64| [(x0, y0), (x1, y0), (x1, y1), (x0, y1)];
    cloth.right(&mut canvas, &box_of(1.0, 1.0, 1.0 + w, 1.0 + h), Some(Pen::CUT));
    // The lengths side by side, their surplus cut off both sides alike.
    let n = backing.way.lengths;
    let piece = backing.usable.len.to_inches() - 2.0 * backing.seam.len.to_inches();
    let over = if backing.way.lay == Lay::Upright { across } else { down };
    for i in 1..n {
        let at = (over / 2.0 + (f64::from(i) - f64::from(n) / 2.0) * piece) * scale;
        match backing.way.lay {
            Lay::Upright => canvas.line((1.0 + at, 1.0), (1.0 + at, 1.0 + h), Pen::STITCH),
            _ => canvas.line((1.0, 1.0 + at), (1.0 + w, 1.0 + at), Pen::STITCH),
        }
    }
    let number = |size: recipe::Size| {
        let bare = set_length(size.len, edition.measure);
        format!("{bare}{THIN}{}", unit(edition.measure))
    };
    canvas.span(1.0, 1.0 + w, h + 12.0, &number(backing.width));
    let height = number(backing.height);
    let half = lettering_width(&height, 9.5 * letters) / 2.0;
    canvas.upright_span(1.0, 1.0 + h, w + 5.0 + half, &height);
    let seams = match (n, backing.way.lay) {
        (1, _) => "in one piece".to_string(),
        (_, Lay::Upright) => format!("{n} lengths upright"),
        _ => format!("{n} lengths sideways"),
    };
    canvas.finish(format!(
        "The back, {} by {}, {seams}",
        number(backing.width),
        number(backing.height)
    ))
}

/// Back, batting and top one on the other, each a little smaller than what lies beneath.
pub(crate) fn layers(back: Option<&Cloth>, edition: &Edition) -> Picture {
    let mut canvas = Canvas::lettered(150.0, 92.0, edition.letters());
    // Leaning rectangles, the lowest first.
    let sheet = |inset: f64, lift: f64| {
        let (x0, x1, lean) = (2.0 + inset, 116.0 - inset, 22.0);
        let (y0, y1) = (30.0 + inset * 0.45 - lift, 86.0 - inset * 0.45 - lift);
        [(x0 + lean, y0), (x1 + lean - 10.0, y0), (x1, y1), (x0 - 1.0, y1)]
    };
    let lower = sheet(0.0, 0.0);
    match back {
        Some(cloth) => cloth.wrong(&mut canvas, &lower, Some(Pen::CUT)),
        None => canvas.outline(&lower, "#FFFFFF", Some(Pen::CUT)),
    }
    canvas.outline(&sheet(4.0, 9.0), "#FFFFFF", Some(Pen::CUT));
    canvas.outline(&sheet(13.0, 18.0), "#F1E7D2", Some(Pen::CUT));
    canvas.label((62.0, 30.0), "top", Lettering::WORDS);
    canvas.label((62.0, 71.4), "batting", Lettering::WORDS);
    canvas.outline(
        &[(50.0, 76.8), (74.0, 76.8), (74.0, 84.8), (50.0, 84.8)],
        "#FFFFFF",
        None,
    );
    canvas.label((62.0, 83.2), "back", Lettering::WORDS);
    canvas.finish("Back, right side down, batting and top, right side up, one on the other")
}

/// The binding folded round a corner: sewn to a seam before it, folded up, folded down.
pub(crate) fn mitre(cloth: &Cloth, edition: &Edition) -> Picture {
    let mut canvas = Canvas::lettered(190.0, 92.0, edition.letters());
    let box_of = |x0: f64, y0: f64, x1: f64, y1: f64| [(x0, y0), (x1, y0), (x1, y1), (x0, y1)];
    for (at, second) in [(0.0, false), (98.0, true)] {
        // The quilt's corner is at the lower right; the strip comes along the lower edge.
        let (right, low) = (at + 76.0, 72.0);
        canvas.outline(&box_of(at + 8.0, 22.0, right, low), "#F1E7D2", Some(Pen::CUT));
        let strip = 13.0;
        cloth.right(
            &mut canvas,
            &box_of(at + 8.0, low - strip, right - strip, low),
            Some(Pen::CUT),
        );
        if second {
            // Folded down again along the right edge, over the slanting fold.
            cloth.right(
                &mut canvas,
                &[(right - strip, low), (right - strip, 22.0), (right, 22.0), (right, low)],
                Some(Pen::CUT),
            );
            canvas.line((right - strip, low - strip), (right, low), Pen::HIDDEN);
            canvas.line((right - 5.0, low), (right - 5.0, 24.0), Pen::STITCH);
        } else {
            // Folded away from the quilt: the fold slants.
            cloth.right(
                &mut canvas,
                &[
                    (right - strip, low - strip),
                    (right, low),
                    (right, low + 15.0),
                    (right - strip, low + 15.0),
                ],
                Some(Pen::CUT),
            );
            canvas.line((right - strip, low - strip), (right, low), Pen::CUT);
        }
        canvas.line((at + 10.0, low - 5.0), (right - 5.0, low - 5.0), Pen::STITCH);
    }
    canvas.finish("The strip stops a seam's width before the corner, is folded away from the quilt, then back along the next edge")
}
