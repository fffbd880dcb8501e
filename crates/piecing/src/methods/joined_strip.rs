//! A rectangle longer than the cloth is wide: joined end to end from strips, counted as one patch.

use super::{Method, Proposal};
use crate::bench::{Bench, edge};
use crate::patch::{rectangle_side, upright};
use crate::settings::Settings;
use crate::whys::with_seams;
use design::Up;
use measure::{Way, Why};
use recipe::{DemandShape, EdgeRun, End, Give, Lay, Measured, Press, Step, Take, Turn};
use shape::{Polygon, WELD};
use terms::FabricId;

/// A patch made this way.
#[derive(Clone, Debug)]
pub struct JoinedStrip {
    length: f64,
    width: f64,
    fabric: FabricId,
    /// Side of the patch that is its lower long side.
    first: usize,
    usable: f64,
    /// How its strips must lie, where a print says.
    turns: Option<Vec<Turn>>,
}

impl JoinedStrip {
    /// A rectangle whose cut length exceeds the usable width and whose cut width does not; a print's up must run across it,
    /// else it is cut along the cloth in one piece.
    pub fn recognise(outline: &Polygon, fabric: &FabricId, up: Option<Up>, settings: &Settings) -> Option<Proposal> {
        let strip = JoinedStrip::of(outline, fabric, up, settings)?;
        let handling = 5 * strip.lengths(settings).len() as u32;
        Some(Proposal::new(strip, handling))
    }

    /// How many joins there are along a side of that finished length, when the patch is made so.
    pub fn joins(outline: &Polygon, fabric: &FabricId, up: Option<Up>, settings: &Settings, side: f64) -> usize {
        match JoinedStrip::of(outline, fabric, up, settings) {
            Some(strip) if (strip.length - side).abs() < WELD => strip.lengths(settings).len() - 1,
            _ => 0,
        }
    }

    fn of(outline: &Polygon, fabric: &FabricId, up: Option<Up>, settings: &Settings) -> Option<JoinedStrip> {
        let side = rectangle_side(outline)?;
        let cloth = settings.cloth(fabric)?;
        let seams = 2.0 * settings.seam_inches();
        let (w, h) = (
            outline.corner(0).distance(outline.corner(1)),
            outline.corner(1).distance(outline.corner(2)),
        );
        let (length, width, first) = if w >= h { (w, h, 0) } else { (h, w, 1) };
        if length + seams <= cloth.usable || width + seams > cloth.usable {
            return None;
        }
        let turns = match up {
            None => None,
            Some(up) => {
                let along = if first == 0 { side } else { side.left() };
                let turns = upright(along, up)?;
                if !turns.iter().all(|t| matches!(t, Turn::As | Turn::Half)) {
                    return None;
                }
                Some(turns)
            }
        };
        settings.ruling.on_mark(length + seams)?;
        settings.ruling.on_mark(width + seams)?;
        let usable = settings.ruling.round(cloth.usable, Way::Down)?.to_inches();
        Some(JoinedStrip {
            length,
            width,
            fabric: fabric.clone(),
            first,
            usable,
            turns,
        })
    }

    /// Cut lengths: whole widths, and what is still needed.
    fn lengths(&self, settings: &Settings) -> Vec<f64> {
        let seams = 2.0 * settings.seam_inches();
        let mut lengths = Vec::new();
        let mut need = self.length + seams;
        while need > self.usable + 1.0e-9 && lengths.len() < 64 {
            // A remainder too short to handle is made longer at the cost of the strip before it.
            let least = 4.0 * seams;
            let take = if need - (self.usable - seams) < least {
                self.usable - least
            } else {
                self.usable
            };
            lengths.push(take);
            need -= take - seams;
        }
        lengths.push(need);
        lengths
    }
}

impl Method for JoinedStrip {
    fn name(&self) -> &'static str {
        "joined strip"
    }

    fn label(&self) -> &'static str {
        "Long strip"
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let height = bench.whys.with_seams("finished width", self.width, settings.seam);
        let lengths = self.lengths(settings);
        let last = lengths.len() - 1;
        let parts: Vec<_> = lengths
            .iter()
            .enumerate()
            .map(|(i, &length)| {
                let why = if i < last {
                    Why::given("usable width", length)
                } else {
                    Why::Less(
                        Box::new(Why::Sum(vec![
                            with_seams("finished length", self.length, settings.seam),
                            Why::given("seam", settings.seam_inches())
                                .times(2 * last as i32, 1, 1)
                                .named("joins"),
                        ])),
                        Box::new(Why::given("strips before", lengths[..last].iter().sum())),
                    )
                };
                let width = bench.whys.size(why.to_mark(settings.ruling.mark(), Way::Nearest));
                let (piece, edges) = match &self.turns {
                    None => bench.pieces.rectangle(width, height, &self.fabric),
                    Some(turns) => {
                        let shape = DemandShape::Rectangle { width, height };
                        let piece = bench.pieces.of(shape, &self.fabric, turns.clone(), None);
                        (piece, [0, 1, 2, 3])
                    }
                };
                (bench.take(Take::Piece(piece)), edges)
            })
            .collect();
        let side = |part: usize, side: usize| edge(parts[part].0, parts[part].1[side]);
        let mut work = parts[0].0;
        for (left, right) in (0..last).map(|i| (i, i + 1)) {
            let laid = Lay::Edges {
                a: EdgeRun(vec![side(left, 1)]),
                b: EdgeRun(vec![side(right, 3)]),
                first: End::Even {
                    a: side(left, 0),
                    b: side(right, 0),
                },
                last: End::Even {
                    a: side(left, 2),
                    b: side(right, 2),
                },
                meets: Vec::new(),
            };
            work = bench.sew(work, parts[right].0, laid, Press::Open, true);
        }
        let round = [
            EdgeRun((0..=last).map(|p| side(p, 0)).collect()),
            EdgeRun(vec![side(last, 1)]),
            EdgeRun((0..=last).rev().map(|p| side(p, 2)).collect()),
            EdgeRun(vec![side(0, 3)]),
        ];
        let length = bench.whys.with_seams("finished length", self.length, settings.seam);
        for (i, is) in [(0, height), (1, length)] {
            let what = Measured::Across(round[i].clone(), round[i + 2].clone());
            bench.step(Step::Check { of: work, what, is });
        }
        let sides = (0..4).map(|i| round[(i + 4 - self.first) % 4].clone()).collect();
        vec![Give {
            slot: work,
            sides,
            seams: Vec::new(),
        }]
    }
}
