//! Log cabins: a middle, and strips sewn on round after round, each as long as what it is sewn to. Going round in one
//! turning direction, on two sides in turn (half log cabin), or on opposite sides (courthouse steps).
//!
//! Cut exact, every log has its length from the plan; cut long and trimmed flush, it has its length from the block, and only
//! its width is left to err. Seams are pressed away from the middle.

use super::upright::{Block, blocks};
use super::{Method, OwnSeam, Proposal, Toward, UnitView};
use crate::bench::{Bench, corner, edge};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use measure::{Length, Why};
use recipe::{EdgeRef, EdgeRun, End, Give, Lay, LineRef, Measured, Press, Ruler, Size, Step, Take, TrimLine};
use shape::{Point, Polygon, Vector};

/// Its name with logs cut to length.
pub const EXACT: &str = "log cabin rounds";

/// Its name with logs cut long and trimmed.
pub const TRIMMED: &str = "log cabin rounds, trimmed";

/// Fewer logs than this are no round.
const FEWEST_LOGS: usize = 4;

/// More logs than this (some dozen rounds) are not followed on one page, and are sewn as units within units.
const MOST_LOGS: usize = 60;

/// How much longer a log is cut that will be trimmed (common practice).
const LONGER: Length = Length::fraction(1, 2);

/// A middle with logs round it, cut to length.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    LogCabin::recognise(unit, settings, false)
}

/// The same, logs cut long and trimmed flush.
pub fn recognise_trimmed(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    LogCabin::recognise(unit, settings, true)
}

/// A unit made this way.
#[derive(Clone, Debug)]
pub struct LogCabin {
    middle: Block,
    /// In the order sewn.
    logs: Vec<Log>,
    trimmed: bool,
}

/// A log and the side it lies on.
#[derive(Clone, Debug)]
struct Log {
    block: Block,
    side: usize,
}

impl LogCabin {
    fn recognise(unit: &UnitView, settings: &Settings, trimmed: bool) -> Option<Proposal> {
        let along = rectangle_side(&unit.outline)?;
        if !(FEWEST_LOGS..=MOST_LOGS).contains(&unit.patches.len().saturating_sub(1)) || !unit.grain_along(along) {
            return None;
        }
        let (all, left, _) = blocks(unit)?;
        for size in left.iter().map(Block::size) {
            for side in [size.x, size.y] {
                settings.ruling.on_mark(side + 2.0 * settings.seam_inches())?;
            }
        }
        let (middle, mut logs) = peel(left, all)?;
        logs.reverse();
        let handling = 2 + logs.len() as u32 * if trimmed { 8 } else { 5 };
        Some(Proposal::new(LogCabin { middle, logs, trimmed }, handling))
    }
}

/// Takes the logs off from the outside in: each time one that covers a whole side, or the two on opposite sides; each time
/// across the ones before.
fn peel(mut left: Vec<Block>, mut all: Block) -> Option<(Block, Vec<Log>)> {
    let mut logs: Vec<Log> = Vec::new();
    let mut pairs: Option<bool> = None;
    while left.len() > 1 {
        let on = |side: usize| left.iter().position(|block| block.covers(side, &all));
        let mut sides: Vec<(usize, usize)> = (0..4).filter_map(|side| Some((side, on(side)?))).collect();
        // What is left at last, a middle and the first log, both cover a side: the log goes on with the turn.
        if let ([(one, a), (other, b)], 2, Some(false)) = (&sides[..], left.len(), pairs) {
            // On two sides in turn it lies on the side of the log before the last; else round the turn, on the one opposite.
            let before: Vec<usize> = logs.iter().rev().map(|log| log.side).collect();
            let next = match before[..] {
                [last, before, third, ..] if last == third => Some(before),
                [_, before, ..] => Some((before + 2) % 4),
                _ => None,
            };
            sides = vec![if next == Some(*other) { (*other, *b) } else { (*one, *a) }];
        }
        let both = match sides[..] {
            [_] => false,
            [(one, _), (other, _)] if other == one + 2 => true,
            _ => return None,
        };
        let across = logs.last().is_none_or(|log| log.side % 2 != sides[0].0 % 2);
        if *pairs.get_or_insert(both) != both || !across {
            return None;
        }
        sides.sort_by_key(|(_, at)| std::cmp::Reverse(*at));
        let mut taken = Vec::new();
        for (side, at) in sides {
            let block = left.remove(at);
            match side {
                0 => all.low.y = block.high.y,
                1 => all.high.x = block.low.x,
                2 => all.high.y = block.low.y,
                _ => all.low.x = block.high.x,
            }
            taken.push(Log { block, side });
        }
        taken.sort_by_key(|log| log.side);
        logs.extend(taken);
    }
    // The last to be found is the middle, and it fills what is left.
    let middle = left.pop()?;
    (logs.len() >= FEWEST_LOGS && (0..4).all(|side| middle.covers(side, &all))).then_some((middle, logs))
}

impl Method for LogCabin {
    fn name(&self) -> &'static str {
        if self.trimmed { TRIMMED } else { EXACT }
    }

    fn label(&self) -> &'static str {
        "Log cabin"
    }

    /// All away from the middle, since the next round lies over their ends.
    fn seams(&self, _: &Polygon) -> Vec<OwnSeam> {
        let one = |log: &Log| {
            let (low, high) = (log.block.low, log.block.high);
            let (from, to) = match log.side {
                0 => (Point::new(low.x, high.y), high),
                1 => (low, Point::new(low.x, high.y)),
                2 => (Point::new(high.x, low.y), low),
                _ => (high, Point::new(high.x, low.y)),
            };
            OwnSeam {
                from,
                to,
                toward: Toward::Upper,
                fixed: true,
            }
        };
        self.logs.iter().map(one).collect()
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let cut =
            |bench: &mut Bench<'_>, what: &str, finished: f64| bench.whys.with_seams(what, finished, settings.seam);
        let size = self.middle.size();
        let (width, height) = (
            cut(bench, "finished width of the middle", size.x),
            cut(bench, "finished height of the middle", size.y),
        );
        let (piece, numbers) = bench.pieces.rectangle(width, height, &self.middle.fabric);
        let middle = bench.take(Take::Piece(piece));
        let mut sides: [Vec<EdgeRef>; 4] = numbers.map(|number| vec![edge(middle, number)]);
        let (mut work, mut whole) = (middle, size);
        for log in &self.logs {
            let (k, before, after) = (log.side, (log.side + 3) % 4, (log.side + 1) % 4);
            let size = log.block.size();
            let (long, wide) = if k.is_multiple_of(2) {
                (size.x, size.y)
            } else {
                (size.y, size.x)
            };
            let long = self.length(bench, long);
            let wide_cut = cut(bench, "finished width of a log", wide);
            let (width, height) = if k.is_multiple_of(2) {
                (long, wide_cut)
            } else {
                (wide_cut, long)
            };
            let (piece, numbers) = bench.pieces.rectangle(width, height, &log.block.fabric);
            let slot = bench.take(Take::Piece(piece));
            let of = |side: usize| edge(slot, numbers[side]);
            let (Some(&ends), Some(&begins)) = (sides[before].last(), sides[after].first()) else {
                return Vec::new();
            };
            let last = if self.trimmed {
                let by = bench.whys.given("cut longer, to be trimmed", LONGER.to_inches());
                End::Overhang {
                    a: begins,
                    b: of(after),
                    by,
                }
            } else {
                End::Even {
                    a: begins,
                    b: of(after),
                }
            };
            let how = Lay::Edges {
                a: EdgeRun(sides[k].clone()),
                b: EdgeRun(vec![of((k + 2) % 4)]),
                first: End::Even { a: ends, b: of(before) },
                last,
                meets: Vec::new(),
            };
            work = bench.sew(work, slot, how, Press::TowardUpper, false);
            sides[k] = vec![of(k)];
            sides[before].push(of(before));
            if self.trimmed {
                let trimmed = self.trim(bench, work, begins, of(after), corner(of(k), of(before)));
                work = trimmed;
                sides[after] = vec![edge(trimmed, 0)];
            } else {
                sides[after].insert(0, of(after));
            }
            whole = if k.is_multiple_of(2) {
                Vector::new(whole.x, whole.y + wide)
            } else {
                Vector::new(whole.x + wide, whole.y)
            };
            let across = if k.is_multiple_of(2) { whole.y } else { whole.x };
            self.check(bench, work, &sides, k, across);
        }
        // The last log has measured one way; here is the other.
        let other = self.logs.last().map_or(0, |log| (log.side + 1) % 4);
        let across = if other.is_multiple_of(2) { whole.y } else { whole.x };
        self.check(bench, work, &sides, other, across);
        vec![Give {
            slot: work,
            sides: sides.into_iter().map(EdgeRun).collect(),
            seams: Vec::new(),
        }]
    }
}

impl LogCabin {
    /// A log as long as what it is sewn to, or longer where it will be trimmed.
    fn length(&self, bench: &mut Bench<'_>, finished: f64) -> Size {
        let settings = bench.settings;
        let mut parts = vec![crate::whys::with_seams(
            "finished length of a log",
            finished,
            settings.seam,
        )];
        if self.trimmed {
            parts.push(Why::given("cut longer, to be trimmed", LONGER.to_inches()));
        }
        bench.whys.size(Why::Sum(parts))
    }

    /// Trims a log's end flush with the side it runs past.
    fn trim(
        &self,
        bench: &mut Bench<'_>,
        of: recipe::Slot,
        flush: EdgeRef,
        end: EdgeRef,
        toward: recipe::CornerRef,
    ) -> recipe::Slot {
        let at = bench.whys.given("flush", 0.0);
        let shave = bench.whys.given("cut longer, to be trimmed", LONGER.to_inches());
        let into = bench.slot();
        bench.step(Step::Trim {
            of,
            lines: vec![TrimLine {
                ruler: Ruler::Beside {
                    line: LineRef::Edge(flush),
                    at,
                    toward,
                },
                off: EdgeRun(vec![end]),
                shave,
            }],
            into,
        });
        into
    }

    fn check(&self, bench: &mut Bench<'_>, of: recipe::Slot, sides: &[Vec<EdgeRef>; 4], side: usize, across: f64) {
        let settings = bench.settings;
        let is = bench.whys.with_seams("finished across", across, settings.seam);
        let what = Measured::Across(EdgeRun(sides[side].clone()), EdgeRun(sides[(side + 2) % 4].clone()));
        bench.step(Step::Check { of, what, is });
    }
}
