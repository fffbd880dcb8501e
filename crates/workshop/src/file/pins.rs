//! A block's pins in the file: patches that are made as a unit of their own, the seam sewn first, the way a seam is pressed.
//! They name patches by their numbers in the block's list, from 1, and follow their patches when the drawing changes.

use super::wish::Refused;
use crate::drawing::Entry;
use serde::{Deserialize, Serialize};
use toml_edit::{Array, ArrayOfTables, InlineTable, Item, Table, TableLike, Value};

/// What is pinned of some patches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, utoipa::ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Pinned {
    /// They are sewn together before anything else is sewn to them.
    Together,
    /// The seam between two is sewn first.
    First,
    /// The seam between two is pressed from the first toward the second.
    Press,
}

impl Pinned {
    /// The key of the file.
    fn key(self) -> &'static str {
        match self {
            Pinned::Together => "patches",
            Pinned::First => "first",
            Pinned::Press => "press",
        }
    }
}

/// Puts one more pin into a block's table.
pub(super) fn add(table: &mut Table, what: Pinned, patches: &[u32], method: &str) -> Result<String, Refused> {
    let enough = match what {
        Pinned::Together => patches.len() >= 2,
        Pinned::First | Pinned::Press => patches.len() == 2,
    };
    if !enough {
        let words = match what {
            Pinned::Together => "Choose two patches or more that are sewn together.",
            Pinned::First => "Choose the two patches on either side of the seam.",
            Pinned::Press => "Choose two patches: the one the seam is pressed from, then the one it is pressed toward.",
        };
        return Err(Refused::new("too-few-patches", words));
    }
    let numbers = Value::Array(patches.iter().map(|n| i64::from(*n)).collect());
    let method = (what == Pinned::Together && !method.is_empty()).then(|| Value::from(method));
    match table.get_mut("pin") {
        Some(Item::Value(Value::Array(list))) => {
            let mut pin = InlineTable::new();
            pin.insert(what.key(), numbers);
            if let Some(method) = method {
                pin.insert("method", method);
            }
            list.push(pin);
        }
        there => {
            let mut pin = Table::new();
            pin.insert(what.key(), Item::Value(numbers));
            if let Some(method) = method {
                pin.insert("method", Item::Value(method));
            }
            pin.decor_mut().set_prefix("\n");
            match there.and_then(Item::as_array_of_tables_mut) {
                Some(list) => list.push(pin),
                None => {
                    let mut list = ArrayOfTables::new();
                    list.push(pin);
                    table.insert("pin", Item::ArrayOfTables(list));
                }
            }
        }
    }
    Ok(match what {
        Pinned::Together => "Pinned patches together",
        Pinned::First => "Pinned the first seam",
        Pinned::Press => "Pinned which way a seam is pressed",
    }
    .to_string())
}

/// Takes a pin away, by its number from 0.
pub(super) fn take(table: &mut Table, index: usize) -> Result<String, Refused> {
    let gone = match table.get_mut("pin") {
        Some(Item::ArrayOfTables(list)) if index < list.len() => {
            list.remove(index);
            list.is_empty()
        }
        Some(Item::Value(Value::Array(list))) if index < list.len() => {
            list.remove(index);
            list.is_empty()
        }
        _ => return Err(Refused::new("nothing-there", "There is no such pin any more.")),
    };
    if gone {
        table.remove("pin");
    }
    Ok("Took a pin away".to_string())
}

/// Pins follow their patches to their new numbers. What names a patch that is gone goes too, and what names a seam between two
/// of which one was divided, since it is no longer told which.
pub(super) fn renumber(table: &mut Table, entries: &[Entry]) {
    let now = |old: i64| -> Vec<i64> {
        let from = usize::try_from(old - 1).ok();
        let places = entries.iter().enumerate();
        places
            .filter(|(_, entry)| from.is_some() && entry.from == from)
            .map(|(i, _)| i as i64 + 1)
            .collect()
    };
    let mut empty = false;
    match table.get_mut("pin") {
        Some(Item::ArrayOfTables(list)) => {
            list.retain_tables(|pin| renumbered(pin, &now));
            empty = list.is_empty();
        }
        Some(Item::Value(Value::Array(list))) => {
            let mut at = 0;
            while at < list.len() {
                let keep = list
                    .get_mut(at)
                    .and_then(Value::as_inline_table_mut)
                    .is_none_or(|pin| renumbered(pin, &now));
                if keep {
                    at += 1;
                } else {
                    list.remove(at);
                }
            }
            empty = list.is_empty();
        }
        _ => {}
    }
    if empty {
        table.remove("pin");
    }
}

/// Whether anything of the pin is left.
fn renumbered(pin: &mut dyn TableLike, now: &dyn Fn(i64) -> Vec<i64>) -> bool {
    let keys = [Pinned::Together, Pinned::First, Pinned::Press].map(Pinned::key);
    for key in keys {
        let Some(list) = pin.get_mut(key).and_then(Item::as_array_mut) else {
            continue;
        };
        let old: Vec<i64> = list.iter().filter_map(Value::as_integer).collect();
        let new: Vec<i64> = old.iter().flat_map(|n| now(*n)).collect();
        if old == new {
            continue;
        }
        let pair = key != Pinned::Together.key();
        if new.len() < 2 || (pair && new.len() != 2) {
            pin.remove(key);
            if !pair {
                pin.remove("method");
            }
        } else {
            *list = new.into_iter().collect::<Array>();
        }
    }
    keys.iter().any(|key| pin.contains_key(key))
}

/// `retain` for lists of tables.
trait RetainTables {
    fn retain_tables(&mut self, keep: impl FnMut(&mut Table) -> bool);
}

impl RetainTables for ArrayOfTables {
    fn retain_tables(&mut self, mut keep: impl FnMut(&mut Table) -> bool) {
        let mut at = 0;
        while at < self.len() {
            if self.get_mut(at).is_some_and(&mut keep) {
                at += 1;
            } else {
                self.remove(at);
            }
        }
    }
}
