//! The vocabulary that all rooms share: names of things, findings, and the picture of the finished top.

mod finding;
mod ids;
mod picture;

pub use finding::{Finding, Place, Severity};
pub use ids::{FabricId, PatchPath, PieceId, StepId, UnitId};
pub use picture::{Face, TopPicture, UpWanted};
