//! A pin written into a design file: how some patches of a block are made, all else of the file as it was.

use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, Value};

/// The file's text with one pin more: these patches of the block, numbered from 0, are made by this method. `None` where the
/// text is no design file or has no such block.
pub fn with_pin(text: &str, block: &str, patches: &[u32], method: &str) -> Option<String> {
    let mut file: DocumentMut = text.parse().ok()?;
    let numbers: Array = patches.iter().map(|p| i64::from(*p) + 1).collect();
    let blocks = file.get_mut("block")?.as_array_of_tables_mut()?;
    let named = |table: &&mut Table| table.get("name").and_then(Item::as_str) == Some(block);
    let block = blocks.iter_mut().find(named)?;
    match block.get_mut("pin") {
        None => {
            let mut pins = toml_edit::ArrayOfTables::new();
            pins.push(pin_table(numbers, method));
            block.insert("pin", Item::ArrayOfTables(pins));
        }
        Some(Item::ArrayOfTables(pins)) => pins.push(pin_table(numbers, method)),
        Some(Item::Value(Value::Array(pins))) => {
            let mut pin = InlineTable::new();
            pin.insert("patches", numbers.into());
            pin.insert("method", method.into());
            pins.push(pin);
        }
        Some(_) => return None,
    }
    Some(file.to_string())
}

fn pin_table(numbers: Array, method: &str) -> Table {
    let mut pin = Table::new();
    pin.insert("patches", toml_edit::value(numbers));
    pin.insert("method", toml_edit::value(method));
    pin
}

#[cfg(test)]
mod tests {
    use super::with_pin;

    const FILE: &str = "format = 1 # one\n[[block]]\nname = \"a\" # first\npatches = []\n[[block]]\nname = \"b\"\npin = [{ first = [1, 2] }]\n";

    #[test]
    fn a_pin_joins_those_there_are_and_comments_stay() {
        let with = with_pin(FILE, "a", &[0, 2], "template").expect("a block");
        assert!(with.contains("# one") && with.contains("# first"), "{with}");
        assert!(
            with.contains("[[block.pin]]\npatches = [1, 3]\nmethod = \"template\"\n"),
            "{with}"
        );
        let with = with_pin(FILE, "b", &[1, 2], "template").expect("a block");
        assert!(
            with.contains("first = [1, 2]") && with.contains("patches = [2, 3]"),
            "{with}"
        );
        assert_eq!(with_pin(FILE, "c", &[0, 1], "template"), None);
        assert_eq!(with_pin("not = [a file", "a", &[0, 1], "template"), None);
    }
}
