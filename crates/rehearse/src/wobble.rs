//! The error budget: many rehearsals with a maker who strays, on the same table as the proof.
//!
//! In each rehearsal every piece taken is cut anew, and up to eight different units of each kind are made; uses take
//! them in turn. Approximated: pieces of one strip stray apart, though they share its cuts; of more than eight units of a
//! kind some are the same one; edges stay straight and parallel to where they should be. **Easing** (pulling a long edge
//! to fit a short one) is not modelled: a miss stays where it happens.

use crate::cut::{CutCloth, cut_all};
use crate::make::{make_all, make_by};
use crate::maker::{Along, Hands, Maker, Miss};
use crate::resolve::Run;
use crate::table::Table;
use crate::work::Class;
use recipe::{Bought, CutPlan, Recipe};
use std::collections::BTreeMap;
use std::rc::Rc;
use terms::{Finding, Place, UnitId};

/// Exact units, by making.
type Exact = Rc<BTreeMap<u32, Vec<Rc<Class>>>>;

/// Kinds of unit that are tried exact, the most straying first.
const TRIED: usize = 5;

/// How a wobbly rehearsal is done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WobbleOptions {
    /// The maker.
    pub maker: Maker,
    /// How many rehearsals.
    pub runs: u32,
    /// Where the draws begin; the same seed gives the same result everywhere.
    pub seed: u64,
}

impl Default for WobbleOptions {
    fn default() -> Self {
        WobbleOptions {
            maker: Maker::default(),
            runs: 100,
            seed: 1,
        }
    }
}

/// How one kind of unit comes out.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitWobble {
    /// The unit.
    pub unit: UnitId,
    /// Its exact size across from the side where it is most out, raw edge to raw edge, inches.
    pub exact: f64,
    /// By how much it is out on average.
    pub mean: f64,
    /// Standard deviation.
    pub spread: f64,
    /// Ninety-five in a hundred are out by no less and no more than this.
    pub range: (f64, f64),
    /// The largest miss of ends and joints when it is sewn: on average over the rehearsals, and in 95 of 100 no more.
    pub miss: (f64, f64),
    /// Share of the rehearsals in which a printed size or shave was out by more than the maker's eye; `None` where the
    /// making measures nothing.
    pub caught: Option<f64>,
}

/// What making one kind of unit exact would save.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The unit.
    pub unit: UnitId,
    /// The largest miss anywhere in the quilt as things are, on average over the first half of the rehearsals.
    pub now: f64,
    /// The same with this unit exact.
    pub then: f64,
    /// The proposal in words, as a note.
    pub finding: Finding,
}

/// The error budget of a pattern.
#[derive(Clone, Debug, PartialEq)]
pub struct Wobble {
    /// How it was done.
    pub options: WobbleOptions,
    /// Each kind of unit and last the top, in the order made.
    pub units: Vec<UnitWobble>,
    /// Indices into `units`, the largest miss first.
    pub ranking: Vec<usize>,
    /// The largest miss anywhere in the quilt, on average over the first half of the rehearsals.
    pub worst: f64,
    /// Where "cut large and trim" pays, the best first.
    pub proposals: Vec<Proposal>,
    /// Rehearsals that could not go on, with the first reason of each.
    pub stopped: Vec<Finding>,
}

/// Rehearses many times with a maker who strays.
///
/// # Errors
/// When not even exact hands get through the recipe: what stopped them.
pub fn wobble(
    recipe: &Recipe,
    plan: &CutPlan,
    bought: &Bought,
    options: WobbleOptions,
) -> Result<Wobble, Vec<Finding>> {
    let cut = cut_all(recipe, plan, bought);
    if !cut.findings.is_empty() {
        return Err(cut.findings);
    }
    // First without hands: what a proof refuses has no budget.
    let proved = make_all(recipe, &cut, None);
    if !proved.findings.is_empty() {
        return Err(proved.findings);
    }
    let mut exact = Hands::new(Maker::PERFECT, 0);
    exact.keep = Some(BTreeMap::new());
    let (exact, findings) = go(recipe, &cut, exact);
    if !findings.is_empty() {
        return Err(findings);
    }
    let along = &exact.along;
    let mut study = Study::of(recipe, &cut, options, along, None);
    let mut units = Vec::new();
    for (make, m) in recipe.makes.iter().enumerate() {
        units.extend(study.unit(make as u32, &m.unit, &exact));
    }
    let mut ranking: Vec<usize> = (0..units.len()).collect();
    ranking.sort_by(|&a, &b| units[b].miss.0.total_cmp(&units[a].miss.0).then(a.cmp(&b)));
    let mut tried: Vec<u32> = (0..recipe.makes.len().saturating_sub(1) as u32).collect();
    let spread = |make: u32| {
        units
            .iter()
            .find(|u| u.unit == recipe.makes[make as usize].unit)
            .map_or(0.0, |u| u.spread)
    };
    tried.sort_by(|&a, &b| spread(b).total_cmp(&spread(a)).then(a.cmp(&b)));
    tried.truncate(TRIED);
    let perfect = Rc::new(exact.keep.clone().unwrap_or_default());
    // Half the rehearsals, the same in both, tell them apart well enough.
    let half = WobbleOptions {
        runs: options.runs.div_ceil(2),
        ..options
    };
    let now = study.worst_of(half.runs);
    let mut proposals = Vec::new();
    for make in tried {
        let then = Study::of(recipe, &cut, half, along, Some((make, &perfect))).worst_of(half.runs);
        // Less than a tenth saved is not worth the cloth.
        if then < now * 0.9 {
            let unit = recipe.makes[make as usize].unit.clone();
            let say = |inches| crate::words::say(inches, recipe.measure);
            let sentence = format!(
                "With unit {unit} trimmed to size the largest miss in the quilt would be {} on average, not {}.",
                say(then),
                say(now)
            );
            let finding = Finding::note(
                "trim-pays",
                Place::Unit(unit.clone()),
                sentence,
                "Cut it large and trim it.",
            );
            proposals.push(Proposal {
                unit,
                now,
                then,
                finding,
            });
        }
    }
    proposals.sort_by(|a, b| a.then.total_cmp(&b.then).then_with(|| a.unit.cmp(&b.unit)));
    Ok(Wobble {
        options,
        units,
        ranking,
        worst: now,
        proposals,
        stopped: std::mem::take(&mut study.stopped),
    })
}

/// One rehearsal.
fn go(recipe: &Recipe, cut: &CutCloth, hands: Hands) -> (Hands, Vec<Finding>) {
    let made = make_by(recipe, cut, None, Some(Box::new(hands)), &|| true);
    let hands = made.tally.hands.map_or_else(|| Hands::new(Maker::PERFECT, 0), |h| *h);
    (hands, made.findings)
}

/// What all the rehearsals wrote down.
#[derive(Default)]
struct Study {
    sizes: BTreeMap<(u32, usize), Vec<f64>>,
    misses: BTreeMap<(u32, Miss), Vec<f64>>,
    /// The largest miss of each rehearsal that came to its end.
    worst: Vec<Option<f64>>,
    eye: f64,
    stopped: Vec<Finding>,
}

impl Study {
    fn of(
        recipe: &Recipe,
        cut: &CutCloth,
        options: WobbleOptions,
        along: &Rc<Along>,
        exact: Option<(u32, &Exact)>,
    ) -> Study {
        let mut study = Study {
            eye: options.maker.eye,
            ..Study::default()
        };
        let mut seeds = Hands::new(options.maker, options.seed);
        for _ in 0..options.runs {
            let mut hands = Hands::new(options.maker, seeds.next());
            hands.along = along.clone();
            if let Some((make, perfect)) = exact {
                (hands.exact, hands.perfect) = (Some(make), perfect.clone());
            }
            let (hands, findings) = go(recipe, cut, hands);
            if let Some(first) = findings.into_iter().next() {
                study.stopped.push(first);
                study.worst.push(None);
                continue;
            }
            let laid = hands.misses.iter().filter(|((_, miss), _)| *miss == Miss::Laid);
            study.worst.push(Some(laid.map(|(_, off)| *off).fold(0.0, f64::max)));
            for (key, off) in hands.misses {
                study.misses.entry(key).or_default().push(off);
            }
            for (key, sizes) in hands.sizes {
                study.sizes.entry(key).or_default().extend(sizes);
            }
        }
        study
    }

    /// The largest miss, on average over the first so many rehearsals.
    fn worst_of(&self, runs: u32) -> f64 {
        let first: Vec<f64> = self.worst.iter().take(runs as usize).copied().flatten().collect();
        mean(&first)
    }

    /// The figures of one making, measured from the side that strays most.
    fn unit(&self, make: u32, unit: &UnitId, exact: &Hands) -> Option<UnitWobble> {
        let mut found: Option<UnitWobble> = None;
        for (key, sizes) in self.sizes.range((make, 0)..=(make, usize::MAX)) {
            let size = *exact.sizes.get(key)?.first()?;
            let mut out: Vec<f64> = sizes.iter().map(|s| s - size).collect();
            out.sort_by(f64::total_cmp);
            let middle = mean(&out);
            let squares: Vec<f64> = out.iter().map(|o| (o - middle) * (o - middle)).collect();
            let spread = (mean(&squares) * out.len() as f64 / (out.len().max(2) - 1) as f64).sqrt();
            // The side from which it is most out, bias and spread together.
            let out_of = |spread: f64, mean: f64| spread * spread + mean * mean;
            if found
                .as_ref()
                .is_none_or(|f| out_of(spread, middle) > out_of(f.spread, f.mean))
            {
                found = Some(UnitWobble {
                    unit: unit.clone(),
                    exact: size,
                    mean: middle,
                    spread,
                    range: (at_share(&out, 0.025), at_share(&out, 0.975)),
                    miss: (0.0, 0.0),
                    caught: None,
                });
            }
        }
        let mut found = found?;
        if let Some(laid) = self.misses.get(&(make, Miss::Laid)) {
            let mut laid = laid.clone();
            laid.sort_by(f64::total_cmp);
            found.miss = (mean(&laid), at_share(&laid, 0.95));
        }
        found.caught = self.misses.get(&(make, Miss::Measured)).map(|m| {
            let out = m.iter().filter(|&&off| off > self.eye).count();
            out as f64 / m.len().max(1) as f64
        });
        Some(found)
    }
}

fn mean(figures: &[f64]) -> f64 {
    figures.iter().sum::<f64>() / figures.len().max(1) as f64
}

/// The figure below which a share of the (sorted) figures lies.
fn at_share(sorted: &[f64], share: f64) -> f64 {
    let last = sorted.len().saturating_sub(1);
    sorted.get((share * last as f64 + 0.5) as usize).copied().unwrap_or(0.0)
}

impl Table<'_> {
    /// Writes down how far across a unit is from each of its sides.
    pub(crate) fn write_sizes(&mut self, runs: &[Run]) {
        let Some(hands) = &mut self.tally.hands else {
            return;
        };
        for (i, side) in runs.iter().enumerate() {
            let mut far = 0.0f64;
            for run in runs {
                // Across a triangle to its far corner, else to the middle of the far side.
                let three = runs.len() == 3;
                for e in run.edges.iter().filter(|_| three) {
                    far = far.max(side.line.offset_of(e.from));
                }
                if !three {
                    far = far.max(side.line.offset_of(run.middle()));
                }
            }
            hands.sizes.entry((self.action.make, i)).or_default().push(far);
        }
    }
}
