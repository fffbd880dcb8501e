//! The first page.

use super::Desk;
use crate::model::{Block, Paper, Section, Text};
use crate::pictures::{mark, quilt};
use crate::plural::counted;
use measure::Length;
use recipe::Size;

pub(super) fn cover(desk: &Desk) -> Section {
    let source = desk.source;
    let recipe = &source.pattern.recipe;
    let (low, high) = source.picture.outer.bounds();
    let mut lines = Vec::new();
    if let Some(part) = &source.part {
        let mut line = Text::new()
            .strong(part.line.name.clone())
            .say(format!(" · part {} of {}", part.number, part.of));
        if !part.line.date.is_empty() {
            line = line.say(format!(" · {}", part.line.date));
        }
        lines.push(line);
    }
    if let (Some(width), Some(height)) = (Length::nearest(high.x - low.x), Length::nearest(high.y - low.y)) {
        lines.push(
            Text::of("Finished size ")
                .by(Size::bare(width), Size::bare(height))
                .say("."),
        );
    }
    let standing = super::standing(source, desk.edition.measure);
    let line = Text::new()
        .inline(mark(standing.proved))
        .strong(format!("{}.", standing.words));
    let stops: Vec<_> = source.findings.iter().filter(|f| f.is_stop()).collect();
    lines.push(match (standing.proved, stops.first()) {
        (true, _) => line,
        (false, None) => line.say(" The pattern has not been rehearsed; check every measure before you cut."),
        (false, Some(first)) => {
            let more = stops.len() as u64 - 1;
            let line = line.say(format!(" {}", first.sentence));
            if more > 0 {
                line.say(format!(" {} more on the next page.", counted(more, "finding")))
            } else {
                line
            }
        }
    });
    let mut about = Vec::new();
    if !recipe.edition.trim().is_empty() {
        about.push(format!("Edition {}", recipe.edition.trim()));
    }
    if desk.edition.left_handed {
        about.push("for the left hand".into());
    }
    if desk.edition.large_print {
        about.push("large print".into());
    }
    if !about.is_empty() {
        lines.push(Text::new().soft(about.join(", ")));
    }
    let width = desk.edition.paper.points().0 - 2.0 * Paper::MARGIN;
    let height = desk.edition.paper.points().1 * if desk.edition.large_print { 0.46 } else { 0.58 };
    let quilt = quilt(&source.picture, &desk.cloths, width, height, "The finished quilt");
    Section {
        name: "cover".into(),
        blocks: vec![Block::Cover { quilt, lines }],
    }
}
