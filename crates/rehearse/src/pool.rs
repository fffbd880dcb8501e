//! The pool between makings: what is cut and given against what is taken and left over. Counts only, so that they can be
//! judged even where a making fails.

use recipe::{Card, CutPlan, Make, Recipe, Step, Take};
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
    for card in &plan.cards {
        counts.findings.extend(judge_card(card, &recipe.makes));
    }
    counts
}

/// What is said of a card's number against how often it is in cloth.
fn judge_card(card: &Card, makes: &[Make]) -> Option<Finding> {
    let (mut uses, mut in_cloth, mut peak) = (0_i128, 0_i128, 0_i128);
    for make in makes {
        let (mut now, mut above) = (0_i128, 0_i128);
        for step in &make.steps {
            match step {
                Step::Baste { card: name, .. } if *name == card.name => {
                    now += 1;
                    uses += i128::from(make.times);
                }
                Step::TakeOut { cards, .. } => {
                    let out = cards.iter().filter(|c| c.card == card.name);
                    now -= out.map(|c| i128::from(c.count)).sum::<i128>();
                }
                _ => {}
            }
            above = above.max(now);
        }
        // The fullest moment of the fullest time round: the last where more stay in each time, else the first.
        let times = i128::from(make.times);
        peak = peak.max(in_cloth + (times - 1).max(0) * now.max(0) + above);
        in_cloth += times * now;
    }
    let name = &card.name;
    let sentence = if in_cloth != 0 {
        format!("{in_cloth} of card {name} are left in cloth at the end.")
    } else if uses != i128::from(card.uses) {
        format!(
            "Card {name} is told to be used {} times, but {uses} patches are basted over one.",
            card.uses
        )
    } else if peak != i128::from(card.cut) {
        format!(
            "{} of card {name} are told to be cut, but {peak} are in cloth at one time.",
            card.cut
        )
    } else {
        return None;
    };
    Some(Finding::stop(
        "card-count",
        Place::Quilt,
        sentence,
        "Make the counts of cards agree.",
    ))
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
