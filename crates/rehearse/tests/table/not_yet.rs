//! What the recipe language can say but the table cannot do yet is said so, never passed.

use crate::builder::*;
use crate::patchwork::four_patch;
use measure::Length;
use recipe::{AlongLine, EdgeRef, Lay, Path, ShapeEdge, Size, Slot, Step};

fn with_step(at: usize, step: Step) -> Bench {
    let mut b = four_patch(s8(28));
    b.pattern.recipe.makes[0].steps[at] = step;
    b
}

#[test]
fn each_says_not_yet_rehearsed() {
    let none = Size::bare(Length::ZERO);
    let along = AlongLine {
        edge: EdgeRef { of: Slot(1), edge: 0 },
        past: none,
        beyond: none,
        margin: none,
    };
    let sew = |path| Step::Sew {
        stack: Slot(2),
        path,
        join: false,
    };
    let cases = [
        (
            0,
            Step::Lay {
                a: Slot(0),
                b: Slot(1),
                how: Lay::OverPaper { line: 0, along },
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
            Step::StitchDown {
                piece: Slot(1),
                on: Slot(0),
                guide: "G".into(),
                shape: 0,
                edge: ShapeEdge::Raw,
            },
        ),
        (1, sew(Path::OnPaper { beyond: none })),
    ];
    for (at, step) in cases {
        with_step(at, step).refused_at("not-yet-rehearsed", "pair", at as u32);
    }
}
