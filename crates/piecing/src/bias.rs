//! Bias on an outer edge: a block's outer edge that is not along the straight grain stretches, and so does a unit's whose
//! method leaves its sides on the bias.

use crate::class::ClassId;
use crate::plan::{Making, Planner};
use crate::tokens::{BlockTokens, Content};
use shape::WELD;
use terms::{Finding, Place};

/// One care finding per block that has a bias outer edge.
pub fn bias_findings(blocks: &[BlockTokens]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for block in blocks.iter().filter(|b| !b.replaced) {
        let mut patches = Vec::new();
        let mut at = None;
        for token in &block.tokens {
            let Content::Patch { grain, patch, .. } = &token.content else {
                continue;
            };
            for i in (0..token.outline.len()).filter(|&i| !token.bows[i]) {
                let Some(edge) = token.outline.edge(i) else { continue };
                let (a, b) = (token.outline.corner(i), token.outline.corner(i + 1));
                let outside = (0..block.outline.len())
                    .filter_map(|k| block.outline.edge(k))
                    .any(|side| side.offset_of(a).abs() < WELD && side.offset_of(b).abs() < WELD);
                let bias = edge.along.dot(*grain).abs() > 1.0e-6 && edge.along.cross(*grain).abs() > 1.0e-6;
                if outside && bias {
                    patches.push(*patch);
                    at.get_or_insert(a.toward(b, 0.5));
                    break;
                }
            }
        }
        if !patches.is_empty() {
            findings.push(Finding::care(
                "bias-outer-edge",
                Place::Block {
                    name: block.name.clone(),
                    patches,
                    at,
                },
                "A bias edge lies on the outside of the block and will stretch.",
                "Turn the patch's grain so that this side lies along or across the cloth.",
            ));
        }
    }
    findings
}

/// One care finding for each kind of unit that is made by a method which leaves its sides on the bias.
pub fn method_findings(planner: &mut Planner<'_>, kinds: &[Option<ClassId>]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for &id in kinds.iter().flatten() {
        let plan = planner.plan(id);
        let Making::Method(method) = &plan.making else { continue };
        if !method.bias() {
            continue;
        }
        let class = planner.classes.get(id);
        let block = &planner.blocks[class.home];
        findings.push(Finding::care(
            "bias-by-method",
            Place::Block {
                name: block.name.clone(),
                patches: block.patches_of(&class.faces).unwrap_or_default(),
                at: Some(class.outline.centroid()),
            },
            format!(
                "Made by {}, these units have all their outer edges on the bias, which stretch.",
                method.name()
            ),
            "Starch the cloth before it is cut and handle the units gently, or pin a method that keeps the edges on the straight grain.",
        ));
    }
    findings
}
