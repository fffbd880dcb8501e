//! Combs: regions that can be sewn on one foundation paper, patch after patch, and the fewest of them that make a region.
//!
//! A region is a *comb* when one straight seam, from boundary to boundary, cuts off a single patch and leaves a comb. Which
//! such patch is taken off first does not matter: what a seam cuts off a region it cuts off every part of it that still
//! holds the patch. So looking for one patch after another decides it exactly.
//!
//! The fewest combs of a region that is none: the least over all its through seams of what the two sides take. That is
//! looked up region by region; up to [`MOST_REGIONS`] different ones are looked at, and the answer is then exact. Beyond, the
//! seam is taken that cuts off the largest comb, and only a bound is known.

use crate::seams::{ThroughSeams, divide};
use crate::tokens::{BlockTokens, Content};
use shape::{Line, Polygon};
use std::collections::BTreeMap;

/// So many different regions of one block are looked at before the search is given up for a greedy one.
pub const MOST_REGIONS: usize = 4000;

/// Patches sewn to one paper: more than that no one would.
pub const MOST_PATCHES: usize = 120;

/// One patch in sewing order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tooth {
    /// Its face.
    pub face: usize,
    /// The line it is sewn to, itself on the left; none for the first.
    pub line: Option<Line>,
}

/// The fewest combs of a region.
#[derive(Clone, Debug, PartialEq)]
pub struct Sections {
    /// So many.
    pub count: usize,
    /// No way takes fewer than this.
    pub at_least: usize,
    /// Seams to part it by, each of which leaves the fewest; none for a comb, or where no seam runs through.
    pub cuts: Vec<Line>,
}

/// The search, with what it found out before.
#[derive(Debug, Default)]
pub struct Combs {
    known: BTreeMap<(usize, Vec<usize>), Sections>,
    through: ThroughSeams,
    regions: BTreeMap<usize, usize>,
}

impl Combs {
    /// The patches of a region in sewing order, if it is a comb of patches alone.
    pub fn order(&mut self, block: &BlockTokens, faces: &[usize], outline: &Polygon) -> Option<Vec<Tooth>> {
        let patch = |&f: &usize| matches!(block.tokens[f].content, Content::Patch { .. });
        if faces.is_empty() || faces.len() > MOST_PATCHES || !faces.iter().all(patch) {
            return None;
        }
        let mut left: Vec<usize> = faces.to_vec();
        let mut outline = outline.clone();
        let mut teeth = Vec::new();
        while left.len() > 1 {
            let (tooth, rest, rest_outline) = self.last_tooth(block, &left, &outline)?;
            teeth.push(tooth);
            (left, outline) = (rest, rest_outline);
        }
        teeth.push(Tooth {
            face: left[0],
            line: None,
        });
        teeth.reverse();
        Some(teeth)
    }

    /// A patch that one seam cuts off: the one with the longest seam, so that short seams come first; of equal ones the last
    /// in the block's order.
    fn last_tooth(
        &mut self,
        block: &BlockTokens,
        faces: &[usize],
        outline: &Polygon,
    ) -> Option<(Tooth, Vec<usize>, Polygon)> {
        let mut best: Option<(f64, Tooth, Vec<usize>, Polygon)> = None;
        for line in self.lines(block, faces, outline) {
            let Some(mut sides) = divide(block, faces, outline, &[line]) else {
                continue;
            };
            let (Some((left, left_outline)), Some((right, right_outline))) = (sides.pop(), sides.pop()) else {
                continue;
            };
            let length = crate::seams::chord(outline, line).unwrap_or(0.0);
            let ways = [
                (left.clone(), right.clone(), right_outline, line),
                (right, left, left_outline, line.reversed()),
            ];
            for (single, rest, rest_outline, line) in ways {
                let &[face] = single.as_slice() else { continue };
                let better = best.as_ref().is_none_or(|(longest, tooth, ..)| {
                    length > longest + shape::WELD || (length > longest - shape::WELD && face > tooth.face)
                });
                if better {
                    let line = Some(line);
                    best = Some((length, Tooth { face, line }, rest, rest_outline));
                }
            }
        }
        best.map(|(_, tooth, rest, outline)| (tooth, rest, outline))
    }

    fn lines(&mut self, block: &BlockTokens, faces: &[usize], outline: &Polygon) -> Vec<Line> {
        let groups = self.through.of(block, faces, outline);
        groups.into_iter().flat_map(|group| group.lines).collect()
    }

    /// The fewest combs that make a region of a block; whole blocks in it count as one each.
    pub fn fewest(&mut self, home: usize, block: &BlockTokens, faces: &[usize], outline: &Polygon) -> Sections {
        let key = (home, faces.to_vec());
        if let Some(known) = self.known.get(&key) {
            return known.clone();
        }
        let found = stacker::maybe_grow(128 * 1024, 2 * 1024 * 1024, || self.search(home, block, faces, outline));
        self.known.insert(key, found.clone());
        found
    }

    fn search(&mut self, home: usize, block: &BlockTokens, faces: &[usize], outline: &Polygon) -> Sections {
        let one = Sections {
            count: 1,
            at_least: 1,
            cuts: Vec::new(),
        };
        if faces.len() < 2 || self.order(block, faces, outline).is_some() {
            return one;
        }
        let looked_at = self.regions.entry(home).or_insert(0);
        *looked_at += 1;
        let greedy = *looked_at > MOST_REGIONS;
        let lines = self.lines(block, faces, outline);
        let mut ways = Vec::new();
        for line in lines {
            ways.extend(divide(block, faces, outline, &[line]).map(|sides| (line, sides)));
        }
        if greedy {
            // The seam that cuts off the largest comb; if none does, the one that leaves the halves most alike in number.
            let mut sized = Vec::new();
            for (i, (_, sides)) in ways.iter().enumerate() {
                let combs = sides.iter().filter(|(f, o)| self.order(block, f, o).is_some());
                let largest = combs.map(|(f, _)| f.len()).max().unwrap_or(0);
                let uneven = sides.iter().map(|(f, _)| f.len()).max().unwrap_or(0);
                sized.push((std::cmp::Reverse(largest), uneven, i));
            }
            let best = sized.into_iter().min().map(|(.., i)| i);
            ways = best.map(|i| ways.swap_remove(i)).into_iter().collect();
        }
        let mut best = Sections {
            // Without a through seam it is sewn in some other way, patch by patch.
            count: if ways.is_empty() { faces.len() } else { usize::MAX },
            at_least: if greedy || ways.is_empty() { 2 } else { usize::MAX },
            cuts: Vec::new(),
        };
        for (line, sides) in ways {
            let parts: Vec<Sections> = sides.iter().map(|(f, o)| self.fewest(home, block, f, o)).collect();
            let count = parts.iter().map(|p| p.count).sum();
            let at_least: usize = parts.iter().map(|p| p.at_least).sum();
            if !greedy {
                best.at_least = best.at_least.min(at_least);
            }
            if count < best.count {
                best.count = count;
                best.cuts.clear();
            }
            if count == best.count {
                best.cuts.push(line);
            }
        }
        best
    }

    /// A cut of a region that leaves the fewest combs, together with all cuts beside it in the same direction that do so
    /// too: rows rather than deep trees.
    pub fn with_parallels(
        &mut self,
        home: usize,
        block: &BlockTokens,
        faces: &[usize],
        outline: &Polygon,
        cut: Line,
    ) -> Vec<Line> {
        let mut lines = vec![cut];
        let Some(sides) = divide(block, faces, outline, &[cut]) else {
            return lines;
        };
        for (faces, outline) in sides {
            let cuts = self.fewest(home, block, &faces, &outline).cuts;
            let parallel = cuts.into_iter().find(|l| l.along.cross(cut.along).abs() < 1.0e-4);
            if let Some(next) = parallel {
                lines.extend(self.with_parallels(home, block, &faces, &outline, next));
            }
        }
        for line in &mut lines {
            if line.along.dot(cut.along) < 0.0 {
                *line = line.reversed();
            }
        }
        lines.sort_by(|a, b| cut.offset_of(a.through).total_cmp(&cut.offset_of(b.through)));
        lines
    }
}
