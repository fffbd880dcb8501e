//! Writes the hand-built test quilt as PDF and HTML into a folder, to look at every page:
//! `cargo run --release -p book --example sample_book -- FOLDER`.

#[path = "../tests/sources/mod.rs"]
mod sources;

use book::{Edition, Paper, compose, cut_list_csv};
use measure::Measure;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args().nth(1).unwrap_or_else(|| ".".into());
    let plain = Edition {
        paper: Paper::A4,
        ..Edition::default()
    };
    let left = Edition {
        left_handed: true,
        large_print: true,
        measure: Measure::Metric,
        paper: Paper::A4,
    };
    let letter = Edition {
        paper: Paper::Letter,
        ..plain
    };
    let proved = sources::lantern();
    for (name, source, edition) in [
        ("plain", &proved, plain),
        ("left", &proved, left),
        ("unproved", &sources::unproved(), letter),
    ] {
        let book = compose(source, &edition);
        std::fs::write(format!("{folder}/{name}.pdf"), book.to_pdf()?)?;
        std::fs::write(format!("{folder}/{name}.html"), book.to_html())?;
    }
    std::fs::write(format!("{folder}/cut-list.csv"), cut_list_csv(&proved.pattern))?;
    Ok(())
}
