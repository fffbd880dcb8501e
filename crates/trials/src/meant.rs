//! Which design a word on the command line means: a file, or a number of one of the generators.

use crate::curved;
use crate::generate::{Wanted, hexagons, trade};

/// The design file's text. `17` is the generated design of that number; `laid-17`, `paper-17`, `units-17` the same with patches on a
/// ground, on foundation paper, with units of the trade; `curves-17`, `hexagons-17` and `trade-17` those of the other generators; anything else is a path.
///
/// # Errors
/// When the file cannot be read.
pub fn meant(what: &str) -> std::io::Result<String> {
    let (kind, number) = what.split_once('-').unwrap_or(("", what));
    let Ok(seed) = number.parse::<u64>() else {
        return std::fs::read_to_string(what);
    };
    let wanted = Wanted::any(seed);
    let wanted = match kind {
        "" => wanted,
        "laid" => Wanted::laid(seed),
        "paper" => Wanted {
            on_paper: true,
            ..wanted
        },
        "units" => Wanted { units: true, ..wanted },
        "curves" => return Ok(curved::design(seed)),
        "hexagons" => return Ok(hexagons(seed)),
        "trade" => return Ok(trade(seed)),
        "layout" => return Ok(crate::layouts::layout(seed).text),
        _ => return std::fs::read_to_string(what),
    };
    Ok(wanted.design())
}
