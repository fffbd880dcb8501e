//! Strip sets: strips sewn along their length and cut across into lengths, straight and at an angle.

use crate::builder::*;
use crate::several::beside;
use recipe::{EdgeRef, End, Give, LineRef, PointRef, PrintNote, Ruler, RulerAngle, SeamRef, Size, Slot, Step};

fn sub_cut(of: u32, first: Ruler, toward: (EdgeRef, EdgeRef), width: Size, into: &[u32]) -> Step {
    Step::SubCut {
        of: Slot(of),
        first,
        toward: corner(toward.0, toward.1),
        width,
        into: into.iter().map(|&i| Slot(i)).collect(),
    }
}

/// Three strips 2 1/2 in wide, cut so long, sewn one above another.
fn set(b: &mut Bench, lengths: [Size; 3]) -> Vec<Step> {
    for (name, cloth, length) in [
        ("A", "dark", lengths[0]),
        ("B", "light", lengths[1]),
        ("C", "mid", lengths[2]),
    ] {
        b.cloth(cloth, PrintNote::None).rectangles(name, length, s8(20), 1);
    }
    // A piece's edges: 0 lower, 1 right, 2 upper, 3 left.
    vec![
        lay(
            0,
            1,
            3,
            run(&[(0, 2)]),
            run(&[(1, 0)]),
            even(e(0, 1), e(1, 1)),
            if lengths[0] == lengths[1] {
                even(e(0, 3), e(1, 3))
            } else {
                End::Overhang {
                    a: e(0, 3),
                    b: e(1, 3),
                    by: Size::bare(lengths[1].len - lengths[0].len),
                }
            },
            &[],
        ),
        sew(3),
        open(3, 4),
        lay(
            4,
            2,
            5,
            run(&[(1, 2)]),
            run(&[(2, 0)]),
            even(e(1, 1), e(2, 1)),
            if lengths[1] == lengths[2] {
                even(e(1, 3), e(2, 3))
            } else {
                End::Overhang {
                    a: e(1, 3),
                    b: e(2, 3),
                    by: Size::bare(lengths[2].len - lengths[1].len),
                }
            },
            &[],
        ),
        sew(5),
        open(5, 6),
    ]
}

/// A top of four lengths 2 1/2 in wide from one set, sewn side by side: three rows of strips, 8 in wide and 6 high.
pub fn four_lengths(lengths: [Size; 3]) -> Bench {
    let mut b = Bench::new();
    let mut steps = set(&mut b, lengths);
    // Squared up at the right, where the strips are even, then cut toward the left.
    steps.push(sub_cut(
        6,
        beside(e(1, 1), s8(2), corner(e(0, 3), e(0, 0))),
        (e(0, 3), e(0, 0)),
        s8(20),
        &[7, 8, 9, 10],
    ));
    let gives: Vec<Give> = (7..=10)
        .map(|i| give(i, &[run(&[(0, 0)]), run(&[(i, 0)]), run(&[(2, 2)]), run(&[(i, 1)])]))
        .collect();
    b.make(
        "length",
        1,
        &[piece(0, "A"), piece(1, "B"), piece(2, "C")],
        &steps,
        &gives,
    );
    let mut steps = Vec::new();
    for (i, work) in [(1, 0), (2, 11), (3, 13)] {
        steps.push(lay(
            work,
            i,
            8 + 2 * i,
            run(&[(i - 1, 1)]),
            run(&[(i, 3)]),
            even(e(i - 1, 0), e(i, 0)),
            even(e(i - 1, 2), e(i, 2)),
            &[(0, 1), (1, 0)],
        ));
        steps.push(sew(8 + 2 * i));
        steps.push(open(8 + 2 * i, 9 + 2 * i));
    }
    let all = |edge: u32| (0..4).map(|i| (i, edge)).collect::<Vec<_>>();
    let mut upper = all(2);
    upper.reverse();
    steps.push(finish(
        15,
        &[run(&all(0)), run(&[(3, 1)]), run(&upper), run(&[(0, 3)])],
        2,
    ));
    let parts: Vec<_> = (0..4).map(|i| unit(i, "length")).collect();
    b.make("top", 1, &parts, &steps, &[]);
    b.outer(8.0, 6.0);
    for i in 0..4 {
        for (row, cloth) in ["dark", "light", "mid"].into_iter().enumerate() {
            b.rect(cloth, 2.0 * f64::from(i), 2.0 * row as f64, 2.0, 2.0);
        }
    }
    b
}

#[test]
fn three_strips_cut_into_four_lengths() {
    // strip set (S32, S33 of the project's list): three of 2 1/2 in sew to 6 1/2; derived: four lengths of 2 1/2 in and
    // 1/4 in squared off take 10 1/4 in of strip, here with 1/4 in to spare
    let proof = four_lengths([s8(84); 3]).proved();
    assert_eq!((proof.seams, proof.units), (5, 4));
    assert!(proof.largest_difference < 1e-9);
    // exactly long enough: the last cut lies along the raw ends
    four_lengths([s8(82); 3]).proved();
    // a quarter too short for the fourth length
    four_lengths([s8(80); 3]).refused_at("length-not-whole", "length", 6);
}

#[test]
fn a_length_has_all_its_strips() {
    // the middle or the last strip is shorter: the fourth length would miss it
    four_lengths([s8(84), s8(76), s8(76)]).refused_at("length-not-whole", "length", 6);
    four_lengths([s8(84), s8(84), s8(60)]).refused_at("length-not-whole", "length", 6);
    // longer is no harm
    four_lengths([s8(84), s8(90), s8(92)]).proved();
    // a strip that is not there at all along the first cut: squared up before the short one begins
    let mut b = four_lengths([s8(84), s8(84), s8(84)]);
    if let Step::SubCut { first, toward, .. } = &mut b.pattern.recipe.makes[0].steps[6] {
        *first = beside(e(0, 3), s8(0), *toward);
    }
    b.refused_at("bad-recipe", "length", 6);
    // no lengths, no width
    let changed = |width, into: &[u32]| {
        let mut b = four_lengths([s8(84); 3]);
        if let Step::SubCut { width: w, into: i, .. } = &mut b.pattern.recipe.makes[0].steps[6] {
            *w = width;
            *i = into.iter().map(|&i| Slot(i)).collect();
        }
        b
    };
    changed(s8(0), &[7, 8, 9, 10]).refused_at("bad-recipe", "length", 6);
    changed(s8(20), &[]).refused_at("bad-recipe", "length", 6);
    changed(s8(20), &[7, 8, 9, 9]).refused_at("bad-recipe", "length", 6);
    changed(s8(24), &[7, 8, 9, 10]).refused_at("length-not-whole", "length", 6);
    // narrower lengths are found out when the top is compared
    changed(s8(18), &[7, 8, 9, 10]).refused("outline-differs");
    // the wrong way, off the end of the set
    let mut b = four_lengths([s8(84); 3]);
    if let Step::SubCut { toward, .. } = &mut b.pattern.recipe.makes[0].steps[6] {
        *toward = corner(e(0, 0), e(0, 1));
    }
    b.refused_at("length-not-whole", "length", 6);
}

/// Two strips of so wide, cut at an angle into two lengths; the two of one unit lie end to end: a parallelogram of two
/// diamonds as a top is compared by a rectangle cut from it instead, so each length is checked across and then trimmed
/// square.
fn leaning(angle: RulerAngle, strip: Size, width: Size, length: Size) -> Bench {
    let mut b = Bench::new();
    b.cloth("dark", PrintNote::None).rectangles("A", length, strip, 1);
    b.cloth("light", PrintNote::None).rectangles("B", length, strip, 1);
    let seam = || LineRef::Seam(SeamRef { of: Slot(3), seam: 0 });
    let across_of = |i: u32| across(i, run(&[(i, 0)]), run(&[(i, 1)]), width);
    let steps = [
        lay(
            0,
            1,
            2,
            run(&[(0, 2)]),
            run(&[(1, 0)]),
            even(e(0, 1), e(1, 1)),
            even(e(0, 3), e(1, 3)),
            &[],
        ),
        sew(2),
        open(2, 3),
        // Both lines at the angle lean alike against the strips' edges: it is the one turned counter-clockwise.
        sub_cut(
            3,
            Ruler::Angle {
                line: seam(),
                angle,
                through: PointRef::Corner(corner(e(0, 3), e(0, 0))),
                like: e(0, 1),
            },
            (e(0, 0), e(0, 1)),
            width,
            &[4, 5],
        ),
        across_of(4),
        across_of(5),
        across(
            5,
            run(&[(0, 0)]),
            run(&[(1, 2)]),
            Size::bare(strip.len + strip.len - s8(4).len),
        ),
    ];
    let sides = |i: u32| [run(&[(0, 0)]), run(&[(i, 1)]), run(&[(1, 2)]), run(&[(i, 0)])];
    b.make(
        "leaning",
        1,
        &[piece(0, "A"), piece(1, "B")],
        &steps,
        &[give(4, &sides(4)), give(5, &sides(5))],
    );
    b.pattern.recipe.makes[0].spare = 1;
    // The top: one length as it is, its lower side turned level.
    b.make(
        "top",
        1,
        &[unit(0, "leaning")],
        &[finish(0, &(0..4).map(|i| run(&[(0, i)])).collect::<Vec<_>>(), 2)],
        &[],
    );
    b
}

/// The picture of one length: two leaning parallelograms, each so high and so long along its level sides.
fn leaning_picture(b: &mut Bench, degrees: f64, high: f64, long: f64) {
    let lean = high / tangent(degrees);
    let at = |row: f64| row * lean;
    b.picture.outer = shape::Polygon::new(
        [
            (0.0, 0.0),
            (long, 0.0),
            (long + at(2.0), 2.0 * high),
            (at(2.0), 2.0 * high),
        ]
        .map(|(x, y)| shape::Point::new(x, y))
        .to_vec(),
    );
    for (row, cloth) in [(0.0, "dark"), (1.0, "light")] {
        b.face(
            cloth,
            &[
                (at(row), row * high),
                (at(row) + long, row * high),
                (at(row + 1.0) + long, (row + 1.0) * high),
                (at(row + 1.0), (row + 1.0) * high),
            ],
        );
    }
}

/// Of 60 or 45 degrees.
fn sine_of(degrees: f64) -> f64 {
    if degrees == 60.0 { 0.75f64.sqrt() } else { 0.5f64.sqrt() }
}

/// Of 60 or 45 degrees.
fn tangent(degrees: f64) -> f64 {
    if degrees == 60.0 { 3f64.sqrt() } else { 1.0 }
}

/// Rows of two diamonds 2 in high.
pub fn diamonds(degrees: f64) -> Bench {
    let angle = if degrees == 60.0 {
        RulerAngle::Sixty
    } else {
        RulerAngle::FortyFive
    };
    let mut b = leaning(angle, s8(20), s8(20), s8(120));
    leaning_picture(&mut b, degrees, 2.0, 2.0 / sine_of(degrees));
    b
}

#[test]
fn strips_cut_at_an_angle_make_rows_of_diamonds() {
    // 60 degree diamond (S8 of the project's list): strip = finished width + 1/2; derived: a row of two diamonds 2 in high
    // is 2/sin 60 long on a side, and so is one of 45 degrees 2/sin 45
    for (angle, degrees) in [(RulerAngle::Sixty, 60.0), (RulerAngle::FortyFive, 45.0)] {
        let sine: f64 = sine_of(degrees);
        let proof = diamonds(degrees).proved();
        assert!(proof.largest_difference < 1e-3, "{}", proof.largest_difference);
        // too short for two lengths leaning so: 4 1/2 in of height lean 4 1/2/tan, and each takes 2 1/2/sin
        let need = 4.5 / tangent(degrees) + 5.0 / sine;
        let mut b = leaning(angle, s8(20), s8(20), near(need + 0.1));
        leaning_picture(&mut b, degrees, 2.0, 2.0 / sine);
        b.proved();
        leaning(angle, s8(20), s8(20), near(need - 0.1)).refused_at("length-not-whole", "leaning", 3);
        // lengths a quarter wider are no diamonds
        let mut b = leaning(angle, s8(20), s8(22), s8(120));
        leaning_picture(&mut b, degrees, 2.0, 2.0 / sine);
        b.refused("outline-differs");
        // the check across each length tells a width that is not as cut
        let mut b = leaning(angle, s8(20), s8(20), s8(120));
        b.pattern.recipe.makes[0].steps[4] = across(4, run(&[(4, 0)]), run(&[(4, 1)]), s8(21));
        b.refused_at("size-differs", "leaning", 4);
    }
}

#[test]
fn a_strip_set_has_its_scene() {
    let b = four_lengths([s8(84); 3]);
    let scenes = rehearse::scenes(&b.pattern.recipe, &b.pattern.cutting);
    let view = &scenes[0].after[6];
    // five cuts, four lengths of three strips, the squared end and what is left over of each strip
    assert_eq!((view.cuts.len(), view.layers[0].pieces.len()), (5, 12));
    assert_eq!(view.waste.len(), 6);
    // each length's two seams are shown no longer than the length
    assert_eq!(view.seams.len(), 8);
    for s in &view.seams {
        assert!((s.from.distance(s.to) - 2.5).abs() < 1e-9);
    }
}
