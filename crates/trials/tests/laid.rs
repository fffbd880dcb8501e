//! Generated designs with patches on the ground of every block: planned, proved, and altered recipes of them refused.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::{ShapeEdge, Step};
use std::collections::BTreeSet;
use trials::generate::Wanted;
use trials::judge::Tally;
use trials::whole::Whole;

/// Designs tried; more with `SCANTLING_LAID`.
const DESIGNS: u64 = 100;

/// Of these so many are altered, and so many alterations of each tried.
const ALTERED: usize = 20;
const ALTERATIONS: usize = 150;

/// What a generated patch can be that cannot be made, and is told so before anything is planned.
const TOLD: [&str; 1] = ["edge-cannot-turn"];

#[test]
fn every_generated_ground_is_proved() {
    let many = std::env::var("SCANTLING_LAID").ok().and_then(|n| n.parse().ok());
    let total = many.unwrap_or(DESIGNS);
    let (mut proved, mut told, mut failures) = (0u64, 0u64, Vec::new());
    let (mut raw, mut turned, mut under, mut level, mut small) = (0, 0, 0, 0, 0);
    for seed in 0..total {
        let pieced = Whole::of(
            &Wanted {
                laid: false,
                ..Wanted::laid(seed)
            }
            .design(),
        );
        let before: BTreeSet<&str> = match &pieced {
            Ok(_) => BTreeSet::new(),
            Err(findings) => findings.iter().filter(|f| f.is_stop()).map(|f| f.code).collect(),
        };
        match Whole::of(&Wanted::laid(seed).design()) {
            Ok(whole) => {
                let makes = whole.pattern.recipe.makes.iter();
                for step in makes.flat_map(|m| &m.steps) {
                    match step {
                        Step::StitchDown {
                            edge: ShapeEdge::Raw, ..
                        } => raw += 1,
                        Step::StitchDown { .. } => turned += 1,
                        _ => {}
                    }
                }
                for shape in whole.pattern.cutting.guides.iter().flat_map(|g| &g.shapes) {
                    under += usize::from(!shape.under.is_empty());
                    level += usize::from(!shape.level.is_empty());
                    let across = shape.line.iter().map(|c| c.right.to_inches());
                    let (low, high) = across.fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(x), h.max(x)));
                    small += usize::from(high - low < 1.0);
                }
                match whole.rehearse() {
                    Ok(_) => proved += 1,
                    Err(findings) => failures.push(format!("laid-{seed}: {}", findings[0])),
                }
            }
            Err(findings) => {
                let new = findings.iter().filter(|f| f.is_stop() && !before.contains(f.code));
                let untold: Vec<_> = new.clone().filter(|f| !TOLD.contains(&f.code)).collect();
                failures.extend(untold.iter().map(|f| format!("laid-{seed}: {f}")));
                told += u64::from(new.count() > 0);
            }
        }
    }
    println!(
        "{proved} of {total} proved, {told} told; {raw} raw, {turned} turned, {under} partly under, {level} level, {small} small"
    );
    let count = failures.len();
    let some = failures.into_iter().take(20).collect::<Vec<_>>().join("\n");
    assert!(count == 0, "{count} failed:\n{some}");
    let least = total / 2;
    assert!(proved >= least && told <= total / 10, "{proved} proved, {told} told");
    let kinds = [raw, turned, under, level, small];
    assert!(kinds.iter().all(|&n| n as u64 >= total / 10), "{kinds:?}");
}

#[test]
fn a_ground_made_many_at_once_keeps_what_lies_on_it() {
    // Sixteen half-square units, wanted in such numbers that they are made by eights, with a circle across the seam of each; and
    // four patches from strip sets. Once the ground's way in numbers took the place of the whole unit's, and nothing was laid.
    let text = |patches: &str, circle: &str| {
        format!(
            "format = 1\n[quilt]\ntitle = \"Many\"\n[[fabric]]\nname = \"a\"\ncolor = \"#efe8d8\"\n[[fabric]]\nname = \"b\"\ncolor = \"#1f2d4a\"\n\
                 [[block]]\nname = \"h\"\nsize = \"3 in\"\ngrid = [2, 2]\npatches = [\n{patches}{circle}]\n[layout]\nrows = [{}]\n",
            ["[\"h\", \"h\", \"h\", \"h\"]"; 4].join(", ")
        )
    };
    let halves = "{ fabric = \"a\", path = \"M0 0 H2 L0 2 Z\" },\n{ fabric = \"b\", path = \"M2 0 V2 H0 Z\" },\n";
    let rails = "{ fabric = \"a\", path = \"M0 0 H2 V1 H0 Z\" },\n{ fabric = \"b\", path = \"M0 1 H2 V2 H0 Z\" },\n";
    let circle =
        "{ fabric = \"b\", on = \"ground\", path = \"M1.6 1 A0.6 0.6 0 0 1 0.4 1 A0.6 0.6 0 0 1 1.6 1 Z\" },\n";
    for (ground, method) in [(halves, "half-squares by eights"), (rails, "strip sets")] {
        for laid in ["", circle] {
            let whole = Whole::of(&text(ground, laid)).unwrap();
            whole.rehearse().unwrap_or_else(|f| panic!("{method}: {}", f[0]));
            assert!(whole.methods.contains(&method), "{method}: {:?}", whole.methods);
            assert_eq!(whole.methods.contains(&"applique"), !laid.is_empty());
            let downs = |m: &recipe::Make| {
                m.steps.iter().filter(|s| matches!(s, Step::StitchDown { .. })).count() as u32 * m.times
            };
            let all: u32 = whole.pattern.recipe.makes.iter().map(downs).sum();
            assert_eq!(all, if laid.is_empty() { 0 } else { 16 }, "{method}");
        }
    }
}

#[test]
fn every_generated_ground_altered_is_refused() {
    let mut tally = Tally::default();
    let mut tried = 0;
    for seed in 0..4 * ALTERED as u64 {
        let Ok(whole) = Whole::of(&Wanted::laid(seed).design()) else {
            continue;
        };
        if tried < ALTERED && !whole.pattern.cutting.guides.is_empty() && whole.rehearse().is_ok() {
            tally.judge(&format!("laid-{seed}"), &whole.pattern, &whole.picture, ALTERATIONS);
            tried += 1;
        }
    }
    println!("{}", tally.table());
    assert_eq!(tried, ALTERED, "too few are proved");
    assert!(tally.unread.is_empty(), "{}", tally.unread.join("\n"));
    assert!(tally.unexpected.is_empty(), "{}", tally.unexpected.join("\n"));
}

#[test]
fn pieces_of_one_kind_that_begin_beside_one_corner_are_each_found() {
    // Each corner of the shape lies a twentieth of an inch from one of the block's; turned round one of them, four blocks have that
    // corner of their shapes beside the place where they meet, whichever the shape's outline begins with.
    for turns in [
        [0, 90, 270, 180],
        [90, 180, 0, 270],
        [180, 270, 90, 0],
        [270, 0, 180, 90],
    ] {
        // Those over one another exchanged, turning goes the other way round.
        for [a, b, c, d] in [turns, [turns[2], turns[3], turns[0], turns[1]]] {
            let rows = format!(r#"["q@{a}", "q@{b}"], ["q@{c}", "q@{d}"]"#);
            let whole = Whole::of(&format!(
                "format = 1\n[quilt]\ntitle = \"Four\"\n\
                 [[fabric]]\nname = \"light\"\ncolor = \"#efe8d8\"\n[[fabric]]\nname = \"dark\"\ncolor = \"#1f2d4a\"\n\
                 [[block]]\nname = \"q\"\nsize = 6\ngrid = 6\npatches = [\n\
                 {{ fabric = \"light\", path = \"M0 0 H2 V6 H0 Z\" }},\n\
                 {{ fabric = \"dark\", path = \"M2 0 H6 V6 H2 Z\" }},\n\
                 {{ fabric = \"dark\", on = \"ground\", path = \"M0.05 0.05 L5.95 0.05 L5.95 5.95 L0.05 5.95 Z\" }},\n]\n\
                 [layout]\nkind = \"straight\"\nrows = [{rows}]\n",
            ))
            .unwrap();
            if let Err(findings) = whole.rehearse() {
                panic!("{rows}: {}", findings[0]);
            }
        }
    }
}
