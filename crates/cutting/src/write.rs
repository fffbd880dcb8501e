//! The packed strips written out as a cutting plan.

use crate::buy;
use crate::kinds::{Cloth, Kind, What, keep};
use crate::pack::{Fill, Row};
use crate::search::Found;
use crate::slant::{Shown, Slant, waste};
use measure::{Length, Why};
use recipe::{Alike, Band, ClothPlan, Cut, CutPlan, CutRun, Gives, PieceCut, RulerCut, Size, Strip, Turn};

struct Writer<'a> {
    kinds: &'a [Kind],
    whys: &'a mut Vec<Why>,
    nothing: Option<Size>,
}

/// Adds the plan of one cloth, with the templates it uses; the bands kept whole come last.
pub(crate) fn add_cloth(
    plan: &mut CutPlan,
    cloth: &Cloth,
    kinds: &[Kind],
    found: &Found,
    bands: &[&Band],
    whys: &mut Vec<Why>,
) {
    for kind in kinds {
        if let What::Template(template) = &kind.what
            && !plan.templates.contains(template)
        {
            plan.templates.push(template.clone());
        }
    }
    let usable = buy::usable(cloth, whys);
    let square_up = keep(buy::squaring_up(cloth), Length::from_units(cloth.square_up), whys);
    let mut writer = Writer {
        kinds,
        whys,
        nothing: None,
    };
    let whole = |band: &&&Band| Strip {
        height: band.height,
        times: band.count,
        runs: Vec::new(),
        rest: Vec::new(),
        purpose: Some(band.purpose),
    };
    let Some(sold) = cloth.piece else {
        let mut strips: Vec<Strip> = found.rows.iter().filter_map(|row| writer.strip(row)).collect();
        strips.extend(bands.iter().filter(|band| band.count > 0).map(|band| whole(&band)));
        plan.cloths.push(ClothPlan {
            fabric: cloth.fabric.clone(),
            usable,
            square_up,
            alike: None,
            strips,
        });
        return;
    };
    let length = buy::washed(cloth, sold, writer.whys);
    for lot in &found.lots {
        let one = |&(index, times): &(usize, u32)| {
            let strip = match found.rows.get(index) {
                Some(row) => writer.strip(row)?,
                None => whole(&bands.get(index - found.rows.len())?),
            };
            Some(Strip { times, ..strip })
        };
        let strips: Vec<Strip> = lot.strips.iter().filter_map(one).collect();
        plan.cloths.push(ClothPlan {
            fabric: cloth.fabric.clone(),
            usable,
            square_up,
            alike: Some(Alike {
                count: lot.count,
                length,
            }),
            strips,
        });
    }
}

impl Writer<'_> {
    fn strip(&mut self, row: &Row) -> Option<Strip> {
        // Every strip holds something, so there is always a first.
        let first = row.fill.first()?;
        let height = self.kinds[first.kind].ways[first.way].height;
        let mut lean = 0;
        let mut runs = Vec::new();
        for fill in &row.fill {
            self.runs(fill, &mut lean, &mut runs);
        }
        let rest = row.rest.iter().filter_map(|row| self.strip(row)).collect();
        Some(Strip {
            height,
            times: row.times,
            runs,
            rest,
            purpose: None,
        })
    }

    fn runs(&mut self, fill: &Fill, lean: &mut i64, runs: &mut Vec<CutRun>) {
        let kind = &self.kinds[fill.kind];
        let way = kind.ways[fill.way];
        let as_named = || PieceCut {
            piece: kind.piece.clone(),
            turn: Turn::As,
        };
        let gives = match &kind.what {
            What::Slant {
                slant,
                lower,
                upper,
                ruler,
            } => {
                self.slanted(fill, slant, (*lower, *upper), *ruler, lean, runs);
                return;
            }
            What::Rectangle => Gives::Piece(PieceCut {
                piece: kind.piece.clone(),
                turn: way.turn,
            }),
            What::Halves { rising } => Gives::Halves {
                rising: *rising,
                lower: as_named(),
                upper: as_named(),
            },
            What::Quarters => Gives::Quarters((0..4).map(|_| as_named()).collect()),
            What::Shaped(cuts) => Gives::Shaped {
                piece: as_named(),
                cuts: cuts.clone(),
            },
            What::Template(template) => Gives::Template {
                piece: as_named(),
                template: template.name.clone(),
            },
        };
        runs.push(CutRun {
            times: fill.count,
            cuts: vec![Cut {
                lower: way.length,
                upper: way.length,
                ruler: None,
                gives,
            }],
        });
    }

    /// A waste cut where the line must first take the slope of the pieces; then pieces, head to tail in pairs where
    /// they may be turned, else with a waste cut between where the next does not share the cut.
    fn slanted(
        &mut self,
        fill: &Fill,
        slant: &Slant,
        sizes: (Size, Size),
        ruler: Option<RulerCut>,
        lean: &mut i64,
        runs: &mut Vec<CutRun>,
    ) {
        let piece = self.kinds[fill.kind].piece.clone();
        let cut = |shown: Shown| {
            let (lower, upper) = if shown.turned { (sizes.1, sizes.0) } else { sizes };
            let turn = if shown.turned { Turn::Half } else { Turn::As };
            // Parallel to the last cut it is measured straight across from it.
            let ruler = ruler.filter(|_| shown.right() != 0).map(|ruler| RulerCut {
                across: ruler.across.filter(|_| shown.right() == shown.lean),
                ..ruler
            });
            Cut {
                lower,
                upper,
                ruler,
                gives: Gives::Piece(PieceCut {
                    piece: piece.clone(),
                    turn,
                }),
            }
        };
        let laid = slant.lay(fill.count, *lean);
        let first = slant.shown(laid.first_turned);
        let second = slant.next(first);
        let begin = self.waste(*lean, first.lean, ruler);
        *lean += laid.head - laid.foot;
        let mut add = |times: u32, cuts: Vec<Cut>| {
            if times > 0 {
                runs.push(CutRun { times, cuts });
            }
        };
        if slant.alternates() {
            if let Some(waste) = begin {
                add(1, vec![waste]);
            }
            add(fill.count / 2, vec![cut(first), cut(second)]);
            add(fill.count % 2, vec![cut(first)]);
            return;
        }
        let Some(between) = self.waste(first.right(), first.lean, ruler) else {
            if let Some(waste) = begin {
                add(1, vec![waste]);
            }
            add(fill.count, vec![cut(first)]);
            return;
        };
        match begin {
            Some(waste) if alike(&waste, &between) => add(fill.count, vec![waste, cut(first)]),
            begin => {
                if let Some(waste) = begin {
                    add(1, vec![waste]);
                }
                add(fill.count - 1, vec![cut(first), between]);
                add(1, vec![cut(first)]);
            }
        }
    }

    /// The waste cut from one lean to another; `None` where they are the same.
    fn waste(&mut self, from: i64, to: i64, ruler: Option<RulerCut>) -> Option<Cut> {
        let (foot, head) = waste(from, to);
        if foot == 0 && head == 0 {
            return None;
        }
        let mut size = |units: i64| {
            let len = Length::from_units(units);
            if units > 0 {
                let lean = |units: i64| Box::new(Why::given("lean of the line", Length::from_units(units).to_inches()));
                let (less, more) = (from.min(to), from.max(to));
                return keep(
                    Why::Less(lean(more), lean(less)).named("change of slope"),
                    len,
                    self.whys,
                );
            }
            *self
                .nothing
                .get_or_insert_with(|| keep(Why::given("nothing", 0.0), len, self.whys))
        };
        Some(Cut {
            lower: size(foot),
            upper: size(head),
            ruler: ruler
                .filter(|_| to != 0)
                .map(|ruler| RulerCut { across: None, ..ruler }),
            gives: Gives::Waste,
        })
    }
}

fn alike(a: &Cut, b: &Cut) -> bool {
    a.lower.len == b.lower.len && a.upper.len == b.upper.len
}
