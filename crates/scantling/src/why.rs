//! `scantling why`: where each number comes from.

use crate::args::WhyArgs;
use crate::load;
use crate::print::{self, Ink};
use crate::sizes::{self, NamedSize};
use crate::trouble::{Outcome, Trouble};
use drafting::{Draft, draft};
use measure::Measure;
use recipe::{Size, Take};
use std::path::Path;

/// Runs the command.
///
/// # Errors
/// When the file cannot be read, or nothing in the plan has the name asked about.
pub fn run(args: &WhyArgs) -> Result<Outcome, Trouble> {
    let design = load::open_as(&args.file, &args.chosen)?;
    let ink = Ink::for_output();
    let worked = match draft(&design) {
        Ok(worked) => worked,
        Err(findings) => {
            let text = print::findings(&findings, ink);
            print::say(&format!(
                "{text}There is no plan, so there are no numbers to explain.\n"
            ))?;
            return Ok(Outcome::Objected);
        }
    };
    let text = match &args.what {
        None => askable(&worked, ink),
        Some(what) => {
            let told = about(&worked, what, ink);
            if told.is_empty() {
                let because = format!(
                    "no piece, unit or fabric has this name; `scantling why {}` lists those there are",
                    args.file.display()
                );
                return Err(Trouble::unusable(Path::new(what), because));
            }
            told
        }
    };
    print::say(&text)?;
    Ok(Outcome::Good)
}

/// What can be asked about.
fn askable(worked: &Draft, ink: Ink) -> String {
    let recipe = &worked.pattern.recipe;
    let pieces: Vec<Vec<String>> = worked
        .demands
        .iter()
        .map(|demand| {
            vec![
                print::harmless(demand.piece.as_str()),
                sizes::in_words(&demand.shape, recipe.measure),
                print::harmless(demand.fabric.as_str()),
            ]
        })
        .collect();
    let units: Vec<Vec<String>> = recipe
        .makes
        .iter()
        .map(|make| vec![print::harmless(make.unit.as_str()), print::harmless(&make.label)])
        .collect();
    let fabrics: Vec<Vec<String>> = recipe
        .fabrics
        .iter()
        .map(|note| vec![print::harmless(note.fabric.as_str()), print::harmless(&note.label)])
        .collect();
    let mut text = String::new();
    for (heading, rows) in [("Pieces", pieces), ("Units", units), ("Fabrics", fabrics)] {
        text += &format!("{}\n{}\n", ink.heading(heading), print::columns(&rows));
    }
    text += "Ask about one of them by its name: each of its numbers is then explained.\n";
    text
}

/// All that has this name: pieces, units (a block's name stands for all its units), fabrics.
fn about(worked: &Draft, what: &str, ink: Ink) -> String {
    let pattern = &worked.pattern;
    let recipe = &pattern.recipe;
    let named = |name: &str| name.eq_ignore_ascii_case(what);
    let mut text = String::new();
    for demand in worked.demands.iter().filter(|d| named(d.piece.as_str())) {
        let count = demand.count + worked.extra(&demand.piece);
        let heading = format!("Piece {}, {count} of {}, as cut", demand.piece, demand.fabric);
        text += &section(worked, &heading, sizes::of_shape(&demand.shape), ink);
    }
    for make in &recipe.makes {
        let of_block = worked
            .units
            .iter()
            .any(|story| story.unit == make.unit && story.block.as_deref().is_some_and(named));
        if !named(make.unit.as_str()) && !of_block {
            continue;
        }
        let numbers = make
            .steps
            .iter()
            .enumerate()
            .flat_map(|(index, step)| {
                sizes::of_step(step)
                    .into_iter()
                    .map(move |(name, size)| (format!("step {}, {name}", index + 1), size))
            })
            .collect();
        let parts: Vec<&str> = make
            .parts
            .iter()
            .map(|part| match &part.take {
                Take::Piece(id) => id.as_str(),
                Take::Unit(id) => id.as_str(),
                Take::Paper(name) => name.as_str(),
            })
            .collect();
        let heading = format!("Unit {}, from {}", make.unit, parts.join(", "));
        text += &section(worked, &heading, numbers, ink);
    }
    for note in recipe.fabrics.iter().filter(|f| named(f.fabric.as_str())) {
        let plans = pattern.cutting.cloths.iter().filter(|c| c.fabric == note.fabric);
        let bought = pattern.bought.cloths.iter().find(|c| c.fabric == note.fabric);
        let heading = format!("Fabric {}, {}", note.fabric, note.label);
        text += &section(
            worked,
            &heading,
            sizes::of_cloth(&plans.collect::<Vec<_>>(), bought),
            ink,
        );
    }
    text
}

fn section(worked: &Draft, heading: &str, numbers: Vec<NamedSize>, ink: Ink) -> String {
    let mut text = format!("{}\n", ink.heading(&print::harmless(heading)));
    if numbers.is_empty() {
        text += "  There is nothing to measure here.\n";
    }
    // A number that comes up again with the same derivation is explained once, with all its places.
    let mut told: Vec<(Size, Vec<String>)> = Vec::new();
    for (name, size) in numbers {
        match told.iter_mut().find(|(other, _)| *other == size) {
            Some((_, names)) => names.push(print::harmless(&name)),
            None => told.push((size, vec![print::harmless(&name)])),
        }
    }
    let measure = worked.pattern.recipe.measure;
    for (size, names) in told {
        let (first, others) = names
            .split_first()
            .map_or(("", &[][..]), |(first, others)| (first.as_str(), others));
        text += &format!("  {first}: {}\n", ink.good(&print::length(size.len, measure)));
        text += &derivation(worked, size, measure);
        if !others.is_empty() {
            text += &format!("      {}\n", ink.soft(&format!("so too: {}", others.join("; "))));
        }
    }
    text
}

fn derivation(worked: &Draft, size: Size, measure: Measure) -> String {
    let why = size.why.and_then(|id| worked.pattern.whys.get(id.0 as usize));
    let Some(why) = why else {
        return "      (given as it is)\n".into();
    };
    let rows: Vec<Vec<String>> = book::why_text(why, measure)
        .iter()
        .map(|line| {
            vec![
                String::from("  "),
                print::harmless(&line.what),
                print::harmless(&line.value),
            ]
        })
        .collect();
    print::columns(&rows)
}
