//! The binding: how much strip, how many strips across the cloth, joined on the diagonal.

use crate::bias::{BiasSquare, bias_square};
use crate::derive::{size, up_to_whole, whole};
use crate::{Cloth, Top, least, too_narrow};
use measure::Why;
use recipe::{Band, Purpose, Size};
use terms::{FabricId, Finding};

/// Strip beyond the way round, inches, for the four mitred corners, the slack to begin with and the closing join (common
/// practice: 10 to 20 in).
const BEYOND: f64 = 10.0;

/// What is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct BindingWish {
    /// Its cloth.
    pub fabric: FabricId,
    /// How wide the strips are cut, inches.
    pub strip: f64,
    /// On the bias, for curved edges or for a stripe that shall run slanting.
    pub bias: bool,
}

/// How the strips are cut.
#[derive(Clone, Debug, PartialEq)]
pub enum BindingCut {
    /// Across the width, so many.
    Straight {
        /// How many.
        strips: u32,
    },
    /// From a square on the bias.
    Bias(BiasSquare),
}

/// The binding in figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Binding {
    /// Its cloth.
    pub fabric: FabricId,
    /// How wide the strips are cut.
    pub strip: Size,
    /// Length of joined strip needed.
    pub needed: Size,
    /// Length of joined strip there will be.
    pub there: Size,
    /// How wide it shows on the front: the seam it is sewn on with.
    pub shows: Size,
    /// How it is cut.
    pub cut: BindingCut,
}

/// The way round with its slack.
fn needed(top: Top) -> Why {
    let side = |what: &str, inches: f64| Why::given(what, inches).times(2, 1, 1);
    Why::Sum(vec![
        side("finished width", top.width).named("top and bottom"),
        side("finished height", top.height).named("both sides"),
        Why::given("for corners and closing", BEYOND),
    ])
}

pub(crate) fn plan(
    top: Top,
    wish: &BindingWish,
    cloth: &Cloth,
    seam: f64,
    whys: &mut Vec<Why>,
) -> Result<(Binding, Band), Box<Finding>> {
    let needed = needed(top);
    let length = size(needed.clone(), whys);
    let strip = size(Why::given("binding strip", wish.strip), whys);
    let shows = size(Why::given("seam", seam).named("shows on the front"), whys);
    // A strip must be longer than a join takes from it.
    if wish.strip <= 0.0 || cloth.usable < 2.0 * wish.strip {
        return Err(too_narrow("binding", &wish.fabric, cloth.usable, 2.0 * wish.strip));
    }
    let mut band = Band {
        fabric: wish.fabric.clone(),
        height: strip,
        count: 0,
        purpose: Purpose::Binding,
        least: least((needed.value() - BEYOND) * wish.strip, cloth.usable),
    };
    let (cut, there) = if wish.bias {
        let (square, there) = bias_square(needed.value(), wish.strip, seam, cloth, whys)
            .ok_or_else(|| too_narrow("bias binding", &wish.fabric, cloth.usable, 4.0 * wish.strip))?;
        band.height = square.side;
        band.count = square.squares;
        band.purpose = Purpose::BiasSquare;
        (BindingCut::Bias(square), there)
    } else {
        // Two strips of length L and width w joined on the diagonal are 2L − w long (blog on strip joins, 2012: 3 × 10 in
        // twice make 17 in), so k strips are k·L − (k − 1)·w.
        let usable = || Why::given("usable width", cloth.usable);
        let across = || Why::given("binding strip", wish.strip);
        let gain = Why::Less(Box::new(usable()), Box::new(across())).named("each strip, less its join");
        let count = up_to_whole(Why::Quotient(
            Box::new(Why::Less(Box::new(needed), Box::new(across()))),
            Box::new(gain),
        ));
        let strips = whole(&count).max(1);
        band.count = strips;
        let many = |what: &str, count: u32| Why::Count {
            what: what.into(),
            count: i64::from(count),
        };
        let there = Why::Less(
            Box::new(Why::Product(vec![many("strips", strips), usable()])),
            Box::new(Why::Product(vec![many("joins", strips - 1), across()])),
        );
        (BindingCut::Straight { strips }, size(there, whys))
    };
    let binding = Binding {
        fabric: wish.fabric.clone(),
        strip,
        needed: length,
        there,
        shows,
        cut,
    };
    Ok((binding, band))
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::Length;

    fn planned(width: f64, height: f64, strip: f64, usable: f64) -> (Binding, Band) {
        let cloth = Cloth {
            fabric: FabricId::new("brass"),
            usable,
            longest: None,
            step: 4.5,
            price: None,
        };
        let wish = BindingWish {
            fabric: FabricId::new("brass"),
            strip,
            bias: false,
        };
        plan(Top { width, height }, &wish, &cloth, 0.25, &mut Vec::new()).expect("wide enough")
    }

    #[test]
    fn strips_of_published_quilts() {
        // "How to figure binding", a sample of 40 × 50 in published on the web, 2009: strips of 2 1/2 in, 40 in long: 5
        assert_eq!(planned(40.0, 50.0, 2.5, 40.0).1.count, 5);
        // a binding of 54 × 60 in with 10 in more is 238 in (published on the web, 2019), of strips 42 in long: 6
        let (binding, band) = planned(54.0, 60.0, 2.25, 42.0);
        assert_eq!((binding.needed.len, band.count), (Length::inches(238), 6));
    }

    #[test]
    fn the_join_takes_a_width() {
        // derived: 5 · 40 − 4 · 2 1/4 = 191, so 181 in round is just reached by five strips and 181.1 is not
        assert_eq!(planned(45.25, 45.25, 2.25, 40.0).1.count, 5);
        assert_eq!(planned(45.30, 45.25, 2.25, 40.0).1.count, 6);
        assert_eq!(planned(45.25, 45.25, 2.25, 40.0).0.there.len, Length::inches(191));
    }

    #[test]
    fn a_strip_wider_than_its_cloth_is_told() {
        let cloth = Cloth {
            fabric: FabricId::new("brass"),
            usable: 4.0,
            longest: None,
            step: 4.5,
            price: None,
        };
        let wish = BindingWish {
            fabric: FabricId::new("brass"),
            strip: 2.25,
            bias: false,
        };
        let top = Top {
            width: 10.0,
            height: 10.0,
        };
        let told = plan(top, &wish, &cloth, 0.25, &mut Vec::new()).expect_err("too narrow");
        assert_eq!(told.code, "cloth-too-narrow");
    }
}
