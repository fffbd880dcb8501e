//! Strips that are fitted as they are sewn: cut to measure first, trimmed flush with what they are sewn to, or the unit
//! trimmed to size. Keeps the names of the parts' edges, which change with every trim.

use super::sew_together::{NoCommonSide, PartAtPlace, SeamEnds, measure_unit, meetings};
use super::sides;
use crate::bench::{Bench, corner, edge};
use crate::over::Reached;
use crate::to_fit::{Across, Fit, anchor_of};
use crate::whys::with_seams;
use measure::{Length, Why};
use recipe::{EdgeRef, EdgeRun, End, Give, Lay, LineRef, Press, Ruler, Size, Slot, Step, TrimLine};
use shape::{Line, Polygon, WELD};
use std::ops::RangeInclusive;

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
                named.cut_to_measure(bench, part, *along, cut, *finished);
            }
        }
        named
    }

    /// A part with its edges by their names now.
    fn as_it_is(&self, part: usize) -> PartAtPlace {
        PartAtPlace {
            cut: self.names[part].iter().map(|&name| Some(name)).collect(),
            ..self.parts[part].clone()
        }
    }

    fn fit(&self, part: usize) -> Option<&'p Fit> {
        self.fits.get(part)?.as_ref()
    }

    /// How a part's edge is called now.
    pub fn edge(&self, part: usize, side: usize) -> EdgeRef {
        self.names[part][side % self.names[part].len()]
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
    fn cut_to_measure(&mut self, bench: &mut Bench<'_>, part: usize, along: usize, cut: &Why, finished: f64) {
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
        (shave, sewn): (Size, RangeInclusive<usize>),
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
        self.rename(line, sewn, edge(into, 0));
        into
    }

    /// Trims what is sewn so far to its size where a strip at its outside was cut wider for that; gives the work.
    fn trim_to_size(&mut self, bench: &mut Bench<'_>, mut work: Slot, sewn: &RangeInclusive<usize>) -> Slot {
        let (first, last) = (*sewn.start(), *sewn.end());
        for (part, inner, other) in [(first, first + 1, last), (last, last.saturating_sub(1), first)] {
            let Some(Fit {
                across: Across::Trimmed { cut, parts, size },
                along,
                ..
            }) = self.fit(part)
            else {
                continue;
            };
            if parts != sewn || first == last {
                continue;
            }
            let inside = self.side_toward(part, inner, *along);
            let outside = inside + 2;
            let own = &self.parts[part].outline;
            let width = own.corner(inside + 1).distance(own.corner(inside + 2));
            let Some(line) = own.edge(outside % 4) else { continue };
            let opposite = self.parts[other].outline.len();
            let Some(from) = (0..opposite).find(|&i| {
                self.parts[other].outline.edge(i).is_some_and(|e| {
                    e.along.dot(line.along) < 0.0
                        && e.along.cross(line.along).abs() < 1.0e-6
                        && (line.offset_of(self.parts[other].outline.corner(i)) - size).abs() < 2.0 * WELD
                })
            }) else {
                continue;
            };
            let at = bench.whys.with_seams("finished across", *size, bench.settings.seam);
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
    fn rename(&mut self, line: Line, parts: RangeInclusive<usize>, name: EdgeRef) {
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

/// Sews the parts in order, each to the one before along `seams[i]`, strips among them fitted as `fits` says, and says where
/// their sides end up on the unit's outline.
///
/// # Errors
/// Two parts that share no side along their seam.
pub fn write(
    bench: &mut Bench<'_>,
    unit: &Polygon,
    (parts, fits): (&[PartAtPlace], &[Option<Fit>]),
    seams: &[Line],
    ways: &[Press],
) -> Result<Vec<Give>, NoCommonSide> {
    let mut named = Named::take(bench, parts, fits);
    // From the first part outward that is there as it will be, to the right, then to the left.
    let anchor = anchor_of(fits);
    let right = (anchor + 1..parts.len()).map(|part| (part, part - 1));
    let left = (0..anchor).rev().map(|part| (part, part + 1));
    let mut sewn = anchor..=anchor;
    let mut work = named.slots[anchor];
    for (upper, lower) in right.chain(left) {
        let i = upper.min(lower);
        let line = *seams.get(i).ok_or(NoCommonSide)?;
        let lying = |part: usize| if part == upper { named.slots[part] } else { work };
        sewn = *sewn.start().min(&upper)..=*sewn.end().max(&upper);
        let (a, b) = (named.as_it_is(lower), named.as_it_is(upper));
        let a_side = a.side_on(line).ok_or(NoCommonSide)?;
        let b_side = b.side_on(line).ok_or(NoCommonSide)?;
        let past = named.past(bench, upper);
        let joint = SeamEnds {
            slots: [named.slots[lower], named.slots[upper]],
            lying: [lying(lower), lying(upper)],
            sides: [a_side, b_side],
            parts: [&a, &b],
        };
        let (first, snip_first) = joint.end(bench, true, &Reached::AsDrawn).ok_or(NoCommonSide)?;
        let (mut last, snip_last) = joint.end(bench, false, &Reached::AsDrawn).ok_or(NoCommonSide)?;
        if let (Some(by), End::Even { a, b }) = (past, &last) {
            last = End::Overhang { a: *a, b: *b, by };
        }
        let length = a.outline.corner(a_side).distance(a.outline.corner(a_side + 1));
        let laid = Lay::Edges {
            a: EdgeRun(vec![named.edge(lower, a_side)]),
            b: EdgeRun(vec![named.edge(upper, b_side)]),
            first,
            last,
            meets: meetings(&a.joints[a_side], &b.joints[b_side], length),
        };
        // Decided of the first and the second part, whichever lies above.
        let press = match (ways.get(i).copied().unwrap_or(Press::TowardUpper), upper == i) {
            (Press::TowardUpper, true) => Press::TowardLower,
            (Press::TowardLower, true) => Press::TowardUpper,
            (press, _) => press,
        };
        let (under, over) = (lying(lower), lying(upper));
        work = bench.sew(under, over, laid, press, false);
        let along: Vec<EdgeRef> = snip_first.into_iter().chain(snip_last).flatten().collect();
        if !along.is_empty() {
            bench.step(Step::Snip { of: work, along });
        }
        if let Some(shave) = past {
            work = named.trim_flush(bench, work, (upper, lower), (shave, sewn.clone()));
        }
        work = named.trim_to_size(bench, work, &sewn);
    }
    let outlines: Vec<PartAtPlace> = (0..parts.len()).map(|i| named.as_it_is(i)).collect();
    let sides = sides::round(unit, &outlines, &named.slots)?;
    measure_unit(bench, unit, work, &sides);
    Ok(vec![Give {
        slot: work,
        sides,
        seams: Vec::new(),
    }])
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
