//! Steps that belong to one handful of work: laid, sewn, perhaps cut apart, opened.

use recipe::{Lay, Make, Path, Slot, Step, Stop};
use std::collections::{BTreeMap, BTreeSet};

/// What a group is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// From laying to pressing.
    Seam,
    /// A trim.
    Trim,
    /// Measures to take.
    Check,
    /// The end of the top.
    Finish,
}

/// Steps by their index in the making.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Group {
    pub kind: Kind,
    pub steps: Vec<usize>,
}

/// The steps in groups, in order.
pub(super) fn groups(make: &Make) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    let mut opened = false;
    let again = told_again(make);
    for (i, step) in make.steps.iter().enumerate() {
        if again.contains(&i) {
            continue;
        }
        let kind = match step {
            Step::Trim { .. } | Step::SubCut { .. } => Kind::Trim,
            Step::Check { .. } => Kind::Check,
            Step::Finish { .. } => Kind::Finish,
            _ => Kind::Seam,
        };
        let goes_on = match (groups.last(), kind) {
            (Some(last), Kind::Seam) if last.kind == Kind::Seam => {
                !opened || matches!(step, Step::Open { .. } | Step::Snip { .. } | Step::SetAside { .. })
            }
            (Some(last), Kind::Check) => last.kind == Kind::Check,
            _ => false,
        };
        if goes_on {
            if let Some(last) = groups.last_mut() {
                last.steps.push(i);
            }
        } else {
            groups.push(Group { kind, steps: vec![i] });
            opened = false;
        }
        opened |= matches!(step, Step::Open { .. } | Step::Close { .. });
    }
    // A line drawn for a trim belongs to the trim.
    let mut i = 0;
    while i + 1 < groups.len() {
        let drawn = groups[i].kind == Kind::Seam
            && groups[i]
                .steps
                .iter()
                .all(|&s| matches!(make.steps.get(s), Some(Step::Mark { .. } | Step::Dot { .. })));
        if drawn && groups[i + 1].kind == Kind::Trim {
            let mut lines = groups.remove(i).steps;
            lines.append(&mut groups[i].steps);
            groups[i].steps = lines;
        }
        i += 1;
    }
    groups
}

/// Steps that only repeat, for the other halves of a stack cut apart, what the first half's steps say.
pub fn told_again(make: &Make) -> BTreeSet<usize> {
    let alike = alike(make);
    (0..alike.len()).filter(|&i| alike[i] != i).collect()
}

/// For each step the one that tells what it does: itself, or the like step done with the first half of what was cut apart.
pub(super) fn alike(make: &Make) -> Vec<usize> {
    let mut told: Vec<usize> = (0..make.steps.len()).collect();
    if make.gives.len() < 2 {
        return told;
    }
    // For each slot that is like one met before, that one; and the steps that took each slot in hand.
    let mut like: BTreeMap<Slot, Slot> = BTreeMap::new();
    let mut taken: BTreeMap<Slot, Vec<usize>> = BTreeMap::new();
    for (i, step) in make.steps.iter().enumerate() {
        let Some((from, into)) = hands_on(step) else { continue };
        let Some(&first) = like.get(&from) else {
            taken.entry(from).or_default().push(i);
            if let Step::CutApart { .. } = step {
                like.extend(into.iter().skip(1).map(|&k| (k, into[0])));
            }
            continue;
        };
        let same = |k: &&usize| std::mem::discriminant(&make.steps[**k]) == std::mem::discriminant(step);
        // The like steps with the first one come in the same order.
        let before = make.steps[..i].iter().filter(|s| {
            std::mem::discriminant(*s) == std::mem::discriminant(step) && hands_on(s).is_some_and(|(f, _)| f == from)
        });
        let nth = before.count();
        let Some(&k) = taken.get(&first).and_then(|steps| steps.iter().filter(same).nth(nth)) else {
            continue;
        };
        told[i] = k;
        let there = hands_on(&make.steps[k]).map(|(_, into)| into).unwrap_or_default();
        like.extend(into.iter().filter_map(|&slot| Some((slot, *there.first()?))));
        // What was drawn on the part laid on it is drawn alike as well.
        if let (Step::Lay { b, .. }, Step::Lay { b: first, .. }) = (step, &make.steps[k]) {
            let drawn = |on: Slot| {
                (make.steps.iter().enumerate())
                    .filter(move |(_, s)| matches!(s, Step::Mark { on: o, .. } | Step::Dot { on: o, .. } if *o == on))
                    .map(|(i, _)| i)
            };
            for (mine, theirs) in drawn(*b).zip(drawn(*first)) {
                told[mine] = theirs;
            }
        }
    }
    told
}

/// What a step takes in hand, and what comes of it.
fn hands_on(step: &Step) -> Option<(Slot, Vec<Slot>)> {
    Some(match step {
        Step::Lay { a, into, .. } => (*a, vec![*into]),
        Step::Sew { stack, .. } => (*stack, Vec::new()),
        Step::CutApart { stack, keep, .. } => (*stack, keep.iter().map(|k| k.into).collect()),
        Step::Open { stack, into, .. } => (*stack, vec![*into]),
        Step::Trim { of, into, .. } => (*of, vec![*into]),
        Step::Mark { on, .. } | Step::Dot { on, .. } => (*on, Vec::new()),
        Step::Check { of, .. } | Step::Snip { of, .. } => (*of, Vec::new()),
        _ => return None,
    })
}

/// Whether the making is a plain row: at least three seams, all edge to edge, each adding a part to the work.
pub(super) fn is_row(make: &Make) -> bool {
    let seams = make.steps.iter().filter(|s| matches!(s, Step::Open { .. })).count();
    let plain = make.steps.iter().all(|s| match s {
        Step::Lay { how, .. } => matches!(how, Lay::Edges { .. }),
        Step::Sew { path, .. } => matches!(
            path,
            Path::Beside {
                from: Stop::Raw,
                to: Stop::Raw,
                ..
            }
        ),
        Step::Open { .. } | Step::Snip { .. } | Step::Check { .. } | Step::Finish { .. } => true,
        _ => false,
    });
    seams >= 3 && plain && stacks_in_frame(make).len() == seams
}

/// The stacks whose frame is the finished work's: the lower layer of a laying keeps its frame.
pub(super) fn stacks_in_frame(make: &Make) -> Vec<Slot> {
    let mut found = Vec::new();
    let Some(mut slot) = make.steps.iter().rev().find_map(|s| match s {
        Step::Open { into, .. } | Step::Close { into, .. } => Some(*into),
        _ => None,
    }) else {
        return found;
    };
    for step in make.steps.iter().rev() {
        match step {
            Step::Open { into, stack, .. } if *into == slot => {
                found.push(*stack);
                slot = *stack;
            }
            Step::Lay { into, a, .. } if *into == slot => slot = *a,
            Step::Trim { into, of, .. } if *into == slot => slot = *of,
            Step::Close { into, work, .. } if *into == slot => slot = *work,
            _ => {}
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::Length;
    use recipe::{CornerRef, EdgeRef, EdgeRun, Give, Keep, LineRef, MarkName, Measured, Press, Ruler, Size};
    use terms::UnitId;

    fn edge(of: u32, edge: u32) -> EdgeRef {
        EdgeRef { of: Slot(of), edge }
    }

    fn open(stack: u32, into: u32) -> Step {
        Step::Open {
            stack: Slot(stack),
            press: Press::TowardLower,
            into: Slot(into),
        }
    }

    fn check(of: u32) -> Step {
        let what = Measured::Across(EdgeRun::default(), EdgeRun::default());
        Step::Check {
            of: Slot(of),
            what,
            is: Size::bare(Length::inches(3)),
        }
    }

    fn trim(of: u32, into: u32) -> Step {
        Step::Trim {
            of: Slot(of),
            lines: Vec::new(),
            into: Slot(into),
        }
    }

    fn make(steps: Vec<Step>, gives: &[u32]) -> Make {
        Make {
            unit: UnitId::new("a"),
            label: "A".into(),
            times: 1,
            parts: Vec::new(),
            steps,
            gives: gives
                .iter()
                .map(|&s| Give {
                    slot: Slot(s),
                    sides: Vec::new(),
                    seams: Vec::new(),
                })
                .collect(),
            spare: 0,
        }
    }

    #[test]
    fn the_second_half_is_not_told_again() {
        let corner = CornerRef {
            before: edge(0, 0),
            after: edge(0, 1),
        };
        let line = Ruler::Beside {
            line: LineRef::Mark(MarkName("m".into())),
            at: Size::bare(Length::ZERO),
            toward: corner,
        };
        let keep = vec![Keep { corner, into: Slot(3) }, Keep { corner, into: Slot(4) }];
        let path = Path::Beside {
            by: Size::bare(Length::ZERO),
            from: Stop::Raw,
            to: Stop::Raw,
        };
        let steps = vec![
            Step::Sew {
                stack: Slot(2),
                path,
                join: false,
            },
            Step::CutApart {
                stack: Slot(2),
                line,
                keep,
                offcut: Vec::new(),
            },
            open(3, 5),
            trim(5, 6),
            check(6),
            open(4, 7),
            trim(7, 8),
            check(8),
        ];
        let make = make(steps, &[6, 8]);
        let told: Vec<(Kind, Vec<usize>)> = groups(&make).into_iter().map(|g| (g.kind, g.steps)).collect();
        assert_eq!(
            told,
            [
                (Kind::Seam, vec![0, 1, 2]),
                (Kind::Trim, vec![3]),
                (Kind::Check, vec![4])
            ]
        );
    }

    #[test]
    fn a_line_for_a_trim_goes_with_it() {
        let line = Ruler::Beside {
            line: LineRef::Edge(edge(0, 0)),
            at: Size::bare(Length::ZERO),
            toward: CornerRef {
                before: edge(0, 0),
                after: edge(0, 1),
            },
        };
        let mark = Step::Mark {
            on: Slot(1),
            name: MarkName("m".into()),
            line,
        };
        let make = make(vec![open(0, 1), mark, trim(1, 2), check(2)], &[2]);
        let told: Vec<(Kind, Vec<usize>)> = groups(&make).into_iter().map(|g| (g.kind, g.steps)).collect();
        assert_eq!(
            told,
            [(Kind::Seam, vec![0]), (Kind::Trim, vec![1, 2]), (Kind::Check, vec![3])]
        );
    }
}
