//! Hand-built recipes on the virtual table: what holds is proved, what is wrong is refused by name.

// The builder is test code too: a value that is not there should end the test.
#![allow(clippy::unwrap_used)]

mod angled;
mod builder;
mod curves;
mod ends;
mod flips;
mod ground;
mod over_card;
mod own_line;
mod paper;
mod patchwork;
mod prints;
mod set_in;
mod setting;
mod several;
mod shaken;
mod strip_set;
mod two_dots;
mod windmill;
mod wobble;
