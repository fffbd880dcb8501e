//! One making in blocks: parts laid out, seams, rows told at once, like corners told once, trims, checks.

use super::Desk;
use super::group::{Group, Kind, alike, stacks_in_frame};
use crate::model::{Block, Picture, Text};
use crate::names::{Names, counted_unit, laid};
use crate::numbers::judged;
use crate::pictures::{Overhang, UnitPictures, exploded, finished_view, opened, stacked, trimmed};
use crate::plural::{counted, listed};
use crate::words::{between_sentence, cut_apart, is_level, press_sentence, step_sentence, trim_sentences};
use measure::{Length, Measure};
use recipe::{EdgeRef, End, Lay, Make, Measured, PointRef, Press, Size, Slot, Step, Take};
use rehearse::{UnitScenes, WorkView};

/// One making on the bench, with all that its blocks are made from.
pub(super) struct Bench<'a> {
    pub make: &'a Make,
    pub names: &'a Names,
    pub scenes: Option<&'a UnitScenes>,
    pub pictures: Option<UnitPictures<'a>>,
    pub sizes: &'a [Size],
    pub wide: f64,
    /// Pictures take the page's width.
    pub long: bool,
    pub desk: &'a Desk<'a>,
}

impl Bench<'_> {
    /// What is laid out before the first seam.
    pub(super) fn parts(&self, row: bool, blocks: &mut Vec<Block>) {
        let mut counts: Vec<(String, bool, u64)> = Vec::new();
        for part in &self.make.parts {
            let whole = matches!(part.take, Take::Unit(_));
            let name = match &part.take {
                Take::Piece(piece) => {
                    let note = self
                        .desk
                        .source
                        .pattern
                        .recipe
                        .pieces
                        .iter()
                        .find(|p| &p.piece == piece);
                    match note {
                        Some(note) => format!("{piece} ({})", self.desk.source.label(&note.fabric)),
                        None => piece.0.clone(),
                    }
                }
                Take::Unit(_) => self.names.name(part.slot).to_string(),
                Take::Paper(name) => format!("printed paper {}", super::paper::letter(name)),
            };
            match counts.iter_mut().find(|(n, ..)| *n == name) {
                Some(entry) => entry.2 += 1,
                None => counts.push((name, whole, 1)),
            }
        }
        let told: Vec<String> = counts
            .iter()
            .map(|(n, whole, c)| {
                if *whole {
                    counted_unit(*c, n)
                } else {
                    format!("{c} {n}")
                }
            })
            .collect();
        let order = if row { ", in this order" } else { "" };
        let each = if self.make.times > 1 { " for each" } else { "" };
        let sentence = if told.is_empty() {
            return;
        } else {
            Text::of("Lay out ").say(listed(&told)).say(format!("{each}{order}."))
        };
        let code = |slot: Slot| self.names.code(slot).map(str::to_string);
        let many = self.long || self.make.parts.len() > 6;
        let width = if many { self.wide } else { self.wide * 0.54 - 4.0 };
        let picture = self
            .scenes
            .zip(self.pictures.as_ref())
            // A row of dozens of patches would be too small to see.
            .filter(|_| !(self.is_on_paper() || self.is_over_card() && self.make.parts.len() > 12))
            .and_then(|(scenes, pictures)| {
                exploded(pictures, scenes, &code, width, &format!("The parts: {}", listed(&told)))
            });
        blocks.push(Block::Step {
            number: None,
            sentences: vec![sentence],
            pictures: picture.into_iter().map(|p| p.captioned("Right side up")).collect(),
            wide: many,
        });
    }

    /// A whole row at once.
    pub(super) fn row(&self, blocks: &mut Vec<Block>) {
        let seam = self.desk.source.pattern.recipe.seam;
        let mut sentences = vec![
            Text::of("Sew them one to the next, right sides together, edges even, ")
                .size(seam)
                .say(" from the edge."),
        ];
        let mut overhang: Vec<Length> = Vec::new();
        let mut meets = 0;
        for step in &self.make.steps {
            if let Some((
                _,
                _,
                Lay::Edges {
                    first,
                    last,
                    meets: pins,
                    ..
                },
            )) = laid(step)
            {
                overhang.extend([first, last].into_iter().filter_map(ahead));
                meets += pins.len();
            }
        }
        overhang.sort();
        overhang.dedup();
        if let Some(most) = overhang.last() {
            let text = Text::of("At slanted ends let one corner run over by about ").size(Size::bare(*most));
            sentences.push(text.say(": the two end edges cross on the stitch line."));
        }
        if meets > 0 {
            sentences.push(
                Text::of("Pin wherever seams meet: ")
                    .strong(counted(meets as u64, "place"))
                    .say("."),
            );
        }
        sentences.push(Text::of("Press the seams as the arrows show."));
        let frames = stacks_in_frame(self.make);
        let pressing: Vec<(&WorkView, Press)> = frames.iter().filter_map(|slot| self.pressing(*slot)).collect();
        let sizes: Vec<Length> = self.sizes.iter().map(|s| s.len).collect();
        let picture = self.scenes.zip(self.pictures.as_ref()).and_then(|(scenes, pictures)| {
            opened(
                pictures,
                finished_view(scenes)?,
                &pressing,
                &sizes,
                "The row, sewn and pressed",
            )
        });
        let pictures = picture.into_iter().map(|p| p.captioned("Sewn and pressed")).collect();
        blocks.push(Block::Step {
            number: Some(1),
            sentences,
            pictures,
            wide: self.long,
        });
    }

    /// The first group and those after it that are told in the same words, measures between them passed over; each
    /// with how many groups on it stands.
    pub(super) fn alike<'g>(&self, groups: &'g [Group]) -> Vec<(usize, &'g Group)> {
        let mut found: Vec<(usize, &Group)> = Vec::new();
        let told = |group: &Group| -> Vec<String> {
            let recipe = &self.desk.source.pattern.recipe;
            let steps = || group.steps.iter().filter_map(|&i| self.make.steps.get(i));
            let lower = steps().find_map(laid).map(|(a, _, _)| self.names.name(a).to_string());
            steps()
                .map(|s| step_sentence(s, self.names, recipe).plain(recipe.measure))
                .map(|s| lower.as_ref().map_or(s.clone(), |name| s.replace(name.as_str(), "it")))
                .collect()
        };
        for (i, group) in groups.iter().enumerate() {
            match group.kind {
                Kind::Seam if found.first().is_none_or(|f| told(f.1) == told(group)) => found.push((i, group)),
                Kind::Check if self.is_between(group) => {}
                _ => break,
            }
        }
        found
    }

    /// Whether a check only measures from place to place, on the way.
    pub(super) fn is_between(&self, group: &Group) -> bool {
        group.steps.iter().all(|&i| {
            matches!(
                self.make.steps.get(i),
                Some(Step::Check {
                    what: Measured::Between(..),
                    ..
                })
            )
        })
    }

    /// The last of several like groups, as picture only.
    pub(super) fn same_again(&self, alike: &[(usize, &Group)], number: u32) -> Block {
        let more = alike.len() as u64 - 1;
        let sentence = Text::of("Do the same ")
            .strong(format!("{more} more times"))
            .say(", as the picture shows.");
        // Of a seam that turns its last leg, opened, shows them all.
        let last = alike.last().and_then(|(_, group)| self.seam(group, number).pop());
        let pictures = match last {
            Some(Block::Step { pictures, .. }) => pictures,
            _ => Vec::new(),
        };
        Block::Step {
            number: Some(number),
            sentences: vec![sentence],
            pictures,
            wide: self.long,
        }
    }

    /// The view of a stack with its stitching, and how it is pressed.
    fn pressing(&self, stack: Slot) -> Option<(&WorkView, Press)> {
        let press = self.make.steps.iter().find_map(|s| match s {
            Step::Open { stack: of, press, .. } if *of == stack => Some(*press),
            _ => None,
        })?;
        Some((self.sewn_view(stack)?, press))
    }

    /// The view after the stack (or the stack it was cut from) was sewn.
    fn sewn_view(&self, stack: Slot) -> Option<&WorkView> {
        let scenes = self.scenes?;
        let origin = self
            .make
            .steps
            .iter()
            .find_map(|s| match s {
                Step::CutApart { stack: of, keep, .. } if keep.iter().any(|k| k.into == stack) => Some(*of),
                _ => None,
            })
            .unwrap_or(stack);
        let at = self
            .make
            .steps
            .iter()
            .rposition(|s| matches!(s, Step::Sew { stack: of, .. } if *of == origin))?;
        scenes.after.get(at)
    }

    /// A seam as one step; one that turns round dots goes on leg after leg, each with its picture beside it.
    pub(super) fn seam(&self, group: &Group, number: u32) -> Vec<Block> {
        let recipe = &self.desk.source.pattern.recipe;
        let steps: Vec<(usize, &Step)> = group
            .steps
            .iter()
            .filter_map(|&i| Some((i, self.make.steps.get(i)?)))
            .collect();
        let layers = steps.iter().find_map(|(_, s)| laid(s));
        let opens: Vec<&Step> = steps
            .iter()
            .map(|s| s.1)
            .filter(|s| matches!(s, Step::Open { .. }))
            .collect();
        let mut sentences = Vec::new();
        let mut open_told = false;
        let alike = alike(self.make);
        let as_many = |i: usize| alike.iter().filter(|&&k| k == i).count() as u64;
        // What is laid anew for the other half is told of one half, and that the other is done the same.
        let lays = steps.iter().filter(|(_, s)| matches!(s, Step::Lay { .. }));
        let halves = lays.map(|(i, _)| as_many(*i)).max().unwrap_or(1).max(1);
        let mut dots: Vec<(Text, u64)> = Vec::new();
        let mut turns: Vec<usize> = Vec::new();
        for (i, step) in &steps {
            if matches!(step, Step::Pivot { .. }) {
                turns.push(sentences.len());
            }
            if let Step::Dot { on, at, .. } = step {
                let text = self
                    .dot_in_a_rectangle(*on, at)
                    .unwrap_or_else(|| step_sentence(step, self.names, recipe));
                match dots.iter_mut().find(|(t, _)| *t == text) {
                    Some(entry) => entry.1 += 1,
                    None => dots.push((text, 1)),
                }
                continue;
            }
            for (text, count) in dots.drain(..) {
                let more = if count > 1 {
                    format!(" There are {}.", counted(count, "such place"))
                } else {
                    String::new()
                };
                sentences.push(text.say(more));
            }
            match (step, layers) {
                (Step::Open { press, .. }, Some((a, b, _))) => {
                    if !open_told {
                        let (upper, lower) = (self.names.name(b), self.names.name(a));
                        sentences.push(press_sentence(
                            *press,
                            lower,
                            upper,
                            (as_many(*i) / halves).max(opens.len() as u64),
                        ));
                    }
                    open_told = true;
                }
                // Both diagonals of a square, drawn and sewn alike.
                (Step::Mark { .. } | Step::Sew { .. }, _) => {
                    let text = step_sentence(step, self.names, recipe);
                    let more = match step {
                        Step::Mark { .. } => " Then the other way across.",
                        _ => " Do so with both lines.",
                    };
                    match sentences.last_mut() {
                        Some(last) if *last == text => *last = text.say(more),
                        _ => sentences.push(text),
                    }
                }
                (Step::CutApart { line, keep, .. }, _) => {
                    let text = cut_apart(line, keep.len(), (as_many(*i) / halves).max(1));
                    match sentences.last_mut() {
                        Some(last) if is_level(line) && *last == text => *last = text.say(" Do so at both ends."),
                        _ => sentences.push(text),
                    }
                }
                _ => sentences.push(step_sentence(step, self.names, recipe)),
            }
        }
        if halves > 1 {
            sentences.push(Text::of("Do the same with the other half."));
        }
        let mut pictures = self.seam_pictures(&steps, layers);
        if pictures.len() < turns.len() {
            turns.clear();
        }
        let mut later = Vec::new();
        for &turn in turns.iter().rev() {
            later.push(Block::Step {
                number: None,
                sentences: sentences.split_off(turn),
                pictures: pictures.split_off(turns.len() - later.len()),
                wide: self.long,
            });
        }
        let first = Block::Step {
            number: Some(number),
            sentences,
            pictures,
            wide: self.long,
        };
        std::iter::once(first).chain(later.into_iter().rev()).collect()
    }

    /// A dot so far in from the long edge of a rectangle and so far from the short one.
    fn dot_in_a_rectangle(&self, on: Slot, at: &PointRef) -> Option<Text> {
        let PointRef::FromEdges { a, a_by, b, b_by } = at else {
            return None;
        };
        let part = self.scenes?.parts.iter().find(|part| part.slot == on)?;
        let long = |edge: &EdgeRef| {
            let mut edges = part.layers.iter().flat_map(|l| &l.pieces).flat_map(|p| &p.edges);
            let (_, segment) = edges.find(|(e, _)| e == edge)?;
            Some(segment.from.distance(segment.to))
        };
        let (long_a, long_b) = (long(a)?, long(b)?);
        if a_by.len == b_by.len || (long_a - long_b).abs() < 1.0e-6 {
            return None;
        }
        let which = |longer: bool| if longer { "long" } else { "short" };
        Some(
            Text::of(format!("On the wrong side of {} dot the place ", self.names.name(on)))
                .bare(*a_by)
                .say(format!(" in from the {} edge and ", which(long_a > long_b)))
                .bare(*b_by)
                .say(format!(
                    " in from the {} one. The stack shows at which corners.",
                    which(long_b > long_a)
                )),
        )
    }

    fn seam_pictures(&self, steps: &[(usize, &Step)], layers: Option<(Slot, Slot, &Lay)>) -> Vec<Picture> {
        let (Some(scenes), Some(pictures)) = (self.scenes, self.pictures.as_ref()) else {
            return Vec::new();
        };
        let after = |i: usize| scenes.after.get(i);
        let mut made = Vec::new();
        let stack = steps
            .iter()
            .rev()
            .find(|(_, s)| matches!(s, Step::Sew { .. }))
            .or_else(|| steps.iter().find(|(_, s)| matches!(s, Step::Lay { .. })));
        // What is cut alike later lies in the same stack, unless that was laid anew for the other half.
        let alike = alike(self.make);
        let anew = steps
            .iter()
            .any(|(i, s)| matches!(s, Step::Lay { .. }) && alike.iter().filter(|&k| k == i).count() > 1);
        let here = |i: usize| steps.iter().any(|(k, s)| *k == i && matches!(s, Step::CutApart { .. }));
        let cuts: Vec<_> = (0..alike.len())
            .filter(|&i| here(i) || !anew && here(alike[i]))
            .filter_map(after)
            .flat_map(|v| v.cuts.iter().copied())
            .collect();
        // A seam that turns is pictured along each of its edges.
        let turned = steps.iter().any(|(_, s)| matches!(s, Step::Pivot { .. }));
        let last = stack.map(|(i, _)| *i);
        let shown = (steps.iter())
            .filter(|(_, s)| turned && matches!(s, Step::Sew { .. }))
            .map(|(i, _)| *i)
            .filter(|i| Some(*i) != last)
            .chain(last);
        for view in shown.filter_map(after) {
            let overhangs = overhangs(layers, self.desk.edition.measure);
            let picture = stacked(
                pictures,
                view,
                &cuts,
                &overhangs,
                "The stack, right sides together, with its stitching",
            );
            made.extend(picture.map(|p| p.captioned("Right sides together")));
        }
        let open = steps.iter().rev().find_map(|(i, s)| match s {
            Step::Open { stack, press, .. } => Some((*i, *stack, *press)),
            _ => None,
        });
        if let Some((i, stack, press)) = open {
            let last = self.make.steps[i..]
                .iter()
                .all(|s| !matches!(s, Step::Lay { .. } | Step::Trim { .. }));
            let sizes: Vec<Length> = if last {
                self.sizes.iter().map(|s| s.len).collect()
            } else {
                Vec::new()
            };
            let pressing: Vec<_> = self.sewn_view(stack).map(|v| (v, press)).into_iter().collect();
            let picture = after(i).and_then(|v| opened(pictures, v, &pressing, &sizes, "The work opened and pressed"));
            made.extend(picture.map(|p| p.captioned("Opened and pressed")));
        }
        let closed = steps.iter().rev().find(|(_, s)| matches!(s, Step::Close { .. }));
        if let Some(view) = closed.and_then(|(i, _)| after(*i)) {
            let picture = opened(pictures, view, &[], &[], "The work with its partial seam closed");
            made.extend(picture.map(|p| p.captioned("Closed")));
        }
        made
    }

    /// Whether the making ends in lengths cut from a strip set.
    fn is_strip_set(&self) -> bool {
        self.make.steps.iter().any(|s| matches!(s, Step::SubCut { .. }))
    }

    pub(super) fn trim(&self, group: &Group, number: u32) -> Block {
        let recipe = &self.desk.source.pattern.recipe;
        let mut sentences: Vec<Text> = Vec::new();
        let mut made = Vec::new();
        // Lines drawn alike, one for each side that is trimmed.
        let mut drawn: Option<(Text, u32)> = None;
        for &i in &group.steps {
            let Some(step) = self.make.steps.get(i) else { continue };
            if let Step::Mark { .. } = step {
                let text = step_sentence(step, self.names, recipe);
                match &mut drawn {
                    Some((told, count)) if *told == text => *count += 1,
                    _ => {
                        sentences.extend(drawn.take().map(on_each_side));
                        drawn = Some((text, 1));
                    }
                }
                continue;
            }
            sentences.extend(drawn.take().map(on_each_side));
            match step {
                Step::Trim { lines, .. } => {
                    sentences.push(Text::of(if self.make.gives.len() > 1 {
                        "Trim each unit."
                    } else {
                        "Trim."
                    }));
                    sentences.extend(trim_sentences(lines, recipe.mark, self.desk.edition.measure));
                }
                _ => sentences.push(step_sentence(step, self.names, recipe)),
            }
            let (shaves, alt, caption): (Vec<Length>, _, _) = match step {
                Step::Trim { lines, .. } => (lines.iter().map(|l| l.shave.len).collect(), "Where to trim", "Trim"),
                Step::SubCut { .. } => (Vec::new(), "Where to cut the strip set", "Cut into lengths"),
                _ => continue,
            };
            if let (Some(scenes), Some(pictures)) = (self.scenes, self.pictures.as_ref()) {
                let picture = scenes.after.get(i).and_then(|v| trimmed(pictures, v, &shaves, alt));
                made.extend(picture.map(|p| p.captioned(caption)));
            }
        }
        sentences.extend(drawn.map(on_each_side));
        Block::Step {
            number: Some(number),
            sentences,
            pictures: made,
            wide: self.long,
        }
    }

    pub(super) fn check(&self, group: &Group) -> Block {
        let recipe = &self.desk.source.pattern.recipe;
        let cut = |of: &Slot| {
            let part = self.make.parts.iter().find(|part| part.slot == *of)?;
            let Take::Piece(piece) = &part.take else { return None };
            recipe.pieces.iter().find(|note| &note.piece == piece)
        };
        let measure = self.desk.edition.measure;
        let seen = |text: Text, size: Size| {
            let near = judged(size.len, measure);
            let text = if near == size.len { text } else { text.say("about ") };
            text.size(Size { len: near, ..size })
        };
        // A triangle, or a strip with slanted ends, is measured as it was cut before anything is sewn to it.
        let mut as_cut: Vec<Text> = Vec::new();
        let mut checks: Vec<(&Measured, Size)> = Vec::new();
        for &i in &group.steps {
            match self.make.steps.get(i) {
                Some(Step::Check {
                    of,
                    what: Measured::Between(..),
                    is,
                }) if let Some(note) = cut(of) => {
                    let side = if note.label == "half of a square" {
                        "Measure a short side of "
                    } else {
                        "Measure the shorter long edge of "
                    };
                    let text = Text::of(side).strong(self.names.name(*of));
                    let text = seen(text.say(", from corner to corner: "), *is).say(".");
                    if !as_cut.iter().any(|told| told.plain(measure) == text.plain(measure)) {
                        as_cut.push(text);
                    }
                }
                Some(Step::Check { what, is, .. }) => checks.push((what, *is)),
                _ => {}
            }
        }
        if checks.is_empty() {
            return Block::Check(as_cut);
        }
        let what = if self.make.gives.is_empty() {
            "The top"
        } else if self.is_strip_set() {
            // After the cuts across it is a length that is measured.
            let cut = self.make.steps.iter().position(|s| matches!(s, Step::SubCut { .. }));
            let after = group.steps.first().zip(cut).is_some_and(|(&step, cut)| step > cut);
            if after { "Each length" } else { "The strip set" }
        } else {
            "The unit"
        };
        let across: Vec<Size> = checks
            .iter()
            .filter(|(w, _)| matches!(w, Measured::Across(..)))
            .map(|c| c.1)
            .collect();
        let mut sentences = match across.as_slice() {
            [one, other] if !self.sizes.is_empty() => {
                vec![Text::of(format!("{what} measures ")).by(*one, *other).say(".")]
            }
            many => {
                // Round a unit with many sides the same size comes again and again: it is told once.
                let mut sizes: Vec<(Size, u64)> = Vec::new();
                for &size in many {
                    match sizes.iter_mut().find(|(told, _)| told.len == size.len) {
                        Some((_, count)) => *count += 1,
                        None => sizes.push((size, 1)),
                    }
                }
                let sentence = |&(size, count): &(Size, u64)| {
                    let text = seen(Text::of(format!("{what} measures ")), size);
                    match count {
                        1 => text.say(" across."),
                        _ => text.say(format!(" across, in {}.", counted(count, "place"))),
                    }
                };
                sizes.iter().map(sentence).collect()
            }
        };
        for (what, is) in &checks {
            if let Measured::Between(from, to) = what {
                // What has parallel sides is a strip with slanted ends; else it is a triangle or a kite.
                let edge = if across.is_empty() {
                    "the longest edge"
                } else {
                    "its shorter long edge"
                };
                sentences.push(between_sentence((from, to), edge, *is, judged(is.len, measure)));
            }
        }
        sentences.splice(0..0, as_cut);
        sentences.push(Text::of(
            "Smaller: the seams are too wide. Larger: they are too narrow, or not pressed flat.",
        ));
        Block::Check(sentences)
    }
}

/// A line drawn on so many sides.
fn on_each_side((text, count): (Text, u32)) -> Text {
    match count {
        1 => text,
        2 => text.say(" Do so on both such sides."),
        n => text.say(format!(" Do so on all {n} sides.")),
    }
}

/// How far one corner runs over the other at an end.
fn ahead(end: &End) -> Option<Length> {
    match end {
        End::Notch { about, .. } => Some(about.len),
        End::Overhang { by, .. } => Some(by.len),
        _ => None,
    }
}

fn overhangs(layers: Option<(Slot, Slot, &Lay)>, measure: Measure) -> Vec<Overhang> {
    let Some((_, _, Lay::Edges { first, last, .. })) = layers else {
        return Vec::new();
    };
    let checked =
        |end: &End, other: &End| matches!(end, End::Overhang { .. }) && !matches!(other, End::Overhang { .. });
    [(first, last, true), (last, first, false)]
        .into_iter()
        .filter_map(|(end, other, at_start)| {
            let by = ahead(end)?;
            // Where it only checks, it may be either layer's corner, and a hand can judge it so far.
            let by = if checked(end, other) {
                judged(by.abs(), measure)
            } else {
                by
            };
            (by.units() > 0).then_some(Overhang { at_start, by })
        })
        .collect()
}
