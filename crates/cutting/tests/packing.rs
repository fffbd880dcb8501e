//! Outside instances: guillotine cutting problems (Algorithms for unconstrained two-dimensional guillotine
//! cutting, Journal of the Operational Research Society 36, 1985, 297-306). They are not part of this project; the
//! test runs where SCANTLING_PACKING names a folder that holds `guillotine_gcut/gcut1.txt` and so on.
#![allow(clippy::unwrap_used)] // A test may stop.

mod recount;

use cutting::plan_cutting;
use measure::{Length, Measure};
use recipe::{Gives, Strip, Turn};
use recount::{ALL_TURNS, cloth, demand, recount, rectangle, used};
use std::path::PathBuf;

/// The optimum of an instance with fixed sides, values being areas, from the table in the folder.
fn optimum(folder: &std::path::Path, name: &str) -> Option<i64> {
    let table = std::fs::read_to_string(folder.join("guillotine_gcut/literature_optima_unconstrained.csv")).ok()?;
    let row = table.lines().find(|line| line.starts_with(&format!("{name},")))?;
    row.split(',').nth(1)?.parse().ok()
}

/// The cloth in the pieces of a strip, rests included, in square eighths.
fn cloth_in(strip: &Strip) -> i64 {
    let eighths = |length: Length| length.units() / 1016;
    let mut area = 0;
    for run in &strip.runs {
        for cut in run.cuts.iter().filter(|cut| matches!(cut.gives, Gives::Piece(_))) {
            area += i64::from(run.times) * eighths(cut.lower.len) * eighths(strip.height.len);
        }
    }
    area + strip
        .rest
        .iter()
        .map(|rest| i64::from(rest.times) * cloth_in(rest))
        .sum::<i64>()
}

#[test]
fn guillotine_instances() {
    let Some(folder) = std::env::var_os("SCANTLING_PACKING").map(PathBuf::from) else {
        println!("skipped: SCANTLING_PACKING does not name a folder with cutting instances");
        return;
    };
    for number in 1..=12 {
        let name = format!("gcut{number}");
        let text = std::fs::read_to_string(folder.join(format!("guillotine_gcut/{name}.txt"))).unwrap();
        let mut numbers = text.split_whitespace().map(|word| word.parse::<i64>().unwrap());
        let mut next = || numbers.next().unwrap();
        let count = next();
        let (length, width) = (next(), next());
        let pieces: Vec<(i64, i64, i64)> = (0..count).map(|_| (next(), next(), next())).collect();
        for (turns, many) in [
            (&ALL_TURNS[..1], 1),
            (&ALL_TURNS[..1], 20),
            (&ALL_TURNS[..], 1),
            (&ALL_TURNS[..], 20),
        ] {
            let mut whys = Vec::new();
            let cloths = [cloth("ground", width as f64 / 8.0, 0.0)];
            let of = |(index, piece): (usize, &(i64, i64, i64))| {
                let shape = rectangle(piece.1 as f64 / 8.0, piece.0 as f64 / 8.0, &mut whys);
                demand(&format!("A{index}"), "ground", many, shape, turns)
            };
            let demands: Vec<_> = pieces.iter().enumerate().map(of).collect();
            let cutting = plan_cutting(&demands, &[], &cloths, Length::fraction(1, 8), Measure::Inch, &mut whys);
            recount(&demands, &cloths, &cutting, &whys).unwrap();
            let used = used(&cutting, &cloths[0].fabric).units() / 1016;
            let bound = (cutting.bought.cloths[0].bound.inches() * 8.0).ceil();
            println!("{name}, {many} each, {} ways: {used}, bound {bound}", turns.len());
            // One strip over and over is a guillotine cutting of one sheet: it cannot hold more than the optimum.
            if !turns.contains(&Turn::Quarter)
                && let Some(most) = optimum(&folder, &name)
            {
                for strip in &cutting.plan.cloths[0].strips {
                    let height = strip.height.len.units() / 1016;
                    assert!(length / height * cloth_in(strip) <= most);
                }
            }
        }
    }
}
