//! The layout: straight rows, on point, free.

use super::Places;
use super::blocks::{Frame, note_block, read_cell_text, read_placement, read_role};
use super::keys::{Reading, Section};
use super::tree::{Entry, Node, Value};
use crate::{Block, Cell, Layout, LayoutKind, Sashing};
use std::collections::{BTreeMap, BTreeSet};

/// Most cells of a layout; each holds a patch at least.
const MOST_CELLS: usize = 200_000;

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Straight,
    OnPoint,
    Free,
}

pub(super) fn read_layout(
    r: &mut Reading,
    file: &mut Section,
    blocks: &[Block],
    places: &mut Places,
) -> Option<Layout> {
    let node = file.must(r, "layout", "a table [layout]")?;
    places.layout = node.span.clone();
    let mut s = Section::of(r, node, "[layout]")?;
    read_layout_keys(r, &mut s, blocks, places).inspect(|_| s.done(r))
}

fn read_layout_keys(r: &mut Reading, s: &mut Section, blocks: &[Block], places: &mut Places) -> Option<Layout> {
    let words = [
        ("straight", Kind::Straight),
        ("on-point", Kind::OnPoint),
        ("free", Kind::Free),
    ];
    let kind = s.word(r, "kind", &words, Kind::Straight);
    let fill = s.take("fill").and_then(|n| read_role(r, n, "fill", places));
    let kind = match kind {
        Kind::Free => read_free(r, s, blocks, places)?,
        Kind::Straight | Kind::OnPoint => {
            let rows_node = s.must(r, "rows", "[[\"name\", \"name@90\"], ...]");
            let rows = rows_node.and_then(|n| read_rows(r, n, kind, places));
            let cell = s.take("cell").map(|n| r.pair(n, "cell", true, |r, n, w| r.size(n, w)));
            let sashing = s.take("sashing").map(|n| read_sashing(r, n, places));
            let float = (kind == Kind::OnPoint).then(|| s.length(r, "float", 0.0));
            let rows = rows?;
            let cell = match cell {
                Some(cell) => cell?,
                None => first_block_size(&rows, blocks).unwrap_or((1.0, 1.0)),
            };
            let sashing = match sashing {
                Some(sashing) => Some(sashing?),
                None => None,
            };
            let empty = rows.iter().flatten().any(Option::is_none);
            if fill.is_none() && (empty || kind == Kind::OnPoint) {
                let at = rows_node.map_or(s.span.clone(), |n| n.span.clone());
                let what = if empty {
                    "there are empty cells and no fill"
                } else {
                    "there is ground and no fill"
                };
                r.error(&at, "missing-key", what, "fill = the name of a fabric");
            }
            match float {
                Some(float) => LayoutKind::OnPoint {
                    cell,
                    rows,
                    sashing,
                    float,
                },
                None => LayoutKind::Straight { cell, rows, sashing },
            }
        }
    };
    Some(Layout { kind, fill })
}

fn first_block_size(rows: &[Vec<Option<Cell>>], blocks: &[Block]) -> Option<(f64, f64)> {
    let cell = rows.iter().flatten().flatten().next()?;
    let (width, height) = blocks.iter().find(|b| b.name == cell.block)?.size;
    Some(if cell.quarters % 2 == 1 {
        (height, width)
    } else {
        (width, height)
    })
}

fn read_rows(r: &mut Reading, node: &Node, kind: Kind, places: &mut Places) -> Option<Vec<Vec<Option<Cell>>>> {
    let list = r.list(node, "rows")?;
    let mut rows: Vec<Vec<Option<Cell>>> = Vec::new();
    let mut cells = 0;
    for row_node in list {
        if r.is_full() {
            return None;
        }
        let row_list = r.list(row_node, "a row")?;
        cells += row_list.len();
        if cells > MOST_CELLS {
            r.error(
                &node.span,
                "limit",
                "the layout has more than 200 000 cells",
                "at most 200 000 placed patches",
            );
            return None;
        }
        let mut row = Vec::new();
        for cell_node in row_list {
            let text = r.text(cell_node, "a cell")?;
            if text.is_empty() {
                row.push(None);
                continue;
            }
            match read_cell_text(&text) {
                Ok(cell) => {
                    note_block(&cell.block, &cell_node.span, Some(BTreeSet::new()), places);
                    row.push(Some(cell));
                }
                Err(message) => {
                    let expected = "\"name\", \"name@90\" (or 180, 270), \"name~\", \"name~@180\" or \"\"";
                    r.error(&cell_node.span, "bad-cell", message, expected);
                }
            }
        }
        // On point every second row is one shorter.
        let shorter = usize::from(kind == Kind::OnPoint && rows.len() % 2 == 1);
        let wanted = rows
            .first()
            .map_or(row_list.len(), |first| first.len().saturating_sub(shorter));
        if row_list.len() != wanted {
            let message = format!("row {} has {} cells", rows.len() + 1, row_list.len());
            r.error(&row_node.span, "uneven-rows", message, format!("{wanted} cells"));
            return None;
        }
        rows.push(row);
    }
    if rows.first().is_none_or(Vec::is_empty) {
        r.error(
            &node.span,
            "wrong-count",
            "the layout has no cells",
            "at least one row with one block",
        );
        return None;
    }
    if kind == Kind::OnPoint && rows.len().is_multiple_of(2) {
        let message = format!("a layout on point has {} rows", rows.len());
        r.error(&node.span, "wrong-count", message, "an odd number of rows");
        return None;
    }
    Some(rows)
}

fn read_sashing(r: &mut Reading, node: &Node, places: &mut Places) -> Option<Sashing> {
    let mut s = Section::of(r, node, "the sashing")?;
    let width = s.must(r, "width", "\"1 1/2 in\"").and_then(|n| r.size(n, "width"));
    let fabric = s
        .must(r, "fabric", "\"...\"")
        .and_then(|n| read_role(r, n, "fabric", places));
    let cornerstones = s
        .take("cornerstones")
        .and_then(|n| read_role(r, n, "cornerstones", places));
    let outer = s.truth(r, "outer", false);
    s.done(r);
    Some(Sashing {
        width: width?,
        fabric: fabric?,
        cornerstones,
        outer,
    })
}

fn read_free(r: &mut Reading, s: &mut Section, blocks: &[Block], places: &mut Places) -> Option<LayoutKind> {
    let size = s
        .must(r, "size", "[\"60 in\", \"72 in\"]")
        .and_then(|n| r.pair(n, "size", true, |r, n, w| r.size(n, w)));
    let nodes = s
        .must(r, "place", "[{ block = \"...\", at = [0, 0] }]")
        .and_then(|n| r.list(n, "place"));
    let (width, height) = size?;
    let frame = Frame {
        unit: (1.0, 1.0),
        height,
        lengths: true,
    };
    let sizes: BTreeMap<&str, (f64, f64)> = blocks.iter().map(|b| (b.name.as_str(), b.size)).collect();
    let own_size = |name: &str| sizes.get(name).copied();
    let mut place = Vec::new();
    for node in nodes? {
        if r.is_full() {
            break;
        }
        if let Some(read) = read_placement(r, node, frame, &own_size, places) {
            places.of_free.push(node.span.clone());
            place.push(read);
        }
    }
    Some(LayoutKind::Free {
        size: (width, height),
        place,
    })
}

/// The layout of another size: its keys merged over the base layout's, whole values replaced; `None` where it has no key of
/// a layout of its own, or it cannot be read.
pub(super) fn read_size_layout(
    r: &mut Reading,
    s: &mut Section,
    base: &[Entry],
    blocks: &[Block],
    places: &mut Places,
) -> Option<Layout> {
    const KEYS: [&str; 8] = ["kind", "cell", "rows", "fill", "sashing", "float", "size", "place"];
    let mut merged: Vec<Entry> = Vec::new();
    let mut own = false;
    for key in KEYS {
        if let Some(entry) = s.entry(key) {
            own = true;
            merged.push(entry.clone());
        } else if let Some(entry) = base.iter().find(|e| e.key == key) {
            merged.push(entry.clone());
        }
    }
    if !own {
        return None;
    }
    let node = Node {
        span: s.span.clone(),
        value: Value::Table(merged),
    };
    // The places of the base layout's own placements must stay what they are.
    let of_free = places.of_free.len();
    let read = Section::of(r, &node, "the size's layout")
        .and_then(|mut section| read_layout_keys(r, &mut section, blocks, places));
    places.of_free.truncate(of_free);
    read
}
