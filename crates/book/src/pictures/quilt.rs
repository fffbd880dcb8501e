//! The quilt as a whole.

use super::canvas::{Canvas, Pen, View};
use super::cloth::{Cloth, Cloths};
use crate::model::Picture;
use shape::{Motion, Point};
use terms::{FabricId, Face, TopPicture};

/// The finished quilt within a box of points.
pub(crate) fn quilt(picture: &TopPicture, cloths: &Cloths, width: f64, height: f64, alt: &str) -> Picture {
    draw(picture, cloths, width, height, None, alt)
}

/// A small quilt in which one cloth stands out: where it is used.
pub(crate) fn where_used(picture: &TopPicture, cloths: &Cloths, fabric: &FabricId, side: f64) -> Picture {
    let alt = format!("Where {} lies in the quilt", cloths.get(fabric).label);
    draw(picture, cloths, side, side, Some(fabric), &alt)
}

fn draw(picture: &TopPicture, cloths: &Cloths, width: f64, height: f64, only: Option<&FabricId>, alt: &str) -> Picture {
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
    // What is meant comes last, so that its edges lie on top.
    let meant = |face: &&Face| only.is_none_or(|fabric| fabric == &face.fabric);
    let (above, below): (Vec<&Face>, Vec<&Face>) = picture.faces.iter().partition(meant);
    for (cloth, outlines) in by_cloth(&below, cloths, &view) {
        canvas.outlines(&outlines, &cloth.faint(), Some(Pen::GHOST));
    }
    for (cloth, outlines) in by_cloth(&above, cloths, &view) {
        cloth.right_sides(&mut canvas, &outlines, Some(Pen::HAIR));
    }
    // What is laid on them lies above, in its own order.
    for face in &picture.laid {
        if meant(&face) {
            cloths
                .get(&face.fabric)
                .right(&mut canvas, &view.all(&face.outline), Some(Pen::HAIR));
        } else {
            let fill = cloths.get(&face.fabric).faint();
            canvas.outline(&view.all(&face.outline), &fill, Some(Pen::GHOST));
        }
    }
    let frame = if only.is_some() { Pen::HIDDEN } else { Pen::CUT };
    canvas.outline(&view.all(&picture.outer), "none", Some(frame));
    canvas.finish(alt)
}

/// Outlines on the sheet, by corners.
type Outlines = Vec<Vec<(f64, f64)>>;

/// The outlines of each cloth, the cloths in the order in which they are met.
fn by_cloth<'a>(faces: &[&Face], cloths: &'a Cloths, view: &View) -> Vec<(&'a Cloth, Outlines)> {
    let mut found: Vec<(&FabricId, &Cloth, Outlines)> = Vec::new();
    for face in faces {
        let outline = view.all(&face.outline);
        match found.iter_mut().find(|(fabric, ..)| *fabric == &face.fabric) {
            Some((_, _, outlines)) => outlines.push(outline),
            None => found.push((&face.fabric, cloths.get(&face.fabric), vec![outline])),
        }
    }
    found
        .into_iter()
        .map(|(_, cloth, outlines)| (cloth, outlines))
        .collect()
}
