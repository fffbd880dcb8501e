//! A pattern that is handed out in parts: each part is cut from its own cloth and sewn with what it brings and what earlier
//! parts left ready, and what all of them bring together gives the top.

use crate::cut::cut_all;
use crate::rehearse::{Proof, rehearse};
use recipe::{Bought, ClothPlan, CutPlan, Recipe, Take};
use std::collections::BTreeMap;
use terms::{Finding, PieceId, Place, TopPicture, UnitId};

/// One part as it is handed out.
#[derive(Clone, Copy, Debug)]
pub struct Issued<'a> {
    /// What it is called.
    pub name: &'a str,
    /// The makings that are done in it.
    pub recipe: &'a Recipe,
    /// Its own cutting.
    pub plan: &'a CutPlan,
    /// The cloth bought for it.
    pub bought: &'a Bought,
    /// The pieces it cuts to be sewn in a later part, and how many.
    pub ahead: &'a [(PieceId, u64)],
}

/// Rehearses the parts one after another: every part's cuts lie in the cloth bought for it; each sews only what it has cut or
/// finds ready, and leaves no piece but named spares and what it says it cuts ahead; and all together, cut as the parts say, are the top of the picture.
///
/// # Errors
/// Every rule that was not held, as stop findings.
pub fn rehearse_in_parts(parts: &[Issued<'_>], picture: &TopPicture) -> Result<Proof, Vec<Finding>> {
    let mut findings = Vec::new();
    let mut ready: BTreeMap<&UnitId, u64> = BTreeMap::new();
    let mut laid_by: BTreeMap<&PieceId, u64> = BTreeMap::new();
    for part in parts {
        let cut = cut_all(part.recipe, part.plan, part.bought);
        findings.extend(cut.findings);
        let counts: BTreeMap<&PieceId, (u64, u64)> = part
            .recipe
            .pieces
            .iter()
            .zip(&cut.counts)
            .map(|(note, &cut)| (&note.piece, (cut, u64::from(note.spare))))
            .collect();
        findings.extend(sew(part, &counts, &mut ready, &mut laid_by));
    }
    if let Some(last) = parts.last() {
        for (piece, left) in laid_by.into_iter().filter(|(_, left)| *left > 0) {
            findings.push(differs(last, piece, left, 0, 0));
        }
    }
    if let Some((recipe, plan, bought)) = together(parts, &mut findings) {
        match rehearse(&recipe, &plan, &bought, picture) {
            Ok(proof) if findings.is_empty() => return Ok(proof),
            Ok(_) => {}
            Err(more) => findings.extend(more),
        }
    }
    Err(findings)
}

/// Counts the makings of one part in their order.
fn sew<'a>(
    part: &Issued<'a>,
    counts: &BTreeMap<&'a PieceId, (u64, u64)>,
    ready: &mut BTreeMap<&'a UnitId, u64>,
    laid_by: &mut BTreeMap<&'a PieceId, u64>,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut pieces: BTreeMap<&PieceId, u64> = BTreeMap::new();
    for make in &part.recipe.makes {
        let times = u64::from(make.times);
        let mut units: BTreeMap<&UnitId, u64> = BTreeMap::new();
        for taken in &make.parts {
            match &taken.take {
                Take::Piece(piece) => *pieces.entry(piece).or_default() += times,
                Take::Unit(unit) => *units.entry(unit).or_default() += times,
                Take::Paper(_) => {}
            }
        }
        for (unit, wanted) in units {
            let there = ready.entry(unit).or_default();
            if wanted > *there {
                findings.push(Finding::stop(
                    "part-short",
                    Place::Unit(make.unit.clone()),
                    format!(
                        "In \"{}\" {wanted} of unit {unit} are sewn on, but {there} are ready by then.",
                        part.name
                    ),
                    "Make more of them in this part or in an earlier one.",
                ));
            }
            *there = there.saturating_sub(wanted);
        }
        *ready.entry(&make.unit).or_default() += times.saturating_mul(make.gives.len() as u64);
    }
    for (piece, used) in &pieces {
        if !counts.contains_key(piece) {
            findings.push(differs(part, piece, 0, *used, 0));
        }
    }
    for (piece, (cut, spare)) in counts {
        let used = pieces.get(piece).copied().unwrap_or(0);
        let ahead = part
            .ahead
            .iter()
            .filter(|(of, _)| of == *piece)
            .map(|(_, count)| *count);
        let wanted = ahead.fold(used.saturating_add(*spare), u64::saturating_add);
        // What an earlier part has laid by is there as well.
        let there = laid_by.get(piece).copied().unwrap_or(0);
        let taken = wanted.saturating_sub(*cut);
        if taken > there || wanted < *cut {
            findings.push(differs(part, piece, cut.saturating_add(there), used, *spare));
        }
        laid_by.insert(piece, there.saturating_sub(taken));
    }
    for (piece, count) in part.ahead {
        if !counts.contains_key(piece) {
            findings.push(differs(part, piece, 0, 0, 0));
        }
        let there = laid_by.entry(piece).or_default();
        *there = there.saturating_add(*count);
    }
    findings
}

fn differs(part: &Issued<'_>, piece: &PieceId, cut: u64, used: u64, spare: u64) -> Finding {
    Finding::stop(
        "part-count-differs",
        Place::Piece(piece.clone()),
        format!(
            "In \"{}\" {cut} of piece {piece} are cut, {used} sewn, and {spare} named as spare.",
            part.name
        ),
        "Make the counts of the part agree.",
    )
}

/// All parts as one recipe with one cutting: strips one after another, counts added up.
fn together(parts: &[Issued<'_>], findings: &mut Vec<Finding>) -> Option<(Recipe, CutPlan, Bought)> {
    let first = parts.first()?;
    let mut recipe = Recipe {
        pieces: Vec::new(),
        makes: Vec::new(),
        ..first.recipe.clone()
    };
    let mut plan = CutPlan::default();
    let mut bought = Bought::default();
    for part in parts {
        for make in &part.recipe.makes {
            let Some(known) = recipe.makes.iter_mut().find(|known| known.unit == make.unit) else {
                recipe.makes.push(make.clone());
                continue;
            };
            if (&known.parts, &known.steps, &known.gives) != (&make.parts, &make.steps, &make.gives) {
                findings.push(Finding::stop(
                    "part-made-otherwise",
                    Place::Unit(make.unit.clone()),
                    format!(
                        "Unit {} is made in another way in \"{}\" than before.",
                        make.unit, part.name
                    ),
                    "Tell its making alike in all parts.",
                ));
            }
            known.times = known.times.saturating_add(make.times);
            known.spare = known.spare.saturating_add(make.spare);
        }
        for note in &part.recipe.pieces {
            match recipe.pieces.iter_mut().find(|known| known.piece == note.piece) {
                Some(known) => known.spare = known.spare.saturating_add(note.spare),
                None => recipe.pieces.push(note.clone()),
            }
        }
        for cloth in &part.plan.cloths {
            // Pieces sold cut are each cut by themselves, whoever hands them out.
            let bolt = |known: &&mut ClothPlan| known.fabric == cloth.fabric && known.alike.is_none();
            match plan.cloths.iter_mut().find(bolt).filter(|_| cloth.alike.is_none()) {
                Some(known) => known.strips.extend(cloth.strips.iter().cloned()),
                None => plan.cloths.push(cloth.clone()),
            }
        }
        for cloth in &part.bought.cloths {
            match bought.cloths.iter_mut().find(|known| known.fabric == cloth.fabric) {
                Some(known) => {
                    known.length.len += cloth.length.len;
                    if let (Some(all), Some(own)) = (&mut known.pieces, cloth.pieces) {
                        all.count = all.count.saturating_add(own.count);
                    }
                }
                None => bought.cloths.push(cloth.clone()),
            }
        }
        for template in &part.plan.templates {
            if !plan.templates.contains(template) {
                plan.templates.push(template.clone());
            }
        }
        for guide in &part.plan.guides {
            if !plan.guides.contains(guide) {
                plan.guides.push(guide.clone());
            }
        }
        for paper in &part.plan.papers {
            match plan.papers.iter_mut().find(|known| known.name == paper.name) {
                Some(known) => known.print = known.print.saturating_add(paper.print),
                None => plan.papers.push(paper.clone()),
            }
        }
        for card in &part.plan.cards {
            match plan.cards.iter_mut().find(|known| known.name == card.name) {
                Some(known) => {
                    known.uses = known.uses.saturating_add(card.uses);
                    known.cut = known.cut.max(card.cut);
                }
                None => plan.cards.push(card.clone()),
            }
        }
    }
    Some((recipe, plan, bought))
}
