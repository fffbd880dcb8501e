//! Units pressed in and out: where a seam meets its like, some of a unit's parts may go the other way round, if more
//! meetings nest by that.

use super::{Meeting, Met, Out, Room, Seam, Turns, set_against};
use crate::class::ClassId;
use crate::plan::{Making, Plan};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// So many units at most are tried with some of their parts pressed out.
const TRIED: usize = 12;

/// All meetings of a top with the parts pressed out that are, and the best ways found for them.
pub(super) struct Weighed {
    pub(super) turns: Turns,
    pub(super) meetings: u64,
    pub(super) nesting: u64,
    /// For each unit, the meetings at each of its seams, and whether the two parts' own seams meet there.
    pub(super) at: BTreeMap<ClassId, Vec<Vec<Met>>>,
}

impl Weighed {
    fn nests(&self, (a, b, alike): Meeting) -> bool {
        let turn = |seam: Seam| self.turns.turns.get(&seam).copied().unwrap_or(1.0);
        (turn(a) * turn(b) > 0.0) == alike
    }

    /// Which parts of a unit to press out, one after another, so that most of these meetings at each of its seams nest.
    fn out_by(&self, id: ClassId, these: fn(bool, bool) -> bool) -> Vec<bool> {
        let mut out = vec![false];
        for met in self.at.get(&id).map_or(&[][..], Vec::as_slice) {
            let of_these: Vec<bool> = met
                .iter()
                .filter(|(_, a, b)| these(*a, *b))
                .map(|(m, ..)| self.nests(*m))
                .collect();
            let nesting = of_these.iter().filter(|&&nests| nests).count();
            let last = out.last().copied().unwrap_or(false);
            out.push(last != (2 * nesting < of_these.len()));
        }
        out
    }

    fn missed(&self, id: ClassId) -> u64 {
        let seams = self.at.get(&id).map_or(&[][..], Vec::as_slice);
        seams.iter().flatten().filter(|(m, ..)| !self.nests(*m)).count() as u64
    }
}

impl Room<'_, '_> {
    /// Finds all meetings and sets their seams against one another.
    pub(super) fn weigh(&mut self, order: &[(ClassId, Rc<Plan>)], times: &BTreeMap<ClassId, u64>) -> Weighed {
        self.ends.clear();
        let mut often: BTreeMap<Meeting, u64> = BTreeMap::new();
        let mut at = BTreeMap::new();
        for (id, plan) in order.iter().rev() {
            let Making::Together { parts, seams } = &plan.making else {
                continue;
            };
            let count = times.get(id).copied().unwrap_or(0);
            let mut own = vec![Vec::new(); seams.len()];
            for (k, &line) in seams.iter().enumerate() {
                for (a, b) in self.facing(&parts[k], &parts[k + 1], line) {
                    let against = self.sign(*id, k, a.own) * self.sign(*id, k + 1, b.own);
                    // Along the lower side the one goes `a.way`, the other `-b.way`; opposite ways nest.
                    let alike = a.way * b.way * against > 0.0;
                    let meeting = (a.seam.min(b.seam), a.seam.max(b.seam), alike);
                    *often.entry(meeting).or_default() += count;
                    own[k].push((meeting, a.own, b.own));
                }
            }
            if own.iter().any(|met| !met.is_empty()) {
                at.insert(*id, own);
            }
        }
        let mut weighed = Weighed {
            turns: set_against(&often, times),
            meetings: often.values().sum(),
            nesting: 0,
            at,
        };
        let nest = often.iter().filter(|&(&m, _)| weighed.nests(m)).map(|(_, t)| t).sum();
        weighed.nesting = nest;
        weighed
    }

    /// Presses some parts of units out, where more meetings nest by it than by any turning of single seams found.
    pub(super) fn in_and_out(
        &mut self,
        order: &[(ClassId, Rc<Plan>)],
        times: &BTreeMap<ClassId, u64>,
        mut best: Weighed,
    ) -> Weighed {
        if best.nesting == best.meetings {
            return best;
        }
        let mut tried = BTreeSet::new();
        for _ in 0..TRIED {
            // The unit at whose own seams most is missed; of equals the innermost.
            let missing = order.iter().enumerate().filter(|(_, (id, _))| !tried.contains(id));
            let most = missing
                .map(|(i, (id, _))| (best.missed(*id) * times.get(id).copied().unwrap_or(0), Reverse(i), *id))
                .max();
            let Some((1.., _, id)) = most else { break };
            tried.insert(id);
            // All of a part the other way, or what joins it and what is within it each by itself.
            let whole = best.out_by(id, |_, _| true);
            let joining = best.out_by(id, |a, b| a && b);
            let within = best.out_by(id, |a, b| !a && !b);
            let mix = |own: &[bool], inner: &[bool]| -> Vec<Out> {
                let both = own.iter().zip(inner);
                both.map(|(&own, &inner)| Out { own, inner }).collect()
            };
            let none = vec![false; whole.len()];
            let mut choices = vec![
                mix(&whole, &whole),
                mix(&joining, &none),
                mix(&none, &within),
                mix(&joining, &within),
            ];
            choices.dedup();
            choices.retain(|round| round.iter().any(|out| *out != Out::NONE));
            let mut chosen = None;
            for round in choices {
                self.round.insert(id, round.clone());
                let other = self.weigh(order, times);
                if other.nesting > best.nesting {
                    best = other;
                    chosen = Some(round);
                }
            }
            match chosen {
                Some(round) => self.round.insert(id, round),
                None => self.round.remove(&id),
            };
        }
        // What later choices made needless is taken back: fewer makings.
        for id in self.round.keys().copied().collect::<Vec<_>>() {
            let Some(round) = self.round.remove(&id) else { continue };
            let without = self.weigh(order, times);
            if without.nesting >= best.nesting {
                best = without;
            } else {
                self.round.insert(id, round);
            }
        }
        self.ends.clear();
        best
    }
}
