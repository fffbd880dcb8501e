//! The cutting: from demanded pieces to strips across the cloth, cuts along each strip, and the cloth to buy.
//!
//! Cloth by cloth, kinds of pieces become *items* (room `kinds`): what lies between one cut and the next and gives one
//! piece, two halves or four quarters. Items of one height share a strip; what is left of a strip is cut into lower
//! strips where that saves cloth (`pack`, `fill`, `rest`; slanted pieces in `slant`). Which way each kind lies is
//! searched (`search`); the plan is written out with its derivations (`write`), and what is bought (`buy`) stands
//! beside a bound below which no plan can go (`bound`). Everything is decided on whole units of [`Length`], never on
//! floats.
//!
//! A cloth sold cut (fat quarters and the like) is packed likewise, its strips laid into as few pieces as are found (`sold`); each
//! lot of pieces cut alike is a plan of its own.
//!
//! What is not promised: the least cloth there could be. The bound beside each figure shows how far off it may be.

mod bound;
mod buy;
mod fill;
mod kinds;
mod known;
mod pack;
mod rest;
mod search;
mod slant;
mod sold;
mod template;
mod write;

use kinds::Cloth;
use measure::{Length, Measure, Style, Why};
use recipe::{Band, Bought, CutForm, CutPlan, Demand};
use std::collections::BTreeMap;
use terms::{FabricId, Finding, PieceId, Place};

pub use known::Known;

/// What the cutting must know of a cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct ClothNote {
    /// The role.
    pub fabric: FabricId,
    /// Inches between the selvedges that the strips may use.
    pub usable: f64,
    /// Inches lost to the first straight cut.
    pub square_up: f64,
    /// The shop's cutting step, in inches.
    pub step: f64,
    /// The share of its length that the cloth loses in the wash (0.03 for 3 %): what is bought, less this, is there
    /// to cut from.
    pub shrink: f64,
    /// It is sold cut to a size, and bought by the piece.
    pub cut: Option<SoldCut>,
}

/// The size in which a cloth is sold cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoldCut {
    /// What a piece is called.
    pub form: CutForm,
    /// Inches along the selvedge; across it has the usable width.
    pub length: f64,
}

/// The cutting plan with all that goes with it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cutting {
    /// Strips and cuts.
    pub plan: CutPlan,
    /// The cloth to buy, each with the bound described at [`plan_cutting`].
    pub bought: Bought,
    /// Pieces that come off beyond what was demanded: the odd half of a rectangle, the odd quarters of a square.
    /// In the order of the demands; kinds without extras are not named.
    pub extra: Vec<(PieceId, u32)>,
    /// What the cutting has to say; a stop finding means that a kind of piece is missing from the plan.
    pub findings: Vec<Finding>,
}

/// Plans the cutting of all `demands` from `cloths`; new derivations are added to `whys`. The `bands` are kept whole across
/// the width, after the strips of the pieces, and are bought with them.
///
/// Per cloth the plan with the least cloth found is taken, of these the one with the fewest strips, different heights,
/// different strips and cuts. Cloths without a demand are left out.
///
/// [`recipe::BoughtCloth::bound`] bounds *every* way of laying the demanded pieces on the usable width without
/// overlap, each on grain in one of its allowed turns, whether or not it could be cut in strips: such a layout needs
/// at least this length, squaring up and shrinkage included, before the shop's step. It takes no account of pieces
/// tilted off the grain except in its area part, which holds for those as well.
///
/// `mark` is the ruler's smallest mark (the rectangle for a template is cut on it), `measure` the one findings are
/// written in.
pub fn plan_cutting(
    demands: &[Demand],
    bands: &[Band],
    cloths: &[ClothNote],
    mark: Length,
    measure: Measure,
    whys: &mut Vec<Why>,
) -> Cutting {
    plan_cutting_again(demands, bands, cloths, (mark, measure), whys, &mut Known::default())
}

/// The same, where much may be as it was: cloths whose pieces are [`Known`] are not looked at again.
pub fn plan_cutting_again(
    demands: &[Demand],
    bands: &[Band],
    cloths: &[ClothNote],
    (mark, measure): (Length, Measure),
    whys: &mut Vec<Why>,
    known: &mut Known,
) -> Cutting {
    let mut cutting = Cutting::default();
    for demand in demands {
        if demand.count > 0 && !cloths.iter().any(|cloth| cloth.fabric == demand.fabric) {
            cutting.findings.push(Finding::stop(
                "cloth-unknown",
                Place::Piece(demand.piece.clone()),
                format!(
                    "Piece {} is of fabric {}, of which nothing is known.",
                    demand.piece, demand.fabric
                ),
                "Name the fabric with its width.",
            ));
        }
    }
    let mut seen: Vec<&FabricId> = Vec::new();
    for note in cloths {
        let own: Vec<&Band> = bands.iter().filter(|band| band.fabric == note.fabric).collect();
        let wanted = demands
            .iter()
            .any(|demand| demand.fabric == note.fabric && demand.count > 0)
            || own.iter().any(|band| band.count > 0);
        if !wanted || seen.contains(&&note.fabric) {
            continue;
        }
        seen.push(&note.fabric);
        plan_cloth((demands, &own), note, (mark, measure), whys, &mut cutting, known);
    }
    sort_extra(&mut cutting.extra, demands);
    cutting
}

fn plan_cloth(
    (demands, bands): (&[Demand], &[&Band]),
    note: &ClothNote,
    (mark, measure): (Length, Measure),
    whys: &mut Vec<Why>,
    cutting: &mut Cutting,
    known: &mut Known,
) {
    let Some(cloth) = Cloth::read(note, &mut cutting.findings) else {
        return;
    };
    let kinds = kinds::read(demands, &cloth, mark, measure, whys, &mut cutting.findings);
    let bands = &fitting(bands, &cloth, measure, &mut cutting.findings)[..];
    if kinds.is_empty() && bands.is_empty() {
        return;
    }
    let found = search::best(&kinds, &cloth, bands, known);
    let whole: i128 = bands
        .iter()
        .map(|band| i128::from(band.height.len.units()) * i128::from(band.count))
        .sum();
    let used = pack::total_height(&found.rows) + whole + i128::from(cloth.square_up);
    if used > buy::LONGEST {
        cutting.findings.push(Finding::stop(
            "too-much-cloth",
            Place::Fabric(cloth.fabric.clone()),
            format!("Fabric {} would need more than 10 000 yards.", cloth.fabric),
            "Ask for fewer or smaller pieces.",
        ));
        return;
    }
    for kind in &kinds {
        if kind.extra > 0 {
            cutting.extra.push((kind.piece.clone(), kind.extra));
        }
    }
    write::add_cloth(&mut cutting.plan, &cloth, &kinds, &found, bands, whys);
    let least = bound::bound(&kinds, cloth.usable);
    cutting.bought.cloths.push(match cloth.piece {
        None => buy::buy(&cloth, &found.rows, bands, least, whys),
        Some(sold) => buy::buy_pieces(&cloth, sold, sold::pieces(&found.lots), bands, least, whys),
    });
}

/// How many pieces sold cut it takes for strips so high (in units of [`Length`]) and so many of each, when each piece has so much
/// room along the selvedge once it is squared up. Strips higher than that are left out.
pub fn pieces_for(strips: &[(i64, u32)], room: i64) -> u64 {
    sold::pieces(&sold::lots(strips, room))
}

/// The bands that a piece of the cloth as sold is long enough for; a stop finding for each of the others.
fn fitting<'b>(bands: &[&'b Band], cloth: &Cloth, measure: Measure, findings: &mut Vec<Finding>) -> Vec<&'b Band> {
    let mut kept = Vec::new();
    for band in bands {
        match cloth.piece {
            Some(sold) if band.count > 0 && band.height.len.units() > sold.room => {
                let told = |length: Length| length.print(measure, Style::Plain);
                findings.push(Finding::stop(
                    "larger-than-sold",
                    Place::Fabric(cloth.fabric.clone()),
                    format!(
                        "The {} is cut {} long or high; a {} of {} has {} along for it, squared up.",
                        band.purpose,
                        told(band.height.len),
                        sold.form.one(),
                        cloth.fabric,
                        told(Length::from_units(sold.room))
                    ),
                    "Name another cloth for it, one that is sold off the bolt.",
                ));
            }
            _ => kept.push(*band),
        }
    }
    kept
}

/// Extras in the order of the demands, those of one kind added up.
fn sort_extra(extra: &mut Vec<(PieceId, u32)>, demands: &[Demand]) {
    let mut totals: BTreeMap<PieceId, u32> = BTreeMap::new();
    for (piece, count) in extra.drain(..) {
        *totals.entry(piece).or_default() += count;
    }
    // Each total is taken once, with the first demand for its piece.
    extra.extend(
        demands
            .iter()
            .filter_map(|demand| totals.remove_entry(&demand.piece))
            .filter(|(_, total)| *total > 0),
    );
}
