//! The workshop on the screen: a server for one person on one computer.

mod app;
mod assets;
mod controls;
mod events;
mod guard;
mod handing_out;
mod page_cloth;
mod page_draw;
mod page_pattern;
mod page_quilt;
mod page_sewn;
mod page_shelf;
mod routes;
mod shell;
mod swatch;

pub use app::{App, Opened};
pub use routes::{Hosts, routes};
