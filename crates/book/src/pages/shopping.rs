//! What you need: findings first, then cloth, tools, the seam test, and how to read the pictures.

use super::Desk;
use crate::model::{Block, Section, Text};
use crate::numbers::{THIN, bought_words, least_words, set_length, unit};
use crate::pictures::{legend, swatch, test_strips};
use crate::plural::{counted, listed};
use measure::{Length, Measure};
use recipe::{BoughtCloth, Purpose, Size, Step};
use terms::FabricId;

pub(super) fn shopping(desk: &Desk) -> Section {
    let mut blocks = Vec::new();
    findings(desk, &mut blocks);
    blocks.push(heading(1, "What you need"));
    if let Some(note) = desk.source.note.as_ref().filter(|n| !n.trim().is_empty()) {
        blocks.push(Block::Quote {
            word: "note".into(),
            text: note.clone(),
        });
    }
    blocks.push(Block::Spot {
        at: String::new(),
        steps: Vec::new(),
    });
    cloth(desk, &mut blocks);
    tools(desk, &mut blocks);
    seam_test(desk, &mut blocks);
    blocks.push(heading(2, "How to read the pictures"));
    blocks.push(Block::Paragraph(Text::of(
        "Each picture is to scale. Cloth is drawn right side up unless it is pale with fine slanting lines.",
    )));
    if let Some(first) = desk.source.pattern.recipe.fabrics.first() {
        let seam = desk.source.pattern.recipe.seam.len;
        let quarter = set_length(seam, desk.edition.measure);
        blocks.push(Block::Gallery(legend(desk.cloths.get(&first.fabric), &quarter)));
    }
    Section {
        name: "what you need".into(),
        blocks,
    }
}

pub(super) fn heading(level: u8, words: &str) -> Block {
    Block::Heading {
        level,
        words: words.into(),
        pill: None,
        swatch: None,
        aside: None,
        lead: None,
    }
}

fn findings(desk: &Desk, blocks: &mut Vec<Block>) {
    if desk.source.findings.is_empty() {
        return;
    }
    blocks.push(heading(1, "What the checks say"));
    for finding in &desk.source.findings {
        let place = finding.place.to_string();
        let mend = if finding.mend.is_empty() {
            String::new()
        } else {
            format!(" {}", finding.mend)
        };
        let text = format!("{}: {}{mend}", capital(&place), finding.sentence);
        blocks.push(Block::Finding {
            severity: finding.severity,
            text,
        });
    }
}

fn cloth(desk: &Desk, blocks: &mut Vec<Block>) {
    let source = desk.source;
    blocks.push(heading(2, "Cloth"));
    let head = ["", "Buy", "Usable width", "Cut in", "No plan can do with less than"]
        .map(String::from)
        .to_vec();
    let mut rows = Vec::new();
    let mut total = Some(0.0);
    for bought in &source.pattern.bought.cloths {
        let words = source.cloths.iter().find(|c| c.fabric == bought.fabric);
        let pieces = source
            .pattern
            .cutting
            .cloths
            .iter()
            .filter(|c| c.fabric == bought.fabric)
            .flat_map(|c| c.strips.iter().map(|s| (s, u64::from(c.times()))))
            .filter(|(s, _)| s.purpose.is_none())
            .map(|(s, times)| u64::from(s.times) * times)
            .sum::<u64>();
        let kept: Vec<String> = source
            .pattern
            .cutting
            .cloths
            .iter()
            .filter(|c| c.fabric == bought.fabric)
            .flat_map(|c| c.strips.iter().map(|s| (s, u64::from(c.times()))))
            .filter_map(|(s, times)| Some((s.purpose?, u64::from(s.times) * times)))
            .fold(Vec::new(), |mut kept: Vec<(Purpose, u64)>, (purpose, times)| {
                match kept.iter_mut().find(|(known, _)| *known == purpose) {
                    Some((_, count)) => *count += times,
                    None => kept.push((purpose, times)),
                }
                kept
            })
            .into_iter()
            .map(|(purpose, times)| format!("{times} for the {purpose}"))
            .collect();
        let cut_in = match (pieces, kept.is_empty()) {
            (0, false) => listed(&kept),
            (_, true) => counted(pieces, "strip"),
            (_, false) => format!("{}, {}", counted(pieces, "strip"), listed(&kept)),
        };
        rows.push(vec![
            named(desk, &bought.fabric),
            to_buy(Text::new(), bought, desk.edition.measure),
            usable(bought),
            Text::of(cut_in),
            no_less(bought, words.map(|w| w.step), desk.edition.measure),
        ]);
        total = match (total, words.and_then(|w| w.price)) {
            (Some(sum), Some(price)) => {
                // What is sold cut has its price by the piece.
                let units = match bought.pieces {
                    Some(pieces) => f64::from(pieces.count),
                    None => in_shop_units(bought.length.len, desk.edition.measure),
                };
                Some(sum + price * units)
            }
            _ => None,
        };
    }
    let plan = &source.finishing;
    if let Some(backing) = &plan.backing
        && matches!(backing.way.lay, finishing::Lay::Wide | finishing::Lay::WideSideways)
    {
        // Wide cloth is a bolt of its own.
        rows.push(vec![
            named(desk, &backing.fabric).say(", wide, for the back"),
            Text::new().cloth(backing.way.cloth, true),
            Text::new().quiet(backing.usable),
            Text::of("1 piece"),
            Text::new(),
        ]);
        total = match (total, backing.way.price) {
            (Some(sum), Some(price)) => Some(sum + price),
            _ => None,
        };
    }
    blocks.push(Block::Table { head, rows });
    if let Some(batting) = &plan.batting {
        let mut text = Text::of("Batting: ").by(batting.width, batting.height);
        if let Some(package) = batting.package {
            text = text
                .say(format!(" (a package called \"{}\", ", package.name))
                .by(
                    Size::bare(in_inches(package.width)),
                    Size::bare(in_inches(package.length)),
                )
                .say(", covers it)");
        }
        blocks.push(Block::Paragraph(text.say(".")));
    }
    if let Some(sum) = total.filter(|s| *s > 0.0) {
        blocks.push(Block::Paragraph(
            Text::of("All cloth at the prices given: ")
                .strong(format!("{sum:.2}"))
                .say("."),
        ));
    }
}

fn in_inches(inches: f64) -> Length {
    Length::nearest(inches).unwrap_or_default()
}

fn named(desk: &Desk, fabric: &FabricId) -> Text {
    Text::new()
        .inline(swatch(desk.cloths.get(fabric), 13.0))
        .strong(desk.source.label(fabric))
}

/// What is bought of a cloth, in strong words after the text.
pub(super) fn to_buy(text: Text, bought: &BoughtCloth, measure: Measure) -> Text {
    match bought.pieces {
        Some(_) => text.strong(bought_words(bought, measure)),
        None => text.cloth(bought.length, true),
    }
}

/// Usable width; of a piece sold cut also how long it is.
fn usable(bought: &BoughtCloth) -> Text {
    let text = Text::new().quiet(bought.usable);
    match bought.pieces {
        Some(pieces) => text.say(", ").quiet(pieces.each).say(" long"),
        None => text,
    }
}

/// The lower bound in the words in which the cloth is bought.
pub(super) fn no_less(bought: &BoughtCloth, step: Option<Length>, measure: Measure) -> Text {
    match bought.pieces {
        Some(_) => Text::of(least_words(bought, measure)),
        None => bound(bought.bound, step, measure),
    }
}

/// The lower bound as the shop would cut it, and as it is.
fn bound(bound: Size, step: Option<Length>, measure: Measure) -> Text {
    let Some(step) = step.map(Length::units).filter(|s| *s > 0) else {
        return Text::new().cloth(bound, false);
    };
    let steps = (bound.len.units() + step - 1) / step;
    let whole = Length::from_units(steps * step);
    let text = Text::new().cloth(
        Size {
            len: whole,
            why: bound.why,
        },
        false,
    );
    let bare = set_length(bound.len, measure);
    if whole == bound.len || bare.contains('.') {
        return text;
    }
    text.soft(format!(" ({bare}{THIN}{})", unit(measure)))
}

fn in_shop_units(length: Length, measure: Measure) -> f64 {
    match measure {
        Measure::Inch => length.to_inches() / 36.0,
        Measure::Metric => length.to_inches() * 0.0254,
    }
}

fn tools(desk: &Desk, blocks: &mut Vec<Block>) {
    let recipe = &desk.source.pattern.recipe;
    let mark = set_length(recipe.mark, desk.edition.measure);
    blocks.push(heading(2, "Tools"));
    let unit = unit(desk.edition.measure);
    let mut items = vec![
        Text::of(format!("Rotary cutter, mat, and a ruler marked in {mark}{THIN}{unit}")),
        Text::of("Sewing machine with a fresh needle, thread, pins"),
        Text::of("Iron and ironing board"),
    ];
    let draws = recipe
        .makes
        .iter()
        .flat_map(|m| &m.steps)
        .any(|s| matches!(s, Step::Mark { .. } | Step::Dot { .. }));
    if draws {
        items.push(Text::of("A pencil or washable marker for the wrong side"));
    }
    let papers: u64 = desk
        .source
        .pattern
        .cutting
        .papers
        .iter()
        .map(|p| u64::from(p.print))
        .sum();
    if papers > 0 {
        let sheets = crate::plural::counted(papers, "foundation");
        items.push(Text::of(format!(
            "Thin paper to print {sheets} on, from the end of this booklet, and a printer that prints at 100 %"
        )));
    }
    if !desk.source.pattern.cutting.templates.is_empty() {
        items.push(Text::of("Card or template plastic for the templates at the end"));
    }
    blocks.push(Block::Ticks(items));
}

/// Three strips sewn together: what is left of the middle one tells the seam.
fn seam_test(desk: &Desk, blocks: &mut Vec<Block>) {
    let recipe = &desk.source.pattern.recipe;
    let strip = match desk.edition.measure {
        Measure::Inch => Length::fraction(3, 2),
        Measure::Metric => Length::tenths_of_mm(400),
    };
    let middle = strip - recipe.seam.len * 2;
    blocks.push(heading(2, "Test your seam first"));
    let fabrics = &recipe.fabrics;
    let pictures = match (fabrics.first(), fabrics.last()) {
        (Some(first), Some(last)) => {
            let (one, other) = (desk.cloths.get(&first.fabric), desk.cloths.get(&last.fabric));
            let words = format!(
                "{}{THIN}{}",
                set_length(middle, desk.edition.measure),
                unit(desk.edition.measure)
            );
            vec![test_strips([one, other, one], &words)]
        }
        _ => Vec::new(),
    };
    blocks.push(Block::Step {
        number: None,
        sentences: vec![
            Text::of("Sew three strips ")
                .size(Size::bare(strip))
                .say(" wide side by side and press."),
            Text::of("The middle one must measure ")
                .size(Size::bare(middle))
                .say("."),
            Text::of("Narrower: sew a thread closer to the edge. Wider: a thread further in. Then test again."),
        ],
        pictures,
        wide: false,
    });
}

/// The words with a capital first letter.
pub(super) fn capital(words: &str) -> String {
    let mut chars = words.chars();
    chars
        .next()
        .map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}
