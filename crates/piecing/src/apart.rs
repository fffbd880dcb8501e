//! Blocks made apart: where a drawing traps a seam because a line dead-ends on a placed block that owns a seam
//! continuing it, that block is made as two units and the drawing's seams do the rest.
//!
//! The fewest blocks are opened: first each alone, then pairs, then the best so far once more, up to [`MOST_OPENED`].
//! Only lines that continue a line of the drawing are tried, since no other can help it through.

use crate::class::Placed;
use crate::plan::{Cost, Planner};
use crate::seams::{ThroughSeams, divide};
use crate::set_in;
use crate::tokens::{Content, tokens_of};
use design::{BlockIndex, BlockMap, Fill, MapFace};
use shape::{Line, Motion, Polygon, WELD};
use std::collections::BTreeSet;
use terms::{Finding, Place};

/// No drawing is helped by opening more blocks than this; beyond, a trapped seam is told as one.
pub const MOST_OPENED: usize = 6;

/// How many openings are planned at most for one drawing.
const MOST_TRIES: usize = 400;

/// One way to make a placed block apart: along this line, in the drawing's frame.
#[derive(Clone, Copy, Debug)]
struct Opening {
    face: usize,
    line: Line,
}

/// A drawing with some of its blocks made apart.
struct Opened {
    home: usize,
    class: Placed,
    cost: Cost,
    by: Vec<Opening>,
}

/// Plans block `home` of the planner, drawn as `map`; where it is trapped as drawn, with blocks made apart. Gives the
/// home and class to use, and a note for each block made apart.
pub fn plan_apart(
    planner: &mut Planner<'_>,
    map: &BlockMap,
    home: usize,
    placed: &[Placed],
    may_split: &dyn Fn(BlockIndex) -> bool,
    names: &dyn Fn(BlockIndex) -> String,
) -> (usize, Placed, Vec<Finding>) {
    let class = planner.block_class(home);
    let cost = planner.plan(class.class).cost;
    let as_drawn = (home, class, Vec::new());
    let all: Vec<usize> = (0..planner.blocks[home].tokens.len()).collect();
    let inherent = set_in::inherent(planner, home, &all);
    // A drawing with curves of its own is planned as drawn.
    if cost.awkward() == inherent || !map.curved.is_empty() {
        return as_drawn;
    }
    let mut openings = openings(planner, map, home, may_split);
    if openings.is_empty() {
        return as_drawn;
    }
    let mut best = Opened {
        home,
        class,
        cost,
        by: Vec::new(),
    };
    let mut tries = 0;
    'rounds: while best.cost.awkward() > inherent && best.by.len() < MOST_OPENED {
        let mut next: Option<Opened> = None;
        for &opening in &openings {
            if best.by.iter().any(|o| o.face == opening.face) {
                continue;
            }
            tries += 1;
            if tries > MOST_TRIES {
                break 'rounds;
            }
            let mut by = best.by.clone();
            by.push(opening);
            let Some(opened) = open(planner, map, home, placed, by) else {
                continue;
            };
            if next.as_ref().is_none_or(|n| opened.cost < n.cost) {
                next = Some(opened);
            }
        }
        let Some(found) = next else { break };
        // A round that frees nothing may still be half of a pair: it is kept, and its opening not offered again.
        openings.retain(|o| found.by.iter().all(|b| b.face != o.face));
        best = found;
    }
    // Blocks are not opened for nothing: trapped seams must be freed, or seams round corners saved.
    if best.by.is_empty() || best.cost.trapped > 0 || best.cost.awkward() >= cost.awkward() {
        return as_drawn;
    }
    let saved = Saved::between(cost, best.cost);
    let best = without_needless(planner, map, home, placed, best);
    planner.blocks[home].replaced = true;
    let findings = best
        .by
        .iter()
        .filter_map(|o| {
            let Fill::Block { block, .. } = &map.faces[o.face].fill else {
                return None;
            };
            let name = names(*block);
            let at = middle_of(planner, home, o);
            let place = if map.name == "top" {
                Place::Top { at }
            } else {
                Place::Block {
                    name: planner.blocks[home].name.clone(),
                    patches: vec![o.face as u32],
                    at: Some(at),
                }
            };
            Some(Finding::note(
                "block-in-two",
                place,
                format!("One {name} here is made as two units, so that everything goes together in straight seams."),
                format!("Nothing needs mending; {saved}. Set split = \"never\" on the block to forbid it."),
            ))
        })
        .collect();
    (best.home, best.class, findings)
}

/// What making blocks apart saves.
struct Saved {
    turns: usize,
    partial: usize,
}

impl Saved {
    fn between(before: Cost, after: Cost) -> Self {
        Saved {
            turns: before.turns.saturating_sub(after.turns),
            partial: before.partial.saturating_sub(after.partial),
        }
    }
}

impl std::fmt::Display for Saved {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let many = |n: usize, one: &str, more: &str| {
            if n == 1 {
                format!("one {one}")
            } else {
                format!("{n} {more}")
            }
        };
        let turns = many(self.turns, "turn of a set-in seam", "turns of set-in seams");
        let partial = many(self.partial, "seam closed in two goes", "seams closed in two goes");
        match (self.turns, self.partial) {
            (0, 0) => f.write_str("without it a seam would be trapped"),
            (0, _) => write!(f, "it saves {partial}"),
            (_, 0) => write!(f, "it saves {turns}"),
            _ => write!(f, "it saves {turns} and {partial}"),
        }
    }
}

/// The middle of the block that is made apart.
fn middle_of(planner: &Planner<'_>, home: usize, opening: &Opening) -> shape::Point {
    planner.blocks[home].tokens[opening.face].centre
}

/// Takes back every opening without which the drawing still goes together.
fn without_needless(
    planner: &mut Planner<'_>,
    map: &BlockMap,
    home: usize,
    placed: &[Placed],
    mut best: Opened,
) -> Opened {
    let mut i = 0;
    while i < best.by.len() && best.by.len() > 1 {
        let mut fewer = best.by.clone();
        fewer.remove(i);
        match open(planner, map, home, placed, fewer) {
            Some(opened) if opened.cost.awkward() <= best.cost.awkward() => best = opened,
            _ => i += 1,
        }
    }
    best
}

/// All openings that continue a line of the drawing.
fn openings(
    planner: &Planner<'_>,
    map: &BlockMap,
    home: usize,
    may_split: &dyn Fn(BlockIndex) -> bool,
) -> Vec<Opening> {
    let chains = planner.blocks[home].chains.clone();
    let mut found = Vec::new();
    for (face, f) in map.faces.iter().enumerate() {
        let Fill::Block { block, .. } = &f.fill else { continue };
        if !may_split(*block) {
            continue;
        }
        let Content::Unit { class, motion } = planner.blocks[home].tokens[face].content.clone() else {
            continue;
        };
        let inner = planner.classes.get(class).clone();
        let block = &planner.blocks[inner.home];
        for group in ThroughSeams::default().of(block, &inner.faces, &inner.outline) {
            for line in group.lines {
                let line = motion.line(line);
                let continues = chains
                    .iter()
                    .any(|c| c.along.cross(line.along).abs() < 1.0e-4 && c.offset_of(line.through).abs() < WELD);
                if continues {
                    found.push(Opening { face, line });
                }
            }
        }
    }
    found
}

/// The drawing with these blocks made apart, planned; `None` when a line does not divide its block after all.
fn open(planner: &mut Planner<'_>, map: &BlockMap, home: usize, placed: &[Placed], by: Vec<Opening>) -> Option<Opened> {
    let opened: BTreeSet<usize> = by.iter().map(|o| o.face).collect();
    let mut outlines: Vec<Polygon> = Vec::new();
    let mut fills: Vec<Fill> = Vec::new();
    for (face, f) in map.faces.iter().enumerate() {
        if !opened.contains(&face) {
            outlines.push(planner.blocks[home].tokens[face].outline.clone());
            fills.push(f.fill.clone());
        }
    }
    // Halves stand behind the blocks of the file, each with a number of its own.
    let mut halves: Vec<Placed> = Vec::new();
    for opening in &by {
        let Content::Unit { class, motion } = planner.blocks[home].tokens[opening.face].content.clone() else {
            return None;
        };
        let inner = planner.classes.get(class).clone();
        let line = motion.inverse().line(opening.line);
        let parts = divide(&planner.blocks[inner.home], &inner.faces, &inner.outline, &[line])?;
        for (faces, outline) in parts {
            let part = planner
                .classes
                .of_region(&planner.blocks, inner.home, faces, outline.clone());
            outlines.push(motion.polygon(&outline));
            fills.push(Fill::Block {
                block: BlockIndex(placed.len() + halves.len()),
                motion,
            });
            halves.push(part);
        }
    }
    let (low, high) = map.outline.bounds();
    let (vertices, faces) = design::map_of_outlines(high.x - low.x, high.y - low.y, &outlines)?;
    let faces = faces
        .into_iter()
        .zip(fills)
        .map(|(outline, fill)| MapFace { outline, fill })
        .collect();
    let again = BlockMap {
        vertices,
        faces,
        ..map.clone()
    };
    let tokens = tokens_of(&again, &|used: BlockIndex| {
        let part = placed.get(used.0).or_else(|| halves.get(used.0 - placed.len()));
        part.map_or((crate::class::ClassId(0), Motion::STILL), |p| (p.class, p.motion))
    });
    planner.blocks.push(tokens);
    let new_home = planner.blocks.len() - 1;
    planner.blocks[new_home].replaced = true;
    let class = planner.block_class(new_home);
    let cost = planner.plan(class.class).cost;
    if cost.trapped == 0 {
        planner.blocks[new_home].replaced = false;
    }
    Some(Opened {
        home: new_home,
        class,
        cost,
        by,
    })
}
