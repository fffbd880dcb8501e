//! Seams that are spun: where one seam joins a unit's two halves and one place on it is crossed by others, its allowances
//! change sides there, so that those of all seams that meet lie turned the same way round and the place lies flat. Its two
//! ends then go opposite ways, so that it nests with its like whichever way the neighbour is turned.

use super::ends::{Layer, Room, SeamEnd};
use super::in_and_out::Weighed;
use super::{Meeting, Seam};
use crate::class::ClassId;
use crate::plan::{Making, Plan};
use shape::{Line, WELD};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// So many units at most are taken out again one by one where spinning all of them nests less.
const TRIED: usize = 24;

/// Where more seams than this meet, the last is pressed apart, so that the layers lie spread. (Common practice; the
/// number is that of the finding `too-many-seams`.)
const TOO_MANY: usize = 8;

/// The seams that cross a unit's only seam at one place.
pub(super) struct Crossed {
    lower: Vec<SeamEnd>,
    upper: Vec<SeamEnd>,
}

impl Crossed {
    /// Which way the crossed seam goes at its beginning, 1 toward the upper layer: seen from the place, against the seam
    /// that comes in from the lower layer, which lies a quarter turn on.
    pub(super) fn first_way(&self) -> f64 {
        self.lower.first().map_or(1.0, |end| -end.way)
    }

    /// What each crossing seam turns like, compared with the seam crossed; nothing where one would have to go both ways.
    fn ties(&self, own: Seam) -> Option<Vec<Meeting>> {
        let sense = self.lower.first()?.way;
        let mut ties: BTreeMap<Seam, bool> = BTreeMap::new();
        let lower = self.lower.iter().map(|end| (end, sense));
        for (end, wanted) in lower.chain(self.upper.iter().map(|end| (end, -sense))) {
            let alike = end.way == wanted;
            if end.way == 0.0 || *ties.entry(end.seam).or_insert(alike) != alike {
                return None;
            }
        }
        Some(ties.into_iter().map(|(seam, alike)| (own, seam, alike)).collect())
    }
}

impl Room<'_, '_> {
    /// What crosses the only seam of a unit, where that is at one place and from both sides; what would keep it from being
    /// spun otherwise is looked at too.
    pub(super) fn crossed(&mut self, id: ClassId) -> Option<Crossed> {
        let plan = self.planner.plan(id);
        // A quilt set on point is trimmed by its seams, and its rows are stepped.
        let Making::Together { parts, set: None, .. } = &plan.making else {
            return None;
        };
        let sewn = self.sewn(id);
        let ([one, other], [seam]) = (parts.as_slice(), sewn.as_slice()) else {
            return None;
        };
        let &(from, to) = seam.legs.first()?;
        let line = Line::between(from, to)?;
        let length = from.distance(to);
        // Any joint that is pinned is a place where a spun seam changes sides.
        let mut joints = |part: &crate::class::Placed, against: bool| -> Option<Vec<f64>> {
            let outline = self.outline(part);
            let side = super::sewn::side_on(&outline, line)?;
            let (classes, blocks) = (&self.planner.classes, &self.planner.blocks);
            let along = self
                .joints
                .along(classes, blocks, self.planner.settings, part.class, side);
            let along = along.iter().map(|&at| if against { length - at } else { at });
            Some(along.collect())
        };
        let (below, above) = (joints(one, false)?, joints(other, true)?);
        let shared = |at: &&f64| above.iter().any(|other| (other - **at).abs() < WELD);
        let mut meet = below.iter().filter(shared);
        let (Some(&place), None) = (meet.next(), meet.next()) else {
            return None;
        };
        let mut here = |layer| {
            let mut run = self.run((id, 0), parts, (line, length), layer);
            run.retain(|end| (end.at - place).abs() < 2.0 * WELD);
            run
        };
        let (lower, upper) = (here(Layer::Lower), here(Layer::Upper));
        (!lower.is_empty() && !upper.is_empty()).then_some(Crossed { lower, upper })
    }

    /// What must go round with each spun seam, by the unit that owns it.
    pub(super) fn ties(&mut self) -> Vec<(ClassId, Meeting)> {
        let mut ties = Vec::new();
        for id in self.spun.iter().copied().collect::<Vec<_>>() {
            let of = self.crossed(id).and_then(|crossed| crossed.ties((id, 0)));
            ties.extend(of.unwrap_or_default().into_iter().map(|tie| (id, tie)));
        }
        ties
    }

    /// Decides which seams are pressed apart: those sewn last where more than eight meet, if no pin says otherwise.
    pub(super) fn lay_apart(&mut self, order: &[(ClassId, Rc<Plan>)]) {
        for (id, plan) in order {
            let Making::Together { parts, .. } = &plan.making else {
                continue;
            };
            for (k, seam) in self.sewn(*id).iter().enumerate() {
                let Some(&(from, to)) = seam.legs.first() else { continue };
                let Some(line) = Line::between(from, to) else { continue };
                let length = from.distance(to);
                let mut places: Vec<f64> = Vec::new();
                for layer in [Layer::Lower, Layer::Upper] {
                    let run = self.run((*id, k), parts, (line, length), layer);
                    places.extend(run.iter().map(|end| end.at));
                }
                places.sort_by(f64::total_cmp);
                // The seam itself runs into an inner place from both sides, and at its end from one.
                let crowded = places.chunk_by(|a, b| b - a < 2.0 * WELD).any(|here| {
                    let inner = here[0] > 2.0 * WELD && here[0] < length - 2.0 * WELD;
                    here.len() + if inner { 2 } else { 1 } > TOO_MANY
                });
                if crowded && !self.pinned.contains_key(&(*id, k)) {
                    self.apart.insert((*id, k));
                    self.ends.clear();
                }
            }
        }
    }

    /// Spins what may be spun, where no fewer meetings nest by it.
    pub(super) fn spin(
        &mut self,
        order: &[(ClassId, Rc<Plan>)],
        times: &BTreeMap<ClassId, u64>,
        plain: Weighed,
    ) -> Weighed {
        let mut may: BTreeSet<ClassId> = BTreeSet::new();
        for (id, _) in order {
            let seamed = self.outs.seamed.get(id).copied().unwrap_or_default();
            let free = seamed.own && seamed.inner && !self.apart.contains(&(*id, 0));
            if free
                && self
                    .crossed(*id)
                    .is_some_and(|crossed| crossed.ties((*id, 0)).is_some())
            {
                may.insert(*id);
            }
        }
        let mut tried = 0;
        while !may.is_empty() && tried < TRIED {
            tried += 1;
            self.set_spun(may.clone());
            let weighed = self.weigh(order, times);
            if weighed.untied.is_empty() && weighed.nesting >= plain.nesting {
                return weighed;
            }
            // What cannot go round goes first, then the outermost: what is inside it gains from it most.
            let outermost = || order.iter().rev().map(|(id, _)| *id).find(|id| may.contains(id));
            let out: Vec<ClassId> = match weighed.untied.is_empty() {
                true => outermost().into_iter().collect(),
                false => weighed.untied.iter().copied().collect(),
            };
            for id in out {
                may.remove(&id);
            }
        }
        self.set_spun(BTreeSet::new());
        plain
    }

    fn set_spun(&mut self, spun: BTreeSet<ClassId>) {
        for id in self.spun.iter().chain(&spun) {
            self.first.remove(id);
        }
        self.outs.spun.clone_from(&spun);
        self.spun = spun;
        self.ends.clear();
    }
}
