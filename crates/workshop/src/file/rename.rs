//! A fabric or a block renamed wherever the file names it.

use super::shelf::is_name;
use super::wish::Refused;
use toml_edit::{Array, DocumentMut, InlineTable, Item, Key, Table, TableLike, Value};

/// Keys whose text names a fabric.
const FABRIC_KEYS: [&str; 4] = ["fabric", "fill", "cornerstones", "become"];

/// Renames.
pub(super) fn rename(document: &mut DocumentMut, list: &str, from: &str, to: &str) -> Result<(), Refused> {
    if !is_name(to) {
        return Err(Refused::new(
            "not-a-name",
            "A name has small letters, digits and hyphens only, and begins with a letter or digit.",
        ));
    }
    let names = |item: Option<&Item>| -> Vec<String> {
        item.and_then(Item::as_array_of_tables).map_or(Vec::new(), |tables| {
            tables
                .iter()
                .filter_map(|t| t.get("name").and_then(Item::as_str).map(str::to_string))
                .collect()
        })
    };
    let known = names(document.get(list));
    if !known.iter().any(|name| name == from) {
        return Err(Refused::new(
            "nothing-there",
            format!("There is no {list} called {from} any more."),
        ));
    }
    if known.iter().any(|name| name == to) {
        return Err(Refused::new(
            "name-taken",
            format!("There is a {list} called {to} already."),
        ));
    }
    let change = Change {
        fabric: list == "fabric",
        from,
        to,
    };
    change.in_table(document.as_table_mut(), "");
    Ok(())
}

struct Change<'a> {
    fabric: bool,
    from: &'a str,
    to: &'a str,
}

impl Change<'_> {
    fn in_table(&self, table: &mut dyn TableLike, inside: &str) {
        let own = if self.fabric { "fabric" } else { "block" };
        let keys: Vec<String> = table.iter().map(|(key, _)| key.to_string()).collect();
        for key in keys {
            let values_are_fabrics = self.fabric && inside == "recolor";
            let names = (key == "name" && inside == own)
                || (self.fabric && (FABRIC_KEYS.contains(&key.as_str()) || values_are_fabrics))
                || (!self.fabric && key == "block");
            if let Some(item) = table.get_mut(&key) {
                self.in_item(item, &key, names);
            }
        }
    }

    /// Whether a table's keys are names too: maps from role to role, recolourings and colourways; a part's blocks.
    fn keys_are_names(&self, inside: &str) -> bool {
        match self.fabric {
            true => matches!(inside, "recolor" | "fabrics"),
            false => inside == "blocks",
        }
    }

    /// A key with its name changed, in its place and with its comments.
    fn key(&self, key: Key) -> Key {
        if key.get() != self.from {
            return key;
        }
        Key::new(self.to)
            .with_leaf_decor(key.leaf_decor().clone())
            .with_dotted_decor(key.dotted_decor().clone())
    }

    fn in_item(&self, item: &mut Item, key: &str, names: bool) {
        match item {
            Item::Table(table) => {
                self.in_table(table as &mut Table, key);
                if self.keys_are_names(key) && table.contains_key(self.from) {
                    let names: Vec<String> = table.iter().map(|(name, _)| name.to_string()).collect();
                    for name in names {
                        if let Some((key, item)) = table.remove_entry(&name) {
                            table.insert_formatted(&self.key(key), item);
                        }
                    }
                }
            }
            Item::ArrayOfTables(tables) => tables.iter_mut().for_each(|table| self.in_table(table, key)),
            Item::Value(value) => self.in_value(value, key, names),
            Item::None => {}
        }
    }

    fn in_value(&self, value: &mut Value, key: &str, names: bool) {
        match value {
            Value::String(text) => {
                let renamed = if !self.fabric && matches!(key, "rows" | "units" | "corners") {
                    self.cell(text.value())
                } else if names && text.value() == self.from {
                    Some(self.to.to_string())
                } else {
                    None
                };
                if let Some(new) = renamed {
                    let mut new = Value::from(new);
                    *new.decor_mut() = value.decor().clone();
                    *value = new;
                }
            }
            Value::InlineTable(table) => {
                self.in_table(table as &mut InlineTable, key);
                if self.keys_are_names(key) && table.contains_key(self.from) {
                    let names: Vec<String> = table.iter().map(|(name, _)| name.to_string()).collect();
                    for name in names {
                        if let Some((key, value)) = table.remove_entry(&name) {
                            let key = self.key(key);
                            table.entry_format(&key).or_insert(value);
                        }
                    }
                }
            }
            Value::Array(array) => self.in_array(array, key, names),
            _ => {}
        }
    }

    fn in_array(&self, array: &mut Array, key: &str, names: bool) {
        array.iter_mut().for_each(|value| self.in_value(value, key, names));
    }

    /// A cell with its block renamed.
    fn cell(&self, text: &str) -> Option<String> {
        let end = text.find(['~', '@']).unwrap_or(text.len());
        (&text[..end] == self.from).then(|| format!("{}{}", self.to, &text[end..]))
    }
}
