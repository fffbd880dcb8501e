//! Values set by their place in the file, with what stands round them kept.

use super::wish::{Refused, Step};
use serde_json::Value as Json;
use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, Value};

/// Sets or takes away the value at a place; tables on the way are made where they are missing.
pub(super) fn set(document: &mut DocumentMut, at: &[Step], to: &Json) -> Result<(), Refused> {
    let Some((last, way)) = at.split_last() else {
        return Err(no_place());
    };
    let mut here = Spot::Table(document.as_table_mut());
    for (i, step) in way.iter().enumerate() {
        let list_next = matches!(at.get(i + 1), Some(Step::Index(_)));
        here = here.enter(step, list_next, to.is_null())?;
    }
    match (here, last) {
        (Spot::Table(table), Step::Key(key)) => put(table, key, to),
        (Spot::Inline(table), Step::Key(key)) => {
            match of_json(to) {
                Some(value) => match table.get_mut(key) {
                    Some(old) => replace(old, value),
                    None => {
                        table.insert(key, value);
                    }
                },
                None => {
                    table.remove(key);
                }
            }
            Ok(())
        }
        (Spot::Array(array), Step::Index(i)) => {
            match of_json(to) {
                Some(value) if *i < array.len() => {
                    if let Some(old) = array.get_mut(*i) {
                        replace(old, value);
                    }
                }
                Some(value) if *i == array.len() => array.push(value),
                None if *i < array.len() => {
                    array.remove(*i);
                }
                _ => return Err(no_place()),
            }
            Ok(())
        }
        _ => Err(no_place()),
    }
}

fn no_place() -> Refused {
    Refused::new("no-such-place", "There is no such place in the file any more.")
}

/// A place on the way.
enum Spot<'d> {
    Table(&'d mut Table),
    Inline(&'d mut InlineTable),
    Array(&'d mut Array),
    Tables(&'d mut toml_edit::ArrayOfTables),
}

impl<'d> Spot<'d> {
    fn enter(self, step: &Step, list_next: bool, only_if_there: bool) -> Result<Spot<'d>, Refused> {
        match (self, step) {
            (Spot::Table(table), Step::Key(key)) => {
                if !table.contains_key(key) {
                    if only_if_there {
                        return Err(no_place());
                    }
                    let new = if list_next {
                        Item::Value(Value::Array(Array::new()))
                    } else {
                        let mut made = Table::new();
                        made.decor_mut().set_prefix("\n");
                        Item::Table(made)
                    };
                    table.insert(key, new);
                }
                table.get_mut(key).ok_or_else(no_place).and_then(Spot::of_item)
            }
            (Spot::Inline(table), Step::Key(key)) => {
                if !table.contains_key(key) {
                    let new = if list_next {
                        Value::Array(Array::new())
                    } else {
                        Value::InlineTable(InlineTable::new())
                    };
                    table.insert(key, new);
                }
                table.get_mut(key).ok_or_else(no_place).and_then(Spot::of_value)
            }
            (Spot::Array(array), Step::Index(i)) => array.get_mut(*i).ok_or_else(no_place).and_then(Spot::of_value),
            (Spot::Tables(tables), Step::Index(i)) => tables.get_mut(*i).map(Spot::Table).ok_or_else(no_place),
            _ => Err(no_place()),
        }
    }

    fn of_item(item: &'d mut Item) -> Result<Spot<'d>, Refused> {
        match item {
            Item::Table(table) => Ok(Spot::Table(table)),
            Item::ArrayOfTables(tables) => Ok(Spot::Tables(tables)),
            Item::Value(value) => Spot::of_value(value),
            Item::None => Err(no_place()),
        }
    }

    fn of_value(value: &'d mut Value) -> Result<Spot<'d>, Refused> {
        match value {
            Value::InlineTable(table) => Ok(Spot::Inline(table)),
            Value::Array(array) => Ok(Spot::Array(array)),
            _ => Err(no_place()),
        }
    }
}

fn put(table: &mut Table, key: &str, to: &Json) -> Result<(), Refused> {
    match of_json(to) {
        None => {
            table.remove(key);
        }
        Some(value) => match table.get_mut(key) {
            Some(Item::Value(old)) => replace(old, value),
            Some(other) => *other = Item::Value(value),
            None => {
                table.insert(key, Item::Value(value));
            }
        },
    }
    Ok(())
}

/// A new value with the spaces and comments of the old.
fn replace(old: &mut Value, mut new: Value) {
    *new.decor_mut() = old.decor().clone();
    *old = new;
}

/// A value of the browser as one of the file; `null` is none.
pub(super) fn of_json(value: &Json) -> Option<Value> {
    Some(match value {
        Json::Null => return None,
        Json::Bool(yes) => Value::from(*yes),
        Json::Number(number) => match number.as_i64() {
            Some(whole) => Value::from(whole),
            None => Value::from(number.as_f64()?),
        },
        Json::String(text) => Value::from(text.as_str()),
        Json::Array(list) => Value::Array(list.iter().filter_map(of_json).collect()),
        Json::Object(map) => {
            let mut table = InlineTable::new();
            for (key, value) in map {
                if let Some(value) = of_json(value) {
                    table.insert(key, value);
                }
            }
            Value::InlineTable(table)
        }
    })
}
