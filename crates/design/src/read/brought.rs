//! Blocks of the built-in collection that a design places: brought in before its own blocks are read, so that their sizes
//! and roles are known; those that turn out not to be placed are left out again.

use super::Places;
use super::keys::Reading;
use super::tree::{Entry, Node, Value};
use crate::collection::{self, PREFIX};
use crate::{Block, Design};
use std::collections::{BTreeMap, BTreeSet};
use terms::{FabricId, Finding};

/// What was brought in.
#[derive(Default)]
pub(super) struct Brought {
    /// The blocks, under their names in the design, in the order met.
    pub blocks: Vec<Block>,
    /// The roles of each.
    roles: BTreeMap<String, BTreeSet<FabricId>>,
    /// What keeps each from being planned.
    later: BTreeMap<String, Vec<Finding>>,
}

impl Brought {
    /// Everything in the file that names a block of the collection.
    pub(super) fn of(entries: &[Entry]) -> Self {
        let mut names = Vec::new();
        entries.iter().for_each(|entry| names_in(&entry.node, &mut names));
        let mut brought = Brought::default();
        for name in names {
            if brought.roles.contains_key(&name) {
                continue;
            }
            if let Some((block, design)) = collection::block(&name) {
                let roles = block.patches.iter().map(|patch| patch.fabric.clone()).collect();
                brought.roles.insert(name.clone(), roles);
                brought.later.insert(name, design.later);
                brought.blocks.push(block);
            }
        }
        brought
    }

    /// The roles of a block of the collection; none for any other.
    pub(super) fn roles(&self, name: &str) -> impl Iterator<Item = &FabricId> {
        self.roles.get(name).into_iter().flatten()
    }
}

/// Names in texts, with what a cell may say after them left off.
fn names_in(node: &Node, names: &mut Vec<String>) {
    match &node.value {
        Value::Text(text) if text.starts_with(PREFIX) => {
            let end = text.find(['@', '~']).unwrap_or(text.len());
            names.push(text[..end].to_string());
        }
        Value::List(list) => list.iter().for_each(|inner| names_in(inner, names)),
        Value::Table(entries) => entries.iter().for_each(|entry| names_in(&entry.node, names)),
        _ => {}
    }
}

/// Leaves out again what no placement, cell or corner names; what a block left in cannot be planned for is told where it
/// is first placed.
pub(super) fn keep_placed(r: &mut Reading, design: &mut Design, places: &Places) {
    let mut first = BTreeMap::new();
    for used in places.blocks.iter().filter(|used| used.recolored.is_some()) {
        first.entry(used.name.as_str()).or_insert(&used.at);
    }
    design
        .blocks
        .retain(|block| !block.name.starts_with(PREFIX) || first.contains_key(block.name.as_str()));
    for (name, later) in &places.brought.later {
        let Some(at) = first.get(name.as_str()) else {
            continue;
        };
        for finding in later {
            let message = format!("{name}: {}", finding.sentence);
            if finding.is_stop() {
                r.later_stop(at, message, "Place another block.");
            } else {
                r.later_note(at, message, "It is planned without.");
            }
        }
    }
}
