//! The finished top against the picture of it: outline, faces, cloth and print, both ways, by looking up neighbours in a
//! grid so that large tops stay quick.

use crate::cut::UP_AGREES;
use crate::finish::{Top, TopPiece};
use crate::outline::holds;
use crate::piece::{Action, is_sliver};
use crate::words::{TOLERANCE, say};
use recipe::Recipe;
use shape::{Line, Point, Polygon, Vector};
use terms::{Face, Finding, Place, StepId, TopPicture, UpWanted};

/// What the comparison says.
#[derive(Debug, Default)]
pub(crate) struct Compared {
    pub(crate) largest: f64,
    pub(crate) checks: u64,
    pub(crate) findings: Vec<Finding>,
}

/// Mismatches reported before the rest is left out.
const MOST_FINDINGS: usize = 40;

/// Holds the top against the picture.
pub(crate) fn compare(recipe: &Recipe, top: &Top, picture: &TopPicture) -> Compared {
    let mut judge = Judge {
        recipe,
        picture,
        grid: Grid::new(picture),
        seen: vec![false; picture.faces.len()],
        out: Compared::default(),
        stopped: 0,
    };
    let apart = top.outline.difference(&picture.outer);
    if apart > TOLERANCE {
        let sentence = format!(
            "The finished top's outline is {} off the design's.",
            say(apart, recipe.measure)
        );
        judge.stop(
            "outline-differs",
            finish_place(recipe),
            sentence,
            "Check the sizes along the top's sides.",
        );
    } else {
        judge.out.checks += 1;
    }
    for (i, piece) in top.faces.iter().enumerate() {
        if !piece.joined {
            judge.face(&[piece], i);
        }
    }
    for group in &top.joined {
        let pieces: Vec<&TopPiece> = group.iter().map(|&i| &top.faces[i]).collect();
        judge.face(&pieces, group[0]);
    }
    for (i, face) in picture.faces.iter().enumerate() {
        if !judge.seen[i] {
            let place = Place::Top {
                at: face.outline.centroid(),
            };
            let sentence = format!(
                "Patch {} of {} is in the design but not in the top.",
                face.patch, face.fabric
            );
            judge.stop(
                "face-missing",
                place,
                sentence,
                "Check the making of the unit it belongs to.",
            );
        }
    }
    judge.laid(&top.carried);
    // One wrong unit spoils few patches; where most are wrong the top itself lies wrong.
    if picture.faces.len() > 1 && judge.stopped * 2 > picture.faces.len() {
        let sentence = "Most patches of the top do not lie where the design has them.";
        let mend = "Check which side of the top is up, and the order of its last seams.";
        let turned = Finding::stop("top-turned", finish_place(recipe), sentence, mend);
        judge.out.findings.insert(0, turned);
    }
    judge.out
}

pub(crate) struct Judge<'a> {
    pub(crate) recipe: &'a Recipe,
    pub(crate) picture: &'a TopPicture,
    grid: Grid,
    seen: Vec<bool>,
    pub(crate) out: Compared,
    /// How often something was found, told or left out.
    stopped: usize,
}

impl Judge<'_> {
    pub(crate) fn stop(&mut self, code: &'static str, place: Place, sentence: String, mend: &str) {
        self.stopped += 1;
        if self.out.findings.len() < MOST_FINDINGS {
            self.out.findings.push(Finding::stop(code, place, sentence, mend));
        }
    }

    /// One face of the table: a piece, or several joined.
    fn face(&mut self, pieces: &[&TopPiece], _index: usize) {
        let shown: Vec<&&TopPiece> = pieces.iter().filter(|p| !is_sliver(&p.shown)).collect();
        let Some(main) = shown.first() else { return };
        let at = place_in(&main.shown);
        let found = self.grid.holding(self.picture, at);
        let Some(index) = found else {
            let sentence = format!(
                "The top has a face of {} where the design has none.",
                self.recipe.pieces[main.kind].fabric
            );
            let place = self.taken(main, at);
            self.stop(
                "face-extra",
                place,
                sentence,
                "Check the making of the unit it belongs to.",
            );
            return;
        };
        let face = &self.picture.faces[index];
        if self.seen[index] {
            let sentence = format!(
                "Two faces of the top lie where the design has patch {} alone.",
                face.patch
            );
            let place = self.taken(main, at);
            self.stop(
                "face-extra",
                place,
                sentence,
                "Check the making of the unit it belongs to.",
            );
            return;
        }
        self.seen[index] = true;
        let (apart, edge) = match shown.as_slice() {
            [one] => {
                let outlines = (one.shown.difference(&face.outline), worst_edge(one, face));
                (outlines.0, outlines.1)
            }
            many => (group_difference(many, face), None),
        };
        if apart.is_finite() {
            self.out.largest = self.out.largest.max(apart);
        }
        let fabric = &self.recipe.pieces[main.kind].fabric;
        if *fabric != face.fabric {
            let sentence = format!(
                "Patch {} is of {} but the design has {}.",
                face.patch, fabric, face.fabric
            );
            let place = self.taken(main, at);
            self.stop("wrong-fabric", place, sentence, "Take the piece of the right cloth.");
            return;
        }
        if apart > TOLERANCE {
            let sentence = format!(
                "Patch {} of {} comes out {} off the design.",
                face.patch,
                fabric,
                say(apart, self.recipe.measure)
            );
            let place = edge
                .and_then(|a| self.action(a))
                .unwrap_or_else(|| self.taken(main, at));
            self.stop(
                "face-differs",
                place,
                sentence,
                "Check the sizes and the seam of this step.",
            );
            return;
        }
        if let Some(wanted) = face.up {
            for piece in &shown {
                if !up_as_wanted(piece.up, wanted) {
                    let sentence = format!("The print of patch {} of {} lies turned.", face.patch, fabric);
                    let place = self.taken(piece, at);
                    self.stop(
                        "print-turned",
                        place,
                        sentence,
                        "Cut or turn the piece so that the print's up is up.",
                    );
                    return;
                }
            }
        }
        self.out.checks += 1;
    }

    fn action(&self, action: Action) -> Option<Place> {
        let make = self.recipe.makes.get(action.make as usize)?;
        Some(Place::Step(StepId {
            unit: make.unit.clone(),
            step: action.step,
        }))
    }

    /// The making a piece was taken in.
    fn taken(&self, piece: &TopPiece, at: Point) -> Place {
        self.place_of(piece.taken, at)
    }

    /// The making with this number, or a place of the top.
    pub(crate) fn place_of(&self, taken: Option<u32>, at: Point) -> Place {
        match taken.and_then(|make| self.recipe.makes.get(make as usize)) {
            Some(make) => Place::Unit(make.unit.clone()),
            None => Place::Top { at },
        }
    }
}

/// Whether a print's up points where it is wanted.
pub(crate) fn up_as_wanted(up: Vector, wanted: UpWanted) -> bool {
    let agrees = up.dot(wanted.toward);
    let agrees = if wanted.two_way { agrees.abs() } else { agrees };
    agrees >= UP_AGREES && agrees.is_finite()
}

fn finish_place(recipe: &Recipe) -> Place {
    match recipe.makes.last() {
        Some(make) => Place::Step(StepId {
            unit: make.unit.clone(),
            step: (make.steps.len() as u32).saturating_sub(1),
        }),
        None => Place::Quilt,
    }
}

/// The action that made the edge of a piece which lies furthest off the patch's outline.
fn worst_edge(piece: &TopPiece, face: &Face) -> Option<Action> {
    let mut worst: Option<(f64, Option<Action>)> = None;
    for (i, edge) in piece.edges.iter().enumerate() {
        let (a, b) = (piece.shown.corner(i), piece.shown.corner(i + 1));
        // The middle of an edge belongs to that edge alone; its ends it shares.
        let off = face.outline.distance_to_boundary(a.toward(b, 0.5));
        if worst.is_none_or(|(w, _)| off > w) {
            worst = Some((off, edge.made));
        }
    }
    worst.and_then(|(_, made)| made)
}

/// How far joined pieces as one face lie off a patch: the outline of several convex pieces is what of their edges is
/// not shared with another.
fn group_difference(pieces: &[&&TopPiece], face: &Face) -> f64 {
    let mut bare: Vec<(Point, Point)> = Vec::new();
    for (i, piece) in pieces.iter().enumerate() {
        for e in 0..piece.shown.len() {
            let (a, b) = (piece.shown.corner(e), piece.shown.corner(e + 1));
            let Some(line) = Line::between(a, b) else { continue };
            let length = a.distance(b);
            let mut covered: Vec<(f64, f64)> = Vec::new();
            for (j, other) in pieces.iter().enumerate() {
                if i == j {
                    continue;
                }
                for f in 0..other.shown.len() {
                    let (c, d) = (other.shown.corner(f), other.shown.corner(f + 1));
                    let on = line.offset_of(c).abs() <= TOLERANCE && line.offset_of(d).abs() <= TOLERANCE;
                    let (from, to) = (line.reach_of(d), line.reach_of(c));
                    if on && to > from {
                        covered.push((from, to));
                    }
                }
            }
            covered.sort_by(|x, y| x.0.total_cmp(&y.0));
            let mut at = 0.0;
            for (from, to) in covered {
                if from - at > TOLERANCE {
                    bare.push((line.at(at), line.at(from.min(length))));
                }
                at = f64::max(at, to);
            }
            if length - at > TOLERANCE {
                bare.push((line.at(at), b));
            }
        }
    }
    let ours = bare
        .iter()
        .flat_map(|&(a, b)| [a, b])
        .map(|p| face.outline.distance_to_boundary(p));
    let theirs = face.outline.corners().iter().map(|&c| {
        let near = |&(a, b): &(Point, Point)| Polygon::new(vec![a, b]).distance_to_boundary(c);
        bare.iter().map(near).fold(f64::INFINITY, f64::min)
    });
    // Cloth that overlaps itself or leaves a hole shows in the area.
    let area: f64 = pieces.iter().map(|p| p.shown.signed_area()).sum();
    let round: f64 = (0..face.outline.len())
        .map(|i| face.outline.corner(i).distance(face.outline.corner(i + 1)))
        .sum();
    let by_area = (area - face.outline.signed_area()).abs() / round.max(TOLERANCE);
    ours.chain(theirs).fold(by_area, f64::max)
}

/// Faces of the picture by the cells of a grid that their bounds touch.
struct Grid {
    low: Point,
    cell: f64,
    across: usize,
    up: usize,
    cells: Vec<Vec<u32>>,
}

impl Grid {
    fn new(picture: &TopPicture) -> Self {
        let (low, high) = picture.outer.bounds();
        let (w, h) = (high.x - low.x, high.y - low.y);
        let count = picture.faces.len().max(1) as f64;
        let cell = (w * h / count).sqrt();
        let usable = cell.is_finite() && cell > 1.0e-3 && w < 1.0e5 && h < 1.0e5;
        if !usable {
            return Grid {
                low: Point::ORIGIN,
                cell: f64::INFINITY,
                across: 1,
                up: 1,
                cells: vec![(0..picture.faces.len() as u32).collect()],
            };
        }
        // A long thin top must not get more cells than a few for each face.
        let (across, up) = ((w / cell).ceil().max(1.0), (h / cell).ceil().max(1.0));
        let mut grid = Grid {
            low,
            cell,
            across: across.min(4096.0) as usize,
            up: up.min(4096.0) as usize,
            cells: Vec::new(),
        };
        grid.cells = vec![Vec::new(); grid.across * grid.up];
        for (i, face) in picture.faces.iter().enumerate() {
            let (a, b) = face.outline.bounds();
            let ((x0, y0), (x1, y1)) = (grid.cell_of(a), grid.cell_of(b));
            for y in y0..=y1 {
                for x in x0..=x1 {
                    grid.cells[y * grid.across + x].push(i as u32);
                }
            }
        }
        grid
    }

    fn cell_of(&self, p: Point) -> (usize, usize) {
        let index = |d: f64, count: usize| ((d / self.cell).max(0.0) as usize).min(count - 1);
        (index(p.x - self.low.x, self.across), index(p.y - self.low.y, self.up))
    }

    /// The face a place lies in.
    fn holding(&self, picture: &TopPicture, p: Point) -> Option<usize> {
        let (x, y) = self.cell_of(p);
        self.cells[y * self.across + x]
            .iter()
            .map(|&i| i as usize)
            .find(|&i| holds(&picture.faces[i].outline, p))
    }
}

/// A place well inside an outline of any shape: its centre, or the middle of its widest stretch beside the centre.
fn place_in(outline: &Polygon) -> Point {
    let centre = outline.centroid();
    if holds(outline, centre) {
        return centre;
    }
    let across = |along: Vector| {
        let line = Line { through: centre, along };
        let found = crate::hollow::stretches(outline.corners(), false, line);
        let widest = found.into_iter().max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
        widest.map(|(from, to)| (to - from, line.at((from + to) / 2.0)))
    };
    let both = [Vector::new(1.0, 0.0), Vector::new(0.0, 1.0)].map(across);
    let best = both.into_iter().flatten().max_by(|a, b| a.0.total_cmp(&b.0));
    best.map_or(centre, |(_, place)| place)
}
