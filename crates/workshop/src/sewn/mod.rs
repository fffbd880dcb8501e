//! Watch it sewn: a making step by step as the rehearsal did it, told to the window to be played, and as a strip to print.

mod stage;
mod strip;
mod told;

#[cfg(test)]
mod tests;

pub use stage::{Cloth, Film, Moved, Shot, film};
pub use strip::{Panel, Strip, strip, wrong_side};
pub use told::{Making, makings, told, watched, words};
