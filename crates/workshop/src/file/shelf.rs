//! The quilts of one folder. Nothing outside it is ever touched: a quilt is known by a name that can be no path.

use super::ENDING;
use super::save::put_whole;
use crate::pictures::{Picture, fresh_name, is_picture_name};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// The examples that a new folder begins with.
pub const EXAMPLES: [(&str, &str); 11] = [
    (
        "first-strips",
        include_str!("../../../../examples/first-strips.quilt.toml"),
    ),
    (
        "harbour-windows",
        include_str!("../../../../examples/harbour-windows.quilt.toml"),
    ),
    (
        "lantern-harbour",
        include_str!("../../../../examples/lantern-harbour.quilt.toml"),
    ),
    ("mill-race", include_str!("../../../../examples/mill-race.quilt.toml")),
    (
        "quay-stones",
        include_str!("../../../../examples/quay-stones.quilt.toml"),
    ),
    ("sails", include_str!("../../../../examples/sails.quilt.toml")),
    (
        "storm-lamps",
        include_str!("../../../../examples/storm-lamps.quilt.toml"),
    ),
    ("tide-pools", include_str!("../../../../examples/tide-pools.quilt.toml")),
    ("tide-table", include_str!("../../../../examples/tide-table.quilt.toml")),
    (
        "weathercock",
        include_str!("../../../../examples/weathercock.quilt.toml"),
    ),
    ("wheelhouse", include_str!("../../../../examples/wheelhouse.quilt.toml")),
];

/// The folder where the workshop keeps what is its own.
const OWN: &str = ".scantling";

/// A folder of quilts.
#[derive(Clone, Debug)]
pub struct Shelf {
    folder: PathBuf,
}

/// A quilt on the shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Standing {
    /// Its name, as in its file's.
    pub name: String,
    /// When it was last changed.
    pub changed: Option<SystemTime>,
}

/// What goes wrong on the shelf.
#[derive(Debug)]
pub enum ShelfError {
    /// No name a quilt can have.
    NotAName,
    /// There is one of this name.
    Taken,
    /// There is none of this name.
    Missing,
    /// The system's own word.
    Io(io::Error),
}

impl std::fmt::Display for ShelfError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            ShelfError::NotAName => f.write_str(
                "A quilt's name has letters, digits and hyphens, begins with a letter or digit, and is at most 60 long.",
            ),
            ShelfError::Taken => f.write_str("There is a quilt of this name on the shelf already. Take another name."),
            ShelfError::Missing => f.write_str("There is no quilt of this name on the shelf any more."),
            ShelfError::Io(error) => write!(f, "The computer says: {error}."),
        }
    }
}

impl From<io::Error> for ShelfError {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::NotFound => ShelfError::Missing,
            _ => ShelfError::Io(error),
        }
    }
}

/// Whether a text may name a quilt, a block or a fabric: `[a-z0-9][a-z0-9-]*`.
pub fn is_name(text: &str) -> bool {
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
    text.len() <= 60 && text.starts_with(plain) && text.chars().all(|c| plain(c) || c == '-')
}

impl Shelf {
    /// The shelf of a folder; a folder that is not there is made and the examples are put on it.
    ///
    /// # Errors
    /// When the folder cannot be made or read.
    pub fn open(folder: &Path) -> io::Result<Shelf> {
        let shelf = Shelf {
            folder: folder.to_path_buf(),
        };
        if !folder.exists() {
            fs::create_dir_all(folder)?;
            for (name, text) in EXAMPLES {
                put_whole(&shelf.file(name), text.as_bytes())?;
            }
        }
        fs::read_dir(folder)?;
        Ok(shelf)
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Where a quilt's file lies.
    pub fn file(&self, name: &str) -> PathBuf {
        self.folder.join(format!("{name}{ENDING}"))
    }

    /// Where a quilt's history lies.
    pub fn history(&self, name: &str) -> PathBuf {
        self.folder.join(OWN).join(format!("{name}.history"))
    }

    /// Where files wait until they are all ready.
    pub fn aside(&self) -> PathBuf {
        self.folder.join(OWN).join("handing-out")
    }

    /// Where it is kept which pictures lie beneath a quilt's blocks.
    pub fn tracing(&self, name: &str) -> PathBuf {
        self.folder.join(OWN).join(format!("{name}.tracing.json"))
    }

    /// A picture beside the quilts: its file.
    ///
    /// # Errors
    /// When the name can name no picture, there is none, or it is too large.
    pub fn picture(&self, file: &str) -> Result<Vec<u8>, ShelfError> {
        if !is_picture_name(file) {
            return Err(ShelfError::Missing);
        }
        let place = self.folder.join(file);
        // A link may lead out of the folder.
        let about = fs::symlink_metadata(&place)?;
        if !about.is_file() {
            return Err(ShelfError::Missing);
        }
        if about.len() > crate::pictures::MOST_BYTES as u64 {
            return Err(ShelfError::Io(io::Error::other("the picture is too large")));
        }
        Ok(fs::read(&place)?)
    }

    /// Keeps a picture beside the quilts; the answer is its file's name. The same picture is kept once.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn put_picture(&self, of: &str, picture: &Picture) -> Result<String, ShelfError> {
        let file = fresh_name(of, &picture.bytes, picture.ending);
        let place = self.folder.join(&file);
        if fs::symlink_metadata(&place).is_err() {
            put_whole(&place, &picture.bytes)?;
        }
        Ok(file)
    }

    /// A copy of a quilt, with what lies beneath its blocks.
    ///
    /// # Errors
    /// When there is no such quilt, or the new name is none or taken.
    pub fn copy(&self, name: &str, to: &str) -> Result<(), ShelfError> {
        let text = self.text(name)?;
        self.put_new(to, &text)?;
        // A quilt without pictures beneath its blocks is still a quilt.
        let _ = fs::copy(self.tracing(name), self.tracing(to));
        Ok(())
    }

    /// The quilts, by name.
    ///
    /// # Errors
    /// When the folder cannot be read.
    pub fn quilts(&self) -> io::Result<Vec<Standing>> {
        Self::in_folder(&self.folder)
    }

    /// The quilts in the bin, by name.
    ///
    /// # Errors
    /// When the folder cannot be read.
    pub fn binned(&self) -> io::Result<Vec<Standing>> {
        let bin = self.bin();
        if bin.exists() {
            Self::in_folder(&bin)
        } else {
            Ok(Vec::new())
        }
    }

    fn in_folder(folder: &Path) -> io::Result<Vec<Standing>> {
        let mut found = Vec::new();
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            let file = entry.file_name();
            let Some(name) = file.to_str().and_then(|file| file.strip_suffix(ENDING)) else {
                continue;
            };
            if is_name(name) && entry.file_type().is_ok_and(|kind| kind.is_file()) {
                found.push(Standing {
                    name: name.to_string(),
                    changed: entry.metadata().and_then(|about| about.modified()).ok(),
                });
            }
        }
        found.sort_by(|a, b| a.name.cmp(&b.name));
        Ok(found)
    }

    fn bin(&self) -> PathBuf {
        self.folder.join(OWN).join("bin")
    }

    /// A new quilt of this text.
    ///
    /// # Errors
    /// When the name is none, or taken, or the file cannot be written.
    pub fn put_new(&self, name: &str, text: &str) -> Result<(), ShelfError> {
        if !is_name(name) {
            return Err(ShelfError::NotAName);
        }
        let place = self.file(name);
        if place.exists() {
            return Err(ShelfError::Taken);
        }
        // A quilt of this name may have been here before; its states are not this one's.
        let _ = fs::remove_file(self.history(name));
        let _ = fs::remove_file(self.tracing(name));
        put_whole(&place, text.as_bytes())?;
        Ok(())
    }

    /// The text of a quilt.
    ///
    /// # Errors
    /// When it is not there, too large, or no text.
    pub fn text(&self, name: &str) -> Result<String, ShelfError> {
        if !is_name(name) {
            return Err(ShelfError::Missing);
        }
        let place = self.file(name);
        if fs::metadata(&place)?.len() > design::MOST_BYTES as u64 {
            return Err(ShelfError::Io(io::Error::other("the file is too large for a design")));
        }
        let bytes = fs::read(&place)?;
        String::from_utf8(bytes).map_err(|_| ShelfError::Io(io::Error::other("the file is no text (UTF-8)")))
    }

    /// A quilt gets another name.
    ///
    /// # Errors
    /// When the name is none, or taken, or there is no such quilt.
    pub fn rename(&self, from: &str, to: &str) -> Result<(), ShelfError> {
        if !is_name(to) {
            return Err(ShelfError::NotAName);
        }
        if self.file(to).exists() {
            return Err(ShelfError::Taken);
        }
        if !is_name(from) {
            return Err(ShelfError::Missing);
        }
        fs::rename(self.file(from), self.file(to))?;
        // A quilt without a history is still a quilt.
        let _ = fs::rename(self.history(from), self.history(to));
        let _ = fs::remove_file(self.tracing(to));
        let _ = fs::rename(self.tracing(from), self.tracing(to));
        Ok(())
    }

    /// A quilt goes into the bin.
    ///
    /// # Errors
    /// When there is no such quilt.
    pub fn bin_it(&self, name: &str) -> Result<(), ShelfError> {
        if !is_name(name) {
            return Err(ShelfError::Missing);
        }
        let bin = self.bin();
        fs::create_dir_all(&bin)?;
        let mut binned = name.to_string();
        let mut count = 1;
        while bin.join(format!("{binned}{ENDING}")).exists() {
            count += 1;
            binned = format!("{name}-{count}");
        }
        fs::rename(self.file(name), bin.join(format!("{binned}{ENDING}")))?;
        Ok(())
    }

    /// A quilt comes back out of the bin.
    ///
    /// # Errors
    /// When there is none, or its name is taken meanwhile.
    pub fn take_back(&self, name: &str) -> Result<(), ShelfError> {
        if !is_name(name) {
            return Err(ShelfError::Missing);
        }
        if self.file(name).exists() {
            return Err(ShelfError::Taken);
        }
        fs::rename(self.bin().join(format!("{name}{ENDING}")), self.file(name))?;
        Ok(())
    }

    /// Empties the bin, for good.
    ///
    /// # Errors
    /// When something in it cannot be removed.
    pub fn empty_bin(&self) -> Result<(), ShelfError> {
        for quilt in self.binned()? {
            fs::remove_file(self.bin().join(format!("{}{ENDING}", quilt.name)))?;
        }
        Ok(())
    }
}
