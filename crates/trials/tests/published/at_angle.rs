//! Diamonds: strips, and lengths cut from them along the ruler's lines of 45 and 60 degrees.

use super::drawn::{DARK, Drawing, LIGHT, Spot, proved};
use super::lists::{Form, others, pieces};
use recipe::{End, Lay, Step};
use trials::whole::Whole;

const ROOT2: f64 = std::f64::consts::SQRT_2;

/// A star of eight points of `n` by `n` diamonds so wide, corner squares and side triangles; and its size.
pub fn lone_star(n: usize, wide: f64, cloths: &[&'static str]) -> (Drawing, f64) {
    let side = wide * ROOT2;
    let point = side * n as f64;
    let size = point * (2.0 + ROOT2);
    let middle = size / 2.0;
    let mut drawing = Drawing::default();
    let half = 0.5_f64.sqrt();
    let ways = [
        (1.0, 0.0),
        (half, half),
        (0.0, 1.0),
        (-half, half),
        (-1.0, 0.0),
        (-half, -half),
        (0.0, -1.0),
        (half, -half),
    ];
    for k in 0..8 {
        let (u, v) = (ways[k], ways[(k + 1) % 8]);
        let at = |i: usize, j: usize| -> Spot {
            let (i, j) = (i as f64 * side, j as f64 * side);
            (middle + i * u.0 + j * v.0, middle - i * u.1 - j * v.1)
        };
        for i in 0..n {
            for j in 0..n {
                let outline = [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
                drawing.patch(cloths[(i + j) % cloths.len()], &outline);
            }
        }
    }
    for (x, y) in [
        (0.0, 0.0),
        (size - point, 0.0),
        (0.0, size - point),
        (size - point, size - point),
    ] {
        drawing.square(LIGHT, x, y, point);
    }
    let (near, far, deep) = (point, size - point, point * ROOT2 / 2.0);
    drawing.patch(LIGHT, &[(near, 0.0), (far, 0.0), (middle, deep)]);
    drawing.patch(LIGHT, &[(size, near), (size, far), (size - deep, middle)]);
    drawing.patch(LIGHT, &[(far, size), (near, size), (middle, size - deep)]);
    drawing.patch(LIGHT, &[(0.0, far), (0.0, near), (deep, middle)]);
    (drawing, size)
}

/// Width of every length cut from a strip set, and how many lengths.
fn lengths(whole: &Whole) -> Vec<(f64, usize)> {
    let steps = whole.pattern.recipe.makes.iter().flat_map(|make| &make.steps);
    steps
        .filter_map(|step| match step {
            Step::SubCut { width, into, .. } => Some((width.inches(), into.len())),
            _ => None,
        })
        .collect()
}

#[test]
fn a_lone_star_of_nine_diamonds_a_point() {
    // Published on the web, no year given, recomputed: 3 x 3 diamonds a point from 2 1/2 in strips make a block of about
    // 29 in; 3 * 2 sqrt2 (2 + sqrt2) = 28.97. Eight points of three rows: three kinds of strip set, eight lengths of each,
    // cut 2 1/2 in across at 45 degrees.
    let (drawing, size) = lone_star(3, 2.0, &[DARK, LIGHT, "mid"]);
    assert!((size - 28.97).abs() < 0.005, "{size}");
    let whole = drawing.proved((size, size), (size, size));
    assert!(whole.methods.contains(&"angled strip sets"), "{:?}", whole.methods);
    assert_eq!(lengths(&whole), [(2.5, 8); 3]);
    // Derived: eight lengths of 2 1/2 sqrt2, the lean of the highest strip with both its seams, and a quarter inch inside
    // each end: 31.2843, up to 31 3/8.
    let long = 8.0 * 2.5 * ROOT2 + 2.5 + 0.5;
    assert!((long - 31.2843).abs() < 1.0e-4);
    let strips: Vec<f64> = pieces(&whole.pattern)
        .into_values()
        .filter_map(|strip| match strip.form {
            Form::Rectangle(long, short) if short.to_inches() == 2.5 => Some(long.to_inches()),
            _ => None,
        })
        .collect();
    assert_eq!(strips, [31.375; 3]);
    // Each strip steps on by what the one below leans: 2 in at 45 degrees.
    let mut steps = 0;
    for step in whole.pattern.recipe.makes.iter().flat_map(|make| &make.steps) {
        let Step::Lay {
            how: Lay::Edges { first, last, .. },
            ..
        } = step
        else {
            continue;
        };
        let (End::Overhang { by: one, .. }, End::Overhang { by: other, .. }) = (first, last) else {
            continue;
        };
        assert_eq!(one.inches().abs(), 2.0);
        assert_eq!(one.inches(), -other.inches());
        steps += 1;
    }
    assert_eq!(steps, 3 * 2);
}

/// Diamonds of 60 degrees in two rows of two, so wide; and the block's width and height.
fn sixty(wide: f64) -> (Drawing, Spot) {
    let mut drawing = Drawing::default();
    let side = wide * 2.0 / 3.0_f64.sqrt();
    let (lean, size) = (side / 2.0, (4.0 * side, 2.0 * wide));
    for row in 0..2 {
        let y = f64::from(row) * wide;
        // The upper edge of a row lies further left by the lean, and the next row leans the other way.
        let at = |i: f64, top: bool| {
            let leans = top == (row == 0);
            (
                side * (0.5 + i) + if leans { 0.0 } else { lean },
                if top { y } else { y + wide },
            )
        };
        for i in 0..3 {
            let i = f64::from(i);
            drawing.patch(
                [DARK, LIGHT, "mid"][i as usize],
                &[at(i, true), at(i + 1.0, true), at(i + 1.0, false), at(i, false)],
            );
        }
        drawing.patch(LIGHT, &[(0.0, y), at(0.0, true), at(0.0, false), (0.0, y + wide)]);
        drawing.patch(LIGHT, &[at(3.0, true), (size.0, y), (size.0, y + wide), at(3.0, false)]);
    }
    (drawing, size)
}

#[test]
fn diamonds_of_sixty_degrees_from_strips() {
    // Published on the web, no year given: the strip is the finished width and 1/2 in. Derived: so is the cut across,
    // and along the strip a diamond is that over sin 60.
    for wide in [2.0, 2.75, 3.0] {
        let (drawing, size) = sixty(wide);
        let whole = drawing.proved(size, size);
        let mut found = 0;
        for cutting in others(&whole.pattern) {
            let Form::AtAngle(strip, less, more, Some(across)) = cutting.form else {
                continue;
            };
            assert_eq!((strip.to_inches(), across.to_inches()), (wide + 0.5, wide + 0.5));
            assert_eq!(less, more);
            assert!((less.to_inches() - (wide + 0.5) * 2.0 / 3.0_f64.sqrt()).abs() < 1.0e-4);
            found += cutting.count;
        }
        assert_eq!(found, 6);
    }
}

#[test]
fn a_nine_patch_from_two_strip_sets() {
    // A glossary published on the web, 2021: three 2 1/2 in strips make a set of 6 1/2 in. Common practice: sets of two
    // kinds, cut 2 1/2 in, two lengths of the one and one of the other for each block.
    let mut drawing = Drawing::default();
    for i in 0..9_u8 {
        let (x, y) = (f64::from(i % 3), f64::from(i / 3));
        drawing.square([DARK, LIGHT][usize::from(i % 2)], x, y, 1.0);
    }
    let rows = "rows = [[\"drawn\", \"drawn\", \"drawn\", \"drawn\"]]";
    let text = drawing
        .design((6.0, 6.0), (3.0, 3.0))
        .replace("rows = [[\"drawn\"]]", rows);
    let whole = proved(&text);
    let cut: usize = lengths(&whole).iter().map(|(_, n)| n).sum();
    assert!(
        lengths(&whole).iter().all(|(width, _)| *width == 2.5),
        "{:?}",
        lengths(&whole)
    );
    let makes = &whole.pattern.recipe.makes;
    let darks: u32 = makes
        .iter()
        .filter(|m| m.parts.len() == 3 && m.gives.len() > 1)
        .map(|m| {
            let pieces = pieces(&whole.pattern);
            let dark = |part: &&recipe::Part| match &part.take {
                recipe::Take::Piece(piece) => pieces[piece].cloth == DARK,
                _ => false,
            };
            if m.parts.iter().filter(dark).count() == 2 {
                m.times * m.gives.len() as u32
            } else {
                0
            }
        })
        .sum();
    assert_eq!((cut, darks), (12, 8));
    assert!(!super::lists::units_of_size(&whole.pattern, 6.5, 6.5).is_empty());
}
