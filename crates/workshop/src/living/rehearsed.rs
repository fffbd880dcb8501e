//! What is not done again: a plan whose cloths only changed their colours, the cutting of a cloth whose pieces stayed as they were,
//! the rehearsal of the same recipe. Another colour, price or word changes nothing on the table.

use design::Design;
use drafting::{Draft, draft_again};
use recipe::{Bought, CutPlan, Recipe};
use rehearse::{Proof, UnitScenes};
use std::collections::BTreeSet;
use std::sync::Arc;
use terms::{Finding, TopPicture, UnitId};

/// What the table had to say, and what was seen on it.
#[derive(Clone, Debug)]
pub struct Rehearsed {
    /// The proof, or what it objects to.
    pub proof: Result<Proof, Vec<Finding>>,
    /// What lay on the table after each step, of the units that were asked for at least.
    pub scenes: Arc<Vec<UnitScenes>>,
}

/// The last plan, and the last rehearsal beside everything it was made from.
#[derive(Debug, Default)]
pub struct Memory {
    drafted: drafting::Memory,
    last: Option<Last>,
}

#[derive(Debug)]
struct Last {
    recipe: Recipe,
    cutting: CutPlan,
    bought: Bought,
    picture: TopPicture,
    rehearsed: Rehearsed,
    /// The units that were filmed; all where nothing stands here.
    filmed: Option<BTreeSet<UnitId>>,
}

impl Memory {
    /// Plans a design.
    ///
    /// # Errors
    /// All findings, when there is no plan.
    pub fn draft(&mut self, design: &Design) -> Result<Draft, Vec<Finding>> {
        draft_again(design, &mut self.drafted)
    }

    /// Rehearses a pattern and films these units, or remembers how it went: whatever the table is given is compared whole. The
    /// cloths' colours it is not given, so it cannot ask for them.
    pub fn rehearse(&mut self, drafted: &Draft, units: BTreeSet<UnitId>) -> Rehearsed {
        let pattern = &drafted.pattern;
        let recipe = without_colors(&pattern.recipe);
        if let Some(last) = &self.last
            && last.filmed.as_ref().is_none_or(|filmed| filmed.is_superset(&units))
            && last.recipe == recipe
            && last.cutting == pattern.cutting
            && last.bought == pattern.bought
            && last.picture == drafted.picture
        {
            return last.rehearsed.clone();
        }
        let (proof, scenes) = rehearse::rehearse_and_film(
            &recipe,
            &pattern.cutting,
            &pattern.bought,
            &drafted.picture,
            units.clone(),
        );
        let rehearsed = Rehearsed {
            proof,
            scenes: Arc::new(scenes),
        };
        self.last = Some(Last {
            recipe,
            cutting: pattern.cutting.clone(),
            bought: pattern.bought.clone(),
            picture: drafted.picture.clone(),
            rehearsed: rehearsed.clone(),
            filmed: Some(units),
        });
        rehearsed
    }

    /// What was seen of all units of the pattern that was rehearsed last; filmed now what was not, as long as it is to go on.
    pub fn film_all(&mut self, drafted: &Draft, go_on: &dyn Fn() -> bool) -> Option<Arc<Vec<UnitScenes>>> {
        let Some(last) = &mut self.last else {
            let pattern = &drafted.pattern;
            return rehearse::scenes_while(&pattern.recipe, &pattern.cutting, go_on).map(Arc::new);
        };
        if last.filmed.is_some() {
            last.rehearsed.scenes = Arc::new(rehearse::scenes_while(&last.recipe, &last.cutting, go_on)?);
            last.filmed = None;
        }
        Some(last.rehearsed.scenes.clone())
    }
}

/// Names of all units of a pattern.
pub fn all_units(drafted: &Draft) -> BTreeSet<UnitId> {
    drafted
        .pattern
        .recipe
        .makes
        .iter()
        .map(|make| make.unit.clone())
        .collect()
}

fn without_colors(recipe: &Recipe) -> Recipe {
    let mut recipe = recipe.clone();
    recipe.fabrics.iter_mut().for_each(|note| note.color.clear());
    recipe
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drafted(text: &str) -> Draft {
        drafting::draft(&design::read_design(text).expect("it reads")).expect("it is planned")
    }

    #[test]
    fn another_colour_is_not_rehearsed_again_and_another_size_is() {
        let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/harbour-windows.quilt.toml");
        let text = std::fs::read_to_string(file).expect("it is among the examples");
        // Hardly another colour: seams are pressed toward the darker cloth, so that black for white would be another recipe.
        let at = text.find("color = \"#").expect("it has a cloth") + "color = \"#".len();
        let last = if &text[at + 5..at + 6] == "0" { "1" } else { "0" };
        let dyed = format!("{}{last}{}", &text[..at + 5], &text[at + 6..]);
        let wider = text.replace("width = \"2 in\"", "width = \"3 in\"");
        assert_ne!(text, wider);
        let mut memory = Memory::default();
        let mut rehearsed = |text: &str| {
            let drafted = drafted(text);
            memory.rehearse(&drafted, all_units(&drafted))
        };
        let first = rehearsed(&text);
        let again = rehearsed(&dyed);
        assert!(Arc::ptr_eq(&first.scenes, &again.scenes));
        // What is remembered is what a rehearsal of the recipe itself, colours and all, would say.
        let own = drafted(&dyed);
        let pattern = &own.pattern;
        let fresh = rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &own.picture);
        assert_eq!(again.proof, fresh);
        assert_eq!(*again.scenes, rehearse::scenes(&pattern.recipe, &pattern.cutting));
        let third = rehearsed(&wider);
        assert!(!Arc::ptr_eq(&first.scenes, &third.scenes));
        assert_ne!(third.scenes, first.scenes);
        assert!(third.proof.is_ok());
    }

    #[test]
    fn units_are_filmed_when_they_are_asked_for() {
        let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/harbour-windows.quilt.toml");
        let drafted = drafted(&std::fs::read_to_string(file).expect("it is among the examples"));
        let all = all_units(&drafted);
        let one: BTreeSet<UnitId> = all.iter().take(1).cloned().collect();
        let mut memory = Memory::default();
        let first = memory.rehearse(&drafted, one.clone());
        let seen = |scenes: &[UnitScenes]| scenes.iter().map(|s| s.unit.clone()).collect::<BTreeSet<_>>();
        assert_eq!(seen(&first.scenes), one);
        let pattern = &drafted.pattern;
        let proof = rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &drafted.picture);
        assert_eq!(first.proof, proof);
        assert!(Arc::ptr_eq(&memory.rehearse(&drafted, one).scenes, &first.scenes));
        assert!(memory.film_all(&drafted, &|| false).is_none());
        let whole = memory.film_all(&drafted, &|| true).expect("it goes on");
        assert_eq!(seen(&whole), all);
        assert!(Arc::ptr_eq(&memory.rehearse(&drafted, all).scenes, &whole));
    }
}
