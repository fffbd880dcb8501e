//! The workshop on the screen: a server for one person on one computer.

mod answers;
mod app;
mod assets;
mod cloths;
mod controls;
mod describe;
mod events;
mod free_blocks;
mod guard;
mod handing_out;
mod page_cloth;
mod page_draw;
mod page_hand_out;
mod page_pattern;
mod page_quilt;
mod page_sewn;
mod page_shelf;
mod page_svg;
mod page_words;
mod photos;
mod pictures;
mod pin_controls;
mod role_controls;
mod routes;
mod shell;
mod swatch;
mod tracing_controls;
mod window;

pub use app::{App, Opened};
pub use describe::{description, description_text};
pub use routes::{Hosts, routes};
