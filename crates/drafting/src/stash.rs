//! Cloth in hand: whether it holds the strips of the plan, and what must be bought besides.

use design::{Design, Fabric};
use measure::{Length, Measure};
use recipe::{ClothPlan, Pattern, Strip};
use terms::{FabricId, Finding, Place};

/// A straight-edged piece of cloth that the maker has.
#[derive(Clone, Debug, PartialEq)]
pub struct Owned {
    /// The role it is for.
    pub fabric: FabricId,
    /// Along its strips, usable, inches.
    pub width: f64,
    /// Along the selvedge, usable, inches.
    pub length: f64,
}

/// What becomes of one cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct FromStash {
    /// The role.
    pub fabric: FabricId,
    /// Strips of the plan, and how many of them the cloth in hand holds.
    pub strips: (u64, u64),
    /// What is bought besides, in the shop's steps; nothing when what is there suffices.
    pub buy: Length,
    /// What is bought when nothing is there.
    pub without: Length,
    /// Of a cloth sold cut: how many pieces are bought besides, and how many when nothing is there.
    pub pieces: Option<(u32, u32)>,
}

impl crate::Draft {
    /// Lays the plan's strips, the highest first, on the first piece in hand that has room, each piece squared up once. Strips are
    /// laid whole, as they are told; a cleverer cut of small pieces is not looked for. What is left of a cloth sold cut is laid into
    /// new pieces.
    pub fn from_stash(&self, design: &Design, owned: &[Owned]) -> (Vec<FromStash>, Vec<Finding>) {
        let mut findings = Vec::new();
        for piece in owned {
            let wanted = |cloth: &ClothPlan| cloth.fabric == piece.fabric;
            if !self.pattern.cutting.cloths.iter().any(wanted) {
                findings.push(Finding::note(
                    "stash-not-wanted",
                    Place::Fabric(piece.fabric.clone()),
                    format!("Nothing of this quilt is cut from {}.", piece.fabric),
                    "Keep it for another, or give it the name of a fabric of the design.",
                ));
            }
        }
        (laid(&self.pattern, design, &mut owned.to_vec()), findings)
    }
}

impl crate::Parts {
    /// The same part by part: what a part leaves of a piece in hand is there for the next, squared up again.
    pub fn from_stash(&self, design: &Design, owned: &[Owned]) -> Vec<(String, Vec<FromStash>)> {
        let mut left = owned.to_vec();
        let one = |part: &crate::PartDraft| (part.name.clone(), laid(&part.pattern, design, &mut left));
        self.list.iter().map(one).collect()
    }
}

/// Lays a plan's strips on the cloth in hand; what is left of each piece stays in `owned`.
fn laid(pattern: &Pattern, design: &Design, owned: &mut [Owned]) -> Vec<FromStash> {
    let mut rows = Vec::new();
    for bought in &pattern.bought.cloths {
        let plans = (pattern.cutting.cloths.iter()).filter(|cloth| cloth.fabric == bought.fabric);
        let (Some(cloth), Some(note)) = (whole(plans), design.fabric(&bought.fabric)) else {
            continue;
        };
        let mut own: Vec<&mut Owned> = (owned.iter_mut())
            .filter(|piece| piece.fabric == cloth.fabric)
            .collect();
        let (all, held, left) = lay(&cloth, &mut own, note.shrink);
        let pieces = bought.pieces.map(|sold| {
            let room = (cloth.alike).map_or(0, |alike| (alike.length.len - cloth.square_up.len).units());
            let besides = u32::try_from(cutting::pieces_for(&left, room)).unwrap_or(u32::MAX);
            (besides.min(sold.count), sold.count)
        });
        let buy = match (bought.pieces, pieces) {
            (Some(sold), Some((besides, _))) => sold.each.len * i64::from(besides),
            _ => {
                let high = (left.iter()).map(|(height, n)| Length::from_units(*height) * i64::from(*n));
                to_buy(high.sum(), note, bought.length.len)
            }
        };
        rows.push(FromStash {
            fabric: cloth.fabric.clone(),
            strips: (all, held),
            buy,
            without: bought.length.len,
            pieces,
        });
    }
    rows
}

/// All cutting of one cloth as one: the strips of each lot of pieces as often as the lot is large.
fn whole<'c>(mut plans: impl Iterator<Item = &'c ClothPlan>) -> Option<ClothPlan> {
    let times = |plan: &ClothPlan| {
        let strips = plan.strips.iter().map(|strip| Strip {
            times: strip.times.saturating_mul(plan.times()),
            ..strip.clone()
        });
        strips.collect::<Vec<_>>()
    };
    let first = plans.next()?;
    let mut all = ClothPlan {
        strips: times(first),
        ..first.clone()
    };
    all.strips.extend(plans.flat_map(times));
    Some(all)
}

/// How many strips there are, how many find room, and those that do not: how high and how many.
fn lay(cloth: &ClothPlan, own: &mut [&mut Owned], shrink: f64) -> (u64, u64, Vec<(i64, u32)>) {
    let square_up = cloth.square_up.len.to_inches();
    let mut room: Vec<(f64, f64)> = own
        .iter()
        .map(|piece| (piece.width, piece.length * (1.0 - shrink) - square_up))
        .collect();
    let mut strips: Vec<&Strip> = cloth.strips.iter().collect();
    strips.sort_by_key(|strip| std::cmp::Reverse(strip.height.len));
    let (mut all, mut held, mut left) = (0, 0, Vec::new());
    for strip in strips {
        let (wide, height) = (reach(strip, cloth.usable.len.to_inches()), strip.height.len.to_inches());
        let mut over = 0;
        for _ in 0..strip.times {
            all += 1;
            // Sizes are measured by the maker; a hair's breadth of rounding is no reason to buy.
            let fits = |(width, high): &&mut (f64, f64)| *width + 1.0e-6 >= wide && *high + 1.0e-6 >= height;
            match room.iter_mut().find(fits) {
                Some((_, high)) => {
                    *high -= height;
                    held += 1;
                }
                None => over += 1,
            }
        }
        left.push((strip.height.len.units(), over));
    }
    for (piece, (_, high)) in own.iter_mut().zip(&room) {
        let untouched = piece.length * (1.0 - shrink) - square_up;
        if *high < untouched {
            piece.length = (high / (1.0 - shrink)).max(0.0);
        }
    }
    (all, held, left)
}

/// How far along the cloth's width a strip's cuts go: all of it where it is kept whole, or where its rest is used.
fn reach(strip: &Strip, usable: f64) -> f64 {
    if strip.purpose.is_some() || !strip.rest.is_empty() {
        return usable;
    }
    let (mut lower, mut upper) = (0.0, 0.0);
    for run in &strip.runs {
        for cut in &run.cuts {
            lower += f64::from(run.times) * cut.lower.len.to_inches();
            upper += f64::from(run.times) * cut.upper.len.to_inches();
        }
    }
    lower.max(upper).min(usable)
}

/// The strips left, squared up, grown for the wash, in the shop's steps.
fn to_buy(left: Length, note: &Fabric, without: Length) -> Length {
    if left <= Length::ZERO {
        return Length::ZERO;
    }
    let used = (left.to_inches() + note.square_up) / (1.0 - note.shrink);
    let step = if note.step > 0.0 { note.step } else { 1.0 };
    let steps = (used / step - 1.0e-9).ceil();
    Length::nearest(steps * step).map_or(without, |buy| buy.min(without))
}

/// Reads a list of cloth in hand, one piece a line: `night 40 in x 18 in`, or several alike, `night 20 in x 18 in x 4`; what follows
/// a `#` is a remark. `measure` is that of bare numbers.
///
/// # Errors
/// Each line that cannot be read, with its number from 1 and what was expected.
pub fn read_stash(text: &str, measure: Measure) -> Result<Vec<Owned>, Vec<(usize, String)>> {
    let mut owned = Vec::new();
    let mut faults = Vec::new();
    for (i, line) in text.lines().enumerate() {
        let line = line.split('#').next().unwrap_or_default().trim();
        if line.is_empty() {
            continue;
        }
        match read_line(line, measure) {
            Ok((piece, count)) if owned.len() + count <= MOST => owned.extend(std::iter::repeat_n(piece, count)),
            Ok(_) => faults.push((i + 1, format!("more than {MOST} pieces of cloth are listed"))),
            Err(fault) => faults.push((i + 1, fault)),
        }
    }
    if faults.is_empty() { Ok(owned) } else { Err(faults) }
}

/// Most pieces of cloth in a list.
const MOST: usize = 10_000;

fn read_line(line: &str, measure: Measure) -> Result<(Owned, usize), String> {
    let expected = "a fabric's name, its usable width and its length, such as `night 40 in x 18 in`";
    let (name, sizes) = line
        .split_once(char::is_whitespace)
        .ok_or_else(|| format!("expected {expected}"))?;
    let sizes = sizes.replace('×', "x");
    let parts: Vec<&str> = sizes.split('x').map(str::trim).collect();
    let (width, length, count) = match parts.as_slice() {
        [width, length] => (width, length, "1"),
        [width, length, count] => (width, length, *count),
        _ => return Err(format!("expected {expected}")),
    };
    let bare = match measure {
        Measure::Inch => 1.0,
        Measure::Metric => 1.0 / 2.54,
    };
    let size = |text: &str| {
        measure::parse_inches(text, bare)
            .ok()
            .filter(|inches| *inches > 0.0)
            .ok_or_else(|| format!("\"{text}\" is no size; expected {expected}"))
    };
    let count = count
        .parse::<usize>()
        .ok()
        .filter(|count| (1..=MOST).contains(count))
        .ok_or_else(|| format!("\"{count}\" is no number of pieces; expected a whole number from 1"))?;
    let piece = Owned {
        fabric: FabricId::new(name),
        width: size(width)?,
        length: size(length)?,
    };
    Ok((piece, count))
}
