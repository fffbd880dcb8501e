//! Laid dot on dot: half-rectangle pairs, whose two rectangles lie across one another.

use crate::builder::*;
use crate::several::{both_sides, cut, on};
use recipe::{
    CornerRef, EdgeRef, Lay, LineRef, MarkName, Path, PointRef, PrintNote, Ruler, RulerAngle, SeamRef, Size, Slot,
    Step, TrimLine,
};

/// Finished 2 by 4 in: the diagonal rises 2 for 1.
const RISE: f64 = 2.0;
const SEAM: f64 = 0.25;

/// What a rectangle must be larger than the finished unit, across and up. Derived: the diagonal at the angle t to the side
/// across runs a seam's width beside the drawn line; from dot to dot it must reach from finished corner to finished corner with
/// a seam all round: 2s(1 + sin t) and 2s(1 + cos t), at 45° both the trade's 2s + √2·s.
fn exact() -> (f64, f64) {
    let long = (1.0 + RISE * RISE).sqrt();
    (2.0 * SEAM * (1.0 + RISE / long), 2.0 * SEAM * (1.0 + 1.0 / long))
}

fn dot(on: u32, name: &str, edges: [EdgeRef; 2], by: [Size; 2]) -> Step {
    Step::Dot {
        on: Slot(on),
        name: MarkName(name.into()),
        at: PointRef::FromEdges {
            a: edges[0],
            a_by: by[0],
            b: edges[1],
            b_by: by[1],
        },
    }
}

fn mark_line(on: u32, name: &str, line: Ruler) -> Step {
    Step::Mark {
        on: Slot(on),
        name: MarkName(name.into()),
        line,
    }
}

/// The trim of one opened unit; `sides` are lower and right (the lower layer's), upper and left, as it was cut.
fn trim(of: u32, into: u32, sides: [EdgeRef; 4], room: (f64, f64)) -> [Step; 3] {
    let [lower, right, upper, left] = sides;
    let (across, up) = (room.0 - exact().0, room.1 - exact().1);
    let inner = format!("inner {of}");
    let upright = format!("upright {of}");
    let named = |name: &String| LineRef::Mark(MarkName(name.clone()));
    let off = |edge, shave: f64, ruler| TrimLine {
        ruler,
        off: recipe::EdgeRun(vec![edge]),
        shave: near(shave),
    };
    let beside = |line, at, toward| Ruler::Beside { line, at, toward };
    let base = LineRef::Edge(e(into, 0));
    [
        mark_line(of, &inner, beside(LineRef::Edge(lower), s8(2), corner(right, upper))),
        mark_line(
            of,
            &upright,
            Ruler::Angle {
                line: LineRef::Edge(lower),
                angle: RulerAngle::Ninety,
                through: PointRef::Crossing(LineRef::Seam(SeamRef { of: Slot(of), seam: 0 }), named(&inner)),
                like: left,
            },
        ),
        Step::Trim {
            of: Slot(of),
            lines: vec![
                off(lower, 0.0, beside(LineRef::Edge(lower), s8(0), corner(right, upper))),
                off(
                    left,
                    across / 2.0 - up / 2.0 / RISE,
                    beside(named(&upright), s8(2), corner(e(into, 0), left)),
                ),
                off(
                    right,
                    across / 2.0 + up / 2.0 / RISE,
                    beside(named(&upright), s8(18), corner(e(into, 0), right)),
                ),
                off(upper, up, beside(base, s8(36), corner(e(into, 2), upper))),
            ],
            into: Slot(into),
        },
    ]
}

/// Two units of two rectangles; the dots lie `room / 2` in.
fn pair(room: (f64, f64)) -> Bench {
    let mut b = Bench::new();
    let (width, height) = (near(2.0 + room.0), near(4.0 + room.1));
    b.cloth("dark", PrintNote::None).rectangles("D", width, height, 1);
    b.cloth("light", PrintNote::None).rectangles("L", width, height, 1);
    let by = [near(room.0 / 2.0), near(room.1 / 2.0)];
    let dots = |of, low: &str, high: &str| {
        [
            dot(of, low, [e(of, 3), e(of, 0)], by),
            dot(of, high, [e(of, 1), e(of, 2)], by),
        ]
    };
    let name = |n: &str| MarkName(n.into());
    let right_low: CornerRef = corner(e(0, 0), e(0, 1));
    let mut steps = Vec::new();
    steps.extend(dots(0, "a", "b"));
    steps.extend(dots(1, "c", "d"));
    steps.extend([
        mark_line(
            1,
            "line",
            Ruler::TwoMarks {
                from: PointRef::Dot(name("c")),
                to: PointRef::Dot(name("d")),
            },
        ),
        Step::Lay {
            a: Slot(0),
            b: Slot(1),
            how: Lay::TwoDots {
                a: [name("a"), name("b")],
                b: [name("c"), name("d")],
            },
            into: Slot(2),
        },
        both_sides(2, "line"),
        cut(
            2,
            on("line", right_low),
            [(right_low, 3), (corner(e(0, 2), e(0, 3)), 4)],
        ),
        open(3, 5),
        open(4, 6),
    ]);
    let mut gives = Vec::new();
    for (of, into, sides) in [
        (5, 7, [e(0, 0), e(0, 1), e(1, 2), e(1, 3)]),
        (6, 8, [e(0, 2), e(0, 3), e(1, 0), e(1, 1)]),
    ] {
        steps.extend(trim(of, into, sides, room));
        gives.push(give(into, &[0, 2, 3, 1].map(|k| run(&[(into, k)]))));
    }
    b.make("half", 1, &[piece(0, "D"), piece(1, "L")], &steps, &gives);
    b.pattern.recipe.makes[0].spare = 1;
    let sides: Vec<_> = (0..4).map(|i| run(&[(0, i)])).collect();
    b.make("top", 1, &[unit(0, "half")], &[finish(0, &sides, 2)], &[]);
    b.outer(2.0, 4.0);
    b.face("dark", &[(0.0, 0.0), (2.0, 0.0), (2.0, 4.0)]);
    b.face("light", &[(0.0, 0.0), (2.0, 4.0), (0.0, 4.0)]);
    b
}

#[test]
fn two_half_rectangles_of_two_rectangles() {
    let (across, up) = exact();
    assert!((across - 0.947_214).abs() < 1e-6 && (up - 0.723_607).abs() < 1e-6);
    // to the mark, dots at 1/2 and 3/8 in: 3 by 4 3/4
    let proof = pair((1.0, 0.75)).proved();
    assert_eq!((proof.seams, proof.units), (2, 2));
    assert!(proof.largest_difference < 1e-3, "{}", proof.largest_difference);
    // exactly as derived nothing is trimmed but tips
    pair((across, up)).proved();
    // larger is trimmed to the same
    pair((1.5, 1.25)).proved();
    // too small for a seam all round
    assert!(pair((across - 0.125, up)).rehearse().is_err());
}

#[test]
fn dots_that_disagree_are_refused() {
    let with = |alter: fn(&mut Vec<Step>)| {
        let mut b = pair((1.0, 0.75));
        alter(&mut b.pattern.recipe.makes[0].steps);
        b
    };
    // a dot of one piece an eighth further in
    with(|steps| {
        if let Step::Dot {
            at: PointRef::FromEdges { b_by, .. },
            ..
        } = &mut steps[1]
        {
            *b_by = s8(4);
        }
    })
    .refused_at("ends-not-even", "half", 5);
    // laid the other way round
    with(|steps| {
        if let Step::Lay {
            how: Lay::TwoDots { b, .. },
            ..
        } = &mut steps[5]
        {
            b.swap(0, 1);
        }
    })
    .refused("unknown-edge");
    // one dot for both
    with(|steps| {
        if let Step::Lay {
            how: Lay::TwoDots { a, .. },
            ..
        } = &mut steps[5]
        {
            a[1] = a[0].clone();
        }
    })
    .refused_at("bad-recipe", "half", 5);
    // no edges were laid together
    with(|steps| steps[6] = sew(2)).refused_at("bad-recipe", "half", 6);
    with(|steps| {
        steps[6] = Step::Sew {
            stack: Slot(2),
            path: Path::Round {
                edges: (0..4).map(|i| e(0, i)).collect(),
                by: s8(2),
            },
            join: false,
        }
    })
    .refused_at("bad-recipe", "half", 6);
    // beside a line from corner to corner, not from dot to dot
    with(|steps| {
        steps[4] = crate::several::mark(1, "line", corner(e(1, 3), e(1, 0)), corner(e(1, 1), e(1, 2)));
    })
    .refused("shave-differs");
}

#[test]
fn the_layers_reach_from_dot_to_dot() {
    // the upper layer cut short beyond its dot: the dots say where, the cloth does not reach
    let mut b = pair((1.0, 0.75));
    let strip = &mut b.pattern.cutting.cloths[1].strips[0];
    strip.height = s8(32);
    b.pattern.bought.cloths[1].length = s8(8 + 32);
    let steps = &mut b.pattern.recipe.makes[0].steps;
    for step in &mut steps[2..4] {
        if let Step::Dot {
            at: PointRef::FromEdges { b_by, .. },
            ..
        } = step
        {
            *b_by = s8(0);
        }
    }
    b.refused_at("path-not-covered", "half", 6);
}
