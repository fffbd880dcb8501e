//! Cloth sold cut and patterns in parts, as the program tells them.

#[allow(dead_code)] // Each test takes of it what it needs.
mod terminal;

use serde_json::Value;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use terminal::{Folder, Said, scantling};

fn with(name: &str, file: &Path, more: &[&str]) -> Said {
    let arguments = [OsStr::new(name), file.as_os_str()];
    scantling(arguments.into_iter().chain(more.iter().map(OsStr::new)))
}

fn json(said: &Said) -> Value {
    serde_json::from_str(&said.out).expect("JSON")
}

/// Nine patches in fat quarters with a binding of the same.
fn nine(folder: &Folder, dark: &str) -> PathBuf {
    let square = |x: u32, y: u32| {
        let fabric = if (x + y).is_multiple_of(2) { "dark" } else { "light" };
        format!("{{ fabric = \"{fabric}\", path = \"M{x} {y} h1 v1 h-1 Z\" }}")
    };
    let patches: Vec<String> = (0..9).map(|i| square(i % 3, i / 3)).collect();
    let row = format!("[{}]", ["\"nine\""; 5].join(", "));
    let text = format!(
        "format = 1\n[quilt]\ntitle = \"Pantry Shelf\"\n[[fabric]]\nname = \"dark\"\ncolor = \"#6b2d4e\"\nsold = \"{dark}\"\nprice = 4\n\
         [[fabric]]\nname = \"light\"\ncolor = \"#f3ead7\"\nsold = \"fat-quarter\"\nprice = 5\n[[block]]\nname = \"nine\"\nsize = \"9 in\"\n\
         grid = 3\npatches = [{}]\n[layout]\nrows = [{}]\n[finish]\nbinding = {{ fabric = \"dark\" }}\n",
        patches.join(", "),
        vec![row; 5].join(", ")
    );
    folder.file("nine.quilt.toml", text)
}

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../examples/{name}.quilt.toml"))
}

#[test]
fn fat_quarters_are_told_by_the_piece() {
    let folder = Folder::new("by-the-piece");
    let file = nine(&folder, "fat-quarter");
    let plan = json(&with("plan", &file, &["--json"]).ends(0));
    let bought = plan["bought"]["cloths"].as_array().expect("cloths");
    let count = |cloth: &Value| cloth["pieces"]["count"].as_u64().expect("a count");
    let counts: Vec<u64> = bought.iter().map(count).collect();
    assert!(counts.iter().all(|n| *n > 1), "{counts:?}");
    let said = with("plan", &file, &[]).ends(0);
    for n in &counts {
        assert!(said.out.contains(&format!("{n} fat quarters")), "{}", said.out);
    }
    assert!(said.out.contains("no plan does with fewer than"), "{}", said.out);
    assert!(said.out.contains("21 in usable across, 18 in along"), "{}", said.out);
    let out = folder.path("out");
    with("write", &file, &["--out", out.to_str().expect("a plain name")]).ends(0);
    let page = std::fs::read_to_string(out.join("booklet.html")).expect("the page");
    for words in ["fat quarters", "lengthwise grain", "cut alike", "together: "] {
        assert!(page.contains(words), "{words}");
    }
    // By the piece: 4 and 5 each.
    let all = 4.0 * counts[0] as f64 + 5.0 * counts[1] as f64;
    assert!(page.contains(&format!("{all:.2}")), "{all}");
    // 25 blocks of five dark and four light squares; the list counts what all pieces of cloth give.
    let list = std::fs::read_to_string(out.join("cut-list.csv")).expect("the list");
    let cut = |fabric: &str| -> u64 {
        (list.lines().filter(|line| line.starts_with(fabric)))
            .map(|line| {
                let cells: Vec<&str> = line.split(',').collect();
                let number = |k: usize| cells[cells.len() - k].parse::<u64>().expect("a number");
                number(2) - number(1)
            })
            .sum()
    };
    let sewn: u64 = ["dark", "light"].map(cut).iter().sum();
    let proof = json(&with("rehearse", &file, &["--json"]).ends(0));
    assert_eq!(proof["proof"]["pieces_used"].as_u64(), Some(sewn));
    let why = with("why", &file, &["dark"]).ends(0);
    assert!(why.out.contains("one fat quarter as sold"), "{}", why.out);
}

#[test]
fn strips_too_narrow_for_a_patch_stop_the_plan() {
    let folder = Folder::new("too-narrow-strips");
    let file = nine(&folder, "strips 2 1/2 in");
    let said = with("plan", &file, &[]).ends(1);
    assert!(said.out.contains("larger-than-sold"), "{}", said.out);
    assert!(said.out.contains("off the bolt"), "{}", said.out);
    // One wide enough for the squares of 3 1/2 in will do.
    let file = nine(&folder, "strips 3 1/2 in");
    let said = with("plan", &file, &[]).ends(0);
    assert!(said.out.contains("strips sold at 3"), "{}", said.out);
    with("rehearse", &file, &[]).ends(0);
}

#[test]
fn parts_are_rehearsed_and_told_as_json() {
    let lamps = example("storm-lamps");
    let said = with("rehearse", &lamps, &[]).ends(0);
    assert!(said.out.contains("its 2 parts likewise"), "{}", said.out);
    assert_eq!(json(&with("rehearse", &lamps, &["--json"]).ends(0))["parts"], 2);
    let plan = json(&with("plan", &lamps, &["--json"]).ends(0));
    let parts = plan["parts"].as_array().expect("parts");
    assert_eq!(parts.len(), 2);
    let made = |recipe: &Value| -> u64 {
        let makes = recipe["makes"].as_array().expect("makings");
        makes.iter().map(|make| make["times"].as_u64().expect("a count")).sum()
    };
    assert_eq!(
        parts.iter().map(|part| made(&part["recipe"])).sum::<u64>(),
        made(&plan["recipe"])
    );
    assert!(
        parts
            .iter()
            .all(|part| part["cutting"]["cloths"].as_array().is_some_and(|c| !c.is_empty()))
    );
    // A design without parts has none, and says nothing of them.
    let strips = example("first-strips");
    assert_eq!(
        json(&with("plan", &strips, &["--json"]).ends(0))["parts"],
        Value::Array(Vec::new())
    );
    assert!(!with("rehearse", &strips, &[]).ends(0).out.contains("part"));
}

#[test]
fn cloth_in_hand_is_told_part_by_part() {
    let folder = Folder::new("stash-in-parts");
    let lamps = example("storm-lamps");
    let list = folder.file("hand.txt", "night 40 in x 144 in\niron 40 in x 36 in\n");
    let said = with("plan", &lamps, &["--stash", list.to_str().expect("a plain name")]).ends(0);
    let told: Vec<&str> = said.out.split("part by part: ").skip(1).collect();
    assert_eq!(told.len(), 2, "{}", said.out);
    assert!(
        told[0].starts_with("Month 1: Lamps") && told[1].starts_with("Month 2"),
        "{}",
        said.out
    );
    // Four yards of the night suffice for both months; of what is not there all is bought.
    let night = |part: &str| part.lines().any(|line| line.contains("suffices"));
    assert!(night(told[0]) && night(told[1]), "{}", said.out);
    assert!(told[0].contains("besides"), "{}", said.out);
}
