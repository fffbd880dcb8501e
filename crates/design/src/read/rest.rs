//! Borders, finishing, colourways, sizes, parts and the designer's words.

use super::Places;
use super::blocks::{note_block, read_cell_text, read_role};
use super::keys::{Reading, Section, is_name};
use super::layout::read_size_layout;
use super::tree::{Node, Value};
use crate::error::shown;
use crate::{
    Binding, Block, Border, Cell, Colorway, Corners, Finish, Label, OtherCloth, Part, QuiltSize, Say, Sleeve, Spacer,
    WideBacking,
};
use measure::Measure;
use std::collections::{BTreeMap, BTreeSet};
use terms::FabricId;

/// Most borders, sizes, parts and the like.
const MOST: usize = 1000;

fn limited<'n>(r: &mut Reading, nodes: &'n [Node], what: &str) -> &'n [Node] {
    if let Some(node) = nodes.get(MOST) {
        r.error(
            &node.span,
            "limit",
            format!("the file has more than 1000 {what}"),
            "at most 1000",
        );
        return &nodes[..MOST];
    }
    nodes
}

pub(super) fn read_borders(r: &mut Reading, file: &mut Section, places: &mut Places) -> Vec<Border> {
    let nodes = file.tables(r, "border");
    read_border_list(r, nodes, places, true)
}

fn read_border_list(r: &mut Reading, nodes: &[Node], places: &mut Places, is_base: bool) -> Vec<Border> {
    let mut borders = Vec::new();
    for node in limited(r, nodes, "borders") {
        if r.is_full() {
            break;
        }
        if let Some(border) = read_border(r, node, places, is_base, borders.len()) {
            borders.push(border);
        }
    }
    borders
}

fn read_border(r: &mut Reading, node: &Node, places: &mut Places, is_base: bool, index: usize) -> Option<Border> {
    let mut s = Section::of(r, node, "a border")?;
    let width = s.must(r, "width", "\"4 in\"").and_then(|n| r.size(n, "width"));
    let fabric = s
        .must(r, "fabric", "\"...\"")
        .and_then(|n| read_role(r, n, "fabric", places));
    let sides_first = s.word(r, "first", &[("sides", true), ("top", false)], true);
    let mut corners = Corners::Butted { sides_first };
    let said = s.take("corners");
    if let Some(n) = said {
        match r.text(n, "corners")?.as_str() {
            "butted" => {}
            "mitred" => {
                corners = Corners::Mitred;
            }
            name => {
                note_block(name, &n.span, Some(BTreeSet::new()), places);
                if is_base {
                    places.of_corners.push((index, n.span.clone()));
                }
                corners = Corners::Block(name.to_string());
            }
        }
    }
    if let Some(n) = s.take("cornerstones") {
        if said.is_some() {
            let message = "the border has corners and cornerstones";
            r.error(&n.span, "twice", message, "one of the two");
        }
        if let Some(fabric) = read_role(r, n, "cornerstones", places) {
            corners = Corners::Stones(fabric);
        }
    }
    let lengthwise = s.word(r, "grain", &[("width", false), ("length", true)], false);
    let units = match s.take("units") {
        Some(n) => read_units(r, n, places)?,
        None => Vec::new(),
    };
    let mut spacer = None;
    if let Some(n) = s.take("spacer") {
        if units.is_empty() {
            let message = "a plain border has no spacer";
            r.error(
                &n.span,
                "spacer-without-units",
                message,
                "units = [\"...\"], or no spacer",
            );
        }
        spacer = match &n.value {
            Value::Text(text) if text == "auto" => Some(Spacer::Auto),
            _ => r
                .pair(n, "spacer", true, |r, n, w| r.size(n, w))
                .map(|(sides, ends)| Spacer::Widths(sides, ends)),
        };
    }
    s.done(r);
    Some(Border {
        width: width?,
        fabric: fabric?,
        corners,
        lengthwise,
        units,
        spacer,
    })
}

/// The blocks of a pieced border, each as a cell of a row says it.
fn read_units(r: &mut Reading, node: &Node, places: &mut Places) -> Option<Vec<Cell>> {
    let mut units = Vec::new();
    let list = r.list(node, "units")?;
    for item in limited(r, list, "units of one border") {
        let text = r.text(item, "a unit")?;
        match read_cell_text(&text) {
            Ok(cell) => {
                note_block(&cell.block, &item.span, Some(BTreeSet::new()), places);
                units.push(cell);
            }
            Err(message) => {
                let expected = "\"name\", \"name@90\" (or 180, 270), \"name~\" or \"name~@180\"";
                r.error(&item.span, "bad-cell", message, expected);
            }
        }
    }
    Some(units)
}

pub(super) fn read_finish(r: &mut Reading, file: &mut Section, places: &mut Places, measure: Measure) -> Finish {
    file.take("finish")
        .and_then(|n| read_finish_table(r, n, places, measure))
        .unwrap_or_default()
}

/// A wide cloth for the back; sold 108 in wide (common practice), its selvedges cut off.
fn read_wide(r: &mut Reading, node: &Node, measure: Measure) -> Option<WideBacking> {
    let usable = match measure {
        Measure::Inch => 106.0,
        Measure::Metric => 270.0 / 2.54,
    };
    let mut s = Section::of(r, node, "the wide cloth")?;
    let usable = s.size(r, "usable", usable);
    let price = s.take("price").and_then(|n| super::read_price(r, n));
    s.done(r);
    Some(WideBacking { usable, price })
}

fn read_finish_table(r: &mut Reading, node: &Node, places: &mut Places, measure: Measure) -> Option<Finish> {
    let (strip, over, sleeve, label) = match measure {
        Measure::Inch => (2.25, 4.0, 8.5, (6.0, 4.0)),
        Measure::Metric => (6.0 / 2.54, 10.0 / 2.54, 22.0 / 2.54, (15.0 / 2.54, 10.0 / 2.54)),
    };
    let mut finish = Finish {
        backing_over: over,
        batting_over: over,
        ..Finish::default()
    };
    let mut s = Section::of(r, node, "[finish]")?;
    if let Some(mut b) = s.take("binding").and_then(|n| Section::of(r, n, "the binding")) {
        let fabric = b
            .must(r, "fabric", "\"...\"")
            .and_then(|n| read_role(r, n, "fabric", places));
        let strip = b.size(r, "strip", strip);
        let bias = b.word(r, "cut", &[("straight", false), ("bias", true)], false);
        b.done(r);
        finish.binding = fabric.map(|fabric| Binding { fabric, strip, bias });
    }
    if let Some(mut b) = s.take("backing").and_then(|n| Section::of(r, n, "the backing")) {
        finish.backing = b
            .must(r, "fabric", "\"...\"")
            .and_then(|n| read_role(r, n, "fabric", places));
        finish.backing_over = b.length(r, "over", over);
        finish.wide = b.take("wide").and_then(|n| read_wide(r, n, measure));
        b.done(r);
    }
    if let Some(mut b) = s.take("batting").and_then(|n| Section::of(r, n, "the batting")) {
        finish.batting = true;
        finish.batting_over = b.length(r, "over", over);
        b.done(r);
    }
    if let Some(mut b) = s.take("sleeve").and_then(|n| Section::of(r, n, "the sleeve")) {
        let fabric = b
            .must(r, "fabric", "\"...\"")
            .and_then(|n| read_role(r, n, "fabric", places));
        let strip = b.size(r, "strip", sleeve);
        b.done(r);
        finish.sleeve = fabric.map(|fabric| Sleeve { fabric, strip });
    }
    if let Some(mut b) = s.take("label").and_then(|n| Section::of(r, n, "the label")) {
        let fabric = b
            .must(r, "fabric", "\"...\"")
            .and_then(|n| read_role(r, n, "fabric", places));
        let size = b
            .take("size")
            .map_or(Some(label), |n| r.pair(n, "size", true, |r, n, w| r.size(n, w)));
        b.done(r);
        finish.label = fabric.zip(size).map(|(fabric, size)| Label { fabric, size });
    }
    if let Some(n) = s.take("skip") {
        let words = [("binding", "binding"), ("backing", "backing"), ("batting", "batting")];
        for item in r.list(n, "skip").unwrap_or_default() {
            if let Some(word) = r.word(item, "skip", &words)
                && !finish.skip.iter().any(|s| s == word)
            {
                finish.skip.push(word.to_string());
            }
        }
    }
    s.done(r);
    Some(finish)
}

pub(super) fn read_colorways(r: &mut Reading, file: &mut Section, places: &mut Places) -> Vec<Colorway> {
    let mut all: Vec<Colorway> = Vec::new();
    let nodes = file.tables(r, "colorway");
    for node in limited(r, nodes, "colourways") {
        if r.is_full() {
            break;
        }
        let Some(mut s) = Section::of(r, node, "a colourway") else {
            continue;
        };
        let name = s.must(r, "name", "\"...\"").and_then(|n| r.name(n, "name"));
        let mut fabrics = BTreeMap::new();
        if let Some(table) = s.must(r, "fabrics", "a table of the roles that change") {
            match &table.value {
                Value::Table(entries) => {
                    for entry in entries {
                        let role = FabricId(entry.key.clone());
                        places.fabrics.push((role.clone(), entry.at.clone()));
                        if let Some(mut f) = Section::of(r, &entry.node, "a colourway's fabric") {
                            let label = f.take("label").and_then(|n| r.text(n, "label"));
                            let color = f.take("color").and_then(|n| r.color(n, "color"));
                            f.text(r, "image");
                            f.take("image-width").and_then(|n| r.size(n, "image-width"));
                            let price = f.take("price").and_then(|n| super::read_price(r, n));
                            f.done(r);
                            fabrics.insert(role, OtherCloth { label, color, price });
                        }
                    }
                }
                _ => r.wrong_type(table, "fabrics", "a table of roles"),
            }
        }
        s.done(r);
        let Some(name) = name else { continue };
        if all.iter().any(|c| c.name == name) {
            r.error(
                &node.span,
                "twice",
                format!("there are two colourways \"{name}\""),
                "a name of its own",
            );
            continue;
        }
        all.push(Colorway { name, fabrics });
    }
    all
}

pub(super) fn read_sizes(
    r: &mut Reading,
    file: &mut Section,
    blocks: &[Block],
    places: &mut Places,
    measure: Measure,
) -> Vec<QuiltSize> {
    let base = match file.take("layout").map(|n| &n.value) {
        Some(Value::Table(entries)) => entries.as_slice(),
        _ => &[],
    };
    let nodes = file.tables(r, "size");
    let mut all: Vec<QuiltSize> = Vec::new();
    for node in limited(r, nodes, "sizes") {
        if r.is_full() {
            break;
        }
        let Some(mut s) = Section::of(r, node, "a size") else {
            continue;
        };
        let name = s.must(r, "name", "\"...\"").and_then(|n| r.name(n, "name"));
        let default = s.truth(r, "default", false);
        let scale = s.take("scale").and_then(|n| {
            let scale = r.number(n, "scale")?;
            if (0.01..=100.0).contains(&scale) {
                return Some(scale);
            }
            r.error(
                &n.span,
                "bad-number",
                format!("scale cannot be {scale}"),
                "a number from 0.01 to 100",
            );
            None
        });
        let borders = s
            .take("borders")
            .and_then(|n| r.list(n, "borders"))
            .map(|borders| read_border_list(r, borders, places, false));
        let finish = s.take("finish").and_then(|n| read_finish_table(r, n, places, measure));
        let layout = read_size_layout(r, &mut s, base, blocks, places);
        s.done(r);
        let Some(name) = name else { continue };
        let second_default = default && all.iter().any(|s| s.default);
        if second_default || all.iter().any(|s| s.name == name) || name == "base" {
            let message = match (second_default, name.as_str()) {
                (true, _) => "a second size is the default".to_string(),
                (_, "base") => "\"base\" is the name of the layout above".to_string(),
                _ => format!("there are two sizes \"{name}\""),
            };
            r.error(&node.span, "twice", message, "one of each");
            continue;
        }
        all.push(QuiltSize {
            name,
            default,
            scale: scale.unwrap_or(1.0),
            layout,
            borders,
            finish,
        });
    }
    all
}

pub(super) fn read_parts(r: &mut Reading, file: &mut Section, places: &mut Places) -> Vec<Part> {
    let mut all = Vec::new();
    let nodes = file.tables(r, "part");
    for node in limited(r, nodes, "parts") {
        if r.is_full() {
            break;
        }
        if let Some(part) = read_part(r, node, places) {
            all.push(part);
        }
    }
    all
}

fn read_part(r: &mut Reading, node: &Node, places: &mut Places) -> Option<Part> {
    let mut s = Section::of(r, node, "a part")?;
    let mut part = Part {
        name: s
            .must(r, "name", "\"...\"")
            .and_then(|n| r.text(n, "name"))
            .unwrap_or_default(),
        blocks: BTreeMap::new(),
        all: false,
        also: Vec::new(),
        date: String::new(),
    };
    if let Some(n) = s.take("blocks") {
        match &n.value {
            Value::Text(text) if text == "all" => part.all = true,
            Value::Table(entries) => {
                for entry in entries {
                    note_block(&entry.key, &entry.at, None, places);
                    match &entry.node.value {
                        Value::Whole(count) if (1..=200_000).contains(count) => {
                            part.blocks.insert(entry.key.clone(), *count as u32);
                        }
                        Value::Text(text) if text == "all" => {
                            part.blocks.insert(entry.key.clone(), u32::MAX);
                        }
                        _ => r.error(
                            &entry.node.span,
                            "bad-number",
                            format!("the count of \"{}\" cannot be used", shown(&entry.key)),
                            "a whole number from 1, or \"all\"",
                        ),
                    }
                }
            }
            _ => r.wrong_type(n, "blocks", "a table such as { beacon = 4 }, or \"all\""),
        }
    }
    if let Some(n) = s.take("also") {
        let words = ["sashing", "setting", "borders", "finish"].map(|w| (w, w));
        for item in r.list(n, "also").unwrap_or_default() {
            if let Some(word) = r.word(item, "also", &words) {
                part.also.push(word.to_string());
            }
        }
    }
    if let Some(n) = s.take("date") {
        match &n.value {
            Value::Date(date) if date.len() == 10 => part.date = date.clone(),
            _ => r.wrong_type(n, "date", "a date such as 2027-01-09, without quotes"),
        }
    }
    s.done(r);
    Some(part)
}

pub(super) fn read_says(r: &mut Reading, file: &mut Section) -> Vec<Say> {
    let mut all = Vec::new();
    let nodes = file.tables(r, "say");
    for node in limited(r, nodes, "says") {
        if r.is_full() {
            break;
        }
        let Some(mut s) = Section::of(r, node, "a [[say]]") else {
            continue;
        };
        let at = s.must(r, "at", "\"beacon/A\"").and_then(|n| {
            let at = r.text(n, "at")?;
            let first = at.split('/').next().unwrap_or_default();
            if is_name(first) {
                return Some(at);
            }
            let message = format!("\"{}\" is no unit or step", shown(&at));
            r.error(&n.span, "bad-name", message, "a unit's name such as \"beacon/A\"");
            None
        });
        let text = s.must(r, "text", "\"...\"").and_then(|n| r.text(n, "text"));
        s.done(r);
        if let (Some(at), Some(text)) = (at, text) {
            all.push(Say { at, text });
        }
    }
    all
}
