//! What is wrong with a design file, and where: one error names its line, its column and what was expected there.

use std::fmt;

/// One thing wrong with a design file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileError {
    /// Stable, kebab-case (`unknown-key`); part of the program's interface.
    pub code: &'static str,
    /// Line, from 1.
    pub line: u32,
    /// Column in characters, from 1.
    pub column: u32,
    /// What was wrong.
    pub message: String,
    /// What was expected instead; empty where nothing more can be said.
    pub expected: String,
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "line {}, column {}: {} [{}]",
            self.line, self.column, self.message, self.code
        )?;
        if !self.expected.is_empty() {
            write!(f, "; expected {}", self.expected)?;
        }
        Ok(())
    }
}

impl std::error::Error for FileError {}

/// How many characters of a line are shown on either side of the place.
const SHOWN_AROUND: usize = 60;

impl FileError {
    /// The error with the line it is on and a pointer under the place, for a terminal. `text` is the file's text and
    /// `file_name` what the maker calls it.
    pub fn render(&self, text: &str, file_name: &str) -> String {
        let mut out = format!(
            "error [{}]: {}\n  in {file_name}, line {}, column {}\n",
            self.code, self.message, self.line, self.column
        );
        let line = text.split('\n').nth(self.line.saturating_sub(1) as usize);
        if let Some(line) = line {
            let column = self.column.saturating_sub(1) as usize;
            // A line may be as long as the file: only the neighbourhood of the place is shown.
            let from = column.saturating_sub(SHOWN_AROUND);
            let shown: String = line
                .chars()
                .skip(from)
                .take(2 * SHOWN_AROUND)
                .map(|c| if c.is_control() { ' ' } else { c })
                .collect();
            let number = self.line.to_string();
            let margin = " ".repeat(number.len());
            let lead = if from > 0 { "..." } else { "" };
            let pointer = " ".repeat(lead.len() + column - from);
            out.push_str(&format!("{margin} |\n{number} | {lead}{}\n", shown.trim_end()));
            out.push_str(&format!("{margin} | {pointer}^\n"));
        }
        if !self.expected.is_empty() {
            out.push_str(&format!("  expected {}\n", self.expected));
        }
        out
    }
}

/// A text from a file as it may stand in a message: short and without control characters.
pub(crate) fn shown(text: &str) -> String {
    let mut out: String = text
        .chars()
        .take(40)
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    if text.chars().nth(40).is_some() {
        out.push_str("...");
    }
    out
}

/// Where the lines of a text begin, so that a place in it can be said as line and column.
#[derive(Clone, Debug)]
pub(crate) struct Lines<'t> {
    text: &'t str,
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    pub(crate) fn of(text: &'t str) -> Self {
        let mut starts = vec![0];
        starts.extend(
            text.bytes()
                .enumerate()
                .filter(|(_, b)| *b == b'\n')
                .map(|(i, _)| i + 1),
        );
        Lines { text, starts }
    }

    pub(crate) fn text(&self) -> &'t str {
        self.text
    }

    /// Line and column, both from 1, of a byte of the text; a byte within a character counts as that character.
    pub(crate) fn place(&self, byte: usize) -> (u32, u32) {
        let mut byte = byte.min(self.text.len());
        while !self.text.is_char_boundary(byte) {
            byte -= 1;
        }
        let line = self.starts.partition_point(|&s| s <= byte).saturating_sub(1);
        let column = self.text[self.starts[line]..byte].chars().count();
        (line as u32 + 1, column as u32 + 1)
    }
}
