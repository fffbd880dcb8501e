//! Steps that belong to one handful of work: laid, sewn, perhaps cut apart, opened.

use recipe::{Lay, Make, Path, Slot, Step};

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
    for (i, step) in make.steps.iter().enumerate() {
        let kind = match step {
            Step::Trim { .. } | Step::SubCut { .. } => Kind::Trim,
            Step::Check { .. } => Kind::Check,
            Step::Finish { .. } => Kind::Finish,
            _ => Kind::Seam,
        };
        let goes_on = match (groups.last(), kind) {
            (Some(last), Kind::Seam) if last.kind == Kind::Seam => {
                !opened || matches!(step, Step::Open { .. } | Step::Snip { .. })
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
        opened |= matches!(step, Step::Open { .. });
    }
    groups
}

/// Whether the making is a plain row: at least four seams, all edge to edge, each adding a part to the work.
pub(super) fn is_row(make: &Make) -> bool {
    let seams = make.steps.iter().filter(|s| matches!(s, Step::Open { .. })).count();
    let plain = make.steps.iter().all(|s| match s {
        Step::Lay { how, .. } => matches!(how, Lay::Edges { .. }),
        Step::Sew { path, .. } => matches!(path, Path::Beside { .. }),
        Step::Open { .. } | Step::Snip { .. } | Step::Check { .. } | Step::Finish { .. } => true,
        _ => false,
    });
    seams >= 4 && plain && stacks_in_frame(make).len() == seams
}

/// The stacks whose frame is the finished work's: the lower layer of a laying keeps its frame.
pub(super) fn stacks_in_frame(make: &Make) -> Vec<Slot> {
    let mut found = Vec::new();
    let Some(mut slot) = make.steps.iter().rev().find_map(|s| match s {
        Step::Open { into, .. } => Some(*into),
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
            _ => {}
        }
    }
    found
}
