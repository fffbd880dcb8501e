//! The files that are made of a pattern, one by one. A new kind of file is one more of these, and both the command line and
//! the workshop hand it out.

use super::ready::Ready;
use book::{Edition, Paper};
use measure::Measure;

/// A kind of file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Export {
    /// The booklet for paper.
    Booklet,
    /// The booklet as one page for a browser.
    Pages,
    /// The cut list for a spreadsheet.
    CutList,
    /// The recipe for other programs.
    Recipe,
    /// The finished top, as the recipe is checked against.
    Picture,
}

/// For whom pages are set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Print {
    /// Cutting pictures turned half round.
    pub left_handed: bool,
    /// In 18 pt.
    pub large: bool,
}

impl Print {
    /// How a file's name tells it, between its stem and its ending.
    pub fn mark(self) -> &'static str {
        match (self.left_handed, self.large) {
            (false, false) => "",
            (true, false) => "-left-hand",
            (false, true) => "-large-print",
            (true, true) => "-left-hand-large-print",
        }
    }

    /// The edition of the pages, on the paper of the measure's country.
    pub fn edition(self, measure: Measure) -> Edition {
        Edition {
            measure,
            left_handed: self.left_handed,
            large_print: self.large,
            // Makers who measure in inches print on letter paper.
            paper: match measure {
                Measure::Inch => Paper::Letter,
                Measure::Metric => Paper::A4,
            },
        }
    }
}

impl Export {
    /// All kinds.
    pub const ALL: [Export; 5] = [
        Export::Booklet,
        Export::Pages,
        Export::CutList,
        Export::Recipe,
        Export::Picture,
    ];

    /// The file's name.
    pub fn file(self) -> &'static str {
        match self {
            Export::Booklet => "booklet.pdf",
            Export::Pages => "booklet.html",
            Export::CutList => "cut-list.csv",
            Export::Recipe => "recipe.json",
            Export::Picture => "picture.json",
        }
    }

    /// The kind whose file has this name.
    pub fn of_file(name: &str) -> Option<Export> {
        Export::ALL.into_iter().find(|export| export.file() == name)
    }

    /// What it is, for those who choose.
    pub fn words(self) -> &'static str {
        match self {
            Export::Booklet => "Booklet to print (PDF)",
            Export::Pages => "Booklet for the browser (HTML)",
            Export::CutList => "Cut list for a spreadsheet (CSV)",
            Export::Recipe => "Recipe for other programs (JSON)",
            Export::Picture => "Picture of the top for other programs (JSON)",
        }
    }

    /// Its media type.
    pub fn kind(self) -> &'static str {
        match self {
            Export::Booklet => "application/pdf",
            Export::Pages => "text/html; charset=utf-8",
            Export::CutList => "text/csv; charset=utf-8",
            Export::Recipe | Export::Picture => "application/json",
        }
    }

    /// Whether hand and print change it: then there is one for each.
    pub fn is_set(self) -> bool {
        matches!(self, Export::Booklet | Export::Pages)
    }

    /// Whether a part has one of its own; the finished top is that of the whole.
    pub fn is_of_part(self) -> bool {
        self != Export::Picture
    }

    /// The file's bytes, for the whole or one part counted from 1; the same for the same design.
    ///
    /// # Errors
    /// In words, when there is no such part or the pages cannot be set.
    pub fn make(self, ready: &Ready, part: Option<usize>, print: Print) -> Result<Vec<u8>, String> {
        let (source, pattern) = ready.source(part).ok_or("there is no such part")?;
        let pages = || book::compose(&source, &print.edition(ready.measure));
        Ok(match self {
            Export::Booklet => pages()
                .to_pdf()
                .map_err(|error| format!("the pages could not be set: {error}"))?,
            Export::Pages => pages().to_html().into_bytes(),
            Export::CutList => book::cut_list_csv(pattern).into_bytes(),
            Export::Recipe => pattern.to_json().into_bytes(),
            Export::Picture => {
                let text = serde_json::to_string_pretty(&ready.draft.picture).map_err(|error| error.to_string())?;
                (text + "\n").into_bytes()
            }
        })
    }
}
