//! Traditional blocks, drawn by us from their grids and counts. A published figure is about the block's geometry; which
//! patch is light and which dark is our choice where the source does not say.

use super::drawn::{DARK, Drawing, LIGHT, Spot};

const MID: &str = "mid";

/// A drawing, the grid it is drawn in.
pub type Drawn = (Drawing, Spot);

fn on(side: f64, draw: impl FnOnce(&mut Drawing)) -> Drawn {
    let mut drawing = Drawing::default();
    draw(&mut drawing);
    (drawing, (side, side))
}

/// Squares of one size, light and dark in turn.
fn checks(drawing: &mut Drawing, x: f64, y: f64, each: f64, count: usize) {
    for row in 0..count {
        for column in 0..count {
            let cloth = if (row + column) % 2 == 0 { DARK } else { LIGHT };
            drawing.square(cloth, x + each * column as f64, y + each * row as f64, each);
        }
    }
}

/// One quadrant or side, and its three turns.
fn four_turns(drawing: &mut Drawing, one: &Drawing, side: f64) {
    for turn in 0..4 {
        drawing.add_turned(one, turn, side);
    }
}

/// Every block drawn here, by the name it has in the tables.
pub fn block(name: &str) -> Drawn {
    match name {
        "Four Patch" => on(2.0, |d| checks(d, 0.0, 0.0, 1.0, 2)),
        "Nine Patch" => on(3.0, |d| checks(d, 0.0, 0.0, 1.0, 3)),
        "Double Nine Patch" => on(9.0, double_nine_patch),
        "Rail Fence" => on(3.0, |d| {
            for (i, cloth) in [DARK, MID, LIGHT].into_iter().enumerate() {
                d.rectangle(cloth, 0.0, i as f64, 3.0, 1.0);
            }
        }),
        "Pinwheel" => on(2.0, |d| {
            let mut one = Drawing::default();
            one.half_square([DARK, LIGHT], 1, 0.0, 0.0, 1.0);
            four_turns(d, &one, 2.0);
        }),
        "Broken Dishes" => on(2.0, |d| {
            let mut one = Drawing::default();
            one.half_square([DARK, LIGHT], 0, 0.0, 0.0, 1.0);
            one.half_square([LIGHT, DARK], 1, 1.0, 0.0, 1.0);
            d.add_turned(&one, 0, 2.0);
            d.add_turned(&one, 2, 2.0);
        }),
        "Hourglass" => on(1.0, |d| d.quarter_square([DARK, LIGHT, DARK, LIGHT], 0.0, 0.0, 1.0)),
        "Shoo Fly" => on(3.0, |d| nine(d, true)),
        "Friendship Star" => on(3.0, |d| nine(d, false)),
        "Churn Dash" => on(6.0, churn_dash),
        "Ohio Star" => on(3.0, ohio_star),
        "Sawtooth Star" => on(4.0, sawtooth_star),
        "Flying Geese unit" => {
            let mut drawing = Drawing::default();
            drawing.goose([DARK, LIGHT], 0, 0.0, 0.0, 2.0, 1.0);
            (drawing, (2.0, 1.0))
        }
        "Dutchman's Puzzle" => on(4.0, |d| {
            let mut one = Drawing::default();
            one.goose([DARK, LIGHT], 0, 0.0, 0.0, 2.0, 1.0);
            one.goose([DARK, LIGHT], 0, 0.0, 1.0, 2.0, 1.0);
            four_turns(d, &one, 4.0);
        }),
        "Flock of Geese" => on(4.0, |d| {
            let mut one = Drawing::default();
            one.half_square([DARK, LIGHT], 0, 0.0, 0.0, 2.0);
            for (x, y) in [(2.0, 0.0), (3.0, 0.0), (2.0, 1.0), (3.0, 1.0)] {
                one.half_square([DARK, LIGHT], 0, x, y, 1.0);
            }
            d.add_turned(&one, 0, 4.0);
            d.add_turned(&one, 2, 4.0);
        }),
        "Jacob's Ladder" => on(6.0, |d| {
            for (x, y) in [(0.0, 0.0), (4.0, 0.0), (2.0, 2.0), (0.0, 4.0), (4.0, 4.0)] {
                checks(d, x, y, 1.0, 2);
            }
            for (x, y) in [(2.0, 0.0), (0.0, 2.0), (4.0, 2.0), (2.0, 4.0)] {
                d.half_square([DARK, LIGHT], 1, x, y, 2.0);
            }
        }),
        "Bear's Paw" => on(7.0, bears_paw),
        "Square in a Square" => on(2.0, |d| {
            d.corners_off(LIGHT, 0.0, 0.0, 2.0, 2.0);
            d.diamond(DARK, 0.0, 0.0, 2.0, 2.0);
        }),
        "Economy Patch" => on(4.0, |d| d.economy([DARK, LIGHT, MID], 0.0, 0.0, 4.0)),
        "Snail's Trail" => on(4.0, snails_trail),
        "Storm at Sea" => on(4.0, storm_at_sea),
        "Kaleidoscope" => on(2.0, kaleidoscope),
        "Snowball" => on(3.0, snowball),
        "Seven-grid chain" => on(7.0, |d| {
            checks(d, 2.0, 2.0, 1.0, 3);
            let mut one = Drawing::default();
            checks(&mut one, 0.0, 0.0, 1.0, 2);
            one.rectangle(LIGHT, 2.0, 0.0, 3.0, 2.0);
            four_turns(d, &one, 7.0);
        }),
        _ => panic!("{name} is not drawn here"),
    }
}

fn double_nine_patch(d: &mut Drawing) {
    for i in 0..9 {
        let (x, y) = (f64::from(i % 3) * 3.0, f64::from(i / 3) * 3.0);
        if i % 2 == 0 {
            checks(d, x, y, 1.0, 3);
        } else {
            d.square(LIGHT, x, y, 3.0);
        }
    }
}

/// Half-square units at the corners or the sides of a nine patch, squares elsewhere.
fn nine(d: &mut Drawing, at_corners: bool) {
    let mut one = Drawing::default();
    if at_corners {
        one.half_square([LIGHT, DARK], 0, 0.0, 0.0, 1.0);
        one.square(DARK, 1.0, 0.0, 1.0);
    } else {
        one.square(LIGHT, 0.0, 0.0, 1.0);
        one.half_square([LIGHT, DARK], 0, 1.0, 0.0, 1.0);
    }
    four_turns(d, &one, 3.0);
    d.square(DARK, 1.0, 1.0, 1.0);
}

fn churn_dash(d: &mut Drawing) {
    let mut one = Drawing::default();
    one.half_square([LIGHT, DARK], 0, 0.0, 0.0, 2.0);
    one.rectangle(LIGHT, 2.0, 0.0, 2.0, 1.0);
    one.rectangle(DARK, 2.0, 1.0, 2.0, 1.0);
    four_turns(d, &one, 6.0);
    d.square(LIGHT, 2.0, 2.0, 2.0);
}

fn ohio_star(d: &mut Drawing) {
    let mut one = Drawing::default();
    one.square(LIGHT, 0.0, 0.0, 1.0);
    one.quarter_square([LIGHT, DARK, LIGHT, DARK], 1.0, 0.0, 1.0);
    four_turns(d, &one, 3.0);
    d.square(DARK, 1.0, 1.0, 1.0);
}

fn sawtooth_star(d: &mut Drawing) {
    let mut one = Drawing::default();
    one.square(LIGHT, 0.0, 0.0, 1.0);
    // The star's points are the goose's sky: the light triangle looks into the star.
    one.goose([LIGHT, DARK], 2, 1.0, 0.0, 2.0, 1.0);
    four_turns(d, &one, 4.0);
    d.square(DARK, 1.0, 1.0, 2.0);
}

fn bears_paw(d: &mut Drawing) {
    let mut one = Drawing::default();
    one.square(LIGHT, 0.0, 0.0, 1.0);
    for along in [1.0, 2.0] {
        one.half_square([LIGHT, DARK], 0, along, 0.0, 1.0);
        one.half_square([LIGHT, DARK], 0, 0.0, along, 1.0);
    }
    one.square(DARK, 1.0, 1.0, 2.0);
    one.rectangle(LIGHT, 3.0, 0.0, 1.0, 3.0);
    four_turns(d, &one, 7.0);
    d.square(DARK, 3.0, 3.0, 1.0);
}

/// A four patch on point, and three rounds of triangles: in units of n/4 the rounds lie at 1, 2 and 4 across.
fn snails_trail(d: &mut Drawing) {
    let turned = |drawing: &mut Drawing, outlines: &[&[Spot]]| {
        for (i, outline) in outlines.iter().enumerate() {
            let mut one = Drawing::default();
            one.patch(DARK, outline);
            let mut other = Drawing::default();
            other.patch(LIGHT, outline);
            for turn in 0..4 {
                drawing.add_turned(if (turn + i) % 2 == 0 { &one } else { &other }, turn, 4.0);
            }
        }
    };
    turned(
        d,
        &[
            // A square of the four patch.
            &[(2.0, 1.0), (2.5, 1.5), (2.0, 2.0), (1.5, 1.5)],
            // On it, to a square of 2 across.
            &[(1.0, 1.0), (2.0, 1.0), (1.0, 2.0)],
            // On that, to a square on point whose corners are the middles of the block's sides.
            &[(1.0, 1.0), (2.0, 0.0), (3.0, 1.0)],
            // The block's corners.
            &[(0.0, 0.0), (2.0, 0.0), (0.0, 2.0)],
        ],
    );
}

fn storm_at_sea(d: &mut Drawing) {
    let mut one = Drawing::default();
    one.economy([DARK, LIGHT, MID], 0.0, 0.0, 1.0);
    one.corners_off(DARK, 1.0, 0.0, 2.0, 1.0);
    one.diamond(LIGHT, 1.0, 0.0, 2.0, 1.0);
    four_turns(d, &one, 4.0);
    d.economy([DARK, LIGHT, MID], 1.0, 1.0, 2.0);
}

/// Eight wedges and four corners; the corner's leg is n(1 - sqrt2/2), here n = 2.
fn kaleidoscope(d: &mut Drawing) {
    let leg = 2.0 - 2.0_f64.sqrt();
    let mut one = Drawing::default();
    one.patch(DARK, &[(leg, 0.0), (2.0 - leg, 0.0), (1.0, 1.0)]);
    one.patch(LIGHT, &[(0.0, leg), (leg, 0.0), (1.0, 1.0)]);
    one.patch(DARK, &[(0.0, 0.0), (leg, 0.0), (0.0, leg)]);
    four_turns(d, &one, 2.0);
}

fn snowball(d: &mut Drawing) {
    d.patch(
        LIGHT,
        &[
            (1.0, 0.0),
            (2.0, 0.0),
            (3.0, 1.0),
            (3.0, 2.0),
            (2.0, 3.0),
            (1.0, 3.0),
            (0.0, 2.0),
            (0.0, 1.0),
        ],
    );
    let mut one = Drawing::default();
    one.patch(DARK, &[(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)]);
    four_turns(d, &one, 3.0);
}

/// Centre and so many rounds of four logs laid round it; drawn in inches.
pub fn log_cabin(centre: f64, log: f64, rounds: usize) -> Drawn {
    let side = centre + 2.0 * log * rounds as f64;
    let start = log * rounds as f64;
    let [mut left, mut top, mut right, mut bottom] = [start, start, start + centre, start + centre];
    on(side, |d| {
        d.square(DARK, left, top, centre);
        for _ in 0..rounds {
            d.rectangle(LIGHT, left, top - log, right - left, log);
            top -= log;
            d.rectangle(LIGHT, right, top, log, bottom - top);
            right += log;
            d.rectangle(LIGHT, left, bottom, right - left, log);
            bottom += log;
            d.rectangle(LIGHT, left - log, top, log, bottom - top);
            left -= log;
        }
    })
}

/// The same count, the logs added in opposite pairs; drawn in inches.
pub fn courthouse_steps(centre: f64, log: f64, rounds: usize) -> Drawn {
    let side = centre + 2.0 * log * rounds as f64;
    on(side, |d| {
        d.square(MID, log * rounds as f64, log * rounds as f64, centre);
        for round in 1..=rounds {
            let (low, high) = (log * (rounds - round) as f64, log * (rounds + round) as f64 + centre);
            let inner = high - low - 2.0 * log;
            d.rectangle(DARK, low + log, low, inner, log);
            d.rectangle(DARK, low + log, high - log, inner, log);
            d.rectangle(LIGHT, low, low, log, high - low);
            d.rectangle(LIGHT, high - log, low, log, high - low);
        }
    })
}
