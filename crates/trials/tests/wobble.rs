//! The error budget on planned and hand-made patterns: hands that do not stray do just what the proof does, and hands that
//! do get through.

// The hand-made recipes are those of the table's own tests, with all their breakages.
#![allow(clippy::unwrap_used, dead_code, unused_imports)]

use recipe::Pattern;
use rehearse::{Maker, WobbleOptions, scenes, scenes_by, wobble};
use std::path::Path;
use trials::generate::Wanted;
use trials::whole::Whole;

#[path = "../../rehearse/tests/table/builder.rs"]
mod builder;
#[path = "../../rehearse/tests/table/set_in.rs"]
mod set_in;
#[path = "../../rehearse/tests/table/windmill.rs"]
mod windmill;

/// All examples, and every hand-made recipe with seams that stop, turn or are closed later.
fn patterns() -> Vec<(String, Pattern)> {
    let mut found = Vec::new();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|f| f.unwrap().path())
        .filter(|f| f.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    for file in files {
        let whole = Whole::of(&std::fs::read_to_string(&file).unwrap()).unwrap();
        found.push((file.display().to_string(), whole.pattern));
    }
    assert!(found.len() >= 6);
    for (name, bench) in [
        ("tumbling", set_in::tumbling()),
        ("attic", set_in::attic(builder::s8(0))),
        ("tray", set_in::tray()),
        ("left windmill", windmill::windmill(true, builder::s8(16))),
        ("right windmill", windmill::windmill(false, builder::s8(16))),
    ] {
        found.push((name.to_owned(), bench.pattern));
    }
    found
}

/// Generated designs that can be made.
fn generated(count: usize) -> Vec<(String, Pattern)> {
    (0u64..)
        .filter_map(|seed| {
            let whole = Whole::of(&Wanted::any(seed).design()).ok()?;
            Some((format!("seed {seed}"), whole.pattern))
        })
        .take(count)
        .collect()
}

#[test]
fn hands_that_do_not_stray_do_what_the_proof_does_to_the_bit() {
    // Every corner of every piece after every step of every making, and every stitch, cut and mark.
    for (name, p) in patterns().into_iter().chain(generated(150)) {
        let proof = scenes(&p.recipe, &p.cutting);
        assert!(!proof.is_empty() && proof.iter().any(|u| !u.after.is_empty()));
        let perfect = scenes_by(&p.recipe, &p.cutting, Maker::PERFECT, 5);
        assert!(proof == perfect, "{name}: exact hands make something else");
        // And the comparison can fail.
        let stray = scenes_by(&p.recipe, &p.cutting, Maker::default(), 5);
        assert!(proof != stray, "{name}: hands that stray leave no trace");
    }
}

#[test]
fn hands_that_stray_get_through() {
    let options = WobbleOptions {
        runs: 10,
        ..WobbleOptions::default()
    };
    let mut stopped = Vec::new();
    for (name, p) in patterns().into_iter().chain(generated(150)) {
        let budget = wobble(&p.recipe, &p.cutting, &p.bought, options).unwrap();
        let said = |f: &terms::Finding| format!("{name}, {}: {} {}", f.place, f.code, f.sentence);
        stopped.extend(budget.stopped.iter().map(said));
        if !budget.stopped.is_empty() {
            continue;
        }
        for unit in &budget.units {
            let figures = [unit.mean, unit.spread, unit.miss.0, unit.miss.1];
            assert!(figures.iter().all(|f| f.abs() < 1.0), "{name}: {unit:?}");
        }
        let strays = budget.units.iter().any(|u| u.spread > 1.0 / 256.0);
        assert!(strays, "{name}: nothing strays");
    }
    assert!(stopped.is_empty(), "{} stopped:\n{}", stopped.len(), stopped.join("\n"));
}
