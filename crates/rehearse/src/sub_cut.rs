//! Cutting a sewn strip set into lengths: each length has all the strips, whole, and two new raw edges.

use crate::parted::Twins;
use crate::piece::{Name, extent};
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Birth, Thing, View};
use recipe::{CornerRef, Ruler, Size, Slot};
use shape::Line;

/// A strip set is cut into no more lengths than this at once.
const MOST_LENGTHS: usize = 1000;

impl Table<'_> {
    /// Does a sub-cut step.
    pub(crate) fn sub_cut(
        &mut self,
        of: Slot,
        first: &Ruler,
        toward: CornerRef,
        width: Size,
        into: &[Slot],
    ) -> Outcome<()> {
        let root = self.work(of)?;
        self.no_card_in(root)?;
        self.closed(root)?;
        let view = View::of(root);
        let width = self.positive(width)?;
        if width <= TOLERANCE || into.is_empty() || into.len() > MOST_LENGTHS {
            return Err(self.bad(
                "Nothing is cut from the strip set.",
                "Say how many lengths, and how wide.",
            ));
        }
        let ruler = self.ruler(first, &view)?;
        let side = ruler.offset_of(self.corner(toward, &view)?);
        if !beyond(side, TOLERANCE) {
            let sentence = "The corner that says which side is cut into lengths lies on the first cut.";
            return Err(self.bad(sentence, "Name a corner clear of the cut."));
        }
        // The lengths lie to the left of the first cut.
        let start = if side > 0.0 { ruler } else { ruler.reversed() };
        let cuts: Vec<Line> = (0..=into.len()).map(|i| start.moved_left(width * i as f64)).collect();
        self.whole_between(root, start, width * into.len() as f64)?;
        for &cut in &cuts {
            self.right_across(root, cut)?;
        }
        self.use_up(of);
        for (pair, &slot) in cuts.windows(2).zip(into) {
            let lines = [pair[0], pair[1].reversed()];
            let mut twins = Twins::new();
            let length = self.copy_of(root, &lines, &mut twins)?;
            self.name_twins(&twins);
            let owner = self.new_owner();
            let mut edges = Vec::new();
            for (number, line) in lines.into_iter().enumerate() {
                let name = Name::Born {
                    owner,
                    edge: number as u32,
                };
                edges.push(self.cut_off(length, &View::of(length), line, name, true)?);
            }
            self.put(slot, Birth::Trim(owner, edges), Thing::Work(length))?;
        }
        // What goes on as a length has not come off; only the two ends have.
        self.waste.clear();
        if self.filming {
            self.show_ends(root, start, width * into.len() as f64)?;
            for &cut in &cuts {
                let all = self.stretches(root, &view, cut)?;
                self.cuts.extend(crate::open::ends_of(&all, cut));
            }
        }
        Ok(())
    }

    /// Checks that no piece ends between the first cut and the last, so that every length has all its strips.
    fn whole_between(&mut self, root: usize, start: Line, far: f64) -> Outcome<()> {
        let view = View::of(root);
        let pieces = self.pieces_of(root);
        self.spend(pieces.len())?;
        for at in pieces {
            let Some(corners) = self.corners_in(at, &view) else {
                continue;
            };
            let ((low, high), _) = extent(&corners, start);
            let ends = corners.iter().map(|&c| start.offset_of(c));
            let inside = ends.clone().find(|&o| o > TOLERANCE && o < far - TOLERANCE);
            if let Some(inside) = inside {
                let sentence = format!(
                    "A strip of the set ends {} past the first cut, so a length would not have all its strips whole.",
                    self.say(inside)
                );
                let mend = "Cut fewer lengths, or longer strips.";
                return Err(self.refuse("length-not-whole", sentence, mend));
            }
            if low > TOLERANCE || high < far - TOLERANCE {
                let sentence = "A strip of the set does not reach across all the lengths.";
                return Err(self.refuse("length-not-whole", sentence, "Cut fewer lengths, or longer strips."));
            }
        }
        self.held();
        Ok(())
    }

    /// Checks that a cut runs through cloth without a gap.
    fn right_across(&mut self, root: usize, cut: Line) -> Outcome<()> {
        let mut stretches = self.stretches(root, &View::of(root), cut)?;
        stretches.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        let Some(first) = stretches.first().map(|s| s.from) else {
            let sentence = "A cut across the strip set goes through no cloth.";
            return Err(self.refuse("length-not-whole", sentence, "Cut fewer lengths, or longer strips."));
        };
        let mut reached = first;
        for s in &stretches {
            if s.from - reached > TOLERANCE {
                let gap = self.say(s.from - reached);
                let sentence = format!("A cut across the strip set has {gap} without cloth.");
                return Err(self.refuse("length-not-whole", sentence, "Sew all strips together first."));
            }
            reached = reached.max(s.to);
        }
        self.held();
        Ok(())
    }

    /// For pictures: the two ends of the strip set, which are thrown away.
    fn show_ends(&mut self, root: usize, start: Line, far: f64) -> Outcome<()> {
        let view = View::of(root);
        for at in self.pieces_of(root) {
            let Some((cloth, motion, _)) = self.piece_in(at, &view) else {
                continue;
            };
            let outline = motion.polygon(&cloth.polygon());
            for line in [start.reversed(), start.moved_left(far)] {
                let off = outline.left_of(line);
                if off.len() >= 3 {
                    self.waste.push(off);
                }
            }
        }
        Ok(())
    }
}
