//! The booklets of all examples, in all sizes and prints: everything lies on its sheet.

use book::compose;
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
