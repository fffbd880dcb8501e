//! `scantling plan`: units, pieces and the cloth to buy.

use crate::args::PlanArgs;
use crate::check::{to_text, unreadable_as_json};
use crate::compare;
use crate::load;
use crate::print::{self, Ink};
use crate::sizes;
use crate::trouble::{Outcome, Trouble};
use design::Design;
use drafting::{Draft, draft};
use measure::{Length, Measure};
use serde_json::json;
use std::collections::BTreeMap;
use terms::{Finding, UnitId};

/// Runs the command.
///
/// # Errors
/// When the file cannot be read.
pub fn run(args: &PlanArgs) -> Result<Outcome, Trouble> {
    let design = match load::open_as(&args.file, &args.chosen) {
        Err(trouble) if args.json => return unreadable_as_json(trouble),
        other => other?,
    };
    if args.compare {
        return compare::run(&design, args.json);
    }
    let worked = match draft(&design) {
        Ok(worked) => worked,
        Err(findings) => {
            if args.json {
                print::say(&to_text(&json!({ "readable": true, "findings": findings })))?;
            } else {
                let text = print::findings(&findings, Ink::for_output());
                print::say(&format!("{text}There is no plan.\n"))?;
            }
            return Ok(Outcome::Objected);
        }
    };
    if args.json {
        let pattern = &worked.pattern;
        print::say(&to_text(&json!({
            "readable": true,
            "recipe": pattern.recipe,
            "cutting": pattern.cutting,
            "bought": pattern.bought,
            "whys": pattern.whys,
            "findings": worked.findings,
            "picture": worked.picture,
            "parts": parts_as_json(&worked.parts(&design)),
        })))?;
    } else {
        let ink = Ink::for_output();
        let mut text = in_words(&design, &worked, ink);
        if let Some(list) = &args.stash {
            let owned = load::open_stash(list, design.quilt.measure)?;
            let (rows, findings) = worked.from_stash(&design, &owned);
            let rows: Vec<Vec<String>> = rows.iter().map(|row| from_stash(&design, row)).collect();
            text += &format!("\n{}\n{}", ink.heading("With the cloth in hand"), print::columns(&rows));
            text += &print::findings(&findings, ink);
            for (part, rows) in worked.parts(&design).from_stash(&design, &owned) {
                let heading = format!("With the cloth in hand, part by part: {}", print::harmless(&part));
                let rows: Vec<Vec<String>> = rows.iter().map(|row| from_stash(&design, row)).collect();
                text += &format!("\n{}\n{}", ink.heading(&heading), print::columns(&rows));
            }
        }
        print::say(&text)?;
    }
    Ok(Outcome::when(!worked.findings.iter().any(Finding::is_stop)))
}

/// The parts in order, each with its own recipe, cutting and cloth; the derivations are its own as well.
fn parts_as_json(parts: &drafting::Parts) -> Vec<serde_json::Value> {
    let one = |part: &drafting::PartDraft| {
        json!({
            "name": part.name,
            "date": part.date,
            "blocks": part.blocks,
            "sews_the_top": part.sews_the_top,
            "finishes": part.finishes,
            "from_before": part.from_before,
            "cut_before": part.cut_before,
            "cut_ahead": part.cut_ahead,
            "kept": part.kept,
            "recipe": part.pattern.recipe,
            "cutting": part.pattern.cutting,
            "bought": part.pattern.bought,
            "whys": part.pattern.whys,
        })
    };
    parts.list.iter().map(one).collect()
}

fn in_words(design: &Design, worked: &Draft, ink: Ink) -> String {
    let mut text = title(design, worked, ink);
    for (heading, rows) in [
        ("Units, in the order of making", units(worked)),
        ("Pieces", pieces(design, worked)),
        ("Cloth to buy", cloth(design, worked)),
    ] {
        text += &format!("\n{}\n{}", ink.heading(heading), print::columns(&rows));
    }
    let parts = worked.parts(design);
    if !parts.list.is_empty() {
        text += &format!("\n{}\n{}", ink.heading("In parts"), print::columns(&in_parts(&parts)));
        text += &format!(
            "\n{}\n{}",
            ink.heading("Cloth bought at once, or part by part"),
            print::columns(&cloth_in_parts(design, worked, &parts))
        );
        text += &print::findings(&parts.findings, ink);
    }
    if !worked.findings.is_empty() {
        text += &format!(
            "\n{}\n{}",
            ink.heading("Findings"),
            print::findings(&worked.findings, ink)
        );
    }
    text
}

fn title(design: &Design, worked: &Draft, ink: Ink) -> String {
    let recipe = &worked.pattern.recipe;
    let measure = recipe.measure;
    let (low, high) = worked.picture.outer.bounds();
    let side = |inches: f64| Length::nearest(inches).map_or_else(String::new, |l| print::length(l, measure));
    let by = if design.quilt.author.is_empty() {
        String::new()
    } else {
        format!(", by {}", print::harmless(&design.quilt.author))
    };
    format!(
        "{}{by}\nfinished {} × {}; seams {}; ruler marks {}\n",
        ink.heading(&print::harmless(&design.quilt.title)),
        side(high.x - low.x),
        side(high.y - low.y),
        print::length(recipe.seam.len, measure),
        print::length(recipe.mark, measure)
    )
}

/// Unit, how many, what it is, how it is made.
fn units(worked: &Draft) -> Vec<Vec<String>> {
    let methods: BTreeMap<&UnitId, &str> = worked.units.iter().map(|u| (&u.unit, u.method)).collect();
    worked
        .pattern
        .recipe
        .makes
        .iter()
        .map(|make| {
            // The last making gives nothing to the pool: it finishes the one top.
            let count = u64::from(make.times) * make.gives.len().max(1) as u64;
            vec![
                print::harmless(make.unit.as_str()),
                format!("{count} ×"),
                print::harmless(&make.label),
                methods.get(&make.unit).copied().unwrap_or_default().to_string(),
            ]
        })
        .collect()
}

/// Piece, how many, cloth, size as cut, shape.
fn pieces(design: &Design, worked: &Draft) -> Vec<Vec<String>> {
    let recipe = &worked.pattern.recipe;
    worked
        .demands
        .iter()
        .map(|demand| {
            let note = recipe.pieces.iter().find(|note| note.piece == demand.piece);
            let mut label = note.map_or_else(String::new, |note| print::harmless(&note.label));
            if let Some(spare) = note.map(|note| note.spare).filter(|spare| *spare > 0) {
                label += &format!(", {spare} of them spare");
            }
            if let Some(twin) = note.and_then(|note| note.twin.as_ref()) {
                label += &format!(", twin of {}", print::harmless(twin.as_str()));
            }
            vec![
                print::harmless(demand.piece.as_str()),
                format!("{} ×", demand.count + worked.extra(&demand.piece)),
                cloth_label(design, &demand.fabric),
                sizes::in_words(&demand.shape, recipe.measure),
                label,
            ]
        })
        .collect()
}

/// Cloth, how much, what no plan can do with less than.
fn cloth(design: &Design, worked: &Draft) -> Vec<Vec<String>> {
    let measure = worked.pattern.recipe.measure;
    worked
        .pattern
        .bought
        .cloths
        .iter()
        .map(|bought| {
            vec![
                cloth_label(design, &bought.fabric),
                print::harmless(&book::bought_words(bought, measure)),
                match bought.pieces {
                    None => format!("{} usable width", print::length(bought.usable.len, measure)),
                    Some(pieces) => format!(
                        "{} usable across, {} along",
                        print::length(bought.usable.len, measure),
                        print::length(pieces.each.len, measure)
                    ),
                },
                match bought.pieces {
                    None => format!(
                        "no plan does with less than {}",
                        print::length(down_to_mark(bought.bound.len, measure), measure)
                    ),
                    Some(_) => format!(
                        "no plan does with fewer than {}",
                        print::harmless(&book::least_words(bought, measure))
                    ),
                },
            ]
        })
        .collect()
}

/// Part, date, what is made in it.
fn in_parts(parts: &drafting::Parts) -> Vec<Vec<String>> {
    let line = |(i, part): (usize, &drafting::PartDraft)| {
        let mut made: Vec<String> = part
            .blocks
            .iter()
            .map(|(block, count)| format!("{count} × {}", print::harmless(block)))
            .collect();
        if !part.cut_ahead.is_empty() {
            let ahead: u64 = part.cut_ahead.iter().map(|(_, count)| count).sum();
            made.push(format!("{ahead} pieces cut for later"));
        }
        if part.sews_the_top {
            made.push("the top".to_string());
        }
        if part.finishes {
            made.push("finishing".to_string());
        }
        vec![
            format!("{}", i + 1),
            print::harmless(&part.name),
            print::harmless(&part.date),
            made.join(", "),
        ]
    };
    parts.list.iter().enumerate().map(line).collect()
}

/// Cloth, bought at once, part by part in all, and for each part.
fn cloth_in_parts(design: &Design, worked: &Draft, parts: &drafting::Parts) -> Vec<Vec<String>> {
    let measure = worked.pattern.recipe.measure;
    let told = |bought: &recipe::BoughtCloth| print::harmless(&book::bought_words(bought, measure));
    worked
        .pattern
        .bought
        .cloths
        .iter()
        .map(|bought| {
            let each: Vec<String> = parts
                .list
                .iter()
                .enumerate()
                .filter_map(|(i, part)| {
                    let own = part
                        .pattern
                        .bought
                        .cloths
                        .iter()
                        .find(|own| own.fabric == bought.fabric)?;
                    Some(format!("part {}: {}", i + 1, told(own)))
                })
                .collect();
            vec![
                cloth_label(design, &bought.fabric),
                format!("at once {}", told(bought)),
                format!("part by part {}", told(&parts.bought_part_by_part(bought))),
                each.join(", "),
            ]
        })
        .collect()
}

/// Cloth, how far what is there goes, what to buy besides.
fn from_stash(design: &Design, row: &drafting::FromStash) -> Vec<String> {
    let told = |length: Length| print::harmless(&book::cloth_length(length, design.quilt.measure));
    let (all, held) = row.strips;
    let words = match row.pieces {
        None if row.buy == Length::ZERO => "suffices".to_string(),
        None => format!("buy {} besides; with none in hand {}", told(row.buy), told(row.without)),
        Some((0, _)) => "suffices".to_string(),
        Some((buy, without)) => format!("buy {buy} pieces besides; with none in hand {without}"),
    };
    vec![
        cloth_label(design, &row.fabric),
        format!("{held} of {all} strips"),
        words,
    ]
}

/// A bound in figures that can be read: still true when it is a little lower.
fn down_to_mark(bound: Length, measure: Measure) -> Length {
    let mark = match measure {
        Measure::Inch => Length::fraction(1, 8),
        Measure::Metric => Length::tenths_of_mm(10),
    };
    mark * bound.units().div_euclid(mark.units())
}

fn cloth_label(design: &Design, id: &terms::FabricId) -> String {
    let label = design.fabric(id).map_or(id.as_str(), |fabric| &fabric.label);
    print::harmless(label)
}
