//! Mosaics over card: every patch is basted over a card of its finished size, and folded edges are whipped together. No
//! seam need run through; any mosaic of patches that meet corner on corner goes together.

mod cards;
mod cut;
mod faces;
mod groups;
mod order;
mod write;

pub use cards::Cards;
pub use write::write;

use crate::plan::Making;
use crate::settings::Settings;
use crate::tally::Tally;
use crate::tokens::{BlockTokens, Content};
use crate::whys::Whys;
use cut::BastedCut;
use design::Up;
use faces::{Patches, SideOf};
use groups::Family;
use order::{Deed, Parts};
use recipe::Size;
use shape::{Polygon, Vector, WELD};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use terms::FabricId;

/// What a designer pins.
pub const NAME: &str = "over card";

/// What a unit takes: a patch to baste, or a unit made before.
#[derive(Clone, Debug)]
enum Brought {
    Patch(usize),
    /// Which unit, and its patches in that unit's order, each with the side on the unit's patch's side 0.
    Unit(usize, Vec<(usize, usize)>),
}

/// One kind of unit of a mosaic, the last being all of it.
#[derive(Clone, Debug)]
pub struct MosaicUnit {
    /// In a maker's words; nothing for the whole.
    pub label: &'static str,
    parts: Vec<Brought>,
    deeds: Vec<Deed>,
    /// Its patches, as other units refer to them.
    faces: Vec<usize>,
    /// Its sides in order round, each one folded edge or all raw edges along one line.
    sides: Vec<Vec<SideOf>>,
}

/// A mosaic planned.
#[derive(Clone, Debug)]
pub struct Mosaic {
    /// Its units, each after those it takes.
    pub units: Vec<MosaicUnit>,
    outline: Polygon,
    patches: Patches,
    cuts: BTreeMap<usize, (FabricId, BastedCut)>,
    least: Size,
    /// Raw edges level with which tips at the mosaic's corners are snipped.
    snips: Vec<SideOf>,
}

/// The mosaic that some faces of a block make.
///
/// # Errors
/// Why they cannot be pieced over card, in a maker's words.
pub fn plan(
    block: &BlockTokens,
    faces: &[usize],
    outline: &Polygon,
    settings: &Settings,
    whys: &mut Whys,
) -> Result<Mosaic, String> {
    if !outline.is_convex(1.0e-9) {
        return Err("it has a hollow corner itself, and its raw edges could not be joined there".into());
    }
    let patches = Patches::of(block, faces)?;
    let mut cuts = BTreeMap::new();
    for (&face, patch) in &patches.all {
        let (fabric, grain, up, number) = cloth_of(block, face);
        let usable = settings.cloth(&fabric).map_or(0.0, |c| c.largest());
        let cut = cut::basted_cut(patch, grain, up, usable, settings, whys)
            .ok_or_else(|| format!("patch {number} cannot be cut from its cloth with something to fold over"))?;
        cuts.insert(face, (fabric, cut));
    }
    let families = groups::families(block, &patches);
    let units = units_of(&patches, &families).or_else(|_| units_of(&patches, &[]));
    let units = units.map_err(|face| {
        let number = cloth_of(block, face).3;
        format!("patch {number} does not meet its neighbours corner on corner, so that no edge can be whipped from end to end")
    })?;
    let sides = outer_sides(&patches, outline).ok_or("its outer edge is not quite straight")?;
    let snips = snips_of(&patches, outline, &sides);
    let mut mosaic = Mosaic {
        units,
        outline: outline.clone(),
        patches,
        cuts,
        least: cut::least(settings, whys),
        snips,
    };
    if let Some(whole) = mosaic.units.last_mut() {
        whole.sides = sides;
    }
    Ok(mosaic)
}

/// Whether all patches that no outer edge cuts are of one equal-sided shape: hexagons, jewels, diamonds.
pub fn is_regular(block: &BlockTokens, faces: &[usize]) -> bool {
    let Ok(patches) = Patches::of(block, faces) else {
        return false;
    };
    let mut cards = Cards::default();
    let inner: Vec<_> = patches.all.values().filter(|p| !p.flat.contains(&true)).collect();
    let names: BTreeSet<String> = (inner.iter())
        .filter_map(|p| Some(cards.of(&p.outline, &p.flat)?.name))
        .collect();
    let equal = |p: &&&faces::Patch| {
        let o = &p.outline;
        let length = |i: usize| o.corner(i).distance(o.corner(i + 1));
        (1..o.len()).all(|i| (length(i) - length(0)).abs() < WELD)
    };
    inner.len() > 1 && names.len() == 1 && inner.iter().all(|p| equal(&p))
}

fn cloth_of(block: &BlockTokens, face: usize) -> (FabricId, Vector, Option<Up>, u32) {
    match &block.tokens[face].content {
        Content::Patch {
            fabric,
            grain,
            up,
            patch,
            ..
        } => (fabric.clone(), *grain, *up, patch + 1),
        Content::Unit { .. } => (FabricId::default(), Vector::new(1.0, 0.0), None, face as u32 + 1),
    }
}

/// The units with these families made apart; the patch that cannot be joined if there is one.
fn units_of(patches: &Patches, families: &[Family]) -> Result<Vec<MosaicUnit>, usize> {
    let mut units = Vec::new();
    let mut parts: Vec<Brought> = Vec::new();
    let mut grouped: BTreeSet<usize> = BTreeSet::new();
    for family in families {
        let alone = family.first.iter().map(|&f| Brought::Patch(f)).collect();
        let mut unit = unit_of(patches, alone)?;
        let inner = |f: &usize| patches.beside(*f).iter().all(|n| family.first.contains(n));
        let flower = family
            .first
            .iter()
            .any(|f| inner(f) && !patches.all[f].flat.contains(&true));
        unit.label = if flower { "Flower" } else { "Group" };
        unit.sides = sides_round(patches, &family.first).ok_or(family.first[0])?;
        unit.faces.clone_from(&family.first);
        for member in &family.members {
            grouped.extend(member.iter().map(|(f, _)| *f));
            parts.push(Brought::Unit(units.len(), member.clone()));
        }
        units.push(unit);
    }
    let single = patches.all.keys().filter(|f| !grouped.contains(f));
    parts.extend(single.map(|&f| Brought::Patch(f)));
    units.push(unit_of(patches, parts)?);
    Ok(units)
}

fn unit_of(patches: &Patches, parts: Vec<Brought>) -> Result<MosaicUnit, usize> {
    let faces = |part: &Brought| match part {
        Brought::Patch(face) => vec![*face],
        Brought::Unit(_, member) => member.iter().map(|(f, _)| *f).collect(),
    };
    let known = Parts {
        patches,
        faces: parts.iter().map(faces).collect(),
    };
    let deeds = known.order()?;
    Ok(MosaicUnit {
        label: "",
        parts,
        deeds,
        faces: Vec::new(),
        sides: Vec::new(),
    })
}

/// The sides round some patches: folded ones each by itself, flat ones along one line together.
fn sides_round(patches: &Patches, faces: &[usize]) -> Option<Vec<Vec<SideOf>>> {
    let rim = patches.rim(&faces.iter().copied().collect())?;
    let mut round: Vec<SideOf> = rim.iter().map(|r| (r.face, r.edge.side)).collect();
    round.dedup();
    if round.len() > 1 && round.first() == round.last() {
        round.pop();
    }
    let flat = |(face, side): SideOf| patches.all.get(&face).is_some_and(|p| p.flat[side]);
    let goes_on = |a: SideOf, b: SideOf| flat(a) && flat(b) && patches.along(a).cross(patches.along(b)).abs() < 1.0e-5;
    let n = round.len();
    let start = (0..n).find(|&i| !goes_on(round[(i + n - 1) % n], round[i]))?;
    let mut sides: Vec<Vec<SideOf>> = Vec::new();
    for k in 0..n {
        let (before, here) = (round[(start + k + n - 1) % n], round[(start + k) % n]);
        match sides.last_mut() {
            Some(side) if goes_on(before, here) => side.push(here),
            _ => sides.push(vec![here]),
        }
    }
    Some(sides)
}

/// For each side of the mosaic the flat sides that lie on it, in order.
fn outer_sides(patches: &Patches, outline: &Polygon) -> Option<Vec<Vec<SideOf>>> {
    let mut sides = Vec::new();
    let mut found = 0;
    for s in 0..outline.len() {
        let line = outline.edge(s)?;
        let mut on: Vec<(f64, SideOf)> = Vec::new();
        for (&face, patch) in &patches.all {
            for side in (0..patch.flat.len()).filter(|&i| patch.flat[i]) {
                let (a, b) = (patch.outline.corner(side), patch.outline.corner(side + 1));
                let level = line.offset_of(a).abs() < 2.0 * WELD && line.offset_of(b).abs() < 2.0 * WELD;
                if level && line.along.dot(b - a) > 0.0 {
                    on.push((line.reach_of(a), (face, side)));
                }
            }
        }
        on.sort_by(|x, y| x.0.total_cmp(&y.0));
        found += on.len();
        if on.is_empty() {
            return None;
        }
        sides.push(on.into_iter().map(|(_, side)| side).collect());
    }
    let flats: usize = patches
        .all
        .values()
        .map(|p| p.flat.iter().filter(|f| **f).count())
        .sum();
    (found == flats).then_some(sides)
}

/// At a corner of the mosaic where two patches or more meet, a fold runs on through the allowance past the other's raw edge
/// unless it lies in the middle: what sticks out is snipped level.
fn snips_of(patches: &Patches, outline: &Polygon, sides: &[Vec<SideOf>]) -> Vec<SideOf> {
    let n = sides.len();
    let mut snips = Vec::new();
    for s in 0..n {
        let (Some(&before), Some(&after)) = (sides[s].last(), sides[(s + 1) % n].first()) else {
            continue;
        };
        if before.0 == after.0 {
            continue;
        }
        let corner = outline.corner(s + 1);
        let whole = angle(outline, s + 1);
        let of = |face: usize| {
            let o = &patches.all[&face].outline;
            let at = (0..o.len()).find(|&i| o.corner(i).distance(corner) < WELD)?;
            Some(angle(o, at))
        };
        if of(before.0).is_some_and(|a| a < whole / 2.0 - 1.0e-6) {
            snips.push(after);
        }
        if of(after.0).is_some_and(|a| a < whole / 2.0 - 1.0e-6) {
            snips.push(before);
        }
    }
    snips
}

/// The inner angle at a corner, in radians.
fn angle(outline: &Polygon, i: usize) -> f64 {
    let n = outline.len();
    let here = outline.corner(i);
    let (on, back) = (outline.corner(i + 1) - here, outline.corner(i + n - 1) - here);
    libm::atan2(on.cross(back), on.dot(back))
}

impl Mosaic {
    /// As a way of making.
    pub fn making(self) -> Making {
        Making::Mosaic(Rc::new(self))
    }

    /// Handling: cutting out, basting and taking out each card, and whipping every edge by hand.
    pub fn handling(&self) -> u64 {
        let folded = |p: &faces::Patch| p.flat.iter().filter(|f| !**f).count() as u64;
        self.patches.all.values().map(|p| 10 + 4 * folded(p)).sum()
    }

    /// How many different units it is made of.
    pub fn kinds(&self) -> usize {
        self.units.len()
    }

    /// What it takes. A card may be 1/64 in out; whipping takes nothing.
    pub fn tally(&self) -> Tally {
        let shapes = self.cuts.values().map(|(_, cut)| &cut.shape);
        let mut whipped = 0;
        for unit in &self.units {
            for deed in &unit.deeds {
                if let Deed::Join { pairs, .. } = deed {
                    whipped += pairs.len() as u64;
                }
            }
        }
        let sides = self.units.last().map_or(&[][..], |u| &u.sides);
        let between = sides.iter().map(|a| sides.iter().map(|b| self.across(a, b)).collect());
        Tally::of_mosaic(shapes, whipped, between.collect())
    }

    /// How many patches lie in the way from one side to another.
    fn across(&self, from: &[SideOf], to: &[SideOf]) -> u32 {
        if from == to {
            return 0;
        }
        let ends: BTreeSet<usize> = to.iter().map(|(f, _)| *f).collect();
        let mut seen: BTreeSet<usize> = from.iter().map(|(f, _)| *f).collect();
        let mut edge = seen.clone();
        let mut count = 1;
        while !edge.is_empty() && edge.is_disjoint(&ends) {
            let next: BTreeSet<usize> = edge.iter().flat_map(|&f| self.patches.beside(f)).collect();
            edge = next.difference(&seen).copied().collect();
            seen.extend(&edge);
            count += 1;
        }
        count
    }
}
