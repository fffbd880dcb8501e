//! The seams whose way the designer fixes: each is the seam between two patches, pressed from the one toward the other.

use super::ends::Room;
use crate::class::ClassId;
use crate::plan::Plan;
use crate::tokens::{Content, Token};
use design::PressPin;
use shape::{Line, Point, WELD};
use std::collections::BTreeSet;
use std::rc::Rc;

/// How long two patches must lie along a seam together, inches.
const TOGETHER: f64 = 1.0 / 64.0;

impl Room<'_, '_> {
    /// Finds the pinned seams and which way each turns by it; the pins that no seam answers come back, with their block.
    pub(super) fn pin(&mut self, order: &[(ClassId, Rc<Plan>)]) -> Vec<(usize, PressPin)> {
        let mut wanted: Vec<(usize, PressPin)> = Vec::new();
        let mut followed = BTreeSet::new();
        for (id, _) in order {
            let class = self.planner.classes.get(*id);
            let (home, faces) = (class.home, class.faces.clone());
            let presses = self.planner.blocks[home].presses.clone();
            for pin in presses {
                if !wanted.contains(&(home, pin)) {
                    wanted.push((home, pin));
                }
                let find = |number: u32| {
                    let of = |&&face: &&usize| match &self.planner.blocks[home].tokens[face].content {
                        Content::Patch { patch, .. } => *patch == number,
                        Content::Unit { .. } => false,
                    };
                    faces.iter().find(of).copied()
                };
                let (Some(from), Some(toward)) = (find(pin.from), find(pin.toward)) else {
                    continue;
                };
                let first = self.first_ways(*id);
                for (k, seam) in self.sewn(*id).iter().enumerate() {
                    let tokens = &self.planner.blocks[home].tokens;
                    let way = seam
                        .legs
                        .iter()
                        .find_map(|&leg| between(leg, &tokens[from], &tokens[toward]));
                    if let Some(toward_upper) = way {
                        let turn = if (first[k] > 0.0) == toward_upper { 1.0 } else { -1.0 };
                        // Of two pins against each other on one seam the earlier holds.
                        if *self.pinned.entry((*id, k)).or_insert(turn) == turn {
                            followed.insert((home, pin.from, pin.toward));
                        }
                    }
                }
            }
        }
        wanted.retain(|(home, pin)| !followed.contains(&(*home, pin.from, pin.toward)));
        wanted
    }
}

/// Whether a stretch of a seam lies between two patches: then whether the second is on its right, in the upper layer.
fn between((start, end): (Point, Point), from: &Token, toward: &Token) -> Option<bool> {
    let line = Line::between(start, end)?;
    let length = start.distance(end);
    let along = |token: &Token| {
        let n = token.outline.len();
        (0..n).find_map(|i| {
            let (a, b) = (token.outline.corner(i), token.outline.corner(i + 1));
            let on = |p: Point| line.offset_of(p).abs() < 2.0 * WELD;
            (on(a) && on(b)).then(|| {
                let (a, b) = (line.reach_of(a), line.reach_of(b));
                (a.min(b).max(0.0), a.max(b).min(length))
            })
        })
    };
    let (one, other) = (along(from)?, along(toward)?);
    let shared = one.1.min(other.1) - one.0.max(other.0);
    let (left, right) = (line.offset_of(from.centre), line.offset_of(toward.centre));
    (shared > TOGETHER && left * right < 0.0).then_some(right < 0.0)
}
