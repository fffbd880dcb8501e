//! Handing out: the files of a pattern for those who sew it, in every size, cloth, measure, part and print that is asked for,
//! as one zip or as a folder beside the quilt. The command line makes the same files here.

mod counter;
mod export;
mod order;
mod pack;
mod ready;

#[cfg(test)]
mod tests;

pub use counter::{Counter, Handing, Progress, State};
pub use export::{Export, Print};
pub use order::{Destination, Entry, Order, Variant};
pub use pack::zipped;
pub use ready::{Ready, Unready, issued};
