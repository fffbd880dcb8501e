//! Dividing, joining, bowing, moving, placing: no gap, no overlap, ever. Areas are exact by arithmetic (derived).

use super::*;

fn blank() -> Drawing {
    Drawing::blank(12.0, 12.0, (12.0, 12.0), "sea")
}

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn whole(drawing: &Drawing) {
    assert!(
        (drawing.covered() - drawing.width * drawing.height).abs() < 1e-3,
        "covered {}",
        drawing.covered()
    );
    assert!(drawing.patches.iter().all(|patch| patch.outline.sound()));
}

#[test]
fn a_cut_across_makes_two_and_a_second_across_it_four() {
    let one = blank().divide(p(0.0, 0.0), p(12.0, 12.0)).unwrap();
    assert_eq!(one.patches.len(), 2);
    assert!((one.patches[0].area() - 72.0).abs() < 1e-9);
    let two = one.divide(p(12.0, 0.0), p(0.0, 12.0)).unwrap();
    assert_eq!(two.patches.len(), 4);
    whole(&two);
}

#[test]
fn a_cut_that_ends_inside_runs_on_to_the_edge() {
    let cut = blank().divide(p(6.0, 0.0), p(6.0, 5.0)).unwrap();
    assert_eq!(cut.patches.len(), 2);
    whole(&cut);
}

#[test]
fn a_cut_along_a_seam_is_refused() {
    let cut = blank().divide(p(6.0, 0.0), p(6.0, 12.0)).unwrap();
    assert_eq!(
        cut.divide(p(6.0, 0.0), p(6.0, 12.0)).unwrap_err().code,
        "nothing-to-divide"
    );
    assert_eq!(cut.divide(p(0.0, 0.01), p(12.0, 0.01)).unwrap_err().code, "too-narrow");
}

#[test]
fn four_turns_of_one_cut_make_a_whirl() {
    let cut = blank()
        .repeated(Repeat::QuarterTurns, p(0.0, 0.0), p(6.0, 6.0), |d, a, b| d.divide(a, b))
        .unwrap();
    assert_eq!(cut.patches.len(), 4);
    whole(&cut);
}

#[test]
fn joining_takes_the_seam_out_again() {
    let cut = blank().divide(p(6.0, 0.0), p(6.0, 12.0)).unwrap();
    let joined = cut.join(0, 1).unwrap();
    assert_eq!(joined.patches.len(), 1);
    assert_eq!(joined.patches[0].sides().len(), 4);
    let quarters = cut.divide(p(0.0, 6.0), p(12.0, 6.0)).unwrap();
    let far: Vec<usize> = (1..4).filter(|&j| quarters.join(0, j).is_err()).collect();
    assert_eq!(far.len(), 1, "only the one across the middle is no neighbour");
    assert_eq!(quarters.join(0, far[0]).unwrap_err().code, "no-seam-between");
}

#[test]
fn a_point_moves_its_patches_and_stops_before_one_vanishes() {
    let cut = blank()
        .divide(p(0.0, 0.0), p(12.0, 12.0))
        .unwrap()
        .divide(p(12.0, 0.0), p(0.0, 12.0))
        .unwrap();
    let moved = cut.shift(p(6.0, 6.0), p(4.0, 7.0)).unwrap();
    assert!(moved.points().iter().any(|q| same(*q, p(4.0, 7.0))));
    whole(&moved);
    let far = cut.shift(p(6.0, 6.0), p(6.0, 40.0)).unwrap();
    whole(&far);
    assert!(far.points().iter().any(|q| q.x == 6.0 && q.y > 11.0 && q.y < 12.0));
    assert_eq!(cut.shift(p(0.0, 0.0), p(3.0, 3.0)).unwrap_err().code, "corner-stays");
    assert_eq!(cut.shift(p(1.0, 2.0), p(3.0, 3.0)).unwrap_err().code, "no-point-there");
}

#[test]
fn a_point_in_the_middle_of_a_neighbours_side_bends_it() {
    let cut = blank()
        .divide(p(0.0, 6.0), p(12.0, 6.0))
        .unwrap()
        .divide(p(6.0, 0.0), p(6.0, 6.0))
        .unwrap();
    assert_eq!(cut.patches.len(), 3);
    let moved = cut.shift(p(6.0, 6.0), p(6.0, 4.0)).unwrap();
    whole(&moved);
    assert!(moved.patches.iter().any(|patch| patch.sides().len() == 5));
}

#[test]
fn a_bowed_seam_takes_from_one_patch_what_it_gives_the_other() {
    let cut = blank().divide(p(6.0, 0.0), p(6.0, 12.0)).unwrap();
    let bowed = cut.bow(p(6.0, 6.0), p(9.0, 6.0)).unwrap();
    whole(&bowed);
    // A segment of half chord 6 and rise 3: r = 7.5, area r² asin(6/7.5) − 6 (r − 3) (derived).
    let segment = 7.5 * 7.5 * libm::asin(0.8) - 6.0 * 4.5;
    let largest = bowed.patches.iter().map(Patch::area).fold(0.0, f64::max);
    assert!(
        (largest - (72.0 + segment)).abs() < 1e-3,
        "{largest} {segment} {:?}",
        bowed.patches
    );
    let again = bowed.bow(p(9.0, 6.0), p(6.0, 6.0)).unwrap();
    assert!((again.patches[0].area() - 72.0).abs() < 1e-6);
    // A cut across the bow divides both.
    let crossed = bowed.divide(p(0.0, 6.0), p(12.0, 6.0)).unwrap();
    assert_eq!(crossed.patches.len(), 4);
    whole(&crossed);
}

/// A square of side 6√2 turned by 45° about the middle of a 12 in block has its corners in the middles of its sides; what is
/// left are four triangles with legs of 6 in (derived: 4 · 18 + 72 = 144).
#[test]
fn a_block_at_an_angle_owns_its_slanting_box_and_the_cloth_round_it_is_drawn_on() {
    let side = 72.0_f64.sqrt();
    let standing = Placed {
        block: "star".into(),
        entry: None,
        left: 6.0 - side / 2.0,
        top: 6.0 - side / 2.0,
        width: side,
        height: side,
        quarters: 0,
        slant: 45.0,
        flip: false,
        recolor: Vec::new(),
        redrawn: true,
    };
    assert!(standing.holds(p(6.0, 0.5)) && !standing.holds(p(2.5, 2.5)));
    let drawn = blank().place(standing.clone()).unwrap();
    whole(&drawn);
    let areas: Vec<f64> = drawn.patches.iter().map(Patch::area).collect();
    assert_eq!(areas.len(), 4);
    assert!(areas.iter().all(|area| (area - 18.0).abs() < 1e-6), "{areas:?}");
    // A corner triangle is divided; the block stays what it is.
    let divided = drawn.divide(p(0.0, 0.0), p(3.0, 3.0)).unwrap();
    assert_eq!((divided.patches.len(), divided.placed.len()), (5, 1));
    assert_eq!(divided.placed[0], standing);
    whole(&divided);
    // A point on its side is not moved away from it.
    assert_eq!(
        divided.shift(p(3.0, 3.0), p(4.0, 2.0)).unwrap_err().code,
        "corner-stays"
    );
    // The whole turned and flipped: its angle turns along, a flip turns it the other way.
    let other = Placed {
        slant: 30.0,
        ..standing.clone()
    };
    let mut tilted = drawn.clone();
    tilted.placed[0] = other;
    assert_eq!(tilted.turned().unwrap().placed[0].slant, 120.0);
    assert_eq!(
        (tilted.flipped().placed[0].slant, tilted.flipped().placed[0].flip),
        (330.0, true)
    );
    // No upright block goes over a part of it; one that covers all of it takes its place.
    let upright = |left: f64, size: f64| Placed {
        left,
        top: left,
        width: size,
        height: size,
        slant: 0.0,
        ..standing.clone()
    };
    assert_eq!(drawn.place(upright(0.0, 4.0)).unwrap_err().code, "cuts-placed-block");
    assert_eq!(drawn.place(upright(0.0, 12.0)).unwrap().placed.len(), 1);
    assert_eq!(
        drawn.place(upright(0.0, 3.0)).unwrap().placed.len(),
        2,
        "its corner only touches the slanting side"
    );
    whole(&drawn.take_out(0, "sea").unwrap());
}

#[test]
fn a_placed_block_replaces_the_cloth_beneath_and_leaves_plain_cloth() {
    let new = |left: f64, width: f64| Placed {
        block: "star".into(),
        entry: None,
        left,
        top: 3.0,
        width,
        height: 6.0,
        quarters: 0,
        slant: 0.0,
        flip: false,
        recolor: Vec::new(),
        redrawn: true,
    };
    let placed = blank().place(new(3.0, 6.0)).unwrap();
    assert_eq!(placed.placed.len(), 1);
    whole(&placed);
    assert_eq!(placed.place(new(6.0, 6.0)).unwrap_err().code, "cuts-placed-block");
    assert_eq!(placed.place(new(9.0, 6.0)).unwrap_err().code, "box-leaves-block");
    let out = placed.take_out(0, "sea").unwrap();
    assert!(out.placed.is_empty());
    whole(&out);
}

#[test]
fn the_aim_is_drawn_to_points_grid_and_slants() {
    let cut = blank().divide(p(0.0, 0.0), p(12.0, 12.0)).unwrap();
    let corner = aim(&cut, p(0.1, 0.1), None, 0.3, true);
    assert_eq!((corner.at, corner.snap), (p(0.0, 0.0), Snap::Point));
    let grid = aim(&cut, p(3.1, 6.9), Some(p(0.0, 1.0)), 0.3, true);
    assert_eq!((grid.at, grid.snap), (p(3.0, 7.0), Snap::Grid));
    assert_eq!(grid.words, "6.71 in · 2 : 1");
    let slant = aim(&cut, p(3.2, 6.33), Some(p(0.0, 0.0)), 0.15, true);
    assert!(slant.words.ends_with("2 : 1"), "{}", slant.words);
}

#[test]
fn a_path_written_is_read_again() {
    let cut = blank().divide(p(0.0, 3.0), p(9.0, 12.0)).unwrap();
    assert_eq!(path_text(&cut, &cut.patches[0]).matches('M').count(), 1);
    let texts: Vec<String> = cut.patches.iter().map(|patch| path_text(&cut, patch)).collect();
    assert!(texts.iter().all(|text| text.starts_with('M') && text.ends_with(" Z")));
}

proptest::proptest! {
    /// Whatever is cut and moved in whatever order, the cloth covers the block once and every patch is sound.
    #[test]
    fn the_cloth_is_whole_after_any_cuts(acts in proptest::collection::vec((0u8..4, 0u8..13, 0u8..13, 0u8..13, 0u8..13), 1..25)) {
        let mut drawing = blank();
        for (act, ax, ay, bx, by) in acts {
            let (a, b) = (p(f64::from(ax), f64::from(ay)), p(f64::from(bx), f64::from(by)));
            let next = match act {
                0 | 1 => drawing.divide(a, b),
                2 => drawing.shift(a, b),
                _ => drawing.bow(a, b),
            };
            if let Ok(next) = next {
                drawing = next;
            }
            whole(&drawing);
        }
    }
}
