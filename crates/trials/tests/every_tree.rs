//! Every tree of through seams of small blocks, counted out one by one without keeping anything: none may be better than the
//! planner's. The through seams are found here by geometry alone; the planner gives only what a unit costs that is not
//! divided, which units are alike, what is parallel, and its own plan.

use design::Sheet;
use piecing::door::{Figures, Planning};
use piecing::{Settings, settings_of};
use shape::{Line, Polygon, WELD};
use trials::generate::Wanted;

/// Blocks of up to so many faces are tried.
const MOST: usize = 9;
/// A block that goes together in more ways than this is left out, and counted.
const MOST_TREES: usize = 400_000;

/// How many generated designs are tried; `SCANTLING_TREES` says another number.
fn designs() -> u64 {
    let said = std::env::var("SCANTLING_TREES").ok().and_then(|n| n.parse().ok());
    said.unwrap_or(300)
}

/// Lines whose directions differ by less run side by side and may be sewn as seams of one unit. What counts as one unit is part
/// of the cost, so this is the planner's own definition: of two lines that close by 1/200 in over 6 in, the generated
/// designs have some, neither calls them parallel.
const PARALLEL: f64 = 1.0e-4;

/// A drawing with two places 0.005 in apart, hardly more than is welded: cut from the region by one seam a patch has five
/// corners, by another four, and the fifth counts as handling. The trees are the same; only this figure differs, by one cut.
const CORNER_NEARLY_WELDED: &str = "seed 3112, block 2";

struct Oracle<'a, 's> {
    planning: &'a mut Planning<'s>,
    block: usize,
    faces: Vec<Polygon>,
    /// Ways still to be counted.
    left: usize,
}

impl Oracle<'_, '_> {
    /// All ways to make these faces; `None` when there are too many.
    fn trees(&mut self, faces: &[usize]) -> Option<Vec<Figures>> {
        let class = self.planning.region(self.block, faces).expect("bands are whole");
        // One face is one patch, or a block that stays whole as it is planned.
        let mut found = match faces {
            [_] => vec![self.planning.planned(class)],
            _ => self.planning.whole(class),
        };
        if faces.len() > 1 {
            for group in self.through(faces) {
                // Every choice among seams that run side by side, the faces below each one by one.
                for choice in 1u32..1 << group.len() {
                    let mut bands: Vec<Vec<usize>> = Vec::new();
                    let mut rest = faces.to_vec();
                    for (i, below) in group.iter().enumerate() {
                        if choice & (1 << i) != 0 {
                            bands.push(rest.iter().copied().filter(|f| below.contains(f)).collect());
                            rest.retain(|f| !below.contains(f));
                        }
                    }
                    bands.push(rest);
                    let own = Figures {
                        awkward: (0, 0, 0),
                        handling: Planning::sewing(bands.len()),
                        units: vec![class],
                    };
                    let mut made = vec![own];
                    for band in &bands {
                        let parts = self.trees(band)?;
                        self.left = self.left.checked_sub(made.len() * parts.len())?;
                        made = made
                            .iter()
                            .flat_map(|whole| parts.iter().map(|part| both(whole, part)))
                            .collect();
                    }
                    found.extend(made);
                }
            }
        }
        if found.is_empty() {
            found.push(Figures {
                awkward: (1, 0, 0),
                handling: 0,
                units: vec![class],
            });
        }
        Some(found)
    }

    /// The straight lines that divide these faces and cut through none, by direction: for each line, in order across,
    /// the faces on its left.
    fn through(&self, faces: &[usize]) -> Vec<Vec<Vec<usize>>> {
        let mut lines: Vec<(Line, Vec<usize>)> = Vec::new();
        let sides = |f: usize| (0..self.faces[f].len()).filter_map(move |i| self.faces[f].edge(i));
        for line in faces.iter().flat_map(|&f| sides(f)) {
            // One way round, so that left is the same side for all that run side by side.
            let turned = line.along.x < -1.0e-6 || (line.along.x.abs() <= 1.0e-6 && line.along.y < 0.0);
            let line = if turned {
                Line {
                    along: line.along * -1.0,
                    ..line
                }
            } else {
                line
            };
            let offsets = |f: &usize| -> Vec<f64> {
                let corners = self.faces[*f].corners().iter();
                corners.map(|&c| line.offset_of(c)).collect()
            };
            let left = |f: &&usize| offsets(f).iter().all(|&o| o > -WELD);
            let right = |f: &usize| offsets(f).iter().all(|&o| o < WELD);
            let lefts: Vec<usize> = faces.iter().filter(left).copied().collect();
            let divides = !lefts.is_empty() && lefts.len() < faces.len();
            let clean = faces.iter().all(|f| lefts.contains(f) || right(f));
            if divides && clean && lines.iter().all(|(_, known)| known != &lefts) {
                lines.push((line, lefts));
            }
        }
        let mut groups: Vec<(Line, Vec<Vec<usize>>)> = Vec::new();
        for (line, lefts) in lines {
            match groups
                .iter_mut()
                .find(|(known, _)| known.along.cross(line.along).abs() < PARALLEL)
            {
                Some((_, group)) => group.push(lefts),
                None => groups.push((line, vec![lefts])),
            }
        }
        groups
            .into_iter()
            .map(|(_, mut group)| {
                group.sort_by_key(Vec::len);
                group
            })
            .collect()
    }
}

fn both(a: &Figures, b: &Figures) -> Figures {
    let mut units = a.units.clone();
    units.extend_from_slice(&b.units);
    units.sort_unstable();
    units.dedup();
    let ((t, u, p), (t2, u2, p2)) = (a.awkward, b.awkward);
    Figures {
        awkward: (t + t2, u + u2, p + p2),
        handling: a.handling + b.handling,
        units,
    }
}

type Order = ((usize, usize, usize), usize, u64);

/// In the order in which the planner compares.
fn order(figures: &Figures) -> Order {
    (figures.awkward, figures.units.len(), figures.handling)
}

/// What was found about all blocks tried.
#[derive(Debug, Default)]
struct Said {
    blocks: usize,
    trees: usize,
    most: usize,
    left_out: usize,
    /// Blocks that no through seams make.
    not_through: usize,
    worse: Vec<(String, Order, Order)>,
}

impl Said {
    fn sheet(&mut self, name: &str, sheet: &Sheet, settings: &Settings, exact: usize) {
        let mut planning = Planning::of(sheet, settings, exact);
        for block in 0..planning.blocks() {
            let faces = planning.faces(block);
            if planning.pinned(block) || planning.curved(block) || !(2..=MOST).contains(&faces.len()) {
                continue;
            }
            let all: Vec<usize> = (0..faces.len()).collect();
            let mut oracle = Oracle {
                planning: &mut planning,
                block,
                faces,
                left: MOST_TREES,
            };
            let Some(trees) = oracle.trees(&all) else {
                self.left_out += 1;
                continue;
            };
            self.blocks += 1;
            self.trees += trees.len();
            self.most = self.most.max(trees.len());
            let best = trees.iter().map(order).min().expect("there is one way at least");
            let class = planning.region(block, &all).expect("a block is whole");
            let planned = order(&planning.planned(class));
            if best.0.0 > 0 {
                self.not_through += 1;
                assert_ne!(planned.0, (0, 0, 0), "{name}, block {block}: no through seams make it");
            } else if format!("{name}, block {block}") == CORNER_NEARLY_WELDED {
                assert_eq!((planned.0, planned.1, planned.2 - 2), best);
            } else if planned != best {
                self.worse.push((format!("{name}, block {block}"), planned, best));
            }
        }
    }

    fn text(&mut self, name: &str, text: &str, exact: usize) {
        let Ok(design) = design::read_design(text) else {
            return;
        };
        if let (Ok(sheet), Ok(settings)) = (design.sheet(), settings_of(&design)) {
            self.sheet(name, &sheet, &settings, exact);
        }
    }

    /// Generated and traditional ones.
    fn all(exact: usize) -> [Said; 2] {
        let mut generated = Said::default();
        for seed in 0..designs() {
            generated.text(&format!("seed {seed}"), &Wanted::any(seed).design(), exact);
        }
        let mut traditional = Said::default();
        let folder = format!("{}/../../collection", env!("CARGO_MANIFEST_DIR"));
        let mut files: Vec<_> = std::fs::read_dir(folder)
            .expect("the collection is there")
            .filter_map(|entry| Some(entry.ok()?.path()))
            .filter(|path| path.to_string_lossy().ends_with(".quilt.toml"))
            .collect();
        files.sort();
        for file in files {
            let text = std::fs::read_to_string(&file).expect("the collection can be read");
            traditional.text(&file.to_string_lossy(), &text, exact);
        }
        [generated, traditional]
    }

    fn tell(&self, what: &str) {
        println!(
            "{what}: {} blocks, {} trees, at most {}; {} left out, {} not by through seams; {} worse",
            self.blocks,
            self.trees,
            self.most,
            self.left_out,
            self.not_through,
            self.worse.len()
        );
        for (name, planned, best) in &self.worse {
            println!("  {name}: planned {planned:?}, best {best:?}");
        }
    }
}

#[test]
fn no_tree_is_better_than_the_planned_one() {
    for said in Said::all(piecing::EXACT) {
        said.tell("all directions");
        assert!(said.blocks > 15 && said.trees > said.blocks, "{said:?}");
        assert!(
            said.worse.is_empty(),
            "{} blocks: {:?}",
            said.worse.len(),
            said.worse[0]
        );
    }
}

#[test]
fn the_gap_of_one_direction_alone() {
    for said in Said::all(3) {
        said.tell("one direction above three faces");
        // One direction alone may be no better than the best.
        assert!(said.worse.iter().all(|(_, planned, best)| planned > best), "{said:?}");
    }
}
