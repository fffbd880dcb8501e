//! Cards for mosaics at true scale, as many to a sheet as fit, seen from behind.

use super::canvas::{Anchor, Canvas, INK, Lettering, Pen, View};
use super::template::{BELOW, INCH, THREE, square};
use crate::model::{Paper, Picture};
use shape::{Motion, Point, Polygon};

/// Height of the page kept for margins, head, words and foot, points.
const KEPT: f64 = 260.0;

/// Between one card and the next, points.
const GAP: f64 = 7.0;

/// A kind of card.
pub(crate) struct Card {
    name: String,
    /// As it is printed: from behind, its lower left corner at the origin.
    outline: Polygon,
    /// For each side of the outline as printed whether it is left flat.
    flat: Vec<bool>,
    count: u32,
}

impl Card {
    /// As printed.
    pub(crate) fn of(card: &recipe::Card) -> Self {
        let n = card.corners.len();
        // From behind the corners go round the other way: told from the last, they go counter-clockwise again.
        let corners: Vec<Point> = (card.corners.iter().rev())
            .map(|c| Point::new(-c.right.to_inches(), c.up.to_inches()))
            .collect();
        let outline = Polygon::new(corners);
        let (low, _) = outline.bounds();
        // Side i as printed runs from corner n - 1 - i to the one before it: that is side n - 2 - i.
        let side = |i: usize| (2 * n - 2 - i) % n;
        Card {
            name: card.name.clone(),
            outline: Motion::slide(Point::ORIGIN - low).polygon(&outline),
            flat: (0..n).map(|i| card.flat.contains(&(side(i) as u32))).collect(),
            count: card.cut,
        }
    }

    fn size(&self) -> (f64, f64) {
        let (_, high) = self.outline.bounds();
        (high.x * INCH, high.y * INCH)
    }
}

/// The sheets; `None` where a card is larger than a sheet.
pub(crate) fn card_pages(cards: &[Card], paper: Paper) -> Option<Vec<Picture>> {
    let (wide, tall) = (paper.text_width(), paper.points().1 - KEPT - BELOW);
    let mut pages: Vec<Vec<(&Card, f64, f64)>> = vec![Vec::new()];
    let (mut x, mut y, mut row) = (0.0, 0.0, 0.0f64);
    for card in cards {
        let (w, h) = card.size();
        if w > wide - 4.0 || h > tall - 4.0 {
            return None;
        }
        for _ in 0..card.count {
            if x + w > wide - 4.0 {
                (x, y, row) = (0.0, y + row + GAP, 0.0);
            }
            if y + h > tall - 4.0 {
                pages.push(Vec::new());
                (x, y, row) = (0.0, 0.0, 0.0);
            }
            if let Some(page) = pages.last_mut() {
                page.push((card, x, y));
            }
            x += w + GAP;
            row = row.max(h);
        }
    }
    let many = pages.len();
    Some(
        pages
            .iter()
            .enumerate()
            .map(|(i, page)| sheet(page, wide, i, many))
            .collect(),
    )
}

fn sheet(cards: &[(&Card, f64, f64)], wide: f64, number: usize, many: usize) -> Picture {
    let deep = cards.iter().map(|(c, _, y)| y + c.size().1).fold(0.0, f64::max) + 4.0;
    let mut canvas = Canvas::true_scale(wide, deep + BELOW);
    for (card, x, y) in cards {
        let view = View {
            turn: Motion::STILL,
            scale: INCH,
            low: Point::ORIGIN,
            origin: (x + 2.0, y + 2.0 + card.size().1),
        };
        canvas.outline(&view.all(&card.outline), "#FFFFFF", Some(Pen::CUT));
        for i in (0..card.flat.len()).filter(|&i| card.flat[i]) {
            let Some(edge) = card.outline.edge(i) else { continue };
            let length = card.outline.corner(i).distance(card.outline.corner(i + 1));
            let inside = edge.moved_left(0.07);
            let inset = (length / 5.0).min(0.15);
            canvas.line(
                view.at(inside.at(inset)),
                view.at(inside.at(length - inset)),
                Pen::STITCH,
            );
        }
        let middle = card.outline.centroid();
        let room = card.outline.distance_to_boundary(middle) * INCH;
        let words = Lettering {
            size: (room * 0.8).clamp(6.0, 15.0),
            color: INK,
            bold: true,
            anchor: Anchor::Middle,
            turned: false,
        };
        canvas.centred(view.at(middle), &card.name, words);
    }
    square(&mut canvas, 8.0, deep + 18.0, INCH, "1 in");
    square(&mut canvas, 8.0 + INCH + 18.0, deep + 18.0, THREE * INCH, "3 cm");
    let part = if many > 1 {
        format!(", sheet {} of {many}", number + 1)
    } else {
        String::new()
    };
    canvas.finish(format!(
        "Cards{part}, at true scale, with test squares of 1 in and 3 cm"
    ))
}
