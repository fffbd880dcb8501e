//! What goes side by side into one strip.

use crate::pack::{Lie, Packer, Taken};
use crate::slant::Laid;

/// The finest raster on which the fullest filling is looked for, and the most work for one strip.
const FINEST: i64 = 8192;
const MOST_WORK: usize = 400_000;

impl Packer<'_> {
    /// What goes into a strip of these items' height: slanted ones are counted first, since they cannot lie anywhere
    /// but in a strip of their height with a squared beginning, and are named last, since upright ones come first
    /// along the strip. The second value is how far the last cut reaches.
    pub fn fill(&self, lies: &[Lie], width: i64, fullest: bool) -> Taken {
        let (mut foot, mut head) = (0, 0);
        let mut slanted: Vec<(Lie, u32)> = Vec::new();
        for lie in lies {
            let Some(slant) = self.parts[lie.part].slant else {
                continue;
            };
            let count = slant.most(self.left[lie.part], foot, head, width);
            if count > 0 {
                let Laid {
                    foot: by_foot,
                    head: by_head,
                    ..
                } = slant.lay(count, head - foot);
                (foot, head) = (foot + by_foot, head + by_head);
                slanted.push((*lie, count));
            }
        }
        let space = width - foot.max(head);
        // A part that may lie two ways of one height does not exist, so every part is at most once among these.
        let upright: Vec<Lie> = lies
            .iter()
            .filter(|lie| self.parts[lie.part].slant.is_none() && self.left[lie.part] > 0 && lie.length <= space)
            .copied()
            .collect();
        let mut taken = self.longest_first(&upright, space);
        if fullest && upright.len() > 1 {
            let reach = |taken: &[(Lie, u32)]| taken.iter().map(|(lie, n)| lie.length * i64::from(*n)).sum::<i64>();
            if let Some(full) = self.fullest(&upright, space)
                && reach(&full) > reach(&taken)
            {
                taken = full;
            }
        }
        let upright: i64 = taken.iter().map(|(lie, count)| lie.length * i64::from(*count)).sum();
        taken.extend(slanted);
        (taken, upright + foot.max(head))
    }

    fn longest_first(&self, upright: &[Lie], mut space: i64) -> Vec<(Lie, u32)> {
        let mut taken = Vec::new();
        for lie in upright {
            let count = u32::try_from(space / lie.length)
                .unwrap_or(u32::MAX)
                .min(self.left[lie.part]);
            if count > 0 {
                space -= lie.length * i64::from(count);
                taken.push((*lie, count));
            }
        }
        taken
    }

    /// The filling that leaves the least, by a table over the raster that all lengths lie on: for every length the
    /// first of the kinds, longest first, with which it can be reached, and how many of that kind. `None` where the
    /// raster is too fine.
    fn fullest(&self, upright: &[Lie], space: i64) -> Option<Vec<(Lie, u32)>> {
        let raster = upright.iter().fold(0, |a, lie| gcd(a, lie.length));
        let cells = space / raster;
        if cells > FINEST || usize::try_from(cells).ok()? * upright.len() > MOST_WORK {
            return None;
        }
        let cells = usize::try_from(cells).ok()?;
        let mut reached: Vec<Option<(usize, u32)>> = vec![None; cells + 1];
        reached[0] = Some((usize::MAX, 0));
        for (index, lie) in upright.iter().enumerate() {
            let step = usize::try_from(lie.length / raster).ok()?;
            let mut most = 0;
            for cell in step..=cells {
                if reached[cell].is_some() {
                    continue;
                }
                let count = match reached[cell - step] {
                    Some((by, count)) if by == index => count + 1,
                    Some(_) => 1,
                    None => continue,
                };
                if count <= self.left[lie.part] {
                    reached[cell] = Some((index, count));
                    most = cell;
                }
            }
            if most == cells {
                break;
            }
        }
        let mut cell = (0..=cells).rev().find(|cell| reached[*cell].is_some())?;
        let mut taken = Vec::new();
        while let Some((index, count)) = reached[cell].filter(|(_, count)| *count > 0) {
            let lie = upright[index];
            taken.push((lie, count));
            cell -= usize::try_from(lie.length / raster).ok()? * count as usize;
        }
        taken.reverse();
        Some(taken)
    }
}

/// The largest number that divides both.
pub(crate) fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
