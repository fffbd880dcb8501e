//! Whipping over card: folds sewn together, and the cards taken out.

use crate::maker::Miss;
use crate::piece::{Cloth, Name, OnCard};
use crate::resolve::{RawEdge, Run};
use crate::scene::Segment;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE};
use crate::work::{Birth, Thing, View};
use recipe::{CardsOut, EdgeRun, Slot, Whipped};
use shape::{Line, Motion, Point};
use std::collections::BTreeMap;
use std::rc::Rc;

/// Both works' runs of one pair, and the places where they begin and end.
struct Pair {
    runs: [Run; 2],
    ends: [(Point, Point); 2],
}

/// Carries the second run of a pair against the first, middle on middle.
fn lies_against(pair: &Pair) -> Motion {
    let middle = |i: usize| {
        let line = pair.runs[i].line;
        let (from, to) = pair.ends[i];
        line.at((line.reach_of(from) + line.reach_of(to)) / 2.0)
    };
    let [a, b] = &pair.runs;
    let from = Line {
        through: middle(1),
        along: b.line.along,
    };
    let onto = Line {
        through: middle(0),
        along: -a.line.along,
    };
    Motion::line_to_line(from, onto, false)
}

impl Table<'_> {
    /// Does a whip step.
    pub(crate) fn whip(&mut self, a: Slot, b: Slot, edges: &[Whipped], into: Slot) -> Outcome<()> {
        let (lower, upper) = (self.work(a)?, self.work(b)?);
        if lower == upper {
            return Err(self.bad("A thing cannot be whipped to itself.", "Whip two things together."));
        }
        self.closed(lower)?;
        self.closed(upper)?;
        let (view_a, view_b) = (View::of(lower), View::of(upper));
        let mut pairs = Vec::new();
        for whipped in edges {
            let (run_a, from_a) = self.folded_run(&whipped.a, &view_a, "the work")?;
            let (run_b, from_b) = self.folded_run(&whipped.b, &view_b, "what is whipped to it")?;
            pairs.push(Pair {
                runs: [run_a, run_b],
                ends: [from_a, from_b],
            });
        }
        let Some(first) = pairs.first() else {
            return Err(self.bad("No edges are whipped.", "Name the edges that lie together."));
        };
        let mut motion = lies_against(first);
        if let Some(by) = self.stray(|h| h.stray(h.maker.end)) {
            motion = motion.then(&Motion::slide(first.runs[0].line.along * by));
        }
        let mut before: Option<(Point, Point)> = None;
        for (k, pair) in pairs.iter().enumerate() {
            let (start, end) = pair.ends[0];
            let (start_b, end_b) = (motion.point(pair.ends[1].0), motion.point(pair.ends[1].1));
            for apart in [start.distance(end_b), end.distance(start_b)] {
                if self.misses(Miss::Laid, apart, TOLERANCE) {
                    let sentence = format!(
                        "Along edge {} of the whipping the corners lie {} apart.",
                        k + 1,
                        self.say(apart)
                    );
                    let mend = "Check the cards, and which edges are whipped together.";
                    return Err(self.refuse("corners-do-not-meet", sentence, mend));
                }
            }
            if let Some((end_before, start_before)) = before {
                let apart = start.distance(end_before).max(end_b.distance(start_before));
                if self.misses(Miss::Other, apart, TOLERANCE) {
                    let sentence = format!(
                        "Edge {} of the whipping does not begin where the one before ends.",
                        k + 1
                    );
                    return Err(self.refuse(
                        "whip-not-one-run",
                        sentence,
                        "Whip on round each corner, edge after edge.",
                    ));
                }
            }
            before = Some((end, start_b));
            self.held();
        }
        let mut segments = Vec::new();
        for (pair, names) in pairs.iter().zip(edges) {
            let (from, to) = pair.ends[0];
            segments.push(vec![(lower, Segment { from, to })]);
            for edge in pair.runs.iter().flat_map(|r| &r.edges) {
                self.whipped_over(edge);
            }
            self.lie_beside(pair);
            self.gone.extend(names.a.0.iter().chain(&names.b.0));
            self.tally.seams = self.tally.seams.saturating_add(u64::from(self.make.times));
        }
        self.use_up(a);
        self.use_up(b);
        self.link(upper, lower, motion);
        self.put(into, Birth::Other, Thing::Work(lower))?;
        self.seams.insert(into, segments);
        Ok(())
    }

    /// A run of folded edges with their cards in, and its finished ends.
    fn folded_run(&mut self, names: &EdgeRun, view: &View, which: &str) -> Outcome<(Run, (Point, Point))> {
        let run = self.run_of_any(names, view)?;
        if run.edges.iter().any(|e| !e.over) || !run.under.is_empty() {
            let sentence = format!("An edge of {which} is not folded over a card.");
            return Err(self.refuse("edge-not-folded", sentence, "Whip folded edges only."));
        }
        self.flush(&run, which)?;
        let ends = run.edges.first().zip(run.edges.last());
        let finished = ends.and_then(|(first, last)| first.finished[0].zip(last.finished[1]));
        match finished {
            Some(finished) => Ok((run, finished)),
            None => Err(self.bad("A run of edges is empty.", "Name the edges of the run.")),
        }
    }

    /// Notes that a folded edge is sewn.
    fn whipped_over(&mut self, edge: &RawEdge) {
        let part = &self.parts[edge.at.part];
        let Some(cloth) = part.cloth(edge.at.piece) else { return };
        let mut cloth = Cloth::clone(cloth);
        let next = cloth.index_of_next(edge.edge);
        if let Some(line) = Line::between(cloth.corners[edge.edge], cloth.corners[next])
            && let Some(card) = &mut cloth.card
        {
            let side = card.side_of(line);
            Rc::make_mut(card).whipped[side] = true;
        }
        cloth.edges[edge.edge].name = Name::Fold;
        let part = &mut self.parts[edge.at.part];
        part.changed.insert(edge.at.piece, Some(Rc::new(cloth)));
    }

    fn lie_beside(&mut self, pair: &Pair) {
        let [a, b] = &pair.runs;
        for (p, q) in a
            .edges
            .iter()
            .flat_map(|e| b.edges.iter().map(move |f| (e.at.part, f.at.part)))
        {
            self.parts[p].beside.push(q);
            self.parts[q].beside.push(p);
        }
    }

    /// Does a take-out step.
    pub(crate) fn take_out(&mut self, of: Slot, cards: &[CardsOut]) -> Outcome<()> {
        let root = self.work(of)?;
        let pieces = self.pieces_of(root);
        self.spend(pieces.len())?;
        let mut out: BTreeMap<usize, u32> = BTreeMap::new();
        for at in pieces {
            let part = &mut self.parts[at.part];
            let ready = |c: &OnCard| c.inside && c.whipped.iter().all(|&w| w);
            let Some(cloth) = part.cloth(at.piece).filter(|c| c.card.as_deref().is_some_and(ready)) else {
                continue;
            };
            let mut cloth = Cloth::clone(cloth);
            if let Some(card) = &mut cloth.card {
                Rc::make_mut(card).inside = false;
                *out.entry(card.card).or_default() += 1;
            }
            part.changed.insert(at.piece, Some(Rc::new(cloth)));
        }
        let mut said: BTreeMap<usize, u32> = BTreeMap::new();
        for CardsOut { card, count } in cards {
            let number = self.cards.iter().position(|c| c.name == *card);
            let fresh = number.filter(|n| *count > 0 && !said.contains_key(n));
            let Some(number) = fresh else {
                let sentence = format!("Cards \"{card}\" are taken out that are not there, none of them, or twice.");
                return Err(self.bad(sentence, "Say once how many of each card come out."));
            };
            said.insert(number, *count);
        }
        if out.is_empty() || out != said {
            let list = |counts: &BTreeMap<usize, u32>| {
                let each = counts.iter().map(|(&n, count)| {
                    let name = self.cards.get(n).map_or("", |c| c.name.as_str());
                    format!("{count} of {name}")
                });
                let each: Vec<String> = each.collect();
                if each.is_empty() {
                    "none".to_string()
                } else {
                    each.join(", ")
                }
            };
            let sentence = format!(
                "The cards whose sides are all sewn are {}, but the recipe takes out {}.",
                list(&out),
                list(&said)
            );
            return Err(self.refuse(
                "cards-differ",
                sentence,
                "Take out just the cards whose sides are all sewn.",
            ));
        }
        let total: u32 = out.values().sum();
        self.cards_in[root] = self.cards_in[root].saturating_sub(total);
        self.held();
        Ok(())
    }
}
