//! What is left of a strip, cut into lower strips one above the other.

use crate::fill::gcd;
use crate::pack::{Manner, Order, Packer, Row, Shelf};

/// Above this many different heights, what is left is filled with the tallest first whatever the order asked for:
/// looking at every height for every rest would take too long.
const MANY_HEIGHTS: usize = 60;

/// The finest raster of heights on which strips are stacked.
const FINEST: i64 = 2048;

impl Packer<'_> {
    /// Strips one above the other in what is left of a strip.
    pub fn rest(&mut self, height: i64, width: i64, manner: Manner, depth: u8) -> Vec<Row> {
        // Taken out for the while, so that rows can be packed in the meantime; deeper rests get a copy.
        let shelves = std::mem::take(&mut self.shelves);
        let order = if shelves.len() > MANY_HEIGHTS {
            Order::Tallest
        } else {
            manner.order
        };
        let mut rows = Vec::new();
        let mut free = height;
        loop {
            let next = match order {
                Order::Tallest => self.tallest(&shelves, free, width, manner.fullest),
                Order::MostCloth => self.most_cloth(&shelves, free, width, manner.fullest),
                Order::Stacked => self.stacked(&shelves, free, width, manner.fullest),
            };
            let Some((index, times)) = next else { break };
            let (low, lies) = &shelves[index];
            if depth > 0 {
                self.shelves.clone_from(&shelves);
            }
            let Some(row) = self.row((*low, lies), width, times, manner, depth) else {
                break;
            };
            free -= low * i64::from(row.times);
            rows.push(row);
        }
        self.shelves = shelves;
        rows
    }

    /// The tallest shelf with something that fits, and how often it fits.
    fn tallest(&self, shelves: &[Shelf], free: i64, width: i64, fullest: bool) -> Option<(usize, u32)> {
        let fits = |(height, lies): &Shelf| {
            *height <= free
                && lies
                    .iter()
                    .any(|lie| self.left[lie.part] > 0 && (lie.length <= width || self.parts[lie.part].slant.is_some()))
                && !self.fill(lies, width, fullest).0.is_empty()
        };
        let index = shelves.iter().position(fits)?;
        Some((index, often(free, shelves[index].0)))
    }

    /// The shelf of which one strip holds the most cloth; of equals the tallest.
    fn most_cloth(&self, shelves: &[Shelf], free: i64, width: i64, fullest: bool) -> Option<(usize, u32)> {
        let mut best = None;
        let mut most = 0;
        for (index, (height, lies)) in shelves.iter().enumerate().filter(|(_, shelf)| shelf.0 <= free) {
            let cloth = i128::from(*height) * i128::from(self.fill(lies, width, fullest).1);
            if cloth > most {
                (most, best) = (cloth, Some((index, often(free, *height))));
            }
        }
        best
    }

    /// The tallest shelf of the stack that holds the most cloth in all, and how often it stands in that stack: by a
    /// table over the raster of all heights. A part that stands on two shelves is counted on both, so the stack is
    /// worked out anew after each row.
    fn stacked(&self, shelves: &[Shelf], free: i64, width: i64, fullest: bool) -> Option<(usize, u32)> {
        let mut open: Vec<(usize, i64, i128, i64)> = Vec::new();
        for (index, (height, lies)) in shelves.iter().enumerate().filter(|(_, shelf)| shelf.0 <= free) {
            let (taken, used) = self.fill(lies, width, fullest);
            let times = taken.iter().map(|(lie, count)| self.left[lie.part] / count).min();
            if let Some(times) = times.filter(|times| *times > 0) {
                let times = i64::from(times).min(free / height);
                open.push((index, *height, i128::from(*height) * i128::from(used), times));
            }
        }
        let raster = open.iter().fold(0, |a, (_, height, ..)| gcd(a, *height));
        if raster == 0 || free / raster > FINEST {
            return self.most_cloth(shelves, free, width, fullest);
        }
        let cells = usize::try_from(free / raster).ok()?;
        // The most cloth in so much height, and how often each shelf stands in it.
        let mut most: Vec<i128> = vec![0; cells + 1];
        let mut stands: Vec<Vec<u32>> = Vec::new();
        for (_, height, cloth, times) in &open {
            let step = usize::try_from(height / raster).ok()?;
            let mut often = vec![0u32; cells + 1];
            let earlier = most.clone();
            for cell in step..=cells {
                for count in 1..=usize::try_from(*times).ok()?.min(cell / step) {
                    let value = earlier[cell - count * step] + cloth * count as i128;
                    if value > most[cell] {
                        (most[cell], often[cell]) = (value, count as u32);
                    }
                }
            }
            stands.push(often);
        }
        let mut cell = cells;
        let mut found = None;
        for ((index, height, ..), often) in open.iter().zip(&stands).rev() {
            let count = often[cell];
            if count > 0 {
                found = Some((*index, count));
                cell -= count as usize * usize::try_from(height / raster).ok()?;
            }
        }
        found
    }
}

fn often(free: i64, height: i64) -> u32 {
    u32::try_from(free / height).unwrap_or(u32::MAX)
}
