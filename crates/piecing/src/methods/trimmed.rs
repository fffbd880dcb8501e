//! Plain patches cut large and trimmed: a unit of rectangles whose outer pieces are cut larger along the unit's sides. It is
//! sewn in rows, and rows of rows, and trimmed to its size from a seam in each direction, so that what cuts and seams are out
//! does not go on beyond the unit. Where all seams run one way, the other way is squared from the first seam.

use super::upright::{Block, blocks};
use super::{Method, OwnSeam, Proposal, Taken, Toward, UnitView};
use crate::bench::{Bench, corner, edge, run, seam};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use measure::{Length, Way, Why};
use recipe::{
    CornerRef, EdgeRef, EdgeRun, End, Give, Lay, LineRef, Measured, Meet, PointRef, Press, Ruler, RulerAngle, SeamRef,
    Size, Slot, Step, Take, TrimLine,
};
use shape::{Motion, Point, Polygon, WELD};

/// What a designer pins.
pub const NAME: &str = "plain patches, trimmed";

/// How much larger a piece is cut along each side that will be trimmed, up to the mark (common practice).
const LARGER: Length = Length::fraction(1, 8);

/// More patches than this are no unit that is handled as one.
const MOST: usize = 36;

/// A rectangle that straight seams right across take apart into rectangles.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    let side = rectangle_side(&unit.outline)?;
    if !(2..=MOST).contains(&unit.patches.len()) || !unit.grain_along(side) {
        return None;
    }
    let (all, blocks, frame) = blocks(unit)?;
    let s = settings.seam_inches();
    let tree = Tree::of((0..blocks.len()).collect(), &blocks)?;
    for block in blocks.iter().chain([&all]) {
        // Every place a ruler is laid to is a sum of these.
        for length in [block.size().x, block.size().y] {
            settings.ruling.on_mark(length + 2.0 * s)?;
        }
    }
    settings.ruling.on_mark(s)?;
    let larger = settings.ruling.round(LARGER.to_inches(), Way::Up)?;
    let handling = 5 + 4 * blocks.len() as u32 + 4 * 2;
    let method = Trimmed {
        all,
        blocks,
        tree,
        larger,
        back: frame.inverse(),
    };
    Some(Proposal::new(method, handling).taken(Taken::Pinned))
}

/// Rectangles by where seams part them.
#[derive(Clone, Debug)]
enum Tree {
    /// One, by its number.
    One(usize),
    /// Beside one another from the left, or above one another from below.
    Row { upright: bool, parts: Vec<Tree> },
}

impl Tree {
    fn of(these: Vec<usize>, blocks: &[Block]) -> Option<Tree> {
        if let [one] = these[..] {
            return Some(Tree::One(one));
        }
        for upright in [false, true] {
            let (low, high) = if upright { (3, 1) } else { (0, 2) };
            let mut order = these.clone();
            order.sort_by(|&a, &b| blocks[a].reach(low).total_cmp(&blocks[b].reach(low)).then(a.cmp(&b)));
            let mut parts: Vec<Vec<usize>> = Vec::new();
            let mut so_far = f64::NEG_INFINITY;
            for at in order {
                match parts.last_mut() {
                    Some(part) if blocks[at].reach(low) < so_far - 2.0 * WELD => part.push(at),
                    _ => parts.push(vec![at]),
                }
                so_far = so_far.max(blocks[at].reach(high));
            }
            if parts.len() > 1 {
                let parts = parts.into_iter().map(|part| Tree::of(part, blocks));
                return Some(Tree::Row {
                    upright,
                    parts: parts.collect::<Option<_>>()?,
                });
            }
        }
        None
    }
}

/// A unit made this way.
#[derive(Clone, Debug)]
struct Trimmed {
    all: Block,
    blocks: Vec<Block>,
    tree: Tree,
    larger: Length,
    /// From the unit as it lies here to its class.
    back: Motion,
}

/// What is sewn so far.
struct Work {
    slot: Slot,
    low: Point,
    high: Point,
    /// On each side the raw edges, going round, with where each begins and ends along it.
    sides: [Vec<(EdgeRef, f64, f64)>; 4],
}

/// A seam sewn: whether it stands upright, where, and from where to where.
#[derive(Clone, Copy)]
struct Sewn {
    seam: SeamRef,
    upright: bool,
    at: f64,
}

/// One seam of the unit, in the order sewn.
struct Planned {
    from: Point,
    to: Point,
    toward_lower: bool,
    meets: u64,
}

impl Trimmed {
    /// The seams as they will be sewn, with the extent of what they join.
    fn planned(&self, tree: &Tree, toward_lower: bool, seams: &mut Vec<Planned>) -> (Point, Point, [Vec<f64>; 4]) {
        match tree {
            Tree::One(at) => (self.blocks[*at].low, self.blocks[*at].high, Default::default()),
            Tree::Row { upright, parts } => {
                let mut done: Option<(Point, Point, [Vec<f64>; 4])> = None;
                for (i, part) in parts.iter().enumerate() {
                    let (low, high, joints) = self.planned(part, i % 2 == 0, seams);
                    let Some((first, last, mut so_far)) = done else {
                        done = Some((low, high, joints));
                        continue;
                    };
                    let k = if *upright { 1 } else { 2 };
                    let (from, to) = match upright {
                        true => (Point::new(low.x, low.y), Point::new(low.x, high.y)),
                        false => (Point::new(high.x, low.y), Point::new(low.x, low.y)),
                    };
                    let meets = so_far[k]
                        .iter()
                        .filter(|a| joints[(k + 2) % 4].iter().any(|b| (*a - b).abs() < WELD));
                    seams.push(Planned {
                        from,
                        to,
                        toward_lower,
                        meets: meets.count() as u64,
                    });
                    let here = if *upright { low.x } else { low.y };
                    for side in [(k + 3) % 4, (k + 1) % 4] {
                        so_far[side].push(here);
                        so_far[side].extend(&joints[side]);
                    }
                    so_far[k].clone_from(&joints[k]);
                    let low = Point::new(first.x.min(low.x), first.y.min(low.y));
                    let high = Point::new(last.x.max(high.x), last.y.max(high.y));
                    done = Some((low, high, so_far));
                }
                done.unwrap_or((self.all.low, self.all.high, Default::default()))
            }
        }
    }

    fn all_planned(&self) -> Vec<Planned> {
        let mut seams = Vec::new();
        self.planned(&self.tree, false, &mut seams);
        seams
    }

    /// How much larger than finished and two seams something from `low` to `high` is cut, by its sides that will be trimmed.
    fn cut(&self, bench: &mut Bench<'_>, what: &str, (low, high): (f64, f64), (first, last): (f64, f64)) -> Size {
        let trimmed = [low - first, high - last].iter().filter(|off| off.abs() < WELD).count();
        let mut parts = vec![crate::whys::with_seams(what, high - low, bench.settings.seam)];
        parts.extend((0..trimmed).map(|_| Why::given("cut larger, to be trimmed", self.larger.to_inches())));
        bench.whys.size(Why::Sum(parts))
    }

    fn piece(&self, bench: &mut Bench<'_>, at: usize) -> Work {
        let (block, all) = (&self.blocks[at], &self.all);
        let width = self.cut(
            bench,
            "finished width",
            (block.low.x, block.high.x),
            (all.low.x, all.high.x),
        );
        let height = self.cut(
            bench,
            "finished height",
            (block.low.y, block.high.y),
            (all.low.y, all.high.y),
        );
        let (piece, numbers) = bench.pieces.rectangle(width, height, &block.fabric);
        let slot = bench.take(Take::Piece(piece));
        let along = [
            (block.low.x, block.high.x),
            (block.low.y, block.high.y),
            (block.high.x, block.low.x),
            (block.high.y, block.low.y),
        ];
        Work {
            slot,
            low: block.low,
            high: block.high,
            sides: [0, 1, 2, 3].map(|i| vec![(edge(slot, numbers[i]), along[i].0, along[i].1)]),
        }
    }

    /// Sews what a tree says; all its own seams go toward the lower layer, or toward the upper one.
    fn sew(&self, bench: &mut Bench<'_>, tree: &Tree, toward_lower: bool, sewn: &mut Vec<Sewn>) -> Option<Work> {
        let (upright, parts) = match tree {
            Tree::One(at) => return Some(self.piece(bench, *at)),
            Tree::Row { upright, parts } => (*upright, parts),
        };
        let mut done: Option<Work> = None;
        for (i, part) in parts.iter().enumerate() {
            // Neighbours go opposite ways, so that where their seams meet they nest.
            let next = self.sew(bench, part, i % 2 == 0, sewn)?;
            let Some(mut work) = done else {
                done = Some(next);
                continue;
            };
            let k = if upright { 1 } else { 2 };
            let (opposite, before, after) = ((k + 2) % 4, (k + 3) % 4, (k + 1) % 4);
            let even =
                |a: Option<&(EdgeRef, f64, f64)>, b: Option<&(EdgeRef, f64, f64)>| Some(End::Even { a: a?.0, b: b?.0 });
            let (lower, upper) = (&work.sides[k], &next.sides[opposite]);
            let meets = joints(lower)
                .enumerate()
                .filter_map(|(a, at)| {
                    let b = joints(upper).position(|other| (other - at).abs() < WELD)?;
                    Some(Meet {
                        a: a as u32,
                        b: b as u32,
                    })
                })
                .collect();
            let how = Lay::Edges {
                a: edges(lower),
                b: edges(upper),
                first: even(work.sides[before].last(), next.sides[before].first())?,
                last: even(work.sides[after].first(), next.sides[after].last())?,
                meets,
            };
            let press = if toward_lower {
                Press::TowardLower
            } else {
                Press::TowardUpper
            };
            work.slot = bench.sew(work.slot, next.slot, how, press, false);
            sewn.push(Sewn {
                seam: seam(work.slot),
                upright,
                at: if upright { next.low.x } else { next.low.y },
            });
            let [mut zero, mut one, mut two, mut three] = next.sides;
            let mut of_next = |side: usize| {
                std::mem::take(match side {
                    0 => &mut zero,
                    1 => &mut one,
                    2 => &mut two,
                    _ => &mut three,
                })
            };
            work.sides[k] = of_next(k);
            work.sides[before].extend(of_next(before));
            let mut longer = of_next(after);
            longer.append(&mut work.sides[after]);
            work.sides[after] = longer;
            work.low = Point::new(work.low.x.min(next.low.x), work.low.y.min(next.low.y));
            work.high = Point::new(work.high.x.max(next.high.x), work.high.y.max(next.high.y));
            done = Some(work);
        }
        done
    }

    /// Where the ruler lies for the cuts across one direction: beside a seam, or square to one.
    fn trim(&self, bench: &mut Bench<'_>, work: Work, sewn: &[Sewn]) -> Give {
        let s = bench.settings.seam;
        let shave = bench.whys.given("cut larger, to be trimmed", self.larger.to_inches());
        let into = bench.slot();
        let raw = |side: usize| edges(&work.sides[side]);
        let first = |side: usize| work.sides[side].first().map(|e| e.0);
        let last = |side: usize| work.sides[side].last().map(|e| e.0);
        // The seam sewn last of each direction is the longest.
        let of = |upright: bool| sewn.iter().rev().find(|seam| seam.upright == upright);
        let mut lines: Vec<TrimLine> = Vec::new();
        for side in [0, 1, 2, 3] {
            let upright = side % 2 == 1;
            let (Some(here), Some(from)) = (
                first(side),
                if side == 0 {
                    last(3)
                } else {
                    Some(edge(into, side as u32 - 1))
                },
            ) else {
                continue;
            };
            let toward: CornerRef = corner(from, here);
            let (low, high) = match upright {
                true => (self.all.low.x, self.all.high.x),
                false => (self.all.low.y, self.all.high.y),
            };
            let beyond = matches!(side, 1 | 2);
            let ruler = match of(upright) {
                Some(seam) => {
                    let finished = if beyond { high - seam.at } else { seam.at - low };
                    let at = Why::Sum(vec![
                        Why::given("from the seam, finished", finished),
                        Why::given("seam", s.to_inches()),
                    ]);
                    Ruler::Beside {
                        line: LineRef::Seam(seam.seam),
                        at: bench.whys.size(at),
                        toward,
                    }
                }
                // No seam runs this way: the first of the two cuts is square to one that does, the second as far from it as
                // the unit is large.
                None if side < 2 => self.squared(bench, sewn, side, &work),
                None => Ruler::Beside {
                    line: LineRef::Edge(edge(into, side as u32 - 2)),
                    at: bench.whys.with_seams("finished across", high - low, s),
                    toward,
                },
            };
            lines.push(TrimLine {
                ruler,
                off: raw(side),
                shave,
            });
        }
        bench.step(Step::Trim {
            of: work.slot,
            lines,
            into,
        });
        let size = self.all.size();
        for (p, q, what, across) in [(0, 2, "finished height", size.y), (3, 1, "finished width", size.x)] {
            let is = bench.whys.with_seams(what, across, s);
            bench.step(Step::Check {
                of: into,
                what: Measured::Across(run(into, p), run(into, q)),
                is,
            });
        }
        Give {
            slot: into,
            sides: (0..4).map(|side| run(into, side)).collect(),
            seams: Vec::new(),
        }
    }

    /// A cut square to the seams, so far in from a side as it is cut larger, measured along the next side.
    fn squared(&self, bench: &mut Bench<'_>, sewn: &[Sewn], side: usize, work: &Work) -> Ruler {
        let by = bench.whys.given("cut larger, to be trimmed", self.larger.to_inches());
        let like = work.sides[side][0].0;
        let end = work.sides[side].last().map_or(like, |e| e.0);
        let next = work.sides[side + 1].first().map_or(like, |e| e.0);
        Ruler::Angle {
            line: sewn.last().map_or(LineRef::Edge(next), |seam| LineRef::Seam(seam.seam)),
            angle: RulerAngle::Ninety,
            through: PointRef::Along {
                from: corner(end, next),
                edge: next,
                by,
            },
            like,
        }
    }
}

fn edges(side: &[(EdgeRef, f64, f64)]) -> EdgeRun {
    EdgeRun(side.iter().map(|e| e.0).collect())
}

/// Where one edge of a side ends and the next begins.
fn joints(side: &[(EdgeRef, f64, f64)]) -> impl Iterator<Item = f64> + '_ {
    side.windows(2).map(|two| two[0].2)
}

impl Method for Trimmed {
    fn name(&self) -> &'static str {
        NAME
    }

    fn label(&self) -> &'static str {
        "Unit cut large and trimmed"
    }

    fn seams(&self, _: &Polygon) -> Vec<OwnSeam> {
        let one = |seam: Planned| OwnSeam {
            from: self.back.point(seam.from),
            to: self.back.point(seam.to),
            toward: if seam.toward_lower {
                Toward::Lower
            } else {
                Toward::Upper
            },
            fixed: true,
        };
        self.all_planned().into_iter().map(one).collect()
    }

    fn nests_within(&self) -> u64 {
        self.all_planned().iter().map(|seam| seam.meets).sum()
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let mut sewn = Vec::new();
        let work = self.sew(bench, &self.tree, false, &mut sewn);
        work.map(|work| self.trim(bench, work, &sewn)).into_iter().collect()
    }
}
