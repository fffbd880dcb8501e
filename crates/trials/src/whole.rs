//! A design file's whole way: read, pieced, cut, rehearsed.

use design::Design;
use recipe::Pattern;
use rehearse::Proof;
use terms::{Finding, TopPicture};

/// A design with its pattern, before the rehearsal.
#[derive(Clone, Debug)]
pub struct Whole {
    /// The sewing, the cutting, the cloth.
    pub pattern: Pattern,
    /// What the top must look like.
    pub picture: TopPicture,
    /// Everything the rooms had to say.
    pub findings: Vec<Finding>,
    /// Method of each making.
    pub methods: Vec<&'static str>,
}

impl Whole {
    /// From a design file's text.
    ///
    /// # Errors
    /// Stop findings; a text that is no design is told as one, since generated texts are designs.
    pub fn of(text: &str) -> Result<Whole, Vec<Finding>> {
        let design = design::read_design(text).map_err(|errors| {
            errors
                .into_iter()
                .map(|e| {
                    let place = terms::Place::File {
                        line: e.line,
                        column: e.column,
                    };
                    Finding::stop("unreadable", place, e.message, e.expected)
                })
                .collect::<Vec<_>>()
        })?;
        Whole::of_design(&design)
    }

    /// From a design.
    ///
    /// # Errors
    /// Stop findings.
    pub fn of_design(design: &Design) -> Result<Whole, Vec<Finding>> {
        let draft = drafting::draft(design)?;
        if draft.findings.iter().any(Finding::is_stop) {
            return Err(draft.findings);
        }
        Ok(Whole {
            pattern: draft.pattern,
            picture: draft.picture,
            findings: draft.findings,
            methods: draft.units.iter().map(|unit| unit.method).collect(),
        })
    }

    /// Sews it on the virtual table.
    ///
    /// # Errors
    /// What the table objects to.
    pub fn rehearse(&self) -> Result<Proof, Vec<Finding>> {
        rehearse::rehearse(
            &self.pattern.recipe,
            &self.pattern.cutting,
            &self.pattern.bought,
            &self.picture,
        )
    }
}
