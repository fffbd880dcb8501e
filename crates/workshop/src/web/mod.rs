//! The workshop on the screen: a server for one person on one computer.

mod answers;
mod app;
mod assets;
mod controls;
mod describe;
mod events;
mod guard;
mod handing_out;
mod page_cloth;
mod page_draw;
mod page_hand_out;
mod page_pattern;
mod page_quilt;
mod page_shelf;
mod page_words;
mod photos;
mod routes;
mod shell;
mod swatch;

pub use app::{App, Opened};
pub use describe::{description, description_text};
pub use routes::{Hosts, routes};
