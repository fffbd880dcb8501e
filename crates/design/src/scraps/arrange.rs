//! Dealing out cloths so that equal ones do not touch: an exact search that backs up when it is stuck, within a count of
//! steps; where that finds nothing, the best that mending pair by pair reaches.

use super::touching::Met;

/// More items than this are only mended pair by pair.
const MOST_ITEMS: usize = 2000;
/// How often the exact search may place a cloth.
const MOST_STEPS: usize = 40_000;
/// How often everything is gone through when mending.
const ROUNDS: usize = 60;

/// A choice of cloths.
pub(super) struct Arranged {
    /// For each item the number of its cloth.
    pub cloths: Vec<usize>,
    /// Equal pairs side by side, and at a corner only.
    pub left: (usize, usize),
    /// It is known that they cannot all be kept from lying side by side, or none is left.
    pub sure: bool,
}

enum Searched {
    Found(Vec<usize>),
    /// There is none.
    None,
    /// The steps ran out.
    Unknown,
}

struct Deal<'a> {
    domains: &'a [&'a [usize]],
    areas: &'a [f64],
    cloths: usize,
    /// For each item its neighbours, and whether side by side.
    near: Vec<Vec<(usize, bool)>>,
    seed: u64,
}

/// Deals out `cloths` cloths, each item one of its domain.
pub(super) fn arrange(domains: &[&[usize]], areas: &[f64], cloths: usize, met: &Met, seed: u64) -> Arranged {
    let mut near = vec![Vec::new(); domains.len()];
    for (&(a, b), &side) in met {
        near[a].push((b, side));
        near[b].push((a, side));
    }
    let deal = Deal {
        domains,
        areas,
        cloths,
        near,
        seed,
    };
    let small = domains.len() <= MOST_ITEMS;
    if small && let Searched::Found(cloths) = deal.search(true) {
        return deal.judged(cloths, true);
    }
    match if small { deal.search(false) } else { Searched::Unknown } {
        Searched::Found(start) => deal.judged(deal.mended(start), true),
        Searched::None => deal.judged(deal.mended(deal.dealt()), true),
        Searched::Unknown => deal.judged(deal.mended(deal.dealt()), false),
    }
}

impl Deal<'_> {
    fn judged(&self, cloths: Vec<usize>, sure: bool) -> Arranged {
        let left = self.left(&cloths);
        Arranged {
            sure: sure || left.0 == 0,
            cloths,
            left,
        }
    }

    fn left(&self, cloths: &[usize]) -> (usize, usize) {
        let mut left = (0, 0);
        for (i, near) in self.near.iter().enumerate() {
            for &(j, side) in near.iter().filter(|n| n.0 > i && cloths[n.0] == cloths[i]) {
                if side {
                    left.0 += 1;
                } else {
                    debug_assert!(j > i);
                    left.1 += 1;
                }
            }
        }
        left
    }

    /// A number that looks thrown, always the same for the same item, cloth and round.
    fn thrown(&self, item: usize, cloth: usize, round: usize) -> u64 {
        let mut z = self.seed ^ ((item as u64) << 32) ^ ((cloth as u64) << 16) ^ round as u64;
        // The finaliser of SplitMix64 (Steele, Lea and Flood 2014).
        z = z.wrapping_add(0x9e37_79b9_7f4a_7c15);
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Least used cloth first, then as thrown.
    fn in_turn(&self, item: usize, used: &[f64]) -> Vec<usize> {
        let mut order = self.domains[item].to_vec();
        let rank = |c: usize| self.thrown(item, c, 0);
        order.sort_by(|&a, &b| used[a].total_cmp(&used[b]).then(rank(a).cmp(&rank(b))));
        order
    }

    /// Every item a cloth that no neighbour has; neighbours at corners count when `corners`. The item with the fewest
    /// cloths left goes next (Brélaz 1979).
    fn search(&self, corners: bool) -> Searched {
        let n = self.domains.len();
        let mut cloths: Vec<Option<usize>> = vec![None; n];
        let mut taken = vec![vec![0_u32; self.cloths]; n];
        let mut used = vec![0.0; self.cloths];
        let mut stack: Vec<(usize, Vec<usize>, usize)> = Vec::new();
        let mut steps = 0;
        let next = |cloths: &[Option<usize>], taken: &[Vec<u32>]| {
            (0..n).filter(|&i| cloths[i].is_none()).min_by_key(|&i| {
                let free = self.domains[i].iter().filter(|&&c| taken[i][c] == 0).count();
                (free, usize::MAX - self.near[i].len(), i)
            })
        };
        match next(&cloths, &taken) {
            Some(first) => stack.push((first, self.in_turn(first, &used), 0)),
            None => return Searched::Found(Vec::new()),
        }
        while let Some((item, order, at)) = stack.last_mut() {
            let item = *item;
            let counted = |near: &&(usize, bool)| corners || near.1;
            if let Some(old) = cloths[item].take() {
                used[old] -= self.areas[item];
                self.near[item]
                    .iter()
                    .filter(counted)
                    .for_each(|&(j, _)| taken[j][old] -= 1);
            }
            let Some(to) = (*at..order.len()).find(|&k| taken[item][order[k]] == 0) else {
                stack.pop();
                continue;
            };
            let cloth = order[to];
            *at = to + 1;
            steps += 1;
            if steps > MOST_STEPS {
                return Searched::Unknown;
            }
            cloths[item] = Some(cloth);
            used[cloth] += self.areas[item];
            self.near[item]
                .iter()
                .filter(counted)
                .for_each(|&(j, _)| taken[j][cloth] += 1);
            match next(&cloths, &taken) {
                Some(after) => stack.push((after, self.in_turn(after, &used), 0)),
                None => return Searched::Found(cloths.into_iter().flatten().collect()),
            }
        }
        Searched::None
    }

    /// In the order of the top, each the cloth that hurts least.
    fn dealt(&self) -> Vec<usize> {
        let mut cloths: Vec<usize> = vec![usize::MAX; self.domains.len()];
        let mut used = vec![0.0; self.cloths];
        for item in 0..cloths.len() {
            let order = self.in_turn(item, &used);
            if let Some(cloth) = order.into_iter().min_by_key(|&c| self.hurt(&cloths, item, c)) {
                cloths[item] = cloth;
                used[cloth] += self.areas[item];
            }
        }
        cloths
    }

    fn hurt(&self, cloths: &[usize], item: usize, cloth: usize) -> (usize, usize) {
        let mut hurt = (0, 0);
        for &(j, side) in self.near[item].iter().filter(|n| cloths[n.0] == cloth) {
            if side {
                hurt.0 += 1;
            } else {
                debug_assert!(j != item);
                hurt.1 += 1;
            }
        }
        hurt
    }

    /// Again and again, whatever touches its like takes the cloth that hurts least; of all rounds the best.
    fn mended(&self, start: Vec<usize>) -> Vec<usize> {
        let mut cloths = start;
        let mut best = (self.left(&cloths), cloths.clone());
        for round in 1..=ROUNDS {
            if best.0 == (0, 0) {
                break;
            }
            for item in 0..cloths.len() {
                if self.hurt(&cloths, item, cloths[item]) == (0, 0) {
                    continue;
                }
                let choice = (self.domains[item].iter())
                    .min_by_key(|&&c| (self.hurt(&cloths, item, c), self.thrown(item, c, round)));
                if let Some(&cloth) = choice {
                    cloths[item] = cloth;
                }
            }
            let left = self.left(&cloths);
            if left < best.0 {
                best = (left, cloths.clone());
            }
        }
        best.1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn board(across: usize, down: usize) -> Met {
        let mut met = Met::new();
        for y in 0..down {
            for x in 0..across {
                let here = y * across + x;
                for (dx, dy, side) in [(1_isize, 0, true), (0, 1, true), (1, 1, false), (-1, 1, false)] {
                    let there = x as isize + dx;
                    if there >= 0 && there < across as isize && y + dy < down {
                        met.insert((here, (y + dy) * across + there as usize), side);
                    }
                }
            }
        }
        met
    }

    fn left(across: usize, down: usize, cloths: usize) -> Arranged {
        let all: Vec<usize> = (0..cloths).collect();
        let domains = vec![all.as_slice(); across * down];
        let areas = vec![1.0; across * down];
        arrange(&domains, &areas, cloths, &board(across, down), 7)
    }

    #[test]
    fn four_cloths_part_all_squares_of_a_board() {
        // derived: four squares that meet at a corner all touch one another, so three cloths cannot do, and four can in
        // two pairs of alternate rows.
        let four = left(9, 8, 4);
        assert_eq!(four.left, (0, 0));
        let three = left(9, 8, 3);
        assert_eq!(three.left.0, 0);
        assert!(three.left.1 > 0);
        // Two cloths: a chequerboard, in which every diagonal pair is equal: 2 (across - 1) (down - 1).
        let two = left(5, 4, 2);
        assert_eq!(two.left, (0, 24));
        // derived: of one cloth every pair side by side is equal: 4 * 4 + 5 * 3
        let one = left(5, 4, 1);
        assert_eq!(one.left, (31, 24));
        assert!(one.sure);
    }

    #[test]
    fn all_are_used_about_alike_and_always_the_same_way() {
        let five = left(10, 10, 5);
        assert_eq!(five.left, (0, 0));
        for cloth in 0..5 {
            let n = five.cloths.iter().filter(|&&c| c == cloth).count();
            assert!((15..=25).contains(&n), "{n}");
        }
        assert_eq!(five.cloths, left(10, 10, 5).cloths);
    }

    #[test]
    fn many_are_mended_well() {
        let many = left(60, 60, 6);
        assert_eq!(many.left.0, 0);
        assert!(many.left.1 < 20, "{:?}", many.left);
    }
}
