//! Orders from a form to the zip on the disk, on the examples.

use super::*;
use crate::file::{EXAMPLES, Refused};
use design::Design;
use std::collections::BTreeSet;
use std::io::{Cursor, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

fn example(name: &str) -> Design {
    let text = EXAMPLES.iter().find(|(n, _)| *n == name).unwrap().1;
    design::read_design(text).unwrap()
}

fn order(design: &Design, form: &[(&str, &str)]) -> Result<Order, Refused> {
    let form: Vec<(String, String)> = form.iter().map(|(k, v)| ((*k).to_string(), (*v).to_string())).collect();
    Order::of_form(design, &form)
}

struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Folder {
        let folder = std::env::temp_dir().join(format!("workshop-handing-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).unwrap();
        Folder(folder)
    }

    fn aside(&self) -> PathBuf {
        self.0.join(".scantling/handing-out")
    }

    fn left(&self) -> Vec<String> {
        fn gather(folder: &Path, found: &mut Vec<String>) {
            for entry in std::fs::read_dir(folder).unwrap() {
                let place = entry.unwrap().path();
                if place.is_dir() {
                    gather(&place, found);
                } else {
                    found.push(place.display().to_string());
                }
            }
        }
        let mut found = Vec::new();
        gather(&self.0, &mut found);
        found.sort();
        let root = format!("{}/", self.0.display());
        found.iter().map(|path| path.replace(&root, "")).collect()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// Waits until an order has ended.
fn ended(handing: &Handing) -> Progress {
    let until = Instant::now() + Duration::from_secs(120);
    while handing.progress().state.is_busy() {
        assert!(Instant::now() < until, "{:?}", handing.progress());
        std::thread::sleep(Duration::from_millis(2));
    }
    handing.progress()
}

#[test]
fn an_order_is_each_choice_with_each_other_and_a_file_that_is_not_set_once() {
    let design = example("lantern-harbour");
    let usual = order(&design, &[]).unwrap();
    let paths: Vec<String> = usual.entries.iter().map(Entry::path).collect();
    assert_eq!(
        paths,
        [
            "base/as_listed/inch/booklet.pdf",
            "base/as_listed/inch/booklet.html",
            "base/as_listed/inch/cut-list.csv",
            "base/as_listed/inch/recipe.json",
            "base/as_listed/inch/picture.json"
        ]
    );
    let two = order(
        &design,
        &[
            ("measure", "inch"),
            ("measure", "metric"),
            ("hand", "left"),
            ("hand", "right"),
            ("print", "large"),
            ("part", "whole"),
            ("part", "1"),
            ("file", "booklet.pdf"),
            ("file", "cut-list.csv"),
            ("file", "picture.json"),
        ],
    )
    .unwrap();
    let paths: BTreeSet<String> = two.entries.iter().map(Entry::path).collect();
    // Derived: 2 measures x (2 booklets + a cut list, for the whole and for the part; the picture of the whole alone).
    assert_eq!((paths.len(), two.entries.len()), (2 * (2 * 3 + 1), 2 * (2 * 3 + 1)));
    assert!(paths.contains("base/as_listed/metric/part-1/booklet-left-hand-large-print.pdf"));
    assert!(paths.contains("base/as_listed/inch/picture.json"));
}

#[test]
fn what_is_not_there_is_refused() {
    let design = example("harbour-windows");
    for (form, code) in [
        (vec![("size", "giant")], "no-such-choice"),
        (vec![("colorway", "../../etc")], "no-such-choice"),
        (vec![("measure", "ell")], "no-such-choice"),
        (vec![("part", "0")], "no-such-choice"),
        (vec![("part", "last")], "no-such-choice"),
        (vec![("file", "../booklet.pdf")], "no-such-choice"),
        (vec![("to", "moon")], "no-such-choice"),
        (vec![("wings", "2")], "no-such-choice"),
        (vec![("part", "1"), ("file", "picture.json")], "nothing-chosen"),
    ] {
        assert_eq!(order(&design, &form).unwrap_err().code, code, "{form:?}");
    }
    let many: Vec<(String, String)> = (1..=1000).map(|n| ("part".to_string(), n.to_string())).collect();
    assert_eq!(Order::of_form(&design, &many).unwrap_err().code, "too-many-files");
}

#[test]
fn a_zip_is_the_same_bytes_again_and_holds_what_the_command_line_writes() {
    let design = Arc::new(example("first-strips"));
    let form = [
        ("file", "cut-list.csv"),
        ("file", "recipe.json"),
        ("measure", "inch"),
        ("measure", "metric"),
    ];
    let mut zips = Vec::new();
    for run in ["one", "two"] {
        let folder = Folder::new(run);
        let counter = Counter::default();
        let made = order(&design, &form).unwrap();
        let handing = counter
            .begin("first-strips", "r", design.clone(), made, &folder.aside(), &folder.0)
            .unwrap();
        let progress = ended(&handing);
        assert_eq!(
            (progress.state, progress.done, progress.of),
            (State::Ready, 4, 4),
            "{progress:?}"
        );
        assert_eq!(folder.left(), [".scantling/handing-out/first-strips.zip"]);
        zips.push(std::fs::read(handing.zip().unwrap()).unwrap());
    }
    assert_eq!(zips[0], zips[1]);
    let mut zip = zip::ZipArchive::new(Cursor::new(&zips[0])).unwrap();
    let names: Vec<String> = zip.file_names().map(|name| name.unwrap().into_owned()).collect();
    assert_eq!(
        names,
        [
            "base/as_listed/inch/cut-list.csv",
            "base/as_listed/inch/recipe.json",
            "base/as_listed/metric/cut-list.csv",
            "base/as_listed/metric/recipe.json",
            "contents.txt"
        ]
    );
    let mut text = String::new();
    let name = "base/as_listed/inch/recipe.json";
    zip.by_name(name).unwrap().read_to_string(&mut text).unwrap();
    let ready = Ready::of(&design, &crate::file::Photos::of(Path::new(".")), || true).unwrap();
    assert_eq!(text, ready.draft.pattern.to_json());
    let mut contents = String::new();
    zip.by_name("contents.txt")
        .unwrap()
        .read_to_string(&mut contents)
        .unwrap();
    assert!(contents.contains("base/as_listed/inch: proved, "), "{contents}");
}

#[test]
fn an_order_that_is_stopped_leaves_nothing_and_another_can_begin() {
    let design = Arc::new(example("lantern-harbour"));
    let folder = Folder::new("stop");
    let counter = Counter::default();
    let many = [
        ("measure", "inch"),
        ("measure", "metric"),
        ("hand", "left"),
        ("hand", "right"),
        ("print", "usual"),
        ("print", "large"),
    ];
    let begin = |form: &[(&str, &str)]| {
        let made = order(&design, form).unwrap();
        counter.begin("lantern-harbour", "r", design.clone(), made, &folder.aside(), &folder.0)
    };
    let handing = begin(&many).unwrap();
    // While one is in hand another is not begun.
    assert_eq!(
        begin(&many).err().map(|refused| refused.code).as_deref(),
        Some("handing-out")
    );
    while handing.progress().done == 0 {
        std::thread::sleep(Duration::from_millis(1));
    }
    handing.stop();
    let at = handing.progress().done;
    let progress = ended(&handing);
    assert_eq!(progress.state, State::Stopped);
    // The file in hand was finished, and no more than that was begun.
    assert!(progress.done <= at + 1 && progress.done < progress.of, "{progress:?}");
    assert_eq!(handing.zip(), None);
    assert_eq!(folder.left(), [""; 0]);
    let again = begin(&[("file", "cut-list.csv"), ("to", "folder")]).unwrap();
    assert_eq!(ended(&again).state, State::Ready);
    assert_eq!(
        folder.left(),
        [
            "lantern-harbour-handed-out/base/as_listed/inch/cut-list.csv",
            "lantern-harbour-handed-out/contents.txt"
        ]
    );
    // A folder is no zip.
    assert_eq!(again.zip(), None);
}

#[test]
fn what_a_size_has_not_is_left_out_and_told() {
    let design = Arc::new(example("first-strips"));
    let folder = Folder::new("left-out");
    let counter = Counter::default();
    let made = order(&design, &[("part", "whole"), ("part", "99"), ("file", "cut-list.csv")]).unwrap();
    let handing = counter
        .begin("q", "r", design, made, &folder.aside(), &folder.0)
        .unwrap();
    let progress = ended(&handing);
    assert_eq!((progress.state, progress.done), (State::Ready, 2));
    assert_eq!(progress.notes.len(), 1);
    assert!(progress.notes[0].contains("part 99"), "{:?}", progress.notes);
}

#[test]
fn where_nothing_can_be_written_the_order_fails_in_words() {
    let design = Arc::new(example("first-strips"));
    let folder = Folder::new("no-room");
    // A file stands where the folder should be.
    std::fs::write(folder.0.join(".scantling"), "").unwrap();
    let counter = Counter::default();
    let made = order(&design, &[("file", "cut-list.csv")]).unwrap();
    let handing = counter
        .begin("q", "r", design, made, &folder.aside(), &folder.0)
        .unwrap();
    let progress = ended(&handing);
    assert_eq!(progress.state, State::Failed);
    assert!(progress.words.starts_with("The computer says"), "{}", progress.words);
}
