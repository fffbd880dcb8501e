//! Every example in both measures: planned on the marks of either ruler, and proved in either.

use measure::Measure;
use trials::whole::Whole;

fn examples() -> Vec<(String, design::Design)> {
    let folder = format!("{}/../../examples", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("the examples are there")
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.to_string_lossy().ends_with(".quilt.toml"))
        .collect();
    files.sort();
    let read = |file: std::path::PathBuf| {
        let text = std::fs::read_to_string(&file).expect("an example can be read");
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        (name, design::read_design(&text).expect("an example is a design"))
    };
    files.into_iter().map(read).collect()
}

#[test]
fn every_example_is_proved_in_both_measures() {
    let mut failed = Vec::new();
    for (name, design) in examples() {
        for measure in [Measure::Inch, Measure::Metric] {
            let turned = design.in_measure(measure);
            let top = turned.top_size();
            assert_eq!(top, design.top_size(), "{name}: finished sizes stay as drawn");
            match Whole::of_design(&turned) {
                Err(findings) => failed.push(format!("{name} {measure:?}: no plan: {}", findings[0])),
                Ok(whole) => {
                    assert_eq!(whole.pattern.recipe.measure, measure);
                    match whole.rehearse() {
                        Err(findings) => failed.push(format!("{name} {measure:?}: {}", findings[0])),
                        Ok(proof) => println!(
                            "{name} {measure:?}: {:.5} in, {} templates",
                            proof.largest_difference,
                            whole.pattern.cutting.templates.len()
                        ),
                    }
                }
            }
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

#[test]
fn custom_goes_to_custom_and_comes_back() {
    for (name, design) in examples() {
        let other = match design.quilt.measure {
            Measure::Inch => Measure::Metric,
            Measure::Metric => Measure::Inch,
        };
        let there = design.in_measure(other);
        let back = there.in_measure(design.quilt.measure);
        assert!((back.quilt.seam - design.quilt.seam).abs() < 1.0e-9, "{name}");
        assert!((back.quilt.ruler - design.quilt.ruler).abs() < 1.0e-9, "{name}");
        for (one, other) in back.fabrics.iter().zip(&design.fabrics) {
            assert!((one.usable - other.usable).abs() < 1.0e-9, "{name}: {}", one.name);
        }
        // A seam of 1/4 in is 0.75 cm on a metric ruler (common practice), not 0.635 cm.
        if other == Measure::Metric && (design.quilt.seam - 0.25).abs() < 1.0e-9 {
            assert!((there.quilt.seam * 2.54 - 0.75).abs() < 1.0e-9, "{name}");
        }
    }
}
