//! What the table says of recipes that others wrote: `cargo run --release -p trials --example table -- DIR`. DIR holds
//! `picture.json` and the recipes; `verdicts.jsonl` beside them gets a line for each, in the order of their names, as
//! [`trials::written::write_mutants`] writes it. A recipe that cannot be read is not proved, with the code `unreadable`.

use recipe::Pattern;
use serde_json::json;
use std::error::Error;
use std::fs;
use std::path::Path;
use terms::TopPicture;
use trials::judge::verdict;

fn main() -> Result<(), Box<dyn Error>> {
    let Some(dir) = std::env::args().nth(1) else {
        return Err("usage: table DIR".into());
    };
    let dir = Path::new(&dir);
    let picture: TopPicture = serde_json::from_str(&fs::read_to_string(dir.join("picture.json"))?)?;
    let mut files: Vec<_> = fs::read_dir(dir)?
        .map(|entry| entry.map(|e| e.path()))
        .collect::<Result<_, _>>()?;
    files.sort();
    let mut lines = String::new();
    for file in files {
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if !name.ends_with(".json") || name == "picture.json" {
            continue;
        }
        let line = match Pattern::from_json(&fs::read_to_string(&file)?) {
            Err(error) => json!({"file": name, "proved": false, "where": error.to_string(), "code": "unreadable"}),
            Ok(pattern) => {
                let findings = verdict(&pattern, &picture).err().unwrap_or_default();
                let first = findings.first();
                json!({
                    "file": name,
                    "proved": findings.is_empty(),
                    "where": first.map(|f| f.place.to_string()).unwrap_or_default(),
                    "code": first.map(|f| f.code).unwrap_or_default(),
                    "said": first.map(|f| f.sentence.clone()).unwrap_or_default(),
                })
            }
        };
        lines += &format!("{line}\n");
    }
    fs::write(dir.join("verdicts.jsonl"), lines)?;
    Ok(())
}
