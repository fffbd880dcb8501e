//! Patches laid on a block's ground: round, pointed, hollow, curved, level with the block's edge, one under another.

use super::author::{Author, FABRICS};
use super::outlines::Corner;
use std::fmt::Write as _;

/// No patch is less than so far across, inches; what is smaller cannot be turned under.
const SMALLEST: f64 = 0.75;

/// Turned under is 3/16 in where the file says nothing; a patch within a block keeps so far from its sides, or lies on one.
const MARGIN: f64 = 1.0 / 16.0;

/// The box that a shape fills.
#[derive(Clone, Copy)]
struct Place {
    middle: Corner,
    /// Half its width and half its height.
    half: (f64, f64),
}

impl Author {
    /// Up to four patches for a block of that size, as lines of the file.
    pub(super) fn laid(&mut self, width: f64, height: f64) -> String {
        let mut text = String::new();
        if width.min(height) < SMALLEST + 2.0 * MARGIN {
            return text;
        }
        let mut last: Option<Place> = None;
        for _ in 0..1 + self.chance.below(4) {
            // Every second one lies partly on the one before, which is then left flat beneath it.
            let near = last.filter(|_| self.chance.below(2) == 0);
            let path = match self.chance.below(6) {
                0 => self.on_a_side(width, height),
                1 => self.in_a_corner(width, height),
                _ => {
                    let place = self.place(width, height, near);
                    last = Some(place);
                    self.shape(place)
                }
            };
            let fabric = FABRICS[self.chance.below(FABRICS.len())].0;
            let edge = ["", ", edge = \"raw\"", ", edge = \"turned\""][self.chance.below(3)];
            let _ = writeln!(
                text,
                "  {{ fabric = \"{fabric}\", on = \"ground\"{edge}, path = \"{path}\" }},"
            );
        }
        text
    }

    /// A box within the block, about the side of another where one is given.
    fn place(&mut self, width: f64, height: f64, near: Option<Place>) -> Place {
        let room = |size: f64| size / 2.0 - MARGIN;
        // Often as small as can be.
        let small = self.chance.below(3) == 0;
        let mut half = |size: f64| {
            let (least, most) = (SMALLEST / 2.0, room(size));
            let share = if small { 0.0 } else { self.chance.share() };
            least + share * (most - least)
        };
        let half = (half(width), half(height));
        let mut at = |size: f64, half: f64, near: Option<(f64, f64)>| {
            let (low, high) = (MARGIN + half, size - MARGIN - half);
            let wanted = match near {
                Some((middle, reach)) => middle + reach * (2.0 * self.chance.share() - 1.0),
                None => low + (high - low) * self.chance.share(),
            };
            wanted.clamp(low.min(high), high)
        };
        let x = at(width, half.0, near.map(|n| (n.middle.0, n.half.0)));
        let y = at(height, half.1, near.map(|n| (n.middle.1, n.half.1)));
        Place { middle: (x, y), half }
    }

    /// A shape that fills a box.
    fn shape(&mut self, place: Place) -> String {
        let Place {
            middle: (x, y),
            half: (a, b),
        } = place;
        let at = |u: f64, v: f64| format!("{:.5} {:.5}", x + u * a, y + v * b);
        match self.chance.below(7) {
            0 => format!(
                "M{} A{a:.5} {b:.5} 0 0 1 {} A{a:.5} {b:.5} 0 0 1 {} Z",
                at(-1.0, 0.0),
                at(1.0, 0.0),
                at(-1.0, 0.0)
            ),
            // A leaf, unlike its mirror image.
            1 => format!(
                "M{} C{} {} {} C{} {} {} Z",
                at(-1.0, 1.0),
                at(-0.9, 0.0),
                at(-0.2, -0.8),
                at(1.0, -1.0),
                at(0.9, 0.3),
                at(0.5, 0.8),
                at(-1.0, 1.0)
            ),
            // A heart.
            2 => format!(
                "M{} C{} {} {} C{} {} {} C{} {} {} C{} {} {} Z",
                at(0.0, 1.0),
                at(-0.6, 0.5),
                at(-1.0, 0.1),
                at(-1.0, -0.4),
                at(-1.0, -1.0),
                at(-0.3, -1.2),
                at(0.0, -0.5),
                at(0.3, -1.2),
                at(1.0, -1.0),
                at(1.0, -0.4),
                at(1.0, 0.1),
                at(0.6, 0.5),
                at(0.0, 1.0)
            ),
            // A star, hollow between its points.
            3 => {
                let points = 4 + self.chance.below(5);
                let deep = 0.5 + 0.25 * self.chance.share();
                let start = self.chance.share() * std::f64::consts::TAU;
                let corners = (0..2 * points).map(|i| {
                    let angle = start + std::f64::consts::PI * i as f64 / points as f64;
                    let reach = if i % 2 == 0 { 1.0 } else { deep };
                    (reach * libm::cos(angle), reach * libm::sin(angle))
                });
                straight(corners, at)
            }
            // A regular outline, leaning.
            4 => {
                let corners = 3 + self.chance.below(6);
                let start = self.chance.share() * std::f64::consts::TAU;
                let corners = (0..corners).map(|i| {
                    let angle = start + std::f64::consts::TAU * i as f64 / corners as f64;
                    (libm::cos(angle), libm::sin(angle))
                });
                straight(corners, at)
            }
            // An L.
            5 => {
                let (u, v) = (0.2 - 0.4 * self.chance.share(), 0.2 - 0.4 * self.chance.share());
                let corners = [(-1.0, -1.0), (u, -1.0), (u, v), (1.0, v), (1.0, 1.0), (-1.0, 1.0)];
                straight(corners.into_iter(), at)
            }
            _ => straight([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].into_iter(), at),
        }
    }

    /// Level with one side of the block, or a band from side to side.
    fn on_a_side(&mut self, width: f64, height: f64) -> String {
        let from = MARGIN + self.chance.share() * (width - 2.0 * MARGIN - SMALLEST);
        let wide = SMALLEST + self.chance.share() * (width - MARGIN - from - SMALLEST);
        let to = from + wide;
        let low = SMALLEST + self.chance.share() * (height - MARGIN - SMALLEST);
        let at = |x: f64, y: f64| format!("{x:.5} {y:.5}");
        match self.chance.below(4) {
            // Half an ellipse.
            0 => {
                let (a, b) = (wide / 2.0, low);
                format!("M{} A{a:.5} {b:.5} 0 0 0 {} Z", at(from, 0.0), at(to, 0.0))
            }
            1 => format!(
                "M{} L{} L{} L{} Z",
                at(from, 0.0),
                at(to, 0.0),
                at(to, low),
                at(from, low)
            ),
            // On the right side, a point toward the middle.
            2 => {
                let tall = (height - 2.0 * MARGIN).min(wide.max(SMALLEST));
                format!(
                    "M{} L{} L{} Z",
                    at(width, MARGIN),
                    at(width, MARGIN + tall),
                    at(width / 2.0, MARGIN + tall / 2.0)
                )
            }
            _ => format!(
                "M{} L{} L{} L{} Z",
                at(from, 0.0),
                at(to, 0.0),
                at(to, height),
                at(from, height)
            ),
        }
    }

    /// Level with two sides that meet.
    fn in_a_corner(&mut self, width: f64, height: f64) -> String {
        let most = width.min(height) - MARGIN;
        let r = SMALLEST + self.chance.share() * (most - SMALLEST);
        let at = |x: f64, y: f64| format!("{x:.5} {y:.5}");
        match self.chance.below(3) {
            0 => format!(
                "M{} L{} A{r:.5} {r:.5} 0 0 1 {} Z",
                at(0.0, 0.0),
                at(r, 0.0),
                at(0.0, r)
            ),
            1 => format!(
                "M{} L{} L{} Z",
                at(width, height),
                at(width - r, height),
                at(width, height - r)
            ),
            _ => format!(
                "M{} L{} L{} L{} Z",
                at(0.0, height),
                at(0.0, height - r),
                at(r, height - r),
                at(r, height)
            ),
        }
    }
}

fn straight(corners: impl Iterator<Item = Corner>, at: impl Fn(f64, f64) -> String) -> String {
    let places: Vec<String> = corners.map(|(u, v)| at(u, v)).collect();
    format!("M{} Z", places.join(" L"))
}
