//! Patches laid on a ground: what is cut for each, the printed sheet that shows where they lie, and the steps.

use crate::bench::{Bench, run};
use crate::class::{ClassId, Placed};
use crate::methods::sew_together::PartAtPlace;
use crate::outset::outset;
use crate::patch::{frame_of, lying};
use crate::settings::Settings;
use design::{BlockMap, Grain, GroundEdge, MapLaid, Up};
use measure::Printed;
use recipe::{
    DemandShape, EdgeRun, Give, Guide, GuideShape, ShapeEdge, Step, Stretch, Template, TemplateCorner, TemplateLine,
};
use shape::{Line, Motion, Point, Polygon, Vector, WELD};
use terms::{Finding, Place};

/// How much further than the turn-under a shape must lie over an edge for it to be left flat.
const MARGIN: f64 = 1.0 / 32.0;

/// What lies on a class's ground.
#[derive(Clone, Debug)]
pub struct Ground {
    /// The ground, sewn together.
    pub base: Placed,
    /// The shapes, from below up, in the class's frame.
    pub shapes: Vec<LaidShape>,
}

/// One shape.
#[derive(Clone, Debug)]
pub struct LaidShape {
    /// The finished patch.
    pub patch: MapLaid,
    /// Its line on the sheet: the finished outline, out to the raw edge where it is sewn into a seam.
    line: Polygon,
    /// As it is cut.
    cut: Polygon,
    under: Vec<Stretch>,
    level: Vec<Stretch>,
}

/// The shapes of a block.
///
/// # Errors
/// A stop finding for an outline round which no edge can be turned under.
pub fn shapes_of(map: &BlockMap, settings: &Settings) -> Result<Vec<LaidShape>, Vec<Finding>> {
    let mut shapes = Vec::new();
    let mut findings = Vec::new();
    for patch in &map.laid {
        match shape_of(patch, &map.outline, settings) {
            Some(shape) => shapes.push(shape),
            None => findings.push(Finding::stop(
                "edge-cannot-turn",
                Place::Block {
                    name: map.name.clone(),
                    patches: vec![patch.patch],
                    at: Some(patch.outline.centroid()),
                },
                format!(
                    "The edge of patch {} cannot be turned under all round.",
                    patch.patch + 1
                ),
                "Draw its outline with fewer and larger bends, or leave its edge raw.",
            )),
        }
    }
    if !findings.is_empty() {
        return Err(findings);
    }
    let turn = settings.turn_under.to_inches();
    for k in 0..shapes.len() {
        if shapes[k].patch.edge == GroundEdge::Turned {
            let later: Vec<Polygon> = shapes[k + 1..].iter().map(|s| s.line.clone()).collect();
            shapes[k].under = covered(&shapes[k], &later, turn);
        }
    }
    Ok(shapes)
}

fn shape_of(patch: &MapLaid, block: &Polygon, settings: &Settings) -> Option<LaidShape> {
    let (line, level) = line_of(&patch.outline.simplified(1.0e-6), block, settings.seam_inches())?;
    let n = line.len();
    let is_level = |edge: usize| level.iter().any(|s| holds_edge(s, edge, n));
    let turn = settings.turn_under.to_inches();
    let cut = match patch.edge {
        GroundEdge::Raw => line.clone(),
        GroundEdge::Turned => {
            let by: Vec<f64> = (0..n).map(|i| if is_level(i) { 0.0 } else { turn }).collect();
            let cut = outset(&line, &by)?;
            turns_all_round(&line, &cut, turn, &is_level).then_some(cut)?
        }
    };
    Some(LaidShape {
        patch: patch.clone(),
        line,
        cut,
        under: Vec::new(),
        level,
    })
}

/// Whether a stretch takes in the edge that begins at a corner.
fn holds_edge(stretch: &Stretch, edge: usize, n: usize) -> bool {
    let from = stretch.from as usize;
    (edge + n - from) % n < (stretch.to as usize + n - from) % n
}

/// The line on the sheet: sides that lie on the block's outline move out to the raw edge.
fn line_of(outline: &Polygon, block: &Polygon, seam: f64) -> Option<(Polygon, Vec<Stretch>)> {
    let sides: Vec<Line> = (0..block.len()).filter_map(|i| block.edge(i)).collect();
    let n = outline.len();
    let on: Vec<Option<Vector>> = (0..n)
        .map(|i| {
            let along = |side: &&Line| {
                [outline.corner(i), outline.corner(i + 1)]
                    .iter()
                    .all(|&p| side.offset_of(p).abs() <= WELD)
            };
            sides.iter().find(along).map(|side| side.along.left() * -seam)
        })
        .collect();
    let mut corners = Vec::with_capacity(n + 4);
    // For each corner of the line whether the edge that begins there is level.
    let mut level = Vec::new();
    for i in 0..n {
        let corner = outline.corner(i);
        let mut put = |p: Point, is_level: bool| {
            corners.push(p);
            level.push(is_level);
        };
        match (on[(i + n - 1) % n], on[i]) {
            (None, None) => put(corner, false),
            (None, Some(out)) => {
                put(corner, false);
                put(corner + out, true);
            }
            (Some(out), None) => {
                put(corner + out, false);
                put(corner, false);
            }
            (Some(a), Some(b)) if a.cross(b).abs() > 1.0e-9 => put(corner + a + b, true),
            (Some(out), Some(_)) => put(corner + out, true),
        }
    }
    let m = corners.len();
    let mut stretches = Vec::new();
    if level.iter().all(|&l| l) {
        // All of the ground: a stretch cannot go once round and end where it begins, so two do.
        let half = m as u32 / 2;
        stretches.extend([Stretch { from: 0, to: half }, Stretch { from: half, to: 0 }]);
    } else {
        for i in (0..m).filter(|&i| level[i] && !level[(i + m - 1) % m]) {
            let length = (0..m).take_while(|&k| level[(i + k) % m]).count();
            stretches.push(Stretch {
                from: i as u32,
                to: ((i + length) % m) as u32,
            });
        }
    }
    (m >= 3).then(|| (Polygon::new(corners), stretches))
}

/// Whether the cut outline leaves as much to turn under as it should, everywhere, and not more than twice that.
fn turns_all_round(line: &Polygon, cut: &Polygon, turn: f64, is_level: &dyn Fn(usize) -> bool) -> bool {
    const NOISE: f64 = 1.0 / 256.0;
    let level: Vec<Line> = (0..line.len())
        .filter(|&i| is_level(i))
        .filter_map(|i| line.edge(i))
        .collect();
    let n = cut.len();
    let runs_level = |i: usize| {
        level.iter().any(|l| {
            [cut.corner(i), cut.corner(i + 1)]
                .iter()
                .all(|&p| l.offset_of(p).abs() <= NOISE)
        })
    };
    (0..n).all(|i| {
        let (a, b) = (cut.corner(i), cut.corner(i + 1));
        if runs_level(i) {
            return true;
        }
        let there = line.distance_to_boundary(a.toward(b, 0.5));
        let corner_counts = !runs_level((i + n - 1) % n);
        there >= turn - NOISE
            && there <= 2.0 * turn + NOISE
            && (!corner_counts || line.distance_to_boundary(a) >= turn - NOISE)
    })
}

/// Whether a place lies inside an outline of any shape.
fn inside(outline: &Polygon, p: Point) -> bool {
    let mut inside = false;
    for i in 0..outline.len() {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            inside = !inside;
        }
    }
    inside
}

/// The stretches of a shape that lie so far under a later one, each under one all along, that their edge need not be turned.
fn covered(shape: &LaidShape, later: &[Polygon], turn: f64) -> Vec<Stretch> {
    let n = shape.line.len();
    let flat: Vec<Vec<bool>> = later.iter().map(|over| flat_under(shape, over, turn)).collect();
    let Some(start) = (0..n).find(|&i| flat.iter().all(|f| !f[i])) else {
        // Hidden altogether: turned all round, since nobody sees it and nothing is gained.
        return Vec::new();
    };
    let mut stretches = Vec::new();
    let mut k = 0;
    while k < n {
        let length = |f: &Vec<bool>| (k..n).take_while(|&j| f[(start + j) % n]).count();
        let longest = flat.iter().map(length).max().unwrap_or(0);
        if longest > 0 {
            stretches.push(Stretch {
                from: ((start + k) % n) as u32,
                to: ((start + k + longest) % n) as u32,
            });
        }
        k += longest.max(1);
    }
    stretches
}

/// The edges of a shape that lie so far under that other that they need not be turned.
fn flat_under(shape: &LaidShape, over: &Polygon, turn: f64) -> Vec<bool> {
    let line = &shape.line;
    let n = line.len();
    let depth = |p: Point| {
        let off = over.distance_to_boundary(p);
        if inside(over, p) { off } else { -off }
    };
    let deep = |p: Point| depth(p) >= turn + MARGIN;
    let corners: Vec<bool> = line.corners().iter().map(|&c| deep(c)).collect();
    let mut flat: Vec<bool> = (0..n)
        .map(|i| {
            let level = shape.level.iter().any(|s| holds_edge(s, i, n));
            let next = (i + 1) % n;
            !level && corners[i] && corners[next] && deep(line.corner(i).toward(line.corner(next), 0.5))
        })
        .collect();
    // What is cut outside such an edge must be covered too; what is cut at a corner lies outside both its edges.
    for &c in shape.cut.corners() {
        let to = |k: usize| Polygon::new(vec![line.corner(k), line.corner(k + 1)]).distance_to_boundary(c);
        let nearest = (0..n).map(to).fold(f64::INFINITY, f64::min);
        if depth(c) < MARGIN {
            for (edge, flat) in flat.iter_mut().enumerate() {
                *flat &= to(edge) > nearest + MARGIN;
            }
        }
    }
    flat
}

impl Ground {
    /// The corner shifts of the class's outline that carry the ground and all that lies on it onto themselves.
    pub fn symmetries(&self, outline: &Polygon, base: &Polygon, of_base: &[usize]) -> Vec<usize> {
        let close = |a: Point, b: Point| a.distance(b) <= 1.0e-4;
        let n = outline.len();
        let apart = (0..self.shapes.len()).all(|i| (0..i).all(|j| !self.touch(i, j)));
        let fits = |shift: usize| -> bool {
            let (Some(from), Some(onto)) = (outline.edge(0), outline.edge(shift)) else {
                return false;
            };
            let turn = Motion::line_to_line(from, onto, false);
            if !(0..n).all(|i| close(turn.point(outline.corner(i)), outline.corner(i + shift))) {
                return false;
            }
            let first = self.base.motion.then(&turn).point(base.corner(0));
            let ground =
                (0..base.len()).any(|s| of_base.contains(&s) && close(self.base.motion.point(base.corner(s)), first));
            let lands = |k: usize, j: usize| {
                let (a, b) = (&self.shapes[k], &self.shapes[j]);
                let turned = turn.polygon(&a.line);
                let m = turned.len();
                a.patch.fabric == b.patch.fabric
                    && a.patch.edge == b.patch.edge
                    && a.patch.up.is_none()
                    && b.patch.up.is_none()
                    && m == b.line.len()
                    && (0..m).any(|s| (0..m).all(|i| close(turned.corner(i), b.line.corner(i + s))))
            };
            ground
                && (0..self.shapes.len()).all(|k| {
                    if apart {
                        (0..self.shapes.len()).any(|j| lands(k, j))
                    } else {
                        lands(k, k)
                    }
                })
        };
        (0..n).filter(|&shift| shift == 0 || fits(shift)).collect()
    }

    /// Whether the upright rectangles round two shapes have something in common.
    fn touch(&self, i: usize, j: usize) -> bool {
        let ((al, ah), (bl, bh)) = (self.shapes[i].line.bounds(), self.shapes[j].line.bounds());
        al.x <= bh.x && bl.x <= ah.x && al.y <= bh.y && bl.y <= ah.y
    }

    /// The sheet.
    pub fn guide(&self, name: &str, outline: &Polygon) -> Option<Guide> {
        let shapes = self
            .shapes
            .iter()
            .map(|shape| {
                Some(GuideShape {
                    line: printed(&shape.line, Point::ORIGIN)?,
                    under: shape.under.clone(),
                    level: shape.level.clone(),
                })
            })
            .collect::<Option<Vec<_>>>()?;
        Some(Guide {
            name: name.to_string(),
            outline: printed(outline, Point::ORIGIN)?,
            shapes,
        })
    }

    /// The steps: lay the sheet, then piece by piece.
    pub fn write(
        &self,
        bench: &mut Bench<'_>,
        outline: &Polygon,
        part: &PartAtPlace,
        guide: &str,
    ) -> Option<Vec<Give>> {
        let on = bench.take(part.handle.take.clone());
        let sides: Vec<EdgeRun> = (0..outline.len())
            .map(|i| {
                let side = (0..part.outline.len())
                    .find(|&s| part.outline.corner(s).distance(outline.corner(i)) <= 2.0 * WELD)?;
                Some(run(on, *part.handle.edges.get(side)?))
            })
            .collect::<Option<_>>()?;
        bench.step(Step::Guide {
            on,
            guide: guide.to_string(),
            sides: sides.clone(),
        });
        for (k, shape) in self.shapes.iter().enumerate() {
            let piece = shape.piece(bench)?;
            let edge = match shape.patch.edge {
                GroundEdge::Raw => ShapeEdge::Raw,
                GroundEdge::Turned => ShapeEdge::Turned {
                    by: bench.whys.given("turn-under", bench.settings.turn_under.to_inches()),
                },
            };
            bench.step(Step::StitchDown {
                piece,
                on,
                guide: guide.to_string(),
                shape: k as u32,
                edge,
            });
        }
        Some(vec![Give {
            slot: on,
            sides,
            seams: Vec::new(),
        }])
    }
}

impl LaidShape {
    /// Takes the piece cut for it.
    fn piece(&self, bench: &mut Bench<'_>) -> Option<recipe::Slot> {
        let x = match (self.patch.up, self.patch.grain) {
            (Some(Up { toward, .. }), _) => -toward.left(),
            (None, Grain::Along(along)) => along.unit()?,
            (None, Grain::Auto) => Vector::new(1.0, 0.0),
        };
        let frame = frame_of(x);
        let (cut, line) = (frame.polygon(&self.cut), frame.polygon(&self.line));
        let (low, _) = cut.bounds();
        let from_back = self.patch.edge == GroundEdge::Raw;
        let mut corners = printed(&cut, low)?;
        let mut line = printed(&line, low)?;
        if from_back {
            // What is traced on the wrong side is printed in mirror image, within its own box.
            let right = corners.iter().map(|c| c.right).max()?;
            for c in corners.iter_mut().chain(&mut line) {
                c.right = right - c.right;
            }
        }
        let name = corners
            .iter()
            .map(|c| format!("{}.{}", c.right.units(), c.up.units()))
            .collect::<Vec<_>>()
            .join("-");
        let template = Template {
            name,
            corners,
            bows: Vec::new(),
            marks: Vec::new(),
            applique: Some(TemplateLine { line, from_back }),
        };
        let up = self.patch.up;
        let turns = lying(up.is_some_and(|u| u.two_way), up.is_none());
        let shape = DemandShape::Template { template };
        let piece = bench
            .pieces
            .of(shape, &self.patch.fabric, turns, Some(&self.patch.outline));
        Some(bench.take(recipe::Take::Piece(piece)))
    }
}

fn printed(outline: &Polygon, low: Point) -> Option<Vec<TemplateCorner>> {
    outline
        .corners()
        .iter()
        .map(|c| {
            Some(TemplateCorner {
                right: Printed::nearest(c.x - low.x)?,
                up: Printed::nearest(c.y - low.y)?,
            })
        })
        .collect()
}

/// A class with what lies on it, for those who plan it.
pub type Grounds = std::collections::BTreeMap<ClassId, std::rc::Rc<Ground>>;
