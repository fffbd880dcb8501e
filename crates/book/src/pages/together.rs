//! How the cloths work together: lightness, neighbours, and the quilt as it is seen in other ways.

use super::Desk;
use super::shopping::heading;
use crate::model::{Block, Paper, Section, Text};
use crate::pictures::{Cloths, in_lines, ladder, letters, quilt};
use design::{BLURRED, Color, Eyes, HARDLY_IN_GREY, as_seen, in_grey, together};
use std::collections::BTreeMap;
use terms::FabricId;

/// Of the pairs that are hard to tell apart so many are told.
const MOST_TOLD: usize = 8;

pub(super) fn page(desk: &Desk) -> Section {
    let source = desk.source;
    let colors: BTreeMap<FabricId, Color> = (source.pattern.recipe.fabrics.iter())
        .filter_map(|note| Some((note.fabric.clone(), Color::from_hex(&note.color)?)))
        .collect();
    let found = together(&source.picture, &colors);
    let mut section = Section {
        name: "the cloths".into(),
        blocks: Vec::new(),
    };
    if found.ladder.len() < 2 {
        return section;
    }
    let width = desk.edition.paper.points().0 - 2.0 * Paper::MARGIN;
    let plain = in_color(&desk.cloths);
    let greys = to_grey(&desk.cloths);
    let blocks = &mut section.blocks;
    blocks.push(heading(1, "How the cloths work together"));
    blocks.push(Block::Paragraph(Text::of(
        "From dark to light, in colour and in grey; the figure is the lightness, 0 for black and 100 for white (L*). Lay your own \
         cloths beside one another in this order before you cut.",
    )));
    blocks.push(Block::Gallery(vec![ladder(
        &found,
        &plain,
        &greys,
        width,
        desk.edition.letters(),
    )]));
    let (w, h) = (width / 3.0 - 12.0, 170.0);
    let shown = |cloths: &_, words: &str| quilt(&source.picture, cloths, w, h, words).captioned(words);
    let lines = "In black and white";
    let mut views = vec![
        shown(&plain, "In colour"),
        shown(&greys, "In grey"),
        in_lines(&source.picture, &found, w, h, lines).captioned(lines),
    ];
    for eyes in Eyes::ALL {
        let seen = to_eyes(&desk.cloths, eyes);
        let (words, _) = eyes.words().split_once(" (").unwrap_or((eyes.words(), ""));
        views.push(shown(&seen, &format!("To eyes {words}")));
    }
    blocks.push(Block::Gallery(views));
    blocks.push(Block::Paragraph(Text::new().soft(
        "Other eyes after a model published in 2009 (IEEE Transactions on Visualization and Computer Graphics 15). Screens, printers and dyes differ: trust the cloth.",
    )));
    let letters = letters(&found);
    let name = |fabric: &FabricId| {
        let letter = letters.get(fabric).map_or("", String::as_str);
        format!("{} ({letter})", desk.cloths.get(fabric).label)
    };
    let hard: Vec<Text> = (found.neighbours.iter())
        .filter_map(|pair| {
            let (a, b) = (name(&pair.cloths.0), name(&pair.cloths.1));
            let mut ways = Vec::new();
            if pair.in_color < BLURRED {
                ways.push("in colour".to_string());
            }
            if pair.in_grey < HARDLY_IN_GREY {
                ways.push("in grey".to_string());
            }
            if pair.in_color >= BLURRED {
                let blurred = Eyes::ALL.into_iter().zip(pair.to_eyes).filter(|(_, d)| *d < BLURRED);
                ways.extend(blurred.map(|(eyes, _)| format!("to eyes {}", eyes.words())));
            }
            (!ways.is_empty()).then(|| Text::of(format!("{a} and {b}: {}.", ways.join(", "))))
        })
        .collect();
    if hard.is_empty() {
        blocks.push(Block::Paragraph(Text::of(
            "All cloths that lie side by side are told apart well, in colour, in grey and by other eyes.",
        )));
        return section;
    }
    blocks.push(Block::Paragraph(Text::of(
        "These lie side by side and are hard to tell apart. Where one is to stand out, change the lightness of either.",
    )));
    let more = hard.len().saturating_sub(MOST_TOLD);
    blocks.extend(hard.into_iter().take(MOST_TOLD).map(Block::Paragraph));
    if more > 0 {
        blocks.push(Block::Paragraph(Text::of(format!("And {more} more."))));
    }
    section
}

/// The cloths without their textures.
fn in_color(cloths: &Cloths) -> Cloths {
    cloths.seen("plain", |color| color)
}

fn to_grey(cloths: &Cloths) -> Cloths {
    cloths.seen("grey", in_grey)
}

fn to_eyes(cloths: &Cloths, eyes: Eyes) -> Cloths {
    let way = Eyes::ALL.iter().position(|e| *e == eyes).unwrap_or_default();
    cloths.seen(&format!("eyes-{way}"), |color| as_seen(color, eyes))
}

/// The names and values of all colours of the pages; none where they are written out.
pub(super) fn colors(cloths: &Cloths) -> Vec<(String, String)> {
    let mut all = cloths.colors();
    all.extend(in_color(cloths).colors());
    all.extend(to_grey(cloths).colors());
    all.extend(Eyes::ALL.into_iter().flat_map(|eyes| to_eyes(cloths, eyes).colors()));
    all
}
