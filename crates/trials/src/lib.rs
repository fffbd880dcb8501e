//! Trials: generated designs and altered recipes, for the tests alone.

pub mod generate;
pub mod whole;
pub mod judge;
pub mod mutate;
pub mod written;
