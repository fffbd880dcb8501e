//! Whose line counts where a piece lies on a sheet: the piece's own; and what a stretch left unturned lies under.

use crate::builder::*;
use crate::ground::{Corners, Shape, TURN, grown, leaf, on_a_square, printed};
use recipe::Stretch;
use shape::{Point, Polygon};

/// Within the tolerance; twice as much is not.
const OFF: f64 = 1.0 / 65.0;

/// The leaf with one corner so far further up.
fn moved(up: f64) -> Corners {
    let mut line = leaf();
    line[4].1 += up;
    line
}

/// The leaf alone, its own line so, cut so much larger, on a sheet that has it as drawn; shown so.
fn own_line(own: f64, cut: f64, shown: f64) -> Bench {
    let shape = Shape {
        cut: grown(&moved(own), &|_| cut),
        ..Shape::turned("dark", moved(own))
    };
    let mut b = on_a_square(&[shape]);
    b.pattern.cutting.guides[0].shapes[0].line = printed(&leaf());
    let corners = moved(shown).into_iter().map(|(x, y)| Point::new(x, y));
    b.picture.laid[0].outline = Polygon::new(corners.collect());
    b
}

#[test]
fn the_turn_under_is_measured_from_the_pieces_own_line() {
    // The piece's line lies OFF inside the sheet's and its cut edge OFF less than the turn-under from its own: from the sheet's
    // line twice that would be missing.
    own_line(-OFF, TURN - OFF, 0.0).proved();
    own_line(-OFF, TURN - 2.0 * OFF, 0.0).refused_at("turn-under-differs", "top", 1);
}

#[test]
fn what_shows_is_the_pieces_own_line() {
    own_line(OFF, TURN, OFF).proved();
    own_line(OFF, TURN, 0.0).proved();
    own_line(OFF, TURN, 2.0 * OFF).proved();
    own_line(OFF, TURN, -OFF).refused("face-differs");
    // What is more than the tolerance off is not laid there at all.
    own_line(2.0 * OFF, TURN, OFF).refused_at("shape-differs", "top", 1);
}

/// A square whose right end is left unturned under two others, one from below, one from above, each so far beyond its middle.
fn two_over(reach: f64) -> Bench {
    let mut below = Shape::turned("dark", vec![(1.0, 2.0), (3.0, 2.0), (3.0, 4.0), (1.0, 4.0)]);
    below.under = vec![Stretch { from: 1, to: 2 }];
    let from_below = vec![(2.25, 1.0), (4.5, 1.0), (4.5, 3.0 + reach), (2.25, 3.0 + reach)];
    let from_above = vec![(2.25, 3.0 - reach), (4.5, 3.0 - reach), (4.5, 5.0), (2.25, 5.0)];
    on_a_square(&[
        below,
        Shape::turned("red", from_below),
        Shape::turned("blue", from_above),
    ])
}

#[test]
fn a_stretch_left_unturned_lies_under_one_shape() {
    // Reaching 1 1/2 in past the middle either takes in the end with its turn-under; by 3/8 in neither does, though each of the
    // end's corners and its middle lies deep enough under one of the two.
    two_over(1.5).proved();
    two_over(0.375).refused_at("shape-not-covered", "top", 4);
}

#[test]
fn a_stretch_goes_from_one_corner_to_another() {
    let with = |from: u32, to: u32| {
        let mut b = two_over(1.5);
        b.pattern.cutting.guides[0].shapes[0].under = vec![Stretch { from, to }];
        b
    };
    with(1, 2).proved();
    for (from, to) in [(1, 1), (1, 4), (7, 2)] {
        assert!(with(from, to).rehearse().is_err(), "{from} to {to}");
    }
    // The other way round it is the three other edges, which nothing covers.
    with(2, 1).refused_at("shape-not-covered", "top", 4);
}
