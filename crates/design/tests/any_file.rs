//! Properties over many files: any bytes give an error or a design; what is generated rightly reads and fills its top.

use design::{Design, read_design, read_design_bytes};
use proptest::prelude::*;

const SEED: &str = include_str!("../../../examples/harbour-windows.quilt.toml");

/// Everything a design is asked for; none of it may panic.
fn ask(design: &Design) {
    let _ = design.findings();
    let _ = design.sheet();
    let _ = design.top_picture();
}

/// A rectangle cut again and again, as path data in sixteenths of its sides.
fn cut_up(area: (u32, u32, u32, u32), cuts: &[(bool, u32)], out: &mut Vec<(u32, u32, u32, u32)>) {
    let (x0, y0, x1, y1) = area;
    match cuts.split_first() {
        Some((&(upright, share), rest)) => {
            let (low, high) = if upright { (x0, x1) } else { (y0, y1) };
            if high - low < 2 {
                return out.push(area);
            }
            let at = low + 1 + share % (high - low - 1);
            let (first, second) = rest.split_at(rest.len() / 2);
            if upright {
                cut_up((x0, y0, at, y1), first, out);
                cut_up((at, y0, x1, y1), second, out);
            } else {
                cut_up((x0, y0, x1, at), first, out);
                cut_up((x0, at, x1, y1), second, out);
            }
        }
        None => out.push(area),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        if let Ok(design) = read_design_bytes(&bytes) {
            ask(&design);
        }
    }

    #[test]
    fn an_example_with_bytes_changed(changes in proptest::collection::vec((0..SEED.len(), any::<u8>()), 1..6)) {
        let mut bytes = SEED.as_bytes().to_vec();
        for (at, byte) in changes {
            bytes[at] = byte;
        }
        if let Ok(design) = read_design_bytes(&bytes) {
            ask(&design);
        }
    }

    #[test]
    fn an_example_with_its_numbers_changed(
        changes in proptest::collection::vec((any::<proptest::sample::Index>(), "-?[0-9]{1,4}(\\.[0-9]{1,3})?"), 1..5),
    ) {
        let mut text = SEED.to_string();
        for (which, number) in changes {
            let digits: Vec<usize> =
                text.char_indices().filter(|(_, c)| c.is_ascii_digit()).map(|(i, _)| i).collect();
            let at = digits[which.index(digits.len())];
            text.replace_range(at..=at, &number);
        }
        if let Ok(design) = read_design(&text) {
            ask(&design);
        }
    }

    #[test]
    fn an_example_with_lines_dropped_or_doubled(
        lines in proptest::collection::vec((any::<proptest::sample::Index>(), any::<bool>()), 1..5),
    ) {
        let mut all: Vec<&str> = SEED.lines().collect();
        for (which, double) in lines {
            let at = which.index(all.len());
            if double { all.insert(at, all[at]); } else { all.remove(at); }
        }
        if let Ok(design) = read_design(&all.join("\n")) {
            ask(&design);
        }
    }

    #[test]
    fn a_path_of_anything(path in "[MLHVZCQAmlhvzcqast0-9 .,-]{0,40}") {
        let text = format!(
            "format = 1\n[quilt]\ntitle = \"t\"\n[[fabric]]\nname = \"a\"\ncolor = \"#123456\"\n[[block]]\nname = \"b\"\n\
             size = 6\ngrid = [6, 6]\npatches = [{{ fabric = \"a\", path = \"M{path} Z\" }}]\n[layout]\nrows = [[\"b\"]]\n"
        );
        if let Ok(design) = read_design(&text) {
            ask(&design);
        }
    }

    #[test]
    fn a_rectangle_cut_up_fills_its_block(
        cuts in proptest::collection::vec((any::<bool>(), 0u32..64), 0..40),
        turns in proptest::collection::vec((0u8..4, any::<bool>()), 4),
        nudge in -0.0001f64..0.0001,
    ) {
        let mut areas = Vec::new();
        cut_up((0, 0, 32, 32), &cuts, &mut areas);
        let patches: String = areas
            .iter()
            .enumerate()
            .map(|(i, (x0, y0, x1, y1))| {
                // Every third drawing is a hair off, as from another program.
                let n = if i % 3 == 0 { nudge } else { 0.0 };
                format!("{{ fabric = \"a\", path = \"M{x0} {} H{x1} V{y1} H{x0} Z\" }},\n", f64::from(*y0) + n)
            })
            .collect();
        let cell = |k: usize| {
            let (quarters, flip) = turns[k];
            format!("\"b{}@{}\"", if flip { "~" } else { "" }, u32::from(quarters) * 90)
        };
        let text = format!(
            "format = 1\n[quilt]\ntitle = \"t\"\n[[fabric]]\nname = \"a\"\ncolor = \"#123456\"\nprint = \"one-way\"\n[[block]]\n\
             name = \"b\"\nsize = 16\ngrid = 32\npatches = [\n{patches}]\n[layout]\nrows = [[{}, {}], [{}, {}]]\n",
            cell(0), cell(1), cell(2), cell(3)
        );
        let design = read_design(&text).map_err(|e| TestCaseError::fail(e[0].to_string()))?;
        let sheet = design.sheet().map_err(|f| TestCaseError::fail(f[0].to_string()))?;
        for map in &sheet.blocks {
            // Every face's area, from its vertices: together the outline's (derived).
            let area: f64 = map
                .faces
                .iter()
                .map(|f| shape::Polygon::new(f.outline.iter().map(|v| map.vertices[v.0]).collect()).signed_area())
                .sum();
            prop_assert!((area - map.outline.signed_area()).abs() < 1e-9 * map.outline.signed_area());
            // V - E + F = 1 for a map of faces without the outside (Euler).
            let ends: usize = map.faces.iter().map(|f| f.outline.len()).sum();
            let mut half = std::collections::BTreeSet::new();
            for f in &map.faces {
                for i in 0..f.outline.len() {
                    prop_assert!(half.insert((f.outline[i], f.outline[(i + 1) % f.outline.len()])));
                }
            }
            let outer = half.iter().filter(|(u, v)| !half.contains(&(*v, *u))).count();
            let edges = (ends + outer) / 2;
            prop_assert_eq!(map.vertices.len() + map.faces.len(), edges + 1);
        }
        ask(&design);
    }
}
