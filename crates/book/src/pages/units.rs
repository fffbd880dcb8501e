//! Unit by unit in making order.

use super::Desk;
use super::bench::Bench;
use super::group::{Kind, groups, is_row, told_again};
use super::shopping::{capital, heading};
use crate::model::{Block, Paper, Photo, Section, Text};
use crate::names::{Names, unit_name};
use crate::numbers::judged;
use crate::pictures::{UnitPictures, quilt, stretch, turn_for};
use crate::plural::counted;
use recipe::{Make, Measured, Recipe, Size, Step};

/// All makings but the last, in sections by the block they belong to.
pub(super) fn units(desk: &Desk) -> Vec<Section> {
    let makes = &desk.source.pattern.recipe.makes;
    let mut sections: Vec<Section> = Vec::new();
    let mut told = Told::default();
    let last = makes
        .iter()
        .rposition(|make| !make.gives.is_empty())
        .map_or(0, |i| i + 1);
    let mut block_now: Option<Option<String>> = None;
    for make in makes[..last].iter().filter(|make| make.times > 0) {
        if !(desk.go_on)() {
            break;
        }
        let story = desk.source.story(&make.unit);
        let block = story.and_then(|s| s.block.clone());
        if block_now.as_ref() != Some(&block) {
            let again = sections.iter().any(|s| Some(&s.name) == block.as_ref());
            let title = match &block {
                Some(name) if again => format!("{}, continued", in_words(name)),
                Some(name) => in_words(name),
                None => "Parts of the top".to_string(),
            };
            let mut blocks = vec![heading(1, &title)];
            for (word, text) in [
                ("note", story.and_then(|s| s.note.as_ref())),
                ("tip", story.and_then(|s| s.tip.as_ref())),
            ] {
                if let Some(text) = text.filter(|t| !t.trim().is_empty() && !again) {
                    blocks.push(Block::Quote {
                        word: word.into(),
                        text: text.clone(),
                    });
                }
            }
            if let Some(name) = block.as_ref().filter(|_| !again) {
                blocks.extend(desk.words_at(name, |step| step.is_none()));
                blocks.extend(photo(desk, name));
                blocks.push(spot(name, Vec::new()));
            }
            sections.push(Section {
                name: block.clone().unwrap_or_else(|| "parts of the top".into()),
                blocks,
            });
            block_now = Some(block);
        }
        let Some(section) = sections.last_mut() else { continue };
        if desk.wants(&section.name) {
            section.blocks.extend(unit(desk, make, 2, &mut told));
        } else if is_sewn(make) {
            // There the cautions stand.
            told = Told::all();
        }
    }
    sections.retain(|section| desk.wants(&section.name));
    sections
}

/// Which cautions have been given.
#[derive(Default)]
pub(super) struct Told {
    needle: bool,
    iron: bool,
}

impl Told {
    /// Nothing is left to tell.
    pub(super) fn all() -> Self {
        Told {
            needle: true,
            iron: true,
        }
    }
}

/// One making.
pub(super) fn unit(desk: &Desk, make: &Make, level: u8, told: &mut Told) -> Vec<Block> {
    let recipe = &desk.source.pattern.recipe;
    let names = Names::of(make, recipe);
    let story = desk.source.story(&make.unit);
    let gives = make.gives.len() as u64;
    let count = u64::from(make.times) * gives.max(1);
    let whole = gives == 0 && !desk.source.picture.outer.is_empty();
    let mut blocks = vec![Block::Heading {
        level,
        words: unit_name(&make.unit, recipe),
        pill: (gives > 0).then(|| format!("make {count}")),
        swatch: None,
        aside: whole.then(|| quilt(&desk.source.picture, &desk.cloths, 96.0, 96.0, "The finished quilt")),
        lead: None,
    }];
    let sizes = sizes(make, recipe);
    let mut lead = match sizes.as_slice() {
        [one, other] => Text::of("Unfinished ").by(*one, *other).say("."),
        _ => Text::new(),
    };
    if gives > 1 {
        lead = lead.say(format!(
            " Each making gives {gives}; do it {}.",
            crate::plural::times(u64::from(make.times))
        ));
    }
    // Plain sewing needs no name, and no unit its name twice.
    if let Some(method) = story
        .map(|s| s.method.trim())
        .filter(|m| !m.is_empty() && *m != "plain patches" && !m.eq_ignore_ascii_case(&make.label))
    {
        lead = lead.soft(format!(" {}.", capital(method)));
    }
    if let Some(Block::Heading { lead: place, .. }) = blocks.last_mut() {
        *place = (!lead.0.is_empty()).then_some(lead);
    }
    blocks.extend(desk.words_at(make.unit.as_str(), |step| step.is_none()));
    blocks.push(spot(make.unit.as_str(), Vec::new()));
    if is_sewn(make) {
        cautions(told, &mut blocks);
    }
    let scenes = desk.source.scenes_of(&make.unit);
    let wide = desk.edition.paper.points().0 - 2.0 * Paper::MARGIN;
    let row = is_row(make);
    let upper = make.steps.iter().find_map(|s| match s {
        Step::Finish { sides, up, .. } => sides.get(*up as usize).and_then(|run| run.0.first()).copied(),
        _ => None,
    });
    let turn = scenes.map_or(shape::Motion::STILL, |s| turn_for(s, upper));
    let stretch = scenes.map_or(1.0, |s| stretch(s, turn));
    let long = stretch > if row { 1.8 } else { 5.0 };
    let room = match (gives, long) {
        (0, _) => (wide * 0.5, 230.0),
        (_, true) => (wide - 40.0, 130.0),
        (_, false) => (122.0, 112.0),
    };
    let pictures = scenes.map(|s| UnitPictures::new(&desk.cloths, desk.edition, s, turn, room));
    let bench = Bench {
        make,
        names: &names,
        scenes,
        pictures,
        sizes: &sizes,
        wide,
        long,
        desk,
    };
    bench.parts(row, &mut blocks);
    if row {
        bench.row(&mut blocks);
    }
    let mut number = 0;
    if bench.is_on_paper() {
        bench.on_paper(&mut blocks);
    }
    if bench.is_over_card() {
        bench.over_card(&mut blocks);
    }
    if bench.is_on_ground() {
        bench.on_ground(&mut blocks);
    }
    let told_apart = bench.is_on_paper() || bench.is_over_card() || bench.is_on_ground();
    let groups: Vec<_> = groups(make)
        .into_iter()
        .filter(|group| !told_apart || group.kind == Kind::Check)
        .collect();
    let mut skip = 0;
    let mut spoken: Vec<usize> = Vec::new();
    for (i, group) in groups.iter().enumerate() {
        if skip > 0 {
            skip -= 1;
            continue;
        }
        let before = skip;
        match group.kind {
            Kind::Seam if row => {}
            Kind::Seam if bench.alike(&groups[i..]).len() > 2 => {
                // The same corner after corner: told once, and how it looks when all are done.
                let alike = bench.alike(&groups[i..]);
                number += 1;
                blocks.extend(bench.seam(group, number));
                number += 1;
                blocks.push(bench.same_again(&alike, number));
                skip = alike.iter().map(|a| a.0).max().unwrap_or(0);
                if let Some(check) = groups
                    .get(i + skip + 1)
                    .filter(|g| g.kind == Kind::Check && bench.is_between(g))
                {
                    blocks.push(bench.check(check));
                    skip += 1;
                }
            }
            Kind::Seam => {
                number += 1;
                blocks.extend(bench.seam(group, number));
            }
            Kind::Trim => {
                number += 1;
                blocks.push(bench.trim(group, number));
            }
            Kind::Check => blocks.push(bench.check(group)),
            Kind::Finish => {}
        }
        // Words at a step stand below what it is told with.
        let told = &groups[i..=(i + skip.saturating_sub(before)).min(groups.len() - 1)];
        let steps: Vec<usize> = told.iter().flat_map(|group| group.steps.iter().copied()).collect();
        spoken.extend(&steps);
        blocks.extend(desk.words_at(make.unit.as_str(), |step| {
            step.is_some_and(|s| steps.contains(&(s as usize)))
        }));
        if !steps.is_empty() {
            let counted = steps.iter().filter_map(|&s| u32::try_from(s + 1).ok()).collect();
            blocks.push(spot(make.unit.as_str(), counted));
        }
    }
    // What is told otherwise, as on paper or over card, has its words at the end.
    let untold = |step: Option<u32>| step.is_some_and(|s| !spoken.contains(&(s as usize)));
    let late: Vec<Block> = desk.words_at(make.unit.as_str(), untold).collect();
    if !late.is_empty() {
        blocks.extend(late);
        let all = desk
            .source
            .says
            .iter()
            .filter(|say| say.at == make.unit.as_str() && untold(say.step));
        blocks.push(spot(
            make.unit.as_str(),
            all.filter_map(|say| say.step).map(|s| s + 1).collect(),
        ));
    }
    if make.spare > 0 {
        blocks.push(Block::Paragraph(Text::of(format!(
            "{} left over.",
            counted(u64::from(make.spare), "unit")
        ))));
    }
    blocks
}

/// A place for the designer's words.
fn spot(at: &str, steps: Vec<u32>) -> Block {
    Block::Spot {
        at: at.to_string(),
        steps,
    }
}

/// The designer's photograph of a block, as large as fits beside pencil notes: at most three fifths of the text's width and
/// 240 pt high.
fn photo(desk: &Desk, block: &str) -> Option<Block> {
    let words = desk.source.photos.iter().find(|photo| photo.block == block)?;
    let (wide, high) = (f64::from(words.pixels.0.max(1)), f64::from(words.pixels.1.max(1)));
    let scale = (desk.edition.paper.text_width() * 0.6 / wide).min(240.0 / high);
    let alt = match words.alt.trim() {
        "" => format!("Photograph of {}", in_words(block)),
        said => said.to_string(),
    };
    Some(Block::Photo(Photo {
        bytes: words.bytes.clone(),
        kind: words.kind,
        width: wide * scale,
        height: high * scale,
        alt,
    }))
}

/// Whether a needle is used in a making.
fn is_sewn(make: &Make) -> bool {
    let sewn = |step: &Step| matches!(step, Step::Sew { .. } | Step::Whip { .. } | Step::StitchDown { .. });
    make.steps.iter().any(sewn)
}

fn cautions(told: &mut Told, blocks: &mut Vec<Block>) {
    if !told.needle {
        told.needle = true;
        blocks.push(Block::Caution {
            word: "Needle and pins".into(),
            text: "Keep fingers clear of the needle, take pins out before it reaches them, and count them. Power off to change a needle.".into(),
        });
    }
    if !told.iron {
        told.iron = true;
        blocks.push(Block::Caution {
            word: "Iron".into(),
            text: "Plate and steam burn: keep the other hand away, mind the cord, unplug it when you leave. Press, do not slide.".into(),
        });
    }
}

/// The width and height the making checks; empty for a unit that is no rectangle on marks.
fn sizes(make: &Make, recipe: &Recipe) -> Vec<Size> {
    let again = told_again(make);
    let all = make
        .steps
        .iter()
        .enumerate()
        .filter(|(i, _)| !again.contains(i))
        .filter_map(|(_, s)| match s {
            Step::Check {
                what: Measured::Across(..),
                is,
                ..
            } => Some(*is),
            _ => None,
        });
    let mut sizes: Vec<Size> = all.collect();
    // Only a unit of four sides, measured in two directions, on marks, is as wide and as high as that.
    let angled = make.gives.iter().any(|give| give.sides.len() != 4);
    if angled || sizes.len() != 2 || sizes.iter().any(|s| s.len != judged(s.len, recipe.measure)) {
        sizes.clear();
    }
    sizes
}

/// A block's name as a heading; where it comes from the built-in collection that is no part of its name.
fn in_words(block: &str) -> String {
    capital(&block.strip_prefix("std/").unwrap_or(block).replace('-', " "))
}
