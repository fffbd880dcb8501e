//! Straight cuts through a convex piece.

use super::author::{Author, MARK};
use super::outlines::{Corner, along, as_rectangle, fair, without_doubles};

impl Author {
    /// Cuts a convex piece in two, if a fair cut is found.
    pub(super) fn cut(&mut self, piece: &[Corner]) -> Option<(Vec<Corner>, Vec<Corner>)> {
        for _ in 0..20 {
            let n = piece.len();
            let (i, j) = (self.chance.below(n), self.chance.below(n));
            if i >= j {
                continue;
            }
            let square = self.chance.below(3) == 0;
            let Some(p) = self.place_on(piece, i) else { continue };
            let q = if square {
                across(piece, i, j, p)
            } else {
                self.place_on(piece, j)
            };
            let Some(mut q) = q else { continue };
            let mut p = p;
            // Squares are often halved on the diagonal, and corners cut off at 45°, as the trade does.
            if let Some((_, _, w, h)) = as_rectangle(piece) {
                if w == h && j == i + 2 && self.chance.below(2) == 0 {
                    (p, q) = (piece[i], piece[j]);
                } else if j == i + 1 && self.chance.below(2) == 0 {
                    let leg = (1 + self.chance.below(4)) as f64;
                    if leg <= w.min(h) {
                        (p, q) = (along(piece[j], piece[i], leg), along(piece[j], piece[(j + 1) % n], leg));
                    }
                }
            }
            let mut a = vec![p];
            a.extend_from_slice(&piece[i + 1..=j]);
            a.push(q);
            let mut b = vec![q];
            b.extend_from_slice(&piece[j + 1..]);
            b.extend_from_slice(&piece[..=i]);
            b.push(p);
            let (a, b) = (without_doubles(a), without_doubles(b));
            if fair(&a) && fair(&b) {
                return Some((a, b));
            }
        }
        None
    }

    /// A place on edge `i`: a mark along it, a corner, or anywhere.
    fn place_on(&mut self, piece: &[Corner], i: usize) -> Option<Corner> {
        let (a, b) = (piece[i], piece[(i + 1) % piece.len()]);
        if self.chance.below(4) == 0 {
            return Some(a);
        }
        if self.wanted.on_marks {
            if (a.0 - b.0).abs() > 1e-9 && (a.1 - b.1).abs() > 1e-9 {
                return Some(if self.chance.below(2) == 0 { a } else { b });
            }
            let length = (b.0 - a.0).abs().max((b.1 - a.1).abs());
            let marks = (length / MARK).round() as usize;
            if marks < 2 {
                return None;
            }
            let t = (1 + self.chance.below(marks - 1)) as f64 * MARK / length;
            let snap = |x: f64| (x / MARK).round() * MARK;
            return Some((snap(a.0 + (b.0 - a.0) * t), snap(a.1 + (b.1 - a.1) * t)));
        }
        let t = 0.15 + 0.7 * self.chance.share();
        Some((a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t))
    }
}

/// The place on edge `j` straight across (upright or level) from `p` on edge `i`, so that square cuts are common.
fn across(piece: &[Corner], i: usize, j: usize, p: Corner) -> Option<Corner> {
    let (a, b) = (piece[i], piece[(i + 1) % piece.len()]);
    let (c, d) = (piece[j], piece[(j + 1) % piece.len()]);
    let level = (a.1 - b.1).abs() < 1e-9 && (c.1 - d.1).abs() < 1e-9;
    let upright = (a.0 - b.0).abs() < 1e-9 && (c.0 - d.0).abs() < 1e-9;
    let within = |x: f64, u: f64, v: f64| x > u.min(v) + 1e-9 && x < u.max(v) - 1e-9;
    if level && within(p.0, c.0, d.0) {
        return Some((p.0, c.1));
    }
    if upright && within(p.1, c.1, d.1) {
        return Some((c.0, p.1));
    }
    None
}
