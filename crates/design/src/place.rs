//! How a placed block's own frame lies in the frame of what it is placed in.

use crate::Placement;
use shape::{Motion, Point, Vector};

/// Left and right of a block `width` wide exchanged, within its own frame.
pub(crate) fn flip_within(width: f64) -> Motion {
    Motion::flip().then(&Motion::slide(Vector::new(width, 0.0)))
}

/// The motion of a placement's drawing (at the size it is drawn to) into the outer frame: flipped, then turned
/// (clockwise as seen, so counter-clockwise negative), then its middle put where the box's middle is.
pub(crate) fn motion(placement: &Placement) -> Motion {
    let (width, height) = placement.size;
    let turned = if placement.flip {
        flip_within(width)
    } else {
        Motion::STILL
    }
    .then(&Motion::turn_degrees(-placement.turn));
    let middle = turned.point(Point::new(width / 2.0, height / 2.0));
    turned.then(&Motion::slide(placement.centre - middle))
}
