//! The planar map of one drawing: corners welded, edges split where a neighbour's corner lies on them, half-edges
//! paired. From here on, which patches touch is known by vertex numbers and no coordinate is compared again.
//!
//! Why pairing suffices: every face is a simple outline running counter-clockwise. When each half-edge either has its
//! opposite or runs along the outer outline, and the outer outline is run along whole, the faces' outlines add up to
//! the outer outline; so every place within is covered exactly once and none outside.

use crate::cover;
use shape::{Point, Polygon, Vector, WELD};
use std::collections::{BTreeSet, HashMap};

/// Corners that move no further than this when welded are only rounding, inches.
const SILENT_MOVE: f64 = 1.0 / 2000.0;

/// A drawing as a planar map.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Planar {
    pub vertices: Vec<Point>,
    /// Vertex numbers counter-clockwise, in the order the shapes were given.
    pub faces: Vec<Vec<usize>>,
    /// Edges that are straights of a curve, lower vertex number first.
    pub curved: BTreeSet<(usize, usize)>,
    /// How many corners were moved noticeably, the largest move, and where.
    pub welded: Option<(usize, f64, Point)>,
}

/// What keeps a drawing from being a planar map. Numbers are those of the shapes as given.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Fault {
    /// A corner lies so far outside.
    Outside { face: usize, by: f64, at: Point },
    /// Welding corners nearer than 1/256 in would take an edge or pinch the outline.
    Collapse { face: usize, at: Point },
    /// Two shapes lie on one another, by so many square inches where that is known.
    Overlap {
        faces: (usize, usize),
        area: Option<f64>,
        at: Point,
    },
    /// Nothing lies here: area, middle, and the shapes around.
    Gap { area: f64, at: Point, around: Vec<usize> },
}

/// Makes the map of `shapes` (counter-clockwise, simple) within the rectangle from the origin to (`width`, `height`).
/// `bows` says of each shape's edges which are straights of a curve; of shapes without an entry none is.
pub(crate) fn build(width: f64, height: f64, shapes: &[Polygon], bows: &[Vec<bool>]) -> Result<Planar, Vec<Fault>> {
    let outside = outside(width, height, shapes);
    if !outside.is_empty() {
        return Err(outside);
    }
    let mut map = weld(width, height, shapes, bows);
    let mut collapsed: Vec<Fault> = Vec::new();
    let pinched = |faces: &[Vec<usize>], vertices: &[Point]| -> Vec<Fault> {
        faces
            .iter()
            .enumerate()
            .filter_map(|(face, outline)| {
                let at = repeated(outline)?;
                Some(Fault::Collapse { face, at: vertices[at] })
            })
            .take(20)
            .collect()
    };
    collapsed.extend(pinched(&map.faces, &map.vertices));
    if !collapsed.is_empty() {
        return Err(collapsed);
    }
    split(width, height, &mut map, bows);
    collapsed.extend(pinched(&map.faces, &map.vertices));
    if !collapsed.is_empty() {
        return Err(collapsed);
    }
    pair(width, height, &map)?;
    Ok(map)
}

fn outside(width: f64, height: f64, shapes: &[Polygon]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (face, shape) in shapes.iter().enumerate() {
        let beyond = |p: Point| (-p.x).max(p.x - width).max(-p.y).max(p.y - height);
        let worst = shape
            .corners()
            .iter()
            .copied()
            .max_by(|a, b| beyond(*a).total_cmp(&beyond(*b)));
        if let Some(at) = worst.filter(|&p| beyond(p) > WELD) {
            faults.push(Fault::Outside {
                face,
                by: beyond(at),
                at,
            });
            if faults.len() >= 20 {
                break;
            }
        }
    }
    faults
}

/// A vertex met twice in one outline.
fn repeated(outline: &[usize]) -> Option<usize> {
    let mut seen = BTreeSet::new();
    outline.iter().copied().find(|v| !seen.insert(*v))
}

/// Welds corners: each goes to the nearest vertex within 1/256 in, else becomes one; corners near a side of the block
/// are put on it first. The block's own corners are the first four vertices.
fn weld(width: f64, height: f64, shapes: &[Polygon], bows: &[Vec<bool>]) -> Planar {
    let mut vertices: Vec<Point> = Polygon::rectangle(width, height).corners().to_vec();
    let bucket = |p: Point| ((p.x / WELD).floor() as i64, (p.y / WELD).floor() as i64);
    // Only looked into, never walked through.
    let mut near: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
    for (i, v) in vertices.iter().enumerate() {
        near.entry(bucket(*v)).or_default().push(i);
    }
    let snap = |x: f64, size: f64, within: f64| {
        if x.abs() <= within {
            0.0
        } else if (x - size).abs() <= within {
            size
        } else {
            x
        }
    };
    let mut moved: (usize, f64, Point) = (0, 0.0, Point::ORIGIN);
    let mut faces = Vec::with_capacity(shapes.len());
    for (face, shape) in shapes.iter().enumerate() {
        let mut outline = Vec::with_capacity(shape.len());
        let bows = bows.get(face).map_or(&[][..], Vec::as_slice);
        for (i, &corner) in shape.corners().iter().enumerate() {
            // Within a curve that touches a side or another curve, places near by are not yet there.
            let within_curve =
                bows.get(i) == Some(&true) && bows.get((i + shape.len() - 1) % shape.len()) == Some(&true);
            let within = if within_curve { SILENT_MOVE } else { WELD };
            let p = Point::new(snap(corner.x, width, within), snap(corner.y, height, within));
            let (bx, by) = bucket(p);
            let mut best: Option<(f64, usize)> = None;
            for dx in -1..=1 {
                for dy in -1..=1 {
                    for &v in near
                        .get(&(bx.saturating_add(dx), by.saturating_add(dy)))
                        .into_iter()
                        .flatten()
                    {
                        let d = vertices[v].distance(p);
                        if d <= within && best.is_none_or(|(least, _)| d < least) {
                            best = Some((d, v));
                        }
                    }
                }
            }
            let v = match best {
                Some((_, v)) => v,
                None => {
                    vertices.push(p);
                    near.entry((bx, by)).or_default().push(vertices.len() - 1);
                    vertices.len() - 1
                }
            };
            note_move(&mut moved, corner.distance(vertices[v]), vertices[v]);
            outline.push(v);
        }
        faces.push(outline);
    }
    Planar {
        vertices,
        faces,
        curved: BTreeSet::new(),
        welded: (moved.0 > 0).then_some(moved),
    }
}

fn note_move(moved: &mut (usize, f64, Point), by: f64, at: Point) {
    if by > SILENT_MOVE {
        moved.0 += 1;
        if by > moved.1 {
            (moved.1, moved.2) = (by, at);
        }
    }
}

/// Vertices sorted into upright cells, so that those near an edge are found without looking at all.
struct Cells {
    side: f64,
    across: usize,
    down: usize,
    starts: Vec<usize>,
    items: Vec<usize>,
}

impl Cells {
    fn of(width: f64, height: f64, vertices: &[Point]) -> Self {
        let side = (width * height / vertices.len().max(1) as f64).sqrt().max(4.0 * WELD);
        let across = (width / side) as usize + 1;
        let down = (height / side) as usize + 1;
        let mut cells = Cells {
            side,
            across,
            down,
            starts: vec![0; across * down + 1],
            items: vec![0; vertices.len()],
        };
        for &v in vertices {
            let at = cells.cell(v);
            cells.starts[at + 1] += 1;
        }
        for i in 0..across * down {
            cells.starts[i + 1] += cells.starts[i];
        }
        let mut next = cells.starts.clone();
        for (i, &v) in vertices.iter().enumerate() {
            let at = cells.cell(v);
            cells.items[next[at]] = i;
            next[at] += 1;
        }
        cells
    }

    fn column(&self, x: f64) -> usize {
        ((x / self.side).max(0.0) as usize).min(self.across - 1)
    }

    fn row(&self, y: f64) -> usize {
        ((y / self.side).max(0.0) as usize).min(self.down - 1)
    }

    fn cell(&self, p: Point) -> usize {
        self.column(p.x) * self.down + self.row(p.y)
    }

    /// All vertices in the cells within 1/256 in of a segment, column by column.
    fn near_segment(&self, a: Point, b: Point, mut each: impl FnMut(usize)) {
        let (left, right) = if a.x <= b.x { (a, b) } else { (b, a) };
        let slope = if right.x > left.x {
            (right.y - left.y) / (right.x - left.x)
        } else {
            0.0
        };
        let steep = right.x - left.x <= self.side;
        for column in self.column(left.x - WELD)..=self.column(right.x + WELD) {
            let (low, high) = if steep {
                (a.y.min(b.y), a.y.max(b.y))
            } else {
                let from = (column as f64 * self.side - WELD).clamp(left.x, right.x);
                let to = ((column + 1) as f64 * self.side + WELD).clamp(left.x, right.x);
                let (y1, y2) = (left.y + slope * (from - left.x), left.y + slope * (to - left.x));
                (y1.min(y2), y1.max(y2))
            };
            for row in self.row(low - 2.0 * WELD)..=self.row(high + 2.0 * WELD) {
                let at = column * self.down + row;
                self.items[self.starts[at]..self.starts[at + 1]]
                    .iter()
                    .copied()
                    .for_each(&mut each);
            }
        }
    }
}

/// Curves that leave a vertex along another line: for a little way their places lie within 1/256 in of that line, and yet not on
/// it.
struct Leaving {
    /// For each vertex those next to it along a curve.
    next: Vec<Vec<usize>>,
    /// Pairs of places next to one vertex along two sides of one face: the two sides part there.
    parting: BTreeSet<(usize, usize, usize)>,
}

impl Leaving {
    fn of(map: &Planar, bows: &[Vec<bool>]) -> Self {
        let mut next: Vec<Vec<usize>> = vec![Vec::new(); map.vertices.len()];
        let mut parting = BTreeSet::new();
        for (outline, bows) in map.faces.iter().zip(bows) {
            let n = outline.len();
            for i in 0..n {
                let (before, u, v) = (outline[(i + n - 1) % n], outline[i], outline[(i + 1) % n]);
                if bows[i] {
                    next[u].push(v);
                    next[v].push(u);
                }
                if bows[i] || bows[(i + n - 1) % n] {
                    parting.insert((u, before.min(v), before.max(v)));
                }
            }
        }
        Leaving { next, parting }
    }

    /// Takes out of the vertices near an edge those that belong to a curve leaving one of its ends.
    fn take_out(&self, (u, v): (usize, usize), bowed: bool, near: &mut Vec<(f64, usize)>) {
        for (end, far) in [(u, v), (v, u)] {
            let firsts = self.next[end].iter().copied().filter(|w| *w != far);
            let mut on_the_way: Vec<usize> = firsts
                .filter(|&w| !bowed || self.parting.contains(&(end, w.min(far), w.max(far))))
                .collect();
            let mut seen: BTreeSet<usize> = BTreeSet::from([end]);
            while let Some(w) = on_the_way.pop() {
                let count = near.len();
                near.retain(|&(_, other)| other != w);
                if seen.insert(w) && near.len() < count {
                    on_the_way.extend(self.next[w].iter().copied().filter(|x| !seen.contains(x)));
                }
            }
        }
    }
}

/// Puts every vertex that lies on an edge into it.
fn split(width: f64, height: f64, map: &mut Planar, bows: &[Vec<bool>]) {
    let cells = Cells::of(width, height, &map.vertices);
    let leaving = Leaving::of(map, bows);
    let mut moved = map.welded.unwrap_or((0, 0.0, Point::ORIGIN));
    let vertices = &map.vertices;
    let mut curved = BTreeSet::new();
    for (face, outline) in map.faces.iter_mut().enumerate() {
        let mut whole = Vec::with_capacity(outline.len());
        for i in 0..outline.len() {
            let (u, v) = (outline[i], outline[(i + 1) % outline.len()]);
            let (a, b) = (vertices[u], vertices[v]);
            let along: Vector = b - a;
            let length = along.length();
            let mut between: Vec<(f64, usize)> = Vec::new();
            cells.near_segment(a, b, |w| {
                if w == u || w == v {
                    return;
                }
                let from = vertices[w] - a;
                let reach = along.dot(from) / length;
                let off = along.cross(from).abs() / length;
                if off <= WELD && reach > 0.0 && reach < length {
                    between.push((reach, w));
                }
            });
            let bowed = bows.get(face).and_then(|b| b.get(i)) == Some(&true);
            leaving.take_out((u, v), bowed, &mut between);
            between.sort_by(|x, y| x.0.total_cmp(&y.0).then(x.1.cmp(&y.1)));
            for &(reach, w) in &between {
                let foot = a + along * (reach / length);
                note_move(&mut moved, foot.distance(vertices[w]), vertices[w]);
            }
            let start = whole.len();
            whole.push(u);
            whole.extend(between.into_iter().map(|(_, w)| w));
            if bows.get(face).and_then(|b| b.get(i)) == Some(&true) {
                let ends = whole[start..].iter().copied().chain([v]);
                let starts = whole[start..].iter().copied();
                curved.extend(starts.zip(ends.skip(1)).map(|(a, b)| (a.min(b), a.max(b))));
            }
        }
        *outline = whole;
    }
    map.curved = curved;
    map.welded = (moved.0 > 0).then_some(moved);
}

/// Pairs half-edges; what has no opposite and does not run along the block's outline is a fault.
fn pair(width: f64, height: f64, map: &Planar) -> Result<(), Vec<Fault>> {
    // Only looked into, never walked through.
    let mut half: HashMap<(usize, usize), usize> = HashMap::new();
    let mut twice: Vec<(usize, usize, usize)> = Vec::new();
    for (face, outline) in map.faces.iter().enumerate() {
        for (i, &u) in outline.iter().enumerate() {
            let v = outline[(i + 1) % outline.len()];
            if let Some(other) = half.insert((u, v), face) {
                twice.push((other, face, u));
            }
        }
    }
    let on_outline = |u: usize, v: usize| {
        let (a, b) = (map.vertices[u], map.vertices[v]);
        (a.y == 0.0 && b.y == 0.0 && a.x < b.x)
            || (a.x == width && b.x == width && a.y < b.y)
            || (a.y == height && b.y == height && a.x > b.x)
            || (a.x == 0.0 && b.x == 0.0 && a.y > b.y)
    };
    // Edges that some face ought to run along and none does.
    let mut missing: Vec<(usize, usize)> = Vec::new();
    for outline in &map.faces {
        for (i, &u) in outline.iter().enumerate() {
            let v = outline[(i + 1) % outline.len()];
            if !half.contains_key(&(v, u)) && !on_outline(u, v) {
                missing.push((v, u));
            }
        }
    }
    for side in outline_edges(width, height, &map.vertices) {
        if !half.contains_key(&side) {
            missing.push(side);
        }
    }
    if missing.is_empty() && twice.is_empty() {
        return Ok(());
    }
    Err(cover::diagnose(map, &half, &missing, &twice))
}

/// The block's outline from vertex to vertex, counter-clockwise.
fn outline_edges(width: f64, height: f64, vertices: &[Point]) -> Vec<(usize, usize)> {
    let mut edges = Vec::new();
    let mut side = |on: &dyn Fn(Point) -> bool, along: &dyn Fn(Point) -> f64| {
        let mut line: Vec<usize> = (0..vertices.len()).filter(|&v| on(vertices[v])).collect();
        line.sort_by(|&a, &b| along(vertices[a]).total_cmp(&along(vertices[b])));
        edges.extend(line.windows(2).map(|w| (w[0], w[1])));
    };
    side(&|p| p.y == 0.0, &|p| p.x);
    side(&|p| p.x == width, &|p| p.y);
    side(&|p| p.y == height, &|p| -p.x);
    side(&|p| p.x == 0.0, &|p| -p.y);
    edges
}
