//! Blocks that do not fit their cells: `cell-not-filled`, `cell-overfilled`; blocks nobody uses: `unused-block`.

use crate::layout::lay;
use crate::read::figure;
use crate::{Design, LayoutKind};
use shape::WELD;
use std::collections::BTreeSet;
use terms::{Finding, Place};

pub(crate) fn find(design: &Design) -> Vec<Finding> {
    let mut findings = Vec::new();
    fitting(design, &mut findings);
    if let LayoutKind::Free { .. } = design.layout.kind {
        ground(design, &mut findings);
    }
    on_point(design, &mut findings);
    unused(design, &mut findings);
    findings
}

fn fitting(design: &Design, findings: &mut Vec<Finding>) {
    let (LayoutKind::Straight { cell, rows, .. } | LayoutKind::OnPoint { cell, rows, .. }) = &design.layout.kind else {
        return;
    };
    let mut told: BTreeSet<(&str, bool)> = BTreeSet::new();
    for used in rows.iter().flatten().flatten() {
        let sideways = used.quarters % 2 == 1;
        if !told.insert((used.block.as_str(), sideways)) {
            continue;
        }
        let Some(block) = design.block(&used.block) else {
            continue;
        };
        let (w, h) = if sideways {
            (block.size.1, block.size.0)
        } else {
            block.size
        };
        let place = Place::Block {
            name: block.name.clone(),
            patches: Vec::new(),
            at: None,
        };
        let sizes = format!(
            "{} in by {} in{} and its cell {} in by {} in",
            figure(w),
            figure(h),
            if sideways { " as turned" } else { "" },
            figure(cell.0),
            figure(cell.1)
        );
        if w > cell.0 + WELD || h > cell.1 + WELD {
            findings.push(Finding::stop(
                "cell-overfilled",
                place,
                format!("Block {} is {sizes}.", block.name),
                "Give [layout] a larger cell, or draw the block smaller.",
            ));
        } else if w < cell.0 - WELD || h < cell.1 - WELD {
            let (side, level) = ((cell.0 - w) / 2.0, (cell.1 - h) / 2.0);
            let fill = match &design.layout.fill {
                Some(fill) => format!("of {fill}"),
                None => "of a fill fabric".to_string(),
            };
            findings.push(Finding::stop(
                "cell-not-filled",
                place,
                format!("Block {} is {sizes}, so ground is left open round it.", block.name),
                format!(
                    "Frame it with strips {fill}: {} in at either side, {} in above and below; or give [layout] a cell of \
                     the block's size.",
                    figure(side),
                    figure(level)
                ),
            ));
        }
    }
}

/// A free layout that its blocks do not fill needs a cloth for what is left over.
fn ground(design: &Design, findings: &mut Vec<Finding>) {
    let LayoutKind::Free { size, place } = &design.layout.kind else {
        return;
    };
    let covered: f64 = place.iter().map(|p| p.size.0 * p.size.1).sum();
    let open = size.0 * size.1 - covered;
    if design.layout.fill.is_none() && open > WELD * (size.0 + size.1) {
        findings.push(Finding::stop(
            "ground-without-fill",
            Place::Quilt,
            format!(
                "The blocks of the free layout leave {} square in of ground, and no cloth is named for it.",
                figure(open)
            ),
            "Give [layout] a fill.",
        ));
    }
}

/// On point the cells are squares.
fn on_point(design: &Design, findings: &mut Vec<Finding>) {
    let LayoutKind::OnPoint { cell, .. } = &design.layout.kind else {
        return;
    };
    if (cell.0 - cell.1).abs() > WELD {
        findings.push(Finding::stop(
            "cell-not-square",
            Place::Quilt,
            format!(
                "On point the cells must be squares, and they are {} in by {} in.",
                figure(cell.0),
                figure(cell.1)
            ),
            "Give [layout] a square cell, or lay the blocks straight.",
        ));
    }
}

fn unused(design: &Design, findings: &mut Vec<Finding>) {
    let plan = lay(design);
    let mut used: BTreeSet<&str> = plan.blocks.iter().map(|p| p.block.as_str()).collect();
    used.extend(design.borders.iter().flat_map(|b| b.units.iter().map(String::as_str)));
    let mut waiting: Vec<&str> = used.iter().copied().collect();
    let by_name: std::collections::BTreeMap<&str, &crate::Block> =
        design.blocks.iter().map(|b| (b.name.as_str(), b)).collect();
    while let Some(name) = waiting.pop() {
        let Some(block) = by_name.get(name) else { continue };
        for placement in &block.place {
            if used.insert(placement.block.as_str()) {
                waiting.push(placement.block.as_str());
            }
        }
    }
    for block in &design.blocks {
        // A block of the collection is there only because another, which is told, names it.
        let brought = block.name.starts_with(crate::collection::PREFIX);
        if !used.contains(block.name.as_str()) && !brought {
            findings.push(Finding::note(
                "unused-block",
                Place::Block {
                    name: block.name.clone(),
                    patches: Vec::new(),
                    at: None,
                },
                format!("Block {} is drawn but placed nowhere.", block.name),
                "Place it, or leave it for later.",
            ));
        }
    }
}
