//! Seams whose layers the designer says how to place: each is the seam between two patches.

use crate::between::{between, patch_of};
use crate::class::Class;
use crate::methods::sew_together::PartAtPlace;
use crate::tokens::BlockTokens;
use design::{LaidBy, LayPin};
use shape::{Line, WELD};
use std::collections::BTreeMap;
use terms::{Finding, Place};

/// For each seam of a unit sewn together from parts the pin that says how its layers are placed.
pub fn laid_by(block: &BlockTokens, class: &Class, parts: &[PartAtPlace], seams: &[Line]) -> Vec<Option<LayPin>> {
    let pinned = |(line, part): (&Line, &PartAtPlace)| {
        let on = |p| line.offset_of(p).abs() < 2.0 * WELD;
        let outline = &part.outline;
        let side = (0..outline.len()).find(|&i| on(outline.corner(i)) && on(outline.corner(i + 1)))?;
        let leg = (outline.corner(side), outline.corner(side + 1));
        let here = |pin: &&LayPin| {
            let [a, b] = pin.patches.map(|number| patch_of(block, &class.faces, number));
            let both = a.zip(b).map(|(a, b)| (&block.tokens[a], &block.tokens[b]));
            both.is_some_and(|(a, b)| between(leg, a, b).is_some())
        };
        block.lays.iter().find(here).copied()
    };
    seams.iter().zip(parts).map(pinned).collect()
}

/// A finding for each pinned laying that could not be followed, with why.
pub fn findings(blocks: &[BlockTokens], met: &BTreeMap<(usize, [u32; 2]), bool>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (home, block) in blocks.iter().enumerate().filter(|(_, b)| !b.replaced) {
        for pin in &block.lays {
            let [a, b] = pin.patches.map(|p| p + 1);
            let why = match (met.get(&(home, pin.patches)), pin.by) {
                (Some(true), _) => continue,
                (None, _) => "no seam that joins parts edge to edge lies between just these two",
                (Some(false), LaidBy::Seams) => "no seams of the two layers meet along it",
                (Some(false), _) => {
                    "its ends are not both square, so that the middles of the raw edges do not lie on one another"
                }
            };
            findings.push(Finding::care(
                "pin-does-not-fit",
                Place::Block {
                    name: block.name.clone(),
                    patches: pin.patches.to_vec(),
                    at: None,
                },
                format!("The seam between patches {a} and {b} cannot be laid so: {why}."),
                "Take the pin out, or name two patches with a plain seam between them.",
            ));
        }
    }
    findings
}
