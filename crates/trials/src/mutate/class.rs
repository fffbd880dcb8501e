//! Which alterations may go unnoticed, decided from the pattern alone. Everything not named here must be refused.

use super::facts::{Facts, MakeFacts};
use super::site::{Change, Edit, Home, Kind, Site};
use super::steps::Touch;
use super::symmetry::piece_turns;
use super::yields;
use super::{cards, papers};
use recipe::{EdgeRef, End, Lay, LineRef, Path, Pattern, Ruler, Slot, Step, Take};
use serde_json::Value;

/// Why a survivor is right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    /// Which way a seam is pressed: cloth has no thickness in the proof (contract, rule 7), so every choice gives one top.
    PressSide,
    /// A printed overhang is checked within half a mark of what the cloth shows, and was right within half a mark
    /// before: a change of at most one mark may stay within it.
    PrintedTolerance,
    /// The ruler's smallest mark sets how finely a printed overhang is checked, and nothing else.
    RulerMark,
    /// A corner or edge that says only on which side of a line something lies, or which of two lines is meant; another
    /// one on that side says the same.
    SideOnly,
    /// Another edge on the same straight side: the making itself names both in one run, which must be flush, so their
    /// lines are one line. Or the other of two seams that nest.
    SameLine,
    /// Another edge parallel to the one an angle is measured from, which gives the ruler its direction and nothing else.
    SameDirection,
    /// Middle on middle instead of end on end: where the corners run ahead alike at both ends (within the mark to which that
    /// is printed; dots print nothing, and a unit's raw ends may have been snipped), the middles fall together too.
    MiddleForEnds,
    /// Raw ends even and ends crossing on the stitch line are one thing where the end is square to the seam or both
    /// ends lean alike, that is, where one raw corner runs ahead of the other by nothing.
    EvenIsNotch,
    /// A measuring left out, done twice or done a step sooner or later, or done at a place that is as large: it alters
    /// nothing, and what it would have found is held against the picture.
    Measuring,
    /// Where an end lies dot on dot, stitches that stop in the dot instead of running on: only the run's own pieces lie
    /// beyond, or dog ears that are folded under all the same, and no later seam turns there.
    StopInDot,
    /// How far a seam that is closed later is begun: anywhere from two seams on, as long as the cloth it crosses next is still
    /// free, gives one top.
    BegunAnywhere,
    /// Two dots exchanged that lie on one another already: when a seam is closed both layers lie flat in one work.
    DotsInOnePlace,
    /// Which of two even ends is called the first: what is laid so is sewn on marks or all round, not beside its edges.
    EndsNotSewn,
    /// Where a seam crosses one of the two raw edges that a cut made on both layers at once: opened, both meet the seam in one
    /// place.
    OnePlaceOnSeam,
    /// A cut halfway, measured from the opposite edge instead.
    Halfway,
    /// Where a strip set is squared up, and how its strips end: what lies before the first length and behind the last is thrown
    /// away, as long as every length has all its strips.
    StripEnds,
    /// Dog ears left on, cut off twice, cut a step sooner or later than something is measured or drawn by lines that no
    /// snip moves, or cut along another edge beyond which nothing lies: they stick out past every finished face and are
    /// folded under or cut off at the end.
    DogEar,
    /// Neighbouring steps exchanged of which neither alters, fills or draws what the other needs.
    Commuting,
    /// A line or dot that nothing uses.
    UnusedMark,
    /// A seam handed on that no later making names.
    SeamNotNamed,
    /// Whether a cloth's sides are alike: the table always lays cloth right side up as said, so the note is for the maker.
    RightSide,
    /// A print's direction as noted asks more or less of how pieces are cut; where the print must point is held against the
    /// picture whatever the note says.
    PrintNote,
    /// Which kind is called the mirror image of another: a word to the maker.
    TwinNote,
    /// What a strip kept whole is for, once the top is done: a word to the maker.
    KeptFor,
    /// Nothing is sewn, so the seam has nothing to hold.
    NothingSewn,
    /// The cutting plan, read independently, still fits the cloth and gives the same pieces, edge for edge (up to moving
    /// them, and to the print where there is one): cloth within its slack, more cloth than needed, waste cut otherwise, a
    /// square without a print turned onto itself.
    SamePieces,
    /// The cutting plan still fits and every edge that some step names lies where it did; only edges that no step names
    /// (a trimmed tip) have moved.
    EdgeNotNamed,
    /// The cutting plan still fits, and along the finished patch every edge of every piece lies within 1/64 in of where it lay,
    /// the piece moved as fits best: the tip of a sharp corner may then move much further along its own edges.
    WithinTolerance,
    /// More cloth to turn under at a corner than is said: as much is left everywhere.
    MoreToTurn,
    /// How much of an edge that lies under another shape is left unturned: nobody sees it.
    FlatBeneath,
    /// A bound is what no plan can do with less than: a comparison for the reader.
    Bound,
    /// A part lying turned onto itself: a piece of the same shape and print, a unit with the same pieces along each side.
    Symmetry,
    /// On foundation paper a piece laid otherwise, or cut to another size, still covers its area and its seams by its margin, read
    /// independently; or stitches still go on through the allowances.
    CoversAnyway,
    /// Cloth on foundation paper trimmed a second time at one line: nothing more comes off.
    TrimmedAgain,
    /// The whole top looks the same turned so.
    TopSymmetry,
    /// Both ends of a laying are said by joints that meet: whichever places, the other is checked, and both meet.
    ByJoints,
}

/// What the rehearsal must make of a mutant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Expect {
    /// It must object.
    Refused,
    /// It may let it pass, for this reason.
    MaySurvive(Class),
}

/// Decides, by the pattern alone.
pub fn expect(site: &Site, change: &Change, facts: &Facts, base: &Pattern, root: &Value, mutated: &Pattern) -> Expect {
    let class = match &site.home {
        Home::Header => header(site, base),
        Home::Fabric(_) => match site.kind {
            Kind::RightSide => Some(Class::RightSide),
            Kind::Print => Some(Class::PrintNote),
            _ => None,
        },
        Home::Piece(_) => (site.key() == "twin").then_some(Class::TwinNote),
        Home::Make(_) => None,
        Home::Part(make, _) => {
            part(site, change, *make, facts, root).or_else(|| covers_turned(site, *make, facts, mutated))
        }
        Home::Give(make) => give(site, *make, facts, base, root),
        Home::Step(make, step) => {
            let made = facts.makes.get(*make);
            let steps = base.recipe.makes.get(*make).map(|m| m.steps.as_slice());
            made.zip(steps)
                .and_then(|(made, steps)| in_step(site, change, made, (steps, *step), base, facts, root))
                .or_else(|| laid_on_paper(site, mutated))
                .or_else(|| basted(site, mutated))
        }
        Home::Strip(..) if site.kind == Kind::Purpose => Some(Class::KeptFor),
        Home::Strip(..) => {
            let ends = ["/lower/len", "/upper/len"].iter().any(|end| site.path.ends_with(end));
            let set = || sub_cut_later(base, root, site);
            cutting(facts, mutated).or_else(|| (ends && set()).then_some(Class::StripEnds))
        }
        Home::Template(t) if site.kind == Kind::TemplateCorner => {
            cutting(facts, mutated).or_else(|| more_to_turn(site, *t, base, mutated))
        }
        Home::Cloth(_) | Home::Template(_) => cutting(facts, mutated),
        Home::Paper(_) | Home::Card(_) => None,
        Home::Guide(_) => {
            let beneath = site.kind == Kind::StretchEnd && site.passes("under");
            beneath.then_some(Class::FlatBeneath)
        }
        Home::Bought(_) if site.passes("bound") => Some(Class::Bound),
        Home::Bought(_) => cutting(facts, mutated),
    };
    class.map_or(Expect::Refused, Expect::MaySurvive)
}

fn header(site: &Site, base: &Pattern) -> Option<Class> {
    if site.kind == Kind::RulerMark {
        return Some(Class::RulerMark);
    }
    let sews = base
        .recipe
        .makes
        .iter()
        .flat_map(|m| &m.steps)
        .any(|s| matches!(s, Step::Sew { .. }));
    (!sews).then_some(Class::NothingSewn)
}

/// Whether a corner of the cut outline of a piece to be laid on a ground was moved, and nothing of the outline lies nearer the
/// line than it did anywhere.
fn more_to_turn(site: &Site, template: usize, base: &Pattern, mutated: &Pattern) -> Option<Class> {
    let (before, after) = (
        base.cutting.templates.get(template)?,
        mutated.cutting.templates.get(template)?,
    );
    let line = &before.applique.as_ref()?.line;
    if site.passes("line") {
        return None;
    }
    let at = |c: &recipe::TemplateCorner| (c.right.to_inches(), c.up.to_inches());
    let to_line = |p: (f64, f64)| {
        (0..line.len())
            .map(|i| to_stretch(p, at(&line[i]), at(&line[(i + 1) % line.len()])))
            .fold(f64::INFINITY, f64::min)
    };
    let least = |corners: &[recipe::TemplateCorner]| {
        let n = corners.len();
        (0..n)
            .flat_map(|i| {
                let (a, b) = (at(&corners[i]), at(&corners[(i + 1) % n]));
                [a, ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0)]
            })
            .map(to_line)
            .fold(f64::INFINITY, f64::min)
    };
    (least(&after.corners) >= least(&before.corners) - 1.0 / 64.0).then_some(Class::MoreToTurn)
}

fn to_stretch(p: (f64, f64), a: (f64, f64), b: (f64, f64)) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let square = dx * dx + dy * dy;
    let share = if square > 0.0 {
        (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let (x, y) = (p.0 - a.0 - share * dx, p.1 - a.1 - share * dy);
    (x * x + y * y).sqrt()
}

fn cutting(facts: &Facts, mutated: &Pattern) -> Option<Class> {
    let (before, after) = (facts.yielded.as_ref()?, yields::read(mutated)?);
    if before.same(&after) {
        return Some(Class::SamePieces);
    }
    if before.same_where_named(&after, &facts.named_edges) {
        return Some(Class::EdgeNotNamed);
    }
    if before.nearly_same(&after) {
        return Some(Class::WithinTolerance);
    }
    // What is sewn on paper or basted over card need only be large enough.
    let these = &facts.on_paper | &facts.over_card;
    let elsewhere = these.is_empty() || !papers::differ_in_these_alone(before, &after, &these);
    (!elsewhere && papers::holds(mutated) && cards::holds(mutated)).then_some(Class::CoversAnyway)
}

/// A basting that still holds: how far cloth is folded over, or how the card lies on it.
fn basted(site: &Site, mutated: &Pattern) -> Option<Class> {
    let place = matches!(site.kind, Kind::Size | Kind::EdgeNumber | Kind::CardSide);
    (site.passes("baste") && place && cards::holds(mutated)).then_some(Class::CoversAnyway)
}

/// A place on foundation paper that still holds.
fn laid_on_paper(site: &Site, mutated: &Pattern) -> Option<Class> {
    let laid = site.passes("along") || site.passes("on-paper");
    let place = matches!(site.kind, Kind::Size | Kind::EdgeNumber);
    (laid && place && papers::holds(mutated)).then_some(Class::CoversAnyway)
}

/// A piece on foundation paper laid by another of its edges that still holds.
fn covers_turned(site: &Site, make: usize, facts: &Facts, mutated: &Pattern) -> Option<Class> {
    let pieces = &facts.makes.get(make)?.piece_in;
    let ample = |piece: &String| facts.on_paper.contains(piece) || facts.over_card.contains(piece);
    let holds = || papers::holds(mutated) && cards::holds(mutated);
    (site.kind == Kind::PartTurned && pieces.values().any(ample) && holds()).then_some(Class::CoversAnyway)
}

fn part(site: &Site, change: &Change, make: usize, facts: &Facts, root: &Value) -> Option<Class> {
    if site.kind != Kind::PartTurned {
        return None;
    }
    let turns: u32 = change
        .says
        .strip_prefix("part turned ")?
        .strip_suffix(" on")?
        .parse()
        .ok()?;
    let slot = u32::try_from(root.pointer(&site.path)?.get("slot")?.as_u64()?).ok()?;
    let made = facts.makes.get(make)?;
    let same = if let Some(piece) = made.piece_in.get(&slot) {
        let yielded = facts.yielded.as_ref()?;
        piece_turns(yielded.outline(piece)?, turns, yielded.print(piece))
    } else {
        let sides = facts.unit_sides.get(made.unit_in.get(&slot)?)?;
        let n = sides.len();
        (0..n).all(|i| sides[i] == sides[(i + turns as usize) % n])
    };
    same.then_some(Class::Symmetry)
}

fn give(site: &Site, make: usize, facts: &Facts, base: &Pattern, root: &Value) -> Option<Class> {
    let (before, index) = site
        .path
        .split_once("/seams/")
        .and_then(|(b, rest)| Some((b, rest.split('/').next()?)))?;
    root.pointer(before)?;
    let unit = base.recipe.makes.get(make)?.unit.0.clone();
    let index: u32 = index.parse().ok()?;
    (!facts.named_seams.contains(&(unit, index))).then_some(Class::SeamNotNamed)
}

fn in_step(
    site: &Site,
    change: &Change,
    made: &MakeFacts,
    (steps, index): (&[Step], usize),
    base: &Pattern,
    facts: &Facts,
    root: &Value,
) -> Option<Class> {
    let step = steps.get(index)?;
    if let Some(class) = drawn_in_vain(site, step, made) {
        return Some(class);
    }
    match site.kind {
        Kind::Press => Some(Class::PressSide),
        Kind::Size if site.passes("about") => {
            let old = root.pointer(&site.path)?.as_i64()?;
            let new = put_value(change)?.as_i64()?;
            let mark = base.recipe.mark.units().abs();
            (new >= 0 && (new - old).abs() <= mark).then_some(Class::PrintedTolerance)
        }
        Kind::Size if site.passes("sub-cut") && site.passes("first") => Some(Class::StripEnds),
        Kind::Size if site.passes("sew") && site.passes("beside") && site.path.ends_with("/at/len") => {
            let new = put_value(change)?.as_i64()?;
            (new >= 2 * base.recipe.seam.len.units() - 127).then_some(Class::BegunAnywhere)
        }
        Kind::Stop => stop_in_dot(site, change, (steps, index)),
        Kind::Slot | Kind::EdgeNumber => {
            if says_a_side(site) {
                return Some(Class::SideOnly);
            }
            if matches!(step, Step::Snip { .. }) && site.passes("along") {
                return Some(Class::DogEar);
            }
            // Where the first cut lies, not how it leans.
            if site.passes("sub-cut") && site.passes("first") && !site.path.contains("/angle/line/") {
                return Some(Class::StripEnds);
            }
            if halfway(site, change, step, made, facts, root) {
                return Some(Class::Halfway);
            }
            if even_with(site, change, (steps, index), made, facts, root) {
                return Some(Class::SameLine);
            }
            if cut_through_both(site, change, steps, root) {
                return Some(Class::OnePlaceOnSeam);
            }
            if let Some(class) = same_direction(site, change, made, steps, facts, root) {
                return Some(class);
            }
            same_line(site, change, made, root)
                .or_else(|| nested(site, change, steps, root))
                .or_else(|| measured_alike(site, step, steps, root))
        }
        Kind::End if change.says == "dots exchanged" && matches!(step, Step::Close { .. }) => {
            Some(Class::DotsInOnePlace)
        }
        Kind::End => end(site, change, step, made, base),
        Kind::Ends => ends_not_sewn(step, steps).or_else(|| by_joints(step)),
        Kind::SideNumber => {
            let turns: u32 = change.says.strip_prefix("side ")?.strip_suffix(" on")?.parse().ok()?;
            facts.top_turns.contains(&turns).then_some(Class::TopSymmetry)
        }
        Kind::Step => whole_step(change, steps, index),
        _ => None,
    }
}

/// A mark nothing uses may be drawn anywhere, by any name, or not at all.
fn drawn_in_vain(site: &Site, step: &Step, made: &MakeFacts) -> Option<Class> {
    let (Step::Mark { name, .. } | Step::Dot { name, .. }) = step else {
        return None;
    };
    let moves = site.kind == Kind::Step;
    (!moves && !made.used_marks.contains(&name.0)).then_some(Class::UnusedMark)
}

fn put_value(change: &Change) -> Option<&Value> {
    match change.edits.as_slice() {
        [Edit::Put(_, value)] => Some(value),
        _ => None,
    }
}

/// `toward`, the corners of `keep` and `offcut`, and `like` choose a side or one of two lines, nothing more.
fn says_a_side(site: &Site) -> bool {
    site.passes("toward")
        || site.passes("offcut")
        || site.passes("like")
        || (site.passes("keep") && site.passes("corner"))
}

/// The edge a site holds, before and after the change.
fn exchanged(site: &Site, change: &Change, root: &Value) -> Option<(EdgeRef, EdgeRef)> {
    let (parent, key) = site.path.rsplit_once('/')?;
    let old = root.pointer(parent)?;
    let number = |v: Option<&Value>| v.and_then(Value::as_u64).and_then(|n| u32::try_from(n).ok());
    let (of, edge) = (number(old.get("of"))?, number(old.get("edge"))?);
    let new = number(put_value(change))?;
    let after = match key {
        "of" => EdgeRef { of: Slot(new), edge },
        "edge" => EdgeRef {
            of: Slot(of),
            edge: new,
        },
        _ => return None,
    };
    Some((EdgeRef { of: Slot(of), edge }, after))
}

/// Whether all that comes of a cut (or, where no one cut is meant, of a strip) goes into makings that cut a strip set into
/// lengths.
fn sub_cut_later(base: &Pattern, root: &Value, site: &Site) -> bool {
    let keys: Vec<&str> = site.path.split('/').collect();
    let cut = keys.iter().rposition(|key| *key == "cuts").map(|at| at + 2);
    let end = cut.unwrap_or(6).min(keys.len());
    let there = root.pointer(&keys[..end].join("/"));
    let text = there.map(Value::to_string).unwrap_or_default();
    let cut_there = |piece: &str| text.contains(&format!("\"piece\":\"{piece}\""));
    let takes = |take: &Take| matches!(take, Take::Piece(piece) if cut_there(piece.as_str()));
    let mut makes = base
        .recipe
        .makes
        .iter()
        .filter(|m| m.parts.iter().any(|p| takes(&p.take)));
    makes.all(|m| m.steps.iter().any(|s| matches!(s, Step::SubCut { .. })))
}

/// Whether a crossing with a seam names the other of the two edges that one cut made.
fn cut_through_both(site: &Site, change: &Change, steps: &[Step], root: &Value) -> bool {
    let Some((before, after)) = exchanged(site, change, root) else {
        return false;
    };
    let Some((crossing, _)) = site.path.split_once("/crossing/") else {
        return false;
    };
    let with_seam = root
        .pointer(&format!("{crossing}/crossing"))
        .and_then(Value::as_array)
        .is_some_and(|lines| lines.iter().any(|line| line.get("seam").is_some()));
    let both = before.of == after.of && before.edge + after.edge == 1;
    let cut_there = |step: &Step| match step {
        Step::CutApart { keep, .. } => keep.iter().any(|k| k.into == before.of),
        _ => false,
    };
    with_seam && both && steps.iter().any(cut_there)
}

/// Whether a piece is a rectangle, and its sides.
fn rectangle(edge: EdgeRef, made: &MakeFacts, facts: &Facts) -> Option<[f64; 2]> {
    let outline = facts.yielded.as_ref()?.outline(made.piece_in.get(&edge.of.0)?)?;
    let corners: Vec<(f64, f64)> = outline.iter().map(|c| c.1).collect();
    let [a, b, c, d] = corners[..] else { return None };
    let along = |(x, y): (f64, f64), (u, v): (f64, f64)| (u - x, v - y);
    let sides = [along(a, b), along(b, c), along(c, d), along(d, a)];
    let square = |i: usize| {
        let ((x, y), (u, v)) = (sides[i], sides[(i + 1) % 4]);
        (x * u + y * v).abs() < 1e-6
    };
    let long = |i: usize| (sides[i].0 * sides[i].0 + sides[i].1 * sides[i].1).sqrt();
    (0..4).all(square).then(|| [long(0), long(1)])
}

/// Whether a cut that runs halfway across a piece is measured from another edge of one as large.
fn halfway(site: &Site, change: &Change, step: &Step, made: &MakeFacts, facts: &Facts, root: &Value) -> bool {
    let Step::CutApart {
        line: Ruler::Beside {
            line: LineRef::Edge(_),
            at,
            ..
        },
        ..
    } = step
    else {
        return false;
    };
    let by = 2.0 * at.inches();
    let half = |edge| rectangle(edge, made, facts).is_some_and(|sides| sides.iter().all(|s| (s - by).abs() < 1e-3));
    site.path.contains("/line/edge/") && exchanged(site, change, root).is_some_and(|(a, b)| half(a) && half(b))
}

/// Whether two end edges of rectangles were laid even before: then they lie on one line.
fn even_with(
    site: &Site,
    change: &Change,
    (steps, index): (&[Step], usize),
    made: &MakeFacts,
    facts: &Facts,
    root: &Value,
) -> bool {
    let Some((before, after)) = exchanged(site, change, root).filter(|_| site.path.contains("/even/")) else {
        return false;
    };
    let square = |edge| rectangle(edge, made, facts).is_some();
    let pair =
        |end: &End| matches!(end, End::Even { a, b } if [*a, *b] == [before, after] || [*b, *a] == [before, after]);
    let laid = |step: &Step| match step {
        Step::Lay {
            how: Lay::Edges { first, last, .. },
            ..
        } => pair(first) || pair(last),
        _ => false,
    };
    square(before) && square(after) && steps[..index].iter().any(laid)
}

/// Whether two layers laid even at both ends are never sewn beside the edges they lie by.
fn ends_not_sewn(step: &Step, steps: &[Step]) -> Option<Class> {
    let Step::Lay {
        how: Lay::Edges { first, last, .. },
        into,
        ..
    } = step
    else {
        return None;
    };
    let even = [first, last].iter().all(|end| matches!(end, End::Even { .. }));
    let beside = |s: &Step| matches!(s, Step::Sew { stack, path: Path::Beside { .. }, .. } if stack == into);
    (even && !steps.iter().any(beside)).then_some(Class::EndsNotSewn)
}

/// Whether both ends of two laid edges are said by joints that meet: whichever places, the other checks, and both meet.
fn by_joints(step: &Step) -> Option<Class> {
    let Step::Lay {
        how: Lay::Edges { first, last, .. },
        ..
    } = step
    else {
        return None;
    };
    let joints = [first, last].iter().all(|end| matches!(end, End::Match(_)));
    joints.then_some(Class::ByJoints)
}

/// The line an angle is measured from gives the ruler its direction only: a parallel edge of the same piece, or one on a
/// side with such an edge, says the same. So does the like edge of a rectangle that was laid across this one dot on dot: opened,
/// the two lie as they were cut.
fn same_direction(
    site: &Site,
    change: &Change,
    made: &MakeFacts,
    steps: &[Step],
    facts: &Facts,
    root: &Value,
) -> Option<Class> {
    if !site.path.contains("/angle/line/") {
        return None;
    }
    let (before, after) = exchanged(site, change, root)?;
    let (piece, yielded) = (made.piece_in.get(&before.of.0)?, facts.yielded.as_ref()?);
    let says_the_same = (0..yielded.edge_count(piece)?).any(|edge| {
        let parallel = EdgeRef { of: before.of, edge };
        yielded.parallel(piece, before.edge, edge) && (parallel == after || made.on_one_side(parallel, after))
    });
    let pair = [before.of, after.of];
    let across = steps.iter().any(|step| match step {
        Step::Lay {
            a,
            b,
            how: Lay::TwoDots { .. },
            ..
        } => pair == [*a, *b] || pair == [*b, *a],
        _ => false,
    });
    let alike = || [before, after].map(|e| rectangle(e, made, facts));
    let says_the_same = says_the_same
        || across && matches!(alike(), [Some(_), Some(_)]) && (before.edge + after.edge).is_multiple_of(2);
    says_the_same.then_some(Class::SameDirection)
}

/// The line of a seam, named by the other one that lies on it: two opened pairs were laid corner on corner, and in both the
/// seam runs from one of the next corners to the other, so that the two nest.
fn nested(site: &Site, change: &Change, steps: &[Step], root: &Value) -> Option<Class> {
    let (parent, key) = site.path.rsplit_once('/')?;
    if key != "of" || !parent.ends_with("/seam") || site.passes("seams") {
        return None;
    }
    let slot = |v: Option<&Value>| v.and_then(Value::as_u64).and_then(|n| u32::try_from(n).ok()).map(Slot);
    let pair = [slot(root.pointer(&site.path))?, slot(put_value(change))?];
    let opened = |slot: Slot| {
        steps
            .iter()
            .any(|s| matches!(s, Step::Open { into, .. } if *into == slot))
    };
    let laid = steps.iter().any(|s| match s {
        Step::Lay {
            a,
            b,
            how: Lay::Corner { .. },
            ..
        } => pair == [*a, *b] || pair == [*b, *a],
        _ => false,
    });
    (laid && pair.into_iter().all(opened)).then_some(Class::SameLine)
}

/// An edge exchanged for another on the same straight side, where only its line matters: not in a run that is laid, taken
/// off, handed on or finished, whose ends matter too.
fn same_line(site: &Site, change: &Change, made: &MakeFacts, root: &Value) -> Option<Class> {
    let (before, after) = exchanged(site, change, root)?;
    let (parent, _) = site.path.rsplit_once('/')?;
    let (list, _) = parent.rsplit_once('/')?;
    let whole_run = root.pointer(list).and_then(Value::as_array).map(Vec::len);
    let laid = list.ends_with("/edges/a") || list.ends_with("/edges/b");
    let ends_matter = site.passes("sides") || site.passes("off") || site.passes("along") || laid;
    let alone = whole_run.is_none_or(|n| n == 1);
    (!ends_matter && alone && made.on_one_side(before, after)).then_some(Class::SameLine)
}

/// A check that measures another place and may find the same there: between two other corners that are as far apart
/// (sides of one length; the other leg of a flipped corner, whose seam meets both sides as far from it), or along a
/// side of several edges of which one is named that a cut-apart left nothing of (such an edge is passed over).
fn measured_alike(site: &Site, step: &Step, steps: &[Step], root: &Value) -> Option<Class> {
    if !matches!(step, Step::Check { .. }) {
        return None;
    }
    let (edge, _) = site.path.rsplit_once('/')?;
    if site.passes("across") {
        let (list, _) = edge.rsplit_once('/')?;
        let several = root.pointer(list)?.as_array()?.len() > 1;
        let cut = steps.iter().any(|s| matches!(s, Step::CutApart { .. }));
        return (several && cut).then_some(Class::Measuring);
    }
    matches!(site.kind, Kind::EdgeNumber | Kind::Slot).then_some(Class::Measuring)
}

fn end(site: &Site, change: &Change, step: &Step, made: &MakeFacts, base: &Pattern) -> Option<Class> {
    // Of a seam that is closed both runs begin at the stop, in one place, and all lies flat in one work.
    let (first, last) = match step {
        Step::Lay {
            how: Lay::Edges { first, last, .. },
            ..
        }
        | Step::Pivot { first, last, .. } => (Some(first), last),
        Step::Close { end, .. } => (None, end),
        _ => return None,
    };
    let here = first.filter(|_| site.key() == "first").unwrap_or(last);
    let about = match here {
        End::Notch { about, .. } => about.len.units().abs(),
        _ => 0,
    };
    // A printed overhang is right within half a mark, and ends agree within 1/64 in.
    let slack = match here {
        End::Notch { .. } => base.recipe.mark.units().abs() / 2 + 127,
        _ => 127,
    };
    match change.says.as_str() {
        "even to notch" | "overhang to notch" | "overhang to even" => Some(Class::EvenIsNotch),
        "notch to even" => (about <= slack).then_some(Class::EvenIsNotch),
        "notch to overhang" => ((about - 508).abs() <= slack).then_some(Class::EvenIsNotch),
        "layers exchanged" => match (first, here) {
            (None, End::Even { a, b }) => made.on_one_side(*a, *b).then_some(Class::SameLine),
            _ => None,
        },
        // Without its dots a pivot does not turn at the stop.
        "to centre" if matches!(step, Step::Pivot { .. }) && matches!(here, End::Dots { .. }) => None,
        "to centre" => {
            // What a unit's raw ends are is not known without making it: snipping shortens them.
            let of_piece = |e: &EdgeRef| made.piece_in.contains_key(&e.of.0);
            let ahead = [first, Some(last)].map(|end| match end {
                None => Some(0),
                Some(end) => ahead_of(end, &of_piece),
            });
            let apart = ahead[0].zip(ahead[1]).map(|(a, b)| (a - b).abs());
            let alike = apart.is_none_or(|apart| apart <= base.recipe.mark.units().abs());
            alike.then_some(Class::MiddleForEnds)
        }
        _ => None,
    }
}

/// Whether a seam that ran on is now to stop in a dot, at an end that was laid dot on dot.
fn stop_in_dot(site: &Site, change: &Change, (steps, index): (&[Step], usize)) -> Option<Class> {
    let Some(Step::Sew { stack, .. }) = steps.get(index) else {
        return None;
    };
    let laid = steps[..index].iter().rev().find_map(|step| match step {
        Step::Lay {
            how: Lay::Edges { first, last, .. },
            into,
            ..
        } if into == stack => Some((first, last)),
        Step::Pivot {
            stack: turned,
            first,
            last,
            ..
        } if turned == stack => Some((first, last)),
        _ => None,
    });
    let end = laid.map(|(first, last)| if site.key() == "from" { first } else { last });
    let by_dots = matches!(end, Some(End::Dots { .. }));
    (by_dots && change.says == "stop at a dot").then_some(Class::StopInDot)
}

/// How far one raw corner runs ahead of the other at an end, where that is printed.
fn ahead_of(end: &End, of_piece: &dyn Fn(&EdgeRef) -> bool) -> Option<i64> {
    match end {
        End::Even { a, b } if of_piece(a) && of_piece(b) => Some(0),
        End::Notch { a, b, about } if of_piece(a) && of_piece(b) => Some(about.len.units().abs()),
        End::Overhang { a, b, by } if of_piece(a) && of_piece(b) => Some(by.len.units().abs()),
        _ => None,
    }
}

fn whole_step(change: &Change, steps: &[Step], index: usize) -> Option<Class> {
    let step = steps.get(index)?;
    let measuring = |s: &Step| matches!(s, Step::Check { .. });
    let snipping = |s: &Step| matches!(s, Step::Snip { .. });
    let looking = |s: &Step| matches!(s, Step::Check { .. } | Step::Mark { .. } | Step::Dot { .. });
    match change.says.as_str() {
        "repeat" if matches!(step, Step::Pare { .. }) => Some(Class::TrimmedAgain),
        "drop" | "repeat" if measuring(step) => Some(Class::Measuring),
        "drop" | "repeat" if snipping(step) => Some(Class::DogEar),
        "swap with next" => {
            let next = steps.get(index + 1)?;
            if (snipping(step) && looking(next)) || (looking(step) && snipping(next)) {
                return Some(Class::DogEar);
            }
            // On marks and all round, a stack's seams are sewn in any order.
            let drawn = |s: &Step| matches!(s, Step::Sew { path, .. } if !matches!(path, Path::Beside { .. }));
            let any_order = drawn(step) && drawn(next);
            (any_order || Touch::of(step).commutes(&Touch::of(next))).then_some(Class::Commuting)
        }
        _ => None,
    }
}
