//! Roles of many cloths: which cloth each block or patch of such a role gets, so that equal ones do not touch where that can
//! be had, and all are used about alike. The same file always gives the same answer.

mod arrange;
mod touching;

use crate::layout::TopPlan;
use crate::picture::faces_of;
use crate::{Design, Each};
use std::collections::{BTreeMap, BTreeSet};
use terms::{FabricId, Face, Finding, PatchPath, Place};

/// What came of choosing.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Scraps {
    /// The cloth of single patches of blocks; whole blocks are recoloured where they are placed.
    pub patches: BTreeMap<PatchPath, FabricId>,
    /// How many blocks, patches or strips each role has in each cloth.
    pub counts: BTreeMap<FabricId, BTreeMap<FabricId, usize>>,
    /// Pairs of one cloth that lie side by side, and those that meet at a corner only.
    pub left: (usize, usize),
    /// It is known that no choice leaves fewer side by side.
    pub sure: bool,
}

/// What gets one cloth as a whole.
struct Item {
    faces: Vec<usize>,
    /// Numbers of the cloths it may have.
    domain: Vec<usize>,
    area: f64,
    owner: Owner,
}

enum Owner {
    /// A placed block in one role.
    Block(usize, FabricId),
    Patch(PatchPath, FabricId),
    /// A strip, a piece of ground or a border.
    Plain(usize, FabricId),
    /// Its cloth is drawn.
    Drawn,
}

/// Chooses cloth for every scrappy role of the plan.
pub(crate) fn choose(plan: &mut TopPlan, design: &Design) {
    if design.fabrics.iter().all(|f| f.scrappy.is_none()) {
        return;
    }
    let (faces, laid) = faces_of(design, plan);
    let pieced = faces.len();
    let faces: Vec<Face> = faces.into_iter().chain(laid).collect();
    let mut cloths: Vec<&FabricId> = (design.fabrics.iter())
        .filter_map(|f| f.scrappy.as_ref())
        .flat_map(|s| &s.fabrics)
        .collect();
    cloths.sort();
    cloths.dedup();
    let number: BTreeMap<&FabricId, usize> = cloths.iter().enumerate().map(|(i, &c)| (c, i)).collect();
    let items = items(design, &faces, &number);
    let home: BTreeMap<usize, usize> = (items.iter().enumerate())
        .flat_map(|(i, item)| item.faces.iter().map(move |&f| (f, i)))
        .collect();
    let met = touching::of(&faces, pieced, &home);
    let domains: Vec<&[usize]> = items.iter().map(|i| i.domain.as_slice()).collect();
    let areas: Vec<f64> = items.iter().map(|i| i.area).collect();
    let seed = (design.fabrics.iter())
        .filter_map(|f| f.scrappy.as_ref())
        .fold(0_u64, |all, s| all.wrapping_mul(31).wrapping_add(s.seed));
    let found = arrange::arrange(&domains, &areas, cloths.len(), &met, seed);
    let mut scraps = Scraps {
        left: found.left,
        sure: found.sure,
        ..Scraps::default()
    };
    for (item, &cloth) in items.iter().zip(&found.cloths) {
        let cloth = cloths[cloth].clone();
        let role = match &item.owner {
            Owner::Drawn => continue,
            Owner::Block(index, role) => {
                let recolor = &mut plan.blocks[*index].recolor;
                for shown in recolor.values_mut().filter(|shown| *shown == role) {
                    *shown = cloth.clone();
                }
                recolor.entry(role.clone()).or_insert_with(|| cloth.clone());
                role
            }
            Owner::Patch(path, role) => {
                scraps.patches.insert(path.clone(), cloth.clone());
                role
            }
            Owner::Plain(index, role) => {
                plan.plain[*index].fabric = cloth.clone();
                role
            }
        };
        *scraps.counts.entry(role.clone()).or_default().entry(cloth).or_default() += 1;
    }
    plan.scraps = scraps;
}

fn items(design: &Design, faces: &[Face], number: &BTreeMap<&FabricId, usize>) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    let mut blocks: BTreeMap<(u32, &FabricId), usize> = BTreeMap::new();
    for (i, face) in faces.iter().enumerate() {
        let Some(scrappy) = design.fabric(&face.fabric).and_then(|f| f.scrappy.as_ref()) else {
            if let Some(&cloth) = number.get(&face.fabric) {
                items.push(Item {
                    faces: vec![i],
                    domain: vec![cloth],
                    area: 0.0,
                    owner: Owner::Drawn,
                });
            }
            continue;
        };
        let area = face.outline.signed_area().abs();
        let placed = face.patch.placements.first();
        if let (Each::Block, Some(&placed)) = (scrappy.each, placed) {
            if let Some(&known) = blocks.get(&(placed, &face.fabric)) {
                items[known].faces.push(i);
                items[known].area += area;
                continue;
            }
            blocks.insert((placed, &face.fabric), items.len());
        }
        let role = face.fabric.clone();
        let owner = match (placed, scrappy.each) {
            (None, _) => Owner::Plain(face.patch.patch as usize, role),
            (Some(&placed), Each::Block) => Owner::Block(placed as usize, role),
            (Some(_), Each::Patch) => Owner::Patch(face.patch.clone(), role),
        };
        let domain: BTreeSet<usize> = scrappy.fabrics.iter().filter_map(|f| number.get(f).copied()).collect();
        items.push(Item {
            faces: vec![i],
            domain: domain.into_iter().collect(),
            area,
            owner,
        });
    }
    items
}

/// What is said of the choice.
pub(crate) fn findings(plan: &TopPlan) -> Vec<Finding> {
    let scraps = &plan.scraps;
    let mut findings: Vec<Finding> = (scraps.counts.iter())
        .map(|(role, counts)| {
            let each: Vec<String> = counts.iter().map(|(cloth, n)| format!("{n} {cloth}")).collect();
            let sentence = format!(
                "The cloths of the scrappy role {role} are dealt out: {}.",
                each.join(", ")
            );
            let mend = "Another seed deals them otherwise.";
            Finding::note("scraps-dealt", Place::Quilt, sentence, mend)
        })
        .collect();
    let (side, corner) = scraps.left;
    if side + corner > 0 {
        let best = if side == 0 || !scraps.sure {
            "the search found no better"
        } else {
            "with these cloths they cannot all be kept apart"
        };
        let pairs = |n: usize| {
            if n == 1 {
                "1 pair".to_string()
            } else {
                format!("{n} pairs")
            }
        };
        findings.push(Finding::note(
            "scraps-touch",
            Place::Quilt,
            format!(
                "{} of one cloth lie side by side and {} meet at a corner; {best}.",
                pairs(side),
                pairs(corner)
            ),
            "Another seed or one more cloth in the list may part them.",
        ));
    }
    findings
}
