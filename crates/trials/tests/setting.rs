//! Layouts on point over whole designs: their triangles are cut from squares, their borders cut longer and trimmed flush, and
//! all is proved.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::Step;
use trials::judge::Tally;
use trials::whole::Whole;

/// So many rows of so many blocks of 6 in on point, an arrow in each so that turning shows.
fn on_point(rows: usize, columns: usize, more: &str) -> String {
    let list = |count: usize, cell: &str| format!("[{}]", vec![cell; count].join(", "));
    let all: Vec<String> = (0..2 * rows - 1)
        .map(|i| match i % 2 {
            0 => list(columns, "\"q\""),
            _ => list(columns - 1, "\"q@90\""),
        })
        .collect();
    let mut text = String::from("format = 1\n[quilt]\ntitle = \"Trial\"\n");
    for (name, color) in [("light", "#efe8d8"), ("dark", "#1f2d4a"), ("red", "#a33a2a")] {
        text += &format!("[[fabric]]\nname = \"{name}\"\ncolor = \"{color}\"\n");
    }
    text + &format!(
        "[[block]]\nname = \"q\"\nsize = 6\ngrid = 2\npatches = [\n\
         {{ fabric = \"dark\", path = \"M0 0 H1 V2 H0 Z\" }},\n\
         {{ fabric = \"light\", path = \"M1 0 H2 V1 H1 Z\" }},\n\
         {{ fabric = \"red\", path = \"M1 1 H2 V2 H1 Z\" }},\n]\n\
         [layout]\nkind = \"on-point\"\nfill = \"light\"\nrows = [{}]\n{more}",
        all.join(", ")
    )
}

fn proved(text: &str) -> Whole {
    let whole = Whole::of(text).unwrap_or_else(|f| panic!("{f:#?}\n{text}"));
    if let Err(findings) = whole.rehearse() {
        let told: Vec<String> = findings.iter().map(ToString::to_string).collect();
        panic!("{}\n{text}", told.join("\n"));
    }
    whole
}

const BORDERS: &str =
    "[[border]]\nwidth = 1\nfabric = \"red\"\n[[border]]\nwidth = 3\nfabric = \"dark\"\nfirst = \"top\"\n";

/// The layouts.
fn layouts() -> Vec<(String, String)> {
    let mut all = Vec::new();
    for (name, float) in [("", ""), (", floating", "float = \"1 1/2 in\"\n")] {
        for (what, sashing) in [
            ("blocks alone", ""),
            (
                "stones",
                "sashing = { width = 1, fabric = \"dark\", cornerstones = \"red\" }\n",
            ),
            // They run through to the sides and end at an angle there; where the layout floats they do not.
            ("strips", "sashing = { width = 1, fabric = \"dark\" }\n"),
        ] {
            all.push((format!("{what}{name}"), format!("{float}{sashing}")));
        }
    }
    all
}

#[test]
fn every_layout_on_point_is_proved() {
    for (name, more) in layouts() {
        for (rows, columns) in [(1, 1), (1, 2), (2, 2), (3, 2), (2, 3)] {
            for borders in ["", BORDERS] {
                let whole = proved(&on_point(rows, columns, &format!("{more}{borders}")));
                // In a single row a corner lies between a side and another corner, which stand out otherwise.
                let in_one_row = rows == 1 && columns > 1;
                // A strip that leans the same way at both ends has its raw middle elsewhere than the rows along it have theirs.
                let template = in_one_row || rows != columns && name == "strips";
                let cut_so = whole.pattern.cutting.templates.is_empty();
                assert!(cut_so || template, "{name}, {rows} by {columns}");
                let trims = whole.pattern.recipe.makes.iter().flat_map(|m| &m.steps);
                let trims = trims.filter(|step| matches!(step, Step::Trim { .. })).count();
                assert!(trims > 0 || template, "{name}, {rows} by {columns}");
            }
        }
    }
}

#[test]
fn in_centimetres_as_well() {
    for (name, more) in layouts() {
        let text = on_point(2, 2, &format!("{more}{BORDERS}")).replace("title =", "units = \"metric\"\ntitle =");
        let text = text.replace("1 1/2 in", "4 cm").replace("size = 6", "size = \"15 cm\"");
        let whole = proved(&text);
        assert!(whole.pattern.cutting.templates.is_empty(), "{name}");
    }
}

#[test]
fn a_long_border_is_joined_and_trimmed_flush() {
    // *Derived*: 5 by 5 of 6 in are 42.43 in, more than the 40 in of the cloth.
    let whole = proved(&on_point(5, 5, BORDERS));
    assert!(whole.pattern.cutting.templates.is_empty());
    let joined = whole
        .pattern
        .recipe
        .makes
        .iter()
        .filter(|m| m.label == "Long strip")
        .count();
    assert!(joined > 0);
}

#[test]
fn each_layout_altered_is_refused() {
    let butted = layouts()
        .into_iter()
        .map(|(name, more)| (name, format!("{more}{BORDERS}")));
    // Joined of two, cut to measure at 45 degrees.
    let mitred = "[[border]]\nwidth = 11\nfabric = \"dark\"\ncorners = \"mitred\"\n";
    for (name, more) in butted.chain([("mitred border".to_string(), mitred.to_string())]) {
        let whole = proved(&on_point(2, 2, &more));
        let mut tally = Tally::default();
        tally.judge(&name, &whole.pattern, &whole.picture, 1500);
        assert!(tally.unread.is_empty(), "{name}: {:?}", tally.unread);
        assert_eq!(
            tally.total().unexpected,
            0,
            "survived in {name}:\n{}",
            tally.unexpected.join("\n")
        );
    }
}

#[test]
fn template_and_squares_stand_side_by_side() {
    let text = on_point(2, 2, "");
    let design = design::read_design(&text).unwrap();
    let compared = piecing::compare(&design).unwrap();
    let centre = compared
        .iter()
        .find(|unit| unit.ways[0].method == "setting triangles")
        .unwrap();
    let ways: Vec<&str> = centre.ways.iter().map(|way| way.method).collect();
    assert_eq!(ways, ["setting triangles", "template"]);
    // What is trimmed is 1/64 in out at the most.
    assert!(centre.ways[0].error < centre.ways[1].error);
    assert_eq!(centre.ways[0].trims, 4.0);
}
