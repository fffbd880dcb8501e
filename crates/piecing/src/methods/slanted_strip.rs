//! A strip with ends at half a right angle: a mitred border's, or a strip of sashing that a quilt's side cuts off at a
//! slant. Joined of several where it is longer than the cloth is wide, cut longer (and wider) where no ruler shows its size, and
//! trimmed to measure before it is sewn; or left to stand out where a whole layout on point is trimmed.

use super::sew_together::PartAtPlace;
use super::{Method, Proposal};
use crate::bench::{Bench, corner, edge};
use crate::patch::{CutWay, PatchCut, cut_patch};
use crate::settings::Settings;
use crate::to_fit::to_spare;
use crate::whys::Whys;
use design::Up;
use measure::{Way, Why};
use recipe::{
    DemandShape, EdgeRef, EdgeRun, End, Give, Lay, LineRef, Measured, PointRef, Press, Ruler, RulerAngle, Size, Slot,
    Step, Take, TrimLine,
};
use shape::allowance::with_allowance;
use shape::{Point, Polygon, Vector, WELD};
use terms::FabricId;

/// A mitred border's strips are cut so much longer than side and twice the width, inches, at least (common practice: side +
/// 2 × width + 2s(1 + √2) are needed, so 2 in more).
const MITRED_LONGER: f64 = 2.0;

/// What is left of a strip's full width at a slanted end, inches, at least, where it is joined.
const LEAST_HELD: f64 = 1.0;

/// A patch made this way.
#[derive(Clone, Debug)]
pub struct SlantedStrip {
    fabric: FabricId,
    up: Option<Up>,
    grain: Vector,
    /// The patch's side that is the shorter of its two long ones; `lower` below.
    first: usize,
    /// The patch as it finishes.
    finished: Polygon,
    /// The same as it is cut, in parts from left to right along `lower`, each with its lower side first.
    sections: Vec<Polygon>,
    /// How much longer and wider it is cut than it finishes, inches.
    longer: f64,
    wider: f64,
    mitred: bool,
}

/// A strip as it lies along its lower side: how far its ends lean to the right from below to above, in widths.
#[derive(Clone, Copy, Debug)]
struct Lean {
    left: i32,
    right: i32,
}

/// Where it lies.
#[derive(Clone, Copy, Debug)]
struct Lying {
    from: Point,
    along: Vector,
    /// Finished length of the lower side.
    length: f64,
    width: f64,
    lean: Lean,
}

impl Lying {
    fn of(outline: &Polygon) -> Option<(usize, Lying)> {
        if outline.len() != 4 {
            return None;
        }
        let side = |i: usize| outline.corner(i).distance(outline.corner(i + 1));
        let strip = |i: usize| {
            let (low, high) = (outline.edge(i)?, outline.edge(i + 2)?);
            if low.along.cross(high.along).abs() > 1.0e-6 {
                return None;
            }
            let width = low.offset_of(outline.corner(i + 2)).abs();
            let lean = |below: usize, above: usize| {
                let by = (outline.corner(above) - outline.corner(below)).dot(low.along) / width;
                let whole = by.round();
                ((by - whole).abs() * width < WELD && whole.abs() <= 1.0).then_some(whole as i32)
            };
            let lean = Lean {
                left: lean(i, i + 3)?,
                right: lean(i + 1, i + 2)?,
            };
            let lying = Lying {
                from: outline.corner(i),
                along: low.along,
                length: side(i),
                width,
                lean,
            };
            // Its long sides are the ones along it, and at least one end is not square.
            (lying.length > width && (lean.left, lean.right) != (0, 0)).then_some((i % 4, lying))
        };
        (0..4)
            .filter_map(strip)
            .min_by(|a, b| a.1.length.total_cmp(&b.1.length))
    }

    /// The part between two places along it: a slanted end of the strip where `None`, else a square cut.
    fn part(&self, from: Option<f64>, to: Option<f64>) -> Polygon {
        let at = |x: f64, y: f64| self.from + self.along * x + self.along.left() * y;
        let lean = |of: i32| f64::from(of) * self.width;
        let left = from.map_or((0.0, lean(self.lean.left)), |x| (x, x));
        let right = to.map_or((self.length, self.length + lean(self.lean.right)), |x| (x, x));
        Polygon::new(vec![
            at(left.0, 0.0),
            at(right.0, 0.0),
            at(right.1, self.width),
            at(left.1, self.width),
        ])
    }

    /// The stretch of it that is of full width.
    fn full(&self) -> (f64, f64) {
        let lean = |of: i32| f64::from(of) * self.width;
        let right = self.length + lean(self.lean.right);
        (lean(self.lean.left).max(0.0), right.min(self.length))
    }
}

impl SlantedStrip {
    /// A border's or sashing's strip with an end at 45 degrees: every one of a mitred border; others where they are longer
    /// than the cloth is wide or lie between the ruler's marks. Nothing where a print's up does not let it.
    pub fn recognise(
        outline: &Polygon,
        role: &str,
        fabric: &FabricId,
        (grain, up): (Vector, Option<Up>),
        settings: &Settings,
    ) -> Option<Proposal> {
        let strip = SlantedStrip::of(outline, role, fabric, (grain, up), settings)?;
        Some(strip.proposal())
    }

    /// The strip as a way to make its patch.
    pub fn proposal(self) -> Proposal {
        let handling = 5 * self.sections.len() as u32 + 4;
        Proposal::new(self, handling)
    }

    /// For each side of the patch whether it is a slanted end.
    pub fn slanted(&self, outline: &Polygon) -> Vec<bool> {
        let along = outline.edge(self.first).map(|line| line.along);
        let leans = |i: usize| {
            let line = outline.edge(i).map(|line| line.along);
            let dot = along.zip(line).map_or(1.0, |(a, b)| a.dot(b).abs());
            (1.0e-3..1.0 - 1.0e-3).contains(&dot)
        };
        (0..outline.len()).map(leans).collect()
    }

    /// A strip of sashing whose slanted ends all stand out beyond the side that cuts it off, to be trimmed with all that lies
    /// along that side; how far, square to the end, and why. Nothing where it cannot be cut so.
    pub fn standing_out(
        outline: &Polygon,
        role: &str,
        fabric: &FabricId,
        (grain, up): (Vector, Option<Up>),
        settings: &Settings,
    ) -> Option<(SlantedStrip, Why)> {
        if role != "sashing" {
            return None;
        }
        let (first, finished) = Lying::of(outline)?;
        settings.ruling.on_mark(finished.width)?;
        let ends = f64::from(finished.lean.left.abs() + finished.lean.right.abs());
        let least = finished.length + ends * to_spare(settings);
        let length = settings.ruling.round(least, Way::Up)?.to_inches();
        let each = (length - finished.length) / ends;
        let longer = Lying {
            from: finished.from - finished.along * (each * f64::from(finished.lean.left.abs())),
            length,
            ..finished
        };
        let limit = limit(&finished, up, fabric, settings);
        let sections = sections(&longer, limit, settings)?;
        let strip = SlantedStrip {
            fabric: fabric.clone(),
            up,
            grain,
            first,
            finished: longer.part(None, None),
            sections,
            longer: 0.0,
            wider: 0.0,
            mitred: false,
        };
        let out = Why::given("strip longer at the end", each).times(1, 2, 2);
        strip.is_cut(settings).then_some((strip, out))
    }

    /// How it is cut, where it is one piece.
    pub fn one_piece(&self, settings: &Settings, whys: &mut Whys) -> Option<PatchCut> {
        let [section] = &self.sections[..] else { return None };
        let mut cut = cut_patch(section, self.grain, self.up, false, settings, whys)?;
        // The section begins with another side than the patch does.
        cut.edges.rotate_right(self.first);
        Some(cut)
    }

    /// How many joins there are along a side of that finished length, when the patch is made so.
    pub fn joins(
        outline: &Polygon,
        role: &str,
        fabric: &FabricId,
        grain: (Vector, Option<Up>),
        settings: &Settings,
        (side, larger): (f64, bool),
    ) -> usize {
        let strip = if larger {
            SlantedStrip::standing_out(outline, role, fabric, grain, settings).map(|(strip, _)| strip)
        } else {
            SlantedStrip::of(outline, role, fabric, grain, settings)
        };
        let Some(strip) = strip else { return 0 };
        let is_long = [strip.first, strip.first + 2]
            .iter()
            .any(|&i| (outline.corner(i).distance(outline.corner(i + 1)) - side).abs() < WELD);
        if is_long { strip.sections.len() - 1 } else { 0 }
    }

    fn of(
        outline: &Polygon,
        role: &str,
        fabric: &FabricId,
        (grain, up): (Vector, Option<Up>),
        settings: &Settings,
    ) -> Option<SlantedStrip> {
        let border = role == "border";
        if !border && role != "sashing" {
            return None;
        }
        let (first, finished) = Lying::of(outline)?;
        let mitred = border && finished.lean.left * finished.lean.right < 0;
        let limit = limit(&finished, up, fabric, settings);
        let cut = cut_patch(outline, grain, up, false, settings, &mut Whys::default())?;
        let by_ruler = matches!(cut.way, CutWay::Plain | CutWay::Shaped);
        if !mitred && by_ruler && width_of(&cut).is_some_and(|wide| wide <= limit) {
            return None;
        }
        let round = |inches: f64| Some(settings.ruling.round(inches, Way::Up)?.to_inches());
        let is_marked = |inches: f64| settings.ruling.on_mark(inches).is_some();
        let spare = to_spare(settings);
        let width = if is_marked(finished.width) {
            finished.width
        } else {
            round(finished.width + spare / 2.0)?
        };
        let length = if mitred {
            // Its points reach beyond the corners as it is.
            let seam = settings.seam_inches();
            let points = 2.0 * seam * (1.0 + std::f64::consts::SQRT_2);
            round(finished.length + spare.max(MITRED_LONGER - points))?
        } else if is_marked(finished.length) {
            finished.length
        } else {
            round(finished.length + spare)?
        };
        let longer = Lying {
            length,
            width,
            ..finished
        };
        let strip = SlantedStrip {
            fabric: fabric.clone(),
            up,
            grain,
            first,
            finished: finished.part(None, None),
            sections: sections(&longer, limit, settings)?,
            longer: length - finished.length,
            wider: width - finished.width,
            mitred,
        };
        strip.is_cut(settings).then_some(strip)
    }

    /// Whether a ruler cuts all its sections.
    fn is_cut(&self, settings: &Settings) -> bool {
        let mut scratch = Whys::default();
        self.sections.iter().all(|part| {
            let cut = cut_patch(part, self.grain, self.up, false, settings, &mut scratch);
            cut.is_some_and(|cut| matches!(cut.way, CutWay::Plain | CutWay::Shaped))
        })
    }
}

/// How long a piece may be, seams and points included, inches: as the cloth is wide, unless its up lies along it.
fn limit(strip: &Lying, up: Option<Up>, fabric: &FabricId, settings: &Settings) -> f64 {
    let along = up.is_some_and(|up| up.toward.dot(strip.along).abs() > 0.5);
    let usable = settings.cloth(fabric).map_or(f64::INFINITY, |cloth| cloth.usable);
    if along { f64::INFINITY } else { usable }
}

/// The longer side of what is cut, inches.
fn width_of(cut: &PatchCut) -> Option<f64> {
    match &cut.shape {
        DemandShape::Rectangle { width, height } | DemandShape::Shaped { width, height, .. } => {
            Some(width.len.max(height.len).to_inches())
        }
        _ => None,
    }
}

/// The strip in parts that the cloth is wide enough for; whole widths, and what is still needed.
fn sections(strip: &Lying, limit: f64, settings: &Settings) -> Option<Vec<Polygon>> {
    let seam = settings.seam_inches();
    let point = settings
        .ruling
        .round(seam * (1.0 + std::f64::consts::SQRT_2), Way::Up)?
        .to_inches();
    let room = |lean: i32| if lean == 0 { seam } else { point };
    let widths = [strip.lean.left, strip.lean.right].map(|lean| f64::from(lean) * strip.width);
    let low = widths[0].min(0.0) - room(strip.lean.left);
    let high = strip.length + widths[1].max(0.0) + room(strip.lean.right);
    if high - low <= limit + 1.0e-9 {
        return Some(vec![strip.part(None, None)]);
    }
    let usable = settings.ruling.round(limit, Way::Down)?.to_inches();
    let (full_from, full_to) = strip.full();
    let mut cuts: Vec<f64> = Vec::new();
    let mut from = low;
    while high - from > usable + 1.0e-9 {
        let mut at = from + usable - seam;
        // What is left for the last must have some of the full width.
        if at > full_to - LEAST_HELD {
            at = settings.ruling.round(full_to - LEAST_HELD, Way::Down)?.to_inches();
        }
        let least = cuts.last().copied().unwrap_or(full_from);
        if at < least + LEAST_HELD || cuts.len() > 64 {
            return None;
        }
        cuts.push(at);
        from = at - seam;
    }
    let bounds: Vec<Option<f64>> = std::iter::once(None)
        .chain(cuts.into_iter().map(Some))
        .chain([None])
        .collect();
    Some(bounds.windows(2).map(|pair| strip.part(pair[0], pair[1])).collect())
}

impl Method for SlantedStrip {
    fn name(&self) -> &'static str {
        if self.mitred { "mitred strip" } else { "slanted strip" }
    }

    fn label(&self) -> &'static str {
        if self.mitred { "Mitred strip" } else { "Slanted strip" }
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let mut parts: Vec<(Slot, Vec<u32>)> = Vec::with_capacity(self.sections.len());
        for section in &self.sections {
            let Some(piece) = self.piece(bench, section) else {
                return Vec::new();
            };
            parts.push(piece);
        }
        let last = parts.len() - 1;
        let side = |part: usize, side: usize| edge(parts[part].0, parts[part].1[side]);
        let mut work = parts[0].0;
        for (left, right) in (0..last).map(|i| (i, i + 1)) {
            let even = |number| End::Even {
                a: side(left, number),
                b: side(right, number),
            };
            let laid = Lay::Edges {
                a: EdgeRun(vec![side(left, 1)]),
                b: EdgeRun(vec![side(right, 3)]),
                first: even(0),
                last: even(2),
                meets: Vec::new(),
            };
            work = bench.sew(work, parts[right].0, laid, Press::Open, true);
        }
        let mut round = [
            (0..=last).map(|p| side(p, 0)).collect::<Vec<EdgeRef>>(),
            vec![side(last, 1)],
            (0..=last).rev().map(|p| side(p, 2)).collect(),
            vec![side(0, 3)],
        ];
        work = self.trim(bench, work, &mut round);
        self.measure(bench, work, &round);
        let sides = (0..4).map(|i| EdgeRun(round[(i + 4 - self.first) % 4].clone()));
        vec![Give {
            slot: work,
            sides: sides.collect(),
            seams: Vec::new(),
        }]
    }
}

impl SlantedStrip {
    /// Takes one section; the numbers of its edges, the lower one first.
    fn piece(&self, bench: &mut Bench<'_>, section: &Polygon) -> Option<(Slot, Vec<u32>)> {
        let settings = bench.settings;
        let mut cut = cut_patch(section, self.grain, self.up, false, settings, bench.whys)?;
        if let DemandShape::Shaped { width, height, .. } = &mut cut.shape
            && self.sections.len() == 1
        {
            // Said with what is cut off again in it.
            let long = if width.len > height.len { width } else { height };
            let points = long.len.to_inches() - self.reach(section);
            let finished = self.reach(&self.finished);
            let why = Why::Sum(vec![
                Why::given("finished length, to the points", finished),
                Why::given("seams and tips at both ends", points),
                Why::given("to trim away", self.longer),
            ]);
            let said = bench.whys.size(why.to_mark(settings.ruling.mark(), Way::Nearest));
            if said.len == long.len {
                *long = said;
            }
        }
        let piece = bench.pieces.of(cut.shape, &self.fabric, cut.turns, Some(section));
        Some((bench.take(Take::Piece(piece)), cut.edges))
    }

    /// How long an outline is along the strip, from its first point to its last.
    fn reach(&self, outline: &Polygon) -> f64 {
        let Some(line) = self.finished.edge(0) else { return 0.0 };
        let reach = outline.corners().iter().map(|&c| line.reach_of(c));
        let (low, high) = reach.fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
        high - low
    }

    /// Cuts off what there is too much, first across, then at the right end; gives the work and renames its edges.
    fn trim(&self, bench: &mut Bench<'_>, work: Slot, round: &mut [Vec<EdgeRef>; 4]) -> Slot {
        let seam = bench.settings.seam;
        let mut lines = Vec::new();
        let mut trimmed = Vec::new();
        if self.wider > WELD {
            let width = self.width();
            lines.push(TrimLine {
                ruler: Ruler::Beside {
                    line: LineRef::Edge(round[0][0]),
                    at: bench.whys.with_seams("finished width", width, seam),
                    toward: corner(round[2][round[2].len() - 1], round[3][0]),
                },
                off: EdgeRun(round[2].clone()),
                shave: bench.whys.given("more than the width", self.wider),
            });
            trimmed.push(2);
        }
        if self.longer > WELD {
            let leans = self.slants_right();
            // A slanted end is as much nearer as it leans (√2 / 2 of it).
            let more = Why::given("longer than measured", self.longer);
            let shave = if leans { more.times(1, 2, 2) } else { more };
            let through = PointRef::Along {
                from: corner(round[3][0], round[0][0]),
                edge: round[0][0],
                by: self.as_measured(bench),
            };
            lines.push(TrimLine {
                ruler: Ruler::Angle {
                    line: LineRef::Edge(round[0][0]),
                    angle: if leans {
                        RulerAngle::FortyFive
                    } else {
                        RulerAngle::Ninety
                    },
                    through,
                    like: round[1][0],
                },
                off: EdgeRun(round[1].clone()),
                shave: bench.whys.size(shave),
            });
            trimmed.push(1);
        }
        if lines.is_empty() {
            return work;
        }
        let into = bench.slot();
        bench.step(Step::Trim { of: work, lines, into });
        for (number, side) in trimmed.into_iter().enumerate() {
            round[side] = vec![edge(into, number as u32)];
        }
        into
    }

    /// Checks the strip: its width, and its length along the lower raw edge.
    fn measure(&self, bench: &mut Bench<'_>, work: Slot, round: &[Vec<EdgeRef>; 4]) {
        let is = bench
            .whys
            .with_seams("finished width", self.width(), bench.settings.seam);
        let what = Measured::Across(EdgeRun(round[0].clone()), EdgeRun(round[2].clone()));
        bench.step(Step::Check { of: work, what, is });
        let end = round[0].len() - 1;
        let what = Measured::Between(
            PointRef::Corner(corner(round[3][0], round[0][0])),
            PointRef::Corner(corner(round[0][end], round[1][0])),
        );
        let is = self.as_measured(bench);
        bench.step(Step::Check { of: work, what, is });
    }

    fn width(&self) -> f64 {
        let Some(line) = self.finished.edge(0) else { return 0.0 };
        line.offset_of(self.finished.corner(2)).abs()
    }

    fn slants_right(&self) -> bool {
        let Some(line) = self.finished.edge(0) else {
            return false;
        };
        (line.reach_of(self.finished.corner(2)) - line.reach_of(self.finished.corner(1))).abs() > WELD
    }

    /// The length of the lower raw edge, from corner to corner, as the strip is sewn.
    fn as_measured(&self, bench: &mut Bench<'_>) -> Size {
        let finished = self.finished.corner(0).distance(self.finished.corner(1));
        let raw = with_allowance(&self.finished, bench.settings.seam_inches())
            .map_or(finished, |raw| raw.corner(0).distance(raw.corner(1)));
        bench.whys.size(Why::Sum(vec![
            Why::given("finished length, as measured", finished),
            Why::given("seams at both ends, along the edge", raw - finished),
        ]))
    }
}

/// Measures a strip of one piece whose slanted end stands out, along its shorter long side, before it is sewn: no trim tells how
/// much of it comes off.
pub fn measure_standing_out(bench: &mut Bench<'_>, part: &PartAtPlace, slot: Slot) {
    let Take::Piece(piece) = &part.handle.take else { return };
    let shaped = matches!(bench.pieces.shape(piece), Some(DemandShape::Shaped { .. }));
    let Some((first, _)) = Lying::of(&part.outline).filter(|_| shaped) else {
        return;
    };
    let seam = bench.settings.seam_inches();
    let side = |i: usize| (first + i) % 4;
    let line = |i: usize| Some(part.outline.edge(side(i))?.moved_left(-seam - part.over.out(side(i))));
    let [Some(left), Some(lower), Some(right)] = [3, 0, 1].map(line) else {
        return;
    };
    let (Some(from), Some(to)) = (lower.crossing(left), lower.crossing(right)) else {
        return;
    };
    let name = |i: usize| part.edge(slot, side(i));
    let what = Measured::Between(
        PointRef::Corner(corner(name(3), name(0))),
        PointRef::Corner(corner(name(0), name(1))),
    );
    let is = bench.whys.given("along the shorter edge, as cut", from.distance(to));
    bench.step(Step::Check { of: slot, what, is });
}
