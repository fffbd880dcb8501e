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
    /// The cloths it is joined of in turn, where `fabric` is a role that several play; else empty.
    pub several: Vec<FabricId>,
    /// How wide the strips are cut, inches.
    pub strip: f64,
    /// On the bias, for curved edges or for a stripe that shall run slanting.
    pub bias: bool,
}

/// How the strips are cut.
#[derive(Clone, Debug, PartialEq)]
pub enum BindingCut {
    /// Across the width of these cloths, a strip of each in the order in which they are joined.
    Straight {
        /// The cloth of each.
        strips: Vec<FabricId>,
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

/// A cloth and its strips, to be cut and bought.
fn band(cloth: &Cloth, height: Size, count: u32, purpose: Purpose, area: f64) -> Band {
    Band {
        fabric: cloth.fabric.clone(),
        height,
        count,
        purpose,
        least: least(area, cloth.usable),
    }
}

/// Plans the binding of these cloths; more than one only for strips cut straight, of several that play one role.
pub(crate) fn plan(
    top: Top,
    wish: &BindingWish,
    cloths: &[&Cloth],
    seam: f64,
    whys: &mut Vec<Why>,
) -> Result<(Binding, Vec<Band>), Box<Finding>> {
    let needed = needed(top);
    let length = size(needed.clone(), whys);
    let strip = size(Why::given("binding strip", wish.strip), whys);
    let shows = size(Why::given("seam", seam).named("shows on the front"), whys);
    // A strip must be longer than a join takes from it.
    for cloth in cloths {
        if wish.strip <= 0.0 || cloth.usable < 2.0 * wish.strip {
            return Err(too_narrow("binding", &cloth.fabric, cloth.usable, 2.0 * wish.strip));
        }
    }
    let area = (needed.value() - BEYOND) * wish.strip;
    let binding = |fabric: &FabricId, there: Size, cut: BindingCut| Binding {
        fabric: fabric.clone(),
        strip,
        needed: length,
        there,
        shows,
        cut,
    };
    if let (true, [cloth, ..]) = (wish.bias, cloths) {
        let (square, there) = bias_square(needed.value(), wish.strip, seam, cloth, whys)
            .ok_or_else(|| too_narrow("bias binding", &cloth.fabric, cloth.usable, 4.0 * wish.strip))?;
        let bands = vec![band(cloth, square.side, square.squares, Purpose::BiasSquare, area)];
        return Ok((binding(&cloth.fabric, there, BindingCut::Bias(square)), bands));
    }
    let (dealt, there) = match cloths {
        [cloth] => of_one(cloth, wish.strip, &needed),
        _ => in_turn(cloths, wish.strip, needed.value()),
    };
    let there = size(there, whys);
    let bands = cloths.iter().filter_map(|cloth| {
        let count = dealt.iter().filter(|fabric| **fabric == cloth.fabric).count();
        // How much of the way round falls to which of several is not known before they are joined.
        let area = if cloths.len() == 1 { area } else { 0.0 };
        (count > 0).then(|| band(cloth, strip, count as u32, Purpose::Binding, area))
    });
    let bands = bands.collect();
    let first = dealt.first().unwrap_or(&wish.fabric).clone();
    Ok((binding(&first, there, BindingCut::Straight { strips: dealt }), bands))
}

/// Strips of one cloth, and how long they are once joined.
fn of_one(cloth: &Cloth, strip: f64, needed: &Why) -> (Vec<FabricId>, Why) {
    // Two strips of length L and width w joined on the diagonal are 2L − w long (blog on strip joins, 2012: 3 × 10 in
    // twice make 17 in), so k strips are k·L − (k − 1)·w.
    let usable = || Why::given("usable width", cloth.usable);
    let across = || Why::given("binding strip", strip);
    let gain = Why::Less(Box::new(usable()), Box::new(across())).named("each strip, less its join");
    let count = up_to_whole(Why::Quotient(
        Box::new(Why::Less(Box::new(needed.clone()), Box::new(across()))),
        Box::new(gain),
    ));
    let strips = whole(&count).max(1);
    let many = |what: &str, count: u32| Why::Count {
        what: what.into(),
        count: i64::from(count),
    };
    let there = Why::Less(
        Box::new(Why::Product(vec![many("strips", strips), usable()])),
        Box::new(Why::Product(vec![many("joins", strips - 1), across()])),
    );
    (vec![cloth.fabric.clone(); strips as usize], there)
}

/// Strips of several cloths in turn until they are long enough; no two of one cloth are joined, the last to the first
/// neither, but where there are only two cloths and an odd number of strips.
fn in_turn(cloths: &[&Cloth], strip: f64, needed: f64) -> (Vec<FabricId>, Why) {
    let mut dealt: Vec<&Cloth> = Vec::new();
    let mut there = 0.0;
    for cloth in cloths.iter().cycle() {
        if there >= needed - 1.0e-9 {
            break;
        }
        there += cloth.usable - if dealt.is_empty() { 0.0 } else { strip };
        dealt.push(cloth);
    }
    if let ([first, .., last], [_, second, _, ..]) = (&dealt[..], cloths)
        && first.fabric == last.fabric
    {
        let swapped = there - last.usable + second.usable;
        let at = dealt.len() - 1;
        if swapped >= needed - 1.0e-9 {
            dealt[at] = second;
        }
    }
    let joins = Why::Count {
        what: "joins".into(),
        count: dealt.len() as i64 - 1,
    };
    let lengths = dealt.iter().map(|cloth| Why::given("usable width", cloth.usable));
    let there = Why::Less(
        Box::new(Why::Sum(lengths.collect())),
        Box::new(Why::Product(vec![joins, Why::given("binding strip", strip)])),
    );
    (dealt.iter().map(|cloth| cloth.fabric.clone()).collect(), there)
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::Length;

    fn cloth(name: &str, usable: f64) -> Cloth {
        Cloth {
            fabric: FabricId::new(name),
            usable,
            longest: None,
            step: 4.5,
            price: None,
        }
    }

    fn wish(strip: f64, several: &[&str]) -> BindingWish {
        BindingWish {
            fabric: FabricId::new("brass"),
            several: several.iter().copied().map(FabricId::new).collect(),
            strip,
            bias: false,
        }
    }

    fn planned(width: f64, height: f64, strip: f64, usable: f64) -> (Binding, Band) {
        let cloth = cloth("brass", usable);
        let top = Top { width, height };
        let (binding, bands) = plan(top, &wish(strip, &[]), &[&cloth], 0.25, &mut Vec::new()).expect("wide enough");
        (binding, bands.into_iter().next().expect("a band"))
    }

    /// The initials of the cloths in the order in which their strips are joined, for so long a way round.
    fn dealt(cloths: &[Cloth], round: f64) -> String {
        let top = Top {
            width: round / 4.0,
            height: round / 4.0,
        };
        let all: Vec<&Cloth> = cloths.iter().collect();
        let (binding, bands) = plan(top, &wish(2.25, &[]), &all, 0.25, &mut Vec::new()).expect("wide enough");
        let BindingCut::Straight { strips } = binding.cut else {
            return String::new();
        };
        let in_bands: u32 = bands.iter().map(|band| band.count).sum();
        assert_eq!(in_bands as usize, strips.len());
        assert!(binding.there.len >= binding.needed.len);
        strips.iter().map(|fabric| &fabric.as_str()[..1]).collect()
    }

    #[test]
    fn several_cloths_take_turns_round_the_quilt() {
        let three = [cloth("a", 40.0), cloth("b", 40.0), cloth("c", 40.0)];
        // derived: k strips of 40 in are 40 k − 2 1/4 (k − 1) long; 191 in need five, and 10 in of 181 in are slack
        assert_eq!(dealt(&three, 181.0), "abcab");
        assert_eq!(dealt(&three, 200.0), "abcabc");
        // The seventh would be the first's again, and lie beside it once the ends are joined.
        assert_eq!(dealt(&three, 240.0), "abcabcb");
        // Of two cloths an odd number cannot but meet once.
        assert_eq!(dealt(&three[..2], 181.0), "ababa");
        // Fat quarters are narrower: 20 in each less the join.
        let mixed = [cloth("a", 40.0), cloth("b", 20.0)];
        assert_eq!(dealt(&mixed, 181.0), "abababa");
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
        let cloth = cloth("brass", 4.0);
        let wish = wish(2.25, &[]);
        let top = Top {
            width: 10.0,
            height: 10.0,
        };
        let told = plan(top, &wish, &[&cloth], 0.25, &mut Vec::new()).expect_err("too narrow");
        assert_eq!(told.code, "cloth-too-narrow");
    }
}
