//! Pins of a block: what the designer settles about its making. Patches are chosen by pressing on them, in order.

use super::controls::Desk;
use crate::file::Wish;
use design::Block;
use maud::{Markup, html};
use toml_edit::{Item, TableLike, Value};

/// The methods a block or some of its patches may be made by, as the file names them.
pub(super) const METHODS: [&str; 18] = [
    "plain patches",
    "half-square pairs",
    "half-squares by eights",
    "half-squares by fours",
    "geese by fours",
    "half-rectangle pairs",
    "hourglass pairs",
    "sew-and-flip corners",
    "goose by sew-and-flip",
    "square in a square by triangles",
    "strip sets",
    "angled strip sets",
    "angled strips",
    "log cabin rounds",
    "log cabin rounds, trimmed",
    "over card",
    "foundation",
    "template",
];

/// What is pinned, and what to do with the patches chosen.
pub(super) fn pins(desk: &Desk, block: &Block, index: usize) -> Markup {
    let pins = pins_of(desk, index);
    html! {
        details.typed #pins {
            summary { "Pins (" (pins.len()) ")" }
            p.soft { "Take “Pin” above and press on patches, one after another; then say here what is pinned of them." }
            p { "Patches chosen: " b #picked { "none" } }
            div.row {
                label.control { span { "Made by" }
                    select #pin-method {
                        option value="" { "Whatever is best" }
                        @for method in METHODS { option value=(method) { (capital(method)) } }
                    }
                }
                button type="button" data-pin="together" { "Sew these together first" }
                button type="button" data-pin="first" { "Sew their seam first" }
                button type="button" data-pin="press" { "Press from the first toward the second" }
                button type="button" data-pin="" { "Let go" }
            }
            div.row {
                label.control { span { "Their straight grain" }
                    select #grain data-index=(index) {
                        option value="" { "As the cloth lies best" }
                        option value="x" { "Across the block" }
                        option value="y" { "Down the block" }
                    }
                }
                button type="button" data-grain="" { "Lay their grain so" }
            }
            @if !pins.is_empty() {
                ol.pin-list {
                    @for (i, words) in pins.iter().enumerate() {
                        li {
                            span { (words.0) }
                            button type="button" data-light=(words.1) { "Show" }
                            (desk.press("Take away", &Wish::Unpin { block: block.name.clone(), index: i }))
                        }
                    }
                }
            }
        }
    }
}

/// Each pin in words, and its patches, from 0, to be shown.
fn pins_of(desk: &Desk, index: usize) -> Vec<(String, String)> {
    let Some(pins) = desk
        .document
        .get("block")
        .and_then(|blocks| blocks.get(index))
        .and_then(|block| block.get("pin"))
    else {
        return Vec::new();
    };
    match pins {
        Item::ArrayOfTables(list) => list.iter().map(|pin| words(pin)).collect(),
        Item::Value(Value::Array(list)) => list
            .iter()
            .filter_map(|v| v.as_inline_table().map(|pin| words(pin)))
            .collect(),
        _ => Vec::new(),
    }
}

fn words(pin: &dyn TableLike) -> (String, String) {
    let numbers = |key: &str| -> Vec<i64> {
        pin.get(key)
            .and_then(Item::as_array)
            .map_or(Vec::new(), |list| list.iter().filter_map(Value::as_integer).collect())
    };
    let mut said = Vec::new();
    let mut all = Vec::new();
    let together = numbers("patches");
    if !together.is_empty() {
        let method = pin.get("method").and_then(Item::as_str).unwrap_or_default();
        let by = if method.is_empty() {
            String::new()
        } else {
            format!(", by {method}")
        };
        said.push(format!("Patches {} are sewn together first{by}.", listed(&together)));
    }
    let first = numbers("first");
    if let [a, b] = first[..] {
        said.push(format!("The seam between {a} and {b} is sewn first."));
    }
    let press = numbers("press");
    if let [a, b] = press[..] {
        said.push(format!("The seam between {a} and {b} is pressed toward {b}."));
    }
    for number in together.into_iter().chain(first).chain(press) {
        all.push((number - 1).to_string());
    }
    (said.join(" "), all.join(" "))
}

fn listed(numbers: &[i64]) -> String {
    let told: Vec<String> = numbers.iter().map(i64::to_string).collect();
    match told.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// A method's name as it begins a line.
pub(super) fn capital(method: &str) -> String {
    let mut letters = method.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
