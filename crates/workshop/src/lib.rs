//! The workshop: the local web app.

pub mod drawing;
pub mod file;
