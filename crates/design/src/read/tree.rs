//! The file's tables, lists and values with their places: TOML without the ways it can be written.

use std::ops::Range;
use toml_edit::{Item, Table, Value as Toml};

/// A value and the bytes it stands on.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub span: Range<usize>,
    pub value: Value,
}

/// A key, the bytes it stands on, and its value.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    pub key: String,
    pub at: Range<usize>,
    pub node: Node,
}

/// A value.
#[derive(Clone, Debug)]
pub(crate) enum Value {
    Text(String),
    Whole(i64),
    Number(f64),
    Truth(bool),
    Date(String),
    List(Vec<Node>),
    Table(Vec<Entry>),
}

impl Value {
    /// In words, for messages.
    pub(crate) fn kind(&self) -> &'static str {
        match self {
            Value::Text(_) => "a text",
            Value::Whole(_) | Value::Number(_) => "a number",
            Value::Truth(_) => "true or false",
            Value::Date(_) => "a date",
            Value::List(_) => "a list",
            Value::Table(_) => "a table",
        }
    }
}

/// The whole file. The parser refuses nesting deeper than 80 levels, so the walk cannot run out of stack.
pub(crate) fn of_table(table: &Table) -> Vec<Entry> {
    table
        .iter()
        .filter_map(|(key, item)| {
            let at = table.key(key).and_then(|k| k.span()).unwrap_or(0..0);
            let node = of_item(item, &at)?;
            Some(Entry {
                key: key.to_string(),
                at,
                node,
            })
        })
        .collect()
}

fn of_item(item: &Item, key: &Range<usize>) -> Option<Node> {
    Some(match item {
        Item::None => return None,
        Item::Value(value) => of_value(value, key),
        Item::Table(table) => Node {
            span: table.span().unwrap_or_else(|| key.clone()),
            value: Value::Table(of_table(table)),
        },
        Item::ArrayOfTables(tables) => Node {
            span: key.clone(),
            value: Value::List(
                tables
                    .iter()
                    .map(|table| Node {
                        span: table.span().unwrap_or_else(|| key.clone()),
                        value: Value::Table(of_table(table)),
                    })
                    .collect(),
            ),
        },
    })
}

fn of_value(value: &Toml, outer: &Range<usize>) -> Node {
    let span = value.span().unwrap_or_else(|| outer.clone());
    let value = match value {
        Toml::String(text) => Value::Text(text.value().clone()),
        Toml::Integer(number) => Value::Whole(*number.value()),
        Toml::Float(number) => Value::Number(*number.value()),
        Toml::Boolean(truth) => Value::Truth(*truth.value()),
        Toml::Datetime(date) => Value::Date(date.value().to_string()),
        Toml::Array(list) => Value::List(list.iter().map(|item| of_value(item, &span)).collect()),
        Toml::InlineTable(table) => Value::Table(
            table
                .iter()
                .map(|(key, item)| {
                    let at = table.key(key).and_then(|k| k.span()).unwrap_or_else(|| span.clone());
                    let node = of_value(item, &at);
                    Entry {
                        key: key.to_string(),
                        at,
                        node,
                    }
                })
                .collect(),
        ),
    };
    Node { span, value }
}
