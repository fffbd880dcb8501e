//! A block's drawing changed in the file: patches that stay keep their words, comments and places.

use super::pins;
use super::wish::{Act, Refused, repeat_of};
use crate::drawing::{self, Drawing, Placed, Refusal};
use design::Design;
use kurbo::Point;
use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, Value};

/// Does it; the answer says what was done.
pub(super) fn draw(document: &mut DocumentMut, design: &Design, name: &str, act: &Act) -> Result<String, Refused> {
    let size = design
        .block(name)
        .map(|block| block.size)
        .ok_or_else(|| Refused::new("no-such-block", format!("There is no block called {name} any more.")))?;
    let fallback = design
        .fabrics
        .first()
        .map_or("", |fabric| fabric.name.as_str())
        .to_string();
    let table = known(document, name)?;
    let drawing = drawing::read_block(table, size, &fallback).map_err(|why| {
        Refused::new(
            "cannot-be-drawn-on",
            format!("This block cannot be drawn on here: {}.", why.0),
        )
    })?;
    let (drawn, label) = done(&drawing, design, act)?;
    write(table, &drawn);
    Ok(label)
}

/// The table of a block that is there.
pub(super) fn known<'d>(document: &'d mut DocumentMut, name: &str) -> Result<&'d mut Table, Refused> {
    table_of(document, name)
        .ok_or_else(|| Refused::new("no-such-block", format!("There is no block called {name} in the file.")))
}

/// The table of a block.
pub(super) fn table_of<'d>(document: &'d mut DocumentMut, name: &str) -> Option<&'d mut Table> {
    document
        .get_mut("block")?
        .as_array_of_tables_mut()?
        .iter_mut()
        .find(|table| table.get("name").and_then(Item::as_str) == Some(name))
}

fn done(drawing: &Drawing, design: &Design, act: &Act) -> Result<(Drawing, String), Refusal> {
    let point = |at: &[f64; 2]| Point::new(at[0], at[1]);
    Ok(match act {
        Act::Divide { from, to, repeat } => (
            drawing.repeated(repeat_of(repeat), point(from), point(to), |d, a, b| d.divide(a, b))?,
            "Divided".into(),
        ),
        Act::Bow { from, to, repeat } => (
            drawing.repeated(repeat_of(repeat), point(from), point(to), |d, a, b| d.bow(a, b))?,
            "Bowed a seam".into(),
        ),
        Act::Shift { from, to, repeat } => (
            drawing.repeated(repeat_of(repeat), point(from), point(to), |d, a, b| d.shift(a, b))?,
            "Moved a point".into(),
        ),
        Act::Join { from, to, repeat } => (
            drawing.join_at(repeat_of(repeat), point(from), point(to))?,
            "Joined".into(),
        ),
        Act::Dress { at, fabric, repeat } => (
            drawing.dress_at(repeat_of(repeat), point(at), fabric)?,
            format!("Dressed in {}", label_of(design, fabric)),
        ),
        Act::Lay { placed, at, size, turn } => {
            let (quarters, slant) = drawing::quarters_and_slant(*turn);
            let new = Placed {
                block: placed.clone(),
                entry: None,
                left: at[0],
                top: at[1],
                width: size[0],
                height: size[1],
                quarters,
                slant,
                flip: false,
                recolor: Vec::new(),
                redrawn: true,
            };
            (drawing.place(new)?, format!("Laid {placed} in"))
        }
        Act::Turn { at } => match placed_at(drawing, at) {
            Some(which) => (drawing.turn_placed(which)?, "Turned a placed block".into()),
            None => (drawing.turned()?, "Turned the block".into()),
        },
        Act::Flip { at } => match placed_at(drawing, at) {
            Some(which) => (drawing.flip_placed(which)?, "Flipped a placed block".into()),
            None => (drawing.flipped(), "Flipped the block".into()),
        },
        Act::TakeOut { at, fabric } => {
            let which = placed_at(drawing, &Some(*at))
                .ok_or_else(|| Refusal::new("no-block-there", "There is no placed block here."))?;
            (drawing.take_out(which, fabric)?, "Took a placed block out".into())
        }
    })
}

fn placed_at(drawing: &Drawing, at: &Option<[f64; 2]>) -> Option<usize> {
    let at = at.as_ref()?;
    drawing
        .placed
        .iter()
        .position(|placed| placed.holds(Point::new(at[0], at[1])))
}

fn label_of(design: &Design, fabric: &str) -> String {
    design
        .fabrics
        .iter()
        .find(|f| f.name.as_str() == fabric)
        .map_or(fabric.to_string(), |f| f.label.clone())
}

/// Puts the drawing into its table.
fn write(table: &mut Table, drawing: &Drawing) {
    let old = inline_tables(table, "patches");
    let entries = drawing::entries(drawing);
    let patches: Vec<InlineTable> = entries
        .iter()
        .map(|entry| {
            let mut patch = entry.from.and_then(|i| old.get(i)).cloned().unwrap_or_default();
            put(&mut patch, "fabric", Value::from(entry.fabric.as_str()));
            if let Some(path) = &entry.path {
                put(&mut patch, "path", Value::from(path.as_str()));
            }
            patch
        })
        .collect();
    put_list(table, "patches", patches);
    pins::renumber(table, &entries);
    let old = inline_tables(table, "place");
    let places = drawing
        .placed
        .iter()
        .zip(drawing::places(drawing))
        .map(|(placed, (from, [x, y, w, h]))| {
            let mut place = from.and_then(|i| old.get(i)).cloned().unwrap_or_default();
            if placed.redrawn || from.is_none() {
                let (place_key, other) = if placed.upright() {
                    ("at", "center")
                } else {
                    ("center", "at")
                };
                place.remove(other);
                put(&mut place, "block", Value::from(placed.block.as_str()));
                put(&mut place, place_key, pair(x, y));
                put(&mut place, "size", pair(w, h));
                let turn = f64::from(placed.quarters) * 90.0 + placed.slant;
                put_unless(&mut place, "turn", figure(turn), turn == 0.0);
                put_unless(&mut place, "flip", Value::from(placed.flip), !placed.flip);
            }
            place
        })
        .collect();
    put_list(table, "place", places);
}

fn inline_tables(table: &Table, key: &str) -> Vec<InlineTable> {
    match table.get(key) {
        Some(Item::Value(Value::Array(array))) => array.iter().filter_map(|v| v.as_inline_table().cloned()).collect(),
        Some(Item::ArrayOfTables(tables)) => tables.iter().map(|t| t.clone().into_inline_table()).collect(),
        _ => Vec::new(),
    }
}

/// A list of inline tables, one a line; those that stood on a line of their own keep what stood round them.
fn put_list(table: &mut Table, key: &str, list: Vec<InlineTable>) {
    if list.is_empty() {
        table.remove(key);
        return;
    }
    let trailing = match table.get(key) {
        Some(Item::Value(Value::Array(array))) if !array.trailing().as_str().unwrap_or_default().is_empty() => {
            array.trailing().as_str().unwrap_or("\n").to_string()
        }
        _ => "\n".to_string(),
    };
    let mut array = Array::new();
    let mut seen: Vec<String> = Vec::new();
    for mut entry in list {
        let prefix = entry
            .decor()
            .prefix()
            .and_then(|p| p.as_str())
            .unwrap_or_default()
            .to_string();
        // The parts of a divided patch share its comment: it is said once.
        let has_comment = prefix.contains('#');
        if !prefix.starts_with('\n') || (has_comment && seen.contains(&prefix)) {
            entry.decor_mut().set_prefix("\n  ");
        }
        seen.push(prefix);
        entry.decor_mut().set_suffix("");
        array.push_formatted(Value::InlineTable(entry));
    }
    array.set_trailing(trailing);
    array.set_trailing_comma(true);
    match table.get_mut(key) {
        Some(Item::Value(old)) => {
            *array.decor_mut() = old.decor().clone();
            *old = Value::Array(array);
        }
        Some(other) => *other = Item::Value(Value::Array(array)),
        None => {
            table.insert(key, Item::Value(Value::Array(array)));
        }
    }
}

fn put(table: &mut InlineTable, key: &str, mut value: Value) {
    match table.get_mut(key) {
        Some(old) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        None => {
            table.insert(key, value);
        }
    }
}

fn put_unless(table: &mut InlineTable, key: &str, value: Value, usual: bool) {
    if usual {
        table.remove(key);
    } else {
        put(table, key, value);
    }
}

fn pair(x: f64, y: f64) -> Value {
    let mut array = Array::new();
    array.push(figure(x));
    array.push(figure(y));
    Value::Array(array)
}

/// A number to a millionth, whole where it is whole.
fn figure(v: f64) -> Value {
    let rounded = (v * 1e6).round() / 1e6;
    if rounded.fract() == 0.0 {
        Value::from(rounded as i64)
    } else {
        Value::from(rounded)
    }
}
