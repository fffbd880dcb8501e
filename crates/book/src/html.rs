//! The same pages as one HTML file that needs nothing else: no script, no font, no picture from elsewhere.
//!
//! Every number with a derivation is a button that opens it, by the browser's own `popover`.

use crate::model::{Block, Book, Picture, Text, Token};
use crate::pictures::xml;
use crate::why::why_text;
use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use measure::{Measure, Why};
use recipe::WhyId;
use std::collections::BTreeSet;
use std::fmt::Write;
use terms::Severity;

/// The style sheet of [`Book::to_html_parts`].
pub fn html_look() -> &'static str {
    LOOK
}

/// The look of the screen pages.
const LOOK: &str = include_str!("look.css");

impl Book {
    /// The sections and derivations alone, to stand inside another page that brings [`html_look`].
    pub fn to_html_parts(&self) -> String {
        let mut page = Page {
            book: self,
            out: String::new(),
            asked: BTreeSet::new(),
            spots: false,
            apart: None,
        };
        page.parts();
        page.out
    }

    /// One section alone, to stand inside another page that brings [`html_look`]; empty when there is none of this number.
    /// Its numbers name their derivations by `data-why`, for [`Book::why_html`]. `apart` is shown the inside of each
    /// drawing; one for which it has a name is left empty, with that name as `data-picture`, to be filled in later.
    pub fn section_html<'a>(&'a self, section: usize, apart: &'a mut Naming<'a>) -> String {
        let mut page = Page {
            book: self,
            out: String::new(),
            asked: BTreeSet::new(),
            spots: true,
            apart: Some(apart),
        };
        if let Some(section) = self.sections.get(section) {
            page.blocks(&section.blocks);
        }
        page.out
    }

    /// A derivation as a small table; `None` when there is none of this number.
    pub fn why_html(&self, id: WhyId) -> Option<String> {
        let why = self.whys.get(id.0 as usize)?;
        Some(why_table(why, self.set_for.measure))
    }

    /// The book as one self-contained HTML file; the same bytes for the same book.
    pub fn to_html(&self) -> String {
        let mut page = Page {
            book: self,
            out: String::new(),
            asked: BTreeSet::new(),
            spots: false,
            apart: None,
        };
        page.write();
        page.out
    }
}

/// Shown the inside of a drawing, gives the name under which it is filled in later.
type Naming<'a> = dyn FnMut(&str) -> Option<String> + 'a;

struct Page<'a> {
    book: &'a Book,
    out: String,
    /// Derivations that some number on the pages points to.
    asked: BTreeSet<WhyId>,
    /// Whether places for words are marked.
    spots: bool,
    /// Names drawings that are filled in later.
    apart: Option<&'a mut Naming<'a>>,
}

impl Page<'_> {
    fn write(&mut self) {
        let book = self.book;
        let large = if book.set_for.large_print {
            " class=\"large\""
        } else {
            ""
        };
        let _ = write!(
            self.out,
            "<!DOCTYPE html>\n<html lang=\"en\"{large}>\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{}</title>\n<style>\n{LOOK}</style>\n</head>\n<body>\n",
            xml(&book.title)
        );
        self.parts();
        self.out.push_str("</body>\n</html>\n");
    }

    fn parts(&mut self) {
        let book = self.book;
        for (i, section) in book.sections.iter().enumerate() {
            let _ = writeln!(
                self.out,
                "<section id=\"part-{i}\" aria-label=\"{}\">",
                xml(&section.name)
            );
            self.blocks(&section.blocks);
            if i > 0 {
                let _ = writeln!(
                    self.out,
                    "<footer><span>{} · {}</span><span>{}</span></footer>",
                    xml(&book.title),
                    xml(&section.name),
                    xml(&book.standing.words)
                );
            }
            self.out.push_str("</section>\n");
        }
        self.whys();
    }

    fn blocks(&mut self, blocks: &[Block]) {
        for block in blocks
            .iter()
            .filter(|b| self.spots || !matches!(b, Block::Spot { .. }))
            .collect::<Vec<_>>()
        {
            let made = self.block(block);
            self.out.push_str(&made);
            self.out.push('\n');
        }
    }

    fn block(&mut self, block: &Block) -> String {
        match block {
            Block::Cover { quilt, lines } => {
                let mut made = format!("<h1 class=\"title\">{}</h1>", xml(&self.book.title));
                if !self.book.author.is_empty() {
                    let _ = write!(made, "<p class=\"author\">{}</p>", xml(&self.book.author));
                }
                made.push_str(&self.picture(quilt));
                for line in lines {
                    let _ = write!(made, "<p>{}</p>", self.text(line));
                }
                format!("<div class=\"cover\">{made}</div>")
            }
            Block::Heading {
                level,
                words,
                pill,
                swatch,
                aside,
                lead,
            } => {
                let lead = lead
                    .as_ref()
                    .map_or(String::new(), |t| format!("<p class=\"lead\">{}</p>", self.text(t)));
                let swatch = swatch.as_ref().map_or(String::new(), |p| format!("{} ", p.svg));
                let pill = pill
                    .as_ref()
                    .map_or(String::new(), |p| format!(" <span class=\"pill\">{}</span>", xml(p)));
                let aside = aside.as_ref().map_or(String::new(), |p| {
                    format!("<span class=\"aside\">{}</span>", self.drawing(p))
                });
                let level = (*level).clamp(1, 5) + 1;
                format!(
                    "<h{level}>{swatch}<span>{}</span>{pill}{aside}</h{level}>{lead}",
                    xml(words)
                )
            }
            Block::Paragraph(text) => format!("<p>{}</p>", self.text(text)),
            Block::Quote { word, text } => {
                format!(
                    "<blockquote>{} <small>({} of the designer)</small></blockquote>",
                    xml(text),
                    xml(word)
                )
            }
            Block::Step {
                number,
                sentences,
                pictures,
                wide,
            } => {
                let number = number.map_or(String::new(), |n| format!("<b class=\"number\">{n}.</b>"));
                let words: String = sentences.iter().map(|s| format!("<p>{}</p>", self.text(s))).collect();
                let pictures: String = pictures.iter().map(|p| self.picture(p)).collect();
                let class = match (*wide, pictures.is_empty()) {
                    (_, true) => "step plain",
                    (true, _) => "step wide",
                    (false, _) => "step",
                };
                let pictures = if pictures.is_empty() {
                    pictures
                } else {
                    format!("<div class=\"pictures\">{pictures}</div>")
                };
                format!("<div class=\"{class}\"><div class=\"words\">{number}<div>{words}</div></div>{pictures}</div>")
            }
            Block::Gallery(pictures) => {
                format!(
                    "<div class=\"gallery\">{}</div>",
                    pictures.iter().map(|p| self.picture(p)).collect::<String>()
                )
            }
            Block::Table { head, rows } => {
                let heads: String = head
                    .iter()
                    .map(|h| match h.as_str() {
                        // A column of swatches or of names has no head: an empty head would only be read out.
                        "" => "<td></td>".to_string(),
                        head => format!("<th scope=\"col\">{}</th>", xml(head)),
                    })
                    .collect();
                let rows: String = rows
                    .iter()
                    .map(|row| {
                        let cells: String = row.iter().map(|c| format!("<td>{}</td>", self.text(c))).collect();
                        format!("<tr>{cells}</tr>")
                    })
                    .collect();
                format!("<table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>")
            }
            Block::Caution { word, text } => {
                format!(
                    "<div class=\"caution\" role=\"note\"><b>{}.</b> {}</div>",
                    xml(word),
                    xml(text)
                )
            }
            Block::Check(sentences) => {
                let words: String = sentences.iter().map(|s| format!("<p>{}</p>", self.text(s))).collect();
                format!("<div class=\"check\">{words}</div>")
            }
            Block::Finding { severity, text } => {
                let (word, class) = match severity {
                    Severity::Stop => ("Stop", "stop"),
                    Severity::Care => ("Care", "care"),
                    Severity::Note => ("Note", "note"),
                };
                format!("<div class=\"finding {class}\"><b>{word}.</b> {}</div>", xml(text))
            }
            Block::Ticks(items) => {
                let items: String = items.iter().map(|i| format!("<li>{}</li>", self.text(i))).collect();
                format!("<ul class=\"ticks\">{items}</ul>")
            }
            Block::Photo(photo) => format!(
                "<figure class=\"photo\"><img src=\"data:{};base64,{}\" width=\"{:.0}\" height=\"{:.0}\" alt=\"{}\"></figure>",
                photo.kind.media(),
                BASE64_STANDARD.encode(&photo.bytes),
                // A point is four thirds of a screen's pixel (CSS Values 4, 6.2).
                photo.width * 4.0 / 3.0,
                photo.height * 4.0 / 3.0,
                xml(&photo.alt)
            ),
            Block::Spot { at, steps } => {
                let steps: Vec<String> = steps.iter().map(u32::to_string).collect();
                format!(
                    "<div class=\"spot\" data-spot=\"{}\" data-steps=\"{}\"></div>",
                    xml(at),
                    steps.join(",")
                )
            }
            Block::TrueScale(p) => format!("<div class=\"true-scale\">{}</div>", self.picture(p)),
        }
    }

    fn text(&mut self, text: &Text) -> String {
        text.0.iter().map(|t| self.token(t)).collect()
    }

    fn token(&mut self, token: &Token) -> String {
        match token {
            Token::Words(words) => xml(words),
            Token::Strong(words) => format!("<b>{}</b>", xml(words)),
            Token::Soft(words) => format!("<span class=\"soft\">{}</span>", xml(words)),
            Token::Inline(p) => format!("<span class=\"inline\">{}</span>", p.svg),
            Token::Number { why, strong, .. } | Token::Cloth { why, strong, .. } => {
                let words = xml(&token.set(self.book.set_for.measure).unwrap_or_default());
                let class = if *strong { "n" } else { "n quiet" };
                match why.filter(|w| (w.0 as usize) < self.book.whys.len()) {
                    Some(why) => {
                        self.asked.insert(why);
                        let id = why.0;
                        format!(
                            "<button type=\"button\" class=\"{class}\" data-why=\"{id}\" popovertarget=\"why-{id}\">{words}</button>"
                        )
                    }
                    None => format!("<span class=\"{class}\">{words}</span>"),
                }
            }
        }
    }

    fn picture(&mut self, picture: &Picture) -> String {
        let caption = picture
            .caption
            .as_ref()
            .map_or(String::new(), |c| format!("<figcaption>{}</figcaption>", xml(c)));
        format!("<figure>{}{caption}</figure>", self.drawing(picture))
    }

    /// The drawing, or only its frame when what is in it comes later.
    fn drawing(&mut self, picture: &Picture) -> String {
        let whole = || picture.svg.clone();
        let (Some(apart), Some((head, rest))) = (self.apart.as_mut(), picture.svg.split_once('>')) else {
            return whole();
        };
        match rest.strip_suffix("</svg>").and_then(apart) {
            Some(name) => format!("{head} data-picture=\"{}\"></svg>", xml(&name)),
            None => whole(),
        }
    }

    /// The derivations that were pointed to, each as a small table that opens on its button.
    fn whys(&mut self) {
        for id in std::mem::take(&mut self.asked) {
            let Some(why) = self.book.whys.get(id.0 as usize) else {
                continue;
            };
            let _ = writeln!(
                self.out,
                "<div popover id=\"why-{}\" class=\"why\">{}</div>",
                id.0,
                why_table(why, self.book.set_for.measure)
            );
        }
    }
}

fn why_table(why: &Why, measure: Measure) -> String {
    let lines = why_text(why, measure);
    let total = lines.last().map(|l| l.value.clone()).unwrap_or_default();
    let rows: String = lines
        .iter()
        .map(|l| format!("<tr><td>{}</td><td>{}</td></tr>", xml(&l.what), xml(&l.value)))
        .collect();
    format!("<h2>Why {}?</h2><table>{rows}</table>", xml(&total))
}
