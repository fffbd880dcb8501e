//! Large and deep designs: they neither run out of stack nor take long, in a thread with little stack to spare.
//!
//! The times allowed are many times those of `docs/speed.md`; they only catch a cost that grows with the square.

use std::time::{Duration, Instant};
use trials::generate::free_form;
use trials::large::{SAMPLER_CELLS, log_cabin, parallel_strips, repeated, uneven_grid};
use trials::whole::Whole;

/// Runs in a thread of 1 MB of stack, half of what a thread gets by default, and says how long it took.
fn in_little_stack(work: impl FnOnce() + Send + 'static) -> Duration {
    let start = Instant::now();
    let thread = std::thread::Builder::new().stack_size(1 << 20).spawn(work);
    thread
        .expect("a thread starts")
        .join()
        .expect("the work is done in little stack");
    start.elapsed()
}

fn proved(text: &str, faces: usize) {
    let whole = Whole::of(text).unwrap_or_else(|findings| panic!("{}", findings[0]));
    assert_eq!(whole.picture.faces.len(), faces);
    let proof = whole.rehearse().unwrap_or_else(|findings| panic!("{}", findings[0]));
    assert!(proof.largest_difference <= 1.0 / 64.0);
}

#[test]
fn a_log_cabin_of_400_rounds() {
    // Four strips a round and the middle.
    let took = in_little_stack(|| proved(&log_cabin(400), 1601));
    assert!(took < Duration::from_secs(60), "{took:?}");
}

#[test]
fn two_thousand_strips() {
    let took = in_little_stack(|| proved(&parallel_strips(2000), 2000));
    assert!(took < Duration::from_secs(20), "{took:?}");
}

#[test]
fn sixteen_hundred_different_rectangles() {
    let took = in_little_stack(|| proved(&uneven_grid(40), 1600));
    assert!(took < Duration::from_secs(20), "{took:?}");
}

#[test]
fn ten_thousand_patches_of_repeated_blocks() {
    let file = format!(
        "{}/../../examples/lantern-harbour.quilt.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = repeated(&std::fs::read_to_string(file).unwrap(), &SAMPLER_CELLS, 19, 18);
    let took = in_little_stack(move || {
        let whole = Whole::of(&text).unwrap_or_else(|findings| panic!("{}", findings[0]));
        assert!(whole.picture.faces.len() > 9_500);
        whole.rehearse().unwrap_or_else(|findings| panic!("{}", findings[0]));
    });
    assert!(took < Duration::from_secs(20), "{took:?}");
}

/// Tops of two yards and more, every patch by a template of its own: edges that a template turned by a hair would add up past
/// the table's tolerance.
#[test]
fn a_thousand_different_patches() {
    let took = in_little_stack(|| proved(&free_form(1000), 1000));
    assert!(took < Duration::from_secs(60), "{took:?}");
}

#[test]
fn two_thousand_different_patches() {
    let took = in_little_stack(|| proved(&free_form(2000), 2000));
    assert!(took < Duration::from_secs(120), "{took:?}");
}

#[test]
fn ten_thousand_different_patches_are_pieced() {
    // Some are wider than any cloth, so it is not cut.
    let took = in_little_stack(|| {
        let design = design::read_design(&free_form(10_000)).unwrap();
        let planned = piecing::plan(&design).unwrap_or_else(|findings| panic!("{}", findings[0]));
        assert!(planned.recipe.pieces.len() > 9_000);
    });
    assert!(took < Duration::from_secs(60), "{took:?}");
}
