//! Controls for what the file says: each is a value with its place in the file, so that setting it changes nothing else.

use super::cloths::Cloths;
use super::shell::capital;
use super::{pin_controls, role_controls, swatch};
use crate::file::{CellAct, Step, Wish};
use design::{Design, LayoutKind};
use maud::{Markup, html};
use serde_json::{Value as Json, json};
use toml_edit::{DocumentMut, Item, Value};

/// What kind of value a control holds.
pub(super) enum Kind<'a> {
    /// A line of text.
    Text,
    /// Some lines of text.
    Long,
    /// A length with its unit.
    Length,
    /// A number.
    Number,
    /// Two values, or one for both: lengths.
    Lengths,
    /// Two values, or one for both: numbers.
    Numbers,
    /// One of some: value and words. The first is what holds when nothing is said.
    Choice(Vec<(String, String)>),
    /// Yes or no; what holds when nothing is said.
    Yes(bool),
    /// A colour; what holds when nothing is said.
    Colour(String),
    /// A fabric; whether none is allowed.
    Fabric(&'a Design, bool),
    /// Names one after another.
    Names,
}

/// The file, to read values from.
pub(super) struct Desk<'a> {
    /// The file, its words in their order.
    pub(super) document: DocumentMut,
    /// What it says.
    pub(super) design: &'a Design,
}

/// A place in the file.
macro_rules! at {
    ($($step:expr),* $(,)?) => { vec![$($crate::file::Step::from($step)),*] };
}

pub(super) use at;

impl From<&str> for Step {
    fn from(key: &str) -> Step {
        Step::Key(key.to_string())
    }
}

impl From<usize> for Step {
    fn from(index: usize) -> Step {
        Step::Index(index)
    }
}

impl<'a> Desk<'a> {
    /// The file's text and what it says.
    pub(super) fn of(text: &str, design: &'a Design) -> Desk<'a> {
        Desk {
            document: text.parse().unwrap_or_default(),
            design,
        }
    }

    /// The value at a place, as it would be typed.
    pub(super) fn typed(&self, at: &[Step]) -> Option<String> {
        let (first, rest) = at.split_first()?;
        let Step::Key(first) = first else { return None };
        let mut item = self.document.get(first)?;
        for step in rest {
            item = match step {
                Step::Key(key) => item.get(key.as_str())?,
                Step::Index(i) => item.get(*i)?,
            };
        }
        match item {
            Item::Value(value) => Some(typed(value)),
            _ => None,
        }
    }

    /// A control for a value of the file.
    pub(super) fn control(&self, at: Vec<Step>, label: &str, kind: Kind) -> Markup {
        let now = self.typed(&at);
        let place = serde_json::to_string(&at).unwrap_or_default();
        let now_text = now.clone().unwrap_or_default();
        html! {
            label.control {
                span { (label) }
                @match kind {
                    Kind::Text => input data-at=(place) data-kind="text" value=(now_text);,
                    Kind::Long => textarea data-at=(place) data-kind="text" rows="2" { (now_text) },
                    Kind::Length => input data-at=(place) data-kind="text" value=(now_text) size="10";,
                    Kind::Lengths => input data-at=(place) data-kind="lengths" value=(now_text) size="14";,
                    Kind::Names => input data-at=(place) data-kind="names" value=(now_text.replace(" × ", ", ")) size="24";,
                    Kind::Number => input data-at=(place) data-kind="number" value=(now_text) inputmode="decimal" size="8";,
                    Kind::Numbers => input data-at=(place) data-kind="numbers" value=(now_text) size="8";,
                    Kind::Yes(usual) => {
                        input type="checkbox" data-at=(place) data-kind="yes" checked[now.as_deref().map_or(usual, |v| v == "true")];
                    }
                    Kind::Colour(usual) => input type="color" data-at=(place) data-kind="text" value=(now.unwrap_or(usual));,
                    Kind::Choice(choices) => select data-at=(place) data-kind="text" {
                        @for (value, words) in &choices { option value=(value) selected[*value == now_text] { (words) } }
                    },
                    Kind::Fabric(design, none) => select data-at=(place) data-kind="text" {
                        @if none { option value="" selected[now_text.is_empty()] { "None" } }
                        @for fabric in &design.fabrics {
                            option value=(fabric.name.as_str()) selected[fabric.name.as_str() == now_text] { (fabric.label) }
                        }
                    },
                }
            }
        }
    }

    /// A button that makes a wish.
    pub(super) fn press(&self, words: &str, wish: &Wish) -> Markup {
        let wish = serde_json::to_string(wish).unwrap_or_default();
        html! { button type="button" data-wish=(wish) { (words) } }
    }

    fn list_hands(&self, list: &str, index: usize, count: usize) -> Markup {
        let moved = |to: usize| Wish::Move {
            list: list.into(),
            from: index,
            to,
        };
        html! {
            div.list-hands {
                @if index > 0 { (self.press("Earlier", &moved(index - 1))) }
                @if index + 1 < count { (self.press("Later", &moved(index + 1))) }
                (self.press("Take away", &Wish::Take { list: list.into(), index }))
            }
        }
    }

    fn first_fabric(&self) -> &str {
        self.design.fabrics.first().map_or("", |f| f.name.as_str())
    }

    /// One of two measures, by the file's own.
    pub(super) fn length(&self, inches: &str, metric: &str) -> Json {
        let metric_file = self.design.quilt.measure == measure::Measure::Metric;
        json!(if metric_file { metric } else { inches })
    }
}

fn typed(value: &Value) -> String {
    match value {
        Value::String(text) => text.value().clone(),
        Value::Integer(n) => n.value().to_string(),
        Value::Float(n) => n.value().to_string(),
        Value::Boolean(b) => b.value().to_string(),
        Value::Datetime(d) => d.value().to_string(),
        Value::Array(list) => list.iter().map(typed).collect::<Vec<_>>().join(" × "),
        Value::InlineTable(_) => String::new(),
    }
}

/// A choice of some words.
pub(super) fn choices(list: &[(&str, &str)]) -> Kind<'static> {
    Kind::Choice(list.iter().map(|(v, w)| ((*v).to_string(), (*w).to_string())).collect())
}

/// A wish for a value.
pub(super) fn set(at: Vec<Step>, to: Json) -> Wish {
    Wish::Set { at, to }
}

fn added(list: &str, with: Json) -> Wish {
    Wish::Add {
        list: list.into(),
        with: with.as_object().cloned().unwrap_or_default(),
    }
}

/// All that is round the blocks.
pub(super) fn quilt(text: &str, design: &Design) -> Markup {
    let desk = Desk::of(text, design);
    html! {
        details.controls open { summary { "Layout" } (layout(&desk)) }
        details.controls { summary { "Borders (" (design.borders.len()) ")" } (borders(&desk)) }
        details.controls { summary { "Finishing" } (finish(&desk)) }
        details.controls { summary { "The quilt" } (whole(&desk)) }
        details.controls { summary { "Sizes (" (design.sizes.len()) ")" } (sizes(&desk)) }
        details.controls { summary { "Parts (" (design.parts.len()) ")" } (parts(&desk)) }
        details.controls { summary { "Words at units and steps (" (design.says.len()) ")" } (says(&desk)) }
    }
}

fn layout(desk: &Desk) -> Markup {
    let design = desk.design;
    let kinds = [
        ("straight", "Straight rows"),
        ("on-point", "On point"),
        ("free", "Free"),
    ];
    let now = match design.layout.kind {
        LayoutKind::Straight { .. } => "straight",
        LayoutKind::OnPoint { .. } => "on-point",
        LayoutKind::Free { .. } => "free",
    };
    let sashing = match &design.layout.kind {
        LayoutKind::Straight { sashing, .. } | LayoutKind::OnPoint { sashing, .. } => sashing.as_ref(),
        LayoutKind::Free { .. } => None,
    };
    html! {
        div.row {
            @for (kind, words) in kinds {
                @if kind == now { span.chosen { (words) } }
                @else { (desk.press(words, &Wish::Cells { act: CellAct::Kind { kind: kind.into() } })) }
            }
        }
        div.row {
            @if now != "free" { (desk.control(at!["layout", "cell"], "Cell", Kind::Lengths)) }
            @else { (desk.control(at!["layout", "size"], "Size of the whole", Kind::Lengths)) }
            @if now == "on-point" { (desk.control(at!["layout", "float"], "Float beyond the points", Kind::Length)) }
            (desk.control(at!["layout", "fill"], "Ground", Kind::Fabric(design, true)))
        }
        @if now == "free" { (super::free_blocks::list(desk)) }
        @if sashing.is_some() {
            fieldset { legend { "Sashing" }
                (desk.control(at!["layout", "sashing", "width"], "Width", Kind::Length))
                (desk.control(at!["layout", "sashing", "fabric"], "Fabric", Kind::Fabric(design, false)))
                (desk.control(at!["layout", "sashing", "cornerstones"], "Cornerstones", Kind::Fabric(design, true)))
                (desk.control(at!["layout", "sashing", "outer"], "Round the outside too", Kind::Yes(false)))
                (desk.press("Take the sashing away", &set(at!["layout", "sashing"], Json::Null)))
            }
        } @else if now != "free" {
            (desk.press("Add sashing", &set(at!["layout", "sashing"],
                json!({ "width": desk.length("1 1/2 in", "4 cm"), "fabric": desk.first_fabric() }))))
        }
    }
}

fn borders(desk: &Desk) -> Markup {
    let design = desk.design;
    let count = design.borders.len();
    let mut corners = vec![
        ("butted".to_string(), "Butted".to_string()),
        ("mitred".to_string(), "Mitred".to_string()),
    ];
    corners.extend(
        design
            .blocks
            .iter()
            .map(|b| (b.name.clone(), format!("Corner block: {}", capital(&b.name)))),
    );
    html! {
        p.soft { "From the inside out." }
        @for i in 0..count {
            fieldset { legend { "Border " (i + 1) }
                (desk.control(at!["border", i, "width"], "Width", Kind::Length))
                (desk.control(at!["border", i, "fabric"], "Fabric", Kind::Fabric(design, false)))
                (desk.control(at!["border", i, "corners"], "Corners", Kind::Choice(corners.clone())))
                (desk.control(at!["border", i, "cornerstones"], "Or squares of", Kind::Fabric(design, true)))
                (desk.control(at!["border", i, "units"], "Pieced of blocks, in turn", Kind::Names))
                @if design.borders[i].spacer.is_some() || !design.borders[i].units.is_empty() {
                    (desk.control(at!["border", i, "spacer"], "Spacer inside: auto, or its width", Kind::Lengths))
                }
                (desk.control(at!["border", i, "first"], "Sewn first", choices(&[("sides", "Sides"), ("top", "Top and bottom")])))
                (desk.control(at!["border", i, "grain"], "Cut", choices(&[("width", "Across the cloth, joined"), ("length", "Along the cloth, in one")])))
                (desk.list_hands("border", i, count))
            }
        }
        (desk.press("Add a border", &added("border", json!({ "width": desk.length("4 in", "10 cm"), "fabric": desk.first_fabric() }))))
    }
}

fn finish(desk: &Desk) -> Markup {
    let design = desk.design;
    let finish = &design.finish;
    let gone = |key: &str, words: &str| desk.press(words, &set(vec!["finish".into(), key.into()], Json::Null));
    html! {
        @if finish.binding.is_some() {
            fieldset { legend { "Binding" }
                (desk.control(at!["finish", "binding", "fabric"], "Fabric", Kind::Fabric(design, false)))
                (desk.control(at!["finish", "binding", "strip"], "Strip cut", Kind::Length))
                (desk.control(at!["finish", "binding", "cut"], "Cut", choices(&[("straight", "Straight"), ("bias", "On the bias")])))
                (gone("binding", "Leave the binding out"))
            }
        } @else { (desk.press("Add binding", &set(at!["finish", "binding"], json!({ "fabric": desk.first_fabric() })))) }
        @if finish.backing.is_some() {
            fieldset { legend { "Back" }
                (desk.control(at!["finish", "backing", "fabric"], "Fabric", Kind::Fabric(design, false)))
                (desk.control(at!["finish", "backing", "over"], "Larger on each side by", Kind::Length))
                (role_controls::wide(desk))
                (gone("backing", "Leave the back out"))
            }
        } @else { (desk.press("Add a back", &set(at!["finish", "backing"], json!({ "fabric": desk.first_fabric() })))) }
        @if finish.batting {
            fieldset { legend { "Batting" }
                (desk.control(at!["finish", "batting", "over"], "Larger on each side by", Kind::Length))
                (gone("batting", "Leave the batting out"))
            }
        } @else { (desk.press("Add batting", &set(at!["finish", "batting"], json!({})))) }
        @if finish.sleeve.is_some() {
            fieldset { legend { "Sleeve to hang it by" }
                (desk.control(at!["finish", "sleeve", "fabric"], "Fabric", Kind::Fabric(design, false)))
                (desk.control(at!["finish", "sleeve", "strip"], "Strip cut", Kind::Length))
                (gone("sleeve", "Leave the sleeve out"))
            }
        } @else { (desk.press("Add a sleeve", &set(at!["finish", "sleeve"], json!({ "fabric": desk.first_fabric() })))) }
        @if finish.label.is_some() {
            fieldset { legend { "Label" }
                (desk.control(at!["finish", "label", "fabric"], "Fabric", Kind::Fabric(design, false)))
                (desk.control(at!["finish", "label", "size"], "Size", Kind::Lengths))
                (gone("label", "Leave the label out"))
            }
        } @else { (desk.press("Add a label", &set(at!["finish", "label"], json!({ "fabric": desk.first_fabric() })))) }
        fieldset { legend { "Left out of the pattern" }
            (role_controls::members(desk, at!["finish", "skip"], &[("binding", "Binding"), ("backing", "Back"), ("batting", "Batting")]))
        }
    }
}

fn whole(desk: &Desk) -> Markup {
    html! {
        div.row {
            (desk.control(at!["quilt", "title"], "Title", Kind::Text))
            (desk.control(at!["quilt", "author"], "Designed by", Kind::Text))
            (desk.control(at!["quilt", "edition"], "Edition", Kind::Text))
            (desk.control(at!["quilt", "units"], "Measured in", choices(&[("inch", "Inches"), ("metric", "Centimetres")])))
            (desk.control(at!["quilt", "seam"], "Seam allowance", Kind::Length))
            (desk.control(at!["quilt", "ruler"], "Smallest mark of the ruler", Kind::Length))
            (desk.control(at!["quilt", "prefer"], "What counts first", choices(&[("steps", "Fewer steps"), ("cloth", "Save cloth"), ("forgiving", "More forgiving")])))
            (desk.control(at!["quilt", "spare"], "Spare pieces for mishaps", Kind::Text))
            (desk.control(at!["quilt", "turn-under"], "Turned under round applique", Kind::Length))
        }
        (note_of_quilt(desk))
    }
}

fn note_of_quilt(desk: &Desk) -> Markup {
    desk.control(at!["quilt", "note"], "Your words for the whole quilt", Kind::Long)
}

/// The designer's words for the whole quilt.
pub(super) fn words_of_quilt(text: &str, design: &Design) -> Markup {
    note_of_quilt(&Desk::of(text, design))
}

/// The designer's words for a block, by its number in the file.
pub(super) fn words_of_block(text: &str, design: &Design, index: usize) -> Markup {
    let desk = Desk::of(text, design);
    html! {
        (desk.control(at!["block", index, "note"], "Your note", Kind::Long))
        (desk.control(at!["block", index, "tip"], "Your tip", Kind::Long))
    }
}

fn sizes(desk: &Desk) -> Markup {
    let count = desk.design.sizes.len();
    html! {
        @for i in 0..count {
            fieldset { legend { "Size " (i + 1) }
                (desk.control(at!["size", i, "name"], "Name", Kind::Text))
                (desk.control(at!["size", i, "scale"], "Everything times", Kind::Number))
                (desk.control(at!["size", i, "default"], "The one meant when none is named", Kind::Yes(false)))
                (desk.list_hands("size", i, count))
            }
        }
        (desk.press("Add a size", &added("size", json!({ "name": format!("size-{}", count + 1), "scale": 1.5 }))))
    }
}

fn parts(desk: &Desk) -> Markup {
    let count = desk.design.parts.len();
    html! {
        p.soft { "What is issued together, in order; what no part names comes last." }
        @for i in 0..count {
            fieldset { legend { "Part " (i + 1) }
                (desk.control(at!["part", i, "name"], "Name", Kind::Text))
                (desk.control(at!["part", i, "date"], "Date", Kind::Text))
                @for block in &desk.design.blocks {
                    (desk.control(at!["part", i, "blocks", block.name.as_str()], &capital(&block.name), Kind::Number))
                }
                (role_controls::members(desk, at!["part", i, "also"], &[("sashing", "The sashing"), ("setting", "The setting"), ("borders", "The borders"), ("finish", "The finishing")]))
                (desk.list_hands("part", i, count))
            }
        }
        @if let Some(block) = desk.design.first_block() {
            (desk.press("Add a part", &added("part", json!({ "name": format!("Part {}", count + 1), "blocks": { block.name.as_str(): 1 } }))))
        }
    }
}

fn says(desk: &Desk) -> Markup {
    let count = desk.design.says.len();
    html! {
        @for i in 0..count {
            fieldset { legend { "Words " (i + 1) }
                (desk.control(at!["say", i, "at"], "At the unit or step", Kind::Text))
                (desk.control(at!["say", i, "text"], "Words", Kind::Long))
                (desk.list_hands("say", i, count))
            }
        }
        @if let Some(block) = desk.design.first_block() {
            (desk.press("Add words", &added("say", json!({ "at": format!("{}/A", block.name), "text": "…" }))))
        }
    }
}

/// The fabrics and colourways.
pub(super) fn cloth(text: &str, cloths: &Cloths) -> Markup {
    let design = cloths.design;
    let desk = Desk::of(text, design);
    let count = design.fabrics.len();
    html! {
        h2 { "Fabrics" }
        @for (i, fabric) in design.fabrics.iter().enumerate() {
            fieldset.fabric data-name=(fabric.name.as_str()) {
                legend { (swatch::chip(cloths, fabric)) " " (fabric.label) }
                (desk.control(at!["fabric", i, "label"], "What makers read", Kind::Text))
                (desk.control(at!["fabric", i, "color"], "Colour", Kind::Colour(fabric.color.hex())))
                (role_controls::picture(&desk, cloths, i, fabric))
                (desk.control(at!["fabric", i, "width"], "Width", Kind::Length))
                (desk.control(at!["fabric", i, "usable"], "Usable width", Kind::Length))
                (desk.control(at!["fabric", i, "price"], "Price of a yard, metre or piece", Kind::Number))
                details { summary { "More" }
                    div.row {
                        (desk.control(at!["fabric", i, "print"], "Print", choices(&[("none", "Any way will do"), ("two-way", "A stripe"), ("one-way", "It has an up")])))
                        (desk.control(at!["fabric", i, "up"], "Up points", choices(&[("quilt", "To the top of the quilt"), ("block", "To the top of the block"), ("free", "Anywhere")])))
                        (desk.control(at!["fabric", i, "right-side"], "Its two sides differ", Kind::Yes(true)))
                        (role_controls::sold(&desk, i))
                        (desk.control(at!["fabric", i, "step"], "Shop cuts in steps of", Kind::Length))
                        (desk.control(at!["fabric", i, "shrink"], "Shrinks by", Kind::Text))
                        (desk.control(at!["fabric", i, "square-up"], "Lost to the first cut", Kind::Length))
                    }
                    (role_controls::motif(&desk, i, fabric))
                    (role_controls::scrappy(&desk, cloths, i, fabric))
                    form.rename data-list="fabric" data-from=(fabric.name.as_str()) {
                        label.control { span { "Role in the file" } input name="to" value=(fabric.name.as_str()) pattern="[a-z0-9][a-z0-9\\-]*"; }
                        button { "Rename" }
                    }
                }
                (desk.list_hands("fabric", i, count))
            }
        }
        (desk.press("Add a fabric", &added("fabric", json!({ "name": fresh(design), "label": "New cloth", "color": "#8aa39b" }))))
        h2 { "Colourways" }
        @for (i, colorway) in design.colorways.iter().enumerate() {
            fieldset { legend { (capital(&colorway.name)) }
                (desk.control(at!["colorway", i, "name"], "Name", Kind::Text))
                @for fabric in &design.fabrics {
                    @let role = fabric.name.as_str();
                    div.row {
                        span { (fabric.label) " becomes" }
                        (desk.control(at!["colorway", i, "fabrics", role, "label"], "Label", Kind::Text))
                        (desk.control(at!["colorway", i, "fabrics", role, "color"], "Colour", Kind::Colour(fabric.color.hex())))
                        (desk.control(at!["colorway", i, "fabrics", role, "price"], "Price", Kind::Number))
                    }
                }
                (desk.list_hands("colorway", i, design.colorways.len()))
            }
        }
        @if let Some(first) = design.fabrics.first() {
            (desk.press("Add a colourway", &added("colorway", json!({
                "name": format!("way-{}", design.colorways.len() + 1),
                "fabrics": { first.name.as_str(): { "label": first.label, "color": first.color.hex() } },
            }))))
        }
    }
}

fn fresh(design: &Design) -> String {
    (1..)
        .map(|n| format!("cloth-{n}"))
        .find(|name| !design.fabrics.iter().any(|f| f.name.as_str() == name))
        .unwrap_or_default()
}

/// What the file says of one block beyond its drawing.
pub(super) fn block(text: &str, design: &Design, index: usize) -> Markup {
    let desk = Desk::of(text, design);
    let Some(block) = design.blocks.get(index) else {
        return html! {};
    };
    let methods = std::iter::once((String::new(), "Whatever is best".to_string())).chain(
        pin_controls::METHODS
            .iter()
            .map(|m| ((*m).to_string(), pin_controls::capital(m))),
    );
    let methods = Kind::Choice(methods.collect());
    html! {
        div.row {
            (desk.control(at!["block", index, "size"], "Size", Kind::Lengths))
            (desk.control(at!["block", index, "grid"], "Grid", Kind::Numbers))
            (desk.control(at!["block", index, "method"], "Made by", methods))
            (desk.control(at!["block", index, "split"], "Made in two units where that helps", choices(&[("auto", "If it saves a partial seam"), ("never", "Never")])))
        }
        (desk.control(at!["block", index, "note"], "Your note", Kind::Long))
        (desk.control(at!["block", index, "tip"], "Your tip", Kind::Long))
        (desk.control(at!["block", index, "quilting"], "How it is quilted", Kind::Long))
        form.rename data-list="block" data-from=(block.name) {
            label.control { span { "Name" } input name="to" value=(block.name) pattern="[a-z0-9][a-z0-9\\-]*"; }
            button { "Rename" }
        }
        (desk.press("Take this block away", &Wish::Take { list: "block".into(), index }))
        p.soft { "Drawn " (swatch::told(design, block.size.0)) " × " (swatch::told(design, block.size.1)) " " (swatch::unit(design).0) "." }
    }
}
