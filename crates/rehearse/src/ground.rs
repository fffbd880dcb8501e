//! Pieces laid on a ground: the printed sheet that shows where, and stitching a piece down on its line.

use crate::maker::Miss;
use crate::outline::{holds, is_little, round, shared_with};
use crate::piece::{Cloth, Laid};
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Birth, PieceAt, View};
use recipe::{EdgeRun, ShapeEdge, Slot, Stretch};
use shape::{Line, Motion, Point, Polygon};
use std::rc::Rc;

/// A printed sheet as it can be laid: its outline convex, its shapes simple.
pub(crate) struct PrintedSheet {
    pub(crate) outline: Polygon,
    pub(crate) shapes: Vec<PrintedShape>,
}

/// One shape of a sheet.
#[derive(Clone)]
pub(crate) struct PrintedShape {
    pub(crate) line: Polygon,
    pub(crate) under: Vec<Stretch>,
    pub(crate) level: Vec<Stretch>,
}

/// A sheet that lies on a work.
pub(crate) struct Sheet {
    pub(crate) name: String,
    /// The frame it lies in.
    pub(crate) node: usize,
    /// The shapes as they lie in that frame; of what is stitched down the piece's own line.
    pub(crate) shapes: Vec<PrintedShape>,
    /// The lines of the ground's raw edges round it, in that frame.
    sides: Vec<Line>,
    /// What is stitched down already, by shape: the piece's cut outline in that frame, and how much of it is turned under.
    pub(crate) down: Vec<(Polygon, f64)>,
}

/// Whether a corner lies in a stretch of an outline of so many corners, both ends among them.
fn in_stretch(stretch: &Stretch, corner: usize, corners: usize) -> bool {
    let from = stretch.from as usize;
    let length = (stretch.to as usize + corners - from) % corners;
    (corner + corners - from) % corners <= length
}

/// The same of the edge that begins at a corner.
fn edge_in_stretch(stretch: &Stretch, edge: usize, corners: usize) -> bool {
    let from = stretch.from as usize;
    let length = (stretch.to as usize + corners - from) % corners;
    (edge + corners - from) % corners < length
}

impl PrintedShape {
    fn corner_is(&self, stretches: &[Stretch], corner: usize) -> bool {
        stretches.iter().any(|s| in_stretch(s, corner, self.line.len()))
    }

    fn edge_is(&self, stretches: &[Stretch], edge: usize) -> bool {
        stretches.iter().any(|s| edge_in_stretch(s, edge, self.line.len()))
    }

    fn moved(&self, motion: &Motion) -> PrintedShape {
        PrintedShape {
            line: motion.polygon(&self.line),
            ..self.clone()
        }
    }

    /// The edges of a line that is level with the ground's raw edge.
    fn level_lines(&self) -> Vec<Line> {
        (0..self.line.len())
            .filter(|&i| self.edge_is(&self.level, i))
            .filter_map(|i| self.line.edge(i))
            .collect()
    }
}

impl Table<'_> {
    /// Lays a sheet on a work.
    pub(crate) fn guide(&mut self, on: Slot, name: &str, sides: &[EdgeRun]) -> Outcome<()> {
        let root = self.work(on)?;
        let view = View::of(root);
        let guides = self.guides;
        let Some(printed) = guides.get(name) else {
            let sentence = format!("There is no sheet \"{name}\" to lay on the ground.");
            return Err(self.refuse("unknown-guide", sentence, "Print the sheet with the recipe."));
        };
        if self.sheets.iter().any(|s| s.name == name) {
            let sentence = format!("Sheet \"{name}\" is laid twice.");
            return Err(self.bad(sentence, "Lay each sheet once."));
        }
        if sides.len() != printed.outline.len() {
            let sentence = "The sheet's outline has not as many edges as sides of the ground are named.";
            return Err(self.bad(sentence, "Name the ground's sides once round."));
        }
        let mut lines = Vec::new();
        for (i, side) in sides.iter().enumerate() {
            let run = self.run(side, &view)?;
            self.flush(&run, &format!("side {}", i + 1))?;
            lines.push(run.line);
        }
        let n = lines.len();
        let mut corners = Vec::new();
        for i in 0..n {
            let before = lines[(i + n - 1) % n].moved_left(self.seam);
            corners.push(self.cross(before, lines[i].moved_left(self.seam))?);
        }
        let middle = |a: Point, b: Point| {
            Line::between(a, b).map(|line| Line {
                through: a.toward(b, 0.5),
                ..line
            })
        };
        let (here, there) = (
            middle(printed.outline.corner(0), printed.outline.corner(1)),
            middle(corners[0], corners[1 % n]),
        );
        let Some((here, there)) = here.zip(there) else {
            return Err(self.bad("An edge of the sheet's outline has no length.", "Correct the sheet."));
        };
        let motion = Motion::line_to_line(here, there, false);
        for (i, &corner) in corners.iter().enumerate() {
            let off = motion.point(printed.outline.corner(i)).distance(corner);
            if self.misses(Miss::Other, off, TOLERANCE) {
                let sentence = format!(
                    "Corner {} of the sheet lies {} off the place a seam inside the ground's raw edges.",
                    i + 1,
                    self.say(off)
                );
                return Err(self.refuse("guide-does-not-fit", sentence, "Check the ground's size and its sides."));
            }
        }
        self.sheets.push(Sheet {
            name: name.to_string(),
            node: root,
            shapes: printed.shapes.iter().map(|s| s.moved(&motion)).collect(),
            sides: lines,
            down: Vec::new(),
        });
        self.held();
        Ok(())
    }

    /// Stitches a piece down on a shape of a sheet that lies on a work.
    pub(crate) fn stitch_down(
        &mut self,
        piece: Slot,
        on: Slot,
        (guide, shape): (&str, u32),
        edge: ShapeEdge,
    ) -> Outcome<()> {
        let root = self.work(on)?;
        let at = self.sheets.iter().position(|s| s.name == guide);
        let lies = match at {
            Some(at) => self.find(self.sheets[at].node),
            None => (usize::MAX, Motion::STILL),
        };
        let Some(at) = at.filter(|_| lies.0 == root) else {
            let sentence = format!("Sheet \"{guide}\" does not lie on the ground.");
            return Err(self.refuse("unknown-guide", sentence, "Lay the sheet on the ground first."));
        };
        if self.sheets[at].down.len() != shape as usize || self.sheets[at].shapes.len() <= shape as usize {
            let sentence = format!("Shape {} is not the next one on the sheet.", shape + 1);
            let mend = "Stitch the shapes down once each, in the order of their numbers.";
            return Err(self.refuse("shape-order", sentence, mend));
        }
        let cloth = self.single_piece(piece)?;
        let Some(line) = cloth.line.clone() else {
            let sentence = "This piece is not cut to be laid on a ground.";
            return Err(self.bad(sentence, "Cut it round a template that shows its line."));
        };
        let mut printed = self.sheets[at].shapes[shape as usize].clone();
        let motion = self.onto_line(&line, &printed.line)?;
        // The sheet says where the piece lies; what is folded, stitched and seen is the piece's own line.
        printed.line = motion.polygon(&line);
        let by = match edge {
            ShapeEdge::Turned { by } => self.real(by)?,
            ShapeEdge::Raw => 0.0,
        };
        let cut = motion.polygon(&cloth.polygon());
        match edge {
            ShapeEdge::Turned { .. } => self.turned_edge(&cut, &printed, by)?,
            ShapeEdge::Raw => self.raw_edge(&cut, &printed)?,
        }
        self.on_the_ground(at, &printed)?;
        // The sheet's frame may since have been sewn into the work's.
        let outline = lies.1.polygon(&printed.line);
        let up = lies.1.vector(motion.vector(cloth.up));
        self.carry(root, &cloth, &outline, up)?;
        self.sheets[at].shapes[shape as usize] = printed;
        self.sheets[at].down.push((cut, by));
        self.use_up(piece);
        self.held();
        Ok(())
    }

    /// The one piece in a slot that is a part of one cut piece.
    fn single_piece(&self, slot: Slot) -> Outcome<Rc<Cloth>> {
        self.work(slot)?;
        let found = match self.slots.get(&slot) {
            Some((Birth::Part(parts), _)) => match parts.as_slice() {
                [part] if self.parts[*part].class.pieces.len() == 1 => self.parts[*part].cloth(0).cloned(),
                _ => None,
            },
            _ => None,
        };
        found.ok_or_else(|| {
            let sentence = format!("Slot {} does not hold a cut piece as it was cut.", slot.0);
            self.bad(sentence, "Lay a single piece on the ground.")
        })
    }

    /// How a piece lies when its line lies on a shape's line, corner on corner.
    fn onto_line(&mut self, line: &Polygon, printed: &Polygon) -> Outcome<Motion> {
        let differ = "The piece's line is not the shape's line";
        let mend = "Take the piece cut for this shape, right side up; a mirrored template gives its twin.";
        let n = printed.len();
        if line.len() != n {
            let sentence = format!("{differ}: it has not as many corners.");
            return Err(self.refuse("shape-differs", sentence, mend));
        }
        let first = printed.corner(0);
        let mut far = 0;
        for i in 1..n {
            if printed.corner(i).distance(first) > printed.corner(far).distance(first) {
                far = i;
            }
        }
        let ways = Line::between(line.corner(0), line.corner(far)).zip(Line::between(first, printed.corner(far)));
        let Some((from, onto)) = ways else {
            return Err(self.bad("A shape's line has no length.", "Correct the sheet."));
        };
        let motion = Motion::line_to_line(from, onto, false);
        for i in 0..n {
            let off = motion.point(line.corner(i)).distance(printed.corner(i));
            if self.misses(Miss::Other, off, TOLERANCE) {
                let sentence = format!("{differ}: corner {} lies {} off.", i + 1, self.say(off));
                return Err(self.refuse("shape-differs", sentence, mend));
            }
        }
        Ok(motion)
    }

    fn raw_edge(&mut self, cut: &Polygon, printed: &PrintedShape) -> Outcome<()> {
        let off = cut.difference(&printed.line);
        if !printed.under.is_empty() {
            let sentence = "A raw edge has nothing to leave unturned.";
            return Err(self.bad(sentence, "Name no stretch that runs under another shape."));
        }
        if self.misses(Miss::Other, off, TOLERANCE) {
            let sentence = format!("The piece's raw edge lies {} off its line.", self.say(off));
            return Err(self.refuse("turn-under-differs", sentence, "Cut the piece on its line."));
        }
        Ok(())
    }

    /// There is cloth to turn under all round, as much as is said.
    fn turned_edge(&mut self, cut: &Polygon, printed: &PrintedShape, by: f64) -> Outcome<()> {
        let line = &printed.line;
        if by <= TOLERANCE {
            return Err(self.bad("Nothing is turned under.", "Say how much is turned under."));
        }
        self.spend(cut.len().saturating_mul(line.len()) / 16)?;
        let mend = "Cut the piece so much larger than its line, all round.";
        let level = printed.level_lines();
        let n = cut.len();
        let runs_level: Vec<bool> = (0..n)
            .map(|i| {
                let ends = [cut.corner(i), cut.corner(i + 1)];
                level
                    .iter()
                    .any(|l| ends.iter().all(|&p| !beyond(l.offset_of(p), TOLERANCE)))
            })
            .collect();
        let mut least = f64::INFINITY;
        for i in 0..n {
            let (a, b) = (cut.corner(i), cut.corner(i + 1));
            let mut looked = Vec::new();
            if !runs_level[i] && !runs_level[(i + n - 1) % n] {
                looked.push((a, false));
            }
            if !runs_level[i] {
                looked.push((a.toward(b, 0.5), true));
            }
            for (p, middle) in looked {
                let there = line.distance_to_boundary(p);
                least = least.min(there);
                let short = (by - there).max(if middle { there - 2.0 * by } else { 0.0 });
                if short > 0.0 && self.misses(Miss::Other, short, TOLERANCE) {
                    let sentence = format!(
                        "At an edge of the piece {} lie beyond its line where {} are to be turned under.",
                        self.say(there),
                        self.say(by)
                    );
                    return Err(self.refuse("turn-under-differs", sentence, mend));
                }
            }
        }
        if least.is_finite() && least > by && self.misses(Miss::Other, least - by, TOLERANCE) {
            let sentence = format!(
                "Nowhere is as little as {} left to turn under; {} are, at least.",
                self.say(by),
                self.say(least)
            );
            return Err(self.refuse("turn-under-differs", sentence, mend));
        }
        for i in 0..line.len() {
            let p = line.corner(i);
            let wrong = if printed.corner_is(&printed.level, i) {
                beyond(cut.distance_to_boundary(p), TOLERANCE)
            } else {
                !holds(cut, p)
            };
            if wrong && self.misses(Miss::Other, f64::INFINITY, TOLERANCE) {
                let sentence = format!("The piece's cloth does not hold corner {} of its line.", i + 1);
                return Err(self.refuse("turn-under-differs", sentence, mend));
            }
        }
        Ok(())
    }

    /// A shape lies within the ground's finished outline, or level with its raw edges where it says so.
    fn on_the_ground(&mut self, at: usize, printed: &PrintedShape) -> Outcome<()> {
        let line = &printed.line;
        let n = line.len();
        let mend = "Move the shape inward, or say where it is sewn into the seam.";
        for i in 0..n {
            let (a, b) = (line.corner(i), line.corner(i + 1));
            let sheet = &self.sheets[at];
            let on_side = |points: &[Point]| {
                let off = |side: &Line| points.iter().map(|&p| side.offset_of(p).abs()).fold(0.0, f64::max);
                sheet.sides.iter().map(off).fold(f64::INFINITY, f64::min)
            };
            let inside = |p: Point| {
                let least = sheet
                    .sides
                    .iter()
                    .map(|side| side.offset_of(p))
                    .fold(f64::INFINITY, f64::min);
                (self.seam - least).max(0.0)
            };
            let at_corner = if printed.corner_is(&printed.level, i) {
                on_side(&[a])
            } else {
                inside(a)
            };
            let at_edge = if printed.edge_is(&printed.level, i) {
                on_side(&[a, b])
            } else if printed.corner_is(&printed.level, i) || printed.corner_is(&printed.level, (i + 1) % n) {
                // On its way out to the raw edge.
                0.0
            } else {
                inside(a.toward(b, 0.5))
            };
            let off = at_corner.max(at_edge);
            if self.misses(Miss::Other, off, TOLERANCE) {
                let sentence = format!(
                    "The shape's outline lies {} too far out at its corner {}.",
                    self.say(off),
                    i + 1
                );
                return Err(self.refuse("off-the-ground", sentence, mend));
            }
        }
        Ok(())
    }

    /// Every piece of the work that lies beneath carries the piece from now on.
    fn carry(&mut self, root: usize, cloth: &Cloth, outline: &Polygon, up: shape::Vector) -> Outcome<()> {
        let view = View::of(root);
        let number = self.tally.owner;
        self.tally.owner = self.tally.owner.saturating_add(1);
        let below = self.pieces_of(root);
        self.spend(below.len().saturating_mul(outline.len()) / 16 + below.len())?;
        let mut covered = 0.0;
        let mut carriers: Vec<(PieceAt, Rc<Cloth>, Motion)> = Vec::new();
        for at in below {
            let Some((ground, motion, _)) = self.piece_in(at, &view) else {
                continue;
            };
            let shared = shared_with(outline, &motion.polygon(&ground.polygon()));
            if shared.is_empty() {
                continue;
            }
            covered += shared.signed_area();
            if !is_little(&shared) {
                carriers.push((at, ground, motion));
            }
        }
        let bare = outline.signed_area() - covered;
        if bare.abs() > TOLERANCE * round(outline) / 2.0 && self.misses(Miss::Other, f64::INFINITY, TOLERANCE) {
            let sentence = "The shape does not lie on the ground's cloth all over.";
            return Err(self.refuse("off-the-ground", sentence, "Lay it where there is cloth beneath."));
        }
        for (at, ground, motion) in carriers {
            let back = motion.inverse();
            let mut ground = Cloth::clone(&ground);
            ground.laid.push(Rc::new(Laid {
                number,
                outline: back.polygon(outline),
                kind: cloth.kind,
                up: back.vector(up),
                taken: cloth.taken,
            }));
            self.parts[at.part].changed.insert(at.piece, Some(Rc::new(ground)));
        }
        Ok(())
    }

    /// Before a work is given or the top finished: every shape of every sheet on it has its piece, and what was left
    /// unturned is covered.
    pub(crate) fn all_down(&mut self, root: usize) -> Outcome<()> {
        for at in 0..self.sheets.len() {
            if self.find(self.sheets[at].node).0 != root {
                continue;
            }
            let sheet = &self.sheets[at];
            if sheet.down.len() < sheet.shapes.len() {
                let sentence = format!("Shape {} of the sheet has no piece.", sheet.down.len() + 1);
                return Err(self.refuse("shape-missing", sentence, "Stitch a piece down on every shape."));
            }
            let bare = (0..sheet.shapes.len()).find_map(|shape| Some((shape, uncovered(sheet, shape)?)));
            if let Some((shape, off)) = bare
                && self.misses(Miss::Other, off, TOLERANCE)
            {
                let sentence = format!(
                    "An edge of shape {} is left unturned where nothing lies over it far enough.",
                    shape + 1
                );
                let mend = "Turn that edge under, or lay the shape above further over it.";
                return Err(self.refuse("shape-not-covered", sentence, mend));
            }
            self.held();
        }
        Ok(())
    }
}

/// How far what is left unturned of a shape lies out from under a later one, if it does. Each stretch lies under one shape all along.
fn uncovered(sheet: &Sheet, shape: usize) -> Option<f64> {
    let printed = &sheet.shapes[shape];
    let (cut, by) = sheet.down.get(shape)?;
    let line = &printed.line;
    let n = line.len();
    let nearest = |p: Point| {
        (0..n).min_by(|&i, &j| {
            let to = |k: usize| Polygon::new(vec![line.corner(k), line.corner(k + 1)]).distance_to_boundary(p);
            to(i).total_cmp(&to(j))
        })
    };
    let mut worst = f64::INFINITY;
    for stretch in &printed.under {
        // Places of the stretch, each with how deep it must lie.
        let corners = (0..n).filter(|&i| in_stretch(stretch, i, n));
        let edges: Vec<usize> = (0..n).filter(|&i| edge_in_stretch(stretch, i, n)).collect();
        let middles = edges.iter().map(|&i| line.corner(i).toward(line.corner(i + 1), 0.5));
        let mut wanted: Vec<(Point, f64)> = corners
            .map(|i| line.corner(i))
            .chain(middles)
            .map(|p| (p, *by))
            .collect();
        let beneath = |p: &Point| nearest(*p).is_some_and(|edge| edges.contains(&edge));
        wanted.extend(cut.corners().iter().copied().filter(beneath).map(|p| (p, 0.0)));
        let spare = |over: &Polygon| {
            let depth = |p: Point| {
                let off = over.distance_to_boundary(p);
                if holds(over, p) { off } else { -off }
            };
            let all = wanted.iter().map(|&(p, deep)| depth(p) - deep);
            all.fold(f64::INFINITY, f64::min)
        };
        let later = sheet.shapes[shape + 1..].iter().map(|s| spare(&s.line));
        worst = worst.min(later.fold(f64::NEG_INFINITY, f64::max));
    }
    (worst < -TOLERANCE).then_some(-worst)
}
