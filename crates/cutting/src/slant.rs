//! Slanted pieces laid head to tail along a strip.
//!
//! A slanted piece has two slanted edges; each is told by its *lean*, how far its head lies to the right of its foot.
//! Turned end for end a piece shows its right edge at the left, with the same lean (a line turned half round keeps its
//! direction), and its lower edge on top. So the next piece shares the last cut when its left lean equals the last
//! cut's lean; where none does, a waste cut gives the line its new lean.

/// The measures of a slanted piece, in units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Slant {
    /// Along the lower edge, as named.
    pub lower: i64,
    /// Along the upper edge, as named.
    pub upper: i64,
    /// Lean of the left edge, as named.
    pub lead: i64,
    /// It may lie as named.
    pub named: bool,
    /// It may lie turned end for end.
    pub turned: bool,
}

/// How a piece shows itself to the one who cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Shown {
    /// Along the lower edge of the strip.
    pub lower: i64,
    /// Along the upper edge of the strip.
    pub upper: i64,
    /// Lean of its left edge.
    pub lean: i64,
    /// It lies turned end for end.
    pub turned: bool,
}

impl Shown {
    /// The lean of its right edge.
    pub fn right(self) -> i64 {
        self.lean + self.upper - self.lower
    }
}

/// A sequence of pieces of one kind: where it leaves the last cut, against where the last cut was before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Laid {
    /// The first piece lies turned.
    pub first_turned: bool,
    /// How far the foot has moved.
    pub foot: i64,
    /// How far the head has moved.
    pub head: i64,
}

/// The waste cut that takes a line from one lean to another with the least cloth: how far foot and head move.
pub(crate) fn waste(from: i64, to: i64) -> (i64, i64) {
    ((from - to).max(0), (to - from).max(0))
}

impl Slant {
    /// The piece as named or turned end for end.
    pub fn shown(&self, turned: bool) -> Shown {
        let right = self.lead + self.upper - self.lower;
        if turned {
            Shown {
                lower: self.upper,
                upper: self.lower,
                lean: right,
                turned,
            }
        } else {
            Shown {
                lower: self.lower,
                upper: self.upper,
                lean: self.lead,
                turned,
            }
        }
    }

    /// Whether consecutive pieces lie turned against each other: only where both ways are allowed, and needless where
    /// both edges lean alike (a parallelogram follows itself as named).
    pub fn alternates(&self) -> bool {
        self.named && self.turned && self.shown(false).right() != self.lead
    }

    /// How the piece after `this` lies.
    pub fn next(&self, this: Shown) -> Shown {
        self.shown(if self.alternates() { !this.turned } else { this.turned })
    }

    /// `count` pieces one after another, beginning at a line of lean `from`: of the two ways to begin, the one that
    /// reaches less far, as named where both reach alike.
    pub fn lay(&self, count: u32, from: i64) -> Laid {
        let named = || self.lay_from(self.shown(false), count, from);
        let turned = || self.lay_from(self.shown(true), count, from);
        match (self.named, self.turned && (self.alternates() || !self.named)) {
            (true, true) => {
                let (a, b) = (named(), turned());
                // The line begins at foot 0 and head `from` (or at foot -from and head 0); only the further end counts.
                let reach = |laid: Laid| laid.foot.max(laid.head + from);
                if reach(b) < reach(a) { b } else { a }
            }
            (false, true) => turned(),
            _ => named(),
        }
    }

    fn lay_from(&self, first: Shown, count: u32, from: i64) -> Laid {
        let mut laid = Laid {
            first_turned: first.turned,
            foot: 0,
            head: 0,
        };
        if count == 0 {
            return laid;
        }
        let second = self.next(first);
        let (foot, head) = waste(from, first.lean);
        let (odd, even) = (i64::from(count.div_ceil(2)), i64::from(count / 2));
        laid.foot = foot + first.lower * odd + second.lower * even;
        laid.head = head + first.upper * odd + second.upper * even;
        if !self.alternates() {
            let (foot, head) = waste(first.right(), first.lean);
            let between = i64::from(count - 1);
            laid.foot += foot * between;
            laid.head += head * between;
        }
        laid
    }

    /// The most pieces, no more than `count`, that end within `width` when the last cut meets the edges at `foot` and
    /// `head`.
    pub fn most(&self, count: u32, foot: i64, head: i64, width: i64) -> u32 {
        let fits = |n: u32| {
            let laid = self.lay(n, head - foot);
            (foot + laid.foot).max(head + laid.head) <= width
        };
        let (mut low, mut high) = (0u32, count);
        // A piece never moves the cut back, so what fits with n fits with fewer.
        while low < high {
            let middle = high - (high - low) / 2;
            if fits(middle) {
                low = middle;
            } else {
                high = middle - 1;
            }
        }
        low
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slant(lower: i64, upper: i64, lead: i64) -> Slant {
        Slant {
            lower,
            upper,
            lead,
            named: true,
            turned: true,
        }
    }

    #[test]
    fn a_right_triangle_and_its_fellow_make_a_rectangle() {
        // *derived*: lower 6, upper 0, left edge upright; two of them head to tail are a rectangle 6 long.
        let laid = slant(6, 0, 0).lay(2, 0);
        assert_eq!((laid.foot, laid.head), (6, 6));
    }

    #[test]
    fn trapezoids_lie_head_to_tail() {
        // *derived*: (8, 4), left lean 2, right lean -2: one waste cut, then pairs of 12 along each edge.
        let piece = slant(8, 4, 2);
        let laid = piece.lay(4, 0);
        assert_eq!((laid.foot, laid.head), (24, 26));
        assert!(piece.alternates());
    }

    #[test]
    fn parallelograms_follow_themselves_as_named() {
        let piece = slant(5, 5, 3);
        assert!(!piece.alternates());
        let laid = piece.lay(4, 0);
        assert_eq!((laid.foot, laid.head, laid.first_turned), (20, 23, false));
    }

    #[test]
    fn without_turning_every_piece_needs_its_waste_cut() {
        // *derived*: a trapezoid (8, 4) with lead 2 ends in lean -2; back to 2 the head moves 4.
        let piece = Slant {
            turned: false,
            ..slant(8, 4, 2)
        };
        let laid = piece.lay(3, 0);
        assert_eq!((laid.foot, laid.head), (24, 2 + 12 + 8));
        assert_eq!(piece.most(10, 0, 0, 24), 3);
        assert_eq!(piece.most(10, 0, 0, 23), 2);
    }
}
