//! Each command on a design that can be made and on one that cannot: exit status, words, files.

mod terminal;

use serde_json::Value;
use std::ffi::OsStr;
use std::path::Path;
use std::process::Stdio;
use terminal::{Folder, beginning, command, scantling};

const FILES: [&str; 5] = [
    "booklet.html",
    "booklet.pdf",
    "cut-list.csv",
    "picture.json",
    "recipe.json",
];

fn with(name: &str, file: &Path, more: &[&str]) -> terminal::Said {
    let arguments = [OsStr::new(name), file.as_os_str()];
    scantling(arguments.into_iter().chain(more.iter().map(OsStr::new)))
}

fn json(text: &str) -> Value {
    serde_json::from_str(text).expect("JSON")
}

/// One block with a gap: its right half is bare.
fn gap(folder: &Folder) -> std::path::PathBuf {
    folder.file(
        "gap.quilt.toml",
        "format = 1\n[quilt]\ntitle = \"Gap\"\n[[fabric]]\nname = \"red\"\ncolor = \"#a8322a\"\n[[block]]\nname = \"a\"\nsize = \"4 in\"\n\
         grid = [2, 2]\npatches = [{ fabric = \"red\", path = \"M0 0 H1 V2 H0 Z\" }]\n\
         [layout]\nkind = \"straight\"\nrows = [[\"a\"]]\n",
    )
}

#[test]
fn both_beginnings_can_be_made() {
    for metric in [false, true] {
        let folder = Folder::new(if metric { "begin-metric" } else { "begin-inch" });
        let design = beginning(&folder, metric);
        with("check", &design, &[]).ends(0);
        let proved = with("rehearse", &design, &[]).ends(0);
        assert!(proved.out.contains("Proved"), "{}", proved.out);
        assert_eq!(
            proved.err, "",
            "nothing to complain about, nothing left over from looking for faults"
        );
    }
}

#[test]
fn a_beginning_never_overwrites() {
    let folder = Folder::new("overwrite");
    let design = beginning(&folder, false);
    std::fs::write(&design, "mine").expect("a file");
    for name in ["beginning", "beginning.quilt.toml"] {
        let said = with("new", &folder.path(name), &[]).ends(2);
        assert!(said.err.contains("there already"), "{}", said.err);
    }
    assert_eq!(std::fs::read_to_string(&design).expect("a file"), "mine");
    with("new", Path::new("/"), &[]).ends(2);
    with("new", Path::new(""), &[]).ends(2);
}

#[test]
fn a_gap_stops_every_command() {
    let folder = Folder::new("gap");
    let design = gap(&folder);
    let said = with("check", &design, &[]).ends(1);
    assert!(
        said.out.contains("stop") && said.out.contains("block a"),
        "{}",
        said.out
    );
    let read = json(&with("check", &design, &["--json"]).ends(1).out);
    assert_eq!(read["findings"][0]["severity"], "stop");
    for name in ["plan", "rehearse", "why"] {
        with(name, &design, &[]).ends(1);
    }
    assert_eq!(
        json(&with("rehearse", &design, &["--json"]).ends(1).out)["proved"],
        false
    );
    let out = folder.path("out");
    with("write", &design, &["--out", out.to_str().expect("a plain name")]).ends(1);
    assert!(!out.exists(), "without a plan nothing is written");
}

#[test]
fn the_plan_in_words_and_as_json() {
    let folder = Folder::new("plan");
    let design = beginning(&folder, false);
    let words = with("plan", &design, &[]).ends(0).out;
    // Three blocks of 8 in across and two borders of 2 in: 28 in finished (derived).
    assert!(words.contains("28 in × 20 in"), "{words}");
    assert!(!words.contains('\u{1b}'), "no colour where nobody looks on");
    let read = json(&with("plan", &design, &["--json"]).ends(0).out);
    for key in ["recipe", "cutting", "bought", "whys", "findings", "picture"] {
        assert!(!read[key].is_null(), "{key}");
    }
}

#[test]
fn a_reader_who_has_had_enough() {
    let folder = Folder::new("pipe");
    let design = beginning(&folder, false);
    let mut child = command()
        .args([OsStr::new("plan"), design.as_os_str(), OsStr::new("--json")])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("the program ends");
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty());
}

#[cfg(target_os = "linux")]
#[test]
fn an_output_with_no_room() {
    let folder = Folder::new("full");
    let design = beginning(&folder, false);
    let full = std::fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .expect("Linux has it");
    let output = command()
        .args([OsStr::new("plan"), design.as_os_str()])
        .stdout(full)
        .stderr(Stdio::piped())
        .output()
        .expect("the program runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("no room"));
}

#[test]
fn all_files_and_the_same_bytes_again() {
    let folder = Folder::new("write");
    let design = beginning(&folder, false);
    for out in ["one", "two", "one"] {
        let place = folder.path(out);
        let said = with("write", &design, &["--out", place.to_str().expect("a plain name")]).ends(0);
        assert!(said.out.contains("Proved"), "{}", said.out);
        assert_eq!(folder.names(out), FILES);
    }
    for file in FILES {
        let read = |out: &str| std::fs::read(folder.path(out).join(file)).expect("a file");
        assert!(!read("one").is_empty());
        assert!(read("one") == read("two"), "{file} differs between two runs");
    }
    // The recipe read back holds as well.
    let recipe = folder.path("one/recipe.json");
    let read = with(
        "rehearse",
        &design,
        &["--json", "--recipe", recipe.to_str().expect("a plain name")],
    );
    assert_eq!(json(&read.ends(0).out)["proved"], true);
}

#[test]
fn a_recipe_a_sixteenth_wrong_is_not_proved() {
    let folder = Folder::new("sixteenth");
    let design = beginning(&folder, false);
    let out = folder.path("out");
    with("write", &design, &["--out", out.to_str().expect("a plain name")]).ends(0);
    let mut pattern = json(&std::fs::read_to_string(out.join("recipe.json")).expect("a file"));
    // 1/16 in = 508 of 1/8128 in (derived). All strips of the first cloth are cut so much lower.
    let strips = pattern["cutting"]["cloths"][0]["strips"]
        .as_array_mut()
        .expect("strips");
    for strip in strips {
        let height = strip["height"]["len"].as_i64().expect("a length");
        strip["height"]["len"] = Value::from(height - 508);
    }
    let wrong = folder.file("wrong.json", pattern.to_string());
    let said = with(
        "rehearse",
        &design,
        &["--recipe", wrong.to_str().expect("a plain name")],
    )
    .ends(1);
    assert!(said.out.contains("Not proved"), "{}", said.out);
    assert!(
        said.out.contains("step"),
        "the step it objects to is named: {}",
        said.out
    );
}

#[test]
fn every_piece_unit_and_fabric_explains_itself() {
    let folder = Folder::new("why");
    let design = beginning(&folder, false);
    let list = with("why", &design, &[]).ends(0).out;
    let names: Vec<&str> = list
        .lines()
        .filter(|line| line.starts_with("  "))
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert!(names.len() > 4, "{list}");
    for name in names {
        let said = with("why", &design, &[name]).ends(0);
        assert!(said.out.contains(name), "{}", said.out);
        assert!(
            !said.out.contains("given as it is"),
            "a number without its derivation: {}",
            said.out
        );
    }
    let said = with("why", &design, &["no-such-thing"]).ends(2);
    assert!(said.err.contains("no-such-thing"), "{}", said.err);
}

#[test]
fn questions_about_the_program_itself() {
    let help = scantling(["--help"]).ends(0).out;
    for name in ["new", "check", "plan", "rehearse", "write", "why", "sizes", "open"] {
        assert!(help.contains(&format!("  {name} ")), "{help}");
    }
    assert!(scantling(["--version"]).ends(0).out.starts_with("scantling "));
    scantling(["sew"]).ends(2);
}

/// A goose and half-square units: each can be made in several ways.
fn several_ways(folder: &Folder) -> std::path::PathBuf {
    let goose = "{ fabric = \"sea\", path = \"M0 1 L1 0 L2 1 Z\" }, { fabric = \"foam\", path = \"M0 0 L1 0 L0 1 Z\" },\n\
                 { fabric = \"foam\", path = \"M1 0 L2 0 L2 1 Z\" }";
    let half = "{ fabric = \"sea\", path = \"M0 0 L1 0 L0 1 Z\" }, { fabric = \"foam\", path = \"M1 0 L1 1 L0 1 Z\" }";
    folder.file(
        "ways.quilt.toml",
        format!(
            "format = 1\n[quilt]\ntitle = \"Ways\"\n[[fabric]]\nname = \"sea\"\ncolor = \"#1f2d4a\"\n\
             [[fabric]]\nname = \"foam\"\ncolor = \"#efe8d8\"\n\
             [[block]]\nname = \"goose\"\nsize = [\"4 in\", \"2 in\"]\ngrid = [2, 1]\npatches = [{goose}]\n\
             [[block]]\nname = \"half\"\nsize = \"2 in\"\npatches = [{half}]\n\
             [[block]]\nname = \"both\"\nsize = [\"6 in\", \"2 in\"]\ngrid = [3, 1]\n\
             place = [{{ block = \"goose\", at = [0, 0], size = [2, 1] }}, {{ block = \"half\", at = [2, 0], size = 1 }}]\n\
             [layout]\nkind = \"straight\"\nrows = [[\"both\"], [\"both\"]]\n"
        ),
    )
}

#[test]
fn the_ways_of_each_unit_stand_side_by_side() {
    let folder = Folder::new("compare");
    let design = several_ways(&folder);
    let said = json(&with("plan", &design, &["--compare", "--json"]).ends(0).out);
    let unit = |name: &str| {
        let units = said["units"].as_array().expect("units").iter();
        units
            .filter(|u| u["unit"].as_str().is_some_and(|u| u.starts_with(name)))
            .find(|u| u["ways"].as_array().is_some_and(|w| w.len() > 1))
            .expect("a unit with several ways")
            .clone()
    };
    let way = |unit: &Value, method: &str| {
        let mut ways = unit["ways"].as_array().expect("ways").iter();
        ways.find(|w| w["method"] == method).cloned().expect("the way")
    };
    // A goose of 2 x 4 finished by sew-and-flip: 2 1/2 x 4 1/2 and two squares of 2 1/2 (teaching handout, refs: sew-and-
    // flip goose) = 11.25 + 12.5 sq in; two seams. Counted by hand.
    let flip = way(&unit("goose"), "goose by sew-and-flip");
    assert_eq!(
        (flip["cloth"].as_f64(), flip["seams"].as_f64()),
        (Some(23.75), Some(2.0))
    );
    // The same four at a time: one square of 5 1/4 and four of 2 7/8 (no-waste geese, charts published on the web), 60.625 sq in;
    // two are wanted, so that each takes the cloth of two. Counted by hand.
    let fours = way(&unit("goose"), "geese by fours");
    assert_eq!(
        (
            fours["cloth"].as_f64(),
            fours["at_once"].as_u64(),
            fours["over"].as_u64()
        ),
        (Some(30.3125), Some(4), Some(2))
    );
    assert_eq!(way(&unit("half"), "half-squares by fours")["bias"], true);
    // Two squares of finished 2 + 7/8 give two half-square units (extension handout, refs: half-square triangle): 8.265625
    // sq in each; a seam and four trims each; trimmed, 1/64 in out at the most. Counted by hand.
    let pairs = way(&unit("half"), "half-square pairs");
    assert_eq!(pairs["cloth"].as_f64(), Some(8.265_625));
    assert_eq!(
        (pairs["seams"].as_f64(), pairs["trims"].as_f64()),
        (Some(1.0), Some(4.0))
    );
    assert_eq!(pairs["error"], 1);
    // Untrimmed: two pieces and the seam between them, from side to side (by hand: 1 + 2 + 1).
    assert_eq!(way(&unit("half"), "plain patches")["error"], 4);
    let text = with("plan", &design, &["--compare"]).ends(0).out;
    assert!(text.contains("* half-square pairs"), "{text}");
    assert!(
        text.contains("chosen: the others make more at once than are wanted"),
        "{text}"
    );
    let text = with("plan", &design, &["--compare", "--prefer", "forgiving"])
        .ends(0)
        .out;
    assert!(text.contains("chosen: it forgives the most"), "{text}");
    for prefer in ["cloth", "steps", "forgiving"] {
        with("rehearse", &design, &["--prefer", prefer]).ends(0);
    }
    with("plan", &design, &["--prefer", "speed"]).ends(2);
}

#[test]
fn the_error_budget_is_the_same_each_time_and_says_what_it_assumes() {
    for metric in [false, true] {
        let folder = Folder::new(if metric { "wobble-metric" } else { "wobble-inch" });
        let design = beginning(&folder, metric);
        let said = with("rehearse", &design, &["--wobble", "--runs", "12"]).ends(0);
        assert!(
            said.out.contains("12 rehearsals with hands that stray (seed 1)"),
            "{}",
            said.out
        );
        assert!(
            said.out.contains(if metric { "assumed, mm" } else { "assumed, in" }),
            "{}",
            said.out
        );
        assert!(said.out.contains("Easing"), "{}", said.out);
        let again = with("rehearse", &design, &["--wobble", "--runs", "12"]).ends(0);
        assert_eq!(said.out, again.out, "the same seed, the same figures");

        let perfect = ["--cut-spread", "0", "--seam-spread", "0", "--end-spread", "0"];
        let still = [&["--wobble", "--runs", "2", "--json"], &perfect[..]].concat();
        let still = json(&with("rehearse", &design, &still).ends(0).out);
        let units = still["units"].as_array().expect("units");
        assert!(!units.is_empty());
        for unit in units {
            // Still hands leave only the noise of floating point.
            assert!(unit["spread_inches"].as_f64().expect("a figure") < 1.0e-9, "{unit}");
        }
        assert_eq!(still["stopped"], json("[]"));
        // A length is millimetres in a metric design, inches in another.
        let wide = json(
            &with(
                "rehearse",
                &design,
                &["--wobble", "--runs", "2", "--json", "--seam-bias", "0.5"],
            )
            .ends(0)
            .out,
        );
        let bias = wide["maker_inches"]["bias"].as_f64().expect("a figure");
        // derived: 1 in is 25.4 mm
        assert!((bias - if metric { 0.5 / 25.4 } else { 0.5 }).abs() < 1.0e-12, "{bias}");
    }
    let folder = Folder::new("wobble-refused");
    let refused = with("rehearse", &gap(&folder), &["--wobble"]).ends(1);
    assert!(!refused.out.is_empty());
    // The options of the budget belong to it.
    let design = beginning(&folder, false);
    with("rehearse", &design, &["--runs", "5"]).ends(2);
}

#[test]
fn what_the_error_budget_proposes_is_written_into_the_file_where_it_pays() {
    // Four patches beside plain squares: only the size of a four patch counts there, and a trim makes it true (by hand).
    let folder = Folder::new("wobble-apply");
    let row = |first: &str, then: &str| format!("[\"{first}\", \"{then}\", \"{first}\", \"{then}\"]");
    let text = format!(
        "format = 1\n[quilt]\ntitle = \"Four\" # a comment\n[[fabric]]\nname = \"red\"\ncolor = \"#b0503c\"\n[[fabric]]\nname = \"foam\"\ncolor = \"#efe8d8\"\n\
         [[block]]\nname = \"four\"\nsize = \"4 in\"\ngrid = 2\npatches = [{{ fabric = \"red\", path = \"M0 0 H1 V1 H0 Z\" }}, {{ fabric = \"foam\", path = \"M1 0 H2 V1 H1 Z\" }}, \
         {{ fabric = \"foam\", path = \"M0 1 H1 V2 H0 Z\" }}, {{ fabric = \"red\", path = \"M1 1 H2 V2 H1 Z\" }}]\n\
         [[block]]\nname = \"plain\"\nsize = \"4 in\"\npatches = [{{ fabric = \"foam\", path = \"M0 0 H1 V1 H0 Z\" }}]\n\
         [layout]\nkind = \"straight\"\nrows = [{}, {}]\n",
        row("four", "plain"),
        row("plain", "four")
    );
    let design = folder.file("four.quilt.toml", &text);
    with("rehearse", &design, &["--wobble"]).ends(0);
    assert_eq!(
        std::fs::read_to_string(&design).expect("the file"),
        text,
        "only proposed"
    );
    let said = with("rehearse", &design, &["--wobble", "--apply"]).ends(0);
    assert!(said.out.contains("cut large and trimmed from now on"), "{}", said.out);
    let now = std::fs::read_to_string(&design).expect("the file");
    let pin = "\n[[block.pin]]\npatches = [1, 2, 3, 4]\nmethod = \"plain patches, trimmed\"\n";
    assert!(now.contains(pin) && now.contains("# a comment"), "{now}");
    with("rehearse", &design, &[]).ends(0);
    // A recipe file is nobody's design, and JSON is read by programs: neither is applied.
    with("rehearse", &design, &["--wobble", "--apply", "--json"]).ends(2);
    with("rehearse", &design, &["--apply"]).ends(2);
}

#[test]
fn the_cloths_are_told_from_dark_to_light() {
    let folder = Folder::new("cloths");
    let design = folder.file(
        "pair.quilt.toml",
        "format = 1\n[quilt]\ntitle = \"Pair\"\n[[fabric]]\nname = \"red\"\ncolor = \"#b0503c\"\n[[fabric]]\nname = \"green\"\ncolor = \"#647a32\"\n\
         [[fabric]]\nname = \"ink\"\ncolor = \"#101010\"\n\
         [[block]]\nname = \"a\"\nsize = \"4 in\"\ngrid = [2, 2]\npatches = [{ fabric = \"red\", path = \"M0 0 H1 V2 H0 Z\" }, \
         { fabric = \"green\", path = \"M1 0 H2 V2 H1 Z\" }]\n[layout]\nkind = \"straight\"\nrows = [[\"a\"]]\n",
    );
    let said = with("cloths", &design, &[]).ends(0);
    assert!(
        said.out.contains("red and green") || said.out.contains("green and red"),
        "{}",
        said.out
    );
    assert!(said.out.contains("in grey"), "{}", said.out);
    assert!(
        !said.out.contains("ink"),
        "what lies nowhere in the top is not on the ladder: {}",
        said.out
    );
    let told = json(&with("cloths", &design, &["--json"]).ends(0).out);
    let rungs = told["ladder"].as_array().expect("a ladder");
    let light = |i: usize| rungs[i]["lightness"].as_f64().expect("a figure");
    assert_eq!(rungs.len(), 2);
    assert!(light(0) <= light(1));
    // 4 in of seam between them
    assert_eq!(told["neighbours"][0]["along"].as_f64(), Some(4.0));
}
