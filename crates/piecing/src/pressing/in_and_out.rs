//! Units pressed in and out: where a seam meets its like, some of a unit's parts may go the other way round. That makes a
//! second making of the part, with a page of its own in the booklet and a pile of its own beside the machine, so each has
//! its price: so many meetings more must nest for each making more.

use super::ends::Room;
use super::{Meeting, Met, Out, Seam, Turns, is_unit, set_against, taken};
use crate::class::ClassId;
use crate::plan::{Making, Plan};
use design::Prefer;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// So many units at most are tried with some of their parts pressed out.
const TRIED: usize = 12;

/// What makings more would gain, and why they are not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dearer {
    /// So many makings more.
    pub makings: u64,
    /// So many meetings more would nest.
    pub meetings: u64,
    /// So many each making more would have to gain.
    pub price: u64,
}

/// How many meetings more must nest for each making more: two at least, and one in fifty of all meetings of the top; or
/// where what forgives most counts first, one at least and one in two hundred. (An assumption.)
fn price(meetings: u64, prefer: Prefer) -> u64 {
    let (least, share) = match prefer {
        Prefer::Steps | Prefer::Cloth => (2, 50),
        Prefer::Forgiving => (1, 200),
    };
    meetings.div_ceil(share).max(least)
}

/// All meetings of a top with the parts pressed out that are, and the best ways found for them.
#[derive(Clone)]
pub(super) struct Weighed {
    pub(super) turns: Turns,
    pub(super) meetings: u64,
    pub(super) nesting: u64,
    /// Units with a spun seam across which not all go round the same way.
    pub(super) untied: BTreeSet<ClassId>,
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
        // What a spun seam goes by may have turned.
        for id in &self.spun {
            self.first.remove(id);
        }
        let ties = self.ties();
        let mut often: BTreeMap<Meeting, u64> = BTreeMap::new();
        let mut at = BTreeMap::new();
        let (mut within, mut never) = (0, 0);
        for (id, plan) in order.iter().rev() {
            let count = times.get(id).copied().unwrap_or(0);
            if let Making::Method(method) = &plan.making {
                within += count * method.nests_within();
            }
            let mut own: Vec<Vec<Met>> = Vec::new();
            for k in 0..self.sewn(*id).len() {
                let (met, lost) = self.meetings_at(*id, k);
                own.push(met);
                never += count * lost;
            }
            for (meeting, ..) in own.iter().flatten() {
                *often.entry(*meeting).or_default() += count;
            }
            if matches!(plan.making, Making::Together { .. }) && own.iter().any(|met| !met.is_empty()) {
                at.insert(*id, own);
            }
        }
        let mut weighed = Weighed {
            turns: set_against(&often, times, &self.pinned, &ties),
            meetings: within + never + often.values().sum::<u64>(),
            nesting: 0,
            untied: BTreeSet::new(),
            at,
        };
        let nest: u64 = often.iter().filter(|&(&m, _)| weighed.nests(m)).map(|(_, t)| t).sum();
        weighed.nesting = within + nest;
        weighed.untied = ties
            .iter()
            .filter(|(_, (a, b, alike))| !weighed.nests((*a, *b, *alike)))
            .map(|(id, _)| *id)
            .collect();
        weighed.turns.least_lost = (weighed.turns.least_lost + never).min(weighed.meetings);
        if !weighed.untied.is_empty() {
            weighed.nesting = 0;
        }
        weighed
    }

    /// Makings beyond one for each kind of unit.
    fn makings_more(&self, order: &[(ClassId, Rc<Plan>)]) -> u64 {
        let units: BTreeSet<ClassId> = order.iter().filter(|(_, p)| is_unit(p)).map(|(id, _)| *id).collect();
        let made = taken(order, &self.outs);
        let made = made.iter().filter(|(id, _)| units.contains(id)).count();
        (made - units.len()) as u64
    }

    /// Presses some parts of units out, where enough more meetings nest by it than by any turning of single seams found.
    pub(super) fn in_and_out(
        &mut self,
        order: &[(ClassId, Rc<Plan>)],
        times: &BTreeMap<ClassId, u64>,
        plain: Weighed,
    ) -> (Weighed, Option<Dearer>) {
        if plain.nesting == plain.meetings {
            return (plain, None);
        }
        let price = price(plain.meetings, self.planner.settings.prefer);
        let mut best = self.as_many_as_nest(order, times, &plain);
        let most = (best.nesting, self.makings_more(order));
        // What does not pay is taken back, that first which costs most beyond what it gains.
        let worth = |nesting: u64, more: u64| i128::from(nesting) - i128::from(price) * i128::from(more);
        let mut value = worth(most.0, most.1);
        loop {
            let mut better: Option<(i128, ClassId, Weighed)> = None;
            for id in self.outs.round.keys().copied().collect::<Vec<_>>() {
                let Some(round) = self.outs.round.remove(&id) else {
                    continue;
                };
                let without = self.weigh(order, times);
                let then = worth(without.nesting, self.makings_more(order));
                self.outs.round.insert(id, round);
                let pays_not = then > value || without.nesting == best.nesting;
                if pays_not && better.as_ref().is_none_or(|b| then > b.0) {
                    better = Some((then, id, without));
                }
            }
            let Some((then, id, without)) = better else { break };
            self.outs.round.remove(&id);
            (value, best) = (then, without);
        }
        if worth(plain.nesting, 0) > value {
            self.outs.round.clear();
            best = plain;
        }
        self.ends.clear();
        let dearer = Dearer {
            makings: most.1 - self.makings_more(order).min(most.1),
            meetings: most.0.saturating_sub(best.nesting),
            price,
        };
        (best, Some(dearer).filter(|d| d.meetings > 0 && d.makings > 0))
    }

    /// Parts pressed out as long as more meetings nest by it, whatever it costs.
    fn as_many_as_nest(
        &mut self,
        order: &[(ClassId, Rc<Plan>)],
        times: &BTreeMap<ClassId, u64>,
        plain: &Weighed,
    ) -> Weighed {
        let mut best = plain.clone();
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
                self.outs.round.insert(id, round.clone());
                let other = self.weigh(order, times);
                if other.nesting > best.nesting {
                    best = other;
                    chosen = Some(round);
                }
            }
            match chosen {
                Some(round) => self.outs.round.insert(id, round),
                None => self.outs.round.remove(&id),
            };
        }
        best
    }
}
