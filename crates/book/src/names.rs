//! What the things on the table are called while one unit is made.

use recipe::{Lay, Make, Recipe, Slot, Step, Take};
use std::collections::BTreeMap;
use terms::UnitId;

/// Names of the slots of one making.
#[derive(Clone, Debug, Default)]
pub struct Names {
    slots: BTreeMap<Slot, String>,
    /// Slots taken as units, with the unit's short code.
    codes: BTreeMap<Slot, String>,
}

impl Names {
    /// Parts by their kind, works by what they are: "the stack", "the work so far", "each half".
    pub fn of(make: &Make, recipe: &Recipe) -> Self {
        let mut names = Names::default();
        for part in &make.parts {
            let words = match &part.take {
                Take::Piece(piece) => piece.0.clone(),
                Take::Paper(_) => "the paper".to_string(),
                Take::Unit(unit) => {
                    names.codes.insert(part.slot, unit_code(unit));
                    unit_name(unit, recipe)
                }
            };
            names.slots.insert(part.slot, words);
        }
        // Works opened from the halves of one stack are alike: "one half on the other".
        let mut halves: Vec<Slot> = Vec::new();
        for step in &make.steps {
            match step {
                Step::Lay { into, .. } => names.set(*into, "the stack"),
                Step::CutApart { keep, .. } => {
                    let words = if keep.len() > 1 { "each half" } else { "the stack" };
                    keep.iter().for_each(|k| names.set(k.into, words));
                    halves.extend(keep.iter().map(|k| k.into).filter(|_| keep.len() > 1));
                }
                Step::Open { stack, into, .. } if halves.contains(stack) => names.set(*into, "the half"),
                Step::Baste { into, .. } => names.set(*into, "the basted patch"),
                Step::Whip { into, .. } => names.set(*into, "the work so far"),
                Step::Open { into, .. } | Step::Close { into, .. } => names.set(*into, "the work so far"),
                Step::Trim { into, .. } => names.set(*into, "the unit"),
                Step::SubCut { into, .. } => into.iter().for_each(|s| names.set(*s, "each length")),
                _ => {}
            }
        }
        for give in &make.gives {
            names.set(give.slot, "the unit");
        }
        names
    }

    fn set(&mut self, slot: Slot, words: &str) {
        self.slots.insert(slot, words.to_string());
    }

    /// What the slot is called.
    pub fn name(&self, slot: Slot) -> &str {
        self.slots.get(&slot).map_or("the work", String::as_str)
    }

    /// The short code of a part that is a unit, for pictures.
    pub fn code(&self, slot: Slot) -> Option<&str> {
        self.codes.get(&slot).map(String::as_str)
    }

    /// Both slots of a laying by name; told apart where they are of one kind.
    pub(crate) fn both(&self, b: Slot, a: Slot) -> (String, String) {
        let (b, a) = (self.name(b).to_string(), self.name(a).to_string());
        if a == b {
            let one = b.strip_prefix("the ").unwrap_or(&b);
            (format!("one {one}"), "the other".to_string())
        } else {
            (b, a)
        }
    }
}

/// A unit's label, with its code where another unit has the same label.
pub fn unit_name(unit: &UnitId, recipe: &Recipe) -> String {
    let label = |id: &UnitId| {
        recipe
            .makes
            .iter()
            .find(|m| &m.unit == id)
            .map(|m| m.label.trim().to_string())
    };
    match label(unit).filter(|l| !l.is_empty()) {
        None => unit.0.clone(),
        Some(own) => {
            let alike = recipe.makes.iter().filter(|m| m.label.trim() == own).count();
            if alike > 1 {
                format!("{own} {}", unit_code(unit))
            } else {
                own
            }
        }
    }
}

/// The last part of a unit's id: short enough to stand on a picture.
pub(crate) fn unit_code(unit: &UnitId) -> String {
    unit.0.rsplit('/').next().unwrap_or(&unit.0).to_string()
}

/// `2 Rows A`, `1 Four patch`: the label's plural, its code left alone.
pub(crate) fn counted_unit(count: u64, name: &str) -> String {
    match name.rsplit_once(' ') {
        Some((label, code)) if code.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit()) => {
            format!("{count} {} {code}", crate::plural::plural(count, label))
        }
        _ => crate::plural::counted(count, name),
    }
}

/// The slots a laying brings together.
pub(crate) fn laid(step: &Step) -> Option<(Slot, Slot, &Lay)> {
    match step {
        Step::Lay { a, b, how, .. } => Some((*a, *b, how)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_in_number() {
        assert_eq!(counted_unit(2, "Row A"), "2 Rows A");
        assert_eq!(counted_unit(2, "Four patch"), "2 Four patches");
        assert_eq!(counted_unit(1, "Goose"), "1 Goose");
        assert_eq!(counted_unit(3, "Row of seven"), "3 Rows of seven");
    }
}
