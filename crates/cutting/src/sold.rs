//! Cloth sold cut: fat quarters, fat eighths, strips, squares. The packed strips go one above another into pieces of one
//! size, as few as are found; pieces that are cut alike are a lot.
//!
//! Two ways are tried, and the one with fewer pieces is taken: into each piece the highest strips that still fit (*first fit,
//! decreasing*); or the highest strip that is left and beside it the strips that fill the piece best, by a table over the raster of
//! all heights. Neither promises the fewest there could be; the bound beside the figure says how far off it may be.

use crate::fill::gcd;
use std::cmp::Reverse;

/// Strips of one height that are to be cut: how high, and how many.
pub(crate) type Heights = Vec<(i64, u32)>;

/// Pieces of cloth that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Lot {
    /// How many.
    pub count: u32,
    /// Which of the strips are cut from each, by their place in the list, and how many.
    pub strips: Vec<(usize, u32)>,
}

/// The finest raster on which the best filling is looked for.
const FINEST: i64 = 4096;

/// The strips laid into pieces that have so much room along the selvedge. Strips higher than the room are left out.
pub(crate) fn lots(strips: &[(i64, u32)], room: i64) -> Vec<Lot> {
    let highest = filled(strips, room, highest_first);
    let fullest = filled(strips, room, fullest);
    let order = |lots: &[Lot]| (pieces(lots), lots.len());
    if order(&fullest) < order(&highest) {
        fullest
    } else {
        highest
    }
}

/// How many pieces the lots are.
pub(crate) fn pieces(lots: &[Lot]) -> u64 {
    lots.iter().map(|lot| u64::from(lot.count)).sum()
}

/// What goes into one piece: places in the list and how many of each, from the strips that are left in order of height.
type Filling = fn(&[(usize, i64, u32)], i64) -> Vec<(usize, u32)>;

fn filled(strips: &[(i64, u32)], room: i64, filling: Filling) -> Vec<Lot> {
    let mut left: Vec<(usize, i64, u32)> = strips
        .iter()
        .enumerate()
        .map(|(index, &(height, count))| (index, height, count))
        .filter(|(_, height, _)| (1..=room).contains(height))
        .collect();
    left.sort_by_key(|&(index, height, _)| (Reverse(height), index));
    let mut lots = Vec::new();
    loop {
        left.retain(|(_, _, count)| *count > 0);
        if left.is_empty() {
            return lots;
        }
        let mut into = filling(&left, room);
        if into.is_empty() {
            // The highest alone always fits; this keeps the loop finite all the same.
            into = vec![(left[0].0, 1)];
        }
        let there = |index: usize| {
            left.iter()
                .find(|(i, ..)| *i == index)
                .map_or(0, |(_, _, count)| *count)
        };
        let count = into
            .iter()
            .map(|&(index, n)| there(index) / n.max(1))
            .min()
            .unwrap_or(1)
            .max(1);
        for (index, _, rest) in &mut left {
            let taken: u32 = into.iter().filter(|(i, _)| i == index).map(|(_, n)| n * count).sum();
            *rest -= taken.min(*rest);
        }
        into.sort_unstable();
        lots.push(Lot { count, strips: into });
    }
}

fn highest_first(left: &[(usize, i64, u32)], room: i64) -> Vec<(usize, u32)> {
    let mut free = room;
    let mut into = Vec::new();
    for &(index, height, count) in left {
        let fit = u32::try_from(free / height).unwrap_or(u32::MAX).min(count);
        if fit > 0 {
            free -= height * i64::from(fit);
            into.push((index, fit));
        }
    }
    into
}

/// The highest that is left, and what fills the room beside it best; of equals what holds the higher strips.
fn fullest(left: &[(usize, i64, u32)], room: i64) -> Vec<(usize, u32)> {
    let Some(&(first, high, _)) = left.first() else {
        return Vec::new();
    };
    let free = room - high;
    let raster = left.iter().fold(0, |a, (_, height, _)| gcd(a, *height));
    if raster == 0 || free / raster > FINEST {
        return highest_first(left, room);
    }
    let Ok(cells) = usize::try_from(free / raster) else {
        return highest_first(left, room);
    };
    // For every height that can be reached the strip it is reached by, and how many of that; the highest strips come first.
    let mut reached: Vec<Option<(usize, u32)>> = vec![None; cells + 1];
    reached[0] = Some((usize::MAX, 0));
    for (k, &(_, height, count)) in left.iter().enumerate() {
        let count = if k == 0 { count - 1 } else { count };
        let Ok(step) = usize::try_from(height / raster) else {
            continue;
        };
        for cell in step..=cells {
            if reached[cell].is_some() {
                continue;
            }
            let many = match reached[cell - step] {
                Some((by, many)) if by == k => many + 1,
                Some(_) => 1,
                None => continue,
            };
            if many <= count {
                reached[cell] = Some((k, many));
            }
        }
    }
    let mut into = vec![(first, 1)];
    let mut cell = (0..=cells).rev().find(|cell| reached[*cell].is_some()).unwrap_or(0);
    while let Some((k, many)) = reached[cell].filter(|(_, many)| *many > 0) {
        let (index, height, _) = left[k];
        match into.iter_mut().find(|(known, _)| *known == index) {
            Some((_, count)) => *count += many,
            None => into.push((index, many)),
        }
        cell -= usize::try_from(height / raster).unwrap_or(0) * many as usize;
    }
    into
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(lots: &[Lot], strips: usize) -> Vec<u32> {
        let mut counts = vec![0; strips];
        for lot in lots {
            for &(index, n) in &lot.strips {
                counts[index] += n * lot.count;
            }
        }
        counts
    }

    #[test]
    fn alike_pieces_are_one_lot() {
        // *derived*: 18 high, strips of 2 1/2 (in eighths): seven to a piece, so sixteen take three
        let lots = lots(&[(20, 16)], 144);
        assert_eq!(pieces(&lots), 3);
        assert_eq!(
            lots[0],
            Lot {
                count: 2,
                strips: vec![(0, 7)]
            }
        );
        assert_eq!(cut(&lots, 1), [16]);
    }

    #[test]
    fn the_filling_that_leaves_nothing_is_found() {
        // *derived*: 6, 4, 4, 3, 3 fill two pieces of 10 as 6 + 4 and 4 + 3 + 3
        let strips = [(6, 1), (4, 2), (3, 2)];
        assert_eq!(pieces(&lots(&strips, 10)), 2);
        // *derived*: of 7, 6, 4, 3 (twice each) in pieces of 10 every piece is full: 7 + 3 twice and 6 + 4 twice
        assert_eq!(pieces(&lots(&[(3, 2), (4, 2), (6, 2), (7, 2)], 10)), 4);
        // *derived*: 5, 4 and thrice 3 in 9: the highest first gives 5 + 4 and 3 + 3 + 3
        assert_eq!(pieces(&lots(&[(5, 1), (4, 1), (3, 3)], 9)), 2);
        // *derived*: 10 10 9 9 8 7 4 3 in 20 are three full pieces (10 10, 9 8 3, 9 7 4); the highest first takes 10 10, 9 9,
        // 8 7 4 and 3
        let strips = [(10, 2), (9, 2), (8, 1), (7, 1), (4, 1), (3, 1)];
        assert_eq!(pieces(&filled(&strips, 20, highest_first)), 4);
        assert_eq!(pieces(&lots(&strips, 20)), 3);
    }

    #[test]
    fn every_strip_is_cut_once_and_no_piece_is_overfull() {
        let mut seed = 7_u64;
        let mut next = |n: u64| {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) % n
        };
        for _ in 0..500 {
            let strips: Vec<(i64, u32)> = (0..=next(6))
                .map(|_| (1 + next(30) as i64, 1 + next(9) as u32))
                .collect();
            let lots = lots(&strips, 30);
            assert_eq!(cut(&lots, strips.len()), strips.iter().map(|s| s.1).collect::<Vec<_>>());
            for lot in &lots {
                let high: i64 = lot.strips.iter().map(|&(i, n)| strips[i].0 * i64::from(n)).sum();
                assert!(high <= 30, "{strips:?}");
            }
        }
    }
}
