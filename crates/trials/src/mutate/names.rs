//! Where an objection must point: the altered step, strip or piece, or the first use of it.

use super::site::Home;
use recipe::{ClothPlan, Gives, Pattern, Step, Strip, Take};
use std::collections::BTreeSet;
use terms::{PieceId, Place, UnitId};

/// Whether a finding's place names what was altered, or its first use: for what is cut or noted, the making that first
/// takes the piece; for a unit, the making that first takes it; for a step, a later step of the same making.
pub fn names(home: &Home, base: &Pattern, mutated: &Pattern, place: &Place) -> bool {
    [base, mutated].into_iter().any(|pattern| in_one(home, pattern, place))
}

fn in_one(home: &Home, pattern: &Pattern, place: &Place) -> bool {
    let makes = &pattern.recipe.makes;
    let in_make = |m: usize| match (makes.get(m), place) {
        (Some(make), Place::Unit(unit)) => *unit == make.unit,
        (Some(make), Place::Step(step)) => step.unit == make.unit,
        _ => false,
    };
    match home {
        Home::Header => match place {
            Place::Quilt => true,
            // A pattern's seam is first used by its first making that sews.
            _ => (0..makes.len())
                .find(|&m| makes[m].steps.len() > 1)
                .is_some_and(in_make),
        },
        Home::Fabric(i) => pattern
            .recipe
            .fabrics
            .get(*i)
            .is_some_and(|note| of_cloth(pattern, &note.fabric, place)),
        Home::Piece(i) => pattern
            .recipe
            .pieces
            .get(*i)
            .is_some_and(|note| of_piece(pattern, &note.piece, place)),
        Home::Make(m) | Home::Give(m) => {
            let of_part = makes
                .get(*m)
                .is_some_and(|make| make.parts.iter().any(|p| taken(&p.take, place)));
            let user = makes.get(*m).and_then(|make| first_taking_unit(pattern, &make.unit));
            in_make(*m) || of_part || user.is_some_and(in_make)
        }
        Home::Part(m, i) => {
            let part = makes.get(*m).and_then(|make| make.parts.get(*i));
            in_make(*m) || part.is_some_and(|p| taken(&p.take, place))
        }
        Home::Step(m, s) => match (makes.get(*m), place) {
            (Some(make), Place::Step(step)) => step.unit == make.unit && step.step as usize >= *s,
            (Some(make), Place::Unit(unit)) => *unit == make.unit,
            _ => false,
        },
        Home::Cloth(c) => pattern
            .cutting
            .cloths
            .get(*c)
            .is_some_and(|cloth| of_cloth(pattern, &cloth.fabric, place)),
        Home::Strip(c, s) => {
            let Some(cloth) = pattern.cutting.cloths.get(*c) else {
                return false;
            };
            let Some(strip) = cloth.strips.get(*s) else {
                return false;
            };
            let mut pieces = BTreeSet::new();
            pieces_of(strip, &mut pieces);
            named_strip(cloth, *s, place)
                || *place == Place::Fabric(cloth.fabric.clone())
                || pieces.iter().any(|p| of_piece(pattern, p, place))
        }
        Home::Template(t) => {
            let Some(template) = pattern.cutting.templates.get(*t) else {
                return false;
            };
            let mut pieces = BTreeSet::new();
            let strips = || {
                pattern
                    .cutting
                    .cloths
                    .iter()
                    .flat_map(|c| c.strips.iter().enumerate().map(move |s| (c, s)))
            };
            for (_, (_, strip)) in strips() {
                by_template(strip, &template.name, &mut pieces);
            }
            let cut_there = strips().any(|(cloth, (i, strip))| {
                let mut here = BTreeSet::new();
                by_template(strip, &template.name, &mut here);
                !here.is_empty() && named_strip(cloth, i, place)
            });
            cut_there || pieces.iter().any(|p| of_piece(pattern, p, place))
        }
        Home::Paper(i) => {
            let Some(paper) = pattern.cutting.papers.get(*i) else {
                return false;
            };
            let takes = |m: usize| makes[m].parts.iter().any(|p| p.take == Take::Paper(paper.name.clone()));
            *place == Place::Quilt || (0..makes.len()).filter(|&m| takes(m)).any(in_make)
        }
        Home::Guide(g) => {
            let Some(guide) = pattern.cutting.guides.get(*g) else {
                return false;
            };
            let lays = |m: &usize| {
                let laid = |s: &Step| matches!(s, Step::Guide { guide: name, .. } if *name == guide.name);
                makes[*m].steps.iter().any(laid)
            };
            *place == Place::Quilt || (0..makes.len()).filter(lays).any(in_make)
        }
        Home::Card(c) => {
            let Some(card) = pattern.cutting.cards.get(*c) else {
                return false;
            };
            let bastes = |m: &usize| {
                let over = |s: &Step| matches!(s, Step::Baste { card: name, .. } if *name == card.name);
                makes[*m].steps.iter().any(over)
            };
            *place == Place::Quilt || (0..makes.len()).filter(bastes).any(in_make)
        }
        Home::Bought(fabric) => of_cloth(pattern, fabric, place),
    }
}

fn of_cloth(pattern: &Pattern, fabric: &terms::FabricId, place: &Place) -> bool {
    match place {
        Place::Fabric(named) | Place::Strip { fabric: named, .. } => named == fabric,
        _ => {
            let of_it = pattern.recipe.pieces.iter().filter(|p| p.fabric == *fabric);
            of_it.map(|p| &p.piece).any(|piece| of_piece(pattern, piece, place))
        }
    }
}

fn of_piece(pattern: &Pattern, piece: &PieceId, place: &Place) -> bool {
    let user = pattern
        .recipe
        .makes
        .iter()
        .find(|m| m.parts.iter().any(|p| p.take == Take::Piece(piece.clone())));
    match place {
        Place::Piece(named) => named == piece,
        Place::Unit(unit) => user.is_some_and(|m| m.unit == *unit),
        Place::Step(step) => user.is_some_and(|m| m.unit == step.unit),
        // A strip it is cut from: where two pieces of a kind differ, either may be the one that was altered.
        Place::Strip { fabric, .. } => {
            let cloths = pattern.cutting.cloths.iter().filter(|c| c.fabric == *fabric);
            cloths
                .flat_map(|c| c.strips.iter().enumerate().map(move |s| (c, s)))
                .any(|(cloth, (i, strip))| {
                    let mut here = BTreeSet::new();
                    pieces_of(strip, &mut here);
                    here.contains(piece) && named_strip(cloth, i, place)
                })
        }
        _ => false,
    }
}

fn first_taking_unit(pattern: &Pattern, unit: &UnitId) -> Option<usize> {
    pattern
        .recipe
        .makes
        .iter()
        .position(|m| m.parts.iter().any(|p| p.take == Take::Unit(unit.clone())))
}

fn taken(take: &Take, place: &Place) -> bool {
    match (take, place) {
        (Take::Piece(piece), Place::Piece(named)) => piece == named,
        (Take::Unit(unit), Place::Unit(named)) => unit == named,
        _ => false,
    }
}

fn named_strip(cloth: &ClothPlan, index: usize, place: &Place) -> bool {
    let Place::Strip { fabric, strip } = place else {
        return false;
    };
    let first: u64 = cloth.strips[..index].iter().map(|s| u64::from(s.times)).sum();
    let last = first + u64::from(cloth.strips[index].times.max(1));
    *fabric == cloth.fabric && (first..last).contains(&u64::from(*strip))
}

fn pieces_of(strip: &Strip, out: &mut BTreeSet<PieceId>) {
    for cut in strip.runs.iter().flat_map(|r| &r.cuts) {
        match &cut.gives {
            Gives::Waste => {}
            Gives::Piece(p) | Gives::Shaped { piece: p, .. } | Gives::Template { piece: p, .. } => {
                out.insert(p.piece.clone());
            }
            Gives::Halves { lower, upper, .. } => out.extend([lower.piece.clone(), upper.piece.clone()]),
            Gives::Quarters(pieces) => out.extend(pieces.iter().map(|p| p.piece.clone())),
        }
    }
    strip.rest.iter().for_each(|s| pieces_of(s, out));
}

fn by_template(strip: &Strip, name: &str, out: &mut BTreeSet<PieceId>) {
    for cut in strip.runs.iter().flat_map(|r| &r.cuts) {
        if let Gives::Template { piece, template } = &cut.gives
            && template == name
        {
            out.insert(piece.piece.clone());
        }
    }
    strip.rest.iter().for_each(|s| by_template(s, name, out));
}
