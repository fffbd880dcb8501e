//! The back: lengths of cloth sewn side by side, upright or sideways, whichever takes less; or one piece of wide cloth.

use crate::derive::{size, up_to_whole, whole, whole_mark};
use crate::{Cloth, Top, least, too_narrow};
use measure::{Length, Measure, Way, Why};
use recipe::{Band, Purpose, Size};
use terms::{FabricId, Finding, Place};

/// Seam between the lengths, inches: half an inch, so that it holds when the selvedges are cut off (common practice).
const SEAM: f64 = 0.5;

/// Most lengths of a back; a quilt under 1000 in of cloth wider than 10 in needs no more.
const MOST: u32 = 100;

/// Cloth made wide enough for a back in one piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WideCloth {
    /// Inches between its selvedges.
    pub usable: f64,
    /// Price of a yard or metre.
    pub price: Option<f64>,
}

/// What is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct BackingWish {
    /// Its cloth.
    pub fabric: FabricId,
    /// How far it reaches beyond the top on each side, inches.
    pub over: f64,
    /// A wide cloth that may be taken in its place.
    pub wide: Option<WideCloth>,
}

/// How the lengths run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lay {
    /// From top to bottom.
    Upright,
    /// From side to side.
    Sideways,
    /// One piece of wide cloth, its selvedges at the sides.
    Wide,
    /// One piece of wide cloth, its selvedges at top and bottom.
    WideSideways,
}

/// One way to make the back.
#[derive(Clone, Debug, PartialEq)]
pub struct BackingWay {
    /// How the lengths run.
    pub lay: Lay,
    /// How many.
    pub lengths: u32,
    /// How long each is cut.
    pub each: Size,
    /// Cloth in all, in the shop's steps (squaring up and the wash not counted).
    pub cloth: Size,
    /// What it costs, where the price is known.
    pub price: Option<f64>,
}

/// The back in figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Backing {
    /// Its cloth.
    pub fabric: FabricId,
    /// How wide it must be.
    pub width: Size,
    /// How high.
    pub height: Size,
    /// Between the selvedges of the cloth taken.
    pub usable: Size,
    /// Seam between the lengths.
    pub seam: Size,
    /// The way taken.
    pub way: BackingWay,
    /// The others, the cheapest first.
    pub others: Vec<BackingWay>,
}

pub(crate) fn plan(
    top: Top,
    wish: &BackingWish,
    cloth: &Cloth,
    measure: Measure,
    whys: &mut Vec<Why>,
) -> Result<(Backing, Option<Band>), Box<Finding>> {
    let beyond = |what: &str, inches: f64| {
        Why::Sum(vec![
            Why::given(what, inches),
            Why::given("beyond the top, each side", wish.over).times(2, 1, 1),
        ])
    };
    let mark = whole_mark(measure);
    let across = beyond("finished width", top.width).to_mark(mark, Way::Up);
    let down = beyond("finished height", top.height).to_mark(mark, Way::Up);
    if cloth.usable <= 2.0 * SEAM + 1.0 {
        return Err(too_narrow("backing", &wish.fabric, cloth.usable, 2.0 * SEAM + 1.0));
    }
    let width = size(across.clone(), whys);
    let height = size(down.clone(), whys);
    let step = Length::nearest(cloth.step)
        .filter(|step| *step > Length::ZERO)
        .unwrap_or(mark);
    let money = |price: Option<f64>, length: Size| {
        let unit = match measure {
            Measure::Inch => 36.0,
            Measure::Metric => 100.0 / 2.54,
        };
        price.map(|price| price * length.len.to_inches() / unit)
    };
    let mut ways = Vec::new();
    for (lay, over, along) in [(Lay::Upright, &across, &down), (Lay::Sideways, &down, &across)] {
        let count = lengths(over, cloth.usable);
        let lengths = whole(&count).max(1);
        if lengths > MOST {
            continue;
        }
        let each = size(along.clone().named("length of each"), whys);
        let all = Why::Product(vec![count.named("lengths"), along.clone()]).to_mark(step, Way::Up);
        let all = size(all, whys);
        ways.push(BackingWay {
            lay,
            lengths,
            each,
            cloth: all,
            price: money(cloth.price, all),
        });
    }
    if let Some(wide) = wish.wide {
        let one = [(Lay::Wide, &across, &down), (Lay::WideSideways, &down, &across)];
        for (lay, _, along) in one
            .into_iter()
            .filter(|(_, over, _)| over.value() <= wide.usable + 1.0e-6)
        {
            let each = size(along.clone().named("length of the piece"), whys);
            let all = size(along.clone().to_mark(step, Way::Up), whys);
            ways.push(BackingWay {
                lay,
                lengths: 1,
                each,
                cloth: all,
                price: money(wide.price, all),
            });
        }
    }
    ways.sort_by(cheaper);
    let mut ways = ways.into_iter();
    let Some(way) = ways.next() else {
        return Err(Box::new(Finding::stop(
            "backing-too-large",
            Place::Quilt,
            format!(
                "The back would take more than {MOST} lengths of fabric {}.",
                wish.fabric
            ),
            "Take a wider cloth.",
        )));
    };
    let is_wide = matches!(way.lay, Lay::Wide | Lay::WideSideways);
    let between = match (is_wide, wish.wide) {
        (true, Some(wide)) => wide.usable,
        _ => cloth.usable,
    };
    // Wide cloth is another bolt: it is not cut with the pieces.
    let band = (!is_wide).then(|| Band {
        fabric: wish.fabric.clone(),
        height: way.each,
        count: way.lengths,
        purpose: Purpose::Backing,
        least: least(across.value() * down.value(), cloth.usable),
    });
    let backing = Backing {
        fabric: wish.fabric.clone(),
        width,
        height,
        usable: size(Why::given("usable width", between), whys),
        seam: size(Why::given("seam of the back", SEAM), whys),
        way,
        others: ways.collect(),
    };
    Ok((backing, band))
}

/// The cheapest first where every price is known; else the least cloth of the same bolt, wide cloth after it; then the fewest
/// lengths.
fn cheaper(a: &BackingWay, b: &BackingWay) -> std::cmp::Ordering {
    let is_wide = |way: &BackingWay| matches!(way.lay, Lay::Wide | Lay::WideSideways);
    let by_price = match (a.price, b.price) {
        (Some(a), Some(b)) => a.total_cmp(&b),
        _ => is_wide(a).cmp(&is_wide(b)),
    };
    by_price
        .then(a.cloth.len.cmp(&b.cloth.len))
        .then(a.lengths.cmp(&b.lengths))
        .then(a.lay.cmp(&b.lay))
}

/// How many lengths side by side reach across: n lengths of usable width u, seam s between, are n·u − 2s(n − 1) wide.
fn lengths(over: &Why, usable: f64) -> Why {
    let two = || Why::given("seam of the back", SEAM).times(2, 1, 1);
    let gain =
        Why::Less(Box::new(Why::given("usable width", usable)), Box::new(two())).named("each length, less its seam");
    up_to_whole(Why::Quotient(
        Box::new(Why::Less(Box::new(over.clone()), Box::new(two()))),
        Box::new(gain),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cloth(usable: f64, price: Option<f64>) -> Cloth {
        Cloth {
            fabric: FabricId::new("sea"),
            usable,
            longest: None,
            step: 4.5,
            price,
        }
    }

    fn wish(over: f64, wide: Option<WideCloth>) -> BackingWish {
        BackingWish {
            fabric: FabricId::new("sea"),
            over,
            wide,
        }
    }

    fn planned(width: f64, height: f64, over: f64, cloth: &Cloth, wide: Option<WideCloth>) -> Backing {
        let mut whys = Vec::new();
        let wish = wish(over, wide);
        plan(Top { width, height }, &wish, cloth, Measure::Inch, &mut whys)
            .expect("wide enough")
            .0
    }

    #[test]
    fn sizes_that_are_published() {
        // "Quilt backing", published on the web, 2011: a top of 55 × 70 with 4 in on each side takes 63 × 78
        let backing = planned(55.0, 70.0, 4.0, &cloth(40.0, None), None);
        assert_eq!(
            (backing.width.len, backing.height.len),
            (Length::inches(63), Length::inches(78))
        );
        // "Layer and quilt", published on the web, 2015: 50 × 50 with 3 in on each side takes 56 × 56
        let backing = planned(50.0, 50.0, 3.0, &cloth(40.0, None), None);
        assert_eq!(backing.width.len, Length::inches(56));
    }

    #[test]
    fn the_cheaper_way_of_a_published_example() {
        // a worked example published on the web, 2015: a back of 65 × 78 takes 130 in with its seam across (two lengths of
        // 65), 156 in upright (two of 78): across is cheaper; 130 in are 3 5/8 yd in eighths
        let backing = planned(57.0, 70.0, 4.0, &cloth(42.0, None), None);
        assert_eq!(backing.way.lay, Lay::Sideways);
        assert_eq!((backing.way.lengths, backing.way.each.len), (2, Length::inches(65)));
        assert_eq!(backing.way.cloth.len, Length::fraction(29 * 36, 8));
        let upright = backing
            .others
            .iter()
            .find(|way| way.lay == Lay::Upright)
            .expect("compared");
        assert_eq!(upright.each.len * 2, Length::inches(156));
    }

    #[test]
    fn a_seam_takes_its_cloth() {
        // derived: two lengths of 40 in with seams of 1/2 in are 79 in wide; 79 1/2 in take a third
        assert_eq!(planned(71.0, 71.0, 4.0, &cloth(40.0, None), None).way.lengths, 2);
        assert_eq!(planned(71.5, 71.5, 4.0, &cloth(40.0, None), None).way.lengths, 3);
    }

    #[test]
    fn wide_cloth_is_taken_where_it_is_cheaper() {
        let wide = |price| {
            Some(WideCloth {
                usable: 106.0,
                price: Some(price),
            })
        };
        let at = |price| planned(60.0, 72.0, 4.0, &cloth(40.0, Some(10.0)), wide(price)).way.lay;
        // derived: 68 × 80 takes 2 lengths of 80 in upright (two of 40 in are 79 wide, too little sideways), 4 1/2 yd, 45.00;
        // of wide cloth 68 in, 2 yd
        assert_eq!(at(22.0), Lay::WideSideways);
        assert_eq!(at(23.0), Lay::Upright);
        // without prices the two bolts cannot be compared, and the wide one is only mentioned
        let backing = planned(
            60.0,
            72.0,
            4.0,
            &cloth(40.0, None),
            Some(WideCloth {
                usable: 106.0,
                price: None,
            }),
        );
        assert_eq!((backing.way.lay, backing.others.len()), (Lay::Upright, 3));
    }
}
