//! What the book is made from, gathered from the rooms; the command line gathers it here too.

use book::{ClothWords, ProofFigures, Source, Story};
use design::Design;
use drafting::Draft;
use measure::Length;
use rehearse::Proof;
use terms::Finding;

/// Gathers it. `objections` is what the rehearsal had to say when it proved nothing.
pub fn source(design: &Design, worked: &Draft, proof: Option<&Proof>, objections: &[Finding]) -> Source {
    let pattern = &worked.pattern;
    let mut findings = worked.findings.clone();
    findings.extend(objections.iter().filter(|o| !worked.findings.contains(o)).cloned());
    findings.sort_by_key(|finding| finding.severity);
    Source {
        pattern: pattern.clone(),
        scenes: rehearse::scenes(&pattern.recipe, &pattern.cutting),
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
    }
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
