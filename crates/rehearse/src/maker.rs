//! The maker: how far real hands stray from what a recipe says, drawn from a seeded generator.
//!
//! The table asks its [`Hands`] in a few places only: when a piece is taken, where a stitch line runs, what the fold
//! takes, where an end is placed, where a trim's ruler lies. Without hands (the proof) nothing is asked and nothing changes.

use crate::piece::Cloth;
use crate::work::{Class, Stretch};
use shape::{Line, Point};
use std::collections::BTreeMap;
use std::rc::Rc;
use terms::UnitId;

/// How a maker's work strays, in inches. All spreads are standard deviations of a normal spread.
///
/// The defaults are assumptions, not measurements: 1/64 in for cutting, sewing and placing ends (from memory: half the
/// 1/32 in a careful maker is told to keep within), no bias, a fold that takes nothing, and an eye that notices 1/16 in
/// (common practice: half the finest mark of an ordinary ruler).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Maker {
    /// Spread of a cut piece's size across, between two cuts.
    pub cut: f64,
    /// Spread of the width of a seam, one seam to the next.
    pub seam: f64,
    /// How much every seam is too wide (less than nothing: too narrow).
    pub bias: f64,
    /// What the fold of an opened seam takes on each side, beyond the stitches.
    pub fold: f64,
    /// Spread of where one end is placed on another.
    pub end: f64,
    /// The difference a maker notices when measuring.
    pub eye: f64,
}

impl Maker {
    /// Hands that do exactly what is said.
    pub const PERFECT: Maker = Maker {
        cut: 0.0,
        seam: 0.0,
        bias: 0.0,
        fold: 0.0,
        end: 0.0,
        eye: 1.0 / 16.0,
    };

    /// Whether anything strays at all; what the eye sees changes nothing that is made.
    pub fn strays(&self) -> bool {
        [self.cut, self.seam, self.bias, self.fold, self.end]
            .iter()
            .any(|&s| s != 0.0)
    }

    /// How far off an edge or a place may come to lie and still be the one that is meant.
    pub(crate) fn reach(&self) -> f64 {
        // Four spreads take in all but six of a hundred thousand.
        4.0 * (self.cut + self.seam + self.end) + self.bias.abs() + self.fold.abs()
    }
}

impl Default for Maker {
    fn default() -> Self {
        Maker {
            cut: 1.0 / 64.0,
            seam: 1.0 / 64.0,
            end: 1.0 / 64.0,
            ..Maker::PERFECT
        }
    }
}

/// Different units of one kind made in each rehearsal; further uses draw from these.
pub(crate) const SAMPLES: u32 = 8;

/// The kinds of piece along laid edges, in order, by making, step and whether it is the lower layer.
pub(crate) type Along = BTreeMap<(u32, u32, bool), Vec<usize>>;

/// What was found out, instead of stopping.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Miss {
    /// Ends or joints of two layers, when laid.
    Laid,
    /// A printed size, or a trim's shave.
    Measured,
    /// Raw edges not flush, gaps, cloth in the way: consequences, not counted as mismatch.
    Other,
}

/// A maker at work in one rehearsal.
#[derive(Clone, Debug)]
pub(crate) struct Hands {
    pub(crate) maker: Maker,
    state: u64,
    /// The largest of each kind of miss, by making.
    pub(crate) misses: BTreeMap<(u32, Miss), f64>,
    /// Sizes across, by making and side, one figure for each unit made.
    pub(crate) sizes: BTreeMap<(u32, usize), Vec<f64>>,
    /// How many units of each kind are used so far.
    used: BTreeMap<UnitId, usize>,
    /// A making whose units are taken exact.
    pub(crate) exact: Option<u32>,
    /// Exact units, by making.
    pub(crate) perfect: Rc<BTreeMap<u32, Vec<Rc<Class>>>>,
    /// All units made, when they are wanted.
    pub(crate) keep: Option<BTreeMap<u32, Vec<Rc<Class>>>>,
    /// The kinds of piece along each laid edge when nothing strays.
    pub(crate) along: Rc<Along>,
}

impl Hands {
    pub(crate) fn new(maker: Maker, seed: u64) -> Self {
        Hands {
            maker,
            state: seed,
            misses: BTreeMap::new(),
            sizes: BTreeMap::new(),
            used: BTreeMap::new(),
            exact: None,
            perfect: Rc::default(),
            keep: None,
            along: Rc::default(),
        }
    }

    /// SplitMix64: small, and the same everywhere.
    pub(crate) fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Evenly between nothing and one, never either.
    fn even(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    /// A normal deviation of the given spread.
    pub(crate) fn stray(&mut self, spread: f64) -> f64 {
        // Two draws each time, so that a spread of nothing changes no later draw.
        let (u, v) = (self.even(), self.even());
        spread * (-2.0 * libm::log(u)).sqrt() * libm::cos(std::f64::consts::TAU * v)
    }

    /// Which of the units of a kind is used next: one after the other, since each strays on its own, and only then again.
    pub(crate) fn next_of(&mut self, unit: &UnitId, count: usize) -> usize {
        if !self.maker.strays() {
            // All are alike, and as in a proof the first stands for them.
            return 0;
        }
        let used = self.used.entry(unit.clone()).or_insert(0);
        let at = *used % count.max(1);
        *used = used.wrapping_add(1);
        at
    }

    /// How much wider than said this seam is.
    pub(crate) fn seam(&mut self) -> f64 {
        self.maker.bias + self.stray(self.maker.seam)
    }

    /// One edge's share of a cut: two make up the spread of the size across.
    pub(crate) fn cut_edge(&mut self) -> f64 {
        self.stray(self.maker.cut * std::f64::consts::FRAC_1_SQRT_2)
    }

    /// A piece as these hands cut it: every edge moved on its own, parallel to itself.
    pub(crate) fn cut(&mut self, cloth: &Cloth) -> Cloth {
        if self.maker.cut == 0.0 || cloth.line.is_some() {
            // Not one draw: else edges found anew would differ from the true ones by rounding. And what is laid on a ground
            // lies by its line, not by how it was cut.
            return cloth.clone();
        }
        let n = cloth.corners.len();
        let mut by = 0.0;
        let lines: Vec<Option<Line>> = (0..n)
            .map(|i| {
                // A bowed edge is cut in one go, however many straights it is made of.
                let goes_on = i > 0 && cloth.edges[i].bowed && cloth.edges[i].name == cloth.edges[i - 1].name;
                if !goes_on {
                    by = self.cut_edge();
                }
                Line::between(cloth.corners[i], cloth.corners[(i + 1) % n]).map(|l| l.moved_left(-by))
            })
            .collect();
        let corner = |i: usize| -> Point {
            let (before, after) = (lines[(i + n - 1) % n], lines[i]);
            let crossing = before.zip(after).and_then(|(b, a)| b.crossing(a));
            // Edges almost in one line do not cross near by: the corner stays.
            crossing
                .filter(|p| p.distance(cloth.corners[i]) < 1.0)
                .unwrap_or(cloth.corners[i])
        };
        let outline = (0..n).map(|i| (corner(i), cloth.edges[i])).collect();
        cloth.cut_to(outline)
    }

    /// Of the stretches along an edge (each with its kind of piece) those that are there when nothing strays: a tip that
    /// should end at the stitches and reaches a little past them makes no joint. Exact hands write down what there is.
    pub(crate) fn as_meant(&mut self, at: (u32, u32, bool), found: &[(Stretch, usize)]) -> Vec<Stretch> {
        if !self.maker.strays() {
            let kinds = found.iter().map(|&(_, kind)| kind).collect();
            Rc::make_mut(&mut self.along).insert(at, kinds);
        } else if let Some(meant) = self.along.get(&at) {
            return align(meant, found);
        }
        found.iter().map(|&(s, _)| s).collect()
    }

    pub(crate) fn record(&mut self, make: u32, miss: Miss, off: f64) {
        let largest = self.misses.entry((make, miss)).or_insert(0.0);
        *largest = largest.max(off.abs());
    }
}

/// One stretch for each piece that is meant, in order: the longest altogether whose kinds agree. One that is not found has
/// no length, and lies where the one before it ends.
fn align(meant: &[usize], found: &[(Stretch, usize)]) -> Vec<Stretch> {
    let all = || found.iter().map(|&(s, _)| s).collect();
    let same = |(&kind, f): (&usize, &(Stretch, usize))| kind == f.1;
    if meant.len() == found.len() && meant.iter().zip(found).all(same) {
        return all();
    }
    // Only where they differ, and one more on either side, is there anything to choose.
    let ahead = meant
        .iter()
        .zip(found)
        .take_while(|&p| same(p))
        .count()
        .saturating_sub(1);
    let behind = meant
        .iter()
        .rev()
        .zip(found.iter().rev())
        .take_while(|&p| same(p))
        .count();
    let most = meant.len().min(found.len()).saturating_sub(ahead);
    let behind = behind.saturating_sub(1).min(most);
    let (inner, among) = (&meant[ahead..meant.len() - behind], &found[ahead..found.len() - behind]);
    // best[i][j]: the longest that can be had of inner[i..] and among[j..].
    let mut best = vec![vec![0.0f64; among.len() + 1]; inner.len() + 1];
    let taken = |i: usize, j: usize, best: &[Vec<f64>]| {
        let (s, kind) = among[j];
        (kind == inner[i]).then(|| best[i + 1][j + 1] + (s.to - s.from))
    };
    for i in (0..inner.len()).rev() {
        for j in (0..among.len()).rev() {
            let without = best[i + 1][j].max(best[i][j + 1]);
            best[i][j] = taken(i, j, &best).map_or(without, |with| with.max(without));
        }
    }
    let mut chosen: Vec<Option<Stretch>> = found[..ahead].iter().map(|&(s, _)| Some(s)).collect();
    let (mut i, mut j) = (0, 0);
    while i < inner.len() {
        if j >= among.len() || best[i + 1][j] >= best[i][j] {
            chosen.push(None);
            i += 1;
        } else if taken(i, j, &best).is_some_and(|with| with >= best[i][j]) {
            chosen.push(Some(among[j].0));
            (i, j) = (i + 1, j + 1);
        } else {
            j += 1;
        }
    }
    chosen.extend(found[found.len() - behind..].iter().map(|&(s, _)| Some(s)));
    let Some(first) = chosen.iter().flatten().next() else {
        return all();
    };
    let mut last = Stretch {
        to: first.from,
        ..*first
    };
    let mut aligned = Vec::new();
    for stretch in chosen {
        last = stretch.unwrap_or(Stretch { from: last.to, ..last });
        aligned.push(last);
    }
    aligned
}
