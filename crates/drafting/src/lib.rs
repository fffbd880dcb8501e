//! Drafting: a design's way through the rooms, to its pattern. Read already; here it is pieced, what comes after the top is
//! reckoned, all of it is cut, and what the rooms have to say is put in order. Nothing is proved here: the pattern goes on
//! to the rehearsal.

mod ahead;
mod memory;
mod one_first;
mod parts;
mod stash;
mod words;

use cutting::{ClothNote, SoldCut};
use design::Design;
use finishing::{BackingWish, BattingWish, BindingWish, Finishing, LabelWish, SleeveWish, Top, WideCloth, Wishes};
use measure::Length;
use piecing::UnitStory;
use recipe::{CutForm, Demand, Pattern, RECIPE_FORMAT};
use std::collections::BTreeMap;
use terms::{Finding, PieceId, Place, TopPicture};

pub use memory::Memory;
pub use one_first::OneFirst;
pub use parts::{PartDraft, Parts};
pub use stash::{FromStash, Owned, read_stash};
pub use words::{Said, Spot};

/// A design with its pattern, before the rehearsal.
#[derive(Clone, Debug)]
pub struct Draft {
    /// Recipe, cutting, cloth and derivations together; the recipe's spares are filled in.
    pub pattern: Pattern,
    /// What the top must look like.
    pub picture: TopPicture,
    /// What the pieces are cut as.
    pub demands: Vec<Demand>,
    /// One per making: its block and method.
    pub units: Vec<UnitStory>,
    /// What comes after the top.
    pub finishing: Finishing,
    /// The designer's words at blocks, units and steps.
    pub says: Vec<Said>,
    /// What all rooms have to say, the worst first.
    pub findings: Vec<Finding>,
    /// What the layout calls the patches that a kind of piece is cut for ("sashing", "border" …), where they are no block's.
    roles: BTreeMap<PieceId, String>,
    /// Pieces that come off beyond what was asked for.
    extra: Vec<(PieceId, u32)>,
}

impl Draft {
    /// How many of these pieces come off beyond what was asked for (the odd half of a square).
    pub fn extra(&self, piece: &PieceId) -> u32 {
        extra_of(&self.extra, piece)
    }
}

/// Takes a design through the rooms.
///
/// # Errors
/// All findings, when there is no plan.
pub fn draft(design: &Design) -> Result<Draft, Vec<Finding>> {
    draft_again(design, &mut Memory::default())
}

/// The same where much may be as it was: what the memory knows is not worked out again, and comes out as it would.
///
/// # Errors
/// All findings, when there is no plan.
pub fn draft_again(design: &Design, memory: &mut Memory) -> Result<Draft, Vec<Finding>> {
    let mut findings = design.findings();
    let mut planned = match memory.plan(design) {
        Ok(planned) => planned,
        Err(more) => {
            findings.extend(more);
            return Err(in_order(findings));
        }
    };
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
    let (width, height) = design.top_size();
    let finishing = finishing::plan(
        Top { width, height },
        &wishes(design),
        &cloths_to_finish(design),
        design.quilt.seam,
        measure,
        &mut planned.whys,
    );
    let mut cut = cutting::plan_cutting_again(
        &planned.demands,
        &finishing.bands,
        &cloths_to_cut(design),
        (mark, measure),
        &mut planned.whys,
        &mut memory.cut,
    );
    // What is printed goes with the cutting.
    cut.plan.papers = planned.papers;
    cut.plan.guides = planned.guides;
    cut.plan.cards = planned.cards;
    for note in &mut planned.recipe.pieces {
        note.spare += extra_of(&cut.extra, &note.piece);
    }
    findings.extend(planned.findings);
    findings.extend(finishing.findings.iter().cloned());
    findings.extend(cut.findings);
    let blocks: Vec<&str> = {
        let own: std::collections::BTreeSet<&str> = planned.units.iter().filter_map(|u| u.block.as_deref()).collect();
        own.into_iter().collect()
    };
    let (says, lost) = words::place_words(design, &planned.recipe.makes, &blocks);
    findings.extend(lost);
    let pattern = Pattern {
        format: RECIPE_FORMAT,
        recipe: planned.recipe,
        cutting: cut.plan,
        bought: cut.bought,
        whys: planned.whys,
    };
    Ok(Draft {
        pattern,
        picture: design.top_picture(),
        demands: planned.demands,
        units: planned.units,
        says,
        finishing,
        findings: in_order(findings),
        extra: cut.extra,
        roles: planned.roles,
    })
}

fn cloths_to_cut(design: &Design) -> Vec<ClothNote> {
    let note = |fabric: &design::Fabric| ClothNote {
        fabric: fabric.name.clone(),
        usable: fabric.usable,
        square_up: fabric.square_up,
        step: fabric.step,
        shrink: fabric.shrink,
        cut: sold_cut(fabric),
    };
    design.fabrics.iter().map(note).collect()
}

/// The size of the pieces, where a cloth is sold cut.
fn sold_cut(fabric: &design::Fabric) -> Option<SoldCut> {
    let form = match fabric.sold {
        design::Sold::Bolt => return None,
        design::Sold::FatQuarter => CutForm::FatQuarter,
        design::Sold::FatEighth => CutForm::FatEighth,
        design::Sold::Strips(_) => CutForm::Strips,
        design::Sold::Squares(_) => CutForm::Squares,
    };
    let length = fabric.length?;
    Some(SoldCut { form, length })
}

fn cloths_to_finish(design: &Design) -> Vec<finishing::Cloth> {
    let cloth = |fabric: &design::Fabric| finishing::Cloth {
        fabric: fabric.name.clone(),
        usable: fabric.usable,
        longest: fabric.room(),
        step: fabric.step,
        price: fabric.price,
    };
    design.fabrics.iter().map(cloth).collect()
}

/// What the file asks for after the top, what it skips left out.
fn wishes(design: &Design) -> Wishes {
    let finish = &design.finish;
    let wanted = |what: &str| !finish.skip.iter().any(|skipped| skipped == what);
    Wishes {
        binding: finish
            .binding
            .as_ref()
            .filter(|_| wanted("binding"))
            .map(|binding| BindingWish {
                fabric: binding.fabric.clone(),
                several: (design.fabric(&binding.fabric))
                    .and_then(|fabric| fabric.scrappy.as_ref())
                    .map_or_else(Vec::new, |scrappy| scrappy.fabrics.clone()),
                strip: binding.strip,
                bias: binding.bias,
            }),
        backing: finish
            .backing
            .as_ref()
            .filter(|_| wanted("backing"))
            .map(|fabric| BackingWish {
                fabric: fabric.clone(),
                over: finish.backing_over,
                wide: finish.wide.as_ref().map(|wide| WideCloth {
                    usable: wide.usable,
                    price: wide.price,
                }),
            }),
        batting: (finish.batting && wanted("batting")).then_some(BattingWish {
            over: finish.batting_over,
        }),
        sleeve: finish.sleeve.as_ref().map(|sleeve| SleeveWish {
            fabric: sleeve.fabric.clone(),
            strip: sleeve.strip,
        }),
        label: finish.label.as_ref().map(|label| LabelWish {
            fabric: label.fabric.clone(),
            width: label.size.0,
            height: label.size.1,
        }),
    }
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
