//! What comes after the top, in figures: binding, backing, batting, the sleeve it hangs by and its label.
//!
//! From the finished size and the designer's wishes to strips, lengths of cloth and sizes. Each cloth needed is asked of
//! the cutting as [`Band`]s, full-width strips kept whole, so that it is bought together with the pieces of the same
//! cloth, once. Every size carries its derivation.
//!
//! ```text
//! finished size, wishes ─▶ binding ─▶ bands ┐
//!                          backing ─▶ bands ├─▶ cutting (bought with the pieces)
//!                          sleeve, label  ──┘
//!                          batting ─▶ size, smallest package
//!                          beds: which mattress it dresses, with what drop
//! ```

mod backing;
mod batting;
mod beds;
mod bias;
mod binding;
mod derive;
mod hanging;

pub use backing::{Backing, BackingWay, BackingWish, Lay, WideCloth};
pub use batting::{Batting, BattingWish, PACKAGES, Package};
pub use beds::{BEDS, Bed, Dressed, dressed};
pub use bias::{BiasSquare, bias_square, least_side};
pub use binding::{Binding, BindingCut, BindingWish};
pub use hanging::{Label, LabelWish, Sleeve, SleeveWish};

use measure::{Length, Measure, Why};
use recipe::Band;
use terms::{FabricId, Finding, Place};

/// The finished top, within its binding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Top {
    /// Inches across.
    pub width: f64,
    /// Inches down.
    pub height: f64,
}

/// What the finishing must know of a cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// The role.
    pub fabric: FabricId,
    /// Inches between the selvedges.
    pub usable: f64,
    /// Inches along the selvedge in one piece, where it is sold cut.
    pub longest: Option<f64>,
    /// The shop's cutting step, inches.
    pub step: f64,
    /// Price of a yard, or of a metre in a metric design.
    pub price: Option<f64>,
}

/// What the designer wants after the top; what is absent is not planned.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wishes {
    /// The binding.
    pub binding: Option<BindingWish>,
    /// The back.
    pub backing: Option<BackingWish>,
    /// What lies between.
    pub batting: Option<BattingWish>,
    /// What it hangs by.
    pub sleeve: Option<SleeveWish>,
    /// Who made it.
    pub label: Option<LabelWish>,
}

/// Everything after the top, in figures.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Finishing {
    /// The binding.
    pub binding: Option<Binding>,
    /// The back.
    pub backing: Option<Backing>,
    /// What lies between.
    pub batting: Option<Batting>,
    /// What it hangs by.
    pub sleeve: Option<Sleeve>,
    /// Who made it.
    pub label: Option<Label>,
    /// The cloth for all of it, to be cut and bought with the pieces.
    pub bands: Vec<Band>,
    /// What cannot be had as wished.
    pub findings: Vec<Finding>,
}

/// Plans what comes after the top. New derivations are added to `whys`; `seam` is the quilt's own (inches).
pub fn plan(
    top: Top,
    wishes: &Wishes,
    cloths: &[Cloth],
    seam: f64,
    measure: Measure,
    whys: &mut Vec<Why>,
) -> Finishing {
    let mut done = Finishing::default();
    let found = |fabric: &FabricId| cloths.iter().find(|cloth| &cloth.fabric == fabric);
    if let Some(wish) = &wishes.binding {
        let several = wish.several.len() > 1;
        if several && wish.bias {
            done.findings.push(of_one_square(&wish.fabric));
        }
        let names = if several && !wish.bias {
            &wish.several[..]
        } else {
            std::slice::from_ref(&wish.fabric)
        };
        let cloths: Vec<&Cloth> = names.iter().filter_map(found).collect();
        match binding::plan(top, wish, &cloths, seam, whys) {
            _ if cloths.is_empty() => {}
            Ok((binding, bands)) => {
                done.binding = Some(binding);
                done.bands.extend(bands);
            }
            Err(finding) => done.findings.push(*finding),
        }
    }
    if let Some((wish, cloth)) = wishes.backing.as_ref().and_then(|w| Some((w, found(&w.fabric)?))) {
        match backing::plan(top, wish, cloth, measure, whys) {
            Ok((backing, band)) => {
                done.backing = Some(backing);
                done.bands.extend(band);
            }
            Err(finding) => done.findings.push(*finding),
        }
    }
    done.batting = wishes
        .batting
        .as_ref()
        .map(|wish| batting::plan(top, *wish, measure, whys));
    if let Some((wish, cloth)) = wishes.sleeve.as_ref().and_then(|w| Some((w, found(&w.fabric)?))) {
        match hanging::sleeve(top, wish, cloth, seam, whys) {
            Ok((sleeve, band)) => {
                done.sleeve = Some(sleeve);
                done.bands.push(band);
            }
            Err(finding) => done.findings.push(*finding),
        }
    }
    if let Some((wish, cloth)) = wishes.label.as_ref().and_then(|w| Some((w, found(&w.fabric)?))) {
        match hanging::label(wish, cloth, whys) {
            Ok((label, band)) => {
                done.label = Some(label);
                done.bands.push(band);
            }
            Err(finding) => done.findings.push(*finding),
        }
    }
    done
}

/// The length of cloth that so much area takes over the whole width (square inches; inches), a hair less so that it stays a bound.
fn least(area: f64, usable: f64) -> Length {
    Length::nearest((area / usable - 0.001).max(0.0)).unwrap_or_default()
}

/// A bias binding of a role that several cloths play.
fn of_one_square(fabric: &FabricId) -> Finding {
    Finding::note(
        "bias-of-one-cloth",
        Place::Fabric(fabric.clone()),
        format!(
            "A bias binding comes from one square, so the cloths of {fabric} cannot take turns in it: cloth of its own is bought."
        ),
        "Name one cloth for the binding, or cut it straight.",
    )
}

/// A strip, band or square that its cloth is not wide enough for.
fn too_narrow(what: &str, fabric: &FabricId, usable: f64, needed: f64) -> Box<Finding> {
    let inches = |value: f64| Length::nearest(value).map_or(0.0, Length::to_inches);
    Box::new(Finding::stop(
        "cloth-too-narrow",
        Place::Fabric(fabric.clone()),
        format!(
            "The {what} needs {:.3} in across, and fabric {fabric} has {:.3} in between its selvedges.",
            inches(needed),
            inches(usable)
        ),
        "Take a wider cloth or a narrower strip.",
    ))
}
