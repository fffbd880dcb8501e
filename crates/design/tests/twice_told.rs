//! Sheet and picture are made in two ways, variant by variant and patch by patch: for any nesting of flips, turns,
//! sizes and recolourings both must show the same cloth at the same place, grain and print the same way.

use design::{Design, Fill, Sheet, read_design};
use proptest::prelude::*;
use shape::{Motion, Point, Polygon, Vector};
use terms::FabricId;

const HEAD: &str = r##"format = 1
[quilt]
title = "t"
[[fabric]]
name = "plain"
color = "#f0f0f0"
[[fabric]]
name = "fish"
color = "#4080c0"
print = "one-way"
[[fabric]]
name = "stripe"
color = "#c08040"
print = "two-way"
[[fabric]]
name = "vine"
color = "#208040"
print = "one-way"
up = "block"
[[block]]
name = "seed"
size = 4
grid = [4, 4]
patches = [
  { fabric = "plain", path = "M0 0 H3 V1 H0 Z" },
  { fabric = "fish", path = "M3 0 H4 V4 H3 Z" },
  { fabric = "stripe", path = "M0 1 H3 L0 4 Z" },
  { fabric = "vine", path = "M3 1 V4 H0 Z" },
]
"##;

struct Shown {
    outline: Polygon,
    fabric: FabricId,
    up: Option<(Vector, bool)>,
}

fn flattened(sheet: &Sheet, block: usize, motion: Motion, out: &mut Vec<Shown>) {
    let map = &sheet.blocks[block];
    for face in &map.faces {
        match &face.fill {
            Fill::Patch { fabric, up, .. } => {
                let corners: Vec<Point> = face.outline.iter().map(|v| map.vertices[v.0]).collect();
                out.push(Shown {
                    outline: motion.polygon(&Polygon::new(corners)),
                    fabric: fabric.clone(),
                    up: up.map(|u| (motion.vector(u.toward), u.two_way)),
                });
            }
            Fill::Block { block, motion: inner } => flattened(sheet, block.0, inner.then(&motion), out),
        }
    }
}

fn agree(design: &Design) -> Result<(), TestCaseError> {
    let sheet = design.sheet().map_err(|f| TestCaseError::fail(f[0].to_string()))?;
    let picture = design.top_picture();
    let mut shown = Vec::new();
    flattened(&sheet, sheet.top.0, Motion::STILL, &mut shown);
    prop_assert_eq!(shown.len(), picture.faces.len());
    for face in &picture.faces {
        let middle = face.outline.centroid();
        let found = shown.iter().any(|s| {
            let up = match (s.up, face.up) {
                (None, None) => true,
                (Some((a, stripe)), Some(b)) => {
                    let same = a.dot(b.toward);
                    stripe == b.two_way && (same > 1.0 - 1e-9 || (stripe && same < -1.0 + 1e-9))
                }
                _ => false,
            };
            up && s.fabric == face.fabric
                && s.outline.centroid().distance(middle) < 1e-6
                && s.outline.difference(&face.outline) < 1e-6
        });
        prop_assert!(found, "nothing in the sheet shows {:?}", face);
    }
    Ok(())
}

/// Block, quarter turns, flip, and which of a few recolourings.
type Use = (usize, u32, bool, usize);

const RECOLOR: [&str; 4] = [
    "{}",
    "{ plain = \"fish\" }",
    "{ plain = \"stripe\", stripe = \"plain\" }",
    "{ fish = \"vine\", vine = \"plain\", stripe = \"fish\" }",
];

fn placed(used: &[Use], names: &[&str]) -> String {
    used.iter()
        .enumerate()
        .map(|(i, &(block, quarters, flip, recolor))| {
            format!(
                "{{ block = \"{}\", at = [{}, {}], size = 1, turn = {}, flip = {flip}, recolor = {} }},\n",
                names[block % names.len()],
                i % 2,
                i / 2,
                quarters * 90,
                RECOLOR[recolor]
            )
        })
        .collect()
}

fn uses(count: usize) -> impl Strategy<Value = Vec<Use>> {
    proptest::collection::vec((0usize..6, 0u32..4, any::<bool>(), 0usize..4), count)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn sheet_and_picture_agree(
        inner in uses(4), middle in uses(4), outer in uses(4), cells in uses(6),
    ) {
        let names = ["seed", "one", "two"];
        let mut text = HEAD.to_string();
        for (name, used, known) in [("one", &inner, 1), ("two", &middle, 2), ("three", &outer, 3)] {
            text.push_str(&format!(
                "[[block]]\nname = \"{name}\"\nsize = 8\ngrid = 2\nplace = [\n{}]\n",
                placed(used, &names[..known])
            ));
        }
        let all = ["one", "two", "three"];
        let cell = |(block, quarters, flip, _): &Use| {
            format!("\"{}{}@{}\"", all[block % 3], if *flip { "~" } else { "" }, quarters * 90)
        };
        let row = |cells: &[Use]| cells.iter().map(cell).collect::<Vec<_>>().join(", ");
        text.push_str(&format!("[layout]\nrows = [[{}], [{}]]\n", row(&cells[..3]), row(&cells[3..])));
        let design = read_design(&text).map_err(|e| TestCaseError::fail(e[0].to_string()))?;
        agree(&design)?;
    }

    #[test]
    fn a_slanting_frame_agrees_at_every_corner(share in 0.2f64..0.8, quarters in 0u32..4, flip in any::<bool>(), recolor in 0usize..4) {
        // A square standing in a square: its corners cut the sides at the same share (derived: legs a and b, side √(a² + b²)).
        let (a, b) = (8.0 * share, 8.0 - 8.0 * share);
        let side = libm::hypot(a, b);
        let turn = libm::atan2(a, b).to_degrees();
        let text = format!(
            "{HEAD}[[block]]\nname = \"slant\"\nsize = 8\ngrid = 8\npatches = [\n\
             {{ fabric = \"fish\", path = \"M0 0 H{a} L0 {b} Z\" }},\n{{ fabric = \"vine\", path = \"M{a} 0 H8 V{a} Z\" }},\n\
             {{ fabric = \"stripe\", path = \"M8 {a} V8 H{b} Z\" }},\n{{ fabric = \"plain\", path = \"M{b} 8 H0 V{b} Z\" }},\n]\n\
             place = [{{ block = \"seed\", center = [4, 4], size = {side}, turn = {turn}, flip = {flip}, recolor = {} }}]\n\
             [layout]\nrows = [[\"slant@{}\", \"slant~\"]]\n",
            RECOLOR[recolor],
            quarters * 90
        );
        let design = read_design(&text).map_err(|e| TestCaseError::fail(e[0].to_string()))?;
        agree(&design)?;
    }
}
