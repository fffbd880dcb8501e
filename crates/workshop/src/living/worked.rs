//! A design taken through all the rooms: findings, proof, pages.

use super::rehearsed::{Memory, Rehearsed};
use super::source::{source, source_with};
use book::{Book, Edition, Paper, Source};
use design::Design;
use drafting::draft;
use measure::Measure;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
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
    /// Those insides, by the fingerprints that stand in the pages as `data-picture`.
    pub drawings: BTreeMap<String, String>,
    /// What the pages are made from; none when there is no plan.
    pub source: Option<Source>,
    /// The finished top.
    pub picture: TopPicture,
}

/// For whom the pages are set: as the design's own measure has it.
pub fn edition(design: &Design, left_handed: bool, large_print: bool) -> Edition {
    Edition {
        measure: design.quilt.measure,
        left_handed,
        large_print,
        // Makers who measure in inches print on letter paper.
        paper: match design.quilt.measure {
            Measure::Inch => Paper::Letter,
            Measure::Metric => Paper::A4,
        },
    }
}

/// Takes a design through the rooms. `go_on` is asked between them; when it says no the work is dropped. `memory` knows the
/// last rehearsal.
pub fn work(
    revision: &str,
    design: &Design,
    edition: &Edition,
    memory: &mut Memory,
    go_on: impl Fn() -> bool,
) -> Option<Worked> {
    let mut worked = Worked {
        revision: revision.to_string(),
        findings: Vec::new(),
        proved: false,
        standing: "Not proved".into(),
        book: None,
        leaves: Vec::new(),
        drawings: BTreeMap::new(),
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
    let source = source_with(design, &drafted, scenes, proof.as_ref(), &objections);
    let book = book::compose_living(&source, edition);
    if !go_on() {
        return None;
    }
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
    for (number, section) in book.sections.iter().enumerate() {
        let markup = book.section_html(number, &mut |inside| {
            if inside.len() < SMALL {
                return None;
            }
            let print = fingerprint(inside);
            worked
                .drawings
                .entry(print.clone())
                .or_insert_with(|| inside.to_string());
            Some(print)
        });
        worked.leaves.push(Leaf {
            name: section.name.clone(),
            print: fingerprint(&markup),
            markup,
        });
    }
    worked.picture = drafted.picture.clone();
    worked.book = Some(book);
    worked.source = Some(source);
    Some(worked)
}

/// What the book is made from, and its pattern; `None` when there is no plan.
pub fn source_of(design: &Design) -> Option<(Source, recipe::Pattern)> {
    let drafted = draft(design).ok()?;
    let pattern = drafted.pattern.clone();
    let rehearsed = rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &drafted.picture);
    let stopped = drafted.findings.iter().any(Finding::is_stop);
    let (proof, objections) = match rehearsed {
        Ok(proof) if !stopped => (Some(proof), Vec::new()),
        Ok(_) => (None, Vec::new()),
        Err(objections) => (None, objections),
    };
    Some((source(design, &drafted, proof.as_ref(), &objections), pattern))
}
