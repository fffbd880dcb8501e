//! Reading the files that are named on the command line.

use crate::args::{Chosen, Prefer, Ruled};
use crate::trouble::Trouble;
use design::Design;
use recipe::{Pattern, RECIPE_FORMAT};
use std::fs::File;
use std::io::Read;
use std::path::Path;
use workshop::file::Photos;

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

/// Reads a design file and takes it in the size and the cloth chosen; what counts first may be said on the command line.
///
/// # Errors
/// When the file cannot be read, is not a design, or has no such size or colourway.
pub fn open_as(file: &Path, chosen: &Chosen) -> Result<Design, Trouble> {
    let whole = open(file)?;
    let size = chosen.size.as_deref().unwrap_or(whole.default_size());
    let mut design = whole.at_size(size).ok_or_else(|| {
        let known = whole.size_names().join(", ");
        Trouble::unusable(file, format!("there is no size \"{size}\"; there are: {known}"))
    })?;
    if let Some(name) = &chosen.colorway {
        design = design.in_colorway(name).ok_or_else(|| {
            let known: Vec<&str> = whole.colorways.iter().map(|c| c.name.as_str()).collect();
            let known = if known.is_empty() {
                "none".to_string()
            } else {
                known.join(", ")
            };
            Trouble::unusable(file, format!("there is no colourway \"{name}\"; there are: {known}"))
        })?;
    }
    Ok(as_chosen(design, chosen))
}

/// A design in the measure chosen, and with what counts first.
pub fn as_chosen(mut design: Design, chosen: &Chosen) -> Design {
    if let Some(ruled) = chosen.measure {
        design = design.in_measure(match ruled {
            Ruled::Inch => measure::Measure::Inch,
            Ruled::Metric => measure::Measure::Metric,
        });
    }
    if let Some(prefer) = chosen.prefer {
        design.quilt.prefer = match prefer {
            Prefer::Cloth => design::Prefer::Cloth,
            Prefer::Steps => design::Prefer::Steps,
            Prefer::Forgiving => design::Prefer::Forgiving,
        };
    }
    design
}

/// The photographs that lie beside a design file.
pub fn photos(file: &Path) -> Photos {
    let folder = file.parent().filter(|folder| !folder.as_os_str().is_empty());
    Photos::of(folder.unwrap_or(Path::new(".")))
}

/// Most bytes of a list of cloth in hand.
const MOST_STASH_BYTES: usize = 1024 * 1024;

/// Reads a list of cloth in hand.
///
/// # Errors
/// When the file cannot be read, or a line says no piece of cloth.
pub fn open_stash(file: &Path, measure: measure::Measure) -> Result<Vec<drafting::Owned>, Trouble> {
    let bytes = read_at_most(file, MOST_STASH_BYTES + 1)?;
    if bytes.len() > MOST_STASH_BYTES {
        return Err(Trouble::unusable(file, "this is larger than any list of cloth"));
    }
    let text = String::from_utf8(bytes).map_err(|_| Trouble::unusable(file, "this is not text (UTF-8)"))?;
    drafting::read_stash(&text, measure).map_err(|faults| {
        let told: Vec<String> = faults
            .iter()
            .take(5)
            .map(|(line, fault)| format!("line {line}: {fault}"))
            .collect();
        Trouble::unusable(file, told.join("; "))
    })
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
