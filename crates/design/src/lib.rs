//! The design file and what it means (to be written).
mod sheet;
pub use sheet::{BlockIndex, BlockMap, Fill, Grain, MapFace, Sheet, Up, VertexId};
