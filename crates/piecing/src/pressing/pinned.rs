//! The seams whose way the designer fixes: each is the seam between two patches, pressed from the one toward the other.

use super::ends::Room;
use crate::between::{between, patch_of};
use crate::class::ClassId;
use crate::plan::Plan;
use design::PressPin;
use std::collections::BTreeSet;
use std::rc::Rc;

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
                let find = |number| patch_of(&self.planner.blocks[home], &faces, number);
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
