//! The top is put together, and what comes after.

use super::Desk;
use super::shopping::heading;
use super::units::{Told, unit};
use crate::model::{Block, Section, Text};
use crate::plural::counted;
use recipe::Size;

pub(super) fn assembly(desk: &Desk) -> Section {
    let makes = &desk.source.pattern.recipe.makes;
    let mut blocks = Vec::new();
    if let Some(last) = makes.last() {
        // The cautions have come with the first unit; a quilt of one making has none before.
        let mut told = if makes.len() > 1 { Told::all() } else { Told::default() };
        blocks.extend(unit(desk, last, 1, &mut told));
    }
    finishing(desk, &mut blocks);
    Section {
        name: "the top".into(),
        blocks,
    }
}

fn finishing(desk: &Desk, blocks: &mut Vec<Block>) {
    let finish = &desk.source.finish;
    blocks.push(heading(2, "Finishing"));
    let mut sentences = vec![Text::of(
        "Press the top once more, from the wrong side, then from the right. Snip loose threads.",
    )];
    if finish.batting.is_some() || finish.backing.is_some() {
        sentences.push(Text::of(
            "Lay backing (right side down), batting and top one on the other, smooth them, baste and quilt.",
        ));
    }
    if let Some(binding) = &finish.binding {
        let grain = if binding.bias {
            " on the bias"
        } else {
            " across the width"
        };
        sentences.push(
            Text::of("Binding: from ")
                .strong(desk.source.label(&binding.fabric))
                .say(" cut ")
                .strong(counted(u64::from(binding.strips), "strip"))
                .say(" ")
                .size(Size::bare(binding.strip))
                .say(format!("{grain} and join them on the diagonal: ")),
        );
        if let Some(text) = sentences.pop() {
            sentences.push(text.size(Size::bare(binding.length)).say(" are needed."));
        }
        sentences.push(Text::of(
            "Press the strip in half along its length, sew it round the edge, turn it to the back and sew it down.",
        ));
    }
    let needs_word = finish.binding.is_none() && finish.batting.is_none() && finish.backing.is_none();
    if needs_word {
        sentences.push(Text::of("Layer, quilt and bind as you like."));
    }
    blocks.push(Block::Step {
        number: None,
        sentences,
        pictures: Vec::new(),
        wide: false,
    });
}
