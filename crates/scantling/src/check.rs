//! `scantling check`: what cannot be made as drawn, or only with trouble.

use crate::args::CheckArgs;
use crate::load;
use crate::print::{self, Ink};
use crate::trouble::{Outcome, Trouble};
use serde_json::{Value, json};
use terms::{Finding, Severity};

/// Runs the command.
///
/// # Errors
/// When the file cannot be read.
pub fn run(args: &CheckArgs) -> Result<Outcome, Trouble> {
    let design = match load::open_as(&args.file, &args.chosen) {
        Err(trouble) if args.json => return unreadable_as_json(trouble),
        other => other?,
    };
    let mut findings = match drafting::draft(&design) {
        Ok(worked) => worked.findings,
        Err(findings) => findings,
    };
    findings.extend(load::photos(&args.file).of_design(&design).1);
    findings.sort_by_key(|finding| finding.severity);
    if args.json {
        print::say(&to_text(&json!({ "readable": true, "findings": findings })))?;
    } else {
        let ink = Ink::for_output();
        let mut text = print::findings(&findings, ink);
        text += &match findings.first().map(|worst| worst.severity) {
            None => format!("{}\n", ink.good("Nothing stands against making it.")),
            Some(Severity::Stop) => format!("{}: it cannot be made as drawn.\n", print::counts(&findings)),
            Some(_) => format!("{}: it can be made.\n", print::counts(&findings)),
        };
        print::say(&text)?;
    }
    Ok(Outcome::when(!findings.iter().any(Finding::is_stop)))
}

/// The same answer for a program: the design's errors as values. Trouble with the file itself stays a complaint.
///
/// # Errors
/// All trouble but a design that is not one.
pub fn unreadable_as_json(trouble: Trouble) -> Result<Outcome, Trouble> {
    let Trouble::NotADesign { errors, .. } = &trouble else {
        return Err(trouble);
    };
    let errors: Vec<Value> = errors
        .iter()
        .map(|e| json!({ "code": e.code, "line": e.line, "column": e.column, "message": e.message, "expected": e.expected }))
        .collect();
    print::say(&to_text(&json!({ "readable": false, "errors": errors })))?;
    Ok(Outcome::Unusable)
}

/// Indented JSON with a line end.
pub fn to_text(value: &Value) -> String {
    format!("{value:#}\n")
}
