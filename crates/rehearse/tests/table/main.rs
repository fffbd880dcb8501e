//! Hand-built recipes on the virtual table: what holds is proved, what is wrong is refused by name.

mod angled;
mod builder;
mod flips;
mod not_yet;
mod patchwork;
mod prints;
mod shaken;
