//! Joints: the places along a unit's side where one patch ends and the next begins. The joins of a strip that is longer than its
//! cloth is wide count among them, since the table counts them, but have no place that anything should meet.

use crate::class::{ClassId, Classes};
use crate::methods::joined_strip::JoinedStrip;
use crate::methods::slanted_strip::SlantedStrip;
use crate::settings::Settings;
use crate::to_fit;
use crate::tokens::{BlockTokens, Content, Token};
use shape::{Line, Polygon, WELD};
use std::collections::BTreeMap;

/// Joints by class and side, found once.
#[derive(Debug, Default)]
pub struct Joints {
    known: BTreeMap<(ClassId, usize), Vec<f64>>,
}

impl Joints {
    /// Distances of the joints from the start of side `side`, in order, inches along the finished side.
    /// A join within a long strip is no number: no joint of another side meets it.
    pub fn along(
        &mut self,
        classes: &Classes,
        blocks: &[BlockTokens],
        settings: &Settings,
        id: ClassId,
        side: usize,
    ) -> Vec<f64> {
        if let Some(known) = self.known.get(&(id, side)) {
            return known.clone();
        }
        let class = classes.get(id);
        let found = match class.outline.edge(side) {
            Some(line) => {
                let length = class.outline.corner(side).distance(class.outline.corner(side + 1));
                self.find(classes, blocks, settings, id, (line, length))
            }
            None => Vec::new(),
        };
        self.known.insert((id, side), found.clone());
        found
    }

    fn find(
        &mut self,
        classes: &Classes,
        blocks: &[BlockTokens],
        settings: &Settings,
        id: ClassId,
        (line, length): (Line, f64),
    ) -> Vec<f64> {
        let class = classes.get(id);
        // Each face that has an edge on the side, by where that edge begins.
        let mut stretches: Vec<(f64, f64, Vec<f64>)> = Vec::new();
        for &face in &class.faces {
            let token = &blocks[class.home].tokens[face];
            for i in (0..token.outline.len()).filter(|&i| !token.bows[i]) {
                let (a, b) = (token.outline.corner(i), token.outline.corner(i + 1));
                if line.offset_of(a).abs() > WELD || line.offset_of(b).abs() > WELD {
                    continue;
                }
                let (from, to) = (line.reach_of(a), line.reach_of(b));
                // Round a hollow unit another side may lie on the same line.
                if to <= from || from < -WELD || to > length + WELD {
                    continue;
                }
                let inner = match &token.content {
                    Content::Patch { .. } => vec![f64::NAN; joins(token, settings, (to - from, class.larger))],
                    Content::Unit { class: unit, motion } => {
                        let outline = &classes.get(*unit).outline;
                        let side = (0..outline.len()).find(|&s| motion.point(outline.corner(s)).distance(a) <= WELD);
                        side.map_or_else(Vec::new, |s| self.along(classes, blocks, settings, *unit, s))
                    }
                };
                stretches.push((from, to, inner));
            }
        }
        stretches.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut joints = Vec::new();
        for (i, (from, _, inner)) in stretches.iter().enumerate() {
            if i > 0 {
                joints.push(*from);
            }
            joints.extend(inner.iter().map(|j| from + j));
        }
        joints
    }
}

/// How many joins there are along a side of this length of a patch, where it is a strip longer than its cloth is wide.
/// Of a strip of a unit that is cut `larger` as it is cut.
fn joins(token: &Token, settings: &Settings, (side, larger): (f64, bool)) -> usize {
    let Content::Patch {
        fabric,
        up,
        role,
        grain,
        ..
    } = &token.content
    else {
        return 0;
    };
    let slanted = SlantedStrip::joins(&token.outline, role, fabric, (*grain, *up), settings, (side, larger));
    if slanted > 0 {
        return slanted;
    }
    let of = |outline: &Polygon, side| JoinedStrip::joins(outline, fabric, *up, settings, side);
    let joins = of(&token.outline, side);
    if joins > 0 || role != "border" {
        return joins;
    }
    // A border strip that is cut to fit is joined as it is cut, longer than it finishes.
    match to_fit::as_cut_longer(&token.outline, settings) {
        Some((longer, length)) if (length - side).abs() < WELD => {
            let sides = [0, 1].map(|i| longer.corner(i).distance(longer.corner(i + 1)));
            of(&longer, sides[0].max(sides[1]))
        }
        _ => 0,
    }
}

/// Whether a patch is a strip that is joined of several, by itself.
pub fn is_joined(token: &Token, settings: &Settings) -> bool {
    let side = |i: usize| token.outline.corner(i).distance(token.outline.corner(i + 1));
    (0..token.outline.len()).any(|i| joins(token, settings, (side(i), false)) > 0)
}
