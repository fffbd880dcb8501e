//! A part of all changes, where all are too many: spread evenly over the kinds and the ways they are altered.

use super::Alterations;
use super::site::Kind;
use std::collections::BTreeMap;

/// At most `cap` changes (indices into [`Alterations::changes`], in order): every kind and way gets an equal share as far
/// as it has so many, and of each every k-th is taken. With room for all, all.
pub fn spread(all: &Alterations, cap: usize) -> Vec<usize> {
    if all.changes.len() <= cap {
        return (0..all.changes.len()).collect();
    }
    let mut groups: BTreeMap<(Kind, &str), Vec<usize>> = BTreeMap::new();
    for (i, (site, change)) in all.changes.iter().enumerate() {
        groups
            .entry((all.sites[*site].kind, change.says.as_str()))
            .or_default()
            .push(i);
    }
    // The smallest groups first: what they do not need goes to the others.
    let mut by_size: Vec<&Vec<usize>> = groups.values().collect();
    by_size.sort_by_key(|g| g.len());
    let (mut left, mut taken) = (cap, Vec::with_capacity(cap));
    let count = by_size.len();
    for (i, group) in by_size.into_iter().enumerate() {
        let share = (left / (count - i)).min(group.len());
        left -= share;
        taken.extend((0..share).map(|k| group[(2 * k + 1) * group.len() / (2 * share)]));
    }
    taken.sort_unstable();
    taken
}
