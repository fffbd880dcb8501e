//! Writes altered recipes of a design for another judge: `cargo run --release -p trials --example mutants -- FILE DIR N`.
//! FILE is a design file, or a number for a generated design (or `laid-17` and the like, see `trials::meant`).

use std::path::Path;
use std::process::ExitCode;
use trials::meant::meant;
use trials::whole::Whole;
use trials::written::write_mutants;

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [file, dir, n] = args.as_slice() else {
        eprintln!("usage: mutants FILE.quilt.toml DIR N");
        return ExitCode::FAILURE;
    };
    let Ok(n) = n.parse::<usize>() else {
        eprintln!("N is how many mutants, a whole number");
        return ExitCode::FAILURE;
    };
    let text = match meant(file) {
        Ok(text) => text,
        Err(error) => {
            eprintln!("{file}: {error}");
            return ExitCode::FAILURE;
        }
    };
    let whole = match Whole::of(&text) {
        Ok(whole) => whole,
        Err(findings) => {
            findings.iter().for_each(|f| eprintln!("{f}"));
            return ExitCode::FAILURE;
        }
    };
    match write_mutants(Path::new(dir), &whole.pattern, &whole.picture, n) {
        Ok(written) => {
            println!("{written} mutants in {dir}");
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("{dir}: {error}");
            ExitCode::FAILURE
        }
    }
}
