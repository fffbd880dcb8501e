//! The example files read, lay out and picture as they are meant to.

use design::{Design, Fill, Sheet, read_design};
use shape::{Motion, Polygon};
use terms::FabricId;

fn example(name: &str) -> Design {
    let path = format!("{}/../../examples/{name}.quilt.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the example file");
    read_design(&text).unwrap_or_else(|errors| {
        panic!(
            "{}",
            errors
                .iter()
                .map(|e| e.render(&text, name))
                .collect::<Vec<_>>()
                .join("\n")
        )
    })
}

/// Every patch of the sheet carried into the top: the long way round to the picture.
fn flattened(sheet: &Sheet) -> Vec<(Polygon, FabricId)> {
    fn walk(sheet: &Sheet, block: usize, motion: Motion, out: &mut Vec<(Polygon, FabricId)>) {
        let map = &sheet.blocks[block];
        for face in &map.faces {
            match &face.fill {
                Fill::Patch { fabric, .. } => {
                    let corners = face.outline.iter().map(|v| map.vertices[v.0]).collect();
                    out.push((motion.polygon(&Polygon::new(corners)), fabric.clone()));
                }
                Fill::Block {
                    block: inner,
                    motion: inner_motion,
                } => {
                    assert!(inner.0 < block, "inner blocks come first");
                    assert!(!inner_motion.turns_over());
                    walk(sheet, inner.0, inner_motion.then(&motion), out);
                }
            }
        }
    }
    let mut out = Vec::new();
    walk(sheet, sheet.top.0, Motion::STILL, &mut out);
    out
}

/// The sheet and the picture are made separately and must show the same.
fn sheet_shows_the_picture(design: &Design) {
    let sheet = design.sheet().expect("a sheet");
    let picture = design.top_picture();
    let mut flat: Vec<(Polygon, FabricId)> = flattened(&sheet);
    assert_eq!(flat.len(), picture.faces.len());
    for face in &picture.faces {
        let middle = face.outline.centroid();
        let at = flat
            .iter()
            .position(|(outline, fabric)| {
                outline.centroid().distance(middle) < 1e-6
                    && *fabric == face.fabric
                    && outline.difference(&face.outline) < 1e-6
            })
            .unwrap_or_else(|| panic!("nothing in the sheet shows {} {:?}", face.patch, face));
        flat.swap_remove(at);
    }
    let area: f64 = picture.faces.iter().map(|f| f.outline.signed_area()).sum();
    assert!((area - picture.outer.signed_area()).abs() < 1e-6);
}

#[test]
fn market_morning() {
    let design = example("first-strips");
    assert_eq!(design.findings(), []);
    // four 9 in blocks and two 3 in borders (derived)
    assert_eq!(design.top_size(), (42.0, 42.0));
    sheet_shows_the_picture(&design);
    let sheet = design.sheet().unwrap();
    assert_eq!(
        sheet.blocks.iter().map(|b| b.name.as_str()).collect::<Vec<_>>(),
        ["nine", "rail", "top"]
    );
    // 8 × 9 squares, 8 × 3 strips, 4 border strips (derived)
    assert_eq!(design.top_picture().faces.len(), 8 * 9 + 8 * 3 + 4);
}

#[test]
fn harbour_windows() {
    let design = example("harbour-windows");
    assert_eq!(design.findings(), []);
    // three 12 in blocks and four 2 in strips (derived)
    assert_eq!(design.top_size(), (44.0, 44.0));
    sheet_shows_the_picture(&design);
    let sheet = design.sheet().unwrap();
    let variants: Vec<(String, String)> = sheet
        .blocks
        .iter()
        .map(|b| (b.name.clone(), b.variant.clone()))
        .collect();
    let pair = |a: &str, b: &str| (a.to_string(), b.to_string());
    assert_eq!(
        variants,
        [
            pair("half", ""),
            pair("pinwheel", ""),
            pair("half", "in brick, flipped"),
            pair("pinwheel", "in brick, flipped"),
            pair("panes", ""),
            pair("half", "6 in across"),
            pair("pinwheel", "12 in across"),
            pair("window", ""),
            pair("top", ""),
        ]
    );
    // 5 panes of 4 × 8 triangles, 4 windows of 8, 24 strips, 16 cornerstones (derived)
    assert_eq!(design.top_picture().faces.len(), 5 * 32 + 4 * 8 + 24 + 16);
}
