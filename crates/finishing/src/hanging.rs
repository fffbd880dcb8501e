//! The sleeve a quilt hangs by, and the label on its back.

use crate::derive::{size, up_to_whole, whole};
use crate::{Cloth, Top, least, too_narrow};
use measure::Why;
use recipe::{Band, Purpose, Size};
use terms::{FabricId, Finding};

/// The sleeve ends so far inside the quilt's two sides together, inches (common practice: an inch on either side).
const SHORTER: f64 = 2.0;
/// Folded twice under at each end, inches (common practice).
const HEM: f64 = 1.0;

/// What is wanted to hang it by.
#[derive(Clone, Debug, PartialEq)]
pub struct SleeveWish {
    /// Its cloth.
    pub fabric: FabricId,
    /// How wide the strip is cut, inches: twice the sleeve's depth and its seam (shows ask for a 4 in sleeve; common practice).
    pub strip: f64,
}

/// The sleeve in figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Sleeve {
    /// Its cloth.
    pub fabric: FabricId,
    /// How wide the strip is cut.
    pub strip: Size,
    /// How long, its hems not yet folded.
    pub length: Size,
    /// How many strips across the cloth are joined for it.
    pub strips: u32,
    /// The hem at each end, folded twice.
    pub hem: Size,
}

/// What is wanted for a label.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelWish {
    /// Its cloth.
    pub fabric: FabricId,
    /// Finished, inches.
    pub width: f64,
    /// Finished, inches.
    pub height: f64,
}

/// The label in figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Its cloth.
    pub fabric: FabricId,
    /// How wide it is cut.
    pub width: Size,
    /// How high.
    pub height: Size,
}

pub(crate) fn sleeve(
    top: Top,
    wish: &SleeveWish,
    cloth: &Cloth,
    seam: f64,
    whys: &mut Vec<Why>,
) -> Result<(Sleeve, Band), Box<Finding>> {
    if cloth.usable <= 4.0 * seam + 1.0 || top.width <= SHORTER {
        return Err(too_narrow("sleeve", &wish.fabric, cloth.usable, 4.0 * seam + 1.0));
    }
    let inside = Why::Less(
        Box::new(Why::given("finished width", top.width)),
        Box::new(Why::given("shorter than the quilt", SHORTER)),
    );
    let needed = Why::Sum(vec![inside, Why::given("hem", HEM).times(2, 1, 1).named("two hems")]);
    // Joined straight: n strips of usable width u are n·u − 2s(n − 1).
    let two = || Why::given("seam", seam).times(2, 1, 1);
    let count = up_to_whole(Why::Quotient(
        Box::new(Why::Less(Box::new(needed.clone()), Box::new(two()))),
        Box::new(Why::Less(
            Box::new(Why::given("usable width", cloth.usable)),
            Box::new(two()),
        )),
    ));
    let strips = whole(&count).max(1);
    let strip = size(Why::given("sleeve strip", wish.strip), whys);
    let sleeve = Sleeve {
        fabric: wish.fabric.clone(),
        strip,
        length: size(needed, whys),
        strips,
        hem: size(Why::given("hem", HEM), whys),
    };
    let band = Band {
        fabric: wish.fabric.clone(),
        height: strip,
        count: strips,
        purpose: Purpose::Sleeve,
        least: least(wish.strip * (top.width - SHORTER), cloth.usable),
    };
    Ok((sleeve, band))
}

pub(crate) fn label(wish: &LabelWish, cloth: &Cloth, whys: &mut Vec<Why>) -> Result<(Label, Band), Box<Finding>> {
    // Turned under by a quarter inch all round (common practice).
    let mut cut = |what: &str, inches: f64| {
        let under = Why::given("turned under", 0.25).times(2, 1, 1);
        size(Why::Sum(vec![Why::given(what, inches), under]), whys)
    };
    let label = Label {
        fabric: wish.fabric.clone(),
        width: cut("label's width", wish.width),
        height: cut("label's height", wish.height),
    };
    if label.width.len.to_inches() > cloth.usable {
        return Err(too_narrow(
            "label",
            &wish.fabric,
            cloth.usable,
            label.width.len.to_inches(),
        ));
    }
    let band = Band {
        fabric: wish.fabric.clone(),
        height: label.height,
        count: 1,
        purpose: Purpose::Label,
        least: least(wish.width * wish.height, cloth.usable),
    };
    Ok((label, band))
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::Length;

    #[test]
    fn a_sleeve_is_an_inch_shorter_on_either_side() {
        let cloth = Cloth {
            fabric: FabricId::new("sea"),
            usable: 40.0,
            longest: None,
            step: 4.5,
            price: None,
        };
        let wish = SleeveWish {
            fabric: FabricId::new("sea"),
            strip: 8.5,
        };
        let top = |width| Top { width, height: 50.0 };
        let made = |width| {
            sleeve(top(width), &wish, &cloth, 0.25, &mut Vec::new())
                .expect("wide enough")
                .0
        };
        // derived: 60 − 2 + 2 · 1 = 60 in; two strips of 40 joined are 79 1/2 in
        assert_eq!((made(60.0).length.len, made(60.0).strips), (Length::inches(60), 2));
        assert_eq!(made(40.0).strips, 1);
        assert_eq!(made(79.5).strips, 2);
        assert_eq!(made(79.6).strips, 3);
    }
}
