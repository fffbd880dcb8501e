//! Sections sewn on foundation paper: the steps line by line, and the sheets to print.

use super::Desk;
use super::bench::Bench;
use super::shopping::heading;
use crate::model::{Block, Section, Text};
use crate::pictures::{Printed, laid_on_paper, opened, paper_pages};
use crate::plural::counted;
use crate::words::step_sentence;
use recipe::{AlongLine, Lay, Make, Slot, Step, Take};
use terms::Severity;

/// What a paper is called on its sheet and in the steps: the last part of its unit's name.
pub(super) fn letter(name: &str) -> &str {
    name.rsplit('/').next().unwrap_or(name)
}

/// One area's steps.
#[derive(Default)]
struct Area<'a> {
    pare: Option<&'a Step>,
    lay: Option<(usize, &'a Step, &'a AlongLine)>,
    sew: Option<(usize, &'a Step)>,
    open: Option<usize>,
}

impl Bench<'_> {
    /// Whether the making is a section on foundation paper.
    pub(super) fn is_on_paper(&self) -> bool {
        self.make.parts.iter().any(|p| matches!(p.take, Take::Paper(_)))
    }

    /// All steps of a section but its checks: the first two lines told in full, the rest in short.
    pub(super) fn on_paper(&self, blocks: &mut Vec<Block>) {
        let mut number = 0;
        let mut areas: Vec<Area> = Vec::new();
        for (i, step) in self.make.steps.iter().enumerate() {
            match step {
                Step::Spread { along, .. } => {
                    number += 1;
                    blocks.push(self.first_piece(i, step, along, number));
                }
                Step::Pare { .. } => areas.push(Area {
                    pare: Some(step),
                    ..Area::default()
                }),
                Step::Lay {
                    how: Lay::OverPaper { along, .. },
                    ..
                } => {
                    if let Some(area) = areas.last_mut() {
                        area.lay = Some((i, step, along));
                    }
                }
                Step::Sew { .. } => {
                    if let Some(area) = areas.last_mut() {
                        area.sew = Some((i, step));
                    }
                }
                Step::Open { .. } => {
                    if let Some(area) = areas.last_mut() {
                        area.open = Some(i);
                    }
                }
                _ => {}
            }
        }
        for (k, area) in areas.iter().enumerate() {
            number += 1;
            blocks.push(self.next_piece(k, area, number));
        }
        let cut_out = self
            .make
            .steps
            .iter()
            .enumerate()
            .find(|(_, s)| matches!(s, Step::CutOut { .. }));
        if let Some((i, step)) = cut_out {
            number += 1;
            let sizes: Vec<measure::Length> = self.sizes.iter().map(|s| s.len).collect();
            let picture = self.scenes.zip(self.pictures.as_ref()).and_then(|(scenes, pictures)| {
                opened(pictures, scenes.after.get(i)?, &[], &sizes, "The section cut out")
            });
            blocks.push(Block::Step {
                number: Some(number),
                sentences: vec![step_sentence(step, self.names, &self.desk.source.pattern.recipe)],
                pictures: picture.into_iter().map(|p| p.captioned("Cut out")).collect(),
                wide: self.long,
            });
        }
    }

    fn first_piece(&self, at: usize, step: &Step, along: &AlongLine, number: u32) -> Block {
        let recipe = &self.desk.source.pattern.recipe;
        let mut sentences = vec![step_sentence(step, self.names, recipe)];
        sentences.push(
            Text::of("All pieces are cut to cover their area and its seams with ")
                .size(along.margin)
                .say(" to spare all round: so far you may be off."),
        );
        let picture = self.scenes.zip(self.pictures.as_ref()).and_then(|(scenes, pictures)| {
            let view = scenes.after.get(at)?;
            let alt = "The first piece on the back of the paper";
            laid_on_paper(pictures, view, (0, true), along.beyond.len, alt)
        });
        let pictures = picture
            .into_iter()
            .map(|p| p.captioned("Seen from the back of the paper"))
            .collect();
        Block::Step {
            number: Some(number),
            sentences,
            pictures,
            wide: self.long,
        }
    }

    /// The piece of area `k + 2`, on line `k + 2` as they are printed.
    fn next_piece(&self, k: usize, area: &Area, number: u32) -> Block {
        let recipe = &self.desk.source.pattern.recipe;
        let mut sentences = Vec::new();
        let line = k + 2;
        let told_in_full = k < 2;
        let (laid, sewn) = (area.lay, area.sew);
        let name = laid.map_or("the piece", |(_, step, _)| self.names.name(upper(step)));
        let past = |text: Text| match area.pare {
            Some(Step::Pare { past, .. }) => text.size(*past),
            _ => text,
        };
        if told_in_full {
            sentences.extend(area.pare.map(|step| step_sentence(step, self.names, recipe)));
            if let Some((_, step, along)) = laid {
                sentences.push(step_sentence(step, self.names, recipe));
                sentences.push(
                    Text::of("At the line's ringed end let its corner lie ")
                        .size(along.beyond)
                        .say(" beyond."),
                );
            }
            sentences.extend(sewn.map(|(_, step)| step_sentence(step, self.names, recipe)));
            sentences.push(Text::of(format!(
                "Unfold the paper, turn {name} over onto area {line} and press."
            )));
        } else {
            let start = Text::of("Line ").strong(line.to_string()).say(": fold, trim ");
            let text = past(start).say(" past it, lay ").strong(name).say(" right side down");
            let text = match laid {
                Some((_, _, along)) => text.say(", ").size(along.beyond).say(" beyond the ringed end"),
                None => text,
            };
            let text = match sewn {
                Some((
                    _,
                    Step::Sew {
                        path: recipe::Path::OnPaper { beyond },
                        ..
                    },
                )) => text
                    .say("; sew on the line and ")
                    .size(*beyond)
                    .say(" beyond its ends; turn over and press."),
                _ => text.say(", sew, turn over and press."),
            };
            sentences.push(text);
        }
        let mut made = Vec::new();
        if let (Some(scenes), Some(pictures)) = (self.scenes, self.pictures.as_ref()) {
            let stack = sewn.and_then(|(i, _)| scenes.after.get(i));
            let alt = "The piece laid over its line, right side down, with its stitching";
            let picture = stack
                .zip(laid)
                .and_then(|(view, (_, _, along))| laid_on_paper(pictures, view, (k, false), along.beyond.len, alt));
            made.extend(picture.map(|p| p.captioned("Right sides together")));
            let view = area.open.and_then(|i| scenes.after.get(i)).filter(|_| told_in_full);
            let picture = view.and_then(|v| opened(pictures, v, &[], &[], "The piece turned over and pressed"));
            made.extend(picture.map(|p| p.captioned("Opened and pressed")));
        }
        Block::Step {
            number: Some(number),
            sentences,
            pictures: made,
            wide: self.long,
        }
    }
}

fn upper(step: &Step) -> Slot {
    match step {
        Step::Lay { b, .. } => *b,
        _ => Slot(0),
    }
}

/// The sheets to print, one section of the booklet each.
pub(super) fn papers(desk: &Desk) -> Vec<Section> {
    let pattern = &desk.source.pattern;
    let mut sections = Vec::new();
    for paper in &pattern.cutting.papers {
        let name = letter(&paper.name);
        let user = pattern
            .recipe
            .makes
            .iter()
            .find(|m| m.parts.iter().any(|p| p.take == Take::Paper(paper.name.clone())));
        let cloths = user.map_or_else(Vec::new, |make| cloths(make, desk));
        let printed = Printed { paper, name, cloths };
        let pages = paper_pages(&printed, desk.edition.paper);
        let whose = user.map_or_else(String::new, |make| block_of(desk, make));
        let title = format!("Foundation {name}{whose}");
        if pages.is_empty() {
            let text = format!(
                "Foundation {name} is too large to print on sheets of this size; make the block smaller, or pin another method."
            );
            sections.push(Section {
                name: "foundations".into(),
                blocks: vec![
                    heading(1, &title),
                    Block::Finding {
                        severity: Severity::Care,
                        text,
                    },
                ],
            });
        }
        let many = pages.len();
        for (i, page) in pages.into_iter().enumerate() {
            let title = if many > 1 {
                format!("{title}, sheet {} of {many}", i + 1)
            } else {
                title.clone()
            };
            let mut text = Text::of("Print ").strong(counted(u64::from(paper.print), "copy")).say(
                " at 100 %, not fitted to the page, and measure what stands below. Mirrored, since the cloth lies on the back. Sew on the numbered lines in order, cut on the dashes.",
            );
            if many > 1 {
                text = text.say(" Tape sheets together frame on frame, letter on letter.");
            }
            sections.push(Section {
                name: "foundations".into(),
                blocks: vec![heading(1, &title), Block::Paragraph(text), Block::TrueScale(page)],
            });
        }
    }
    sections
}

/// The block a making belongs to, to be put after its name.
fn block_of(desk: &Desk, make: &Make) -> String {
    let story = desk.source.story(&make.unit);
    let block = story.and_then(|s| s.block.clone());
    block.map_or_else(String::new, |name| {
        let words = name.strip_prefix("std/").unwrap_or(&name).replace('-', " ");
        format!(" of {words}")
    })
}

/// The cloths of a section's areas, in order.
fn cloths(make: &Make, desk: &Desk) -> Vec<String> {
    let recipe = &desk.source.pattern.recipe;
    let label = |slot: Slot| {
        let part = make.parts.iter().find(|p| p.slot == slot);
        let piece = match part.map(|p| &p.take) {
            Some(Take::Piece(piece)) => piece,
            _ => return String::new(),
        };
        let note = recipe.pieces.iter().find(|n| n.piece == *piece);
        note.map_or_else(String::new, |n| desk.source.label(&n.fabric).to_string())
    };
    let areas = make.steps.iter().filter_map(|step| match step {
        Step::Spread { piece, .. } => Some(label(*piece)),
        Step::Lay {
            b,
            how: Lay::OverPaper { .. },
            ..
        } => Some(label(*b)),
        _ => None,
    });
    areas.collect()
}
