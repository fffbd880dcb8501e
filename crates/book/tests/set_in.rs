//! Partial and set-in seams in words and pictures, from the table's own hand-made recipes.

// The recipes are those of the table's tests, with all their breakages.
#![allow(clippy::unwrap_used, dead_code, unused_imports)]

use book::{Block, Edition, Source, compose};
use measure::Measure;

#[path = "../../rehearse/tests/table/builder.rs"]
mod builder;
#[path = "../../rehearse/tests/table/set_in.rs"]
mod set_in;
#[path = "../../rehearse/tests/table/windmill.rs"]
mod windmill;

/// The sentences of the steps and what their pictures show, in order.
fn steps(bench: builder::Bench) -> Vec<String> {
    let source = Source {
        scenes: rehearse::scenes(&bench.pattern.recipe, &bench.pattern.cutting).into(),
        pattern: bench.pattern,
        picture: bench.picture,
        stories: Vec::new(),
        findings: Vec::new(),
        proof: None,
        finishing: finishing::Finishing::default(),
        cloths: Vec::new(),
        note: None,
        says: Vec::new(),
        photos: Vec::new(),
        part: None,
        parts: Vec::new(),
    };
    let mut found = Vec::new();
    for section in compose(&source, &Edition::default()).sections {
        for block in section.blocks {
            if let Block::Step {
                sentences, pictures, ..
            } = block
            {
                found.extend(sentences.iter().map(|s| s.plain(Measure::Inch)));
                found.extend(pictures.iter().map(|p| format!("[{}]", p.alt)));
            }
        }
    }
    found
}

#[track_caller]
fn said(all: &[String], wanted: &[&str]) {
    let mut at = 0;
    for want in wanted {
        let found = all[at..].iter().position(|s| s.contains(want));
        at += found.unwrap_or_else(|| panic!("not said, or not in order: {want}\n{}", all.join("\n"))) + 1;
    }
}

#[test]
fn a_partial_seam_is_begun_and_closed() {
    let all = steps(windmill::windmill(true, builder::s8(16)));
    said(
        &all,
        &[
            "one end even. The other end is left open.",
            "beginning at the even end, but only for 2 in: the rest of this partial seam is closed later.",
            "Close the partial seam: right sides together, lay what is left of its two edges on one another, edges and ends even. \
             Sew on from where it stopped to the end",
            "[The work with its partial seam closed",
        ],
    );
}

#[test]
fn a_set_in_seam_is_told_leg_by_leg() {
    let all = steps(set_in::tray());
    said(
        &all,
        &[
            "between the raw end and the dot: not a stitch beyond the dot.",
            "With the needle down in the dot, turn the upper layer round it until the next two edges lie together, edges even, dot on dot.",
            "from dot to dot.",
            "With the needle down in the dot",
        ],
    );
    // Each leg is pictured as it lay: two seams of one leg, and one of three.
    let stacks = all.iter().filter(|s| s.starts_with("[The stack")).count();
    assert_eq!(stacks, 5, "{}", all.join("\n"));
}
