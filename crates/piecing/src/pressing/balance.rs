//! Balance: seams set against one another so that as many meetings as possible nest, and a proof of how many can.
//!
//! Each seam goes as it was first set (1) or turned round (-1); each meeting wants two seams alike or unlike. A seam
//! with one or two meetings left is settled exactly by its neighbours, so it is set aside (two meetings in series are
//! one, as frequent as the rarer). What is left is set by parity along the most frequent meetings and bettered seam by
//! seam; groups of up to [`EXACT_SEAMS`] seams are then searched by branch and bound, [`STEPS`] steps for all together.
//! Beyond that the bound is a packing of odd rings that share no meeting: at least one meeting of each cannot nest.

use std::collections::{BTreeMap, VecDeque};

/// Groups of up to so many seams, none with fewer than three neighbours, are searched exactly.
const EXACT_SEAMS: usize = 40;

/// Steps of the exact search, all groups together.
const STEPS: u32 = 1 << 18;

/// Rounds of bettering seam by seam.
const ROUNDS: usize = 64;

/// How many seams are looked at to close one odd ring.
const RING_REACH: usize = 512;

/// Seams and how often they want to go alike (above zero) or unlike (below), nothing where it comes out even.
#[derive(Debug, Default)]
pub struct Balance {
    wants: Vec<BTreeMap<usize, i64>>,
    /// Meetings that cannot nest whatever is chosen.
    lost: u64,
}

/// How all seams were set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settled {
    /// For each seam 1 as first set or -1 turned round.
    pub turns: Vec<i64>,
    /// Meetings that do not nest.
    pub lost: u64,
    /// So many meetings at least do not nest in any choice.
    pub least_lost: u64,
}

impl Balance {
    /// So many seams, not yet meeting.
    pub fn of(seams: usize) -> Self {
        Balance {
            wants: vec![BTreeMap::new(); seams],
            lost: 0,
        }
    }

    /// Two seams meet so often and nest when they turn alike, or when they turn unlike.
    pub fn meet(&mut self, a: usize, b: usize, alike: bool, times: u64) {
        let weight = i64::try_from(times).unwrap_or(i64::MAX / 4);
        let weight = if alike { weight } else { -weight };
        if a == b {
            // A seam that meets its own like nests always or never.
            self.lost += if alike { 0 } else { times };
        } else {
            self.add(a, b, weight);
        }
    }

    fn add(&mut self, a: usize, b: usize, weight: i64) {
        let before = self.wants[a].get(&b).copied().unwrap_or(0);
        let after = before + weight;
        // Of wishes against each other the rarer are lost in any choice.
        self.lost += (before.unsigned_abs() + weight.unsigned_abs() - after.unsigned_abs()) / 2;
        for (x, y) in [(a, b), (b, a)] {
            if after == 0 {
                self.wants[x].remove(&y);
            } else {
                self.wants[x].insert(y, after);
            }
        }
    }

    /// Sets all seams.
    pub fn settle(mut self) -> Settled {
        let seams = self.wants.len();
        let mut turns = vec![0_i64; seams];
        let aside = self.set_aside();
        let mut settled = vec![false; seams];
        for (seam, _) in &aside {
            settled[*seam] = true;
        }
        let (mut lost, mut least_lost) = (self.lost, self.lost);
        let mut steps = STEPS;
        for start in 0..seams {
            if settled[start] {
                continue;
            }
            let group = self.group(start, &mut settled);
            self.parity(&group, &mut turns);
            self.better(&group, &mut turns);
            let mut missed = self.missed(&group, &turns);
            let mut least = self.odd_rings(&group, &turns);
            if least < missed && group.len() <= EXACT_SEAMS {
                let (best, proved) = Search::of(&self, &group, &turns, missed, least).run(&mut steps);
                for (&seam, turn) in group.iter().zip(best) {
                    turns[seam] = turn;
                }
                missed = self.missed(&group, &turns);
                if proved {
                    least = missed;
                }
            }
            lost += missed;
            least_lost += least;
        }
        for (seam, wants) in aside.iter().rev() {
            let pull: i64 = wants.iter().map(|(other, weight)| turns[*other] * weight).sum();
            turns[*seam] = if pull < 0 { -1 } else { 1 };
        }
        Settled {
            turns,
            lost,
            least_lost,
        }
    }

    /// Takes out seams with at most two neighbours, with what they wanted.
    fn set_aside(&mut self) -> Vec<(usize, Vec<(usize, i64)>)> {
        let mut aside = Vec::new();
        let mut out = vec![false; self.wants.len()];
        let mut queue: VecDeque<usize> = (0..self.wants.len()).collect();
        while let Some(seam) = queue.pop_front() {
            if out[seam] || self.wants[seam].len() > 2 {
                continue;
            }
            out[seam] = true;
            let wants: Vec<(usize, i64)> = std::mem::take(&mut self.wants[seam]).into_iter().collect();
            for (other, _) in &wants {
                self.wants[*other].remove(&seam);
                queue.push_back(*other);
            }
            if let [(a, wa), (b, wb)] = wants[..] {
                // The seam follows the more frequent; the rarer nests if both neighbours agree on it.
                self.add(a, b, wa.signum() * wb.signum() * wa.abs().min(wb.abs()));
            }
            aside.push((seam, wants));
        }
        aside
    }

    fn group(&self, start: usize, settled: &mut [bool]) -> Vec<usize> {
        let mut group = vec![start];
        settled[start] = true;
        let mut next = 0;
        while let Some(&seam) = group.get(next) {
            next += 1;
            for &other in self.wants[seam].keys() {
                if !std::mem::replace(&mut settled[other], true) {
                    group.push(other);
                }
            }
        }
        group
    }

    /// Along a tree of the most frequent meetings, from the group's first seam.
    fn parity(&self, group: &[usize], turns: &mut [i64]) {
        let Some(&first) = group.first() else { return };
        let mut heap = std::collections::BinaryHeap::from([(0_u64, std::cmp::Reverse(first), 1_i64)]);
        while let Some((_, std::cmp::Reverse(seam), turn)) = heap.pop() {
            if turns[seam] != 0 {
                continue;
            }
            turns[seam] = turn;
            for (&other, weight) in &self.wants[seam] {
                if turns[other] == 0 {
                    heap.push((weight.unsigned_abs(), std::cmp::Reverse(other), turn * weight.signum()));
                }
            }
        }
    }

    /// Turns single seams round while that helps.
    fn better(&self, group: &[usize], turns: &mut [i64]) {
        for _ in 0..ROUNDS {
            let mut helped = false;
            for &seam in group {
                let pull: i64 = self.wants[seam]
                    .iter()
                    .map(|(&other, weight)| turns[other] * weight)
                    .sum();
                if pull * turns[seam] < 0 {
                    turns[seam] = -turns[seam];
                    helped = true;
                }
            }
            if !helped {
                return;
            }
        }
    }

    fn missed(&self, group: &[usize], turns: &[i64]) -> u64 {
        let mut sum = 0;
        for &seam in group {
            for (&other, weight) in self.wants[seam].range(seam + 1..) {
                if weight * turns[seam] * turns[other] < 0 {
                    sum += weight.unsigned_abs();
                }
            }
        }
        sum
    }

    /// Each meeting that does not nest, closed into a ring by meetings that do; each meeting is used up as often as
    /// it occurs. Such a ring has one that does not nest, so it is odd, and stays odd in every choice.
    fn odd_rings(&self, group: &[usize], turns: &[i64]) -> u64 {
        let mut left: BTreeMap<(usize, usize), u64> = BTreeMap::new();
        let mut missed = Vec::new();
        for &a in group {
            for (&b, weight) in self.wants[a].range(a + 1..) {
                left.insert((a, b), weight.unsigned_abs());
                if weight * turns[a] * turns[b] < 0 {
                    missed.push((a, b));
                }
            }
        }
        let pair = |a: usize, b: usize| (a.min(b), a.max(b));
        let mut packed = 0;
        for &(from, to) in &missed {
            loop {
                let open = left.get(&(from, to)).copied().unwrap_or(0);
                if open == 0 {
                    break;
                }
                let mut before: BTreeMap<usize, usize> = BTreeMap::from([(from, from)]);
                let mut queue = VecDeque::from([from]);
                while let Some(at) = queue.pop_front() {
                    if at == to || before.len() > RING_REACH {
                        break;
                    }
                    for (&next, weight) in &self.wants[at] {
                        let nests = weight * turns[at] * turns[next] > 0;
                        if nests && left.get(&pair(at, next)).is_some_and(|&l| l > 0) && !before.contains_key(&next) {
                            before.insert(next, at);
                            queue.push_back(next);
                        }
                    }
                }
                if !before.contains_key(&to) {
                    break;
                }
                let mut ring = vec![(from, to)];
                let mut at = to;
                while let Some(&earlier) = before.get(&at).filter(|&&e| e != at) {
                    ring.push(pair(at, earlier));
                    at = earlier;
                }
                let take = ring.iter().filter_map(|p| left.get(p)).copied().min().unwrap_or(0);
                for p in &ring {
                    if let Some(l) = left.get_mut(p) {
                        *l -= take;
                    }
                }
                packed += take;
            }
        }
        packed
    }
}

/// Branch and bound over one group.
struct Search {
    /// For each seam, in order, the earlier and later ones it meets.
    wants: Vec<Vec<(usize, i64)>>,
    turns: Vec<i64>,
    /// For each seam, what its set neighbours want of it: alike, unlike.
    pulls: Vec<(u64, u64)>,
    best: Vec<i64>,
    best_missed: u64,
    least: u64,
}

impl Search {
    fn of(balance: &Balance, group: &[usize], turns: &[i64], missed: u64, least: u64) -> Self {
        let place: BTreeMap<usize, usize> = group.iter().enumerate().map(|(i, &seam)| (seam, i)).collect();
        let wants = group
            .iter()
            .map(|seam| {
                let list = balance.wants[*seam].iter();
                list.filter_map(|(other, &w)| place.get(other).map(|&i| (i, w)))
                    .collect()
            })
            .collect();
        Search {
            wants,
            turns: vec![0; group.len()],
            pulls: vec![(0, 0); group.len()],
            best: group.iter().map(|&seam| turns[seam]).collect(),
            best_missed: missed,
            least,
        }
    }

    /// The best found, and whether it is proved best.
    fn run(mut self, steps: &mut u32) -> (Vec<i64>, bool) {
        let whole = self.from(0, 0, steps);
        (self.best, whole)
    }

    fn from(&mut self, depth: usize, missed: u64, steps: &mut u32) -> bool {
        // Whatever a free seam does, the rarer of the wishes of the seams already set is lost.
        let free: u64 = (depth..self.turns.len())
            .map(|i| self.pulls[i].0.min(self.pulls[i].1))
            .sum();
        if missed + free >= self.best_missed || self.best_missed <= self.least {
            return true;
        }
        if depth == self.turns.len() {
            self.best_missed = missed;
            self.best = self.turns.clone();
            return true;
        }
        if *steps == 0 {
            return false;
        }
        *steps -= 1;
        let (alike, unlike) = self.pulls[depth];
        let likely = if unlike > alike { -1 } else { 1 };
        // Turning all seams round changes nothing, so the first is set one way only.
        let choices: &[i64] = if depth == 0 { &[1] } else { &[likely, -likely] };
        let mut whole = true;
        for &turn in choices {
            self.turns[depth] = turn;
            self.pull(depth, turn, true);
            let more = if turn > 0 { unlike } else { alike };
            whole &= self.from(depth + 1, missed + more, steps);
            self.pull(depth, turn, false);
        }
        self.turns[depth] = 0;
        whole
    }

    fn pull(&mut self, depth: usize, turn: i64, on: bool) {
        for &(other, weight) in self.wants[depth].iter().filter(|(other, _)| *other > depth) {
            let pulls = &mut self.pulls[other];
            let side = if weight * turn > 0 { &mut pulls.0 } else { &mut pulls.1 };
            let size = weight.unsigned_abs();
            *side = if on { *side + size } else { *side - size };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Balance;

    type Meeting = (usize, usize, bool, u64);

    fn balance(seams: usize, meetings: &[Meeting]) -> Balance {
        let mut balance = Balance::of(seams);
        for &(a, b, alike, times) in meetings {
            balance.meet(a, b, alike, times);
        }
        balance
    }

    fn lost(meetings: &[Meeting], turn: impl Fn(usize) -> i64) -> u64 {
        let misses = |m: &&Meeting| (turn(m.0) == turn(m.1)) != m.2;
        meetings.iter().filter(misses).map(|m| m.3).sum()
    }

    /// All choices, one by one.
    fn fewest_lost(seams: usize, meetings: &[Meeting]) -> u64 {
        (0..1_u32 << seams)
            .map(|choice| lost(meetings, |seam| if choice >> seam & 1 == 0 { 1 } else { -1 }))
            .min()
            .unwrap_or(0)
    }

    /// Derived: a ring of meetings with an odd number that want unlike loses its rarest; an even ring loses none.
    #[test]
    fn an_odd_ring_loses_its_rarest_meeting() {
        for seams in 3..9 {
            let ring = |last: bool| -> Vec<Meeting> {
                let times = |i: usize| if i == 1 { 2 } else { 5 };
                (0..seams)
                    .map(|i| (i, (i + 1) % seams, i > 0 || last, times(i)))
                    .collect()
            };
            let odd = balance(seams, &ring(false)).settle();
            assert_eq!((odd.lost, odd.least_lost), (2, 2));
            let even = balance(seams, &ring(true)).settle();
            assert_eq!((even.lost, even.least_lost), (0, 0));
        }
    }

    /// Derived: of n seams that all want to be unlike each other, halves p + q = n lose p(p-1)/2 + q(q-1)/2.
    #[test]
    fn all_unlike_all_others_split_into_halves() {
        for n in 4..15_usize {
            let all: Vec<Meeting> = (0..n).flat_map(|a| (a + 1..n).map(move |b| (a, b, false, 1))).collect();
            let (p, q) = (n / 2, n - n / 2);
            let fewest = (p * (p - 1) / 2 + q * (q - 1) / 2) as u64;
            let settled = balance(n, &all).settle();
            assert_eq!((settled.lost, settled.least_lost), (fewest, fewest), "{n}");
        }
    }

    /// Derived: a grid is even, so all of its meetings nest however large it is.
    #[test]
    fn a_grid_of_seams_all_unlike_their_neighbours_nests() {
        let n = 60;
        let mut meetings = Vec::new();
        for i in 0..n {
            for j in 0..n - 1 {
                meetings.push((i * n + j, i * n + j + 1, false, 1));
                meetings.push((j * n + i, (j + 1) * n + i, false, 1));
            }
        }
        let settled = balance(n * n, &meetings).settle();
        assert_eq!((settled.lost, settled.least_lost), (0, 0));
    }

    /// Derived: a seam that meets its own like turned about loses that meeting, and is not confused by others.
    #[test]
    fn a_seam_against_its_own_like() {
        let settled = balance(2, &[(0, 0, false, 7), (1, 1, true, 9), (0, 1, false, 3)]).settle();
        assert_eq!((settled.lost, settled.least_lost), (7, 7));
        assert_eq!(settled.turns[0], -settled.turns[1]);
    }

    /// The oracle: every choice tried for small instances of all densities.
    #[test]
    fn as_good_as_every_choice_tried() {
        let mut state = 11_u64;
        let mut draw = |below: usize| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as usize % below
        };
        for _ in 0..400 {
            let seams = 2 + draw(10);
            let count = draw(4 * seams);
            let meetings: Vec<Meeting> = (0..count)
                .map(|_| (draw(seams), draw(seams), draw(2) == 0, 1 + draw(5) as u64))
                .collect();
            let settled = balance(seams, &meetings).settle();
            let fewest = fewest_lost(seams, &meetings);
            assert_eq!((settled.lost, settled.least_lost), (fewest, fewest), "{meetings:?}");
            assert_eq!(lost(&meetings, |seam| settled.turns[seam]), fewest, "{meetings:?}");
        }
    }

    /// Beyond the exact size: the bound never exceeds what is lost, and what is lost is what the turns lose.
    #[test]
    fn large_and_frustrated_keeps_an_honest_bound() {
        let mut state = 5_u64;
        let mut draw = |below: usize| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as usize % below
        };
        let seams = 300;
        let meetings: Vec<Meeting> = (0..1200)
            .map(|_| (draw(seams), draw(seams), draw(2) == 0, 1 + draw(3) as u64))
            .collect();
        let settled = balance(seams, &meetings).settle();
        assert!(settled.least_lost > 0 && settled.least_lost <= settled.lost);
        assert_eq!(lost(&meetings, |seam| settled.turns[seam]), settled.lost);
    }
}
