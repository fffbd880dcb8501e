//! A square set into four triangles: untrimmed tips, laid middle on middle, dog ears under a later seam.

use crate::builder::*;
use recipe::{End, Gives, PieceCut, PrintNote, Size, Slot, Step, Turn};
use terms::PieceId;

/// A finished 4 in square on point in a square of 4·√2 in. `snip` says whether the dog ears are cut off first; `side` is
/// the square the triangles are halves of.
fn set_in(side: Size, snip: bool) -> Bench {
    let mut b = Bench::new();
    b.cloth("dark", PrintNote::None).rectangles("S", s8(36), s8(36), 1);
    b.cloth("light", PrintNote::None).kind("T");
    let half = || PieceCut {
        piece: PieceId::new("T"),
        turn: Turn::As,
    };
    let halves = Gives::Halves {
        rising: true,
        lower: half(),
        upper: half(),
    };
    b.strip(side, &[(2, &[(side, side, halves)])]);
    let mut steps = Vec::new();
    let mut work = 0;
    // Triangles 1 and 3 go on the lower and the upper edge, 2 and 4 on the right and the left one.
    for (triangle, edge) in [(1, 0), (3, 2), (2, 1), (4, 3)] {
        let slot = 10 * triangle;
        if snip && triangle == 2 {
            steps.push(Step::Snip {
                of: Slot(work),
                along: vec![e(0, 1), e(0, 3)],
            });
        }
        steps.push(lay(
            work,
            triangle,
            slot,
            run(&[(0, edge)]),
            run(&[(triangle, 2)]),
            End::Centre,
            End::Centre,
            &[],
        ));
        steps.push(sew(slot));
        steps.push(open(slot, slot + 1));
        work = slot + 1;
    }
    let sides = [
        run(&[(1, 1), (2, 0)]),
        run(&[(2, 1), (3, 0)]),
        run(&[(3, 1), (4, 0)]),
        run(&[(4, 1), (1, 0)]),
    ];
    steps.push(finish(work, &sides, 1));
    let parts = [
        piece(0, "S"),
        piece(1, "T"),
        piece(2, "T"),
        piece(3, "T"),
        piece(4, "T"),
    ];
    b.make("top", 1, &parts, &steps, &[]);
    let (h, w) = (2.0 * 2f64.sqrt(), 4.0 * 2f64.sqrt());
    b.outer(w, w);
    b.face("dark", &[(h, 0.0), (w, h), (h, w), (0.0, h)]);
    for corner in [(0.0, 0.0), (w, 0.0), (w, w), (0.0, w)] {
        let (x, y) = corner;
        b.face("light", &[corner, (h, y), (x, h)]);
    }
    b
}

/// derived: the triangle's raw corner lies 2 + L/√2 - 1/4 in from the middle; the raw corner of the finished square with
/// its seams lies 4 + √2/4 in from it
fn exact() -> f64 {
    2f64.sqrt() * (2.25 + 2f64.sqrt() / 4.0)
}

#[test]
fn a_square_on_point_is_proved_dog_ears_or_not() {
    for snip in [false, true] {
        let proof = set_in(near(exact()), snip).proved();
        assert_eq!(proof.seams, 4);
        assert!(proof.largest_difference < 2e-3, "{}", proof.largest_difference);
    }
    // common practice: finished leg + 7/8, up to the mark, is trimmed; untrimmed it is 1/32 in and more too large
    set_in(s8(30), true).refused("outline-differs");
}

#[test]
fn a_triangle_too_short_for_its_seam_is_refused() {
    set_in(near(exact() - 0.75), false).refused_at("run-not-flush", "top", 12);
}
