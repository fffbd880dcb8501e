//! What the recipe language can say but the table cannot do yet is said so, never passed.

use crate::builder::*;
use crate::patchwork::four_patch;
use measure::Length;
use recipe::{EdgeRef, EdgeRun, Lay, ShapeEdge, Size, Slot, Step};

fn with_step(at: usize, step: Step) -> Bench {
    let mut b = four_patch(s8(28));
    b.pattern.recipe.makes[0].steps[at] = step;
    b
}

#[test]
fn each_says_not_yet_rehearsed() {
    let none = Size::bare(Length::ZERO);
    let cases = [
        (
            0,
            Step::Lay {
                a: Slot(0),
                b: Slot(1),
                how: Lay::Curve {
                    a: EdgeRun(vec![]),
                    b: EdgeRun(vec![]),
                    pins: vec![],
                },
                into: Slot(2),
            },
        ),
        (
            0,
            Step::Baste {
                piece: Slot(0),
                card: "C1".into(),
                side: 0,
                along: EdgeRef { of: Slot(0), edge: 0 },
                flat: Vec::new(),
                least: none,
                most: none,
                into: Slot(2),
            },
        ),
        (
            0,
            Step::Guide {
                on: Slot(0),
                guide: "G".into(),
                sides: Vec::new(),
            },
        ),
        (
            0,
            Step::Whip {
                a: Slot(0),
                b: Slot(1),
                edges: Vec::new(),
                into: Slot(2),
            },
        ),
        (
            0,
            Step::TakeOut {
                of: Slot(0),
                cards: Vec::new(),
            },
        ),
        (
            0,
            Step::StitchDown {
                piece: Slot(1),
                on: Slot(0),
                guide: "G".into(),
                shape: 0,
                edge: ShapeEdge::Raw,
            },
        ),
    ];
    for (at, step) in cases {
        with_step(at, step).refused_at("not-yet-rehearsed", "pair", at as u32);
    }
}
