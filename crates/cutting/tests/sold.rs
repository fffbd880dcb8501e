//! Cloth sold cut: every plan holds when counted again, no strip is cut from cloth that is not there, and the counts of published
//! charts come out as one piece.
#![allow(clippy::unwrap_used)] // A test may stop.

mod recount;

use cutting::{ClothNote, Cutting, SoldCut, plan_cutting};
use measure::{Length, Measure, Why, parse_inches};
use proptest::prelude::*;
use recipe::{Band, CutForm, Demand, DemandShape, Purpose, Size};
use recount::{ALL_TURNS, cloth, demand, inches, recount, rectangle};
use terms::FabricId;

/// A cloth sold in pieces of this form and length.
fn sold(form: CutForm, usable: f64, length: f64, square_up: f64) -> ClothNote {
    ClothNote {
        cut: Some(SoldCut { form, length }),
        ..cloth("ground", usable, square_up)
    }
}

fn planned(demands: &[Demand], bands: &[Band], note: &ClothNote, whys: &mut Vec<Why>) -> Cutting {
    plan_cutting(
        demands,
        bands,
        std::slice::from_ref(note),
        Length::fraction(1, 8),
        Measure::Inch,
        whys,
    )
}

/// How many pieces are bought, and the fewest there could be.
fn pieces(cutting: &Cutting) -> (u32, u32) {
    let pieces = cutting.bought.cloths[0].pieces.unwrap();
    (pieces.count, pieces.least)
}

/// Pieces of cloth for so many squares, and the fewest there could be.
fn for_squares(side: f64, count: u32, note: &ClothNote) -> (u32, u32) {
    let mut whys = Vec::new();
    let demands = [demand(
        "A1",
        "ground",
        count,
        rectangle(side, side, &mut whys),
        &ALL_TURNS,
    )];
    let cutting = planned(&demands, &[], note, &mut whys);
    recount(&demands, std::slice::from_ref(note), &cutting, &whys).unwrap();
    pieces(&cutting)
}

#[test]
fn a_fat_quarter_gives_the_squares_of_the_charts() {
    // Squares from a fat quarter of 18 x 22 in, published on the web, 2002, recomputed: so many come from one, one more takes two,
    // and thrice as many three.
    let note = sold(CutForm::FatQuarter, 22.0, 18.0, 0.0);
    let chart = include_str!("../../../tests/outside/data/squares_per_fat_quarter.csv");
    let mut rows = 0;
    for line in chart.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let (square, count) = line.split_once(',').unwrap();
        let (square, count) = (parse_inches(square, 1.0).unwrap(), count.trim().parse::<u32>().unwrap());
        assert_eq!(for_squares(square, count, &note).0, 1, "{count} of {square} in");
        assert_eq!(
            for_squares(square, count + 1, &note).0,
            2,
            "{count} and one of {square} in"
        );
        assert_eq!(
            for_squares(square, 3 * count, &note).0,
            3,
            "thrice {count} of {square} in"
        );
        rows += 1;
    }
    assert!(rows >= 10);
    // The same page prints 50 squares of 2 1/2 in from a fat quarter; geometry gives 56 (7 × 8).
    assert_eq!(for_squares(2.5, 56, &note), (1, 1));
}

#[test]
fn squared_up_and_less_its_selvedge_it_gives_fewer() {
    // *derived*: 21 in between selvedge and cut edge hold eight squares of 2 1/2 in, 17 1/2 in seven rows: still 56; of 3 1/2 in six
    // and five rows, 30; of 4 1/2 in four by three, 12 (the full 18 x 22 would hold 16)
    let note = sold(CutForm::FatQuarter, 21.0, 18.0, 0.5);
    for (side, count) in [(2.5, 56), (3.5, 30), (4.5, 12)] {
        assert_eq!(for_squares(side, count, &note).0, 1, "{side}");
        assert_eq!(for_squares(side, count + 1, &note).0, 2, "{side}");
    }
    // Metric, common practice: 50 x 55 cm; of 10 cm squares four by five, 20, where 49 cm are left
    let cm = |length: f64| length / 2.54;
    let metric = sold(CutForm::FatQuarter, cm(52.5), cm(50.0), cm(1.0));
    assert_eq!(for_squares(cm(10.0), 20, &metric).0, 1);
    assert_eq!(for_squares(cm(10.0), 21, &metric).0, 2);
}

#[test]
fn cut_strips_and_squares_hold_what_is_as_large_as_they_are() {
    // *derived*: sixteen squares of 2 1/2 in from a strip 40 in long, nothing lost; forty strips are a set as they are sold (4-H fair
    // books of a university extension, Nebraska)
    let strips = sold(CutForm::Strips, 40.0, 2.5, 0.0);
    assert_eq!(for_squares(2.5, 16 * 40, &strips), (40, 40));
    assert_eq!(for_squares(2.5, 16 * 40 + 1, &strips), (41, 41));
    // *derived*: four squares of 2 1/2 in from a square of 5 in, and one of 5 in from another
    let squares = sold(CutForm::Squares, 5.0, 5.0, 0.0);
    assert_eq!(for_squares(2.5, 42 * 4, &squares), (42, 42));
    let mut whys = Vec::new();
    let demands = [
        demand("A1", "ground", 8, rectangle(2.5, 2.5, &mut whys), &ALL_TURNS),
        demand("A2", "ground", 3, rectangle(5.0, 5.0, &mut whys), &ALL_TURNS),
        demand("A3", "ground", 2, rectangle(5.0, 2.5, &mut whys), &ALL_TURNS),
    ];
    let cutting = planned(&demands, &[], &squares, &mut whys);
    recount(&demands, std::slice::from_ref(&squares), &cutting, &whys).unwrap();
    assert_eq!(pieces(&cutting), (6, 6));
}

#[test]
fn what_does_not_fit_is_told_with_what_there_is() {
    let mut whys = Vec::new();
    let demands = [
        demand("A1", "ground", 2, rectangle(20.0, 18.0, &mut whys), &ALL_TURNS),
        demand("A2", "ground", 2, rectangle(20.0, 17.0, &mut whys), &ALL_TURNS),
        // It may lie one way only, and that way it is too high.
        demand("A3", "ground", 1, rectangle(17.0, 20.0, &mut whys), &ALL_TURNS[..1]),
    ];
    let note = sold(CutForm::FatQuarter, 21.0, 18.0, 0.5);
    let cutting = planned(&demands, &[], &note, &mut whys);
    let codes: Vec<&str> = cutting.findings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["larger-than-sold"; 2]);
    let said = cutting.findings[0].to_string();
    for words in ["A1", "20 in", "18 in", "fat quarter", "21 in across", "17 1/2 in along"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert!(!cutting.findings[0].mend.is_empty());
    assert_eq!(pieces(&cutting), (2, 2));
}

#[test]
fn the_wash_is_taken_off_each_piece() {
    // *derived*: 18 in less 5 % are 17.1 in; squared up by half an inch four rows of 4 in, not of 4 1/4
    let note = ClothNote {
        shrink: 0.05,
        ..sold(CutForm::FatQuarter, 21.0, 18.0, 0.5)
    };
    assert_eq!(for_squares(4.0, 20, &note).0, 1);
    assert_eq!(for_squares(4.25, 13, &note).0, 2);
    // A strip sold at 2 1/2 in shrinks below 2 1/2 in.
    let strips = ClothNote {
        shrink: 0.02,
        ..sold(CutForm::Strips, 40.0, 2.5, 0.0)
    };
    let mut whys = Vec::new();
    let demands = [demand("A1", "ground", 2, rectangle(2.5, 2.5, &mut whys), &ALL_TURNS)];
    let cutting = planned(&demands, &[], &strips, &mut whys);
    assert_eq!(cutting.findings[0].code, "larger-than-sold");
}

#[test]
fn bands_lie_in_the_pieces_or_are_told() {
    let band = |height: f64, count: u32, purpose: Purpose| Band {
        fabric: FabricId::new("ground"),
        height: Size::bare(inches(height)),
        count,
        purpose,
        least: Length::ZERO,
    };
    let note = sold(CutForm::FatQuarter, 21.0, 18.0, 0.5);
    let mut whys = Vec::new();
    // *derived*: 17 1/2 in hold seven binding strips of 2 1/4 in and one more strip of 1 1/2 in
    let demands = [demand("A1", "ground", 28, rectangle(1.5, 1.5, &mut whys), &ALL_TURNS)];
    let cutting = planned(&demands, &[band(2.25, 14, Purpose::Binding)], &note, &mut whys);
    assert!(cutting.findings.is_empty());
    assert_eq!(pieces(&cutting).0, 2);
    let kept: u32 = (cutting.plan.cloths.iter())
        .flat_map(|plan| plan.strips.iter().map(|s| (s, plan.times())))
        .filter(|(s, _)| s.purpose == Some(Purpose::Binding))
        .map(|(s, times)| s.times * times)
        .sum();
    assert_eq!(kept, 14);
    // A back is cut in whole lengths.
    let cutting = planned(&[], &[band(78.0, 2, Purpose::Backing)], &note, &mut whys);
    assert_eq!(cutting.findings[0].code, "larger-than-sold");
    assert!(cutting.bought.cloths.is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_plan_in_pieces_holds_when_counted_again(
        asked in prop::collection::vec((0u8..4, 8i64..80, 8i64..80, 1u32..60), 1..7),
        form in 0usize..4,
        shrink in 0u8..3,
    ) {
        let mut whys = Vec::new();
        let forms = [
            sold(CutForm::FatQuarter, 21.0, 18.0, 0.5),
            sold(CutForm::FatEighth, 22.0, 9.0, 0.0),
            sold(CutForm::Strips, 40.0, 5.0, 0.0),
            sold(CutForm::Squares, 10.0, 10.0, 0.0),
        ];
        let note = ClothNote { shrink: f64::from(shrink) * 0.02, ..forms[form].clone() };
        // In eighths of an inch, as large as a piece can hold either way.
        let room = note.cut.unwrap().length * (1.0 - note.shrink) - note.square_up;
        let largest = (note.usable.min(room) * 8.0) as i64;
        let demands: Vec<Demand> = asked
            .iter()
            .enumerate()
            .map(|(i, &(shape, w, h, count))| {
                let [w, h] = [w, h].map(|n| recount::size(n.min(largest) as f64 / 8.0, &mut whys));
                let shape = match shape {
                    0 | 1 => DemandShape::Rectangle { width: w, height: h },
                    2 => DemandShape::Half { width: w, height: h, rising: true },
                    _ => DemandShape::Quarter { side: w },
                };
                demand(&format!("A{i}"), "ground", count, shape, &ALL_TURNS)
            })
            .collect();
        let cutting = planned(&demands, &[], &note, &mut whys);
        prop_assert_eq!(recount(&demands, std::slice::from_ref(&note), &cutting, &whys), Ok(()));
    }
}
