//! The settings as the design file gives them.

use crate::{ClothSetting, Compared, Planned, Settings, compare_sheet, plan_sheet};
use design::Design;
use measure::{Length, Ruling};
use recipe::{FabricNote, PrintNote};
use terms::{Finding, Place};

/// The settings of a design.
///
/// # Errors
/// A stop finding when the seam or the ruler's mark is not a length.
pub fn settings_of(design: &Design) -> Result<Settings, Vec<Finding>> {
    let quilt = &design.quilt;
    let refuse = |what: &str| {
        vec![Finding::stop(
            "no-such-length",
            Place::Quilt,
            format!("The {what} is not a length that can be planned with."),
            "Give it as a length, such as \"1/4 in\" or \"0.75 cm\".",
        )]
    };
    let seam = Length::nearest(quilt.seam)
        .filter(|s| *s > Length::ZERO)
        .ok_or_else(|| refuse("seam"))?;
    let ruling = Length::nearest(quilt.ruler)
        .and_then(Ruling::new)
        .ok_or_else(|| refuse("ruler's mark"))?;
    let turn_under = Length::nearest(quilt.turn_under).ok_or_else(|| refuse("turn-under"))?;
    let cloths = design
        .fabrics
        .iter()
        .map(|f| ClothSetting {
            note: FabricNote {
                fabric: f.name.clone(),
                label: f.label.clone(),
                color: f.color.hex(),
                right_side: f.right_side,
                print: match f.print {
                    // A print that may lie anyhow is no print to mind.
                    _ if f.up == design::UpRule::Free => PrintNote::None,
                    design::Print::None => PrintNote::None,
                    design::Print::TwoWay => PrintNote::TwoWay,
                    design::Print::OneWay => PrintNote::OneWay,
                },
            },
            usable: f.usable,
            longest: f.room(),
            motif: f.motif,
        })
        .collect();
    Ok(Settings {
        title: quilt.title.clone(),
        author: quilt.author.clone(),
        edition: quilt.edition.clone(),
        measure: quilt.measure,
        ruling,
        seam,
        turn_under,
        spare: quilt.spare,
        prefer: quilt.prefer,
        keep_corners: quilt.keep_corners,
        cloths,
    })
}

/// Plans a design: its steps, and the pieces to cut for them.
///
/// # Errors
/// The design's stop findings, or the piecing's own.
pub fn plan(design: &Design) -> Result<Planned, Vec<Finding>> {
    plan_sheet(&design.sheet()?, &settings_of(design)?)
}

/// The ways in which each unit of a design could be made, the chosen one first.
///
/// # Errors
/// The design's stop findings, or the piecing's own.
pub fn compare(design: &Design) -> Result<Vec<Compared>, Vec<Finding>> {
    compare_sheet(&design.sheet()?, &settings_of(design)?)
}
