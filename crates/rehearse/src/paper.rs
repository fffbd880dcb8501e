//! Foundation papers as they lie under a section: printed side down, so that everything is the print's mirror. What each
//! piece must cover follows from the lines alone.

use crate::piece::{is_sliver, stretch};
use crate::scene::{PaperView, Segment};
use crate::words::{LONGEST, TOLERANCE, beyond};
use recipe::{CutPlan, Paper, Recipe, TemplateCorner};
use shape::{Line, Point, Polygon};
use std::collections::BTreeMap;
use std::rc::Rc;
use terms::{Finding, Place};

/// More lines than any maker would sew on one sheet, or sides.
const MOST_LINES: usize = 500;

/// A paper in the frame of the sewn section.
#[derive(Clone, Debug)]
pub(crate) struct Sheet {
    pub(crate) name: String,
    /// The finished outline, counter-clockwise as sewn.
    pub(crate) outline: Polygon,
    /// The cutting outline, counter-clockwise as sewn.
    pub(crate) cutting: Polygon,
    /// For each side, as numbered in print, its two ends on the cutting line and the finished line, section on the left.
    pub(crate) sides: Vec<[(Point, Point); 2]>,
    /// The sewing lines in order, each with the area it adds on its left, from its start to its end.
    pub(crate) lines: Vec<(Line, f64)>,
    seam: f64,
}

impl Sheet {
    /// As printed, turned printed side down; or what is wrong with it.
    fn of(paper: &Paper, seam: f64) -> Result<Sheet, String> {
        let corners = |printed: &[TemplateCorner]| -> Option<Vec<Point>> {
            let inches = |c: &TemplateCorner| Point::new(-c.right.to_inches(), c.up.to_inches());
            let all: Vec<Point> = printed.iter().map(inches).collect();
            let real = |p: &Point| !beyond(p.x, LONGEST) && !beyond(p.y, LONGEST);
            all.iter().all(real).then_some(all)
        };
        let nowhere = || "has a corner beyond anything that can be printed".to_string();
        let (outline, cutting) = corners(&paper.outline)
            .zip(corners(&paper.cutting))
            .ok_or_else(nowhere)?;
        let n = outline.len();
        if !(3..=MOST_LINES).contains(&n) || cutting.len() != n || paper.lines.len() > MOST_LINES {
            return Err("has not one cutting line for each of at least three sides".into());
        }
        let mut sides = Vec::new();
        for i in 0..n {
            let j = (i + 1) % n;
            // As printed the section lies on the left from corner to next corner; turned over, from the next one back.
            let line = Line::between(outline[j], outline[i]).ok_or("has a side of no length")?;
            for at in [cutting[i], cutting[j]] {
                if beyond(line.offset_of(at) + seam, TOLERANCE) {
                    return Err("has a cutting line that is not the seam outside the finished outline".into());
                }
            }
            sides.push([(cutting[j], cutting[i]), (outline[j], outline[i])]);
        }
        let around = |corners: &[Point]| Polygon::new(corners.iter().rev().copied().collect());
        let mut sheet = Sheet {
            name: paper.name.clone(),
            outline: around(&outline),
            cutting: around(&cutting),
            sides,
            lines: Vec::new(),
            seam,
        };
        if !is_outline(&sheet.outline) || !is_outline(&sheet.cutting) {
            return Err("has an outline that does not go once round without a hollow corner".into());
        }
        for line in &paper.lines {
            let ends = corners(&[line.to, line.from]).ok_or_else(nowhere)?;
            let length = ends[0].distance(ends[1]);
            let line = Line::between(ends[0], ends[1]).filter(|_| length > TOLERANCE);
            sheet
                .lines
                .push((line.ok_or("has a sewing line of no length")?, length));
        }
        for (i, &(line, length)) in sheet.lines.iter().enumerate() {
            let sewn = sheet.before(&sheet.outline, i + 1, 0.0);
            for end in [line.at(0.0), line.at(length)] {
                if sewn.len() < 3 || beyond(sewn.distance_to_boundary(end), TOLERANCE) {
                    return Err(format!(
                        "has its sewing line {} not from edge to edge of what is sewn before the lines after it",
                        i + 1
                    ));
                }
            }
        }
        for k in 0..=sheet.lines.len() {
            if is_sliver(&sheet.area(k)) {
                return Err(format!("has nothing to show in its area {}", k + 1));
            }
        }
        Ok(sheet)
    }

    /// What of an outline lies before the lines from the given one on, each moved so far over to its own area.
    fn before(&self, outline: &Polygon, first: usize, moved: f64) -> Polygon {
        let later = self.lines.iter().skip(first);
        later.fold(outline.clone(), |o, (line, _)| {
            o.left_of(line.moved_left(moved).reversed())
        })
    }

    /// The finished area of a number.
    pub(crate) fn area(&self, number: usize) -> Polygon {
        let left = self.before(&self.outline, number, 0.0);
        match number.checked_sub(1).and_then(|line| self.lines.get(line)) {
            None => left,
            Some((line, _)) => left.left_of(*line),
        }
    }

    /// Where cloth is asked for when a line is sewn, on both its sides.
    pub(crate) fn reach(&self, line: usize) -> Polygon {
        self.before(&self.cutting, line + 1, self.seam)
    }

    /// What the piece of an area must cover.
    pub(crate) fn must(&self, area: usize) -> Polygon {
        match area
            .checked_sub(1)
            .and_then(|line| self.lines.get(line).map(|l| (line, l.0)))
        {
            None => self.before(&self.cutting, 0, self.seam),
            Some((number, line)) => self.reach(number).left_of(line),
        }
    }

    /// From where to where a line parallel to a sewing line runs through that line's reach.
    pub(crate) fn within(&self, number: usize, line: Line) -> Option<(f64, f64)> {
        stretch(self.reach(number).corners(), line).filter(|(from, to)| to - from > TOLERANCE)
    }

    /// For pictures.
    pub(crate) fn seen(&self, pieces: usize) -> PaperView {
        let line = |&(line, length): &(Line, f64)| Segment {
            from: line.at(0.0),
            to: line.at(length),
        };
        PaperView {
            name: self.name.clone(),
            cutting: self.cutting.clone(),
            areas: (0..=self.lines.len()).map(|k| self.area(k)).collect(),
            lines: self.lines.iter().map(line).collect(),
            pieces,
        }
    }

    /// The line along which the piece of an area is placed, its own area on the left, and where that line starts.
    pub(crate) fn along(&self, area: usize) -> Option<Line> {
        match (area.checked_sub(1), self.lines.first()) {
            (Some(line), _) => self.lines.get(line).map(|l| l.0),
            (None, Some(&(line, length))) => Some(Line {
                through: line.at(length),
                along: -line.along,
            }),
            (None, None) => {
                let (from, to) = self.sides.first()?[1];
                Line::between(from, to)
            }
        }
    }
}

/// Whether corners go once round, counter-clockwise, without a hollow corner.
fn is_outline(corners: &Polygon) -> bool {
    let o = corners.corner(0);
    let once = (1..corners.len() - 1).all(|i| (corners.corner(i) - o).cross(corners.corner(i + 1) - o) >= -1.0e-6);
    corners.signed_area() > 1.0e-6 && corners.is_convex(1.0e-6) && once
}

/// All papers of a plan by name, and what is wrong with any.
pub(crate) fn sheets(recipe: &Recipe, plan: &CutPlan) -> (BTreeMap<String, Option<Rc<Sheet>>>, Vec<Finding>) {
    let mut found = BTreeMap::new();
    let mut findings = Vec::new();
    for paper in &plan.papers {
        let sheet = match Sheet::of(paper, recipe.seam.inches()) {
            Ok(sheet) => Some(Rc::new(sheet)),
            Err(what) => {
                let sentence = format!("Foundation paper {} {what}.", paper.name);
                let mend = "Draw the paper anew.";
                findings.push(Finding::stop("paper-unsound", Place::Quilt, sentence, mend));
                None
            }
        };
        if found.insert(paper.name.clone(), sheet).is_some() {
            let sentence = format!("Two foundation papers are called {}.", paper.name);
            let mend = "Give each its own name.";
            findings.push(Finding::stop("paper-unsound", Place::Quilt, sentence, mend));
        }
    }
    (found, findings)
}
