//! The designer's words at one place of the pattern: read, changed, added, taken away; and the photograph of a block.

use super::app::{Moment, Opened};
use super::controls;
use super::shell::capital;
use crate::file::Wish;
use design::Design;
use maud::{Markup, html};
use serde::Deserialize;
use serde_json::json;
use std::sync::Arc;

/// Which place: as its mark on the living pages has it.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Spot {
    /// A block's or a unit's name; empty for the whole quilt.
    #[serde(default)]
    at: String,
    /// Steps of the unit, from 1, with commas between; empty for the block or unit itself.
    #[serde(default)]
    steps: String,
}

impl Spot {
    fn steps(&self) -> Vec<u32> {
        self.steps
            .split(',')
            .filter_map(|step| step.trim().parse().ok())
            .collect()
    }

    /// Whether words that name their place so stand here.
    fn holds(&self, at: &str) -> bool {
        let (name, step) = match at.split_once(" step ") {
            Some((name, step)) => (name.trim(), Some(step.trim())),
            None => (at.trim(), None),
        };
        let steps = self.steps();
        name == self.at
            && match step {
                None => steps.is_empty(),
                Some(step) => step.parse().is_ok_and(|step: u32| steps.contains(&step)),
            }
    }

    /// Where new words are put: below the last step that is told here.
    fn place(&self) -> String {
        match self.steps().last() {
            Some(step) => format!("{} step {step}", self.at),
            None => self.at.clone(),
        }
    }

    fn words(&self) -> String {
        if self.at.is_empty() {
            return "Your words for the whole quilt".into();
        }
        let name = match self.at.split_once('/') {
            Some((block, unit)) => format!("{}, unit {unit}", capital(block)),
            None => capital(&self.at),
        };
        match self.steps().as_slice() {
            [] => format!("Your words at {name}"),
            [step] => format!("Your words at {name}, step {step}"),
            [first, .., last] => format!("Your words at {name}, steps {first} to {last}"),
        }
    }
}

/// The controls of a place.
pub(super) fn words(opened: &Arc<Opened>, spot: &Spot) -> Markup {
    let moment = opened.moment();
    match &moment.design {
        Ok(design) => controls_of(opened, &moment, design, spot),
        Err(_) => html! { p.empty { "The file cannot be read at the moment; what is wrong stands below the cloth." } },
    }
}

fn controls_of(opened: &Arc<Opened>, moment: &Moment, design: &Design, spot: &Spot) -> Markup {
    let block = design
        .blocks
        .iter()
        .position(|block| block.name == spot.at && spot.steps.is_empty() && !block.name.contains('/'));
    let says: Vec<(usize, &design::Say)> = (design.says.iter().enumerate())
        .filter(|(_, say)| spot.holds(&say.at))
        .collect();
    html! {
        h2 { (spot.words()) }
        @if spot.at.is_empty() {
            (controls::words_of_quilt(&moment.text, design))
        } @else {
            @if let Some(index) = block { (controls::words_of_block(&moment.text, design, index)) }
            @for (index, say) in &says {
                label.control {
                    span { "Words" }
                    textarea data-at=(json!(["say", index, "text"]).to_string()) data-kind="text" rows="3"
                        data-empty=(taken(*index)) { (say.text) }
                }
            }
            label.control {
                span { @if says.is_empty() { "Words here" } @else { "More words here" } }
                textarea #new-words data-say=(spot.place()) rows="3" {}
            }
            @if let Some(block) = block.and_then(|index| design.blocks.get(index)) {
                (photo(opened, design, block))
            }
        }
        div.row { button type="button" data-close="" { "Done" } }
    }
}

fn taken(index: usize) -> String {
    let wish = Wish::Take {
        list: "say".into(),
        index,
    };
    serde_json::to_string(&wish).unwrap_or_default()
}

fn photo(opened: &Opened, design: &Design, block: &design::Block) -> Markup {
    let index = design.blocks.iter().position(|other| other.name == block.name);
    let away = json!({ "do": "set", "at": ["block", index, "photo"], "to": null });
    let shows = match block.photo_alt.trim() {
        "" => format!("Photograph of {}", capital(&block.name)),
        said => said.to_string(),
    };
    html! {
        fieldset.photograph { legend { "Photograph" }
            @if block.photo.is_empty() {
                p.soft { "None yet. It is kept beside the quilt's file and printed with the block." }
            } @else {
                // Another picture has another name, and so another address.
                img src=(format!("/quilts/{}/photo/{}?of={}", opened.name, block.name, url_safe(&block.photo))) alt=(shows);
            }
            label.control {
                span { @if block.photo.is_empty() { "Choose a picture (JPEG or PNG, at most 20 MB)" } @else { "Choose another" } }
                input #photo type="file" accept="image/jpeg,image/png" data-photo=(block.name);
            }
            @if !block.photo.is_empty() {
                @if let Some(index) = index {
                    label.control {
                        span { "What it shows, for those who cannot see it" }
                        input data-at=(json!(["block", index, "photo-alt"]).to_string()) data-kind="text" value=(block.photo_alt);
                    }
                }
                button type="button" data-wish=(away.to_string()) { "Take the photograph away" }
            }
        }
    }
}

fn url_safe(name: &str) -> String {
    name.chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_') {
                c
            } else {
                '_'
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_holds_the_words_of_its_own_steps() {
        let spot = Spot {
            at: "beacon/A".into(),
            steps: "3,4".into(),
        };
        assert!(spot.holds("beacon/A step 3") && spot.holds("beacon/A  step 4"));
        assert!(!spot.holds("beacon/A") && !spot.holds("beacon/A step 5") && !spot.holds("beacon step 3"));
        assert_eq!(spot.place(), "beacon/A step 4");
        let block = Spot {
            at: "beacon".into(),
            steps: String::new(),
        };
        assert!(block.holds("beacon") && !block.holds("beacon step 1") && !block.holds("beacon/A"));
        assert_eq!(block.words(), "Your words at Beacon");
    }
}
