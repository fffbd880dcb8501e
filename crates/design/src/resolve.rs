//! From the model to the sheet: every block in the colours, hand, size and (where a print minds) turn it is used in,
//! inner blocks before those that hold them, the top last.

use crate::findings::map_faults::{self, Shape};
use crate::findings::on_ground;
use crate::layout::{TopPlan, lay};
use crate::place::{flip_within, motion};
use crate::planar::{Planar, build};
use crate::read::figure;
use crate::{
    Block, BlockIndex, BlockMap, Design, Fabric, Fill, Grain, GrainRule, MapFace, MapLaid, Placement, Print, Sheet, Up,
    UpRule, VertexId,
};
use shape::{Motion, Point, Polygon, Vector, WELD};
use std::collections::{BTreeMap, BTreeSet};
use terms::{FabricId, Finding, PatchPath, Place};

/// Deepest nesting followed; reading refuses more, so this only guards designs changed since.
const MOST_LEVELS: u32 = 20;

/// Colours that differ from the drawing's own, for the roles a block uses.
type Recolor = BTreeMap<FabricId, FabricId>;

/// Cloth chosen for single patches, by their path from the block inward.
type Scraps = BTreeMap<PatchPath, FabricId>;

/// Those within one placed block.
fn scraps_within(scraps: &Scraps, placement: usize) -> Scraps {
    let within = |(path, cloth): (&PatchPath, &FabricId)| {
        let (&first, rest) = path.placements.split_first()?;
        let path = PatchPath {
            placements: rest.to_vec(),
            patch: path.patch,
        };
        (first as usize == placement).then(|| (path, cloth.clone()))
    };
    let number = placement as u32;
    let from = PatchPath {
        placements: vec![number],
        patch: 0,
    };
    scraps
        .range(from..)
        .take_while(|(path, _)| path.placements.first() == Some(&number))
        .filter_map(within)
        .collect()
}

/// The cloth of a block's own patch.
fn cloth(variant: &Variant, patch: usize, drawn: &FabricId) -> FabricId {
    let path = PatchPath {
        placements: Vec::new(),
        patch: patch as u32,
    };
    let shown = variant.recolor.get(drawn).unwrap_or(drawn);
    variant.scraps.get(&path).unwrap_or(shown).clone()
}

/// What tells two uses of one block apart.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Variant {
    block: usize,
    /// Width it is drawn to, millionths of an inch.
    width: i64,
    flip: bool,
    /// Clockwise, millionths of a degree; nothing unless a print minds.
    turn: i64,
    recolor: Recolor,
    scraps: Scraps,
}

/// Everything resolving has to say: the sheet unless a fault prevents it.
pub(crate) struct Resolved {
    pub sheet: Option<Sheet>,
    pub findings: Vec<Finding>,
    /// Every block at every size it is used in.
    pub used: Vec<Used>,
}

/// A block at a size.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Used {
    /// Index into the design's blocks.
    pub block: usize,
    /// Finished inches to a drawn inch.
    pub scale: f64,
    /// Its planar map, where it has one.
    map: Option<Planar>,
    /// For each of its patches the face of the map that it is; none for those on a ground.
    faces: Vec<Option<usize>>,
}

impl Used {
    /// A patch's outline at this size: welded where the drawing has a map, as drawn otherwise; corners on a straight
    /// run left out.
    pub(crate) fn outline(&self, patch: usize, drawn: &crate::Patch) -> Polygon {
        let welded = self.map.as_ref().and_then(|map| {
            let face = map.faces.get((*self.faces.get(patch)?)?)?;
            Some(Polygon::new(face.iter().map(|&v| map.vertices[v]).collect()))
        });
        welded.unwrap_or_else(|| drawn.at_scale(self.scale).0).simplified(WELD)
    }
}

/// For each patch of a block the face of its map that it is.
fn faces_of(block: &Block) -> Vec<Option<usize>> {
    let mut next = 0;
    let face = |patch: &crate::Patch| {
        let pieced = patch.ground.is_none();
        next += usize::from(pieced);
        pieced.then(|| next - 1)
    };
    block.patches.iter().map(face).collect()
}

pub(crate) fn resolve(design: &Design) -> Resolved {
    let plan = lay(design);
    let mut resolver = Resolver {
        design,
        by_name: design
            .blocks
            .iter()
            .enumerate()
            .map(|(i, b)| (b.name.as_str(), i))
            .collect(),
        fabrics: design.fabrics.iter().map(|f| (f.name.as_str(), f)).collect(),
        roles: BTreeMap::new(),
        maps: BTreeMap::new(),
        known: BTreeMap::new(),
        blocks: Vec::new(),
        findings: Vec::new(),
    };
    let top = resolver.top(&plan);
    let used = resolver
        .maps
        .into_iter()
        .map(|((block, width), map)| Used {
            block,
            scale: scale_to(design.blocks.get(block).map_or(1.0, |b| b.size.0), width),
            map,
            faces: design.blocks.get(block).map_or_else(Vec::new, faces_of),
        })
        .collect();
    name_apart(&mut resolver.blocks);
    let sound = !resolver.findings.iter().any(Finding::is_stop);
    Resolved {
        sheet: match (top, sound) {
            (Some(top), true) => Some(Sheet {
                blocks: resolver.blocks,
                top,
            }),
            _ => None,
        },
        findings: resolver.findings,
        used,
    }
}

/// A block of the built-in collection is always recoloured and often drawn to another size; where it is used in one way only
/// nothing need be said of that.
fn name_apart(blocks: &mut [BlockMap]) {
    let mut ways: BTreeMap<String, usize> = BTreeMap::new();
    for block in blocks.iter() {
        *ways.entry(block.name.clone()).or_default() += 1;
    }
    for block in blocks {
        if block.name.starts_with(crate::collection::PREFIX) && ways.get(&block.name) == Some(&1) {
            block.variant.clear();
        }
    }
}

struct Resolver<'d> {
    design: &'d Design,
    by_name: BTreeMap<&'d str, usize>,
    fabrics: BTreeMap<&'d str, &'d Fabric>,
    /// Roles each block uses, its inner blocks included.
    roles: BTreeMap<usize, BTreeSet<FabricId>>,
    /// The map of each drawing at each size, made once; `None` where it has faults.
    maps: BTreeMap<(usize, i64), Option<Planar>>,
    known: BTreeMap<Variant, BlockIndex>,
    blocks: Vec<BlockMap>,
    findings: Vec<Finding>,
}

fn millionths(value: f64) -> i64 {
    (value * 1.0e6).round() as i64
}

/// Sizes in the file are kept as given: only a width that really differs is a scale.
fn scale_to(own: f64, width: i64) -> f64 {
    if width == millionths(own) {
        1.0
    } else {
        width as f64 / 1.0e6 / own
    }
}

impl<'d> Resolver<'d> {
    fn top(&mut self, plan: &TopPlan) -> Option<BlockIndex> {
        let mut shapes: Vec<Polygon> = plan.plain.iter().map(|p| p.outline.clone()).collect();
        shapes.extend(
            plan.blocks
                .iter()
                .map(|p| motion(p).polygon(&Polygon::rectangle(p.size.0, p.size.1))),
        );
        let plain = plan.plain.len();
        let name_of = |face: usize| match face.checked_sub(plain) {
            Some(block) => Shape::Block(plan.blocks[block].block.clone()),
            None => Shape::Patch(face),
        };
        let map = self.map_of("top", plan.width, plan.height, (&shapes, &[]), &name_of);
        let mut fills: Vec<Fill> = Vec::with_capacity(shapes.len());
        for (i, item) in plan.plain.iter().enumerate() {
            fills.push(Fill::Patch {
                fabric: item.fabric.clone(),
                // The cloth's length along a border is asked for as a stripe along it would be; a print's own wish goes first.
                up: self.up(&item.fabric, 0).or_else(|| {
                    item.lengthwise.then_some(Up {
                        toward: item.along,
                        two_way: true,
                    })
                }),
                grain: Grain::Along(item.along),
                patch: i as u32,
                role: item.role.to_string(),
            });
        }
        let mut sound = true;
        for (i, placement) in plan.blocks.iter().enumerate() {
            let scraps = scraps_within(&plan.scraps.patches, i);
            match self.placed(placement, (&Recolor::new(), scraps), 0, 1) {
                Some(block) => fills.push(Fill::Block {
                    block,
                    motion: self.upright_motion(placement),
                }),
                None => sound = false,
            }
        }
        let map = map.filter(|_| sound)?;
        self.blocks.push(block_map(
            ("top", String::new()),
            (plan.width, plan.height),
            map,
            fills,
            (None, (Vec::new(), Vec::new()), false),
            Vec::new(),
        ));
        Some(BlockIndex(self.blocks.len() - 1))
    }

    /// The motion of a placed block's variant, which is already flipped.
    fn upright_motion(&self, placement: &Placement) -> Motion {
        let moved = motion(placement);
        if placement.flip {
            flip_within(placement.size.0).then(&moved)
        } else {
            moved
        }
    }

    /// The variant for one placement, in an outer block turned by `turn` and recoloured by `outer`.
    fn placed(
        &mut self,
        placement: &Placement,
        (outer, scraps): (&Recolor, Scraps),
        turn: i64,
        level: u32,
    ) -> Option<BlockIndex> {
        let &block = self.by_name.get(placement.block.as_str())?;
        if level > MOST_LEVELS {
            return None;
        }
        let turn = (turn + millionths(placement.turn)).rem_euclid(360_000_000);
        let mut recolor = Recolor::new();
        for role in self.roles(block, level) {
            let inner = placement.recolor.get(&role).unwrap_or(&role).clone();
            let shown = outer.get(&inner).unwrap_or(&inner).clone();
            if shown != role {
                recolor.insert(role, shown);
            }
        }
        let turn = match self.direction(block, &recolor, &scraps, level) {
            Print::None => 0,
            Print::TwoWay => turn.rem_euclid(180_000_000),
            Print::OneWay => turn,
        };
        let variant = Variant {
            block,
            width: millionths(placement.size.0),
            flip: placement.flip,
            turn,
            recolor,
            scraps,
        };
        self.variant(variant, level)
    }

    fn roles(&mut self, block: usize, level: u32) -> BTreeSet<FabricId> {
        if let Some(roles) = self.roles.get(&block) {
            return roles.clone();
        }
        let mut roles = BTreeSet::new();
        let design = self.design;
        if let Some(drawing) = design.blocks.get(block) {
            roles.extend(drawing.patches.iter().map(|p| p.fabric.clone()));
            for placement in &drawing.place {
                let Some(&inner) = self.by_name.get(placement.block.as_str()) else {
                    continue;
                };
                if level < MOST_LEVELS {
                    let inner = self.roles(inner, level + 1);
                    roles.extend(
                        inner
                            .into_iter()
                            .map(|r| placement.recolor.get(&r).cloned().unwrap_or(r)),
                    );
                }
            }
        }
        self.roles.insert(block, roles.clone());
        roles
    }

    /// The strictest direction of any print in a block that minds the quilt's top.
    fn direction(&mut self, block: usize, recolor: &Recolor, scraps: &Scraps, level: u32) -> Print {
        let mut strictest = Print::None;
        let roles = self.roles(block, level);
        let shown = roles.iter().map(|role| recolor.get(role).unwrap_or(role));
        for shown in shown.chain(scraps.values()) {
            match self.fabrics.get(shown.as_str()) {
                Some(f) if f.up == UpRule::Quilt && f.print == Print::OneWay => return Print::OneWay,
                Some(f) if f.up == UpRule::Quilt && f.print == Print::TwoWay => strictest = Print::TwoWay,
                _ => {}
            }
        }
        strictest
    }

    fn variant(&mut self, variant: Variant, level: u32) -> Option<BlockIndex> {
        if let Some(&known) = self.known.get(&variant) {
            return Some(known);
        }
        let design = self.design;
        let drawing: &Block = design.blocks.get(variant.block)?;
        let scale = scale_to(drawing.size.0, variant.width);
        let (width, height) = (drawing.size.0 * scale, drawing.size.1 * scale);
        let grown: Vec<Placement> = drawing.place.iter().map(|p| scaled(p, scale)).collect();
        let map = self.drawing_map(&variant, drawing, &grown, scale);
        let mut fills = Vec::with_capacity(drawing.patches.len() + grown.len());
        for (i, patch) in drawing.pieced() {
            let fabric = cloth(&variant, i, &patch.fabric);
            fills.push(Fill::Patch {
                up: self.up(&fabric, variant.turn),
                fabric,
                grain: grain(patch.grain, variant.flip),
                patch: i as u32,
                role: String::new(),
            });
        }
        let mut sound = map.is_some();
        let over = flip_within(width);
        for (i, placement) in grown.iter().enumerate() {
            let mut inner = placement.clone();
            let mut moved = motion(placement);
            if variant.flip {
                // The whole is turned over, and so the inner block: its own flip is undone or done, its turn reversed.
                inner.flip = !placement.flip;
                inner.turn = (360.0 - placement.turn).rem_euclid(360.0);
                moved = moved.then(&over);
            }
            if inner.flip {
                moved = flip_within(placement.size.0).then(&moved);
            }
            match self.placed(
                &inner,
                (&variant.recolor, scraps_within(&variant.scraps, i)),
                variant.turn,
                level + 1,
            ) {
                Some(block) => fills.push(Fill::Block { block, motion: moved }),
                None => sound = false,
            }
        }
        let mut map = map.filter(|_| sound)?;
        if variant.flip {
            for v in &mut map.vertices {
                *v = Point::new(width - v.x, v.y);
            }
            for outline in &mut map.faces {
                outline.reverse();
            }
        }
        let laid = self.laid(&variant, drawing, scale);
        let words = words(&variant, (scale != 1.0).then_some(width));
        let method = (!drawing.method.is_empty()).then(|| drawing.method.clone());
        self.blocks.push(block_map(
            (&drawing.name, words),
            (width, height),
            map,
            fills,
            // What lies across the halves of a block would have to be laid when they are one.
            (
                method,
                (drawing.pins.clone(), drawing.presses.clone()),
                drawing.split && laid.is_empty(),
            ),
            laid,
        ));
        let index = BlockIndex(self.blocks.len() - 1);
        self.known.insert(variant, index);
        Some(index)
    }

    /// The patches on a ground, in the variant's frame.
    fn laid(&self, variant: &Variant, drawing: &Block, scale: f64) -> Vec<MapLaid> {
        let (width, height) = (drawing.size.0 * scale, drawing.size.1 * scale);
        let onto_side = |x: f64, size: f64| {
            if x.abs() <= WELD {
                0.0
            } else if (x - size).abs() <= WELD {
                size
            } else {
                x
            }
        };
        drawing
            .laid()
            .map(|(i, patch, edge)| {
                let (scaled, _) = patch.at_scale(scale);
                let mut corners: Vec<Point> = scaled
                    .corners()
                    .iter()
                    .map(|c| Point::new(onto_side(c.x, width), onto_side(c.y, height)))
                    .collect();
                if variant.flip {
                    corners = corners.iter().rev().map(|c| Point::new(width - c.x, c.y)).collect();
                }
                let fabric = cloth(variant, i, &patch.fabric);
                MapLaid {
                    outline: Polygon::new(corners),
                    up: self.up(&fabric, variant.turn),
                    fabric,
                    grain: grain(patch.grain, variant.flip),
                    edge,
                    patch: i as u32,
                }
            })
            .collect()
    }

    /// The planar map of a drawing at a size, made and checked once.
    fn drawing_map(&mut self, variant: &Variant, drawing: &Block, grown: &[Placement], scale: f64) -> Option<Planar> {
        let key = (variant.block, variant.width);
        if let Some(map) = self.maps.get(&key) {
            return map.clone();
        }
        let numbers: Vec<usize> = drawing.pieced().map(|(i, _)| i).collect();
        let (mut shapes, bows): (Vec<Polygon>, Vec<Vec<bool>>) =
            drawing.pieced().map(|(_, p)| p.at_scale(scale)).unzip();
        shapes.extend(
            grown
                .iter()
                .map(|p| motion(p).polygon(&Polygon::rectangle(p.size.0, p.size.1))),
        );
        let name_of = |face: usize| match numbers.get(face) {
            Some(&patch) => Shape::Patch(patch),
            None => Shape::Block(grown[face - numbers.len()].block.clone()),
        };
        let (width, height) = (drawing.size.0 * scale, drawing.size.1 * scale);
        self.findings.extend(on_ground::outside(drawing, scale));
        let map = self.map_of(&drawing.name, width, height, (&shapes, &bows), &name_of);
        self.maps.insert(key, map.clone());
        map
    }

    fn map_of(
        &mut self,
        name: &str,
        width: f64,
        height: f64,
        (shapes, bows): (&[Polygon], &[Vec<bool>]),
        what: &dyn Fn(usize) -> Shape,
    ) -> Option<Planar> {
        match build(width, height, shapes, bows) {
            Ok(map) => {
                self.findings.extend(map.welded.map(|(count, most, at)| {
                    let corners = if count == 1 {
                        "1 corner was".to_string()
                    } else {
                        format!("{count} corners were")
                    };
                    Finding::note(
                        "welded",
                        Place::Block {
                            name: name.to_string(),
                            patches: Vec::new(),
                            at: Some(at),
                        },
                        format!("{corners} moved by up to {} in so that neighbours meet.", figure(most)),
                        "Nothing needs to be done; the drawing was a hair off.",
                    )
                }));
                Some(map)
            }
            Err(faults) => {
                self.findings.extend(map_faults::tell(name, &faults, what));
                None
            }
        }
    }

    /// Where a print's up must point in a block turned clockwise by `turn`.
    fn up(&self, fabric: &FabricId, turn: i64) -> Option<Up> {
        let fabric = self.fabrics.get(fabric.as_str())?;
        let up = Vector::new(0.0, 1.0);
        let toward = match fabric.up {
            UpRule::Free => return None,
            UpRule::Block => up,
            UpRule::Quilt => Motion::turn_degrees(turn as f64 / 1.0e6).vector(up),
        };
        match fabric.print {
            Print::None => None,
            Print::OneWay => Some(Up { toward, two_way: false }),
            Print::TwoWay => Some(Up { toward, two_way: true }),
        }
    }
}

fn grain(rule: GrainRule, flip: bool) -> Grain {
    match rule {
        GrainRule::Auto => Grain::Auto,
        GrainRule::Degrees(degrees) => {
            let along = Motion::turn_degrees(-degrees).vector(Vector::new(1.0, 0.0));
            Grain::Along(if flip { Vector::new(-along.x, along.y) } else { along })
        }
    }
}

fn scaled(placement: &Placement, scale: f64) -> Placement {
    let mut grown = placement.clone();
    grown.size = (placement.size.0 * scale, placement.size.1 * scale);
    grown.centre = Point::new(placement.centre.x * scale, placement.centre.y * scale);
    grown
}

/// What tells the variant from the plain block, in words.
fn words(variant: &Variant, width: Option<f64>) -> String {
    let mut words: Vec<String> = Vec::new();
    if !variant.recolor.is_empty() {
        let shown: BTreeSet<&str> = variant.recolor.values().map(FabricId::as_str).collect();
        let shown: Vec<&str> = shown.into_iter().collect();
        words.push(format!("in {}", shown.join(" and ")));
    }
    if !variant.scraps.is_empty() {
        let shown: BTreeSet<&str> = variant.scraps.values().map(FabricId::as_str).collect();
        let shown: Vec<&str> = shown.into_iter().collect();
        words.push(format!("with scraps of {}", shown.join(" and ")));
    }
    if variant.flip {
        words.push("flipped".to_string());
    }
    if variant.turn != 0 {
        words.push(format!("turned {}", figure(variant.turn as f64 / 1.0e6)));
    }
    if let Some(width) = width {
        words.push(format!("{} in across", figure(width)));
    }
    words.join(", ")
}

fn block_map(
    (name, variant): (&str, String),
    (width, height): (f64, f64),
    map: Planar,
    fills: Vec<Fill>,
    (method, (pins, presses), split): (Option<String>, (Vec<crate::Pin>, Vec<crate::PressPin>), bool),
    laid: Vec<MapLaid>,
) -> BlockMap {
    BlockMap {
        name: name.to_string(),
        variant,
        outline: Polygon::rectangle(width, height),
        curved: map.curved.iter().map(|&(a, b)| (VertexId(a), VertexId(b))).collect(),
        vertices: map.vertices,
        faces: map
            .faces
            .into_iter()
            .zip(fills)
            .map(|(outline, fill)| MapFace {
                outline: outline.into_iter().map(VertexId).collect(),
                fill,
            })
            .collect(),
        method,
        pins,
        presses,
        split,
        laid,
    }
}
