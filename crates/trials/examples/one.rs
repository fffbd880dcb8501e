//! Prints one generated design's pattern and what the table says of it: `cargo run -p trials --example one -- SEED`.

use trials::generate::Wanted;
use trials::whole::Whole;

fn main() {
    let seed = std::env::args().nth(1).and_then(|s| s.parse().ok()).unwrap_or(0);
    let text = Wanted::any(seed).design();
    println!("{text}");
    match Whole::of(&text) {
        Ok(whole) => {
            println!("{}", whole.pattern.to_json());
            match whole.rehearse() {
                Ok(proof) => println!("{proof:?}"),
                Err(findings) => findings.iter().for_each(|f| println!("{f}")),
            }
        }
        Err(findings) => findings.iter().for_each(|f| println!("{f}")),
    }
}
