//! `scantling plan --compare`: the ways each kind of unit could be made in, side by side.

use crate::check::to_text;
use crate::print::{self, Ink};
use crate::trouble::{Outcome, Trouble};
use design::Design;
use measure::Measure;
use piecing::{Because, Compared, Way};
use serde_json::{Value, json};
use terms::Finding;

/// Runs the command.
///
/// # Errors
/// When nothing can be printed.
pub fn run(design: &Design, as_json: bool) -> Result<Outcome, Trouble> {
    let ink = Ink::for_output();
    match piecing::compare(design) {
        Ok(units) if as_json => {
            let units: Vec<Value> = units.iter().map(of_unit).collect();
            print::say(&to_text(&json!({ "readable": true, "units": units })))?;
            Ok(Outcome::when(true))
        }
        Ok(units) => {
            print::say(&in_words(&units, design.quilt.measure, ink))?;
            Ok(Outcome::when(true))
        }
        Err(findings) if as_json => {
            print::say(&to_text(&json!({ "readable": true, "findings": findings })))?;
            Ok(Outcome::Objected)
        }
        Err(findings) => {
            let stops: Vec<Finding> = findings.into_iter().filter(Finding::is_stop).collect();
            print::say(&format!(
                "{}There is no plan, so there is nothing to compare.\n",
                print::findings(&stops, ink)
            ))?;
            Ok(Outcome::Objected)
        }
    }
}

fn of_unit(unit: &Compared) -> Value {
    let way = |way: &Way| {
        json!({
            "method": way.method,
            "cloth": way.cloth,
            "cuts": way.cuts,
            "seams": way.seams,
            "trims": way.trims,
            "error": way.error,
            "turns": way.turns,
            "partial": way.partial,
            "spoils": way.spoils,
            "at_once": way.at_once,
            "over": way.over,
            "bias": way.bias,
        })
    };
    json!({
        "unit": unit.unit,
        "label": unit.label,
        "count": unit.count,
        "chosen": unit.ways.first().map(|way| way.method),
        "because": reason(unit.because),
        "ways": unit.ways.iter().map(way).collect::<Vec<_>>(),
    })
}

fn in_words(units: &[Compared], measure: Measure, ink: Ink) -> String {
    let off = length_of(1, measure);
    let mut text = format!(
        "For one unit with all its parts, its share of what is left over counted in the cloth. The last figure is how\n\
         far out its size may come when every cut and every seam is {off} out, all the same way; what is\n\
         trimmed is {off} out at the most.\n"
    );
    let (several, one): (Vec<&Compared>, Vec<&Compared>) = units.iter().partition(|unit| unit.ways.len() > 1);
    for unit in several {
        let heading = format!(
            "{} {}, {} of them",
            print::harmless(&unit.label),
            print::harmless(unit.unit.as_str()),
            unit.count
        );
        let rows: Vec<Vec<String>> = unit
            .ways
            .iter()
            .enumerate()
            .map(|(i, way)| row(way, i == 0, measure))
            .collect();
        text += &format!(
            "\n{}\n{}  chosen: {}\n",
            ink.heading(&heading),
            print::columns(&rows),
            reason(unit.because)
        );
    }
    if !one.is_empty() {
        let names: Vec<String> = one.iter().map(|unit| print::harmless(unit.unit.as_str())).collect();
        text += &format!("\nIn one way only: {}\n", names.join(", "));
    }
    text
}

fn row(way: &Way, chosen: bool, measure: Measure) -> Vec<String> {
    let cloth = match measure {
        Measure::Inch => format!("{} sq in", number(way.cloth)),
        Measure::Metric => format!("{} sq cm", number(way.cloth * 2.54 * 2.54)),
    };
    let mut remarks = Vec::new();
    if way.spoils {
        remarks.push("half of it for the bin".to_string());
    }
    if way.bias {
        remarks.push("outer edges on the bias".to_string());
    }
    if way.over > 0 {
        remarks.push(format!("{} left over", way.over));
    }
    if way.turns > 0 {
        remarks.push(counted(way.turns as f64, "turn"));
    }
    if way.partial > 0 {
        remarks.push(counted(way.partial as f64, "partial seam"));
    }
    vec![
        format!("{} {}", if chosen { "*" } else { " " }, way.method),
        cloth,
        counted(way.cuts, "cut"),
        counted(way.seams, "seam"),
        counted(way.trims, "trim"),
        format!("{} out", length_of(way.error, measure)),
        remarks.join(", "),
    ]
}

/// So many 1/64 in.
fn length_of(sixty_fourths: u32, measure: Measure) -> String {
    match measure {
        Measure::Metric => format!("{} mm", number(f64::from(sixty_fourths) * 25.4 / 64.0)),
        Measure::Inch => {
            let (mut above, mut below) = (sixty_fourths, 64);
            while above > 0 && above.is_multiple_of(2) && below > 1 {
                (above, below) = (above / 2, below / 2);
            }
            match (above / below, above % below) {
                (whole, 0) => format!("{whole} in"),
                (0, rest) => format!("{rest}/{below} in"),
                (whole, rest) => format!("{whole} {rest}/{below} in"),
            }
        }
    }
}

/// With one decimal where it is not whole.
fn number(x: f64) -> String {
    let text = format!("{x:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_string)
}

fn counted(count: f64, what: &str) -> String {
    let shown = number(count);
    let plural = if shown == "1" { "" } else { "s" };
    format!("{shown} {what}{plural}")
}

fn reason(because: Because) -> &'static str {
    match because {
        Because::OnlyWay => "there is no other way",
        Because::Pinned => "the design pins it",
        Because::PlainSeams => "its seams are straight and sewn in one go",
        Because::LeastCloth => "it takes the least cloth",
        Because::MostForgiving => "it forgives the most",
        Because::StraightEdges => "its outer edges are on the straight grain",
        Because::FewWanted => "the others make more at once than are wanted",
        Because::FewestSteps => "no other of these takes fewer units and steps",
    }
}
