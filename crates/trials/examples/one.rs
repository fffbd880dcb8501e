//! Prints one design's pattern and what the table says of it: `cargo run -p trials --example one -- FILE`; a number (or `laid-17`
//! and the like, see `trials::meant`) instead of a file takes a generated design and prints that as well. With `--short` only what is
//! found is printed.

use trials::meant::meant;
use trials::whole::Whole;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let what = std::env::args().nth(1).ok_or("usage: one FILE|SEED [--short]")?;
    let short = std::env::args().any(|a| a == "--short");
    let text = meant(&what)?;
    if !short && !std::path::Path::new(&what).exists() {
        println!("{text}");
    }
    match Whole::of(&text) {
        Ok(whole) => {
            if !short {
                println!("{}", whole.pattern.to_json());
            }
            whole.findings.iter().for_each(|f| println!("{f}"));
            match whole.rehearse() {
                Ok(proof) => println!("{proof:?}"),
                Err(findings) => findings.iter().for_each(|f| println!("{f}")),
            }
        }
        Err(findings) => findings.iter().for_each(|f| println!("{f}")),
    }
    Ok(())
}
