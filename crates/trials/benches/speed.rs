//! How long each room takes: reading and checking, piecing, cutting, rehearsing. `docs/speed.md` keeps the figures.
//!
//! `cargo bench -p trials --bench speed`, or one of them: `cargo bench -p trials --bench speed -- plan`.

use cutting::ClothNote;
use design::Design;
use divan::{Bencher, black_box};
use measure::{Length, Why};
use piecing::Planned;
use trials::generate::free_form;
use trials::large::{SAMPLER_CELLS, log_cabin, parallel_strips, repeated, uneven_grid};
use trials::whole::Whole;

fn main() {
    divan::main();
}

/// The designs, by name; the figure is about how many patches show.
const DESIGNS: [&str; 8] = [
    "sampler",
    "repeated 1000",
    "repeated 10000",
    "free form 1000",
    "free form 10000",
    "uneven grid 40 x 40",
    "2000 strips",
    "log cabin, 400 rounds",
];

/// Those that can be made whole: the largest patches of a free form are wider than any cloth.
const PROVED: [&str; 6] = [DESIGNS[0], DESIGNS[1], DESIGNS[2], DESIGNS[5], DESIGNS[6], DESIGNS[7]];

fn text(name: &str) -> String {
    let file = format!(
        "{}/../../examples/lantern-harbour.quilt.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let sampler = || std::fs::read_to_string(&file).expect("the sampler is among the examples");
    match name {
        "sampler" => sampler(),
        "repeated 1000" => repeated(&sampler(), &SAMPLER_CELLS, 6, 6),
        "repeated 10000" => repeated(&sampler(), &SAMPLER_CELLS, 19, 18),
        "free form 1000" => free_form(1000),
        "free form 10000" => free_form(10_000),
        "uneven grid 40 x 40" => uneven_grid(40),
        "2000 strips" => parallel_strips(2000),
        _ => log_cabin(400),
    }
}

/// Designs of one make, each of about twice the patches of the one before: how the time grows.
const DOUBLING: [&str; 12] = [
    "free form 250",
    "free form 500",
    "free form 1000",
    "free form 2000",
    "grid 25 x 25",
    "grid 35 x 35",
    "grid 50 x 50",
    "grid 71 x 71",
    "grid 100 x 100",
    "sampler 9 x 9",
    "sampler 13 x 13",
    "sampler 19 x 18",
];

fn doubling(name: &str) -> String {
    let numbers: Vec<usize> = name.split(' ').filter_map(|word| word.parse().ok()).collect();
    match (name.split(' ').next(), &numbers[..]) {
        (Some("free"), &[patches, ..]) => free_form(patches),
        (Some("grid"), &[side, ..]) => uneven_grid(side),
        (_, &[rows, columns]) => repeated(&text("sampler"), &SAMPLER_CELLS, rows, columns),
        _ => text("sampler"),
    }
}

/// From the text to the pieced and cut pattern, pressing included.
#[divan::bench(args = DOUBLING, sample_count = 3)]
fn growth_planned(bencher: Bencher<'_, '_>, name: &str) {
    let text = doubling(name);
    bencher.bench_local(|| Whole::of(black_box(&text)).map_err(|_| "not to be made"));
}

/// The rehearsal of the same.
#[divan::bench(args = DOUBLING, sample_count = 3)]
fn growth_rehearsed(bencher: Bencher<'_, '_>, name: &str) {
    let whole = Whole::of(&doubling(name)).expect("the designs can be made");
    bencher.bench_local(|| black_box(&whole).rehearse());
}

fn read(name: &str) -> Design {
    design::read_design(&text(name)).expect("the designs can be read")
}

fn planned(design: &Design) -> Planned {
    piecing::plan(design).expect("the designs can be pieced")
}

#[divan::bench(args = DESIGNS)]
fn check(bencher: Bencher<'_, '_>, name: &str) {
    let text = text(name);
    bencher.bench_local(|| design::read_design(black_box(&text)).map(|design| design.findings()));
}

#[divan::bench(args = DESIGNS)]
fn plan(bencher: Bencher<'_, '_>, name: &str) {
    let design = read(name);
    bencher.bench_local(|| piecing::plan(black_box(&design)));
}

#[divan::bench(args = PROVED)]
fn cut(bencher: Bencher<'_, '_>, name: &str) {
    let design = read(name);
    let planned = planned(&design);
    let cloths: Vec<ClothNote> = design
        .fabrics
        .iter()
        .map(|f| ClothNote {
            fabric: f.name.clone(),
            usable: f.usable,
            square_up: f.square_up,
            step: f.step,
            shrink: f.shrink,
            cut: None,
        })
        .collect();
    let mark = Length::nearest(design.quilt.ruler).unwrap_or(Length::fraction(1, 8));
    bencher
        .with_inputs(|| planned.whys.clone())
        .bench_local_refs(|whys: &mut Vec<Why>| {
            cutting::plan_cutting(
                black_box(&planned.demands),
                &[],
                &cloths,
                mark,
                design.quilt.measure,
                whys,
            )
        });
}

#[divan::bench(args = PROVED)]
fn rehearse(bencher: Bencher<'_, '_>, name: &str) {
    let whole = Whole::of(&text(name)).expect("the designs can be made");
    bencher.bench_local(|| black_box(&whole).rehearse());
}

/// All of it, from the file's text to the proof.
#[divan::bench(args = PROVED)]
fn whole(bencher: Bencher<'_, '_>, name: &str) {
    let text = text(name);
    bencher.bench_local(|| Whole::of(black_box(&text)).and_then(|whole| whole.rehearse()));
}
