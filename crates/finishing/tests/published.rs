//! Outside checks of what comes after the top: worked examples and tables that were published, each named beside its figures.
#![allow(clippy::unwrap_used)] // A test may stop.

use finishing::{
    BEDS, BackingWish, BattingWish, BindingWish, Cloth, Lay, PACKAGES, Top, Wishes, dressed, least_side, plan,
};
use measure::{Length, Measure};
use terms::FabricId;

fn cloth(usable: f64) -> Vec<Cloth> {
    vec![Cloth {
        fabric: FabricId::new("sea"),
        usable,
        longest: None,
        step: 4.5,
        price: None,
    }]
}

/// Strips for the binding of a top, and how long they are once joined.
fn binding((width, height): (f64, f64), strip: f64, usable: f64) -> (u32, f64) {
    let wishes = Wishes {
        binding: Some(BindingWish {
            fabric: FabricId::new("sea"),
            several: Vec::new(),
            strip,
            bias: false,
        }),
        ..Wishes::default()
    };
    let done = plan(
        Top { width, height },
        &wishes,
        &cloth(usable),
        0.25,
        Measure::Inch,
        &mut Vec::new(),
    );
    assert!(done.findings.is_empty(), "{:?}", done.findings);
    (done.bands[0].count, done.binding.unwrap().there.len.to_inches())
}

#[test]
fn a_diagonal_join_takes_the_width_of_the_strip() {
    // "What is lost", on diagonal strip joins, published on the web, 2012: two strips of 3 × 10 in joined are 17 in long, two of
    // 1 1/2 × 20 in are 38 1/2 in. (Its third, 5 × 7 in, is no binding: a strip here is twice as long as wide at least.)
    // A top that is 3 in round half way takes 16 in with the 10 in over: two strips of 10 in.
    assert_eq!(binding((2.0, 1.0), 3.0, 10.0), (2, 17.0));
    assert_eq!(binding((8.0, 5.0), 1.5, 20.0), (2, 38.5));
}

#[test]
fn strips_of_published_bindings() {
    // "How many strips to bind a quilt", published on the web, 2013: 50 × 60 in, each strip of 40 in less 2 in for its join:
    // 220 / 38 = 5.79, so 6
    assert_eq!(binding((50.0, 60.0), 2.0, 40.0).0, 6);
    // "How to figure binding", published on the web, 2009: 40 × 50 in, 180 / 40 = 4.5, so 5, joined 5 · 40 − 4 · 2 1/2 = 190 in
    assert_eq!(binding((40.0, 50.0), 2.5, 40.0), (5, 190.0));
    // "How to make double-fold flange", published on the web, 2019: 54 × 60 in and 10 in over are 238 in; 238 / 42 = 5.6, so 6
    assert_eq!(binding((54.0, 60.0), 2.5, 42.0).0, 6);
}

#[test]
fn bias_squares_of_published_formulas() {
    // "Continuous bias from a square", published on the web, no year given: a 20 in square gives 200 in of 2 in strip; "How much
    // bias from a square", a sewing newsletter, 2006: 36 in gives 648 in; questions and answers, no year given: 12 in gives 72 in
    for (side, strip, length) in [(20.0, 2.0, 200.0), (36.0, 2.0, 648.0), (12.0, 2.0, 72.0)] {
        assert!((least_side(length, strip) - side).abs() < 1e-9);
    }
    // The same pages: 250 in of 2 in strip take a square of 22.36, so 23 in; 100 in of 3 1/2 in one of 18.71, so 19 in. Seams take
    // more: our squares are never smaller, and at most 4 in larger.
    for (needed, strip, printed) in [(250.0, 2.0, 23.0), (100.0, 3.5, 19.0), (200.0, 2.0, 20.0)] {
        let (square, there) = finishing::bias_square(needed, strip, 0.25, &cloth(40.0)[0], &mut Vec::new()).unwrap();
        let side = square.side.len.to_inches();
        assert!(there.len.to_inches() + 0.125 >= needed);
        assert!(
            (printed..=printed + 4.0).contains(&side),
            "{needed} in of {strip} in: {side}"
        );
    }
}

fn backing((width, height): (f64, f64), over: f64, usable: f64) -> finishing::Backing {
    let wishes = Wishes {
        backing: Some(BackingWish {
            fabric: FabricId::new("sea"),
            over,
            wide: None,
        }),
        ..Wishes::default()
    };
    let top = Top { width, height };
    let done = plan(top, &wishes, &cloth(usable), 0.25, Measure::Inch, &mut Vec::new());
    done.backing.unwrap()
}

#[test]
fn backs_of_published_examples() {
    // "Quilt backing", published on the web, 2011: 55 × 70 and 4 in on each side: 63 × 78. "Layer and quilt", 2015: 50 × 50 and 3 in:
    // 56 × 56. "How to pin baste a quilt", 2019: 4 in on each side make it 8 in wider and 8 in longer.
    for (top, over, back) in [
        ((55.0, 70.0), 4.0, (63, 78)),
        ((50.0, 50.0), 3.0, (56, 56)),
        ((40.0, 52.0), 4.0, (48, 60)),
    ] {
        let backing = backing(top, over, 40.0);
        let size = (backing.width.len, backing.height.len);
        assert_eq!(size, (Length::inches(back.0), Length::inches(back.1)));
    }
    // A worked example published on the web, 2015: a back of 64 to 65 by 77 to 78 in: 130 in, 3 5/8 yd, with its seam across; 156 in,
    // 4 1/3 yd (4 3/8 in eighths), upright.
    let backing = backing((57.0, 70.0), 4.0, 42.0);
    assert_eq!(
        (backing.way.lay, backing.way.cloth.len),
        (Lay::Sideways, Length::fraction(29 * 36, 8))
    );
    let upright = backing.others.iter().find(|way| way.lay == Lay::Upright).unwrap();
    assert_eq!(upright.cloth.len, Length::fraction(35 * 36, 8));
}

#[test]
fn a_back_is_of_the_order_of_printed_estimates() {
    // "Quilt backing", a quilters' club, no year given, cloth of 44 in: twin 5 1/4 yd, queen 7 1/2, king 8. The beds' quilts with 12 in
    // to hang down and a back 3 in larger; sizes are not printed with the estimates, so within 1 yd.
    for (bed, yards) in [("twin", 5.25), ("queen", 7.5), ("king", 8.0)] {
        let bed = BEDS.iter().find(|b| b.region == "US" && b.name == bed).unwrap();
        let top = (bed.width + 24.0, bed.length + 12.0);
        let cloth = backing(top, 3.0, 42.0).way.cloth.len.to_inches() / 36.0;
        assert!((cloth - yards).abs() <= 1.0, "{}: {cloth} yd", bed.name);
    }
}

/// Mattresses as published: region, name, width, length, inches to a unit. "Standard mattress sizes", published on the web, 2010;
/// "Bed sizes: UK, European, US", published on the web, no year given.
const MATTRESSES: [(&str, &str, f64, f64, f64); 22] = [
    ("US", "crib", 28.0, 52.0, 1.0),
    ("US", "twin", 39.0, 75.0, 1.0),
    ("US", "full", 54.0, 75.0, 1.0),
    ("US", "queen", 60.0, 80.0, 1.0),
    ("US", "king", 76.0, 80.0, 1.0),
    ("US", "California king", 72.0, 84.0, 1.0),
    ("US", "extra-long twin", 39.0, 80.0, 1.0),
    ("UK", "small single", 75.0, 190.0, 2.54),
    ("UK", "single", 90.0, 190.0, 2.54),
    ("UK", "small double", 120.0, 190.0, 2.54),
    ("UK", "double", 135.0, 190.0, 2.54),
    ("UK", "king", 150.0, 200.0, 2.54),
    ("UK", "super king", 180.0, 200.0, 2.54),
    ("EU", "small single", 80.0, 200.0, 2.54),
    ("EU", "single", 90.0, 200.0, 2.54),
    ("EU", "double", 140.0, 200.0, 2.54),
    ("EU", "king", 160.0, 200.0, 2.54),
    ("EU", "super king", 180.0, 200.0, 2.54),
    // "Mattress size dimensions (actual sizes)", published on the web, no year given: there is no binding standard for adults' beds.
    ("US", "twin", 38.0, 74.5, 1.0),
    ("US", "full", 53.0, 74.5, 1.0),
    ("US", "queen", 60.0, 79.5, 1.0),
    ("US", "king", 76.0, 79.5, 1.0),
];

#[test]
fn beds_are_as_long_and_wide_as_the_published_lists() {
    for (region, name, width, length, unit) in MATTRESSES {
        let bed = BEDS.iter().find(|b| (b.region, b.name) == (region, name)).unwrap();
        // Lists and actual sizes differ by up to an inch; centimetres are exact.
        let within = if unit == 1.0 { 1.0 } else { 1.0e-9 };
        let inches = |n: f64| if unit == 1.0 { n } else { n / 2.54 };
        assert!((bed.width - inches(width)).abs() <= within, "{region} {name}");
        assert!((bed.length - inches(length)).abs() <= within, "{region} {name}");
    }
    let own: std::collections::BTreeSet<(&str, &str)> = MATTRESSES.iter().map(|m| (m.0, m.1)).collect();
    assert_eq!(own.len(), BEDS.len(), "every bed is checked");
}

#[test]
fn the_crib_lies_within_the_regulation() {
    // 16 CFR 1219 with ASTM F1169, full-size baby cribs: inside 28 ± 5/8 by 52 3/8 ± 5/8 in (71 × 133 ± 1.6 cm); the mattress at least
    // 27 1/4 by 51 1/4 in.
    let crib = BEDS.iter().find(|bed| bed.name == "crib").unwrap();
    assert!((crib.width - 28.0).abs() <= 0.625 && (crib.length - 52.375).abs() <= 0.625);
    assert!(crib.width >= 27.25 && crib.length >= 51.25);
    assert!((crib.width * 2.54 - 71.0).abs() <= 1.6 && (crib.length * 2.54 - 133.0).abs() <= 1.6);
}

#[test]
fn quilts_of_old_and_new_lists_dress_their_beds() {
    // "Mattress sizes and drop", published on the web, no year given: a twin of 39 × 75 in with 12 in on three sides: 63 × 87
    let on = |bed: &str, w: f64, h: f64| {
        dressed(w, h)
            .into_iter()
            .find(|it| it.bed.name == bed && it.bed.region == "US")
    };
    let twin = on("twin", 63.0, 87.0).unwrap();
    assert_eq!((twin.side, twin.foot), (12.0, 12.0));
    // With 15 in more at the head to cover the pillow (the same page, and common practice) it still dresses it.
    assert!(on("twin", 63.0, 102.0).is_some());
    // A patchwork booklet of about 1931: full beds take quilts 72 to 90 in wide and 90 to 108 in long, twins 68 in wide at least.
    for (w, h) in [(72.0, 90.0), (81.0, 96.0), (90.0, 108.0)] {
        assert!(on("full", w, h).is_some(), "{w} x {h}");
    }
    assert!(on("twin", 68.0, 90.0).is_some());
}

#[test]
fn batting_is_packaged_as_two_charts_have_it() {
    // "Common quilt and batting sizes", 2012, and "Standard packaged batting sizes", no year given, both published on the web; the
    // throw is common practice.
    let charts = [
        ("craft", 36.0, 45.0),
        ("crib", 45.0, 60.0),
        ("throw", 60.0, 60.0),
        ("twin", 72.0, 90.0),
        ("full", 81.0, 96.0),
        ("queen", 90.0, 108.0),
        ("king", 120.0, 120.0),
    ];
    assert_eq!(PACKAGES.map(|p| (p.name, p.width, p.length)), charts);
    // "Standard quilt sizes", published on the web, 2012, has three of them otherwise: never more than 4 in.
    for (name, width, length) in [("craft", 34.0, 45.0), ("full", 84.0, 96.0), ("king", 124.0, 120.0)] {
        let ours = PACKAGES.iter().find(|p| p.name == name).unwrap();
        assert!((ours.width - width).abs() <= 4.0 && ours.length == length, "{name}");
    }
    // Every package is taken for what it just covers, with 4 in on each side, either way round, and not for a quarter inch more
    // of both.
    for package in PACKAGES {
        let taken = |w: f64, h: f64| {
            let wishes = Wishes {
                batting: Some(BattingWish { over: 4.0 }),
                ..Wishes::default()
            };
            let top = Top { width: w, height: h };
            let done = plan(top, &wishes, &[], 0.25, Measure::Inch, &mut Vec::new());
            done.batting.unwrap().package.map(|p| p.name)
        };
        let (w, h) = (package.width - 8.0, package.length - 8.0);
        assert_eq!(taken(w, h), Some(package.name));
        assert_eq!(taken(h, w), Some(package.name));
        assert_ne!(taken(w + 0.25, h + 0.25), Some(package.name));
    }
}
