//! What the recipe language can say but the table cannot do yet is said so, never passed.

use crate::builder::*;
use crate::patchwork::four_patch;
use measure::Length;
use recipe::{CornerRef, EdgeRef, Lay, MarkName, Path, PointRef, Ruler, Size, Slot, Step};

fn with_step(at: usize, step: Step) -> Bench {
    let mut b = four_patch(s8(28));
    b.pattern.recipe.makes[0].steps[at] = step;
    b
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
        (
            1,
            sew(Path::Round {
                edges: Vec::new(),
                by: s8(2),
            }),
        ),
        (1, sew(Path::OnPaper("A1".into()))),
        (
            2,
            Step::SubCut {
                of: Slot(2),
                first: Ruler::TwoMarks {
                    from: PointRef::Dot(MarkName("a".into())),
                    to: PointRef::Dot(MarkName("b".into())),
                },
                toward: CornerRef {
                    before: EdgeRef { of: Slot(0), edge: 0 },
                    after: EdgeRef { of: Slot(0), edge: 1 },
                },
                width: s8(16),
                into: vec![Slot(3)],
            },
        ),
    ];
    for (at, step) in cases {
        with_step(at, step).refused_at("not-yet-rehearsed", "pair", at as u32);
    }
}
