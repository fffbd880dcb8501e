//! The top is put together.

use super::Desk;
use super::units::{Told, unit};
use crate::model::Section;

pub(super) fn assembly(desk: &Desk) -> Section {
    let makes = &desk.source.pattern.recipe.makes;
    let mut blocks = Vec::new();
    // The parts of a pattern have no top to sew, but for one.
    if let Some(last) = makes.last().filter(|last| last.gives.is_empty() && last.times > 0) {
        // The cautions have come with the first unit; a quilt of one making has none before.
        let mut told = if makes.len() > 1 { Told::all() } else { Told::default() };
        blocks.extend(unit(desk, last, 1, &mut told));
    }
    Section {
        name: "the top".into(),
        blocks,
    }
}
