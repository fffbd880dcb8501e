//! Methods that make many units at once, chosen when it is known how many are wanted: what is made beyond that is counted
//! in cloth and handling like the rest.

use crate::class::ClassId;
use crate::methods::Taken;
use crate::plan::{Plan, Planner};
use crate::pressing;
use design::Prefer;

/// How many come of so many at once, when so many are wanted.
pub fn made(wanted: u64, at_once: u64) -> u64 {
    wanted.div_ceil(at_once.max(1)) * at_once.max(1)
}

impl Planner<'_> {
    /// Counts how often each class is made for a top, and plans anew what a method makes better in such numbers.
    pub(crate) fn by_count(&mut self, top: ClassId) {
        self.wanted.insert(top, 1);
        let order: Vec<ClassId> = pressing::makings(self, top).into_iter().map(|(id, _)| id).collect();
        // From the top down: what a class takes is counted by the plan it is made by at last.
        for id in order.into_iter().rev() {
            let Some(&wanted) = self.wanted.get(&id) else { continue };
            if let Some(better) = self.better_in_numbers(id, wanted) {
                self.replan(id, better);
            }
            for part in self.plan(id).making.parts() {
                let count = self.wanted.entry(part.class).or_default();
                *count = count.saturating_add(wanted);
            }
        }
    }

    /// The best of the ways that make many at once, where it costs less for so many than the way chosen for one.
    fn better_in_numbers(&mut self, id: ClassId, wanted: u64) -> Option<Plan> {
        let class = self.classes.get(id);
        if class.faces.len() < 2 || self.larger.is_larger(id) {
            return None;
        }
        let block = &self.blocks[class.home];
        if block.method_of(&class.faces).is_some() || !block.pins_inside(&class.faces).is_empty() {
            return None;
        }
        let chosen = self.plan(id);
        let mut best: Option<Plan> = None;
        let mut least = self.cost_of(&chosen, wanted);
        for (plan, proposal) in self.methods(id) {
            let cost = self.cost_of(&plan, wanted);
            if proposal.taken == Taken::ByCount && cost < least {
                (best, least) = (Some(plan), cost);
            }
        }
        best
    }

    /// What so many take when they are made so, compared in this order: what no plain seam would cost, the dial, different
    /// units, handling.
    fn cost_of(&self, plan: &Plan, wanted: u64) -> ((usize, usize, usize), u64, usize, u64) {
        let cost = plan.cost;
        let count = made(wanted, plan.making.at_once());
        let dial = match self.settings.prefer {
            // How far out a unit may come does not grow with their number.
            Prefer::Forgiving => cost.dial,
            Prefer::Steps | Prefer::Cloth => cost.dial.saturating_mul(count),
        };
        (cost.awkward(), dial, cost.units, cost.handling.saturating_mul(count))
    }
}

#[cfg(test)]
mod tests {
    use super::made;

    #[test]
    fn what_is_made_is_whole_makings() {
        // *derived*: seven of eight at once are eight, nine are sixteen
        assert_eq!([1, 7, 8, 9].map(|wanted| made(wanted, 8)), [8, 8, 8, 16]);
        assert_eq!(made(5, 1), 5);
        assert_eq!(made(5, 0), 5);
    }
}
