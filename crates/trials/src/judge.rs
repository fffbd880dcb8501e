//! Judging the rehearsal: every altered pattern goes to the table, and what it says is held against what it must say.

use crate::mutate::{Alterations, Class, Expect, Kind, Mutant, names, spread};
use recipe::Pattern;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use terms::{Finding, TopPicture};

/// Failures kept in words; the rest is only counted.
const MOST_KEPT: usize = 400;

/// What came of the mutants of one kind.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// How many were tried.
    pub mutants: usize,
    /// How many were refused.
    pub refused: usize,
    /// Refused, and some finding names the altered place or its first use.
    pub named: usize,
    /// Refused, and the first finding does.
    pub named_first: usize,
    /// Survivors by the class that lets them.
    pub survivors: BTreeMap<Class, usize>,
    /// Survivors that must be refused.
    pub unexpected: usize,
}

/// What came of all mutants.
#[derive(Clone, Debug, Default)]
pub struct Tally {
    /// By kind of site.
    pub rows: BTreeMap<Kind, Row>,
    /// For each class: how many of it survived, and how many were refused all the same.
    pub classes: BTreeMap<Class, (usize, usize)>,
    /// Survivors that must be refused, in words.
    pub unexpected: Vec<String>,
    /// Refusals that point elsewhere, in words.
    pub misnamed: Vec<String>,
    /// Leaves of a kind that nobody thought of.
    pub unread: Vec<String>,
    /// Changes that exist, and how many of them were tried.
    pub changes: (usize, usize),
}

/// Sends a mutant to the table; `Ok` when it lets it pass.
pub fn verdict(pattern: &Pattern, picture: &TopPicture) -> Result<(), Vec<Finding>> {
    rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, picture).map(drop)
}

impl Tally {
    /// Tries the mutants of one pattern, at most `cap` of them; `of` is what it is called.
    pub fn judge(&mut self, of: &str, pattern: &Pattern, picture: &TopPicture, cap: usize) {
        let mut all = Alterations::of(pattern, picture);
        self.unread
            .extend(all.unread.iter().map(|path| format!("{of}: {path}")));
        let chosen = spread::spread(&all, cap);
        self.changes.0 += all.changes.len();
        self.changes.1 += chosen.len();
        for i in chosen {
            let change = all.changes[i].clone();
            if let Some(mutant) = all.mutant(&change) {
                self.one(of, &all.base, &mutant, picture);
            }
        }
    }

    fn one(&mut self, of: &str, base: &Pattern, mutant: &Mutant, picture: &TopPicture) {
        let row = self.rows.entry(mutant.site.kind).or_default();
        row.mutants += 1;
        let in_words = || {
            format!(
                "{of}: {} {} ({:?})",
                mutant.site.path, mutant.mutation, mutant.site.kind
            )
        };
        let class = match mutant.expected {
            Expect::MaySurvive(class) => Some(class),
            Expect::Refused => None,
        };
        match (verdict(&mutant.pattern, picture), class) {
            (Ok(()), Some(class)) => {
                *row.survivors.entry(class).or_default() += 1;
                self.classes.entry(class).or_default().0 += 1;
            }
            (Ok(()), None) => {
                row.unexpected += 1;
                if self.unexpected.len() < MOST_KEPT {
                    self.unexpected.push(in_words());
                }
            }
            (Err(findings), class) => {
                row.refused += 1;
                if let Some(class) = class {
                    self.classes.entry(class).or_default().1 += 1;
                }
                let named = |f: &Finding| names::names(&mutant.site.home, base, &mutant.pattern, &f.place);
                row.named_first += usize::from(findings.first().is_some_and(named));
                if findings.iter().any(named) {
                    row.named += 1;
                } else if self.misnamed.len() < MOST_KEPT {
                    let said = findings.first().map(ToString::to_string).unwrap_or_default();
                    self.misnamed.push(format!("{}: {said}", in_words()));
                }
            }
        }
    }

    /// Adds another's figures.
    pub fn add(&mut self, other: Tally) {
        for (kind, row) in other.rows {
            let mine = self.rows.entry(kind).or_default();
            mine.mutants += row.mutants;
            mine.refused += row.refused;
            mine.named += row.named;
            mine.named_first += row.named_first;
            mine.unexpected += row.unexpected;
            for (class, n) in row.survivors {
                *mine.survivors.entry(class).or_default() += n;
            }
        }
        for (class, (survived, refused)) in other.classes {
            let mine = self.classes.entry(class).or_default();
            mine.0 += survived;
            mine.1 += refused;
        }
        self.unexpected.extend(other.unexpected);
        self.misnamed.extend(other.misnamed);
        self.unread.extend(other.unread);
        self.changes.0 += other.changes.0;
        self.changes.1 += other.changes.1;
    }

    /// All rows together.
    pub fn total(&self) -> Row {
        let mut total = Row::default();
        for row in self.rows.values() {
            total.mutants += row.mutants;
            total.refused += row.refused;
            total.named += row.named;
            total.named_first += row.named_first;
            total.unexpected += row.unexpected;
        }
        total
    }

    /// The share of objections that name the altered place or its first use.
    pub fn share_named(&self) -> f64 {
        let total = self.total();
        total.named as f64 / total.refused.max(1) as f64
    }

    /// The table in words.
    pub fn table(&self) -> String {
        let mut text = format!(
            "{:16} {:>8} {:>8} {:>8} {:>8} {:>7}  survivors by class\n",
            "kind", "mutants", "refused", "named", "first", "others"
        );
        let mut line = |name: &str, row: &Row| {
            let survivors: Vec<String> = row.survivors.iter().map(|(c, n)| format!("{c:?} {n}")).collect();
            let _ = writeln!(
                text,
                "{name:16} {:>8} {:>8} {:>8} {:>8} {:>7}  {}",
                row.mutants,
                row.refused,
                row.named,
                row.named_first,
                row.unexpected,
                survivors.join(", ")
            );
        };
        for (kind, row) in &self.rows {
            line(&format!("{kind:?}"), row);
        }
        line("all", &self.total());
        let _ = writeln!(text, "\n{:18} {:>9} {:>8}", "class", "survived", "refused");
        for (class, (survived, refused)) in &self.classes {
            let _ = writeln!(text, "{:18} {survived:>9} {refused:>8}", format!("{class:?}"));
        }
        let _ = writeln!(
            text,
            "\n{} of {} changes tried; {:.2} % of the objections name the place, {:.2} % first of all",
            self.changes.1,
            self.changes.0,
            100.0 * self.share_named(),
            100.0 * self.total().named_first as f64 / self.total().refused.max(1) as f64
        );
        text
    }
}
