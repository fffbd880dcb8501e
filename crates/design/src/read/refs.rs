//! Whether every name leads somewhere, no block holds itself, and nothing grows beyond the limits.

use super::keys::Reading;
use super::{Places, UsedBlock};
use crate::collection::PREFIX;
use crate::error::shown;
use crate::layout::{inner_size, rounds::rounds};
use crate::nearest::suggestion;
use crate::{Block, Corners, Design, LayoutKind, Placement};
use shape::WELD;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// Most levels of blocks within blocks.
const MOST_LEVELS: u32 = 16;
/// Most placed patches.
const MOST_PATCHES: u64 = 200_000;
/// Longest side of the top, inches.
const LONGEST_TOP: f64 = 1000.0;

/// The blocks by name.
type ByName<'d> = BTreeMap<&'d str, usize>;

pub(super) fn check(r: &mut Reading, design: &Design, places: &Places) {
    let by_name: ByName = design
        .blocks
        .iter()
        .enumerate()
        .map(|(i, b)| (b.name.as_str(), i))
        .collect();
    check_fabrics(r, design, places);
    check_block_names(r, &by_name, places);
    check_roles(r, design, places);
    if !r.errors.is_empty() {
        return;
    }
    check_boxes(r, design, &by_name, places);
    let Some(counts) = count_patches(r, design, &by_name, places) else {
        return;
    };
    check_total(r, design, &by_name, &counts, places);
    check_corners(r, design, &by_name, places);
    check_top(r, design, places);
}

fn check_fabrics(r: &mut Reading, design: &Design, places: &Places) {
    let known: BTreeSet<&str> = design.fabrics.iter().map(|f| f.name.as_str()).collect();
    let list: Vec<&str> = known.iter().copied().collect();
    for (id, at) in &places.fabrics {
        if r.is_full() {
            return;
        }
        if !known.contains(id.as_str()) {
            let message = format!("there is no fabric \"{}\"", shown(id.as_str()));
            let expected = suggestion(id.as_str(), &list, "a fabric of this file");
            r.error(at, "unknown-name", message, expected);
        }
    }
}

fn check_block_names(r: &mut Reading, by_name: &ByName, places: &Places) {
    let (own, built_in): (Vec<&str>, Vec<&str>) = by_name.keys().partition(|name| !name.starts_with(PREFIX));
    let collection: Vec<String> = crate::collection()
        .iter()
        .map(|(name, _)| format!("{PREFIX}{name}"))
        .collect();
    let collection: Vec<&str> = collection.iter().map(String::as_str).collect();
    for UsedBlock { name, at, .. } in &places.blocks {
        if r.is_full() {
            return;
        }
        let (known, what) = if name.starts_with(PREFIX) {
            (&built_in, "a block of the built-in collection")
        } else {
            (&own, "a block of this file")
        };
        if !known.contains(&name.as_str()) {
            let message = format!("there is no block \"{}\"", shown(name));
            let list = if name.starts_with(PREFIX) { &collection } else { &own };
            r.error(at, "unknown-name", message, suggestion(name, list, what));
        }
    }
}

/// Every role of a block of the collection must be a fabric of the file, by its own name or by the placement's `recolor`.
fn check_roles(r: &mut Reading, design: &Design, places: &Places) {
    for used in &places.blocks {
        let Some(recolored) = &used.recolored else {
            continue;
        };
        for role in places.brought.roles(&used.name) {
            if r.is_full() {
                return;
            }
            if !recolored.contains(role) && design.fabric(role).is_none() {
                let message = format!(
                    "\"{}\" has a role \"{role}\", which is no fabric of this file",
                    used.name
                );
                let expected = format!("recolor = {{ {role} = \"...\" }} where it is placed, or a fabric \"{role}\"");
                r.error(&used.at, "unknown-name", message, expected);
            }
        }
    }
}

/// A box must have its block's proportions: blocks are drawn to size, never stretched.
fn check_boxes(r: &mut Reading, design: &Design, by_name: &ByName, places: &Places) {
    let mut check = |place: &[Placement], spans: &[Range<usize>]| {
        for (placement, span) in place.iter().zip(spans) {
            let Some(block) = by_name.get(placement.block.as_str()).map(|&i| &design.blocks[i]) else {
                continue;
            };
            let (w, h) = placement.size;
            let off = (w * block.size.1 / block.size.0 - h).abs();
            if off > WELD && !r.is_full() {
                let message = format!(
                    "the box is {} in by {} in but block \"{}\" is {} in by {} in",
                    figure(w),
                    figure(h),
                    block.name,
                    figure(block.size.0),
                    figure(block.size.1)
                );
                r.error(
                    span,
                    "other-proportions",
                    message,
                    "a box of the block's proportions (before turning)",
                );
            }
        }
    };
    for (block, (_, spans)) in design.blocks.iter().zip(&places.of_blocks) {
        check(&block.place, spans);
    }
    if let LayoutKind::Free { place, .. } = &design.layout.kind {
        check(place, &places.of_free);
    }
}

/// A length in a sentence: up to three decimals, none that say nothing.
pub(crate) fn figure(inches: f64) -> String {
    let text = format!("{inches:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// How many patches each block comes to, without building any; `None` when that cannot be said.
fn count_patches(r: &mut Reading, design: &Design, by_name: &ByName, places: &Places) -> Option<Vec<u64>> {
    let n = design.blocks.len();
    let mut known: Vec<Option<(u64, u32)>> = vec![None; n];
    let mut entered = vec![false; n];
    for start in 0..n {
        if known[start].is_some() {
            continue;
        }
        // A walk with its own stack: block, and the next placement to look into.
        let mut stack: Vec<(usize, usize)> = vec![(start, 0)];
        entered[start] = true;
        while let Some(&mut (at, ref mut next)) = stack.last_mut() {
            let block = &design.blocks[at];
            if let Some(placement) = block.place.get(*next) {
                *next += 1;
                let Some(&inner) = by_name.get(placement.block.as_str()) else {
                    continue;
                };
                if known[inner].is_some() {
                    continue;
                }
                if entered[inner] {
                    let names: Vec<String> = stack
                        .iter()
                        .skip_while(|(b, _)| *b != inner)
                        .take(12)
                        .map(|(b, _)| shown(&design.blocks[*b].name))
                        .collect();
                    let span = places.of_blocks.get(at).map_or(0..0, |(s, _)| s.clone());
                    let message = format!(
                        "block \"{}\" holds itself: {}",
                        shown(&design.blocks[inner].name),
                        names.join(" in ")
                    );
                    r.error(&span, "cycle", message, "blocks that do not hold themselves");
                    return None;
                }
                entered[inner] = true;
                stack.push((inner, 0));
                continue;
            }
            let mut patches = block.patches.len() as u64;
            let mut levels = 1;
            for placement in &block.place {
                let inner = by_name.get(placement.block.as_str()).and_then(|&i| known[i]);
                if let Some((count, depth)) = inner {
                    patches = patches.saturating_add(count);
                    levels = levels.max(depth + 1);
                }
            }
            if levels > MOST_LEVELS {
                let span = places.of_blocks.get(at).map_or(0..0, |(s, _)| s.clone());
                let message = format!("block \"{}\" holds blocks {levels} levels deep", block.name);
                r.error(&span, "limit", message, "at most 16 levels");
                return None;
            }
            known[at] = Some((patches, levels));
            stack.pop();
        }
    }
    Some(known.into_iter().map(|k| k.map_or(0, |(count, _)| count)).collect())
}

fn check_total(r: &mut Reading, design: &Design, by_name: &ByName, counts: &[u64], places: &Places) {
    let count = |name: &str| by_name.get(name).and_then(|&i| counts.get(i)).copied().unwrap_or(1);
    let total = match &design.layout.kind {
        LayoutKind::Straight { rows, .. } | LayoutKind::OnPoint { rows, .. } => rows
            .iter()
            .flatten()
            .map(|cell| cell.as_ref().map_or(1, |c| count(&c.block)))
            .fold(0u64, u64::saturating_add),
        LayoutKind::Free { place, .. } => place.iter().map(|p| count(&p.block)).fold(0u64, u64::saturating_add),
    };
    let sash = match &design.layout.kind {
        LayoutKind::Straight {
            rows, sashing: Some(_), ..
        } => {
            let (down, across) = (rows.len() as u64, rows.first().map_or(0, Vec::len) as u64);
            (down + 1) * (across + 1) * 3
        }
        _ => 0,
    };
    let corners: u64 = design
        .borders
        .iter()
        .map(|border| match &border.corners {
            Corners::Block(name) => count(name).saturating_mul(4),
            _ => 4,
        })
        .fold(0, u64::saturating_add);
    // The units of a pieced border, and the strips of its spacer.
    let (rounds, _) = rounds(design, inner_size(design));
    let units = (rounds.iter().filter_map(|round| Some((round.border, round.runs?))))
        .map(|(border, runs)| {
            let most = border.units.iter().map(|unit| count(&unit.block)).max().unwrap_or(0);
            let along: u64 = runs.iter().map(|run| run.count as u64).sum();
            along.saturating_mul(most).saturating_add(4)
        })
        .fold(0, u64::saturating_add);
    let total = total.saturating_add(sash).saturating_add(corners).saturating_add(units);
    let largest = counts.iter().copied().max().unwrap_or(0).max(total);
    if largest > MOST_PATCHES {
        let message = if largest == u64::MAX {
            "the quilt has more patches than can be counted".to_string()
        } else {
            format!("the quilt has {largest} placed patches")
        };
        r.error(&places.layout, "limit", message, "at most 200 000 placed patches");
    }
}

fn check_corners(r: &mut Reading, design: &Design, by_name: &ByName, places: &Places) {
    for (index, at) in &places.of_corners {
        let Some(border) = design.borders.get(*index) else {
            continue;
        };
        let Corners::Block(name) = &border.corners else {
            continue;
        };
        let Some(block): Option<&Block> = by_name.get(name.as_str()).map(|&i| &design.blocks[i]) else {
            continue;
        };
        let (w, h) = block.size;
        if (w - border.width).abs() > WELD || (h - border.width).abs() > WELD {
            let message = format!(
                "the corner block \"{name}\" is {} in by {} in but the border is {} in wide",
                figure(w),
                figure(h),
                figure(border.width)
            );
            r.error(at, "corner-size", message, "a square block as wide as the border");
        }
    }
}

fn check_top(r: &mut Reading, design: &Design, places: &Places) {
    let (width, height) = crate::layout::top_size(design);
    if width > LONGEST_TOP || height > LONGEST_TOP {
        let message = format!("the top is {} in by {} in", figure(width), figure(height));
        r.error(&places.layout, "limit", message, "at most 1000 in either way");
    }
}
