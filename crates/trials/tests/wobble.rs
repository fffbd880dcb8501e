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

/// What is wrong with a pattern's budget: rehearsals that could not go on, figures beyond belief.
fn wrong_with(name: &str, p: &Pattern) -> Vec<String> {
    let options = WobbleOptions {
        runs: 8,
        ..WobbleOptions::default()
    };
    let budget = wobble(&p.recipe, &p.cutting, &p.bought, options).unwrap();
    let said = |f: &terms::Finding| format!("{name}, {}: {} {}", f.place, f.code, f.sentence);
    // Once in a while cuts stray so far that the cloth does not reach a ruler.
    let mut wrong: Vec<String> = budget.stopped.iter().skip(1).map(said).collect();
    for unit in &budget.units {
        let figures = [unit.mean, unit.spread, unit.miss.0, unit.miss.1];
        if figures.iter().any(|f| f.is_nan() || f.abs() > 1.0) {
            wrong.push(format!("{name}: {unit:?}"));
        }
    }
    if budget.stopped.is_empty() && budget.units.iter().all(|u| u.spread < 1.0 / 256.0) {
        wrong.push(format!("{name}: nothing strays"));
    }
    wrong
}

#[test]
fn hands_that_stray_get_through() {
    let wrong: Vec<String> = patterns().iter().flat_map(|(name, p)| wrong_with(name, p)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn on_generated_designs_hands_that_stray_nearly_always_get_through() {
    // Patches at any angle, some thinner than a seam: an edge may no longer be there at all when cuts stray.
    let all = generated(100);
    let wrong: Vec<Vec<String>> = all
        .iter()
        .map(|(name, p)| wrong_with(name, p))
        .filter(|w| !w.is_empty())
        .collect();
    println!("{} of {}:\n{}", wrong.len(), all.len(), wrong.concat().join("\n"));
    assert!(wrong.len() * 10 <= all.len());
}
