//! Borders that cannot be planned yet.

use crate::Design;
use terms::{Finding, Place};

/// A stop for each.
pub(crate) fn find(design: &Design) -> Vec<Finding> {
    let mut findings = Vec::new();
    for border in &design.borders {
        if !border.units.is_empty() {
            findings.push(Finding::stop(
                "not-yet-planned",
                Place::Quilt,
                format!("A border pieced of {} cannot be planned yet.", border.units.join(", ")),
                "Leave units out for a plain border.",
            ));
        }
    }
    findings
}
