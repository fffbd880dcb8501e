//! Altered recipes: each must be refused, or survive in a class fixed beforehand, on every example and on 200 generated
//! designs; and the objections must point to what was altered.

use std::path::Path;
use trials::generate::Wanted;
use trials::judge::Tally;
use trials::whole::Whole;

/// Mutants tried of each example, spread evenly over the kinds; of smaller patterns all.
const OF_EXAMPLE: usize = 3000;

/// Mutants tried of each generated design.
const OF_GENERATED: usize = 150;

/// Designs on foundation paper, and mutants tried of each.
const ON_PAPER: usize = 40;

/// See [`ON_PAPER`].
const OF_ON_PAPER: usize = 400;

/// Generated designs that are proved and altered.
const GENERATED: usize = 200;

fn held(name: &str, tally: &Tally) {
    println!("{name}\n{}", tally.table());
    let some = |list: &[String]| list.iter().take(400).cloned().collect::<Vec<_>>().join("\n");
    assert!(
        tally.unread.is_empty(),
        "leaves of an unknown kind:\n{}",
        some(&tally.unread)
    );
    println!("pointing elsewhere:\n{}", some(&tally.misnamed));
    let count = tally.total().unexpected;
    assert!(
        count == 0,
        "{count} mutants survived that must be refused:\n{}",
        some(&tally.unexpected)
    );
    assert!(
        tally.share_named() >= 0.95,
        "only {:.3} of the objections name the place",
        tally.share_named()
    );
}

#[test]
fn every_example_altered_is_refused() {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut files: Vec<_> = std::fs::read_dir(dir)
        .into_iter()
        .flatten()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.to_string_lossy().ends_with(".quilt.toml"))
        .collect();
    files.sort();
    let mut tally = Tally::default();
    let mut unproved = Vec::new();
    for file in &files {
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let whole = Whole::of(&std::fs::read_to_string(file).unwrap());
        match whole.and_then(|whole| whole.rehearse().map(|_| whole)) {
            Ok(whole) => tally.judge(&name, &whole.pattern, &whole.picture, OF_EXAMPLE),
            Err(findings) => unproved.push(format!("{name}: {}", findings[0])),
        }
    }
    held(&format!("{} examples", files.len()), &tally);
    assert!(unproved.is_empty(), "not proved:\n{}", unproved.join("\n"));
}

#[test]
fn every_generated_design_altered_is_refused() {
    let mut tally = Tally::default();
    let mut tried = 0;
    for seed in 0.. {
        if tried == GENERATED || seed > 4 * GENERATED as u64 {
            break;
        }
        let Ok(whole) = Whole::of(&Wanted::any(seed).design()) else {
            continue;
        };
        if whole.rehearse().is_ok() {
            tally.judge(&format!("seed {seed}"), &whole.pattern, &whole.picture, OF_GENERATED);
            tried += 1;
        }
    }
    held(&format!("{tried} generated designs"), &tally);
    assert_eq!(tried, GENERATED, "too few generated designs are proved");
}

#[test]
fn every_design_on_paper_altered_is_refused() {
    let mut tally = Tally::default();
    let mut tried = 0;
    for seed in 0..4 * ON_PAPER as u64 {
        let wanted = Wanted {
            on_paper: true,
            rows: 1 + (seed % 2) as usize,
            columns: 1,
            ..Wanted::any(seed)
        };
        let Ok(whole) = Whole::of(&wanted.design()) else {
            continue;
        };
        if tried < ON_PAPER && whole.rehearse().is_ok() && !whole.pattern.cutting.papers.is_empty() {
            tally.judge(&format!("seed {seed}"), &whole.pattern, &whole.picture, OF_ON_PAPER);
            tried += 1;
        }
    }
    held(&format!("{tried} designs on foundation paper"), &tally);
    assert_eq!(tried, ON_PAPER, "too few designs on paper are proved");
}
