//! Writes the collection's page and pictures into a folder: `cargo run --release -p trials --example collection -- docs`;
//! without one, prints the table.

use trials::collection;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let rows = collection::rows()?;
    let Some(folder) = std::env::args().nth(1) else {
        println!("{}", collection::table(&rows));
        return Ok(());
    };
    let pictures = format!("{folder}/pictures/collection");
    std::fs::create_dir_all(&pictures)?;
    for row in &rows {
        std::fs::write(format!("{pictures}/{}.svg", row.name), &row.drawing)?;
    }
    std::fs::write(format!("{folder}/collection.md"), collection::page(&rows))?;
    Ok(())
}
