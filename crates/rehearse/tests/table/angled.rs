//! An angled pair at a slope of two to one: cut through two marks, sewn notch on notch, trimmed from the seam's crossing
//! with the raw edge.

use crate::builder::*;
use recipe::{End, LineRef, MarkName, PointRef, PrintNote, Ruler, RulerAngle, SeamRef, Size, Slot, Step, TrimLine};

/// A unit of finished 4 by 2 in whose seam runs from 1 1/2 in along the lower edge to 2 1/2 in along the upper one.
/// `about` is the printed overhang, `long` what the pieces are cut too long.
pub fn two_to_one(about: Size, long: Size) -> Bench {
    // derived: across the slope the seam allowance is 1/4·√5/2 = 0.2795 in along the strip. The raw lower edge is
    // 1/4 + 3/2 - 1/8 + 0.2795 = 1.9045 in, up to 2 in; the upper one longer by half the strip's height, 1 1/4 in.
    let shave = 2.0 - (1.625 + 0.25 * 5f64.sqrt() / 2.0);
    let lower = Size::bare(s8(16).len + long.len);
    let upper = Size::bare(s8(26).len + long.len);
    let mut b = Bench::new();
    for (cloth, kind) in [("dark", "D"), ("light", "L")] {
        b.cloth(cloth, PrintNote::None)
            .kind(kind)
            .strip(s8(20), &[(1, &[(lower, upper, one(kind))])]);
    }
    // L lies turned end for end: its upper edge 2 goes on from D's lower edge 0.
    let notch = |a, b| End::Notch { a, b, about };
    let upright = MarkName("upright".into());
    let steps = [
        lay(
            0,
            1,
            2,
            run(&[(0, 1)]),
            run(&[(1, 1)]),
            notch(e(0, 0), e(1, 2)),
            notch(e(0, 2), e(1, 0)),
            &[],
        ),
        sew(2),
        open(2, 3),
        Step::Mark {
            on: Slot(3),
            name: upright.clone(),
            line: Ruler::Angle {
                line: LineRef::Edge(e(0, 0)),
                angle: RulerAngle::Ninety,
                through: PointRef::Crossing(LineRef::Seam(SeamRef { of: Slot(3), seam: 0 }), LineRef::Edge(e(0, 0))),
                like: e(0, 3),
            },
        },
        Step::Trim {
            of: Slot(3),
            lines: vec![
                TrimLine {
                    ruler: Ruler::Beside {
                        line: LineRef::Mark(upright),
                        at: s8(13),
                        toward: corner(e(0, 3), e(0, 0)),
                    },
                    off: run(&[(0, 3)]),
                    shave: near(shave),
                },
                TrimLine {
                    ruler: Ruler::Beside {
                        line: LineRef::Edge(e(4, 0)),
                        at: s8(36),
                        toward: corner(e(1, 2), e(1, 3)),
                    },
                    off: run(&[(1, 3)]),
                    shave: near(shave),
                },
            ],
            into: Slot(4),
        },
        across(4, run(&[(0, 0), (1, 2)]), run(&[(1, 0), (0, 2)]), s8(20)),
        finish(
            4,
            &[
                run(&[(0, 0), (1, 2)]),
                run(&[(4, 1)]),
                run(&[(1, 0), (0, 2)]),
                run(&[(4, 0)]),
            ],
            2,
        ),
    ];
    b.make("top", 1, &[piece(0, "D"), piece(1, "L")], &steps, &[]);
    b.outer(4.0, 2.0);
    b.face("dark", &[(0.0, 0.0), (1.5, 0.0), (2.5, 2.0), (0.0, 2.0)]);
    b.face("light", &[(1.5, 0.0), (4.0, 0.0), (4.0, 2.0), (2.5, 2.0)]);
    b
}

#[test]
fn an_angled_pair_is_proved_with_its_trim() {
    let nothing = s8(0);
    // derived: where the outer edge runs straight on, one corner runs 2·s·cot α = 2·1/4·1/2 = 1/4 in ahead
    let proof = two_to_one(s8(2), nothing).proved();
    assert!(proof.largest_difference < 1e-3, "{}", proof.largest_difference);
    two_to_one(s64(12), nothing).proved();
    two_to_one(s8(3), nothing).refused_at("overhang-differs", "top", 0);
    // a sixteenth too long is trimmed away, but the shave tells
    two_to_one(s8(2), s64(4)).refused_at("shave-differs", "top", 4);
}

#[test]
fn an_overhang_on_a_mark_places_as_the_notch_does() {
    let mut b = two_to_one(s8(2), s8(0));
    if let Step::Lay {
        how: recipe::Lay::Edges { first, last, .. },
        ..
    } = &mut b.pattern.recipe.makes[0].steps[0]
    {
        // derived: L's acute corner runs 1/4 in beyond D's at the lower edge; at the upper edge D's is the acute one
        *first = End::Overhang {
            a: e(0, 0),
            b: e(1, 2),
            by: s8(2),
        };
        *last = End::Overhang {
            a: e(0, 2),
            b: e(1, 0),
            by: s8(-2),
        };
    }
    b.proved();
    if let Step::Lay {
        how: recipe::Lay::Edges { last, .. },
        ..
    } = &mut b.pattern.recipe.makes[0].steps[0]
    {
        *last = End::Overhang {
            a: e(0, 2),
            b: e(1, 0),
            by: s8(-1),
        };
    }
    b.refused_at("overhang-differs", "top", 0);
}
