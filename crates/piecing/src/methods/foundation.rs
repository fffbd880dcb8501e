//! Foundation paper: a comb of patches sewn one after another to a printed sheet, line by line, in any sizes and at any
//! angles. The paper holds the true shape; the pieces are cut large, along ruler marks, and trimmed as they are sewn.

use super::covering::{self, Covering, Wanted};
use super::{Method, OwnSeam, Proposal, Toward};
use crate::bench::{Bench, edge, run};
use crate::class::Class;
use crate::combs::{Combs, Tooth};
use crate::joints::is_joined;
use crate::patch;
use crate::settings::Settings;
use crate::tokens::{BlockTokens, Content};
use crate::whys::{Whys, with_seams};
use design::Up;
use measure::{Printed, Way, Why};
use recipe::{
    AlongLine, DemandShape, Give, Lay, Measured, Paper, Path, Press, SewingLine, Size, Slot, Step, Take, Template,
    TemplateCorner, Turn,
};
use shape::allowance::with_allowance;
use shape::{Line, Motion, Point, Polygon, Vector};
use terms::FabricId;

/// What a designer pins.
pub const NAME: &str = "foundation";

/// Handling of a sheet: printed, cut out, at last taken off.
const PER_SHEET: u32 = 8;

/// Handling of a patch: a strip and a cut for it, fold and trim, lay, sew and press.
const PER_PATCH: u32 = 7;

/// One patch on the paper.
#[derive(Clone, Debug)]
struct Area {
    /// Index in its block.
    patch: u32,
    fabric: FabricId,
    up: Option<Up>,
    grain: Vector,
    /// Finished outline.
    outline: Polygon,
    /// What its piece must cover.
    must: Polygon,
    /// The line along which its piece is laid, itself on the left, through the line's start, and the line's length.
    along: (Line, f64),
}

/// A section.
#[derive(Clone, Debug)]
pub struct Foundation {
    outline: Polygon,
    cutting: Polygon,
    areas: Vec<Area>,
    /// How far the stitches go on beyond both ends of each line; one fewer than areas.
    further: Vec<f64>,
}

impl Foundation {
    /// A class that is a comb of patches.
    pub fn recognise(class: &Class, blocks: &[BlockTokens], combs: &mut Combs, settings: &Settings) -> Option<Self> {
        let block = blocks.get(class.home)?;
        if !class.is_convex() {
            return None;
        }
        // A strip that is joined of several is joined before it is sewn to anything.
        if class.faces.iter().any(|&face| is_joined(&block.tokens[face], settings)) {
            return None;
        }
        let order = combs.order(block, &class.faces, &class.outline)?;
        let seam = settings.seam_inches();
        let cutting = with_allowance(&class.outline, seam)?;
        // What is sewn before each line, and the same with its allowances, from the whole section back.
        let (mut sewn, mut raw) = (class.outline.clone(), cutting.clone());
        let mut areas: Vec<Area> = Vec::with_capacity(order.len());
        let mut further = Vec::new();
        for &Tooth { face, line } in order.iter().rev() {
            let Content::Patch {
                fabric,
                up,
                grain,
                patch,
                ..
            } = &block.tokens[face].content
            else {
                return None;
            };
            let area = |along: (Line, f64), outline: Polygon, must: Polygon| Area {
                patch: *patch,
                fabric: fabric.clone(),
                up: *up,
                grain: *grain,
                outline,
                must,
                along,
            };
            let Some(line) = line else {
                let along = match areas.last() {
                    // The first piece is laid along the first line, on its other side.
                    Some(first) => {
                        let (line, length) = first.along;
                        let from = line.at(length);
                        (
                            Line {
                                through: from,
                                ..line.reversed()
                            },
                            length,
                        )
                    }
                    // With no line at all, along the outline's side that is the paper's side 0.
                    None => {
                        let last = sewn.len() - 1;
                        (sewn.edge(last)?, sewn.corner(last).distance(sewn.corner(last + 1)))
                    }
                };
                areas.push(area(along, sewn.clone(), raw.clone()));
                break;
            };
            let (from, to) = stretch(&sewn, line)?;
            let start = Line {
                through: line.at(from),
                ..line
            };
            let (low, high) = stretch(&raw, start)?;
            further.push((-low).max(high - (to - from)).max(seam));
            areas.push(area((start, to - from), sewn.left_of(line), raw.left_of(line)));
            sewn = sewn.left_of(line.reversed());
            raw = raw.left_of(line.moved_left(seam).reversed());
        }
        areas.reverse();
        further.reverse();
        let foundation = Foundation {
            outline: class.outline.clone(),
            cutting,
            areas,
            further,
        };
        foundation.fits(settings).then_some(foundation)
    }

    /// As a way to make the unit.
    pub fn proposal(self) -> Proposal {
        let handling = PER_SHEET + PER_PATCH * self.areas.len() as u32;
        Proposal::new(self, handling)
    }

    /// Whether every piece can be cut from the width of its cloth.
    fn fits(&self, settings: &Settings) -> bool {
        let mut whys = Whys::default();
        (0..self.areas.len()).all(|k| {
            let Some(cloth) = settings.cloth(&self.areas[k].fabric) else {
                return false;
            };
            let usable = cloth.usable;
            match self.piece(k, settings, &mut whys) {
                Some((Covering { shape, .. }, _)) => {
                    let (w, h) = box_of(&shape);
                    cloth.holds(w, h) && (w.max(h) <= usable || self.areas[k].up.is_none())
                }
                None => false,
            }
        })
    }

    /// The patches whose grain is not as wanted: along or across their line, or the legs of a half square.
    pub fn off_grain(&self, settings: &Settings) -> Vec<u32> {
        let mut whys = Whys::default();
        let wrong = |k: &usize| {
            let area = &self.areas[*k];
            area.up.is_none()
                && self
                    .piece(*k, settings, &mut whys)
                    .is_some_and(|(covering, _)| !on_grain(area, &covering))
        };
        let mut found: Vec<u32> = (0..self.areas.len())
            .filter(wrong)
            .map(|k| self.areas[k].patch)
            .collect();
        found.sort_unstable();
        found
    }

    /// What to cut for an area, and how it may lie in its strip.
    fn piece(&self, number: usize, settings: &Settings, whys: &mut Whys) -> Option<(Covering, Vec<Turn>)> {
        let area = self.areas.get(number)?;
        let wanted = Wanted {
            line: area.along.0,
            must: area.must.clone(),
            area: area.outline.clone(),
            past: (number > 0).then(|| settings.seam_inches()),
        };
        let margin = covering::margin(settings, whys);
        let rectangle = covering::rectangle(&wanted, margin, settings, whys);
        let Some(up) = area.up else {
            let half = covering::half(&wanted, margin, settings, whys);
            // The grain first, then cloth.
            let rank = |c: &Covering| (!on_grain(area, c), c.cloth);
            let better = |half: &Covering| {
                let ((a, x), (b, y)) = (rank(half), rank(&rectangle));
                if a == b { x < y } else { b }
            };
            let chosen = half.filter(better).unwrap_or(rectangle);
            return Some((chosen, patch::lying(false, true)));
        };
        if let Some(turns) = patch::upright(area.along.0.along, up) {
            return Some((rectangle, turns));
        }
        // The print must stand as wanted whatever the line: the same rectangle, cut leaning round a template.
        let (w, h) = box_of(&rectangle.shape);
        let template = leaning(w, h, area.along.0.along, up)?;
        let shape = DemandShape::Template { template };
        Some((Covering { shape, ..rectangle }, patch::lying(up.two_way, false)))
    }

    /// As printed, the mirror image, its box from nothing; without its name.
    fn paper(&self) -> Option<Paper> {
        let (low, high) = self.cutting.bounds();
        let printed = |p: Point| {
            Some(TemplateCorner {
                right: Printed::nearest(high.x - p.x)?,
                up: Printed::nearest(p.y - low.y)?,
            })
        };
        // The other way round from the same first corner.
        let around = |p: &Polygon| -> Option<Vec<TemplateCorner>> {
            (0..p.len()).map(|i| printed(p.corner(p.len() - i))).collect()
        };
        let lines = self.areas.iter().skip(1).map(|area| {
            let (line, length) = area.along;
            Some(SewingLine {
                from: printed(line.at(length))?,
                to: printed(line.at(0.0))?,
            })
        });
        Some(Paper {
            name: String::new(),
            print: 0,
            outline: around(&self.outline)?,
            cutting: around(&self.cutting)?,
            lines: lines.collect::<Option<Vec<_>>>()?,
        })
    }
}

/// Whether a piece has its straight grain as the patch wants it.
fn on_grain(area: &Area, covering: &Covering) -> bool {
    let line = area.along.0.along;
    let along = match covering.shape {
        // The long edge runs back along the diagonal of the rectangle.
        DemandShape::Half { width, height, .. } => {
            let (w, h) = (width.inches(), height.inches());
            let long = (w * w + h * h).sqrt();
            let (c, s) = (-w / long, -h / long);
            // Turned so that the long edge comes to lie on the line, the rectangle's lower side lies so.
            Vector::new(c * line.x + s * line.y, c * line.y - s * line.x)
        }
        _ => line,
    };
    area.grain.dot(along).abs() < GRAIN || area.grain.cross(along).abs() < GRAIN
}

/// The sine of two degrees: no eye sees a grain that is less off.
const GRAIN: f64 = 0.035;

fn box_of(shape: &DemandShape) -> (f64, f64) {
    match shape {
        DemandShape::Rectangle { width, height }
        | DemandShape::Half { width, height, .. }
        | DemandShape::Shaped { width, height, .. } => (width.inches(), height.inches()),
        DemandShape::Template { template } => {
            let most = |f: fn(&TemplateCorner) -> Printed| {
                template.corners.iter().map(|c| f(c).to_inches()).fold(0.0, f64::max)
            };
            (most(|c| c.right), most(|c| c.up))
        }
        DemandShape::Quarter { side } => (side.inches(), side.inches()),
        DemandShape::Slant {
            height, lower, upper, ..
        } => (lower.inches() + upper.inches(), height.inches()),
    }
}

/// A rectangle that lies along a line of the unit, as it is cut so that its print stands as wanted there.
fn leaning(w: f64, h: f64, line: Vector, up: Up) -> Option<Template> {
    let onto = |x: Vector| Line {
        through: Point::ORIGIN,
        along: x,
    };
    let in_unit = Motion::line_to_line(onto(Vector::new(1.0, 0.0)), onto(line), false);
    let upright = Motion::line_to_line(onto(up.toward), onto(Vector::new(0.0, 1.0)), false);
    let raw = upright.polygon(&in_unit.polygon(&Polygon::rectangle(w, h)));
    let (low, _) = raw.bounds();
    let corners = raw
        .corners()
        .iter()
        .map(|c| {
            Some(TemplateCorner {
                right: Printed::nearest(c.x - low.x)?,
                up: Printed::nearest(c.y - low.y)?,
            })
        })
        .collect::<Option<Vec<_>>>()?;
    let name = String::new();
    Some(Template {
        name,
        corners,
        bows: Vec::new(),
        marks: Vec::new(),
        applique: None,
    })
}

/// From where to where a line runs through a convex outline.
fn stretch(outline: &Polygon, line: Line) -> Option<(f64, f64)> {
    let left = outline.left_of(line);
    let on = left.corners().iter().filter(|&&c| line.offset_of(c).abs() < 1.0e-9);
    let reaches: Vec<f64> = on.map(|&c| line.reach_of(c)).collect();
    let low = reaches.iter().copied().fold(f64::INFINITY, f64::min);
    let high = reaches.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (low < high).then_some((low, high))
}

impl Method for Foundation {
    fn name(&self) -> &'static str {
        NAME
    }

    fn label(&self) -> &'static str {
        "Section on paper"
    }

    fn settled(&self) -> Vec<OwnSeam> {
        // Each piece is turned over onto its area once it is sewn.
        let one = |area: &Area| {
            let (line, length) = area.along;
            OwnSeam {
                from: line.at(length),
                to: line.at(0.0),
                toward: Toward::Upper,
                fixed: true,
            }
        };
        self.areas.iter().skip(1).map(one).collect()
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let mark = settings.ruling.mark();
        let Some(paper) = self.paper() else { return Vec::new() };
        let margin = covering::margin(settings, bench.whys);
        let past = bench.whys.given("seam", settings.seam_inches());
        let mut section = bench.paper(paper);
        for (k, area) in self.areas.iter().enumerate() {
            let Some((covering, turns)) = self.piece(k, settings, bench.whys) else {
                return Vec::new();
            };
            let (piece, number) = match covering.shape {
                DemandShape::Rectangle { width, height } if area.up.is_none() => {
                    let (piece, edges) = bench.pieces.rectangle(width, height, &area.fabric);
                    (piece, edges[0])
                }
                shape => (bench.pieces.of(shape, &area.fabric, turns, None), covering.edge),
            };
            let piece = bench.take(Take::Piece(piece));
            let along = AlongLine {
                edge: edge(piece, number),
                past: covering.past,
                beyond: covering.beyond,
                margin,
            };
            let Some(line) = k.checked_sub(1) else {
                let into = bench.slot();
                bench.step(Step::Spread {
                    on: section,
                    piece,
                    along,
                    into,
                });
                section = into;
                continue;
            };
            let number = line as u32;
            bench.step(Step::Pare {
                of: section,
                line: number,
                past,
            });
            let (stack, into) = (bench.slot(), bench.slot());
            bench.step(Step::Lay {
                a: section,
                b: piece,
                how: Lay::OverPaper { line: number, along },
                into: stack,
            });
            let further = Why::given("allowance beyond the line's ends", self.further[line]);
            let beyond = bench.whys.size(further.to_mark(mark, Way::Up));
            bench.step(Step::Sew {
                stack,
                path: Path::OnPaper { beyond },
                join: false,
            });
            bench.step(Step::Open {
                stack,
                press: Press::TowardUpper,
                into,
            });
            section = into;
        }
        let into = bench.slot();
        bench.step(Step::CutOut { of: section, into });
        let n = self.outline.len() as u32;
        let side = |i: u32| run(into, n - 1 - i % n);
        for (across, is) in self.measures(bench.whys, settings) {
            bench.step(Step::Check {
                of: into,
                what: Measured::Across(side(across), side(across + 2)),
                is,
            });
        }
        vec![Give {
            slot: into,
            sides: (0..n).map(side).collect(),
            seams: Vec::new(),
        }]
    }
}

impl Foundation {
    /// The unfinished sizes of a rectangle that lie on marks, each with the side it is measured from.
    fn measures(&self, whys: &mut Whys, settings: &Settings) -> Vec<(u32, Size)> {
        if patch::rectangle_side(&self.outline).is_none() {
            return Vec::new();
        }
        let long = |i: usize| self.outline.corner(i).distance(self.outline.corner(i + 1));
        let sizes = [(0, "finished height", long(1)), (1, "finished width", long(0))];
        let on_mark =
            |&(_, _, size): &(u32, &str, f64)| settings.ruling.on_mark(size + 2.0 * settings.seam_inches()).is_some();
        let sizes: Vec<_> = sizes.into_iter().filter(on_mark).collect();
        let mark = settings.ruling.mark();
        let size = |(side, what, size): (u32, &str, f64)| {
            (
                side,
                whys.size(with_seams(what, size, settings.seam).to_mark(mark, Way::Nearest)),
            )
        };
        sizes.into_iter().map(size).collect()
    }
}

impl Bench<'_> {
    /// Takes a printed copy of a paper; it is named when the making is.
    fn paper(&mut self, paper: Paper) -> Slot {
        self.papers.push(paper);
        self.take(Take::Paper(String::new()))
    }
}
