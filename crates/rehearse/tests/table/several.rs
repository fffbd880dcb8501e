//! Methods that make several units of one stack: pairs four and eight at a time, hourglasses of two pairs, geese four at a
//! time without waste.

use crate::builder::*;
use recipe::{
    CornerRef, EdgeRef, Keep, Lay, LineRef, MarkName, Path, PointRef, PrintNote, Ruler, RulerAngle, SeamRef, Size,
    Slot, Step, TrimLine,
};

pub fn mark(on: u32, name: &str, from: CornerRef, to: CornerRef) -> Step {
    Step::Mark {
        on: Slot(on),
        name: MarkName(name.into()),
        line: Ruler::TwoMarks {
            from: PointRef::Corner(from),
            to: PointRef::Corner(to),
        },
    }
}

pub fn both_sides(stack: u32, mark: &str) -> Step {
    Step::Sew {
        stack: Slot(stack),
        path: Path::BothSides {
            mark: MarkName(mark.into()),
            by: s8(2),
        },
        join: false,
    }
}

pub fn cut(stack: u32, line: Ruler, keep: [(CornerRef, u32); 2]) -> Step {
    Step::CutApart {
        stack: Slot(stack),
        line,
        keep: keep
            .into_iter()
            .map(|(corner, into)| Keep {
                corner,
                into: Slot(into),
            })
            .collect(),
        offcut: vec![],
    }
}

/// Along a drawn line.
pub fn on(mark: &str, toward: CornerRef) -> Ruler {
    Ruler::Beside {
        line: LineRef::Mark(MarkName(mark.into())),
        at: s8(0),
        toward,
    }
}

pub fn beside(edge: EdgeRef, at: Size, toward: CornerRef) -> Ruler {
    Ruler::Beside {
        line: LineRef::Edge(edge),
        at,
        toward,
    }
}

/// A square laid on a square: the upper one's edge 3 on the lower one's edge 1, edge 0 on edge 0.
pub fn squares_laid() -> Step {
    lay(
        0,
        1,
        2,
        run(&[(0, 1)]),
        run(&[(1, 3)]),
        even(e(0, 0), e(1, 0)),
        even(e(0, 2), e(1, 2)),
        &[],
    )
}

/// Both diagonals on the upper square's wrong side: "one" comes to lie from the lower square's lower right to its upper
/// left, "two" from its lower left to its upper right.
pub fn both_diagonals() -> [Step; 2] {
    [
        mark(1, "one", corner(e(1, 3), e(1, 0)), corner(e(1, 1), e(1, 2))),
        mark(1, "two", corner(e(1, 0), e(1, 1)), corner(e(1, 2), e(1, 3))),
    ]
}

/// Trims an opened pair with sides `[dark, dark, light, light]` to `size`; what comes off two sides is `shave`.
fn trim_pair(of: u32, into: u32, sides: [EdgeRef; 4], size: Size, shave: Size) -> Step {
    let [d0, d1, l0, l1] = sides;
    let one = |edge| recipe::EdgeRun(vec![edge]);
    Step::Trim {
        of: Slot(of),
        lines: vec![
            TrimLine {
                ruler: Ruler::Angle {
                    line: LineRef::Seam(SeamRef { of: Slot(of), seam: 0 }),
                    angle: RulerAngle::FortyFive,
                    through: PointRef::Along {
                        from: corner(l1, d0),
                        edge: d0,
                        by: size,
                    },
                    like: d1,
                },
                off: one(d1),
                shave,
            },
            TrimLine {
                ruler: beside(d0, size, corner(l0, l1)),
                off: one(l0),
                shave,
            },
        ],
        into: Slot(into),
    }
}

/// Trims the pairs, gives them and finishes one of them, 3 in, as the top.
fn pairs(b: &mut Bench, mut steps: Vec<Step>, opened: &[(u32, [EdgeRef; 4])], trimmed: u32, shave: Size) {
    let mut gives = Vec::new();
    for (i, &(of, sides)) in opened.iter().enumerate() {
        let into = trimmed + i as u32;
        steps.push(trim_pair(of, into, sides, s8(28), shave));
        let side = |edge: EdgeRef| recipe::EdgeRun(vec![edge]);
        gives.push(give(
            into,
            &[side(sides[0]), side(e(into, 0)), side(e(into, 1)), side(sides[3])],
        ));
    }
    b.make("pair", 1, &[piece(0, "D"), piece(1, "L")], &steps, &gives);
    b.pattern.recipe.makes[0].spare = opened.len() as u32 - 1;
    finish_one(b, "pair");
    b.face("dark", &[(0.0, 0.0), (3.0, 0.0), (3.0, 3.0)])
        .face("light", &[(0.0, 0.0), (3.0, 3.0), (0.0, 3.0)]);
}

fn finish_one(b: &mut Bench, name: &str) {
    let sides: Vec<_> = (0..4).map(|i| run(&[(0, i)])).collect();
    b.make("top", 1, &[unit(0, name)], &[finish(0, &sides, 2)], &[]);
    b.outer(3.0, 3.0);
}

fn two_squares(cut: Size) -> Bench {
    let mut b = Bench::new();
    b.cloth("dark", PrintNote::None).rectangles("D", cut, cut, 1);
    b.cloth("light", PrintNote::None).rectangles("L", cut, cut, 1);
    b
}

/// Four pairs of 3 in of two squares sewn all round.
pub fn four_at_a_time(cut_size: Size, shave: Size) -> Bench {
    let mut b = two_squares(cut_size);
    let far = corner(e(0, 0), e(0, 1));
    let mut steps = both_diagonals().to_vec();
    steps.extend([
        squares_laid(),
        Step::Sew {
            stack: Slot(2),
            path: Path::Round {
                edges: (0..4).map(|i| e(0, i)).collect(),
                by: s8(2),
            },
            join: false,
        },
        cut(
            2,
            on("two", far),
            [(corner(e(0, 0), e(0, 1)), 3), (corner(e(0, 2), e(0, 3)), 4)],
        ),
        cut(
            3,
            on("one", far),
            [(corner(e(3, 0), e(0, 0)), 5), (corner(e(0, 1), e(3, 0)), 6)],
        ),
        cut(
            4,
            on("one", far),
            [(corner(e(0, 3), e(4, 0)), 7), (corner(e(4, 0), e(0, 2)), 8)],
        ),
        open(5, 9),
        open(6, 10),
        open(7, 11),
        open(8, 12),
    ]);
    // Each of a triangle on one edge of the square: the legs are what the two cuts made, on both layers.
    let opened = [
        (9, [e(5, 0), e(3, 0), e(3, 1), e(5, 1)]),
        (10, [e(3, 0), e(6, 0), e(6, 1), e(3, 1)]),
        (11, [e(4, 0), e(7, 0), e(7, 1), e(4, 1)]),
        (12, [e(8, 0), e(4, 0), e(4, 1), e(8, 1)]),
    ];
    pairs(&mut b, steps, &opened, 13, shave);
    b
}

#[test]
fn four_pairs_of_two_squares_sewn_all_round() {
    // derived: the seam cuts a triangle on the square's edge n to n - 1/2, which is the unit's diagonal, so it opens to
    // (n - 1/2)/√2; for 3 1/2 in n is √2·3 1/2 + 1/2 = 5.4497, the next eighth 5 1/2
    let n = 2f64.sqrt() * 3.5 + 0.5;
    assert_eq!((n * 8.0).ceil() / 8.0, 5.5);
    let over = 5.0 / 2f64.sqrt() - 3.5;
    let proof = four_at_a_time(s8(44), near(over)).proved();
    assert_eq!((proof.seams, proof.units), (4, 4));
    assert!(proof.largest_difference < 1e-3, "{}", proof.largest_difference);
    // a sixteenth larger comes out √2/32 larger
    four_at_a_time(s64(44 * 8 + 4), near(over)).refused_at("shave-differs", "pair", 11);
}

#[test]
fn a_seam_all_round_needs_two_layers_of_one_size() {
    let over = near(5.0 / 2f64.sqrt() - 3.5);
    let mut b = four_at_a_time(s8(44), over);
    // the upper square an eighth too long: it is not level along the upper edge
    let strip = &mut b.pattern.cutting.cloths[1].strips[0];
    strip.height = s8(45);
    b.pattern.bought.cloths[1].length = s8(8 + 45);
    if let Step::Lay {
        how: Lay::Edges { last, .. },
        ..
    } = &mut b.pattern.recipe.makes[0].steps[2]
    {
        *last = recipe::End::Centre;
    }
    b.refused("ends-not-even");
    let sewn = |path: Path| {
        let mut b = four_at_a_time(s8(44), over);
        if let Step::Sew { path: p, .. } = &mut b.pattern.recipe.makes[0].steps[3] {
            *p = path;
        }
        b
    };
    let round = |edges: &[u32], by| {
        sewn(Path::Round {
            edges: edges.iter().map(|&i| e(0, i)).collect(),
            by,
        })
    };
    round(&[0, 1, 2, 3], s8(3)).refused_at("seam-not-allowance", "pair", 3);
    round(&[0, 1, 2], s8(2)).refused_at("sides-do-not-close", "pair", 3);
    round(&[3, 2, 1, 0], s8(2)).refused_at("sides-do-not-close", "pair", 3);
    round(&[], s8(2)).refused_at("sides-do-not-close", "pair", 3);
    // sewn along one edge only, one half has no seam
    let mut b = sewn(Path::Beside {
        by: s8(2),
        from: recipe::Stop::Raw,
        to: recipe::Stop::Raw,
    });
    b.refused_at("not-sewn-apart", "pair", 4);
    // opened before it is cut apart, or with one cut of two
    b = four_at_a_time(s8(44), over);
    b.pattern.recipe.makes[0].steps[5] = open(3, 9);
    b.refused_at("not-sewn-apart", "pair", 5);
    // the cut runs along the stitches
    b = four_at_a_time(s8(44), over);
    if let Step::CutApart { line, .. } = &mut b.pattern.recipe.makes[0].steps[4] {
        *line = beside(e(0, 0), s8(2), corner(e(0, 1), e(0, 2)));
    }
    b.refused_at("not-sewn-apart", "pair", 4);
}

/// Eight pairs of 3 in of two squares, both diagonals sewn on both sides.
pub fn eight_at_a_time(cut_size: Size, shave: Size) -> Bench {
    let mut b = two_squares(cut_size);
    let half = near(cut_size.inches() / 2.0);
    let far = corner(e(0, 0), e(0, 1));
    let mut steps = both_diagonals().to_vec();
    steps.extend([
        squares_laid(),
        both_sides(2, "one"),
        both_sides(2, "two"),
        cut(
            2,
            beside(e(0, 3), half, far),
            [(corner(e(0, 3), e(0, 0)), 3), (corner(e(0, 0), e(0, 1)), 4)],
        ),
        cut(
            3,
            beside(e(0, 0), half, corner(e(0, 2), e(0, 3))),
            [(corner(e(0, 3), e(0, 0)), 5), (corner(e(0, 2), e(0, 3)), 6)],
        ),
        cut(
            4,
            beside(e(0, 0), half, corner(e(0, 1), e(0, 2))),
            [(corner(e(0, 0), e(0, 1)), 7), (corner(e(0, 1), e(0, 2)), 8)],
        ),
        cut(
            5,
            on("two", far),
            [(corner(e(0, 0), e(3, 0)), 9), (corner(e(5, 0), e(0, 3)), 10)],
        ),
        cut(
            6,
            on("one", far),
            [(corner(e(0, 3), e(6, 0)), 11), (corner(e(3, 0), e(0, 2)), 12)],
        ),
        cut(
            7,
            on("one", far),
            [(corner(e(4, 0), e(0, 0)), 13), (corner(e(0, 1), e(7, 0)), 14)],
        ),
        cut(
            8,
            on("two", far),
            [(corner(e(8, 0), e(0, 1)), 15), (corner(e(0, 2), e(4, 0)), 16)],
        ),
    ]);
    // For each triangle its two legs on the lower layer; on the upper one each has its fellow.
    let legs = [
        [(0, 0), (3, 0)],
        [(5, 0), (0, 3)],
        [(0, 3), (6, 0)],
        [(3, 0), (0, 2)],
        [(4, 0), (0, 0)],
        [(0, 1), (7, 0)],
        [(8, 0), (0, 1)],
        [(0, 2), (4, 0)],
    ];
    let fellow = |(of, edge): (u32, u32)| if of == 0 { e(1, (4 - edge) % 4) } else { e(of, 1) };
    let mut opened = Vec::new();
    for (i, [d0, d1]) in legs.into_iter().enumerate() {
        let i = i as u32;
        steps.push(open(9 + i, 17 + i));
        opened.push((17 + i, [e(d0.0, d0.1), e(d1.0, d1.1), fellow(d1), fellow(d0)]));
    }
    pairs(&mut b, steps, &opened, 25, shave);
    b
}

#[test]
fn eight_pairs_of_two_squares() {
    // handout on triangles eight at once (K18 of the project's list: 2(n + 7/8)); derived: a quarter square of n + 7/8
    // opens to n + 7/8 - √2/4, which is 0.0214 in more than n + 1/2
    let over = 0.375 - 2f64.sqrt() / 4.0;
    let proof = eight_at_a_time(s8(2 * (24 + 7)), near(over)).proved();
    assert_eq!((proof.seams, proof.units), (4, 8));
    assert!(proof.largest_difference < 1e-3, "{}", proof.largest_difference);
    eight_at_a_time(s8(2 * (24 + 7) + 1), near(over)).refused_at("shave-differs", "pair", 20);
}

#[test]
fn eight_pairs_need_both_diagonals_sewn() {
    let over = near(0.375 - 2f64.sqrt() / 4.0);
    let mut b = eight_at_a_time(s8(62), over);
    // sewn on the line instead of beside it: the line's own cut runs along the stitches
    b.pattern.recipe.makes[0].steps[3] = Step::Sew {
        stack: Slot(2),
        path: Path::OnMark(MarkName("one".into())),
        join: false,
    };
    b.refused_at("not-sewn-apart", "pair", 9);
    // one diagonal forgotten: half the quarters have only loose stitches, which hold nothing
    let mut b = eight_at_a_time(s8(62), over);
    b.pattern.recipe.makes[0].steps[3] = both_sides(2, "two");
    b.refused_at("not-sewn-apart", "pair", 6);
    // sewn too far from the line, no cut says which side is the allowance
    let mut b = eight_at_a_time(s8(62), over);
    if let Step::Sew {
        path: Path::BothSides { by, .. },
        ..
    } = &mut b.pattern.recipe.makes[0].steps[4]
    {
        *by = s8(3);
    }
    b.refused("seam-not-allowance");
}

/// Two hourglasses of 3 in of two pairs of squares.
pub fn hourglass(cut_size: Size, shave: f64) -> Bench {
    let mut b = two_squares(cut_size);
    let far = corner(e(0, 0), e(0, 1));
    let steps = [
        mark(1, "two", corner(e(1, 0), e(1, 1)), corner(e(1, 2), e(1, 3))),
        squares_laid(),
        both_sides(2, "two"),
        cut(
            2,
            on("two", far),
            [(corner(e(0, 0), e(0, 1)), 3), (corner(e(0, 2), e(0, 3)), 4)],
        ),
        open(3, 5),
        open(4, 6),
    ];
    let sides = |d: [u32; 2], l: [u32; 2]| [(0, d[0]), (0, d[1]), (1, l[0]), (1, l[1])].map(|s| run(&[s]));
    b.make(
        "pair",
        1,
        &[piece(0, "D"), piece(1, "L")],
        &steps,
        &[give(5, &sides([0, 1], [3, 0])), give(6, &sides([2, 3], [1, 2]))],
    );
    // The pairs' sides are dark, dark, light, light; dark is laid on light, so the seams lie on one another.
    let mut steps = vec![
        mark(1, "across", corner(e(1, 0), e(1, 1)), corner(e(1, 2), e(1, 3))),
        lay(
            0,
            1,
            2,
            run(&[(0, 1)]),
            run(&[(1, 2)]),
            even(e(0, 0), e(1, 3)),
            even(e(0, 2), e(1, 1)),
            &[],
        ),
        both_sides(2, "across"),
        cut(
            2,
            on("across", far),
            [(corner(e(0, 3), e(0, 0)), 3), (corner(e(0, 1), e(0, 2)), 4)],
        ),
        open(3, 5),
        open(4, 6),
    ];
    let mut gives = Vec::new();
    for (of, into, s) in [
        (5, 7, [e(0, 0), e(1, 3), e(1, 0), e(0, 3)]),
        (6, 8, [e(0, 1), e(0, 2), e(1, 1), e(1, 2)]),
    ] {
        let mut lines = Vec::new();
        for (k, [near_side, far_side]) in [[s[0], s[2]], [s[1], s[3]]].into_iter().enumerate() {
            let k = 2 * k as u32;
            let next = s[1 - k as usize / 2];
            lines.push(TrimLine {
                ruler: beside(near_side, near(3.5 + shave), corner(far_side, next)),
                off: recipe::EdgeRun(vec![far_side]),
                shave: near(shave),
            });
            lines.push(TrimLine {
                ruler: beside(e(into, k), s8(28), corner(near_side, next)),
                off: recipe::EdgeRun(vec![near_side]),
                shave: near(shave),
            });
        }
        // The second pair of cuts finds its corners by what the first left.
        for line in &mut lines[2..] {
            if let Ruler::Beside { toward, .. } = &mut line.ruler {
                toward.after = e(into, 1);
            }
        }
        steps.push(Step::Trim {
            of: Slot(of),
            lines,
            into: Slot(into),
        });
        gives.push(give(into, &[1, 3, 0, 2].map(|k| run(&[(into, k)]))));
    }
    b.make("hourglass", 1, &[unit(0, "pair"), unit(1, "pair")], &steps, &gives);
    b.pattern.recipe.makes[1].spare = 1;
    finish_one(&mut b, "hourglass");
    let c = (1.5, 1.5);
    b.face("dark", &[(0.0, 0.0), (3.0, 0.0), c])
        .face("light", &[(3.0, 0.0), (3.0, 3.0), c])
        .face("dark", &[(3.0, 3.0), (0.0, 3.0), c])
        .face("light", &[(0.0, 3.0), (0.0, 0.0), c]);
    b
}

#[test]
fn an_hourglass_of_two_pairs() {
    // quarter-square rule n + 1 1/4 (S15, K4, K5 of the project's list); derived: each opening takes √2/4 off the side, so
    // it comes out n + 1 1/4 - √2/2, 0.0429 in more than n + 1/2, half of it on each side
    let over = (0.75 - 0.5f64.sqrt()) / 2.0;
    assert!((over - 0.0214).abs() < 1e-4);
    let proof = hourglass(s8(34), over).proved();
    assert_eq!((proof.seams, proof.units), (4, 4));
    assert!(proof.largest_difference < 1e-3, "{}", proof.largest_difference);
    hourglass(s8(35), over).refused_at("shave-differs", "hourglass", 6);
    // drawn along the seam instead of across it, the halves are pairs again: dark lies on light along all sides
    let mut b = hourglass(s8(34), over);
    b.pattern.recipe.makes[1].steps[0] = mark(1, "across", corner(e(1, 3), e(1, 0)), corner(e(1, 1), e(1, 2)));
    b.refused_at("bad-recipe", "hourglass", 3);
    // not level: laid with its colours the wrong way the units are pairs of one colour each
    let mut b = hourglass(s8(34), over);
    if let Step::Lay {
        how: Lay::Edges {
            b: upper, first, last, ..
        },
        ..
    } = &mut b.pattern.recipe.makes[1].steps[1]
    {
        *upper = run(&[(1, 0)]);
        *first = even(e(0, 0), e(1, 1));
        *last = even(e(0, 2), e(1, 3));
    }
    assert!(b.rehearse().is_err());
}

/// Four geese of 4 by 2 in of a large square and four small ones.
pub fn geese(large: Size, small: Size, shave: f64) -> Bench {
    let mut b = Bench::new();
    b.cloth("dark", PrintNote::None).rectangles("D", large, large, 1);
    b.cloth("light", PrintNote::None).rectangles("L", small, small, 4);
    let on_corner = |a, b, at: CornerRef, into| Step::Lay {
        a: Slot(a),
        b: Slot(b),
        how: Lay::Corner {
            a: at,
            b: corner(e(b, 3), e(b, 0)),
        },
        into: Slot(into),
    };
    let (low, high) = (corner(e(0, 3), e(0, 0)), corner(e(0, 1), e(0, 2)));
    let mut steps = vec![
        on_corner(0, 1, low, 5),
        on_corner(5, 2, high, 6),
        mark(6, "line", low, high),
        both_sides(6, "line"),
        cut(
            6,
            on("line", low),
            [(corner(e(0, 0), e(0, 1)), 7), (corner(e(0, 2), e(0, 3)), 8)],
        ),
        open(7, 9),
        open(8, 10),
    ];
    let mut gives = Vec::new();
    // The second half is the first turned half round. `wing` sits on the first edge's far end, `other` on the second's.
    for (half, square, [first, second], wing, other, base) in [(9, 3, [0, 1], 1, 2, 20), (10, 4, [2, 3], 2, 1, 30)] {
        let name = format!("square {square}");
        steps.extend([
            mark(
                square,
                &name,
                corner(e(square, 3), e(square, 0)),
                corner(e(square, 1), e(square, 2)),
            ),
            on_corner(half, square, corner(e(0, first), e(0, second)), base),
            both_sides(base, &name),
            cut(
                base,
                on(&name, low),
                [
                    (corner(e(wing, 3), e(0, first)), base + 1),
                    (corner(e(0, second), e(other, 0)), base + 2),
                ],
            ),
            open(base + 1, base + 3),
            open(base + 2, base + 4),
        ]);
        for (of, goose, right, upper, left) in [
            (base + 3, first, (square, 0), [(square, 1), (wing, 2)], (wing, 3)),
            (base + 4, second, (other, 0), [(other, 1), (square, 2)], (square, 3)),
        ] {
            let into = of + 2;
            let top = e(upper[0].0, upper[0].1);
            let (right_edge, left_edge) = (e(right.0, right.1), e(left.0, left.1));
            let top_left = corner(e(upper[1].0, upper[1].1), left_edge);
            let off = |of, edge, ruler| TrimLine {
                ruler,
                off: run(&[(of, edge)]),
                shave: near(shave),
            };
            steps.push(Step::Trim {
                of: Slot(of),
                lines: vec![
                    off(0, goose, beside(top, s8(20), corner(left_edge, e(0, goose)))),
                    off(left.0, left.1, beside(right_edge, near(4.5 + shave), top_left)),
                    off(right.0, right.1, beside(e(into, 1), s8(36), corner(right_edge, top))),
                ],
                into: Slot(into),
            });
            gives.push(give(
                into,
                &[run(&[(into, 0)]), run(&[(into, 2)]), run(&upper), run(&[(into, 1)])],
            ));
        }
    }
    let parts: Vec<_> = [piece(0, "D")]
        .into_iter()
        .chain((1..=4).map(|i| piece(i, "L")))
        .collect();
    b.make("goose", 1, &parts, &steps, &gives);
    b.pattern.recipe.makes[0].spare = 3;
    let sides: Vec<_> = (0..4).map(|i| run(&[(0, i)])).collect();
    b.make("top", 1, &[unit(0, "goose")], &[finish(0, &sides, 2)], &[]);
    b.outer(4.0, 2.0);
    b.face("dark", &[(0.0, 0.0), (4.0, 0.0), (2.0, 2.0)]);
    b.face("light", &[(4.0, 0.0), (4.0, 2.0), (2.0, 2.0)]);
    b.face("light", &[(0.0, 0.0), (2.0, 2.0), (0.0, 2.0)]);
    b
}

#[test]
fn four_geese_without_waste() {
    // no-waste geese: large W + 1 1/4, small H + 7/8 (S3, S4, S5 of the project's list: all agree); derived: the width comes
    // out W + 1 1/4 - √2/2, 0.0214 in too much at either end; the height H + 7/8 - √2/4, 0.0214 in too much below, with
    // the point exactly a seam under the upper edge
    let over = 0.375 - 2f64.sqrt() / 4.0;
    let proof = geese(s8(42), s8(23), over).proved();
    assert_eq!((proof.seams, proof.units), (6, 4));
    assert!(proof.largest_difference < 1e-3, "{}", proof.largest_difference);
    // small squares an eighth too large reach further than the large one does
    assert!(geese(s8(42), s8(24), over).rehearse().is_err());
    // small squares that do not reach each other leave the path between them uncovered
    geese(s8(42), s8(18), over).refused_at("path-not-covered", "goose", 3);
    // a large square a quarter too large
    assert!(geese(s8(44), s8(23), over).rehearse().is_err());
}

#[test]
fn what_is_laid_on_a_stack_is_laid_before_it_is_sewn() {
    let over = 0.375 - 2f64.sqrt() / 4.0;
    let mut b = geese(s8(42), s8(23), over);
    // sewn first, then laid on
    let steps = &mut b.pattern.recipe.makes[0].steps;
    steps.insert(1, mark(5, "first", corner(e(0, 3), e(0, 0)), corner(e(0, 1), e(0, 2))));
    steps.insert(
        2,
        Step::Sew {
            stack: Slot(5),
            path: Path::BothSides {
                mark: MarkName("first".into()),
                by: s8(2),
            },
            join: false,
        },
    );
    b.refused_at("bad-recipe", "goose", 3);
    let mut b = four_at_a_time(s8(44), near(5.0 / 2f64.sqrt() - 3.5));
    let make = &mut b.pattern.recipe.makes[0];
    make.parts.push(piece(40, "L"));
    make.steps.insert(
        4,
        Step::Lay {
            a: Slot(2),
            b: Slot(40),
            how: Lay::Corner {
                a: corner(e(0, 0), e(0, 1)),
                b: corner(e(40, 0), e(40, 1)),
            },
            into: Slot(41),
        },
    );
    b.refused_at("bad-recipe", "pair", 4);
    // beside laid edges two are sewn, not three
    let mut b = four_at_a_time(s8(44), near(5.0 / 2f64.sqrt() - 3.5));
    let make = &mut b.pattern.recipe.makes[0];
    make.parts.push(piece(40, "L"));
    make.steps[3] = Step::Lay {
        a: Slot(2),
        b: Slot(40),
        how: Lay::Corner {
            a: corner(e(0, 0), e(0, 1)),
            b: corner(e(40, 0), e(40, 1)),
        },
        into: Slot(41),
    };
    make.steps.insert(4, sew(41));
    b.refused_at("bad-recipe", "pair", 4);
}

#[test]
fn each_step_has_its_scene() {
    let over = 0.375 - 2f64.sqrt() / 4.0;
    for b in [
        geese(s8(42), s8(23), over),
        four_at_a_time(s8(44), near(0.0355)),
        eight_at_a_time(s8(62), near(over)),
        hourglass(s8(34), over),
    ] {
        let scenes = rehearse::scenes(&b.pattern.recipe, &b.pattern.cutting);
        for (scene, make) in scenes.iter().zip(&b.pattern.recipe.makes) {
            assert_eq!(scene.after.len(), make.steps.len(), "{}", make.unit);
            for (view, step) in scene.after.iter().zip(&make.steps) {
                assert!(!view.layers.is_empty());
                if let Step::CutApart { .. } = step {
                    assert_eq!((view.cuts.len(), view.waste.len()), (1, 0));
                    assert!(!view.stitches.is_empty());
                }
            }
        }
    }
    let b = geese(s8(42), s8(23), over);
    let scenes = rehearse::scenes(&b.pattern.recipe, &b.pattern.cutting);
    // two small squares on the large one, then four stitched corners of the stack cut in two
    assert_eq!(scenes[0].after[1].layers[1].pieces.len(), 2);
    assert_eq!(scenes[0].after[3].stitches.len(), 2);
}
