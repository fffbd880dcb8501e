//! The layout's rows of cells changed.

use super::wish::{CellAct, Refused};
use design::{Design, LayoutKind};
use toml_edit::{Array, DocumentMut, InlineTable, Item, Value};

/// Most rows, and most columns, that are laid by hand.
const MOST: usize = 200;

/// A cell as the file writes it: a block, turned and flipped.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Cell {
    block: String,
    quarters: u8,
    flip: bool,
}

impl Cell {
    fn read(text: &str) -> Cell {
        let (head, turn) = text.split_once('@').unwrap_or((text, "0"));
        let (block, flip) = match head.strip_suffix('~') {
            Some(block) => (block, true),
            None => (head, false),
        };
        Cell {
            block: block.to_string(),
            quarters: ((turn.trim().parse::<i64>().unwrap_or(0) / 90).rem_euclid(4)) as u8,
            flip,
        }
    }

    fn text(&self) -> String {
        if self.block.is_empty() {
            return String::new();
        }
        let flip = if self.flip { "~" } else { "" };
        match self.quarters {
            0 => format!("{}{flip}", self.block),
            q => format!("{}{flip}@{}", self.block, u32::from(q) * 90),
        }
    }
}

/// Does it; the answer says what was done.
pub(super) fn change(document: &mut DocumentMut, design: &Design, act: &CellAct) -> Result<String, Refused> {
    if let CellAct::Kind { kind } = act {
        return another_kind(document, design, kind);
    }
    let kind = document
        .get("layout")
        .and_then(|l| l.get("kind"))
        .and_then(Item::as_str)
        .unwrap_or("straight");
    let on_point = match kind {
        "straight" => false,
        "on-point" => true,
        _ => {
            return Err(Refused::new(
                "no-cells",
                "A free layout has no cells: its blocks are placed by their measures.",
            ));
        }
    };
    let mut rows = read(document);
    let label = match act {
        CellAct::Put { row, column, cell } => {
            *at(&mut rows, *row, *column)? = cell.clone();
            if cell.is_empty() {
                "Emptied a cell".to_string()
            } else {
                format!("Laid {cell}")
            }
        }
        CellAct::Turn { row, column } => {
            let text = at(&mut rows, *row, *column)?;
            let mut cell = Cell::read(text);
            cell.quarters = (cell.quarters + 1) % 4;
            *text = cell.text();
            "Turned a block".into()
        }
        CellAct::Flip { row, column } => {
            let text = at(&mut rows, *row, *column)?;
            let mut cell = Cell::read(text);
            // A flip as seen after q quarter turns is a flip before 4 - q of them.
            cell.flip = !cell.flip;
            cell.quarters = (4 - cell.quarters) % 4;
            *text = cell.text();
            "Flipped a block".into()
        }
        CellAct::Swap {
            row,
            column,
            with_row,
            with_column,
        } => {
            let one = at(&mut rows, *row, *column)?.clone();
            let other = std::mem::replace(at(&mut rows, *with_row, *with_column)?, one);
            *at(&mut rows, *row, *column)? = other;
            "Swapped two blocks".into()
        }
        CellAct::Fill { cells } => {
            if cells.is_empty() {
                return Err(Refused::new(
                    "nothing-to-fill-with",
                    "Choose a block to fill the cells with.",
                ));
            }
            for (r, row) in rows.iter_mut().enumerate() {
                for (c, cell) in row.iter_mut().enumerate() {
                    *cell = cells[(r + c) % cells.len()].clone();
                }
            }
            "Filled the cells".into()
        }
        CellAct::Kind { .. } => String::new(),
        CellAct::Size { rows: down, columns } => {
            if *down == 0 || *columns == 0 || *down > MOST || *columns > MOST {
                return Err(Refused::new(
                    "too-many-cells",
                    format!("A quilt has from 1 to {MOST} rows and columns here."),
                ));
            }
            if on_point && down % 2 == 0 {
                return Err(Refused::new(
                    "rows-come-in-odd-numbers",
                    "On point the rows alternate long and short and end as they began: take an odd number of rows.",
                ));
            }
            resize(&mut rows, *down, *columns, on_point);
            format!("{columns} across, {down} down")
        }
    };
    write(document, &rows);
    Ok(label)
}

fn read(document: &DocumentMut) -> Vec<Vec<String>> {
    let rows = document
        .get("layout")
        .and_then(|l| l.get("rows"))
        .and_then(Item::as_array);
    rows.map_or(Vec::new(), |rows| {
        rows.iter()
            .filter_map(Value::as_array)
            .map(|row| {
                row.iter()
                    .map(|cell| cell.as_str().unwrap_or_default().to_string())
                    .collect()
            })
            .collect()
    })
}

fn at(rows: &mut [Vec<String>], row: usize, column: usize) -> Result<&mut String, Refused> {
    rows.get_mut(row)
        .and_then(|row| row.get_mut(column))
        .ok_or_else(|| Refused::new("no-such-cell", "There is no such cell any more."))
}

/// Cells are kept; new ones repeat the old pattern.
fn resize(rows: &mut Vec<Vec<String>>, down: usize, across: usize, on_point: bool) {
    let old = rows.clone();
    let pattern = |r: usize, c: usize| -> String {
        if old.is_empty() {
            return String::new();
        }
        // On point, long and short rows repeat among themselves.
        let period = if on_point && old.len() > 1 {
            old.len() - old.len() % 2
        } else {
            old.len()
        };
        let row = old.get(r).or_else(|| old.get(r % period));
        let row = match row {
            Some(row) if !row.is_empty() => row,
            _ => return String::new(),
        };
        row.get(c).unwrap_or(&row[c % row.len()]).clone()
    };
    *rows = (0..down)
        .map(|r| {
            let columns = if on_point && r % 2 == 1 {
                across.saturating_sub(1)
            } else {
                across
            };
            (0..columns).map(|c| pattern(r, c)).collect()
        })
        .collect();
}

fn write(document: &mut DocumentMut, rows: &[Vec<String>]) {
    let mut list = Array::new();
    for row in rows {
        let mut value = Value::Array(row.iter().map(String::as_str).collect());
        value.decor_mut().set_prefix("\n  ");
        list.push_formatted(value);
    }
    list.set_trailing("\n");
    list.set_trailing_comma(true);
    let layout = document.entry("layout").or_insert_with(|| {
        let mut table = toml_edit::Table::new();
        table.decor_mut().set_prefix("\n");
        Item::Table(table)
    });
    if let Some(table) = layout.as_table_like_mut() {
        match table.get_mut("rows") {
            Some(Item::Value(old)) => {
                *list.decor_mut() = old.decor().clone();
                *old = Value::Array(list);
            }
            _ => {
                table.insert("rows", Item::Value(Value::Array(list)));
            }
        }
    }
}

/// The same blocks laid out another way.
fn another_kind(document: &mut DocumentMut, design: &Design, kind: &str) -> Result<String, Refused> {
    let unknown = || Refused::new("no-such-layout", "A layout is straight, on point or free.");
    let mut rows = read(document);
    let first = design.fabrics.first().map(|f| f.name.to_string()).unwrap_or_default();
    let free = free_places(design);
    if rows.is_empty() {
        // From a free layout: its blocks in rows that are as near to a square as can be.
        let LayoutKind::Free { place, .. } = &design.layout.kind else {
            return Err(unknown());
        };
        let across = (1..).find(|n| n * n >= place.len()).unwrap_or(1);
        rows = place
            .chunks(across)
            .map(|row| {
                let mut row: Vec<String> = row.iter().map(|placed| placed.block.clone()).collect();
                row.resize(across, String::new());
                row
            })
            .collect();
    }
    let layout = document
        .get_mut("layout")
        .and_then(Item::as_table_like_mut)
        .ok_or_else(unknown)?;
    let mut put = |key: &str, value: Value| match layout.get_mut(key) {
        Some(Item::Value(old)) => {
            let decor = old.decor().clone();
            *old = value;
            *old.decor_mut() = decor;
        }
        _ => {
            layout.insert(key, Item::Value(value));
        }
    };
    put("kind", Value::from(kind));
    match kind {
        "straight" | "on-point" => {
            if kind == "on-point" {
                let down = rows.len() + 1 - rows.len() % 2;
                let across = rows.iter().map(Vec::len).max().unwrap_or(1);
                resize(&mut rows, down, across, true);
                // Side and corner triangles are of the ground.
                if design.layout.fill.is_none() {
                    put("fill", Value::from(first));
                }
            } else {
                let across = rows.iter().map(Vec::len).max().unwrap_or(1);
                let down = rows.len();
                resize(&mut rows, down, across, false);
            }
            for key in ["size", "place"] {
                layout.remove(key);
            }
            if kind == "straight" {
                layout.remove("float");
            }
            write(document, &rows);
        }
        "free" => {
            let Some((size, places)) = free else {
                return Err(Refused::new(
                    "cannot-be-freed",
                    "Only straight rows without sashing become a free layout; lay them straight first.",
                ));
            };
            put("size", lengths(design, size));
            let mut list = Array::new();
            for mut place in places {
                place.decor_mut().set_prefix("\n  ");
                list.push_formatted(Value::InlineTable(place));
            }
            list.set_trailing("\n");
            list.set_trailing_comma(true);
            put("place", Value::Array(list));
            if design.layout.fill.is_none() {
                put("fill", Value::from(first));
            }
            for key in ["rows", "cell", "float"] {
                layout.remove(key);
            }
        }
        _ => return Err(unknown()),
    }
    Ok(format!("Laid {}", kind.replace('-', " ")))
}

/// Straight rows as a free layout: the size of the whole, and each block with its measures.
fn free_places(design: &Design) -> Option<((f64, f64), Vec<InlineTable>)> {
    let LayoutKind::Straight {
        cell,
        rows,
        sashing: None,
    } = &design.layout.kind
    else {
        return None;
    };
    let across = rows.iter().map(Vec::len).max().unwrap_or(0);
    let mut places = Vec::new();
    for (r, row) in rows.iter().enumerate() {
        for (c, laid) in row.iter().enumerate() {
            let Some(laid) = laid else { continue };
            let mut place = InlineTable::new();
            place.insert("block", Value::from(laid.block.as_str()));
            place.insert("at", lengths(design, (cell.0 * c as f64, cell.1 * r as f64)));
            if laid.quarters > 0 {
                place.insert("turn", Value::from(i64::from(laid.quarters) * 90));
            }
            if laid.flip {
                place.insert("flip", Value::from(true));
            }
            places.push(place);
        }
    }
    Some(((cell.0 * across as f64, cell.1 * rows.len() as f64), places))
}

/// Two lengths as the file writes them.
fn lengths(design: &Design, inches: (f64, f64)) -> Value {
    let (unit, per) = match design.quilt.measure {
        measure::Measure::Inch => ("in", 1.0),
        measure::Measure::Metric => ("cm", 2.54),
    };
    let told = |v: f64| {
        let text = format!("{:.4}", v * per);
        format!("{} {unit}", text.trim_end_matches('0').trim_end_matches('.'))
    };
    let mut list = Array::new();
    list.push(told(inches.0));
    list.push(told(inches.1));
    Value::Array(list)
}
