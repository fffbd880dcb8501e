//! Piecing: from the resolved drawing to the steps and the pieces they need.
//!
//! Blocks are planned once each and used as whole faces of what they are placed in. Within a block, regions are
//! divided by through seams; units alike up to turning are one class ([`class`]), planned once ([`plan`]) by the
//! method that costs least, and written into the recipe ([`emit`]). Nothing here is trusted: the rehearsal sews the
//! recipe without knowing how it was planned.

mod apart;
mod at_angle;
mod bench;
mod between;
mod bias;
mod bow;
mod by_count;
mod class;
mod combs;
mod compare;
#[doc(hidden)]
pub mod door;
mod emit;
mod ends;
mod from_design;
mod joints;
mod laid;
mod methods;
mod mosaic;
mod motif;
mod on_ground;
mod on_paper;
mod outset;
mod over;
mod patch;
mod pieces;
mod pins;
mod plan;
mod pressing;
mod ring;
mod round_corners;
mod scratch;
mod seam_end;
mod seams;
mod set_in;
mod set_on_point;
mod settings;
mod tally;
mod to_fit;
mod tokens;
mod whys;
mod windmill;

pub use compare::{Because, Compared, Way};
pub use emit::UnitStory;
pub use from_design::{compare, plan, settings_of};
pub use methods::names as method_names;
pub use methods::trimmed::NAME as CUT_LARGE;
pub use plan::EXACT;
pub use pressing::Nesting;
pub use settings::{ClothSetting, Settings};

use class::{ClassId, Placed};
use design::Sheet;
use measure::Why;
use recipe::{Card, Demand, Guide, Paper, Recipe};
use shape::Motion;
use std::collections::BTreeMap;
use terms::{Finding, PieceId};

/// What the piecing hands on.
#[derive(Clone, Debug)]
pub struct Planned {
    /// The sewing.
    pub recipe: Recipe,
    /// The foundation papers to print for it.
    pub papers: Vec<Paper>,
    /// What to cut for it.
    pub demands: Vec<Demand>,
    /// The cards to print for its mosaics.
    pub cards: Vec<Card>,
    /// The derivations of all its sizes.
    pub whys: Vec<Why>,
    /// What is awkward about it.
    pub findings: Vec<Finding>,
    /// One per making: its block and method.
    pub units: Vec<UnitStory>,
    /// The printed sheets that show where pieces lie on a ground.
    pub guides: Vec<Guide>,
    /// How many meetings of seams nest.
    pub nesting: Nesting,
    /// What the layout calls the patches that a kind of piece was first cut for ("sashing", "border" …), where they are no block's.
    pub roles: BTreeMap<PieceId, String>,
    /// What was asked of the cloths' colours.
    asked: Vec<pressing::Darker>,
}

impl Planned {
    /// The same plan with these settings, which differ from those it was made with in the cloths' colours at most; nothing where by the
    /// new colours a seam might go another way. Equal to what [`plan_sheet`] would plan anew.
    pub fn in_other_colors(&self, settings: &Settings) -> Option<Planned> {
        let same = self.asked.iter().all(|asked| asked.holds(settings));
        same.then(|| {
            let mut planned = self.clone();
            planned.recipe.fabrics = settings.cloths.iter().map(|cloth| cloth.note.clone()).collect();
            planned
        })
    }
}

/// Plans a resolved design.
///
/// # Errors
/// Stop findings (`seam-trapped`) when the top cannot be made; awkward findings come with them.
pub fn plan_sheet(sheet: &Sheet, settings: &Settings) -> Result<Planned, Vec<Finding>> {
    let (mut planner, emitted) = pieced(sheet, settings)?;
    let (demands, pieces) = emitted.pieces.demands(&emitted.used, settings);
    let mut findings = emitted.findings;
    findings.extend(motif::not_centred(&demands, settings));
    let cards = emitted.pieces.cards.printed(&emitted.makes);
    let seam = planner.whys.given("seam", settings.seam_inches());
    let recipe = Recipe {
        title: settings.title.clone(),
        author: settings.author.clone(),
        edition: settings.edition.clone(),
        measure: settings.measure,
        mark: settings.ruling.mark(),
        seam,
        fabrics: settings.cloths.iter().map(|c| c.note.clone()).collect(),
        pieces,
        makes: emitted.makes,
    };
    let whys = std::mem::take(&mut planner.whys).into_list();
    Ok(Planned {
        recipe,
        papers: emitted.papers,
        demands,
        cards,
        whys,
        findings,
        units: emitted.stories,
        guides: emitted.guides,
        nesting: emitted.nesting,
        roles: emitted.roles,
        asked: emitted.asked,
    })
}

/// The ways in which each unit of a resolved design could be made, in the order of making.
///
/// # Errors
/// Stop findings when the top cannot be made.
pub fn compare_sheet(sheet: &Sheet, settings: &Settings) -> Result<Vec<Compared>, Vec<Finding>> {
    let (mut planner, emitted) = pieced(sheet, settings)?;
    Ok(planner.compare(&emitted))
}

fn pieced<'a>(sheet: &Sheet, settings: &'a Settings) -> Result<(plan::Planner<'a>, emit::Emitted), Vec<Finding>> {
    let mut planner = plan::Planner::new(settings);
    let mut placed: Vec<Placed> = Vec::new();
    let mut whole: BTreeMap<ClassId, usize> = BTreeMap::new();
    let mut apart = Vec::new();
    for map in &sheet.blocks {
        let block = tokens::tokens_of(map, &|used: design::BlockIndex| {
            placed
                .get(used.0)
                .map_or((ClassId(0), Motion::STILL), |p| (p.class, p.motion))
        });
        planner.blocks.push(block);
        let home = planner.blocks.len() - 1;
        let may_split = |used: design::BlockIndex| sheet.blocks.get(used.0).is_some_and(|b| b.split);
        let name = |used: design::BlockIndex| sheet.blocks.get(used.0).map_or_else(String::new, |b| b.name.clone());
        let (home, class, notes) = apart::plan_apart(&mut planner, map, home, &placed, &may_split, &name);
        apart.extend(notes);
        let class = if map.laid.is_empty() {
            class
        } else {
            planner.lay_on(home, class, on_ground::shapes_of(map, settings)?)
        };
        whole.entry(class.class).or_insert(home);
        placed.push(class);
    }
    let top = placed[sheet.top.0];
    planner.by_count(top.class);
    let mut emitted = emit::emit(&mut planner, top, whole);
    emitted.findings.extend(apart);
    emitted
        .findings
        .extend(round_corners::notes(&emitted.makes, &emitted.stories));
    let on_paper = on_paper::findings(&mut planner, &emitted);
    emitted.findings.extend(on_paper);
    emitted.findings.extend(bias::bias_findings(&planner.blocks));
    emitted
        .findings
        .extend(bias::method_findings(&mut planner, &emitted.kinds));
    emitted.findings.extend(pins::pin_findings(
        &planner.blocks,
        &emitted.stories,
        &planner.not_over_card,
    ));
    emitted.findings.extend(pins::unit_pin_findings(
        &planner.blocks,
        &planner.classes,
        &emitted.kinds,
        &emitted.stories,
        &emitted.sets,
    ));
    emitted.findings.sort_by_key(|finding| finding.severity);
    if emitted.findings.iter().any(Finding::is_stop) {
        return Err(emitted.findings);
    }
    Ok((planner, emitted))
}
