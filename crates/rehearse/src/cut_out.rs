//! Cutting a section of foundation paper out, and what shows of it.

use crate::maker::Miss;
use crate::paper::Sheet;
use crate::piece::{Edge, Name, extent, is_sliver};
use crate::section::{Section, gap_in};
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Birth, PieceAt, Stretch, Thing, TrimEdge, View};
use recipe::Slot;
use shape::{Line, Point, Polygon};

/// The pieces whose areas lie along a side of the finished outline, each from where to where, measured from the corner of the
/// cutting line at the side's start.
fn along_side(section: &Section, side: usize) -> Vec<(f64, f64, PieceAt)> {
    let Some([(start, end), (from, to)]) = section.sheet.sides.get(side).copied() else {
        return Vec::new();
    };
    let (Some(cutting), Some(finished)) = (Line::between(start, end), Line::between(from, to)) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for (area, &at) in section.pieces.iter().enumerate() {
        let outline = section.sheet.area(area);
        let on = outline
            .corners()
            .iter()
            .filter(|&&c| !beyond(finished.offset_of(c), ON_SIDE));
        let reaches: Vec<f64> = on.map(|&c| cutting.reach_of(c)).collect();
        let low = reaches.iter().copied().fold(f64::INFINITY, f64::min);
        let high = reaches.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if high - low > TOLERANCE {
            found.push((low, high, at));
        }
    }
    found
}

/// An area whose corners lie nearer to a side than this lies along it.
const ON_SIDE: f64 = 1.0e-6;

impl Table<'_> {
    /// Does a cut-out step.
    pub(crate) fn cut_out(&mut self, of: Slot, into: Slot) -> Outcome<()> {
        let (root, section) = self.section(of)?;
        let view = View::of(root);
        let sheet = section.sheet.clone();
        if section.pieces.len() != sheet.lines.len() + 1 {
            let sentence = format!(
                "The section is cut out with {} of its {} pieces on it.",
                section.pieces.len(),
                sheet.lines.len() + 1
            );
            return Err(self.refuse("section-not-done", sentence, "Sew every line first."));
        }
        let owner = self.new_owner();
        let pieces = self.pieces_of(root);
        let mut lines = Vec::new();
        for (i, [(from, to), _]) in sheet.sides.iter().enumerate() {
            let line =
                Line::between(*from, *to).ok_or_else(|| self.bad("The cutting line has a side of no length.", ""))?;
            let strays = self.stray(|h| h.cut_edge()).unwrap_or(0.0);
            let line = line.moved_left(strays);
            let name = Name::Born { owner, edge: i as u32 };
            let fresh = Edge {
                name,
                made: Some(self.action),
                bowed: false,
            };
            self.spend(pieces.len())?;
            for &at in &pieces {
                self.keep_left(at, &view, line, fresh)?;
                self.rename_along(at, &view, line, fresh, true);
            }
            lines.push((line, name, from.distance(*to)));
        }
        let mut edges = Vec::new();
        for (i, (line, name, length)) in lines.into_iter().enumerate() {
            let shown = along_side(&section, i);
            edges.push(self.cut_side((&pieces, shown), &view, line, name, length)?);
        }
        for (area, &at) in section.pieces.iter().enumerate() {
            self.shows(at, &view, &sheet, area)?;
        }
        self.use_up(of);
        self.put(into, Birth::Trim(owner, edges), Thing::Work(root))
    }

    /// One side of a section cut out: its raw edges in order, without a gap from corner to corner.
    fn cut_side(
        &mut self,
        (pieces, shown): (&[PieceAt], Vec<(f64, f64, PieceAt)>),
        view: &View,
        line: Line,
        name: Name,
        length: f64,
    ) -> Outcome<TrimEdge> {
        let mut edge = TrimEdge::default();
        let mut on: Vec<Stretch> = Vec::new();
        for &at in pieces {
            let Some((cloth, motion, _)) = self.piece_in(at, view) else {
                continue;
            };
            let corners: Vec<Point> = cloth.corners.iter().map(|&c| motion.point(c)).collect();
            if extent(&corners, line).0.0 <= self.seam + TOLERANCE {
                edge.near.push(at);
            }
            for (i, _) in cloth.edges.iter().enumerate().filter(|(_, e)| e.name == name) {
                on.push(Stretch {
                    at,
                    from: line.reach_of(corners[i]),
                    to: line.reach_of(corners[cloth.index_of_next(i)]),
                    beyond: 0.0,
                    in_run: true,
                });
            }
        }
        on.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        // A piece that shows along the side and of which the folds leave nothing at the raw edge is of the side all the same.
        let mut order: Vec<(f64, f64, PieceAt)> = on.iter().map(|s| (s.from, s.to, s.at)).collect();
        let under = shown.into_iter().filter(|(.., at)| on.iter().all(|s| s.at != *at));
        order.extend(under);
        order.sort_by(|a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
        edge.on = order.into_iter().map(|(.., at)| at).collect();
        edge.on.dedup();
        if let Some(gap) = gap_in(on, (0.0, length))
            && self.misses(Miss::Other, gap, TOLERANCE)
        {
            let sentence = format!("Along the cutting line {} has no cloth.", self.say(gap));
            return Err(self.refuse("window-not-covered", sentence, "Cut the pieces along it larger."));
        }
        self.held();
        Ok(edge)
    }

    /// Checks that what shows of a piece is its area.
    fn shows(&mut self, at: PieceAt, view: &View, sheet: &Sheet, area: usize) -> Outcome<()> {
        let corners = self.corners_in(at, view).unwrap_or_default();
        let shown = sheet
            .sides
            .iter()
            .fold(Polygon::new(corners), |shown, &[_, (from, to)]| {
                match Line::between(from, to) {
                    Some(line) if shown.len() >= 3 => shown.left_of(line),
                    _ => shown,
                }
            });
        let off = if is_sliver(&shown) {
            f64::INFINITY
        } else {
            shown.difference(&sheet.area(area))
        };
        if off > TOLERANCE && self.misses(Miss::Other, off, TOLERANCE) {
            let sentence = match off.is_finite() {
                true => format!("What shows of area {} is off by {}.", area + 1, self.say(off)),
                false => format!("Nothing shows of area {}.", area + 1),
            };
            return Err(self.refuse("area-not-shown", sentence, "Sew every line where it is printed."));
        }
        self.held();
        Ok(())
    }
}
