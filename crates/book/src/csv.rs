//! The cut list for a spreadsheet (RFC 4180).

use crate::numbers::plain_length;
use measure::Measure;
use recipe::{Cut, Gives, Pattern, Strip};
use std::collections::BTreeMap;
use terms::PieceId;

/// One line a kind of piece: fabric, piece, shape, size, how many are cut, how many of them are spare.
///
/// Text that a spreadsheet might take for a formula gets an apostrophe before it.
pub fn cut_list_csv(pattern: &Pattern) -> String {
    let recipe = &pattern.recipe;
    let mut list: BTreeMap<PieceId, (String, u64)> = BTreeMap::new();
    for cloth in &pattern.cutting.cloths {
        for strip in &cloth.strips {
            gather(strip, u64::from(cloth.times()), recipe.measure, &mut list);
        }
    }
    let mut out = String::new();
    let head = ["fabric", "piece", "shape", "size", "count", "spare"].map(String::from);
    push_row(&mut out, &head);
    for note in &recipe.pieces {
        let label = recipe
            .fabrics
            .iter()
            .find(|f| f.fabric == note.fabric)
            .map(|f| f.label.trim())
            .filter(|l| !l.is_empty())
            .unwrap_or(note.fabric.as_str());
        let (size, count) = list.get(&note.piece).cloned().unwrap_or_default();
        push_row(
            &mut out,
            &[
                label.to_string(),
                note.piece.0.clone(),
                note.label.clone(),
                size,
                count.to_string(),
                note.spare.to_string(),
            ],
        );
    }
    out
}

fn gather(strip: &Strip, times: u64, measure: Measure, list: &mut BTreeMap<PieceId, (String, u64)>) {
    let times = times.saturating_mul(u64::from(strip.times));
    for run in &strip.runs {
        let cuts = times.saturating_mul(u64::from(run.times));
        for cut in &run.cuts {
            let size = size_words(strip, cut, measure);
            let mut add = |piece: &PieceId| {
                let entry = list.entry(piece.clone()).or_insert_with(|| (size.clone(), 0));
                entry.1 = entry.1.saturating_add(cuts);
            };
            match &cut.gives {
                Gives::Waste => {}
                Gives::Piece(p) => add(&p.piece),
                Gives::Halves { lower, upper, .. } => {
                    add(&lower.piece);
                    add(&upper.piece);
                }
                Gives::Quarters(all) => all.iter().for_each(|p| add(&p.piece)),
                Gives::Shaped { piece, .. } | Gives::Template { piece, .. } => add(&piece.piece),
            }
        }
    }
    for rest in &strip.rest {
        gather(rest, times, measure, list);
    }
}

fn size_words(strip: &Strip, cut: &Cut, measure: Measure) -> String {
    let words = |size: recipe::Size| plain_length(size.len, measure);
    let box_words = format!("{} x {}", words(cut.lower), words(strip.height));
    if let (Some(ruler), Gives::Piece(_)) = (cut.ruler, &cut.gives) {
        let angle = degrees(ruler.angle);
        return match ruler.across {
            Some(across) => format!("strip {}, {} across at {angle}", words(strip.height), words(across)),
            None => format!("strip {}, head to tail at {angle}", words(strip.height)),
        };
    }
    match &cut.gives {
        Gives::Waste => String::new(),
        Gives::Piece(_) if cut.lower == cut.upper => box_words,
        Gives::Piece(_) => format!(
            "strip {}, marks {} lower and {} upper",
            words(strip.height),
            words(cut.lower),
            words(cut.upper)
        ),
        Gives::Halves { .. } => format!("half of {box_words}"),
        Gives::Quarters(_) => format!("quarter of {box_words}"),
        Gives::Shaped { .. } => format!("shaped from {box_words}"),
        Gives::Template { template, .. } => format!("template {template} from {box_words}"),
    }
}

fn degrees(angle: recipe::CutAngle) -> &'static str {
    match angle {
        recipe::CutAngle::Thirty => "30 degrees",
        recipe::CutAngle::FortyFive => "45 degrees",
        recipe::CutAngle::Sixty => "60 degrees",
        recipe::CutAngle::Wedge => "67.5 degrees",
    }
}

fn push_row(out: &mut String, cells: &[String]) {
    let row: Vec<String> = cells.iter().map(|c| cell(c)).collect();
    out.push_str(&row.join(","));
    out.push_str("\r\n");
}

/// Quoted where RFC 4180 (2.6, 2.7) asks for it.
fn cell(text: &str) -> String {
    let risky = text.trim_start().starts_with(['=', '+', '-', '@', '\t', '\r']) || text.starts_with(['\t', '\r', '\n']);
    let text = if risky { format!("'{text}") } else { text.to_string() };
    if text.contains(['"', ',', '\r', '\n']) || text.starts_with(' ') || text.ends_with(' ') {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_and_never_formulas() {
        // RFC 4180, section 2, rules 5 to 7
        assert_eq!(cell("plain"), "plain");
        assert_eq!(cell("a, b"), "\"a, b\"");
        assert_eq!(cell("say \"so\""), "\"say \"\"so\"\"\"");
        for bad in ["=1+1", "+1", "-1", "@x", " =1", "\t=1", "\r=1"] {
            assert!(cell(bad).trim_start_matches('"').starts_with('\''), "{bad}");
        }
    }
}
