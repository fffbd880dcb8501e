//! `scantling rehearse`: the pattern, or a recipe file, on the virtual table.

use crate::apply;
use crate::args::RehearseArgs;
use crate::check::{to_text, unreadable_as_json};
use crate::load;
use crate::print::{self, Ink};
use crate::trouble::{Outcome, Trouble};
use crate::wobble;
use ::rehearse::{Issued, Proof, rehearse, rehearse_in_parts};
use measure::{Length, Measure};
use serde_json::{Value, json};
use terms::{Finding, Severity};

/// Runs the command.
///
/// # Errors
/// When a file cannot be read.
pub fn run(args: &RehearseArgs) -> Result<Outcome, Trouble> {
    let design = match load::open_as(&args.file, &args.chosen) {
        Err(trouble) if args.json => return unreadable_as_json(trouble),
        other => other?,
    };
    let measure = design.quilt.measure;
    if args.wobble {
        return stray(args, &design);
    }
    let mut in_parts = 0;
    let result = match &args.recipe {
        Some(file) => {
            let pattern = load::open_recipe(file)?;
            // Nothing of the planning is asked: the recipe is held against the drawing alone.
            rehearse(
                &pattern.recipe,
                &pattern.cutting,
                &pattern.bought,
                &design.top_picture(),
            )
        }
        None => drafting::draft(&design).and_then(|worked| {
            // A planned pattern that a finding stops is not one to be proved.
            let stops: Vec<Finding> = worked.findings.iter().filter(|f| f.is_stop()).cloned().collect();
            if !stops.is_empty() {
                return Err(stops);
            }
            let pattern = &worked.pattern;
            let proof = rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &worked.picture)?;
            let parts = worked.parts(&design);
            let issued: Vec<Issued<'_>> = parts.list.iter().map(workshop::handing::issued).collect();
            if !issued.is_empty() {
                rehearse_in_parts(&issued, &worked.picture)?;
            }
            in_parts = issued.len();
            Ok(proof)
        }),
    };
    if args.json {
        print::say(&to_text(&as_json(&result, in_parts)))?;
    } else {
        print::say(&in_words(&result, in_parts, measure, Ink::for_output()))?;
    }
    Ok(Outcome::when(result.is_ok()))
}

/// The error budget.
fn stray(args: &RehearseArgs, design: &design::Design) -> Result<Outcome, Trouble> {
    let mut drafted = None;
    let pattern = match &args.recipe {
        Some(file) => Ok(load::open_recipe(file)?),
        None => drafting::draft(design).and_then(|worked| {
            let stops: Vec<Finding> = worked.findings.iter().filter(|f| f.is_stop()).cloned().collect();
            if stops.is_empty() {
                let pattern = worked.pattern.clone();
                drafted = Some(worked);
                Ok(pattern)
            } else {
                Err(stops)
            }
        }),
    };
    let result = pattern.and_then(|p| {
        let options = wobble::options(args, p.recipe.measure);
        ::rehearse::wobble(&p.recipe, &p.cutting, &p.bought, options).map(|w| (w, p.recipe, options))
    });
    let ink = Ink::for_output();
    let mut text = match &result {
        Ok((w, ..)) if args.json => to_text(&wobble::as_json(w)),
        Ok((w, recipe, _)) => wobble::in_words(w, recipe, ink),
        Err(findings) if args.json => to_text(&json!({ "findings": findings })),
        Err(findings) => print::findings(findings, ink),
    };
    if let (true, Ok((w, _, options)), Some(drafted)) = (args.apply, &result, &drafted) {
        text += "\n";
        text += &apply::apply(args, drafted, &w.proposals, *options)?;
    }
    print::say(&text)?;
    Ok(Outcome::when(result.is_ok()))
}

fn as_json(result: &Result<Proof, Vec<Finding>>, in_parts: usize) -> Value {
    match result {
        Ok(proof) => json!({
            "proved": true,
            "proof": {
                "seams": proof.seams,
                "units": proof.units,
                "checks": proof.checks,
                "pieces_cut": proof.pieces_cut,
                "pieces_used": proof.pieces_used,
                "pieces_spare": proof.pieces_spare,
                "largest_difference_inches": proof.largest_difference,
            },
            "parts": in_parts,
        }),
        Err(findings) => json!({ "proved": false, "findings": findings }),
    }
}

fn in_words(result: &Result<Proof, Vec<Finding>>, in_parts: usize, measure: Measure, ink: Ink) -> String {
    let parts = match in_parts {
        0 => String::new(),
        1 => "  the one part it is handed out in likewise\n".to_string(),
        n => format!("  its {n} parts likewise, each cut from its own cloth, one after another\n"),
    };
    match result {
        Ok(proof) => format!(
            "{} {}\n  {} pieces cut, {} used, {} spare\n  {} seams in {} units, {} checks held\n  \
             largest difference from the drawing: {}\n{parts}",
            ink.good("Proved:"),
            "cut and sewn as written, the pattern gives the drawing back.",
            proof.pieces_cut,
            proof.pieces_used,
            proof.pieces_spare,
            proof.seams,
            proof.units,
            proof.checks,
            difference(proof.largest_difference, measure)
        ),
        Err(findings) => {
            let mut text = print::findings(findings, ink);
            text += &format!("{}\n", ink.severity(Severity::Stop, "Not proved."));
            text
        }
    }
}

/// A difference far below what a ruler shows, with a bound that can be read.
fn difference(inches: f64, measure: Measure) -> String {
    match Length::nearest(inches) {
        Some(length) if length == Length::ZERO => match measure {
            Measure::Inch => "less than 1/8000 in".into(),
            Measure::Metric => "less than 0.004 mm".into(),
        },
        Some(length) => print::length(length, measure),
        None => "not a length".into(),
    }
}
