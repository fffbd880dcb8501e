//! Which mattress a quilt dresses, and how far it hangs down.
//!
//! Mattresses by three lists published on the web ("Standard mattress sizes", 2010; "Bed sizes: UK, European, US") and, for
//! the crib, the United States regulation on full-size baby cribs (16 CFR 1219, by ASTM F1169: mattress at least 27 1/4 ×
//! 51 1/4 in). Sizes in inches; those of the United Kingdom and of Europe are given there in centimetres.

/// A mattress.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bed {
    /// Where it is called so.
    pub region: &'static str,
    /// Its name.
    pub name: &'static str,
    /// Inches across.
    pub width: f64,
    /// Inches from head to foot.
    pub length: f64,
}

const fn inches(name: &'static str, width: f64, length: f64) -> Bed {
    Bed {
        region: "US",
        name,
        width,
        length,
    }
}

const fn centimetres(region: &'static str, name: &'static str, width: f64, length: f64) -> Bed {
    Bed {
        region,
        name,
        width: width / 2.54,
        length: length / 2.54,
    }
}

/// The mattresses, by region and then by width.
pub const BEDS: [Bed; 18] = [
    inches("crib", 28.0, 52.0),
    inches("twin", 39.0, 75.0),
    inches("extra-long twin", 39.0, 80.0),
    inches("full", 54.0, 75.0),
    inches("queen", 60.0, 80.0),
    inches("California king", 72.0, 84.0),
    inches("king", 76.0, 80.0),
    centimetres("UK", "small single", 75.0, 190.0),
    centimetres("UK", "single", 90.0, 190.0),
    centimetres("UK", "small double", 120.0, 190.0),
    centimetres("UK", "double", 135.0, 190.0),
    centimetres("UK", "king", 150.0, 200.0),
    centimetres("UK", "super king", 180.0, 200.0),
    centimetres("EU", "small single", 80.0, 200.0),
    centimetres("EU", "single", 90.0, 200.0),
    centimetres("EU", "double", 140.0, 200.0),
    centimetres("EU", "king", 160.0, 200.0),
    centimetres("EU", "super king", 180.0, 200.0),
];

/// A bed the quilt dresses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dressed {
    /// The bed.
    pub bed: Bed,
    /// How far the quilt hangs down at each side, inches.
    pub side: f64,
    /// How far at the foot, lying level with the head of the mattress.
    pub foot: f64,
}

/// The least and the most that a quilt hangs down on a bed it is said to dress, inches (common practice: a mattress is about 8 to
/// 14 in thick; more than 22 in lies on the floor).
const DROP: (f64, f64) = (8.0, 22.0);
/// A crib's quilt covers its mattress and little more (common practice).
const CRIB_DROP: (f64, f64) = (-2.0, 10.0);

/// The beds that a quilt of this finished size dresses (inches), the ones whose sides and foot hang down most alike first.
pub fn dressed(width: f64, height: f64) -> Vec<Dressed> {
    let mut found: Vec<Dressed> = BEDS
        .iter()
        .map(|&bed| Dressed {
            bed,
            side: (width - bed.width) / 2.0,
            foot: height - bed.length,
        })
        .filter(|it| {
            let (least, most) = if it.bed.name == "crib" { CRIB_DROP } else { DROP };
            // At the foot a little less will do: a pillow takes some, or nothing is tucked in.
            (least..=most).contains(&it.side) && (least - 4.0..=most + 14.0).contains(&it.foot)
        })
        .collect();
    found.sort_by(|a, b| (a.side - a.foot).abs().total_cmp(&(b.side - b.foot).abs()));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_drop_of_a_published_example() {
        // "Mattress sizes and drop", published on the web: a twin of 39 × 75 with 12 in on three sides takes 63 × 87
        let twin = dressed(63.0, 87.0)
            .into_iter()
            .find(|it| it.bed.name == "twin")
            .expect("it dresses a twin");
        assert_eq!((twin.side, twin.foot), (12.0, 12.0));
    }

    #[test]
    fn what_covers_nothing_dresses_nothing() {
        assert!(dressed(20.0, 20.0).is_empty());
        assert!(dressed(300.0, 300.0).is_empty());
        assert!(dressed(36.0, 54.0).iter().all(|it| it.bed.name == "crib"));
        assert!(!dressed(36.0, 54.0).is_empty());
    }
}
