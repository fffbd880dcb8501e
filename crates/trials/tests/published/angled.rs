//! Leaning pieces: the overhang a maker reads off, and the two marks of every cut along the strip.

use super::drawn::{DARK, Drawing, LIGHT, proved};
use super::lists::{Form, pieces, takes};
use recipe::{End, Lay, Make, Pattern, Step};

/// The makings that sew leaning pieces, with the overhangs their notches print.
fn overhangs(pattern: &Pattern) -> Vec<(&Make, Vec<f64>)> {
    let slants: Vec<_> = pieces(pattern)
        .into_iter()
        .filter(|(_, c)| matches!(c.form, Form::Slant(..)))
        .map(|(id, _)| id)
        .collect();
    let makes = pattern
        .recipe
        .makes
        .iter()
        .filter(|make| slants.iter().any(|id| takes(make, id)));
    makes
        .map(|make| {
            let mut printed = Vec::new();
            for step in &make.steps {
                let Step::Lay {
                    how: Lay::Edges { first, last, .. },
                    ..
                } = step
                else {
                    continue;
                };
                for end in [first, last] {
                    let End::Notch { about, .. } = end else {
                        panic!("placed by its notch")
                    };
                    printed.push(about.inches());
                }
            }
            (make, printed)
        })
        .collect()
}

fn sampler() -> String {
    let file = format!(
        "{}/../../examples/lantern-harbour.quilt.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    std::fs::read_to_string(file).unwrap()
}

#[test]
fn a_quarter_inch_ahead_at_two_to_one() {
    // Derived: 2 s |cot a|; s = 1/4 and, at a 2:1 slope, cot a = 1/2, so 1/4 in. The sampler's leaning pieces lie so.
    let whole = proved(&sampler());
    let found = overhangs(&whole.pattern);
    assert!(found.len() >= 2, "two hands at least");
    for (make, printed) in found {
        assert_eq!(printed, vec![0.25, 0.25], "{}", make.unit);
    }
}

#[test]
fn two_marks_differ_by_half_the_strip_at_two_to_one() {
    // Derived: the cut rises the strip's height while it goes half as far along, so its two marks differ by exactly
    // half the height, whatever the pieces' own lengths: 3 1/2 in strips, 1 3/4 in.
    let whole = proved(&sampler());
    let slants: Vec<_> = pieces(&whole.pattern)
        .into_values()
        .filter(|c| matches!(c.form, Form::Slant(..)))
        .collect();
    assert!(slants.len() >= 4, "two cloths, two hands");
    for slant in slants {
        let Form::Slant(strip, less, more) = slant.form else {
            continue;
        };
        assert_eq!((more - less) * 2, strip);
        assert_eq!(strip.to_inches(), 3.5);
        // Both marks are marks of the ruler.
        for mark in [less, more] {
            assert_eq!(mark.units() % whole.pattern.recipe.mark.units(), 0);
        }
    }
}

/// A rectangle of two leaning pieces; the seam goes from `low` on the lower side to `high` on the upper one.
fn leaning(low: f64, high: f64, w: f64, h: f64) -> Drawing {
    let mut drawing = Drawing::default();
    drawing.patch(LIGHT, &[(0.0, 0.0), (high, 0.0), (low, h), (0.0, h)]);
    drawing.patch(DARK, &[(high, 0.0), (w, 0.0), (w, h), (low, h)]);
    drawing
}

#[test]
fn the_overhang_at_other_slopes() {
    // Derived: 2 s |cot a|: 1/2 in at 45 degrees, 1/4 in at 2:1 either way, 1/8 in at 4:1; and the two marks differ by
    // the strip's height times cot a. At 4:1 the seam leans 1/16 in over its allowance, so the ruler needs
    // sixteenths.
    for (low, high, w, h, ahead) in [
        (2.0, 5.0, 8.0, 3.0, 0.5),
        (5.0, 2.0, 8.0, 3.0, 0.5),
        (2.25, 3.75, 6.0, 3.0, 0.25),
        (3.75, 2.25, 6.0, 3.0, 0.25),
        (2.0, 2.875, 6.0, 3.5, 0.125),
    ] {
        let whole = proved(&leaning(low, high, w, h).design_with((w, h), (w, h), "ruler = \"1/16 in\""));
        let found = overhangs(&whole.pattern);
        assert_eq!(found.len(), 1, "{low} to {high}");
        assert_eq!(found[0].1, vec![ahead, ahead], "{low} to {high}");
        for slant in pieces(&whole.pattern).into_values() {
            let Form::Slant(strip, less, more) = slant.form else {
                panic!("two marks")
            };
            assert_eq!((more - less).to_inches(), strip.to_inches() * (high - low).abs() / h);
        }
    }
}

#[test]
fn a_pair_opens_to_its_rectangle() {
    // Derived: the longer mark is the finished length on its raw edge and the seams, up to the next mark: for the piece
    // of 2 1/4 and 3 3/4 in a 3 in strip, 3 3/4 + s(1 + 1/2 + sqrt5/2), that is 4.4045, so 4 1/2; the other 2 3/4.
    let whole = leaning(2.25, 3.75, 6.0, 3.0).proved((6.0, 3.0), (6.0, 3.0));
    let exact = 3.75 + 0.25 * (1.0 + 0.5 + 5.0_f64.sqrt() / 2.0);
    assert!((exact - 4.4045).abs() < 1.0e-4);
    for slant in pieces(&whole.pattern).into_values() {
        let Form::Slant(_, less, more) = slant.form else {
            panic!("two marks")
        };
        assert_eq!((less.to_inches(), more.to_inches()), (2.75, 4.5));
    }
}

#[test]
fn an_overhang_between_the_marks() {
    // Derived: 2 s |cot a| at 60 degrees is 0.288675 in, between the marks: printed to the nearest sixteenth, 5/16, and
    // placed by the notch, which needs no figure. The pieces are no whole marks long and have templates.
    let lean = 3.0 / 3.0_f64.sqrt();
    for (low, high) in [(2.0, 2.0 + lean), (2.0 + lean, 2.0)] {
        let whole = leaning(low, high, 8.0, 3.0).proved((8.0, 3.0), (8.0, 3.0));
        let mut printed = Vec::new();
        for step in whole.pattern.recipe.makes.iter().flat_map(|make| &make.steps) {
            let Step::Lay {
                how: Lay::Edges { first, last, .. },
                ..
            } = step
            else {
                continue;
            };
            for end in [first, last] {
                let End::Notch { about, .. } = end else {
                    panic!("placed by its notch")
                };
                printed.push(about.inches());
            }
        }
        assert_eq!(printed, vec![0.3125, 0.3125]);
        assert!((0.3125 - 0.5 / 3.0_f64.sqrt()).abs() <= 1.0 / 32.0);
    }
}
