//! The films of all examples hold together: what moves begins where it lay, and each side of the cloth shows when it should.

#![allow(clippy::unwrap_used)]

use super::{Film, film, makings, strip, told};
use book::{Edition, Source};
use recipe::{Make, Step};
use shape::{Point, Polygon};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// Two places are one, inches: what the table itself counts as one place.
const NEAR: f64 = 1.0 / 64.0;

fn examples() -> Vec<(String, Source)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut files: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    let sources = files
        .iter()
        .filter(|file| file.to_string_lossy().ends_with(".quilt.toml"))
        .map(|file| {
            let design = design::read_design(&fs::read_to_string(file).unwrap()).unwrap();
            let name = file.file_name().unwrap().to_string_lossy().to_string();
            (name, crate::living::source_of(&design).unwrap().0)
        });
    sources.collect()
}

fn films(source: &Source) -> Vec<(&Make, Film)> {
    let makes = source.pattern.recipe.makes.iter();
    makes
        .filter_map(|make| Some((make, film(make, source.scenes_of(&make.unit)?)?)))
        .collect()
}

fn bounds(outline: &Polygon) -> (Point, Point) {
    outline.bounds()
}

#[test]
fn what_moves_begins_where_it_lay() {
    let (mut moves, mut whole) = (0, 0);
    for (name, source) in examples() {
        for (make, film) in films(&source) {
            let mut lying: BTreeMap<u32, Polygon> = BTreeMap::new();
            for shot in &film.shots {
                for moved in &shot.moved {
                    for number in &moved.pieces {
                        let after = shot.set.iter().find(|cloth| cloth.number == *number).unwrap();
                        // A piece that a cut made is new; its cloth came from one of another number.
                        let Some(before) = lying.get(number) else { continue };
                        let back = moved.from[0].polygon(&after.outline);
                        moves += 1;
                        if (before.signed_area() - back.signed_area()).abs() < 1.0e-6 {
                            whole += 1;
                            let off = before.difference(&back);
                            assert!(off < NEAR, "{name} {} {:?}: {off}", make.unit, shot.step);
                        } else {
                            // A seam or a trim took some of it: the rest lay within what was there.
                            let (low, high) = bounds(before);
                            let (l, h) = bounds(&back);
                            let within =
                                l.x > low.x - NEAR && l.y > low.y - NEAR && h.x < high.x + NEAR && h.y < high.y + NEAR;
                            assert!(within, "{name} {} {:?}", make.unit, shot.step);
                        }
                    }
                }
                for number in &shot.gone {
                    lying.remove(number);
                }
                for cloth in &shot.set {
                    lying.insert(cloth.number, cloth.outline.clone());
                }
            }
        }
    }
    assert!(
        moves > 1000 && whole > 300,
        "{moves} moves, {whole} of pieces that keep their outline"
    );
}

#[test]
fn cloth_is_turned_over_when_it_is_laid_and_when_it_is_opened() {
    let (mut laid, mut opened) = (0, 0);
    for (name, source) in examples() {
        for (make, film) in films(&source) {
            for shot in &film.shots {
                let Some(step) = shot.step.and_then(|step| make.steps.get(step)) else {
                    continue;
                };
                let here = format!("{name} {} {:?}", make.unit, shot.step);
                match step {
                    Step::Lay { .. } => {
                        // Right sides together: the upper cloth comes beside the lower right side up, then turns over.
                        for moved in shot.moved.iter().filter(|moved| moved.from[0].turns_over()) {
                            laid += 1;
                            assert_eq!(moved.from.len(), 2, "{here}");
                            assert!(moved.from[1].turns_over(), "{here}");
                            let upper = |n: &u32| shot.set.iter().any(|c| c.number == *n && c.wrong && c.above);
                            assert!(moved.pieces.iter().all(upper), "{here}");
                        }
                    }
                    Step::Open { .. } => {
                        for moved in &shot.moved {
                            opened += 1;
                            assert!(moved.from[0].turns_over(), "{here}");
                            let flat = |n: &u32| shot.set.iter().any(|c| c.number == *n && !c.wrong && !c.above);
                            assert!(moved.pieces.iter().all(flat), "{here}");
                        }
                    }
                    _ => {}
                }
            }
        }
    }
    assert!(laid > 100 && opened > 100, "{laid} laid, {opened} opened");
}

#[test]
fn the_parts_lie_apart_at_first() {
    for (name, source) in examples() {
        for (make, film) in films(&source) {
            // Pieces of one part lie side by side; those of different parts have room between them.
            let scenes = source.scenes_of(&make.unit).unwrap();
            let sizes: Vec<usize> = (scenes.parts.iter())
                .map(|part| part.layers.iter().map(|layer| layer.pieces.len()).sum())
                .collect();
            let mut outlines = film.shots[0].set.iter().map(|cloth| cloth.outline.clone());
            let boxes: Vec<(Point, Point)> = (sizes.iter().filter(|size| **size > 0))
                .map(|size| {
                    let mut all = outlines.by_ref().take(*size).map(|outline| bounds(&outline));
                    let first = all.next().unwrap();
                    all.fold(first, |(l, h), (a, b)| {
                        (
                            Point::new(l.x.min(a.x), l.y.min(a.y)),
                            Point::new(h.x.max(b.x), h.y.max(b.y)),
                        )
                    })
                })
                .collect();
            for (i, (al, ah)) in boxes.iter().enumerate() {
                for (bl, bh) in &boxes[i + 1..] {
                    let apart = ah.x < bl.x || bh.x < al.x || ah.y < bl.y || bh.y < al.y;
                    assert!(apart, "{name} {}: parts lie on one another", make.unit);
                }
            }
        }
    }
}

#[test]
fn every_seam_is_seen_being_sewn() {
    for (name, source) in examples() {
        for (make, film) in films(&source) {
            for shot in &film.shots {
                if let Some(Step::Sew { .. }) = shot.step.and_then(|step| make.steps.get(step)) {
                    assert!(!shot.sewn.is_empty(), "{name} {} {:?}", make.unit, shot.step);
                }
            }
        }
    }
}

#[test]
fn each_making_is_told_and_has_a_strip() {
    for (name, source) in examples() {
        let book = book::compose_living(&source, &Edition::default());
        for making in makings(&source) {
            let told = told(&source, making.number).unwrap();
            let make = &source.pattern.recipe.makes[making.number];
            assert_eq!(
                told["shots"].as_array().unwrap().len(),
                make.steps.len() + 1,
                "{name} {}",
                making.title
            );
            let strip = strip(&source, &book, making.number).unwrap();
            let words: usize = strip.panels.iter().map(|panel| panel.words.len()).sum();
            assert_eq!(words + strip.alike, make.steps.len() + 1, "{name} {}", making.title);
            // Colours are the cloths' own, never the grey of what is unknown.
            assert!(
                strip.panels.iter().all(|panel| !panel.picture.0.contains("#BBBBBB")),
                "{name} {}",
                making.title
            );
        }
    }
}
