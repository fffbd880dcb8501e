//! From chosen plans to the recipe: makings in order, named, counted.

use crate::bench::{Bench, Handle};
use crate::class::{Class, ClassId, Placed};
use crate::joints::Joints;
use crate::laid;
use crate::methods::joined_strip::JoinedStrip;
use crate::methods::sew_together::{self, PartAtPlace};
use crate::methods::strip_set::{StripSet, Wanted};
use crate::methods::{fitting, set_in, windmill};
use crate::mosaic::{self, Mosaic};
use crate::patch::{CutWay, PatchCut, cut_patch};
use crate::pieces::{Pieces, letters};
use crate::plan::{Making, Plan, Planner};
use crate::pressing::{self, Nesting, Out, Pressed, Pressing};
use crate::to_fit::{self, Fit};
use crate::tokens::Content;
use design::LaidBy;
use recipe::{Give, Guide, Make, Paper, Press, Take};
use shape::{Point, Vector};
use std::collections::BTreeMap;
use std::rc::Rc;
use terms::{Finding, PieceId, Place, UnitId};

/// Which named block a unit belongs to, and which method made it.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitStory {
    /// The unit.
    pub unit: UnitId,
    /// The block; `None` for units of the top itself.
    pub block: Option<String>,
    /// The method's name.
    pub method: &'static str,
    /// The numbers of its patches in the block, from 0; none where whole blocks are among them.
    pub patches: Vec<u32>,
    /// The named block it is the whole of, when it is one.
    pub whole: Option<String>,
}

/// The makings of a whole quilt.
pub struct Emitted {
    /// In order; the last finishes the top.
    pub makes: Vec<Make>,
    /// One per making.
    pub stories: Vec<UnitStory>,
    /// The class that each making makes; none for one that only finishes the top.
    pub kinds: Vec<Option<ClassId>>,
    /// The kinds of unit that are cut from strip sets, and how.
    pub sets: BTreeMap<ClassId, Rc<Plan>>,
    /// The register of pieces.
    pub pieces: Pieces,
    /// The printed sheets that show where pieces lie on a ground.
    pub guides: Vec<Guide>,
    /// How many of each piece are sewn.
    pub used: BTreeMap<PieceId, u64>,
    /// The foundation papers, named by their unit.
    pub papers: Vec<Paper>,
    /// How many meetings of seams nest.
    pub nesting: Nesting,
    /// What was asked of the cloths' colours.
    pub asked: Vec<pressing::Darker>,
    /// What the layout calls the patches that a piece was first cut for.
    pub roles: BTreeMap<PieceId, String>,
    /// What could not be made, and what is awkward.
    pub findings: Vec<Finding>,
}

struct Emitter<'p, 'a> {
    planner: &'p mut Planner<'a>,
    /// The block of which a class is the whole, for its label.
    whole: BTreeMap<ClassId, usize>,
    handles: BTreeMap<Pressed, Option<Handle>>,
    joints: Joints,
    /// Pinned layings met with, by block and patches, and whether all were followed.
    laid: BTreeMap<(usize, [u32; 2]), bool>,
    pressing: Pressing,
    /// Kinds of unit made pressed in and pressed out, and in how many ways.
    more_ways: BTreeMap<ClassId, usize>,
    /// Lengths wanted of each strip set, and the sets made, by block and what makes them alike.
    sets_wanted: BTreeMap<(usize, String), u64>,
    sets_made: BTreeMap<(usize, String), (UnitId, StripSet)>,
    named: BTreeMap<String, usize>,
    /// Long strips joined to be fitted, by the strip and what it is cut to.
    strips: BTreeMap<(ClassId, String), Handle>,
    templates: Vec<Awkward>,
    off_grain: Vec<Awkward>,
    out: Emitted,
}

/// A patch that is cut in a way to be told of.
struct Awkward {
    home: usize,
    patch: u32,
    at: Point,
    piece: PieceId,
}

/// A piece is told of once for each class of patch, however often it is taken.
fn tell_once(told: &mut Vec<Awkward>, awkward: Awkward) {
    let same = |t: &Awkward| (t.home, t.patch, &t.piece) == (awkward.home, awkward.patch, &awkward.piece);
    if !told.iter().any(same) {
        told.push(awkward);
    }
}

/// Writes all makings for the top's class.
pub fn emit(planner: &mut Planner<'_>, top: Placed, whole: BTreeMap<ClassId, usize>) -> Emitted {
    let mut out = Emitted {
        makes: Vec::new(),
        stories: Vec::new(),
        kinds: Vec::new(),
        sets: BTreeMap::new(),
        pieces: Pieces::default(),
        guides: Vec::new(),
        used: BTreeMap::new(),
        papers: Vec::new(),
        nesting: Nesting::default(),
        roles: BTreeMap::new(),
        asked: Vec::new(),
        findings: Vec::new(),
    };
    let mut pressing = pressing::decide(planner, top.class);
    out.asked = std::mem::take(&mut pressing.asked);
    let nesting = pressing.nesting;
    let dearer = pressing.dearer;
    out.findings = crate::pins::press_findings(&planner.blocks, &pressing.unfollowed);
    let more_ways = pressing.in_more_ways();
    let split = !more_ways.is_empty();
    let mut emitter = Emitter {
        planner,
        whole,
        handles: BTreeMap::new(),
        joints: Joints::default(),
        laid: BTreeMap::new(),
        pressing,
        more_ways,
        sets_wanted: BTreeMap::new(),
        sets_made: BTreeMap::new(),
        named: BTreeMap::new(),
        strips: BTreeMap::new(),
        templates: Vec::new(),
        off_grain: Vec::new(),
        out,
    };
    emitter.count_sets();
    emitter.blocks_first();
    let handle = emitter.class((top.class, Out::NONE));
    emitter.finish(top, handle);
    emitter.tell_awkward();
    let unlaid = laid::findings(&emitter.planner.blocks, &emitter.laid);
    let mut out = emitter.out;
    out.findings.extend(unlaid);
    out.nesting = nesting;
    let Nesting {
        meetings,
        nesting,
        at_most,
    } = nesting;
    if nesting < meetings {
        let bound = if nesting == at_most && split {
            "With the units pressed in and out as they are here, no other choice of one way for each seam nests more."
                .to_string()
        } else if split {
            format!("With the units pressed in and out as they are here, at most {at_most} could.")
        } else if nesting == at_most {
            "No other choice of one way for each seam of a unit nests more.".to_string()
        } else {
            format!("At most {at_most} could.")
        };
        let more = dearer.map_or_else(String::new, |more| {
            format!(
                " With {} kinds of unit more, some pressed out that are all pressed in here, {} more would nest; a kind more is made only for {} at least.",
                more.makings, more.meetings, more.price
            )
        });
        out.findings.push(Finding::note(
            "seams-do-not-nest",
            Place::Quilt,
            format!("{nesting} of {meetings} places where seams meet nest; at the others both seams go the same way. {bound}{more}"),
            "Pin well there, or press those seams open.",
        ));
    }
    count(&mut out);
    out
}

impl Emitter<'_, '_> {
    /// Makes the blocks, in the file's order, before anything of the top itself: as a maker would.
    fn blocks_first(&mut self) {
        let mut units = self.pressing.kinds.clone();
        let home = |planner: &Planner<'_>, kind: &Pressed| planner.classes.get(kind.0).home;
        units.retain(|id| self.planner.blocks[home(self.planner, id)].name != "top");
        units.sort_by_key(|id| home(self.planner, id));
        for kind in units {
            self.class(kind);
        }
    }

    /// Makes a class as it is pressed, once; `None` when it or a part of it cannot be made.
    fn class(&mut self, kind: Pressed) -> Option<Handle> {
        if let Some(known) = self.handles.get(&kind) {
            return known.clone();
        }
        let plan = self.planner.plan(kind.0);
        let handle = stacker::maybe_grow(256 * 1024, 4 * 1024 * 1024, || self.make(kind, &plan));
        self.handles.insert(kind, handle.clone());
        handle
    }

    fn make(&mut self, kind: Pressed, plan: &Rc<Plan>) -> Option<Handle> {
        let (id, out) = kind;
        let class = self.planner.classes.get(id).clone();
        let set = self.strip_set(kind);
        let in_strips = set
            .as_ref()
            .map(|set| Rc::new(plan.made(Making::Method(Rc::new(set.clone())))));
        if let Some(plan) = &in_strips {
            self.out.sets.insert(id, plan.clone());
        }
        if let Some(set) = &set
            && let Some((unit, made)) = self.sets_made.get(&self.key_of(kind, set))
        {
            // Cut from a set that another kind of unit is cut from.
            return Some(Handle {
                take: Take::Unit(unit.clone()),
                edges: set.sides_in(made),
            });
        }
        let plan = in_strips.as_ref().unwrap_or(plan);
        let fits = match &plan.making {
            // What is cut beyond its outline is trimmed in its own way.
            Making::Together {
                parts,
                seams,
                set: None,
            } if parts.iter().all(|p| self.planner.over(p.class).is_none()) => to_fit::of(self.planner, parts, seams),
            _ => Vec::new(),
        };
        let together = match &plan.making {
            Making::Trapped => {
                self.trapped(id);
                return None;
            }
            Making::Mosaic(mosaic) => return self.mosaic(kind, mosaic),
            Making::Piece(cut) => {
                return self.piece(&class, cut);
            }
            Making::Together { parts, .. }
            | Making::Windmill { parts, .. }
            | Making::SetIn { parts, .. }
            | Making::Laid { parts, .. } => {
                // Every part is made (and every finding collected) before any is given up.
                let handles: Vec<Option<Handle>> = parts
                    .iter()
                    .enumerate()
                    .map(|(j, p)| {
                        let fit = fits.get(j).and_then(Option::as_ref);
                        fit.and_then(|fit| self.strip_to_fit(p, fit))
                            .or_else(|| self.with_its_point(id, p))
                            .or_else(|| self.class(self.pressing.part(id, out, j, p.class)))
                    })
                    .collect();
                let handles: Vec<Handle> = handles.into_iter().collect::<Option<_>>()?;
                let at_place: Vec<PartAtPlace> = parts
                    .iter()
                    .zip(handles)
                    .map(|(p, handle)| self.at_place(p, handle))
                    .collect();
                Some(at_place)
            }
            _ => None,
        };
        let unit = self.name(&class);
        let settings = self.planner.settings;
        let ways = self.pressing.ways_of(kind);
        let mut bench = Bench::new(&mut self.planner.whys, &mut self.out.pieces, settings);
        bench.ways.clone_from(&ways);
        let gives = match (&plan.making, together) {
            (
                Making::Together {
                    seams, set: Some(set), ..
                },
                Some(parts),
            ) => set.write(&mut bench, &class.outline, &parts, seams, &ways).ok(),
            (Making::Together { seams, .. }, Some(parts)) if fits.iter().any(Option::is_some) => {
                fitting::write(&mut bench, &class.outline, (&parts, &fits), seams, &ways).ok()
            }
            (Making::Together { seams, .. }, Some(parts)) => {
                let block = &self.planner.blocks[class.home];
                let laid_by = laid::laid_by(block, &class, &parts, seams);
                let by: Vec<design::LaidBy> = laid_by.iter().map(|pin| pin.map_or(LaidBy::Ends, |p| p.by)).collect();
                let written = sew_together::write(&mut bench, &class.outline, &parts, seams, &ways, &by).ok();
                written.map(|(gives, otherwise)| {
                    for (i, pin) in laid_by.iter().enumerate().filter_map(|(i, pin)| Some((i, (*pin)?))) {
                        let followed = !otherwise.contains(&i);
                        *self.laid.entry((class.home, pin.patches)).or_insert(followed) &= followed;
                    }
                    gives
                })
            }
            (Making::Windmill { blades, .. }, Some(parts)) => {
                windmill::write(&mut bench, &class.outline, &parts, blades, &ways).ok()
            }
            (Making::SetIn { legs, .. }, Some(parts)) => {
                let press = bench.way(0, Press::TowardUpper);
                set_in::write(&mut bench, &class, &parts, legs, press).ok()
            }
            (Making::Method(method), _) => Some(method.write(&mut bench)),
            (Making::Laid { ground, .. }, Some(parts)) => {
                let block = self.planner.blocks[class.home].name.replace(' ', "-");
                let name = sheet_for(&mut self.out.guides, ground.guide(&block, &class.outline));
                parts
                    .first()
                    .and_then(|part| ground.write(&mut bench, &class.outline, part, &name))
            }
            _ => None,
        };
        let (mut parts, steps, papers) = (bench.parts, bench.steps, bench.papers);
        let Some(gives) = gives else {
            self.trapped(id);
            return None;
        };
        for part in &mut parts {
            if let Take::Paper(name) = &mut part.take {
                name.clone_from(&unit.0);
            }
        }
        let named = |paper| Paper {
            name: unit.0.clone(),
            ..paper
        };
        self.out.papers.extend(papers.into_iter().map(named));
        if let Some(set) = set {
            self.sets_made.insert(self.key_of(kind, &set), (unit.clone(), set));
        }
        self.cut_for(kind.0, &parts);
        let edges = class.sides.of.iter().map(|&side| side as u32).collect();
        self.put(kind, unit.clone(), &plan.making, parts, steps, gives);
        Some(Handle {
            take: Take::Unit(unit),
            edges,
        })
    }

    /// Makes a mosaic: its flowers and groups first, then all of it.
    fn mosaic(&mut self, kind: Pressed, mosaic: &Rc<Mosaic>) -> Option<Handle> {
        let class = self.planner.classes.get(kind.0).clone();
        let making = Making::Mosaic(mosaic.clone());
        let mut names: Vec<UnitId> = Vec::new();
        for (number, part) in mosaic.units.iter().enumerate() {
            let unit = self.name(&class);
            let settings = self.planner.settings;
            let mut bench = Bench::new(&mut self.planner.whys, &mut self.out.pieces, settings);
            let gives = mosaic::write(mosaic, number, &names, &mut bench);
            let (parts, steps) = (bench.parts, bench.steps);
            let Some(gives) = gives else {
                self.trapped(kind.0);
                return None;
            };
            self.put(kind, unit.clone(), &making, parts, steps, gives);
            if number + 1 < mosaic.units.len() {
                // Only the last making makes the class.
                if let (Some(make), Some(known)) = (self.out.makes.last_mut(), self.out.kinds.last_mut()) {
                    make.label = part.label.into();
                    *known = None;
                }
            }
            names.push(unit);
        }
        Some(Handle {
            take: Take::Unit(names.pop()?),
            edges: (0..class.outline.len() as u32).collect(),
        })
    }

    /// The same unit cut from a strip set, where it is one of many and nothing but plain strips side by side.
    fn strip_set(&mut self, kind: Pressed) -> Option<StripSet> {
        let set = self.set_of(kind)?;
        let wanted = self.sets_wanted.get(&self.key_of(kind, &set)).copied().unwrap_or(0);
        // Units pressed the other way come from a set of their own, but are made as all of their kind are.
        let times = &self.pressing.times;
        let alike = times.iter().filter(|(other, _)| other.0 == kind.0);
        set.for_so_many(Wanted {
            these: wanted,
            in_all: wanted.max(alike.map(|(_, n)| n).sum()),
        })
    }

    /// Whether anything lies on a kind of unit, or on a part of it.
    fn bears(&mut self, id: ClassId) -> bool {
        let plan = self.planner.plan(id);
        matches!(plan.making, Making::Laid { .. }) || plan.making.parts().iter().any(|part| self.bears(part.class))
    }

    /// The strip set that a kind of unit could come from, however many are wanted.
    fn set_of(&mut self, kind: Pressed) -> Option<StripSet> {
        let plan = self.planner.plan(kind.0);
        let Making::Together {
            parts,
            seams,
            set: None,
        } = &plan.making
        else {
            return None;
        };
        // What lies on a ground would be lost with the strips.
        if parts.iter().any(|part| self.bears(part.class)) {
            return None;
        }
        let ways = self.pressing.ways_of(kind);
        let classes = &self.planner.classes;
        let placed: Vec<_> = parts.iter().map(|p| (*p, classes.get(p.class))).collect();
        let (class, blocks) = (classes.get(kind.0), &self.planner.blocks);
        StripSet::recognise(class, blocks, &placed, seams, &ways, self.planner.settings)
    }

    /// Within one block, lengths of one set serve every unit that is made of the same strips.
    fn key_of(&self, kind: Pressed, set: &StripSet) -> (usize, String) {
        (self.planner.classes.get(kind.0).home, set.alike())
    }

    /// Counts how many lengths are wanted of each set.
    fn count_sets(&mut self) {
        let times: Vec<(Pressed, u64)> = self.pressing.times.iter().map(|(kind, n)| (*kind, *n)).collect();
        for (kind, wanted) in times {
            if let Some(set) = self.set_of(kind) {
                *self.sets_wanted.entry(self.key_of(kind, &set)).or_default() += wanted;
            }
        }
    }

    /// A wedge whose point is the unit's own is cut round a template, where it would else be blunt: the unit's sides meet in
    /// that point.
    fn with_its_point(&mut self, unit: ClassId, part: &Placed) -> Option<Handle> {
        if !self.planner.keeps_point(unit, part) {
            return None;
        }
        let class = self.planner.classes.get(part.class).clone();
        let token = &self.planner.blocks[class.home].tokens[class.faces[0]];
        let Content::Patch { grain, .. } = &token.content else {
            return None;
        };
        let settings = self.planner.settings;
        let whole = cut_patch(&class.outline, *grain, None, true, settings, &mut self.planner.whys)?;
        self.piece(&class, &whole)
    }

    /// A border strip cut longer or wider than it will be, and joined of several where the cloth is not wide enough.
    fn strip_to_fit(&mut self, part: &Placed, fit: &Fit) -> Option<Handle> {
        let settings = self.planner.settings;
        if let Some(joined) = JoinedStrip::recognise(&fit.outline, &fit.fabric, fit.up, settings) {
            let key = (part.class, format!("{:?}", fit.outline.bounds()));
            if let Some(known) = self.strips.get(&key) {
                return Some(known.clone());
            }
            let class = self.planner.classes.get(part.class).clone();
            let unit = self.name(&class);
            let mut bench = Bench::new(&mut self.planner.whys, &mut self.out.pieces, settings);
            let gives = joined.method.write(&mut bench);
            let (parts, steps) = (bench.parts, bench.steps);
            self.cut_for(part.class, &parts);
            let making = Making::Method(joined.method);
            self.put((part.class, Out::NONE), unit.clone(), &making, parts, steps, gives);
            let handle = Handle {
                take: Take::Unit(unit),
                edges: vec![0, 1, 2, 3],
            };
            self.strips.insert(key, handle.clone());
            return Some(handle);
        }
        let (shape, edges, turns) = to_fit::piece(fit, settings, &mut self.planner.whys)?;
        let piece = self.out.pieces.of(shape, &fit.fabric, turns, None);
        self.piece_for(part.class, &piece);
        Some(Handle {
            take: Take::Piece(piece),
            edges,
        })
    }

    /// A single patch, cut so.
    fn piece(&mut self, class: &Class, cut: &PatchCut) -> Option<Handle> {
        let token = &self.planner.blocks[class.home].tokens[class.faces[0]];
        let Content::Patch {
            fabric, patch, role, ..
        } = &token.content
        else {
            return None;
        };
        // What is cut from a square's diagonals is no hand's, whatever its finished outline.
        let finished = Some(&class.outline).filter(|_| cut.way != CutWay::OfSquare);
        let piece = (self.out.pieces).of(cut.shape.clone(), fabric, cut.turns.clone(), finished);
        if !role.is_empty() {
            self.out.roles.entry(piece.clone()).or_insert_with(|| role.clone());
        }
        let awkward = Awkward {
            home: class.home,
            patch: *patch,
            at: token.centre,
            piece: piece.clone(),
        };
        match cut.way {
            CutWay::Template => tell_once(&mut self.templates, awkward),
            _ if cut.off_grain => tell_once(&mut self.off_grain, awkward),
            _ => {}
        }
        Some(Handle {
            take: Take::Piece(piece),
            edges: cut.edges.clone(),
        })
    }

    /// Notes the role of a patch for the pieces that make it.
    fn cut_for(&mut self, id: ClassId, parts: &[recipe::Part]) {
        for part in parts {
            if let Take::Piece(piece) = &part.take {
                self.piece_for(id, piece);
            }
        }
    }

    /// Notes the role of a patch for a piece that is cut for it; units of several patches have none.
    fn piece_for(&mut self, id: ClassId, piece: &PieceId) {
        let class = self.planner.classes.get(id);
        let [face] = class.faces[..] else { return };
        if let Content::Patch { role, .. } = &self.planner.blocks[class.home].tokens[face].content
            && !role.is_empty()
        {
            self.out.roles.entry(piece.clone()).or_insert_with(|| role.clone());
        }
    }

    fn at_place(&mut self, part: &Placed, handle: Handle) -> PartAtPlace {
        let class = self.planner.classes.get(part.class);
        let outline = part.motion.polygon(&class.outline);
        let bows = class.bows.clone();
        let bowed = self.planner.bowed_patches(part);
        let joints = (0..outline.len())
            .map(|side| {
                if bows[side] {
                    return Vec::new();
                }
                self.joints.along(
                    &self.planner.classes,
                    &self.planner.blocks,
                    self.planner.settings,
                    part.class,
                    side,
                )
            })
            .collect();
        PartAtPlace {
            handle,
            cut: vec![None; outline.len()],
            outline,
            joints,
            bows,
            bowed,
            over: self.planner.over(part.class),
        }
    }

    fn put(
        &mut self,
        (id, out): Pressed,
        unit: UnitId,
        making: &Making,
        parts: Vec<recipe::Part>,
        steps: Vec<recipe::Step>,
        gives: Vec<Give>,
    ) {
        let class = self.planner.classes.get(id);
        let block = self.planner.blocks[class.home].name.clone();
        let mut label = self.label(id, making);
        if let Some(&ways) = self.more_ways.get(&id) {
            label += match (out.own, out.inner) {
                (false, false) => ", pressed in",
                _ if ways == 2 => ", pressed out",
                (true, true) => ", pressed out",
                (true, false) => ", joining seams pressed out",
                (false, true) => ", parts pressed out",
            };
        }
        self.out.kinds.push(Some(id));
        self.out.stories.push(UnitStory {
            unit: unit.clone(),
            block: (block != "top").then_some(block),
            method: making.method(),
            patches: self.planner.blocks[class.home]
                .patches_of(&class.faces)
                .unwrap_or_default(),
            whole: self
                .whole
                .get(&id)
                .map(|&home| self.planner.blocks[home].name.clone())
                .filter(|name| name != "top"),
        });
        self.out.makes.push(Make {
            unit,
            label,
            times: 0,
            parts,
            steps,
            gives,
            spare: 0,
        });
    }

    /// `beacon/C`: the block where the unit was first met, and a letter in making order.
    fn name(&mut self, class: &crate::class::Class) -> UnitId {
        let block = self.planner.blocks[class.home].name.replace(' ', "-");
        let next = self.named.entry(block.clone()).or_insert(0);
        *next += 1;
        UnitId(format!("{block}/{}", letters(*next - 1)))
    }

    fn label(&self, id: ClassId, making: &Making) -> String {
        if let Some(&home) = self.whole.get(&id) {
            let name = &self.planner.blocks[home].name;
            return if name == "top" {
                "Quilt top".into()
            } else {
                format!("{} block", in_words(name))
            };
        }
        match making {
            Making::Method(method) => method.label(),
            Making::Together { set: Some(_), .. } => "Centre on point",
            Making::Together { parts, .. } | Making::SetIn { parts, .. } if parts.len() == 2 => "Pair",
            Making::Windmill { .. } => "Windmill",
            Making::Laid { .. } => "Applique",
            Making::Together { .. } | Making::SetIn { .. } => "Row",
            Making::Mosaic(_) => "Mosaic",
            Making::Piece(_) | Making::Trapped => "Unit",
        }
        .to_string()
    }

    fn trapped(&mut self, id: ClassId) {
        let class = self.planner.classes.get(id);
        let block = &self.planner.blocks[class.home];
        let mut patches: Vec<u32> = class
            .faces
            .iter()
            .map(|&f| match &block.tokens[f].content {
                Content::Patch { patch, .. } => *patch,
                crate::tokens::Content::Unit { .. } => f as u32,
            })
            .collect();
        patches.sort_unstable();
        if class.faces.len() == 1 && !class.is_convex() && !class.is_bowed() {
            self.out.findings.push(Finding::stop(
                "hollow-patch",
                Place::Block {
                    name: block.name.clone(),
                    patches,
                    at: Some(class.outline.centroid()),
                },
                "A corner of this patch points inward, and cloth is cut and sewn in patches whose corners all point outward.",
                "Draw a line from that corner across the patch, so that it becomes two.",
            ));
            return;
        }
        self.out.findings.push(Finding::stop(
            "seam-trapped",
            Place::Block {
                name: block.name.clone(),
                patches,
                at: Some(class.outline.centroid()),
            },
            format!(
                "No straight seam runs from edge to edge of these {} patches, and they do not go together round corners either.",
                class.faces.len()
            ),
            "Move or add a line so that one cut runs right across, or so that every corner of a patch meets a corner of its neighbour.",
        ));
    }

    /// One note for each block with template pieces, one for each with pieces off the grain.
    fn tell_awkward(&mut self) {
        let (templates, off_grain) = (std::mem::take(&mut self.templates), std::mem::take(&mut self.off_grain));
        self.tell(
            &templates,
            "needs-template",
            |pieces| format!("Cut sizes here fall between the ruler's marks, so {pieces} cut round a template."),
            "Print the templates at true size, or change the block's size to one whose cuts fall on the marks.",
        );
        self.tell(
            &off_grain,
            "off-grain",
            |pieces| format!("So that a ruler can cut them, {pieces} cut with sides off the straight grain."),
            "Handle them gently and press without steam, or pin another grain.",
        );
    }

    fn tell(&mut self, awkward: &[Awkward], code: &'static str, sentence: impl Fn(String) -> String, mend: &str) {
        let mut homes: Vec<usize> = awkward.iter().map(|a| a.home).collect();
        homes.sort_unstable();
        homes.dedup();
        for home in homes {
            let here: Vec<&Awkward> = awkward.iter().filter(|a| a.home == home).collect();
            let names: Vec<&str> = here.iter().map(|a| a.piece.as_str()).collect();
            let pieces = match &names[..] {
                [one] => format!("piece {one} is"),
                [most @ .., last] => format!("pieces {} and {last} are", most.join(", ")),
                [] => continue,
            };
            let mut patches: Vec<u32> = here.iter().map(|a| a.patch).collect();
            patches.sort_unstable();
            let place = Place::Block {
                name: self.planner.blocks[home].name.clone(),
                patches,
                at: here.first().map(|a| a.at),
            };
            self.out
                .findings
                .push(Finding::note(code, place, sentence(pieces), mend));
        }
    }

    /// The last making: the finished top.
    fn finish(&mut self, top: Placed, handle: Option<Handle>) {
        let Some(handle) = handle else { return };
        let class = self.planner.classes.get(top.class);
        let n = class.outline.len();
        let toward = Vector::new(-1.0, 0.0);
        let up = (0..n)
            .find(|&i| {
                class
                    .outline
                    .edge(i)
                    .is_some_and(|e| top.motion.vector(e.along).dot(toward) > 1.0 - 1.0e-9)
            })
            .unwrap_or(0);
        let last_is_top = self
            .out
            .makes
            .last()
            .is_some_and(|m| handle.take == Take::Unit(m.unit.clone()) && m.gives.len() == 1);
        let settings = self.planner.settings;
        let mut bench = Bench::new(&mut self.planner.whys, &mut self.out.pieces, settings);
        if last_is_top {
            let Some(make) = self.out.makes.last_mut() else { return };
            let Some(give) = make.gives.pop() else { return };
            sew_together::finish(&mut bench, give.slot, give.sides, up);
            make.steps.extend(bench.steps);
            make.label = "Quilt top".into();
            return;
        }
        let slot = bench.take(handle.take.clone());
        let sides = sew_together::sides_of(&handle, slot);
        sew_together::finish(&mut bench, slot, sides, up);
        let (parts, steps) = (bench.parts, bench.steps);
        let unit = UnitId::new("top/finish");
        self.out.kinds.push(None);
        self.out.stories.push(UnitStory {
            unit: unit.clone(),
            block: None,
            method: "plain patches",
            patches: Vec::new(),
            whole: None,
        });
        self.out.makes.push(Make {
            unit,
            label: "Quilt top".into(),
            times: 0,
            parts,
            steps,
            gives: Vec::new(),
            spare: 0,
        });
    }
}

/// The name of the sheet: that of one alike, where there is one, else its own, with a number where that is taken.
fn sheet_for(guides: &mut Vec<Guide>, wanted: Option<Guide>) -> String {
    let Some(mut guide) = wanted else { return String::new() };
    let alike = |known: &&Guide| known.outline == guide.outline && known.shapes == guide.shapes;
    if let Some(known) = guides.iter().find(alike) {
        return known.name.clone();
    }
    let own = guide.name.clone();
    let mut number = 1;
    while guides.iter().any(|g| g.name == guide.name) {
        number += 1;
        guide.name = format!("{own}-{number}");
    }
    guides.push(guide);
    guides.last().map_or(own, |g| g.name.clone())
}

/// How often each making is done, what is left over, how many pieces are sewn; from the top down.
fn count(out: &mut Emitted) {
    let mut needed: BTreeMap<UnitId, u64> = BTreeMap::new();
    let mut sheets: BTreeMap<String, u64> = BTreeMap::new();
    let last = out.makes.len().saturating_sub(1);
    for (i, make) in out.makes.iter_mut().enumerate().rev() {
        let gives = make.gives.len() as u64;
        let (times, spare) = if i == last {
            (1, 0)
        } else {
            let need = needed.get(&make.unit).copied().unwrap_or(0);
            let times = need.div_ceil(gives.max(1));
            (times, times * gives - need)
        };
        make.times = u32::try_from(times).unwrap_or(u32::MAX);
        make.spare = u32::try_from(spare).unwrap_or(u32::MAX);
        for part in &make.parts {
            match &part.take {
                Take::Piece(piece) => *out.used.entry(piece.clone()).or_default() += times,
                Take::Unit(unit) => *needed.entry(unit.clone()).or_default() += times,
                Take::Paper(name) => *sheets.entry(name.clone()).or_default() += times,
            }
        }
    }
    for paper in &mut out.papers {
        paper.print = u32::try_from(sheets.get(&paper.name).copied().unwrap_or(0)).unwrap_or(u32::MAX);
    }
}

/// `night-harbour` as `Night harbour`; `std/ohio-star` as `Ohio star`.
fn in_words(name: &str) -> String {
    let text = name.strip_prefix("std/").unwrap_or(name).replace('-', " ");
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + chars.as_str()
    })
}
