//! The maker: how far real hands stray from what a recipe says, drawn from a seeded generator.
//!
//! The table asks its [`Hands`] in a few places only: when a piece is taken, where a stitch line runs, what the fold
//! takes, where an end is placed, where a trim's ruler lies. Without hands (the proof) nothing is asked and nothing changes.

use crate::piece::Cloth;
use crate::work::{Class, Stretch};
use shape::{Line, Point};
use std::collections::BTreeMap;
use std::rc::Rc;

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
    /// A making whose units are taken exact.
    pub(crate) exact: Option<u32>,
    /// Exact units, by making.
    pub(crate) perfect: Rc<BTreeMap<u32, Vec<Rc<Class>>>>,
    /// All units made, when they are wanted.
    pub(crate) keep: Option<BTreeMap<u32, Vec<Rc<Class>>>>,
    /// How many pieces lie along a laid edge when nothing strays, by making, step and layer.
    pub(crate) along: Rc<BTreeMap<(u32, u32, bool), usize>>,
}

impl Hands {
    pub(crate) fn new(maker: Maker, seed: u64) -> Self {
        Hands {
            maker,
            state: seed,
            misses: BTreeMap::new(),
            sizes: BTreeMap::new(),
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

    /// One of so many.
    pub(crate) fn pick(&mut self, count: usize) -> usize {
        if !self.maker.strays() {
            // All are alike, and as in a proof the first stands for them.
            return 0;
        }
        (self.next() % count.max(1) as u64) as usize
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
        if self.maker.cut == 0.0 {
            // Not one draw: else edges found anew would differ from the true ones by rounding.
            return cloth.clone();
        }
        let n = cloth.corners.len();
        let lines: Vec<Option<Line>> = (0..n)
            .map(|i| {
                let by = self.cut_edge();
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
        let mut cut = Cloth::new(outline, cloth.kind, cloth.up);
        cut.taken = cloth.taken;
        cut
    }

    /// Leaves of the stretches along an edge as many as there are when nothing strays, the longest: a tip that should end
    /// at the stitches and reaches a little past them makes no joint. Exact hands write down how many there are.
    pub(crate) fn only_real(&mut self, at: (u32, u32, bool), stretches: &mut Vec<Stretch>) {
        if !self.maker.strays() {
            Rc::make_mut(&mut self.along).insert(at, stretches.len());
        } else if let Some(&count) = self.along.get(&at) {
            while stretches.len() > count {
                let lengths = stretches.iter().map(|s| s.to - s.from).enumerate();
                let Some((shortest, _)) = lengths.min_by(|a, b| a.1.total_cmp(&b.1)) else {
                    break;
                };
                stretches.remove(shortest);
            }
        }
    }

    pub(crate) fn record(&mut self, make: u32, miss: Miss, off: f64) {
        let largest = self.misses.entry((make, miss)).or_insert(0.0);
        *largest = largest.max(off.abs());
    }
}
