//! Half-square pairs two at a time, and sew-and-flip corners.

use crate::builder::*;
use recipe::{
    Keep, Lay, LineRef, MarkName, Path, PointRef, PrintNote, Ruler, RulerAngle, SeamRef, Size, Slot, Step, TrimLine,
};

fn mark(on: u32, name: &str, from: recipe::CornerRef, to: recipe::CornerRef) -> Step {
    Step::Mark {
        on: Slot(on),
        name: MarkName(name.into()),
        line: Ruler::TwoMarks {
            from: PointRef::Corner(from),
            to: PointRef::Corner(to),
        },
    }
}

/// A top of one half-square pair of finished 3 in. Both squares are cut `cut`; with a trim, `shave` comes off two sides.
/// The pairs are sewn two at a time; the second unit is spare.
pub fn half_square(cut: Size, shave: Option<Size>) -> Bench {
    let mut b = Bench::new();
    b.cloth("dark", PrintNote::None).rectangles("D", cut, cut, 1);
    b.cloth("light", PrintNote::None).rectangles("L", cut, cut, 1);
    // D below, L above; the line from D's lower left to its upper right.
    let mut steps = vec![
        mark(0, "diagonal", corner(e(0, 3), e(0, 0)), corner(e(0, 1), e(0, 2))),
        lay(
            0,
            1,
            2,
            run(&[(0, 1)]),
            run(&[(1, 3)]),
            even(e(0, 0), e(1, 0)),
            even(e(0, 2), e(1, 2)),
            &[],
        ),
        Step::Sew {
            stack: Slot(2),
            path: Path::BothSides {
                mark: MarkName("diagonal".into()),
                by: s8(2),
            },
            join: false,
        },
        Step::CutApart {
            stack: Slot(2),
            line: Ruler::Beside {
                line: LineRef::Mark(MarkName("diagonal".into())),
                at: s8(0),
                toward: corner(e(0, 0), e(0, 1)),
            },
            keep: vec![
                Keep {
                    corner: corner(e(0, 0), e(0, 1)),
                    into: Slot(3),
                },
                Keep {
                    corner: corner(e(0, 2), e(0, 3)),
                    into: Slot(4),
                },
            ],
            offcut: vec![],
        },
        open(3, 5),
        open(4, 6),
    ];
    // L lies mirrored on D, its edge 3 on D's edge 1 and its edge 1 on D's edge 3. Opened over the diagonal, its edge 3
    // lies opposite D's edge 0, and its edge 1 opposite D's edge 2.
    let mut gives = Vec::new();
    for (opened, trimmed, d, l) in [(5, 7, [0, 1], [3, 0]), (6, 8, [2, 3], [1, 2])] {
        let raw = [
            run(&[(0, d[0])]),
            run(&[(0, d[1])]),
            run(&[(1, l[0])]),
            run(&[(1, l[1])]),
        ];
        match shave {
            None => gives.push(give(opened, &raw)),
            Some(shave) => {
                // From the crossing of the seam with the raw edge, 3 1/2 in along it, at 45 degrees to the seam.
                let seam = LineRef::Seam(SeamRef {
                    of: Slot(opened),
                    seam: 0,
                });
                let line = |along: u32, off: (u32, u32), like: (u32, u32)| TrimLine {
                    ruler: Ruler::Angle {
                        line: seam.clone(),
                        angle: RulerAngle::FortyFive,
                        through: PointRef::Along {
                            from: if along == d[0] {
                                corner(e(1, l[1]), e(0, d[0]))
                            } else {
                                corner(e(0, d[1]), e(1, l[0]))
                            },
                            edge: if along == d[0] { e(0, d[0]) } else { e(1, l[0]) },
                            by: s8(28),
                        },
                        like: e(like.0, like.1),
                    },
                    off: run(&[off]),
                    shave,
                };
                steps.push(Step::Trim {
                    of: Slot(opened),
                    lines: vec![
                        line(d[0], (0, d[1]), (0, d[1])),
                        TrimLine {
                            ruler: Ruler::Beside {
                                line: LineRef::Edge(e(0, d[0])),
                                at: s8(28),
                                toward: corner(e(1, l[0]), e(1, l[1])),
                            },
                            off: run(&[(1, l[0])]),
                            shave,
                        },
                    ],
                    into: Slot(trimmed),
                });
                gives.push(give(
                    trimmed,
                    &[
                        run(&[(0, d[0])]),
                        run(&[(trimmed, 0)]),
                        run(&[(trimmed, 1)]),
                        run(&[(1, l[1])]),
                    ],
                ));
            }
        }
    }
    b.make("pair", 1, &[piece(0, "D"), piece(1, "L")], &steps, &gives);
    b.pattern.recipe.makes[0].spare = 1;
    b.make(
        "top",
        1,
        &[unit(0, "pair")],
        &[finish(
            0,
            &[run(&[(0, 0)]), run(&[(0, 1)]), run(&[(0, 2)]), run(&[(0, 3)])],
            2,
        )],
        &[],
    );
    b.outer(3.0, 3.0);
    b.face("dark", &[(0.0, 0.0), (3.0, 0.0), (3.0, 3.0)])
        .face("light", &[(0.0, 0.0), (3.0, 3.0), (0.0, 3.0)]);
    b
}

#[test]
fn a_half_square_pair_needs_its_trim() {
    // derived: a square L opens L - 1/4·√2 wide; from finished + 7/8 that is finished + 1/2 + (3/8 - √2/4)
    // = unfinished + 0.0214 in, more than 1/64 in
    let over = 0.375 - 2f64.sqrt() / 4.0;
    assert!((over - 0.0214).abs() < 1e-4);
    let cut = s8(31);
    half_square(cut, None).refused("outline-differs");
    let proof = half_square(cut, Some(near(over))).proved();
    assert_eq!(proof.seams, 2);
    assert_eq!(proof.units, 2);
    assert!(proof.largest_difference < 0.0107 + 0.02, "{}", proof.largest_difference);
    // cut a sixteenth large, the trim would hide it: the printed shave tells
    half_square(s64(31 * 8 + 4), Some(near(over))).refused_at("shave-differs", "pair", 6);
    half_square(s64(31 * 8 - 4), Some(near(over))).refused_at("window-not-covered", "pair", 6);
}

#[test]
fn what_comes_off_is_told_once_of_each_edge() {
    let mut b = half_square(s8(31), Some(near(0.0214)));
    let trims = b.pattern.recipe.makes.iter_mut().flat_map(|make| &mut make.steps);
    for step in trims {
        if let Step::Trim { lines, .. } = step {
            let edge = lines[0].off.0[0];
            lines[0].off.0.push(edge);
        }
    }
    b.refused_at("edge-twice", "pair", 6);
}

#[test]
fn two_units_of_one_making_must_be_alike() {
    let mut b = half_square(s8(31), Some(near(0.0214)));
    // a square unit turned half round: the same outline, dark where the other is light
    b.pattern.recipe.makes[0].gives[1].sides.rotate_left(2);
    b.refused("gives-not-alike");
    // a print with an up lies half round in the second unit
    for (print, alike) in [(PrintNote::OneWay, false), (PrintNote::TwoWay, true)] {
        let mut b = half_square(s8(31), Some(near(0.0214)));
        b.pattern.recipe.fabrics[0].print = print;
        if alike {
            b.proved();
        } else {
            b.refused("gives-not-alike");
        }
    }
}

#[test]
fn a_pair_must_be_sewn_on_both_sides() {
    let mut b = half_square(s8(31), Some(near(0.0214)));
    b.pattern.recipe.makes[0].steps[2] = Step::Sew {
        stack: Slot(2),
        path: Path::OnMark(MarkName("diagonal".into())),
        join: false,
    };
    b.refused_at("not-sewn-apart", "pair", 3);
    let mut b = half_square(s8(31), Some(near(0.0214)));
    if let Step::Sew {
        path: Path::BothSides { by, .. },
        ..
    } = &mut b.pattern.recipe.makes[0].steps[2]
    {
        *by = s8(3);
    }
    b.refused_at("seam-not-allowance", "pair", 4);
    let mut b = half_square(s8(31), Some(near(0.0214)));
    b.pattern.recipe.makes[0].steps[3] = open(2, 9);
    b.refused_at("not-sewn-apart", "pair", 3);
}

/// Flips square `square` (slot) onto the corner of rectangle 0 between its edges `before` and `after`, in the work `work`.
/// `body` is a corner of what stays.
fn flip(work: u32, square: u32, stack: u32, before: u32, after: u32, body: recipe::CornerRef) -> Vec<Step> {
    let name = format!("flip {square}");
    // On the square's own corner between edges 3 and 0 the rectangle's corner comes to lie.
    let on_corner = corner(e(square, 3), e(square, 0));
    vec![
        mark(
            square,
            &name,
            corner(e(square, 0), e(square, 1)),
            corner(e(square, 2), e(square, 3)),
        ),
        Step::Lay {
            a: Slot(work),
            b: Slot(square),
            how: Lay::Corner {
                a: corner(e(0, before), e(0, after)),
                b: on_corner,
            },
            into: Slot(stack),
        },
        Step::Sew {
            stack: Slot(stack),
            path: Path::OnMark(MarkName(name.clone())),
            join: false,
        },
        Step::CutApart {
            stack: Slot(stack),
            line: Ruler::Beside {
                line: LineRef::Mark(MarkName(name)),
                at: s8(2),
                toward: corner(e(0, before), e(0, after)),
            },
            keep: vec![Keep {
                corner: body,
                into: Slot(stack + 1),
            }],
            offcut: vec![corner(e(0, before), e(0, after))],
        },
        open(stack + 1, stack + 2),
    ]
}

#[test]
fn a_flipped_corner_keeps_the_rectangle() {
    // common practice: a 1 1/2 in square flipped onto a corner finishes as a triangle of 1 in legs
    let mut b = Bench::new();
    b.cloth("dark", PrintNote::None).rectangles("D", s8(28), s8(20), 1);
    b.cloth("light", PrintNote::None).rectangles("L", s8(12), s8(12), 1);
    let mut steps = flip(0, 1, 2, 0, 1, corner(e(0, 2), e(0, 3)));
    // Opened, the square's far corner (edges 1 and 2) lies on the rectangle's corner: its edge 2 came to lie along the
    // right side, its edge 1 along the lower one.
    let sides = [
        run(&[(0, 0), (1, 1)]),
        run(&[(1, 2), (0, 1)]),
        run(&[(0, 2)]),
        run(&[(0, 3)]),
    ];
    steps.push(across(4, sides[0].clone(), sides[2].clone(), s8(20)));
    steps.push(finish(4, &sides, 2));
    b.make("top", 1, &[piece(0, "D"), piece(1, "L")], &steps, &[]);
    b.outer(3.0, 2.0);
    b.face("light", &[(2.0, 0.0), (3.0, 0.0), (3.0, 1.0)]);
    b.face("dark", &[(0.0, 0.0), (2.0, 0.0), (3.0, 1.0), (3.0, 2.0), (0.0, 2.0)]);
    let proof = b.proved();
    assert!(proof.largest_difference < 1e-9);
    // opened without cutting the corner away, the fold's side is not said
    let mut uncut = b.pattern.clone();
    uncut.recipe.makes[0].steps.remove(3);
    let refused = rehearse::rehearse(&uncut.recipe, &uncut.cutting, &uncut.bought, &b.picture).unwrap_err();
    assert_eq!(refused[0].code, "bad-recipe");
}

/// A goose of two flips: 2 1/2 by 4 1/2 in raw.
pub fn goose() -> Bench {
    let mut b = Bench::new();
    b.cloth("dark", PrintNote::None).rectangles("D", s8(36), s8(20), 1);
    b.cloth("light", PrintNote::None).rectangles("L", s8(20), s8(20), 2);
    let mut steps = flip(0, 1, 3, 1, 2, corner(e(0, 3), e(0, 0)));
    steps.extend(flip(5, 2, 6, 2, 3, corner(e(0, 0), e(1, 1))));
    // First square: on the corner between right and upper side; second: between upper and left side.
    let sides = [
        run(&[(0, 0)]),
        run(&[(0, 1), (1, 1)]),
        run(&[(1, 2), (2, 1)]),
        run(&[(2, 2), (0, 3)]),
    ];
    steps.push(across(8, sides[0].clone(), sides[2].clone(), s8(20)));
    steps.push(across(8, sides[3].clone(), sides[1].clone(), s8(36)));
    steps.push(finish(8, &sides, 2));
    b.make("top", 1, &[piece(0, "D"), piece(1, "L"), piece(2, "L")], &steps, &[]);
    b.outer(4.0, 2.0);
    b.face("dark", &[(0.0, 0.0), (4.0, 0.0), (2.0, 2.0)]);
    b.face("light", &[(4.0, 0.0), (4.0, 2.0), (2.0, 2.0)]);
    b.face("light", &[(0.0, 0.0), (2.0, 2.0), (0.0, 2.0)]);
    b
}

#[test]
fn a_goose_of_two_flips_stays_its_size() {
    // common practice: 2 1/2 by 4 1/2 in stays so; the point lies a seam below the raw edge
    let proof = goose().proved();
    assert_eq!(proof.seams, 2);
    assert!(proof.largest_difference < 1e-9, "{}", proof.largest_difference);
}

#[test]
fn every_step_has_a_scene() {
    let b = goose();
    let scenes = rehearse::scenes(&b.pattern.recipe, &b.pattern.cutting);
    assert_eq!(scenes.len(), 1);
    assert_eq!(scenes[0].parts.len(), 3);
    assert_eq!(scenes[0].after.len(), b.pattern.recipe.makes[0].steps.len());
    let laid = &scenes[0].after[1];
    assert_eq!(laid.layers.len(), 2);
    assert!(laid.layers[1].turned_over && !laid.layers[0].turned_over);
    assert_eq!(scenes[0].after[2].stitches.len(), 1);
    let cut = &scenes[0].after[3];
    assert_eq!((cut.cuts.len(), cut.waste.len()), (1, 2));
    let last = scenes[0].after.last().unwrap();
    assert_eq!(last.layers[0].pieces.len(), 3);
    assert_eq!(last.seams.len(), 2);
}
