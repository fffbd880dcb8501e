//! What to buy: the strips one above another, squaring up and shrinkage on top, in the shop's steps.

use crate::bound::Least;
use crate::kinds::{Cloth, keep};
use crate::pack::Row;
use measure::{Length, UNITS_PER_INCH, Way, Why};
use recipe::{Band, BoughtCloth, Size};
use std::collections::BTreeMap;

/// No more than this is sold of one cloth, in units: 10 000 yards.
pub(crate) const LONGEST: i128 = 360_000 * UNITS_PER_INCH as i128;

/// The cloth as bought. The numbers are those of their derivations, so that both are the same to the last unit.
pub(crate) fn buy(cloth: &Cloth, rows: &[Row], bands: &[&Band], least: Least, whys: &mut Vec<Why>) -> BoughtCloth {
    let mut by_height: BTreeMap<i64, i64> = BTreeMap::new();
    for row in rows {
        *by_height.entry(row.height).or_default() += i64::from(row.times);
    }
    let mut terms = vec![squaring_up(cloth)];
    for (height, count) in by_height.into_iter().rev() {
        let height = Why::given("strip's height", Length::from_units(height).to_inches());
        terms.push(Why::Product(vec![
            Why::Count {
                what: "strips".into(),
                count,
            },
            height,
        ]));
    }
    let whole: Vec<Why> = bands
        .iter()
        .filter(|band| band.count > 0)
        .map(|band| {
            let count = Why::Count {
                what: "times".into(),
                count: i64::from(band.count),
            };
            let height = Why::given("height", band.height.len.to_inches());
            Why::Product(vec![count, height]).named(band.purpose.to_string())
        })
        .collect();
    terms.extend(whole);
    let used = Why::Sum(terms).named("cloth used");
    let length = sized(grown(used, cloth.shrink).to_mark(cloth.step, Way::Up), whys);
    let mut bound = vec![squaring_up(cloth), least.why.named("the least the pieces take")];
    bound.extend(bands.iter().map(|band| {
        let what = format!("the least the {} takes", band.purpose);
        Why::given(what, band.least.to_inches())
    }));
    let bound = Why::Sum(bound);
    let bound = grown(bound, cloth.shrink).to_mark(Length::from_units(1), Way::Down);
    BoughtCloth {
        fabric: cloth.fabric.clone(),
        length,
        usable: usable(cloth, whys),
        bound: sized(bound, whys),
    }
}

/// The usable width as a size.
pub(crate) fn usable(cloth: &Cloth, whys: &mut Vec<Why>) -> Size {
    let len = Length::from_units(cloth.usable);
    keep(Why::given("usable width", len.to_inches()), len, whys)
}

/// Squaring up as a derivation.
pub(crate) fn squaring_up(cloth: &Cloth) -> Why {
    Why::given("squaring up", Length::from_units(cloth.square_up).to_inches())
}

/// What is cut from is what is left after the wash: the length bought, less the share lost.
fn grown(used: Why, shrink: f64) -> Why {
    if shrink <= 0.0 {
        return used;
    }
    let share = Why::given("share lost in the wash", shrink);
    let kept = Why::Less(
        Box::new(Why::Count {
            what: "whole".into(),
            count: 1,
        }),
        Box::new(share),
    );
    Why::Quotient(Box::new(used), Box::new(kept))
}

fn sized(why: Why, whys: &mut Vec<Why>) -> Size {
    // Only lengths under [`LONGEST`] come here, so there is always a value.
    let len = why.length().unwrap_or_default();
    keep(why, len, whys)
}
