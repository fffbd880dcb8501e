//! The cloths side by side: their ladder of lightness, and the quilt in black and white.

use super::canvas::{Anchor, Canvas, INK, Lettering, Pen, View, lettering_width};
use super::cloth::{Cloths, inside, tile};
use crate::model::Picture;
use design::Together;
use shape::{Motion, Point, Polygon};
use std::collections::BTreeMap;
use terms::{FabricId, TopPicture};

/// Letters for the cloths, from dark to light: A, B … Z, AA, AB …
pub(crate) fn letters(together: &Together) -> BTreeMap<&FabricId, String> {
    let letter = |n: usize| char::from(b'A' + (n % 26) as u8);
    let word = |n: usize| match n / 26 {
        0 => letter(n).to_string(),
        more => format!("{}{}", letter(more - 1), letter(n)),
    };
    (together.ladder.iter().enumerate())
        .map(|(n, rung)| (&rung.fabric, word(n)))
        .collect()
}

/// Each cloth in its colour and in grey, at its place between black and white; lettering so many times larger.
pub(crate) fn ladder(together: &Together, cloths: &Cloths, greys: &Cloths, width: f64, larger: f64) -> Picture {
    let (side, gap) = (14.0 * larger, 5.0 * larger);
    let foot = 14.0 * larger;
    let height = together.ladder.len() as f64 * (side + gap) + foot;
    let mut canvas = Canvas::lettered(width, height, larger);
    let letters = letters(together);
    let names = (together.ladder.iter())
        .map(|r| lettering_width(&shortened(&cloths.get(&r.fabric).label), Lettering::WORDS.size * larger));
    let name_end = 26.0 * larger + 2.0 * side + names.fold(0.0, f64::max);
    let (black, white) = (name_end + 10.0, width - 26.0 * larger);
    for (n, rung) in together.ladder.iter().enumerate() {
        let y = n as f64 * (side + gap) + 1.0;
        let middle = y + side / 2.0;
        let letter = letters.get(&rung.fabric).map_or("", String::as_str);
        canvas.centred((7.0 * larger, middle), letter, Lettering::MEASURE);
        tile(&mut canvas, cloths.get(&rung.fabric), 16.0 * larger, y, side);
        tile(&mut canvas, greys.get(&rung.fabric), 18.0 * larger + side, y, side);
        let name = Lettering {
            anchor: Anchor::End,
            ..Lettering::WORDS
        };
        let down = 0.32 * name.size * larger;
        canvas.label(
            (name_end, middle + down),
            &shortened(&cloths.get(&rung.fabric).label),
            name,
        );
        let x = black + (white - black) * rung.lightness.clamp(0.0, 100.0) / 100.0;
        canvas.line((black, middle), (white, middle), Pen::GHOST);
        canvas.line((black, middle), (x, middle), Pen::CUT);
        canvas.circle((x, middle), 3.0, INK, None);
        let figure = format!("{:.0}", rung.lightness);
        canvas.centred((white + 14.0 * larger, middle), &figure, Lettering::MEASURE);
    }
    let foot = height - foot / 2.0;
    canvas.centred((black + 11.0 * larger, foot), "black", Lettering::WORDS);
    canvas.centred((white - 11.0 * larger, foot), "white", Lettering::WORDS);
    let told: Vec<String> = (together.ladder.iter())
        .map(|r| format!("{} {:.0}", cloths.get(&r.fabric).label, r.lightness))
        .collect();
    canvas.finish(format!("Ladder of lightness from dark to light: {}", told.join(", ")))
}

fn shortened(label: &str) -> String {
    if label.chars().count() <= 28 {
        return label.to_string();
    }
    label.chars().take(27).chain(std::iter::once('…')).collect()
}

/// The quilt in black and white within a box: the darker a cloth the closer its lines, its letter where there is room.
pub(crate) fn in_lines(picture: &TopPicture, together: &Together, width: f64, height: f64, alt: &str) -> Picture {
    let (low, high) = picture.outer.bounds();
    let (across, up) = (high.x - low.x, high.y - low.y);
    if picture.outer.is_empty() || across <= 0.0 || up <= 0.0 {
        return Canvas::new(width, 1.0).finish(alt);
    }
    let scale = ((width - 2.0) / across).min((height - 2.0) / up);
    let (w, h) = (across * scale + 2.0, up * scale + 2.0);
    let mut canvas = Canvas::new(w, h);
    let view = View {
        turn: Motion::STILL,
        scale,
        low: Point::new(low.x, low.y),
        origin: (1.0, h - 1.0),
    };
    let letters = letters(together);
    let lightness = |fabric: &FabricId| {
        let rung = together.ladder.iter().find(|r| &r.fabric == fabric);
        rung.map_or(100.0, |r| r.lightness)
    };
    let pieced: Vec<(&FabricId, Vec<(f64, f64)>)> = (picture.faces.iter())
        .map(|face| (&face.fabric, view.all(&face.outline)))
        .collect();
    let outlines: Vec<&[(f64, f64)]> = pieced.iter().map(|(_, corners)| corners.as_slice()).collect();
    canvas.outlines(&outlines, "#FFFFFF", None);
    let mut lines = String::new();
    for (fabric, corners) in &pieced {
        lined(&mut lines, corners, lightness(fabric));
    }
    canvas.strokes(&lines, INK, 0.35);
    canvas.outlines(&outlines, "none", Some(Pen::HAIR));
    for (fabric, corners) in &pieced {
        lettered(&mut canvas, corners, letters.get(fabric));
    }
    // What is laid on them lies above, in its own order.
    for face in &picture.laid {
        let corners = view.all(&face.outline);
        canvas.outline(&corners, "#FFFFFF", None);
        let mut lines = String::new();
        lined(&mut lines, &corners, lightness(&face.fabric));
        canvas.strokes(&lines, INK, 0.35);
        canvas.outline(&corners, "none", Some(Pen::HAIR));
        lettered(&mut canvas, &corners, letters.get(&face.fabric));
    }
    canvas.outline(&view.all(&picture.outer), "none", Some(Pen::CUT));
    canvas.finish(alt)
}

/// A patch's lines, the closer the darker its cloth; none on the lightest.
fn lined(lines: &mut String, corners: &[(f64, f64)], lightness: f64) {
    if lightness < 85.0 {
        let share = lightness / 85.0;
        Canvas::hatching(lines, corners, 0.75 + 2.8 * share * share);
    }
}

/// A patch's letter, where there is room.
fn lettered(canvas: &mut Canvas, corners: &[(f64, f64)], letter: Option<&String>) {
    let Some(letter) = letter else { return };
    let shown = Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect());
    let n = corners.len().max(1) as f64;
    let middle = Point::new(
        corners.iter().map(|c| c.0).sum::<f64>() / n,
        corners.iter().map(|c| c.1).sum::<f64>() / n,
    );
    if inside(&shown, middle) && shown.distance_to_boundary(middle) > 4.2 {
        canvas.circle((middle.x, middle.y), 3.7, "#FFFFFF", None);
        let how = Lettering {
            size: 5.5,
            ..Lettering::MEASURE
        };
        canvas.centred((middle.x, middle.y), letter, how);
    }
}
