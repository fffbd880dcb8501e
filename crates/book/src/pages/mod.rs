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
    /// The one section that is wanted, where not all are.
    only: Option<&'a str>,
    /// Whether the pages are still wanted.
    go_on: &'a (dyn Fn() -> bool + Sync),
}

impl Desk<'_> {
    /// Whether a section of this name is wanted.
    fn wants(&self, name: &str) -> bool {
        self.only.is_none_or(|only| only == name)
    }

    /// A page, if it is wanted.
    fn page(&self, name: &str, page: impl Fn(&Self) -> Section) -> Option<Section> {
        self.wants(name).then(|| page(self))
    }

    /// Pages of one name, if they are wanted.
    fn pages<T: IntoIterator<Item = Section>>(&self, name: &str, pages: impl Fn(&Self) -> T) -> Vec<Section> {
        match self.wants(name) {
            true => pages(self).into_iter().collect(),
            false => Vec::new(),
        }
    }

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
    set(
        source,
        edition,
        Cloths::of(&source.pattern.recipe.fabrics),
        None,
        &|| true,
    )
}

/// The same for a screen that follows the design: colours of cloth are called by name in all pictures, as custom
/// properties of CSS whose values are the book's [`Book::colors`], so that another colour changes no picture.
pub fn compose_living(source: &Source, edition: &Edition) -> Book {
    set(
        source,
        edition,
        Cloths::named(&source.pattern.recipe.fabrics),
        None,
        &|| true,
    )
}

/// The same, asking before the pages of each unit whether they are still wanted; `None` when they were not.
pub fn compose_living_while(source: &Source, edition: &Edition, go_on: &(dyn Fn() -> bool + Sync)) -> Option<Book> {
    let book = set(
        source,
        edition,
        Cloths::named(&source.pattern.recipe.fabrics),
        None,
        go_on,
    );
    go_on().then_some(book)
}

/// Of [`compose_living`]'s book the sections of one name, as they stand there: what is in sight, before all the rest is made.
pub fn compose_living_section(source: &Source, edition: &Edition, name: &str) -> Book {
    set(
        source,
        edition,
        Cloths::named(&source.pattern.recipe.fabrics),
        Some(name),
        &|| true,
    )
}

fn set(
    source: &Source,
    edition: &Edition,
    cloths: Cloths,
    only: Option<&str>,
    go_on: &(dyn Fn() -> bool + Sync),
) -> Book {
    let desk = Desk {
        source,
        edition,
        cloths,
        only,
        go_on,
    };
    // The pages know nothing of one another but their order.
    let mut sections = thread::scope(|scope| {
        let desk = &desk;
        let before = scope.spawn(move || {
            [
                desk.page("cover", cover::cover),
                desk.page("this part", parts::this_part),
                desk.page("what you need", shopping::shopping),
                desk.page("the cloths", together::page),
                desk.page("in parts", parts::all_parts),
                desk.page("cutting", cutting::cutting),
            ]
            .into_iter()
            .flatten()
            .collect::<Vec<Section>>()
        });
        let after = scope.spawn(move || {
            let mut sections: Vec<Section> = desk.page("the top", assembly::assembly).into_iter().collect();
            // A part without the top, or with the top alone, has no finishing of its own.
            if source.part.as_ref().is_none_or(|part| part.line.finishes) {
                sections.extend(desk.page("finishing", finishing::finishing));
            }
            sections.extend(desk.pages("foundations", paper::papers));
            sections.extend(desk.pages("cards", over_card::cards));
            sections.extend(desk.pages("placement", on_ground::sheets));
            sections.extend(desk.pages("templates", templates::templates));
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
