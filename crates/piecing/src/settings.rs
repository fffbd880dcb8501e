//! What the piecing must know besides the drawing.

use design::{Motif, Prefer};
use measure::{Length, Measure, Ruling};
use recipe::FabricNote;
use terms::FabricId;

/// One cloth, as far as piecing minds.
#[derive(Clone, Debug, PartialEq)]
pub struct ClothSetting {
    /// What the recipe says of it.
    pub note: FabricNote,
    /// Usable width in inches; longer pieces are joined.
    pub usable: f64,
    /// Of a cloth sold cut, what each piece has along the selvedge for its strips, inches; nothing off the bolt.
    pub longest: Option<f64>,
    /// The motif that is to be in the middle of each patch.
    pub motif: Option<Motif>,
}

impl ClothSetting {
    /// Whether a rectangle, either way round, can be cut from it.
    pub fn holds(&self, a: f64, b: f64) -> bool {
        let fits = |across: f64, along: f64| {
            across <= self.usable + 1.0e-9 && self.longest.is_none_or(|longest| along <= longest + 1.0e-9)
        };
        fits(a, b) || fits(b, a)
    }

    /// The side of the largest square that can be cut from it.
    pub fn largest(&self) -> f64 {
        self.longest.map_or(self.usable, |longest| longest.min(self.usable))
    }
}

/// The settings of one plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// The quilt's title.
    pub title: String,
    /// Who designed it.
    pub author: String,
    /// Its edition.
    pub edition: String,
    /// The measure to plan in.
    pub measure: Measure,
    /// Marks that cut sizes may use.
    pub ruling: Ruling,
    /// Raw edge to stitch.
    pub seam: Length,
    /// Cloth turned under round a patch on a ground.
    pub turn_under: Length,
    /// Share of extra pieces for mishaps.
    pub spare: f64,
    /// What counts first where a unit can be made in several ways.
    pub prefer: Prefer,
    /// Corners of sew-and-flip from this finished leg on, inches, are sewn a second time for a spare half-square unit.
    pub keep_corners: Option<f64>,
    /// The cloths in the file's order.
    pub cloths: Vec<ClothSetting>,
}

impl Settings {
    /// Whether these settings and others differ in the cloths' colours at most.
    pub fn alike_but_for_colors(&self, other: &Settings) -> bool {
        let bare = |settings: &Settings| {
            let mut bare = settings.clone();
            bare.cloths.iter_mut().for_each(|cloth| cloth.note.color.clear());
            bare
        };
        self == other || bare(self) == bare(other)
    }

    /// The setting of a cloth; `None` for a role the file does not have.
    pub fn cloth(&self, fabric: &FabricId) -> Option<&ClothSetting> {
        self.cloths.iter().find(|c| &c.note.fabric == fabric)
    }

    /// The seam in inches.
    pub fn seam_inches(&self) -> f64 {
        self.seam.to_inches()
    }
}
