//! Areas by cloth: the finished picture, the resolved design and the outer rectangle must agree.

use design::{BlockIndex, Fill, Sheet};
use shape::Polygon;
use std::collections::BTreeMap;
use trials::whole::Whole;

type Areas = BTreeMap<String, f64>;

/// Areas by cloth of a block of the planar map, blocks within it counted whole.
fn of_block(sheet: &Sheet, index: BlockIndex) -> Areas {
    let map = &sheet.blocks[index.0];
    let mut areas = Areas::new();
    for face in &map.faces {
        match &face.fill {
            Fill::Patch { fabric, .. } => {
                let outline = Polygon::new(face.outline.iter().map(|v| map.vertices[v.0]).collect());
                *areas.entry(fabric.to_string()).or_insert(0.0) += outline.signed_area();
            }
            Fill::Block { block, .. } => {
                for (fabric, area) in of_block(sheet, *block) {
                    *areas.entry(fabric).or_insert(0.0) += area;
                }
            }
        }
    }
    areas
}

#[test]
fn every_example_has_its_cloth_twice_told() {
    // Derived: patches fill the top once, so their areas sum to the outer rectangle's; by placement (the picture) and
    // by the planar map (what is pieced) each cloth has the same share.
    let folder = format!("{}/../../examples", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    let mut read = 0;
    for file in files.iter().filter(|f| f.to_string_lossy().ends_with(".quilt.toml")) {
        let name = file.file_name().unwrap().to_string_lossy();
        let design = design::read_design(&std::fs::read_to_string(file).unwrap()).unwrap();
        let whole = Whole::of_design(&design).unwrap();
        let mut pictured = Areas::new();
        for face in &whole.picture.faces {
            *pictured.entry(face.fabric.to_string()).or_insert(0.0) += face.outline.signed_area().abs();
        }
        let outer = whole.picture.outer.signed_area();
        let sum: f64 = pictured.values().sum();
        assert!((sum - outer).abs() < 1.0e-6 * outer, "{name}: {sum} of {outer} sq in");
        let sheet = design.sheet().unwrap();
        let mapped = of_block(&sheet, sheet.top);
        assert_eq!(
            pictured.keys().collect::<Vec<_>>(),
            mapped.keys().collect::<Vec<_>>(),
            "{name}"
        );
        for (fabric, area) in &pictured {
            // Welding moves a corner by less than 1/256 in; drawn examples hardly at all.
            assert!(
                (area - mapped[fabric]).abs() < 1.0e-6 * outer,
                "{name}, {fabric}: {area} and {}",
                mapped[fabric]
            );
        }
        read += 1;
    }
    assert!(read >= 5);
}
