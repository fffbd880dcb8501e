//! Lines and outlines for those readings of a recipe that look at no room's code.

/// A place.
pub(super) type At = (f64, f64);

/// A line through a place, in a direction one inch long.
#[derive(Clone, Copy)]
pub(super) struct Ruled {
    pub at: At,
    pub along: At,
}

impl Ruled {
    pub fn through(from: At, to: At) -> Option<Ruled> {
        let (x, y) = (to.0 - from.0, to.1 - from.1);
        let length = (x * x + y * y).sqrt();
        (length > 1.0e-9).then(|| Ruled {
            at: from,
            along: (x / length, y / length),
        })
    }

    /// How far to the left of it, and how far along it.
    pub fn of(self, p: At) -> (f64, f64) {
        let (x, y) = (p.0 - self.at.0, p.1 - self.at.1);
        let (u, v) = self.along;
        (u * y - v * x, u * x + v * y)
    }

    /// The place so far to its left and along it.
    pub fn place(self, left: f64, along: f64) -> At {
        let (u, v) = self.along;
        (self.at.0 + u * along - v * left, self.at.1 + v * along + u * left)
    }

    pub fn back(self) -> Ruled {
        Ruled {
            along: (-self.along.0, -self.along.1),
            ..self
        }
    }

    pub fn moved(self, left: f64) -> Ruled {
        Ruled {
            at: self.place(left, 0.0),
            ..self
        }
    }
}

/// What of a convex outline lies to the left of a line.
pub(super) fn left_of(outline: &[At], line: Ruled) -> Vec<At> {
    let mut kept = Vec::new();
    for (i, &p) in outline.iter().enumerate() {
        let q = outline[(i + 1) % outline.len()];
        let (a, b) = (line.of(p).0, line.of(q).0);
        if a >= 0.0 {
            kept.push(p);
        }
        if (a > 0.0 && b < 0.0) || (a < 0.0 && b > 0.0) {
            let t = a / (a - b);
            kept.push((p.0 + (q.0 - p.0) * t, p.1 + (q.1 - p.1) * t));
        }
    }
    kept
}
