//! Taking keys out of a table one by one, each with its type; what is left over is unknown.

use super::tree::{Entry, Node, Value};
use crate::Color;
use crate::error::{FileError, Lines, shown};
use crate::nearest::nearest;
use measure::{parse_inches, parse_percent};
use std::ops::Range;
use terms::{Finding, Place};

/// How many errors are collected before reading stops listing more.
const MOST_ERRORS: usize = 50;

/// How small a thing that must have a size may be, inches.
pub(crate) const SMALLEST: f64 = 1.0 / 64.0;

/// The file being read: its text, what is wrong with it, and the unit of bare numbers.
pub(crate) struct Reading<'t> {
    pub lines: Lines<'t>,
    pub errors: Vec<FileError>,
    pub later: Vec<Finding>,
    /// Inches in a length without a unit.
    pub bare: f64,
}

impl<'t> Reading<'t> {
    pub(crate) fn of(text: &'t str) -> Self {
        Reading {
            lines: Lines::of(text),
            errors: Vec::new(),
            later: Vec::new(),
            bare: 1.0,
        }
    }

    /// Whether enough errors are known; reading on would only cost time.
    pub(crate) fn is_full(&self) -> bool {
        self.errors.len() >= MOST_ERRORS
    }

    pub(crate) fn error(
        &mut self,
        at: &Range<usize>,
        code: &'static str,
        message: impl Into<String>,
        expected: impl Into<String>,
    ) {
        if self.is_full() {
            return;
        }
        let (line, column) = self.lines.place(at.start);
        self.errors.push(FileError {
            code,
            line,
            column,
            message: message.into(),
            expected: expected.into(),
        });
    }

    /// Something right that is not planned yet: it stops the work.
    pub(crate) fn later_stop(&mut self, at: &Range<usize>, sentence: impl Into<String>, mend: impl Into<String>) {
        let place = self.place(at);
        self.later.push(Finding::stop("not-yet-planned", place, sentence, mend));
    }

    /// Something right that is not planned yet, which the plan can do without.
    pub(crate) fn later_note(&mut self, at: &Range<usize>, sentence: impl Into<String>, mend: impl Into<String>) {
        let place = self.place(at);
        self.later.push(Finding::note("not-yet-planned", place, sentence, mend));
    }

    fn place(&self, at: &Range<usize>) -> Place {
        let (line, column) = self.lines.place(at.start);
        Place::File { line, column }
    }

    pub(crate) fn wrong_type(&mut self, node: &Node, what: &str, expected: &str) {
        self.error(
            &node.span,
            "wrong-type",
            format!("{what} is {}", node.value.kind()),
            expected,
        );
    }

    pub(crate) fn text(&mut self, node: &Node, what: &str) -> Option<String> {
        match &node.value {
            Value::Text(text) => Some(text.clone()),
            _ => {
                self.wrong_type(node, what, "a text in quotes");
                None
            }
        }
    }

    /// One of a few words.
    pub(crate) fn word<T: Copy>(&mut self, node: &Node, what: &str, words: &[(&str, T)]) -> Option<T> {
        let text = self.text(node, what)?;
        let found = words.iter().find(|(word, _)| *word == text).map(|(_, value)| *value);
        if found.is_none() {
            let known: Vec<String> = words.iter().map(|(word, _)| format!("\"{word}\"")).collect();
            self.error(
                &node.span,
                "unknown-word",
                format!("{what} cannot be \"{}\"", shown(&text)),
                known.join(" or "),
            );
        }
        found
    }

    /// A name of our own: `[a-z0-9][a-z0-9-]*`.
    pub(crate) fn name(&mut self, node: &Node, what: &str) -> Option<String> {
        let text = self.text(node, what)?;
        if is_name(&text) {
            return Some(text);
        }
        self.error(
            &node.span,
            "bad-name",
            format!("\"{}\" cannot be a name", shown(&text)),
            "small letters, digits and hyphens, beginning with a letter or digit",
        );
        None
    }

    pub(crate) fn truth(&mut self, node: &Node, what: &str) -> Option<bool> {
        match node.value {
            Value::Truth(truth) => Some(truth),
            _ => {
                self.wrong_type(node, what, "true or false, without quotes");
                None
            }
        }
    }

    pub(crate) fn number(&mut self, node: &Node, what: &str) -> Option<f64> {
        let number = match node.value {
            Value::Whole(whole) => whole as f64,
            Value::Number(number) => number,
            _ => {
                self.wrong_type(node, what, "a number");
                return None;
            }
        };
        if number.is_finite() {
            return Some(number);
        }
        self.error(
            &node.span,
            "bad-number",
            format!("{what} is not a real number"),
            "a number",
        );
        None
    }

    /// A length in inches, zero allowed.
    pub(crate) fn length(&mut self, node: &Node, what: &str) -> Option<f64> {
        let read = match &node.value {
            Value::Text(text) => parse_inches(text, self.bare).map_err(|e| e.to_string()),
            Value::Whole(_) | Value::Number(_) => {
                let inches = self.number(node, what)? * self.bare;
                if inches < 0.0 {
                    Err("a length cannot be negative".to_string())
                } else if inches > 1000.0 {
                    Err("a length must be a number of at most 1000 in".to_string())
                } else {
                    Ok(inches)
                }
            }
            _ => {
                self.wrong_type(node, what, "a length such as \"5 1/2 in\" or \"14 cm\"");
                return None;
            }
        };
        match read {
            Ok(inches) => Some(inches),
            Err(why) => {
                let why = shown_long(&why);
                self.error(
                    &node.span,
                    "bad-length",
                    format!("{what}: {why}"),
                    "a length such as \"5 1/2 in\" or \"14 cm\"",
                );
                None
            }
        }
    }

    /// A length that must be more than nothing.
    pub(crate) fn size(&mut self, node: &Node, what: &str) -> Option<f64> {
        let inches = self.length(node, what)?;
        if inches >= SMALLEST {
            return Some(inches);
        }
        let message = if inches == 0.0 {
            format!("{what} cannot be zero")
        } else {
            format!("{what} is too small to make")
        };
        self.error(&node.span, "bad-length", message, "at least 1/64 in");
        None
    }

    pub(crate) fn share(&mut self, node: &Node, what: &str) -> Option<f64> {
        let text = self.text_or_percent(node, what)?;
        match parse_percent(&text) {
            Ok(share) => Some(share),
            Err(why) => {
                let why = shown_long(&why.to_string().replace("length", "share").replace("1000 in", "100 %"));
                self.error(
                    &node.span,
                    "bad-share",
                    format!("{what}: {why}"),
                    "a share such as \"5 %\"",
                );
                None
            }
        }
    }

    fn text_or_percent(&mut self, node: &Node, what: &str) -> Option<String> {
        match &node.value {
            Value::Text(text) if text.trim_end().ends_with('%') => Some(text.clone()),
            _ => {
                self.error(
                    &node.span,
                    "wrong-type",
                    format!("{what} is {}, not a share", node.value.kind()),
                    "a share with its sign, such as \"5 %\"",
                );
                None
            }
        }
    }

    pub(crate) fn list<'n>(&mut self, node: &'n Node, what: &str) -> Option<&'n [Node]> {
        match &node.value {
            Value::List(list) => Some(list),
            _ => {
                self.wrong_type(node, what, "a list in square brackets");
                None
            }
        }
    }

    /// Two values, each read by `read`; one value alone stands for both where `one_is_both`.
    pub(crate) fn pair(
        &mut self,
        node: &Node,
        what: &str,
        one_is_both: bool,
        read: impl Fn(&mut Self, &Node, &str) -> Option<f64>,
    ) -> Option<(f64, f64)> {
        match &node.value {
            Value::List(list) => match list.as_slice() {
                [first, second] => {
                    let first = read(self, first, what);
                    let second = read(self, second, what);
                    Some((first?, second?))
                }
                _ => {
                    let message = format!("{what} has {} values", list.len());
                    self.error(&node.span, "wrong-count", message, "two values: across and down");
                    None
                }
            },
            _ if one_is_both => read(self, node, what).map(|one| (one, one)),
            _ => {
                self.wrong_type(node, what, "two values in square brackets: across and down");
                None
            }
        }
    }

    pub(crate) fn color(&mut self, node: &Node, what: &str) -> Option<Color> {
        let text = self.text(node, what)?;
        let color = hex_color(&text);
        if color.is_none() {
            self.error(
                &node.span,
                "bad-color",
                format!("\"{}\" is not a colour", shown(&text)),
                "a colour such as \"#1f2d4a\"",
            );
        }
        color
    }
}

fn shown_long(text: &str) -> String {
    let mut out: String = text
        .chars()
        .take(160)
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    if text.chars().nth(160).is_some() {
        out.push_str("...");
    }
    out
}

pub(crate) fn is_name(text: &str) -> bool {
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
    text.len() <= 64 && text.starts_with(plain) && text.chars().all(|c| plain(c) || c == '-')
}

pub(crate) fn hex_color(text: &str) -> Option<Color> {
    let digits = text.strip_prefix('#')?;
    if digits.len() != 6 || !digits.bytes().all(|b| b.is_ascii_hexdigit()) {
        return None;
    }
    let part = |at: usize| u8::from_str_radix(digits.get(at..at + 2)?, 16).ok();
    Some(Color {
        red: part(0)?,
        green: part(2)?,
        blue: part(4)?,
    })
}

/// A table whose keys are taken one by one.
pub(crate) struct Section<'n> {
    what: String,
    pub span: Range<usize>,
    entries: &'n [Entry],
    known: Vec<&'static str>,
}

impl<'n> Section<'n> {
    /// `what` names the table in messages: "a fabric".
    pub(crate) fn of(r: &mut Reading, node: &'n Node, what: impl Into<String>) -> Option<Self> {
        let what = what.into();
        match &node.value {
            Value::Table(entries) => Some(Section {
                what,
                span: node.span.clone(),
                entries,
                known: Vec::new(),
            }),
            _ => {
                r.wrong_type(node, &what, "a table of keys and values");
                None
            }
        }
    }

    pub(crate) fn whole(entries: &'n [Entry]) -> Self {
        Section {
            what: "the file".to_string(),
            span: 0..0,
            entries,
            known: Vec::new(),
        }
    }

    /// The entry of a key; from now on the key is known.
    pub(crate) fn entry(&mut self, key: &'static str) -> Option<&'n Entry> {
        self.known.push(key);
        self.entries.iter().find(|e| e.key == key)
    }

    /// The value of a key.
    pub(crate) fn take(&mut self, key: &'static str) -> Option<&'n Node> {
        self.entry(key).map(|e| &e.node)
    }

    /// The value of a key that must be there.
    pub(crate) fn must(&mut self, r: &mut Reading, key: &'static str, expected: &str) -> Option<&'n Node> {
        let found = self.take(key);
        if found.is_none() {
            let message = format!("{} has no {key}", self.what);
            r.error(&self.span, "missing-key", message, format!("{key} = {expected}"));
        }
        found
    }

    /// A free text; empty when the key is absent.
    pub(crate) fn text(&mut self, r: &mut Reading, key: &'static str) -> String {
        self.take(key).and_then(|n| r.text(n, key)).unwrap_or_default()
    }

    pub(crate) fn truth(&mut self, r: &mut Reading, key: &'static str, default: bool) -> bool {
        self.take(key).and_then(|n| r.truth(n, key)).unwrap_or(default)
    }

    /// A length more than nothing.
    pub(crate) fn size(&mut self, r: &mut Reading, key: &'static str, default: f64) -> f64 {
        self.take(key).and_then(|n| r.size(n, key)).unwrap_or(default)
    }

    /// A length, zero allowed.
    pub(crate) fn length(&mut self, r: &mut Reading, key: &'static str, default: f64) -> f64 {
        self.take(key).and_then(|n| r.length(n, key)).unwrap_or(default)
    }

    pub(crate) fn share(&mut self, r: &mut Reading, key: &'static str, default: f64) -> f64 {
        self.take(key).and_then(|n| r.share(n, key)).unwrap_or(default)
    }

    pub(crate) fn word<T: Copy>(&mut self, r: &mut Reading, key: &'static str, words: &[(&str, T)], default: T) -> T {
        self.take(key).and_then(|n| r.word(n, key, words)).unwrap_or(default)
    }

    /// The tables of a list of tables; none when the key is absent.
    pub(crate) fn tables(&mut self, r: &mut Reading, key: &'static str) -> &'n [Node] {
        self.take(key).and_then(|n| r.list(n, key)).unwrap_or_default()
    }

    /// Says which keys nobody asked for.
    pub(crate) fn done(self, r: &mut Reading) {
        for entry in self.entries {
            if r.is_full() {
                return;
            }
            if self.known.contains(&entry.key.as_str()) {
                continue;
            }
            let expected = match nearest(&entry.key, self.known.iter().copied()) {
                Some(key) => format!("perhaps {key}"),
                None => format!("one of {}", self.known.join(", ")),
            };
            let message = format!("{} has no key \"{}\"", self.what, shown(&entry.key));
            r.error(&entry.at, "unknown-key", message, expected);
        }
    }
}
