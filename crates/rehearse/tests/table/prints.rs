//! Prints with an up, and cloth joined to make it long enough.

use crate::builder::*;
use recipe::{Gives, PieceCut, PrintNote, Step, Turn};
use terms::PieceId;

/// One rectangle 4 1/2 by 2 1/2 in of a print as a whole top, cut lying so in its strip.
fn printed(turn: Turn, print: PrintNote, toward: (f64, f64)) -> Bench {
    let (height, width) = match turn {
        Turn::As | Turn::Half => (s8(20), s8(36)),
        Turn::Quarter | Turn::ThreeQuarters => (s8(36), s8(20)),
    };
    let mut b = Bench::new();
    let cut = Gives::Piece(PieceCut {
        piece: PieceId::new("P"),
        turn,
    });
    b.cloth("print", print)
        .kind("P")
        .strip(height, &[(1, &[(width, width, cut)])]);
    b.make(
        "top",
        1,
        &[piece(0, "P")],
        &[finish(
            0,
            &[run(&[(0, 0)]), run(&[(0, 1)]), run(&[(0, 2)]), run(&[(0, 3)])],
            2,
        )],
        &[],
    );
    b.outer(4.0, 2.0);
    b.rect("print", 0.0, 0.0, 4.0, 2.0)
        .up(toward.0, toward.1, print == PrintNote::TwoWay);
    b
}

#[test]
fn a_print_with_an_up_must_lie_upright() {
    printed(Turn::As, PrintNote::OneWay, (0.0, 1.0)).proved();
    printed(Turn::Half, PrintNote::OneWay, (0.0, 1.0)).refused("print-turned");
    printed(Turn::Half, PrintNote::OneWay, (0.0, -1.0)).proved();
    // derived: a piece lying turned a quarter counter-clockwise in its strip is turned back by a quarter in the top, and
    // the print's up with it, to the right
    printed(Turn::Quarter, PrintNote::OneWay, (1.0, 0.0)).proved();
    printed(Turn::ThreeQuarters, PrintNote::OneWay, (-1.0, 0.0)).proved();
    printed(Turn::Quarter, PrintNote::OneWay, (0.0, 1.0)).refused("print-turned");
    printed(Turn::Half, PrintNote::TwoWay, (0.0, 1.0)).proved();
    printed(Turn::Quarter, PrintNote::TwoWay, (0.0, 1.0)).refused("print-turned");
}

#[test]
fn pieces_of_a_kind_have_their_prints_alike() {
    for (print, alike) in [
        (PrintNote::None, true),
        (PrintNote::TwoWay, true),
        (PrintNote::OneWay, false),
    ] {
        let mut b = printed(Turn::As, print, (0.0, 1.0));
        let mut second = b.pattern.cutting.cloths[0].strips[0].clone();
        second.runs[0].cuts[0].gives = Gives::Piece(PieceCut {
            piece: PieceId::new("P"),
            turn: Turn::Half,
        });
        b.pattern.cutting.cloths[0].strips.push(second);
        b.pattern.bought.cloths[0].length = s8(48);
        b.pattern.recipe.pieces[0].spare = 1;
        if alike {
            b.proved();
        } else {
            b.refused("pieces-not-alike");
        }
    }
}

/// Two strips of one cloth joined to one patch 2 by 6 in.
fn joined(other: &str) -> Bench {
    let mut b = Bench::new();
    b.cloth("dark", PrintNote::None)
        .rectangles("A", s8(28), s8(20), 1)
        .rectangles("B", s8(28), s8(20), 1);
    b.cloth("light", PrintNote::None).rectangles("L", s8(28), s8(20), 1);
    if other == "B" {
        b.pattern.recipe.pieces[2].spare = 1;
    } else {
        b.pattern.recipe.pieces[1].spare = 1;
    }
    let mut steps = vec![
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
        finish(
            3,
            &[
                run(&[(0, 0), (1, 0)]),
                run(&[(1, 1)]),
                run(&[(1, 2), (0, 2)]),
                run(&[(0, 3)]),
            ],
            2,
        ),
    ];
    if let Step::Sew { join, .. } = &mut steps[1] {
        *join = true;
    }
    b.make("top", 1, &[piece(0, "A"), piece(1, other)], &steps, &[]);
    b.outer(6.0, 2.0);
    b.rect("dark", 0.0, 0.0, 6.0, 2.0);
    b
}

#[test]
fn joined_strips_are_one_face() {
    joined("B").proved();
    joined("L").refused_at("wrong-fabric", "top", 2);
    let mut b = joined("B");
    if let Step::Sew { join, .. } = &mut b.pattern.recipe.makes[0].steps[1] {
        *join = false;
    }
    b.refused("face-extra");
}
