//! The design's own findings: what can be told from the drawing alone. One family to a file.

mod borders;
pub(crate) mod cells;
pub(crate) mod map_faults;
pub(crate) mod meetings;
pub(crate) mod off_marks;
pub(crate) mod on_ground;
mod prints;
mod shapes;

use crate::layout::lay;
use crate::resolve::resolve;
use crate::{Design, scraps};
use terms::Finding;

/// All of them: stop, then care, then note; within these in the order they are found.
pub(crate) fn all(design: &Design) -> Vec<Finding> {
    let mut findings = design.later.clone();
    let mut laid = borders::find(design);
    laid.extend(cells::find(design));
    let stops = laid.iter().any(Finding::is_stop);
    findings.extend(laid);
    if !stops {
        let resolved = resolve(design);
        findings.extend(resolved.findings);
        findings.extend(shapes::find(design, &resolved.used));
        findings.extend(on_ground::find(design, &resolved.used));
        findings.extend(off_marks::find(design, &resolved.used));
        findings.extend(meetings::find(design));
        findings.extend(prints::find(design, &design.top_picture()));
        findings.extend(scraps::findings(&lay(design)));
    }
    findings.sort_by_key(|f| f.severity);
    findings
}

/// What keeps the sheet from being made; nothing when it can be.
pub(crate) fn preventing(design: &Design) -> Vec<Finding> {
    let mut findings: Vec<Finding> = design.later.iter().filter(|f| f.is_stop()).cloned().collect();
    findings.extend(borders::find(design));
    findings.extend(cells::find(design).into_iter().filter(Finding::is_stop));
    findings
}
