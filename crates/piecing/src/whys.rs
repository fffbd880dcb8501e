//! The book of derivations: every size the piecing prints is entered here with its reason.

use measure::{Length, Way, Why};
use recipe::{Size, WhyId};
use std::collections::BTreeMap;

/// Derivations in order of first use; equal ones are entered once.
#[derive(Debug, Default)]
pub struct Whys {
    list: Vec<Why>,
    known: BTreeMap<String, WhyId>,
}

impl Whys {
    /// The size that `why` derives. A derivation without a value (impossible for the finite numbers of a drawing)
    /// gives nothing, which no check passes.
    pub fn size(&mut self, why: Why) -> Size {
        let len = why.length().unwrap_or(Length::ZERO);
        let key = format!("{why:?}");
        let next = WhyId(self.list.len() as u32);
        let id = *self.known.entry(key).or_insert(next);
        if id == next {
            self.list.push(why);
        }
        Size { len, why: Some(id) }
    }

    /// A finished length with a seam on either side.
    pub fn with_seams(&mut self, what: &str, finished: f64, seam: Length) -> Size {
        self.size(with_seams(what, finished, seam))
    }

    /// A length read off the drawing.
    pub fn given(&mut self, what: &str, inches: f64) -> Size {
        self.size(Why::given(what, inches))
    }

    /// A printed overhang: `2 · seam · |cotangent|` to the nearest `mark` (derived for an outer edge that runs
    /// straight on across the seam).
    pub fn overhang(&mut self, seam: Length, cotangent: f64, mark: Length) -> Size {
        let exact = Why::Product(vec![
            Why::given("seam", seam.to_inches()),
            Why::Surd(measure::Surd { numerator: 2, root: 1, denominator: 1 }),
            Why::given("lean of the end, along by up", cotangent),
        ]);
        self.size(exact.to_mark(mark, Way::Nearest))
    }

    /// All of them, index = [`WhyId`].
    pub fn into_list(self) -> Vec<Why> {
        self.list
    }
}

/// Derivation of a finished length with a seam on either side.
pub fn with_seams(what: &str, finished: f64, seam: Length) -> Why {
    Why::Sum(vec![
        Why::given(what, finished),
        Why::given("seam", seam.to_inches()).times(2, 1, 1).named("two seams"),
    ])
}
