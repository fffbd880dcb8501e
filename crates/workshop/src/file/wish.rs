//! What the hand asks of a file, and the file as it is when the wish is granted. A wish that would leave a file that is no
//! design is refused in the reader's own words, and nothing changes.

use super::pins::Pinned;
use super::{block, cells, free, pins, rename, values};
use crate::drawing::{Refusal, Repeat};
use design::Design;
use serde::{Deserialize, Serialize};
use serde_json::Value as Json;
use toml_edit::{ArrayOfTables, DocumentMut, Item, Table};
use utoipa::ToSchema;

/// A step on the way to a value in the file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(untagged)]
pub enum Step {
    /// One of a list, from 0.
    Index(usize),
    /// A key.
    Key(String),
}

/// What the hand asks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "do", rename_all = "kebab-case")]
pub enum Wish {
    /// A value is set; `null` takes it away.
    Set {
        /// Where.
        at: Vec<Step>,
        /// What.
        #[schema(value_type = serde_json::Value)]
        to: Json,
    },
    /// One more of a list of tables (`fabric`, `block`, `border`, `size`, `colorway`, `part`, `say`).
    Add {
        /// The list.
        list: String,
        /// Its keys.
        #[schema(value_type = Object)]
        with: serde_json::Map<String, Json>,
    },
    /// One less.
    Take {
        /// The list.
        list: String,
        /// Which, from 0.
        index: usize,
    },
    /// One of a list takes another place.
    Move {
        /// The list.
        list: String,
        /// Which, from 0.
        from: usize,
        /// Where to, from 0.
        to: usize,
    },
    /// A fabric or a block gets another name, everywhere.
    Rename {
        /// `fabric` or `block`.
        list: String,
        /// Its name.
        from: String,
        /// Its new name.
        to: String,
    },
    /// Something is done to a block's cloth.
    Draw {
        /// The block.
        block: String,
        /// What.
        #[serde(flatten)]
        act: Act,
    },
    /// Something is done to the layout's cells.
    Cells {
        /// What.
        #[serde(flatten)]
        act: CellAct,
    },
    /// Something is pinned of some patches of a block.
    Pin {
        /// The block.
        block: String,
        /// What.
        what: Pinned,
        /// Their numbers in the block's list, from 1; the order tells which way a seam is pressed.
        patches: Vec<u32>,
        /// By which method they are made, where that is pinned too.
        #[serde(default)]
        method: String,
    },
    /// A pin of a block is taken away.
    Unpin {
        /// The block.
        block: String,
        /// Which, from 0.
        index: usize,
    },
    /// A block of a free layout takes another place.
    Place {
        /// Which, from 0.
        index: usize,
        /// Left top of the upright box round it, inches from the layout's left top, y down.
        at: [f64; 2],
    },
}

/// What is done to a block's cloth. Places are in inches from its top left corner, y down.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "act", rename_all = "kebab-case")]
pub enum Act {
    /// A straight cut.
    Divide {
        /// From here.
        from: [f64; 2],
        /// To here.
        to: [f64; 2],
        /// How it is repeated.
        #[serde(default)]
        repeat: String,
    },
    /// A seam is bowed.
    Bow {
        /// The seam nearest to here.
        from: [f64; 2],
        /// Through here.
        to: [f64; 2],
        /// How it is repeated.
        #[serde(default)]
        repeat: String,
    },
    /// A point where seams meet is moved.
    Shift {
        /// From here.
        from: [f64; 2],
        /// Towards here.
        to: [f64; 2],
        /// How it is repeated.
        #[serde(default)]
        repeat: String,
    },
    /// Two patches become one.
    Join {
        /// One patch lies here.
        from: [f64; 2],
        /// The other here.
        to: [f64; 2],
        /// How it is repeated.
        #[serde(default)]
        repeat: String,
    },
    /// A patch is dressed in a fabric.
    Dress {
        /// The patch lies here.
        at: [f64; 2],
        /// The role.
        fabric: String,
        /// How it is repeated.
        #[serde(default)]
        repeat: String,
    },
    /// A block is placed inside.
    Lay {
        /// Its name.
        #[serde(rename = "what")]
        placed: String,
        /// Top left of its box.
        at: [f64; 2],
        /// Width and height of its box.
        size: [f64; 2],
        /// Degrees clockwise. At another angle than a quarter turn the box is the block's before it is turned about its middle.
        #[serde(default)]
        turn: f64,
    },
    /// The placed block there is turned by a quarter, or the whole block when none is there.
    Turn {
        /// Where.
        at: Option<[f64; 2]>,
    },
    /// The placed block there is flipped, or the whole block when none is there.
    Flip {
        /// Where.
        at: Option<[f64; 2]>,
    },
    /// The placed block there is taken out.
    TakeOut {
        /// Where.
        at: [f64; 2],
        /// What its place is dressed in.
        fabric: String,
    },
}

/// What is done to the layout's cells; rows and columns from 0.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "act", rename_all = "kebab-case")]
pub enum CellAct {
    /// A block is laid into a cell ("" empties it).
    Put {
        /// Row.
        row: usize,
        /// Column.
        column: usize,
        /// As in the file: `name@90`.
        cell: String,
    },
    /// What lies in a cell is turned by a quarter.
    Turn {
        /// Row.
        row: usize,
        /// Column.
        column: usize,
    },
    /// What lies in a cell is flipped as seen.
    Flip {
        /// Row.
        row: usize,
        /// Column.
        column: usize,
    },
    /// Two cells change places.
    Swap {
        /// Row.
        row: usize,
        /// Column.
        column: usize,
        /// The other's row.
        with_row: usize,
        /// The other's column.
        with_column: usize,
    },
    /// All cells are filled with blocks taken in turn, as in the file; each may have its turn.
    Fill {
        /// In turn along each row; each row begins one further on.
        cells: Vec<String>,
    },
    /// Another kind of layout: `straight`, `on-point` or `free`; the blocks stay as far as they can.
    Kind {
        /// Which.
        kind: String,
    },
    /// So many rows and columns: cells are kept, new ones repeat the pattern of the old.
    Size {
        /// Rows.
        rows: usize,
        /// Columns.
        columns: usize,
    },
}

/// Why a wish is not granted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Refused {
    /// Stable code.
    pub code: String,
    /// What is in the way, and what would do.
    pub words: String,
}

impl Refused {
    pub(crate) fn new(code: &str, words: impl Into<String>) -> Self {
        Refused {
            code: code.to_string(),
            words: words.into(),
        }
    }
}

impl From<Refusal> for Refused {
    fn from(refusal: Refusal) -> Self {
        Refused::new(refusal.code, refusal.words)
    }
}

/// Lists of tables that may be added to and taken from.
const LISTS: [&str; 7] = ["fabric", "block", "border", "size", "colorway", "part", "say"];

/// The file's text with the wish granted, and what was done in a few words.
///
/// # Errors
/// When the wish cannot be done, or the file would no longer be a design.
pub fn granted(text: &str, design: &Design, wish: &Wish) -> Result<(String, String), Refused> {
    let mut document: DocumentMut = text
        .parse()
        .map_err(|_| Refused::new("file-is-broken", "The file cannot be read; mend it first."))?;
    let label = match wish {
        Wish::Set { at, to } => {
            values::set(&mut document, at, to)?;
            let key = at.iter().rev().find_map(|step| match step {
                Step::Key(key) => Some(key.as_str()),
                Step::Index(_) => None,
            });
            format!("Changed {}", key.unwrap_or("a value"))
        }
        Wish::Add { list, with } => {
            add(&mut document, list, with)?;
            format!("Added a {list}")
        }
        Wish::Take { list, index } => {
            let tables = tables(&mut document, list)?;
            if *index >= tables.len() {
                return Err(nothing_there(list));
            }
            tables.remove(*index);
            if tables.is_empty() {
                document.remove(list);
            }
            format!("Took a {list} away")
        }
        Wish::Move { list, from, to } => {
            let tables = tables(&mut document, list)?;
            reorder(tables, *from, *to).ok_or_else(|| nothing_there(list))?;
            format!("Moved a {list}")
        }
        Wish::Rename { list, from, to } => {
            rename::rename(&mut document, list, from, to)?;
            format!("Renamed {from} to {to}")
        }
        Wish::Draw { block: name, act } => block::draw(&mut document, design, name, act)?,
        Wish::Cells { act } => cells::change(&mut document, design, act)?,
        Wish::Pin {
            block: name,
            what,
            patches,
            method,
        } => pins::add(block::known(&mut document, name)?, *what, patches, method)?,
        Wish::Unpin { block: name, index } => pins::take(block::known(&mut document, name)?, *index)?,
        Wish::Place { index, at } => free::lay(&mut document, design, *index, *at)?,
    };
    let text = document.to_string();
    match design::read_design(&text) {
        Ok(_) => Ok((text, label)),
        Err(errors) => {
            let first = errors.first();
            Err(Refused::new(
                first.map_or("not-a-design", |error| error.code),
                first.map_or_else(
                    || "The file would no longer be a design.".to_string(),
                    |error| sentence(&error.message, &error.expected),
                ),
            ))
        }
    }
}

/// A reader's error as a sentence for someone who sees no file.
pub(super) fn sentence(message: &str, expected: &str) -> String {
    let mut letters = message.chars();
    let first = letters.next().map(char::to_uppercase);
    let mut said: String = first.into_iter().flatten().chain(letters).collect();
    if !said.ends_with('.') {
        said.push('.');
    }
    if !expected.is_empty() {
        said.push_str(&format!(" Expected is {expected}."));
    }
    said
}

/// How the repeat's word is meant; anything unknown is once.
pub(super) fn repeat_of(word: &str) -> Repeat {
    Repeat::WORDS
        .into_iter()
        .find(|(code, ..)| *code == word)
        .map_or(Repeat::Once, |(_, _, repeat)| repeat)
}

fn tables<'d>(document: &'d mut DocumentMut, list: &str) -> Result<&'d mut ArrayOfTables, Refused> {
    known(list)?;
    document
        .get_mut(list)
        .and_then(Item::as_array_of_tables_mut)
        .ok_or_else(|| nothing_there(list))
}

fn known(list: &str) -> Result<(), Refused> {
    if LISTS.contains(&list) {
        return Ok(());
    }
    Err(Refused::new("unknown-list", format!("There is no list called {list}.")))
}

fn nothing_there(list: &str) -> Refused {
    Refused::new("nothing-there", format!("There is no such {list} any more."))
}

fn add(document: &mut DocumentMut, list: &str, with: &serde_json::Map<String, Json>) -> Result<(), Refused> {
    known(list)?;
    let mut table = Table::new();
    for (key, value) in with {
        if let Some(value) = values::of_json(value) {
            table.insert(key, Item::Value(value));
        }
    }
    match document.get_mut(list).and_then(Item::as_array_of_tables_mut) {
        Some(tables) => {
            table.decor_mut().set_prefix("\n");
            tables.push(table);
        }
        None => {
            let mut tables = ArrayOfTables::new();
            table.decor_mut().set_prefix("\n");
            tables.push(table);
            document.insert(list, Item::ArrayOfTables(tables));
        }
    }
    Ok(())
}

/// Puts one table in another place; the places in the file stay where they are, so comments go with their tables.
fn reorder(tables: &mut ArrayOfTables, from: usize, to: usize) -> Option<()> {
    let mut all: Vec<Table> = tables.iter().cloned().collect();
    if from >= all.len() || to >= all.len() {
        return None;
    }
    let places: Vec<Option<isize>> = all.iter().map(Table::position).collect();
    let moved = all.remove(from);
    all.insert(to, moved);
    tables.clear();
    for (mut table, place) in all.into_iter().zip(places) {
        table.set_position(place);
        tables.push(table);
    }
    Some(())
}

/// A block's finished size in inches.
pub fn size_of_block(design: &Design, name: &str) -> Option<(f64, f64)> {
    design.block(name).map(|block| block.size)
}
