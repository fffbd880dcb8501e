//! The table on which one kind of unit is made: frames, parts, slots, and who lies where.

use crate::cut::CutCard;
use crate::ground::{PrintedSheet, Sheet};
use crate::piece::{Action, Cloth, onto_piece};
use crate::scene::Segment;
use crate::words::{Outcome, bad, positive, real, refuse, say};
use crate::work::{Begun, Birth, Class, Drawn, Node, Part, PieceAt, Stack, Thing, View};
use recipe::{EdgeRef, Make, MarkName, PrintNote, Recipe, Size, Slot};
use shape::{Line, Motion, Point};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use terms::{Finding, Place, StepId};

/// Pieces looked at before a recipe is called too long to follow. The largest quilts stay far below.
pub(crate) const MOST_EFFORT: u64 = 60_000_000;

/// Pieces in one unit, more than any top has.
pub(crate) const MOST_PIECES: usize = 500_000;

/// What the whole rehearsal counts.
#[derive(Debug, Default)]
pub(crate) struct Tally {
    /// The next owner number.
    pub(crate) owner: u32,
    /// Pieces looked at so far.
    pub(crate) effort: u64,
    /// Checks that held.
    pub(crate) checks: u64,
    /// Seams sewn, every making as often as it is done.
    pub(crate) seams: u64,
    /// Hands that stray, in a wobbly rehearsal; none in a proof.
    pub(crate) hands: Option<Box<crate::maker::Hands>>,
}

/// The making of one kind of unit.
pub(crate) struct Table<'r> {
    pub(crate) recipe: &'r Recipe,
    pub(crate) make: &'r Make,
    pub(crate) prints: &'r [PrintNote],
    /// The printed sheets by name.
    pub(crate) guides: &'r BTreeMap<String, PrintedSheet>,
    /// Those that lie on something.
    pub(crate) sheets: Vec<Sheet>,
    pub(crate) tally: &'r mut Tally,
    /// The action now being done.
    pub(crate) action: Action,
    pub(crate) seam: f64,
    pub(crate) nodes: Vec<Node>,
    /// The cards of the cutting plan, and for each node that is a frame of the table how many are in its cloth.
    pub(crate) cards: &'r [CutCard],
    pub(crate) cards_in: Vec<u32>,
    /// For each node that is a frame of the table, the parts in it.
    pub(crate) members: Vec<Vec<usize>>,
    pub(crate) parts: Vec<Part>,
    pub(crate) slots: BTreeMap<Slot, (Birth, Thing)>,
    pub(crate) marks: BTreeMap<MarkName, Vec<(usize, Drawn)>>,
    pub(crate) seams: BTreeMap<Slot, Vec<Vec<(usize, Segment)>>>,
    /// Edges that were laid to be sewn or named in what a trim takes off: once nothing is left of them, nothing may name
    /// them again.
    pub(crate) gone: BTreeSet<EdgeRef>,
    /// Curved seams opened, straight by straight, for pictures.
    pub(crate) bowed_seams: Vec<(usize, Segment)>,
    /// Pieces joined into one face, as links from piece to piece.
    pub(crate) joins: Vec<(PieceAt, PieceAt)>,
    /// Places where a seam stopped in a dot, each in a node's frame.
    pub(crate) stops: Vec<(usize, Point)>,
    /// Seams begun and not yet closed.
    pub(crate) begun: Vec<Begun>,
    /// The other half of a piece half folded along a begun seam, both ways.
    pub(crate) halves: BTreeMap<PieceAt, PieceAt>,
    /// For pictures: where this step cut, and what came off.
    pub(crate) cuts: Vec<Segment>,
    pub(crate) waste: Vec<shape::Polygon>,
    pub(crate) filming: bool,
}

impl Table<'_> {
    /// Where the action being done is said to be.
    pub(crate) fn here(&self) -> Place {
        Place::Step(StepId {
            unit: self.make.unit.clone(),
            step: self.action.step,
        })
    }

    pub(crate) fn say(&self, inches: f64) -> String {
        say(inches, self.recipe.measure)
    }

    pub(crate) fn real(&self, size: Size) -> Outcome<f64> {
        real(size, &self.here())
    }

    pub(crate) fn positive(&self, size: Size) -> Outcome<f64> {
        positive(size, &self.here())
    }

    pub(crate) fn bad(&self, sentence: impl Into<String>, mend: &str) -> Box<Finding> {
        bad(&self.here(), sentence, mend)
    }

    pub(crate) fn refuse(&self, code: &'static str, sentence: impl Into<String>, mend: &str) -> Box<Finding> {
        refuse(code, &self.here(), sentence, mend)
    }

    /// Counts pieces looked at; a recipe that asks for more than any quilt needs is given up.
    pub(crate) fn spend(&mut self, pieces: usize) -> Outcome<()> {
        self.tally.effort = self.tally.effort.saturating_add(pieces as u64);
        if self.tally.effort > MOST_EFFORT {
            return Err(self.refuse(
                "too-long",
                "The recipe asks for more than can be rehearsed.",
                "Make the quilt in fewer steps.",
            ));
        }
        Ok(())
    }

    /// Whether a check stops the work: with a wobbly maker what it measures is written down and the work goes on.
    pub(crate) fn misses(&mut self, miss: crate::maker::Miss, off: f64, allowed: f64) -> bool {
        match &mut self.tally.hands {
            None => crate::words::beyond(off, allowed),
            Some(hands) => {
                hands.record(self.action.make, miss, off);
                !off.is_finite()
            }
        }
    }

    /// What the maker's hands add here; nothing in a proof.
    pub(crate) fn stray(&mut self, of: impl FnOnce(&mut crate::maker::Hands) -> f64) -> Option<f64> {
        self.tally.hands.as_deref_mut().map(of)
    }

    /// How near counts as there: a wobbly maker's edges lie further out.
    pub(crate) fn near_enough(&self) -> f64 {
        match &self.tally.hands {
            None => crate::words::TOLERANCE,
            Some(hands) => hands.maker.reach().min(self.seam / 2.0).max(crate::words::TOLERANCE),
        }
    }

    /// Notes a check that held.
    pub(crate) fn held(&mut self) {
        self.tally.checks += 1;
    }

    pub(crate) fn new_node(&mut self) -> usize {
        let node = self.nodes.len();
        self.nodes.push(Node {
            parent: node,
            motion: Motion::STILL,
        });
        self.members.push(Vec::new());
        self.cards_in.push(0);
        node
    }

    /// The frame of the table a node lies in, and how; links are shortened on the way.
    pub(crate) fn find(&mut self, node: usize) -> (usize, Motion) {
        let mut way = Vec::new();
        let mut at = node;
        while self.nodes[at].parent != at {
            way.push(at);
            at = self.nodes[at].parent;
        }
        let mut motion = Motion::STILL;
        for (i, &n) in way.iter().rev().enumerate() {
            // The one nearest the frame is linked to it already.
            if i == 0 {
                motion = self.nodes[n].motion;
            } else {
                motion = self.nodes[n].motion.then(&motion);
                self.nodes[n] = Node { parent: at, motion };
            }
        }
        (at, motion)
    }

    /// How a node lies in a view, and whether in the upper layer.
    pub(crate) fn lies(&mut self, node: usize, view: &View) -> Option<(Motion, bool)> {
        let (root, motion) = self.find(node);
        if root == view.lower {
            return Some((motion, false));
        }
        match view.upper {
            Some((upper, lay)) if root == upper => Some((motion.then(&lay), true)),
            _ => None,
        }
    }

    /// How a piece lies in a view, and its cloth, if it is there.
    pub(crate) fn piece_in(&mut self, at: PieceAt, view: &View) -> Option<(Rc<Cloth>, Motion, bool)> {
        let node = self.parts[at.part].node;
        let (frame, over) = self.lies(node, view)?;
        let part = &self.parts[at.part];
        let placed = part.class.pieces.get(at.piece as usize)?;
        let cloth = part.cloth(at.piece)?.clone();
        Some((cloth, placed.motion.then(&frame), over))
    }

    /// The corners of a piece as it lies in a view.
    pub(crate) fn corners_in(&mut self, at: PieceAt, view: &View) -> Option<Vec<Point>> {
        let (cloth, motion, _) = self.piece_in(at, view)?;
        Some(cloth.corners.iter().map(|&c| motion.point(c)).collect())
    }

    /// All pieces of a frame of the table.
    pub(crate) fn pieces_of(&self, root: usize) -> Vec<PieceAt> {
        let mut all = Vec::new();
        for &part in &self.members[root] {
            let count = self.parts[part].class.pieces.len() as u32;
            all.extend((0..count).map(|piece| PieceAt { part, piece }));
        }
        all
    }

    /// Keeps what lies to the left of a line of the view on one piece.
    pub(crate) fn keep_left(&mut self, at: PieceAt, view: &View, line: Line, fresh: crate::piece::Edge) -> Outcome<()> {
        let Some((cloth, motion, _)) = self.piece_in(at, view) else {
            return Ok(());
        };
        let own = onto_piece(line, &motion);
        self.stays_whole(&cloth, own)?;
        let left = match cloth.keep_left(own, fresh) {
            crate::piece::Left::Whole => return Ok(()),
            crate::piece::Left::Nothing => None,
            crate::piece::Left::Part(part) => Some(Rc::new(part)),
        };
        if self.filming && cloth.convex {
            let gone = motion.polygon(&cloth.polygon()).left_of(line.reversed());
            if gone.len() >= 3 {
                self.waste.push(gone);
            }
        } else {
            self.show_folded(&cloth, left.as_deref(), &motion);
        }
        self.parts[at.part].changed.insert(at.piece, left);
        Ok(())
    }

    /// Checks that taking off what lies to the right of a line leaves a piece in one.
    pub(crate) fn stays_whole(&self, cloth: &Cloth, line: Line) -> Outcome<()> {
        if cloth.falls_apart(line) {
            return Err(self.apart());
        }
        Ok(())
    }

    /// Puts a part into a slot that was never used.
    pub(crate) fn take(&mut self, slot: Slot, class: Rc<Class>) -> Outcome<()> {
        self.spend(1)?;
        let node = self.new_node();
        let part = self.parts.len();
        self.cards_in[node] = class.cards;
        let seams = class.seams.iter().map(|s| vec![(node, *s)]).collect();
        self.stops.extend(class.stops.iter().map(|&stop| (node, stop)));
        self.parts.push(Part {
            slot,
            class,
            node,
            changed: BTreeMap::new(),
            beside: Vec::new(),
            cut_from: None,
        });
        self.members[node].push(part);
        self.put(slot, Birth::Part(vec![part]), Thing::Work(node))?;
        self.seams.insert(slot, seams);
        Ok(())
    }

    /// Fills a slot for the first time.
    pub(crate) fn put(&mut self, slot: Slot, birth: Birth, thing: Thing) -> Outcome<()> {
        if self.slots.contains_key(&slot) {
            return Err(self.bad(
                format!("Slot {} is given twice.", slot.0),
                "Number every part and result once.",
            ));
        }
        self.slots.insert(slot, (birth, thing));
        Ok(())
    }

    /// The work in a slot.
    pub(crate) fn work(&self, slot: Slot) -> Outcome<usize> {
        match self.slots.get(&slot) {
            Some((_, Thing::Work(root))) => Ok(*root),
            other => Err(self.not_here(slot, other, "a work")),
        }
    }

    /// The stack in a slot.
    pub(crate) fn stack(&self, slot: Slot) -> Outcome<&Stack> {
        match self.slots.get(&slot) {
            Some((_, Thing::Stack(stack))) => Ok(stack),
            other => Err(self.not_here(slot, other, "a stack")),
        }
    }

    pub(crate) fn stack_mut(&mut self, slot: Slot) -> Outcome<&mut Stack> {
        self.stack(slot)?;
        match self.slots.get_mut(&slot) {
            Some((_, Thing::Stack(stack))) => Ok(stack),
            _ => Err(bad(&Place::Quilt, "A stack is gone.", "")),
        }
    }

    pub(crate) fn not_here(&self, slot: Slot, found: Option<&(Birth, Thing)>, wanted: &str) -> Box<Finding> {
        let sentence = match found {
            None => format!("Slot {} holds nothing.", slot.0),
            Some((_, Thing::Spent)) => format!("What was in slot {} has gone into something else.", slot.0),
            Some(_) => format!("Slot {} does not hold {wanted}.", slot.0),
        };
        self.bad(sentence, "Name what lies on the table now.")
    }

    /// What was in a slot has gone into something else.
    pub(crate) fn use_up(&mut self, slot: Slot) {
        if let Some((_, thing)) = self.slots.get_mut(&slot) {
            *thing = Thing::Spent;
        }
    }

    /// The view of a slot, work or stack.
    pub(crate) fn view(&self, slot: Slot) -> Outcome<View> {
        match self.slots.get(&slot) {
            Some((_, Thing::Work(root) | Thing::Section(root, _))) => Ok(View::of(*root)),
            Some((_, Thing::Stack(stack))) => Ok(stack.view()),
            other => Err(self.not_here(slot, other, "a work or a stack")),
        }
    }

    /// Links frame `upper` into frame `lower`, which stays.
    pub(crate) fn link(&mut self, upper: usize, lower: usize, motion: Motion) {
        self.nodes[upper] = Node { parent: lower, motion };
        self.cards_in[lower] = self.cards_in[lower].saturating_add(self.cards_in[upper]);
        let mut moved = std::mem::take(&mut self.members[upper]);
        let stay = &mut self.members[lower];
        if moved.len() > stay.len() {
            std::mem::swap(&mut moved, stay);
        }
        stay.append(&mut moved);
    }
}

impl View {
    /// Of one work.
    pub(crate) fn of(root: usize) -> View {
        View {
            lower: root,
            upper: None,
        }
    }
}

impl Stack {
    /// Both layers, in the lower one's frame.
    pub(crate) fn view(&self) -> View {
        View {
            lower: self.lower,
            upper: Some((self.upper, self.lay)),
        }
    }
}
