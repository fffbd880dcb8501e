//! `scantling sizes`: every size of the quilt, planned and proved, and friendly sizes near it.

use crate::args::SizesArgs;
use crate::check::to_text;
use crate::load;
use crate::print::{self, Ink};
use crate::trouble::{Outcome, Trouble};
use design::Design;
use measure::{Length, Measure};
use serde_json::{Value, json};
use terms::Finding;

/// So many friendly sizes are told at most.
const MOST_FRIENDLY: usize = 8;

/// One size of the quilt.
struct Row {
    name: String,
    size: (f64, f64),
    off: design::OffMarks,
    cloth: f64,
    findings: Vec<Finding>,
}

/// Runs the command.
///
/// # Errors
/// When the file cannot be read or is not a design.
pub fn run(args: &SizesArgs) -> Result<Outcome, Trouble> {
    let design = match load::open(&args.file) {
        Err(trouble) if args.json => return crate::check::unreadable_as_json(trouble),
        other => other?,
    };
    let sizes = design.size_names();
    let rows: Vec<Row> = sizes
        .iter()
        .filter_map(|name| Some(row(name, &design.at_size(name)?)))
        .collect();
    let proved = rows.iter().all(|row| !row.findings.iter().any(Finding::is_stop));
    let friendly = friendly(&design);
    if args.json {
        print::say(&to_text(&as_json(&rows, &friendly)))?;
    } else {
        print::say(&in_words(&design, &rows, &friendly, Ink::for_output()))?;
    }
    Ok(Outcome::when(proved))
}

/// One size through all rooms.
fn row(name: &str, design: &Design) -> Row {
    let mut row = Row {
        name: name.to_string(),
        size: design.top_size(),
        off: design.off_marks(),
        cloth: 0.0,
        findings: Vec::new(),
    };
    match drafting::draft(design) {
        Ok(draft) => {
            let bought = &draft.pattern.bought;
            row.cloth = bought.cloths.iter().map(|cloth| cloth.length.len.to_inches()).sum();
            row.findings = draft.findings;
            if !row.findings.iter().any(Finding::is_stop) {
                let pattern = &draft.pattern;
                let rehearsed = rehearse::rehearse(&pattern.recipe, &pattern.cutting, bought, &draft.picture);
                row.findings.extend(rehearsed.err().unwrap_or_default());
            }
        }
        Err(findings) => row.findings = findings,
    }
    row
}

/// A size of the first block at which every side lies on a mark, and the size of the top then.
struct Friendly {
    block: f64,
    scale: f64,
    size: (f64, f64),
}

/// The nearest friendly sizes, in order of size.
fn friendly(design: &Design) -> Vec<Friendly> {
    let Some(own) = design.first_block().map(|block| block.size.0) else {
        return Vec::new();
    };
    let step = match design.quilt.measure {
        Measure::Inch => 0.5,
        Measure::Metric => 1.0 / 2.54,
    };
    let mut found: Vec<Friendly> = ((own / 2.0 / step).ceil() as u32..=(own * 2.0 / step).floor() as u32)
        .map(|steps| f64::from(steps) * step)
        .filter(|block| (block - own).abs() > 1e-9)
        .filter_map(|block| {
            let scaled = design.clone().scaled(block / own);
            let size = scaled.top_size();
            (scaled.off_marks().cuts == 0).then_some(Friendly {
                block,
                scale: block / own,
                size,
            })
        })
        .collect();
    found.sort_by(|a, b| (a.block - own).abs().total_cmp(&(b.block - own).abs()));
    found.truncate(MOST_FRIENDLY);
    found.sort_by(|a, b| a.block.total_cmp(&b.block));
    found
}

/// The beds it dresses, the best two.
fn beds(size: (f64, f64), measure: Measure) -> String {
    finishing::dressed(size.0, size.1)
        .iter()
        .take(2)
        .map(|it| {
            let drop = plain(it.side.round(), measure);
            format!("{} {} ({drop} down at the sides)", it.bed.region, it.bed.name)
        })
        .collect::<Vec<_>>()
        .join(", ")
}

fn plain(inches: f64, measure: Measure) -> String {
    Length::nearest(inches).map_or_else(String::new, |length| print::length(length, measure))
}

fn in_words(design: &Design, rows: &[Row], friendly: &[Friendly], ink: Ink) -> String {
    let measure = design.quilt.measure;
    let mut text = format!("{}\n", ink.heading("Sizes of the file"));
    for row in rows {
        let stops: Vec<&Finding> = row.findings.iter().filter(|f| f.is_stop()).collect();
        let state = match stops.first() {
            None => ink.good("proved"),
            Some(stop) => format!("not proved: {stop}"),
        };
        let off = match row.off.cuts {
            0 => "every side on a mark".to_string(),
            1 => format!("1 side off the marks by {}", plain_fine(row.off.worst, measure)),
            n => format!(
                "{n} sides off the marks, by {} at most",
                plain_fine(row.off.worst, measure)
            ),
        };
        text += &format!(
            "{}: {} × {}; {off}; {} of cloth; {state}\n",
            row.name,
            plain(row.size.0, measure),
            plain(row.size.1, measure),
            cloth(row.cloth, measure),
        );
        let beds = beds(row.size, measure);
        if !beds.is_empty() {
            text += &format!("  dresses {beds}\n");
        }
    }
    text += &format!("\n{}\n", ink.heading("Friendly sizes near it"));
    if friendly.is_empty() {
        text += "None between half and twice the size: some sides are in no simple proportion.\n";
    }
    for one in friendly {
        text += &format!(
            "block {}: top {} × {}; scale = {}; every side on a mark\n",
            plain(one.block, measure),
            plain(one.size.0, measure),
            plain(one.size.1, measure),
            (one.scale * 1.0e6).round() / 1.0e6,
        );
        let beds = beds(one.size, measure);
        if !beds.is_empty() {
            text += &format!("  dresses {beds}\n");
        }
    }
    text
}

/// A small length with its decimals: what lies between marks has no fraction on the ruler.
fn plain_fine(inches: f64, measure: Measure) -> String {
    match measure {
        Measure::Inch => format!("{inches:.3} in"),
        Measure::Metric => format!("{:.1} mm", inches * 25.4),
    }
}

fn cloth(inches: f64, measure: Measure) -> String {
    match measure {
        Measure::Inch => format!("{:.2} yd", inches / 36.0),
        Measure::Metric => format!("{:.2} m", inches * 0.0254),
    }
}

fn as_json(rows: &[Row], friendly: &[Friendly]) -> Value {
    let rows: Vec<Value> = rows
        .iter()
        .map(|row| {
            json!({
                "name": row.name,
                "width": row.size.0,
                "height": row.size.1,
                "off_marks": row.off.cuts,
                "worst_off": row.off.worst,
                "cloth": row.cloth,
                "proved": !row.findings.iter().any(Finding::is_stop),
                "beds": finishing::dressed(row.size.0, row.size.1)
                    .iter()
                    .map(|it| json!({ "region": it.bed.region, "name": it.bed.name, "side": it.side, "foot": it.foot }))
                    .collect::<Vec<_>>(),
            })
        })
        .collect();
    let friendly: Vec<Value> = friendly
        .iter()
        .map(|one| json!({ "block": one.block, "scale": one.scale, "width": one.size.0, "height": one.size.1 }))
        .collect();
    json!({ "sizes": rows, "friendly": friendly })
}
