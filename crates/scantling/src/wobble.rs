//! `scantling rehearse --wobble`: the error budget, in a maker's words.

use crate::args::RehearseArgs;
use crate::print::{self, Ink};
use ::rehearse::{Maker, Wobble, WobbleOptions};
use measure::{Length, Measure};
use recipe::Recipe;
use serde_json::{Value, json};

/// What the options say; spreads are inches, or millimetres in a metric design.
pub fn options(args: &RehearseArgs, measure: Measure) -> WobbleOptions {
    let unit = match measure {
        Measure::Inch => 1.0,
        Measure::Metric => 1.0 / 25.4,
    };
    let usual = Maker::default();
    let or = |given: Option<f64>, usual: f64| given.filter(|g| g.is_finite()).map_or(usual, |g| g * unit);
    WobbleOptions {
        maker: Maker {
            cut: or(args.cut_spread, usual.cut).abs(),
            seam: or(args.seam_spread, usual.seam).abs(),
            bias: or(args.seam_bias, usual.bias),
            fold: or(args.fold, usual.fold),
            end: or(args.end_spread, usual.end).abs(),
            eye: or(args.eye, usual.eye).abs(),
        },
        runs: args.runs.clamp(1, 10_000),
        seed: args.seed,
    }
}

/// The budget as JSON, lengths in inches.
pub fn as_json(w: &Wobble) -> Value {
    let m = w.options.maker;
    json!({
        "runs": w.options.runs,
        "seed": w.options.seed,
        "maker_inches": { "cut": m.cut, "seam": m.seam, "bias": m.bias, "fold": m.fold, "end": m.end, "eye": m.eye },
        "units": w.units.iter().map(|u| json!({
            "unit": u.unit, "exact_inches": u.exact, "mean_inches": u.mean, "spread_inches": u.spread,
            "range_inches": [u.range.0, u.range.1], "miss_inches": u.miss.0, "miss_95_inches": u.miss.1,
            "caught": u.caught,
        })).collect::<Vec<_>>(),
        "ranking": w.ranking.iter().filter_map(|&i| w.units.get(i)).map(|u| &u.unit).collect::<Vec<_>>(),
        "proposals": w.proposals.iter().map(|p| json!({
            "unit": p.unit, "now_inches": p.now, "then_inches": p.then, "finding": p.finding,
        })).collect::<Vec<_>>(),
        "stopped": w.stopped,
        "easing_modelled": false,
    })
}

/// The budget as a table.
pub fn in_words(w: &Wobble, recipe: &Recipe, ink: Ink) -> String {
    // A spread is far finer than a ruler: decimals, not marks.
    let (scale, unit) = match recipe.measure {
        Measure::Inch => (1.0, "in"),
        Measure::Metric => (25.4, "mm"),
    };
    let fine = |x: f64| format!("{:.3}", x * scale);
    let signed = |x: f64| format!("{:+.3}", x * scale);
    let m = w.options.maker;
    let mut text = ink.heading(&format!(
        "{} rehearsals with hands that stray (seed {})",
        w.options.runs, w.options.seed
    ));
    text += &format!(
        "\n  assumed, {unit}: cuts vary {}, seams {} and are {} too wide, the fold takes {}, ends {}; the eye sees {}\n\n",
        fine(m.cut),
        fine(m.seam),
        fine(m.bias),
        fine(m.fold),
        fine(m.end),
        fine(m.eye)
    );
    let head = [
        "unit",
        "what it is",
        "size across",
        "out by",
        "spread",
        "95 in 100 between",
        "misses by",
        "95 in 100 below",
        "seen when measured",
    ];
    let mut rows = vec![head.iter().map(ToString::to_string).collect::<Vec<_>>()];
    for u in &w.units {
        let make = recipe.makes.iter().find(|m| m.unit == u.unit);
        let label = make.map(|m| m.label.as_str()).filter(|l| !l.is_empty());
        rows.push(vec![
            u.unit.to_string(),
            label.unwrap_or_default().to_owned(),
            Length::nearest(u.exact).map_or_else(String::new, |l| print::length(l, recipe.measure)),
            signed(u.mean),
            fine(u.spread),
            format!("{} and {}", signed(u.range.0), signed(u.range.1)),
            fine(u.miss.0),
            fine(u.miss.1),
            u.caught.map_or_else(
                || "nothing is measured".into(),
                |c| format!("in {:.0} of 100", c * 100.0),
            ),
        ]);
    }
    text += &print::columns(&rows);
    let worst: Vec<String> = w
        .ranking
        .iter()
        .filter_map(|&i| w.units.get(i))
        .filter(|u| u.miss.0 > 0.0)
        .take(3)
        .map(|u| u.unit.to_string())
        .collect();
    if !worst.is_empty() {
        text += &format!("\nIt adds up most in {}.\n", worst.join(", then "));
    }
    let notes: Vec<_> = w.proposals.iter().take(3).map(|p| p.finding.clone()).collect();
    if notes.is_empty() {
        text += "No one unit trimmed to size would save a tenth of the largest miss.\n";
    } else {
        text += &print::findings(&notes, ink);
    }
    if let Some(first) = w.stopped.first() {
        text += &format!(
            "{} of {} rehearsals could not go on and are left out; the first at {}: {}\n",
            w.stopped.len(),
            w.options.runs,
            first.place,
            first.sentence
        );
    }
    text += "Easing a long edge to a short one is not modelled: hands that ease hide most of a small miss.\n";
    text
}
