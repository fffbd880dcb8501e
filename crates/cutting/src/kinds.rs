//! Demands read into items: what lies between one cut and the next, how high, how long, and which ways it may lie.

use crate::ClothNote;
use crate::slant::Slant;
use crate::template::{box_of, box_size, four_areas, on_mark, turned_template};
use measure::{Length, Measure, Printed, Style, UNITS_PER_INCH, Why};
use recipe::{CutForm, Demand, DemandShape, RulerCut, ShapingCut, Size, Template, Turn, WhyId};
use std::collections::BTreeMap;
use terms::{FabricId, Finding, PieceId, Place};

/// No piece and no cloth is wider than this, so that sums of lengths stay whole numbers that fit.
const WIDEST: i64 = 10_000 * UNITS_PER_INCH;

/// A cloth, on whole units.
pub(crate) struct Cloth {
    /// The role.
    pub fabric: FabricId,
    /// Between the selvedges.
    pub usable: i64,
    /// Lost to the first cut.
    pub square_up: i64,
    /// The shop's step.
    pub step: Length,
    /// The share lost in the wash.
    pub shrink: f64,
    /// It is sold cut to a size.
    pub piece: Option<SoldPiece>,
}

/// A piece of cloth as it is sold cut, on whole units.
#[derive(Clone, Copy)]
pub(crate) struct SoldPiece {
    /// What it is called.
    pub form: CutForm,
    /// Along the selvedge, as sold.
    pub each: Length,
    /// What is left of that after the wash.
    pub washed: i64,
    /// What is left for strips once it is squared up.
    pub room: i64,
}

impl Cloth {
    /// No strip is higher than this.
    pub fn tallest(&self) -> i64 {
        self.piece.map_or(i64::MAX, |piece| piece.room)
    }

    /// Reads a note; `None` and a finding where nothing can be cut from such a cloth.
    pub fn read(note: &ClothNote, findings: &mut Vec<Finding>) -> Option<Cloth> {
        let within = |inches: f64, least: i64| {
            Length::nearest(inches)
                .map(Length::units)
                .filter(|units| (least..=WIDEST).contains(units))
        };
        let read = (within(note.usable, 1), within(note.square_up, 0), within(note.step, 1));
        let (Some(usable), Some(square_up), Some(step), true) =
            (read.0, read.1, read.2, (0.0..0.9).contains(&note.shrink))
        else {
            findings.push(Finding::stop(
                "cloth-unusable",
                Place::Fabric(note.fabric.clone()),
                format!(
                    "Fabric {} is said to be {} in wide, to lose {} in to the first cut and {} % in the wash, and \
                     to be sold in steps of {} in.",
                    note.fabric,
                    note.usable,
                    note.square_up,
                    note.shrink * 100.0,
                    note.step
                ),
                "Give a width and a step longer than nothing, and a shrinkage under 90 %.",
            ));
            return None;
        };
        let piece = match note.cut {
            None => None,
            Some(cut) => {
                let each = Length::from_units(within(cut.length, 1).unwrap_or(0));
                let left = crate::buy::left_of(cut.form, each, note.shrink).length();
                let washed = left.map_or(0, Length::units);
                let room = washed - square_up;
                if room < 1 {
                    findings.push(Finding::stop(
                        "cloth-unusable",
                        Place::Fabric(note.fabric.clone()),
                        format!(
                            "Fabric {} is sold {} in long, and squaring up and the wash leave nothing of it.",
                            note.fabric, cut.length
                        ),
                        "Take longer pieces, or a smaller `square-up`.",
                    ));
                    return None;
                }
                Some(SoldPiece {
                    form: cut.form,
                    each,
                    washed,
                    room,
                })
            }
        };
        Some(Cloth {
            fabric: note.fabric.clone(),
            usable,
            square_up,
            step: Length::from_units(step),
            shrink: note.shrink,
            piece,
        })
    }
}

/// What an item becomes.
pub(crate) enum What {
    /// One piece, a rectangle.
    Rectangle,
    /// One piece between slanted cuts.
    Slant {
        /// Its measures.
        slant: Slant,
        /// Along its lower edge.
        lower: Size,
        /// Along its upper edge.
        upper: Size,
        /// At a ruler's angle.
        ruler: Option<RulerCut>,
    },
    /// Two halves.
    Halves {
        /// Which diagonal.
        rising: bool,
    },
    /// Four quarters.
    Quarters,
    /// One piece, cut to shape.
    Shaped(Vec<ShapingCut>),
    /// One piece, cut round a template.
    Template(Template),
}

/// One way for an item to lie in a strip.
#[derive(Clone, Copy)]
pub(crate) struct Lying {
    /// Against the way its edges are named.
    pub turn: Turn,
    /// Of the strip.
    pub height: Size,
    /// Along the strip; of no account for slanted pieces.
    pub length: Size,
}

/// All pieces of one demand.
pub(crate) struct Kind {
    /// The kind of piece.
    pub piece: PieceId,
    /// Pieces demanded.
    pub count: u32,
    /// Items to cut.
    pub items: u32,
    /// Pieces that come off beyond the demand.
    pub extra: u32,
    /// What each item becomes.
    pub what: What,
    /// How it may lie, at least one way, each of which fits the cloth; no two of one height and length.
    pub ways: Vec<Lying>,
    /// How a rectangle about one piece may lie anywhere on the cloth (height and width), for bounds; empty where a
    /// piece is no rectangle.
    pub boxes: Vec<(i64, i64)>,
    /// Four times the area of one piece, in square units (rounded down where shaping cuts make it no whole number).
    pub four_areas: i128,
    /// The least height on the cloth that a piece has in any of its allowed turns.
    pub least_height: i64,
}

/// Reads the demands of one cloth. Kinds that cannot be cut are left out, with a stop finding each.
pub(crate) fn read(
    demands: &[Demand],
    cloth: &Cloth,
    mark: Length,
    measure: Measure,
    whys: &mut Vec<Why>,
    findings: &mut Vec<Finding>,
) -> Vec<Kind> {
    let mut merged: Vec<Demand> = Vec::new();
    let mut named: BTreeMap<&PieceId, Vec<usize>> = BTreeMap::new();
    for demand in demands
        .iter()
        .filter(|demand| demand.fabric == cloth.fabric && demand.count > 0)
    {
        let namesakes = named.entry(&demand.piece).or_default();
        let fellow = namesakes.iter().copied().find(|&i| {
            let known = &merged[i];
            known.shape == demand.shape
                && known.turns == demand.turns
                && known.count.checked_add(demand.count).is_some()
        });
        match fellow {
            Some(i) => merged[i].count += demand.count,
            None => {
                namesakes.push(merged.len());
                merged.push(demand.clone());
            }
        }
    }
    let mut kinds = Vec::new();
    for demand in &merged {
        match read_one(demand, cloth, mark, measure, whys) {
            Ok(kind) => kinds.push(kind),
            Err(finding) => findings.push(*finding),
        }
    }
    kinds
}

fn read_one(
    demand: &Demand,
    cloth: &Cloth,
    mark: Length,
    measure: Measure,
    whys: &mut Vec<Why>,
) -> Result<Kind, Box<Finding>> {
    check_sizes(demand)?;
    let may = |turn: Turn| demand.turns.contains(&turn);
    let upright = [Turn::As, Turn::Half].into_iter().find(|turn| may(*turn));
    let sideways = [Turn::Quarter, Turn::ThreeQuarters].into_iter().find(|turn| may(*turn));
    let mut kind = Kind {
        piece: demand.piece.clone(),
        count: demand.count,
        items: demand.count,
        extra: 0,
        what: What::Rectangle,
        ways: Vec::new(),
        boxes: Vec::new(),
        four_areas: 0,
        least_height: 0,
    };
    // How high and wide a piece is in the frame its shape is given in.
    let (high, wide);
    match &demand.shape {
        DemandShape::Rectangle { width, height } => {
            (high, wide) = (height.len.units(), width.len.units());
            kind.four_areas = 4 * i128::from(wide) * i128::from(high);
            kind.ways.extend(upright.map(|turn| Lying {
                turn,
                height: *height,
                length: *width,
            }));
            if wide != high || upright.is_none() {
                kind.ways.extend(sideways.map(|turn| Lying {
                    turn,
                    height: *width,
                    length: *height,
                }));
            }
        }
        DemandShape::Half { width, height, rising } => {
            (high, wide) = (height.len.units(), width.len.units());
            kind.four_areas = 2 * i128::from(wide) * i128::from(high);
            if !(may(Turn::As) && may(Turn::Half)) {
                return Err(needs_template(
                    demand,
                    "the other half of every rectangle would lie upside down",
                ));
            }
            kind.what = What::Halves { rising: *rising };
            (kind.items, kind.extra) = shares(demand.count, 2);
            kind.ways.push(Lying {
                turn: Turn::As,
                height: *height,
                length: *width,
            });
        }
        DemandShape::Quarter { side } => {
            // A quarter named by its square's lower edge is half as high as it is wide.
            (high, wide) = (side.len.units() / 2, side.len.units());
            kind.four_areas = i128::from(wide) * i128::from(wide);
            if ![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters]
                .into_iter()
                .all(may)
            {
                return Err(needs_template(
                    demand,
                    "the four quarters of every square would lie four ways",
                ));
            }
            kind.what = What::Quarters;
            (kind.items, kind.extra) = shares(demand.count, 4);
            kind.ways.push(Lying {
                turn: Turn::As,
                height: *side,
                length: *side,
            });
        }
        DemandShape::Slant {
            height,
            lower,
            upper,
            lead,
            ruler,
        } => {
            let (low, up, lead) = (lower.len.units(), upper.len.units(), lead.units());
            high = height.len.units();
            wide = low.max(lead + up) - lead.min(0);
            kind.four_areas = 2 * (i128::from(low) + i128::from(up)) * i128::from(high);
            let slant = Slant {
                lower: low,
                upper: up,
                lead,
                named: may(Turn::As),
                turned: may(Turn::Half),
            };
            let Some(turn) = upright else {
                return Err(needs_template(demand, "it would have to be cut crosswise to its slant"));
            };
            if slant.most(1, 0, 0, cloth.usable) == 1 {
                kind.ways.push(Lying {
                    turn,
                    height: *height,
                    length: *lower,
                });
            }
            kind.what = What::Slant {
                slant,
                lower: *lower,
                upper: *upper,
                ruler: *ruler,
            };
        }
        DemandShape::Shaped { width, height, cuts } => {
            (high, wide) = (height.len.units(), width.len.units());
            kind.four_areas = crate::bound::four_areas_shaped(wide, high, cuts);
            if !may(Turn::As) {
                return Err(needs_template(demand, "its shaping cuts are measured as it is named"));
            }
            kind.what = What::Shaped(cuts.clone());
            kind.ways.push(Lying {
                turn: Turn::As,
                height: *height,
                length: *width,
            });
        }
        DemandShape::Template { template } => {
            let turned = |turn: Turn| turned_template(template, turn);
            let (box_wide, box_high) = box_of(&turned(Turn::As));
            (high, wide) = (box_high, box_wide);
            kind.four_areas = four_areas(template);
            for turn in [Turn::As, Turn::Half, Turn::Quarter, Turn::ThreeQuarters] {
                // A printed shape lies as printed if it can; another way is another print.
                if !may(turn) || !kind.ways.is_empty() {
                    continue;
                }
                let shape = turned(turn);
                let (wide, high) = box_of(&shape);
                if on_mark(wide, mark) > cloth.usable || on_mark(high, mark) > cloth.tallest() {
                    continue;
                }
                let length = box_size("template's width", wide, mark, whys);
                let height = box_size("template's height", high, mark, whys);
                kind.ways.push(Lying { turn, height, length });
                kind.what = What::Template(shape);
            }
        }
    }
    kind.ways.retain(|way| {
        let across = matches!(kind.what, What::Slant { .. }) || way.length.len.units() <= cloth.usable;
        across && way.height.len.units() <= cloth.tallest()
    });
    let (across, along) = (sideways.map(|_| (wide, high)), upright.map(|_| (high, wide)));
    let boxes: Vec<(i64, i64)> = along
        .into_iter()
        .chain(across)
        .filter(|(high, wide)| *wide <= cloth.usable && *high <= cloth.tallest())
        .collect();
    kind.least_height = match kind.what {
        // What shaping leaves may be lower than its rectangle.
        What::Shaped(_) => 0,
        _ => boxes.iter().map(|(high, _)| *high).min().unwrap_or(0),
    };
    if matches!(kind.what, What::Rectangle) {
        kind.boxes = boxes;
    }
    if kind.ways.is_empty()
        && let Some(sold) = cloth.piece
    {
        let told = |units: i64| Length::from_units(units).print(measure, Style::Plain);
        return Err(Box::new(Finding::stop(
            "larger-than-sold",
            Place::Piece(demand.piece.clone()),
            format!(
                "Piece {} is {} wide and {} high; a {} of {} has {} across and {} along for it, squared up.",
                demand.piece,
                told(wide),
                told(high),
                sold.form.one(),
                cloth.fabric,
                told(cloth.usable),
                told(sold.room)
            ),
            "Buy this cloth off the bolt (sold = \"bolt\") or in larger pieces, or draw smaller patches of it.",
        )));
    }
    if kind.ways.is_empty() {
        return Err(Box::new(Finding::stop(
            "wider-than-cloth",
            Place::Piece(demand.piece.clone()),
            format!(
                "Piece {} is {} wide and {} high; the cloth is usable over {}.",
                demand.piece,
                Length::from_units(wide).print(measure, Style::Plain),
                Length::from_units(high).print(measure, Style::Plain),
                Length::from_units(cloth.usable).print(measure, Style::Plain)
            ),
            "Join it from shorter pieces, allow it to lie the other way, or take wider cloth.",
        )));
    }
    Ok(kind)
}

/// How many items give `count` pieces, and how many pieces too many those are.
fn shares(count: u32, each: u32) -> (u32, u32) {
    let items = count.div_ceil(each);
    (items, (u64::from(items) * u64::from(each) - u64::from(count)) as u32)
}

fn needs_template(demand: &Demand, because: &str) -> Box<Finding> {
    Box::new(Finding::stop(
        "print-needs-template",
        Place::Piece(demand.piece.clone()),
        format!(
            "Piece {} cannot be cut from strips as its print must lie: {because}.",
            demand.piece
        ),
        "Cut it round a template, or let the print lie free.",
    ))
}

fn check_sizes(demand: &Demand) -> Result<(), Box<Finding>> {
    let real = |length: Length| (1..=WIDEST).contains(&length.units());
    let or_none = |length: Length| (0..=WIDEST).contains(&length.units());
    let fine = match &demand.shape {
        DemandShape::Rectangle { width, height } | DemandShape::Half { width, height, .. } => {
            real(width.len) && real(height.len)
        }
        DemandShape::Shaped { width, height, cuts } => {
            let near = |size: Size| (-WIDEST..=WIDEST).contains(&size.len.units());
            real(width.len)
                && real(height.len)
                && cuts.iter().all(|cut| {
                    let dots = [
                        cut.from.from_left,
                        cut.from.from_lower,
                        cut.to.from_left,
                        cut.to.from_lower,
                    ];
                    dots.into_iter().all(near) && near(cut.past)
                })
        }
        DemandShape::Quarter { side } => real(side.len),
        DemandShape::Slant {
            height,
            lower,
            upper,
            lead,
            ruler,
        } => {
            real(height.len)
                && or_none(lower.len)
                && or_none(upper.len)
                && real(lower.len + upper.len)
                && or_none(lead.abs())
                && ruler.and_then(|r| r.across).is_none_or(|a| real(a.len))
        }
        DemandShape::Template { template } => {
            let widest = Printed::of(Length::from_units(WIDEST));
            let near = |printed: Printed| (-widest..=widest).contains(&printed);
            let outline = template.outline();
            template.corners.len() >= 2
                && outline.len() >= 3
                && outline.iter().all(|(corner, _)| near(corner.right) && near(corner.up))
                && {
                    let (wide, high) = box_of(template);
                    wide > 0 && high > 0
                }
        }
    };
    if fine && !demand.turns.is_empty() {
        return Ok(());
    }
    Err(Box::new(Finding::stop(
        "piece-without-size",
        Place::Piece(demand.piece.clone()),
        format!(
            "Piece {} has a size of nothing, or more than 10 000 in, or no way to lie.",
            demand.piece
        ),
        "",
    )))
}

/// A size with its derivation put among the others.
pub(crate) fn keep(why: Why, len: Length, whys: &mut Vec<Why>) -> Size {
    let id = u32::try_from(whys.len()).ok().map(WhyId);
    whys.push(why);
    Size { len, why: id }
}
