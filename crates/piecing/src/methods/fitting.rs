//! Strips that are fitted as they are sewn: cut to measure first, trimmed flush with what they are sewn to, or the unit
//! trimmed to size. Keeps the names of the parts' edges, which change with every trim.

use super::sew_together::PartAtPlace;
use crate::bench::{Bench, corner, edge};
use crate::to_fit::{Across, Fit};
use crate::whys::with_seams;
use measure::{Length, Why};
use recipe::{EdgeRef, EdgeRun, LineRef, Ruler, Size, Slot, Step, TrimLine};
use shape::{Line, WELD};

/// The edges of the parts by their names now, and the slots the parts are in before they are sewn.
pub struct Named<'p> {
    parts: &'p [PartAtPlace],
    fits: &'p [Option<Fit>],
    /// For each part its slot.
    pub slots: Vec<Slot>,
    names: Vec<Vec<EdgeRef>>,
}

impl<'p> Named<'p> {
    /// All parts taken, strips cut to measure where they are to be.
    pub fn take(bench: &mut Bench<'_>, parts: &'p [PartAtPlace], fits: &'p [Option<Fit>]) -> Self {
        let slots: Vec<Slot> = parts.iter().map(|p| bench.take(p.handle.take.clone())).collect();
        let names = (parts.iter().zip(&slots))
            .map(|(part, &slot)| part.handle.edges.iter().map(|&e| edge(slot, e)).collect())
            .collect();
        let mut named = Named {
            parts,
            fits,
            slots,
            names,
        };
        for part in 0..parts.len() {
            if let Some(Fit {
                across: Across::Measured { cut, finished },
                along,
                ..
            }) = named.fit(part)
            {
                named.to_measure(bench, part, *along, cut, *finished);
            }
        }
        named
    }

    fn fit(&self, part: usize) -> Option<&'p Fit> {
        self.fits.get(part)?.as_ref()
    }

    /// How a part's edge is called now.
    pub fn edge(&self, part: usize, side: usize) -> EdgeRef {
        self.names[part][side % self.names[part].len()]
    }

    /// The part that is laid on the other of two neighbours: the second, but for a first one that runs past its end.
    pub fn upper(&self, first: usize) -> usize {
        let long = |part: usize| self.fit(part).is_some_and(|fit| fit.longer.is_some());
        if long(first) && first == 0 && !long(1) {
            first
        } else {
            first + 1
        }
    }

    /// By how much a part runs past the end of what it is sewn to; nothing where it is as long.
    pub fn past(&self, bench: &mut Bench<'_>, part: usize) -> Option<Size> {
        let fit = self.fit(part)?;
        let cut = fit.longer.as_ref()?;
        let finished = self.parts[part].outline.clone();
        let length = finished.corner(fit.along).distance(finished.corner(fit.along + 1));
        Some(off(bench, cut, "finished length", length))
    }

    /// Cuts a strip to its finished size across the seams, before it is sewn.
    fn to_measure(&mut self, bench: &mut Bench<'_>, part: usize, along: usize, cut: &Why, finished: f64) {
        let (from, end) = (self.edge(part, along), self.edge(part, along + 2));
        let seam = bench.settings.seam;
        let at = bench.whys.with_seams("as measured", finished, seam);
        let shave = off(bench, cut, "as measured", finished);
        let into = bench.slot();
        bench.step(Step::Trim {
            of: self.slots[part],
            lines: vec![TrimLine {
                ruler: Ruler::Beside {
                    line: LineRef::Edge(from),
                    at,
                    toward: corner(self.edge(part, along + 1), end),
                },
                off: EdgeRun(vec![end]),
                shave,
            }],
            into,
        });
        self.slots[part] = into;
        self.names[part][(along + 2) % 4] = edge(into, 0);
    }

    /// Trims the end of a strip just sewn, which runs past its neighbour, flush with that; gives the work.
    pub fn trim_flush(
        &mut self,
        bench: &mut Bench<'_>,
        work: Slot,
        (strip, other): (usize, usize),
        shave: Size,
    ) -> Slot {
        let Some(fit) = self.fit(strip) else { return work };
        // The strip is the upper layer, and runs past at the end of the lower run, which is the start of its own.
        let own = &self.parts[strip].outline;
        let seam_side = self.side_toward(strip, other, fit.along);
        let end = (seam_side + own.len() - 1) % own.len();
        let Some(line) = own.edge(end) else { return work };
        let Some(flush) = self.side_on(other, line) else {
            return work;
        };
        let at = bench.whys.given("flush", 0.0);
        let into = bench.slot();
        let toward = corner(
            self.edge(other, flush + self.parts[other].outline.len() - 1),
            self.edge(other, flush),
        );
        bench.step(Step::Trim {
            of: work,
            lines: vec![TrimLine {
                ruler: Ruler::Beside {
                    line: LineRef::Edge(self.edge(other, flush)),
                    at,
                    toward,
                },
                off: EdgeRun(vec![self.edge(strip, end)]),
                shave,
            }],
            into,
        });
        let sewn = strip.max(other);
        self.rename(line, 0..=sewn, edge(into, 0));
        into
    }

    /// Trims the unit to its size where a strip at its outside was cut wider; gives the work.
    pub fn trim_to_size(&mut self, bench: &mut Bench<'_>, mut work: Slot) -> Slot {
        let last = self.parts.len() - 1;
        for part in [0, last] {
            let Some(Fit {
                across: Across::Trimmed { cut, unit },
                along,
                ..
            }) = self.fit(part)
            else {
                continue;
            };
            let other = last - part;
            let inside = self.side_toward(part, if part == 0 { 1 } else { last - 1 }, *along);
            let outside = inside + 2;
            let own = &self.parts[part].outline;
            let width = own.corner(inside + 1).distance(own.corner(inside + 2));
            let Some(line) = own.edge(outside % 4) else { continue };
            let opposite = self.parts[other].outline.len();
            let Some(from) = (0..opposite).find(|&i| {
                self.parts[other].outline.edge(i).is_some_and(|e| {
                    e.along.dot(line.along) < 0.0
                        && e.along.cross(line.along).abs() < 1.0e-6
                        && (line.offset_of(self.parts[other].outline.corner(i)) - unit).abs() < 2.0 * WELD
                })
            }) else {
                continue;
            };
            let at = bench.whys.with_seams("finished across", *unit, bench.settings.seam);
            let shave = off(bench, cut, "finished width", width);
            let into = bench.slot();
            bench.step(Step::Trim {
                of: work,
                lines: vec![TrimLine {
                    ruler: Ruler::Beside {
                        line: LineRef::Edge(self.edge(other, from)),
                        at,
                        toward: corner(self.edge(part, outside + 3), self.edge(part, outside)),
                    },
                    off: EdgeRun(vec![self.edge(part, outside)]),
                    shave,
                }],
                into,
            });
            self.rename(line, part..=part, edge(into, 0));
            work = into;
        }
        work
    }

    /// The long side of a strip that lies at its neighbour.
    fn side_toward(&self, strip: usize, other: usize, along: usize) -> usize {
        let own = &self.parts[strip].outline;
        let away = self.parts[other].outline.centroid();
        // The neighbour lies to the right of the side it is sewn to.
        match own.edge(along) {
            Some(line) if line.offset_of(away) < 0.0 => along,
            _ => (along + 2) % 4,
        }
    }

    fn side_on(&self, part: usize, line: Line) -> Option<usize> {
        let outline = &self.parts[part].outline;
        (0..outline.len()).find(|&i| level(line, outline.corner(i)) && level(line, outline.corner(i + 1)))
    }

    /// What lies along a line that was cut has the cut's name.
    fn rename(&mut self, line: Line, parts: std::ops::RangeInclusive<usize>, name: EdgeRef) {
        for part in parts {
            let outline = &self.parts[part].outline;
            for i in 0..outline.len() {
                if level(line, outline.corner(i)) && level(line, outline.corner(i + 1)) {
                    self.names[part][i] = name;
                }
            }
        }
    }
}

fn level(line: Line, at: shape::Point) -> bool {
    line.offset_of(at).abs() < 2.0 * WELD
}

/// What of a cut size is more than the finished one and its seams.
fn off(bench: &mut Bench<'_>, cut: &Why, what: &str, finished: f64) -> Size {
    let seam: Length = bench.settings.seam;
    let more = Why::Less(Box::new(cut.clone()), Box::new(with_seams(what, finished, seam)));
    bench.whys.size(more)
}
