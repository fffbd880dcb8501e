//! The methods: each turns a kind of unit into steps. All are modules of one shape: `recognise` says whether a unit can
//! be made so, and the [`Method`] it gives writes the steps. A new one needs its module, its line in [`METHODS`], and a
//! design in the tests that uses it.

pub mod angled_pair;
pub mod covering;
pub mod curved;
pub mod fitting;
pub mod flip;
pub mod foundation;
pub mod geese;
pub mod half_rectangle;
mod half_square;
pub mod half_square_eights;
pub mod half_square_fours;
pub mod half_square_pair;
pub mod hourglass;
pub mod joined_strip;
pub mod log_cabin;
pub mod set_in;
pub mod setting_triangles;
pub mod sew_together;
pub mod sides;
pub mod slanted_strip;
pub mod square_in_square;
pub mod strip_set;
pub mod trimmed;
mod upright;
mod view;
pub mod windmill;

pub use view::{PatchView, UnitView};

use crate::bench::Bench;
use crate::settings::Settings;
use recipe::Give;
use shape::{Point, Polygon};
use std::fmt::Debug;
use std::rc::Rc;
use terms::FabricId;

/// A unit recognised as one that a method can make.
pub trait Method: Debug {
    /// The method's name: what a designer pins and the booklet prints.
    fn name(&self) -> &'static str;

    /// What the unit is called in a maker's words.
    fn label(&self) -> &'static str;

    /// How many units one making gives.
    fn at_once(&self) -> u32 {
        1
    }

    /// Its units have their outer edges on the bias where the drawing wants them on the straight grain.
    fn bias(&self) -> bool {
        false
    }

    /// The seams within the unit that run out to its sides: those that may be pressed either way in the order in which
    /// [`Bench::way`] is asked for them, and those that must go as they do.
    fn seams(&self, outline: &Polygon) -> Vec<OwnSeam> {
        let _ = outline;
        Vec::new()
    }

    /// Seams within the unit that go one way by the way it is made, and are not counted among those that could go another.
    fn settled(&self) -> Vec<OwnSeam> {
        Vec::new()
    }

    /// How often two seams meet and nest within the unit, as the method makes it.
    fn nests_within(&self) -> u64 {
        0
    }

    /// Writes the steps; the units that come of them, all alike, side `i` of each on side `i` of the unit's outline.
    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give>;
}

/// A seam that a method sews within its unit, from outline to outline.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnSeam {
    /// Where it begins; the lower layer lies on the left.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// Which way it goes if nothing else speaks against it.
    pub toward: Toward,
    /// It goes that way whatever speaks against it.
    pub fixed: bool,
}

/// Which way a method's seam goes by itself.
#[derive(Clone, Debug, PartialEq)]
pub enum Toward {
    /// Over the upper layer, as it is opened: there is less bulk.
    Upper,
    /// Over the lower layer.
    Lower,
    /// To the darker of the two cloths.
    Darker {
        /// The lower layer's.
        lower: FabricId,
        /// The upper layer's.
        upper: FabricId,
    },
}

/// A way to make a unit.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// How.
    pub method: Rc<dyn Method>,
    /// Handling of one unit, in actions of the hands.
    pub handling: u32,
    /// Some of the units that come of it are of no use and thrown away.
    pub spoils: bool,
    /// When it is chosen.
    pub taken: Taken,
}

/// When a way to make a unit is chosen, if it costs least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// Always.
    Freely,
    /// Once it is known how many units are wanted, since it makes many at once.
    ByCount,
    /// Only where the designer pins it.
    Pinned,
}

impl Proposal {
    /// By this method at this handling.
    pub fn new(method: impl Method + 'static, handling: u32) -> Self {
        Proposal {
            method: Rc::new(method),
            handling,
            spoils: false,
            taken: Taken::Freely,
        }
    }

    /// Taken so.
    pub fn taken(self, taken: Taken) -> Self {
        Proposal { taken, ..self }
    }
}

/// Whether a unit can be made by a method, and how.
pub type Recognise = fn(&UnitView, &Settings) -> Option<Proposal>;

/// One entry of the register of methods.
#[derive(Clone, Copy, Debug)]
pub struct Known {
    /// The names its proposals may carry.
    pub names: &'static [&'static str],
    /// Recognises its units.
    pub recognise: Recognise,
}

/// All methods that make a unit of several patches, in the order in which equals are preferred.
pub const METHODS: &[Known] = &[
    Known {
        names: &["half-square pairs"],
        recognise: half_square_pair::recognise,
    },
    Known {
        names: &["half-squares by eights"],
        recognise: half_square_eights::recognise,
    },
    Known {
        names: &["half-squares by fours"],
        recognise: half_square_fours::recognise,
    },
    Known {
        names: &["hourglass pairs"],
        recognise: hourglass::recognise,
    },
    Known {
        names: &["sew-and-flip corners", "goose by sew-and-flip"],
        recognise: flip::recognise,
    },
    Known {
        names: &["geese by fours"],
        recognise: geese::recognise,
    },
    Known {
        names: &["square in a square by triangles"],
        recognise: square_in_square::recognise,
    },
    Known {
        names: &["half-rectangle pairs"],
        recognise: half_rectangle::recognise,
    },
    Known {
        names: &["angled strips"],
        recognise: angled_pair::recognise,
    },
    Known {
        names: &[log_cabin::EXACT],
        recognise: log_cabin::recognise,
    },
    Known {
        names: &[trimmed::NAME],
        recognise: trimmed::recognise,
    },
    Known {
        names: &[log_cabin::TRIMMED],
        recognise: log_cabin::recognise_trimmed,
    },
];

/// The names a block's `method` may pin.
pub fn names() -> Vec<&'static str> {
    let made = METHODS.iter().flat_map(|known| known.names.iter().copied());
    [
        "plain patches",
        "template",
        strip_set::NAME,
        strip_set::ANGLED,
        crate::mosaic::NAME,
        foundation::NAME,
    ]
    .into_iter()
    .chain(made)
    .collect()
}
