//! Hand-built recipes on the virtual table: what holds is proved, what is wrong is refused by name.

mod builder;
mod patchwork;
