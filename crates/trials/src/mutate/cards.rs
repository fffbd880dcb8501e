//! Basting over cards read by `docs/recipe.md` alone: whether the cloth still reaches as far past every folded side as is said,
//! and no further. It decides which changes of a cut size, of how far cloth is folded over, or of how a card lies change
//! nothing: what is folded under shows nowhere.

use super::ruled::{At, Ruled, left_of};
use super::yields::{self, Outline};
use recipe::{Card, EdgeRef, Inside, Pattern, PrintNote, Size, Slot, Step, Take};
use std::collections::BTreeSet;

/// Agreement asked for, as everywhere (1/64 in).
const TOLERANCE: f64 = 1.0 / 64.0 + 1.0e-9;

/// The pieces that are basted over cards.
pub fn pieces(pattern: &Pattern) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for make in &pattern.recipe.makes {
        for step in &make.steps {
            if let Step::Baste { piece, .. } = step {
                found.extend(piece_in(make, *piece).map(str::to_string));
            }
        }
    }
    found
}

fn piece_in(make: &recipe::Make, slot: Slot) -> Option<&str> {
    make.parts.iter().find_map(|p| match &p.take {
        Take::Piece(piece) if p.slot == slot => Some(piece.as_str()),
        _ => None,
    })
}

/// Whether every basting holds. Cloth with a direction is left out: how it lies shows.
pub fn holds(pattern: &Pattern) -> bool {
    let Some(cut) = yields::read(pattern) else { return false };
    let seam = pattern.recipe.seam.inches();
    pattern.recipe.makes.iter().all(|make| {
        make.steps.iter().all(|step| {
            let Step::Baste {
                piece,
                card,
                side,
                along,
                inside,
                flat,
                least,
                most,
                ..
            } = step
            else {
                return true;
            };
            let basting = piece_in(make, *piece).and_then(|name| {
                Some(Basting {
                    piece: cut.outline(name).filter(|_| cut.print(name) == PrintNote::None)?,
                    card: pattern.cutting.cards.iter().find(|c| c.name == *card)?,
                    seam,
                })
            });
            basting.is_some_and(|basting| {
                let placed = basting.placed(*side, *along, inside);
                placed.is_some_and(|corners| basting.reaches(&corners, flat, *least, *most))
            })
        })
    })
}

struct Basting<'a> {
    piece: &'a Outline,
    card: &'a Card,
    seam: f64,
}

impl Basting<'_> {
    /// The line of one of the piece's edges, cloth on its left.
    fn edge(&self, edge: EdgeRef) -> Option<Ruled> {
        let k = self.piece.iter().position(|c| c.0 == edge.edge)?;
        Ruled::through(self.piece[k].1, self.piece[(k + 1) % self.piece.len()].1)
    }

    /// The card's corners as it lies on the piece.
    fn placed(&self, side: u32, along: EdgeRef, inside: &[Inside]) -> Option<Vec<At>> {
        let corners: Vec<At> = (self.card.corners.iter())
            .map(|c| (c.right.to_inches(), c.up.to_inches()))
            .collect();
        let n = corners.len();
        let side = side as usize;
        if side >= n || inside.len() > 2 {
            return None;
        }
        let (own, to) = (
            Ruled::through(corners[side], corners[(side + 1) % n])?,
            self.edge(along)?,
        );
        // Turned, not yet moved.
        let mut card: Vec<At> = (corners.iter())
            .map(|&c| own.of(c))
            .map(|(left, reach)| to.place(left, reach))
            .collect();
        let slide = |card: &mut Vec<At>, by: At| card.iter_mut().for_each(|c| *c = (c.0 + by.0, c.1 + by.1));
        let frame = match inside.first() {
            Some(first) => self.edge(first.edge)?,
            None => to,
        };
        let middle = |all: &mut dyn Iterator<Item = At>, axis: usize| {
            let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| {
                let (left, reach) = frame.of(p);
                let value = if axis == 0 { left } else { reach };
                (l.min(value), h.max(value))
            });
            (low + high) / 2.0
        };
        let apart = |card: &[At], axis: usize| {
            middle(&mut self.piece.iter().map(|c| c.1), axis) - middle(&mut card.iter().copied(), axis)
        };
        let square = |left: f64, reach: f64| {
            let (a, b) = (frame.place(left, reach), frame.at);
            (a.0 - b.0, a.1 - b.1)
        };
        let lacks = |card: &[At], one: &Inside| {
            let k = one.side as usize;
            let (a, b) = (*card.get(k)?, card[(k + 1) % n]);
            let middle = ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0);
            Some(one.by.inches() - self.edge(one.edge)?.of(middle).0)
        };
        match inside {
            [] => {
                let by = square(apart(&card, 0), apart(&card, 1));
                slide(&mut card, by);
            }
            [first, rest @ ..] => {
                let by = square(lacks(&card, first)?, 0.0);
                slide(&mut card, by);
                let reach = match rest.first() {
                    Some(second) => {
                        let other = self.edge(second.edge)?;
                        // How fast a step along the first edge goes to the left of the second.
                        let gain = other.along.0 * frame.along.1 - other.along.1 * frame.along.0;
                        if gain.abs() <= 1.0e-6 {
                            return None;
                        }
                        lacks(&card, second)? / gain
                    }
                    None => apart(&card, 1),
                };
                slide(&mut card, square(0.0, reach));
            }
        }
        Some(card)
    }

    fn reaches(&self, card: &[At], flat: &[EdgeRef], least: Size, most: Size) -> bool {
        let n = card.len();
        let named: BTreeSet<u32> = flat.iter().map(|edge| edge.edge).collect();
        let (least, most) = (least.inches(), most.inches());
        if flat.len() != self.card.flat.len() || named.len() != flat.len() || least <= TOLERANCE || most < least {
            return false;
        }
        let side = |k: usize| Ruled::through(card[k], card[(k + 1) % n]);
        let level = self.card.flat.iter().zip(flat).all(|(&k, &edge)| {
            let ends = [card.get(k as usize), card.get((k as usize + 1) % n)];
            let Some(line) = self.edge(edge) else { return false };
            ends.iter()
                .all(|end| end.is_some_and(|&end| (line.of(end).0 - self.seam).abs() <= TOLERANCE))
        });
        let folded = (0..n).filter(|&k| !self.card.flat.contains(&(k as u32)));
        let far = folded.clone().all(|k| {
            let Some(line) = side(k) else { return false };
            let over = self.piece.iter().all(|c| -line.of(c.1).0 <= most + TOLERANCE);
            let length = line.of(card[(k + 1) % n]).1;
            let out = [line.place(-least, 0.0), line.place(-least, length)];
            let within = |edge: u32, p: At| {
                let line = self.edge(EdgeRef { of: Slot(0), edge });
                line.is_some_and(|line| line.of(p).0 >= -TOLERANCE)
            };
            let others = self.piece.iter().map(|c| c.0).filter(|edge| !named.contains(edge));
            over && others.clone().all(|edge| out.iter().all(|&p| within(edge, p)))
        });
        level && far && self.leaves_one_edge_a_side(card, &named)
    }

    /// Whether what is left once the sides are folded is bounded by the folds and the raw edges named, and nothing else.
    fn leaves_one_edge_a_side(&self, card: &[At], named: &BTreeSet<u32>) -> bool {
        let n = card.len();
        let whole: Vec<At> = self.piece.iter().map(|c| c.1).collect();
        let folds: Vec<Ruled> = (0..n)
            .filter(|&k| !self.card.flat.contains(&(k as u32)))
            .filter_map(|k| Ruled::through(card[k], card[(k + 1) % n]))
            .collect();
        let left = folds.iter().fold(whole, |shape, &fold| left_of(&shape, fold));
        let raw: Vec<Ruled> = named
            .iter()
            .filter_map(|&edge| self.edge(EdgeRef { of: Slot(0), edge }))
            .collect();
        let on = |line: &Ruled, p: At, q: At| line.of(p).0.abs() < 1.0e-6 && line.of(q).0.abs() < 1.0e-6;
        (0..left.len()).all(|i| {
            let (p, q) = (left[i], left[(i + 1) % left.len()]);
            let short = (p.0 - q.0).abs().max((p.1 - q.1).abs()) < 1.0e-6;
            short || folds.iter().chain(&raw).any(|line| on(line, p, q))
        })
    }
}
