//! Strip on the bias out of a square: the square is cut once along its diagonal, the two halves are sewn together along
//! two straight edges to a slanted piece whose long edges lie on the bias, lines are drawn along those edges a strip apart,
//! and the piece is sewn to a tube with the lines one strip out of step, then cut round and round.
//!
//! Of a square of side A, seam s, strip w (derived): the long edges are A√2 and lie (A − 2s)/√2 apart, since the seam
//! takes s from either half along its straight edge and brings the long edges s√2 nearer; so ⌊(A − 2s)/(w√2)⌋ strips,
//! each A√2 − 2s√2 long once the tube's own seam has taken s off both slanted ends: in all n·√2·(A − 2s).
//! The area A² / w is the bound that the handbooks print.

use crate::Cloth;
use crate::derive::size;
use measure::{Length, Way, Why};
use recipe::Size;

/// The square.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BiasSquare {
    /// Its side, on a whole inch.
    pub side: Size,
    /// How many such squares.
    pub squares: u32,
    /// Strips to draw on each.
    pub strips: u32,
}

/// The side that the area alone would ask for: the root of the length needed times the strip (inches).
pub fn least_side(needed: f64, strip: f64) -> f64 {
    (needed * strip).sqrt()
}

/// How many strips a square of this side has room for (see the head of this file).
fn strips_of(side: f64, strip: f64, seam: f64) -> u32 {
    let room = (side - 2.0 * seam) / (strip * std::f64::consts::SQRT_2);
    if room > 0.0 { (room + 1.0e-6) as u32 } else { 0 }
}

/// How much strip a square of this side gives (inches).
fn gives(side: f64, strip: f64, seam: f64) -> f64 {
    f64::from(strips_of(side, strip, seam)) * std::f64::consts::SQRT_2 * (side - 2.0 * seam)
}

/// The least square on a whole inch, or the fewest like squares where one as wide as the cloth is not enough; and the strip
/// there will be. `None` where the cloth is too narrow for any.
pub fn bias_square(
    needed: f64,
    strip: f64,
    seam: f64,
    cloth: &Cloth,
    whys: &mut Vec<Why>,
) -> Option<(BiasSquare, Size)> {
    let widest = cloth
        .longest
        .map_or(cloth.usable, |longest| longest.min(cloth.usable))
        .floor() as u32;
    let most = gives(f64::from(widest), strip, seam);
    if strip <= 0.0 || most <= 0.0 {
        return None;
    }
    let squares = (needed / most).ceil().max(1.0);
    let each = needed / squares;
    let side = (1..=widest).find(|&side| gives(f64::from(side), strip, seam) >= each)?;
    let strips = strips_of(f64::from(side), strip, seam);
    let half = Why::given("seam", seam).times(2, 1, 1).named("two seams");
    let long = Why::Less(
        Box::new(Why::given("side of the square", f64::from(side))),
        Box::new(half),
    )
    .times(1, 2, 1);
    let there = Why::Product(vec![
        Why::Count {
            what: "squares".into(),
            count: squares as i64,
        },
        Why::Count {
            what: "strips".into(),
            count: i64::from(strips),
        },
        long.named("each strip"),
    ])
    .to_mark(Length::fraction(1, 8), Way::Down);
    let root = Why::given("root of strip needed times its width", least_side(each, strip));
    let whole = root.to_mark(Length::inches(1), Way::Up);
    let more = f64::from(side) - whole.value();
    let side = size(
        Why::Sum(vec![whole, Why::given("more, for seams and whole strips", more)]),
        whys,
    );
    let square = BiasSquare {
        side,
        squares: squares as u32,
        strips,
    };
    Some((square, size(there, whys)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use terms::FabricId;

    fn cloth(usable: f64) -> Cloth {
        Cloth {
            fabric: FabricId::new("brass"),
            usable,
            longest: None,
            step: 4.5,
            price: None,
        }
    }

    #[test]
    fn the_area_is_what_the_handbooks_print() {
        // questions and answers on bias strips published on the web: 250 in of 2 in need √500 = 22.36; 100 in of 3 1/2 in
        // need √350 = 18.71
        assert!((least_side(250.0, 2.0) - 22.36).abs() < 0.005);
        assert!((least_side(100.0, 3.5) - 18.71).abs() < 0.005);
        // a sewing newsletter, 2006: a 36 in square gives at most 648 in of 2 in strip; seams take some of it
        let real = gives(36.0, 2.0, 0.25);
        assert!(real < 648.0 && real > 0.9 * 648.0, "{real}");
    }

    #[test]
    fn the_square_is_enough_and_the_next_smaller_is_not() {
        for needed in [60.0, 150.0, 250.0, 366.0, 500.0] {
            let (square, there) = bias_square(needed, 2.25, 0.25, &cloth(40.0), &mut Vec::new()).expect("wide enough");
            let side = square.side.len.to_inches();
            assert!(there.len.to_inches() >= needed - 0.125, "{needed}");
            assert!(gives(side - 1.0, 2.25, 0.25) < needed, "{needed}");
            assert!(side > least_side(needed, 2.25), "{needed}");
        }
    }

    #[test]
    fn more_than_one_square_where_the_cloth_is_narrow() {
        let (square, there) = bias_square(400.0, 2.25, 0.25, &cloth(20.0), &mut Vec::new()).expect("squares");
        assert!(square.squares > 1 && square.side.len.to_inches() <= 20.0);
        assert!(there.len.to_inches() >= 399.0);
        assert_eq!(bias_square(100.0, 2.25, 0.25, &cloth(2.0), &mut Vec::new()), None);
    }
}
