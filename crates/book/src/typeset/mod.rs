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
        let document = self.set()?;
        let options = typst_pdf::PdfOptions {
            ident: Smart::Custom(format!("{}/{}/{}", self.title, self.author, self.edition)),
            creator: Smart::Custom(Some("Scantling".to_string())),
            timestamp: None,
            ..typst_pdf::PdfOptions::default()
        };
        typst_pdf::pdf(&document, &options).map_err(told)
    }

    fn set(&self) -> Result<PagedDocument, BookError> {
        let (source, pictures) = markup::write(self);
        let world = world::Desk::new(source, pictures)?;
        typst::compile::<PagedDocument>(&world).output.map_err(told)
    }
}

fn told(errors: typst::ecow::EcoVec<typst::diag::SourceDiagnostic>) -> BookError {
    BookError(
        errors
            .iter()
            .map(|e| e.message.to_string())
            .collect::<Vec<_>>()
            .join("; "),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{Block, Edition, Paper, Section, Standing, Text};
    use measure::Length;
    use recipe::Size;
    use typst::layout::{Frame, FrameItem};

    /// Markup of the typesetter, of HTML and of neither, all in one.
    const AWKWARD: &str = r##"#eval("x") $ * _ <script>alert(1)</script> \u{41} // /* @a `b` = [c] {d} ~ -- "q" \"##;

    fn book(text: &str, paper: Paper) -> Book {
        let quilt = crate::model::Picture {
            svg: r#"<svg xmlns="http://www.w3.org/2000/svg" width="9pt" height="9pt" viewBox="0 0 9 9"></svg>"#.into(),
            width: 9.0,
            height: 9.0,
            alt: text.into(),
            caption: Some(text.into()),
        };
        let blocks = vec![
            Block::Heading {
                level: 2,
                words: text.into(),
                pill: Some(text.into()),
                swatch: None,
                aside: Some(quilt.clone()),
                lead: Some(Text::of(text).strong(text).soft(text)),
            },
            Block::Quote {
                word: "note".into(),
                text: text.into(),
            },
            Block::Caution {
                word: text.into(),
                text: text.into(),
            },
            Block::Finding {
                severity: terms::Severity::Care,
                text: text.into(),
            },
            Block::Table {
                head: vec![text.into()],
                rows: vec![vec![Text::of(text)]],
            },
            Block::Step {
                number: Some(1),
                sentences: vec![Text::of(text)],
                pictures: vec![quilt.clone()],
                wide: false,
            },
        ];
        Book {
            title: text.into(),
            author: text.into(),
            edition: text.into(),
            set_for: Edition {
                paper,
                ..Edition::default()
            },
            standing: Standing {
                proved: false,
                words: text.into(),
            },
            sections: vec![
                Section {
                    name: "cover".into(),
                    blocks: vec![Block::Cover {
                        quilt,
                        lines: vec![Text::of(text)],
                    }],
                },
                Section {
                    name: text.into(),
                    blocks,
                },
            ],
            whys: Vec::new(),
        }
    }

    fn gather(frame: &Frame, words: &mut String) {
        for (_, item) in frame.items() {
            match item {
                FrameItem::Group(group) => gather(&group.frame, words),
                FrameItem::Text(text) => words.push_str(&text.text),
                _ => {}
            }
        }
    }

    fn without_spaces(text: &str) -> String {
        text.chars().filter(|c| !c.is_whitespace()).collect()
    }

    #[test]
    fn free_text_prints_as_it_was_written() {
        let book = book(AWKWARD, Paper::A4);
        let document = book.set().unwrap();
        let mut words = String::new();
        document.pages().iter().for_each(|p| gather(&p.frame, &mut words));
        let printed = without_spaces(&words);
        // cover: title, author, line; page: heading, pill, three of the lead, quote, two of the caution, finding,
        // table head and cell, step, caption; foot: section and standing twice with the title
        assert!(printed.matches(&without_spaces(AWKWARD)).count() >= 15, "{printed}");
        let html = book.to_html();
        assert!(!html.contains("<script"));
        assert!(html.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
        assert!(html.contains("#eval(&quot;x&quot;) $ * _ "));
    }

    #[test]
    fn sheets_have_their_size() {
        // ISO 216: A4 is 210 x 297 mm = 595.276 x 841.890 pt at 72 pt to 25.4 mm; letter is 8 1/2 x 11 in
        for (paper, width, height) in [(Paper::A4, 595.276, 841.890), (Paper::Letter, 612.0, 792.0)] {
            let document = book("plain", paper).set().unwrap();
            assert_eq!(document.pages().len(), 2);
            for page in document.pages() {
                let size = page.frame.size();
                assert!((size.x.to_pt() - width).abs() < 0.001, "{:?}", size);
                assert!((size.y.to_pt() - height).abs() < 0.001, "{:?}", size);
            }
        }
    }

    #[test]
    fn a_number_stays_on_its_line() {
        // Sixty numbers in one paragraph: none of them is set in two places of a line's height apart.
        let mut text = Text::new();
        for i in 0..60 {
            text = text
                .say("cut ".repeat(1 + i % 4))
                .size(Size::bare(Length::fraction(47, 8)))
                .say(" ");
        }
        let mut book = book("plain", Paper::A4);
        book.sections[1].blocks = vec![Block::Paragraph(text)];
        let document = book.set().unwrap();
        let mut boxes = Vec::new();
        document
            .pages()
            .iter()
            .for_each(|p| whole_numbers(&p.frame, &mut boxes));
        assert_eq!(boxes.iter().filter(|b| without_spaces(b) == "5⅞in").count(), 60);
    }

    /// The text of every innermost group: what is boxed together stays together.
    fn whole_numbers(frame: &Frame, found: &mut Vec<String>) {
        for (_, item) in frame.items() {
            if let FrameItem::Group(group) = item {
                let mut words = String::new();
                gather(&group.frame, &mut words);
                found.push(words);
                whole_numbers(&group.frame, found);
            }
        }
    }
}
