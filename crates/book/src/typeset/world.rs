//! What the typesetter can see: one source, the pictures, the fonts that ship with it. Nothing of the machine.

use super::BookError;
use std::sync::OnceLock;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

/// The fonts, read once.
struct Case {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

fn case() -> &'static Case {
    static CASE: OnceLock<Case> = OnceLock::new();
    CASE.get_or_init(|| {
        let fonts: Vec<Font> = typst_assets::fonts()
            .flat_map(|data| Font::iter(Bytes::new(data)))
            .collect();
        Case {
            library: LazyHash::new(Library::default()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
        }
    })
}

/// One book on the typesetter's desk.
pub(super) struct Desk {
    main: FileId,
    source: Source,
    pictures: Vec<(FileId, Bytes)>,
}

impl Desk {
    pub(super) fn new(source: String, pictures: Vec<(String, Bytes)>) -> Result<Self, BookError> {
        let main = file("book.typ")?;
        let pictures = pictures
            .into_iter()
            .map(|(name, bytes)| Ok((file(&name)?, bytes)))
            .collect::<Result<_, BookError>>()?;
        Ok(Desk {
            main,
            source: Source::new(main, source),
            pictures,
        })
    }
}

fn file(name: &str) -> Result<FileId, BookError> {
    let path = VirtualPath::new(name).map_err(|e| BookError(format!("{name}: {e:?}")))?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &case().library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &case().book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main {
            Ok(self.source.clone())
        } else {
            Err(FileError::NotSource)
        }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.pictures
            .iter()
            .find(|(name, _)| *name == id)
            .map(|(_, bytes)| bytes.clone())
            .ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        case().fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        // A booklet has no date of its own: the same book is the same bytes on any day.
        Datetime::from_ymd(2000, 1, 1)
    }
}
