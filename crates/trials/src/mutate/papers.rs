//! Foundation papers read by `docs/recipe.md` alone: which pieces are laid where, and whether each still covers what it must. It
//! decides which changes of a place or a size change nothing, without asking the table.

use super::facts::Along;
use super::ruled::{At, Ruled, left_of};
use super::yields::{self, Outline, Yield};
use recipe::{AlongLine, Lay, Make, Paper, Path, Pattern, Step, Take, TemplateCorner};
use std::collections::BTreeSet;

/// Agreement asked for, as everywhere (1/64 in).
const TOLERANCE: f64 = 1.0 / 64.0 + 1.0e-9;

/// A paper as sewn: the mirror of its print.
struct Sewn {
    outline: Vec<At>,
    cutting: Vec<At>,
    /// Each from its start, its own area on the left; and its length.
    lines: Vec<(Ruled, f64)>,
    seam: f64,
}

impl Sewn {
    fn of(paper: &Paper, seam: f64) -> Option<Sewn> {
        let mirrored = |c: &TemplateCorner| (-c.right.to_inches(), c.up.to_inches());
        let around = |corners: &[TemplateCorner]| corners.iter().rev().map(mirrored).collect();
        let mut lines = Vec::new();
        for line in &paper.lines {
            let (start, end) = (mirrored(&line.to), mirrored(&line.from));
            let ruled = Ruled::through(start, end)?;
            lines.push((ruled, ruled.of(end).1));
        }
        Some(Sewn {
            outline: around(&paper.outline),
            cutting: around(&paper.cutting),
            lines,
            seam,
        })
    }

    fn before(&self, outline: &[At], first: usize, moved: f64) -> Vec<At> {
        let later = self.lines.iter().skip(first);
        later.fold(outline.to_vec(), |o, (line, _)| left_of(&o, line.moved(moved).back()))
    }

    fn area(&self, number: usize) -> Vec<At> {
        let before = self.before(&self.outline, number, 0.0);
        match number.checked_sub(1).and_then(|line| self.lines.get(line)) {
            None => before,
            Some((line, _)) => left_of(&before, *line),
        }
    }

    fn reach(&self, line: usize) -> Vec<At> {
        self.before(&self.cutting, line + 1, self.seam)
    }

    /// Whether a piece laid so covers what it must by its margin.
    fn covers(&self, area: usize, along: &AlongLine, piece: &Outline) -> bool {
        let (line, must) = match area.checked_sub(1) {
            Some(number) => match self.lines.get(number) {
                Some((line, _)) => (*line, left_of(&self.reach(number), *line)),
                None => return false,
            },
            None => {
                let line = match self.lines.first() {
                    Some((line, length)) => Ruled {
                        at: line.place(0.0, *length),
                        ..line.back()
                    },
                    // The outline's side 0 as printed is the last one as sewn.
                    None => match self.outline.as_slice() {
                        [.., before, last] => match Ruled::through(*before, *last) {
                            Some(line) => line,
                            None => return false,
                        },
                        _ => return false,
                    },
                };
                (line, self.before(&self.cutting, 0, self.seam))
            }
        };
        let n = piece.len();
        let Some(k) = piece.iter().position(|c| c.0 == along.edge.edge) else {
            return false;
        };
        let Some(own) = Ruled::through(piece[k].1, piece[(k + 1) % n].1) else {
            return false;
        };
        let placed: Vec<At> = piece
            .iter()
            .map(|c| {
                let (left, reach) = own.of(c.1);
                line.place(left - along.past.inches(), reach - along.beyond.inches())
            })
            .collect();
        // On paper the cloth past a line that others lie beneath is folded under.
        let shown = if area > 0 { left_of(&placed, line) } else { placed };
        let m = shown.len();
        let margin = along.margin.inches();
        m >= 3
            && margin >= 0.0
            && (0..m).all(|i| {
                let Some(edge) = Ruled::through(shown[i], shown[(i + 1) % m]) else {
                    return true;
                };
                let fold =
                    area > 0 && line.of(shown[i]).0.abs() < 1.0e-6 && line.of(shown[(i + 1) % m]).0.abs() < 1.0e-6;
                fold || must.iter().all(|&c| edge.of(c).0 >= margin - TOLERANCE)
            })
    }

    /// Whether stitches so far beyond both ends of a line take in all of it that its reach has.
    fn sewn_through(&self, number: usize, beyond: f64) -> bool {
        let Some((line, length)) = self.lines.get(number) else {
            return false;
        };
        let on = left_of(&self.reach(number), *line);
        let reaches = on
            .iter()
            .filter(|&&c| line.of(c).0.abs() < 1.0e-6)
            .map(|&c| line.of(c).1);
        let (low, high) = reaches.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), r| (l.min(r), h.max(r)));
        beyond >= 0.0 && -beyond - low <= TOLERANCE && high - length - beyond <= TOLERANCE
    }
}

fn paper_of<'a>(make: &Make, pattern: &'a Pattern) -> Option<&'a Paper> {
    let name = make.parts.iter().find_map(|p| match &p.take {
        Take::Paper(name) => Some(name),
        _ => None,
    })?;
    pattern.cutting.papers.iter().find(|p| p.name == *name)
}

fn piece_in(make: &Make, slot: recipe::Slot) -> Option<&str> {
    make.parts.iter().find_map(|p| match &p.take {
        Take::Piece(piece) if p.slot == slot => Some(piece.as_str()),
        _ => None,
    })
}

/// The pieces that are sewn on paper.
pub fn pieces(pattern: &Pattern) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for make in pattern.recipe.makes.iter().filter(|m| paper_of(m, pattern).is_some()) {
        found.extend(make.parts.iter().filter_map(|p| match &p.take {
            Take::Piece(piece) => Some(piece.0.clone()),
            _ => None,
        }));
    }
    found
}

/// Whether every piece on paper covers what it must and every line is sewn through.
pub fn holds(pattern: &Pattern) -> bool {
    let Some(cut) = yields::read(pattern) else { return false };
    let seam = pattern.recipe.seam;
    pattern.recipe.makes.iter().all(|make| {
        let Some(sewn) = paper_of(make, pattern).and_then(|p| Sewn::of(p, seam.inches())) else {
            return !make.parts.iter().any(|p| matches!(p.take, Take::Paper(_)));
        };
        let mut number = 0;
        make.steps.iter().all(|step| {
            let (along, piece, area) = match step {
                Step::Spread { along, piece, .. } => (along, piece, 0),
                Step::Lay {
                    b,
                    how: Lay::OverPaper { line, along },
                    ..
                } if along.past.len == seam.len => {
                    number = *line as usize;
                    (along, b, number + 1)
                }
                Step::Lay {
                    how: Lay::OverPaper { .. },
                    ..
                } => return false,
                Step::Sew {
                    path: Path::OnPaper { beyond },
                    ..
                } => return sewn.sewn_through(number, beyond.inches()),
                _ => return true,
            };
            let outline = piece_in(make, *piece).and_then(|name| cut.outline(name));
            outline.is_some_and(|outline| sewn.covers(area, along, outline))
        })
    })
}

/// Whether two cuttings differ in nothing but the sizes of pieces that need only be large enough (on paper, over card).
pub fn differ_in_these_alone(before: &Yield, after: &Yield, these: &BTreeSet<String>) -> bool {
    let (mut others, mut changed) = (before.clone(), after.clone());
    for piece in these {
        let (Some(a), Some(b)) = (others.kinds.remove(piece), changed.kinds.remove(piece)) else {
            return false;
        };
        let count = |all: &[(Outline, u64)]| all.iter().map(|(_, count)| count).sum::<u64>();
        let alike = b.iter().all(|(o, _)| yields::alike(&b[0].0, o, before.print(piece)));
        if b.is_empty() || !alike || count(&a) != count(&b) {
            return false;
        }
    }
    others.same(&changed)
}

/// What lies along a side of a section: the cloths of its areas in order, each with its length in 64ths.
pub fn along_side(make: &Make, pattern: &Pattern, side: usize) -> Vec<Along> {
    let sewn = paper_of(make, pattern).and_then(|p| Sewn::of(p, pattern.recipe.seam.inches()));
    let Some(sewn) = sewn else { return Vec::new() };
    let n = sewn.outline.len();
    if n == 0 || side >= n {
        return Vec::new();
    }
    // Side `i` as printed runs between corners `i` and `i + 1`; as sewn the corners follow the other way round.
    let (from, to) = (sewn.outline[(2 * n - side - 2) % n], sewn.outline[n - 1 - side]);
    let Some(line) = Ruled::through(from, to) else {
        return Vec::new();
    };
    let slots = make.steps.iter().filter_map(|step| match step {
        Step::Spread { piece, .. } => Some(*piece),
        Step::Lay {
            b,
            how: Lay::OverPaper { .. },
            ..
        } => Some(*b),
        _ => None,
    });
    let mut found: Vec<(f64, Along)> = Vec::new();
    for (area, slot) in slots.enumerate() {
        let note =
            piece_in(make, slot).and_then(|name| pattern.recipe.pieces.iter().find(|n| n.piece.as_str() == name));
        let fabric = note.map_or_else(String::new, |n| n.fabric.0.clone());
        let on: Vec<f64> = sewn
            .area(area)
            .iter()
            .map(|&c| line.of(c))
            .filter(|(off, _)| off.abs() < 1.0e-6)
            .map(|(_, reach)| reach)
            .collect();
        let low = on.iter().copied().fold(f64::INFINITY, f64::min);
        let high = on.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if high - low > TOLERANCE {
            let length = ((high - low) * 64.0).round() as u32;
            found.push((low, (format!("on paper {fabric}"), length)));
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.into_iter().map(|(_, along)| along).collect()
}
