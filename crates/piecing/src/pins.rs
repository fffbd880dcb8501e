//! Pinned methods that could not be followed.

use crate::class::{ClassId, Classes};
use crate::emit::UnitStory;
use crate::methods::{self, foundation};
use crate::mosaic;
use crate::on_paper;
use crate::plan::Plan;
use crate::tokens::{BlockTokens, Content};
use std::collections::BTreeMap;
use std::rc::Rc;
use terms::{Finding, Place};

/// A finding for each block whose pinned method is unknown, or fits none of its units.
pub fn pin_findings(
    blocks: &[BlockTokens],
    stories: &[UnitStory],
    not_over_card: &BTreeMap<(usize, Vec<usize>), String>,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (home, block) in blocks.iter().enumerate().filter(|(_, b)| !b.replaced) {
        let Some(pin) = &block.method else { continue };
        let place = Place::Block {
            name: block.name.clone(),
            patches: Vec::new(),
            at: None,
        };
        let names = methods::names();
        let known = names.contains(&pin.as_str());
        if !known {
            findings.push(Finding::stop(
                "unknown-method",
                place,
                format!("There is no method called \"{pin}\"."),
                format!("Pin one of: {}.", names.join(", ")),
            ));
        } else if let Some((_, why)) = not_over_card
            .iter()
            .filter(|((of, _), _)| pin == mosaic::NAME && *of == home)
            .max_by_key(|((_, faces), _)| faces.len())
        {
            findings.push(Finding::care(
                "pin-does-not-fit",
                place,
                format!("This block cannot be pieced over card: {why}."),
                "Take the pin out, or redraw what stands in the way.",
            ));
        } else if pin != "template"
            && pin != "plain patches"
            && !stories
                .iter()
                .any(|s| s.block.as_ref() == Some(&block.name) && s.method == pin)
        {
            let why = if pin == foundation::NAME {
                format!(", since {}", on_paper::why_not(block))
            } else if let Some(fabric) = directed(block) {
                format!(" that would keep the print of fabric {fabric} as it must stand")
            } else {
                String::new()
            };
            findings.push(Finding::care(
                "pin-does-not-fit",
                place,
                format!("No unit of this block can be made by {pin}{why}, so it is pieced from plain patches."),
                "Take the pin out, or draw a unit that the method makes.",
            ));
        }
    }
    findings
}

/// A cloth of the block whose print must stand in one way.
fn directed(block: &BlockTokens) -> Option<&terms::FabricId> {
    block.tokens.iter().find_map(|token| match &token.content {
        Content::Patch {
            fabric, up: Some(_), ..
        } => Some(fabric),
        _ => None,
    })
}

/// A finding for each pin of single patches that could not be followed, with why.
pub fn unit_pin_findings(
    blocks: &[BlockTokens],
    classes: &Classes,
    kinds: &[Option<ClassId>],
    stories: &[UnitStory],
    sets: &BTreeMap<ClassId, Rc<Plan>>,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (home, block) in blocks.iter().enumerate().filter(|(_, b)| !b.replaced) {
        for pin in &block.pins {
            let numbers: Vec<String> = pin.patches.iter().map(|p| (p + 1).to_string()).collect();
            let numbers = numbers.join(", ");
            let place = Place::Block {
                name: block.name.clone(),
                patches: pin.patches.clone(),
                at: None,
            };
            let names = methods::names();
            if !pin.method.is_empty() && !names.contains(&pin.method.as_str()) {
                findings.push(Finding::stop(
                    "unknown-method",
                    place,
                    format!("There is no method called \"{}\".", pin.method),
                    format!("Pin one of: {}.", names.join(", ")),
                ));
                continue;
            }
            let here = |id: ClassId| {
                let class = classes.get(id);
                class.home == home && block.patches_of(&class.faces).as_ref() == Some(&pin.patches)
            };
            let made = kinds
                .iter()
                .zip(stories)
                .find_map(|(kind, story)| here((*kind)?).then_some(story.method));
            // Or cut from a set that stands under another unit's name.
            let from_set = || {
                sets.iter()
                    .find_map(|(id, plan)| here(*id).then(|| plan.making.method()))
            };
            let made = made.or_else(from_set);
            match made {
                None => findings.push(Finding::care(
                    "pin-does-not-fit",
                    place,
                    format!(
                        "Patches {numbers} cannot be sewn together before the others: no straight seam right across parts just them from the rest."
                    ),
                    "Take the pin out, or pin patches that together fill what one seam cuts off.",
                )),
                Some(method) if !pin.method.is_empty() && pin.method != method && pin.method != "template" => {
                    findings.push(Finding::care(
                        "pin-does-not-fit",
                        place,
                        format!("Patches {numbers} do not have the shape that {} makes, so they are made by {method}.", pin.method),
                        "Take the pin out, or pin patches whose sizes and angles the method makes.",
                    ));
                }
                Some(_) => {}
            }
        }
    }
    findings
}

/// A finding for each pinned way of pressing that no seam answers.
pub fn press_findings(blocks: &[BlockTokens], unfollowed: &[(usize, design::PressPin)]) -> Vec<Finding> {
    let one = |(home, pin): &(usize, design::PressPin)| {
        let (from, toward) = (pin.from + 1, pin.toward + 1);
        Finding::care(
            "pin-does-not-fit",
            Place::Block {
                name: blocks[*home].name.clone(),
                patches: vec![pin.from, pin.toward],
                at: None,
            },
            format!(
                "The seam between patches {from} and {toward} cannot be pressed toward {toward}: no seam that may go either way lies between just these two, or an earlier pin presses the same seam the other way."
            ),
            "Take the pin out, name two patches with a seam between them, or pin another method: some must press as they do.",
        )
    };
    unfollowed
        .iter()
        .filter(|(home, _)| !blocks[*home].replaced)
        .map(one)
        .collect()
}
