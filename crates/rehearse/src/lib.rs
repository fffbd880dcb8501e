//! The virtual sewing table (to be written).
mod scene;
pub use scene::{LayerView, MarkView, PieceView, Segment, UnitScenes, WorkView};
