//! Whether all that is printed lies on its sheet, read off the set pages: nothing past an edge, nothing into the line at the foot.

use super::BookError;
use crate::model::Book;
use typst::layout::{Frame, FrameItem, Point, Transform};

/// The line at the foot begins this far above the sheet's lower edge, points: the margin below less how far it is set down.
const FOOT: f64 = 70.0 - 26.0;
/// So much may lie over: a line's own thickness.
const NEAR: f64 = 1.0;

/// Something printed that does not lie on its sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct RunsOver {
    /// The page, counted from 1.
    pub page: usize,
    /// What it is: the words, or "picture", or "line".
    pub what: String,
    /// By how much, points.
    pub by: f64,
}

impl Book {
    /// What runs over an edge of its sheet or into the line at its foot.
    ///
    /// # Errors
    /// What the typesetter objected to.
    pub fn runs_over(&self) -> Result<Vec<RunsOver>, BookError> {
        let document = self.set()?;
        let mut found = Vec::new();
        for (number, page) in document.pages().iter().enumerate() {
            let size = page.frame.size();
            let sheet = (size.x.to_pt(), size.y.to_pt());
            look(&page.frame, Transform::identity(), &mut |what, low, high| {
                let foot = sheet.1 - FOOT;
                // What begins below is the foot itself.
                let into_foot = if low.1 < foot - NEAR { high.1 - foot } else { 0.0 };
                let by = [-low.0, -low.1, high.0 - sheet.0, high.1 - sheet.1, into_foot];
                let by = by.into_iter().fold(0.0, f64::max);
                if by > NEAR {
                    let what = what.to_string();
                    found.push(RunsOver {
                        page: number + 1,
                        what,
                        by,
                    });
                }
            });
        }
        Ok(found)
    }
}

type Corner = (f64, f64);

/// Every item of a frame with the corners of the upright rectangle round it, on the page.
fn look(frame: &Frame, onto: Transform, found: &mut impl FnMut(&str, Corner, Corner)) {
    for (at, item) in frame.items() {
        let here = onto.pre_concat(Transform::translate(at.x, at.y));
        let (what, low, size) = match item {
            FrameItem::Group(group) => {
                look(&group.frame, here.pre_concat(group.transform), found);
                continue;
            }
            FrameItem::Text(text) => {
                let rect = text.bbox();
                (text.text.as_str(), rect.min, rect.max - rect.min)
            }
            FrameItem::Shape(shape, _) => {
                let rect = shape.bbox(false);
                ("line", rect.min, rect.max - rect.min)
            }
            FrameItem::Image(_, size, _) => ("picture", Point::zero(), size.to_point()),
            FrameItem::Link(..) | FrameItem::Tag(_) => continue,
        };
        let corners = [
            low,
            low + Point::with_x(size.x),
            low + Point::with_y(size.y),
            low + size,
        ];
        let corners = corners.map(|corner| {
            let corner = corner.transform(here);
            (corner.x.to_pt(), corner.y.to_pt())
        });
        let least = |of: fn(&Corner) -> f64| corners.iter().map(of).fold(f64::MAX, f64::min);
        let most = |of: fn(&Corner) -> f64| corners.iter().map(of).fold(f64::MIN, f64::max);
        found(what, (least(|c| c.0), least(|c| c.1)), (most(|c| c.0), most(|c| c.1)));
    }
}
