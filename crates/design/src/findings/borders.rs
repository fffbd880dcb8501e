//! Pieced borders whose units do not fill their sides: `border-uneven`; or that are mitred: `border-mitred`.

use super::off_marks::print;
use crate::layout::inner_size;
use crate::layout::rounds::{Repeat, Round, Run, even_spacer, rounds};
use crate::{Corners, Design};
use terms::{Finding, Place};

/// A stop for each.
pub(crate) fn find(design: &Design) -> Vec<Finding> {
    let mut findings = Vec::new();
    let (rounds, _) = rounds(design, inner_size(design));
    for (i, round) in rounds.iter().enumerate() {
        if !round.border.units.is_empty() && round.border.corners == Corners::Mitred {
            findings.push(Finding::stop(
                "border-mitred",
                Place::Quilt,
                format!(
                    "Border {} is pieced of {}, and pieced borders cannot be mitred.",
                    i + 1,
                    named(round)
                ),
                "Give it corners of a block, cornerstones of a fabric, or leave it butted.",
            ));
            continue;
        }
        let Some(runs) = round.runs else { continue };
        let uneven: Vec<(&str, Run)> = [("top and bottom", runs[0]), ("sides", runs[1])]
            .into_iter()
            .filter(|(_, run)| !run.is_even())
            .collect();
        if uneven.is_empty() {
            continue;
        }
        let Some(repeat) = Repeat::of(design, round.border) else {
            continue;
        };
        let told: Vec<String> = uneven
            .iter()
            .map(|(which, run)| {
                let below = repeat.most_within(run.length);
                let long = |count: usize| print(design, repeat.reach(count));
                format!(
                    "its {which} are {} long, and {} come to {}, {} to {}",
                    print(design, run.length),
                    units(below),
                    long(below),
                    below + 1,
                    long(below + 1)
                )
            })
            .collect();
        findings.push(Finding::stop(
            "border-uneven",
            Place::Quilt,
            format!(
                "Border {}, pieced of {}, does not come out even: {}.",
                i + 1,
                named(round),
                told.join("; ")
            ),
            mend(design, round, &repeat, runs),
        ));
    }
    findings
}

fn named(round: &Round) -> String {
    let names: Vec<&str> = round.border.units.iter().map(|unit| unit.block.as_str()).collect();
    names.join(", ")
}

fn units(count: usize) -> String {
    if count == 1 {
        "1 unit".to_string()
    } else {
        format!("{count} units")
    }
}

/// Which spacer, or which length of the units, would make it come out even.
fn mend(design: &Design, round: &Round, repeat: &Repeat, runs: [Run; 4]) -> String {
    let strips = even_spacer(design, round.border, (round.within.width(), round.within.height()));
    let pair = |a: f64, b: f64| {
        if (a - b).abs() < 1.0e-6 {
            print(design, a)
        } else {
            format!("{} and {}", print(design, a), print(design, b))
        }
    };
    let mut text = format!(
        "spacer = \"auto\" sews plain strips inside it that finish {} wide at the sides and {} at top and bottom",
        pair(strips.left, strips.right),
        pair(strips.top, strips.bottom)
    );
    if let Some(length) = repeat.one_length().and_then(|one| other_length(one, runs)) {
        text += &format!("; or units {} long come out even", print(design, length));
    }
    text + "."
}

/// The length nearest to that of the units, no more than half as much again or less, that goes into both sides whole.
fn other_length(one: f64, runs: [Run; 4]) -> Option<f64> {
    let (across, up) = (runs[0].length, runs[1].length);
    let most = (2.0 * across / one).ceil().min(10_000.0) as usize;
    (1..=most)
        .map(|count| across / count as f64)
        .filter(|&length| (length - one).abs() <= one / 2.0)
        .filter(|&length| {
            let other = up / length;
            (other - other.round()).abs() * length < 1.0e-6
        })
        .min_by(|a, b| (a - one).abs().total_cmp(&(b - one).abs()))
}
