//! Prints the recipe of a file or a seed.
use trials::{generate::Wanted, whole::Whole};
fn main() {
    let a = std::env::args().nth(1).unwrap_or_default();
    let text = match a.parse::<u64>() { Ok(n) => Wanted::any(n).design(), Err(_) => std::fs::read_to_string(&a).unwrap_or_default() };
    match Whole::of(&text) { Ok(w) => println!("{}", serde_json::to_string(&w.pattern.without_whys()).unwrap_or_default()), Err(f) => println!("{f:?}") }
}
