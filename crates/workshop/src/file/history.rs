//! Every state a file has had, so that undo has no end and outlives the program: a file of lines beside the design, only
//! ever added to.

use serde::{Deserialize, Serialize};
use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Largest history that is read; beyond it the oldest states are let go.
const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// One line of the file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Line {
    /// A new state.
    Did {
        /// What was done.
        label: String,
        /// The file as it was then.
        text: String,
    },
    /// The state that holds is this one, counted from 0.
    At(usize),
}

/// The states.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct History {
    place: PathBuf,
    states: Vec<(String, String)>,
    at: usize,
}

/// What goes wrong with a history.
#[derive(Debug)]
pub struct HistoryError(pub io::Error);

impl History {
    /// Reads the history, or begins one; `text` is the file as it is now. A last line torn by a power cut is passed over.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn open(place: &Path, text: &str) -> Result<History, HistoryError> {
        let mut history = History {
            place: place.to_path_buf(),
            states: Vec::new(),
            at: 0,
        };
        let small = fs::metadata(place).is_ok_and(|about| about.len() <= MOST_BYTES);
        let old = if small {
            fs::read(place).unwrap_or_default()
        } else {
            Vec::new()
        };
        for line in old.split(|byte| *byte == b'\n') {
            match serde_json::from_slice(line) {
                Ok(Line::Did { label, text }) => history.push(label, text),
                Ok(Line::At(at)) if at < history.states.len() => history.at = at,
                _ => {}
            }
        }
        if !small {
            let _ = fs::remove_file(place);
        } else if !old.is_empty() && !old.ends_with(b"\n") {
            history.append_bytes(b"\n").map_err(HistoryError)?;
        }
        if history.states.is_empty() {
            history.did("As it was opened", text)?;
        } else if history.text() != text {
            history.did("Changed outside the workshop", text)?;
        }
        Ok(history)
    }

    fn push(&mut self, label: String, text: String) {
        if !self.states.is_empty() {
            self.states.truncate(self.at + 1);
        }
        self.states.push((label, text));
        self.at = self.states.len() - 1;
    }

    /// A new state; what was undone before is let go.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn did(&mut self, label: &str, text: &str) -> Result<(), HistoryError> {
        self.append(&Line::Did {
            label: label.to_string(),
            text: text.to_string(),
        })?;
        self.push(label.to_string(), text.to_string());
        Ok(())
    }

    /// The state before; `None` at the first. Its text is to be put into the file.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn undo(&mut self) -> Result<Option<String>, HistoryError> {
        if self.at == 0 {
            return Ok(None);
        }
        self.append(&Line::At(self.at - 1))?;
        self.at -= 1;
        Ok(Some(self.text().to_string()))
    }

    /// The state after, when something was undone.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn redo(&mut self) -> Result<Option<String>, HistoryError> {
        if self.at + 1 >= self.states.len() {
            return Ok(None);
        }
        self.append(&Line::At(self.at + 1))?;
        self.at += 1;
        Ok(Some(self.text().to_string()))
    }

    /// The file as it should be now.
    pub fn text(&self) -> &str {
        self.states.get(self.at).map_or("", |(_, text)| text)
    }

    /// What undo would take back.
    pub fn last(&self) -> Option<&str> {
        (self.at > 0).then(|| self.states[self.at].0.as_str())
    }

    /// What redo would do again.
    pub fn next(&self) -> Option<&str> {
        self.states.get(self.at + 1).map(|(label, _)| label.as_str())
    }

    fn append(&self, line: &Line) -> Result<(), HistoryError> {
        let mut bytes = serde_json::to_vec(line).map_err(|error| HistoryError(io::Error::other(error)))?;
        bytes.push(b'\n');
        self.append_bytes(&bytes).map_err(HistoryError)
    }

    fn append_bytes(&self, bytes: &[u8]) -> io::Result<()> {
        if let Some(folder) = self.place.parent() {
            fs::create_dir_all(folder)?;
        }
        let mut file = OpenOptions::new().append(true).create(true).open(&self.place)?;
        file.write_all(bytes)?;
        file.sync_data()
    }
}
