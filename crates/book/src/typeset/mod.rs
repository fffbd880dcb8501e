//! Setting the book as a PDF, with the typesetter as a library: no files, no fonts but its own, no clock.

mod markup;
mod world;

use crate::model::Book;
use std::fmt;
use typst::foundations::Smart;
use typst_layout::PagedDocument;

/// Why a book could not be set. A fault of this program, never of the pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BookError(pub String);

impl fmt::Display for BookError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the book could not be set: {}", self.0)
    }
}

impl std::error::Error for BookError {}

impl Book {
    /// The book as a PDF; the same bytes for the same book.
    ///
    /// # Errors
    /// What the typesetter objected to.
    pub fn to_pdf(&self) -> Result<Vec<u8>, BookError> {
        let (source, pictures) = markup::write(self);
        let world = world::Desk::new(source, pictures)?;
        let told = |errors: typst::ecow::EcoVec<typst::diag::SourceDiagnostic>| {
            BookError(errors.iter().map(|e| e.message.to_string()).collect::<Vec<_>>().join("; "))
        };
        let document = typst::compile::<PagedDocument>(&world).output.map_err(told)?;
        let options = typst_pdf::PdfOptions {
            ident: Smart::Custom(format!("{}/{}/{}", self.title, self.author, self.edition)),
            creator: Smart::Custom(Some("Scantling".to_string())),
            timestamp: None,
            ..typst_pdf::PdfOptions::default()
        };
        typst_pdf::pdf(&document, &options).map_err(told)
    }
}
