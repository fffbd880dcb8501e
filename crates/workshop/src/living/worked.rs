//! A design taken through all the rooms: findings, proof, pages.

use super::rehearsed::{Memory, Rehearsed};
use super::source::source_with;
use crate::file::Photos;
use book::{Book, Edition, Source};
use design::Design;
use drafting::draft;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;
use terms::{Finding, Severity, TopPicture};

/// A text's fingerprint: equal texts have equal ones, in every run of the program.
pub fn fingerprint(text: &str) -> String {
    // The standard hasher's keys are fixed when it is made this way.
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

/// Drawings of fewer bytes than this stand in the page itself; larger ones are sent when they come into sight.
const SMALL: usize = 500;

/// A section of the book on the screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Leaf {
    /// Its name.
    pub name: String,
    /// Fingerprint of its markup.
    pub print: String,
    /// Its markup.
    pub markup: String,
}

/// The insides of drawings by their fingerprints, those of texts before with them as long as some of their leaves are shown.
#[derive(Clone, Debug, Default)]
pub struct Drawings(Vec<Arc<BTreeMap<String, String>>>);

/// Texts whose drawings are kept beside the newest ones, when one change follows the other faster than all pages are made.
const MOST_BEFORE: usize = 8;

impl Drawings {
    /// The inside of a drawing.
    pub fn get(&self, print: &str) -> Option<&String> {
        self.0.iter().find_map(|drawings| drawings.get(print))
    }

    /// These, and those there were.
    fn over(drawings: BTreeMap<String, String>, before: Option<&Drawings>) -> Drawings {
        let before = before.iter().flat_map(|before| &before.0).take(MOST_BEFORE).cloned();
        Drawings(std::iter::once(Arc::new(drawings)).chain(before).collect())
    }
}

/// What is in sight while a text is worked out, and what was there before.
#[derive(Clone, Debug, Default)]
pub struct InSight {
    /// The name of the section, or `*` for all.
    pub leaf: String,
    /// What became of the text before, all of it.
    pub before: Option<Arc<Worked>>,
}

/// What became of a design.
#[derive(Clone, Debug)]
pub struct Worked {
    /// Of which text.
    pub revision: String,
    /// What the rooms and the rehearsal have to say, the worst first.
    pub findings: Vec<Finding>,
    /// Whether it is proved.
    pub proved: bool,
    /// The proof in words, or why there is none.
    pub standing: String,
    /// The pages; none when there is no plan.
    pub book: Option<Book>,
    /// The pages as markup, without the insides of their larger drawings.
    pub leaves: Vec<Leaf>,
    /// The names of the parts it is handed out in.
    pub parts: Vec<String>,
    /// Those insides, by the fingerprints that stand in the pages as `data-picture`.
    pub drawings: Drawings,
    /// Whether all leaves are of this text: what is in sight comes first, the others are then still those of the text before.
    pub whole: bool,
    /// What the pages are made from; none when there is no plan.
    pub source: Option<Source>,
    /// The finished top.
    pub picture: TopPicture,
}

/// Takes a design through the rooms, with the photographs beside it. `go_on` is asked between them; when it says no the work
/// is dropped. `memory` knows the last rehearsal. What is `in_sight` by then is made first and handed to `first`.
pub fn work(
    revision: &str,
    design: &Design,
    edition: &Edition,
    (photos, memory): (&Photos, &mut Memory),
    go_on: impl Fn() -> bool,
    (in_sight, first): (impl Fn() -> InSight, impl Fn(Worked)),
) -> Option<Worked> {
    let mut worked = Worked {
        revision: revision.to_string(),
        findings: Vec::new(),
        proved: false,
        standing: "Not proved".into(),
        book: None,
        leaves: Vec::new(),
        parts: Vec::new(),
        drawings: Drawings::default(),
        whole: true,
        source: None,
        picture: design.top_picture(),
    };
    let drafted = match draft(design) {
        Ok(drafted) => drafted,
        Err(findings) => {
            let stops = findings.iter().filter(|f| f.severity == Severity::Stop).count();
            worked.standing = format!("No pattern yet: {stops} to mend");
            worked.findings = findings;
            return Some(worked);
        }
    };
    if !go_on() {
        return None;
    }
    let Rehearsed {
        proof: rehearsed,
        scenes,
    } = memory.rehearse(&drafted);
    if !go_on() {
        return None;
    }
    let stopped = drafted.findings.iter().any(Finding::is_stop);
    let (proof, objections) = match rehearsed {
        Ok(proof) if !stopped => (Some(proof), Vec::new()),
        Ok(_) => (None, Vec::new()),
        Err(objections) => (None, objections),
    };
    let source = source_with(design, &drafted, scenes, (proof.as_ref(), &objections), photos);
    worked.parts = source.parts.iter().map(|part| part.name.clone()).collect();
    worked.findings = source.findings.clone();
    worked.proved = proof.is_some();
    worked.standing = match &proof {
        Some(proof) => format!(
            "Proved · {} {}",
            proof.seams,
            if proof.seams == 1 { "seam" } else { "seams" }
        ),
        None => "Not proved".into(),
    };
    worked.picture = drafted.picture.clone();
    let InSight { leaf, before } = in_sight();
    let before = before.filter(|before| !before.leaves.is_empty());
    if leaf != "*" && !leaf.is_empty() {
        let book = book::compose_living_section(&source, edition, &leaf);
        let (fresh, drawings) = leaves(&book);
        let old = before.as_deref().map_or(&[][..], |before| &before.leaves);
        if let Some(all) = with_fresh(old, fresh, &leaf) {
            first(Worked {
                leaves: all,
                drawings: Drawings::over(drawings, before.as_deref().map(|before| &before.drawings)),
                whole: false,
                book: Some(book),
                source: Some(source.clone()),
                ..worked.clone()
            });
        }
        if !go_on() {
            return None;
        }
    }
    let book = book::compose_living(&source, edition);
    if !go_on() {
        return None;
    }
    let (all, drawings) = leaves(&book);
    worked.leaves = all;
    worked.drawings = Drawings::over(drawings, None);
    worked.book = Some(book);
    worked.source = Some(source);
    Some(worked)
}

/// The leaves of a book, and the insides of their larger drawings.
fn leaves(book: &Book) -> (Vec<Leaf>, BTreeMap<String, String>) {
    let mut drawings: BTreeMap<String, String> = BTreeMap::new();
    let leaves = book.sections.iter().enumerate().map(|(number, section)| {
        let markup = book.section_html(number, &mut |inside| {
            if inside.len() < SMALL {
                return None;
            }
            let print = fingerprint(inside);
            drawings.entry(print.clone()).or_insert_with(|| inside.to_string());
            Some(print)
        });
        Leaf {
            name: section.name.clone(),
            print: fingerprint(&markup),
            markup,
        }
    });
    (leaves.collect(), drawings)
}

/// The leaves there were, those of one name in their places new; all that there is where nothing was. `None` where their number has
/// changed, or there are none.
fn with_fresh(old: &[Leaf], fresh: Vec<Leaf>, name: &str) -> Option<Vec<Leaf>> {
    if fresh.is_empty() || old.is_empty() {
        return (!fresh.is_empty()).then_some(fresh);
    }
    let there = old.iter().filter(|leaf| leaf.name == name).count();
    if there != fresh.len() {
        return None;
    }
    let mut fresh = fresh.into_iter();
    let all = old.iter().map(|leaf| match leaf.name == name {
        true => fresh.next(),
        false => Some(leaf.clone()),
    });
    all.collect()
}
