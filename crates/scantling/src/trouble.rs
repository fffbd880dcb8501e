//! How a command ends, and what can keep it from its work.

use design::FileError;
use std::io;
use std::path::{Path, PathBuf};

/// How a command ended, as the shell sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The work is done and nothing stands against it.
    Good,
    /// The work is done, and a stop finding or a failed rehearsal stands against the design.
    Objected,
    /// A file could not be read or written.
    Unusable,
}

impl Outcome {
    /// The exit status.
    pub fn code(self) -> u8 {
        match self {
            Outcome::Good => 0,
            Outcome::Objected => 1,
            Outcome::Unusable => 2,
        }
    }

    /// [`Outcome::Good`] when `fine`.
    pub fn when(fine: bool) -> Self {
        if fine { Outcome::Good } else { Outcome::Objected }
    }
}

/// What keeps a command from its work.
#[derive(Debug)]
pub enum Trouble {
    /// The file's text is not a design.
    NotADesign {
        /// The file.
        file: PathBuf,
        /// Its text, for pointing at.
        text: String,
        /// What is wrong with it; never empty.
        errors: Vec<FileError>,
    },
    /// A file, a folder or a name cannot be used as asked.
    Unusable {
        /// Which.
        what: PathBuf,
        /// Why, as a whole sentence without its full stop.
        because: String,
    },
}

impl Trouble {
    /// The system refused a file.
    pub fn with_file(what: &Path, error: &io::Error) -> Self {
        Trouble::Unusable {
            what: what.to_path_buf(),
            because: in_words(error),
        }
    }

    /// A file cannot be used, for a reason of our own.
    pub fn unusable(what: &Path, because: impl Into<String>) -> Self {
        Trouble::Unusable {
            what: what.to_path_buf(),
            because: because.into(),
        }
    }
}

/// What the system says, in plain words where there are some.
fn in_words(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file or folder".into(),
        io::ErrorKind::PermissionDenied => "permission is missing".into(),
        io::ErrorKind::IsADirectory => "this is a folder, not a file".into(),
        io::ErrorKind::NotADirectory => "a part of this path is a file, not a folder".into(),
        io::ErrorKind::AlreadyExists => "it is there already".into(),
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "there is no room left to write it".into(),
        io::ErrorKind::FileTooLarge => "it would grow past the size this system allows a file".into(),
        io::ErrorKind::ReadOnlyFilesystem => "this place can only be read".into(),
        _ => {
            let said = error.to_string();
            said.split(" (os error").next().unwrap_or_default().to_lowercase()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_system_is_quoted_without_its_numbers() {
        // Linux error numbers (errno.h): 27 EFBIG, 40 ELOOP.
        assert!(in_words(&io::Error::from_raw_os_error(27)).contains("past the size"));
        assert!(!in_words(&io::Error::from_raw_os_error(40)).contains("os error"));
    }
}
