//! The seams whose way the designer fixes: each is the seam between two patches, pressed from the one toward the other.

use super::ends::Room;
use crate::between::{between, between_along_curve, patch_of};
use crate::class::ClassId;
use crate::methods::{OwnSeam, Toward};
use crate::plan::{Making, Plan};
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
                    let way = seam.legs.iter().find_map(|&leg| match seam.curved {
                        true => between_along_curve(leg, &tokens[from], &tokens[toward]),
                        false => between(leg, &tokens[from], &tokens[toward]),
                    });
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
        self.settled(order, &mut followed);
        wanted.retain(|(home, pin)| !followed.contains(&(*home, pin.from, pin.toward)));
        wanted
    }
    /// Pins that ask for what is done anyway, where the way of making leaves no choice.
    fn settled(&self, order: &[(ClassId, Rc<Plan>)], followed: &mut BTreeSet<(usize, u32, u32)>) {
        for (id, plan) in order {
            let Making::Method(method) = &plan.making else { continue };
            let class = self.planner.classes.get(*id);
            let block = &self.planner.blocks[class.home];
            for pin in &block.presses {
                let find = |number| patch_of(block, &class.faces, number);
                let (Some(from), Some(toward)) = (find(pin.from), find(pin.toward)) else {
                    continue;
                };
                let goes = |seam: &OwnSeam| {
                    between((seam.from, seam.to), &block.tokens[from], &block.tokens[toward])
                        == Some(seam.toward == Toward::Upper)
                };
                if method.settled().iter().any(goes) {
                    followed.insert((class.home, pin.from, pin.toward));
                }
            }
        }
    }
}
