//! Strip sets: long strips sewn side by side, cut across into lengths, each of which is a unit. Rails, rows of squares and
//! checkerboards are made so, many at a time: seams are sewn once for all lengths, and no small piece is handled. Rows of
//! diamonds are cut across at a ruler's angle; their strips are sewn with stepped ends, each so far on as the one below
//! leans, so that little cloth is lost at the slanted ends.

use super::Method;
use crate::at_angle::{Leaning, near_mark, per_sine};
use crate::bench::{Bench, corner, edge, run};
use crate::class::{Class, Placed};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use crate::tokens::{BlockTokens, Content};
use design::Prefer;
use measure::{Length, Way, Why};
use recipe::{
    CutAngle, EdgeRef, EdgeRun, End, Give, Lay, LineRef, Measured, PointRef, Press, Ruler, RulerAngle, Size, Step, Take,
};
use shape::{Line, Polygon, Vector};
use terms::FabricId;

/// Its name where the lengths are cut square across.
pub const NAME: &str = "strip sets";

/// Its name where they are cut at an angle.
pub const ANGLED: &str = "angled strip sets";

/// Units needed before long strips pay: fewer are as quickly sewn piece by piece.
const FEWEST: u64 = 4;

/// However many are wanted in all, a set that saves no more than one seam is not worth squaring (assumption).
const SEAMS_SAVED: u64 = 2;

/// How many of a unit are wanted.
#[derive(Clone, Copy, Debug)]
pub struct Wanted {
    /// Pressed as these are.
    pub these: u64,
    /// Pressed in any way.
    pub in_all: u64,
}

/// No more strips than these side by side, and none wider across: long seams drift, and a wide strip takes two passes of
/// the ruler (common practice).
const MOST_STRIPS: usize = 7;
const WIDEST: f64 = 8.0;

/// Cut off the end of a set before the first length, to square it (common practice).
const SQUARING: Length = Length::fraction(1, 4);

/// A unit made this way.
#[derive(Clone, Debug)]
pub struct StripSet {
    /// From the lower strip up: finished height and cloth.
    strips: Vec<(f64, FabricId)>,
    /// Finished width of a length, straight across.
    length: f64,
    /// The angle of the cuts across, where they are not square.
    lean: Option<Lean>,
    /// Lengths cut from one set; as long as it is not known how many are wanted, the most that the cloth gives.
    lengths: u32,
    /// Side of the unit that is the lower strip's.
    first: usize,
    /// Which way the seams go, from the lowest up.
    ways: Vec<Press>,
    /// The designer wants it.
    pinned: bool,
}

/// How the cuts across lean.
#[derive(Clone, Debug, PartialEq)]
struct Lean {
    angle: CutAngle,
    /// To the right, seen with the lowest strip below.
    right: bool,
    /// How far each strip but the lowest steps on from the one below.
    steps: Vec<Length>,
}

impl Lean {
    /// Each step as far as the strip below leans, down to a mark.
    fn of(seen: &Leaning, strips: &[(f64, FabricId)], settings: &Settings) -> Option<Self> {
        let below = strips.iter().take(strips.len().saturating_sub(1));
        let step = |high: f64| settings.ruling.round(high * seen.angle.cotangent(), Way::Down);
        Some(Lean {
            angle: seen.angle,
            right: seen.right,
            steps: below.map(|(high, _)| step(*high)).collect::<Option<_>>()?,
        })
    }

    /// How much further than all lengths the strips must reach because the cuts lean: at the upper edge of each strip the
    /// last cut has leaned further than the strip has stepped on.
    fn beyond(&self, strips: &[(f64, FabricId)], seam: f64) -> f64 {
        let (mut up, mut stepped, mut most) = (seam, 0.0, 0.0);
        for (i, (high, _)) in strips.iter().enumerate() {
            up += high;
            let top = if i + 1 == strips.len() { up + seam } else { up };
            most = f64::max(most, top * self.angle.cotangent() - stepped);
            stepped += self.steps.get(i).map_or(0.0, |s| s.to_inches());
        }
        most
    }
}

impl StripSet {
    /// A rectangle, or a parallelogram at a ruler's angle, of plain patches side by side along seams that all run across
    /// it. Where cloth counts first it is left unless it is pinned, since each set is squared at its end.
    pub fn recognise(
        class: &Class,
        blocks: &[BlockTokens],
        parts: &[(Placed, &Class)],
        seams: &[Line],
        ways: &[Press],
        settings: &Settings,
    ) -> Option<Self> {
        let along = seams.first()?.along;
        let first = (0..class.outline.len()).find(|&i| {
            let side = class.outline.edge(i).map(|l| l.along);
            side.is_some_and(|s| s.dot(along) > 1.0 - 1.0e-9)
        })?;
        let square = rectangle_side(&class.outline).is_some();
        let seen = if square {
            None
        } else {
            Some(Leaning::of(&class.outline, first)?)
        };
        let name = if square { NAME } else { ANGLED };
        let pinned = match blocks[class.home].method_of(&class.faces) {
            Some(pin) if pin == name => true,
            Some(_) => return None,
            None if settings.prefer == Prefer::Cloth => return None,
            None => false,
        };
        if !(2..=MOST_STRIPS).contains(&parts.len()) {
            return None;
        }
        let side = class.outline.corner(first).distance(class.outline.corner(first + 1));
        let length = seen.map_or(side, |seen| seen.across);
        let on_mark = |finished: f64| {
            let cut = finished + 2.0 * settings.seam_inches();
            if square {
                settings.ruling.on_mark(cut)
            } else {
                near_mark(cut, settings)
            }
        };
        on_mark(length)?;
        let mut strips = Vec::new();
        let mut usable = f64::INFINITY;
        for (placed, part) in parts {
            let [face] = part.faces[..] else { return None };
            let Content::Patch {
                fabric,
                up: None,
                grain,
                ..
            } = &blocks[part.home].tokens[face].content
            else {
                return None;
            };
            // The strip's long side is its cloth's width: the patch's grain must be along or across it. Of a diamond any
            // side is as good as another.
            let grain = placed.motion.vector(*grain);
            let other = class.outline.edge(first + 1)?.along;
            let runs = |side: Vector| grain.dot(side).abs() < 1.0e-6 || grain.cross(side).abs() < 1.0e-6;
            let straight = runs(along) || (!square && runs(other));
            let outline = placed.motion.polygon(&part.outline);
            let (wide, high) = match seen {
                None => {
                    rectangle_side(&outline)?;
                    extents(&outline, along)
                }
                Some(seen) => {
                    let base = (0..outline.len()).find(|&i| {
                        let side = outline.edge(i).map(|l| l.along);
                        side.is_some_and(|s| s.dot(along) > 1.0 - 1.0e-9)
                    })?;
                    let part = Leaning::of(&outline, base)?;
                    if (part.angle, part.right) != (seen.angle, seen.right) {
                        return None;
                    }
                    (part.across, part.high)
                }
            };
            if !straight || (wide - length).abs() > 1.0e-5 || high > WIDEST {
                return None;
            }
            on_mark(high)?;
            let cloth = settings.cloth(fabric)?;
            if cloth
                .longest
                .is_some_and(|longest| high + 2.0 * settings.seam_inches() > longest)
            {
                return None;
            }
            usable = usable.min(cloth.usable);
            strips.push((high, fabric.clone()));
        }
        let cut = length + 2.0 * settings.seam_inches();
        let lean = match seen {
            Some(seen) => Some(Lean::of(&seen, &strips, settings)?),
            None => None,
        };
        let beyond = lean.as_ref().map_or(0.0, |l| l.beyond(&strips, settings.seam_inches()));
        let sine = lean.as_ref().map_or(1.0, |l| l.angle.sine());
        let most = ((usable - 2.0 * SQUARING.to_inches() - beyond) / (cut / sine) + 1.0e-9).floor();
        Some(StripSet {
            strips,
            length,
            lean,
            lengths: most.max(0.0) as u32,
            first,
            ways: ways.to_vec(),
            pinned,
        })
    }

    /// As many sets as it takes, all alike; none where few are wanted, unless they are pinned.
    pub fn for_so_many(mut self, wanted: Wanted) -> Option<Self> {
        let most = u64::from(self.lengths);
        let saved = (self.strips.len() as u64 - 1) * wanted.these.min(most).saturating_sub(1);
        let worth = wanted.in_all >= FEWEST && saved >= SEAMS_SAVED;
        if wanted.these == 0 || most == 0 || !(worth || self.pinned) {
            return None;
        }
        let sets = wanted.these.div_ceil(most).max(1);
        self.lengths = u32::try_from(wanted.these.div_ceil(sets)).ok()?;
        Some(self)
    }

    /// Equal for sets of which all lengths are alike, though the units they make are seen from other sides.
    pub fn alike(&self) -> String {
        let units = |inches: f64| Length::nearest(inches).map_or(0, Length::units);
        let strips: Vec<_> = self.strips.iter().map(|(high, cloth)| (units(*high), cloth)).collect();
        format!("{strips:?} {} {:?} {:?}", units(self.length), self.lean, self.ways)
    }

    /// For each side of a unit, the side of another set's unit that is the same edge of a length.
    pub fn sides_in(&self, other: &StripSet) -> Vec<u32> {
        (0..4)
            .map(|i| ((other.first + (i + 4 - self.first) % 4) % 4) as u32)
            .collect()
    }
}

impl StripSet {
    /// The end of seam `i` at the strips' right ends (`at_right`) or left ones.
    fn end(&self, bench: &mut Bench<'_>, i: usize, at_right: bool, a: EdgeRef, b: EdgeRef) -> End {
        let Some((lean, step)) = self.lean.as_ref().and_then(|l| Some((l, *l.steps.get(i - 1)?))) else {
            return End::Even { a, b };
        };
        let on = Why::given("finished strip below", self.strips[i - 1].0);
        let on = Why::Product(vec![on, Why::given("lean, along by up", lean.angle.cotangent())]);
        let on = on.to_mark(bench.settings.ruling.mark(), Way::Down);
        if step == Length::ZERO {
            return End::Even { a, b };
        }
        let by = if lean.right == at_right {
            on
        } else {
            Why::Less(Box::new(Why::given("even ends", 0.0)), Box::new(on))
        };
        End::Overhang {
            a,
            b,
            by: bench.whys.size(by),
        }
    }
}

impl Lean {
    /// The first cut, from a little inside the lowest strip's squared end.
    fn first_cut(&self, lowest: &[EdgeRef; 4], squaring: Size) -> Ruler {
        let [below, right, _, left] = *lowest;
        // Where both lines at the angle are as near to `like`, the one turned counter-clockwise is meant: from the lower
        // edge that leans right; from the right end, by what is left to a right angle, it leans left.
        let (line, like, from, angle) = if self.right {
            (below, right, corner(left, below), self.angle)
        } else {
            let rest = match self.angle {
                CutAngle::Thirty => CutAngle::Sixty,
                CutAngle::Sixty => CutAngle::Thirty,
                same => same,
            };
            (right, below, corner(below, right), rest)
        };
        let angle = match angle {
            CutAngle::Thirty => RulerAngle::Thirty,
            CutAngle::FortyFive | CutAngle::Wedge => RulerAngle::FortyFive,
            CutAngle::Sixty => RulerAngle::Sixty,
        };
        Ruler::Angle {
            line: LineRef::Edge(line),
            angle,
            through: PointRef::Along {
                from,
                edge: below,
                by: squaring,
            },
            like,
        }
    }
}

/// How far a rectangle reaches along a direction and across it.
fn extents(outline: &Polygon, along: shape::Vector) -> (f64, f64) {
    let reach = |direction: shape::Vector| {
        let d = outline
            .corners()
            .iter()
            .map(|&c| (c - shape::Point::ORIGIN).dot(direction));
        let (low, high) = d.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
        high - low
    };
    (reach(along), reach(along.left()))
}

impl Method for StripSet {
    fn name(&self) -> &'static str {
        if self.lean.is_some() { ANGLED } else { NAME }
    }

    fn label(&self) -> &'static str {
        if self.strips.len() == 2 { "Pair" } else { "Row" }
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let width = bench
            .whys
            .with_seams("finished width of a length", self.length, settings.seam);
        let squaring = bench.whys.given("squaring the end", SQUARING.to_inches());
        let mut length =
            Why::given("length as cut", width.inches()).times(i32::try_from(self.lengths).unwrap_or(1), 1, 1);
        let mut room = vec![Why::given("squaring the ends", 2.0 * SQUARING.to_inches())];
        if let Some(lean) = &self.lean {
            length = Why::Product(vec![length, per_sine(lean.angle)]);
            let beyond = lean.beyond(&self.strips, settings.seam_inches());
            room.push(Why::given("lean of the last cut", beyond));
        }
        let long = Why::Sum(std::iter::once(length).chain(room).collect());
        let long = bench.whys.size(long.to_mark(settings.ruling.mark(), Way::Up));
        let mut round: Vec<[EdgeRef; 4]> = Vec::new();
        let mut slots = Vec::new();
        for (high, fabric) in &self.strips {
            let high = bench
                .whys
                .with_seams("finished height of a strip", *high, settings.seam);
            let (piece, numbers) = bench.pieces.rectangle(long, high, fabric);
            let slot = bench.take(Take::Piece(piece));
            slots.push(slot);
            round.push(numbers.map(|number| edge(slot, number)));
        }
        let mut work = slots[0];
        for i in 1..slots.len() {
            let (below, above) = (round[i - 1], round[i]);
            let how = Lay::Edges {
                a: EdgeRun(vec![below[2]]),
                b: EdgeRun(vec![above[0]]),
                first: self.end(bench, i, true, below[1], above[1]),
                last: self.end(bench, i, false, below[3], above[3]),
                meets: Vec::new(),
            };
            let press = self.ways.get(i - 1).copied().unwrap_or(Press::TowardUpper);
            work = bench.sew(work, slots[i], how, press, false);
        }
        let (lowest, highest) = (round[0], round[round.len() - 1]);
        let (low, high) = (EdgeRun(vec![lowest[0]]), EdgeRun(vec![highest[2]]));
        let across: f64 = self.strips.iter().map(|s| s.0).sum();
        let across = bench
            .whys
            .with_seams("finished height of the set", across, settings.seam);
        bench.step(Step::Check {
            of: work,
            what: Measured::Across(low.clone(), high.clone()),
            is: across,
        });
        let into: Vec<_> = (0..self.lengths).map(|_| bench.slot()).collect();
        let (left, right) = (corner(lowest[3], lowest[0]), corner(lowest[0], lowest[1]));
        // A set that leans to the left is cut from its right end.
        let from_right = self.lean.as_ref().is_some_and(|lean| !lean.right);
        let toward = if from_right { left } else { right };
        let first = match &self.lean {
            None => Ruler::Beside {
                line: LineRef::Edge(lowest[3]),
                at: squaring,
                toward,
            },
            Some(lean) => lean.first_cut(&lowest, squaring),
        };
        bench.step(Step::SubCut {
            of: work,
            first,
            toward,
            width,
            into: into.clone(),
        });
        if self.lean.is_some() {
            bench.step(Step::Check {
                of: into[0],
                what: Measured::Across(run(into[0], 0), run(into[0], 1)),
                is: width,
            });
        }
        into.into_iter()
            .map(|slot| {
                // Going round from the lower side: the cut further on to the right, the upper side, the cut to the left.
                let (on_right, on_left) = if from_right { (0, 1) } else { (1, 0) };
                let sides = [low.clone(), run(slot, on_right), high.clone(), run(slot, on_left)];
                Give {
                    slot,
                    sides: (0..4).map(|i| sides[(i + 4 - self.first) % 4].clone()).collect(),
                    seams: Vec::new(),
                }
            })
            .collect()
    }
}
