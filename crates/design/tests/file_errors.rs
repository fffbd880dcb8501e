//! What a maker is told about a file that is wrong: each error with its line, its column and what was expected.

use design::{read_design, read_design_bytes};

const GOOD: &str = r##"format = 1

[quilt]
title = "Test"

[[fabric]]
name = "night"
color = "#1f2d4a"

[[block]]
name = "beacon"
size = "12 in"
grid = [2, 2]
patches = [
  { fabric = "night", path = "M0 0 H2 V2 H0 Z" },
]

[layout]
kind = "straight"
rows = [["beacon"]]
"##;

fn told(text: &str) -> String {
    match read_design(text) {
        Ok(_) => "read".to_string(),
        Err(errors) => errors
            .iter()
            .map(|e| e.render(text, "test.quilt.toml"))
            .collect::<Vec<_>>()
            .join("\n"),
    }
}

fn changed(from: &str, to: &str) -> String {
    assert!(GOOD.contains(from), "{from}");
    told(&GOOD.replace(from, to))
}

#[test]
fn the_file_itself_reads() {
    assert_eq!(told(GOOD), "read");
}

#[test]
fn an_unknown_key_has_a_neighbour() {
    insta::assert_snapshot!(changed("color =", "colour ="), @r##"
    error [missing-key]: a fabric has no color
      in test.quilt.toml, line 6, column 1
      |
    6 | [[fabric]]
      | ^
      expected color = "#1f2d4a"

    error [unknown-key]: a fabric has no key "colour"
      in test.quilt.toml, line 8, column 1
      |
    8 | colour = "#1f2d4a"
      | ^
      expected perhaps color
    "##);
}

#[test]
fn an_unknown_name_has_a_neighbour() {
    insta::assert_snapshot!(changed("fabric = \"night\"", "fabric = \"nigth\""), @r##"
    error [unknown-name]: there is no fabric "nigth"
      in test.quilt.toml, line 15, column 14
       |
    15 |   { fabric = "nigth", path = "M0 0 H2 V2 H0 Z" },
       |              ^
      expected a fabric of this file such as "night"
    "##);
    insta::assert_snapshot!(changed("[[\"beacon\"]]", "[[\"beacon\", \"bacon@90\"]]"), @r##"
    error [unknown-name]: there is no block "bacon"
      in test.quilt.toml, line 20, column 20
       |
    20 | rows = [["beacon", "bacon@90"]]
       |                    ^
      expected a block of this file such as "beacon"
    "##);
}

#[test]
fn a_path_is_pointed_into() {
    insta::assert_snapshot!(changed("M0 0 H2 V2 H0 Z", "M0 0 H2 W2 H0 Z"), @r##"
    error [bad-path]: the path cannot be read after 2 commands
      in test.quilt.toml, line 15, column 39
       |
    15 |   { fabric = "night", path = "M0 0 H2 W2 H0 Z" },
       |                                       ^
      expected SVG path data such as "M0 0 H2 V2 H0 Z"
    "##);
    insta::assert_snapshot!(changed("M0 0 H2 V2 H0 Z", "M0 0 L2 2 H0 L2 1 Z"), @r##"
    error [bad-path]: the outline crosses or touches itself
      in test.quilt.toml, line 15, column 30
       |
    15 |   { fabric = "night", path = "M0 0 L2 2 H0 L2 1 Z" },
       |                              ^
      expected one simple closed outline
    "##);
}

#[test]
fn lengths_say_what_they_are() {
    insta::assert_snapshot!(changed("\"12 in\"", "\"12 ells\""), @r##"
    error [bad-length]: size: "ells" is not a unit (in, ", yd, cm, mm, m)
      in test.quilt.toml, line 12, column 8
       |
    12 | size = "12 ells"
       |        ^
      expected a length such as "5 1/2 in" or "14 cm"
    "##);
    for (size, code) in [
        ("0", "bad-length"),
        ("-1", "bad-length"),
        ("nan", "bad-number"),
        ("inf", "bad-number"),
        ("1001", "bad-length"),
        ("\"1200 in\"", "bad-length"),
        ("true", "wrong-type"),
        ("[1, 2, 3]", "wrong-count"),
    ] {
        let errors = read_design(&GOOD.replace("\"12 in\"", size)).unwrap_err();
        assert_eq!(errors[0].code, code, "{size}: {}", errors[0]);
    }
}

#[test]
fn several_errors_come_in_the_order_of_the_file() {
    let text = GOOD
        .replace("title =", "tilte =")
        .replace("kind =", "knd =")
        .replace("\"beacon\"\n", "\"Beacon\"\n");
    let errors = read_design(&text).unwrap_err();
    let lines: Vec<u32> = errors.iter().map(|e| e.line).collect();
    let mut sorted = lines.clone();
    sorted.sort_unstable();
    assert_eq!(lines, sorted);
    assert!(errors.len() >= 4, "{errors:?}");
}

#[test]
fn a_block_within_itself() {
    let text = GOOD.replace(
        "[layout]",
        "place = [{ block = \"beacon\", at = [0, 0], size = 1 }]\n[layout]",
    );
    let errors = read_design(&text).unwrap_err();
    assert_eq!(errors[0].code, "cycle");
}

#[test]
fn a_box_of_other_proportions() {
    let text = format!(
        "{GOOD}\n[[block]]\nname = \"outer\"\nsize = 8\ngrid = [4, 4]\nplace = [{{ block = \"beacon\", at = [0, 0], size = [4, 2] }}]\n"
    );
    let errors = read_design(&text).unwrap_err();
    assert_eq!(errors[0].code, "other-proportions");
    assert!(errors[0].message.contains("8 in by 4 in"), "{}", errors[0]);
}

#[test]
fn twenty_levels_and_more_patches_than_can_be() {
    let mut deep = GOOD.to_string();
    let mut wide = GOOD.to_string();
    for level in 0..20 {
        let inner = if level == 0 {
            "beacon".to_string()
        } else {
            format!("l{}", level - 1)
        };
        let one = format!("{{ block = \"{inner}\", at = [0, 0], size = 1 }}");
        deep.push_str(&format!(
            "[[block]]\nname = \"l{level}\"\nsize = 12\ngrid = [1, 1]\nplace = [{one}]\n"
        ));
        let four: String = (0..4)
            .map(|k| format!("{{ block = \"{inner}\", at = [{}, {}], size = 1 }},", k % 2, k / 2))
            .collect();
        if level < 14 {
            wide.push_str(&format!(
                "[[block]]\nname = \"l{level}\"\nsize = 12\ngrid = [2, 2]\nplace = [{four}]\n"
            ));
        }
    }
    let deep = read_design(&deep).unwrap_err();
    assert_eq!(deep[0].code, "limit");
    assert!(deep[0].expected.contains("16 levels"));
    // 4^14 patches are counted, not built
    let wide = read_design(&wide).unwrap_err();
    assert_eq!(wide[0].code, "limit");
    assert!(wide[0].message.contains("268435456"), "{}", wide[0]);
}

#[test]
fn hostile_files_end_in_an_error() {
    let deep = "[".repeat(200_000);
    for text in [
        String::new(),
        deep.clone(),
        format!("a = {deep}"),
        format!("a = {}", "{a=".repeat(200_000)),
        format!("{}a = 1", "a.".repeat(200_000)),
        format!("[{}a]", "a.".repeat(200_000)),
        "\"".repeat(200_000),
        "[[fabric]]\n".repeat(200_000),
        "a\u{0}b".to_string(),
        "x".repeat(4_000_001),
        "# ".to_string() + &"é".repeat(1_000_000),
        (0..200_000).map(|i| format!("k{i} = 1\n")).collect::<String>(),
    ] {
        let start = text.chars().take(20).collect::<String>();
        let errors = read_design(&text).expect_err(&start);
        assert!(!errors.is_empty() && errors.len() <= 50);
        for e in &errors {
            let _ = e.render(&text, "f");
        }
    }
    let errors = read_design_bytes(b"format = 1\n\xff\xfe").unwrap_err();
    assert_eq!((errors[0].code, errors[0].line, errors[0].column), ("not-utf-8", 2, 1));
}

#[test]
fn a_metric_file_counts_in_centimetres() {
    let text = GOOD
        .replace("title = \"Test\"", "title = \"Test\"\nunits = \"metric\"")
        .replace("\"12 in\"", "30.48");
    let design = read_design(&text).unwrap();
    let close = |inches: f64, cm: f64| assert!((inches * 2.54 - cm).abs() < 1e-9, "{inches} in for {cm} cm");
    close(design.blocks[0].size.0, 30.48);
    // the defaults of a metric file (the format's own)
    close(design.quilt.seam, 0.75);
    close(design.quilt.ruler, 0.25);
    let cloth = &design.fabrics[0];
    close(cloth.width, 110.0);
    close(cloth.usable, 105.0);
    close(cloth.square_up, 2.5);
    close(cloth.step, 10.0);
    // 30.48 cm lies between the quarters of a centimetre; 30.5 and 30.25 are next to it (derived)
    let findings = design.findings();
    assert_eq!(findings[0].code, "off-marks");
    assert!(findings[0].mend.contains("30.25 cm or 30.5 cm"), "{}", findings[0]);
}

#[test]
fn a_pointer_into_a_long_line_of_many_alphabets() {
    let note = "gr\u{fc}\u{df}e \u{1f9f5} ".repeat(40);
    let line = format!("quilt = {{ title = \"t\", note = \"{note}\", colour = 1 }}");
    let text = GOOD.replace("[quilt]\ntitle = \"Test\"\n", &format!("{line}\n"));
    let errors = read_design(&text).unwrap_err();
    // columns count characters, not bytes
    let before: String = line.chars().take(errors[0].column as usize - 1).collect();
    assert!(line[before.len()..].starts_with("colour"), "{}", errors[0]);
    let shown = errors[0].render(&text, "f");
    assert!(shown.lines().all(|l| l.chars().count() < 140), "{shown}");
}

#[test]
fn what_is_not_toml() {
    insta::assert_snapshot!(changed("title = \"Test\"", "title = Test"), @r##"
    error [not-toml]: the file cannot be read here: there is no value or a bare word
      in test.quilt.toml, line 4, column 9
      |
    4 | title = Test
      |         ^
      expected a text in quotes, a number, true or false
    "##);
    insta::assert_snapshot!(changed("[layout]", "[layout"), @r##"
    error [not-toml]: the file cannot be read here: unclosed table
      in test.quilt.toml, line 18, column 8
       |
    18 | [layout
       |        ^
      expected `]`
    "##);
    insta::assert_snapshot!(changed("format = 1", "format = 2"), @r##"
    error [unknown-format]: this is format 2
      in test.quilt.toml, line 1, column 10
      |
    1 | format = 2
      |          ^
      expected format = 1
    "##);
}

#[test]
fn blocks_that_grow_without_end() {
    for (size, grid, factor) in [("0.02", 1.0, 50_000.0), ("1000", 1.0, 0.001)] {
        let mut text = GOOD.replace("\"12 in\"", size);
        for level in 0..14 {
            let inner = if level == 0 {
                "beacon".to_string()
            } else {
                format!("l{}", level - 1)
            };
            text.push_str(&format!(
                "[[block]]\nname = \"l{level}\"\nsize = {size}\ngrid = {grid}\n\
                 place = [{{ block = \"{inner}\", at = [0, 0], size = {factor} }}]\n"
            ));
        }
        let text = text.replace("[[\"beacon\"]]", "[[\"l13\"]]");
        let design = read_design(&text).unwrap_or_else(|e| panic!("{}", e[0]));
        assert!(design.findings().iter().any(terms::Finding::is_stop));
        assert!(design.sheet().is_err());
        let _ = design.top_picture();
    }
}

#[test]
fn an_arc_of_any_size_is_soon_drawn() {
    let text = GOOD.replace("M0 0 H2 V2 H0 Z", "M0 0 A1e300 1e-300 7 1 1 2 2 H0 Z");
    let _ = read_design(&text);
}

#[test]
fn every_other_key_is_read() {
    let text = format!(
        "{GOOD}{}",
        r##"fill = "night"
sashing = { width = "1 in", fabric = "night", cornerstones = "night", outer = true }

[[border]]
width = "4 in"
fabric = "night"
corners = "mitred"
grain = "length"
units = ["beacon"]
spacer = "auto"

[finish]
binding = { fabric = "night", strip = "2 1/2 in", cut = "bias" }
backing = { fabric = "night", over = "3 in" }
batting = { over = "3 in" }
skip = ["batting"]

[[colorway]]
name = "dawn"
[colorway.fabrics]
night = { label = "Slate", color = "#546a7b" }

[[size]]
name = "crib"
rows = [["beacon", "beacon"]]
scale = 0.5
borders = [{ width = "2 in", fabric = "night" }]

[[part]]
name = "Part 1"
blocks = { beacon = 1 }
also = ["sashing"]
date = 2027-01-09

[[say]]
at = "beacon/A"
text = "Mind the needle."
"##
    );
    let design = read_design(&text).unwrap_or_else(|_| panic!("{}", told(&text)));
    let binding = design.finish.binding.as_ref().unwrap();
    assert_eq!((binding.strip, binding.bias), (2.5, true));
    assert_eq!(design.finish.skip, ["batting"]);
    assert_eq!(
        (design.sizes[0].scale, design.parts[0].date.as_str()),
        (0.5, "2027-01-09")
    );
    // a pieced border is not mitred
    let stops: Vec<_> = design.findings().into_iter().filter(terms::Finding::is_stop).collect();
    assert_eq!(stops.iter().map(|f| f.code).collect::<Vec<_>>(), ["border-mitred"]);
    // and a wrong role in another size is still an error
    assert!(told(&text.replace("rows = [[\"beacon\", \"beacon\"]]", "rows = [[\"becon\"]]")).contains("unknown-name"));
}

#[test]
fn a_photograph_lies_beside_the_file_and_nowhere_else() {
    let with = |photo: &str| changed("grid = [2, 2]", &format!("grid = [2, 2]\nphoto = {photo}"));
    for good in [
        "\"beacon.jpg\"",
        "\"Beacon at dusk.JPEG\"",
        "\"Feuer (größer).png\"",
        "\"\"",
    ] {
        assert_eq!(with(good), "read", "{good}");
    }
    for bad in [
        "\"../beacon.jpg\"",
        "\"photos/beacon.jpg\"",
        "'photos\\beacon.jpg'",
        "\"C:beacon.jpg\"",
        "\".jpg\"",
        "\"beacon\"",
        "\"beacon.svg\"",
        "\"a\\nb.jpg\"",
        "\"\\u202Egpj.jpg\"",
    ] {
        assert!(
            with(bad).starts_with("error [bad-name]: photo names no picture beside the file"),
            "{bad}"
        );
    }
    assert!(with("1").starts_with("error [wrong-type]"));
}
