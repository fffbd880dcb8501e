//! A rehearsal is not done again for the same recipe: another colour, price or word changes nothing on the table.

use drafting::Draft;
use recipe::{Bought, CutPlan, Recipe};
use rehearse::{Proof, UnitScenes};
use std::panic::resume_unwind;
use std::sync::Arc;
use std::thread;
use terms::{Finding, TopPicture};

/// What the table had to say, and what was seen on it.
#[derive(Clone, Debug)]
pub struct Rehearsed {
    /// The proof, or what it objects to.
    pub proof: Result<Proof, Vec<Finding>>,
    /// What lay on the table after each step.
    pub scenes: Arc<Vec<UnitScenes>>,
}

/// The last rehearsal beside everything it was made from.
#[derive(Debug, Default)]
pub struct Memory(Option<Last>);

#[derive(Debug)]
struct Last {
    recipe: Recipe,
    cutting: CutPlan,
    bought: Bought,
    picture: TopPicture,
    rehearsed: Rehearsed,
}

impl Memory {
    /// Rehearses a pattern, or remembers how it went: whatever the table is given is compared whole. The cloths' colours it
    /// is not given, so it cannot ask for them.
    pub fn rehearse(&mut self, drafted: &Draft) -> Rehearsed {
        let pattern = &drafted.pattern;
        let mut recipe = pattern.recipe.clone();
        for note in &mut recipe.fabrics {
            note.color.clear();
        }
        if let Some(last) = &self.0
            && last.recipe == recipe
            && last.cutting == pattern.cutting
            && last.bought == pattern.bought
            && last.picture == drafted.picture
        {
            return last.rehearsed.clone();
        }
        // The pictures' own rehearsal knows nothing of the proof's, so the two go side by side.
        let (proof, scenes) = thread::scope(|scope| {
            let filmed = scope.spawn(|| rehearse::scenes(&recipe, &pattern.cutting));
            let proof = rehearse::rehearse(&recipe, &pattern.cutting, &pattern.bought, &drafted.picture);
            (proof, filmed.join())
        });
        let rehearsed = Rehearsed {
            proof,
            scenes: Arc::new(scenes.unwrap_or_else(|trouble| resume_unwind(trouble))),
        };
        self.0 = Some(Last {
            recipe,
            cutting: pattern.cutting.clone(),
            bought: pattern.bought.clone(),
            picture: drafted.picture.clone(),
            rehearsed: rehearsed.clone(),
        });
        rehearsed
    }
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
        let first = memory.rehearse(&drafted(&text));
        let again = memory.rehearse(&drafted(&dyed));
        assert!(Arc::ptr_eq(&first.scenes, &again.scenes));
        // What is remembered is what a rehearsal of the recipe itself, colours and all, would say.
        let own = drafted(&dyed);
        let pattern = &own.pattern;
        let fresh = rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &own.picture);
        assert_eq!(again.proof, fresh);
        assert_eq!(*again.scenes, rehearse::scenes(&pattern.recipe, &pattern.cutting));
        let third = memory.rehearse(&drafted(&wider));
        assert!(!Arc::ptr_eq(&first.scenes, &third.scenes));
        assert_ne!(third.scenes, first.scenes);
        assert!(third.proof.is_ok());
    }
}
