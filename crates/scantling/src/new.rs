//! `scantling new`: a small design to begin with.

use crate::args::NewArgs;
use crate::print;
use crate::trouble::{Outcome, Trouble};
use std::fs::{self, OpenOptions};
use std::io::Write;
use std::path::{Path, PathBuf};

const ENDING: &str = ".quilt.toml";

/// Runs the command.
///
/// # Errors
/// When the name is not one a file can have, the file is there already, or it cannot be written.
pub fn run(args: &NewArgs) -> Result<Outcome, Trouble> {
    let nameless = || Trouble::unusable(&args.name, "a design needs a name, and one that is text (UTF-8)");
    let name = args
        .name
        .file_name()
        .and_then(|name| name.to_str())
        .ok_or_else(nameless)?;
    let stem = name.strip_suffix(ENDING).unwrap_or(name);
    if stem.is_empty() {
        return Err(nameless());
    }
    let file = args.name.with_file_name(format!("{stem}{ENDING}"));
    put_new(&file, &starting_design(stem, args.metric))?;
    print::say(&format!("{}\n", print::harmless(&file.display().to_string())))?;
    Ok(Outcome::Good)
}

fn put_new(file: &PathBuf, text: &str) -> Result<(), Trouble> {
    let mut opened = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(file)
        .map_err(|error| match error.kind() {
            std::io::ErrorKind::AlreadyExists => Trouble::unusable(file, "it is there already and stays as it is"),
            _ => Trouble::with_file(file, &error),
        })?;
    let written = opened.write_all(text.as_bytes()).and_then(|()| opened.sync_all());
    written.map_err(|error| {
        // Half a design is worse than none.
        let _ = fs::remove_file(file);
        Trouble::with_file(Path::new(file), &error)
    })
}

/// "lantern-harbour" as a title: "Lantern harbour".
fn title(stem: &str) -> String {
    let words = stem.replace(['-', '_'], " ");
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => words,
    }
}

/// A text between quotation marks in TOML.
fn quoted(text: &str) -> String {
    let mut inside = String::new();
    for c in text.chars() {
        match c {
            '"' | '\\' => inside.extend(['\\', c]),
            c if c.is_control() => inside.push(' '),
            c => inside.push(c),
        }
    }
    format!("\"{inside}\"")
}

fn starting_design(stem: &str, metric: bool) -> String {
    let title = quoted(&title(stem));
    let (units, block, ruler, border, strip) = if metric {
        ("metric", "20 cm", "0.25 cm", "5 cm", "6 cm")
    } else {
        ("inch", "8 in", "1/8 in", "2 in", "2 1/4 in")
    };
    format!(
        r##"# A quilt design. docs/format.md tells all that may stand here.
format = 1

[quilt]
title = {title}
units = "{units}"
ruler = "{ruler}"             # the smallest mark of the ruler that cut sizes may use

# Cloth by its role; the patches name the role, so that a colour changes in one place.
[[fabric]]
name = "ground"
label = "Cream"
color = "#f1e7d0"

[[fabric]]
name = "frame"
label = "Deep green"
color = "#24513f"

[[fabric]]
name = "heart"
label = "Brick red"
color = "#a8322a"

# A block is drawn in grid units, y down: M goes to a place, H and V draw across and down, L anywhere, Z closes.
[[block]]
name = "window"
size = "{block}"              # finished, without seams
grid = [4, 4]
patches = [
  {{ fabric = "frame", path = "M0 0 H4 V1 H0 Z" }},
  {{ fabric = "ground", path = "M0 1 H1 V3 H0 Z" }},
  {{ fabric = "heart", path = "M1 1 H3 V3 H1 Z" }},
  {{ fabric = "ground", path = "M3 1 H4 V3 H3 Z" }},
  {{ fabric = "frame", path = "M0 3 H4 V4 H0 Z" }},
]

# Every second block is turned, so that its seams never meet its neighbours' in one heap.
[layout]
kind = "straight"
rows = [
  ["window", "window@90", "window"],
  ["window@90", "window", "window@90"],
]

[[border]]
width = "{border}"
fabric = "frame"

[finish]
binding = {{ fabric = "heart", strip = "{strip}" }}
skip = ["backing", "batting"]
"##
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_name_makes_a_title() {
        assert_eq!(title("lantern-harbour"), "Lantern harbour");
        assert_eq!(title("éclat"), "Éclat");
        assert_eq!(quoted("a \"b\" \\ \u{7}"), "\"a \\\"b\\\" \\\\  \"");
    }

    #[test]
    fn both_beginnings_are_designs() {
        for metric in [false, true] {
            let read = design::read_design(&starting_design("a \"name\"", metric));
            assert!(read.is_ok(), "metric: {metric}");
        }
    }
}
