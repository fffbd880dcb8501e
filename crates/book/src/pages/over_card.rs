//! Mosaics over card: the steps round by round, and the cards to print.

use super::Desk;
use super::bench::Bench;
use super::shopping::heading;
use crate::model::{Block, Section, Text};
use crate::pictures::{Card, card_pages, opened};
use crate::plural::{counted, listed};
use recipe::{Step, Take};
use terms::Severity;

/// What is done between one taking out of cards and the next.
#[derive(Default)]
struct Round<'a> {
    baste: Vec<&'a Step>,
    /// Index of the last whip, how many pieces are whipped on, how many edges.
    last: Option<usize>,
    pieces: u64,
    edges: u64,
    out: Option<&'a Step>,
}

impl Bench<'_> {
    /// Whether the making is a mosaic over card.
    pub(super) fn is_over_card(&self) -> bool {
        let by_card = |s: &Step| matches!(s, Step::Baste { .. } | Step::Whip { .. });
        self.make.steps.iter().any(by_card)
    }

    /// All steps of a mosaic but its checks.
    pub(super) fn over_card(&self, blocks: &mut Vec<Block>) {
        let mut rounds: Vec<Round> = vec![Round::default()];
        let mut snipped = false;
        for (i, step) in self.make.steps.iter().enumerate() {
            let begun = rounds.last().is_some_and(|r| r.out.is_some());
            if begun && matches!(step, Step::Baste { .. } | Step::Whip { .. }) {
                rounds.push(Round::default());
            }
            let Some(round) = rounds.last_mut() else { continue };
            match step {
                Step::Baste { .. } => round.baste.push(step),
                Step::Whip { edges, .. } => {
                    round.last = Some(i);
                    round.pieces += 1;
                    round.edges += edges.len() as u64;
                }
                Step::TakeOut { .. } => round.out = Some(step),
                Step::Snip { .. } => snipped = true,
                _ => {}
            }
        }
        let mut number = 0;
        for (k, round) in rounds.iter().enumerate() {
            number += 1;
            blocks.push(self.round(round, k == 0, number));
        }
        if snipped {
            number += 1;
            blocks.push(Block::Step {
                number: Some(number),
                sentences: vec![Text::of(
                    "Snip off the tips that stick out at the corners, level with the raw edges.",
                )],
                pictures: Vec::new(),
                wide: self.long,
            });
        }
    }

    fn round(&self, round: &Round, first: bool, number: u32) -> Block {
        let mut sentences = Vec::new();
        if !round.baste.is_empty() {
            sentences.push(Text::of(format!("Baste {}.", listed(&self.basted(&round.baste)))));
        }
        if first && let Some(Step::Baste { least, .. }) = round.baste.first() {
            sentences.push(
                Text::of("Pin the card on the wrong side in the middle of the cloth, or a seam inside its raw edge where the card shows dashes; fold at least ")
                    .size(*least)
                    .say(" of cloth over each other side, crease it at the card's edge and baste. Trim what is in the way. Sides with dashes stay flat."),
            );
        }
        if round.pieces > 0 {
            let pieces = counted(round.pieces, "part");
            let edges = counted(round.edges, "edge");
            sentences.push(if first {
                Text::of(format!(
                    "Whip {pieces} on, one after another, along {edges} in all: right sides together, corner on corner, over and over through the folds alone from corner to corner with small stitches; then on along the next edge. The work may bend; unfold it flat."
                ))
            } else {
                Text::of(format!("Whip {pieces} on, one beside the other, along {edges} in all."))
            });
        }
        if let Some(Step::TakeOut { cards, .. }) = round.out {
            let each: Vec<String> = (cards.iter())
                .map(|c| format!("{} of card {}", c.count, c.card))
                .collect();
            sentences.push(Text::of(format!(
                "Press, and take out the cards whose sides are all sewn, to use them again: {}.",
                listed(&each)
            )));
        }
        let picture = (self.scenes.zip(self.pictures.as_ref())).and_then(|(scenes, pictures)| {
            let view = scenes.after.get(round.last?)?;
            opened(pictures, view, &[], &[], "The mosaic so far")
        });
        Block::Step {
            number: Some(number),
            sentences,
            pictures: picture.into_iter().map(|p| p.captioned("So far")).collect(),
            wide: self.long,
        }
    }

    /// What is basted over what, and how many.
    fn basted(&self, steps: &[&Step]) -> Vec<String> {
        let mut counts: Vec<(String, u64)> = Vec::new();
        for step in steps {
            let Step::Baste { piece, card, .. } = step else {
                continue;
            };
            let part = self.make.parts.iter().find(|p| p.slot == *piece);
            let Some(Take::Piece(kind)) = part.map(|p| &p.take) else {
                continue;
            };
            let words = format!("{kind} over card {card}");
            match counts.iter_mut().find(|(w, _)| *w == words) {
                Some(entry) => entry.1 += 1,
                None => counts.push((words, 1)),
            }
        }
        counts
            .into_iter()
            .map(|(words, count)| format!("{count} {words}"))
            .collect()
    }
}

/// The cards at true scale, as many to a sheet as fit.
pub(super) fn cards(desk: &Desk) -> Vec<Section> {
    let cards = &desk.source.pattern.cutting.cards;
    if cards.is_empty() {
        return Vec::new();
    }
    let section = |blocks| Section {
        name: "cards".into(),
        blocks,
    };
    let words = |c: &recipe::Card| {
        if c.cut < c.uses {
            format!("{} of card {} ({} if none is used again)", c.cut, c.name, c.uses)
        } else {
            format!("{} of card {}", c.cut, c.name)
        }
    };
    let list: Vec<String> = cards.iter().map(words).collect();
    let printed: Vec<Card> = cards.iter().map(Card::of).collect();
    let Some(pages) = card_pages(&printed, desk.edition.paper) else {
        let text = "Some cards are too large to print on sheets of this size; draw them from the design, or print on larger sheets.";
        return vec![section(vec![
            heading(1, "Cards"),
            Block::Finding {
                severity: Severity::Care,
                text: text.into(),
            },
        ])];
    };
    let many = pages.len();
    let mut sections = Vec::new();
    for (i, page) in pages.into_iter().enumerate() {
        let title = if many > 1 {
            format!("Cards, sheet {} of {many}", i + 1)
        } else {
            "Cards".to_string()
        };
        let text = if i == 0 {
            Text::of(format!(
                "Print on card at 100 %, without fitting to the page, and measure both test squares. Cut out on the lines: {}. A card is used again as soon as it comes out. They are shown from behind, as you see them when you baste; dashes mark sides that stay flat.",
                listed(&list)
            ))
        } else {
            Text::of("As on the sheet before.")
        };
        sections.push(section(vec![
            heading(1, &title),
            Block::Paragraph(text),
            Block::TrueScale(page),
        ]));
    }
    sections
}
