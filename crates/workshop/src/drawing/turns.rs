//! What the hand does once is done again in turn: by quarter turns round the middle, or mirrored.

use super::{Drawing, Refusal, Which, no_patch};
use kurbo::Point;

/// How a wish is repeated.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Repeat {
    /// Once.
    #[default]
    Once,
    /// Four times, each a quarter turn on.
    QuarterTurns,
    /// Twice, left and right.
    Mirrored,
    /// In all four quarters, left and right, above and below.
    MirroredTwice,
}

impl Repeat {
    /// The words of the screen, in the order they are offered.
    pub const WORDS: [(&'static str, &'static str, Repeat); 4] = [
        ("once", "Once", Repeat::Once),
        ("turns", "Four turns", Repeat::QuarterTurns),
        ("mirrored", "Mirrored", Repeat::Mirrored),
        ("mirrored-twice", "Mirrored twice", Repeat::MirroredTwice),
    ];

    /// Where a point goes each time; the first is the point itself.
    pub fn of(self, at: Point, drawing: &Drawing) -> Vec<Point> {
        let (w, h) = (drawing.width, drawing.height);
        // On a block that is not square a quarter turn is taken in its own proportions.
        let (u, v) = (at.x / w, at.y / h);
        let places: Vec<(f64, f64)> = match self {
            Repeat::Once => vec![(u, v)],
            Repeat::QuarterTurns => vec![(u, v), (1.0 - v, u), (1.0 - u, 1.0 - v), (v, 1.0 - u)],
            Repeat::Mirrored => vec![(u, v), (1.0 - u, v)],
            Repeat::MirroredTwice => vec![(u, v), (1.0 - u, v), (1.0 - u, 1.0 - v), (u, 1.0 - v)],
        };
        places.into_iter().map(|(u, v)| Point::new(u * w, v * h)).collect()
    }
}

impl Drawing {
    /// Does something with two points over and over; refused only when the first refuses, since the others may run along
    /// what is cut already.
    ///
    /// # Errors
    /// When the first time is refused.
    pub fn repeated(
        &self,
        repeat: Repeat,
        a: Point,
        b: Point,
        act: impl Fn(&Drawing, Point, Point) -> Result<Drawing, Refusal>,
    ) -> Result<Drawing, Refusal> {
        let (firsts, seconds) = (repeat.of(a, self), repeat.of(b, self));
        let mut drawn = self.clone();
        for (i, (from, to)) in firsts.into_iter().zip(seconds).enumerate() {
            match act(&drawn, from, to) {
                Ok(next) => drawn = next,
                Err(refusal) if i == 0 => return Err(refusal),
                Err(_) => {}
            }
        }
        Ok(drawn)
    }

    /// Dresses the patch under a point, and those the repeat leads to.
    ///
    /// # Errors
    /// When there is no patch under the point.
    pub fn dress_at(&self, repeat: Repeat, at: Point, fabric: &str) -> Result<Drawing, Refusal> {
        self.repeated(repeat, at, at, |drawn, at, _| {
            let which = drawn.patch_at(at).ok_or_else(no_patch)?;
            drawn.dress(which, fabric)
        })
    }

    /// Joins the patches under two points, and those the repeat leads to.
    ///
    /// # Errors
    /// When there is no patch under one of them, or they are no neighbours.
    pub fn join_at(&self, repeat: Repeat, a: Point, b: Point) -> Result<Drawing, Refusal> {
        self.repeated(repeat, a, b, |drawn, a, b| {
            let find = |at: Point| match drawn.patch_at(at) {
                Some(Which::Patch(i)) => Ok(i),
                Some(Which::Laid(_)) => Err(Refusal::new(
                    "laid-on-ground",
                    "A patch laid on the ground is not joined; take it off instead.",
                )),
                None => Err(no_patch()),
            };
            let (one, other) = (find(a)?, find(b)?);
            drawn.join(one, other)
        })
    }
}

impl Drawing {
    /// The whole block turned by a quarter, clockwise; what is placed in it turns along.
    ///
    /// # Errors
    /// When the block is not square.
    pub fn turned(&self) -> Result<Drawing, Refusal> {
        if (self.width - self.height).abs() > super::SAME {
            return Err(Refusal::new(
                "not-square",
                "Only a square block can be turned by a quarter and stay in its place. Turn it in the layout instead.",
            ));
        }
        let size = self.width;
        Ok(self.carried(|p| Point::new(size - p.y, p.x), false))
    }

    /// The whole block flipped, left for right.
    pub fn flipped(&self) -> Drawing {
        let width = self.width;
        self.carried(|p| Point::new(width - p.x, p.y), true)
    }

    fn carried(&self, to: impl Fn(Point) -> Point, flip: bool) -> Drawing {
        let mut drawn = self.clone();
        for patch in drawn.patches.iter_mut().chain(&mut drawn.laid) {
            patch.outline = patch.outline.carried(&to, flip);
            patch.redrawn = true;
        }
        for placed in &mut drawn.placed {
            placed.redrawn = true;
            if !placed.upright() {
                let middle = to(placed.middle());
                placed.left = middle.x - placed.width / 2.0;
                placed.top = middle.y - placed.height / 2.0;
                placed.flip ^= flip;
                let slant = if flip { -placed.slant } else { placed.slant + 90.0 };
                placed.slant = slant.rem_euclid(360.0);
                continue;
            }
            let [a, _, c, _] = placed.corners();
            let (a, c) = (to(a), to(c));
            placed.left = a.x.min(c.x);
            placed.top = a.y.min(c.y);
            placed.width = (a.x - c.x).abs();
            placed.height = (a.y - c.y).abs();
            if flip {
                placed.flip = !placed.flip;
                placed.quarters = (4 - placed.quarters % 4) % 4;
            } else {
                placed.quarters = (placed.quarters + 1) % 4;
            }
        }
        drawn
    }
}
