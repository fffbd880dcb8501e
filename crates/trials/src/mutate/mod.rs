//! Altered recipes, to judge the judge: every number, name, choice and step of a proved pattern is changed, one at a
//! time, and the rehearsal must object.
//!
//! Sites are found by reflection over the pattern's JSON form ([`walk`]): whatever the recipe's types hold is either a
//! site or on the short list of words ([`walk::WORDS`]); a leaf of a kind nobody thought of is reported, so that the
//! types cannot grow past the trials. Each site is changed in every way its kind allows ([`vary`]). Whether a change may
//! go unnoticed is decided from the pattern alone ([`class`]), by an own reading of the cutting plan ([`yields`]) and of
//! the steps ([`facts`], [`steps`]); the rehearsal is never asked. Where an objection must point is laid down in [`names`].

pub mod cards;
pub mod class;
mod edit;
pub mod facts;
pub mod names;
pub mod papers;
mod ruled;
pub mod site;
pub mod spread;
pub mod steps;
pub mod symmetry;
pub mod vary;
pub mod walk;
pub mod yields;

pub use class::{Class, Expect};
pub use facts::Facts;
pub use site::{Change, Edit, Home, Kind, Site};

use edit::Undo;
use recipe::Pattern;
use serde::Deserialize;
use serde_json::Value;
use terms::TopPicture;

/// One altered pattern.
#[derive(Clone, Debug)]
pub struct Mutant {
    /// What was altered.
    pub site: Site,
    /// How, in words.
    pub mutation: String,
    /// The altered pattern, derivations left out.
    pub pattern: Pattern,
    /// What the rehearsal must make of it.
    pub expected: Expect,
}

/// All alterations of one pattern, before any is done.
pub struct Alterations {
    /// The pattern without its derivations, which change nothing.
    pub base: Pattern,
    /// What the pattern says of itself.
    pub facts: Facts,
    /// Every site, in the file's order.
    pub sites: Vec<Site>,
    /// Leaves of a kind that nobody thought of; must be empty.
    pub unread: Vec<String>,
    /// Every change: which site, and how.
    pub changes: Vec<(usize, Change)>,
    value: Value,
}

impl Alterations {
    /// Finds all sites and all changes. The picture says only whether the whole top looks the same turned.
    pub fn of(pattern: &Pattern, picture: &TopPicture) -> Self {
        let base = pattern.without_whys();
        let value = serde_json::to_value(&base).unwrap_or_default();
        let facts = Facts::of(&base, &value, picture);
        let walk::Walked { sites, unread } = walk::walk(&value);
        let mut changes = Vec::new();
        for (i, site) in sites.iter().enumerate() {
            let found = vary::vary(site, value.pointer(&site.path).unwrap_or(&Value::Null), &facts, &value);
            changes.extend(found.into_iter().map(|change| (i, change)));
        }
        Alterations {
            base,
            facts,
            sites,
            unread,
            changes,
            value,
        }
    }

    /// Does one change. `None` where the file could not be read afterwards, or nothing is changed by it.
    pub fn mutant(&mut self, (site, change): &(usize, Change)) -> Option<Mutant> {
        let site = self.sites.get(*site)?.clone();
        let undo: Vec<Undo> = change
            .edits
            .iter()
            .map(|edit| edit::do_it(&mut self.value, edit))
            .collect();
        let read = Pattern::deserialize(&self.value);
        for undo in undo.into_iter().rev() {
            edit::undo(&mut self.value, undo);
        }
        let pattern = read.ok().filter(|p| *p != self.base)?;
        let expected = class::expect(&site, change, &self.facts, &self.base, &self.value, &pattern);
        Some(Mutant {
            site,
            mutation: change.says.clone(),
            pattern,
            expected,
        })
    }
}

/// Every mutant of a pattern, in order. For large patterns take [`spread::spread`] first: this keeps them all.
pub fn mutants(pattern: &Pattern, picture: &TopPicture) -> Vec<Mutant> {
    let mut all = Alterations::of(pattern, picture);
    let changes = std::mem::take(&mut all.changes);
    changes.iter().filter_map(|change| all.mutant(change)).collect()
}
