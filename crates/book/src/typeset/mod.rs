//! Setting the book as a PDF, with the typesetter as a library: no files, no fonts but its own, no clock.

mod markup;
mod sheet;
mod world;

pub use sheet::RunsOver;

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
        self.pdf(false)
    }

    fn pdf(&self, pretty: bool) -> Result<Vec<u8>, BookError> {
        let document = self.set()?;
        let options = typst_pdf::PdfOptions {
            pretty,
            ident: Smart::Custom(format!("{}/{}/{}", self.title, self.author, self.edition)),
            creator: Smart::Custom(Some("Scantling".to_string())),
            timestamp: None,
            ..typst_pdf::PdfOptions::default()
        };
        let pdf = typst_pdf::pdf(&document, &options).map_err(told);
        // What the typesetter remembers of a book is of no use to the next, and some forty megabytes of it would stay.
        comemo::evict(0);
        pdf
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
            colors: Vec::new(),
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

    /// The straight stretches drawn by a PDF whose streams are not packed, on the page, points.
    fn stretches(pdf: &[u8]) -> Vec<[(f64, f64); 2]> {
        let text = String::from_utf8_lossy(pdf);
        let mut found = Vec::new();
        for stream in text.split("\nstream\n").skip(1) {
            let stream = stream.split("endstream").next().unwrap_or_default();
            let mut numbers: Vec<f64> = Vec::new();
            let mut frame = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
            let (mut kept, mut pen) = (Vec::new(), None);
            for word in stream.split_whitespace() {
                if let Ok(number) = word.parse() {
                    numbers.push(number);
                    continue;
                }
                match (word, &numbers[..]) {
                    ("q", _) => kept.push(frame),
                    ("Q", _) => frame = kept.pop().unwrap_or(frame),
                    // ISO 32000-1, 8.3.4: the new frame is put before the one that holds.
                    ("cm", &[a, b, c, d, e, f]) => {
                        let m = frame;
                        let turn = |x: f64, y: f64| (x * m[0] + y * m[2], x * m[1] + y * m[3]);
                        let ((a, b), (c, d), (e, f)) = (turn(a, b), turn(c, d), turn(e, f));
                        frame = [a, b, c, d, e + m[4], f + m[5]];
                    }
                    ("m" | "l", &[x, y]) => {
                        let m = frame;
                        let at = (x * m[0] + y * m[2] + m[4], x * m[1] + y * m[3] + m[5]);
                        if let (Some(from), "l") = (pen, word) {
                            found.push([from, at]);
                        }
                        pen = Some(at);
                    }
                    _ => {}
                }
                numbers.clear();
            }
        }
        found
    }

    #[test]
    fn a_template_is_printed_as_finely_as_the_recipe_has_it() {
        use measure::Printed;
        // A sharp one that nearly fills the sheet; its sides lie on no mark of anything.
        let corners = [(0.0, 0.0), (6.123_456_7, 0.141_592_6), (0.271_828_1, 7.456_543_2)];
        let printed = corners.map(|(x, y)| recipe::TemplateCorner {
            right: Printed::nearest(x).unwrap(),
            up: Printed::nearest(y).unwrap(),
        });
        let template = recipe::Template {
            name: "T".into(),
            corners: printed.to_vec(),
            ..recipe::Template::default()
        };
        let pages = crate::pictures::template_pages(&template, 0.25, "for A1", Paper::A4);
        assert_eq!(pages.len(), 1);
        let mut book = book("plain", Paper::A4);
        book.sections[1].blocks = vec![Block::TrueScale(pages[0].clone())];
        let stretches = stretches(&book.pdf(true).unwrap());
        let mut worst = 0.0f64;
        for (i, from) in printed.iter().enumerate() {
            let to = printed[(i + 1) % printed.len()];
            // Derived: 72 points to the inch, y up on both.
            let want = [(to.right - from.right), (to.up - from.up)].map(|d| 72.0 * d.to_inches());
            let off = |[a, b]: &[(f64, f64); 2]| (b.0 - a.0 - want[0]).abs().max((b.1 - a.1 - want[1]).abs());
            let near: Vec<f64> = stretches.iter().map(off).filter(|off| *off < 0.5).collect();
            // The line that is cut along; the white of the inside ends there too, but for the side that closes it.
            assert!(!near.is_empty(), "side {i} is drawn");
            worst = near.iter().fold(worst, |worst, off| worst.max(off / 72.0));
        }
        // What the numbers of a page hold, and an eightieth of what a length of the recipe would.
        assert!(worst < 1.0e-6, "{worst} in off");
    }

    #[test]
    fn what_is_laid_on_a_ground_is_printed_with_its_own_line_and_its_place() {
        use measure::Printed;
        let at = |(x, y): (f64, f64)| recipe::TemplateCorner {
            right: Printed::nearest(x).unwrap(),
            up: Printed::nearest(y).unwrap(),
        };
        let all = |places: &[(f64, f64)]| places.iter().copied().map(at).collect::<Vec<_>>();
        // Nothing like its mirror image, turned under by 3/16 in: not by a seam.
        let line = [(0.3, 0.2), (3.7, 0.2), (0.3, 2.123_456)];
        let template = recipe::Template {
            name: "B".into(),
            corners: all(&[(0.0, 0.0), (4.9, 0.0), (0.0, 2.8)]),
            applique: Some(recipe::TemplateLine {
                line: all(&line),
                from_back: false,
            }),
            ..recipe::Template::default()
        };
        let shape = [(1.1, 1.2), (4.5, 1.2), (1.1, 3.123_456)];
        let guide = recipe::Guide {
            name: "leaf".into(),
            outline: all(&[(0.0, 0.0), (6.0, 0.0), (6.0, 5.5), (0.0, 5.5)]),
            shapes: vec![recipe::GuideShape {
                line: all(&shape),
                under: Vec::new(),
                level: Vec::new(),
            }],
        };
        let cases = [
            (
                crate::pictures::template_pages(&template, 0.25, "for B1", Paper::A4),
                line,
            ),
            (crate::pictures::guide_pages(&guide, Paper::A4), shape),
        ];
        for (pages, line) in cases {
            assert_eq!(pages.len(), 1);
            let mut book = book("plain", Paper::A4);
            book.sections[1].blocks = vec![Block::TrueScale(pages[0].clone())];
            let found = stretches(&book.pdf(true).unwrap());
            for (i, from) in line.iter().enumerate() {
                let to = line[(i + 1) % line.len()];
                // Derived: 72 points to the inch, y up on both; neither turned nor mirrored.
                let want = [72.0 * (to.0 - from.0), 72.0 * (to.1 - from.1)];
                let off = |[a, b]: &[(f64, f64); 2]| (b.0 - a.0 - want[0]).abs().max((b.1 - a.1 - want[1]).abs());
                let nearest = found.iter().map(off).fold(f64::INFINITY, f64::min);
                assert!(nearest < 72.0 * 1.0e-6, "{} in off", nearest / 72.0);
            }
        }
    }

    #[test]
    fn a_foundation_is_printed_at_its_true_size_as_the_recipe_has_it() {
        use measure::Printed;
        let at = |x: f64, y: f64| recipe::TemplateCorner {
            right: Printed::nearest(x).unwrap(),
            up: Printed::nearest(y).unwrap(),
        };
        let line = |from, to| recipe::SewingLine { from, to };
        // Nothing like its mirror image; 7 in finished, which fills a sheet's width.
        let lines = vec![
            line(at(5.1, 3.25), at(0.25, 3.25)),
            line(at(5.75, 0.25), at(4.123_456_7, 7.25)),
        ];
        let paper = recipe::Paper {
            name: "block/A".into(),
            print: 2,
            outline: vec![at(0.25, 0.25), at(7.25, 0.25), at(7.25, 7.25), at(0.25, 7.25)],
            cutting: vec![at(0.0, 0.0), at(7.5, 0.0), at(7.5, 7.5), at(0.0, 7.5)],
            lines: lines.clone(),
        };
        let printed = crate::pictures::Printed {
            paper: &paper,
            name: "A",
            cloths: vec!["Night".into(), "Foam".into(), "Brass".into()],
        };
        for sheet in [Paper::A4, Paper::Letter] {
            let pages = crate::pictures::paper_pages(&printed, sheet);
            assert_eq!(pages.len(), 1, "a 7 in block takes one sheet");
            let mut book = book("plain", sheet);
            book.sections[1].blocks = vec![Block::TrueScale(pages[0].clone())];
            let found = stretches(&book.pdf(true).unwrap());
            let all = lines.iter().map(|l| (l.from, l.to)).chain((0..4).map(|i| {
                let around = &paper.cutting;
                (around[i], around[(i + 1) % 4])
            }));
            for (from, to) in all {
                // Derived: 72 points to the inch, y up on both; neither turned nor mirrored.
                let want = [(to.right - from.right), (to.up - from.up)].map(|d| 72.0 * d.to_inches());
                let off = |[a, b]: &[(f64, f64); 2]| (b.0 - a.0 - want[0]).abs().max((b.1 - a.1 - want[1]).abs());
                let nearest = found.iter().map(off).fold(f64::INFINITY, f64::min);
                assert!(nearest < 72.0 * 1.0e-6, "{} in off", nearest / 72.0);
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
