//! The terminal's side: colour only where a person looks on, texts from files made harmless, no fall over a reader
//! who has had enough.

use crate::trouble::Trouble;
use measure::{Length, Measure, Style};
use std::io::{self, IsTerminal, Write};
use std::path::Path;
use terms::{Finding, Severity};

/// Whether to colour. State is always said in words as well.
#[derive(Clone, Copy, Debug)]
pub struct Ink {
    colored: bool,
}

impl Ink {
    /// For what is asked for.
    pub fn for_output() -> Self {
        Ink {
            colored: wants_color(io::stdout().is_terminal()),
        }
    }

    /// For complaints.
    pub fn for_complaints() -> Self {
        Ink {
            colored: wants_color(io::stderr().is_terminal()),
        }
    }

    /// A heading.
    pub fn heading(self, text: &str) -> String {
        self.dyed("1", text)
    }

    /// Good news.
    pub fn good(self, text: &str) -> String {
        self.dyed("1;32", text)
    }

    /// A severity's own word, or any word said with its weight.
    pub fn severity(self, severity: Severity, text: &str) -> String {
        match severity {
            Severity::Stop => self.dyed("1;31", text),
            Severity::Care => self.dyed("1;33", text),
            Severity::Note => self.dyed("2", text),
        }
    }

    /// Beside the point.
    pub fn soft(self, text: &str) -> String {
        self.dyed("2", text)
    }

    fn dyed(self, code: &str, text: &str) -> String {
        if self.colored {
            format!("\u{1b}[{code}m{text}\u{1b}[0m")
        } else {
            text.to_string()
        }
    }
}

/// `NO_COLOR` (any text but none) and a terminal that cannot say no to colour.
fn wants_color(is_terminal: bool) -> bool {
    let refused = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    let plain = std::env::var_os("TERM").is_some_and(|value| value == "dumb");
    is_terminal && !refused && !plain
}

/// A text for a terminal: no control characters, nothing that turns the writing direction over, and a page's narrow
/// spaces as plain ones.
pub fn harmless(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\n' | '\t' | '\u{202f}' => ' ',
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => '\u{fffd}',
            c if c.is_control() => '\u{fffd}',
            c => c,
        })
        .collect()
}

/// Says what was asked for. A reader that has closed the pipe has seen enough; that is no failure.
///
/// # Errors
/// When the output cannot be written (a full disk).
pub fn say(text: &str) -> Result<(), Trouble> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Trouble::with_file(Path::new("the output"), &error))
        }
        _ => Ok(()),
    }
}

/// Says something beside what was asked for.
pub fn remark(text: &str) {
    // Nobody is left to tell if even this fails.
    let _ = io::stderr().lock().write_all(text.as_bytes());
}

/// Says what kept a command from its work.
pub fn complain(trouble: &Trouble) {
    let ink = Ink::for_complaints();
    let mut text = String::new();
    match trouble {
        Trouble::NotADesign {
            file,
            text: source,
            errors,
        } => {
            let name = harmless(&file.display().to_string());
            for error in errors {
                let lines = error.render(source, &name);
                let lines = lines.lines().map(harmless).collect::<Vec<_>>().join("\n");
                let (first, rest) = lines.split_once('\n').unwrap_or((&lines, ""));
                text += &format!("{}\n{rest}\n", ink.severity(Severity::Stop, first));
            }
        }
        Trouble::Unusable { what, because } => {
            text += &format!("{}: {}.\n", harmless(&what.display().to_string()), harmless(because));
        }
    }
    remark(&text);
}

/// Findings in words, in the order given.
pub fn findings(list: &[Finding], ink: Ink) -> String {
    let mut text = String::new();
    for finding in list {
        text += &format!(
            "{} {}: {}\n",
            ink.severity(finding.severity, &finding.severity.to_string()),
            harmless(&finding.place.to_string()),
            harmless(&finding.sentence)
        );
        if !finding.mend.is_empty() {
            text += &format!("     mend: {}\n", harmless(&finding.mend));
        }
        text += &format!("     {}\n", ink.soft(&format!("[{}]", finding.code)));
    }
    text
}

/// How many of each severity: "stop 1, care 0, note 2".
pub fn counts(list: &[Finding]) -> String {
    [Severity::Stop, Severity::Care, Severity::Note]
        .map(|severity| format!("{severity} {}", list.iter().filter(|f| f.severity == severity).count()))
        .join(", ")
}

/// A length in words.
pub fn length(length: Length, measure: Measure) -> String {
    length.print(measure, Style::Plain)
}

/// Rows set in columns, two spaces between, the last column ragged.
pub fn columns(rows: &[Vec<String>]) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        rows.iter()
            .filter_map(|row| row.get(column))
            .map(|cell| cell.chars().count())
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..count).map(width).collect();
    let mut text = String::new();
    for row in rows {
        let mut line = String::from("  ");
        for (cell, width) in row.iter().zip(&widths) {
            line += cell;
            line += &" ".repeat(width - cell.chars().count() + 2);
        }
        text += line.trim_end();
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_cannot_steer_the_terminal() {
        assert_eq!(harmless("a\u{1b}[2Jb\u{202e}c\nd"), "a\u{fffd}[2Jb\u{fffd}c d");
    }

    #[test]
    fn columns_line_up() {
        let rows = vec![vec!["a".into(), "b".into()], vec!["ccc".into(), "d".into()]];
        assert_eq!(columns(&rows), "  a    b\n  ccc  d\n");
    }
}
