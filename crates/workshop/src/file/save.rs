//! A file is put down whole or not at all: written beside its place, made sure of, and moved there.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

/// Puts a file in its place. After an error, or the machine's death at any moment, the place holds the old file or the new
/// one, never a part.
///
/// # Errors
/// What the system says.
pub fn put_whole(place: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = place.parent().unwrap_or(Path::new("."));
    let name = place.file_name().and_then(|name| name.to_str()).unwrap_or("file");
    let beside = folder.join(format!(".{name}.part-{}", std::process::id()));
    let written = (|| {
        let mut file = OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(true)
            .open(&beside)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        fs::rename(&beside, place)
    })();
    if written.is_err() {
        // Best effort: a part left behind is hidden and never has the name of a finished file.
        let _ = fs::remove_file(&beside);
        return written;
    }
    // The folder's own record of the new name must outlive a power cut too; not every system lets a folder be opened.
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}
