//! The book of derivations: every size the piecing prints is entered here with its reason.

use measure::{Length, Way, Why};
use recipe::{Size, WhyId};
use std::collections::HashMap;

/// Derivations in order of first use; equal ones are entered once.
#[derive(Debug, Default)]
pub struct Whys {
    list: Vec<Why>,
    /// Only looked into, never walked through.
    known: HashMap<Vec<u8>, WhyId>,
}

impl Whys {
    /// The size that `why` derives. A derivation without a value (impossible for the finite numbers of a drawing)
    /// gives nothing, which no check passes.
    pub fn size(&mut self, why: Why) -> Size {
        let len = why.length().unwrap_or(Length::ZERO);
        let mut key = Vec::with_capacity(96);
        spell(&why, &mut key);
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
            Why::Surd(measure::Surd {
                numerator: 2,
                root: 1,
                denominator: 1,
            }),
            Why::given("lean of the end, along by up", cotangent),
        ]);
        self.size(exact.to_mark(mark, Way::Nearest))
    }

    /// All of them, index = [`WhyId`].
    pub fn into_list(self) -> Vec<Why> {
        self.list
    }
}

/// Spells a derivation out in bytes, different derivations differently.
fn spell(why: &Why, key: &mut Vec<u8>) {
    fn word(text: &str, key: &mut Vec<u8>) {
        key.extend_from_slice(&(text.len() as u64).to_le_bytes());
        key.extend_from_slice(text.as_bytes());
    }
    fn list(terms: &[Why], key: &mut Vec<u8>) {
        key.extend_from_slice(&(terms.len() as u64).to_le_bytes());
        terms.iter().for_each(|term| spell(term, key));
    }
    match why {
        Why::Given { what, inches } => {
            key.push(0);
            word(what, key);
            key.extend_from_slice(&inches.to_bits().to_le_bytes());
        }
        Why::Surd(surd) => {
            key.push(1);
            key.extend_from_slice(&surd.numerator.to_le_bytes());
            key.extend_from_slice(&surd.root.to_le_bytes());
            key.extend_from_slice(&surd.denominator.to_le_bytes());
        }
        Why::Count { what, count } => {
            key.push(2);
            word(what, key);
            key.extend_from_slice(&count.to_le_bytes());
        }
        Why::Named { what, of } => {
            key.push(3);
            word(what, key);
            spell(of, key);
        }
        Why::Sum(terms) => {
            key.push(4);
            list(terms, key);
        }
        Why::Product(factors) => {
            key.push(5);
            list(factors, key);
        }
        Why::Less(from, take) => {
            key.push(6);
            spell(from, key);
            spell(take, key);
        }
        Why::Quotient(above, below) => {
            key.push(7);
            spell(above, key);
            spell(below, key);
        }
        Why::ToMark { of, mark, way } => {
            key.push(8);
            spell(of, key);
            key.extend_from_slice(&mark.units().to_le_bytes());
            key.push(match way {
                Way::Up => 0,
                Way::Nearest => 1,
                Way::Down => 2,
            });
        }
    }
}

/// Derivation of a finished length with a seam on either side.
pub fn with_seams(what: &str, finished: f64, seam: Length) -> Why {
    Why::Sum(vec![
        Why::given(what, finished),
        Why::given("seam", seam.to_inches()).times(2, 1, 1).named("two seams"),
    ])
}
