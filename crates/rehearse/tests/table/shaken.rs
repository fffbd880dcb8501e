//! Any number of a recipe may be anything: the table refuses or proves, and never falls over. And large tops are quick.

use crate::angled::two_to_one;
use crate::builder::*;
use crate::flips::{goose, half_square};
use crate::patchwork::four_patch;
use recipe::{EdgeRun, Part, Pattern, PrintNote, Step};
use serde_json::Value;
use std::time::Instant;

/// All numbers of a JSON tree, in order.
fn numbers<'v>(value: &'v mut Value, found: &mut Vec<&'v mut Value>) {
    match value {
        Value::Number(_) => found.push(value),
        Value::Array(items) => items.iter_mut().for_each(|i| numbers(i, found)),
        Value::Object(fields) => fields.values_mut().for_each(|i| numbers(i, found)),
        _ => {}
    }
}

fn try_it(value: Value, bench: &Bench) {
    let Ok(pattern) = serde_json::from_value::<Pattern>(value) else {
        return;
    };
    let _ = rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &bench.picture);
    let _ = rehearse::scenes(&pattern.recipe, &pattern.cutting);
}

#[test]
fn no_number_makes_the_table_fall() {
    for bench in [
        four_patch(s8(28)),
        half_square(s8(31), Some(near(0.0214))),
        goose(),
        two_to_one(s8(2), s8(0)),
    ] {
        let mut whole = serde_json::to_value(&bench.pattern).unwrap();
        let mut places = Vec::new();
        numbers(&mut whole, &mut places);
        let count = places.len();
        let mut seed = 1_u64;
        let mut next = move || {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 20) as i64
        };
        for place in 0..count {
            for change in 0..10 {
                let mut value = serde_json::to_value(&bench.pattern).unwrap();
                let mut places = Vec::new();
                numbers(&mut value, &mut places);
                let old = places[place].as_i64().unwrap_or(0);
                *places[place] = Value::from(match change {
                    0 => 0,
                    1 => old + 1,
                    2 => old - 1,
                    3 => -old,
                    4 => i64::MAX,
                    5 => i64::MIN,
                    6 => i64::from(u32::MAX),
                    7 => old.saturating_mul(1000),
                    8 => old + next() % 2000 - 1000,
                    _ => next() % 100_000,
                });
                if change > 7 {
                    // and another one with it
                    let other = (next().unsigned_abs() as usize) % count;
                    *places[other] = Value::from(next() % 20_000 - 1000);
                }
                try_it(value, &bench);
            }
        }
    }
}

/// Runs of small cuts as long as the numbers allow are given up, not followed.
#[test]
fn endless_recipes_are_given_up() {
    let mut b = four_patch(s8(28));
    let one_unit = recipe::Size::bare(measure::Length::from_units(1));
    let none = s8(0);
    b.pattern.cutting.cloths[0].strips[0].runs[0].times = u32::MAX;
    b.pattern.cutting.cloths[0].strips[0].runs[0].cuts = vec![
        recipe::Cut {
            lower: one_unit,
            upper: none,
            ruler: None,
            gives: recipe::Gives::Waste
        };
        20
    ];
    assert!(b.rehearse().is_err());
    // a unit of two of the one before, forty times over
    let mut b = four_patch(s8(28));
    let pair = b.pattern.recipe.makes[0].clone();
    b.pattern.recipe.makes.truncate(1);
    for i in 0..40 {
        let mut make = pair.clone();
        let before = if i == 0 {
            "pair".to_string()
        } else {
            format!("u{}", i - 1)
        };
        make.unit = terms::UnitId::new(format!("u{i}"));
        make.parts = vec![unit(0, &before), unit(1, &before)];
        b.pattern.recipe.makes.push(make);
    }
    b.refused("too-long");
}

/// A top of `across` by `across` squares of finished 1 in of one cloth.
fn checks(across: u32) -> Bench {
    let mut b = Bench::new();
    b.cloth("dark", PrintNote::None).kind("D");
    let count = across * across;
    for _ in 0..count.div_ceil(26) {
        b.strip(s8(12), &[(26, &[(s8(12), s8(12), one("D"))])]);
    }
    b.pattern.recipe.pieces[0].spare = count.div_ceil(26) * 26 - count;
    b.outer(f64::from(across), f64::from(across));
    for r in 0..across {
        for c in 0..across {
            b.rect("dark", f64::from(c), f64::from(r), 1.0, 1.0);
        }
    }
    b
}

/// A making of `n` by `n` alike parts, rows first, then the rows together; each part's sides are lower, right, upper,
/// left, with `joints` patches along each. The result's four sides come with it.
fn together(n: u32, take: &dyn Fn(u32) -> Part, joints: u32) -> (Vec<Part>, Vec<Step>, u32, [EdgeRun; 4]) {
    let mut parts = Vec::new();
    let mut steps: Vec<Step> = Vec::new();
    let mut slot = n * n;
    let mut rows = Vec::new();
    for r in 0..n {
        let at = |c: u32| r * n + c;
        let mut row = at(0);
        for c in 0..n {
            parts.push(take(at(c)));
            if c > 0 {
                let (l, m) = (at(c - 1), at(c));
                steps.push(lay(
                    row,
                    m,
                    slot,
                    run(&[(l, 1)]),
                    run(&[(m, 3)]),
                    even(e(l, 0), e(m, 0)),
                    even(e(l, 2), e(m, 2)),
                    &[],
                ));
                steps.push(sew(slot));
                steps.push(open(slot, slot + 1));
                row = slot + 1;
                slot += 2;
            }
        }
        rows.push(row);
    }
    let mut top = rows[0];
    for r in 1..n {
        let (lower, upper) = ((r - 1) * n, r * n);
        let a: Vec<(u32, u32)> = (0..n).rev().map(|c| (lower + c, 2)).collect();
        let c: Vec<(u32, u32)> = (0..n).map(|c| (upper + c, 0)).collect();
        let meets: Vec<(u32, u32)> = (0..n * joints - 1).map(|i| (i, n * joints - 2 - i)).collect();
        steps.push(lay(
            top,
            rows[r as usize],
            slot,
            run(&a),
            run(&c),
            even(e(lower + n - 1, 1), e(upper + n - 1, 1)),
            even(e(lower, 3), e(upper, 3)),
            &meets,
        ));
        steps.push(sew(slot));
        steps.push(open(slot, slot + 1));
        top = slot + 1;
        slot += 2;
    }
    let lower: Vec<(u32, u32)> = (0..n).map(|c| (c, 0)).collect();
    let upper: Vec<(u32, u32)> = (0..n).rev().map(|c| ((n - 1) * n + c, 2)).collect();
    let right: Vec<(u32, u32)> = (0..n).map(|r| (r * n + n - 1, 1)).collect();
    let left: Vec<(u32, u32)> = (0..n).rev().map(|r| (r * n, 3)).collect();
    (parts, steps, top, [run(&lower), run(&right), run(&upper), run(&left)])
}

#[track_caller]
fn timed(bench: &Bench, what: &str) -> rehearse::Proof {
    let start = Instant::now();
    let proof = bench.proved();
    let took = start.elapsed();
    println!("{what}: {took:?}");
    // The bound is far above what is measured, and far below what anything quadratic would take.
    assert!(took.as_secs_f64() < 3.0, "{took:?}");
    proof
}

#[test]
fn ten_thousand_patches_in_one_making_are_not_slow() {
    let mut bench = checks(100);
    let (parts, mut steps, top, sides) = together(100, &|slot| piece(slot, "D"), 1);
    steps.push(finish(top, &sides, 2));
    bench.make("top", 1, &parts, &steps, &[]);
    let proof = timed(&bench, "ten thousand patches in one making");
    assert_eq!(proof.seams, 100 * 99 + 99);
    assert!(proof.largest_difference < 1e-6);
}

#[test]
fn ten_thousand_patches_of_repeated_blocks_are_quick() {
    let mut bench = checks(100);
    let (parts, steps, block, sides) = together(5, &|slot| piece(slot, "D"), 1);
    bench.make("block", 400, &parts, &steps, &[give(block, &sides)]);
    let (parts, mut steps, top, sides) = together(20, &|slot| unit(slot, "block"), 5);
    steps.push(finish(top, &sides, 2));
    bench.make("top", 1, &parts, &steps, &[]);
    let proof = timed(&bench, "ten thousand patches of repeated blocks");
    // derived: 24 seams in each of 400 blocks, 399 between them
    assert_eq!(proof.seams, 400 * 24 + 399);
    assert_eq!(proof.units, 400);
}
