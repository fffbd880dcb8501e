//! Placing blocks of the built-in collection: names, roles, and what is said when they do not fit the file.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use design::{Design, FileError, read_design};

const HEAD: &str = r##"format = 1
[quilt]
title = "Sampler"
[[fabric]]
name = "dark"
color = "#1f3a4d"
[[fabric]]
name = "light"
color = "#f1e7d3"
[[fabric]]
name = "rust"
color = "#a9472e"
"##;

fn read(rest: &str) -> Result<Design, Vec<FileError>> {
    read_design(&format!("{HEAD}{rest}"))
}

fn one_error(rest: &str) -> FileError {
    let mut errors = read(rest).unwrap_err();
    assert_eq!(errors.len(), 1, "{errors:?}");
    errors.remove(0)
}

#[test]
fn a_cell_takes_a_block_of_the_collection_at_its_own_size() {
    let design = read(
        "[layout]\nrows = [[\"std/pinwheel\", \"std/pinwheel@90\"], [\"std/pinwheel~\", \"std/pinwheel~@180\"]]\n",
    )
    .unwrap();
    assert_eq!(design.blocks.len(), 1);
    assert_eq!(design.blocks[0].name, "std/pinwheel");
    assert_eq!(design.top_size(), (12.0, 12.0));
    assert!(design.findings().is_empty(), "{:?}", design.findings());
    assert_eq!(design.top_picture().faces.len(), 32);
}

#[test]
fn only_what_is_placed_is_brought_in() {
    let design = read(
        "[[block]]\nname = \"own\"\nsize = \"6 in\"\nnote = \"std/bears-paw\"\nplace = [{ block = \"std/pinwheel\", at = [0, 0], size = 1, recolor = { dark = \"rust\" } }]\n\
         [layout]\nrows = [[\"own\"]]\n",
    )
    .unwrap();
    let names: Vec<&str> = design.blocks.iter().map(|b| b.name.as_str()).collect();
    assert_eq!(names, ["own", "std/pinwheel"]);
    let picture = design.top_picture();
    assert!(picture.faces.iter().all(|face| face.fabric.as_str() != "dark"));
    assert_eq!(picture.faces.iter().filter(|f| f.fabric.as_str() == "rust").count(), 4);
}

#[test]
fn a_file_with_other_roles_maps_them() {
    // No fabric of the file has a role's name; every role is mapped where the block is placed.
    let text = r##"format = 1
[quilt]
title = "Night"
[[fabric]]
name = "night"
color = "#1f3a4d"
[[fabric]]
name = "foam"
color = "#f1e7d3"
[[block]]
name = "wheel"
size = "9 in"
place = [{ block = "std/pinwheel", at = [0, 0], size = 1, recolor = { dark = "night", light = "foam" } }]
[layout]
rows = [["wheel"]]
"##;
    let design = read_design(text).unwrap();
    assert!(design.findings().is_empty(), "{:?}", design.findings());
    assert!(design.sheet().is_ok());
    // One of the two left out is an error that says so.
    let errors = read_design(&text.replace(", light = \"foam\"", "")).unwrap_err();
    assert_eq!(errors.len(), 1, "{errors:?}");
    assert_eq!(errors[0].code, "unknown-name");
    assert!(errors[0].message.contains("\"light\""), "{}", errors[0].message);
    assert!(errors[0].expected.contains("recolor"), "{}", errors[0].expected);
}

#[test]
fn a_slip_in_the_name_finds_its_block() {
    let error = one_error("[layout]\nrows = [[\"std/pinwheal\"]]\n");
    assert_eq!(error.code, "unknown-name");
    assert!(error.expected.contains("\"std/pinwheel\""), "{}", error.expected);
    assert_eq!(one_error("[layout]\nrows = [[\"pinwheal\"]]\n").code, "unknown-name");
    let errors = read("[layout]\nrows = [[\"std/\"]]\n").unwrap_err();
    assert!(errors.iter().any(|e| e.code == "bad-cell"), "{errors:?}");
}

#[test]
fn a_role_that_is_no_fabric_is_an_error() {
    // The sawtooth star's centre is medium.
    let error = one_error("[layout]\nrows = [[\"std/sawtooth-star\"]]\n");
    assert_eq!((error.code, error.line), ("unknown-name", 14));
    assert!(error.message.contains("\"medium\""), "{}", error.message);
    // The collection's roles may be mapped whether this block has them or not; other words may not.
    let error = one_error(
        "[[block]]\nname = \"own\"\nsize = 6\nplace = [{ block = \"std/pinwheel\", at = [0, 0], size = 1, recolor = { medium = \"rust\", ground = \"rust\" } }]\n\
         [layout]\nrows = [[\"own\"]]\n",
    );
    assert!(error.message.contains("\"ground\""), "{}", error.message);
}

#[test]
fn every_file_of_the_collection_reads_and_fills_its_block() {
    for (name, text) in design::collection() {
        let design = read_design(text).unwrap_or_else(|errors| panic!("{name}: {errors:?}"));
        assert_eq!(design::collection_file(name), Some(*text));
        let stops: Vec<_> = design.findings().into_iter().filter(terms::Finding::is_stop).collect();
        assert!(stops.is_empty(), "{name}: {stops:?}");
    }
    assert_eq!(design::collection_file("no-such-block"), None);
}
