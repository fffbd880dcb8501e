//! Groups of patches that come again in a mosaic: flowers about a patch, blocks about a corner. Each kind is made once, as
//! often as it is there.

use super::faces::Patches;
use crate::tokens::{BlockTokens, Content, Token};
use shape::{Motion, Point};
use std::collections::{BTreeMap, BTreeSet};

/// Rounds about a patch that are looked for.
const ROUNDS: usize = 3;

/// Corners this close are alike, inches.
const ALIKE: f64 = 1.0e-4;

/// Groups that are all alike. The patches of the first lie in its order, those of each other one in the same: with each
/// patch the side that lies where the first's side 0 lies.
#[derive(Clone, Debug)]
pub struct Family {
    /// The patches of the one in whose frame the kind is planned.
    pub first: Vec<usize>,
    /// All of them, the first included.
    pub members: Vec<Member>,
}

/// A group: its patches in the order of its kind, each with the side that lies on the kind's patch's side 0.
pub type Member = Vec<(usize, usize)>;

/// What two groups must have in common to be worth comparing.
type Key = Vec<(String, usize, i64)>;

/// The families of a mosaic, none of which shares a patch with another, those that save most first.
pub fn families(block: &BlockTokens, patches: &Patches) -> Vec<Family> {
    let mut found: BTreeMap<Key, Vec<BTreeSet<usize>>> = BTreeMap::new();
    for group in candidates(block, patches) {
        found.entry(key(block, &group)).or_default().push(group);
    }
    let kinds: Vec<Vec<Member>> = found
        .values()
        .flat_map(|groups| alike(block, patches, groups))
        .collect();
    let mut taken: BTreeSet<usize> = BTreeSet::new();
    let mut families = Vec::new();
    loop {
        // Of each kind those that are free still, none overlapping another.
        let mut best: Option<(usize, Vec<&Member>)> = None;
        for kind in &kinds {
            let mut busy = taken.clone();
            let mut free = Vec::new();
            for group in kind {
                if group.iter().all(|(f, _)| !busy.contains(f)) {
                    busy.extend(group.iter().map(|(f, _)| *f));
                    free.push(group);
                }
            }
            let saves = free.len().saturating_sub(1) * kind[0].len();
            if saves > 0 && best.as_ref().is_none_or(|(most, _)| saves > *most) {
                best = Some((saves, free));
            }
        }
        let Some((_, members)) = best else { break };
        taken.extend(members.iter().flat_map(|m| m.iter().map(|(f, _)| *f)));
        let first = members[0].iter().map(|(f, _)| *f).collect();
        // Told from the first: each side 0 against the first's.
        let members = members.iter().map(|m| relative(patches, m, members[0])).collect();
        families.push(Family { first, members });
    }
    families
}

/// A group told against another of its kind: sides counted from where the other's side 0 lies.
fn relative(patches: &Patches, group: &[(usize, usize)], first: &[(usize, usize)]) -> Member {
    let told = group.iter().zip(first).map(|(&(face, side), &(_, base))| {
        let n = patches.all.get(&face).map_or(1, |p| p.outline.len());
        (face, (side + n - base % n) % n)
    });
    told.collect()
}

/// Patches with one, two, three rounds about them, and diamonds about a corner, of more than one cloth.
fn candidates(block: &BlockTokens, patches: &Patches) -> Vec<BTreeSet<usize>> {
    let mut found = Vec::new();
    let cloths =
        |group: &BTreeSet<usize>| -> BTreeSet<&str> { group.iter().filter_map(|&f| cloth(&block.tokens[f])).collect() };
    let coloured = |group: &BTreeSet<usize>| cloths(group).len() > 1;
    // Rounds are laid about hexagons and the like, blocks of diamonds about a corner.
    let corners_of = |face: &usize| patches.all.get(face).map_or(0, |p| p.outline.len());
    for &face in patches.all.keys().filter(|f| corners_of(f) > 4) {
        let mut group = BTreeSet::from([face]);
        let mut round = group.clone();
        for _ in 0..ROUNDS {
            let complete = round.iter().all(|f| {
                patches
                    .all
                    .get(f)
                    .is_some_and(|p| p.edges.iter().all(|e| e.beyond.is_some()))
            });
            if !complete {
                break;
            }
            let next: BTreeSet<usize> = round.iter().flat_map(|&f| patches.beside(f)).collect();
            let before = cloths(&round);
            round = next.difference(&group).copied().collect();
            // A flower's rounds are each of one cloth, unlike the round before.
            if cloths(&round).len() != 1 || cloths(&round) == before {
                break;
            }
            group.extend(&round);
            if coloured(&group) && patches.rim(&group).is_some() {
                found.push(group.clone());
            }
        }
    }
    let mut about: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    let mut outer: BTreeSet<usize> = BTreeSet::new();
    for (&face, patch) in &patches.all {
        for edge in &patch.edges {
            about.entry(edge.from).or_default().insert(face);
            if edge.beyond.is_none() {
                outer.extend([edge.from, edge.to]);
            }
        }
    }
    for (vertex, group) in about {
        let corners = group
            .iter()
            .all(|f| patches.all.get(f).is_some_and(|p| p.has_corner(vertex)));
        let diamonds = group.iter().all(|f| corners_of(f) <= 4);
        if group.len() > 2
            && diamonds
            && corners
            && !outer.contains(&vertex)
            && coloured(&group)
            && patches.rim(&group).is_some()
        {
            found.push(group);
        }
    }
    found
}

fn cloth(token: &Token) -> Option<&str> {
    match &token.content {
        Content::Patch { fabric, .. } => Some(fabric.as_str()),
        Content::Unit { .. } => None,
    }
}

fn key(block: &BlockTokens, group: &BTreeSet<usize>) -> Key {
    let mut key: Key = (group.iter())
        .map(|&f| {
            let token = &block.tokens[f];
            // Coarse, so that what a weld moves does not part what is alike.
            (
                cloth(token).unwrap_or_default().to_string(),
                token.outline.len(),
                (token.area * 16.0).round() as i64,
            )
        })
        .collect();
    key.sort();
    key
}

/// Groups sorted into kinds; of each the patches in one order.
fn alike(block: &BlockTokens, patches: &Patches, groups: &[BTreeSet<usize>]) -> Vec<Vec<Member>> {
    let mut kinds: Vec<Vec<Member>> = Vec::new();
    for group in groups {
        let known = kinds.iter_mut().find_map(|kind| {
            let first: Vec<usize> = kind[0].iter().map(|(f, _)| *f).collect();
            let carried = carried(block, patches, &first, group)?;
            Some((kind, carried))
        });
        match known {
            Some((kind, carried)) => kind.push(carried),
            None => kinds.push(vec![group.iter().map(|&f| (f, 0)).collect()]),
        }
    }
    kinds
}

/// How a group lies on another one alike: its patches in the other's order, each with the side on its side 0.
fn carried(block: &BlockTokens, patches: &Patches, first: &[usize], group: &BTreeSet<usize>) -> Option<Member> {
    let start = &block.tokens[*first.first()?];
    let onto = start.outline.edge(0)?;
    for &face in group {
        let token = &block.tokens[face];
        if token.outline.len() != start.outline.len() || cloth(token) != cloth(start) {
            continue;
        }
        for side in 0..token.outline.len() {
            let Some(line) = token.outline.edge(side) else { continue };
            let motion = Motion::line_to_line(onto, line, false);
            let all: Option<Member> = first.iter().map(|&f| met(block, patches, f, group, &motion)).collect();
            if let Some(all) = all {
                return Some(all);
            }
        }
    }
    None
}

/// The patch of a group on which another comes to lie, and its side there where the other's side 0 lies.
fn met(
    block: &BlockTokens,
    patches: &Patches,
    from: usize,
    group: &BTreeSet<usize>,
    motion: &Motion,
) -> Option<(usize, usize)> {
    let mine = &block.tokens[from];
    let (flat, n) = (&patches.all.get(&from)?.flat, mine.outline.len());
    let centre = motion.point(mine.centre);
    group.iter().find_map(|&face| {
        let theirs = &block.tokens[face];
        let near = |a: Point, b: Point| a.distance(b) <= ALIKE;
        if theirs.outline.len() != n || !near(centre, theirs.centre) || !same_cloth(mine, theirs, motion) {
            return None;
        }
        let side = (0..n).find(|&s| near(motion.point(mine.outline.corner(0)), theirs.outline.corner(s)))?;
        let there = &patches.all.get(&face)?.flat;
        let all = (0..n).all(|i| {
            near(motion.point(mine.outline.corner(i)), theirs.outline.corner(i + side))
                && flat[i] == there[(i + side) % n]
        });
        all.then_some((face, side))
    })
}

fn same_cloth(a: &Token, b: &Token, motion: &Motion) -> bool {
    match (&a.content, &b.content) {
        (
            Content::Patch { fabric, up, role, .. },
            Content::Patch {
                fabric: f2,
                up: u2,
                role: r2,
                ..
            },
        ) => {
            fabric == f2
                && role == r2
                && match (up, u2) {
                    (None, None) => true,
                    (Some(u), Some(v)) => {
                        let cos = motion.vector(u.toward).dot(v.toward);
                        u.two_way == v.two_way && (if u.two_way { cos.abs() } else { cos }) > 1.0 - 1.0e-9
                    }
                    _ => false,
                }
        }
        _ => false,
    }
}
