//! Files that are no designs, and places that cannot be read or written: a clear message, exit status 2, and nothing
//! half-written.

mod terminal;

use std::path::Path;
use std::time::{Duration, Instant};
use terminal::{Folder, Said, beginning, scantling};

const HEAD: &str = "format = 1\n[quilt]\ntitle = \"A\"\n[[fabric]]\nname = \"red\"\ncolor = \"#a8322a\"\n";

/// Shows the file to every command that reads one. Nothing may appear beside it, and none may brood over it.
fn refused(folder: &Folder, file: &Path) -> Said {
    let before = folder.names(".");
    let start = Instant::now();
    let name = file.to_str().expect("a plain name");
    let out = folder.path("out").to_string_lossy().into_owned();
    let mut first = None;
    for arguments in [
        vec!["check", name],
        vec!["plan", name],
        vec!["rehearse", name],
        vec!["why", name],
        vec!["write", name, "--out", &out],
    ] {
        let said = scantling(arguments).ends(2);
        assert_eq!(said.out, "");
        assert!(said.err.contains(name), "the message names the file: {}", said.err);
        first.get_or_insert(said);
    }
    assert_eq!(folder.names("."), before);
    assert!(start.elapsed() < Duration::from_secs(60));
    first.expect("a message")
}

/// The same for a text, whose message names its line too.
fn refused_text(name: &str, text: impl AsRef<[u8]>, line: u32) -> Said {
    let folder = Folder::new(name);
    let file = folder.file("bad.quilt.toml", text);
    let said = refused(&folder, &file);
    assert!(said.err.contains(&format!("line {line},")), "{}", said.err);
    assert!(
        said.err.len() < 10_000,
        "a message is not a file: {} bytes",
        said.err.len()
    );
    said
}

#[test]
fn no_toml_at_all() {
    let said = refused_text("no-toml", "twelve blocks, please\n", 1);
    assert!(
        said.err.contains("twelve blocks, please"),
        "the line is shown: {}",
        said.err
    );
    assert!(
        said.err.lines().any(|line| line.trim_end().ends_with('^')),
        "and pointed at: {}",
        said.err
    );
}

#[test]
fn an_empty_file() {
    refused_text("empty", "", 1);
}

#[test]
fn bytes_that_are_no_text() {
    refused_text("no-text", b"format = 1\ntitle = \"\xff\"\n", 2);
    // Every byte there is, again and again.
    let all: Vec<u8> = (0..=255).cycle().take(10_000).collect();
    refused_text("all-bytes", all, 2);
    refused_text("nul", b"format = 1\n\0\n", 2);
}

#[test]
fn numbers_where_texts_belong_and_texts_where_numbers_do() {
    refused_text("format-word", "format = \"one\"\n", 1);
    refused_text("title-number", "format = 1\n[quilt]\ntitle = 3\n", 3);
    refused_text(
        "fabric-table",
        "format = 1\n[quilt]\ntitle = \"A\"\n[fabric]\nname = \"red\"\n",
        4,
    );
}

#[test]
fn an_unknown_key_is_answered_with_the_nearest_known_one() {
    let said = refused_text("unknown-key", "format = 1\n[quilt]\ntitel = \"A\"\n", 3);
    assert!(said.err.contains("title"), "{}", said.err);
}

#[test]
fn two_hundred_thousand_brackets() {
    refused_text("brackets", format!("a = {}", "[".repeat(200_000)), 1);
    refused_text("tables", format!("a = {}", "{a=".repeat(200_000)), 1);
    let folder = Folder::new("headers");
    refused(
        &folder,
        &folder.file("bad.quilt.toml", format!("[{}x]\n", "a.".repeat(100_000))),
    );
}

#[test]
fn sizes_that_are_no_sizes() {
    for (name, size) in [
        ("nan", "nan"),
        ("inf", "inf"),
        ("nan-text", "\"nan in\""),
        ("negative", "\"-1 in\""),
        ("nothing", "\"0 in\""),
        ("thousand", "\"1001 in\""),
        ("no-unit", "\"5 ells\""),
        ("over-zero", "\"1/0 in\""),
    ] {
        let text = format!(
            "{HEAD}[[block]]\nname = \"a\"\nsize = {size}\npatches = [{{ fabric = \"red\", path = \"M0 0 H1 V1 H0 Z\" }}]\n\
             [layout]\nkind = \"straight\"\nrows = [[\"a\"]]\n"
        );
        refused_text(&format!("size-{name}"), text, 9);
    }
}

#[test]
fn a_block_within_itself() {
    let text = format!(
        "{HEAD}[[block]]\nname = \"a\"\nsize = \"4 in\"\nplace = [{{ block = \"b\", at = [0, 0], size = [1, 1] }}]\n\
         [[block]]\nname = \"b\"\nsize = \"4 in\"\nplace = [{{ block = \"a\", at = [0, 0], size = [1, 1] }}]\n\
         [layout]\nkind = \"straight\"\nrows = [[\"a\"]]\n"
    );
    let folder = Folder::new("cycle");
    let said = refused(&folder, &folder.file("bad.quilt.toml", text));
    assert!(said.err.contains('a') && said.err.contains("line "), "{}", said.err);
}

/// A block that is `across` × `down` copies of another.
fn copies(name: &str, of: &str, across: usize, down: usize) -> String {
    let mut text = format!("[[block]]\nname = \"{name}\"\nsize = [\"{across} in\", \"{down} in\"]\n");
    text += &format!("grid = [{across}, {down}]\nplace = [\n");
    for y in 0..down {
        for x in 0..across {
            text += &format!("  {{ block = \"{of}\", at = [{x}, {y}], size = [1, 1] }},\n");
        }
    }
    text + "]\n"
}

#[test]
fn one_patch_too_many() {
    // 100 · 100 · 20 = 200 000 patches, and one more beside them.
    let mut text = format!(
        "{HEAD}[[block]]\nname = \"a\"\nsize = \"1 in\"\npatches = [{{ fabric = \"red\", path = \"M0 0 H1 V1 H0 Z\" }}]\n"
    );
    text += &copies("b", "a", 10, 10);
    text += &copies("c", "b", 10, 10);
    text += &copies("d", "c", 21, 1).replace("{ block = \"c\", at = [20, 0]", "{ block = \"a\", at = [20, 0]");
    text += "[layout]\nkind = \"straight\"\nrows = [[\"d\"]]\n";
    let folder = Folder::new("patches");
    let said = refused(&folder, &folder.file("bad.quilt.toml", text));
    let figures = said.err.replace([' ', '\u{202f}', ','], "");
    assert!(
        figures.contains("200000"),
        "the message says how many are allowed: {}",
        said.err
    );
}

#[test]
fn a_file_too_large() {
    let folder = Folder::new("large");
    let file = folder.file("bad.quilt.toml", vec![b'#'; 4_000_001]);
    let said = refused(&folder, &file);
    assert!(said.err.contains("4 MB"), "{}", said.err);
}

#[test]
fn what_cannot_be_read() {
    let folder = Folder::new("unreadable");
    refused(&folder, &folder.path("not-there.quilt.toml"));
    std::fs::create_dir(folder.path("folder.quilt.toml")).expect("a folder");
    let said = refused(&folder, &folder.path("folder.quilt.toml"));
    assert!(said.err.contains("folder"), "{}", said.err);
    let under_a_file = folder.file("file", "").join("design.quilt.toml");
    refused(&folder, &under_a_file);
}

#[cfg(target_os = "linux")]
#[test]
fn a_device_without_end() {
    let folder = Folder::new("device");
    refused(&folder, Path::new("/dev/zero"));
}

#[test]
fn the_same_for_programs() {
    let folder = Folder::new("json-refused");
    let file = folder.file("bad.quilt.toml", "format = 1\n[quilt]\ntitel = \"A\"\n");
    for command in ["check", "plan", "rehearse"] {
        let said = scantling([command, file.to_str().expect("a plain name"), "--json"]).ends(2);
        let read: serde_json::Value = serde_json::from_str(&said.out).expect("JSON");
        assert_eq!(read["readable"], false);
        let errors = read["errors"].as_array().expect("a list");
        assert!(errors.iter().any(|error| error["line"] == 3), "{}", said.out);
    }
}

#[test]
fn a_title_cannot_steer_the_terminal() {
    let folder = Folder::new("steer");
    let file = folder.file(
        "bad.quilt.toml",
        "format = 1\n[quilt]\n\"\\u001b[2J\" = \"\\u001b[2J\"\n",
    );
    assert!(!refused(&folder, &file).err.contains('\u{1b}'));
}

#[test]
fn recipes_that_are_none() {
    let folder = Folder::new("recipes");
    let design = beginning(&folder, false);
    let good = scantling(["plan".as_ref(), design.as_os_str(), "--json".as_ref()]).ends(0);
    // The plan has more in it than a recipe: unknown keys are no recipe either.
    for (name, text) in [
        ("empty.json", ""),
        ("list.json", "[]"),
        ("brackets.json", &*"[".repeat(200_000)),
        ("plan.json", &good.out),
        ("later.json", "{\"format\":99}"),
    ] {
        let recipe = folder.file(name, text);
        let arguments = [
            "rehearse".as_ref(),
            design.as_os_str(),
            "--recipe".as_ref(),
            recipe.as_os_str(),
        ];
        let said = scantling(arguments).ends(2);
        assert!(said.err.contains(name), "{}", said.err);
    }
}

/// All whole numbers in a JSON value, to be changed.
fn numbers(value: &mut serde_json::Value) -> Vec<&mut serde_json::Value> {
    match value {
        serde_json::Value::Number(_) => vec![value],
        serde_json::Value::Array(items) => items.iter_mut().flat_map(numbers).collect(),
        serde_json::Value::Object(fields) => fields.values_mut().flat_map(numbers).collect(),
        _ => Vec::new(),
    }
}

#[test]
fn recipes_with_wild_numbers() {
    let folder = Folder::new("wild");
    let design = beginning(&folder, false);
    let out = folder.path("out");
    scantling(["write".as_ref(), design.as_os_str(), "--out".as_ref(), out.as_os_str()]).ends(0);
    let text = std::fs::read_to_string(out.join("recipe.json")).expect("a file");
    let good: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let count = numbers(&mut good.clone()).len();
    assert!(count > 200);
    for (index, wild) in (0..count)
        .step_by(29)
        .zip([i64::MAX, i64::MIN, 1 << 32, -1].into_iter().cycle())
    {
        let mut pattern = good.clone();
        *numbers(&mut pattern)[index] = wild.into();
        let recipe = folder.file("wild.json", pattern.to_string());
        let arguments = [
            "rehearse".as_ref(),
            design.as_os_str(),
            "--recipe".as_ref(),
            recipe.as_os_str(),
        ];
        let said = scantling(arguments);
        assert!(
            matches!(said.code, Some(0..=2)),
            "number {index} as {wild}: {}",
            said.err
        );
        assert!(!said.err.contains("panicked"), "number {index} as {wild}: {}", said.err);
    }
}

#[test]
fn a_folder_that_cannot_be_written() {
    let folder = Folder::new("unwritable");
    let design = beginning(&folder, false);
    let design = design.to_str().expect("a plain name");
    let file = folder.file("taken", "stays");
    let under = file.join("deeper");
    for out in [&file, &under] {
        let said = scantling(["write", design, "--out", out.to_str().expect("a plain name")]).ends(2);
        assert!(said.err.contains("taken"), "{}", said.err);
    }
    assert_eq!(std::fs::read_to_string(&file).expect("still there"), "stays");
    assert_eq!(folder.names("."), ["beginning.quilt.toml", "taken"]);
}

#[test]
fn a_folder_in_the_place_of_a_file() {
    let folder = Folder::new("in-the-way");
    let design = beginning(&folder, false);
    std::fs::create_dir_all(folder.path("out/recipe.json")).expect("a folder");
    let out = folder.path("out");
    let arguments = ["write".as_ref(), design.as_os_str(), "--out".as_ref(), out.as_os_str()];
    let said = scantling(arguments).ends(2);
    assert!(said.err.contains("recipe.json"), "{}", said.err);
    assert_eq!(folder.names("out"), ["recipe.json"]);
}

/// A limit on the size of files, as a shell sets it (POSIX `ulimit -f`, in blocks of 512 bytes).
#[cfg(unix)]
#[test]
fn a_limit_on_the_size_of_files() {
    let folder = Folder::new("limit");
    let design = beginning(&folder, false);
    let limited = |out: &Path| {
        let output = std::process::Command::new("sh")
            .args(["-c", "ulimit -f 4; exec \"$@\"", "sh"])
            .arg(env!("CARGO_BIN_EXE_scantling"))
            .args(["write".as_ref(), design.as_os_str(), "--out".as_ref(), out.as_os_str()])
            .output()
            .expect("a shell");
        Said::from(output).ends(2)
    };
    let said = limited(&folder.path("out"));
    assert!(said.err.contains("size"), "{}", said.err);
    assert_eq!(folder.names("."), ["beginning.quilt.toml"], "nothing half-written");
    // What was there before stays whole.
    std::fs::create_dir(folder.path("old")).expect("a folder");
    folder.file("old/booklet.pdf", "the old one");
    limited(&folder.path("old"));
    assert_eq!(folder.names("old"), ["booklet.pdf"]);
    assert_eq!(
        std::fs::read_to_string(folder.path("old/booklet.pdf")).expect("still there"),
        "the old one"
    );
}
