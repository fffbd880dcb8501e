//! A design taken through all the rooms: findings, proof, pages.

use super::rehearsed::{Memory, Rehearsed, all_units};
use super::source::source_with;
use crate::file::Photos;
use book::{Book, Edition, Source};
use design::Design;
use drafting::Draft;
use std::collections::{BTreeMap, BTreeSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;
use terms::{Finding, Severity, TopPicture, UnitId};

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
/// is dropped. `memory` knows the last rehearsal. What is `in_sight` by then is made first and handed to `first`; before the
/// others are made there is a `rest`, while the window shows what it was handed.
pub fn work(
    revision: &str,
    design: &Design,
    edition: &Edition,
    (photos, memory): (&Photos, &mut Memory),
    go_on: impl Fn() -> bool + Sync,
    (in_sight, first, rest): (impl Fn() -> InSight, impl Fn(Worked), impl Fn()),
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
    let drafted = match memory.draft(design) {
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
    let InSight { leaf, before } = in_sight();
    let before = before.filter(|before| !before.leaves.is_empty());
    let by_leaf = leaf != "*" && !leaf.is_empty();
    let pictured = if by_leaf {
        pictured_in(&leaf, &drafted)
    } else {
        all_units(&drafted)
    };
    let Rehearsed {
        proof: rehearsed,
        scenes,
    } = memory.rehearse(&drafted, pictured);
    if !go_on() {
        return None;
    }
    let stopped = drafted.findings.iter().any(Finding::is_stop);
    let (proof, objections) = match rehearsed {
        Ok(proof) if !stopped => (Some(proof), Vec::new()),
        Ok(_) => (None, Vec::new()),
        Err(objections) => (None, objections),
    };
    let mut source = source_with(design, &drafted, scenes, (proof.as_ref(), &objections), photos);
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
    if by_leaf {
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
            rest();
        }
        if !go_on() {
            return None;
        }
    }
    source.scenes = memory.film_all(&drafted, &go_on)?;
    let book = book::compose_living_while(&source, edition, &go_on)?;
    let (all, drawings) = leaves(&book);
    worked.leaves = all;
    worked.drawings = Drawings::over(drawings, None);
    worked.book = Some(book);
    worked.source = Some(source);
    Some(worked)
}

/// The units whose makings are pictured in the sections of one name: a block's own, or those that are no block's.
fn pictured_in(leaf: &str, drafted: &Draft) -> BTreeSet<UnitId> {
    let of_top = ["parts of the top", "the top"].contains(&leaf);
    let pictured = drafted.units.iter().filter(|unit| match &unit.block {
        Some(block) => block == leaf,
        None => of_top,
    });
    // A quilt of a single block is finished in the making of that block.
    let last = drafted.pattern.recipe.makes.last().filter(|_| of_top);
    let last = last.map(|make| make.unit.clone());
    pictured.map(|unit| unit.unit.clone()).chain(last).collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handing::Print;
    use std::path::Path;

    /// Of every example each section by itself, with no more filmed than it pictures, is as it stands in the whole book.
    #[test]
    fn a_section_made_first_is_as_in_the_whole() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples");
        for file in std::fs::read_dir(folder).expect("the examples are there") {
            let file = file.expect("it is there").path();
            if file.extension().is_none_or(|of| of != "toml") {
                continue;
            }
            let text = std::fs::read_to_string(&file).expect("it reads");
            let design = design::read_design(&text).expect("an example is a design");
            let drafted = drafting::draft(&design).expect("a plan");
            let (edition, photos) = (
                Print::default().edition(design.quilt.measure),
                Photos::of(Path::new("nowhere")),
            );
            let source = |memory: &mut Memory, units| {
                let Rehearsed { proof, scenes } = memory.rehearse(&drafted, units);
                let objections = proof.as_ref().err().cloned().unwrap_or_default();
                source_with(&design, &drafted, scenes, (proof.as_ref().ok(), &objections), &photos)
            };
            let mut memory = Memory::default();
            let whole = book::compose_living(&source(&mut memory, all_units(&drafted)), &edition);
            let (whole, _) = leaves(&whole);
            let names: BTreeSet<&str> = whole.iter().map(|leaf| leaf.name.as_str()).collect();
            for name in names {
                let mut memory = Memory::default();
                let first = source(&mut memory, pictured_in(name, &drafted));
                let (alone, _) = leaves(&book::compose_living_section(&first, &edition, name));
                let there: Vec<&Leaf> = whole.iter().filter(|leaf| leaf.name == name).collect();
                assert_eq!(alone.iter().collect::<Vec<_>>(), there, "{name} of {}", file.display());
            }
        }
    }
}
