//! Generated designs with curved seams: quarter circles, rings, fans whose arc runs along several patches, lenses,
//! waves. Like the straight ones, one number gives one design.

use crate::generate::Chance;
use std::fmt::Write as _;

/// The design file of a number.
pub fn design(seed: u64) -> String {
    let mut chance = Chance::new(seed ^ 0x0C0F_FEE0);
    let quarters = 12 + chance.below(24);
    let mut text = String::from(
        "format = 1\n\n[quilt]\ntitle = \"Curves\"\n\n[[fabric]]\nname = \"dark\"\ncolor = \"#1f3a4d\"\n\n[[fabric]]\nname = \"light\"\ncolor = \"#f1e7d3\"\n",
    );
    let blocks = 1 + chance.below(3);
    for i in 0..blocks {
        let patches = block(&mut chance);
        let _ = write!(
            text,
            "\n[[block]]\nname = \"b{i}\"\nsize = \"{} in\"\npatches = [\n",
            quarters as f64 / 4.0
        );
        for (k, path) in patches.iter().enumerate() {
            let fabric = ["dark", "light"][k % 2];
            let _ = writeln!(text, "  {{ fabric = \"{fabric}\", path = \"{path}\" }},");
        }
        text.push_str("]\n");
    }
    let (rows, columns) = (1 + chance.below(3), 1 + chance.below(3));
    text.push_str("\n[layout]\nrows = [\n");
    let mut at = 0;
    for _ in 0..rows {
        let cells: Vec<String> = (0..columns)
            .map(|_| {
                // Every block comes first once.
                let block = if at < blocks { at } else { chance.below(blocks) };
                at += 1;
                let turn = ["", "@90", "@180", "@270", "~", "~@90"][chance.below(6)];
                format!("\"b{block}{turn}\"")
            })
            .collect();
        let _ = writeln!(text, "  [{}],", cells.join(", "));
    }
    text.push_str("]\n");
    text
}

/// The patches of one block, in a square of one by one, y down.
fn block(chance: &mut Chance) -> Vec<String> {
    let n = |x: f64| format!("{x:.7}");
    match chance.below(5) {
        0 => {
            let r = n(0.3 + 0.6 * chance.share());
            vec![
                format!("M0 0 L{r} 0 A{r} {r} 0 0 1 0 {r} Z"),
                format!("M{r} 0 L1 0 L1 1 L0 1 L0 {r} A{r} {r} 0 0 0 {r} 0 Z"),
            ]
        }
        1 => {
            let inner = 0.25 + 0.25 * chance.share();
            let (r, q) = (n(inner), n(inner + 0.2 + 0.2 * chance.share()));
            vec![
                format!("M0 0 L{r} 0 A{r} {r} 0 0 1 0 {r} Z"),
                format!("M{r} 0 L{q} 0 A{q} {q} 0 0 1 0 {q} L0 {r} A{r} {r} 0 0 0 {r} 0 Z"),
                format!("M{q} 0 L1 0 L1 1 L0 1 L0 {q} A{q} {q} 0 0 0 {q} 0 Z"),
            ]
        }
        2 => fan(chance),
        3 => {
            // Two arcs from corner to corner, each of a radius of one side or more.
            let (r, q) = (n(1.0 + chance.share()), n(1.0 + chance.share()));
            vec![
                format!("M0 1 A{r} {r} 0 0 1 1 0 A{q} {q} 0 0 1 0 1 Z"),
                format!("M0 1 L0 0 L1 0 A{r} {r} 0 0 0 0 1 Z"),
                format!("M1 0 L1 1 L0 1 A{q} {q} 0 0 0 1 0 Z"),
            ]
        }
        _ => {
            let (a, b) = (n(0.3 + 0.4 * chance.share()), n(0.3 + 0.4 * chance.share()));
            let (c, d) = (n(0.2 + 0.6 * chance.share()), n(0.2 + 0.6 * chance.share()));
            vec![
                format!("M0 0 L1 0 L1 {b} C0.65 {d} 0.35 {c} 0 {a} Z"),
                format!("M0 1 L0 {a} C0.35 {c} 0.65 {d} 1 {b} L1 1 Z"),
            ]
        }
    }
}

/// A quarter circle, blades round it, and a ground that draws their outer arcs one after another.
fn fan(chance: &mut Chance) -> Vec<String> {
    let (inner, outer) = (0.25 + 0.15 * chance.share(), 0.7 + 0.2 * chance.share());
    let blades = 2 + chance.below(3);
    let angle = |k: usize, stray: f64| (k as f64 + stray) * std::f64::consts::FRAC_PI_2 / blades as f64;
    let angles: Vec<f64> = (0..=blades)
        .map(|k| {
            let stray = if k == 0 || k == blades {
                0.0
            } else {
                0.4 * (chance.share() - 0.5)
            };
            angle(k, stray)
        })
        .collect();
    let at = |r: f64, a: f64| format!("{:.7} {:.7}", r * libm::cos(a), r * libm::sin(a));
    let (r, q) = (format!("{inner:.7}"), format!("{outer:.7}"));
    // Both sides of an arc are drawn in the same parts.
    let arcs = |radius: f64, written: &str, back: bool| -> String {
        let one = |pair: &[f64]| {
            let (to, sweep) = if back { (pair[0], 0) } else { (pair[1], 1) };
            format!(" A{written} {written} 0 0 {sweep} {}", at(radius, to))
        };
        if back {
            angles.windows(2).rev().map(one).collect()
        } else {
            angles.windows(2).map(one).collect()
        }
    };
    let mut patches = vec![
        format!("M0 0 L{}{} Z", at(inner, 0.0), arcs(inner, &r, false)),
        format!(
            "M{q} 0 L1 0 L1 1 L0 1 L{}{} Z",
            at(outer, angles[blades]),
            arcs(outer, &q, true)
        ),
    ];
    for pair in angles.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        patches.push(format!(
            "M{} L{} A{q} {q} 0 0 1 {} L{} A{r} {r} 0 0 0 {} Z",
            at(inner, from),
            at(outer, from),
            at(outer, to),
            at(inner, to),
            at(inner, from)
        ));
    }
    patches
}
