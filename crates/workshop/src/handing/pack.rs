//! Files put together as one zip (APPNOTE 6.3.x), the same bytes for the same files: no clock, names in order.

use std::fs::File;
use std::io::{self, Read, Seek, Write};
use std::path::Path;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// Packs the files of these paths beneath `folder` into a zip, in the order of their names. `go_on` is asked before each.
/// The answer is whether it was finished.
///
/// # Errors
/// When a file cannot be read or the zip not written.
pub fn zipped<W: Write + Seek>(folder: &Path, paths: &[String], into: W, go_on: impl Fn() -> bool) -> io::Result<bool> {
    let mut sorted: Vec<&String> = paths.iter().collect();
    sorted.sort();
    sorted.dedup();
    let mut zip = ZipWriter::new(into);
    // The zip's own earliest moment, 1 January 1980: a file has no date of its own.
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default())
        .unix_permissions(0o644);
    let mut buffer = vec![0; 64 * 1024];
    for path in sorted {
        if !go_on() {
            return Ok(false);
        }
        zip.start_file(path.as_str(), options).map_err(io::Error::other)?;
        let mut file = File::open(folder.join(path))?;
        loop {
            let read = file.read(&mut buffer)?;
            if read == 0 {
                break;
            }
            zip.write_all(&buffer[..read])?;
        }
    }
    zip.finish().map_err(io::Error::other)?.flush()?;
    Ok(true)
}
