//! Pinned methods that could not be followed.

use crate::emit::UnitStory;
use crate::methods;
use crate::tokens::BlockTokens;
use terms::{Finding, Place};

/// A finding for each block whose pinned method is unknown, or fits none of its units.
pub fn pin_findings(blocks: &[BlockTokens], stories: &[UnitStory]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for block in blocks.iter().filter(|b| !b.replaced) {
        let Some(pin) = &block.method else { continue };
        let place = Place::Block {
            name: block.name.clone(),
            patches: Vec::new(),
            at: None,
        };
        let names = methods::names();
        let known = names.contains(&pin.as_str());
        if !known {
            findings.push(Finding::stop(
                "unknown-method",
                place,
                format!("There is no method called \"{pin}\"."),
                format!("Pin one of: {}.", names.join(", ")),
            ));
        } else if pin != "template"
            && pin != "plain patches"
            && !stories
                .iter()
                .any(|s| s.block.as_ref() == Some(&block.name) && s.method == pin)
        {
            findings.push(Finding::care(
                "pin-does-not-fit",
                place,
                format!("No unit of this block can be made by {pin}, so it is pieced from plain patches."),
                "Take the pin out, or draw a unit that the method makes.",
            ));
        }
    }
    findings
}
