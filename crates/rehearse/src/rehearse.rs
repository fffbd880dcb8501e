//! The door of the room: rehearse a recipe with its cutting plan and hold the result against the picture of the top.

use crate::compare::compare;
use crate::cut::cut_all;
use crate::film::Film;
use crate::make::{make_all, make_by};
use crate::maker::{Hands, Maker};
use crate::pool::count;
use crate::scene::UnitScenes;
use recipe::{Bought, CutPlan, Recipe};
use std::collections::BTreeSet;
use terms::{Finding, TopPicture, UnitId};

/// That a recipe, done as it says, gives the design back; with the figures a booklet may print.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Proof {
    /// Seams sewn, every making counted as often as it is done.
    pub seams: u64,
    /// The largest distance seen between a face of the table's top and its patch, inches.
    pub largest_difference: f64,
    /// Pieces cut.
    pub pieces_cut: u64,
    /// Pieces sewn.
    pub pieces_used: u64,
    /// Pieces named as spare.
    pub pieces_spare: u64,
    /// Checks that held (each kind of unit once, however often it is made).
    pub checks: u64,
    /// Units made.
    pub units: u64,
}

/// Does what the recipe and its cutting plan say on the virtual table, and compares the top with its picture.
///
/// # Errors
/// Every rule that was not held, as stop findings: the cutting's, the counts', for each making the first, the top's.
pub fn rehearse(recipe: &Recipe, plan: &CutPlan, bought: &Bought, picture: &TopPicture) -> Result<Proof, Vec<Finding>> {
    judged(recipe, plan, (bought, picture), None)
}

/// The same rehearsal, and what was seen on the table while these units were made; the others' makings are not filmed.
pub fn rehearse_and_film(
    recipe: &Recipe,
    plan: &CutPlan,
    bought: &Bought,
    picture: &TopPicture,
    units: BTreeSet<UnitId>,
) -> (Result<Proof, Vec<Finding>>, Vec<UnitScenes>) {
    let mut film = Film::of(units);
    let proof = judged(recipe, plan, (bought, picture), Some(&mut film));
    (proof, film.scenes)
}

fn judged(
    recipe: &Recipe,
    plan: &CutPlan,
    (bought, picture): (&Bought, &TopPicture),
    film: Option<&mut Film>,
) -> Result<Proof, Vec<Finding>> {
    let cut = cut_all(recipe, plan, bought);
    let counts = count(recipe, plan, &cut.counts);
    let made = make_all(recipe, &cut, film);
    let mut proof = Proof {
        seams: made.tally.seams,
        largest_difference: 0.0,
        pieces_cut: counts.pieces_cut,
        pieces_used: counts.pieces_used,
        pieces_spare: counts.pieces_spare,
        checks: made.tally.checks,
        units: counts.units,
    };
    let mut findings = cut.findings;
    findings.extend(counts.findings);
    findings.extend(made.findings);
    if let Some(top) = &made.top {
        let compared = compare(recipe, top, picture);
        proof.largest_difference = compared.largest;
        proof.checks += compared.checks;
        findings.extend(compared.findings);
    }
    if findings.is_empty() { Ok(proof) } else { Err(findings) }
}

/// What lies on the table after each step of every making, as far as it gets.
pub fn scenes(recipe: &Recipe, plan: &CutPlan) -> Vec<UnitScenes> {
    scenes_while(recipe, plan, &|| true).unwrap_or_default()
}

/// The same, asking before each making whether it is still wanted; `None` when it was not.
pub fn scenes_while(recipe: &Recipe, plan: &CutPlan, go_on: &dyn Fn() -> bool) -> Option<Vec<UnitScenes>> {
    let cut = cut_all(recipe, plan, &Bought::default());
    let mut film = Film::default();
    make_by(recipe, &cut, Some(&mut film), None, go_on);
    go_on().then_some(film.scenes)
}

/// The same when one maker's hands stray: of each kind the first unit made. With hands that do not, the same to the bit.
pub fn scenes_by(recipe: &Recipe, plan: &CutPlan, maker: Maker, seed: u64) -> Vec<UnitScenes> {
    let cut = cut_all(recipe, plan, &Bought::default());
    let mut film = Film::default();
    make_by(
        recipe,
        &cut,
        Some(&mut film),
        Some(Box::new(Hands::new(maker, seed))),
        &|| true,
    );
    film.scenes
}
