//! The design's own findings, each from a small drawing that has just that trouble.

use design::{Design, Fill, Grain, read_design};
use shape::{Motion, Point, Vector};
use terms::{Finding, Place, Severity};

const HEAD: &str = r##"
format = 1
[quilt]
title = "Test"
[[fabric]]
name = "light"
color = "#f0f0f0"
[[fabric]]
name = "dark"
color = "#202020"
"##;

fn read(rest: &str) -> Design {
    let text = format!("{HEAD}{rest}");
    read_design(&text).unwrap_or_else(|errors| {
        panic!(
            "{}",
            errors
                .iter()
                .map(|e| e.render(&text, "t"))
                .collect::<Vec<_>>()
                .join("\n")
        )
    })
}

/// One 6 in block on a grid of 6, laid once.
fn block(patches: &[(&str, &str)]) -> Design {
    let list: Vec<String> = patches
        .iter()
        .map(|(fabric, path)| format!("  {{ fabric = \"{fabric}\", path = \"{path}\" }},"))
        .collect();
    read(&format!(
        "[[block]]\nname = \"b\"\nsize = 6\ngrid = [6, 6]\npatches = [\n{}\n]\n[layout]\nrows = [[\"b\"]]\n",
        list.join("\n")
    ))
}

fn codes(findings: &[Finding]) -> Vec<(&'static str, Severity)> {
    findings.iter().map(|f| (f.code, f.severity)).collect()
}

#[test]
fn a_gap_says_how_large_and_where() {
    let design = block(&[("light", "M0 0 H6 V4 H0 Z"), ("dark", "M0 4 H5 V6 H0 Z")]);
    let findings = design.findings();
    assert_eq!(codes(&findings), [("gap", Severity::Stop)]);
    // the open corner is 1 in by 2 in (derived)
    assert!(findings[0].sentence.starts_with("2 square in"), "{}", findings[0]);
    let Place::Block { at: Some(at), .. } = findings[0].place else {
        panic!()
    };
    assert!(at.distance(Point::new(5.5, 1.0)) < 1e-9);
    assert_eq!(codes(&design.sheet().unwrap_err()), [("gap", Severity::Stop)]);
}

#[test]
fn an_inner_gap_is_found_too() {
    let design = block(&[
        ("light", "M0 0 H6 V2 H0 Z"),
        ("light", "M0 4 H6 V6 H0 Z"),
        ("dark", "M0 2 H2 V4 H0 Z"),
        ("dark", "M4 2 H6 V4 H4 Z"),
    ]);
    let findings = design.findings();
    assert_eq!(codes(&findings), [("gap", Severity::Stop)]);
    assert!(findings[0].sentence.starts_with("4 square in"), "{}", findings[0]);
}

#[test]
fn an_overlap_names_both_patches() {
    let design = block(&[("light", "M0 0 H4 V6 H0 Z"), ("dark", "M3 0 H6 V6 H3 Z")]);
    let findings = design.findings();
    assert_eq!(codes(&findings), [("overlap", Severity::Stop)]);
    // 1 in by 6 in (derived)
    assert!(
        findings[0].sentence.contains("Patch 1 and patch 2 share 6 square in"),
        "{}",
        findings[0]
    );
    // slanting across one another, and one within the other
    let design = block(&[("light", "M0 0 H6 L0 6 Z"), ("dark", "M0 0 L6 6 H0 Z")]);
    assert_eq!(design.findings()[0].code, "overlap");
    let design = block(&[("light", "M0 0 H6 V6 H0 Z"), ("dark", "M2 2 H4 V4 H2 Z")]);
    assert_eq!(design.findings()[0].code, "overlap");
}

#[test]
fn outside_says_how_far() {
    let design = block(&[("light", "M0 0 H6 V6 H0 Z"), ("dark", "M6 0 H7.5 V6 H6 Z")]);
    let findings = design.findings();
    assert_eq!(codes(&findings), [("outside-block", Severity::Stop)]);
    assert!(findings[0].sentence.contains("1.5 in beyond"), "{}", findings[0]);
}

#[test]
fn a_hair_off_is_welded_and_told() {
    // 0.002 in lies between the silent 1/2000 in and the weld of 1/256 in
    let design = block(&[("light", "M0 0 H6 V3 H0 Z"), ("dark", "M0 3.002 H6 V6 H0 Z")]);
    let findings = design.findings();
    assert_eq!(findings[0].code, "welded");
    assert_eq!(findings[0].severity, Severity::Note);
    assert!(design.sheet().is_ok());
    // rounding is not worth a word
    let design = block(&[("light", "M0 0 H6 V3 H0 Z"), ("dark", "M0 3.00001 H6 V6 H0 Z")]);
    assert!(!codes(&design.findings()).iter().any(|(c, _)| *c == "welded"));
}

#[test]
fn an_edge_too_short_to_tell_is_refused() {
    let design = block(&[("light", "M0 0 H6 V3 H0 Z"), ("dark", "M0 3 H6 V6 H0.002 L0 5.999 Z")]);
    assert_eq!(design.findings()[0].code, "weld-ambiguous");
}

#[test]
fn t_junctions_become_corners_of_both() {
    let design = block(&[
        ("light", "M0 0 H6 V3 H0 Z"),
        ("dark", "M0 3 H2 V6 H0 Z"),
        ("light", "M2 3 H6 V6 H2 Z"),
    ]);
    let sheet = design.sheet().unwrap();
    let b = &sheet.blocks[0];
    assert_eq!(b.faces[0].outline.len(), 5);
    assert_eq!(b.vertices.len(), 8);
}

#[test]
fn points_and_slivers() {
    // 1 in high over 6 in: atan(1/6) = 9.5° (derived)
    let design = block(&[("light", "M0 0 H6 L0 1 Z"), ("dark", "M6 0 V6 H0 V1 Z")]);
    let findings = design.findings();
    assert_eq!((findings[0].code, findings[0].severity), ("acute", Severity::Stop));
    assert!(findings[0].sentence.contains("9.5°"), "{}", findings[0]);
    // 3 in over 6 in: 26.6°, allowed with care (derived)
    let design = block(&[("light", "M0 0 H6 L0 3 Z"), ("dark", "M6 0 V6 H0 V3 Z")]);
    assert_eq!(codes(&design.findings()), [("acute", Severity::Care)]);
    assert!(design.findings()[0].sentence.contains("26.6°"));
    let design = block(&[("light", "M0 0 H6 V5.875 H0 Z"), ("dark", "M0 5.875 H6 V6 H0 Z")]);
    assert_eq!(codes(&design.findings()), [("sliver", Severity::Care)]);
    assert!(design.findings()[0].sentence.contains("0.125 in"));
}

#[test]
fn between_the_marks_friendly_sizes_are_named() {
    let nine = "[[block]]\nname = \"b\"\nsize = 10\ngrid = [3, 1]\npatches = [\n\
        { fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" },\n{ fabric = \"dark\", path = \"M1 0 H2 V1 H1 Z\" },\n\
        { fabric = \"light\", path = \"M2 0 H3 V1 H2 Z\" },\n]\n[layout]\nrows = [[\"b\"]]\n";
    let findings = read(nine).findings();
    assert_eq!(codes(&findings), [("off-marks", Severity::Care)]);
    // thirds on eighths: 9 3/4 = 3 × 3 1/4 and 10 1/8 = 3 × 3 3/8 (derived)
    assert!(findings[0].mend.contains("9 3/4 in or 10 1/8 in"), "{}", findings[0]);
}

#[test]
fn neighbours_that_blur() {
    let design = read(
        "[[fabric]]\nname = \"pale\"\ncolor = \"#ececec\"\n[[block]]\nname = \"b\"\nsize = 6\ngrid = [2, 1]\npatches = [\n\
         { fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" },\n{ fabric = \"dark\", path = \"M1 0 H2 V1 H1 Z\" },\n]\n\
         [[block]]\nname = \"c\"\nsize = 6\ngrid = [2, 1]\npatches = [\n\
         { fabric = \"dark\", path = \"M0 0 H1 V1 H0 Z\" },\n{ fabric = \"pale\", path = \"M1 0 H2 V1 H1 Z\" },\n]\n\
         [layout]\nrows = [[\"c\", \"b\", \"c\", \"b\"]]\n",
    );
    let findings = design.findings();
    assert_eq!(codes(&findings), [("weak-contrast", Severity::Care)]);
    // pale's right side on light's left side, where the first two blocks meet (derived)
    let Place::Top { at } = findings[0].place else { panic!() };
    assert!(at.distance(Point::new(6.0, 3.0)) < 1e-9, "{at:?}");
}

#[test]
fn twelve_seams_at_one_place() {
    let slices: Vec<String> = (0..12)
        .map(|i| {
            let corner = |k: usize| {
                [
                    (3, 0),
                    (5, 0),
                    (6, 1),
                    (6, 3),
                    (6, 5),
                    (5, 6),
                    (3, 6),
                    (1, 6),
                    (0, 5),
                    (0, 3),
                    (0, 1),
                    (1, 0),
                ][k % 12]
            };
            let (a, b) = (corner(i), corner(i + 1));
            let via = match (a, b) {
                ((5, 0), _) => "L6 0",
                ((6, 5), _) => "L6 6",
                ((1, 6), _) => "L0 6",
                ((0, 1), _) => "L0 0",
                _ => "",
            };
            format!("M3 3 L{} {} {via} L{} {} Z", a.0, a.1, b.0, b.1)
        })
        .collect();
    let patches: Vec<(&str, &str)> = slices
        .iter()
        .enumerate()
        .map(|(i, p)| (if i % 2 == 0 { "light" } else { "dark" }, p.as_str()))
        .collect();
    let findings = block(&patches).findings();
    let lump = findings.iter().find(|f| f.code == "too-many-seams").unwrap();
    assert!(lump.sentence.contains("12 do"), "{lump}");
}

#[test]
fn a_small_block_in_a_cell_is_offered_a_frame() {
    let design = read(
        "[[block]]\nname = \"b\"\nsize = 6\npatches = [{ fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" }]\n\
         [layout]\ncell = 9\nfill = \"dark\"\nrows = [[\"b\", \"\"]]\n",
    );
    let findings = design.findings();
    assert_eq!(codes(&findings), [("cell-not-filled", Severity::Stop)]);
    // (9 - 6) / 2 (derived)
    assert!(
        findings[0].mend.contains("strips of dark: 1.5 in at either side"),
        "{}",
        findings[0]
    );
    assert!(design.sheet().is_err());
}

#[test]
fn a_print_with_an_up_makes_variants_by_turn() {
    let design = read(
        "[[fabric]]\nname = \"fish\"\ncolor = \"#4080c0\"\nprint = \"one-way\"\n\
         [[fabric]]\nname = \"stripe\"\ncolor = \"#c08040\"\nprint = \"two-way\"\n\
         [[block]]\nname = \"f\"\nsize = 4\npatches = [{ fabric = \"fish\", path = \"M0 0 H1 V1 H0 Z\", grain = 30 }]\n\
         [[block]]\nname = \"s\"\nsize = 4\npatches = [{ fabric = \"stripe\", path = \"M0 0 H1 V1 H0 Z\" }]\n\
         [[block]]\nname = \"p\"\nsize = 4\npatches = [{ fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" }]\n\
         [layout]\nrows = [[\"f\", \"f@90\", \"f@180\"], [\"s\", \"s@90\", \"s@180\"], [\"p\", \"p@90\", \"p~\"]]\n",
    );
    let sheet = design.sheet().unwrap();
    let names: Vec<String> = sheet
        .blocks
        .iter()
        .map(|b| format!("{} {}", b.name, b.variant))
        .collect();
    assert_eq!(
        names,
        [
            "f ",
            "f turned 90",
            "f turned 180",
            "s ",
            "s turned 90",
            "p ",
            "p flipped",
            "top "
        ]
    );
    for map in &sheet.blocks[..5] {
        // carried into the top by its block's motion, every up points up
        let top = sheet.blocks.last().unwrap();
        for face in &top.faces {
            let Fill::Block { block, motion } = &face.fill else {
                panic!()
            };
            if sheet.blocks[block.0] != *map {
                continue;
            }
            let Fill::Patch { up: Some(up), .. } = &map.faces[0].fill else {
                panic!()
            };
            let shown = motion.vector(up.toward);
            let upright = if up.two_way { shown.y.abs() } else { shown.y };
            assert!((upright - 1.0).abs() < 1e-12);
        }
    }
    // grain = 30 is clockwise as seen: down to the right
    let Fill::Patch {
        grain: Grain::Along(along),
        ..
    } = &sheet.blocks[0].faces[0].fill
    else {
        panic!()
    };
    assert!((*along - Vector::new(3f64.sqrt() / 2.0, -0.5)).length() < 1e-12);
}

#[test]
fn recolouring_is_at_once_and_innermost_first() {
    let design = read(
        "[[fabric]]\nname = \"red\"\ncolor = \"#c02020\"\n\
         [[block]]\nname = \"a\"\nsize = 2\ngrid = [2, 1]\npatches = [{ fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" }, \
         { fabric = \"dark\", path = \"M1 0 H2 V1 H1 Z\" }]\n\
         [[block]]\nname = \"b\"\nsize = 2\nplace = [{ block = \"a\", at = [0, 0], size = 1, \
         recolor = { light = \"dark\", dark = \"light\" } }]\n\
         [[block]]\nname = \"c\"\nsize = 2\nplace = [{ block = \"b\", at = [0, 0], size = 1, recolor = { light = \"red\" } }]\n\
         [layout]\nrows = [[\"c\"]]\n",
    );
    // a's light becomes dark; a's dark becomes light and then red (derived)
    let faces = design.top_picture().faces;
    assert_eq!(
        faces.iter().map(|f| f.fabric.as_str()).collect::<Vec<_>>(),
        ["dark", "red"]
    );
    let sheet = design.sheet().unwrap();
    let fabrics: Vec<&str> = sheet.blocks[0]
        .faces
        .iter()
        .map(|f| match &f.fill {
            Fill::Patch { fabric, .. } => fabric.as_str(),
            Fill::Block { .. } => "",
        })
        .collect();
    assert_eq!(fabrics, ["dark", "red"]);
}

#[test]
fn flipped_then_turned() {
    // a patch in the block's upper left corner; flipped it lies upper right; turned a quarter clockwise, lower right
    let design = read(
        "[[block]]\nname = \"a\"\nsize = 4\ngrid = [2, 2]\npatches = [{ fabric = \"dark\", path = \"M0 0 H1 V1 H0 Z\" }, \
         { fabric = \"light\", path = \"M1 0 H2 V2 H0 V1 H1 Z\" }]\n[layout]\nrows = [[\"a~@90\", \"a@90\"]]\n",
    );
    let faces = design.top_picture().faces;
    assert!(faces[0].outline.centroid().distance(Point::new(3.0, 1.0)) < 1e-12);
    assert!(faces[2].outline.centroid().distance(Point::new(7.0, 3.0)) < 1e-12);
}

#[test]
fn a_block_turned_freely_in_another() {
    // a square of 2√2 standing on its corner in a 4 in block: its corners are the middles of the block's sides (derived)
    let text = "[[block]]\nname = \"in\"\nsize = 1\npatches = [{ fabric = \"dark\", path = \"M0 0 H1 V1 H0 Z\" }]\n\
         [[block]]\nname = \"out\"\nsize = 4\ngrid = [4, 4]\npatches = [\n{ fabric = \"light\", path = \"M0 0 H2 L0 2 Z\" },\n\
         { fabric = \"light\", path = \"M2 0 H4 V2 Z\" },\n{ fabric = \"light\", path = \"M4 2 V4 H2 Z\" },\n\
         { fabric = \"light\", path = \"M0 2 L2 4 H0 Z\" },\n]\n\
         place = [{ block = \"in\", center = [2, 2], size = 2.8284271247, turn = 45 }]\n[layout]\nrows = [[\"out\"]]\n";
    let design = read(text);
    let sheet = design.sheet().unwrap();
    assert_eq!(sheet.blocks[1].vertices.len(), 8);
    let Fill::Block { motion, .. } = &sheet.blocks[1].faces[4].fill else {
        panic!()
    };
    assert!(*motion != Motion::STILL);
}

#[test]
fn a_free_layout_without_ground() {
    let two = "[[block]]\nname = \"w\"\nsize = [8, 4]\npatches = [{ fabric = \"dark\", path = \"M0 0 H1 V1 H0 Z\" }]\n\
         [[block]]\nname = \"q\"\nsize = 4\npatches = [{ fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" }]\n[layout]\nkind = \"free\"\n\
         size = [12, 8]\nplace = [\n{ block = \"w\", at = [0, 0] },\n{ block = \"w\", at = [\"8 in\", 0], turn = 90 },\n\
         { block = \"q\", at = [0, 4] },\n";
    let design = read(&format!(
        "{two}{{ block = \"q\", at = [4, 4] }},\n]\n[[border]]\nwidth = 2\nfabric = \"dark\"\nfirst = \"top\"\n"
    ));
    assert_eq!(design.findings(), []);
    assert_eq!(design.top_size(), (16.0, 12.0));
    let picture = design.top_picture();
    let area: f64 = picture.faces.iter().map(|f| f.outline.signed_area()).sum();
    assert!((area - 16.0 * 12.0).abs() < 1e-9);
    let open = read(&format!("{two}]\n"));
    let unfilled = |f: &terms::Finding| f.code == "ground-without-fill" && f.is_stop();
    assert!(open.findings().iter().any(unfilled));
    // the same place filled: one square of ground
    let filled = read(&format!("{two}]\nfill = \"light\"\n"));
    assert_eq!(filled.findings(), []);
    assert_eq!(filled.top_picture().faces.len(), 4);
}

#[test]
fn a_block_at_an_angle_in_a_free_layout_gets_its_corners() {
    // derived: a square of 2√2 at 45° fills a box of 4 in with four triangles, and four rectangles lie round the box
    let text = "[[block]]\nname = \"q\"\nsize = 2.8284271247\npatches = [{ fabric = \"dark\", path = \"M0 0 H1 V1 H0 Z\" }]\n\
         [layout]\nkind = \"free\"\nsize = [8, 8]\nfill = \"light\"\nplace = [{ block = \"q\", center = [4, 4], turn = 45 }]\n";
    let design = read(text);
    assert!(
        design.findings().iter().all(|f| !f.is_stop()),
        "{:?}",
        design.findings()
    );
    let picture = design.top_picture();
    assert_eq!(picture.faces.len(), 1 + 4 + 4);
    let area: f64 = picture.faces.iter().map(|f| f.outline.signed_area()).sum();
    assert!((area - 64.0).abs() < 1e-6, "{area}");
    assert!(design.sheet().is_ok());
}

/// `rows` × `columns` blocks of 12 in on point, the ones between left empty.
fn on_point(rows: usize, columns: usize, more: &str) -> Design {
    let list = |count: usize, cell: &str| format!("[{}]", vec![cell; count].join(", "));
    let all: Vec<String> = (0..2 * rows - 1)
        .map(|i| {
            if i % 2 == 0 {
                list(columns, "\"q\"")
            } else {
                list(columns - 1, "\"\"")
            }
        })
        .collect();
    read(&format!(
        "[[block]]\nname = \"q\"\nsize = 12\npatches = [{{ fabric = \"dark\", path = \"M0 0 H1 V1 H0 Z\" }}]\n\
         [layout]\nkind = \"on-point\"\nfill = \"light\"\nrows = [{}]\n{more}",
        all.join(", ")
    ))
}

#[test]
fn a_layout_on_point_is_counted() {
    // common practice and derived: 5 × 4 blocks of 12 in on point have (5 − 1)(4 − 1) more between them, 2 · 4 + 2 · 3 = 14 side
    // triangles and 4 corners, and make a top of 4 · 12√2 = 67.88 by 5 · 12√2 = 84.85 in
    let design = on_point(5, 4, "");
    assert_eq!(design.findings(), []);
    let (width, height) = design.top_size();
    assert!((width - 67.882).abs() < 1e-3 && (height - 84.853).abs() < 1e-3);
    let picture = design.top_picture();
    assert_eq!(picture.faces.len(), 20 + 12 + 14 + 4);
    let triangles: Vec<f64> = picture
        .faces
        .iter()
        .filter(|f| f.outline.len() == 3)
        .map(|f| f.outline.signed_area())
        .collect();
    // half a block and a quarter of one
    assert_eq!(triangles.iter().filter(|a| (**a - 72.0).abs() < 1e-6).count(), 14);
    assert_eq!(triangles.iter().filter(|a| (**a - 36.0).abs() < 1e-6).count(), 4);
    let area: f64 = picture.faces.iter().map(|f| f.outline.signed_area()).sum();
    assert!((area - width * height).abs() < 1e-6);
    assert!(design.sheet().is_ok());
}

#[test]
fn on_point_with_a_float_or_with_strips() {
    // the float goes on every side
    let design = on_point(2, 2, "float = 1\n");
    assert!(
        design.findings().iter().all(|f| !f.is_stop()),
        "{:?}",
        design.findings()
    );
    assert!((design.top_size().0 - (2.0 * 12.0 * 2f64.sqrt() + 2.0)).abs() < 1e-9);
    // a cell counts with its strip, "setting with sashing": 9 1/2 + 2 makes 11 1/2 (published on the web)
    for (more, stones) in [("", 0), (", cornerstones = \"dark\"", 12)] {
        let design = on_point(2, 2, &format!("sashing = {{ width = 1, fabric = \"dark\"{more} }}\n"));
        assert!(
            design.findings().iter().all(|f| !f.is_stop()),
            "{:?}",
            design.findings()
        );
        let (width, height) = design.top_size();
        assert!((width - 2.0 * 13.0 * 2f64.sqrt()).abs() < 1e-9);
        let picture = design.top_picture();
        let area: f64 = picture.faces.iter().map(|f| f.outline.signed_area()).sum();
        assert!((area - width * height).abs() < 1e-6, "{area}");
        // stones: 4 whole ones round the middle cell, 8 cut in half by the top's sides
        let small = |f: &&terms::Face| f.outline.signed_area() < 1.0 + 1e-9;
        assert_eq!(picture.faces.iter().filter(small).count(), stones);
        assert!(design.sheet().is_ok());
    }
    // derived: where it floats the strips go whole round the cells: 5 cells have 12 stones at their corners and 16 strips at
    // their sides; without stones the strips between the slanting rows run through
    for (more, stones, strips) in [("", 0, 8 + 4), (", cornerstones = \"dark\"", 12, 16)] {
        let more = format!("float = 2\nsashing = {{ width = 1, fabric = \"dark\"{more} }}\n");
        let design = on_point(2, 2, &more);
        let stops: Vec<_> = design.findings().into_iter().filter(|f| f.is_stop()).collect();
        assert!(stops.is_empty(), "{stops:?}");
        let (width, height) = design.top_size();
        assert!((width - (2.0 * 13.0 * 2f64.sqrt() + 4.0)).abs() < 1e-9);
        let picture = design.top_picture();
        let area: f64 = picture.faces.iter().map(|f| f.outline.signed_area()).sum();
        assert!((area - width * height).abs() < 1e-6, "{area}");
        let dark = picture.faces.iter().filter(|f| f.fabric.as_str() == "dark");
        let small = |f: &&terms::Face| (f.outline.signed_area() - 1.0).abs() < 1e-9;
        let (cells, rest): (Vec<_>, Vec<_>) = dark.partition(|f| f.outline.signed_area() > 100.0);
        // The middle cell is empty.
        assert_eq!(cells.len(), 4);
        let found = rest.iter().filter(|f| small(f)).count();
        assert_eq!((found, rest.len() - found), (stones, strips));
        assert!(design.sheet().is_ok());
    }
    let long = on_point(2, 2, "cell = [12, 10]\n");
    assert!(long.findings().iter().any(|f| f.code == "cell-not-square"));
}

#[test]
fn sashing_and_borders_fill_the_top_every_way() {
    let block = "[[block]]\nname = \"b\"\nsize = [6, 4]\npatches = [{ fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" }]\n\
         [[block]]\nname = \"k\"\nsize = 2\npatches = [{ fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" }]\n[layout]\n\
         rows = [[\"b\", \"b\", \"b\"], [\"b\", \"b\", \"b\"]]\n";
    for outer in [false, true] {
        for stones in ["", "cornerstones = \"light\", "] {
            for corners in ["", "corners = \"k\"\n", "first = \"top\"\n"] {
                let design = read(&format!(
                    "{block}sashing = {{ width = 1, fabric = \"dark\", {stones}outer = {outer} }}\n\
                     [[border]]\nwidth = 2\nfabric = \"dark\"\n{corners}[[border]]\nwidth = 1\nfabric = \"light\"\n"
                ));
                assert!(
                    design.sheet().is_ok(),
                    "{outer} {stones} {corners} {:?}",
                    design.findings()
                );
                // three 6 in cells, two or four strips, two borders (derived)
                let strips = if outer { 4.0 } else { 2.0 };
                assert_eq!(design.top_size().0, 18.0 + strips + 6.0);
                let picture = design.top_picture();
                let area: f64 = picture.faces.iter().map(|f| f.outline.signed_area()).sum();
                assert!((area - picture.outer.signed_area()).abs() < 1e-9);
            }
        }
    }
}

#[test]
fn mitred_borders_are_drawn_with_their_corners_at_half_a_right_angle() {
    let design = read(
        "[[block]]\nname = \"b\"\nsize = [6, 4]\npatches = [{ fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" }]\n\
         [layout]\nrows = [[\"b\"]]\n\
         [[border]]\nwidth = 2\nfabric = \"dark\"\ncorners = \"mitred\"\n\
         [[border]]\nwidth = 1\nfabric = \"light\"\ncorners = \"mitred\"\n",
    );
    assert!(design.findings().is_empty());
    let picture = design.top_picture();
    assert_eq!(design.top_size(), (12.0, 10.0));
    let sum: f64 = picture.faces.iter().map(|f| f.outline.signed_area()).sum();
    assert!((sum - 120.0).abs() < 1e-9, "{sum}");
    // A mitred strip along a side s has the area w (s + w) (derived: a trapezoid of s inside and s + 2w outside).
    let mut areas: Vec<f64> = picture.faces.iter().map(|f| f.outline.signed_area()).collect();
    areas.sort_by(f64::total_cmp);
    for (got, wanted) in areas.iter().zip([9.0, 9.0, 11.0, 11.0, 12.0, 12.0, 16.0, 16.0, 24.0]) {
        assert!((got - wanted).abs() < 1e-9, "{areas:?}");
    }
    // The first border's lower left mitre runs from (1, 1) to (3, 3) of the top, in the strips on both its sides (derived).
    let has = |face: &terms::Face, x: f64| {
        face.outline
            .corners()
            .iter()
            .any(|c| c.distance(Point::new(x, x)) < 1e-9)
    };
    let on_mitre = picture.faces.iter().filter(|f| has(f, 1.0) && has(f, 3.0)).count();
    assert_eq!(on_mitre, 2);
}
