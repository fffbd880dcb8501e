//! Large designs of known make, for what they cost in time and in depth: many blocks, many strips, many rounds.

use std::fmt::Write as _;

/// A design with one block of rectangles, each (`left`, `upper`, `width`, `height`) in inches, in turn of two cloths.
fn rectangles(title: &str, size: (f64, f64), patches: impl Iterator<Item = (f64, f64, f64, f64)>) -> String {
    let (width, height) = size;
    let mut text = format!(
        "format = 1\n\n[quilt]\ntitle = \"{title}\"\n\n[[fabric]]\nname = \"night\"\ncolor = \"#1f2d4a\"\n\n\
         [[fabric]]\nname = \"foam\"\ncolor = \"#efe8d8\"\n\n\
         [[block]]\nname = \"whole\"\nsize = [{width}, {height}]\ngrid = [{width}, {height}]\npatches = [\n"
    );
    for (i, (x, y, w, h)) in patches.enumerate() {
        let fabric = if i % 2 == 0 { "night" } else { "foam" };
        let _ = writeln!(
            text,
            "  {{ fabric = \"{fabric}\", path = \"M{x} {y} h{w} v{h} h-{w} Z\" }},"
        );
    }
    text.push_str("]\n\n[layout]\nkind = \"straight\"\nrows = [[\"whole\"]]\n");
    text
}

/// `side` by `side` rectangles, no two rows of one height and no two columns of one width.
pub fn uneven_grid(side: usize) -> String {
    let step = |i: usize| 1.0 + i as f64 / 8.0;
    let start = |i: usize| (0..i).map(step).sum::<f64>();
    let whole = start(side);
    let places = (0..side * side).map(|i| (start(i % side), start(i / side), step(i % side), step(i / side)));
    rectangles("Uneven grid", (whole, whole), places)
}

/// Strips of half an inch, one above the other.
pub fn parallel_strips(count: usize) -> String {
    let places = (0..count).map(|i| (0.0, i as f64 / 2.0, 12.0, 0.5));
    rectangles("Strips", (12.0, count as f64 / 2.0), places)
}

/// A log cabin: rounds of four strips one inch wide about a square of one inch, each as long as the work is by then.
pub fn log_cabin(rounds: usize) -> String {
    let whole = (2 * rounds + 1) as f64;
    let middle = std::iter::once((rounds as f64, rounds as f64, 1.0, 1.0));
    let strips = (1..=rounds).flat_map(|round| {
        let (low, high) = ((rounds - round) as f64, (rounds + round) as f64);
        let (short, long) = (2.0 * round as f64 - 1.0, 2.0 * round as f64);
        [
            (low + 1.0, low, short, 1.0),
            (high, low, 1.0, long),
            (low + 1.0, high, long, 1.0),
            (low, low, 1.0, long + 1.0),
        ]
    });
    rectangles("Log cabin", (whole, whole), middle.chain(strips))
}

/// The sampler's twelve-inch blocks.
pub const SAMPLER_CELLS: [&str; 8] = [
    "beacon",
    "four-vanes",
    "tides",
    "four-knots",
    "jetty",
    "compass",
    "buoys-and-nets",
    "porthole",
];

/// The sampler's blocks over and over in so many rows and columns, with sashing; `text` is the sampler's file.
pub fn repeated(text: &str, names: &[&str], rows: usize, columns: usize) -> String {
    let (blocks, _) = text.split_once("[layout]").unwrap_or((text, ""));
    let mut out = format!("{blocks}[layout]\nkind = \"straight\"\ncell = \"12 in\"\nrows = [\n");
    for row in 0..rows {
        let cells: Vec<String> = (0..columns)
            .map(|column| format!("\"{}\"", names[(row * 3 + column) % names.len()]))
            .collect();
        let _ = writeln!(out, "  [{}],", cells.join(", "));
    }
    out.push_str("]\nsashing = { width = \"1 1/2 in\", fabric = \"foam\", cornerstones = \"brass\", outer = true }\n");
    out
}
