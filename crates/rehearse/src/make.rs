//! The making of one kind of unit, step by step, and of all of them in order.

use crate::cut::CutCloth;
use crate::film::Film;
use crate::finish::Top;
use crate::maker::SAMPLES;
use crate::over_card::Basting;
use crate::paper::Sheet;
use crate::piece::{Action, Cloth};
use crate::table::{Table, Tally};
use crate::words::{LONGEST, Outcome, bad, refuse};
use crate::work::{Class, Drawn, Placed, Thing};
use recipe::{Make, Measured, PrintNote, Recipe, Size, Slot, Step, Take};
use shape::Motion;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use terms::{Finding, PieceId, Place, UnitId};

/// What comes of all makings.
#[derive(Default)]
pub(crate) struct Made {
    pub(crate) top: Option<Top>,
    pub(crate) findings: Vec<Finding>,
    pub(crate) tally: Tally,
}

/// What a unit is, once its making was tried.
enum Tried {
    /// One for each unit made: in a proof all are alike and the first stands for them.
    Made(Vec<Rc<Class>>),
    /// Its making failed, or needs something whose making failed; said already.
    Failed,
}

/// What is taken from the pool.
enum Taken {
    /// A piece or a unit.
    Cloth(Rc<Class>),
    /// A printed paper.
    Paper(Rc<Sheet>),
}

/// Does all makings in order. Those that need a unit whose making failed are passed over.
pub(crate) fn make_all(recipe: &Recipe, cut: &CutCloth, film: Option<&mut Film>) -> Made {
    make_by(recipe, cut, film, None, &|| true)
}

/// Does all makings with the given hands, or with none: then exactly as said; as long as it is to go on.
pub(crate) fn make_by(
    recipe: &Recipe,
    cut: &CutCloth,
    mut film: Option<&mut Film>,
    hands: Option<Box<crate::maker::Hands>>,
    go_on: &dyn Fn() -> bool,
) -> Made {
    let mut made = Made::default();
    // Exact units brought in from another rehearsal keep their own numbers, below these.
    made.tally.owner = recipe.pieces.len() as u32 + 1;
    if hands.as_ref().is_some_and(|h| !h.perfect.is_empty()) {
        made.tally.owner = made.tally.owner.saturating_add(1 << 24);
    }
    made.tally.hands = hands;
    if let Err(finding) = sound(recipe) {
        made.findings.push(*finding);
        return made;
    }
    let mut prints_by_cloth: BTreeMap<_, PrintNote> = BTreeMap::new();
    for note in &recipe.fabrics {
        prints_by_cloth.insert(&note.fabric, note.print);
    }
    let prints: Vec<PrintNote> = recipe
        .pieces
        .iter()
        .map(|p| prints_by_cloth.get(&p.fabric).copied().unwrap_or_default())
        .collect();
    let kinds: BTreeMap<&PieceId, usize> = recipe.pieces.iter().enumerate().map(|(i, p)| (&p.piece, i)).collect();
    let mut units: BTreeMap<&UnitId, Tried> = BTreeMap::new();
    for (i, make) in recipe.makes.iter().enumerate() {
        if !go_on() {
            return made;
        }
        let place = Place::Unit(make.unit.clone());
        if units.contains_key(&make.unit) {
            let sentence = "This unit is made by two makings.";
            made.findings
                .push(*bad(&place, sentence, "Give each kind of unit one making."));
            continue;
        }
        // In a proof one unit stands for all of its kind; a wobbly maker makes several.
        let goes = match &made.tally.hands {
            None => 1,
            Some(hands) if hands.maker.strays() => make.times.clamp(1, SAMPLES),
            Some(_) => 1,
        };
        let mut classes = Vec::new();
        for go in 0..goes {
            let Some(mut given) = make_once(
                (recipe, cut),
                (i, make),
                &kinds,
                &units,
                &prints,
                &mut made,
                // What a unit was seen to be is seen again in what it is sewn into.
                (
                    film.is_some() && go == 0,
                    film.as_deref_mut().filter(|film| go == 0 && film.wants(&make.unit)),
                ),
            ) else {
                classes.clear();
                break;
            };
            classes.append(&mut given);
        }
        if let Some(keep) = made.tally.hands.as_mut().and_then(|h| h.keep.as_mut()) {
            keep.insert(i as u32, classes.clone());
        }
        if let Some(hands) = &made.tally.hands
            && hands.exact == Some(i as u32)
            && let Some(exact) = hands.perfect.get(&(i as u32))
        {
            // Made as ever, with all its misses; only what goes on from here is exact.
            classes.clone_from(exact);
        }
        let result = if classes.is_empty() {
            Tried::Failed
        } else {
            Tried::Made(classes)
        };
        units.insert(&make.unit, result);
    }
    if made.top.is_none() && made.findings.is_empty() {
        let sentence = "The recipe never finishes the top.";
        made.findings
            .push(*bad(&Place::Quilt, sentence, "End the last making with the finish."));
    }
    made
}

/// Makes one unit of a kind (or what one making gives); `None` when it cannot be made, which is said.
fn make_once(
    (recipe, cut): (&Recipe, &CutCloth),
    (i, make): (usize, &Make),
    kinds: &BTreeMap<&PieceId, usize>,
    units: &BTreeMap<&UnitId, Tried>,
    prints: &[PrintNote],
    made: &mut Made,
    (filming, film): (bool, Option<&mut Film>),
) -> Option<Vec<Rc<Class>>> {
    let place = Place::Unit(make.unit.clone());
    let parts = match gather(make, i as u32, kinds, units, cut, &mut made.tally) {
        Ok(parts) => parts?,
        Err(finding) => {
            made.findings.push(*finding);
            return None;
        }
    };
    let mut table = Table {
        recipe,
        make,
        prints,
        guides: &cut.guides,
        sheets: Vec::new(),
        tally: &mut made.tally,
        action: Action {
            make: i as u32,
            step: 0,
        },
        seam: recipe.seam.inches(),
        nodes: Vec::new(),
        cards: &cut.cards,
        cards_in: Vec::new(),
        members: Vec::new(),
        parts: Vec::new(),
        slots: BTreeMap::new(),
        marks: BTreeMap::new(),
        seams: BTreeMap::new(),
        gone: BTreeSet::new(),
        bowed_seams: Vec::new(),
        joins: Vec::new(),
        stops: Vec::new(),
        begun: Vec::new(),
        halves: BTreeMap::new(),
        cuts: Vec::new(),
        waste: Vec::new(),
        filming,
    };
    let outcome = table.make(parts, film);
    match outcome {
        Ok((classes, top)) => {
            if top.is_some() {
                if i + 1 != recipe.makes.len() {
                    let sentence = "The top is finished before the last making.";
                    made.findings
                        .push(*bad(&place, sentence, "Finish the top in the last making."));
                }
                made.top = top;
            }
            Some(classes.into_iter().map(Rc::new).collect())
        }
        Err(finding) => {
            made.findings.push(*finding);
            None
        }
    }
}

/// The figures all makings lean on.
fn sound(recipe: &Recipe) -> Outcome<()> {
    let seam = recipe.seam.inches();
    let mark = recipe.mark.to_inches();
    if seam <= 0.0 || seam > 10.0 || mark <= 0.0 || mark > LONGEST {
        return Err(bad(
            &Place::Quilt,
            "The seam or the ruler's mark is no length a maker could use.",
            "Correct the seam and the mark.",
        ));
    }
    Ok(())
}

/// What a making takes from the pool; `None` when something it needs could not be made, which is said already.
fn gather(
    make: &Make,
    number: u32,
    kinds: &BTreeMap<&PieceId, usize>,
    units: &BTreeMap<&UnitId, Tried>,
    cut: &CutCloth,
    tally: &mut Tally,
) -> Outcome<Option<Vec<Taken>>> {
    let place = Place::Unit(make.unit.clone());
    let mut fresh: BTreeMap<usize, Rc<Class>> = BTreeMap::new();
    let mut parts = Vec::new();
    let mut whole = true;
    for part in &make.parts {
        match &part.take {
            Take::Piece(piece) => {
                let Some(&kind) = kinds.get(piece) else {
                    let sentence = format!("There is no piece {piece} in the recipe.");
                    return Err(refuse("unknown-piece", &place, sentence, "List the piece and cut it."));
                };
                match &cut.kinds[kind] {
                    // That none is cut is said by the counts.
                    None => whole = false,
                    Some(cloth) => {
                        if let Some(hands) = &mut tally.hands {
                            parts.push(Taken::Cloth(Rc::new(single(&hands.cut(cloth), number))));
                            continue;
                        }
                        let class = fresh.entry(kind).or_insert_with(|| Rc::new(single(cloth, number)));
                        parts.push(Taken::Cloth(class.clone()));
                    }
                }
            }
            Take::Paper(name) => match cut.sheets.get(name) {
                None => {
                    let sentence = format!("There is no foundation paper {name}.");
                    return Err(refuse("unknown-paper", &place, sentence, "Print the paper."));
                }
                // What is wrong with it is said already.
                Some(None) => whole = false,
                Some(Some(sheet)) => parts.push(Taken::Paper(sheet.clone())),
            },
            Take::Unit(unit) => match units.get(unit) {
                None => {
                    let sentence = format!("Unit {unit} is taken before it is made.");
                    return Err(bad(&place, sentence, "Make units before they are used."));
                }
                Some(Tried::Failed) => whole = false,
                Some(Tried::Made(made)) => {
                    let at = tally.hands.as_mut().map_or(0, |h| h.next_of(unit, made.len()));
                    parts.push(Taken::Cloth(made[at].clone()));
                }
            },
        }
    }
    Ok(whole.then_some(parts))
}

/// A kind of piece as a class: its edges are its sides.
fn single(cloth: &Cloth, make: u32) -> Class {
    let mut cloth = cloth.clone();
    cloth.taken = Some(make);
    let numbers: Vec<usize> = cloth
        .edges
        .iter()
        .filter_map(|e| match e.name {
            crate::piece::Name::Born { edge, .. } => Some(edge as usize),
            _ => None,
        })
        .collect();
    // A number of which the cutting left no edge leads to no piece; nor does any edge of what is laid on a ground.
    let numbers = if cloth.line.is_some() { Vec::new() } else { numbers };
    let count = numbers.iter().max().map_or(0, |&most| most + 1);
    let mut sides = vec![Vec::new(); count];
    for number in numbers {
        sides[number] = vec![0];
    }
    Class {
        owner: cloth.kind as u32 + 1,
        near: sides.clone(),
        sides,
        seams: Vec::new(),
        stops: Vec::new(),
        cards: 0,
        inner: Vec::new(),
        middle: cloth.middle,
        radius: cloth.radius,
        pieces: vec![Placed {
            cloth: Rc::new(cloth),
            motion: Motion::STILL,
            face: 0,
        }],
    }
}

impl Table<'_> {
    /// Takes the parts, does the steps and gives the units.
    fn make(&mut self, parts: Vec<Taken>, mut film: Option<&mut Film>) -> Outcome<(Vec<Class>, Option<Top>)> {
        let place = Place::Unit(self.make.unit.clone());
        if self.make.times == 0 {
            return Err(bad(&place, "This unit is made no times.", "Leave the making out."));
        }
        for (part, taken) in self.make.parts.iter().zip(parts) {
            match taken {
                Taken::Cloth(class) => self.take(part.slot, class)?,
                Taken::Paper(sheet) => self.take_paper(part.slot, sheet)?,
            }
        }
        if let Some(film) = film.as_deref_mut() {
            film.begin(self);
        }
        let mut top = None;
        let make = self.make;
        for (i, step) in make.steps.iter().enumerate() {
            self.action.step = i as u32;
            self.cuts.clear();
            self.waste.clear();
            self.spend(1)?;
            if top.is_some() {
                return Err(self.bad("The top is already finished.", "Finish last."));
            }
            match step {
                Step::Finish {
                    top: slot,
                    sides,
                    up,
                    seam,
                } => {
                    if make.times != 1 {
                        return Err(self.bad("The top is finished more than once.", "Make one top."));
                    }
                    if let Some(film) = film.as_deref_mut() {
                        film.after(self, step);
                    }
                    top = Some(self.finish(*slot, sides, *up, *seam)?);
                }
                _ => {
                    self.step(step)?;
                    if let Some(film) = film.as_deref_mut() {
                        film.after(self, step);
                    }
                }
            }
        }
        self.action.step = (make.steps.len() as u32).saturating_sub(1);
        let classes = self.give_all(&make.gives)?;
        if classes.is_empty() && top.is_none() {
            return Err(bad(
                &place,
                "This making gives nothing.",
                "Give what is made, or leave it out.",
            ));
        }
        let left: BTreeSet<u32> = self
            .slots
            .iter()
            .filter(|(_, (_, thing))| !matches!(thing, Thing::Spent))
            .map(|(slot, _)| slot.0)
            .collect();
        if let Some(slot) = left.first() {
            let sentence = format!("What is in slot {slot} is left on the table when the unit is done.");
            return Err(refuse(
                "left-on-the-table",
                &place,
                sentence,
                "Use everything that is taken.",
            ));
        }
        Ok((classes, top))
    }

    fn step(&mut self, step: &Step) -> Outcome<()> {
        match step {
            Step::Mark { on, name, line } => {
                let view = self.view(*on)?;
                self.no_card_in(view.lower)?;
                let line = self.ruler(line, &view)?;
                self.draw(name, view.lower, Drawn::Line(line))
            }
            Step::Dot { on, name, at } => {
                let view = self.view(*on)?;
                self.no_card_in(view.lower)?;
                let dot = self.point(at, &view)?;
                self.draw(name, view.lower, Drawn::Dot(dot))
            }
            Step::Lay { a, b, how, into } => self.lay(*a, *b, how, *into),
            Step::Sew { stack, path, join } => self.sew(*stack, path, *join),
            Step::CutApart {
                stack,
                line,
                keep,
                offcut,
            } => self.cut_apart(*stack, line, keep, offcut),
            Step::Open { stack, press, into } => self.open(*stack, *press, *into),
            Step::Snip { of, along } => self.snip(*of, along),
            Step::SetAside { of, what, is, .. } => self.set_aside(*of, what, *is),
            Step::Trim { of, lines, into } => self.trim(*of, lines, *into),
            Step::Check { of, what, is } => self.check(*of, what, *is),
            Step::Pivot {
                stack,
                a,
                b,
                first,
                last,
                meets,
            } => self.pivot(*stack, (a, b), (first, last), meets),
            Step::Close {
                work,
                seam,
                a,
                b,
                end,
                meets,
                press,
                into,
            } => {
                if press.is_spun() {
                    return Err(self.spun_in_vain());
                }
                self.close(*work, *seam, (a, b), end, meets, *into)
            }
            Step::SubCut {
                of,
                first,
                toward,
                width,
                into,
            } => self.sub_cut(*of, first, *toward, *width, into),
            Step::Guide { on, guide, sides } => self.guide(*on, guide, sides),
            Step::StitchDown {
                piece,
                on,
                guide,
                shape,
                edge,
            } => self.stitch_down(*piece, *on, (guide, *shape), *edge),
            Step::Baste {
                piece,
                card,
                side,
                along,
                inside,
                flat,
                least,
                most,
                into,
            } => self.baste(&Basting {
                piece: *piece,
                card,
                side: *side,
                along: *along,
                inside,
                flat,
                least: *least,
                most: *most,
                into: *into,
            }),
            Step::Whip { a, b, edges, into } => self.whip(*a, *b, edges, *into),
            Step::TakeOut { of, cards } => self.take_out(*of, cards),
            Step::Spread { on, piece, along, into } => self.spread(*on, *piece, along, *into),
            Step::Pare { of, line, past } => self.pare(*of, *line, *past),
            Step::CutOut { of, into } => self.cut_out(*of, *into),
            Step::Finish { .. } => Ok(()),
        }
    }

    /// Lays a whole work aside: it is used up, and nothing is made of it.
    fn set_aside(&mut self, of: Slot, what: &Measured, is: Size) -> Outcome<()> {
        let root = self.work(of)?;
        self.no_card_in(root)?;
        self.closed(root)?;
        self.all_down(root)?;
        self.check(of, what, is)?;
        self.use_up(of);
        Ok(())
    }

    fn draw(&mut self, name: &recipe::MarkName, root: usize, drawn: Drawn) -> Outcome<()> {
        if self.marks.contains_key(name) {
            return Err(self.bad(
                format!("Two marks are called \"{}\".", name.0),
                "Give each mark its own name.",
            ));
        }
        self.marks.insert(name.clone(), vec![(root, drawn)]);
        Ok(())
    }
}
