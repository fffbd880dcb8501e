//! Notes on seams that are not sewn straight through: those that turn in a dot, and those closed in two goes.

use crate::emit::UnitStory;
use recipe::{Make, Step};
use terms::{Finding, Place};

/// One note for each block (or the top) that has such seams.
pub fn notes(makes: &[Make], stories: &[UnitStory]) -> Vec<Finding> {
    let mut blocks: Vec<Option<&String>> = Vec::new();
    for story in stories {
        if !blocks.contains(&story.block.as_ref()) {
            blocks.push(story.block.as_ref());
        }
    }
    let mut findings = Vec::new();
    for block in blocks {
        let count = |wanted: fn(&Step) -> bool| -> u64 {
            let here = makes.iter().zip(stories).filter(|(_, s)| s.block.as_ref() == block);
            here.map(|(m, _)| u64::from(m.times) * m.steps.iter().filter(|s| wanted(s)).count() as u64)
                .sum()
        };
        let place = || match block {
            Some(name) => Place::Block {
                name: name.clone(),
                patches: Vec::new(),
                at: None,
            },
            None => Place::Quilt,
        };
        let turns = count(|s| matches!(s, Step::Pivot { .. }));
        if turns > 0 {
            findings.push(Finding::note(
                "set-in-seam",
                place(),
                format!("Some seams here turn a corner in a dot: {} in the whole quilt.", times(turns, "turn")),
                "Dot the corners with care, stop exactly in the dot, and turn with the needle down; a line right across the block would save it.",
            ));
        }
        let closed = count(|s| matches!(s, Step::Close { .. }));
        if closed > 0 {
            findings.push(Finding::note(
                "partial-seam",
                place(),
                format!(
                    "The parts here go round a middle, so the first seam is only begun and closed last: {} in the whole quilt.",
                    times(closed, "such seam")
                ),
                "Leave the first seam open where the step says; a line right across the block would save it.",
            ));
        }
    }
    findings
}

fn times(count: u64, what: &str) -> String {
    if count == 1 {
        format!("one {what}")
    } else {
        format!("{count} {what}s")
    }
}
