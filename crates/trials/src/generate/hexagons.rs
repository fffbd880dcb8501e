//! Fields of hexagons, for mosaics over card.

use super::chance::Chance;
use super::outlines::{Corner, within_box};
use std::fmt::Write as _;

/// A field of hexagons of random colours in one block, to be pieced over card.
pub fn hexagons(seed: u64) -> String {
    let mut chance = Chance::new(seed);
    let (columns, rows) = (1 + chance.below(6), 1 + chance.below(6));
    let side = [0.75, 1.0, 1.25, 1.5][chance.below(4)];
    let cloths = ["sky", "sun", "leaf", "clay"];
    let half = 3f64.sqrt() / 2.0;
    let (wide, high) = (2.0 * half * columns as f64, 1.5 * (rows + 1) as f64);
    let mut patches = String::new();
    // Rows stand with their middles on the upper edge, then 3/2 of a side further down; every second one is half a hexagon
    // further right. What lies beyond the block is cut off.
    for row in 0..=rows + 1 {
        for column in 0..=columns {
            let shift = if row % 2 == 1 { half } else { 0.0 };
            let (x, y) = (2.0 * half * column as f64 + shift, 1.5 * row as f64);
            let corners = [
                (0.0, -1.0),
                (half, -0.5),
                (half, 0.5),
                (0.0, 1.0),
                (-half, 0.5),
                (-half, -0.5),
            ];
            let whole: Vec<Corner> = corners.iter().map(|&(dx, dy)| (x + dx, y + dy)).collect();
            let cut = within_box(whole, wide, high);
            if cut.len() < 3 {
                continue;
            }
            let path: Vec<String> = cut.iter().map(|(x, y)| format!("{x:.7} {y:.7}")).collect();
            let cloth = cloths[chance.below(cloths.len())];
            let _ = writeln!(
                patches,
                "  {{ fabric = \"{cloth}\", path = \"M{} Z\" }},",
                path.join(" L")
            );
        }
    }
    let mut text = String::from("format = 1\n\n[quilt]\ntitle = \"Hexagons\"\n");
    for (cloth, color) in cloths.iter().zip(["#88aacc", "#e0b040", "#5f8f5f", "#a05038"]) {
        let _ = write!(text, "\n[[fabric]]\nname = \"{cloth}\"\ncolor = \"{color}\"\n");
    }
    let (w, h) = (wide * side, high * side);
    let _ = write!(
        text,
        "\n[[block]]\nname = \"field\"\nsize = [\"{w:.7} in\", \"{h:.7} in\"]\ngrid = [{wide:.7}, {high:.7}]\nmethod = \"over card\"\npatches = [\n{patches}]\n\n[layout]\nrows = [[\"field\"]]\n"
    );
    text
}
