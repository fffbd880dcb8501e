//! Curved seams: a quarter circle in a square. Its figures are *derived*: with a finished radius r and a seam s the raw
//! bowed edge of the convex piece has the radius r + s, that of the hollow one r - s, and the stitch line is π r / 2 long on
//! both. Here a curve is drawn as a chain of chords of the finished circle; the raw chains lie a seam beside them.

use crate::builder::*;
use measure::Printed;
use recipe::{Bow, Lay, Meet, PieceCut, PrintNote, Slot, Step, Stop, Template, TemplateCorner, Turn};
use recipe::{EdgeRun, Gives};
use shape::Point;
use terms::PieceId;

const CHORDS: usize = 36;
const R: f64 = 4.0;
const SIDE: f64 = 6.0;

/// What a template is drawn with.
#[derive(Clone, Copy)]
struct Drawn {
    radius: f64,
    seam: f64,
    /// How far along the curve each mark is printed from where it belongs, inches.
    shift: [f64; 5],
}

const TRUE: Drawn = Drawn {
    radius: R,
    seam: 0.25,
    shift: [0.0; 5],
};

fn on_circle(radius: f64, angle: f64) -> Point {
    Point::new(radius * libm::cos(angle), radius * libm::sin(angle))
}

fn step() -> f64 {
    std::f64::consts::FRAC_PI_2 / CHORDS as f64
}

/// The raw chain's places between its ends, and how far out along an axis its first chord meets the raw side: `out` is 1 for
/// the convex piece and -1 for the hollow one.
fn raw_chain(d: Drawn, out: f64) -> (Vec<Point>, f64) {
    let half = step() / 2.0;
    let beside = d.radius * libm::cos(half) + out * d.seam;
    let inner = (1..CHORDS).map(|k| on_circle(beside / libm::cos(half), step() * k as f64));
    // On the chord's line p·u = beside with u half a step round, where y is a seam below nothing.
    let end = (beside + d.seam * libm::sin(half)) / libm::cos(half);
    (inner.collect(), end)
}

fn marks(d: Drawn) -> Vec<Point> {
    (0..5)
        .map(|i| on_circle(d.radius, step() * 9.0 * i as f64 + d.shift[i] / d.radius))
        .collect()
}

fn template(name: &str, corners: &[Point], bowed: u32, through: &[Point], marks: &[Point]) -> Template {
    let all = corners.iter().chain(through);
    let (left, low) = all.fold((0.0f64, 0.0f64), |(x, y), p| (x.min(p.x), y.min(p.y)));
    let place = |p: &Point| TemplateCorner {
        right: Printed::nearest(p.x - left).unwrap(),
        up: Printed::nearest(p.y - low).unwrap(),
    };
    Template {
        name: name.into(),
        corners: corners.iter().map(place).collect(),
        bows: vec![Bow {
            edge: bowed,
            through: through.iter().map(place).collect(),
        }],
        marks: marks.iter().map(place).collect(),
        applique: None,
    }
}

/// Edges: 0 lower, 1 the bow, 2 left.
fn convex(d: Drawn) -> Template {
    let (through, end) = raw_chain(d, 1.0);
    let s = -d.seam;
    let corners = [Point::new(s, s), Point::new(end, s), Point::new(s, end)];
    template("convex", &corners, 1, &through, &marks(d))
}

/// Edges: 0 lower, 1 right, 2 upper, 3 left, 4 the bow.
fn hollow(d: Drawn) -> Template {
    let (mut through, end) = raw_chain(d, -1.0);
    through.reverse();
    let (s, far) = (-d.seam, SIDE + d.seam);
    let corners = [(end, s), (far, s), (far, far), (s, far), (s, end)].map(|(x, y)| Point::new(x, y));
    template("hollow", &corners, 4, &through, &marks(d))
}

fn by_template(name: &str) -> Gives {
    Gives::Template {
        piece: PieceCut {
            piece: PieceId::new(name),
            turn: Turn::As,
        },
        template: name.into(),
    }
}

fn lay_curve(a: u32, b: u32, into: u32, run_a: EdgeRun, run_b: EdgeRun, pins: &[(u32, u32)]) -> Step {
    Step::Lay {
        a: Slot(a),
        b: Slot(b),
        how: Lay::Curve {
            a: run_a,
            b: run_b,
            pins: pins.iter().map(|&(a, b)| Meet { a, b }).collect(),
        },
        into: Slot(into),
    }
}

const ALL: [(u32, u32); 5] = [(0, 4), (1, 3), (2, 2), (3, 1), (4, 0)];

fn cut(b: &mut Bench, templates: [Template; 2], count: u32) {
    for (cloth, template) in ["dark", "light"].into_iter().zip(templates) {
        let name = template.name.clone();
        b.cloth(cloth, PrintNote::None).kind(&name);
        b.strip(s8(64), &[(count, &[(s8(64), s8(64), by_template(&name))])]);
        b.pattern.cutting.templates.push(template);
    }
}

fn sides() -> [EdgeRun; 4] {
    [
        run(&[(0, 0), (1, 0)]),
        run(&[(1, 1)]),
        run(&[(1, 2)]),
        run(&[(1, 3), (0, 2)]),
    ]
}

fn faces(b: &mut Bench) {
    let arc: Vec<(f64, f64)> = (0..=CHORDS)
        .map(|k| on_circle(R, step() * k as f64))
        .map(|p| (p.x, p.y))
        .collect();
    b.outer(SIDE, SIDE);
    b.face("dark", &[&[(0.0, 0.0)], &arc[..]].concat());
    let round = [(0.0, SIDE), (SIDE, SIDE), (SIDE, 0.0)];
    b.face("light", &[&arc[..], &round[..]].concat());
}

fn quarter(templates: [Template; 2], pins: &[(u32, u32)]) -> Bench {
    let mut b = Bench::new();
    cut(&mut b, templates, 1);
    b.make(
        "top",
        1,
        &[piece(0, "convex"), piece(1, "hollow")],
        &[
            lay_curve(0, 1, 2, run(&[(0, 1)]), run(&[(1, 4)]), pins),
            sew(2),
            open(2, 3),
            across(3, sides()[0].clone(), sides()[2].clone(), s64(416)),
            finish(3, &sides(), 2),
        ],
        &[],
    );
    faces(&mut b);
    b
}

fn drawn(d: Drawn, e: Drawn) -> Bench {
    quarter([convex(d), hollow(e)], &ALL)
}

#[test]
fn a_quarter_circle_in_a_square() {
    // derived: unfinished 6 + 2/4 in across (416/64); the curve is proved as exactly as the templates are printed
    let proof = drawn(TRUE, TRUE).proved();
    assert!(proof.largest_difference < 1.0e-6, "{}", proof.largest_difference);
}

#[test]
fn the_raw_radii_are_a_seam_beside_the_finished_one() {
    // derived: r + s and r - s, but for what a chord lies within its arc
    for (template, radius) in [(convex(TRUE), R + 0.25), (hollow(TRUE), R - 0.25)] {
        for place in &template.bows[0].through {
            let (x, y) = (place.right.to_inches() - 0.25, place.up.to_inches() - 0.25);
            assert!((libm::hypot(x, y) - radius).abs() < 0.001);
        }
    }
    // derived: π r / 2 along the stitch line, 2 r n sin(π / 4n) by chords
    let length: f64 = 2.0 * R * CHORDS as f64 * libm::sin(step() / 2.0);
    assert!((length - std::f64::consts::FRAC_PI_2 * R).abs() < 0.001);
}

#[test]
fn the_hollow_piece_may_lie_below() {
    let mut b = drawn(TRUE, TRUE);
    let pins: Vec<(u32, u32)> = ALL.iter().rev().map(|&(a, b)| (b, a)).collect();
    b.pattern.recipe.makes[0].steps[0] = lay_curve(1, 0, 2, run(&[(1, 4)]), run(&[(0, 1)]), &pins);
    b.proved();
    // the ends alone hold it too
    b.pattern.recipe.makes[0].steps[0] = lay_curve(1, 0, 2, run(&[(1, 4)]), run(&[(0, 1)]), &[(0, 4), (4, 0)]);
    b.proved();
}

#[test]
fn a_wrong_radius_is_refused() {
    let wider = Drawn {
        radius: R + 1.0 / 16.0,
        ..TRUE
    };
    drawn(wider, TRUE).refused_at("marks-do-not-meet", "top", 0);
    drawn(TRUE, wider).refused_at("marks-do-not-meet", "top", 0);
    // both alike: sewn well, but not the design's
    drawn(wider, wider).refused("face-differs");
    let hardly = Drawn {
        radius: R + 1.0 / 256.0,
        ..TRUE
    };
    drawn(hardly, TRUE).proved();
}

#[test]
fn a_wrong_seam_is_refused() {
    // the marks then do not lie on the stitch line
    let wide = Drawn {
        seam: 0.25 + 1.0 / 32.0,
        ..TRUE
    };
    drawn(wide, TRUE).refused_at("unknown-mark", "top", 0);
    drawn(TRUE, wide).refused_at("unknown-mark", "top", 0);
    // printed on the line that is sewn, they meet, but the curves are not one
    let moved = |out: f64, d: Drawn| Drawn {
        radius: R + out / 32.0,
        ..d
    };
    let shrunk = quarter(
        [
            Template {
                marks: convex(moved(1.0, TRUE)).marks,
                ..convex(wide)
            },
            Template {
                marks: hollow(moved(-1.0, TRUE)).marks,
                ..hollow(wide)
            },
        ],
        &ALL,
    );
    assert!(shrunk.rehearse().is_err());
    let mut sewn = drawn(TRUE, TRUE);
    if let Step::Sew {
        path: recipe::Path::Beside { by, .. },
        ..
    } = &mut sewn.pattern.recipe.makes[0].steps[1]
    {
        *by = s64(17);
    }
    sewn.refused_at("seam-not-allowance", "top", 1);
}

#[test]
fn two_pieces_of_one_hand_are_refused() {
    // a convex piece on a convex one: the marks meet, the curves bend apart
    let mut b = drawn(TRUE, TRUE);
    b.pattern.recipe.makes[0].parts[1] = piece(1, "convex");
    b.pattern.recipe.makes[0].steps[0] = lay_curve(0, 1, 2, run(&[(0, 1)]), run(&[(1, 1)]), &ALL);
    b.refused_at("curves-differ", "top", 0);
}

/// A curve without symmetry: the circle's places drawn in at one end.
fn lopsided(t: Template, mirrored: bool) -> Template {
    let mut t = t;
    let bend = |c: &mut TemplateCorner| {
        let (x, y) = (c.right.to_inches() - 0.25, c.up.to_inches() - 0.25);
        let angle = libm::atan2(y, x).clamp(0.0, std::f64::consts::FRAC_PI_2);
        let angle = if mirrored {
            std::f64::consts::FRAC_PI_2 - angle
        } else {
            angle
        };
        // most an eighth of the way round from one end
        let by = 1.0 - 0.02 * libm::sin(2.0 * angle) * libm::cos(angle);
        *c = TemplateCorner {
            right: Printed::nearest(x * by + 0.25).unwrap(),
            up: Printed::nearest(y * by + 0.25).unwrap(),
        };
    };
    t.bows[0].through.iter_mut().for_each(bend);
    t.marks.iter_mut().for_each(bend);
    t
}

#[test]
fn a_template_of_the_other_hand_is_refused() {
    let both = |a: bool, b: bool| {
        quarter(
            [lopsided(convex(TRUE), a), lopsided(hollow(TRUE), b)],
            &[(0, 4), (4, 0)],
        )
    };
    // sewn well where both are of one hand (which is not the design's circle)
    both(false, false).refused("face-differs");
    both(true, false).refused_at("curves-differ", "top", 0);
    both(false, true).refused_at("curves-differ", "top", 0);
}

#[test]
fn marks_that_do_not_meet_are_refused() {
    let pins = |pins: &[(u32, u32)]| quarter([convex(TRUE), hollow(TRUE)], pins);
    pins(&[(0, 4), (2, 2), (1, 3), (4, 0)]).refused("bad-recipe");
    pins(&[(0, 4), (1, 2), (4, 0)]).refused_at("marks-do-not-meet", "top", 0);
    pins(&[(0, 3), (4, 0)]).refused_at("marks-do-not-meet", "top", 0);
    pins(&[(0, 5), (4, 0)]).refused_at("unknown-mark", "top", 0);
    // pinned a quarter on, both ends: nothing holds the rest together
    pins(&[(0, 3), (3, 0)]).refused("run-not-flush");
    for moved in [1, 2, 3] {
        let mut shift = [0.0; 5];
        shift[moved] = 1.0 / 32.0;
        drawn(Drawn { shift, ..TRUE }, TRUE).refused_at("marks-do-not-meet", "top", 0);
        drawn(TRUE, Drawn { shift, ..TRUE }).refused_at("marks-do-not-meet", "top", 0);
        shift[moved] = 1.0 / 128.0;
        drawn(Drawn { shift, ..TRUE }, TRUE).proved();
    }
}

#[test]
fn an_outline_that_crosses_itself_is_no_template() {
    let mut crossed = hollow(TRUE);
    crossed.bows[0].through.swap(3, 20);
    quarter([convex(TRUE), crossed], &ALL).refused("bad-recipe");
    let mut twice = hollow(TRUE);
    twice.bows.push(twice.bows[0].clone());
    quarter([convex(TRUE), twice], &ALL).refused("bad-recipe");
    let mut none = hollow(TRUE);
    none.bows[0].edge = 5;
    quarter([convex(TRUE), none], &ALL).refused("bad-recipe");
    // without its bow it is hollow for no reason
    let mut straight = hollow(TRUE);
    straight.corners.insert(1, straight.bows[0].through[3]);
    straight.bows.clear();
    quarter([convex(TRUE), straight], &ALL).refused("bad-recipe");
}

#[test]
fn a_bowed_edge_is_no_line() {
    let mut b = drawn(TRUE, TRUE);
    b.pattern.recipe.makes[0].steps[3] = across(3, run(&[(1, 1)]), run(&[(1, 4)]), s64(416));
    assert!(b.rehearse().is_err());
    let mut b = drawn(TRUE, TRUE);
    b.pattern.recipe.makes[0].steps[0] = lay(
        0,
        1,
        2,
        run(&[(0, 1)]),
        run(&[(1, 4)]),
        even(e(0, 0), e(1, 0)),
        even(e(0, 2), e(1, 3)),
        &[],
    );
    b.refused_at("edge-not-straight", "top", 0);
    let mut b = drawn(TRUE, TRUE);
    b.pattern.recipe.makes[0].steps[0] = lay_curve(0, 1, 2, run(&[(0, 0)]), run(&[(1, 4)]), &ALL);
    b.refused_at("edge-not-bowed", "top", 0);
    let mut b = drawn(TRUE, TRUE);
    b.pattern.recipe.makes[0].steps[0] = lay_curve(0, 1, 2, run(&[(0, 1), (0, 2)]), run(&[(1, 4)]), &ALL);
    b.refused_at("curve-has-corner", "top", 0);
    let mut b = drawn(TRUE, TRUE);
    b.pattern.recipe.makes[0].steps[1] = Step::Sew {
        stack: Slot(2),
        path: recipe::Path::Beside {
            by: s8(2),
            from: Stop::Raw,
            to: Stop::Dot,
        },
        join: false,
    };
    b.refused_at("stop-not-as-laid", "top", 1);
}

/// Half a circle of two quarters in a frame of two: each pair sewn first, then one curve along both.
fn half_circle(pins: &[(u32, u32)]) -> Bench {
    let mut b = Bench::new();
    cut(&mut b, [convex(TRUE), hollow(TRUE)], 2);
    // The second of each lies turned to the left of the first, its lower edge on the first one's left.
    b.make(
        "half",
        1,
        &[piece(0, "convex"), piece(1, "convex")],
        &[
            lay(
                0,
                1,
                2,
                run(&[(0, 2)]),
                run(&[(1, 0)]),
                even(e(0, 1), e(1, 1)),
                even(e(0, 0), e(1, 2)),
                &[],
            ),
            sew(2),
            open(2, 3),
        ],
        &[give(3, &[run(&[(1, 2), (0, 0)]), run(&[(0, 1), (1, 1)])])],
    );
    b.make(
        "frame",
        1,
        &[piece(0, "hollow"), piece(1, "hollow")],
        &[
            lay(
                0,
                1,
                2,
                run(&[(0, 3)]),
                run(&[(1, 0)]),
                even(e(0, 2), e(1, 1)),
                even(e(0, 4), e(1, 4)),
                &[],
            ),
            sew(2),
            open(2, 3),
        ],
        &[give(
            3,
            &[
                run(&[(1, 4), (0, 4)]),
                run(&[(0, 0)]),
                run(&[(0, 1)]),
                run(&[(0, 2), (1, 1)]),
                run(&[(1, 2)]),
                run(&[(1, 3)]),
            ],
        )],
    );
    let sides = [
        run(&[(1, 5), (0, 0), (1, 1)]),
        run(&[(1, 2)]),
        run(&[(1, 3)]),
        run(&[(1, 4)]),
    ];
    b.make(
        "top",
        1,
        &[unit(0, "half"), unit(1, "frame")],
        &[
            lay_curve(0, 1, 2, run(&[(0, 1)]), run(&[(1, 0)]), pins),
            sew(2),
            open(2, 3),
            finish(3, &sides, 2),
        ],
        &[],
    );
    let arc: Vec<Point> = (0..=CHORDS).map(|k| on_circle(R, step() * k as f64)).collect();
    b.outer(2.0 * SIDE, SIDE);
    for hand in [1.0, -1.0] {
        let at = |x: f64, y: f64| (SIDE + hand * x, y);
        let arc: Vec<(f64, f64)> = arc.iter().map(|p| at(p.x, p.y)).collect();
        b.face("dark", &[&[at(0.0, 0.0)], &arc[..]].concat());
        let round = [at(0.0, SIDE), at(SIDE, SIDE), at(SIDE, 0.0)];
        b.face("light", &[&arc[..], &round[..]].concat());
    }
    b
}

#[test]
fn a_curve_across_a_joint() {
    // Both pieces of each layer print their ends; where they join, their two dots are one.
    let pins: Vec<(u32, u32)> = (0..9).map(|i| (i, 8 - i)).collect();
    let proof = half_circle(&pins).proved();
    assert!(proof.largest_difference < 1.0e-6, "{}", proof.largest_difference);
    half_circle(&[(0, 8), (3, 4), (8, 0)]).refused_at("marks-do-not-meet", "top", 0);
}
