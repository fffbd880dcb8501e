//! Rectangles that become units of the trade, or parts that no seam runs through.

use super::author::{Author, MARK};
use super::outlines::{Corner, as_rectangle, fair};

impl Author {
    /// A rectangle as a windmill of either hand, or as a rectangle set into a mitred corner, if the parts are fair.
    pub(super) fn without_through_seam(&mut self, piece: &[Corner]) -> Option<Vec<Vec<Corner>>> {
        let (x, y, w, h) = as_rectangle(piece)?;
        let mut between = |from: f64, size: f64| {
            let marks = (size / MARK).round() as usize;
            let a = 1 + self.chance.below(marks.checked_sub(2)?.max(1));
            let b = a + 1 + self.chance.below((marks - a).checked_sub(1)?.max(1));
            Some((from + a as f64 * MARK, from + b as f64 * MARK))
        };
        let ((x1, x2), (y1, y2)) = (between(x, w)?, between(y, h)?);
        let (right, top) = (x + w, y + h);
        let box_of = |l: f64, b: f64, r: f64, t: f64| vec![(l, b), (r, b), (r, t), (l, t)];
        let parts = match self.chance.below(3) {
            0 => vec![
                box_of(x, y, x2, y1),
                box_of(x2, y, right, y2),
                box_of(x1, y2, right, top),
                box_of(x, y1, x1, top),
                box_of(x1, y1, x2, y2),
            ],
            1 => vec![
                box_of(x1, y, right, y1),
                box_of(x2, y1, right, top),
                box_of(x, y2, x2, top),
                box_of(x, y, x1, y2),
                box_of(x1, y1, x2, y2),
            ],
            _ => vec![
                box_of(x1, y, right, y1),
                vec![(x, y), (x1, y), (x1, y1), (x, top)],
                vec![(x, top), (x1, y1), (right, y1), (right, top)],
            ],
        };
        parts.iter().all(|p| fair(p)).then_some(parts)
    }

    /// A rectangle on one of its diagonals, or one twice as wide as high (or as high as wide) as a goose.
    pub(super) fn as_unit(&mut self, piece: &[Corner]) -> Option<Vec<Vec<Corner>>> {
        let (x, y, w, h) = as_rectangle(piece)?;
        let [a, b, c, d] = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)];
        let mut choices = vec![vec![vec![a, b, c], vec![a, c, d]], vec![vec![a, b, d], vec![b, c, d]]];
        if w == 2.0 * h || h == 2.0 * w {
            let (corners, tips) = if w > h {
                ([a, b, c, d], [(x + w / 2.0, y + h), (x + w / 2.0, y)])
            } else {
                ([b, c, d, a], [(x, y + h / 2.0), (x + w, y + h / 2.0)])
            };
            let [p, q, r, s] = corners;
            choices.push(vec![vec![p, q, tips[0]], vec![q, r, tips[0]], vec![s, p, tips[0]]]);
            choices.push(vec![vec![r, s, tips[1]], vec![s, p, tips[1]], vec![q, r, tips[1]]]);
        }
        let parts = choices.swap_remove(self.chance.below(choices.len()));
        parts.iter().all(|p| fair(p)).then_some(parts)
    }
}
