//! Faults of the planar map: `gap`, `overlap`, `outside-block`, `weld-ambiguous`.

use crate::planar::Fault;
use crate::read::figure;
use terms::{Finding, Place};

/// What a shape of the map is.
pub(crate) enum Shape {
    /// A patch, by its number from 0.
    Patch(usize),
    /// A block, by its name.
    Block(String),
}

/// The faults of one drawing as findings. `shape` tells what each shape is.
pub(crate) fn tell(name: &str, faults: &[Fault], shape: &dyn Fn(usize) -> Shape) -> Vec<Finding> {
    let is_top = name == "top";
    let what = |face: usize| match shape(face) {
        Shape::Block(block) => format!("block {block}"),
        Shape::Patch(_) if is_top => "a strip or piece of ground".to_string(),
        Shape::Patch(patch) => format!("patch {}", patch + 1),
    };
    let place = |faces: &[usize], at| {
        let patch = |&f: &usize| match shape(f) {
            Shape::Patch(patch) if !is_top => Some(patch as u32),
            _ => None,
        };
        let patches = faces.iter().filter_map(patch).collect();
        Place::Block {
            name: name.to_string(),
            patches,
            at: Some(at),
        }
    };
    let whole = if is_top { "the layout" } else { "the block" };
    let spot = |at: shape::Point| format!("{} in across and {} in up", figure(at.x), figure(at.y));
    faults
        .iter()
        .map(|fault| match fault {
            Fault::Outside { face, by, at } => Finding::stop(
                "outside-block",
                place(&[*face], *at),
                capital(format!(
                    "{} reaches {} in beyond {whole}, at {}.",
                    what(*face),
                    figure(*by),
                    spot(*at)
                )),
                format!("Move that corner onto the outline, or make {whole} larger."),
            ),
            Fault::Collapse { face, at } => Finding::stop(
                "weld-ambiguous",
                place(&[*face], *at),
                capital(format!(
                    "{} has an edge or a neck under 1/256 in at {}; it cannot be told which corner is meant.",
                    what(*face),
                    spot(*at)
                )),
                "Draw the corner once, or the edge long enough to sew.",
            ),
            Fault::Overlap { faces, area, at } => {
                let share = match area {
                    Some(area) => format!("share {} square in", figure(*area)),
                    None => "lie on one another".to_string(),
                };
                Finding::stop(
                    "overlap",
                    place(&[faces.0, faces.1], *at),
                    capital(format!(
                        "{} and {} {share} at {}.",
                        what(faces.0),
                        what(faces.1),
                        spot(*at)
                    )),
                    "Move one of them, or cut the shared part from one.",
                )
            }
            Fault::Gap { area, at, around } => {
                let beside = match around.first() {
                    Some(&face) => format!(" beside {}", what(face)),
                    None => String::new(),
                };
                let size = if *area > 0.0 {
                    format!("{} square in of {whole} {} covered", figure(*area), "are not")
                } else {
                    format!("a part of {whole} is not covered")
                };
                Finding::stop(
                    "gap",
                    place(around.get(..2.min(around.len())).unwrap_or_default(), *at),
                    capital(format!("{size}, at {}{beside}.", spot(*at))),
                    "Draw a patch there, or bring the neighbours together.",
                )
            }
        })
        .collect()
}

fn capital(text: String) -> String {
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => text,
    }
}
