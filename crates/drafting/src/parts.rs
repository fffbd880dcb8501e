//! Parts: a pattern handed out month by month. How often each making is done by the end of each part is reckoned backwards
//! from what the part hands out; the difference to the part before is the part's own share, so that the shares come to the
//! whole. What a making gives beyond the part's need is kept for a later part. Each part is cut by itself.

use crate::ahead::{Ahead, Pieces};
use crate::one_first::OneFirst;
use crate::{Draft, cloths_to_cut};
use design::Design;
use finishing::Finishing;
use measure::Length;
use recipe::{BoughtCloth, BoughtPieces, Demand, Make, Pattern, PieceNote, Recipe, Size, Step, Take};
use std::collections::{BTreeMap, BTreeSet};
use terms::{Finding, PieceId, Place, UnitId};

/// One part of a pattern, with its own cutting.
#[derive(Clone, Debug)]
pub struct PartDraft {
    /// Its name.
    pub name: String,
    /// When it is handed out, as written; empty when not said.
    pub date: String,
    /// The blocks made in it, and how many of each.
    pub blocks: Vec<(String, u64)>,
    /// Whether the top is put together in it.
    pub sews_the_top: bool,
    /// Whether binding, back and the rest are cut in it.
    pub finishes: bool,
    /// What is sewn and cut in it. The makings of earlier parts are not told again.
    pub pattern: Pattern,
    /// What its pieces are cut as.
    pub demands: Vec<Demand>,
    /// Units of earlier parts that are sewn on here, and how many.
    pub from_before: Vec<(UnitId, u64)>,
    /// Pieces cut here that are sewn in a later part, and how many.
    pub cut_ahead: Vec<(PieceId, u64)>,
    /// Pieces of earlier parts that are sewn here, and how many.
    pub cut_before: Vec<(PieceId, u64)>,
    /// Units made here for later parts, and how many lie ready in all when it is done.
    pub kept: Vec<(UnitId, u64)>,
    /// What comes after the top, if it is cut here.
    pub finishing: Finishing,
    /// For each kind of block made here, what a single one takes.
    pub first: Vec<OneFirst>,
}

/// All parts of a pattern, in order.
#[derive(Clone, Debug, Default)]
pub struct Parts {
    /// The parts; none when the design names none.
    pub list: Vec<PartDraft>,
    /// What is other than the design asks for.
    pub findings: Vec<Finding>,
}

/// What each part hands out, before anything is reckoned.
struct Share {
    name: String,
    date: String,
    blocks: BTreeMap<String, u64>,
}

/// What is done in one part.
struct Doing<'a> {
    /// How often each making.
    times: &'a [u32],
    /// How often each in later parts.
    rest: &'a [u32],
    demands: Vec<Demand>,
    cut_ahead: Vec<(PieceId, u64)>,
    cut_before: Vec<(PieceId, u64)>,
}

fn as_list(pieces: &Pieces) -> Vec<(PieceId, u64)> {
    let counted = pieces.iter().filter(|(_, count)| **count > 0);
    counted.map(|(piece, count)| (piece.clone(), *count)).collect()
}

impl Draft {
    /// The pattern in the parts that the design names.
    pub fn parts(&self, design: &Design) -> Parts {
        let mut parts = Parts::default();
        if design.parts.is_empty() {
            return parts;
        }
        let (shares, top) = self.shares(design, &mut parts.findings);
        let done = self.done_by(&shares, top);
        let finish = finishing_part(design, shares.len(), top);
        let mut made_in_all: BTreeMap<&UnitId, u64> = BTreeMap::new();
        let mut before = vec![0_u32; done.first().map_or(0, Vec::len)];
        let mut times: Vec<Vec<u32>> = Vec::with_capacity(done.len());
        for done in &done {
            times.push(done.iter().zip(&before).map(|(now, then)| now - then).collect());
            before.clone_from(done);
        }
        let ahead = self.cut_ahead(design, &times);
        let cut = self.cut_by_part(&times, &ahead);
        for (k, share) in shares.iter().enumerate() {
            let rest: Vec<u32> = done.last().map_or_else(Vec::new, |all| {
                all.iter().zip(&done[k]).map(|(all, now)| all - now).collect()
            });
            parts.list.push(self.part(
                design,
                share,
                Doing {
                    times: &times[k],
                    rest: &rest,
                    demands: self.demanded(&cut, k),
                    cut_ahead: as_list(&ahead.cut[k]),
                    cut_before: as_list(&ahead.from_before[k]),
                },
                (k == top, k == finish),
                &mut made_in_all,
                &mut parts.findings,
            ));
        }
        parts
    }

    /// The parts with the blocks that each hands out, and the number of the one in which the top is sewn.
    fn shares(&self, design: &Design, findings: &mut Vec<Finding>) -> (Vec<Share>, usize) {
        let placed = design.placed_blocks();
        let units = self.blocks_made();
        let mut left: BTreeMap<String, u64> = placed
            .iter()
            .filter(|(name, _)| units.contains_key(name.as_str()))
            .map(|(name, count)| (name.clone(), u64::from(*count)))
            .collect();
        let mut shares = Vec::new();
        for part in &design.parts {
            let mut blocks = BTreeMap::new();
            let named: Vec<(String, u64)> = if part.all {
                left.keys().map(|name| (name.clone(), u64::MAX)).collect()
            } else {
                let count = |count: u32| if count == u32::MAX { u64::MAX } else { u64::from(count) };
                part.blocks.iter().map(|(name, n)| (name.clone(), count(*n))).collect()
            };
            // What is left of a border's units and corners comes with the borders.
            let of_borders = if part.also.iter().any(|word| word == "borders") {
                design.border_blocks()
            } else {
                Default::default()
            };
            let unnamed = |name: &String| !named.iter().any(|(known, _)| known == name);
            let more: Vec<(String, u64)> = (of_borders.into_iter())
                .filter(|(name, _)| unnamed(name))
                .map(|(name, count)| {
                    let there = left.get(&name).copied().unwrap_or(0);
                    (name, u64::from(count).min(there))
                })
                .filter(|(_, count)| *count > 0)
                .collect();
            for (name, wanted) in named.into_iter().chain(more) {
                let there = left.get(&name).copied().unwrap_or(0);
                if !placed.contains_key(&name) {
                    findings.push(Finding::care(
                        "part-block-missing",
                        Place::Quilt,
                        format!(
                            "\"{}\" hands out block {name}, which is not placed on the top itself.",
                            part.name
                        ),
                        "Name blocks that the layout places, or take it out of the part.",
                    ));
                } else if !units.contains_key(name.as_str()) {
                    findings.push(Finding::note(
                        "part-block-not-whole",
                        Place::Quilt,
                        format!(
                            "Block {name} of \"{}\" is not sewn as a block of its own; it comes with the top.",
                            part.name
                        ),
                        "Nothing needs to be done; `split = \"never\"` keeps a block whole.",
                    ));
                } else if wanted != u64::MAX && wanted > there {
                    findings.push(Finding::care(
                        "part-too-many",
                        Place::Quilt,
                        format!(
                            "\"{}\" hands out {wanted} of block {name}, but {there} of {} are left for it.",
                            part.name, placed[&name]
                        ),
                        format!("Hand out {there} of them there, or \"all\"."),
                    ));
                }
                let given = wanted.min(there);
                if given > 0 {
                    left.insert(name.clone(), there - given);
                    blocks.insert(name, given);
                }
            }
            shares.push(Share {
                name: part.name.clone(),
                date: part.date.clone(),
                blocks,
            });
        }
        left.retain(|_, count| *count > 0);
        let sews = |part: &design::Part| part.also.iter().any(|word| word != "finish");
        let named = design.parts.iter().rposition(sews);
        let last_with_blocks = shares.iter().rposition(|share| !share.blocks.is_empty()).unwrap_or(0);
        let top = match named {
            Some(named) if left.is_empty() => named.max(last_with_blocks),
            _ => {
                // What is left forms a last part.
                shares.push(Share {
                    name: "The top".to_string(),
                    date: String::new(),
                    blocks: left,
                });
                shares.len() - 1
            }
        };
        for part in design.parts.iter().take(top).filter(|part| sews(part)) {
            findings.push(Finding::note(
                "part-sewn-later",
                Place::Quilt,
                format!(
                    "\"{}\" names what joins the blocks, but the top is sewn in \"{}\", when the last of it is there; its pieces are cut and set aside for it.",
                    part.name, shares[top].name
                ),
                "Nothing needs to be done.",
            ));
        }
        (shares, top)
    }

    /// For each named block the makings that make the whole of it.
    pub(crate) fn blocks_made(&self) -> BTreeMap<&str, Vec<usize>> {
        let mut made: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        for (i, make) in self.pattern.recipe.makes.iter().enumerate() {
            let story = self.units.iter().find(|story| story.unit == make.unit);
            if let Some(whole) = story.and_then(|story| story.whole.as_deref())
                && !make.gives.is_empty()
            {
                made.entry(whole).or_default().push(i);
            }
        }
        made
    }

    /// How often each making is done by the end of each part.
    fn done_by(&self, shares: &[Share], top: usize) -> Vec<Vec<u32>> {
        let makes = &self.pattern.recipe.makes;
        let place: BTreeMap<&UnitId, usize> = makes.iter().enumerate().map(|(i, make)| (&make.unit, i)).collect();
        let blocks = self.blocks_made();
        let taken_in_all = taken(makes, &place, &makes.iter().map(|make| make.times).collect::<Vec<_>>());
        let mut done: Vec<Vec<u32>> = Vec::new();
        let mut handed: BTreeMap<&str, u64> = BTreeMap::new();
        for (k, share) in shares.iter().enumerate() {
            for (name, count) in &share.blocks {
                *handed.entry(name).or_default() += count;
            }
            // Of several kinds that are one block, such as its mirror image, the earlier made come first.
            let mut wanted = vec![0_u64; makes.len()];
            for (name, count) in &handed {
                let mut count = *count;
                for &i in blocks.get(name).into_iter().flatten() {
                    let here = count.min(taken_in_all[i]);
                    wanted[i] = here;
                    count -= here;
                }
            }
            let last = k + 1 == shares.len();
            let mut times = vec![0_u32; makes.len()];
            for (i, make) in makes.iter().enumerate().rev() {
                if last || (k >= top && make.gives.is_empty()) {
                    times[i] = make.times;
                    continue;
                }
                let gives = make.gives.len().max(1) as u64;
                let need = if make.gives.is_empty() { 0 } else { wanted[i] };
                let need = need.max(taken(makes, &place, &times)[i]);
                let before = done.last().map_or(0, |before: &Vec<u32>| before[i]);
                times[i] = u32::try_from(need.div_ceil(gives))
                    .unwrap_or(u32::MAX)
                    .clamp(before, make.times);
            }
            done.push(times);
        }
        done
    }

    /// One part: its makings so many times, its pieces, its cutting, one block first.
    fn part<'a>(
        &'a self,
        design: &Design,
        share: &Share,
        doing: Doing<'_>,
        (sews_the_top, finishes): (bool, bool),
        ready: &mut BTreeMap<&'a UnitId, u64>,
        findings: &mut Vec<Finding>,
    ) -> PartDraft {
        let recipe = &self.pattern.recipe;
        let (times, rest, demands) = (doing.times, doing.rest, &doing.demands);
        let finishing = if finishes {
            self.finishing.clone()
        } else {
            Finishing::default()
        };
        let mut whys = self.pattern.whys.clone();
        let mut cut = cutting::plan_cutting(
            demands,
            &finishing.bands,
            &cloths_to_cut(design),
            recipe.mark,
            recipe.measure,
            &mut whys,
        );
        findings.append(&mut cut.findings);
        let mut from_before = Vec::new();
        let mut makes = Vec::new();
        for ((make, &times), &rest) in recipe.makes.iter().zip(times).zip(rest) {
            if times == 0 {
                continue;
            }
            let mut own: BTreeMap<&UnitId, u64> = BTreeMap::new();
            for part in &make.parts {
                if let Take::Unit(unit) = &part.take {
                    *own.entry(unit).or_default() += u64::from(times);
                }
            }
            for (unit, count) in own {
                let there = ready.entry(unit).or_default();
                let made_here: u64 = makes
                    .iter()
                    .filter(|m: &&Make| m.unit == *unit)
                    .map(|m| u64::from(m.times) * m.gives.len() as u64)
                    .sum();
                *there = there.saturating_sub(count);
                if count > made_here {
                    from_before.push((unit.clone(), count - made_here));
                }
            }
            *ready.entry(&make.unit).or_default() += u64::from(times) * make.gives.len() as u64;
            let mut make = make.clone();
            make.times = times;
            if rest > 0 {
                // What is spare at the end is named with the last that are made.
                make.spare = 0;
            }
            makes.push(make);
        }
        let kept = ready
            .iter()
            .map(|(unit, count)| {
                // Named spares are not waiting for anything.
                let spare: u32 = makes
                    .iter()
                    .filter(|make| make.unit == **unit)
                    .map(|make| make.spare)
                    .sum();
                ((*unit).clone(), count.saturating_sub(u64::from(spare)))
            })
            .filter(|(_, count)| *count > 0 && rest.iter().any(|times| *times > 0))
            .collect();
        let pieces = self.piece_notes(&doing, &cut.extra);
        let mut plan = cut.plan;
        (plan.papers, plan.guides, plan.cards) = self.printed(&makes);
        let part_recipe = Recipe {
            makes,
            pieces,
            ..recipe.clone()
        };
        let first = self.one_of_each(design, times, demands);
        PartDraft {
            name: share.name.clone(),
            date: share.date.clone(),
            blocks: share
                .blocks
                .iter()
                .map(|(name, count)| (name.clone(), *count))
                .collect(),
            sews_the_top,
            finishes,
            pattern: Pattern {
                format: self.pattern.format,
                recipe: part_recipe,
                cutting: plan,
                bought: cut.bought,
                whys,
            },
            demands: doing.demands,
            from_before,
            cut_ahead: doing.cut_ahead,
            cut_before: doing.cut_before,
            kept,
            finishing,
            first,
        }
    }

    /// How many of each piece every part cuts: what it sews that was not cut before, and what it cuts ahead; what is cut beyond need comes
    /// with the last that are cut.
    fn cut_by_part(&self, times: &[Vec<u32>], ahead: &Ahead) -> Vec<Pieces> {
        let makes = &self.pattern.recipe.makes;
        let of = |counts: &Pieces, piece: &PieceId| counts.get(piece).copied().unwrap_or(0);
        let sewn: Vec<_> = times.iter().map(|times| used(makes, times)).collect();
        let mut cut = vec![Pieces::new(); times.len()];
        for demand in &self.demands {
            let piece = &demand.piece;
            let mut beyond = u64::from(demand.count);
            let mut last = None;
            for (k, cut) in cut.iter_mut().enumerate() {
                let sewn = sewn[k].get(piece).copied().unwrap_or(0);
                let count = (sewn + of(&ahead.cut[k], piece)).saturating_sub(of(&ahead.from_before[k], piece));
                beyond = beyond.saturating_sub(count);
                if count > 0 {
                    cut.insert(piece.clone(), count);
                    last = Some(k);
                }
            }
            if let Some(count) = last.and_then(|k| cut[k].get_mut(piece)) {
                *count += beyond;
            }
        }
        cut
    }

    /// The demands of one part.
    fn demanded(&self, cut: &[Pieces], part: usize) -> Vec<Demand> {
        let demand = |demand: &Demand| {
            let count = u32::try_from(*cut[part].get(&demand.piece)?)
                .ok()
                .filter(|count| *count > 0)?;
            Some(Demand {
                count,
                ..demand.clone()
            })
        };
        self.demands.iter().filter_map(demand).collect()
    }

    /// The register of the pieces that are cut or sewn, with what is left of them.
    fn piece_notes(&self, doing: &Doing<'_>, extra: &[(PieceId, u32)]) -> Vec<PieceNote> {
        let used = used(&self.pattern.recipe.makes, doing.times);
        let of = |list: &[(PieceId, u64)], piece: &PieceId| {
            let found = list.iter().find(|(known, _)| known == piece);
            found.map_or(0, |(_, count)| *count)
        };
        let note = |note: &PieceNote| {
            let piece = &note.piece;
            let cut = doing.demands.iter().find(|demand| &demand.piece == piece);
            let sewn = used.get(piece).copied().unwrap_or(0);
            if cut.is_none() && sewn == 0 {
                return None;
            }
            let there = cut.map_or(0, |demand| u64::from(demand.count)) + of(&doing.cut_before, piece);
            let beyond = there.saturating_sub(sewn + of(&doing.cut_ahead, piece));
            Some(PieceNote {
                spare: u32::try_from(beyond).unwrap_or(u32::MAX) + crate::extra_of(extra, piece),
                ..note.clone()
            })
        };
        self.pattern.recipe.pieces.iter().filter_map(note).collect()
    }

    /// The printed matter that these makings need. Cards come out and are used again, so that as many as for the whole do.
    fn printed(&self, makes: &[Make]) -> (Vec<recipe::Paper>, Vec<recipe::Guide>, Vec<recipe::Card>) {
        let whole = &self.pattern.cutting;
        let mut papers: BTreeMap<&str, u32> = BTreeMap::new();
        let mut cards: BTreeMap<&str, u32> = BTreeMap::new();
        let mut guides: BTreeSet<&str> = BTreeSet::new();
        for make in makes {
            for part in &make.parts {
                if let Take::Paper(name) = &part.take {
                    *papers.entry(name).or_default() += make.times;
                }
            }
            for step in &make.steps {
                match step {
                    Step::Baste { card, .. } => *cards.entry(card).or_default() += make.times,
                    Step::Guide { guide, .. } => {
                        guides.insert(guide);
                    }
                    _ => {}
                }
            }
        }
        let papers = whole.papers.iter().filter_map(|paper| {
            let print = *papers.get(paper.name.as_str())?;
            Some(recipe::Paper { print, ..paper.clone() })
        });
        let cards = whole.cards.iter().filter_map(|card| {
            let uses = *cards.get(card.name.as_str())?;
            Some(recipe::Card { uses, ..card.clone() })
        });
        let guides = whole.guides.iter().filter(|guide| guides.contains(guide.name.as_str()));
        (papers.collect(), guides.cloned().collect(), cards.collect())
    }
}

impl Parts {
    /// What is bought of a cloth when each part is bought by itself.
    pub fn bought_part_by_part(&self, whole: &BoughtCloth) -> BoughtCloth {
        let own = |part: &'_ PartDraft| -> Vec<BoughtCloth> {
            let cloths = part.pattern.bought.cloths.iter();
            cloths.filter(|cloth| cloth.fabric == whole.fabric).cloned().collect()
        };
        let mut all = BoughtCloth {
            length: Size::bare(Length::ZERO),
            pieces: whole.pieces.map(|pieces| BoughtPieces { count: 0, ..pieces }),
            ..whole.clone()
        };
        for cloth in self.list.iter().flat_map(own) {
            all.length.len += cloth.length.len;
            if let (Some(all), Some(own)) = (&mut all.pieces, cloth.pieces) {
                all.count += own.count;
            }
        }
        all
    }
}

/// The part that cuts binding, back and the rest: the one that names them, but not before the top is sewn.
fn finishing_part(design: &Design, parts: usize, top: usize) -> usize {
    let names = |part: &design::Part| part.also.iter().any(|word| word == "finish");
    let named = design.parts.iter().rposition(names);
    named.map_or(parts.saturating_sub(1), |named| named.max(top))
}

/// How many of each making's units are taken by makings done so often.
pub(crate) fn taken(makes: &[Make], place: &BTreeMap<&UnitId, usize>, times: &[u32]) -> Vec<u64> {
    let mut taken = vec![0_u64; makes.len()];
    for (make, &times) in makes.iter().zip(times).filter(|(_, times)| **times > 0) {
        for part in &make.parts {
            if let Take::Unit(unit) = &part.take
                && let Some(&i) = place.get(unit)
            {
                taken[i] += u64::from(times);
            }
        }
    }
    taken
}

/// How many of each piece are sewn by makings done so often.
pub(crate) fn used<'m>(makes: &'m [Make], times: &[u32]) -> BTreeMap<&'m PieceId, u64> {
    let mut used = BTreeMap::new();
    for (make, &times) in makes.iter().zip(times).filter(|(_, times)| **times > 0) {
        for part in &make.parts {
            if let Take::Piece(piece) = &part.take {
                *used.entry(piece).or_default() += u64::from(times);
            }
        }
    }
    used
}
