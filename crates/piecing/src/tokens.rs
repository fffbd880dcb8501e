//! A block as the planner sees it: faces with their neighbours and the straight lines their edges lie on.

use crate::class::ClassId;
use crate::ring::{Bend, bend};
use design::{BlockMap, Fill, Grain, Up};
use shape::{Line, Motion, Point, Polygon, Vector, WELD};
use std::collections::HashMap;
use terms::FabricId;

/// A straight chain of interior edges, each continuing the one before at a vertex.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ChainId(pub usize);

/// One edge of a face.
#[derive(Clone, Copy, Debug)]
pub struct FaceEdge {
    /// The face on its other side; `None` on the block's outside.
    pub neighbour: Option<usize>,
    /// The chain it belongs to; `None` on the outside.
    pub chain: Option<ChainId>,
    /// Inches.
    pub length: f64,
    /// The vertex of the drawing where it begins, going round with the face on the left.
    pub vertex: usize,
    /// Where that is.
    pub from: Point,
    /// One of the straights of a curve.
    pub curved: bool,
}

/// What fills a face.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// One patch.
    Patch {
        /// Its cloth.
        fabric: FabricId,
        /// Wanted direction of the print.
        up: Option<Up>,
        /// Direction of the straight grain; a quarter turn of it is as good.
        grain: Vector,
        /// Index in its block.
        patch: u32,
        /// "sashing", "border" … or empty.
        role: String,
    },
    /// A block made before.
    Unit {
        /// Its class.
        class: ClassId,
        /// From the class's frame into the block's.
        motion: Motion,
    },
}

/// One face.
#[derive(Clone, Debug)]
pub struct Token {
    /// Finished outline, true corners only, and all places of curves.
    pub outline: Polygon,
    /// For each straight of the outline whether it is one of a curve's.
    pub bows: Vec<bool>,
    /// Its centre.
    pub centre: Point,
    /// Its area.
    pub area: f64,
    /// Its edges, split where neighbours change.
    pub edges: Vec<FaceEdge>,
    /// What fills it.
    pub content: Content,
}

/// One block.
#[derive(Clone, Debug)]
pub struct BlockTokens {
    /// Its name and variant.
    pub name: String,
    /// Its faces.
    pub tokens: Vec<Token>,
    /// The line of each chain.
    pub chains: Vec<Line>,
    /// Finished outline.
    pub outline: Polygon,
    /// The designer's pinned method.
    pub method: Option<String>,
    /// Patches that are to be made as units of their own.
    pub pins: Vec<design::Pin>,
    /// Which way seams between two patches are pressed, where the designer says so.
    pub presses: Vec<design::PressPin>,
    /// By what the layers of seams between two patches are placed, where the designer says so.
    pub lays: Vec<design::LayPin>,
    /// Taken the place of by the same drawing with some blocks made as separate units.
    pub replaced: bool,
}

impl Token {
    /// Whether it is one patch.
    pub fn content_is_patch(&self) -> bool {
        matches!(self.content, Content::Patch { .. })
    }
}

impl BlockTokens {
    /// The numbers of the patches among some faces, in order; none when whole blocks are among them.
    pub fn patches_of(&self, faces: &[usize]) -> Option<Vec<u32>> {
        let number = |&f: &usize| match &self.tokens[f].content {
            Content::Patch { patch, .. } => Some(*patch),
            Content::Unit { .. } => None,
        };
        let mut list = faces.iter().map(number).collect::<Option<Vec<u32>>>()?;
        list.sort_unstable();
        Some(list)
    }

    /// The patches among some faces, blocks left out.
    fn patches_among(&self, faces: &[usize]) -> Vec<u32> {
        let number = |&f: &usize| match &self.tokens[f].content {
            Content::Patch { patch, .. } => Some(*patch),
            Content::Unit { .. } => None,
        };
        faces.iter().filter_map(number).collect()
    }

    /// Whether nothing is pinned of single patches.
    pub fn unpinned(&self) -> bool {
        self.pins.is_empty() && self.presses.is_empty() && self.lays.is_empty()
    }

    /// The pins of patches that lie within a region and are less than all of it.
    pub fn pins_inside<'a>(&'a self, faces: &[usize]) -> Vec<&'a design::Pin> {
        if self.pins.is_empty() {
            return Vec::new();
        }
        let here = self.patches_among(faces);
        let inside =
            |pin: &&design::Pin| pin.patches.len() < faces.len() && pin.patches.iter().all(|p| here.contains(p));
        self.pins.iter().filter(inside).collect()
    }

    /// Whether the patches of a pin all lie in one of several regions.
    pub fn keeps_whole(&self, pin: &design::Pin, regions: &[Vec<usize>]) -> bool {
        regions.iter().any(|faces| {
            let here = self.patches_among(faces);
            pin.patches.iter().all(|p| here.contains(p))
        })
    }

    /// The pinned method of a region: its own pin's, else its block's.
    pub fn method_of(&self, faces: &[usize]) -> Option<&str> {
        let own = self
            .patches_of(faces)
            .filter(|_| !self.pins.is_empty())
            .and_then(|patches| {
                let pin = self
                    .pins
                    .iter()
                    .find(|p| p.patches == patches && !p.method.is_empty())?;
                Some(pin.method.as_str())
            });
        own.or(self.method.as_deref())
    }
}

/// Reads a planar map; `class_of` gives the class and placement of a block used as a face.
pub fn tokens_of(map: &BlockMap, class_of: &dyn Fn(design::BlockIndex) -> (ClassId, Motion)) -> BlockTokens {
    let mut half_edges: HashMap<(usize, usize), usize> = HashMap::new();
    for (face, f) in map.faces.iter().enumerate() {
        for (a, b) in around(&f.outline) {
            half_edges.insert((a, b), face);
        }
    }
    let (chain_of, chains) = chains_of(map, &half_edges);
    let tokens = map
        .faces
        .iter()
        .map(|face| {
            let corners: Vec<Point> = face.outline.iter().map(|v| map.vertices[v.0]).collect();
            let full = Polygon::new(corners);
            let bowed = |a: design::VertexId, b: design::VertexId| map.curved.contains(&(a.min(b), a.max(b)));
            let curved: Vec<bool> = around_ids(&face.outline).map(|(a, b)| bowed(a, b)).collect();
            let (outline, bows) = true_corners(&full, &curved);
            let edges = around(&face.outline)
                .map(|(a, b)| {
                    let neighbour = half_edges.get(&(b, a)).copied();
                    let chain = chain_of.get(&(a.min(b), a.max(b))).copied();
                    let (low, high) = (design::VertexId(a.min(b)), design::VertexId(a.max(b)));
                    FaceEdge {
                        neighbour,
                        chain,
                        length: map.vertices[a].distance(map.vertices[b]),
                        vertex: a,
                        from: map.vertices[a],
                        curved: map.curved.contains(&(low, high)),
                    }
                })
                .collect();
            let content = match &face.fill {
                Fill::Patch {
                    fabric,
                    up,
                    grain,
                    patch,
                    role,
                } => Content::Patch {
                    fabric: fabric.clone(),
                    up: *up,
                    grain: grain_of(*grain, (&outline, &bows), &map.outline),
                    patch: *patch,
                    role: role.clone(),
                },
                Fill::Block { block, motion } => {
                    let (class, home) = class_of(*block);
                    Content::Unit {
                        class,
                        motion: home.then(motion),
                    }
                }
            };
            Token {
                centre: outline.centroid(),
                area: outline.signed_area(),
                outline,
                bows,
                edges,
                content,
            }
        })
        .collect();
    let name = if map.variant.is_empty() {
        map.name.clone()
    } else {
        format!("{} {}", map.name, map.variant)
    };
    BlockTokens {
        name,
        tokens,
        chains,
        outline: map.outline.clone(),
        method: map.method.clone(),
        pins: map.pins.clone(),
        presses: map.presses.clone(),
        lays: map.lays.clone(),
        replaced: false,
    }
}

fn around_ids(outline: &[design::VertexId]) -> impl Iterator<Item = (design::VertexId, design::VertexId)> + '_ {
    (0..outline.len()).map(|i| (outline[i], outline[(i + 1) % outline.len()]))
}

/// A face's outline without the corners that lie on a straight run, and which of its straights are a curve's.
fn true_corners(full: &Polygon, curved: &[bool]) -> (Polygon, Vec<bool>) {
    if !curved.contains(&true) {
        let outline = full.simplified(WELD / 2.0);
        let bows = vec![false; outline.len()];
        return (outline, bows);
    }
    let n = full.len();
    let straight_on = |i: usize| {
        let (before, here, after) = (full.corner(i + n - 1), full.corner(i), full.corner(i + 1));
        bend(here - before, after - here) == Bend::None
    };
    let kept: Vec<usize> = (0..n)
        .filter(|&i| curved[i] || curved[(i + n - 1) % n] || !straight_on(i))
        .collect();
    (
        Polygon::new(kept.iter().map(|&i| full.corner(i)).collect()),
        kept.iter().map(|&i| curved[i]).collect(),
    )
}

fn around(outline: &[design::VertexId]) -> impl Iterator<Item = (usize, usize)> + '_ {
    (0..outline.len()).map(|i| (outline[i].0, outline[(i + 1) % outline.len()].0))
}

/// Interior edges, united where two of them run straight on through a vertex.
fn chains_of(
    map: &BlockMap,
    half_edges: &HashMap<(usize, usize), usize>,
) -> (HashMap<(usize, usize), ChainId>, Vec<Line>) {
    let mut edges: Vec<(usize, usize)> = Vec::new();
    for face in &map.faces {
        for (a, b) in around(&face.outline) {
            let bowed = map.curved.contains(&(design::VertexId(a), design::VertexId(b)));
            if a < b && half_edges.contains_key(&(b, a)) && !bowed {
                edges.push((a, b));
            }
        }
    }
    edges.sort_unstable();
    let mut at_vertex: Vec<Vec<usize>> = vec![Vec::new(); map.vertices.len()];
    for (e, &(a, b)) in edges.iter().enumerate() {
        at_vertex[a].push(e);
        at_vertex[b].push(e);
    }
    let mut parent: Vec<usize> = (0..edges.len()).collect();
    for (vertex, here) in at_vertex.iter().enumerate() {
        // Each edge goes on in the one edge that continues it best; a short edge alone could fit several.
        let mut pairs: Vec<(f64, usize, usize)> = Vec::new();
        for (i, &e) in here.iter().enumerate() {
            for &f in &here[i + 1..] {
                if let Some(sine) = runs_straight_on(map, vertex, edges[e], edges[f]) {
                    pairs.push((sine, e, f));
                }
            }
        }
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
        let mut taken: Vec<usize> = Vec::new();
        for (_, e, f) in pairs {
            if !taken.contains(&e) && !taken.contains(&f) {
                taken.extend([e, f]);
                let (p, q) = (root(&mut parent, e), root(&mut parent, f));
                parent[p.max(q)] = p.min(q);
            }
        }
    }
    let mut ids: HashMap<usize, ChainId> = HashMap::new();
    let mut ends: Vec<Vec<Point>> = Vec::new();
    let mut chain_of = HashMap::new();
    for (e, &edge) in edges.iter().enumerate() {
        let r = root(&mut parent, e);
        let id = *ids.entry(r).or_insert_with(|| {
            ends.push(Vec::new());
            ChainId(ends.len() - 1)
        });
        ends[id.0].extend([map.vertices[edge.0], map.vertices[edge.1]]);
        chain_of.insert(edge, id);
    }
    let lines = ends.iter().map(|points| widest_line(points)).collect();
    (chain_of, lines)
}

fn root(parent: &mut [usize], mut e: usize) -> usize {
    while parent[e] != e {
        parent[e] = parent[parent[e]];
        e = parent[e];
    }
    e
}

/// How far (as a sine) `f` turns from the straight continuation of `e` at their common vertex; `None` when it is another
/// line.
fn runs_straight_on(map: &BlockMap, vertex: usize, e: (usize, usize), f: (usize, usize)) -> Option<f64> {
    let other = |edge: (usize, usize)| if edge.0 == vertex { edge.1 } else { edge.0 };
    let here = map.vertices[vertex];
    let (u, v) = (map.vertices[other(e)] - here, map.vertices[other(f)] - here);
    let (u1, v1) = (u.unit()?, v.unit()?);
    let sine = u1.cross(v1).abs();
    // Vertices may have been welded by up to 1/256 in: allow that much at the end of the shorter edge, and never a turn
    // that anyone could see.
    (u1.dot(v1) < 0.0 && sine <= WIDEST_TURN && sine * u.length().min(v.length()) <= WELD).then_some(sine)
}

/// The sine of the widest turn that welding may have put into a straight line of short edges.
const WIDEST_TURN: f64 = 0.35;

/// The line through the two points of a chain that lie furthest apart.
fn widest_line(points: &[Point]) -> Line {
    let first = points[0];
    let far = |from: Point| {
        points.iter().copied().fold(from, |best, p| {
            if p.distance(from) > best.distance(from) {
                p
            } else {
                best
            }
        })
    };
    let a = far(first);
    let b = far(a);
    // The direction is made independent of where the search began.
    let (from, to) = if (a.x, a.y) < (b.x, b.y) { (a, b) } else { (b, a) };
    Line::between(from, to).unwrap_or(Line {
        through: first,
        along: Vector::new(1.0, 0.0),
    })
}

/// The straight grain's direction. `Auto`: along the block's own sides when a side of the patch lies on or parallel to
/// them, else along the patch's longest straight side; of a patch of curves alone, along the block's first side.
fn grain_of(grain: Grain, (patch, bows): (&Polygon, &[bool]), block: &Polygon) -> Vector {
    if let Grain::Along(v) = grain {
        return v.unit().unwrap_or(Vector::new(1.0, 0.0));
    }
    let sides: Vec<Line> = (0..block.len()).filter_map(|i| block.edge(i)).collect();
    // The straights of a curve say nothing; a patch of curves alone lies as the block does.
    let first = sides.first().map_or(Vector::new(1.0, 0.0), |s| s.along);
    let straight = || (0..patch.len()).filter(|&i| bows.get(i) != Some(&true));
    let longest = straight()
        .filter_map(|i| {
            patch
                .edge(i)
                .map(|l| (patch.corner(i).distance(patch.corner(i + 1)), l.along))
        })
        .fold(
            (0.0, first),
            |best, (len, along)| {
                if len > best.0 + WELD { (len, along) } else { best }
            },
        );
    let parallel = straight().filter_map(|i| patch.edge(i)).find_map(|e| {
        sides
            .iter()
            .find(|s| s.along.cross(e.along).abs() < 1.0e-6)
            .map(|s| s.along)
    });
    parallel.unwrap_or(longest.1)
}
