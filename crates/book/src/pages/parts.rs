//! Parts: the page of the part in hand with one block to make first, and the page that shows all parts of the whole.

use super::Desk;
use super::shopping::{capital, heading, to_buy};
use crate::model::{Block, Section, Text};
use crate::names::{counted_unit, unit_name};
use crate::numbers::bought_words;
use crate::pictures::swatch;
use crate::plural::{counted, listed};
use crate::source::{FirstBlock, PartLine};
use measure::Length;
use recipe::{BoughtCloth, DemandShape, RulerCut, Size};
use terms::{FabricId, PieceId, UnitId};

/// What the part in hand is for; nothing when the pages are for the whole.
pub(super) fn this_part(desk: &Desk) -> Section {
    let mut blocks = Vec::new();
    if let Some(part) = &desk.source.part {
        blocks.push(heading(1, &part.line.name));
        blocks.push(Block::Paragraph(Text::of(what_is_done(&part.line))));
        let list = |blocks: &mut Vec<Block>, title: &str, units: &[(UnitId, u64)], pieces: &[(PieceId, u64)]| {
            if !(units.is_empty() && pieces.is_empty()) {
                blocks.push(heading(2, title));
                // Kinds of one name, pressed otherwise or mirrored, are one line.
                let mut named: Vec<(String, &UnitId, u64)> = Vec::new();
                for (unit, count) in units {
                    let name = unit_name(unit, &desk.source.pattern.recipe);
                    match named.iter_mut().find(|(known, ..)| *known == name) {
                        Some((_, _, all)) => *all += count,
                        None => named.push((name, unit, *count)),
                    }
                }
                let units = named.into_iter().map(|(_, unit, count)| in_number(desk, unit, count));
                let pieces = pieces.iter().map(|(piece, count)| pieces_cut(desk, piece, *count));
                blocks.push(Block::Ticks(units.chain(pieces).collect()));
            }
        };
        let (before, ahead) = (&part.cut_before, &part.cut_ahead);
        list(&mut blocks, "Have ready from earlier parts", &part.from_before, before);
        list(&mut blocks, "Keep for later parts", &part.kept, ahead);
        if !part.first.is_empty() {
            blocks.push(heading(2, "Make one first"));
            blocks.push(Block::Paragraph(Text::of(
                "Cut and sew one block, measure it, and put your seam right before you cut the rest. The cloth is that for one alone.",
            )));
        }
        for first in &part.first {
            one_first(desk, first, &mut blocks);
        }
    }
    Section {
        name: "this part".into(),
        blocks,
    }
}

/// The parts of the whole with their cloth, bought at once or part by part; nothing when there are none.
pub(super) fn all_parts(desk: &Desk) -> Section {
    let source = desk.source;
    let mut blocks = Vec::new();
    if !source.parts.is_empty() && source.part.is_none() {
        blocks.push(heading(1, "In parts"));
        let head = ["Part", "Date", "What is done in it"].map(String::from).to_vec();
        let rows = source
            .parts
            .iter()
            .map(|line| {
                vec![
                    Text::new().strong(line.name.clone()),
                    Text::of(line.date.clone()),
                    Text::of(what_is_done(line)),
                ]
            })
            .collect();
        blocks.push(Block::Table { head, rows });
        blocks.push(heading(2, "Cloth, bought at once or part by part"));
        let mut head = vec![String::new(), "At once".to_string(), "Part by part".to_string()];
        head.extend((1..=source.parts.len()).map(|number| format!("Part {number}")));
        let rows = source.pattern.bought.cloths.iter().map(|bought| {
            let measure = desk.edition.measure;
            let of = |line: &PartLine| {
                let own = line.cloth.iter().find(|own| own.fabric == bought.fabric)?;
                Some(without_why(own))
            };
            let row_head = vec![
                named(desk, &bought.fabric),
                to_buy(Text::new(), bought, measure),
                to_buy(
                    Text::new(),
                    &together(bought, source.parts.iter().filter_map(of)),
                    measure,
                ),
            ];
            let each = |line: &PartLine| match of(line) {
                None => Text::new(),
                Some(own) if own.pieces.is_some() => Text::of(bought_words(&own, measure)),
                Some(own) => Text::new().cloth(own.length, false),
            };
            let mut row = row_head;
            row.extend(source.parts.iter().map(each));
            row
        });
        blocks.push(Block::Table {
            head,
            rows: rows.collect(),
        });
        blocks.push(Block::Paragraph(Text::of(
            "Bought at once, all of it comes from one bolt; part by part it takes more, since every part is squared up, cut and rounded up by itself.",
        )));
    }
    Section {
        name: "in parts".into(),
        blocks,
    }
}

fn without_why(own: &BoughtCloth) -> BoughtCloth {
    BoughtCloth {
        length: Size::bare(own.length.len),
        ..own.clone()
    }
}

/// What all parts buy of a cloth.
fn together(whole: &BoughtCloth, parts: impl Iterator<Item = BoughtCloth>) -> BoughtCloth {
    let mut all = BoughtCloth {
        length: Size::bare(Length::ZERO),
        pieces: whole.pieces.map(|pieces| recipe::BoughtPieces { count: 0, ..pieces }),
        ..whole.clone()
    };
    for own in parts {
        all.length.len += own.length.len;
        if let (Some(all), Some(own)) = (&mut all.pieces, own.pieces) {
            all.count += own.count;
        }
    }
    all
}

/// "4 beacon blocks and 2 wing blocks. The top is sewn."
fn what_is_done(line: &PartLine) -> String {
    let made: Vec<String> = line
        .blocks
        .iter()
        .map(|(block, count)| counted(*count, &format!("{} block", block.replace('-', " "))))
        .collect();
    let mut said = Vec::new();
    if !made.is_empty() {
        said.push(format!("{}.", listed(&made)));
    }
    if line.cut_ahead > 0 {
        let pieces = counted(line.cut_ahead, "piece");
        said.push(format!("{} for a later part are cut and set aside.", capital(&pieces)));
    }
    if line.sews_the_top {
        said.push("The top is sewn.".to_string());
    }
    if line.finishes {
        said.push("What comes after the top is cut and sewn.".to_string());
    }
    if said.is_empty() {
        said.push("Nothing is sewn in it.".to_string());
    }
    said.join(" ")
}

fn in_number(desk: &Desk, unit: &UnitId, count: u64) -> Text {
    Text::of(counted_unit(count, &unit_name(unit, &desk.source.pattern.recipe)))
}

/// "12 of piece G1 (Cream)".
fn pieces_cut(desk: &Desk, piece: &PieceId, count: u64) -> Text {
    let notes = &desk.source.pattern.recipe.pieces;
    let note = notes.iter().find(|note| &note.piece == piece);
    let cloth = note.map_or_else(String::new, |note| format!(" ({})", desk.source.label(&note.fabric)));
    Text::of(format!("{count} of piece "))
        .strong(piece.0.clone())
        .say(cloth)
}

fn named(desk: &Desk, fabric: &FabricId) -> Text {
    Text::new()
        .inline(swatch(desk.cloths.get(fabric), 11.0))
        .say(format!(" {}", desk.source.label(fabric)))
}

/// One block: its pieces, then its cloth.
fn one_first(desk: &Desk, first: &FirstBlock, blocks: &mut Vec<Block>) {
    blocks.push(heading(3, &format!("One {} block", first.block.replace('-', " "))));
    let head = ["Cloth", "Cloth for one", "Piece", "Cut", "Size"]
        .map(String::from)
        .to_vec();
    let mut rows = Vec::new();
    for own in &first.cloth {
        let fabric = &own.fabric;
        for (i, piece) in first.pieces.iter().filter(|piece| piece.fabric == *fabric).enumerate() {
            let cloth = if i == 0 {
                (
                    named(desk, fabric),
                    to_buy(Text::new(), &without_why(own), desk.edition.measure),
                )
            } else {
                (Text::new(), Text::new())
            };
            rows.push(vec![
                cloth.0,
                cloth.1,
                Text::of(piece.piece.0.clone()),
                Text::of(piece.count.to_string()),
                size_of(&piece.shape),
            ]);
        }
    }
    blocks.push(Block::Table { head, rows });
}

/// A piece's size as cut, on one line.
fn size_of(shape: &DemandShape) -> Text {
    // Derivations in the register belong to the whole cutting; here the figures stand alone.
    match shape {
        DemandShape::Rectangle { width, height } => Text::new().by(*width, *height),
        DemandShape::Half { width, height, .. } => Text::of("half of ").by(*width, *height),
        DemandShape::Quarter { side } => Text::of("quarter of ").by(*side, *side),
        DemandShape::Slant {
            height,
            ruler: Some(RulerCut {
                across: Some(across), ..
            }),
            ..
        } => Text::of("strip of ")
            .size(*height)
            .say(", ")
            .size(*across)
            .say(" straight across at the ruler's angle"),
        DemandShape::Slant {
            height, lower, upper, ..
        } => Text::of("strip of ")
            .size(*height)
            .say(", ")
            .size(*lower)
            .say(" and ")
            .size(*upper)
            .say(" along its edges"),
        DemandShape::Shaped { width, height, .. } => Text::new().by(*width, *height).say(", corners cut off"),
        DemandShape::Template { template } => Text::of(capital(&format!("by template {}", template.name))),
    }
}
