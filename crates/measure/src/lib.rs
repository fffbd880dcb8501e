//! Lengths as a maker meets them, and the derivations behind them.
//!
//! Geometry is `f64` inches and lives elsewhere. What is printed, cut or bought is a [`Length`]:
//! an integer count of 1/8128 in, in which both 1/64 in (127) and 0.1 mm (32) are whole.
//! Each such number carries a [`Why`] that can be evaluated again. Places on printed matter, which nobody measures, are a finer
//! integer, [`Printed`].

mod length;
mod parse;
mod print;
mod printed;
mod ruler;
mod why;

pub use length::{Length, UNITS_PER_INCH};
pub use parse::{LengthError, parse_inches, parse_percent};
pub use print::{Measure, Style};
pub use printed::{PRINTED_PER_INCH, PRINTED_PER_LENGTH, Printed};
pub use ruler::{PAST_A_MARK, Ruling};
pub use why::{Surd, Way, Why};
