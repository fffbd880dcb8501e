//! `scantling rehearse --wobble --apply`: what the error budget proposes, written into the design file as pins, one proposal
//! after another as long as each is proved and the largest miss falls by it.

use crate::args::RehearseArgs;
use crate::trouble::Trouble;
use ::rehearse::{Proposal, WobbleOptions, rehearse, wobble};
use design::Design;
use drafting::Draft;
use measure::Measure;
use piecing::CUT_LARGE;

/// So many proposals at most are tried.
const TRIED: usize = 3;

/// Writes what pays into the file, and says what was done and what not.
///
/// # Errors
/// When the file cannot be read or written.
pub fn apply(
    args: &RehearseArgs,
    drafted: &Draft,
    proposals: &[Proposal],
    options: WobbleOptions,
) -> Result<String, Trouble> {
    let file = &args.file;
    let bytes = std::fs::read(file).map_err(|error| Trouble::with_file(file, &error))?;
    let mut text = String::from_utf8_lossy(&bytes).into_owned();
    let measure = drafted.pattern.recipe.measure;
    let (mut said, mut applied) = (String::new(), 0);
    let mut now = proposals.first().map_or(0.0, |p| p.now);
    for proposal in proposals.iter().take(TRIED) {
        match tried(args, drafted, proposal, &text, options, now) {
            Ok((with, then)) => {
                said += &format!(
                    "Unit {}: cut large and trimmed from now on; the largest miss in the quilt falls from {} to {} on average.\n",
                    proposal.unit,
                    decimals(now, measure),
                    decimals(then, measure)
                );
                (text, now) = (with, then);
                applied += 1;
            }
            Err(why) => said += &format!("Unit {}: left as it is, since {why}.\n", proposal.unit),
        }
    }
    if applied > 0 {
        workshop::file::put_whole(file, text.as_bytes()).map_err(|error| Trouble::with_file(file, &error))?;
        said += &format!(
            "Written into {}: {applied} pin{}.\n",
            file.display(),
            if applied == 1 { "" } else { "s" }
        );
    } else {
        said += "Nothing was changed.\n";
    }
    Ok(said)
}

/// The file's text with a proposal followed, and the largest miss then; or why it is not.
fn tried(
    args: &RehearseArgs,
    drafted: &Draft,
    proposal: &Proposal,
    text: &str,
    options: WobbleOptions,
    now: f64,
) -> Result<(String, f64), String> {
    let story = drafted.units.iter().find(|story| story.unit == proposal.unit);
    let story = story.filter(|story| story.patches.len() > 1);
    let Some((story, block)) = story.and_then(|story| Some((story, story.block.as_deref()?))) else {
        return Err("it is not made of patches of one block".into());
    };
    // The name of a block turned or recoloured goes on behind its own.
    let block = block.split_whitespace().next().unwrap_or(block);
    let Some(with) = workshop::file::with_pin(text, block, &story.patches, CUT_LARGE) else {
        return Err(format!("block {block} is not drawn in this file"));
    };
    let design = design::read_design(&with).map_err(|_| "the file would be no design with the pin".to_string())?;
    let design = chosen(design, args).ok_or("the file would be no design with the pin")?;
    let worked = drafting::draft(&design).map_err(|_| "it could not be planned so".to_string())?;
    let followed = worked
        .units
        .iter()
        .any(|unit| unit.method == CUT_LARGE && unit.patches == story.patches && unit.block == story.block);
    if !followed {
        return Err("only rectangles of rectangles, on the ruler's marks, are cut large and trimmed".into());
    }
    let pattern = &worked.pattern;
    rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &worked.picture)
        .map_err(|_| "the quilt could not be proved so".to_string())?;
    let then = wobble(&pattern.recipe, &pattern.cutting, &pattern.bought, options)
        .map(|budget| budget.worst)
        .map_err(|_| "the quilt could not be proved so".to_string())?;
    if then < now {
        Ok((with, then))
    } else {
        Err("the largest miss would not fall by it".into())
    }
}

/// The design as the command line asks for it.
fn chosen(whole: Design, args: &RehearseArgs) -> Option<Design> {
    let size = args.chosen.size.as_deref().unwrap_or(whole.default_size()).to_owned();
    let mut design = whole.at_size(&size)?;
    if let Some(name) = &args.chosen.colorway {
        design = design.in_colorway(name)?;
    }
    Some(crate::load::as_chosen(design, &args.chosen))
}

fn decimals(inches: f64, measure: Measure) -> String {
    match measure {
        Measure::Inch => format!("{inches:.3} in"),
        Measure::Metric => format!("{:.2} mm", inches * 25.4),
    }
}
