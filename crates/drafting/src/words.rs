//! The designer's own words, each put with the block, unit or step it belongs to. Where that is no more, it is told: words are
//! never dropped without a sign.

use design::Design;
use recipe::Make;
use terms::{Finding, Place, StepId, UnitId};

/// Where words stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Spot {
    /// With a block, before its units.
    Block(String),
    /// With a unit, before its steps.
    Unit(UnitId),
    /// With one of a unit's steps.
    Step(StepId),
}

/// The designer's words and where they stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// Where.
    pub spot: Spot,
    /// As written.
    pub text: String,
}

/// Finds the spots; `blocks` are those that have units of their own.
pub(crate) fn place_words(design: &Design, makes: &[Make], blocks: &[&str]) -> (Vec<Said>, Vec<Finding>) {
    let mut placed = Vec::new();
    let mut findings = Vec::new();
    for say in &design.says {
        match spot(&say.at, makes, blocks) {
            Ok(spot) => placed.push(Said {
                spot,
                text: say.text.clone(),
            }),
            Err((sentence, mend)) => findings.push(Finding::care(
                "say-without-place",
                Place::Quilt,
                format!(
                    "The words \"{}\" {sentence}; they are not printed.",
                    beginning(&say.text)
                ),
                mend,
            )),
        }
    }
    (placed, findings)
}

/// `beacon`, `beacon/A` or `beacon/A step 3`; else what is there instead.
fn spot(at: &str, makes: &[Make], blocks: &[&str]) -> Result<Spot, (String, String)> {
    let (name, step) = match at.split_once(" step ") {
        Some((name, step)) => (name.trim(), Some(step.trim())),
        None => (at.trim(), None),
    };
    let Some(make) = makes.iter().find(|make| make.unit.as_str() == name) else {
        if step.is_none() && blocks.contains(&name) {
            return Ok(Spot::Block(name.to_string()));
        }
        let block = name.split('/').next().unwrap_or_default();
        let own: Vec<&str> = makes
            .iter()
            .map(|make| make.unit.as_str())
            .filter(|unit| unit.split('/').next() == Some(block))
            .collect();
        let mend = match own.as_slice() {
            [] if blocks.is_empty() => "`scantling plan` lists the units there are.".to_string(),
            [] => format!("Blocks with units of their own: {}.", some(blocks)),
            own => format!("Units of {block}: {}.", some(own)),
        };
        return Err((format!("belong to {name}, which is not made"), mend));
    };
    let Some(step) = step else {
        return Ok(Spot::Unit(make.unit.clone()));
    };
    let count = make.steps.len();
    match step.parse::<u32>() {
        Ok(number) if number >= 1 && number as usize <= count => Ok(Spot::Step(StepId {
            unit: make.unit.clone(),
            step: number - 1,
        })),
        _ => Err((
            format!("belong to step {step} of {name}, which has {count} steps"),
            format!("Name a step from 1 to {count}, or the unit alone."),
        )),
    }
}

/// The first eight names, and how many more there are.
fn some(names: &[&str]) -> String {
    let shown = names.iter().take(8).copied().collect::<Vec<_>>().join(", ");
    match names.len().saturating_sub(8) {
        0 => shown,
        more => format!("{shown} and {more} more"),
    }
}

/// The first words, enough to know them by.
fn beginning(text: &str) -> String {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= 40 {
        return line;
    }
    line.chars().take(38).collect::<String>() + " …"
}
