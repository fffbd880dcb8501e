//! A design made ready to be handed out: planned, rehearsed whole and in its parts, its pages' source gathered once for all files.

use crate::file::Photos;
use crate::living::{source, source_of_part};
use book::Source;
use design::Design;
use drafting::{Draft, PartDraft, Parts, draft};
use measure::Measure;
use recipe::Pattern;
use rehearse::{Issued, Proof};
use std::borrow::Cow;
use terms::Finding;

/// A design with all that its files are made from.
#[derive(Clone, Debug)]
pub struct Ready {
    /// The measure it is planned in.
    pub measure: Measure,
    /// The plan.
    pub draft: Draft,
    /// The parts it is handed out in.
    pub parts: Parts,
    /// The proof, or what the rooms and the table object; a list of objections is never empty.
    pub proof: Result<Proof, Vec<Finding>>,
    whole: Source,
}

/// Why there is nothing to hand out.
#[derive(Clone, Debug, PartialEq)]
pub enum Unready {
    /// There is no plan, for these reasons.
    NoPlan(Vec<Finding>),
    /// It was told to stop.
    Stopped,
}

impl Ready {
    /// Takes the design through the rooms and on to the table. `go_on` is asked between them.
    ///
    /// # Errors
    /// When there is no plan, or `go_on` said no.
    pub fn of(design: &Design, photos: &Photos, go_on: impl Fn() -> bool) -> Result<Ready, Unready> {
        let asked = || if go_on() { Ok(()) } else { Err(Unready::Stopped) };
        asked()?;
        let drafted = draft(design).map_err(Unready::NoPlan)?;
        asked()?;
        let pattern = &drafted.pattern;
        let rehearsed = rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &drafted.picture);
        asked()?;
        let parts = drafted.parts(design);
        let in_parts = match parts.list.iter().map(issued).collect::<Vec<_>>().as_slice() {
            [] => Ok(()),
            all => rehearse::rehearse_in_parts(all, &drafted.picture).map(drop),
        };
        let stopped = drafted.findings.iter().any(Finding::is_stop);
        let proof = match (rehearsed, in_parts) {
            (Ok(_), _) if stopped => Err(drafted.findings.clone()),
            (Ok(proof), Ok(())) => Ok(proof),
            (Err(objections), _) | (_, Err(objections)) => Err(objections),
        };
        let objections = proof.as_ref().err().map_or(&[][..], Vec::as_slice);
        let whole = source(design, &drafted, proof.as_ref().ok(), objections, photos);
        Ok(Ready {
            measure: design.quilt.measure,
            draft: drafted,
            parts,
            proof,
            whole,
        })
    }

    /// What the pages of the whole, or of one part counted from 1, are made from, with the pattern; `None` when there is no
    /// such part.
    pub fn source(&self, part: Option<usize>) -> Option<(Cow<'_, Source>, &Pattern)> {
        let Some(number) = part else {
            return Some((Cow::Borrowed(&self.whole), &self.draft.pattern));
        };
        let own = self.parts.list.get(number.checked_sub(1)?)?;
        let source = source_of_part(&self.whole, &self.parts, number)?;
        Some((Cow::Owned(source), &own.pattern))
    }
}

/// A part for the table.
pub fn issued(part: &PartDraft) -> Issued<'_> {
    Issued {
        name: &part.name,
        recipe: &part.pattern.recipe,
        plan: &part.pattern.cutting,
        bought: &part.pattern.bought,
        ahead: &part.cut_ahead,
    }
}
