//! Sets the book of a `recipe.json` with its `picture.json` (as written by the command line) into a folder:
//! `cargo run --release -p book --example recipe_book -- FOLDER-WITH-BOTH OUT`.

use book::{ClothWords, Edition, Paper, ProofFigures, Source, Story, compose};
use measure::Length;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut words = std::env::args().skip(1);
    let (from, out) = (words.next().unwrap_or_default(), words.next().unwrap_or_default());
    let pattern = recipe::Pattern::from_json(&std::fs::read_to_string(format!("{from}/recipe.json"))?)?;
    let picture: terms::TopPicture = serde_json::from_str(&std::fs::read_to_string(format!("{from}/picture.json"))?)?;
    let scenes = rehearse::scenes(&pattern.recipe, &pattern.cutting);
    let proof = rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &picture);
    let stories = pattern
        .recipe
        .makes
        .iter()
        .map(|m| Story {
            unit: m.unit.clone(),
            block: m
                .unit
                .0
                .split_once('/')
                .map(|(block, _)| block.to_string())
                .filter(|b| b != "top"),
            ..Story::default()
        })
        .collect();
    let cloths = pattern
        .recipe
        .fabrics
        .iter()
        .map(|f| ClothWords {
            fabric: f.fabric.clone(),
            width: Length::inches(42),
            step: Length::fraction(9, 2),
            price: None,
        })
        .collect();
    let source = Source {
        scenes: scenes.into(),
        picture,
        stories,
        findings: proof.clone().err().unwrap_or_default(),
        proof: proof.ok().map(|p| ProofFigures {
            seams: p.seams,
            largest_difference: p.largest_difference,
        }),
        finishing: finishing::Finishing::default(),
        cloths,
        note: None,
        says: Vec::new(),
        photos: Vec::new(),
        part: None,
        parts: Vec::new(),
        pattern,
    };
    let edition = Edition {
        measure: source.pattern.recipe.measure,
        paper: Paper::Letter,
        ..Edition::default()
    };
    let book = compose(&source, &edition);
    std::fs::write(format!("{out}/book.pdf"), book.to_pdf()?)?;
    std::fs::write(format!("{out}/book.html"), book.to_html())?;
    Ok(())
}
