//! A block of a free layout takes another place.

use super::wish::Refused;
use design::{Design, LayoutKind, Placement};
use toml_edit::{Array, DocumentMut, Item, TableLike, Value};

/// The upright box round a placed block as it is seen: width and height, inches.
pub fn seen_size(placed: &Placement) -> (f64, f64) {
    let angle = placed.turn.to_radians();
    let (sin, cos) = match placed.turn.rem_euclid(180.0) {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        _ => (libm::sin(angle).abs(), libm::cos(angle).abs()),
    };
    let (w, h) = placed.size;
    (w * cos + h * sin, w * sin + h * cos)
}

/// Lays the left top of the box round the block, as it is seen, there: inches from the layout's left top, y down. A block that
/// has room in the layout stays within it.
pub(super) fn lay(document: &mut DocumentMut, design: &Design, index: usize, at: [f64; 2]) -> Result<String, Refused> {
    let LayoutKind::Free { size, place } = &design.layout.kind else {
        return Err(Refused::new(
            "no-free-layout",
            "Only in a free layout blocks are laid anywhere. Lay them into cells here.",
        ));
    };
    let placed = place.get(index).ok_or_else(nothing_there)?;
    let (w, h) = seen_size(placed);
    let held = |v: f64, room: f64| if room > 0.0 { v.clamp(0.0, room) } else { v };
    let (left, top) = (held(at[0], size.0 - w), held(at[1], size.1 - h));
    if !left.is_finite() || !top.is_finite() {
        return Err(Refused::new("no-place", "This is no place."));
    }
    let layout = document.get_mut("layout").ok_or_else(nothing_there)?;
    let list = layout.get_mut("place").ok_or_else(nothing_there)?;
    let table: &mut dyn TableLike = match list {
        Item::ArrayOfTables(tables) => tables.get_mut(index).map(|t| t as &mut dyn TableLike),
        Item::Value(Value::Array(array)) => array
            .get_mut(index)
            .and_then(Value::as_inline_table_mut)
            .map(|t| t as &mut dyn TableLike),
        _ => None,
    }
    .ok_or_else(nothing_there)?;
    let (key, x, y) = if table.contains_key("center") {
        ("center", left + w / 2.0, top + h / 2.0)
    } else {
        ("at", left, top)
    };
    let metric = design.quilt.measure == measure::Measure::Metric;
    let told = |inches: f64| {
        let (v, unit) = if metric { (inches * 2.54, "cm") } else { (inches, "in") };
        format!("{} {unit}", crate::drawing::trimmed(v, 4))
    };
    let pair: Array = [told(x), told(y)].into_iter().collect();
    let mut value = Value::Array(pair);
    match table.get_mut(key) {
        Some(Item::Value(old)) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        _ => {
            table.insert(key, Item::Value(value));
        }
    }
    Ok(format!("Moved {}", placed.block))
}

fn nothing_there() -> Refused {
    Refused::new("nothing-there", "There is no such block in the layout any more.")
}
