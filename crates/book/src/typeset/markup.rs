//! The typesetter's source for a book. Every text goes in as a string literal, so none of it is ever markup.

use crate::model::{Block, Book, Picture, Section, Text, Token};
use crate::numbers::THIN;
use measure::Measure;
use std::fmt::Write;
use terms::Severity;
use typst::foundations::Bytes;

/// The look: page, type, and one function for each kind of block.
const LOOK: &str = include_str!("look.typ");

/// The source and its pictures with their names (`0.svg`, `1.jpg` …).
pub(super) fn write(book: &Book) -> (String, Vec<(String, Bytes)>) {
    let (width, height) = book.set_for.paper.points();
    let mut out = String::new();
    let size = if book.set_for.large_print { 18.0 } else { 11.0 };
    let _ = writeln!(out, "#let base = {size}pt");
    let _ = writeln!(out, "#let page-width = {width:.4}pt\n#let page-height = {height:.4}pt");
    out.push_str(LOOK);
    let _ = writeln!(
        out,
        "#set document(title: {}, author: {}, date: none)\n#show: look",
        literal(&book.title),
        literal(&book.author)
    );
    let mut setter = Setter {
        book,
        out,
        pictures: Vec::new(),
    };
    for (i, section) in book.sections.iter().enumerate() {
        setter.section(section, i == 0);
    }
    (setter.out, setter.pictures)
}

struct Setter<'a> {
    book: &'a Book,
    out: String,
    pictures: Vec<(String, Bytes)>,
}

impl Setter<'_> {
    fn section(&mut self, section: &Section, first: bool) {
        let foot = if first {
            "none".to_string()
        } else {
            format!(
                "foot({}, {}, {})",
                literal(&self.book.title),
                literal(&section.name),
                literal(&self.book.standing.words)
            )
        };
        let _ = writeln!(self.out, "#set page(footer: {foot})");
        let on_paper: Vec<&Block> = section
            .blocks
            .iter()
            .filter(|b| !matches!(b, Block::Spot { .. }))
            .collect();
        for (i, block) in on_paper.iter().enumerate() {
            self.block(block, on_paper.get(i + 1).copied());
        }
        // The next section's page settings begin a fresh page.
    }

    fn block(&mut self, block: &Block, next: Option<&Block>) {
        let made = match block {
            Block::Cover { quilt, lines } => {
                let quilt = self.picture(quilt);
                let lines: Vec<String> = lines.iter().map(|l| self.text(l)).collect();
                format!(
                    "cover({}, {}, {quilt}, ({}))",
                    literal(&self.book.title),
                    literal(&self.book.author),
                    array(&lines)
                )
            }
            Block::Heading {
                level,
                words,
                pill,
                swatch,
                aside,
                lead,
            } => {
                let lead = lead.as_ref().map_or("none".into(), |t| self.text(t));
                let pill = pill.as_ref().map_or("none".into(), |p| literal(p));
                let swatch = swatch.as_ref().map_or("none".into(), |p| self.picture(p));
                let aside = aside.as_ref().map_or("none".into(), |p| self.picture(p));
                format!(
                    "heading-{level}({}, pill-words: {pill}, swatch: {swatch}, aside: {aside}, lead: {lead})",
                    literal(words)
                )
            }
            Block::Paragraph(text) => {
                let stick = matches!(next, Some(Block::Gallery(_) | Block::TrueScale(_)));
                format!("para({}, {stick})", self.text(text))
            }
            Block::Quote { word, text } => format!("quoted({}, {})", literal(word), literal(text)),
            Block::Step {
                number,
                sentences,
                pictures,
                wide,
            } => {
                let number = number.map_or("none".into(), |n| format!("\"{n}\""));
                let sentences: Vec<String> = sentences.iter().map(|s| self.text(s)).collect();
                let pictures: Vec<String> = pictures.iter().map(|p| self.figure(p)).collect();
                let name = if *wide { "wide-step" } else { "step" };
                // What is laid out stays with its first seam, and the last step with the check that follows it.
                let stick = match (block, next) {
                    (_, Some(Block::Check(_)))
                    | (Block::Step { number: None, .. }, Some(Block::Step { number: Some(_), .. })) => true,
                    (Block::Step { pictures, .. }, Some(Block::Step { wide: true, .. })) => pictures.is_empty(),
                    _ => false,
                };
                format!(
                    "{name}({number}, ({}), ({}), {stick})",
                    array(&sentences),
                    array(&pictures)
                )
            }
            Block::Gallery(pictures) => {
                let pictures: Vec<String> = pictures.iter().map(|p| self.figure(p)).collect();
                format!("gallery(({}))", array(&pictures))
            }
            Block::Table { head, rows } => {
                let heads: Vec<String> = head.iter().map(|h| literal(h)).collect();
                let cells: Vec<String> = rows.iter().flatten().map(|c| self.text(c)).collect();
                format!("rows({}, ({}), ({}))", head.len(), array(&heads), array(&cells))
            }
            Block::Caution { word, text } => format!("caution({}, {})", literal(word), literal(text)),
            Block::Check(sentences) => {
                let sentences: Vec<String> = sentences.iter().map(|s| self.text(s)).collect();
                format!("check(({}))", array(&sentences))
            }
            Block::Finding { severity, text } => {
                let (word, color) = match severity {
                    Severity::Stop => ("Stop", "stop-ink"),
                    Severity::Care => ("Care", "care-ink"),
                    Severity::Note => ("Note", "soft-ink"),
                };
                format!("finding({}, {color}, {})", literal(word), literal(text))
            }
            Block::Ticks(items) => {
                let items: Vec<String> = items.iter().map(|s| self.text(s)).collect();
                format!("ticks(({}))", array(&items))
            }
            Block::Photo(photo) => {
                let name = format!("{}.{}", self.pictures.len(), photo.kind.ending());
                self.pictures.push((name.clone(), Bytes::new(photo.bytes.clone())));
                format!(
                    "photo(image(\"{name}\", width: {:.2}pt, height: {:.2}pt, alt: {}))",
                    photo.width,
                    photo.height,
                    literal(&photo.alt)
                )
            }
            Block::Spot { .. } => String::new(),
            Block::TrueScale(picture) => {
                // What is wider than the text reaches into both margins alike.
                let over = (picture.width - self.book.set_for.paper.text_width()).max(0.0) / 2.0;
                format!("true-scale({}, over: {over:.2}pt)", self.picture(picture))
            }
        };
        let _ = writeln!(self.out, "#{made}");
    }

    /// An image, by itself.
    fn picture(&mut self, picture: &Picture) -> String {
        let name = format!("{}.svg", self.pictures.len());
        self.pictures
            .push((name.clone(), Bytes::from_string(picture.svg.clone())));
        format!(
            "image(\"{name}\", width: {:.2}pt, height: {:.2}pt, alt: {})",
            picture.width,
            picture.height,
            literal(&picture.alt)
        )
    }

    /// An image with its caption.
    fn figure(&mut self, picture: &Picture) -> String {
        let image = self.picture(picture);
        let caption = picture.caption.as_ref().map_or("none".into(), |c| literal(c));
        format!("pic({image}, {caption})")
    }

    fn text(&mut self, text: &Text) -> String {
        let measure = self.book.set_for.measure;
        let mut made = String::from("[");
        for token in &text.0 {
            let _ = write!(made, "#{}", self.token(token, measure));
        }
        made.push(']');
        made
    }

    fn token(&mut self, token: &Token, measure: Measure) -> String {
        match token {
            Token::Words(words) => format!("{};", literal(words)),
            Token::Strong(words) => format!("s({});", literal(words)),
            Token::Soft(words) => format!("soft({});", literal(words)),
            Token::Inline(picture) => format!("in-line({});", self.picture(picture)),
            Token::Number { strong, .. } | Token::Cloth { strong, .. } => {
                let words = token.set(measure).unwrap_or_default();
                // The font has no narrow space that keeps; the box around the number keeps it on one line.
                let parts: Vec<String> = words.split(THIN).map(literal).collect();
                let name = if *strong { "n" } else { "quiet" };
                format!("{name}({});", parts.join(", "))
            }
        }
    }
}

/// A list of values as the inside of an array, also of one or none.
fn array(items: &[String]) -> String {
    items.iter().map(|i| format!("{i}, ")).collect()
}

/// A text as a string literal: quotes and backslashes escaped, line ends as spaces, control characters left out.
fn literal(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_whitespace() && c != THIN && c != '\u{A0}' => out.push(' '),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_cannot_leave_its_quotes() {
        assert_eq!(literal(r#"a"b\c"#), r#""a\"b\\c""#);
        assert_eq!(literal("two\nlines\u{0}"), "\"two lines\"");
        assert_eq!(array(&["1".into()]), "1, ");
    }
}
