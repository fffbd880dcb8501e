//! A windmill of four rectangles round a square: the first seam is begun, the others sewn round, and it is closed last.

use crate::builder::*;
use recipe::{EdgeRun, End, LineRef, MarkName, PrintNote, Ruler, SeamRef, Size, Slot, Step, Stop};

fn close(work: u32, of: u32, a: EdgeRun, b: EdgeRun, end: End, into: u32) -> Step {
    Step::Close {
        work: Slot(work),
        seam: SeamRef { of: Slot(of), seam: 0 },
        a,
        b,
        end,
        meets: Vec::new(),
        press: recipe::Press::TowardUpper,
        into: Slot(into),
    }
}

/// Four rectangles of finished 2 by 5 round a square of 3, the first seam begun over `begun`. Turning `left`, each
/// rectangle's left end is level with the square; else its right end.
pub fn windmill(left: bool, begun: Size) -> Bench {
    let mut b = Bench::new();
    b.cloth("middle", PrintNote::None).rectangles("S", s8(28), s8(28), 1);
    b.cloth("blade", PrintNote::None).rectangles("R", s8(44), s8(20), 4);
    // Slot 0 is the square; 1 to 4 the rectangles in the order sewn, each with its inner edge 2.
    let (level, far) = if left { (3, 1) } else { (1, 3) };
    // Round the square, from below: to the left, or to the right.
    let around: [u32; 4] = if left { [0, 3, 2, 1] } else { [0, 1, 2, 3] };
    let in_hand = |mut ends: [End; 2], mut runs: Vec<(u32, u32)>| {
        if !left {
            ends.reverse();
            runs.reverse();
        }
        let [first, last] = ends;
        (run(&runs), first, last)
    };
    let mut steps = Vec::new();
    for k in 1..=4u32 {
        let side = around[k as usize - 1];
        let next = around[k as usize % 4];
        let (own, previous) = (k, k - 1);
        let begin = even(e(0, next), e(own, level));
        let (a, first, last) = if k == 1 {
            in_hand([begin, End::Open], vec![(0, side)])
        } else {
            in_hand(
                [begin, even(e(previous, 0), e(own, far))],
                vec![(0, side), (previous, level)],
            )
        };
        let (work, stack) = (if k == 1 { 0 } else { 2 + 2 * k }, 3 + 2 * k);
        steps.push(lay(work, own, stack, a, run(&[(own, 2)]), first, last, &[]));
        steps.push(match (k, left) {
            (1, true) => sew_to(stack, Stop::Raw, Stop::At(begun)),
            (1, false) => sew_to(stack, Stop::At(begun), Stop::Raw),
            _ => sew(stack),
        });
        steps.push(open(stack, stack + 1));
    }
    let (a, end, _) = in_hand([even(e(4, 0), e(1, far)), End::Open], vec![(0, 0), (4, level)]);
    let end = if left { end } else { even(e(4, 0), e(1, far)) };
    steps.push(close(12, 6, a, run(&[(1, 2)]), end, 20));
    // Sides in order round from below; the next rectangle's far end goes before or after this one's outer edge.
    let outer = |own: u32, other: u32, other_edge: u32| {
        if left {
            run(&[(other, other_edge), (own, 0)])
        } else {
            run(&[(own, 0), (other, other_edge)])
        }
    };
    let sides = if left {
        [outer(1, 2, far), outer(4, 1, far), outer(3, 4, far), outer(2, 3, far)]
    } else {
        [outer(1, 2, far), outer(2, 3, far), outer(3, 4, far), outer(4, 1, far)]
    };
    steps.push(finish(20, &sides, 2));
    let parts = [
        piece(0, "S"),
        piece(1, "R"),
        piece(2, "R"),
        piece(3, "R"),
        piece(4, "R"),
    ];
    b.make("top", 1, &parts, &steps, &[]).outer(7.0, 7.0);
    b.rect("middle", 2.0, 2.0, 3.0, 3.0);
    for (x, y, w, h) in [
        (2.0, 0.0, 5.0, 2.0),
        (5.0, 2.0, 2.0, 5.0),
        (0.0, 5.0, 5.0, 2.0),
        (0.0, 0.0, 2.0, 5.0),
    ] {
        b.rect("blade", if left { x } else { 7.0 - x - w }, y, w, h);
    }
    b
}

fn with(mut b: Bench, at: usize, step: Step) -> Bench {
    b.pattern.recipe.makes[0].steps[at] = step;
    b
}

#[test]
fn both_hands_are_proved() {
    for left in [true, false] {
        let proof = windmill(left, s8(16)).proved();
        assert_eq!(proof.seams, 4);
        assert!(proof.largest_difference < 0.001, "{}", proof.largest_difference);
    }
}

#[test]
fn it_must_be_closed() {
    for left in [true, false] {
        let mut b = windmill(left, s8(16));
        let steps = &mut b.pattern.recipe.makes[0].steps;
        steps.remove(12);
        if let Step::Finish { top, .. } = &mut steps[12] {
            *top = Slot(12);
        }
        b.refused_at("seam-not-closed", "top", 12);
    }
}

#[test]
fn sewn_through_it_is_refused() {
    // Laid to be left open, but sewn to the end; and laid even at an end it does not have.
    with(windmill(true, s8(16)), 1, sew(5)).refused_at("stop-not-as-laid", "top", 1);
    let through = lay(
        0,
        1,
        5,
        run(&[(0, 0)]),
        run(&[(1, 2)]),
        even(e(0, 3), e(1, 3)),
        even(e(0, 1), e(1, 1)),
        &[],
    );
    with(windmill(true, s8(16)), 0, through).refused_at("ends-not-even", "top", 0);
    let both = lay(0, 1, 5, run(&[(0, 0)]), run(&[(1, 2)]), End::Open, End::Open, &[]);
    with(windmill(true, s8(16)), 0, both).refused_at("bad-recipe", "top", 0);
}

#[test]
fn the_stop_lies_between_two_seams_and_the_end() {
    // derived: the square's raw edge is 3 1/2 in: at 3 1/2 in less than a 64th is left, two seams are 1/2 in.
    for left in [true, false] {
        windmill(left, s64(223)).refused_at("stop-out-of-place", "top", 1);
        windmill(left, s64(224)).refused_at("stop-out-of-place", "top", 1);
        windmill(left, s64(30)).refused_at("stop-out-of-place", "top", 1);
        windmill(left, s64(32)).proved();
        // Within a seam of the end the square is folded where the last rectangle's stitches go.
        windmill(left, s64(218)).refused_at("path-not-covered", "top", 10);
    }
}

#[test]
fn it_is_closed_along_its_own_edges() {
    let end = || even(e(4, 0), e(1, 1));
    let b = || windmill(true, s8(16));
    let outer = close(12, 6, run(&[(0, 0), (4, 3)]), run(&[(1, 0)]), end(), 20);
    with(b(), 12, outer).refused_at("close-off-the-seam", "top", 12);
    let turned = close(12, 6, run(&[(1, 2)]), run(&[(0, 0), (4, 3)]), end(), 20);
    with(b(), 12, turned).refused_at("close-off-the-seam", "top", 12);
    // Only the square, or only the last rectangle: the other is caught or does not reach the stop.
    let square = close(12, 6, run(&[(0, 0)]), run(&[(1, 2)]), end(), 20);
    with(b(), 12, square).refused_at("stitch-catches", "top", 12);
    let last = close(12, 6, run(&[(4, 3)]), run(&[(1, 2)]), end(), 20);
    with(b(), 12, last).refused_at("stitch-catches", "top", 12);
    // Not the end it has.
    let short = close(
        12,
        6,
        run(&[(0, 0), (4, 3)]),
        run(&[(1, 2)]),
        even(e(0, 1), e(1, 1)),
        20,
    );
    assert!(with(b(), 12, short).rehearse().is_err());
    let other = close(12, 8, run(&[(0, 0), (4, 3)]), run(&[(1, 2)]), end(), 20);
    with(b(), 12, other).refused_at("seam-not-begun", "top", 12);
}

#[test]
fn a_rectangle_too_long_does_not_close() {
    // derived: the last rectangle an eighth wider moves the far end of the closed seam an eighth out.
    let mut b = windmill(true, s8(16));
    b.rectangles("W", s8(44), s8(21), 1);
    b.pattern.recipe.pieces[1].spare = 1;
    b.pattern.recipe.makes[0].parts[4] = piece(4, "W");
    b.refused_at("ends-not-even", "top", 12);
}

#[test]
fn a_begun_seam_cannot_be_named() {
    let upright = |of| Step::Mark {
        on: Slot(of),
        name: MarkName("m".into()),
        line: Ruler::Beside {
            line: LineRef::Seam(SeamRef { of: Slot(of), seam: 0 }),
            at: s8(0),
            toward: corner(e(0, 1), e(0, 2)),
        },
    };
    let mut b = windmill(true, s8(16));
    b.pattern.recipe.makes[0].steps.insert(3, upright(6));
    b.refused_at("bad-recipe", "top", 3);
    // Closed it can.
    let mut b = windmill(true, s8(16));
    b.pattern.recipe.makes[0].steps.insert(13, upright(20));
    b.proved();
}

#[test]
fn two_seams_begun_on_one_edge_are_refused() {
    let mut b = windmill(true, s8(16));
    let steps = &mut b.pattern.recipe.makes[0].steps;
    if let Step::Lay {
        how: recipe::Lay::Edges { last, .. },
        ..
    } = &mut steps[3]
    {
        *last = End::Open;
    }
    steps[4] = sew_to(7, Stop::Raw, Stop::At(s8(16)));
    b.refused_at("bad-recipe", "top", 5);
}

#[test]
fn a_half_folded_piece_is_pictured_as_one() {
    let b = windmill(true, s8(16));
    let scenes = rehearse::scenes(&b.pattern.recipe, &b.pattern.cutting);
    let after = &scenes[0].after;
    // After the first seam two pieces, each with a step in its outline: six corners. Closed, five pieces with four.
    let corners = |i: usize| -> Vec<usize> { after[i].layers[0].pieces.iter().map(|p| p.outline.len()).collect() };
    assert_eq!(corners(2), [6, 6]);
    assert_eq!(after[2].seams.len(), 1);
    assert_eq!(corners(12), [4, 4, 4, 4, 4]);
    assert_eq!(after[12].seams.len(), 4);
}

/// The left-hand windmill with a middle of two patches side by side, `first` wide, and its third blade joined where the
/// middle ends.
fn pieced(first: i64) -> Bench {
    let mut b = windmill(true, s8(16));
    let second = 24 - first;
    b.rectangles("M", s8(first + 4), s8(28), 1)
        .rectangles("N", s8(second + 4), s8(28), 1)
        .rectangles("P", s8(28), s8(20), 1)
        .rectangles("Q", s8(20), s8(20), 1);
    b.pattern.recipe.pieces[0].spare = 1;
    b.pattern.recipe.pieces[1].spare = 1;
    for (name, left, right) in [("pair", "M", "N"), ("long", "P", "Q")] {
        let steps = [
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
            sew(2),
            open(2, 3),
        ];
        let sides = [
            run(&[(0, 0), (1, 0)]),
            run(&[(1, 1)]),
            run(&[(1, 2), (0, 2)]),
            run(&[(0, 3)]),
        ];
        b.make(name, 1, &[piece(0, left), piece(1, right)], &steps, &[give(3, &sides)]);
    }
    let makes = &mut b.pattern.recipe.makes;
    makes.rotate_left(1);
    let top = &mut makes[2];
    top.parts[0] = unit(0, "pair");
    top.parts[3] = unit(3, "long");
    // Along the upper side of the middle: its own seam is joint 0, where it ends is joint 1.
    if let Step::Lay {
        how: recipe::Lay::Edges { meets, .. },
        ..
    } = &mut top.steps[6]
    {
        meets.push(recipe::Meet { a: 1, b: 0 });
    }
    let first = first as f64 / 8.0;
    b.picture.faces.retain(|f| f.patch.patch != 0 && f.patch.patch != 3);
    b.rect("blade", 2.0, 2.0, first, 3.0)
        .rect("blade", 2.0 + first, 2.0, 3.0 - first, 3.0)
        .rect("blade", 0.0, 5.0, 2.0, 2.0)
        .rect("blade", 2.0, 5.0, 3.0, 2.0);
    b
}

#[test]
fn the_hinge_is_no_joint() {
    // The stop lies 2 in from the raw edge: in the second patch of the middle, in the first, and a 64th past their seam.
    for first in [12, 18, 14] {
        let proof = pieced(first).proved();
        assert!(proof.largest_difference < 0.001, "{}", proof.largest_difference);
    }
    let mut b = pieced(12);
    if let Step::Lay {
        how: recipe::Lay::Edges { meets, .. },
        ..
    } = &mut b.pattern.recipe.makes[2].steps[6]
    {
        meets[0].a = 2;
    }
    b.refused_at("bad-recipe", "top", 6);
}

#[test]
fn joints_meet_where_it_is_closed() {
    // Along the closed part the middle and the last rectangle join once; the first rectangle has no joint there.
    let mut b = windmill(true, s8(16));
    if let Step::Close { meets, .. } = &mut b.pattern.recipe.makes[0].steps[12] {
        meets.push(recipe::Meet { a: 0, b: 0 });
    }
    b.refused_at("bad-recipe", "top", 12);
}

#[test]
fn a_flap_is_no_side_of_the_square() {
    // The third rectangle laid along the loose first one as well as the square: the run is not flush.
    let mut b = windmill(true, s8(16));
    if let Step::Lay {
        how: recipe::Lay::Edges { a, .. },
        ..
    } = &mut b.pattern.recipe.makes[0].steps[9]
    {
        a.0.insert(0, e(1, 1));
    }
    b.refused_at("run-not-flush", "top", 9);
}

#[test]
fn a_cut_takes_cloth_off_both_halves() {
    // derived: the square's upper edge cut half an inch too long and trimmed while it is half folded.
    let mut b = windmill(true, s8(16));
    b.pattern.cutting.cloths[0].strips[0].height = s8(32);
    b.pattern.bought.cloths[0].length.len += s8(4).len;
    let steps = &mut b.pattern.recipe.makes[0].steps;
    let trim = Step::Trim {
        of: Slot(6),
        lines: vec![recipe::TrimLine {
            ruler: Ruler::Beside {
                line: LineRef::Edge(e(0, 0)),
                at: s8(28),
                toward: corner(e(0, 1), e(0, 2)),
            },
            off: run(&[(0, 2)]),
            shave: s8(4),
        }],
        into: Slot(30),
    };
    steps.insert(3, trim);
    let names = serde_json::to_string(&*steps).unwrap();
    // From the next lay on the trimmed edge goes by its new name, and the work by its new slot.
    let head = serde_json::to_string(&steps[..4]).unwrap();
    let tail = names[head.len() - 1..]
        .replace(r#"{"of":0,"edge":2}"#, r#"{"of":30,"edge":0}"#)
        .replace(r#""a":6,"#, r#""a":30,"#);
    let whole = head[..head.len() - 1].to_string() + &tail;
    *steps = serde_json::from_str(&whole).unwrap();
    b.proved();
}
