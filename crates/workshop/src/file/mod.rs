//! The design file in the workshop's hands: read, changed wish by wish with its comments kept, remembered, saved.

mod block;
mod cells;
mod free;
mod history;
mod photos;
mod pinned;
mod pins;
mod rename;
mod save;
mod shelf;
mod values;
mod wish;

#[cfg(test)]
mod tests;

pub use free::seen_size;
pub use history::{History, HistoryError};
pub use photos::{MOST_PHOTO_BYTES, PhotoFault, Photos, Shown};
pub use pinned::with_pin;
pub use pins::Pinned;
pub use save::put_whole;
pub use shelf::{EXAMPLES, Shelf, ShelfError, Standing, is_name};
pub use wish::{Act, CellAct, Refused, Step, Wish, granted, size_of_block};

/// How a design file's name ends.
pub const ENDING: &str = ".quilt.toml";
