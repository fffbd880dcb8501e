//! The pages in order: cover, what you need, cutting, the units in making order, the top, finishing, templates.

mod assembly;
mod bench;
mod cover;
mod cutting;
mod finishing;
mod group;
mod on_ground;
mod over_card;
mod paper;
mod parts;
mod shopping;
mod templates;
mod together;
mod units;

pub use group::told_again;

use crate::model::{Block, Book, Edition, Section, Standing};
use crate::pictures::Cloths;
use crate::source::Source;
use measure::Measure;
use std::panic::resume_unwind;
use std::thread::{self, ScopedJoinHandle};

/// What every page is made with.
struct Desk<'a> {
    source: &'a Source,
    edition: &'a Edition,
    cloths: Cloths,
}

impl Desk<'_> {
    /// The designer's words at a block or a unit, those at the steps that `here` takes.
    fn words_at<'s>(
        &'s self,
        at: &'s str,
        here: impl Fn(Option<u32>) -> bool + 's,
    ) -> impl Iterator<Item = Block> + 's {
        let own = move |say: &&crate::source::SayWords| say.at == at && here(say.step);
        self.source.says.iter().filter(own).map(|say| Block::Quote {
            word: "note".into(),
            text: say.text.clone(),
        })
    }
}

/// The pages of a pattern.
pub fn compose(source: &Source, edition: &Edition) -> Book {
    set(source, edition, Cloths::of(&source.pattern.recipe.fabrics))
}

/// The same for a screen that follows the design: colours of cloth are called by name in all pictures, as custom
/// properties of CSS whose values are the book's [`Book::colors`], so that another colour changes no picture.
pub fn compose_living(source: &Source, edition: &Edition) -> Book {
    set(source, edition, Cloths::named(&source.pattern.recipe.fabrics))
}

fn set(source: &Source, edition: &Edition, cloths: Cloths) -> Book {
    let desk = Desk {
        source,
        edition,
        cloths,
    };
    // The pages know nothing of one another but their order.
    let mut sections = thread::scope(|scope| {
        let desk = &desk;
        let before = scope.spawn(move || {
            vec![
                cover::cover(desk),
                parts::this_part(desk),
                shopping::shopping(desk),
                together::page(desk),
                parts::all_parts(desk),
                cutting::cutting(desk),
            ]
        });
        let after = scope.spawn(move || {
            let mut sections = vec![assembly::assembly(desk)];
            // A part without the top, or with the top alone, has no finishing of its own.
            if source.part.as_ref().is_none_or(|part| part.line.finishes) {
                sections.push(finishing::finishing(desk));
            }
            sections.extend(paper::papers(desk));
            sections.extend(over_card::cards(desk));
            sections.extend(on_ground::sheets(desk));
            sections.extend(templates::templates(desk));
            sections
        });
        let units = units::units(desk);
        let made =
            |pages: ScopedJoinHandle<'_, Vec<Section>>| pages.join().unwrap_or_else(|trouble| resume_unwind(trouble));
        let mut sections = made(before);
        sections.extend(units);
        sections.extend(made(after));
        sections
    });
    sections.retain(|s| !s.blocks.is_empty());
    let recipe = &source.pattern.recipe;
    Book {
        title: recipe.title.clone(),
        author: recipe.author.clone(),
        edition: recipe.edition.clone(),
        set_for: *edition,
        standing: standing(source, edition.measure),
        sections,
        whys: source.pattern.whys.clone(),
        colors: together::colors(&desk.cloths),
    }
}

fn standing(source: &Source, measure: Measure) -> Standing {
    match &source.proof {
        Some(proof) => {
            // A difference of nothing at all would be a boast: rounding alone makes some.
            let difference = match measure {
                Measure::Inch if proof.largest_difference < 0.0005 => "under 0.001 in".to_string(),
                Measure::Inch => format!("{:.3} in", proof.largest_difference),
                Measure::Metric if proof.largest_difference * 25.4 < 0.05 => "under 0.1 mm".to_string(),
                Measure::Metric => format!("{:.1} mm", proof.largest_difference * 25.4),
            };
            let seams = crate::plural::counted(proof.seams, "seam");
            Standing {
                proved: true,
                words: format!("Proved: {seams}, largest difference {difference}"),
            }
        }
        None => Standing {
            proved: false,
            words: "Not proved".into(),
        },
    }
}
