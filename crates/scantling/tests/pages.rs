//! The booklets of all examples, in all sizes and prints: everything lies on its sheet.

use book::{compose, compose_living, compose_living_section};
use std::collections::BTreeSet;
use std::path::Path;
use workshop::file::Photos;
use workshop::handing::{Print, Ready};

/// Where something runs over in one example's booklets.
fn run_over(file: &Path) -> Vec<String> {
    let text = std::fs::read_to_string(file).expect("an example");
    let design = design::read_design(&text).expect("a design");
    let photos = Photos::of(file.parent().expect("a folder"));
    let mut found = Vec::new();
    for size in design.size_names() {
        let sized = design.at_size(size).expect("a size of its own");
        let Ok(ready) = Ready::of(&sized, &photos, || true) else {
            panic!("{}: no plan", file.display());
        };
        let (source, _) = ready.source(None).expect("the whole");
        for large in [false, true] {
            let print = Print {
                left_handed: large,
                large,
            };
            let book = compose(&source, &print.edition(ready.measure));
            for over in book.runs_over().expect("pages") {
                found.push(format!(
                    "{} {size}{} page {}: {} by {:.1} pt",
                    file.file_name().unwrap_or_default().display(),
                    if large { " in large print" } else { "" },
                    over.page,
                    over.what,
                    over.by
                ));
            }
        }
    }
    found
}

#[test]
fn all_that_is_printed_lies_on_its_sheet() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let entries = std::fs::read_dir(folder).expect("the examples");
    let mut files: Vec<_> = entries.map(|entry| entry.expect("an entry").path()).collect();
    files.retain(|file| file.to_string_lossy().ends_with(".quilt.toml"));
    files.sort();
    assert!(files.len() >= 10);
    let found: Vec<String> = files.iter().flat_map(|file| run_over(file)).collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn a_section_made_alone_is_the_one_of_the_whole_book() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    for name in [
        "lantern-harbour",
        "storm-lamps",
        "quay-stones",
        "tide-pools",
        "wheelhouse",
    ] {
        let text = std::fs::read_to_string(folder.join(format!("{name}.quilt.toml"))).expect("an example");
        let design = design::read_design(&text).expect("a design");
        let Ok(ready) = Ready::of(&design, &Photos::of(&folder), || true) else {
            panic!("{name}: no plan");
        };
        let (source, _) = ready.source(None).expect("the whole");
        let edition = Print::default().edition(ready.measure);
        let whole = compose_living(&source, &edition);
        let names: BTreeSet<&String> = whole.sections.iter().map(|section| &section.name).collect();
        assert!(names.len() > 5, "{name}: {names:?}");
        for of in names {
            let alone = compose_living_section(&source, &edition, of);
            let there: Vec<_> = whole.sections.iter().filter(|section| section.name == *of).collect();
            assert_eq!(alone.sections.iter().collect::<Vec<_>>(), there, "{name}: {of}");
            assert_eq!((&alone.whys, &alone.colors), (&whole.whys, &whole.colors));
        }
    }
}
