//! Cut ahead: what joins the blocks is sewn when the last block is there, but a part that names it hands out its cloth and cuts its
//! pieces, which lie ready until then.

use crate::Draft;
use design::{Design, LayoutKind};
use recipe::Take;
use std::collections::BTreeMap;
use terms::PieceId;

/// A kind of piece, and how many.
pub type Pieces = BTreeMap<PieceId, u64>;

/// What each part cuts that is sewn in a later one, and what it sews that an earlier one has cut.
#[derive(Clone, Debug, Default)]
pub(crate) struct Ahead {
    /// By part: cut in it for later.
    pub cut: Vec<Pieces>,
    /// By part: sewn in it, cut before.
    pub from_before: Vec<Pieces>,
}

/// What the layout calls the patches that a part's word hands out.
fn roles(word: &str, design: &Design) -> &'static [&'static str] {
    let sashing = match &design.layout.kind {
        LayoutKind::Straight { sashing, .. } | LayoutKind::OnPoint { sashing, .. } => sashing.as_ref(),
        LayoutKind::Free { .. } => None,
    };
    let stones = sashing.is_some_and(|sashing| sashing.cornerstones.is_some());
    match word {
        "sashing" => &["sashing", "cornerstone"],
        "setting" => &["setting triangle", "ground"],
        // Squares in a border's corners; where strips have squares of their own they come with those.
        "borders" if !stones => &["border", "cornerstone"],
        "borders" => &["border"],
        _ => &[],
    }
}

impl Draft {
    /// What is cut ahead, when each making of the top is done so often (`times`, by part).
    pub(crate) fn cut_ahead(&self, design: &Design, times: &[Vec<u32>]) -> Ahead {
        let mut ahead = Ahead {
            cut: vec![Pieces::new(); times.len()],
            from_before: vec![Pieces::new(); times.len()],
        };
        let words = design.parts.iter().map(|part| part.also.as_slice());
        for (k, also) in words.enumerate().take(times.len()) {
            for role in also.iter().flat_map(|word| roles(word, design)) {
                for (later, times) in times.iter().enumerate().skip(k + 1) {
                    for (piece, count) in self.of_the_top(role, times) {
                        // Each is cut by the first part that names it.
                        let done = ahead.from_before[later].entry(piece.clone()).or_default();
                        let more = count - *done;
                        *done = count;
                        if more > 0 {
                            *ahead.cut[k].entry(piece).or_default() += more;
                        }
                    }
                }
            }
        }
        ahead
    }

    /// The pieces of this role that makings of the top take when they are done so often.
    fn of_the_top(&self, role: &str, times: &[u32]) -> Pieces {
        let mut pieces = Pieces::new();
        for ((make, story), &times) in self.pattern.recipe.makes.iter().zip(&self.units).zip(times) {
            if story.block.is_some() || times == 0 {
                continue;
            }
            for part in &make.parts {
                if let Take::Piece(piece) = &part.take
                    && self.roles.get(piece).is_some_and(|of| of == role)
                {
                    *pieces.entry(piece.clone()).or_default() += u64::from(times);
                }
            }
        }
        pieces
    }
}
