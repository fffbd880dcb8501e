//! Times each room once for each large design: `time [NAME]`.

use std::time::Instant;
use trials::large::{log_cabin, parallel_strips, repeated, uneven_grid};
use trials::{generate::free_form, whole::Whole};

const NAMES: [&str; 8] = [
    "beacon",
    "four-vanes",
    "tides",
    "four-knots",
    "jetty",
    "compass",
    "buoys-and-nets",
    "porthole",
];

fn main() {
    let path = format!(
        "{}/../../examples/lantern-harbour.quilt.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let sampler = std::fs::read_to_string(path).unwrap_or_default();
    let mut designs: Vec<(&str, Box<dyn Fn() -> String>)> = vec![];
    let s = sampler.clone();
    designs.push(("sampler", Box::new(move || s.clone())));
    for (name, r, c) in [
        ("repeated-1000", 6, 7),
        ("repeated-5000", 15, 14),
        ("repeated-10000", 20, 21),
        ("repeated-20000", 28, 30),
    ] {
        let s = sampler.clone();
        designs.push((name, Box::new(move || repeated(&s, &NAMES, r, c))));
    }
    for (name, n) in [
        ("free-1000", 1000),
        ("free-2000", 2000),
        ("free-5000", 5000),
        ("free-10000", 10000),
    ] {
        designs.push((name, Box::new(move || free_form(n))));
    }
    designs.push(("uneven-20", Box::new(|| uneven_grid(20))));
    designs.push(("uneven-40", Box::new(|| uneven_grid(40))));
    designs.push(("strips-2000", Box::new(|| parallel_strips(2000))));
    designs.push(("cabin-100", Box::new(|| log_cabin(100))));
    designs.push(("cabin-400", Box::new(|| log_cabin(400))));
    let wanted: Vec<String> = std::env::args().skip(1).collect();
    for (name, text) in designs {
        if !wanted.is_empty() && !wanted.iter().any(|w| w == name) {
            continue;
        }
        let text = text();
        let t = Instant::now();
        let design = match design::read_design(&text) {
            Ok(d) => d,
            Err(e) => {
                println!("{name}: unreadable {:?}", e.first());
                continue;
            }
        };
        let read = t.elapsed();
        let t = Instant::now();
        let stop = design.findings().into_iter().find(|f| f.is_stop());
        let check = t.elapsed();
        if let Some(f) = stop {
            println!("{name}: {f}");
            continue;
        }
        println!("{name}: {} faces", design.top_picture().faces.len());
        let t = Instant::now();
        let planned = match piecing::plan(&design) {
            Ok(p) => p,
            Err(f) => {
                println!("{name}: {} after {:?}", f[0], t.elapsed());
                continue;
            }
        };
        let plan = t.elapsed();
        let t = Instant::now();
        let whole = Whole::of_design(&design);
        let all = t.elapsed();
        let picture = design.top_picture();
        let whole = match whole {
            Ok(w) => w,
            Err(f) => {
                println!(
                    "{name}: read {read:?} findings {check:?} plan {plan:?} whole {all:?}: {}",
                    f.iter().find(|f| f.is_stop()).unwrap()
                );
                continue;
            }
        };
        let t = Instant::now();
        let proof = whole.rehearse();
        let rehearse = t.elapsed();
        println!(
            "{name}: {} faces, {} makes, {} kinds; read {read:.1?} findings {check:.1?} plan {plan:.1?} whole {all:.1?} rehearse {rehearse:.1?} {}",
            picture.faces.len(),
            planned.recipe.makes.len(),
            planned.recipe.pieces.len(),
            match proof {
                Ok(p) => format!("proved {:.6}", p.largest_difference),
                Err(f) => f[0].to_string(),
            }
        );
    }
}
