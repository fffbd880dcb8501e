//! What the book is made from, gathered from the rooms; the command line gathers it here too.

use crate::file::Photos;
use book::{ClothWords, FirstBlock, PartLine, PartWords, ProofFigures, SayWords, Source, Story};
use design::Design;
use drafting::{Draft, PartDraft, Parts, Spot};
use measure::Length;
use recipe::Make;
use rehearse::{Proof, UnitScenes};
use std::sync::Arc;
use terms::Finding;

/// Gathers it. `objections` is what the rehearsal had to say when it proved nothing.
pub fn source(
    design: &Design,
    worked: &Draft,
    proof: Option<&Proof>,
    objections: &[Finding],
    photos: &Photos,
) -> Source {
    let scenes = Arc::new(rehearse::scenes(&worked.pattern.recipe, &worked.pattern.cutting));
    source_with(design, worked, scenes, (proof, objections), photos)
}

/// The same with what the rehearsal was seen to do.
pub(super) fn source_with(
    design: &Design,
    worked: &Draft,
    scenes: Arc<Vec<UnitScenes>>,
    (proof, objections): (Option<&Proof>, &[Finding]),
    photos: &Photos,
) -> Source {
    let pattern = &worked.pattern;
    let mut findings = worked.findings.clone();
    findings.extend(objections.iter().filter(|o| !worked.findings.contains(o)).cloned());
    let (photos, faults) = photos.of_design(design);
    findings.extend(faults);
    let has_pages = |block: &str| worked.units.iter().any(|unit| unit.block.as_deref() == Some(block));
    let homeless = photos.iter().filter(|photo| !has_pages(&photo.block));
    findings.extend(homeless.map(|photo| without_place(&photo.block)));
    findings.sort_by_key(|finding| finding.severity);
    Source {
        pattern: pattern.clone(),
        scenes,
        picture: worked.picture.clone(),
        stories: stories(design, worked),
        findings,
        proof: proof.map(|proof| ProofFigures {
            seams: proof.seams,
            largest_difference: proof.largest_difference,
        }),
        finishing: worked.finishing.clone(),
        cloths: cloths(design),
        note: said(&design.quilt.note),
        says: says(worked),
        photos,
        part: None,
        parts: worked.parts(design).list.iter().map(line).collect(),
    }
}

/// A photograph that no page has room for.
fn without_place(block: &str) -> Finding {
    Finding::care(
        "photo-without-place",
        terms::Place::Block {
            name: block.to_string(),
            patches: Vec::new(),
            at: None,
        },
        "Nothing is made of this block by itself, so its photograph is not printed.",
        "Give the photograph to a block that has pages of its own.",
    )
}

/// What the book of one part is made from, `whole` being what that of the whole is made from.
pub fn source_of_part(whole: &Source, parts: &Parts, number: usize) -> Option<Source> {
    let part = parts.list.get(number.checked_sub(1)?)?;
    let mut pattern = part.pattern.clone();
    // Units of earlier parts keep their names; nothing is done to them here.
    let mut makes: Vec<Make> = Vec::new();
    for make in &whole.pattern.recipe.makes {
        let own = pattern.recipe.makes.iter().find(|own| own.unit == make.unit);
        makes.push(own.cloned().unwrap_or_else(|| Make {
            times: 0,
            parts: Vec::new(),
            steps: Vec::new(),
            spare: 0,
            ..make.clone()
        }));
    }
    pattern.recipe.makes = makes;
    let first = part.first.iter().map(|first| FirstBlock {
        block: first.block.clone(),
        pieces: first.demands.clone(),
        cloth: first.bought.cloths.clone(),
    });
    Some(Source {
        pattern,
        finishing: part.finishing.clone(),
        part: Some(PartWords {
            number,
            of: parts.list.len(),
            line: line(part),
            from_before: part.from_before.clone(),
            kept: part.kept.clone(),
            cut_before: part.cut_before.clone(),
            cut_ahead: part.cut_ahead.clone(),
            first: first.collect(),
        }),
        ..whole.clone()
    })
}

fn line(part: &PartDraft) -> PartLine {
    PartLine {
        name: part.name.clone(),
        date: part.date.clone(),
        blocks: part.blocks.clone(),
        sews_the_top: part.sews_the_top,
        finishes: part.finishes,
        cut_ahead: part.cut_ahead.iter().map(|(_, count)| count).sum(),
        cloth: part.pattern.bought.cloths.clone(),
    }
}

fn says(worked: &Draft) -> Vec<SayWords> {
    worked
        .says
        .iter()
        .map(|say| {
            let (at, step) = match &say.spot {
                Spot::Block(name) => (name.clone(), None),
                Spot::Unit(unit) => (unit.0.clone(), None),
                Spot::Step(step) => (step.unit.0.clone(), Some(step.step)),
            };
            SayWords {
                at,
                step,
                text: say.text.clone(),
            }
        })
        .collect()
}

fn stories(design: &Design, worked: &Draft) -> Vec<Story> {
    worked
        .units
        .iter()
        .map(|unit| {
            let block = unit.block.as_deref().and_then(|name| design.block(name));
            Story {
                unit: unit.unit.clone(),
                block: unit.block.clone(),
                method: unit.method.to_string(),
                note: block.and_then(|block| said(&block.note)),
                tip: block.and_then(|block| said(&block.tip)),
                quilting: block.and_then(|block| said(&block.quilting)),
            }
        })
        .collect()
}

fn cloths(design: &Design) -> Vec<ClothWords> {
    design
        .fabrics
        .iter()
        .filter_map(|fabric| {
            Some(ClothWords {
                fabric: fabric.name.clone(),
                width: Length::nearest(fabric.width)?,
                step: Length::nearest(fabric.step)?,
                price: fabric.price,
            })
        })
        .collect()
}

/// A free text, when something was said.
fn said(text: &str) -> Option<String> {
    (!text.trim().is_empty()).then(|| text.to_string())
}
