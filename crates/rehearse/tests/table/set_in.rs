//! Set-in seams: three rhombs round a point and a square set into a mitred corner; the stops that let them turn.

use crate::builder::*;
use recipe::{EdgeRef, End, MarkName, PointRef, PrintNote, SeamRef, Size, Slot, Step, Stop};

fn dot(slot: u32, name: &str, a: EdgeRef, b: EdgeRef) -> Step {
    dot_at(slot, name, a, b, s8(2))
}

fn dot_at(slot: u32, name: &str, a: EdgeRef, b: EdgeRef, by: Size) -> Step {
    Step::Dot {
        on: Slot(slot),
        name: MarkName(name.into()),
        at: PointRef::FromEdges {
            a,
            a_by: by,
            b,
            b_by: by,
        },
    }
}

fn dots(a: &str, b: &str) -> End {
    End::Dots {
        a: MarkName(a.into()),
        b: MarkName(b.into()),
    }
}

pub fn pivot(stack: u32, a: (u32, u32), b: (u32, u32), first: End, last: End) -> Step {
    Step::Pivot {
        stack: Slot(stack),
        a: run(&[a]),
        b: run(&[b]),
        first,
        last,
        meets: Vec::new(),
    }
}

/// Three rhombs of 60 and 120 degrees, 3 in a side, whose wide corners (between edges 0 and 1) meet in the middle of a
/// hexagon. The third is set in with one pivot.
pub fn tumbling() -> Bench {
    // derived: a rhomb of side 3 is 3·√3/2 high; with a seam each side 1/2 in more; its raw side is that over sin 60°,
    // and the slanted cut goes on by half the raw side.
    let sin60 = 3f64.sqrt() / 2.0;
    let high = 3.0 * sin60 + 0.5;
    let side = near(high / sin60);
    let slant = near(high / sin60 / 2.0);
    let mut b = Bench::new();
    for (cloth, kind) in [("light", "A"), ("dark", "B"), ("mid", "C")] {
        let cuts: [Going; 2] = [(s8(0), slant, recipe::Gives::Waste), (side, side, one(kind))];
        b.cloth(cloth, PrintNote::None)
            .kind(kind)
            .strip(near(high), &[(1, &cuts)]);
    }
    let steps = [
        dot(0, "a", e(0, 0), e(0, 1)),
        dot(1, "b", e(1, 0), e(1, 1)),
        dot(2, "c", e(2, 0), e(2, 1)),
        lay(
            0,
            1,
            3,
            run(&[(0, 1)]),
            run(&[(1, 0)]),
            dots("a", "b"),
            even(e(0, 2), e(1, 3)),
            &[],
        ),
        sew_to(3, Stop::Dot, Stop::Raw),
        open(3, 4),
        lay(
            4,
            2,
            5,
            run(&[(0, 0)]),
            run(&[(2, 1)]),
            even(e(0, 3), e(2, 2)),
            dots("a", "c"),
            &[],
        ),
        sew_to(5, Stop::Raw, Stop::Dot),
        pivot(5, (1, 1), (2, 0), dots("a", "c"), even(e(1, 2), e(2, 3))),
        sew_to(5, Stop::Dot, Stop::Raw),
        open(5, 6),
        finish(
            6,
            &[
                run(&[(1, 2)]),
                run(&[(1, 3)]),
                run(&[(0, 2)]),
                run(&[(0, 3)]),
                run(&[(2, 2)]),
                run(&[(2, 3)]),
            ],
            2,
        ),
    ];
    b.make("top", 1, &[piece(0, "A"), piece(1, "B"), piece(2, "C")], &steps, &[]);
    // derived: a regular hexagon of side 3, lying on a side.
    let h = 3.0 * 3f64.sqrt();
    let round = [
        (6.0, h / 2.0),
        (4.5, h),
        (1.5, h),
        (0.0, h / 2.0),
        (1.5, 0.0),
        (4.5, 0.0),
    ];
    let middle = (3.0, h / 2.0);
    b.picture.outer = shape::Polygon::new(round.iter().map(|&(x, y)| shape::Point::new(x, y)).collect());
    b.face("light", &[middle, round[1], round[2], round[3]]);
    b.face("dark", &[middle, round[5], round[0], round[1]]);
    b.face("mid", &[middle, round[3], round[4], round[5]]);
    b
}

/// A 2 in square set into a corner of two mitred strips 1 in wide; `lean` is how far the square's upper edge is cut aslant.
pub fn attic(lean: Size) -> Bench {
    // derived: the mitre's raw edge lies a seam beyond the diagonal, 1/4·√2 along the strip: the inner raw edge is
    // 3 1/4 - (1 1/4 - √2/4), the outer one longer by the strip's 1 1/2 in.
    let inner = near(2.0 + 2f64.sqrt() / 4.0);
    let outer = near(3.5 + 2f64.sqrt() / 4.0);
    let mut b = Bench::new();
    b.cloth("sill", PrintNote::None)
        .kind("L")
        .strip(s8(12), &[(1, &[(inner, outer, one("L"))])]);
    b.cloth("side", PrintNote::None)
        .kind("S")
        .strip(s8(12), &[(1, &[(outer, inner, one("S"))])]);
    let square: &[Going] = &[(s8(0), lean, recipe::Gives::Waste), (s8(20), s8(20), one("Q"))];
    b.cloth("pane", PrintNote::None).kind("Q");
    if lean.len == s8(0).len {
        b.strip(s8(20), &[(1, &square[1..])]);
    } else {
        b.strip(s8(20), &[(1, square)]);
    }
    let steps = [
        dot(0, "l", e(0, 0), e(0, 1)),
        dot(1, "s", e(1, 1), e(1, 2)),
        dot(2, "q", e(2, 3), e(2, 0)),
        lay(
            0,
            1,
            3,
            run(&[(0, 1)]),
            run(&[(1, 1)]),
            dots("l", "s"),
            even(e(0, 2), e(1, 0)),
            &[],
        ),
        sew_to(3, Stop::Dot, Stop::Raw),
        open(3, 4),
        lay(
            4,
            2,
            5,
            run(&[(0, 0)]),
            run(&[(2, 0)]),
            even(e(0, 3), e(2, 1)),
            dots("l", "q"),
            &[],
        ),
        sew_to(5, Stop::Raw, Stop::Dot),
        pivot(5, (1, 2), (2, 3), dots("l", "q"), even(e(1, 3), e(2, 2))),
        sew_to(5, Stop::Dot, Stop::Raw),
        open(5, 6),
        finish(
            6,
            &[
                run(&[(0, 2)]),
                run(&[(0, 3), (2, 1)]),
                run(&[(2, 2), (1, 3)]),
                run(&[(1, 0)]),
            ],
            2,
        ),
    ];
    b.make("top", 1, &[piece(0, "L"), piece(1, "S"), piece(2, "Q")], &steps, &[])
        .outer(3.0, 3.0)
        .face("sill", &[(0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (1.0, 1.0)])
        .face("side", &[(0.0, 0.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0)])
        .rect("pane", 1.0, 1.0, 2.0, 2.0);
    b
}

/// A 2 in square set into a tray of three mitred strips 1 in wide: three legs, turned twice.
pub fn tray() -> Bench {
    // derived: as for the corner of two; the bottom's raw edges are 2 + 2·(1/4·√2 - 1/4) in and 3 in more.
    let root2 = 2f64.sqrt();
    let (inner, outer) = (near(2.0 + root2 / 4.0), near(3.5 + root2 / 4.0));
    let (upper, lower) = (near(1.5 + root2 / 2.0), near(4.5 + root2 / 2.0));
    let mut b = Bench::new();
    b.cloth("bottom", PrintNote::None).kind("B").strip(
        s8(12),
        &[(1, &[(s8(0), s8(12), recipe::Gives::Waste), (lower, upper, one("B"))])],
    );
    b.cloth("left", PrintNote::None)
        .kind("L")
        .strip(s8(12), &[(1, &[(outer, inner, one("L"))])]);
    b.cloth("right", PrintNote::None)
        .kind("R")
        .strip(s8(12), &[(1, &[(inner, outer, one("R"))])]);
    b.cloth("pane", PrintNote::None).rectangles("Q", s8(20), s8(20), 1);
    let steps = [
        dot(0, "bl", e(0, 2), e(0, 3)),
        dot(0, "br", e(0, 1), e(0, 2)),
        dot(1, "l", e(1, 1), e(1, 2)),
        dot(2, "r", e(2, 0), e(2, 1)),
        dot(3, "ql", e(3, 3), e(3, 0)),
        dot(3, "qr", e(3, 0), e(3, 1)),
        lay(
            0,
            1,
            4,
            run(&[(0, 3)]),
            run(&[(1, 1)]),
            dots("bl", "l"),
            even(e(0, 0), e(1, 0)),
            &[],
        ),
        sew_to(4, Stop::Dot, Stop::Raw),
        open(4, 5),
        lay(
            5,
            2,
            6,
            run(&[(0, 1)]),
            run(&[(2, 1)]),
            even(e(0, 0), e(2, 2)),
            dots("br", "r"),
            &[],
        ),
        sew_to(6, Stop::Raw, Stop::Dot),
        open(6, 7),
        lay(
            7,
            3,
            8,
            run(&[(2, 0)]),
            run(&[(3, 1)]),
            even(e(2, 3), e(3, 2)),
            dots("br", "qr"),
            &[],
        ),
        sew_to(8, Stop::Raw, Stop::Dot),
        pivot(8, (0, 2), (3, 0), dots("br", "qr"), dots("bl", "ql")),
        sew_to(8, Stop::Dot, Stop::Dot),
        pivot(8, (1, 2), (3, 3), dots("bl", "ql"), even(e(1, 3), e(3, 2))),
        sew_to(8, Stop::Dot, Stop::Raw),
        open(8, 9),
        finish(
            9,
            &[
                run(&[(0, 0)]),
                run(&[(2, 2)]),
                run(&[(2, 3), (3, 2), (1, 3)]),
                run(&[(1, 0)]),
            ],
            2,
        ),
    ];
    let parts = [piece(0, "B"), piece(1, "L"), piece(2, "R"), piece(3, "Q")];
    b.make("top", 1, &parts, &steps, &[])
        .outer(4.0, 3.0)
        .face("bottom", &[(0.0, 0.0), (4.0, 0.0), (3.0, 1.0), (1.0, 1.0)])
        .face("left", &[(0.0, 0.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0)])
        .face("right", &[(4.0, 0.0), (4.0, 3.0), (3.0, 3.0), (3.0, 1.0)])
        .rect("pane", 1.0, 1.0, 2.0, 2.0);
    b
}

/// Six triangles round a point: three pairs, the third set in. At the middle each pair's other triangle lies beyond the
/// dot; it is neither caught nor loses cloth.
pub fn six_round() -> Bench {
    // derived: a triangle of side 3 is 3·√3/2 high; with a seam on its base and two at its tip 3/4 in more.
    let high = 3.0 * 3f64.sqrt() / 2.0 + 0.75;
    let side = high * 2.0 / 3f64.sqrt();
    let (side, half) = (near(side), near(side / 2.0));
    let round = tumbling();
    let mut b = Bench::new();
    for (cloth, kind) in [("one", "T"), ("two", "U")] {
        let start: [Going; 1] = [(s8(0), half, recipe::Gives::Waste)];
        let pair: [Going; 2] = [(side, s8(0), one(kind)), (s8(0), side, recipe::Gives::Waste)];
        b.cloth(cloth, PrintNote::None)
            .kind(kind)
            .strip(near(high), &[(1, &start), (3, &pair)]);
    }
    let steps = [
        lay(
            0,
            1,
            2,
            run(&[(0, 1)]),
            run(&[(1, 1)]),
            even(e(0, 0), e(1, 3)),
            even(e(0, 3), e(1, 0)),
            &[],
        ),
        sew(2),
        open(2, 3),
    ];
    let sides = [run(&[(0, 0)]), run(&[(1, 3)]), run(&[(1, 0)]), run(&[(0, 3)])];
    b.make("pair", 3, &[piece(0, "T"), piece(1, "U")], &steps, &[give(3, &sides)]);
    let parts = [unit(0, "pair"), unit(1, "pair"), unit(2, "pair")];
    b.make("top", 1, &parts, &round.pattern.recipe.makes[0].steps, &[]);
    let c = round.picture.outer.corners().to_vec();
    let middle = shape::Point::new(3.0, c[0].y);
    b.picture.outer = round.picture.outer;
    for (cloth, i, j) in [
        ("one", 2, 3),
        ("two", 1, 2),
        ("one", 0, 1),
        ("two", 5, 0),
        ("one", 4, 5),
        ("two", 3, 4),
    ] {
        b.face(cloth, &[middle, c[i], c[j]].map(|p| (p.x, p.y)));
    }
    b
}

#[test]
fn six_triangles_round_a_point_are_proved() {
    let proof = six_round().proved();
    assert_eq!(proof.seams, 6);
    assert!(proof.largest_difference < 0.001, "{}", proof.largest_difference);
    let mut b = six_round();
    b.pattern.recipe.makes[1].steps[4] = sew(3);
    assert!(b.rehearse().is_err());
    let mut b = six_round();
    b.pattern.recipe.makes[1].steps[7] = sew(5);
    b.refused_at("pivot-off-the-stop", "top", 8);
}

#[test]
fn turned_twice_it_is_proved() {
    let proof = tray().proved();
    assert_eq!(proof.seams, 5);
    assert!(proof.largest_difference < 0.001, "{}", proof.largest_difference);
    // Each corner needs its own stop.
    with(tray(), 7, sew(4)).refused_at("corner-sewn-shut", "top", 16);
    with(tray(), 10, sew(6)).refused_at("corner-sewn-shut", "top", 14);
    // Turned at the wrong end of the middle leg.
    let back = pivot(8, (1, 2), (3, 3), dots("br", "qr"), even(e(1, 3), e(3, 2)));
    with(tray(), 16, back).refused_at("pivot-off-the-stop", "top", 16);
    // The middle leg not stopped at its second dot.
    assert!(with(tray(), 15, sew_to(8, Stop::Dot, Stop::Raw)).rehearse().is_err());
}

fn with(mut b: Bench, at: usize, step: Step) -> Bench {
    b.pattern.recipe.makes[0].steps[at] = step;
    b
}

#[test]
fn three_rhombs_round_a_point_are_proved() {
    let proof = tumbling().proved();
    // Three seams: one of two rhombs, and the third's along each of its legs.
    assert_eq!(proof.seams, 3);
    assert!(proof.largest_difference < 0.001, "{}", proof.largest_difference);
}

#[test]
fn a_square_set_into_a_corner_is_proved() {
    let proof = attic(s8(0)).proved();
    assert!(proof.largest_difference < 0.001, "{}", proof.largest_difference);
}

#[test]
fn turned_the_other_way_it_is_proved_too() {
    let mut b = attic(s8(0));
    let steps = &mut b.pattern.recipe.makes[0].steps;
    // Along the side first, up to the dot from its far end; then the sill.
    steps[6] = lay(
        4,
        2,
        5,
        run(&[(1, 2)]),
        run(&[(2, 3)]),
        dots("l", "q"),
        even(e(1, 3), e(2, 2)),
        &[],
    );
    steps[7] = sew_to(5, Stop::Dot, Stop::Raw);
    steps[8] = pivot(5, (0, 0), (2, 0), even(e(0, 3), e(2, 1)), dots("l", "q"));
    steps[9] = sew_to(5, Stop::Raw, Stop::Dot);
    b.proved();
}

#[test]
fn a_stop_is_carried_by_the_unit_given() {
    for stopped in [true, false] {
        let mut b = attic(s8(0));
        let make = b.pattern.recipe.makes.remove(0);
        let stop = if stopped { Stop::Dot } else { Stop::Raw };
        let mut corner_steps = make.steps[..6].to_vec();
        corner_steps[4] = sew_to(3, stop, Stop::Raw);
        corner_steps.remove(2);
        // Sides of the unit: inner sill, inner side, the two square ends and the two outer edges.
        let sides = [
            run(&[(0, 0)]),
            run(&[(1, 2)]),
            run(&[(1, 3)]),
            run(&[(1, 0)]),
            run(&[(0, 2)]),
            run(&[(0, 3)]),
        ];
        b.make(
            "corner",
            1,
            &[piece(0, "L"), piece(1, "S")],
            &corner_steps,
            &[give(4, &sides)],
        );
        let steps = [
            dot(0, "l", e(0, 0), e(0, 1)),
            dot(2, "q", e(2, 3), e(2, 0)),
            lay(
                0,
                2,
                5,
                run(&[(0, 0)]),
                run(&[(2, 0)]),
                even(e(0, 5), e(2, 1)),
                dots("l", "q"),
                &[],
            ),
            sew_to(5, Stop::Raw, Stop::Dot),
            pivot(5, (0, 1), (2, 3), dots("l", "q"), even(e(0, 2), e(2, 2))),
            sew_to(5, Stop::Dot, Stop::Raw),
            open(5, 6),
            finish(
                6,
                &[
                    run(&[(0, 4)]),
                    run(&[(0, 5), (2, 1)]),
                    run(&[(2, 2), (0, 2)]),
                    run(&[(0, 3)]),
                ],
                2,
            ),
        ];
        b.make("top", 1, &[unit(0, "corner"), piece(2, "Q")], &steps, &[]);
        if stopped {
            b.proved();
        } else {
            b.refused_at("corner-sewn-shut", "top", 4);
        }
    }
}

#[test]
fn a_seam_sewn_through_will_not_turn() {
    // To the end of its path without a stop, and on to the raw edge.
    with(tumbling(), 4, sew(3)).refused_at("corner-sewn-shut", "top", 8);
    let mut b = with(tumbling(), 4, sew(3));
    b.pattern.recipe.makes[0].steps[3] = lay(
        0,
        1,
        3,
        run(&[(0, 1)]),
        run(&[(1, 0)]),
        even(e(0, 0), e(1, 1)),
        even(e(0, 2), e(1, 3)),
        &[],
    );
    b.refused_at("corner-sewn-shut", "top", 8);
    with(attic(s8(0)), 4, sew(3)).refused_at("corner-sewn-shut", "top", 8);
}

#[test]
fn the_leg_before_must_stop_in_the_dot() {
    // Sewn on to the raw edge it catches the piece round the corner.
    with(attic(s8(0)), 7, sew(5)).refused_at("stitch-catches", "top", 7);
    // Turned before it is sewn.
    with(attic(s8(0)), 7, dot(4, "x", e(0, 0), e(0, 1))).refused("bad-recipe");
    let mut b = attic(s8(0));
    b.pattern.recipe.makes[0].steps.remove(7);
    b.refused_at("pivot-off-the-stop", "top", 7);
}

#[test]
fn it_turns_only_round_the_dots_of_the_stop() {
    let elsewhere = pivot(5, (1, 2), (2, 3), dots("s", "q"), even(e(1, 3), e(2, 2)));
    with(attic(s8(0)), 8, elsewhere).refused_at("pivot-off-the-stop", "top", 8);
    // The seam stopped at its last end: the next edges begin there.
    let backward = pivot(5, (1, 2), (2, 3), even(e(1, 3), e(2, 2)), dots("l", "q"));
    with(attic(s8(0)), 8, backward).refused_at("pivot-off-the-stop", "top", 8);
}

#[test]
fn dots_must_lie_on_one_another() {
    with(attic(s8(0)), 2, dot_at(2, "q", e(2, 3), e(2, 0), s8(3))).refused_at("ends-not-even", "top", 6);
    // No dots at that end to stop in.
    with(attic(s8(0)), 4, sew_to(3, Stop::Dot, Stop::Dot)).refused_at("stop-not-as-laid", "top", 4);
}

#[test]
fn the_legs_must_fit_the_corner() {
    // tan 2° is 0.034920769 (from memory).
    // derived: 2 1/4 in from the dot a square 2 degrees aslant lies 2.25·2π/180 = 0.079 in off, five times the tolerance,
    // while along both edges the ends still come out (0.25·tan 1° = 0.004 in).
    let lean = near(2.5 * 0.034_920_769);
    attic(lean).refused_at("turn-does-not-fit", "top", 10);
}

#[test]
fn every_leg_is_sewn_once() {
    let mut b = attic(s8(0));
    b.pattern.recipe.makes[0].steps.remove(9);
    b.refused_at("not-sewn-apart", "top", 9);
    let mut b = attic(s8(0));
    b.pattern.recipe.makes[0]
        .steps
        .insert(9, sew_to(5, Stop::Dot, Stop::Raw));
    b.refused_at("not-sewn-apart", "top", 11);
}

#[test]
fn each_leg_is_a_seam_of_its_own() {
    let upright = |seam| Step::Mark {
        on: Slot(6),
        name: MarkName("m".into()),
        line: recipe::Ruler::Beside {
            line: recipe::LineRef::Seam(SeamRef { of: Slot(6), seam }),
            at: s8(0),
            toward: corner(e(0, 2), e(0, 3)),
        },
    };
    for (seam, known) in [(0, true), (1, true), (2, false)] {
        let mut b = attic(s8(0));
        b.pattern.recipe.makes[0].steps.insert(11, upright(seam));
        if known {
            b.proved();
        } else {
            b.refused_at("bad-recipe", "top", 11);
        }
    }
}

#[test]
fn the_film_shows_every_step() {
    let b = tumbling();
    let scenes = rehearse::scenes(&b.pattern.recipe, &b.pattern.cutting);
    let after = &scenes[0].after;
    assert_eq!(after.len(), 12);
    // The first leg's stitches, then those of both.
    assert_eq!(after[8].stitches.len(), 1);
    assert_eq!(after[9].stitches.len(), 2);
    assert_eq!(after[10].seams.len(), 3);
}

/// Each slanted cut made along this line of the ruler, pieces so far straight across from the last cut.
fn by_ruler(mut b: Bench, angle: recipe::CutAngle, across: Option<recipe::Size>) -> Bench {
    let strips = b.pattern.cutting.cloths.iter_mut().flat_map(|c| &mut c.strips);
    for cut in strips.flat_map(|s| &mut s.runs).flat_map(|r| &mut r.cuts) {
        let across = across.filter(|_| cut.gives != recipe::Gives::Waste);
        cut.ruler = Some(recipe::RulerCut { angle, across });
    }
    b
}

#[test]
fn cuts_along_a_rulers_line_lie_at_its_angle() {
    use recipe::CutAngle;
    // derived: across from side to side the rhomb is as wide as it is high
    let high = 3.0 * 3f64.sqrt() / 2.0 + 0.5;
    by_ruler(tumbling(), CutAngle::Sixty, Some(near(high))).proved();
    // a rhomb that nothing says how wide to cut
    by_ruler(tumbling(), CutAngle::Sixty, None).refused("cut-off-angle");
    by_ruler(six_round(), CutAngle::Sixty, None).proved();
    for angle in [CutAngle::Thirty, CutAngle::FortyFive, CutAngle::Wedge] {
        by_ruler(tumbling(), angle, None).refused("cut-off-angle");
        by_ruler(six_round(), angle, None).refused("cut-off-angle");
    }
    for wrong in [high + 0.002, high - 0.002] {
        by_ruler(tumbling(), CutAngle::Sixty, Some(near(wrong))).refused("cut-off-angle");
    }
    // triangles lie not parallel: nothing is measured straight across
    by_ruler(six_round(), CutAngle::Sixty, Some(near(high))).refused("cut-off-angle");
}
