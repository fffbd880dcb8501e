//! What is to be said of blocks pinned to be sewn on foundation paper: how many sections, whether that is the fewest, what does
//! not go on paper and why, and where the grain is not as wanted.

use crate::emit::Emitted;
use crate::methods::foundation;
use crate::plan::Planner;
use crate::tokens::{BlockTokens, Content};
use std::collections::BTreeMap;
use terms::{Finding, Place};

/// Findings of all blocks with anything on paper.
pub fn findings(planner: &mut Planner<'_>, emitted: &Emitted) -> Vec<Finding> {
    let mut found = Vec::new();
    for home in 0..planner.blocks.len() {
        if planner.blocks[home].replaced || planner.blocks[home].method.as_deref() != Some(foundation::NAME) {
            continue;
        }
        found.extend(sections(planner, home, emitted));
    }
    found.extend(off_grain(planner, emitted));
    found
}

/// Why nothing of a block can be sewn on paper, in a maker's words.
pub fn why_not(block: &BlockTokens) -> &'static str {
    let hollow = block
        .tokens
        .iter()
        .any(|t| t.content_is_patch() && !t.outline.is_convex(shape::WELD));
    if block.tokens.len() < 2 {
        "it is a single patch"
    } else if hollow {
        "a patch has a hollow corner, which takes a set-in seam"
    } else {
        "no straight seam from edge to edge cuts a single patch off two or more others: its seams turn corners or are closed in two goes"
    }
}

/// How many sections a block is, and what of it goes together off the paper.
fn sections(planner: &mut Planner<'_>, home: usize, emitted: &Emitted) -> Vec<Finding> {
    let block = &planner.blocks[home];
    let place = || Place::Block {
        name: block.name.clone(),
        patches: Vec::new(),
        at: None,
    };
    let here = |method: &str| {
        let of_block = emitted.stories.iter().filter(|s| s.block.as_ref() == Some(&block.name));
        of_block.filter(|s| s.method == method).count()
    };
    if here(foundation::NAME) == 0 {
        // Said where pins are judged.
        return Vec::new();
    }
    let awkward: Vec<&str> = [("set-in seam", "set-in seams"), ("partial seam", "a partial seam")]
        .into_iter()
        .filter(|(method, _)| here(method) > 0)
        .map(|(_, words)| words)
        .collect();
    if !awkward.is_empty() {
        return vec![Finding::care(
            "pin-does-not-fit",
            place(),
            format!(
                "Not all of this block goes on foundation paper, where every seam must run straight from edge to edge: its sections are joined by {}.",
                awkward.join(" and ")
            ),
            "Take the pin out, or draw lines that run right across.",
        )];
    }
    let faces: Vec<usize> = (0..block.tokens.len()).collect();
    let outline = block.outline.clone();
    let fewest = planner.combs.fewest(home, block, &faces, &outline);
    let count = fewest.count;
    let sentence = match (count, fewest.at_least) {
        (1, _) => "This block is sewn on paper as one section.".to_string(),
        (_, least) if least == count => format!("This block is {count} sections; no way of parting it takes fewer."),
        (_, least) => format!("This block is {count} sections; at least {least} are needed."),
    };
    vec![Finding::note(
        "paper-sections",
        place(),
        sentence,
        "A section is what can be sewn patch after patch on one sheet; fewer take fewer joining seams.",
    )]
}

/// Patches at a block's edge whose grain is not as wanted, block by block.
fn off_grain(planner: &mut Planner<'_>, emitted: &Emitted) -> Vec<Finding> {
    let mut wrong: BTreeMap<usize, Vec<u32>> = BTreeMap::new();
    for (kind, story) in emitted.kinds.iter().zip(&emitted.stories) {
        let (Some(id), true) = (*kind, story.method == foundation::NAME) else {
            continue;
        };
        let home = planner.classes.get(id).home;
        let settings = planner.settings;
        let patches = planner.on_paper(id).map_or_else(Vec::new, |f| f.off_grain(settings));
        let outer = |patch: &u32| {
            planner.blocks[home].tokens.iter().any(|t| {
                matches!(&t.content, Content::Patch { patch: p, .. } if p == patch)
                    && t.edges.iter().any(|e| e.neighbour.is_none())
            })
        };
        wrong.entry(home).or_default().extend(patches.into_iter().filter(outer));
    }
    let mut found = Vec::new();
    for (home, mut patches) in wrong {
        patches.sort_unstable();
        patches.dedup();
        if patches.is_empty() {
            continue;
        }
        let place = Place::Block {
            name: planner.blocks[home].name.clone(),
            patches,
            at: None,
        };
        found.push(Finding::care(
            "off-grain",
            place,
            "On paper these patches at the block's edge are cut with their grain along the seam that adds them, which is not the grain they want.",
            "Leave the paper on until the seams round the block are sewn, or pin another grain.",
        ));
    }
    found
}
