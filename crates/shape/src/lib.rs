//! Plane shapes: outlines, rigid motions, cutting along lines, seam allowance, congruence.
//!
//! Everywhere in the engine: `f64` inches, x to the right, **y up**, cloth seen from its right side, outlines
//! counter-clockwise (cloth on the left of each edge). The design file's y-down drawings are turned over once, at
//! the door of the design crate; pictures turn them back.

pub mod allowance;
pub mod congruence;
mod line;
mod motion;
mod point;
mod polygon;

pub use line::Line;
pub use motion::Motion;
pub use point::{Point, Vector};
pub use polygon::Polygon;

/// Points closer than this, in inches, are one point in a drawing (1/256 in).
pub const WELD: f64 = 1.0 / 256.0;

/// Difference below which two computed lengths are the same number (rounding noise of `f64`), in inches.
pub const NOISE: f64 = 1.0e-9;
