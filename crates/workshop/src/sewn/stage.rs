//! The stage on which a making is watched: where each piece of cloth lies at first, and what each step changes. All places
//! come from the rehearsal's own motions; here they are only set beside one another so that nothing is hidden.

use recipe::{EdgeRef, Lay, Make, MarkName, Press, Step};
use rehearse::{MarkView, PieceView, Segment, UnitScenes, WorkView};
use serde_json::Value;
use shape::{Line, Motion, Point, Polygon, Vector};
use std::collections::{BTreeMap, BTreeSet};
use terms::FabricId;

/// Two places are one, inches: what the table itself counts as one place.
const NEAR: f64 = 1.0 / 64.0;
/// Free space between parts that wait, inches.
const GAP: f64 = 0.75;
/// Pieces pictured in one making before it is too much for a screen to play.
const MOST: usize = 60_000;

/// A piece by its number: stays the same from step to step.
pub type PieceNumber = u32;

/// A piece of cloth on the stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// Its number.
    pub number: PieceNumber,
    /// Its cloth.
    pub fabric: FabricId,
    /// What shows of it, on the stage.
    pub outline: Polygon,
    /// Whether its wrong side shows.
    pub wrong: bool,
    /// Whether it lies on other cloth.
    pub above: bool,
}

/// Pieces that move together, and how they lay before: each motion carries where they lie at the end of the shot to where
/// they lay earlier, the first one at the beginning.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// Which.
    pub pieces: Vec<PieceNumber>,
    /// From what place by what places.
    pub from: Vec<Motion>,
}

/// What one step changes on the stage. Everything else lies as it lay.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shot {
    /// Which step of the making; `None` for the parts as they lie at first.
    pub step: Option<usize>,
    /// Pieces that are gone after it.
    pub gone: Vec<PieceNumber>,
    /// Pieces that it touches, as they lie after it.
    pub set: Vec<Cloth>,
    /// Those of them that lie and look as before.
    pub same: BTreeSet<PieceNumber>,
    /// How those that move get there.
    pub moved: Vec<Moved>,
    /// Stitching of this step, in the order it is sewn.
    pub sewn: Vec<Segment>,
    /// Stitching that can be seen after it, this step's included.
    pub stitches: Vec<Segment>,
    /// Marks that can be seen after it.
    pub marks: Vec<MarkView>,
    /// Where it cuts.
    pub cuts: Vec<Segment>,
    /// What comes off.
    pub waste: Vec<Polygon>,
    /// Where the allowances of a seam just opened are pressed to: from the seam that way.
    pub pressed: Vec<Segment>,
    /// Paper that lies beneath: its outline, then the lines to sew on.
    pub paper: Option<(Polygon, Vec<Segment>)>,
}

/// A making as it is watched.
#[derive(Clone, Debug, PartialEq)]
pub struct Film {
    /// The corners of all that ever lies on the stage.
    pub bounds: (Point, Point),
    /// The parts, then one shot for each step.
    pub shots: Vec<Shot>,
}

/// The film of a making; `None` when there is nothing to see, or more than a screen can play.
pub fn film(make: &Make, scenes: &UnitScenes) -> Option<Film> {
    let all = scenes.parts.iter().chain(&scenes.after);
    let pieces: usize = all.flat_map(|view| &view.layers).map(|layer| layer.pieces.len()).sum();
    if pieces == 0 || pieces > MOST {
        return None;
    }
    let mut stage = Stage::default();
    let mut shots = vec![stage.begin(scenes)];
    let last_use = last_uses(make);
    for (i, (step, view)) in make.steps.iter().zip(&scenes.after).enumerate() {
        let mut shot = stage.after(step, view);
        // What has served its end is not shown on: it lies on the wrong side, or in an allowance.
        shot.marks.retain(|mark| {
            let (MarkView::Line(name, ..) | MarkView::Dot(name, _)) = mark;
            last_use.get(name).is_some_and(|&last| last >= i)
        });
        shot.step = Some(i);
        shots.push(shot);
    }
    let bounds = stage.bounds?;
    Some(Film { bounds, shots })
}

/// For each mark the last step that names it.
fn last_uses(make: &Make) -> BTreeMap<MarkName, usize> {
    let drawn = make.steps.iter().filter_map(|step| match step {
        Step::Mark { name, .. } | Step::Dot { name, .. } => Some(name),
        _ => None,
    });
    let mut last: BTreeMap<MarkName, usize> = drawn.map(|name| (name.clone(), 0)).collect();
    if last.is_empty() {
        return last;
    }
    for (i, step) in make.steps.iter().enumerate() {
        let mut waiting = vec![serde_json::to_value(step).unwrap_or_default()];
        while let Some(value) = waiting.pop() {
            match value {
                Value::String(name) => {
                    if let Some(at) = last.get_mut(&MarkName(name)) {
                        *at = i;
                    }
                }
                Value::Array(items) => waiting.extend(items),
                Value::Object(fields) => waiting.extend(fields.into_iter().map(|(_, value)| value)),
                _ => {}
            }
        }
    }
    last
}

/// What a piece is known by on the table: its part and its number in it.
type Known = (u32, u32);

/// A piece on the stage.
#[derive(Clone, Debug)]
struct Lying {
    /// Carries the piece's own frame onto the stage.
    lies: Motion,
    cloth: Cloth,
}

#[derive(Default)]
struct Stage {
    lying: BTreeMap<Known, Lying>,
    stitches: Vec<Segment>,
    /// Where joints met in the stack laid last.
    meets: Vec<Point>,
    numbers: PieceNumber,
    bounds: Option<(Point, Point)>,
}

impl Stage {
    /// The parts, apart from one another, each lying as it will lie in the finished unit.
    fn begin(&mut self, scenes: &UnitScenes) -> Shot {
        let last = (scenes.after.iter().rev()).find(|v| v.layers.iter().any(|l| !l.pieces.is_empty()));
        let places: Vec<Motion> = (scenes.parts.iter())
            .map(|part| last.and_then(|last| place_in(part, last)).unwrap_or(Motion::STILL))
            .collect();
        let mut shot = Shot::default();
        for (part, place) in scenes.parts.iter().zip(apart(&scenes.parts, &places)) {
            for piece in part.layers.iter().flat_map(|layer| &layer.pieces) {
                let (cloth, _) = self.put(piece, piece.lies.then(&place), place.polygon(&piece.outline), false);
                shot.set.push(cloth);
            }
        }
        shot
    }

    /// What a step changes: `view` is what it touched, as it lies afterwards in its own frame.
    fn after(&mut self, step: &Step, view: &WorkView) -> Shot {
        let mut shot = Shot::default();
        let place = self.place_of(view);
        let halves = Halves::of(step, view);
        let mut moved: Vec<(Motion, Vec<PieceNumber>)> = Vec::new();
        let mut seen: Vec<Known> = Vec::new();
        let mut cut: Vec<u32> = Vec::new();
        for layer in &view.layers {
            for piece in &layer.pieces {
                let known = (piece.part, piece.number);
                let shift = halves.as_ref().map_or(Motion::STILL, |halves| halves.shift(piece));
                let to = shift.then(&place);
                let before = self.before(piece);
                if let Some((was, _)) = before
                    && was != known
                {
                    cut.push(was.0);
                }
                let lies = piece.lies.then(&to);
                let above = layer.turned_over;
                let (cloth, same) = self.put(piece, lies, to.polygon(&piece.outline), above);
                if same {
                    shot.same.insert(cloth.number);
                }
                seen.push(known);
                // From where it lies now to where it lay.
                let back = before.map(|(_, lay)| lies.inverse().then(&lay));
                if let Some(back) = back.filter(|back| !still(back, &cloth.outline)) {
                    match moved
                        .iter_mut()
                        .find(|(motion, _)| alike(motion, &back, &cloth.outline))
                    {
                        Some((_, pieces)) => pieces.push(cloth.number),
                        None => moved.push((back, vec![cloth.number])),
                    }
                }
                shot.set.push(cloth);
            }
        }
        // What this step touched and is nowhere now has come off.
        for known in self.taken_off(step, view, &cut, &seen) {
            if let Some(was) = self.lying.remove(&known) {
                shot.gone.push(was.cloth.number);
            }
        }
        for (back, numbers) in moved {
            let mut from = vec![back];
            if let Step::Lay { how, .. } = step
                && back.turns_over()
            {
                let outlines: Vec<&Polygon> = (shot.set.iter())
                    .filter(|cloth| numbers.contains(&cloth.number))
                    .map(|cloth| &cloth.outline)
                    .collect();
                let hinge = hinge(how, view, &place).or_else(|| beside(&outlines, &back));
                from.extend(hinge.map(Motion::mirror));
            }
            for cloth in shot.set.iter().filter(|cloth| numbers.contains(&cloth.number)) {
                for motion in &from {
                    reach(
                        &mut self.bounds,
                        cloth.outline.corners().iter().map(|&c| motion.point(c)),
                    );
                }
            }
            shot.moved.push(Moved { pieces: numbers, from });
        }
        self.lines(step, view, &place, halves.as_ref(), &mut shot);
        shot
    }

    /// Stitching, marks, cuts, what comes off, paper.
    fn lines(&mut self, step: &Step, view: &WorkView, place: &Motion, halves: Option<&Halves>, shot: &mut Shot) {
        let on_stage = |s: &Segment| Segment {
            from: place.point(s.from),
            to: place.point(s.to),
        };
        let same = |a: &Segment, b: &Segment| a.from.distance(b.from) < 0.02 && a.to.distance(b.to) < 0.02;
        let stitches: Vec<Segment> = view.stitches.iter().map(on_stage).collect();
        if let Step::Lay { .. } = step {
            self.meets = view.meets.iter().map(|&at| place.point(at)).collect();
        }
        shot.sewn = match step {
            Step::Sew { .. } | Step::Whip { .. } | Step::StitchDown { .. } | Step::Close { .. } => stitches
                .iter()
                .filter(|s| !self.stitches.iter().any(|was| same(was, s)))
                .copied()
                .collect(),
            _ => Vec::new(),
        };
        let own: Vec<Segment> = match halves {
            // Each side of a cut takes its own seam along.
            Some(halves) => view.stitches.iter().map(|s| on_stage(&halves.along(s))).collect(),
            None => stitches,
        };
        // Stacks that lie idle keep theirs; what is touched shows those that it has now.
        let touched = |s: &Segment| {
            let middle = s.from.toward(s.to, 0.5);
            shot.set
                .iter()
                .any(|cloth| within(&cloth.outline, middle) || cloth.outline.distance_to_boundary(middle) < NEAR)
        };
        let opened: Vec<Segment> = self.stitches.iter().filter(|s| touched(s)).copied().collect();
        let pressed = match step {
            Step::Open { press, .. } => opened
                .iter()
                .flat_map(|seam| arrows(seam, *press, &self.meets, shot))
                .collect(),
            _ => Vec::new(),
        };
        self.stitches = match halves {
            Some(_) => own,
            None => self
                .stitches
                .iter()
                .filter(|s| !touched(s))
                .copied()
                .chain(own)
                .collect(),
        };
        shot.stitches = self.stitches.clone();
        shot.pressed = pressed;
        shot.marks = (view.marks.iter())
            .filter_map(|mark| match mark {
                // Of a line whose cloth has gone nothing is left to see.
                MarkView::Line(_, _, s) if s.from.distance(s.to) < NEAR => None,
                MarkView::Line(name, line, s) => Some(MarkView::Line(name.clone(), place.line(*line), on_stage(s))),
                MarkView::Dot(name, p) => Some(MarkView::Dot(name.clone(), place.point(*p))),
            })
            .collect();
        shot.cuts = view.cuts.iter().map(on_stage).collect();
        // An allowance that is folded under when a seam is opened has not come off.
        if !matches!(step, Step::Open { .. } | Step::Close { .. }) {
            shot.waste = view.waste.iter().map(|w| place.polygon(w)).collect();
        }
        shot.paper = view.paper.as_ref().map(|paper| {
            let lines = paper.lines.iter().map(on_stage).collect();
            (place.polygon(&paper.cutting), lines)
        });
        let paper = shot.paper.iter().flat_map(|(outline, _)| outline.corners()).copied();
        reach(&mut self.bounds, paper);
    }

    /// Carries a view's frame onto the stage, such that what lies lowest stays where it is.
    fn place_of(&self, view: &WorkView) -> Motion {
        view.layers
            .iter()
            .flat_map(|layer| &layer.pieces)
            .find_map(|piece| {
                let (_, lay) = self.before(piece)?;
                Some(piece.lies.inverse().then(&lay))
            })
            .unwrap_or(Motion::STILL)
    }

    /// How the piece lay, or the one that it was cut from: from its own frame onto the stage.
    fn before(&self, piece: &PieceView) -> Option<(Known, Motion)> {
        let from = [Some(piece.part), piece.cut_from];
        from.into_iter().flatten().find_map(|part| {
            let known = (part, piece.number);
            Some((known, self.lying.get(&known)?.lies))
        })
    }

    /// Pieces of which nothing is left: of parts that were cut apart, and of those in view when the step takes cloth off.
    fn taken_off(&self, step: &Step, view: &WorkView, cut: &[u32], seen: &[Known]) -> Vec<Known> {
        let takes = matches!(
            step,
            Step::Trim { .. } | Step::Open { .. } | Step::Pare { .. } | Step::CutOut { .. }
        );
        let pieces = view.layers.iter().flat_map(|l| &l.pieces);
        let parts: BTreeSet<u32> = if takes {
            pieces.map(|p| p.part).collect()
        } else {
            BTreeSet::new()
        };
        let lost = |known: &&Known| (cut.contains(&known.0) || parts.contains(&known.0)) && !seen.contains(known);
        self.lying.keys().filter(lost).copied().collect()
    }

    /// Puts a piece where it lies now, and says whether it lay and looked so already. Its wrong side shows when it lies above.
    fn put(&mut self, piece: &PieceView, lies: Motion, outline: Polygon, above: bool) -> (Cloth, bool) {
        let known = (piece.part, piece.number);
        let was = self.lying.get(&known).map(|was| &was.cloth);
        let number = was.map_or(self.numbers + 1, |was| was.number);
        let near = |was: &Cloth| {
            let (old, new) = (was.outline.corners(), outline.corners());
            let pairs = || old.iter().zip(new);
            was.above == above && old.len() == new.len() && pairs().all(|(a, b)| a.distance(*b) < 1.0e-6)
        };
        let same = was.is_some_and(near);
        self.numbers = self.numbers.max(number);
        reach(&mut self.bounds, outline.corners().iter().copied());
        let cloth = Cloth {
            number,
            fabric: piece.fabric.clone(),
            outline,
            wrong: above,
            above,
        };
        let lying = Lying {
            lies,
            cloth: cloth.clone(),
        };
        self.lying.insert(known, lying);
        (cloth, same)
    }
}

/// The way the allowances of an opened seam are pressed: the lower layer has stayed where it lay, the upper has moved.
fn arrows(seam: &Segment, press: Press, meets: &[Point], shot: &Shot) -> Vec<Segment> {
    let Some(line) = Line::between(seam.from, seam.to) else {
        return Vec::new();
    };
    let moved: Vec<PieceNumber> = shot.moved.iter().flat_map(|m| &m.pieces).copied().collect();
    let lower = shot.set.iter().filter(|cloth| !moved.contains(&cloth.number));
    let side: f64 = lower.map(|cloth| line.offset_of(cloth.outline.centroid())).sum();
    let toward_lower = if side >= 0.0 {
        line.along.left()
    } else {
        -line.along.left()
    };
    let middle = seam.from.toward(seam.to, 0.5);
    let long = (seam.from.distance(seam.to) / 4.0).clamp(0.2, 0.7);
    let way = |toward: Vector| Segment {
        from: middle,
        to: middle + toward * long,
    };
    match press {
        Press::TowardLower => vec![way(toward_lower)],
        Press::TowardUpper => vec![way(-toward_lower)],
        Press::Open => vec![way(toward_lower), way(-toward_lower)],
        Press::SpunLower | Press::SpunUpper => {
            // By turns, from each place where joints meet to the next.
            let mut turns: Vec<f64> = meets
                .iter()
                .filter(|&&at| line.offset_of(at).abs() < NEAR)
                .map(|&at| line.reach_of(at))
                .collect();
            let whole = seam.from.distance(seam.to);
            turns.retain(|&at| at > 0.0 && at < whole);
            turns.extend([0.0, whole]);
            turns.sort_by(f64::total_cmp);
            let stretches = turns.windows(2).enumerate().map(|(i, two)| {
                let lower_first = press == Press::SpunLower;
                let toward = if lower_first == (i % 2 == 0) {
                    toward_lower
                } else {
                    -toward_lower
                };
                let from = line.at((two[0] + two[1]) / 2.0);
                let long = ((two[1] - two[0]) / 2.0).clamp(0.2, 0.7);
                Segment {
                    from,
                    to: from + toward * long,
                }
            });
            stretches.collect()
        }
    }
}

/// What a cut parts, and how far it is drawn apart so that both sides can be seen.
struct Halves {
    cuts: Vec<Line>,
    by: f64,
}

impl Halves {
    fn of(step: &Step, view: &WorkView) -> Option<Halves> {
        if !matches!(step, Step::CutApart { .. } | Step::SubCut { .. }) {
            return None;
        }
        let cuts: Vec<Line> = view
            .cuts
            .iter()
            .filter_map(|cut| Line::between(cut.from, cut.to))
            .collect();
        let first = *cuts.first()?;
        // Cuts beside one another, all read the same way round.
        let cuts = (cuts.into_iter())
            .map(|cut| {
                if cut.along.dot(first.along) < 0.0 {
                    cut.reversed()
                } else {
                    cut
                }
            })
            .collect();
        // Sides of a stack open toward one another, so there must be room for both; lengths of a strip set only lie apart.
        let by = match step {
            Step::CutApart { .. } => {
                let corners = (view.layers.iter().flat_map(|l| &l.pieces)).flat_map(|p| p.outline.corners());
                let offsets: Vec<f64> = corners.map(|&c| first.offset_of(c)).collect();
                let low = offsets.iter().copied().fold(f64::INFINITY, f64::min);
                let high = offsets.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                GAP + high - low
            }
            _ => GAP,
        };
        Some(Halves { cuts, by })
    }

    /// How far the place of a piece goes from the first cut.
    fn shift(&self, piece: &PieceView) -> Motion {
        Motion::slide(self.shift_at(piece.outline.centroid()))
    }

    fn shift_at(&self, p: Point) -> Vector {
        let Some(first) = self.cuts.first() else {
            return Vector::default();
        };
        let beyond = self.cuts.iter().filter(|cut| cut.offset_of(p) > 0.0).count() as f64;
        first.along.left() * ((beyond - self.cuts.len() as f64 / 2.0) * self.by)
    }

    fn along(&self, s: &Segment) -> Segment {
        let shift = self.shift_at(s.from.toward(s.to, 0.5));
        Segment {
            from: s.from + shift,
            to: s.to + shift,
        }
    }
}

/// The raw edge that two works are laid together by, on the stage.
fn hinge(how: &Lay, view: &WorkView, place: &Motion) -> Option<Line> {
    let run: &[EdgeRef] = match how {
        Lay::Edges { a, .. } | Lay::Curve { a, .. } => &a.0,
        _ => return None,
    };
    let edge = |name: &EdgeRef| {
        let edges = (view.layers.iter().filter(|l| !l.turned_over))
            .flat_map(|l| &l.pieces)
            .flat_map(|p| &p.edges)
            .filter(move |(e, _)| e == name)
            .map(|(_, s)| *s);
        edges.collect::<Vec<_>>()
    };
    let first = edge(run.first()?);
    let last = edge(run.last()?);
    let line = Line::between(first.first()?.from, last.last()?.to).or_else(|| {
        let one = first.first()?;
        Line::between(one.from, one.to)
    })?;
    Some(place.line(line))
}

/// Where no edge says how, cloth is turned over about the side it comes from.
fn beside(outlines: &[&Polygon], back: &Motion) -> Option<Line> {
    let mut bounds = None;
    for outline in outlines {
        reach(&mut bounds, outline.corners().iter().copied());
    }
    let (low, high) = bounds?;
    let middle = low.toward(high, 0.5);
    let from = back.point(middle) - middle;
    let (x, y) = match from.x.abs() >= from.y.abs() {
        true => (if from.x > 0.0 { high.x } else { low.x }, 0.0),
        false => (0.0, if from.y > 0.0 { high.y } else { low.y }),
    };
    let along = if from.x.abs() >= from.y.abs() {
        Vector::new(0.0, 1.0)
    } else {
        Vector::new(1.0, 0.0)
    };
    Some(Line {
        through: Point::new(x, y),
        along,
    })
}

/// Whether a motion leaves an outline where it is.
fn still(motion: &Motion, outline: &Polygon) -> bool {
    alike(motion, &Motion::STILL, outline)
}

/// Whether two motions carry an outline to one place, within what the table counts as one place.
fn alike(a: &Motion, b: &Motion, outline: &Polygon) -> bool {
    let near = |&c: &Point| a.point(c).distance(b.point(c)) < NEAR;
    a.turns_over() == b.turns_over() && outline.corners().iter().all(near)
}

/// Whether a place lies within an outline (even-odd).
fn within(outline: &Polygon, p: Point) -> bool {
    let mut inside = false;
    for i in 0..outline.len() {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) {
            inside = !inside;
        }
    }
    inside
}

fn reach(bounds: &mut Option<(Point, Point)>, corners: impl Iterator<Item = Point>) {
    for c in corners {
        let (low, high) = bounds.unwrap_or((c, c));
        let low = Point::new(low.x.min(c.x), low.y.min(c.y));
        let high = Point::new(high.x.max(c.x), high.y.max(c.y));
        *bounds = Some((low, high));
    }
}

/// Carries a part's own frame to where it lies in the finished unit, by a piece that both show.
fn place_in(part: &WorkView, last: &WorkView) -> Option<Motion> {
    let there = || last.layers.iter().flat_map(|l| &l.pieces);
    let mut own = part.layers.iter().flat_map(|l| &l.pieces);
    own.find_map(|piece| {
        let now = there().find(|p| p.of == piece.of && p.number == piece.number)?;
        Some(piece.lies.inverse().then(&now.lies))
    })
}

/// Moves parts away from their middle until there is room between any two; parts about one centre go in rows. What has no
/// cloth, as printed paper, stays where it is.
fn apart(parts: &[WorkView], places: &[Motion]) -> Vec<Motion> {
    let boxes: Vec<Option<(Point, Point)>> = (parts.iter().zip(places))
        .map(|(part, place)| {
            let mut bounds = None;
            for piece in part.layers.iter().flat_map(|l| &l.pieces) {
                reach(&mut bounds, place.polygon(&piece.outline).corners().iter().copied());
            }
            bounds
        })
        .collect();
    let centres: Vec<Option<Point>> = boxes
        .iter()
        .map(|b| b.map(|(low, high)| low.toward(high, 0.5)))
        .collect();
    let known = || centres.iter().flatten();
    let sum = known().fold(Vector::default(), |sum, &c| sum + (c - Point::ORIGIN));
    let middle = Point::ORIGIN + sum * (1.0 / known().count().max(1) as f64);
    for step in 1..16 {
        let away =
            |centre: &Option<Point>| centre.map_or(Vector::default(), |c| (c - middle) * (f64::from(step) * 0.25));
        let shifts: Vec<Vector> = centres.iter().map(away).collect();
        let moved: Vec<(Point, Point)> = (boxes.iter().zip(&shifts))
            .filter_map(|(b, &shift)| b.map(|(low, high)| (low + shift, high + shift)))
            .collect();
        if !any_meet(&moved) {
            let slid = |(place, &shift): (&Motion, &Vector)| place.then(&Motion::slide(shift));
            return places.iter().zip(&shifts).map(slid).collect();
        }
    }
    in_rows(&boxes, places)
}

fn any_meet(boxes: &[(Point, Point)]) -> bool {
    boxes.iter().enumerate().any(|(i, (al, ah))| {
        boxes[i + 1..]
            .iter()
            .any(|(bl, bh)| al.x < bh.x + GAP && bl.x < ah.x + GAP && al.y < bh.y + GAP && bl.y < ah.y + GAP)
    })
}

/// Parts in rows, together about half as wide again as high, from the left, the first row on top.
fn in_rows(boxes: &[Option<(Point, Point)>], places: &[Motion]) -> Vec<Motion> {
    let known = || boxes.iter().flatten();
    let area: f64 = known().map(|(l, h)| (h.x - l.x + GAP) * (h.y - l.y + GAP)).sum();
    let widest = known().map(|(l, h)| h.x - l.x).fold(0.0, f64::max);
    let width = (area * 1.5).sqrt().max(widest);
    let (mut x, mut y, mut tall) = (0.0, 0.0, 0.0_f64);
    let mut placed = Vec::new();
    for (bounds, place) in boxes.iter().zip(places) {
        let Some((low, high)) = bounds else {
            placed.push(*place);
            continue;
        };
        if x > 0.0 && x + high.x - low.x > width {
            (x, y, tall) = (0.0, y - tall - GAP, 0.0);
        }
        placed.push(place.then(&Motion::slide(Vector::new(x - low.x, y - high.y))));
        x += high.x - low.x + GAP;
        tall = tall.max(high.y - low.y);
    }
    placed
}
