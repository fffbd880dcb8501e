//! What was found for the cloths of a plan before, so that a change that leaves a cloth's pieces as they are is not looked for again.

use crate::search::{Found, Question};

/// Cloths remembered; a quilt of more is looked for anew.
const MOST: usize = 96;

/// The last answers, the latest first. A search hangs on nothing but its question, so that what is known is what would be found.
#[derive(Default)]
pub struct Known(Vec<(Question, Found)>);

impl std::fmt::Debug for Known {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Known({} cloths)", self.0.len())
    }
}

impl Known {
    /// The answer to a question: known, or found now and kept.
    pub(crate) fn answer(&mut self, question: Question, find: impl FnOnce() -> Found) -> Found {
        let found = match self.0.iter().position(|(known, _)| *known == question) {
            Some(at) => self.0.remove(at).1,
            None => find(),
        };
        self.0.truncate(MOST - 1);
        self.0.insert(0, (question, found.clone()));
        found
    }
}
