//! Every example in three sizes and in other cloth: each planned and proved by itself.

use design::{Design, Fill};
use std::collections::BTreeMap;
use trials::whole::Whole;

fn examples() -> Vec<(String, Design)> {
    let folder = format!("{}/../../examples", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("the examples are there")
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.to_string_lossy().ends_with(".quilt.toml"))
        .collect();
    files.sort();
    files
        .into_iter()
        .map(|file| {
            let text = std::fs::read_to_string(&file).expect("an example can be read");
            let design = design::read_design(&text).expect("an example is a design");
            (
                file.file_name().unwrap_or_default().to_string_lossy().into_owned(),
                design,
            )
        })
        .collect()
}

/// Finished cloth by fabric, square inches, as the picture has it.
fn pictured(whole: &Whole) -> BTreeMap<String, f64> {
    let mut areas = BTreeMap::new();
    for face in &whole.picture.faces {
        *areas.entry(face.fabric.0.clone()).or_default() += face.outline.signed_area();
    }
    areas
}

/// The same as the planar map has it, blocks within blocks counted as often as they lie there.
fn mapped(design: &Design) -> BTreeMap<String, f64> {
    let sheet = design.sheet().expect("an example has a map");
    let mut by_block: Vec<BTreeMap<String, f64>> = Vec::new();
    for block in &sheet.blocks {
        let mut areas: BTreeMap<String, f64> = BTreeMap::new();
        for face in &block.faces {
            match &face.fill {
                Fill::Patch { fabric, .. } => {
                    let corners = face.outline.iter().map(|v| block.vertices[v.0]).collect();
                    *areas.entry(fabric.0.clone()).or_default() += shape::Polygon::new(corners).signed_area();
                }
                Fill::Block { block, .. } => {
                    for (fabric, area) in &by_block[block.0] {
                        *areas.entry(fabric.clone()).or_default() += area;
                    }
                }
            }
        }
        by_block.push(areas);
    }
    by_block[sheet.top.0].clone()
}

#[test]
fn every_example_in_three_sizes_and_two_cloths() {
    let all = examples();
    assert!(all.len() >= 7, "{} examples", all.len());
    for (name, design) in all {
        for scale in [1.0, 1.5, 2.0] {
            let sized = design.clone().scaled(scale);
            let whole = Whole::of_design(&sized).unwrap_or_else(|f| panic!("{name} × {scale}: {}", f[0]));
            let proof = whole
                .rehearse()
                .unwrap_or_else(|f| panic!("{name} × {scale}: {}", f[0]));
            assert!(proof.seams > 0);
            let (picture, map) = (pictured(&whole), mapped(&sized));
            assert_eq!(picture.len(), map.len(), "{name} × {scale}");
            for (fabric, area) in &picture {
                // welding moves corners by up to 1/256 in
                assert!(
                    (area - map[fabric]).abs() < 0.01 * area.max(1.0),
                    "{name} × {scale}: {fabric}"
                );
            }
            // other cloth: the steps and the cuts are the same
            let mut dressed = sized.clone();
            for fabric in &mut dressed.fabrics {
                fabric.label = format!("Other {}", fabric.label);
            }
            let other = Whole::of_design(&dressed).unwrap_or_else(|f| panic!("{name} × {scale}: {}", f[0]));
            assert!(other.rehearse().is_ok(), "{name} × {scale} in other cloth");
            assert_eq!(other.pattern.cutting, whole.pattern.cutting, "{name} × {scale}");
        }
    }
}
