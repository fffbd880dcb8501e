//! A design taken through all the rooms: findings, proof, pages.

use super::source::source;
use crate::file::Photos;
use book::{Book, Edition};
use design::Design;
use drafting::draft;
use std::hash::{DefaultHasher, Hash, Hasher};
use terms::{Finding, Severity, TopPicture};

/// A text's fingerprint: equal texts have equal ones, in every run of the program.
pub fn fingerprint(text: &str) -> String {
    // The standard hasher's keys are fixed when it is made this way.
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

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
    /// The pages as markup.
    pub leaves: Vec<Leaf>,
    /// The names of the parts it is handed out in.
    pub parts: Vec<String>,
    /// The finished top.
    pub picture: TopPicture,
}

/// Takes a design through the rooms. `go_on` is asked between them; when it says no the work is dropped.
pub fn work(
    revision: &str,
    design: &Design,
    edition: &Edition,
    photos: &Photos,
    go_on: impl Fn() -> bool,
) -> Option<Worked> {
    let mut worked = Worked {
        revision: revision.to_string(),
        findings: Vec::new(),
        proved: false,
        standing: "Not proved".into(),
        book: None,
        leaves: Vec::new(),
        parts: Vec::new(),
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
    let pattern = &drafted.pattern;
    let rehearsed = rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &drafted.picture);
    if !go_on() {
        return None;
    }
    let stopped = drafted.findings.iter().any(Finding::is_stop);
    let (proof, objections) = match rehearsed {
        Ok(proof) if !stopped => (Some(proof), Vec::new()),
        Ok(_) => (None, Vec::new()),
        Err(objections) => (None, objections),
    };
    let source = source(design, &drafted, proof.as_ref(), &objections, photos);
    let book = book::compose(&source, edition);
    if !go_on() {
        return None;
    }
    worked.parts = source.parts.iter().map(|part| part.name.clone()).collect();
    worked.findings = source.findings;
    worked.proved = proof.is_some();
    worked.standing = match &proof {
        Some(proof) => format!(
            "Proved · {} {}",
            proof.seams,
            if proof.seams == 1 { "seam" } else { "seams" }
        ),
        None => "Not proved".into(),
    };
    worked.leaves = (0..book.sections.len())
        .map(|i| {
            let markup = book.section_html(i);
            Leaf {
                name: book.sections[i].name.clone(),
                print: fingerprint(&markup),
                markup,
            }
        })
        .collect();
    worked.picture = drafted.picture.clone();
    worked.book = Some(book);
    Some(worked)
}
