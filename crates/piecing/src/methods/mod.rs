//! The methods: each turns a kind of unit into steps. All are modules of one shape: `recognise` says whether a unit can
//! be made so and what that costs; `write` writes the steps.

pub mod angled_pair;
pub mod flip;
pub mod half_square_pair;
pub mod joined_strip;
pub mod sew_together;
mod view;

pub use view::UnitView;
