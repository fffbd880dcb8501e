//! Controls for what a role of cloth may be beyond one plain cloth: several cloths dealt out, a motif in the middle of each patch, a
//! picture of it; and lists of which each member is in or not.

use super::cloths::{Cloths, SHOWN};
use super::controls::{Desk, Kind, at, choices, set};
use crate::file::Step;
use design::Fabric;
use maud::{Markup, html};
use serde_json::{Value as Json, json};

/// The ways cloth is sold that the file knows, and words for them.
const SOLD: [(&str, &str); 5] = [
    ("bolt", "Off the bolt"),
    ("fat-quarter", "Fat quarters"),
    ("fat-eighth", "Fat eighths"),
    ("strips 2 1/2 in", "Strips of 2 ½ in"),
    ("squares 5 in", "Squares of 5 in"),
];

/// How the cloth is sold.
pub(super) fn sold(desk: &Desk, i: usize) -> Markup {
    let place = at!["fabric", i, "sold"];
    let now = desk.typed(&place).unwrap_or_default();
    let mut all: Vec<(&str, &str)> = SOLD.to_vec();
    if !now.is_empty() && !SOLD.iter().any(|(value, _)| *value == now) {
        all.push((&now, &now));
    }
    desk.control(place, "Sold as", choices(&all))
}

/// Several cloths that play this role together.
pub(super) fn scrappy(desk: &Desk, cloths: &Cloths, i: usize, fabric: &Fabric) -> Markup {
    let others: Vec<&Fabric> = desk
        .design
        .fabrics
        .iter()
        .filter(|other| other.name != fabric.name && other.scrappy.is_none())
        .collect();
    let place = at!["fabric", i, "scrappy"];
    let Some(scrappy) = &fabric.scrappy else {
        if others.len() < 2 {
            return html! {};
        }
        let first: Vec<&str> = others.iter().take(2).map(|f| f.name.as_str()).collect();
        return desk.press(
            "Let several cloths play this role",
            &set(place, json!({ "fabrics": first })),
        );
    };
    let list = at!["fabric", i, "scrappy", "fabrics"];
    html! {
        fieldset.several {
            legend { "Several cloths in this role" }
            @for other in others {
                @let words = html! { (super::swatch::chip(cloths, other)) " " (other.label) };
                (member(&list, other.name.as_str(), words, scrappy.fabrics.contains(&other.name)))
            }
            (desk.control(at!["fabric", i, "scrappy", "each"], "In one cloth", choices(&[("block", "All of it in a block"), ("patch", "Each patch by itself")])))
            (desk.control(at!["fabric", i, "scrappy", "seed"], "Deal them otherwise: a number", Kind::Number))
            (desk.press("One cloth again", &set(place, Json::Null)))
        }
    }
}

/// A motif in the middle of each patch.
pub(super) fn motif(desk: &Desk, i: usize, fabric: &Fabric) -> Markup {
    let place = at!["fabric", i, "motif"];
    if fabric.motif.is_none() {
        let every = json!({ "every": [desk.length("6 in", "15 cm"), desk.length("6 in", "15 cm")] });
        return desk.press("Put a motif in the middle of each patch", &set(place, every));
    }
    html! {
        fieldset {
            legend { "Motif in the middle of each patch" }
            (desk.control(at!["fabric", i, "motif", "every"], "Comes again: across × along", Kind::Lengths))
            (desk.control(at!["fabric", i, "motif", "across"], "Whole ones between the selvedges", Kind::Number))
            (desk.press("No motif", &set(place, Json::Null)))
        }
    }
}

/// A picture of the cloth, and how much of it the picture shows.
pub(super) fn picture(desk: &Desk, cloths: &Cloths, i: usize, fabric: &Fabric) -> Markup {
    let place = at!["fabric", i, "image"];
    let shown = format!(
        "{} {}",
        super::swatch::told(desk.design, SHOWN),
        super::swatch::unit(desk.design).0
    );
    html! {
        label.control.file {
            span { @if fabric.image.is_empty() { "A picture of it" } @else { "Another picture of it" } }
            input type="file" accept="image/png,image/jpeg" data-picture=(fabric.name.as_str())
                data-image=(serde_json::to_string(&place).unwrap_or_default());
        }
        @if !fabric.image.is_empty() {
            (desk.control(at!["fabric", i, "image-width"], &format!("The picture shows across ({shown} if not said)"), Kind::Length))
            @if !cloths.is_seen(fabric.name.as_str()) { p.soft { "The picture " (fabric.image) " is not beside the file, or cannot be read." } }
            (desk.press("Take the picture off", &set(place, Json::Null)))
        }
    }
}

/// A list of words of which each is in or not.
pub(super) fn members(desk: &Desk, place: Vec<Step>, words: &[(&str, &str)]) -> Markup {
    let now = desk.typed(&place).unwrap_or_default();
    let now: Vec<&str> = now.split(" × ").collect();
    html! {
        @for (value, word) in words { (member(&place, value, html! { (word) }, now.contains(value))) }
    }
}

fn member(place: &[Step], value: &str, words: Markup, within: bool) -> Markup {
    html! {
        label.control {
            span { (words) }
            input type="checkbox" data-at=(serde_json::to_string(place).unwrap_or_default()) data-kind="members" data-value=(value) checked[within];
        }
    }
}

/// A wide cloth that may be taken for the back.
pub(super) fn wide(desk: &Desk) -> Markup {
    let place = at!["finish", "backing", "wide"];
    if desk.design.finish.wide.is_none() {
        return desk.press(
            "A wide cloth may be taken",
            &set(place, json!({ "usable": desk.length("106 in", "270 cm") })),
        );
    }
    html! {
        (desk.control(at!["finish", "backing", "wide", "usable"], "Wide cloth: usable width", Kind::Length))
        (desk.control(at!["finish", "backing", "wide", "price"], "Its price of a yard or metre", Kind::Number))
        (desk.press("No wide cloth", &set(place, Json::Null)))
    }
}
