//! Mosaics over card: basting cloth over a card, whipping folded edges together, and taking the cards out.

use crate::cut::CutCard;
use crate::maker::Miss;
use crate::piece::{Cloth, Edge, Left, Name, OnCard};
use crate::resolve::RawEdge;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE};
use crate::work::{Birth, PieceAt, Thing, TrimEdge, View};
use recipe::{EdgeRef, Inside, Size, Slot};
use shape::{Line, Motion, Point, Vector};
use std::rc::Rc;

/// Edges whose directions differ by more than this (a sine) cross.
const CROSSES: f64 = 1.0e-6;

/// What a baste step says.
pub(crate) struct Basting<'a> {
    pub(crate) piece: Slot,
    pub(crate) card: &'a str,
    pub(crate) side: u32,
    pub(crate) along: EdgeRef,
    pub(crate) inside: &'a [Inside],
    pub(crate) flat: &'a [EdgeRef],
    pub(crate) least: Size,
    pub(crate) most: Size,
    pub(crate) into: Slot,
}

/// A side left flat, and the raw edge that stays there.
struct FlatSide {
    side: usize,
    edge: RawEdge,
    line: Line,
}

impl Table<'_> {
    /// Checks that no card is in a work that is to be sewn, cut or drawn on.
    pub(crate) fn no_card_in(&self, root: usize) -> Outcome<()> {
        if self.cards_in.get(root).copied().unwrap_or(0) == 0 {
            return Ok(());
        }
        Err(self.refuse(
            "card-left-in",
            "There are cards in this work still.",
            "Whip every folded edge, and take the cards out first.",
        ))
    }

    /// Does a baste step.
    pub(crate) fn baste(&mut self, basting: &Basting<'_>) -> Outcome<()> {
        let (at, root, cloth) = self.fresh_piece(basting.piece)?;
        let view = View::of(root);
        let cards = self.cards;
        let Some((number, card)) = cards.iter().enumerate().find(|(_, c)| c.name == basting.card) else {
            let sentence = format!("There is no card \"{}\".", basting.card);
            return Err(self.refuse("unknown-card", sentence, "Print the card with the recipe."));
        };
        let (least, most) = (self.positive(basting.least)?, self.positive(basting.most)?);
        if least <= TOLERANCE || most < least {
            let sentence = "What is folded over a card at least and at most makes no sense.";
            return Err(self.bad(sentence, "Fold some cloth over, and no less at most than at least."));
        }
        let flat = self.flat_sides(basting, card, at, &view)?;
        let along = self.one_edge(basting.along, at, &view)?;
        let inside = (basting.inside.iter())
            .map(|i| Ok((i, self.one_edge(i.edge, at, &view)?)))
            .collect::<Outcome<Vec<(&Inside, RawEdge)>>>()?;
        let lie = self.card_lies(basting.side, along, card, &inside, &cloth)?;
        let mut corners: Vec<Point> = card.corners.iter().map(|&c| lie.point(c)).collect();
        self.flat_as_said(&corners, &flat)?;
        self.reaches_over(&corners, card, &flat, &cloth, (least, most))?;
        self.stray_card(&mut corners);

        let owner = self.new_owner();
        let folded = self.folded_over(cloth, (number, card), corners, &flat, owner)?;
        let edges = (0..card.corners.len())
            .map(|_| TrimEdge {
                on: vec![at],
                near: vec![at],
            })
            .collect();
        self.parts[at.part].changed.insert(at.piece, Some(Rc::new(folded)));
        self.cards_in[root] += 1;
        self.use_up(basting.piece);
        self.put(basting.into, Birth::Trim(owner, edges), Thing::Work(root))
    }

    /// A slot that holds one piece just as it was cut.
    fn fresh_piece(&self, slot: Slot) -> Outcome<(PieceAt, usize, Cloth)> {
        let root = self.work(slot)?;
        let wrong = || {
            let sentence = "Only a piece as it was cut can be basted over a card.";
            self.bad(sentence, "Baste a single piece.")
        };
        let &[part] = &self.members[root][..] else {
            return Err(wrong());
        };
        let taken = &self.parts[part];
        let single = taken.slot == slot && taken.class.pieces.len() == 1 && taken.changed.is_empty();
        let cloth = taken.cloth(0).filter(|c| single && c.card.is_none());
        let as_cut = cloth.filter(|c| c.edges.iter().all(|e| e.made.is_none()));
        let cloth = as_cut.ok_or_else(wrong)?;
        Ok((PieceAt { part, piece: 0 }, root, Cloth::clone(cloth)))
    }

    /// The one edge of a name on a piece as cut.
    fn one_edge(&mut self, edge: EdgeRef, at: PieceAt, view: &View) -> Outcome<RawEdge> {
        let found = self.raw_edges(edge, view)?;
        let own = found.first().filter(|e| e.at == at).copied();
        own.ok_or_else(|| {
            self.bad(
                "An edge named is not of the piece that is basted.",
                "Name its own edges.",
            )
        })
    }

    /// The raw edges that stay at the card's flat sides.
    fn flat_sides(
        &mut self,
        basting: &Basting<'_>,
        card: &CutCard,
        at: PieceAt,
        view: &View,
    ) -> Outcome<Vec<FlatSide>> {
        let sides: Vec<usize> = (0..card.flat.len()).filter(|&i| card.flat[i]).collect();
        if sides.len() != basting.flat.len() {
            let sentence = format!(
                "{} raw edges are left flat, but the card has {} such sides.",
                basting.flat.len(),
                sides.len()
            );
            return Err(self.refuse("flat-sides-differ", sentence, "Leave just the card's outer sides flat."));
        }
        let mut found: Vec<FlatSide> = Vec::new();
        for (side, &edge) in sides.into_iter().zip(basting.flat) {
            let edge = self.one_edge(edge, at, view)?;
            let line = Line::between(edge.from, edge.to).filter(|_| found.iter().all(|f| f.edge.edge != edge.edge));
            let Some(line) = line else {
                let sentence = "One raw edge is left flat at two sides of the card.";
                return Err(self.refuse("flat-sides-differ", sentence, "Name an edge for each."));
            };
            found.push(FlatSide { side, edge, line });
        }
        Ok(found)
    }

    /// How the card lies on the piece.
    fn card_lies(
        &mut self,
        side: u32,
        along: RawEdge,
        card: &CutCard,
        inside: &[(&Inside, RawEdge)],
        cloth: &Cloth,
    ) -> Outcome<Motion> {
        let lines = side_lines(&card.corners);
        let known = inside.iter().all(|(i, _)| (i.side as usize) < lines.len());
        let onto = Line::between(along.from, along.to).filter(|_| known);
        let Some((&from, onto)) = lines.get(side as usize).zip(onto) else {
            let sentence = "A side is named that the card does not have.";
            return Err(self.bad(sentence, "Name sides of the card."));
        };
        let turn = Motion::line_to_line(from, onto, false);
        let corners: Vec<Point> = card.corners.iter().map(|&c| turn.point(c)).collect();
        let middles_apart = |along: Vector| along * (middle(&cloth.corners, along) - middle(&corners, along));
        let mut laid: Vec<(Line, f64, usize)> = Vec::new();
        for (i, edge) in inside {
            let by = self.positive(i.by)?;
            if let Some(line) = Line::between(edge.from, edge.to) {
                laid.push((line, by, i.side as usize));
            }
        }
        let slide = match laid.as_slice() {
            [] => middles_apart(onto.along) + middles_apart(onto.along.left()),
            [(line, by, side)] => {
                let out = self.card_strays() + by - line.offset_of(side_middle(&corners, *side));
                line.along.left() * out + middles_apart(line.along)
            }
            [(line, by, side), (across, second_by, second)] => {
                let out = self.card_strays() + by - line.offset_of(side_middle(&corners, *side));
                let slide = line.along.left() * out;
                let off = across.offset_of(side_middle(&corners, *second) + slide);
                let share = line.along.dot(across.along.left());
                if share.abs() <= CROSSES {
                    let sentence = "The two edges that say where the card lies run side by side.";
                    return Err(self.bad(sentence, "Name two edges that cross."));
                }
                slide + line.along * ((second_by - off) / share)
            }
            _ => return Err(self.bad("A card is laid by more than two of its sides.", "Name two at most.")),
        };
        Ok(turn.then(&Motion::slide(slide)))
    }

    /// How far aside hands that stray lay a card.
    fn card_strays(&mut self) -> f64 {
        self.stray(|h| h.stray(h.maker.end)).unwrap_or(0.0)
    }

    /// Checks that every flat side lies a seam inside its raw edge.
    fn flat_as_said(&mut self, corners: &[Point], flat: &[FlatSide]) -> Outcome<()> {
        for f in flat {
            for end in [corners[f.side], corners[(f.side + 1) % corners.len()]] {
                let inside = f.line.offset_of(end);
                if self.misses(Miss::Laid, inside - self.seam, TOLERANCE) {
                    let sentence = format!(
                        "The card's side {} lies {} inside the raw edge that stays flat there, not a seam.",
                        f.side,
                        self.say(inside)
                    );
                    let mend = "Check the card, the piece, and which edges are left flat.";
                    return Err(self.refuse("flat-side-off", sentence, mend));
                }
            }
            self.held();
        }
        Ok(())
    }

    /// Checks that enough cloth, and not too much, reaches past every side that is folded over.
    fn reaches_over(
        &mut self,
        corners: &[Point],
        card: &CutCard,
        flat: &[FlatSide],
        cloth: &Cloth,
        (least, most): (f64, f64),
    ) -> Outcome<()> {
        let n = corners.len();
        let others: Vec<Line> = side_lines(&cloth.corners)
            .into_iter()
            .enumerate()
            .filter(|(i, _)| flat.iter().all(|f| f.edge.edge != *i))
            .map(|(_, line)| line)
            .collect();
        for (side, line) in side_lines(corners).into_iter().enumerate() {
            if card.flat[side] {
                continue;
            }
            let past = cloth
                .corners
                .iter()
                .map(|&c| -line.offset_of(c))
                .fold(f64::MIN, f64::max);
            if past - most > TOLERANCE && self.misses(Miss::Other, past - most, TOLERANCE) {
                let sentence = format!(
                    "Cloth reaches {} past side {side} of the card, more than the {} at most.",
                    self.say(past),
                    self.say(most)
                );
                return Err(self.refuse("allowance-long", sentence, "Check the card and the cut size."));
            }
            for end in [corners[side], corners[(side + 1) % n]] {
                let out = end + line.along.left() * -least;
                let short = others.iter().map(|l| -l.offset_of(out)).fold(f64::MIN, f64::max);
                if short > TOLERANCE && self.misses(Miss::Other, short, TOLERANCE) {
                    let sentence = format!(
                        "At side {side} of the card {} of the {} of cloth to fold over is missing.",
                        self.say(short),
                        self.say(least)
                    );
                    return Err(self.refuse("allowance-short", sentence, "Cut the piece larger, or check the card."));
                }
            }
            self.held();
        }
        Ok(())
    }

    /// A card cut out by hands that stray: every side moved on its own.
    fn stray_card(&mut self, corners: &mut [Point]) {
        if self.tally.hands.as_ref().is_none_or(|h| h.maker.cut == 0.0) {
            return;
        }
        let lines: Vec<Line> = (side_lines(corners).into_iter())
            .map(|line| line.moved_left(self.stray(crate::maker::Hands::cut_edge).unwrap_or(0.0)))
            .collect();
        let n = corners.len();
        if lines.len() != n {
            return;
        }
        for i in 0..n {
            let crossing = lines[(i + n - 1) % n].crossing(lines[i]);
            if let Some(corner) = crossing.filter(|p| p.distance(corners[i]) < 1.0) {
                corners[i] = corner;
            }
        }
    }

    /// Folds the allowances over, and names what is left: an edge for each side of the card and no other.
    fn folded_over(
        &mut self,
        mut cloth: Cloth,
        (number, card): (usize, &CutCard),
        corners: Vec<Point>,
        flat: &[FlatSide],
        owner: u32,
    ) -> Outcome<Cloth> {
        let made = Some(self.action);
        for f in flat {
            cloth.edges[f.edge.edge].name = Name::Born {
                owner,
                edge: f.side as u32,
            };
        }
        let mut lost = false;
        for (side, line) in side_lines(&corners).into_iter().enumerate() {
            if card.flat[side] {
                continue;
            }
            let name = Name::Over {
                owner,
                edge: side as u32,
            };
            match cloth.keep_left(line, Edge::fresh(name, made)) {
                Left::Part(left) => cloth = left,
                Left::Whole => {}
                Left::Nothing => lost = true,
            }
        }
        let mut seen = vec![0; corners.len()];
        let mut others = 0;
        for edge in &cloth.edges {
            match edge.name.born() {
                Some((of, side)) if of == owner => seen[side as usize] += 1,
                _ => others += 1,
            }
        }
        if (lost || others > 0 || seen.iter().any(|&s| s != 1)) && self.misses(Miss::Other, f64::from(others), -1.0) {
            let sentence = "Folded over the card, the piece does not show just one edge at each side.";
            let mend = "Let cloth reach past every side that is folded, and flat sides end in one raw edge.";
            return Err(self.refuse("sides-not-folded", sentence, mend));
        }
        self.held();
        cloth.card = Some(Rc::new(OnCard {
            card: number,
            whipped: card.flat.clone(),
            flat: card.flat.clone(),
            corners,
            inside: true,
        }));
        Ok(cloth)
    }
}

/// The lines of an outline's sides, in order.
fn side_lines(corners: &[Point]) -> Vec<Line> {
    let n = corners.len();
    (0..n)
        .filter_map(|i| Line::between(corners[i], corners[(i + 1) % n]))
        .collect()
}

fn side_middle(corners: &[Point], side: usize) -> Point {
    corners[side].toward(corners[(side + 1) % corners.len()], 0.5)
}

/// The middle of an outline's box along a direction.
fn middle(corners: &[Point], along: Vector) -> f64 {
    let reach = |c: &Point| (*c - Point::ORIGIN).dot(along);
    let low = corners.iter().map(reach).fold(f64::INFINITY, f64::min);
    let high = corners.iter().map(reach).fold(f64::NEG_INFINITY, f64::max);
    (low + high) / 2.0
}
