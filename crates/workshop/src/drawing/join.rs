//! Two patches become one: the seam between them is taken out.

use super::outline::Outline;
use super::{Drawing, Patch, Refusal, Side, no_patch, same};

impl Drawing {
    /// Joins two neighbours; the first one's fabric and words are kept.
    ///
    /// # Errors
    /// When they share no seam, or joined they would close round a hole.
    pub fn join(&self, first: usize, second: usize) -> Result<Drawing, Refusal> {
        let (Some(one), Some(other)) = (self.patches.get(first), self.patches.get(second)) else {
            return Err(no_patch());
        };
        if first == second {
            return Err(Refusal::new(
                "same-patch",
                "Joining takes two patches. Point at a neighbour.",
            ));
        }
        let outline = united(&one.outline, &other.outline)?;
        let mut drawn = self.clone();
        drawn.patches[first] = Patch {
            outline,
            redrawn: true,
            ..one.clone()
        };
        drawn.patches.remove(second);
        Ok(drawn)
    }
}

/// One outline round both.
fn united(one: &Outline, other: &Outline) -> Result<Outline, Refusal> {
    let mut a = one.clone();
    let mut b = other.clone();
    for side in other.sides() {
        a = a.with_corner(side.from());
    }
    for side in one.sides() {
        b = b.with_corner(side.from());
    }
    let twin = |side: &Side, sides: &[Side]| sides.iter().any(|s| opposite(side, s));
    let mut loose: Vec<Side> = a.sides().iter().copied().filter(|s| !twin(s, b.sides())).collect();
    if loose.len() == a.sides().len() {
        return Err(Refusal::new(
            "no-seam-between",
            "These two patches share no seam, so they cannot be joined. Point at neighbours.",
        ));
    }
    loose.extend(b.sides().iter().copied().filter(|s| !twin(s, a.sides())));
    let hole = || {
        Refusal::new(
            "hole-inside",
            "Joined, these patches would close round another. Join that one as well, or divide first.",
        )
    };
    if loose.is_empty() {
        return Err(hole());
    }
    let mut chain = vec![loose.remove(0)];
    while !loose.is_empty() {
        let Some(last) = chain.last().copied() else { break };
        let Some(next) = loose.iter().position(|s| same(s.from(), last.to())) else {
            return Err(hole());
        };
        if same(last.to(), chain[0].from()) {
            return Err(hole());
        }
        chain.push(loose.remove(next));
    }
    if !same(chain[chain.len() - 1].to(), chain[0].from()) {
        return Err(hole());
    }
    let outline = Outline::new(chain).without_idle_corners();
    if outline.sound() { Ok(outline) } else { Err(hole()) }
}

/// Whether two sides are one seam seen from both its patches.
pub(super) fn opposite(one: &Side, other: &Side) -> bool {
    same(one.from(), other.to()) && same(one.to(), other.from()) && (one.along(0.5) - other.along(0.5)).hypot() < 0.005
}
