//! What a pattern says of itself: names, slots, edges and which of them lie on one line. Read off the steps, never
//! rehearsed.

use super::symmetry::{piece_turns, turns_of};
use super::yields::{self, Outline, Yield};
use super::{cards, papers};
use measure::Measure;
use recipe::{EdgeRef, Make, Pattern, Step, Take};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use terms::TopPicture;

/// One making.
#[derive(Clone, Debug, Default)]
pub struct MakeFacts {
    /// All slots, in order of number.
    pub slots: Vec<u32>,
    /// How many edges a slot has, where that can be read off.
    pub edges: BTreeMap<u32, u32>,
    /// The slots of parts that are pieces, with the piece.
    pub piece_in: BTreeMap<u32, String>,
    /// The slots of parts that are units, with the unit.
    pub unit_in: BTreeMap<u32, String>,
    /// Drawn lines and dots in order.
    pub marks: Vec<String>,
    /// Marks that something names after they are drawn.
    pub used_marks: BTreeSet<String>,
    /// A number for each edge that some run of the making names: edges with one number lie on one straight side.
    side_of: BTreeMap<EdgeRef, usize>,
    /// Every edge that is named, by slot.
    pub named: BTreeSet<EdgeRef>,
    /// Seams of parts that are units which this making names.
    pub seams: BTreeSet<(u32, u32)>,
}

impl MakeFacts {
    /// Whether two edges lie on one straight side, because the making itself names them in one run.
    pub fn on_one_side(&self, a: EdgeRef, b: EdgeRef) -> bool {
        match (self.side_of.get(&a), self.side_of.get(&b)) {
            (Some(x), Some(y)) => x == y,
            _ => false,
        }
    }
}

/// What lies along a unit's side: a piece and which of its edges (turned onto itself, the lowest number); of cloth joined
/// from several pieces only the cloth, since joins may lie anywhere.
pub type Along = (String, u32);

/// The whole pattern.
#[derive(Clone, Debug, Default)]
pub struct Facts {
    /// The measure, for the shop's step.
    pub measure: Measure,
    /// Cloths, pieces and units by name, in order.
    pub fabrics: Vec<String>,
    /// See `fabrics`.
    pub pieces: Vec<String>,
    /// See `fabrics`.
    pub units: Vec<String>,
    /// Template names.
    pub templates: Vec<String>,
    /// Names of foundation papers.
    pub papers: Vec<String>,
    /// Pieces that are sewn on paper.
    pub on_paper: BTreeSet<String>,
    /// Pieces that are basted over cards.
    pub over_card: BTreeSet<String>,
    /// Names of printed sheets.
    pub guides: Vec<String>,
    /// Names of all cards.
    pub cards: Vec<String>,
    /// The makings.
    pub makes: Vec<MakeFacts>,
    /// What comes off the cloth; `None` when the plan itself is not sound.
    pub yielded: Option<Yield>,
    /// For each piece the edges that steps name.
    pub named_edges: BTreeMap<String, BTreeSet<u32>>,
    /// For each unit the seams that later makings name, by index.
    pub named_seams: BTreeSet<(String, u32)>,
    /// For each unit and side what lies along it, in order.
    pub unit_sides: BTreeMap<String, Vec<Vec<Along>>>,
    /// Quarter turns (1 to 3) that leave the whole top as it is.
    pub top_turns: Vec<u32>,
}

impl Facts {
    /// Reads them.
    pub fn of(pattern: &Pattern, value: &Value, picture: &TopPicture) -> Self {
        let recipe = &pattern.recipe;
        let yielded = yields::read(pattern);
        let sides_of_unit: BTreeMap<&str, u32> = recipe
            .makes
            .iter()
            .filter_map(|m| Some((m.unit.as_str(), m.gives.first()?.sides.len() as u32)))
            .collect();
        let mut facts = Facts {
            measure: recipe.measure,
            fabrics: recipe.fabrics.iter().map(|f| f.fabric.0.clone()).collect(),
            pieces: recipe.pieces.iter().map(|p| p.piece.0.clone()).collect(),
            units: recipe.makes.iter().map(|m| m.unit.0.clone()).collect(),
            templates: pattern.cutting.templates.iter().map(|t| t.name.clone()).collect(),
            papers: pattern.cutting.papers.iter().map(|p| p.name.clone()).collect(),
            on_paper: papers::pieces(pattern),
            over_card: cards::pieces(pattern),
            guides: pattern.cutting.guides.iter().map(|g| g.name.clone()).collect(),
            cards: pattern.cutting.cards.iter().map(|c| c.name.clone()).collect(),
            top_turns: turns_of(picture),
            ..Facts::default()
        };
        for (i, make) in recipe.makes.iter().enumerate() {
            let json = value.pointer(&format!("/recipe/makes/{i}")).unwrap_or(&Value::Null);
            let made = make_facts((make, pattern), json, yielded.as_ref(), &sides_of_unit);
            for (slot, piece) in &made.piece_in {
                let named = facts.named_edges.entry(piece.clone()).or_default();
                named.extend(made.named.iter().filter(|e| e.of.0 == *slot).map(|e| e.edge));
                // On paper every edge decides how far a piece covers.
                if facts.on_paper.contains(piece) {
                    named.extend(0..made.edges.get(slot).copied().unwrap_or(0));
                }
            }
            for (slot, unit) in &made.unit_in {
                let seams = made.seams.iter().filter(|s| s.0 == *slot);
                facts.named_seams.extend(seams.map(|s| (unit.clone(), s.1)));
            }
            if let Some(give) = make.gives.first() {
                let along = Alongside {
                    make,
                    made: &made,
                    yielded: yielded.as_ref(),
                    units: &facts.unit_sides,
                    pattern,
                };
                let sides = give.sides.iter().map(|side| along.run(side)).collect();
                facts.unit_sides.insert(make.unit.0.clone(), sides);
            }
            facts.makes.push(made);
        }
        facts.yielded = yielded;
        facts
    }
}

fn make_facts(
    (make, pattern): (&Make, &Pattern),
    json: &Value,
    yielded: Option<&Yield>,
    sides_of_unit: &BTreeMap<&str, u32>,
) -> MakeFacts {
    let mut facts = MakeFacts::default();
    let mut sides_of_paper = 0;
    let mut slots: BTreeSet<u32> = BTreeSet::new();
    for part in &make.parts {
        slots.insert(part.slot.0);
        match &part.take {
            Take::Piece(piece) => {
                facts.piece_in.insert(part.slot.0, piece.0.clone());
                let n = yielded.and_then(|y| y.edge_count(piece.as_str()));
                facts.edges.extend(n.map(|n| (part.slot.0, n)));
            }
            Take::Paper(name) => {
                let paper = pattern.cutting.papers.iter().find(|p| p.name == *name);
                sides_of_paper = paper.map_or(0, |p| p.outline.len() as u32);
            }
            Take::Unit(unit) => {
                facts.unit_in.insert(part.slot.0, unit.0.clone());
                let n = sides_of_unit.get(unit.as_str());
                facts.edges.extend(n.map(|&n| (part.slot.0, n)));
            }
        }
    }
    for step in &make.steps {
        match step {
            Step::Mark { name, .. } | Step::Dot { name, .. } => facts.marks.push(name.0.clone()),
            Step::Lay { into, .. } | Step::Open { into, .. } => {
                slots.insert(into.0);
            }
            Step::CutApart { keep, .. } => {
                for k in keep {
                    slots.insert(k.into.0);
                    // What the cut made on the lower layer and on the upper.
                    facts.edges.insert(k.into.0, 2);
                }
            }
            Step::Trim { into, lines, .. } => {
                slots.insert(into.0);
                facts.edges.insert(into.0, lines.len() as u32);
            }
            Step::SubCut { into, .. } => {
                for slot in into {
                    slots.insert(slot.0);
                    // A length's own edges are the cuts on either side of it.
                    facts.edges.insert(slot.0, 2);
                }
            }
            Step::Close { into, .. } | Step::Spread { into, .. } => {
                slots.insert(into.0);
            }
            Step::CutOut { into, .. } => {
                slots.insert(into.0);
                facts.edges.insert(into.0, sides_of_paper);
            }
            _ => {}
        }
    }
    facts.slots = slots.into_iter().collect();
    let mut runs = Vec::new();
    collect(json, "", &mut facts, &mut runs);
    join_runs(&runs, &mut facts.side_of);
    facts
}

/// Follows the edges of a side down to the pieces.
struct Alongside<'a> {
    make: &'a Make,
    made: &'a MakeFacts,
    yielded: Option<&'a Yield>,
    units: &'a BTreeMap<String, Vec<Vec<Along>>>,
    pattern: &'a Pattern,
}

impl Alongside<'_> {
    fn run(&self, run: &recipe::EdgeRun) -> Vec<Along> {
        let found: Vec<Along> = run.0.iter().flat_map(|e| self.edge(*e)).collect();
        if !self
            .make
            .steps
            .iter()
            .any(|s| matches!(s, Step::Sew { join: true, .. }))
        {
            return found;
        }
        let count = u32::from(run.0.len() > 1);
        if found.is_empty() {
            found
        } else {
            vec![("joined".into(), count)]
        }
    }

    fn edge(&self, edge: EdgeRef) -> Vec<Along> {
        if let Some(piece) = self.made.piece_in.get(&edge.of.0) {
            if let Some(width) = self.cut_into_lengths() {
                return vec![(self.strip(piece), width)];
            }
            return vec![(piece.clone(), self.lowest(piece, edge.edge))];
        }
        if let Some(unit) = self.made.unit_in.get(&edge.of.0) {
            let sides = self.units.get(unit);
            return sides
                .and_then(|s| s.get(edge.edge as usize))
                .cloned()
                .unwrap_or_default();
        }
        for step in &self.make.steps {
            match step {
                Step::Trim { into, lines, .. } if *into == edge.of => {
                    let line = lines.get(edge.edge as usize);
                    return line.map(|l| self.run(&l.off)).unwrap_or_default();
                }
                Step::CutOut { into, .. } if *into == edge.of => {
                    return papers::along_side(self.make, self.pattern, edge.edge as usize);
                }
                Step::CutApart { stack, keep, .. } if keep.iter().any(|k| k.into == edge.of) => {
                    return self.layer(*stack, edge.edge);
                }
                // The strips lie along the two cuts in opposite order.
                Step::SubCut { into, .. } if into.contains(&edge.of) => {
                    let strips = self.make.parts.iter().filter_map(|p| self.made.piece_in.get(&p.slot.0));
                    let mut across: Vec<Along> = strips.map(|piece| (self.strip(piece), self.narrow(piece))).collect();
                    if edge.edge == 0 {
                        across.reverse();
                    }
                    return across;
                }
                _ => {}
            }
        }
        Vec::new()
    }

    /// How wide the lengths are that a strip set is cut into here.
    fn cut_into_lengths(&self) -> Option<u32> {
        self.make.steps.iter().find_map(|step| match step {
            Step::SubCut { width, .. } => u32::try_from(width.len.units()).ok(),
            _ => None,
        })
    }

    /// What shows of a strip once it is cut: its cloth.
    fn strip(&self, piece: &str) -> String {
        let mut notes = self.pattern.recipe.pieces.iter();
        let cloth = notes
            .find(|n| n.piece.as_str() == piece)
            .map_or("", |n| n.fabric.as_str());
        format!("strip of {cloth}")
    }

    /// The shorter side of a strip.
    fn narrow(&self, piece: &str) -> u32 {
        let Some(outline) = self.yielded.and_then(|y| y.outline(piece)) else {
            return 0;
        };
        let corners = outline.iter().map(|&(_, (x, y))| shape::Point::new(x, y)).collect();
        let (low, high) = shape::Polygon::new(corners).bounds();
        let short = (high.x - low.x).min(high.y - low.y);
        measure::Length::nearest(short).map_or(0, |l| l.units() as u32)
    }

    /// What a cut through a stack leaves along it on the lower layer (0) or the upper: what was laid there.
    fn layer(&self, stack: recipe::Slot, layer: u32) -> Vec<Along> {
        let made_by = self.make.steps.iter().find_map(|step| match step {
            Step::Lay { a, b, into, .. } if *into == stack => Some(Ok(if layer == 0 { *a } else { *b })),
            Step::CutApart { stack: from, keep, .. } if keep.iter().any(|k| k.into == stack) => Some(Err(*from)),
            _ => None,
        });
        match made_by {
            Some(Ok(slot)) => match self.made.piece_in.get(&slot.0) {
                Some(piece) => vec![(format!("cut {piece}"), 0)],
                None => vec![(format!("cut {}", slot.0), layer)],
            },
            Some(Err(from)) if from != stack => self.layer(from, layer),
            _ => Vec::new(),
        }
    }

    fn lowest(&self, piece: &str, edge: u32) -> u32 {
        let Some(outline) = self.yielded.and_then(|y| y.outline(piece)) else {
            return edge;
        };
        let print = self.yielded.map(|y| y.print(piece)).unwrap_or_default();
        // By their order round the piece, which is not always that of their numbers: cutting to shape makes edges between others.
        let n = outline.len();
        let in_order: Outline = (0..).zip(outline).map(|(i, &(_, at))| (i, at)).collect();
        let Some(nth) = outline.iter().position(|&(number, _)| number == edge) else {
            return edge;
        };
        (0..n)
            .filter(|&k| k == 0 || piece_turns(&in_order, k as u32, print))
            .map(|k| outline[(nth + k) % n].0)
            .min()
            .unwrap_or(edge)
    }
}

fn edge_of(value: &Value) -> Option<EdgeRef> {
    let of = u32::try_from(value.get("of")?.as_u64()?).ok()?;
    let edge = u32::try_from(value.get("edge")?.as_u64()?).ok()?;
    Some(EdgeRef {
        of: recipe::Slot(of),
        edge,
    })
}

/// Edges, runs, seams and marks wherever they are named.
fn collect(value: &Value, key: &str, facts: &mut MakeFacts, runs: &mut Vec<Vec<EdgeRef>>) {
    match value {
        Value::Array(items) => {
            let run: Option<Vec<EdgeRef>> = items.iter().map(edge_of).collect();
            if let Some(run) = run.filter(|r| r.len() > 1 && key != "along" && key != "edges") {
                runs.push(run);
            }
            for item in items {
                collect(item, key, facts, runs);
            }
        }
        Value::Object(fields) => {
            facts.named.extend(edge_of(value));
            let seam = fields
                .get("of")
                .and_then(Value::as_u64)
                .zip(fields.get("seam").and_then(Value::as_u64));
            facts.seams.extend(seam.map(|(of, seam)| (of as u32, seam as u32)));
            for (key, inner) in fields {
                collect(inner, key, facts, runs);
            }
        }
        Value::String(text) if key != "name" && facts.marks.contains(text) => {
            facts.used_marks.insert(text.clone());
        }
        _ => {}
    }
}

/// Runs that share an edge lie on one straight side.
fn join_runs(runs: &[Vec<EdgeRef>], side_of: &mut BTreeMap<EdgeRef, usize>) {
    for (i, run) in runs.iter().enumerate() {
        let met: BTreeSet<usize> = run.iter().filter_map(|e| side_of.get(e).copied()).collect();
        for e in run {
            side_of.insert(*e, i);
        }
        for side in side_of.values_mut() {
            if met.contains(side) {
                *side = i;
            }
        }
    }
}
