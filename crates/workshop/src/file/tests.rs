//! Wishes on the examples: what is asked for is done, everything else in the file stays as it was, comments too.

use super::wish::{Act, CellAct, Step, Wish, granted};
use super::{EXAMPLES, History, Shelf, ShelfError, is_name};
use serde_json::json;

fn example(name: &str) -> &'static str {
    EXAMPLES.iter().find(|(n, _)| *n == name).unwrap().1
}

fn grant(text: &str, wish: &Wish) -> Result<String, super::Refused> {
    let design = design::read_design(text).unwrap();
    granted(text, &design, wish).map(|(text, _)| text)
}

fn key(text: &str) -> Step {
    Step::Key(text.into())
}

fn lines_gone(before: &str, after: &str) -> Vec<String> {
    let kept: Vec<&str> = after.lines().collect();
    before
        .lines()
        .filter(|line| !kept.contains(line))
        .map(str::to_string)
        .collect()
}

#[test]
fn every_example_of_the_folder_is_on_the_shelf() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples");
    let mut found: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .filter_map(|entry| {
            entry
                .unwrap()
                .file_name()
                .to_str()?
                .strip_suffix(super::ENDING)
                .map(str::to_string)
        })
        .collect();
    found.sort();
    let named: Vec<&str> = EXAMPLES.iter().map(|(name, _)| *name).collect();
    assert_eq!(found, named);
}

#[test]
fn a_value_is_set_and_nothing_else_changes() {
    let text = example("harbour-windows");
    let wish = Wish::Set {
        at: vec![key("quilt"), key("title")],
        to: json!("Harbour \"Doors\""),
    };
    let after = grant(text, &wish).unwrap();
    assert_eq!(lines_gone(text, &after).len(), 1);
    assert_eq!(design::read_design(&after).unwrap().quilt.title, "Harbour \"Doors\"");
    let wish = Wish::Set {
        at: vec![key("fabric"), Step::Index(1), key("color")],
        to: json!("#101010"),
    };
    assert_eq!(lines_gone(text, &grant(text, &wish).unwrap()).len(), 1);
    let wish = Wish::Set {
        at: vec![key("layout"), key("sashing"), key("width")],
        to: json!("3 in"),
    };
    let after = grant(text, &wish).unwrap();
    assert!(after.contains("width = \"3 in\", fabric = \"sand\""));
}

#[test]
fn what_would_be_no_design_is_refused_in_the_readers_words() {
    let text = example("harbour-windows");
    let wish = Wish::Set {
        at: vec![key("layout"), key("sashing"), key("width")],
        to: json!("three"),
    };
    let refused = grant(text, &wish).unwrap_err();
    assert!(refused.words.contains("Expected"), "{refused:?}");
}

#[test]
fn a_border_is_pieced_and_given_a_spacer_and_follows_its_blocks_name() {
    let text = example("mill-race");
    let design = design::read_design(text).unwrap();
    let block = design.blocks[0].name.clone();
    let set = |text: &str, what: &str, to: serde_json::Value| {
        let at = vec![key("border"), Step::Index(0), key(what)];
        grant(text, &Wish::Set { at, to })
    };
    let with = json!({ "width": "3 in", "fabric": design.fabrics[0].name.to_string() });
    let add = Wish::Add {
        list: "border".into(),
        with: with.as_object().unwrap().clone(),
    };
    let text = if design.borders.is_empty() {
        grant(text, &add).unwrap()
    } else {
        text.to_string()
    };
    // A plain border has no spacer.
    let refused = set(&text, "spacer", json!("auto")).unwrap_err();
    assert!(refused.words.contains("spacer"), "{refused:?}");
    let pieced = set(&text, "units", json!([block, format!("{block}@90")])).unwrap();
    let pieced = set(&pieced, "spacer", json!(["1 in", "1 1/2 in"])).unwrap();
    let rename = Wish::Rename {
        list: "block".into(),
        from: block.clone(),
        to: "renamed".into(),
    };
    let read = design::read_design(&grant(&pieced, &rename).unwrap()).unwrap();
    let border = &read.borders[0];
    let units: Vec<(&str, u8)> = border.units.iter().map(|u| (u.block.as_str(), u.quarters)).collect();
    assert_eq!(units, [("renamed", 0), ("renamed", 1)]);
    assert_eq!(border.spacer, Some(design::Spacer::Widths(1.0, 1.5)));
    // The units go only after the spacer.
    assert!(set(&pieced, "units", serde_json::Value::Null).is_err());
    let plain = set(&pieced, "spacer", serde_json::Value::Null).unwrap();
    let plain = set(&plain, "units", serde_json::Value::Null).unwrap();
    assert!(design::read_design(&plain).unwrap().borders[0].units.is_empty());
}

#[test]
fn lists_grow_shrink_and_change_their_order() {
    let text = example("harbour-windows");
    let with = json!({ "width": "4 in", "fabric": "night" });
    let wish = Wish::Add {
        list: "border".into(),
        with: with.as_object().unwrap().clone(),
    };
    let bordered = grant(text, &wish).unwrap();
    assert_eq!(design::read_design(&bordered).unwrap().borders.len(), 1);
    let moved = grant(
        text,
        &Wish::Move {
            list: "fabric".into(),
            from: 0,
            to: 2,
        },
    )
    .unwrap();
    let names: Vec<String> = design::read_design(&moved)
        .unwrap()
        .fabrics
        .iter()
        .map(|f| f.name.to_string())
        .collect();
    assert_eq!(names, ["night", "brick", "foam", "sand"]);
    let gone = grant(
        &bordered,
        &Wish::Take {
            list: "border".into(),
            index: 0,
        },
    )
    .unwrap();
    assert!(design::read_design(&gone).unwrap().borders.is_empty());
    // A fabric still in use cannot go.
    assert!(
        grant(
            text,
            &Wish::Take {
                list: "fabric".into(),
                index: 0
            }
        )
        .is_err()
    );
}

#[test]
fn a_name_changes_everywhere() {
    let text = example("harbour-windows");
    let wish = |list: &str, from: &str, to: &str| Wish::Rename {
        list: list.into(),
        from: from.into(),
        to: to.into(),
    };
    let after = grant(text, &wish("fabric", "night", "midnight")).unwrap();
    assert!(
        !after.contains("\"night\"") && after.contains("{ midnight = \"brick\" }"),
        "{after}"
    );
    let after = grant(text, &wish("block", "pinwheel", "whirl")).unwrap();
    assert!(!after.contains("\"pinwheel\""));
    assert_eq!(
        grant(text, &wish("block", "panes", "window")).unwrap_err().code,
        "name-taken"
    );
    assert_eq!(
        grant(text, &wish("block", "panes", "../x")).unwrap_err().code,
        "not-a-name"
    );
}

#[test]
fn a_cut_changes_one_patch_and_keeps_the_comments() {
    let text = example("harbour-windows");
    let wish = Wish::Draw {
        block: "half".into(),
        act: Act::Divide {
            from: [0.0, 0.0],
            to: [3.0, 3.0],
            repeat: String::new(),
        },
    };
    let after = grant(text, &wish).unwrap();
    let design = design::read_design(&after).unwrap();
    assert_eq!(design.block("half").unwrap().patches.len(), 4);
    for comment in text.lines().filter(|line| line.starts_with('#')) {
        assert!(after.contains(comment), "{comment}");
    }
    let findings = design.findings();
    assert!(!findings.iter().any(|f| f.is_stop()), "{findings:?}");
    // Undone by joining again, the drawing is what it was.
    let join = |from: [f64; 2], to: [f64; 2]| Wish::Draw {
        block: "half".into(),
        act: Act::Join {
            from,
            to,
            repeat: String::new(),
        },
    };
    let joined = grant(&after, &join([1.0, 0.5], [0.5, 1.0])).unwrap();
    let joined = grant(&joined, &join([2.0, 2.5], [2.5, 2.0])).unwrap();
    let corners = |text: &str| -> Vec<(String, Vec<String>)> {
        let design = design::read_design(text).unwrap();
        let patches = &design.block("half").unwrap().patches;
        let told = |patch: &design::Patch| {
            let mut corners: Vec<String> = patch.outline.corners().iter().map(|c| format!("{c:?}")).collect();
            corners.sort();
            (patch.fabric.to_string(), corners)
        };
        patches.iter().map(told).collect()
    };
    assert_eq!(corners(&joined), corners(text));
}

#[test]
fn cells_are_laid_turned_flipped_swapped_and_resized() {
    let text = example("harbour-windows");
    let cells = |text: &str, act: CellAct| grant(text, &Wish::Cells { act }).unwrap();
    let turned = cells(text, CellAct::Turn { row: 0, column: 1 });
    assert!(turned.contains("[\"panes\", \"window@90\", \"panes\"]"), "{turned}");
    let flipped = cells(&turned, CellAct::Flip { row: 0, column: 1 });
    assert!(flipped.contains("\"window~@270\""), "{flipped}");
    let larger = cells(text, CellAct::Size { rows: 4, columns: 5 });
    let design = design::read_design(&larger).unwrap();
    match &design.layout.kind {
        design::LayoutKind::Straight { rows, .. } => {
            assert_eq!((rows.len(), rows[3].len()), (4, 5));
            assert!(rows.iter().flatten().all(Option::is_some));
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn undo_has_no_end_and_outlives_the_program() {
    let folder = std::env::temp_dir().join(format!("workshop-history-{}", std::process::id()));
    let place = folder.join("q.history");
    let mut history = History::open(&place, "one").unwrap();
    history.did("second", "two").unwrap();
    history.did("third", "three").unwrap();
    assert_eq!(history.undo().unwrap().as_deref(), Some("two"));
    drop(history);
    // The last line torn by a power cut.
    let mut bytes = std::fs::read(&place).unwrap();
    bytes.extend_from_slice(b"{\"did\":{\"label\":\"half");
    std::fs::write(&place, bytes).unwrap();
    let mut again = History::open(&place, "two").unwrap();
    assert_eq!((again.last(), again.next()), (Some("second"), Some("third")));
    assert_eq!(again.redo().unwrap().as_deref(), Some("three"));
    assert_eq!(again.undo().unwrap().as_deref(), Some("two"));
    assert_eq!(again.undo().unwrap().as_deref(), Some("one"));
    assert_eq!(again.undo().unwrap(), None);
    again.did("another way", "four").unwrap();
    assert_eq!(again.next(), None);
    let outside = History::open(&place, "by an editor").unwrap();
    assert_eq!(outside.last(), Some("Changed outside the workshop"));
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn the_shelf_keeps_to_its_folder() {
    let folder = std::env::temp_dir().join(format!("workshop-shelf-{}", std::process::id()));
    let shelf = Shelf::open(&folder).unwrap();
    assert_eq!(shelf.quilts().unwrap().len(), EXAMPLES.len());
    for bad in ["", "../x", "a/b", "A", ".x", "x.toml", "-x"] {
        assert!(!is_name(bad));
        assert!(matches!(shelf.text(bad), Err(ShelfError::Missing)));
        assert!(matches!(shelf.put_new(bad, ""), Err(ShelfError::NotAName)));
    }
    shelf.rename("sails", "spars").unwrap();
    assert!(matches!(shelf.rename("spars", "tide-table"), Err(ShelfError::Taken)));
    shelf.bin_it("spars").unwrap();
    assert_eq!(shelf.binned().unwrap().len(), 1);
    shelf.take_back("spars").unwrap();
    shelf.bin_it("spars").unwrap();
    shelf.empty_bin().unwrap();
    assert!(shelf.binned().unwrap().is_empty());
    std::fs::remove_dir_all(&folder).unwrap();
}
