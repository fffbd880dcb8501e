//! Shape by shape: how pieces come off the strip, and what is refused.
#![allow(clippy::unwrap_used)] // A test may stop.

mod recount;

use cutting::{ClothNote, Cutting, plan_cutting};
use measure::{Length, Measure, Printed, Why};
use recipe::{Cut, Demand, DemandShape, Gives, Strip, Template, TemplateCorner, Turn};
use recount::{ALL_TURNS, cloth, demand, inches, recount, rectangle, size, used};
use terms::{FabricId, PieceId, Severity};

fn planned(demands: &[Demand], whys: &mut Vec<Why>) -> Cutting {
    let cloths = [cloth("foam", 40.0, 0.0)];
    let cutting = plan_cutting(demands, &[], &cloths, Length::fraction(1, 8), Measure::Inch, whys);
    recount(demands, &cloths, &cutting, whys).unwrap();
    cutting
}

fn strips(cutting: &Cutting) -> &[Strip] {
    &cutting.plan.cloths[0].strips
}

/// All cuts of a strip in order: along the lower edge, along the upper edge, and how what comes off lies (`None`:
/// waste).
fn cuts(strip: &Strip) -> Vec<(f64, f64, Option<Turn>)> {
    let lies = |cut: &Cut| match &cut.gives {
        Gives::Piece(piece) => Some(piece.turn),
        _ => None,
    };
    let mut all = Vec::new();
    for run in &strip.runs {
        for _ in 0..run.times {
            all.extend(
                run.cuts
                    .iter()
                    .map(|cut| (cut.lower.inches(), cut.upper.inches(), lies(cut))),
            );
        }
    }
    all
}

fn slant(height: f64, lower: f64, upper: f64, lead: f64, whys: &mut Vec<Why>) -> DemandShape {
    DemandShape::Slant {
        height: size(height, whys),
        lower: size(lower, whys),
        upper: size(upper, whys),
        lead: inches(lead),
        ruler: None,
    }
}

fn half(width: f64, height: f64, whys: &mut Vec<Why>) -> DemandShape {
    DemandShape::Half {
        width: size(width, whys),
        height: size(height, whys),
        rising: true,
    }
}

#[test]
fn odd_halves_and_quarters_leave_extras() {
    let mut whys = Vec::new();
    let quarter = DemandShape::Quarter {
        side: size(7.25, &mut whys),
    };
    let demands = [
        demand("A1", "foam", 7, half(3.875, 3.875, &mut whys), &ALL_TURNS),
        demand("A2", "foam", 5, quarter, &ALL_TURNS),
        demand("A3", "foam", 6, half(2.5, 4.5, &mut whys), &[Turn::As, Turn::Half]),
    ];
    let cutting = planned(&demands, &mut whys);
    assert_eq!(cutting.extra, [(PieceId::new("A1"), 1), (PieceId::new("A2"), 3)]);
}

#[test]
fn a_print_with_an_up_has_no_halves() {
    let mut whys = Vec::new();
    let quarter = DemandShape::Quarter {
        side: size(7.25, &mut whys),
    };
    let demands = [
        demand("A1", "foam", 4, half(3.875, 3.875, &mut whys), &[Turn::As]),
        demand("A2", "foam", 4, quarter, &[Turn::As, Turn::Half]),
        demand("A3", "foam", 4, rectangle(3.0, 4.0, &mut whys), &[Turn::As]),
    ];
    let cloths = [cloth("foam", 40.0, 0.0)];
    let cutting = plan_cutting(&demands, &[], &cloths, Length::fraction(1, 8), Measure::Inch, &mut whys);
    let codes: Vec<_> = cutting
        .findings
        .iter()
        .map(|f| (f.code, f.severity, f.place.to_string()))
        .collect();
    let refused = |piece: &str| ("print-needs-template", Severity::Stop, format!("piece {piece}"));
    assert_eq!(codes, [refused("A1"), refused("A2")]);
    // The rest is planned all the same.
    assert_eq!(used(&cutting, &cloths[0].fabric), Length::inches(4));
}

#[test]
fn head_to_tail_with_one_waste_cut_at_the_beginning() {
    // *derived*: a trapezoid 8 below, 4 above, 4 high, its left edge leaning 2 to the right.
    let mut whys = Vec::new();
    let demands = [demand(
        "A1",
        "foam",
        5,
        slant(4.0, 8.0, 4.0, 2.0, &mut whys),
        &ALL_TURNS,
    )];
    let cutting = planned(&demands, &mut whys);
    let one = (8.0, 4.0, Some(Turn::As));
    let other = (4.0, 8.0, Some(Turn::Half));
    assert_eq!(
        cuts(&strips(&cutting)[0]),
        [(0.0, 2.0, None), one, other, one, other, one]
    );
}

#[test]
fn a_line_leaning_back_begins_with_waste_on_the_lower_edge() {
    // *derived*: 4 below, 8 above, the left edge leaning 2 to the left; turned it leans 2 to the right: both ways begin
    // with 2 in of waste, and end alike for an even count.
    let mut whys = Vec::new();
    let demands = [demand(
        "A1",
        "foam",
        2,
        slant(4.0, 4.0, 8.0, -2.0, &mut whys),
        &ALL_TURNS,
    )];
    let cutting = planned(&demands, &mut whys);
    let all = cuts(&strips(&cutting)[0]);
    assert_eq!(
        all,
        [
            (2.0, 0.0, None),
            (4.0, 8.0, Some(Turn::As)),
            (8.0, 4.0, Some(Turn::Half))
        ]
    );
}

#[test]
fn triangles_with_an_upright_edge_need_no_waste() {
    // *derived*: 6 below, nothing above, upright at the left: two make a rectangle of 6; 40 in hold
    // 6 pairs (36 in), and a thirteenth would end at 42.
    let mut whys = Vec::new();
    let demands = [demand(
        "A1",
        "foam",
        12,
        slant(3.0, 6.0, 0.0, 0.0, &mut whys),
        &ALL_TURNS,
    )];
    let cutting = planned(&demands, &mut whys);
    let pair = [(6.0, 0.0, Some(Turn::As)), (0.0, 6.0, Some(Turn::Half))];
    assert_eq!(cuts(&strips(&cutting)[0]), pair.repeat(6));
    // Read as: six times over, these two cuts.
    assert_eq!(strips(&cutting)[0].runs.len(), 1);
    // The same with the upright edge at the right begins turned, so as to need no waste either.
    let demands = [demand(
        "A1",
        "foam",
        12,
        slant(3.0, 6.0, 0.0, 6.0, &mut whys),
        &ALL_TURNS,
    )];
    let all = planned(&demands, &mut whys);
    assert_eq!(
        cuts(&strips(&all)[0]),
        [(0.0, 6.0, Some(Turn::Half)), (6.0, 0.0, Some(Turn::As))].repeat(6)
    );
}

#[test]
fn parallelograms_follow_each_other_as_named() {
    // *derived*: a 45-degree diamond's strip: every cut leans alike.
    let mut whys = Vec::new();
    let demands = [demand(
        "A1",
        "foam",
        4,
        slant(3.0, 4.25, 4.25, 3.0, &mut whys),
        &ALL_TURNS,
    )];
    let cutting = planned(&demands, &mut whys);
    let mut wanted = vec![(0.0, 3.0, None)];
    wanted.extend([(4.25, 4.25, Some(Turn::As)); 4]);
    assert_eq!(cuts(&strips(&cutting)[0]), wanted);
}

#[test]
fn a_print_with_an_up_has_waste_between_slanted_pieces() {
    // *derived*: the trapezoid ends leaning 2 to the left and begins leaning 2 to the right: 4 in of waste on the upper
    // edge between any two.
    let mut whys = Vec::new();
    let demands = [demand(
        "A1",
        "foam",
        3,
        slant(4.0, 8.0, 4.0, 2.0, &mut whys),
        &[Turn::As],
    )];
    let cutting = planned(&demands, &mut whys);
    let (one, waste) = ((8.0, 4.0, Some(Turn::As)), (0.0, 4.0, None));
    assert_eq!(
        cuts(&strips(&cutting)[0]),
        [(0.0, 2.0, None), one, waste, one, waste, one]
    );
    // A right triangle's waste is the same at the beginning as between.
    let demands = [demand(
        "A1",
        "foam",
        3,
        slant(4.0, 4.0, 0.0, 4.0, &mut whys),
        &[Turn::As],
    )];
    let cutting = planned(&demands, &mut whys);
    assert_eq!(strips(&cutting)[0].runs.len(), 1);
}

#[test]
fn longer_than_the_cloth_is_wide() {
    let mut whys = Vec::new();
    // Laid along the selvedge it fits.
    let demands = [demand("A1", "foam", 1, rectangle(60.0, 4.0, &mut whys), &ALL_TURNS)];
    let cutting = planned(&demands, &mut whys);
    assert_eq!(strips(&cutting)[0].height.len, Length::inches(60));
    // Where it may not be turned, or is too large both ways, it is refused.
    let refused = [
        demand("A1", "foam", 1, rectangle(60.0, 4.0, &mut whys), &[Turn::As]),
        demand("A2", "foam", 1, rectangle(60.0, 41.0, &mut whys), &ALL_TURNS),
        demand("A3", "foam", 1, slant(4.0, 30.0, 30.0, 11.0, &mut whys), &ALL_TURNS),
        demand("A4", "foam", 1, half(40.125, 3.0, &mut whys), &ALL_TURNS),
    ];
    let cloths = [cloth("foam", 40.0, 0.0)];
    let cutting = plan_cutting(&refused, &[], &cloths, Length::fraction(1, 8), Measure::Inch, &mut whys);
    let codes: Vec<_> = cutting.findings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["wider-than-cloth"; 4]);
    assert_eq!(
        cutting.findings[0].sentence,
        "Piece A1 is 60 in wide and 4 in high; the cloth is usable over 40 in."
    );
    assert!(cutting.plan.cloths.is_empty() && cutting.bought.cloths.is_empty());
}

#[test]
fn both_ways_of_a_rectangle_together() {
    // *derived*: 100 of 2 1/2 x 4 1/2 from 40 in: 6 strips of 4 1/2 hold 96, one of 2 1/2 the other 4: 29 1/2 in; all
    // one way takes 31 1/2 or 32 1/2.
    let mut whys = Vec::new();
    let demands = [demand("A1", "foam", 100, rectangle(2.5, 4.5, &mut whys), &ALL_TURNS)];
    let cutting = planned(&demands, &mut whys);
    assert_eq!(used(&cutting, &FabricId::new("foam")), inches(29.5));
}

#[test]
fn what_is_left_of_a_strip_is_cut_into_lower_ones() {
    // *derived*: two 12 in squares leave 16 x 12 of their strip: 48 of 2 in squares fit there to the last.
    let mut whys = Vec::new();
    let demands = [
        demand("A1", "foam", 2, rectangle(12.0, 12.0, &mut whys), &ALL_TURNS),
        demand("A2", "foam", 48, rectangle(2.0, 2.0, &mut whys), &ALL_TURNS),
    ];
    let cutting = planned(&demands, &mut whys);
    assert_eq!(used(&cutting, &FabricId::new("foam")), Length::inches(12));
    let rest = &strips(&cutting)[0].rest;
    assert_eq!((rest.len(), rest[0].times, rest[0].runs[0].times), (1, 6, 8));
}

#[test]
fn rests_that_save_no_cloth_are_left_alone() {
    // *derived*: one 12 in square and 20 of 2 in: either way 14 in; the small ones have a strip of their own.
    let mut whys = Vec::new();
    let demands = [
        demand("A1", "foam", 3, rectangle(12.0, 12.0, &mut whys), &ALL_TURNS),
        demand("A2", "foam", 20, rectangle(2.0, 2.0, &mut whys), &ALL_TURNS),
    ];
    let cutting = planned(&demands, &mut whys);
    assert_eq!(used(&cutting, &FabricId::new("foam")), Length::inches(14));
    assert!(strips(&cutting).iter().all(|strip| strip.rest.is_empty()));
}

#[test]
fn templates_lie_in_rectangles_on_the_marks() {
    let mut whys = Vec::new();
    let corner = |x: f64, y: f64| TemplateCorner {
        right: Printed::of(inches(x)),
        up: Printed::of(inches(y)),
    };
    let corners = vec![corner(0.0, 0.0), corner(5.01, 0.0), corner(2.5, 3.3)];
    let shape = DemandShape::Template {
        template: Template {
            name: "T1".into(),
            corners,
            ..Template::default()
        },
    };
    let demands = [
        demand("A1", "foam", 8, shape.clone(), &ALL_TURNS),
        demand("A2", "foam", 2, shape, &[Turn::Half]),
    ];
    let cutting = planned(&demands, &mut whys);
    let first = &strips(&cutting)[0];
    assert_eq!(
        (first.height.inches(), first.runs[0].cuts[0].lower.inches()),
        (3.375, 5.125)
    );
    // One that may only lie turned is another print.
    let names: Vec<&str> = cutting.plan.templates.iter().map(|t| t.name.as_str()).collect();
    assert_eq!(names, ["T1", "T1 turned round"]);
}

#[test]
fn nonsense_is_refused_with_a_finding() {
    let mut whys = Vec::new();
    let demands = [
        demand("A1", "foam", 1, rectangle(0.0, 3.0, &mut whys), &ALL_TURNS),
        demand("A2", "foam", 1, rectangle(2.0, 3.0, &mut whys), &[]),
        demand("A3", "sea", 1, rectangle(2.0, 3.0, &mut whys), &ALL_TURNS),
        demand("A4", "sand", 1, rectangle(2.0, 3.0, &mut whys), &ALL_TURNS),
        demand("A5", "foam", u32::MAX, rectangle(20.0, 30.0, &mut whys), &ALL_TURNS),
        demand("A6", "foam", 1, slant(2.0, 0.0, 0.0, 1.0, &mut whys), &ALL_TURNS),
        demand("A7", "foam", 0, rectangle(2.0, 3.0, &mut whys), &ALL_TURNS),
    ];
    let cloths = [
        cloth("foam", 40.0, 0.0),
        ClothNote {
            usable: f64::NAN,
            ..cloth("sand", 40.0, 0.0)
        },
    ];
    let cutting = plan_cutting(&demands, &[], &cloths, Length::fraction(1, 8), Measure::Inch, &mut whys);
    let codes: Vec<_> = cutting.findings.iter().map(|f| f.code).collect();
    let no_size = "piece-without-size";
    assert_eq!(
        codes,
        [
            "cloth-unknown",
            no_size,
            no_size,
            no_size,
            "too-much-cloth",
            "cloth-unusable"
        ]
    );
}

#[test]
fn metric_plans_are_on_whole_millimetres() {
    // *derived*: 105 cm usable, 6.5 cm squares, 16 a strip; 40 take 3 strips, 19.5 cm, and
    // 2.5 cm for squaring up: 30 cm are bought.
    let mut whys = Vec::new();
    let cloths = [ClothNote {
        step: 10.0 / 2.54,
        ..cloth("foam", 105.0 / 2.54, 2.5 / 2.54)
    }];
    let demands = [demand(
        "A1",
        "foam",
        40,
        rectangle(6.5 / 2.54, 6.5 / 2.54, &mut whys),
        &ALL_TURNS,
    )];
    let cutting = plan_cutting(
        &demands,
        &[],
        &cloths,
        Length::tenths_of_mm(25),
        Measure::Metric,
        &mut whys,
    );
    recount(&demands, &cloths, &cutting, &whys).unwrap();
    assert_eq!(cutting.bought.cloths[0].length.len, Length::tenths_of_mm(3000));
    assert_eq!(cutting.plan.cloths[0].usable.len, Length::tenths_of_mm(10_500));
}
