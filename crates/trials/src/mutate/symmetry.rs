//! Symmetries that can be seen on paper: of the whole picture under quarter turns, of a cut piece under turning.

use super::yields::{Outline, alike};
use recipe::PrintNote;
use shape::Point;
use terms::{Face, TopPicture};

/// Places closer than this are one place of a drawing (1/64 in).
const NEAR: f64 = 1.0 / 64.0;

/// The quarter turns, 1 to 3, under which the picture looks the same, cloth and print included.
pub fn turns_of(picture: &TopPicture) -> Vec<u32> {
    let (low, high) = picture.outer.bounds();
    let (w, h) = (high.x - low.x, high.y - low.y);
    (1..4)
        .filter(|&turns| (turns == 2 || (w - h).abs() < NEAR) && looks_same(&picture.faces, turns, w, h))
        .filter(|&turns| looks_same(&picture.laid, turns, w, h))
        .collect()
}

fn looks_same(all: &[Face], turns: u32, w: f64, h: f64) -> bool {
    let turned = |p: Point| match turns {
        1 => Point::new(h - p.y, p.x),
        2 => Point::new(w - p.x, h - p.y),
        _ => Point::new(p.y, w - p.x),
    };
    let mut faces: Vec<(Point, &Face)> = all.iter().map(|f| (f.outline.centroid(), f)).collect();
    faces.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
    all.iter().all(|face| {
        let at = turned(face.outline.centroid());
        let start = faces.partition_point(|f| f.0.x < at.x - NEAR);
        faces[start..]
            .iter()
            .take_while(|f| f.0.x <= at.x + NEAR)
            .any(|(middle, other)| {
                (middle.y - at.y).abs() <= NEAR
                    && other.fabric == face.fabric
                    && other.outline.len() == face.outline.len()
                    && up_turned(face, other, turns)
                    && face.outline.corners().iter().all(|&c| {
                        let c = turned(c);
                        other.outline.corners().iter().any(|o| o.distance(c) <= NEAR)
                    })
            })
    })
}

fn up_turned(face: &Face, other: &Face, turns: u32) -> bool {
    match (face.up, other.up) {
        (None, None) => true,
        (Some(a), Some(b)) => {
            let (x, y) = (a.toward.x, a.toward.y);
            let (x, y) = match turns {
                1 => (-y, x),
                2 => (-x, -y),
                _ => (y, -x),
            };
            let agrees = x * b.toward.x + y * b.toward.y;
            agrees > 0.999 || (a.two_way && b.two_way && agrees < -0.999)
        }
        _ => false,
    }
}

/// Whether a piece looks the same when each edge is called by the number `turns` further on.
pub fn piece_turns(outline: &Outline, turns: u32, print: PrintNote) -> bool {
    let n = outline.len() as u32;
    // Numbers must go round without a gap for "further on" to mean turning.
    if outline.iter().enumerate().any(|(i, c)| c.0 != i as u32) {
        return false;
    }
    let renamed: Outline = outline.iter().map(|&(edge, at)| ((edge + turns) % n, at)).collect();
    let start = renamed.iter().position(|c| c.0 == 0).unwrap_or(0);
    let renamed: Outline = (0..outline.len())
        .map(|i| renamed[(i + start) % outline.len()])
        .collect();
    alike(outline, &renamed, print)
}
