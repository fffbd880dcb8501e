//! What the planner makes of the project's own examples.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use std::collections::BTreeMap;

fn planned(name: &str) -> piecing::Planned {
    let path = format!("{}/../../examples/{name}.quilt.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap();
    let design = design::read_design(&text).unwrap();
    piecing::plan(&design).unwrap()
}

#[test]
fn the_sampler_uses_all_six_methods_without_a_pin() {
    let planned = planned("lantern-harbour");
    let mut methods: BTreeMap<&str, usize> = BTreeMap::new();
    for unit in &planned.units {
        *methods.entry(unit.method).or_default() += 1;
    }
    for make in &planned.recipe.makes {
        println!(
            "{:24} {:26} x{:3} parts {}",
            make.unit.0,
            make.label,
            make.times,
            make.parts.len()
        );
    }
    for d in &planned.demands {
        println!("{:4} {:8} {:4} {:?}", d.piece.0, d.fabric.0, d.count, form(d));
    }
    for f in &planned.findings {
        println!("{f}");
    }
    let templates = planned
        .demands
        .iter()
        .filter(|d| matches!(d.shape, recipe::DemandShape::Template { .. }))
        .count();
    assert!(templates > 0, "the compass is cut round templates");
    for method in [
        "plain patches",
        "half-squares by eights",
        "sew-and-flip corners",
        "geese by fours",
        "angled strips",
    ] {
        assert!(methods.contains_key(method), "{method} is not used: {methods:?}");
    }
}

fn form(d: &recipe::Demand) -> String {
    use measure::{Measure, Style};
    let p = |s: &recipe::Size| s.len.print(Measure::Inch, Style::Bare);
    match &d.shape {
        recipe::DemandShape::Rectangle { width, height } => format!("{} x {}", p(width), p(height)),
        recipe::DemandShape::Slant {
            height, lower, upper, ..
        } => {
            format!("strip {} marks {} {}", p(height), p(lower), p(upper))
        }
        other => format!("{other:?}").chars().take(40).collect(),
    }
}

#[test]
fn twins_are_listed_beside_each_other() {
    let planned = planned("lantern-harbour");
    let leaning: Vec<_> = planned
        .recipe
        .pieces
        .iter()
        .filter(|p| p.label == "leaning piece")
        .collect();
    assert!(leaning.len() >= 4, "both hands, two cloths");
    assert!(leaning.iter().all(|p| p.twin.is_some()));
}
