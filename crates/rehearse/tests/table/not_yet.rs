//! What the recipe language can say but the table cannot do yet is said so, never passed.

use crate::builder::*;
use crate::patchwork::four_patch;
use recipe::{EdgeRun, Lay, Slot, Step};

fn with_step(at: usize, step: Step) -> Bench {
    let mut b = four_patch(s8(28));
    b.pattern.recipe.makes[0].steps[at] = step;
    b
}

#[test]
fn each_says_not_yet_rehearsed() {
    let cases = [(
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
    )];
    for (at, step) in cases {
        with_step(at, step).refused_at("not-yet-rehearsed", "pair", at as u32);
    }
}
