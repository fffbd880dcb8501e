//! `scantling cloths`: how the cloths work together: their ladder of lightness, and which neighbours are hard to tell apart.

use crate::args::CheckArgs;
use crate::check::to_text;
use crate::load;
use crate::print::{self, Ink};
use crate::trouble::{Outcome, Trouble};
use design::{BLURRED, Design, Eyes, HARDLY_IN_GREY, Neighbours, Together, as_seen, in_grey, together};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Characters of the ladder from black to white.
const RUNGS: f64 = 40.0;

/// Runs the command.
///
/// # Errors
/// When the file cannot be read.
pub fn run(args: &CheckArgs) -> Result<Outcome, Trouble> {
    let design = match load::open_as(&args.file, &args.chosen) {
        Err(trouble) if args.json => return crate::check::unreadable_as_json(trouble),
        other => other?,
    };
    let colors: BTreeMap<_, _> = design.fabrics.iter().map(|f| (f.name.clone(), f.color)).collect();
    let found = together(&design.top_picture(), &colors);
    if args.json {
        print::say(&to_text(&as_json(&found)))?;
    } else {
        print::say(&in_words(&design, &found, Ink::for_output()))?;
    }
    Ok(Outcome::when(true))
}

fn as_json(found: &Together) -> Value {
    let rung = |r: &design::Rung| {
        let eyes: Vec<String> = Eyes::ALL.map(|eyes| as_seen(r.color, eyes).hex()).to_vec();
        json!({
            "fabric": r.fabric,
            "color": r.color.hex(),
            "lightness": r.lightness,
            "grey": in_grey(r.color).hex(),
            "seen": eyes,
        })
    };
    let pair = |n: &Neighbours| {
        json!({
            "cloths": [n.cloths.0, n.cloths.1],
            "along": n.along,
            "in_grey": n.in_grey,
            "in_color": n.in_color,
            "to_eyes": n.to_eyes,
        })
    };
    json!({
        "readable": true,
        "ladder": found.ladder.iter().map(rung).collect::<Vec<_>>(),
        "eyes": Eyes::ALL.map(Eyes::words),
        "neighbours": found.neighbours.iter().map(pair).collect::<Vec<_>>(),
    })
}

fn in_words(design: &Design, found: &Together, ink: Ink) -> String {
    let label = |fabric: &terms::FabricId| {
        let label = design.fabric(fabric).map_or(fabric.as_str(), |f| f.label.as_str());
        print::harmless(label)
    };
    let mut text = format!("{}\n", ink.heading("From dark to light (L*, 0 black to 100 white)"));
    let rows: Vec<Vec<String>> = (found.ladder.iter())
        .map(|rung| {
            let at = (rung.lightness / 100.0 * RUNGS).round().clamp(0.0, RUNGS) as usize;
            let bar = format!("{}o{}", "-".repeat(at), " ".repeat(RUNGS as usize - at));
            vec![label(&rung.fabric), format!("{:.0}", rung.lightness), bar]
        })
        .collect();
    text += &print::columns(&rows);
    text += &format!("\n{}\n", ink.heading("Side by side and hard to tell apart"));
    let rows: Vec<Vec<String>> = (found.neighbours.iter())
        .filter_map(|pair| {
            let ways = ways(pair);
            let cloths = format!("{} and {}", label(&pair.cloths.0), label(&pair.cloths.1));
            (!ways.is_empty()).then(|| vec![cloths, ways.join(", ")])
        })
        .collect();
    if rows.is_empty() {
        text += "None.\n";
    } else {
        text += &print::columns(&rows);
    }
    text
}

/// In which ways two neighbours are hard to tell apart; how far they differ with each.
fn ways(pair: &Neighbours) -> Vec<String> {
    let mut ways = Vec::new();
    if pair.in_color < BLURRED {
        ways.push(format!("in colour ({:.1})", pair.in_color));
    }
    if pair.in_grey < HARDLY_IN_GREY {
        ways.push(format!("in grey ({:.1})", pair.in_grey));
    }
    if pair.in_color >= BLURRED {
        let seen = Eyes::ALL.into_iter().zip(pair.to_eyes);
        let blurred = seen.filter(|(_, difference)| *difference < BLURRED);
        ways.extend(blurred.map(|(eyes, d)| format!("to eyes {} ({d:.1})", eyes.words())));
    }
    ways
}
