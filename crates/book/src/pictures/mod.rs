//! The pictures: the quilt, strips of cloth, units in the making, the legend, templates. All in one hand: one scale a
//! picture, cloth the only loud thing, lines that can be told apart in black and white.

mod canvas;
mod card;
mod cloth;
mod finishing;
mod guide;
mod legend;
mod paper;
mod parts;
mod quilt;
mod strips;
mod template;
mod together;
mod unit;

pub(crate) use canvas::xml;
pub(crate) use card::{Card, card_pages};
pub(crate) use cloth::Cloths;
pub(crate) use finishing::{back, layers, mitre};
pub(crate) use guide::{ground_so_far, guide_pages};
pub(crate) use legend::{legend, mark, swatch, test_strips};
pub(crate) use paper::{Printed, laid_on_paper, paper_pages};
pub(crate) use parts::exploded;
pub(crate) use quilt::{quilt, where_used};
pub(crate) use strips::strip;
pub(crate) use template::{template_outline, template_pages};
pub(crate) use together::{in_lines, ladder, letters};
pub(crate) use unit::{Overhang, UnitPictures, finished_view, opened, stacked, stretch, trimmed, turn_for};
