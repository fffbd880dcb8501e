//! Altered patterns written to files with the rehearsal's verdict, so that another judge can be held against it.

use crate::judge::verdict;
use crate::mutate::{Alterations, spread};
use recipe::Pattern;
use serde_json::json;
use std::fs;
use std::io;
use std::path::Path;
use terms::TopPicture;

/// Writes `recipe-0000.json` (the pattern as it is), then up to `n` mutants spread evenly over kinds and ways, and
/// `picture.json`; `verdicts.jsonl` holds a line for each: `{"file", "proved", "where", "code", "site", "mutation"}`, the
/// last four empty where they say nothing. Answers how many mutants there are.
///
/// # Errors
/// When a file cannot be written.
pub fn write_mutants(dir: &Path, pattern: &Pattern, picture: &TopPicture, n: usize) -> io::Result<usize> {
    fs::create_dir_all(dir)?;
    fs::write(dir.join("picture.json"), serde_json::to_string_pretty(picture)? + "\n")?;
    let mut all = Alterations::of(pattern, picture);
    let mut lines = String::new();
    let mut put = |number: usize, pattern: &Pattern, site: &str, mutation: &str| -> io::Result<()> {
        let file = format!("recipe-{number:04}.json");
        fs::write(dir.join(&file), pattern.to_json())?;
        let findings = verdict(pattern, picture).err().unwrap_or_default();
        let first = findings.first();
        let line = json!({
            "file": file,
            "proved": findings.is_empty(),
            "where": first.map(|f| f.place.to_string()).unwrap_or_default(),
            "code": first.map(|f| f.code).unwrap_or_default(),
            "site": site,
            "mutation": mutation,
        });
        lines += &format!("{line}\n");
        Ok(())
    };
    put(0, pattern, "", "")?;
    let mut written = 0;
    for i in spread::spread(&all, n) {
        let change = all.changes[i].clone();
        if let Some(mutant) = all.mutant(&change) {
            written += 1;
            put(written, &mutant.pattern, &mutant.site.path, &mutant.mutation)?;
        }
    }
    fs::write(dir.join("verdicts.jsonl"), lines)?;
    Ok(written)
}
