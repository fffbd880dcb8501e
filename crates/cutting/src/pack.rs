//! Items into strips: the tallest first, like heights together, what is left of a strip cut into lower ones.

use crate::slant::Slant;
use std::collections::BTreeMap;

/// Items of one kind that are packed alike.
#[derive(Clone, Copy)]
pub(crate) struct Part<'a> {
    /// Index of the kind.
    pub kind: usize,
    /// How many items.
    pub count: u32,
    /// The way it lies in a strip of its own.
    pub way: usize,
    /// Height and length in each way it may lie.
    pub sizes: &'a [(i64, i64)],
    /// For slanted pieces.
    pub slant: Option<&'a Slant>,
    /// It may be cut from what is left of higher strips.
    pub in_rests: bool,
}

/// How strips are filled.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct Policy {
    /// Fill each strip as full as the kinds of its height allow; else the longest first.
    pub fullest: bool,
    /// How often what is left may be cut into strips again.
    pub depth: u8,
    /// What goes first into what is left.
    pub order: Order,
    /// In what is left, items may lie in any of their ways.
    pub either_way: bool,
    /// For every strip several fillings, orders and fewer items than there is room for are tried, and the one taken
    /// that wastes the least of the strip.
    pub thrifty: bool,
}

/// Which strips are cut from what is left of a higher one.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Order {
    /// The tallest first.
    Tallest,
    /// The one with the most cloth in it first.
    MostCloth,
    /// Those that together have the most cloth in them.
    Stacked,
}

/// A run of items in a strip.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct Fill {
    /// Index of the kind.
    pub kind: usize,
    /// How it lies.
    pub way: usize,
    /// How many.
    pub count: u32,
}

/// A strip.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct Row {
    /// Its height.
    pub height: i64,
    /// How many such strips.
    pub times: u32,
    /// Upright items first, then slanted ones.
    pub fill: Vec<Fill>,
    /// Strips cut from what is left.
    pub rest: Vec<Row>,
}

/// The heights of all strips together.
pub(crate) fn total_height(rows: &[Row]) -> i128 {
    rows.iter()
        .map(|row| i128::from(row.height) * i128::from(row.times))
        .sum()
}

/// An item lying one way.
#[derive(Clone, Copy)]
pub(crate) struct Lie {
    /// Index of the part.
    pub part: usize,
    /// Which way.
    pub way: usize,
    /// Along the strip.
    pub length: i64,
}

/// Items and how many of each, in the order in which they lie along a strip, and how far the last cut reaches.
pub(crate) type Taken = (Vec<(Lie, u32)>, i64);

/// Items of one height, the longest first.
pub(crate) type Shelf = (i64, Vec<Lie>);

/// The packing at work.
pub(crate) struct Packer<'a> {
    /// What is packed.
    pub parts: &'a [Part<'a>],
    /// How.
    pub policy: Policy,
    /// How many items of each part are not packed yet.
    pub left: Vec<u32>,
    /// What may go into rests.
    pub shelves: Vec<Shelf>,
}

/// One way to cut a strip.
#[derive(Clone, Copy)]
pub(crate) struct Manner {
    /// As [`Policy::fullest`].
    pub fullest: bool,
    /// As [`Policy::order`].
    pub order: Order,
    /// So many items fewer than there is room for.
    pub fewer: u32,
}

/// The most items left out of a strip for the sake of its rest.
const MOST_FEWER: u32 = 4;

/// Packs all parts.
pub(crate) fn pack(parts: &[Part], policy: Policy, usable: i64) -> Vec<Row> {
    let shelves_of_rests = shelves(parts, |part, way| {
        part.in_rests && (policy.either_way || way == part.way)
    });
    let left = parts.iter().map(|part| part.count).collect();
    let mut packer = Packer {
        parts,
        policy,
        left,
        shelves: shelves_of_rests,
    };
    let mut rows: Vec<Row> = Vec::new();
    for (height, lies) in shelves(parts, |part, way| way == part.way) {
        while lies.iter().any(|lie| packer.left[lie.part] > 0) {
            let Some(row) = packer.strip(height, &lies, usable) else {
                // Every part fits the width by itself, so this cannot be; it keeps the loop finite all the same.
                break;
            };
            let alike = rows
                .iter_mut()
                .find(|r| r.height == height && r.fill == row.fill && r.rest == row.rest);
            match alike {
                Some(known) => known.times = known.times.saturating_add(row.times),
                None => rows.push(row),
            }
        }
    }
    rows
}

fn shelves(parts: &[Part], admit: impl Fn(&Part, usize) -> bool) -> Vec<Shelf> {
    let mut by_height: BTreeMap<i64, Vec<Lie>> = BTreeMap::new();
    for (index, part) in parts.iter().enumerate() {
        for (way, (height, length)) in part.sizes.iter().enumerate() {
            if admit(part, way) {
                by_height.entry(*height).or_default().push(Lie {
                    part: index,
                    way,
                    length: *length,
                });
            }
        }
    }
    let mut shelves: Vec<Shelf> = by_height.into_iter().rev().collect();
    for (_, lies) in &mut shelves {
        lies.sort_by_key(|lie| std::cmp::Reverse(lie.length));
    }
    shelves
}

impl Packer<'_> {
    /// A strip across the whole width, as often as the items allow.
    fn strip(&mut self, height: i64, lies: &[Lie], usable: i64) -> Option<Row> {
        let Policy {
            fullest, order, depth, ..
        } = self.policy;
        let plain = Manner {
            fullest,
            order,
            fewer: 0,
        };
        if !self.policy.thrifty {
            return self.row((height, lies), usable, u32::MAX, plain, depth);
        }
        let before = self.left.clone();
        let mut best: Option<(i128, Row, Vec<u32>)> = None;
        for fewer in 0..=MOST_FEWER {
            for order in [Order::Tallest, Order::MostCloth, Order::Stacked] {
                let next = self.row(
                    (height, lies),
                    usable,
                    u32::MAX,
                    Manner { fewer, order, ..plain },
                    depth,
                );
                let left = std::mem::replace(&mut self.left, before.clone());
                let Some(row) = next else { continue };
                let cloth = self.cloth(&row);
                if best.as_ref().is_none_or(|(most, ..)| cloth > *most) {
                    best = Some((cloth, row, left));
                }
            }
        }
        let (_, row, left) = best?;
        self.left = left;
        Some(row)
    }

    /// One kind of strip with what is cut from its rest, as often as the items allow, no more than `most` times;
    /// `None` when nothing fits.
    pub fn row(
        &mut self,
        (height, lies): (i64, &[Lie]),
        width: i64,
        most: u32,
        manner: Manner,
        depth: u8,
    ) -> Option<Row> {
        let before = self.left.clone();
        let (mut taken, mut used) = self.fill(lies, width, manner.fullest);
        if manner.fewer > 0 {
            // Of the first kind along the strip, which is the longest; slanted pieces stay as they are.
            let (lie, count) = taken.first_mut()?;
            if self.parts[lie.part].slant.is_some() || *count <= manner.fewer {
                return None;
            }
            *count -= manner.fewer;
            used -= lie.length * i64::from(manner.fewer);
        }
        if taken.is_empty() {
            return None;
        }
        let mut row = Row {
            height,
            times: 1,
            fill: Vec::new(),
            rest: Vec::new(),
        };
        for (lie, count) in &taken {
            self.left[lie.part] -= count;
            // Two parts of one kind may lie side by side.
            let kind = self.parts[lie.part].kind;
            match row.fill.last_mut() {
                Some(last) if last.kind == kind && last.way == lie.way => last.count += count,
                _ => row.fill.push(Fill {
                    kind,
                    way: lie.way,
                    count: *count,
                }),
            }
        }
        if depth > 0 && width > used {
            row.rest = self.rest(height, width - used, Manner { fewer: 0, ..manner }, depth - 1);
        }
        let used_up = self.left.iter().zip(&before).filter(|(now, then)| now < then);
        let repeat = used_up
            .map(|(now, then)| then / (then - now))
            .min()
            .unwrap_or(1)
            .min(most);
        for (now, then) in self.left.iter_mut().zip(&before) {
            *now = then - (then - *now) * repeat;
        }
        row.times = repeat;
        Some(row)
    }

    /// The cloth in one strip, rests included; slanted pieces at the mean of their lengths.
    fn cloth(&self, row: &Row) -> i128 {
        let of = |fill: &Fill| {
            let part = self.parts.iter().find(|part| part.kind == fill.kind);
            part.map_or(0, |part| match part.slant {
                Some(slant) => i128::from(slant.lower + slant.upper) / 2 * i128::from(fill.count),
                None => i128::from(part.sizes[fill.way].1) * i128::from(fill.count),
            })
        };
        let along: i128 = row.fill.iter().map(of).sum();
        along * i128::from(row.height)
            + row
                .rest
                .iter()
                .map(|rest| self.cloth(rest) * i128::from(rest.times))
                .sum::<i128>()
    }
}
