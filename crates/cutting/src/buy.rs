//! What to buy: the strips one above another, squaring up and shrinkage on top, in the shop's steps.

use crate::bound::Least;
use crate::kinds::{Cloth, SoldPiece, keep};
use crate::pack::Row;
use measure::{Length, UNITS_PER_INCH, Way, Why};
use recipe::{Band, BoughtCloth, BoughtPieces, CutForm, Size};
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
        pieces: None,
    }
}

/// A cloth sold cut, by the piece. No layout does with fewer pieces than the bound's length takes when pieces of cloth lie end to
/// end without a gap.
pub(crate) fn buy_pieces(
    cloth: &Cloth,
    sold: SoldPiece,
    count: u64,
    bands: &[&Band],
    least: Least,
    whys: &mut Vec<Why>,
) -> BoughtCloth {
    let count = u32::try_from(count).unwrap_or(u32::MAX);
    let mut terms = vec![least.why.named("the least the pieces take")];
    terms.extend(bands.iter().map(|band| {
        let what = format!("the least the {} takes", band.purpose);
        Why::given(what, band.least.to_inches())
    }));
    let room = Why::given("room for strips in one", Length::from_units(sold.room).to_inches());
    // Counts are put up to the next whole one like lengths to the next inch.
    let fewest = Why::Quotient(Box::new(Why::Sum(terms)), Box::new(room)).to_mark(Length::inches(1), Way::Up);
    let least = (fewest.value() as u32).max(1);
    let each = || Why::given(format!("one {} as sold", sold.form.one()), sold.each.to_inches());
    let many = Why::Count {
        what: sold.form.several().into(),
        count: i64::from(count),
    };
    let named = fewest.named(format!("the fewest {}", sold.form.several()));
    BoughtCloth {
        fabric: cloth.fabric.clone(),
        length: sized(Why::Product(vec![many, each()]), whys),
        usable: usable(cloth, whys),
        bound: sized(Why::Product(vec![named, each()]), whys),
        pieces: Some(BoughtPieces {
            form: sold.form,
            count,
            least,
            each: keep(each(), sold.each, whys),
        }),
    }
}

/// What there is of a piece after the wash.
pub(crate) fn washed(cloth: &Cloth, sold: SoldPiece, whys: &mut Vec<Why>) -> Size {
    keep(
        left_of(sold.form, sold.each, cloth.shrink),
        Length::from_units(sold.washed),
        whys,
    )
}

/// What the wash leaves of a piece as sold: what is not there cannot be cut from, so down to a whole unit.
pub(crate) fn left_of(form: CutForm, each: Length, shrink: f64) -> Why {
    let each = Why::given(format!("one {} as sold", form.one()), each.to_inches());
    match kept(shrink) {
        None => each,
        Some(kept) => Why::Product(vec![each, kept]).to_mark(Length::from_units(1), Way::Down),
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
    match kept(shrink) {
        None => used,
        Some(kept) => Why::Quotient(Box::new(used), Box::new(kept)),
    }
}

/// The share of a length that is left after the wash, where anything is lost.
fn kept(shrink: f64) -> Option<Why> {
    let whole = Why::Count {
        what: "whole".into(),
        count: 1,
    };
    let share = Why::given("share lost in the wash", shrink);
    (shrink > 0.0).then(|| Why::Less(Box::new(whole), Box::new(share)))
}

fn sized(why: Why, whys: &mut Vec<Why>) -> Size {
    // Only lengths under [`LONGEST`] come here, so there is always a value.
    let len = why.length().unwrap_or_default();
    keep(why, len, whys)
}
