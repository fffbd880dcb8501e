//! Reading the files that are named on the command line.

use crate::args::Prefer;
use crate::trouble::Trouble;
use design::Design;
use recipe::{Pattern, RECIPE_FORMAT};
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// Largest recipe file that is read: far beyond any quilt, but not all of a machine's memory.
const MOST_RECIPE_BYTES: usize = 256 * 1024 * 1024;

/// Reads a design file.
///
/// # Errors
/// When the file cannot be read or is not a design.
pub fn open(file: &Path) -> Result<Design, Trouble> {
    // One byte more than is allowed is enough for the design crate to say that it is too large.
    let bytes = read_at_most(file, design::MOST_BYTES + 1)?;
    design::read_design_bytes(&bytes).map_err(|errors| Trouble::NotADesign {
        file: file.to_path_buf(),
        text: String::from_utf8_lossy(&bytes).into_owned(),
        errors,
    })
}

/// Reads a design file; what counts first may be said on the command line.
///
/// # Errors
/// When the file cannot be read or is not a design.
pub fn open_preferring(file: &Path, prefer: Option<Prefer>) -> Result<Design, Trouble> {
    let mut design = open(file)?;
    if let Some(prefer) = prefer {
        design.quilt.prefer = match prefer {
            Prefer::Cloth => design::Prefer::Cloth,
            Prefer::Steps => design::Prefer::Steps,
            Prefer::Forgiving => design::Prefer::Forgiving,
        };
    }
    Ok(design)
}

/// Reads a recipe file.
///
/// # Errors
/// When the file cannot be read or is not a recipe.
pub fn open_recipe(file: &Path) -> Result<Pattern, Trouble> {
    let bytes = read_at_most(file, MOST_RECIPE_BYTES + 1)?;
    if bytes.len() > MOST_RECIPE_BYTES {
        return Err(Trouble::unusable(file, "this is larger than any recipe that is read"));
    }
    let text = String::from_utf8(bytes).map_err(|_| Trouble::unusable(file, "this is not text (UTF-8)"))?;
    let pattern =
        Pattern::from_json(&text).map_err(|error| Trouble::unusable(file, format!("this is not a recipe: {error}")))?;
    if pattern.format != RECIPE_FORMAT {
        let because = format!(
            "this recipe has format {}, and only {RECIPE_FORMAT} is read",
            pattern.format
        );
        return Err(Trouble::unusable(file, because));
    }
    Ok(pattern)
}

/// The file's bytes, or its first so many: a pipe or a device does not say its size beforehand.
fn read_at_most(file: &Path, most: usize) -> Result<Vec<u8>, Trouble> {
    let refused = |error| Trouble::with_file(file, &error);
    let opened = File::open(file).map_err(refused)?;
    if opened.metadata().map_err(refused)?.is_dir() {
        return Err(Trouble::unusable(file, "this is a folder, not a file"));
    }
    let mut bytes = Vec::new();
    opened.take(most as u64).read_to_end(&mut bytes).map_err(refused)?;
    Ok(bytes)
}
