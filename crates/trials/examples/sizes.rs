//! Writes every size and colourway of design files for the second judge: for each size a folder with `picture.json`, the recipe of each
//! colourway, and `list.jsonl` with the first judge's verdicts (one it does not prove ends the program), as tests/outside/agree.py reads them.
//!
//! ```text
//! sizes FOLDER FILE...
//! ```

use design::Design;
use std::error::Error;
use std::fs;
use std::path::Path;
use trials::judge::verdict;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let folder = arguments.next().ok_or("usage: sizes FOLDER FILE...")?;
    let mut count = 0;
    for file in arguments {
        let design =
            design::read_design(&fs::read_to_string(&file)?).map_err(|errors| format!("{file}: {errors:?}"))?;
        let stem = Path::new(&file)
            .file_name()
            .map_or_else(String::new, |n| n.to_string_lossy().into_owned());
        let stem = stem.trim_end_matches(".quilt.toml");
        for size in design.size_names() {
            let sized = design.at_size(size).ok_or("a size that is not there")?;
            count += one_size(&Path::new(&folder).join(format!("{stem}-{size}")), &sized)?;
        }
    }
    println!("{count} recipes");
    Ok(())
}

/// The recipes of one size in all its cloths.
fn one_size(folder: &Path, design: &Design) -> Result<usize, Box<dyn Error>> {
    fs::create_dir_all(folder)?;
    let mut all = vec![("own".to_string(), design.clone())];
    for colorway in &design.colorways {
        let other = design
            .in_colorway(&colorway.name)
            .ok_or("a colourway that is not there")?;
        all.push((format!("in-{}", colorway.name), other));
    }
    let mut list = String::new();
    for (name, design) in &all {
        let draft = drafting::draft(design).map_err(|findings| format!("{}: {}", folder.display(), findings[0]))?;
        if let Err(findings) = verdict(&draft.pattern, &draft.picture) {
            return Err(format!("{} {name}: {}", folder.display(), findings[0]).into());
        }
        let file = format!("recipe-{name}.json");
        fs::write(folder.join(&file), draft.pattern.to_json())?;
        fs::write(folder.join("picture.json"), serde_json::to_string(&draft.picture)?)?;
        list += &format!("{}\n", serde_json::json!({ "file": file, "proved": true }));
    }
    fs::write(folder.join("list.jsonl"), list)?;
    Ok(all.len())
}
