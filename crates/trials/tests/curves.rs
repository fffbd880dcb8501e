//! Designs with curved seams: generated ones are planned and proved; their recipes altered are refused; and the quarter circle's
//! templates are held against the closed form.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use trials::judge::Tally;
use trials::whole::Whole;

/// Generated designs tried; more with `SCANTLING_CURVES`.
const GENERATED: u64 = 200;

#[test]
fn generated_curves_are_proved() {
    let many = std::env::var("SCANTLING_CURVES").ok().and_then(|n| n.parse().ok());
    let mut failures = Vec::new();
    for seed in 0..many.unwrap_or(GENERATED) {
        let said = match Whole::of(&trials::curved::design(seed)) {
            Err(findings) => findings.iter().find(|f| f.is_stop()).map(|f| f.to_string()),
            Ok(whole) => whole.rehearse().err().map(|findings| findings[0].to_string()),
        };
        failures.extend(said.map(|said| format!("{seed}: {said}")));
    }
    assert!(
        failures.is_empty(),
        "{} not proved:\n{}",
        failures.len(),
        failures.join("\n")
    );
}

/// The quarter circle's templates by the closed form (*derived*): with a finished radius r the raw bowed edge of the convex piece
/// has the radius r + s, that of the hollow one r - s, and the stitch line is π r / 2 long. The block is 6 in, r two thirds of it.
#[test]
fn a_quarter_circle_has_the_radii_of_the_closed_form() {
    let whole = Whole::of(design::collection_file("quarter-circle").unwrap()).unwrap();
    let (r, s) = (4.0, 0.25);
    let templates = &whole.pattern.cutting.templates;
    assert_eq!(templates.len(), 2);
    let mut radii = Vec::new();
    for template in templates {
        let [bow] = &template.bows[..] else {
            panic!("one bowed edge")
        };
        let place = |c: &recipe::TemplateCorner| (c.right.to_inches(), c.up.to_inches());
        let marks: Vec<(f64, f64)> = template.marks.iter().map(place).collect();
        assert_eq!(marks.len(), 5);
        // The centre by three marks, which lie on the finished circle.
        let centre = centre_of(marks[0], marks[2], marks[4]);
        let off = |p: &(f64, f64)| libm::hypot(p.0 - centre.0, p.1 - centre.1);
        assert!(marks.iter().all(|m| (off(m) - r).abs() < 0.001));
        // A quarter of the stitch line from mark to mark, as chords: 2 r sin(π/16).
        for pair in marks.windows(2) {
            let apart = libm::hypot(pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
            assert!((apart - 2.0 * r * libm::sin(std::f64::consts::PI / 16.0)).abs() < 0.001);
        }
        let raw: Vec<f64> = bow.through.iter().map(place).map(|p| off(&p)).collect();
        let (least, most) = raw.iter().fold((f64::MAX, 0.0f64), |(a, b), x| (a.min(*x), b.max(*x)));
        assert!(most - least < 0.001, "{least} {most}");
        radii.push(least);
    }
    radii.sort_by(f64::total_cmp);
    assert!(
        (radii[0] - (r - s)).abs() < 0.001 && (radii[1] - (r + s)).abs() < 0.001,
        "{radii:?}"
    );
}

fn centre_of(a: (f64, f64), b: (f64, f64), c: (f64, f64)) -> (f64, f64) {
    let square = |p: (f64, f64)| p.0 * p.0 + p.1 * p.1;
    let d = 2.0 * (a.0 * (b.1 - c.1) + b.0 * (c.1 - a.1) + c.0 * (a.1 - b.1));
    let x = square(a) * (b.1 - c.1) + square(b) * (c.1 - a.1) + square(c) * (a.1 - b.1);
    let y = square(a) * (c.0 - b.0) + square(b) * (a.0 - c.0) + square(c) * (b.0 - a.0);
    (x / d, y / d)
}

#[test]
fn curves_altered_are_refused() {
    let mut tally = Tally::default();
    for name in ["quarter-circle", "grandmothers-fan", "drunkards-path"] {
        let whole = Whole::of(design::collection_file(name).unwrap()).unwrap();
        whole.rehearse().unwrap();
        tally.judge(name, &whole.pattern, &whole.picture, 400);
    }
    println!("{}", tally.table());
    assert!(tally.unread.is_empty(), "{}", tally.unread.join("\n"));
    assert!(tally.unexpected.is_empty(), "{}", tally.unexpected.join("\n"));
}
