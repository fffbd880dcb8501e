//! The pool between makings: what is cut and given against what is taken and left over. Counts only, so that they can be
//! judged even where a making fails.

use recipe::{CutPlan, Recipe, Take};
use std::collections::BTreeMap;
use terms::{Finding, PieceId, Place, UnitId};

/// What the counts come to.
#[derive(Debug, Default)]
pub(crate) struct Counts {
    pub(crate) pieces_cut: u64,
    pub(crate) pieces_used: u64,
    pub(crate) pieces_spare: u64,
    pub(crate) units: u64,
    pub(crate) findings: Vec<Finding>,
}

/// Counts pieces and units; `cut` is how many of each kind the cutting gave.
pub(crate) fn count(recipe: &Recipe, plan: &CutPlan, cut: &[u64]) -> Counts {
    let mut counts = Counts::default();
    let mut pieces: BTreeMap<&PieceId, u64> = BTreeMap::new();
    let mut units: BTreeMap<&UnitId, u64> = BTreeMap::new();
    let mut papers: BTreeMap<&str, u64> = BTreeMap::new();
    let mut given: BTreeMap<&UnitId, u64> = BTreeMap::new();
    for make in &recipe.makes {
        let times = u64::from(make.times);
        for part in &make.parts {
            let taken = match &part.take {
                Take::Piece(piece) => pieces.entry(piece).or_default(),
                Take::Unit(unit) => units.entry(unit).or_default(),
                Take::Paper(name) => papers.entry(name.as_str()).or_default(),
            };
            *taken = taken.saturating_add(times);
        }
        let gives = times.saturating_mul(make.gives.len() as u64);
        let so_far = given.entry(&make.unit).or_default();
        *so_far = so_far.saturating_add(gives);
        counts.units = counts.units.saturating_add(gives);
    }
    for (note, &cut) in recipe.pieces.iter().zip(cut) {
        let used = pieces.get(&note.piece).copied().unwrap_or(0);
        counts.pieces_cut = counts.pieces_cut.saturating_add(cut);
        counts.pieces_used = counts.pieces_used.saturating_add(used);
        counts.pieces_spare = counts.pieces_spare.saturating_add(u64::from(note.spare));
        let place = Place::Piece(note.piece.clone());
        let what = format!("of piece {}", note.piece);
        counts
            .findings
            .extend(judge(&what, place, cut, "cut", used, u64::from(note.spare)));
    }
    for paper in &plan.papers {
        let used = papers.get(paper.name.as_str()).copied().unwrap_or(0);
        let what = format!("of foundation paper {}", paper.name);
        counts
            .findings
            .extend(judge(&what, Place::Quilt, u64::from(paper.print), "printed", used, 0));
    }
    for make in &recipe.makes {
        let made = given.get(&make.unit).copied().unwrap_or(0);
        let used = units.get(&make.unit).copied().unwrap_or(0);
        let place = Place::Unit(make.unit.clone());
        let what = format!("of unit {}", make.unit);
        counts
            .findings
            .extend(judge(&what, place, made, "made", used, u64::from(make.spare)));
    }
    counts
}

fn judge(what: &str, place: Place, there: u64, how: &str, used: u64, spare: u64) -> Option<Finding> {
    if used > there {
        return Some(Finding::stop(
            "pool-short",
            place,
            format!("{used} {what} are used but only {there} are {how}."),
            "Make the counts agree.",
        ));
    }
    let left = there - used;
    if left == spare {
        return None;
    }
    if spare == 0 {
        let sentence = format!("{left} {what} are left over at the end.");
        return Some(Finding::stop(
            "pool-left",
            place,
            sentence,
            "Use them, or name them as spare.",
        ));
    }
    Some(Finding::stop(
        "count-differs",
        place,
        format!("{there} {what} are {how} and {used} used, which leaves {left}, but {spare} are named as spare."),
        "Make the counts agree.",
    ))
}
