//! How joints are counted whichever way the ends are laid, and which lengths may be less than nothing.

use crate::builder::*;
use recipe::{EdgeRun, End, LineRef, MarkName, Meet, PrintNote, Ruler, Size, Slot, Step};

/// Two squares and, right of them, a strip 1/2 in wide that lies wholly in the allowances; above them two squares whose joint comes
/// on that of the lower ones. Finishes 4 in.
fn rows(first: End, last: End, meets: &[(u32, u32)]) -> Bench {
    let mut b = Bench::new();
    b.cloth("dark", PrintNote::None).rectangles("D", s8(20), s8(20), 2);
    b.cloth("light", PrintNote::None)
        .rectangles("L", s8(20), s8(20), 2)
        .rectangles("A", s8(4), s8(20), 1);
    let mut steps = Vec::new();
    let mut beside = |work: u32, (a, b): (u32, u32), stack: u32| {
        let ends = [even(e(a, 0), e(b, 0)), even(e(a, 2), e(b, 2))];
        let [start, end] = ends;
        steps.push(lay(work, b, stack, run(&[(a, 1)]), run(&[(b, 3)]), start, end, &[]));
        steps.push(sew(stack));
        steps.push(open(stack, stack + 1));
    };
    beside(0, (0, 1), 10);
    beside(11, (1, 2), 12);
    beside(3, (3, 4), 14);
    let (upper_edge, lower_edge): (EdgeRun, EdgeRun) = (run(&[(2, 2), (1, 2), (0, 2)]), run(&[(3, 0), (4, 0)]));
    steps.push(lay(13, 15, 16, upper_edge, lower_edge, first, last, meets));
    steps.push(sew(16));
    steps.push(open(16, 17));
    let sides = [
        run(&[(0, 0), (1, 0), (2, 0)]),
        run(&[(2, 1), (4, 1)]),
        run(&[(4, 2), (3, 2)]),
        run(&[(3, 3), (0, 3)]),
    ];
    steps.push(finish(17, &sides, 2));
    let parts = [
        piece(0, "D"),
        piece(1, "L"),
        piece(2, "A"),
        piece(3, "L"),
        piece(4, "D"),
    ];
    b.make("top", 1, &parts, &steps, &[]);
    b.outer(4.0, 4.0);
    b.rect("dark", 0.0, 0.0, 2.0, 2.0).rect("light", 2.0, 0.0, 2.0, 2.0);
    b.rect("light", 0.0, 2.0, 2.0, 2.0).rect("dark", 2.0, 2.0, 2.0, 2.0);
    b
}

#[test]
fn what_only_the_allowance_shows_is_no_stretch_between_joints() {
    // The run of the lower row goes from right to left: the strip, a square, a square. The strip shows in the last quarter of
    // an inch alone, so there is one joint, number 0, in the middle; by edges, by middles and by the joint itself.
    let start = || even(e(2, 1), e(4, 1));
    let end = || even(e(0, 3), e(3, 3));
    let on_joint = || End::Match(Meet { a: 0, b: 0 });
    for (first, last) in [
        (start(), end()),
        (End::Centre, End::Centre),
        (start(), End::Centre),
        (End::Centre, end()),
        (on_joint(), end()),
        (on_joint(), End::Centre),
        (start(), on_joint()),
    ] {
        let name = format!("{first:?}, {last:?}");
        let proof = rows(first.clone(), last.clone(), &[(0, 0)]).rehearse();
        assert!(proof.is_ok(), "{name}: {}", proof.unwrap_err()[0]);
        let finding = rows(first, last, &[(1, 0)]).refused("bad-recipe");
        assert!(finding.sentence.contains("no seam 2"), "{name}: {finding}");
    }
}

#[test]
fn no_length_of_a_step_is_less_than_nothing_but_an_overhang() {
    let start = || even(e(2, 1), e(4, 1));
    let overhang = |by: Size| End::Overhang {
        a: e(0, 3),
        b: e(3, 3),
        by,
    };
    rows(start(), overhang(s64(0)), &[]).proved();
    // A hair inside is as good as a hair outside.
    rows(start(), overhang(near(-1.0 / 70.0)), &[]).proved();
    rows(start(), overhang(near(1.0 / 70.0)), &[]).proved();
    rows(start(), overhang(s64(-2)), &[]).refused("overhang-differs");

    let with = |step: Step| {
        let mut b = rows(start(), overhang(s64(0)), &[]);
        b.pattern.recipe.makes[0].steps.insert(0, step);
        b
    };
    let ruled = |at: Size| Step::Mark {
        on: Slot(0),
        name: MarkName("line".into()),
        line: Ruler::Beside {
            line: LineRef::Edge(e(0, 0)),
            at,
            toward: corner(e(0, 2), e(0, 3)),
        },
    };
    with(ruled(s8(4))).proved();
    with(ruled(s8(0))).proved();
    with(ruled(s8(-4))).refused_at("bad-recipe", "top", 0);
    let wide = |is: Size| across(0, run(&[(0, 0)]), run(&[(0, 2)]), is);
    with(wide(s8(20))).proved();
    with(wide(s8(-20))).refused_at("bad-recipe", "top", 0);
}
