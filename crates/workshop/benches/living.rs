//! How long the living pattern takes from a design to its pages, room by room. `docs/speed.md` keeps the figures.
//!
//! `cargo bench -p workshop --bench living`

use design::Design;
use divan::{Bencher, black_box};
use std::fmt::Write as _;
use std::path::Path;
use workshop::file::Photos;
use workshop::handing::Print;
use workshop::living::{InSight, Memory, Worked, source, work};

fn source_of(design: &Design) -> book::Source {
    let drafted = drafting::draft(design).expect("it is planned");
    source(design, &drafted, None, &[], &none())
}

/// No photographs.
fn none() -> Photos {
    Photos::of(Path::new("nowhere"))
}

fn main() {
    divan::main();
}

const DESIGNS: [&str; 2] = ["sampler", "ten thousand"];

/// The sampler, or its blocks in 19 rows of 19, as `tests/browser/large.js` lays them.
fn design(name: &str) -> Design {
    let file = format!(
        "{}/../../examples/lantern-harbour.quilt.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read_to_string(file).expect("the sampler is among the examples");
    let text = if name == "sampler" { text } else { large(&text) };
    design::read_design(&text).expect("it reads")
}

fn large(text: &str) -> String {
    let cells = [
        "beacon",
        "four-vanes",
        "tides",
        "four-knots",
        "jetty",
        "compass",
        "buoys-and-nets",
        "porthole",
    ];
    let (blocks, _) = text.split_once("[layout]").expect("it has a layout");
    let mut out = format!("{blocks}[layout]\nkind = \"straight\"\ncell = \"12 in\"\nrows = [\n");
    for row in 0..19 {
        let names: Vec<String> = (0..19)
            .map(|column| format!("\"{}\"", cells[(row * 3 + column) % 8]))
            .collect();
        let _ = writeln!(out, "  [{}],", names.join(", "));
    }
    out + "]\nsashing = { width = \"1 1/2 in\", fabric = \"foam\", cornerstones = \"brass\", outer = true }\n"
}

/// No section is made before the others.
const NOTHING_FIRST: First = (InSight::default, drop, || ());

/// What is in sight, and what to do with it.
type First = (fn() -> InSight, fn(Worked), fn());

/// From the design to the pages, all rooms.
#[divan::bench(args = DESIGNS, sample_count = 20)]
fn whole(bencher: Bencher<'_, '_>, name: &str) {
    let design = design(name);
    let edition = Print::default().edition(design.quilt.measure);
    bencher.bench(|| {
        work(
            "",
            black_box(&design),
            &edition,
            (&none(), &mut Memory::default()),
            || true,
            NOTHING_FIRST,
        )
    });
}

/// The same when only a colour was changed: the rehearsal is remembered.
#[divan::bench(args = DESIGNS, sample_count = 20)]
fn another_colour(bencher: Bencher<'_, '_>, name: &str) {
    let design = design(name);
    let edition = Print::default().edition(design.quilt.measure);
    let mut memory = Memory::default();
    work("", &design, &edition, (&none(), &mut memory), || true, NOTHING_FIRST);
    bencher.bench_local(|| {
        work(
            "",
            black_box(&design),
            &edition,
            (&none(), &mut memory),
            || true,
            NOTHING_FIRST,
        )
    });
}

/// To the pattern, without rehearsal and pages.
#[divan::bench(args = DESIGNS, sample_count = 20)]
fn drafted(bencher: Bencher<'_, '_>, name: &str) {
    let design = design(name);
    bencher.bench(|| drafting::draft(black_box(&design)));
}

/// The proof.
#[divan::bench(args = DESIGNS, sample_count = 20)]
fn rehearsed(bencher: Bencher<'_, '_>, name: &str) {
    let drafted = drafting::draft(&design(name)).expect("it is planned");
    let pattern = &drafted.pattern;
    bencher.bench(|| rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &drafted.picture));
}

/// The scenes.
#[divan::bench(args = DESIGNS, sample_count = 20)]
fn filmed(bencher: Bencher<'_, '_>, name: &str) {
    let drafted = drafting::draft(&design(name)).expect("it is planned");
    let pattern = &drafted.pattern;
    bencher.bench(|| rehearse::scenes(&pattern.recipe, &pattern.cutting));
}

/// The pages, drawings and all.
#[divan::bench(args = DESIGNS, sample_count = 20)]
fn composed(bencher: Bencher<'_, '_>, name: &str) {
    let design = design(name);
    let edition = Print::default().edition(design.quilt.measure);
    let source = source_of(&design);
    bencher.bench(|| book::compose_living(black_box(&source), &edition));
}

/// The pages as markup.
#[divan::bench(args = DESIGNS, sample_count = 20)]
fn written(bencher: Bencher<'_, '_>, name: &str) {
    let design = design(name);
    let edition = Print::default().edition(design.quilt.measure);
    let source = source_of(&design);
    let book = book::compose_living(&source, &edition);
    bencher.bench(|| {
        let all = 0..book.sections.len();
        all.map(|i| book.section_html(i, &mut |inside| (inside.len() > 500).then(String::new)))
            .collect::<Vec<_>>()
    });
}

/// The top alone, as the page of the quilt draws it.
#[divan::bench(args = DESIGNS, sample_count = 20)]
fn top(bencher: Bencher<'_, '_>, name: &str) {
    let design = design(name);
    bencher.bench(|| black_box(&design).top_picture());
}
