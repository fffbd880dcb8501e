//! Writes a design's recipe and picture for the second judge: `cargo run -p trials --example write -- FILE DIR`; a
//! number (or `laid-17` and the like, see `trials::meant`) instead of a file takes a generated design.

use trials::meant::meant;
use trials::whole::Whole;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut args = std::env::args().skip(1);
    let (Some(what), Some(dir)) = (args.next(), args.next()) else {
        return Err("usage: write FILE|SEED DIR".into());
    };
    let text = meant(&what)?;
    let whole = Whole::of(&text).map_err(|findings| format!("{findings:?}"))?;
    std::fs::create_dir_all(&dir)?;
    std::fs::write(format!("{dir}/recipe.json"), whole.pattern.to_json())?;
    std::fs::write(format!("{dir}/picture.json"), serde_json::to_string(&whole.picture)?)?;
    Ok(())
}
