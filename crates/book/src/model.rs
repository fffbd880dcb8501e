//! The pages before they are set: sections of blocks, in which lengths are still lengths.

use crate::numbers::{THIN, cloth_length, plain_length, set_length, unit};
use measure::{Length, Measure, Why};
use recipe::{Size, WhyId};
use std::sync::Arc;
use terms::Severity;

/// The sheet a book is set on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 8 1/2 × 11 in.
    Letter,
}

impl Paper {
    /// Width and height in points (1/72 in).
    pub fn points(self) -> (f64, f64) {
        match self {
            Paper::A4 => (210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0),
            Paper::Letter => (612.0, 792.0),
        }
    }

    /// Margin left and right, points: room for pencil notes.
    pub(crate) const MARGIN: f64 = 62.0;

    /// Width of the text, points.
    pub(crate) fn text_width(self) -> f64 {
        self.points().0 - 2.0 * Self::MARGIN
    }
}

/// For whom the book is set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Edition {
    /// The measure numbers are printed in; the recipe should have been planned in it.
    pub measure: Measure,
    /// Cutting pictures turned half round, cuts numbered from the other end.
    pub left_handed: bool,
    /// 18 pt text.
    pub large_print: bool,
    /// The sheet.
    pub paper: Paper,
}

impl Edition {
    /// How much larger the lettering of pictures is.
    pub(crate) fn letters(&self) -> f64 {
        if self.large_print { 1.4 } else { 1.0 }
    }
}

/// The pages.
#[derive(Clone, Debug, PartialEq)]
pub struct Book {
    /// The quilt's title.
    pub title: String,
    /// Who designed it.
    pub author: String,
    /// Which edition of the pattern.
    pub edition: String,
    /// For whom it is set.
    pub set_for: Edition,
    /// Whether it is proved, for the foot of each page.
    pub standing: Standing,
    /// The sections in order; each begins on a fresh page.
    pub sections: Vec<Section>,
    /// The derivations that numbers point to.
    pub whys: Vec<Why>,
    /// The colours that pictures call by name (`cloth-0-wrong`, as the custom property `--cloth-0-wrong`), each with its
    /// value; none where they are written out.
    pub colors: Vec<(String, String)>,
}

/// Whether the pattern is proved.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// It is.
    pub proved: bool,
    /// In words, with its figures.
    pub words: String,
}

/// Some pages with one purpose.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// A short word for the foot of the page and for links.
    pub name: String,
    /// What stands on the pages.
    pub blocks: Vec<Block>,
}

/// One thing on a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// The first page.
    Cover {
        /// The quilt.
        quilt: Picture,
        /// Lines beneath it.
        lines: Vec<Text>,
    },
    /// Words above what follows.
    Heading {
        /// 1 for a section's, 2 within it, 3 within that.
        level: u8,
        /// The words.
        words: String,
        /// What to make, in an outlined pill.
        pill: Option<String>,
        /// A cloth's swatch before the words.
        swatch: Option<Picture>,
        /// A small picture at the right.
        aside: Option<Picture>,
        /// Words below it, beside the small picture: what matters most on the page.
        lead: Option<Text>,
    },
    /// A paragraph.
    Paragraph(Text),
    /// The designer's own words.
    Quote {
        /// "Note" or "Tip".
        word: String,
        /// As written.
        text: String,
    },
    /// One step: its number, its sentences, its pictures beside them.
    Step {
        /// Counted from 1 within the unit or cloth; `None` for what is done before, and where a step goes on.
        number: Option<u32>,
        /// One for each action.
        sentences: Vec<Text>,
        /// Beside the sentences, or above them when `wide`.
        pictures: Vec<Picture>,
        /// The pictures take the page's width.
        wide: bool,
    },
    /// Pictures in rows, each with its caption.
    Gallery(Vec<Picture>),
    /// Rows and columns.
    Table {
        /// Column heads.
        head: Vec<String>,
        /// Rows.
        rows: Vec<Vec<Text>>,
    },
    /// Something that can hurt.
    Caution {
        /// What ("Blade").
        word: String,
        /// What to do.
        text: String,
    },
    /// A measure to take before going on.
    Check(Vec<Text>),
    /// What the checks had to say.
    Finding {
        /// How bad.
        severity: Severity,
        /// The sentence and its mend.
        text: String,
    },
    /// Things to have or do, each with a box to tick.
    Ticks(Vec<Text>),
    /// A picture at true scale on a page of its own.
    TrueScale(Picture),
    /// A photograph of the designer's.
    Photo(Photo),
    /// Where the designer may put words: nothing on any page, a place to press on the living ones.
    Spot {
        /// A block or a unit.
        at: String,
        /// Steps of the unit, from 1, that what stands before it tells; none for the block or unit itself.
        steps: Vec<u32>,
    },
}

/// A photograph, as it is in its file.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// The file.
    pub bytes: Arc<[u8]>,
    /// What kind of file.
    pub kind: PhotoKind,
    /// Width on paper, points.
    pub width: f64,
    /// Height on paper, points.
    pub height: f64,
    /// What it shows, for those who cannot see it.
    pub alt: String,
}

/// How a photograph is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhotoKind {
    /// JPEG (ISO/IEC 10918-1).
    Jpeg,
    /// PNG (ISO/IEC 15948).
    Png,
}

impl PhotoKind {
    /// The ending of a file's name.
    pub fn ending(self) -> &'static str {
        match self {
            PhotoKind::Jpeg => "jpg",
            PhotoKind::Png => "png",
        }
    }

    /// The media type.
    pub fn media(self) -> &'static str {
        match self {
            PhotoKind::Jpeg => "image/jpeg",
            PhotoKind::Png => "image/png",
        }
    }
}

/// A drawing, in points.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// SVG, complete.
    pub svg: String,
    /// Points.
    pub width: f64,
    /// Points.
    pub height: f64,
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// Words beneath it.
    pub caption: Option<String>,
}

impl Picture {
    /// With words beneath it.
    pub fn captioned(mut self, words: impl Into<String>) -> Self {
        self.caption = Some(words.into());
        self
    }
}

/// Words with numbers in them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Text(pub Vec<Token>);

/// A run of words, or one number.
#[derive(Clone, Debug, PartialEq)]
pub enum Token {
    /// Plain words.
    Words(String),
    /// Words that carry the sentence; kept on one line.
    Strong(String),
    /// Words in the soft ink.
    Soft(String),
    /// A small picture in the line: a swatch, or the mark of a state (no state is colour alone).
    Inline(Picture),
    /// A length.
    Number {
        /// How long.
        len: Length,
        /// Its derivation.
        why: Option<WhyId>,
        /// Its unit follows.
        unit: bool,
        /// Set larger, as what the hand measures now.
        strong: bool,
    },
    /// A length of cloth to buy.
    Cloth {
        /// How long.
        len: Length,
        /// Its derivation.
        why: Option<WhyId>,
        /// Set larger.
        strong: bool,
    },
}

impl Text {
    /// Nothing yet.
    pub fn new() -> Self {
        Text::default()
    }

    /// Plain words alone.
    pub fn of(words: impl Into<String>) -> Self {
        Text::new().say(words)
    }

    /// Plain words.
    pub fn say(mut self, words: impl Into<String>) -> Self {
        self.0.push(Token::Words(words.into()));
        self
    }

    /// Words that carry the sentence.
    pub fn strong(mut self, words: impl Into<String>) -> Self {
        self.0.push(Token::Strong(words.into()));
        self
    }

    /// Words in the soft ink.
    pub fn soft(mut self, words: impl Into<String>) -> Self {
        self.0.push(Token::Soft(words.into()));
        self
    }

    /// A small picture.
    pub fn inline(mut self, picture: Picture) -> Self {
        self.0.push(Token::Inline(picture));
        self
    }

    /// A measure to take, with its unit.
    pub fn size(self, size: Size) -> Self {
        self.number(size, true, true)
    }

    /// A measure to take whose unit comes later in the sentence.
    pub fn bare(self, size: Size) -> Self {
        self.number(size, false, true)
    }

    /// A length mentioned in passing, with its unit.
    pub fn quiet(self, size: Size) -> Self {
        self.number(size, true, false)
    }

    /// Two measures with the unit once: `3 ½ × 6 ½ in`.
    pub fn by(self, one: Size, other: Size) -> Self {
        self.bare(one).say(" × ").size(other)
    }

    /// A length of cloth.
    pub fn cloth(mut self, size: Size, strong: bool) -> Self {
        self.0.push(Token::Cloth {
            len: size.len,
            why: size.why,
            strong,
        });
        self
    }

    /// Another text after this one.
    pub fn then(mut self, mut other: Text) -> Self {
        self.0.append(&mut other.0);
        self
    }

    fn number(mut self, size: Size, unit: bool, strong: bool) -> Self {
        self.0.push(Token::Number {
            len: size.len,
            why: size.why,
            unit,
            strong,
        });
        self
    }

    /// As plain text, for terminals and files.
    pub fn plain(&self, measure: Measure) -> String {
        self.0
            .iter()
            .map(|token| match token {
                Token::Words(w) | Token::Strong(w) | Token::Soft(w) => w.clone(),
                Token::Inline(_) => String::new(),
                Token::Number { len, unit: with, .. } => {
                    let plain = plain_length(*len, measure);
                    if *with {
                        plain
                    } else {
                        plain.trim_end_matches(unit(measure)).trim_end().to_string()
                    }
                }
                Token::Cloth { len, .. } => cloth_length(*len, measure).replace(THIN, " "),
            })
            .collect()
    }
}

impl Token {
    /// A number as it is set; `None` for words.
    pub(crate) fn set(&self, measure: Measure) -> Option<String> {
        match self {
            Token::Number { len, unit: with, .. } => {
                let bare = set_length(*len, measure);
                Some(if *with {
                    format!("{bare}{THIN}{}", unit(measure))
                } else {
                    bare
                })
            }
            Token::Cloth { len, .. } => Some(cloth_length(*len, measure)),
            _ => None,
        }
    }
}
