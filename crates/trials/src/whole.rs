//! A design file's whole way: read, pieced, cut, rehearsed.

use cutting::ClothNote;
use design::Design;
use measure::Length;
use recipe::{CutPlan, Pattern, RECIPE_FORMAT};
use rehearse::Proof;
use std::collections::BTreeMap;
use terms::{Finding, PieceId, TopPicture};

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
        let mut findings = design.findings();
        if findings.iter().any(Finding::is_stop) {
            return Err(findings);
        }
        let mut planned = piecing::plan(design)?;
        let cloths: Vec<ClothNote> = design
            .fabrics
            .iter()
            .map(|f| ClothNote {
                fabric: f.name.clone(),
                usable: f.usable,
                square_up: f.square_up,
                step: f.step,
                shrink: f.shrink,
            })
            .collect();
        let mark = Length::nearest(design.quilt.ruler).unwrap_or(Length::fraction(1, 8));
        let cut = cutting::plan_cutting(&planned.demands, &cloths, mark, design.quilt.measure, &mut planned.whys);
        let extra: BTreeMap<&PieceId, u32> = cut.extra.iter().map(|(piece, count)| (piece, *count)).collect();
        for note in &mut planned.recipe.pieces {
            note.spare += extra.get(&note.piece).copied().unwrap_or(0);
        }
        findings.extend(planned.findings);
        findings.extend(cut.findings);
        if findings.iter().any(Finding::is_stop) {
            return Err(findings);
        }
        let methods = planned.units.iter().map(|u| u.method).collect();
        let pattern = Pattern {
            format: RECIPE_FORMAT,
            recipe: planned.recipe,
            cutting: CutPlan {
                cards: planned.cards,
                ..cut.plan
            },
            bought: cut.bought,
            whys: planned.whys,
        };
        Ok(Whole {
            pattern,
            picture: design.top_picture(),
            findings,
            methods,
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
