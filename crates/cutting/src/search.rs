//! Which way each kind lies: several ways to begin, then one kind after another changed as long as that helps.

use crate::kinds::{Cloth, Kind, What};
use crate::known::Known;
use crate::pack::{Order, Part, Policy, Row, pack, total_height};
use crate::slant::Slant;
use crate::sold::{self, Heights, Lot};
use recipe::{Band, Turn};
use std::collections::BTreeSet;

/// The plan of one cloth.
#[derive(Clone)]
pub(crate) struct Found {
    /// Its strips.
    pub rows: Vec<Row>,
    /// Of a cloth sold cut, which of the strips, and then of the bands, come from which pieces.
    pub lots: Vec<Lot>,
}

/// How one kind is to lie.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Choice {
    /// In full strips.
    full: usize,
    /// What is left over when as many full strips as possible have been cut.
    tail: usize,
    /// It may be cut from what is left of higher strips.
    in_rests: bool,
}

/// What counts, in this order. The cloth bought grows with the cloth used, so the cloth used stands for both.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Cost {
    /// Pieces of a cloth that is sold cut.
    pieces: u64,
    used: i128,
    strips: u64,
    heights: usize,
    different: usize,
    cuts: u64,
    turned: usize,
}

/// Packings tried when one kind is cut; with many kinds fewer, so that the whole takes seconds at most.
const MOST_TRIES: usize = 1200;
/// Tries times kinds times kinds.
const MOST_WORK: usize = 200_000;

/// Rests are one deep: a strip cut from the rest of a rest saves hardly any cloth and nobody can follow it.
const POLICIES: [Policy; 10] = [
    policy(false, 0, Order::Tallest, false, false),
    policy(true, 0, Order::Tallest, false, false),
    policy(false, 1, Order::Tallest, false, false),
    policy(true, 1, Order::MostCloth, false, false),
    policy(true, 1, Order::Stacked, true, false),
    policy(false, 1, Order::Tallest, true, false),
    policy(true, 1, Order::MostCloth, true, false),
    policy(true, 1, Order::Stacked, false, false),
    policy(true, 1, Order::Stacked, true, true),
    policy(true, 1, Order::Stacked, false, true),
];

const fn policy(fullest: bool, depth: u8, order: Order, either_way: bool, thrifty: bool) -> Policy {
    Policy {
        fullest,
        depth,
        order,
        either_way,
        thrifty,
    }
}

/// Above this many kinds the thrifty policies are left out.
const MANY_KINDS: usize = 60;

/// What of a kind the packing goes by: how many, how they may lie, which of these ways lie across, between which slanted cuts.
#[derive(Clone, PartialEq, Eq)]
struct Asked {
    count: u32,
    sizes: Vec<(i64, i64)>,
    sideways: Vec<bool>,
    slant: Option<Slant>,
}

/// What a cloth's plan hangs on: equal questions have equal answers.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct Question {
    items: Vec<Asked>,
    usable: i64,
    room: Option<i64>,
    bands: Heights,
}

/// One kind as the packing sees it.
struct Item<'a> {
    count: u32,
    sizes: Vec<(i64, i64)>,
    sideways: Vec<bool>,
    slant: Option<&'a Slant>,
    /// In each way, how many a strip holds.
    each: Vec<u32>,
}

struct Search<'a> {
    items: Vec<Item<'a>>,
    usable: i64,
    /// Room for strips in each piece of a cloth sold cut.
    room: Option<i64>,
    /// Bands that lie beside the strips.
    bands: Heights,
    tries: usize,
}

/// The best plan found, or known from before.
pub(crate) fn best(kinds: &[Kind], cloth: &Cloth, bands: &[&Band], known: &mut Known) -> Found {
    let usable = cloth.usable;
    let items: Vec<Item> = kinds.iter().map(|kind| Item::of(kind, usable)).collect();
    let asked = |item: &Item| Asked {
        count: item.count,
        sizes: item.sizes.clone(),
        sideways: item.sideways.clone(),
        slant: item.slant.copied(),
    };
    let question = Question {
        items: items.iter().map(asked).collect(),
        usable,
        room: cloth.piece.map(|piece| piece.room),
        bands: bands.iter().map(|band| (band.height.len.units(), band.count)).collect(),
    };
    known.answer(question, || looked_for(kinds, cloth, bands, items))
}

fn looked_for(kinds: &[Kind], cloth: &Cloth, bands: &[&Band], items: Vec<Item<'_>>) -> Found {
    let usable = cloth.usable;
    let tries = (MOST_WORK / (items.len() * items.len()).max(1)).min(MOST_TRIES);
    let room = cloth.piece.map(|piece| piece.room);
    let bands = bands.iter().map(|band| (band.height.len.units(), band.count)).collect();
    let search = Search {
        items,
        usable,
        room,
        bands,
        tries,
    };
    if kinds.is_empty() {
        let lots = search.lots(&[]);
        return Found { rows: Vec::new(), lots };
    }
    search.run()
}

impl<'a> Item<'a> {
    fn of(kind: &'a Kind, usable: i64) -> Item<'a> {
        let slant = match &kind.what {
            What::Slant { slant, .. } => Some(slant),
            _ => None,
        };
        let sizes: Vec<(i64, i64)> = kind
            .ways
            .iter()
            .map(|way| (way.height.len.units(), way.length.len.units()))
            .collect();
        let each = sizes
            .iter()
            .map(|(_, length)| match slant {
                Some(slant) => slant.most(kind.items, 0, 0, usable),
                None => u32::try_from(usable / length).unwrap_or(u32::MAX),
            })
            .map(|each| each.max(1));
        let sideways = kind
            .ways
            .iter()
            .map(|way| matches!(way.turn, Turn::Quarter | Turn::ThreeQuarters));
        Item {
            count: kind.items,
            each: each.collect(),
            sideways: sideways.collect(),
            sizes,
            slant,
        }
    }

    /// The cloth used if this kind were cut alone.
    fn alone(&self, choice: Choice) -> i128 {
        let (full, tail) = self.split(choice);
        let strips =
            |count: u32, way: usize| i128::from(count.div_ceil(self.each[way])) * i128::from(self.sizes[way].0);
        strips(full, choice.full) + strips(tail, choice.tail)
    }

    /// How many lie in full strips, and how many are left over.
    fn split(&self, choice: Choice) -> (u32, u32) {
        if choice.full == choice.tail {
            return (self.count, 0);
        }
        let tail = self.count % self.each[choice.full];
        (self.count - tail, tail)
    }

    fn choices(&self, in_rests: bool) -> Vec<Choice> {
        let ways = 0..self.sizes.len();
        ways.clone()
            .flat_map(|full| ways.clone().map(move |tail| Choice { full, tail, in_rests }))
            .collect()
    }
}

impl Search<'_> {
    fn run(mut self) -> Found {
        let mut found: Option<(Cost, Vec<Choice>, Policy, Vec<Row>)> = None;
        for choices in self.beginnings() {
            for policy in self.policies() {
                let (cost, rows) = self.price(&choices, policy);
                if found.as_ref().is_none_or(|best| cost < best.0) {
                    found = Some((cost, choices.clone(), policy, rows));
                }
            }
        }
        let Some((mut cost, mut choices, mut policy, mut rows)) = found else {
            return Found {
                rows: Vec::new(),
                lots: Vec::new(),
            };
        };
        // One kind after another, as long as a round changes something. Whether a kind goes into rests at all is
        // asked as well, so that rests which save no cloth go away again.
        let mut changed = true;
        while changed && self.tries > 0 {
            changed = false;
            for index in 0..choices.len() {
                let mut others = self.items[index].choices(true);
                others.extend(self.items[index].choices(false));
                for other in others {
                    if other == choices[index] || self.tries == 0 {
                        continue;
                    }
                    self.tries -= 1;
                    let kept = std::mem::replace(&mut choices[index], other);
                    let (next, next_rows) = self.price(&choices, policy);
                    if next < cost {
                        (cost, rows, changed) = (next, next_rows, true);
                    } else {
                        choices[index] = kept;
                    }
                }
            }
            for other in self.policies() {
                let (next, next_rows) = self.price(&choices, other);
                if next < cost {
                    (cost, rows, policy, changed) = (next, next_rows, other, true);
                }
            }
        }
        let lots = self.lots(&rows);
        Found { rows, lots }
    }

    /// The strips and bands of a cloth sold cut, laid into its pieces; none off the bolt.
    fn lots(&self, rows: &[Row]) -> Vec<Lot> {
        let Some(room) = self.room else {
            return Vec::new();
        };
        let rows = rows.iter().map(|row| (row.height, row.times));
        let all: Heights = rows.chain(self.bands.iter().copied()).collect();
        sold::lots(&all, room)
    }

    /// Choices to begin with: each kind as it would best be cut alone, all as named, all as low and all as high as
    /// they may lie.
    fn beginnings(&self) -> Vec<Vec<Choice>> {
        let alone = |item: &Item| {
            let choices = item.choices(true);
            choices.into_iter().min_by_key(|choice| item.alone(*choice))
        };
        let way = |way: usize| Choice {
            full: way,
            tail: way,
            in_rests: true,
        };
        let low = |item: &Item| (0..item.sizes.len()).min_by_key(|i| item.sizes[*i].0).map(way);
        let high = |item: &Item| (0..item.sizes.len()).min_by_key(|i| item.sizes[*i].1).map(way);
        let all = |choose: &dyn Fn(&Item) -> Option<Choice>| -> Vec<Choice> {
            self.items.iter().map(|item| choose(item).unwrap_or(way(0))).collect()
        };
        let mut beginnings: Vec<Vec<Choice>> = Vec::new();
        for next in [all(&|_| Some(way(0))), all(&alone), all(&low), all(&high)] {
            if !beginnings.contains(&next) {
                beginnings.push(next);
            }
        }
        beginnings
    }

    fn policies(&self) -> impl Iterator<Item = Policy> + use<> {
        let many = self.items.len() > MANY_KINDS;
        POLICIES.into_iter().filter(move |policy| !(many && policy.thrifty))
    }

    fn price(&self, choices: &[Choice], policy: Policy) -> (Cost, Vec<Row>) {
        let mut parts: Vec<Part> = Vec::new();
        for (kind, (item, choice)) in self.items.iter().zip(choices).enumerate() {
            let (full, tail) = item.split(*choice);
            for (count, way) in [(full, choice.full), (tail, choice.tail)] {
                if count > 0 {
                    let (sizes, slant, in_rests) = (&item.sizes[..], item.slant, choice.in_rests);
                    parts.push(Part {
                        kind,
                        count,
                        way,
                        sizes,
                        slant,
                        in_rests,
                    });
                }
            }
        }
        let rows = pack(&parts, policy, self.usable);
        let mut tally = Tally::default();
        tally.count(&self.items, &rows, 1);
        let cost = Cost {
            pieces: sold::pieces(&self.lots(&rows)),
            used: total_height(&rows),
            strips: tally.strips,
            heights: tally.heights.len(),
            different: tally.different,
            cuts: tally.cuts,
            turned: tally.turned,
        };
        (cost, rows)
    }
}

#[derive(Default)]
struct Tally {
    strips: u64,
    heights: BTreeSet<i64>,
    different: usize,
    cuts: u64,
    turned: usize,
}

impl Tally {
    fn count(&mut self, items: &[Item], rows: &[Row], times: u64) {
        for row in rows {
            let times = times.saturating_mul(u64::from(row.times));
            self.strips = self.strips.saturating_add(times);
            self.heights.insert(row.height);
            self.different += 1;
            for fill in &row.fill {
                // A slanted kind has a waste cut at most between all its pieces; one more is near enough for a tie.
                let cuts = u64::from(fill.count) + u64::from(items[fill.kind].slant.is_some());
                self.cuts = self.cuts.saturating_add(times.saturating_mul(cuts));
                self.turned += usize::from(items[fill.kind].sideways[fill.way]);
            }
            self.count(items, &row.rest, times);
        }
    }
}
