//! What the recipe language can say but the table cannot do yet is said so, never passed.

use crate::builder::*;
use crate::patchwork::four_patch;
use measure::Length;
use recipe::{EdgeRun, Lay, Leg, Path, Ruler, SeamRef, Size, Slot, Step, Stop};

fn with_step(at: usize, step: Step) -> Bench {
    let mut b = four_patch(s8(28));
    b.pattern.recipe.makes[0].steps[at] = step;
    b
}

fn beside(from: Stop, to: Stop) -> Step {
    Step::Sew {
        stack: Slot(2),
        path: Path::Beside { by: s8(2), from, to },
        join: false,
    }
}

#[test]
fn each_says_not_yet_rehearsed() {
    let none = Size::bare(Length::ZERO);
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
                how: Lay::OverPaper {
                    line: "A1".into(),
                    past: none,
                },
                into: Slot(2),
            },
        ),
        (1, beside(Stop::Raw, Stop::Dot)),
        (1, beside(Stop::Dot, Stop::Raw)),
        (1, beside(Stop::Raw, Stop::At(s8(8)))),
        (
            1,
            sew(Path::Bent {
                legs: vec![Leg {
                    a: EdgeRun::default(),
                    b: EdgeRun::default(),
                }],
                by: s8(2),
            }),
        ),
        (1, sew(Path::OnPaper("A1".into()))),
        (
            2,
            Step::Close {
                work: Slot(2),
                seam: SeamRef { of: Slot(2), seam: 0 },
            },
        ),
        (
            2,
            Step::SubCut {
                of: Slot(2),
                lines: Vec::<Ruler>::new(),
                into: vec![None],
            },
        ),
    ];
    for (at, step) in cases {
        with_step(at, step).refused_at("not-yet-rehearsed", "pair", at as u32);
    }
}
