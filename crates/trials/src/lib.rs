//! Trials: generated designs and altered recipes, for the tests alone.

pub mod areas;
pub mod collection;
pub mod curved;
pub mod generate;
pub mod judge;
pub mod large;
pub mod layouts;
pub mod meant;
pub mod mutate;
pub mod whole;
pub mod written;
