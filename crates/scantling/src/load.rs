//! A design's way through the rooms: read, pieced, cut, put together as a pattern.

use crate::args::Prefer;
use crate::trouble::Trouble;
use cutting::ClothNote;
use design::Design;
use measure::Length;
use piecing::Planned;
use recipe::{CutPlan, Pattern, RECIPE_FORMAT};
use std::fs::File;
use std::io::Read;
use std::path::Path;
use terms::{Finding, PieceId, Place, TopPicture};

/// Largest recipe file that is read: far beyond any quilt, but not all of a machine's memory.
const MOST_RECIPE_BYTES: usize = 256 * 1024 * 1024;

/// A design that went through all rooms before the rehearsal.
pub struct Worked {
    /// The piecing's plan; its recipe's spares are filled in.
    pub planned: Planned,
    /// Recipe, cutting, cloth and derivations together.
    pub pattern: Pattern,
    /// What the top must look like.
    pub picture: TopPicture,
    /// What all rooms have to say, the worst first.
    pub findings: Vec<Finding>,
    /// Pieces that come off beyond what was asked for.
    extra: Vec<(PieceId, u32)>,
}

impl Worked {
    /// How many of these pieces come off beyond what was asked for (the odd half of a square).
    pub fn extra(&self, piece: &PieceId) -> u32 {
        extra_of(&self.extra, piece)
    }
}

/// Reads a design file.
///
/// # Errors
/// When the file cannot be read or is not a design.
pub fn open(file: &Path) -> Result<Design, Trouble> {
    // One byte more than is allowed is enough for the design crate to say that it is too large.
    let bytes = read_at_most(file, design::MOST_BYTES + 1)?;
    design::read_design_bytes(&bytes).map_err(|errors| Trouble::NotADesign {
        file: file.to_path_buf(),
        text: String::from_utf8_lossy(&bytes).into_owned(),
        errors,
    })
}

/// Reads a design file; what counts first may be said on the command line.
///
/// # Errors
/// When the file cannot be read or is not a design.
pub fn open_preferring(file: &Path, prefer: Option<Prefer>) -> Result<Design, Trouble> {
    let mut design = open(file)?;
    if let Some(prefer) = prefer {
        design.quilt.prefer = match prefer {
            Prefer::Cloth => design::Prefer::Cloth,
            Prefer::Steps => design::Prefer::Steps,
            Prefer::Forgiving => design::Prefer::Forgiving,
        };
    }
    Ok(design)
}

/// Reads a recipe file.
///
/// # Errors
/// When the file cannot be read or is not a recipe.
pub fn open_recipe(file: &Path) -> Result<Pattern, Trouble> {
    let bytes = read_at_most(file, MOST_RECIPE_BYTES + 1)?;
    if bytes.len() > MOST_RECIPE_BYTES {
        return Err(Trouble::unusable(file, "this is larger than any recipe that is read"));
    }
    let text = String::from_utf8(bytes).map_err(|_| Trouble::unusable(file, "this is not text (UTF-8)"))?;
    let pattern =
        Pattern::from_json(&text).map_err(|error| Trouble::unusable(file, format!("this is not a recipe: {error}")))?;
    if pattern.format != RECIPE_FORMAT {
        let because = format!(
            "this recipe has format {}, and only {RECIPE_FORMAT} is read",
            pattern.format
        );
        return Err(Trouble::unusable(file, because));
    }
    Ok(pattern)
}

/// Takes a design through piecing and cutting.
///
/// # Errors
/// The findings, when there is no plan.
pub fn work(design: &Design) -> Result<Worked, Vec<Finding>> {
    let mut findings = design.findings();
    let mut planned = match piecing::plan(design) {
        Ok(planned) => planned,
        Err(more) => {
            findings.extend(more);
            return Err(in_order(findings));
        }
    };
    let cloths: Vec<ClothNote> = design
        .fabrics
        .iter()
        .map(|fabric| ClothNote {
            fabric: fabric.name.clone(),
            usable: fabric.usable,
            square_up: fabric.square_up,
            step: fabric.step,
            shrink: fabric.shrink,
        })
        .collect();
    let Some(mark) = Length::nearest(design.quilt.ruler).filter(|mark| *mark > Length::ZERO) else {
        findings.push(Finding::stop(
            "ruler-without-marks",
            Place::Quilt,
            "The ruler's marks have no distance that could be measured.",
            "Give `ruler` a size, such as 1/8 in.",
        ));
        return Err(in_order(findings));
    };
    let measure = design.quilt.measure;
    let cut = cutting::plan_cutting(&planned.demands, &cloths, mark, measure, &mut planned.whys);
    for note in &mut planned.recipe.pieces {
        note.spare += extra_of(&cut.extra, &note.piece);
    }
    findings.extend(planned.findings.iter().cloned());
    findings.extend(cut.findings);
    let pattern = Pattern {
        format: RECIPE_FORMAT,
        recipe: planned.recipe.clone(),
        cutting: CutPlan {
            cards: planned.cards.clone(),
            ..cut.plan
        },
        bought: cut.bought,
        whys: planned.whys.clone(),
    };
    Ok(Worked {
        planned,
        pattern,
        picture: design.top_picture(),
        findings: in_order(findings),
        extra: cut.extra,
    })
}

fn extra_of(extra: &[(PieceId, u32)], piece: &PieceId) -> u32 {
    extra.iter().filter(|(of, _)| of == piece).map(|(_, count)| count).sum()
}

/// The worst first, else as the rooms said them; what two rooms say alike, once.
fn in_order(findings: Vec<Finding>) -> Vec<Finding> {
    let mut list: Vec<Finding> = Vec::with_capacity(findings.len());
    for finding in findings {
        if !list.contains(&finding) {
            list.push(finding);
        }
    }
    list.sort_by_key(|finding| finding.severity);
    list
}

/// The file's bytes, or its first so many: a pipe or a device does not say its size beforehand.
fn read_at_most(file: &Path, most: usize) -> Result<Vec<u8>, Trouble> {
    let refused = |error| Trouble::with_file(file, &error);
    let opened = File::open(file).map_err(refused)?;
    if opened.metadata().map_err(refused)?.is_dir() {
        return Err(Trouble::unusable(file, "this is a folder, not a file"));
    }
    let mut bytes = Vec::new();
    opened.take(most as u64).read_to_end(&mut bytes).map_err(refused)?;
    Ok(bytes)
}
