//! The living pattern: what becomes of a design after each change, worked out beside the requests, the newest change first.

mod bench;
mod rehearsed;
mod source;
mod worked;

pub use bench::{Bench, Job};
pub use rehearsed::{Memory, Rehearsed};
pub use source::{source, source_of_part};
pub use worked::{Drawings, InSight, Leaf, Worked, fingerprint, work};
