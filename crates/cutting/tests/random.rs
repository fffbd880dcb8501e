//! Demands at random: the plan must hold when counted again, whatever is asked for.
#![allow(clippy::unwrap_used)] // A test may stop.

mod recount;

use cutting::plan_cutting;
use measure::{Length, Measure, Printed, Why};
use proptest::prelude::*;
use recipe::{Demand, DemandShape, Dot, ShapingCut, Template, TemplateCorner, Turn};
use recount::{ALL_TURNS, cloth, demand, inches, recount, rectangle, size};

/// One kind, in eighths of an inch: which shape, four measures, how many, which turns.
type Asked = (u8, i64, i64, i64, i64, u32, u8);

fn asked() -> impl Strategy<Value = Asked> {
    (0u8..8, 8i64..100, 8i64..100, 0i64..60, -40i64..40, 1u32..60, 0u8..6)
}

fn turns(which: u8) -> &'static [Turn] {
    match which {
        0 => &ALL_TURNS,
        1 => &[Turn::As, Turn::Half],
        2 => &[Turn::As],
        3 => &[Turn::Half],
        4 => &[Turn::Quarter, Turn::ThreeQuarters],
        _ => &[Turn::ThreeQuarters],
    }
}

fn shape(asked: Asked, whys: &mut Vec<Why>) -> DemandShape {
    let (shape, a, b, c, lead, ..) = asked;
    let of = |eighths: i64| eighths as f64 / 8.0;
    match shape {
        0 | 1 => rectangle(of(a), of(b), whys),
        2 => rectangle(of(a), of(a), whys),
        3 => DemandShape::Half {
            width: size(of(a), whys),
            height: size(of(b), whys),
            rising: c % 2 == 0,
        },
        4 => DemandShape::Quarter {
            side: size(of(a), whys),
        },
        5 => DemandShape::Slant {
            height: size(of(a), whys),
            lower: size(of(b), whys),
            upper: size(of(c), whys),
            lead: inches(of(lead)),
            ruler: None,
        },
        6 => {
            let (w, h) = (size(of(a), whys), size(of(b), whys));
            let dot = |x: f64, y: f64, whys: &mut Vec<Why>| Dot {
                from_left: size(x, whys),
                from_lower: size(y, whys),
            };
            let (from, to) = (dot(of(a) - 0.5, 0.5, whys), dot(0.5, of(b) - 0.5, whys));
            DemandShape::Shaped {
                width: w,
                height: h,
                cuts: vec![ShapingCut {
                    from,
                    to,
                    past: size(0.25, whys),
                }],
            }
        }
        _ => {
            let corner = |x: i64, y: i64| TemplateCorner {
                right: Printed::of(Length::from_units(x)),
                up: Printed::of(Length::from_units(y)),
            };
            let (w, h) = (a * 1016 + 5, b * 1016 + 7);
            let corners = vec![corner(0, 0), corner(w, h / 3), corner(w / 2, h)];
            DemandShape::Template {
                template: Template {
                    name: format!("T{a}-{b}"),
                    corners,
                    ..Template::default()
                },
            }
        }
    }
}

fn demands(asked: &[Asked], whys: &mut Vec<Why>) -> Vec<Demand> {
    let one = |(index, asked): (usize, &Asked)| {
        let fabric = if index % 3 == 2 { "night" } else { "foam" };
        // Where a shape cannot be cut from a strip in the turns allowed it is refused, which has its own tests.
        let turns = match asked.0 {
            3 => turns(asked.6.min(1)),
            4 => &ALL_TURNS,
            5 => turns(asked.6.min(3)),
            6 => turns(asked.6.min(2)),
            _ => turns(asked.6),
        };
        demand(&format!("A{index}"), fabric, asked.5, shape(*asked, whys), turns)
    };
    asked.iter().enumerate().map(one).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_plan_holds_when_counted_again(asked in prop::collection::vec(asked(), 1..9), shrink in 0u8..3) {
        let mut whys = Vec::new();
        let demands = demands(&asked, &mut whys);
        let mut cloths = [cloth("foam", 40.0, 1.0), cloth("night", 26.5, 0.0)];
        cloths[0].shrink = f64::from(shrink) * 0.02;
        let before = whys.clone();
        let cutting = plan_cutting(&demands, &[], &cloths, Length::fraction(1, 8), Measure::Inch, &mut whys);
        prop_assert_eq!(recount(&demands, &cloths, &cutting, &whys), Ok(()));
        // Asked again it answers the same.
        let mut again = before;
        let second = plan_cutting(&demands, &[], &cloths, Length::fraction(1, 8), Measure::Inch, &mut again);
        prop_assert_eq!(&cutting, &second);
        prop_assert_eq!(whys, again);
        // Only halves and quarters leave extras, and never a whole rectangle's worth.
        for (piece, extra) in &cutting.extra {
            let most = match demands.iter().find(|d| d.piece == *piece).unwrap().shape {
                DemandShape::Half { .. } => 1,
                DemandShape::Quarter { .. } => 3,
                _ => 0,
            };
            prop_assert!(*extra <= most);
        }
    }

    #[test]
    fn more_pieces_never_take_less_than_the_bound_of_fewer(asked in prop::collection::vec(asked(), 1..6)) {
        let mut whys = Vec::new();
        let mut demands = demands(&asked, &mut whys);
        let cloths = [cloth("foam", 40.0, 1.0), cloth("night", 26.5, 0.0)];
        let few = plan_cutting(&demands, &[], &cloths, Length::fraction(1, 8), Measure::Inch, &mut whys.clone());
        demands.iter_mut().for_each(|demand| demand.count *= 2);
        let many = plan_cutting(&demands, &[], &cloths, Length::fraction(1, 8), Measure::Inch, &mut whys);
        for (few, many) in few.bought.cloths.iter().zip(&many.bought.cloths) {
            prop_assert!(few.bound.len <= many.bound.len);
            prop_assert!(few.bound.len <= many.length.len);
        }
    }
}

#[test]
fn a_thousand_kinds_are_planned_in_reasonable_time() {
    // A fixed sequence (a linear congruence), so that every run is the same.
    let mut state = 12_345u64;
    let mut next = |from: i64, to: i64| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        from + ((state >> 33) as i64).rem_euclid(to - from)
    };
    let asked: Vec<Asked> = (0..1000)
        .map(|_| {
            let shape = next(0, 6) as u8;
            (
                shape,
                next(8, 100),
                next(8, 100),
                next(0, 60),
                next(-40, 40),
                next(1, 60) as u32,
                next(0, 3) as u8,
            )
        })
        .collect();
    let mut whys = Vec::new();
    let demands = demands(&asked, &mut whys);
    let cloths = [cloth("foam", 40.0, 1.0), cloth("night", 26.5, 0.0)];
    let begun = std::time::Instant::now();
    let cutting = plan_cutting(&demands, &[], &cloths, Length::fraction(1, 8), Measure::Inch, &mut whys);
    let taken = begun.elapsed();
    recount(&demands, &cloths, &cutting, &whys).unwrap();
    for cloth in &cutting.bought.cloths {
        println!(
            "{}: bought {:.1} in, bound {:.1} in",
            cloth.fabric,
            cloth.length.inches(),
            cloth.bound.inches()
        );
    }
    println!("{taken:?}");
    // Generous: the machine may be busy with other things.
    assert!(taken.as_secs() < 30, "{taken:?}");
}
