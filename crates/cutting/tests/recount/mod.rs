//! Counts and measures a cutting plan again, from the plan alone: no code of the planner is used. It follows
//! docs/recipe.md, section 1.
#![allow(dead_code, clippy::unwrap_used)] // Each test file uses its own part of this, and a test may stop.

use cutting::{ClothNote, Cutting};
use measure::{Length, PRINTED_PER_LENGTH, Why};
use recipe::{BoughtCloth, ClothPlan, Cut, Demand, DemandShape, Gives, Size, Strip, Template, Turn, WhyId};
use std::collections::BTreeMap;
use terms::{FabricId, PieceId};

pub const ALL_TURNS: [Turn; 4] = [Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];

/// Inches to the nearest unit.
pub fn inches(inches: f64) -> Length {
    Length::nearest(inches).unwrap()
}

/// A size with a derivation of its own.
pub fn size(length: f64, whys: &mut Vec<Why>) -> Size {
    let len = inches(length);
    whys.push(Why::given("size", len.to_inches()));
    Size {
        len,
        why: Some(WhyId(whys.len() as u32 - 1)),
    }
}

pub fn cloth(name: &str, usable: f64, square_up: f64) -> ClothNote {
    ClothNote {
        fabric: FabricId::new(name),
        usable,
        square_up,
        step: 4.5,
        shrink: 0.0,
        cut: None,
    }
}

pub fn demand(piece: &str, fabric: &str, count: u32, shape: DemandShape, turns: &[Turn]) -> Demand {
    Demand {
        piece: PieceId::new(piece),
        fabric: FabricId::new(fabric),
        count,
        shape,
        turns: turns.to_vec(),
    }
}

pub fn rectangle(width: f64, height: f64, whys: &mut Vec<Why>) -> DemandShape {
    DemandShape::Rectangle {
        width: size(width, whys),
        height: size(height, whys),
    }
}

type Vector = (i64, i64);

/// Turned by quarters counter-clockwise.
fn turned((x, y): Vector, quarters: usize) -> Vector {
    match quarters % 4 {
        0 => (x, y),
        1 => (-y, x),
        2 => (-x, -y),
        _ => (y, -x),
    }
}

fn quarters(turn: Turn) -> usize {
    ALL_TURNS.iter().position(|t| *t == turn).unwrap()
}

/// The edges of a four-sided demand as it is named.
fn edges(shape: &DemandShape) -> Option<[Vector; 4]> {
    match shape {
        DemandShape::Rectangle { width, height } => {
            let (w, h) = (width.len.units(), height.len.units());
            Some([(w, 0), (0, h), (-w, 0), (0, -h)])
        }
        DemandShape::Slant {
            height,
            lower,
            upper,
            lead,
            ..
        } => {
            let (a, b, h, l) = (lower.len.units(), upper.len.units(), height.len.units(), lead.units());
            Some([(a, 0), (l + b - a, h), (-b, 0), (-l, -h)])
        }
        _ => None,
    }
}

struct Recount<'a> {
    demands: Vec<&'a Demand>,
    templates: &'a [Template],
    counts: BTreeMap<PieceId, u64>,
    sizes: Vec<Size>,
}

impl Recount<'_> {
    fn demands(&self, piece: &PieceId) -> Result<Vec<&Demand>, String> {
        let found: Vec<&Demand> = self.demands.iter().filter(|d| d.piece == *piece).copied().collect();
        if found.is_empty() {
            Err(format!("{piece} was not asked for in this cloth"))
        } else {
            Ok(found)
        }
    }

    fn strip(&mut self, strip: &Strip, width: i64, times: u64) -> Result<(), String> {
        let times = times * u64::from(strip.times);
        let height = strip.height.len.units();
        if height <= 0 || strip.times == 0 {
            return Err("a strip of nothing".into());
        }
        self.sizes.push(strip.height);
        let (mut foot, mut head) = (0i64, 0i64);
        for run in &strip.runs {
            if run.times == 0 || run.cuts.is_empty() {
                return Err("a run of nothing".into());
            }
            for _ in 0..run.times {
                for cut in &run.cuts {
                    let (lower, upper) = (cut.lower.len.units(), cut.upper.len.units());
                    if lower < 0 || upper < 0 || lower + upper == 0 {
                        return Err(format!("a cut of {lower}, {upper}"));
                    }
                    self.cut(cut, (foot, head), height, times)?;
                    foot += lower;
                    head += upper;
                    if foot.max(head) > width {
                        return Err(format!("a cut at {foot}, {head} in {width}"));
                    }
                }
            }
            for cut in &run.cuts {
                self.sizes.extend([cut.lower, cut.upper]);
            }
        }
        let over = width - foot.max(head);
        let stacked: i64 = strip
            .rest
            .iter()
            .map(|s| s.height.len.units() * i64::from(s.times))
            .sum();
        if stacked > height {
            return Err(format!("{stacked} stacked in {height}"));
        }
        strip.rest.iter().try_for_each(|rest| self.strip(rest, over, times))
    }

    fn cut(&mut self, cut: &Cut, (foot, head): Vector, height: i64, times: u64) -> Result<(), String> {
        let (lower, upper) = (cut.lower.len.units(), cut.upper.len.units());
        let square = foot == head && lower == upper;
        let mut count = |piece: &PieceId| *self.counts.entry(piece.clone()).or_default() += times;
        match &cut.gives {
            Gives::Waste => Ok(()),
            Gives::Piece(piece) => {
                count(&piece.piece);
                let lies = [
                    (lower, 0),
                    (head + upper - foot - lower, height),
                    (-upper, 0),
                    (foot - head, -height),
                ];
                let q = quarters(piece.turn);
                let agrees = |demand: &&Demand| {
                    edges(&demand.shape).is_some_and(|named| {
                        demand.turns.contains(&piece.turn) && (0..4).all(|i| turned(named[i], q) == lies[(i + q) % 4])
                    })
                };
                if self.demands(&piece.piece)?.iter().any(agrees) {
                    Ok(())
                } else {
                    Err(format!("{} lies as {lies:?}, turned by {q}", piece.piece))
                }
            }
            Gives::Halves {
                rising,
                lower: a,
                upper: b,
            } => {
                count(&a.piece);
                count(&b.piece);
                let agrees = |piece: &PieceId, turn: Turn| {
                    Ok::<bool, String>(self.demands(piece)?.iter().any(|demand| {
                        demand.turns.contains(&turn)
                            && matches!(&demand.shape, DemandShape::Half { width, height: h, rising: r }
                                if r == rising && width.len.units() == lower && h.len.units() == height)
                    }))
                };
                let fine = square && agrees(&a.piece, Turn::As)? && agrees(&b.piece, Turn::Half)?;
                if fine {
                    Ok(())
                } else {
                    Err(format!("halves of {} do not agree", a.piece))
                }
            }
            Gives::Quarters(pieces) => {
                pieces.iter().for_each(|piece| count(&piece.piece));
                let fine = square
                    && pieces.len() == 4
                    && lower == height
                    && pieces.iter().zip(ALL_TURNS).all(|(piece, turn)| {
                        self.demands(&piece.piece).is_ok_and(|demands| {
                            demands.iter().any(|demand| {
                                demand.turns.contains(&turn)
                                    && matches!(&demand.shape, DemandShape::Quarter { side }
                                        if side.len.units() == height)
                            })
                        })
                    });
                if fine {
                    Ok(())
                } else {
                    Err("quarters do not agree".into())
                }
            }
            Gives::Shaped { piece, cuts } => {
                count(&piece.piece);
                let fine = square
                    && self.demands(&piece.piece)?.iter().any(|demand| {
                        demand.turns.contains(&Turn::As)
                            && matches!(&demand.shape, DemandShape::Shaped { width, height: h, cuts: c }
                                if c == cuts && width.len.units() == lower && h.len.units() == height)
                    });
                if fine {
                    Ok(())
                } else {
                    Err(format!("{} is shaped otherwise", piece.piece))
                }
            }
            Gives::Template { piece, template } => {
                count(&piece.piece);
                let print = self
                    .templates
                    .iter()
                    .find(|t| t.name == *template)
                    .ok_or("no such template")?;
                let places = |t: &Template| {
                    t.corners
                        .iter()
                        .map(|c| (c.right.units(), c.up.units()))
                        .collect::<Vec<_>>()
                };
                let drawn = places(print);
                let held = |side: i64| 0..=side * PRINTED_PER_LENGTH;
                let fits = drawn
                    .iter()
                    .all(|(x, y)| held(lower).contains(x) && held(height).contains(y));
                let sides = |p: &[Vector]| -> Vec<Vector> {
                    (0..p.len())
                        .map(|i| (p[(i + 1) % p.len()].0 - p[i].0, p[(i + 1) % p.len()].1 - p[i].1))
                        .collect()
                };
                let agrees = |demand: &&Demand| {
                    let DemandShape::Template { template } = &demand.shape else {
                        return false;
                    };
                    let wanted = sides(&places(template));
                    demand.turns.iter().any(|turn| {
                        let lies: Vec<Vector> = wanted.iter().map(|v| turned(*v, quarters(*turn))).collect();
                        lies == sides(&drawn)
                    })
                };
                let fine = square && fits && self.demands(&piece.piece)?.iter().any(agrees);
                if fine {
                    Ok(())
                } else {
                    Err(format!("{} has another template", piece.piece))
                }
            }
        }
    }
}

/// Counts everything again. `Ok` when all agrees with what was asked for; no finding may have been raised.
pub fn recount(demands: &[Demand], cloths: &[ClothNote], cutting: &Cutting, whys: &[Why]) -> Result<(), String> {
    if let Some(finding) = cutting.findings.first() {
        return Err(finding.to_string());
    }
    let mut counts: BTreeMap<PieceId, u64> = BTreeMap::new();
    let mut sizes = Vec::new();
    for plan in &cutting.plan.cloths {
        let note = cloths
            .iter()
            .find(|cloth| cloth.fabric == plan.fabric)
            .ok_or("unknown cloth")?;
        let bought = cutting
            .bought
            .cloths
            .iter()
            .find(|b| b.fabric == plan.fabric)
            .ok_or("not bought")?;
        let mut recount = Recount {
            demands: demands.iter().filter(|d| d.fabric == plan.fabric).collect(),
            templates: &cutting.plan.templates,
            counts: std::mem::take(&mut counts),
            sizes: vec![plan.usable, plan.square_up, bought.length, bought.usable, bought.bound],
        };
        if plan.usable.len != inches(note.usable) || bought.usable.len != inches(note.usable) {
            return Err("another width".into());
        }
        plan.strips
            .iter()
            .try_for_each(|strip| recount.strip(strip, plan.usable.len.units(), u64::from(plan.times())))?;
        counts = recount.counts;
        sizes.extend(recount.sizes);
        if let Some(cut) = note.cut {
            sizes.extend(plan.alike.map(|alike| alike.length));
            sizes.extend(bought.pieces.map(|pieces| pieces.each));
            in_pieces(cutting, plan, bought, note, cut.length)?;
            continue;
        }
        let used = used(cutting, &plan.fabric);
        let kept = bought.length.len.to_inches() * (1.0 - note.shrink);
        let step = inches(note.step);
        if kept + 1e-6 < used.to_inches()
            || bought.length.len.units() % step.units() != 0
            || (bought.length.len - step).to_inches() * (1.0 - note.shrink) > used.to_inches() - 1e-7
        {
            return Err(format!("{:?} bought for {used:?}", bought.length.len));
        }
        // The bound includes shrinkage; what is used, grown by it, may not be below.
        if bought.bound.len.to_inches() * (1.0 - note.shrink) > used.to_inches() + 1e-6 {
            return Err(format!("the bound {:?} is beaten by {used:?}", bought.bound.len));
        }
    }
    let mut wanted: BTreeMap<PieceId, u64> = BTreeMap::new();
    for demand in demands.iter().filter(|d| d.count > 0) {
        *wanted.entry(demand.piece.clone()).or_default() += u64::from(demand.count);
    }
    for (piece, extra) in &cutting.extra {
        *wanted.entry(piece.clone()).or_default() += u64::from(*extra);
    }
    if wanted != counts {
        return Err(format!("asked for and extra {wanted:?}, cut {counts:?}"));
    }
    for size in sizes {
        let why = size
            .why
            .and_then(|why| whys.get(why.0 as usize))
            .ok_or("a size without its why")?;
        if why.length() != Some(size.len) {
            return Err(format!("{:?} is not {why:?}", size.len));
        }
    }
    Ok(())
}

/// A lot of pieces sold cut: each holds its strips, and as many are bought as are cut.
fn in_pieces(
    cutting: &Cutting,
    plan: &ClothPlan,
    bought: &BoughtCloth,
    note: &ClothNote,
    length: f64,
) -> Result<(), String> {
    let (alike, pieces) = plan.alike.zip(bought.pieces).ok_or("cut off the bolt")?;
    let strips = plan.strips.iter().map(|s| s.height.len * i64::from(s.times));
    let used: Length = plan.square_up.len + strips.sum::<Length>();
    if pieces.each.len != inches(length) || alike.length.len.to_inches() > length * (1.0 - note.shrink) + 1e-6 {
        return Err(format!("{:?} of {length} in", alike.length.len));
    }
    if used > alike.length.len {
        return Err(format!("{used:?} in a piece of {:?}", alike.length.len));
    }
    let own = cutting.plan.cloths.iter().filter(|p| p.fabric == plan.fabric);
    let cut: u32 = own.map(ClothPlan::times).sum();
    if cut != pieces.count || pieces.least > pieces.count || pieces.least == 0 {
        return Err(format!("{cut} cut, {pieces:?} bought"));
    }
    let all = |count: u32| pieces.each.len * i64::from(count);
    if (bought.length.len, bought.bound.len) != (all(pieces.count), all(pieces.least)) {
        return Err("the lengths are not those of the pieces".into());
    }
    Ok(())
}

/// The length of a cloth that the plan uses, squaring up included.
pub fn used(cutting: &Cutting, fabric: &FabricId) -> Length {
    let plan = cutting.plan.cloths.iter().find(|plan| plan.fabric == *fabric);
    plan.map_or(Length::ZERO, |plan| {
        plan.square_up.len
            + plan
                .strips
                .iter()
                .map(|s| s.height.len * i64::from(s.times))
                .sum::<Length>()
    })
}

/// How many squares of a side can be had from a length of cloth, by the plan alone: the largest count whose plan is no
/// longer than that.
pub fn squares_from(side: f64, length: f64, usable: f64) -> u32 {
    let fits = |count: u32| {
        let mut whys = Vec::new();
        let cloths = [cloth("ground", usable, 0.0)];
        let demands = [demand(
            "A1",
            "ground",
            count,
            rectangle(side, side, &mut whys),
            &ALL_TURNS,
        )];
        let mark = Length::fraction(1, 8);
        let cutting = cutting::plan_cutting(&demands, &[], &cloths, mark, measure::Measure::Inch, &mut whys);
        recount(&demands, &cloths, &cutting, &whys).unwrap();
        used(&cutting, &cloths[0].fabric) <= inches(length)
    };
    let (mut low, mut high) = (0, 3000);
    while low < high {
        let middle = high - (high - low) / 2;
        if fits(middle) { low = middle } else { high = middle - 1 }
    }
    low
}
