//! The cutting table: executes the cutting plan into kinds of pieces with named edges, and checks that every cut lies in
//! the cloth bought and that all pieces of a kind are alike.

use crate::ground::{PrintedShape, PrintedSheet};
use crate::outline::is_simple;
use crate::paper::{self, Sheet};
use crate::piece::{Cloth, Edge, Left, Name};
use crate::words::{LONGEST, TOLERANCE, say};
use measure::{Printed, UNITS_PER_INCH};
use recipe::{
    Alike, Bought, Card, ClothPlan, Cut, CutAngle, CutPlan, Gives, Guide, PieceCut, PrintNote, Recipe, RulerCut,
    ShapingCut, Size, Stretch, Strip, Template, TemplateCorner, Turn,
};
use shape::{Line, Motion, Point, Polygon, Vector};
use std::collections::BTreeMap;
use std::rc::Rc;
use terms::{FabricId, Finding, PieceId, Place};

/// What comes off the cutting table.
pub(crate) struct CutCloth {
    /// For each kind of piece of the recipe, in its order: the first one cut. Edges are named by owner kind + 1.
    pub(crate) kinds: Vec<Option<Cloth>>,
    /// How many of each were cut.
    pub(crate) counts: Vec<u64>,
    /// The cards of the plan, in its order; what could not be cut out is left out.
    pub(crate) cards: Vec<CutCard>,
    /// The printed sheets that can be laid, by name.
    pub(crate) guides: BTreeMap<String, PrintedSheet>,
    pub(crate) findings: Vec<Finding>,
    /// The foundation papers by name; none for one that is not sound.
    pub(crate) sheets: BTreeMap<String, Option<Rc<Sheet>>>,
}

/// A card cut out.
#[derive(Clone, Debug)]
pub(crate) struct CutCard {
    pub(crate) name: String,
    pub(crate) corners: Vec<Point>,
    /// For each side whether it is left flat.
    pub(crate) flat: Vec<bool>,
}

/// Cuts followed one by one before the plan is called too long; plans of real quilts stay far below.
const MOST_CUTS: u64 = 2_000_000;

/// Findings of the cutting reported before the rest is left out: one mistake usually repeats.
const MOST_FINDINGS: usize = 64;

/// A print may lie this far off (cosine of one degree).
pub(crate) const UP_AGREES: f64 = 0.999_847_695;

/// Does all the cutting.
pub(crate) fn cut_all(recipe: &Recipe, plan: &CutPlan, bought: &Bought) -> CutCloth {
    let mut table = CuttingTable {
        recipe,
        plan,
        // Of two with one name the first counts.
        templates: plan.templates.iter().rev().map(|t| (t.name.as_str(), t)).collect(),
        drawn: BTreeMap::new(),
        by_name: BTreeMap::new(),
        prints: BTreeMap::new(),
        out: CutCloth {
            kinds: vec![None; recipe.pieces.len()],
            counts: vec![0; recipe.pieces.len()],
            cards: Vec::new(),
            guides: BTreeMap::new(),
            findings: Vec::new(),
            sheets: BTreeMap::new(),
        },
        fabric: FabricId::default(),
        strip: 0,
        cuts: 0,
        line: None,
    };
    for (i, template) in plan.templates.iter().enumerate() {
        if plan.templates[..i].iter().any(|other| other.name == template.name) {
            table.say(
                "bad-recipe",
                Place::Quilt,
                format!("There are two templates of the name \"{}\".", template.name),
                "Give each a name of its own.",
            );
        }
    }
    for (i, note) in recipe.pieces.iter().enumerate() {
        if table.by_name.insert(note.piece.clone(), i).is_some() {
            table.say(
                "bad-recipe",
                Place::Piece(note.piece.clone()),
                "This kind of piece is listed twice.".into(),
                "List each kind once.",
            );
        }
    }
    for note in &recipe.fabrics {
        if table.prints.insert(note.fabric.clone(), note.print).is_some() {
            let place = Place::Fabric(note.fabric.clone());
            table.say(
                "bad-recipe",
                place,
                "This cloth is listed twice.".into(),
                "List each cloth once.",
            );
        }
    }
    for note in &recipe.pieces {
        if !table.prints.contains_key(&note.fabric) {
            let sentence = format!("Piece {} is of {}, which is not listed.", note.piece, note.fabric);
            table.say(
                "bad-recipe",
                Place::Piece(note.piece.clone()),
                sentence,
                "List every cloth.",
            );
        }
    }
    table.guides();
    table.cloths(bought);
    table.cards();
    let (sheets, unsound) = paper::sheets(recipe, plan);
    table.out.sheets = sheets;
    table.out.findings.extend(unsound);
    table.out
}

struct CuttingTable<'r> {
    recipe: &'r Recipe,
    plan: &'r CutPlan,
    templates: BTreeMap<&'r str, &'r Template>,
    drawn: BTreeMap<&'r str, Option<Rc<Drawn>>>,
    by_name: BTreeMap<PieceId, usize>,
    prints: BTreeMap<FabricId, PrintNote>,
    out: CutCloth,
    fabric: FabricId,
    strip: u32,
    cuts: u64,
    /// The line of the template that is being cut round, if the piece is to be laid on a ground.
    line: Option<Rc<Polygon>>,
}

impl CuttingTable<'_> {
    fn say(&mut self, code: &'static str, place: Place, sentence: String, mend: &str) {
        if self.out.findings.len() < MOST_FINDINGS {
            self.out.findings.push(Finding::stop(code, place, sentence, mend));
        }
    }

    fn here(&self) -> Place {
        Place::Strip {
            fabric: self.fabric.clone(),
            strip: self.strip,
        }
    }

    fn length(&self, units: i128) -> String {
        say(units as f64 / UNITS_PER_INCH as f64, self.recipe.measure)
    }

    /// A length in units, refused when negative or beyond all cloth.
    fn units(&mut self, size: Size) -> Option<i64> {
        let units = size.len.units();
        if units >= 0 && size.inches() <= LONGEST {
            return Some(units);
        }
        let here = self.here();
        self.say(
            "bad-recipe",
            here,
            "A length of the cutting plan is less than nothing or beyond any cloth.".into(),
            "Correct the length.",
        );
        None
    }

    /// Cuts out the cards.
    fn cards(&mut self) {
        let plan = self.plan;
        for card in &plan.cards {
            let cut = cut_card(card).filter(|c| self.out.cards.iter().all(|known| known.name != c.name));
            match cut {
                Some(cut) => self.out.cards.push(cut),
                None => {
                    let sentence = format!(
                        "Card \"{}\" is no shape with all its corners pointing outward, or its flat sides are none of its own, or all, or there are two of its name.",
                        card.name
                    );
                    self.say("bad-recipe", Place::Quilt, sentence, "Correct the card.");
                }
            }
        }
    }

    /// Looks through the printed sheets.
    fn guides(&mut self) {
        let plan = self.plan;
        for guide in &plan.guides {
            let sheet = sheet_of(guide);
            if sheet.is_none() || self.out.guides.contains_key(&guide.name) {
                let sentence = format!("Sheet \"{}\" cannot be laid on anything, or there are two.", guide.name);
                let mend = "Print each sheet once, its outline convex and its shapes simple.";
                self.say("bad-recipe", Place::Quilt, sentence, mend);
            }
            self.out.guides.extend(sheet.map(|s| (guide.name.clone(), s)));
        }
    }

    fn cloths(&mut self, bought: &Bought) {
        let mut needed: BTreeMap<FabricId, i128> = BTreeMap::new();
        let mut pieces: BTreeMap<FabricId, u64> = BTreeMap::new();
        let plan = self.plan;
        for cloth in &plan.cloths {
            self.fabric = cloth.fabric.clone();
            self.strip = 0;
            let (Some(usable), Some(square_up)) = (self.units(cloth.usable), self.units(cloth.square_up)) else {
                continue;
            };
            let mut along = i128::from(square_up);
            let copies = u64::from(cloth.times());
            for strip in &cloth.strips {
                let Some(height) = self.units(strip.height) else {
                    continue;
                };
                along += i128::from(height) * i128::from(strip.times);
                self.strip(strip, height, usable, u64::from(strip.times).saturating_mul(copies));
                self.strip = self.strip.saturating_add(strip.times);
            }
            if let Some(alike) = cloth.alike {
                self.within_the_piece(cloth, alike, along, bought);
                *pieces.entry(cloth.fabric.clone()).or_default() += copies;
            } else {
                *needed.entry(cloth.fabric.clone()).or_default() += along;
            }
            let wide = bought
                .cloths
                .iter()
                .find(|b| b.fabric == cloth.fabric)
                .map(|b| b.usable);
            if let Some(wide) = wide.filter(|w| w.len < cloth.usable.len) {
                let sentence = format!(
                    "The strips are cut {} wide, but the cloth bought is usable over {}.",
                    self.length(i128::from(usable)),
                    self.length(i128::from(wide.len.units()))
                );
                let place = Place::Fabric(cloth.fabric.clone());
                self.say(
                    "cut-outside-width",
                    place,
                    sentence,
                    "Plan on the width that is bought.",
                );
            }
        }
        for (fabric, cut) in pieces {
            let bought = bought.cloths.iter().filter(|b| b.fabric == fabric);
            let there: u64 = bought.filter_map(|b| b.pieces).map(|p| u64::from(p.count)).sum();
            if cut > there {
                let sentence = format!("{cut} pieces of {fabric} as sold are cut, but {there} are bought.");
                self.say(
                    "cloth-short",
                    Place::Fabric(fabric),
                    sentence,
                    "Buy as many as are cut.",
                );
            }
        }
        for (fabric, along) in needed {
            // Off the bolt; what is bought in pieces is no length to cut from.
            let length: i128 = bought
                .cloths
                .iter()
                .filter(|b| b.fabric == fabric && b.pieces.is_none())
                .map(|b| i128::from(b.length.len.units()))
                .sum();
            if along > length {
                let sentence = format!(
                    "The strips need {} of {fabric} with the squared end, but {} is bought.",
                    self.length(along),
                    self.length(length)
                );
                self.say(
                    "cloth-short",
                    Place::Fabric(fabric),
                    sentence,
                    "Buy the next step of cloth.",
                );
            }
        }
    }

    /// All strips of a piece sold cut lie one above another in what there is of it, and that is no more than is sold.
    fn within_the_piece(&mut self, cloth: &ClothPlan, alike: Alike, along: i128, bought: &Bought) {
        let place = || Place::Fabric(cloth.fabric.clone());
        let Some(there) = self.units(alike.length).map(i128::from) else {
            return;
        };
        if along > there {
            let sentence = format!(
                "The strips need {} of a piece of {} with the squared end, but it is {} long.",
                self.length(along),
                cloth.fabric,
                self.length(there)
            );
            self.say("cloth-short", place(), sentence, "Cut fewer strips from each piece.");
        }
        let sold = bought.cloths.iter().filter(|b| b.fabric == cloth.fabric);
        let longest = sold
            .filter_map(|b| b.pieces)
            .map(|p| p.each.len.units())
            .max()
            .unwrap_or(0);
        if there > i128::from(longest) {
            let sentence = format!(
                "A piece of {} is cut as if it were {} long; what is bought is {}.",
                cloth.fabric,
                self.length(there),
                self.length(i128::from(longest))
            );
            self.say("cloth-short", place(), sentence, "Plan on the pieces that are bought.");
        }
    }

    /// Follows one strip (`times` such strips are cut); `width` is what there is of it.
    fn strip(&mut self, strip: &Strip, height: i64, width: i64, times: u64) {
        if height == 0 {
            let here = self.here();
            self.say(
                "bad-recipe",
                here,
                "A strip has no height.".into(),
                "Give the strip a height.",
            );
            return;
        }
        if strip.purpose.is_some() && !(strip.runs.is_empty() && strip.rest.is_empty()) {
            let here = self.here();
            self.say(
                "bad-recipe",
                here,
                "A strip kept whole for what comes after the top is cut into pieces.".into(),
                "Cut the pieces from another strip.",
            );
            return;
        }
        let (mut foot, mut head) = (0_i128, 0_i128);
        for run in &strip.runs {
            let mut shift = (0_i128, 0_i128);
            for cut in &run.cuts {
                let (Some(lower), Some(upper)) = (self.units(cut.lower), self.units(cut.upper)) else {
                    return;
                };
                shift.0 += i128::from(lower);
                shift.1 += i128::from(upper);
            }
            // Cuts that move both ends alike give the same pieces every time round: once is enough to look at.
            let rounds = if shift.0 == shift.1 {
                run.times.min(1)
            } else {
                run.times
            };
            let each = if shift.0 == shift.1 { u64::from(run.times) } else { 1 };
            for _ in 0..rounds {
                let (mut f, mut h) = (foot, head);
                for cut in &run.cuts {
                    self.cuts += 1;
                    if self.cuts > MOST_CUTS {
                        let here = self.here();
                        self.say(
                            "bad-recipe",
                            here,
                            "The cutting plan never ends.".into(),
                            "Plan fewer cuts.",
                        );
                        return;
                    }
                    self.cut(cut, height, h - f, times.saturating_mul(each));
                    f += i128::from(cut.lower.len.units());
                    h += i128::from(cut.upper.len.units());
                }
                foot += shift.0 * i128::from(each);
                head += shift.1 * i128::from(each);
                if foot.max(head) > i128::from(width) {
                    break;
                }
            }
        }
        let reached = foot.max(head);
        if reached > i128::from(width) {
            let sentence = format!(
                "The cuts reach {} along a strip of {}.",
                self.length(reached),
                self.length(i128::from(width))
            );
            let here = self.here();
            self.say("cut-outside-width", here, sentence, "Cut fewer pieces from this strip.");
            return;
        }
        let left = width - reached as i64;
        let mut stacked = 0_i128;
        for rest in &strip.rest {
            let Some(rest_height) = self.units(rest.height) else {
                return;
            };
            stacked += i128::from(rest_height) * i128::from(rest.times);
            self.strip(rest, rest_height, left, times.saturating_mul(u64::from(rest.times)));
        }
        if stacked > i128::from(height) {
            let sentence = format!(
                "The narrower strips are {} high together, but the strip they come from is {}.",
                self.length(stacked),
                self.length(i128::from(height))
            );
            let here = self.here();
            self.say("cut-outside-width", here, sentence, "Cut fewer strips from the rest.");
        }
    }

    /// A cut made along a ruler's line lies at that angle, and as far from the last one as is measured.
    fn by_ruler(&mut self, cut: &Cut, ruler: &RulerCut, height: i64, lead: i128) {
        let (lower, upper) = (cut.lower.len.units(), cut.upper.len.units());
        let after = lead + i128::from(upper) - i128::from(lower);
        let near = |a: f64, b: f64| (a - b).abs() <= UNITS_PER_INCH as f64 / 1000.0;
        if !near((after as f64).abs(), height as f64 * ruler.angle.cotangent()) {
            let sentence = format!(
                "A cut moves {} along a strip of {}, which is not the ruler's angle.",
                self.length(after.abs()),
                self.length(i128::from(height))
            );
            let here = self.here();
            let mend = "Name the line of the ruler that the cut runs along.";
            self.say("cut-off-angle", here, sentence, mend);
        }
        let Some(across) = ruler.across else {
            // Nothing else says where the ruler is laid; an angle ruler has a blunt point of its own.
            let kept = !matches!(cut.gives, Gives::Waste);
            if kept && ruler.angle != CutAngle::Wedge && !near(lower.min(upper) as f64, 0.0) {
                let sentence = format!(
                    "A cut begins {} beyond where the last one meets the strip's edge, and nothing says how far.",
                    self.length(i128::from(lower.min(upper)))
                );
                let here = self.here();
                let mend = "Begin it where the last cut meets the edge, or say how far across it lies.";
                self.say("cut-off-angle", here, sentence, mend);
            }
            return;
        };
        let Some(across) = self.units(across) else { return };
        if lower != upper || !near(lower as f64 * ruler.angle.sine(), across as f64) {
            let sentence = format!(
                "A cut that moves {} along the strip does not lie {} straight across from the last one.",
                self.length(i128::from(lower)),
                self.length(i128::from(across))
            );
            let here = self.here();
            self.say(
                "cut-off-angle",
                here,
                sentence,
                "Measure straight across from cut to cut.",
            );
        }
    }

    /// One cut, with its left edge leaning `lead` to the right.
    fn cut(&mut self, cut: &Cut, height: i64, lead: i128, times: u64) {
        let inches = |units: i128| units as f64 / UNITS_PER_INCH as f64;
        let (lower, upper) = (cut.lower.len.units(), cut.upper.len.units());
        if lower == 0 && upper == 0 {
            let here = self.here();
            self.say(
                "bad-recipe",
                here,
                "A cut lies on the cut before.".into(),
                "Move the ruler on.",
            );
            return;
        }
        let high = inches(i128::from(height));
        let quad = [
            Point::ORIGIN,
            Point::new(inches(i128::from(lower)), 0.0),
            Point::new(inches(lead + i128::from(upper)), high),
            Point::new(inches(lead), high),
        ];
        if let Some(ruler) = &cut.ruler {
            self.by_ruler(cut, ruler, height, lead);
        }
        let square = lead == 0 && lower == upper;
        if !square && !matches!(cut.gives, Gives::Waste | Gives::Piece(_)) {
            let here = self.here();
            self.say(
                "bad-recipe",
                here,
                "Only a rectangle can be cut on like this.".into(),
                "Cut both edges of the strip alike.",
            );
            return;
        }
        match &cut.gives {
            Gives::Waste => {}
            Gives::Piece(piece) => {
                let turns = match piece.turn {
                    Turn::As => 0,
                    Turn::Quarter => 1,
                    Turn::Half => 2,
                    Turn::ThreeQuarters => 3,
                };
                let corners = (0..4).map(|i| quad[(i + turns) % 4]).collect();
                self.piece(&piece.piece, &Drawn::plain(corners), &[], times);
            }
            Gives::Halves { rising, lower, upper } => {
                let [a, b, c, d] = quad;
                let (under, over) = if *rising {
                    (vec![a, b, c], vec![c, d, a])
                } else {
                    (vec![a, b, d], vec![c, d, b])
                };
                self.unturned(lower, &Drawn::plain(under), &[], times);
                self.unturned(upper, &Drawn::plain(over), &[], times);
            }
            Gives::Quarters(pieces) => {
                if i128::from(lower) != i128::from(height) || pieces.len() != 4 {
                    let here = self.here();
                    let sentence = "Quarters are four triangles cut from a square.".into();
                    self.say("bad-recipe", here, sentence, "Cut a square into four.");
                    return;
                }
                let middle = quad[0].toward(quad[2], 0.5);
                for (i, piece) in pieces.iter().enumerate() {
                    let corners = vec![quad[i], quad[(i + 1) % 4], middle];
                    self.unturned(piece, &Drawn::plain(corners), &[], times);
                }
            }
            Gives::Shaped { piece, cuts } => self.unturned(piece, &Drawn::plain(quad.to_vec()), cuts, times),
            Gives::Template { piece, template } => {
                let found = self.templates.get(template.as_str()).copied();
                let Some(drawn) = self.template(template) else {
                    let here = self.here();
                    let sentence = format!("There is no usable template \"{template}\".");
                    self.say("bad-recipe", here, sentence, "Print the template with the recipe.");
                    return;
                };
                let (low, top) = Polygon::new(drawn.corners.clone()).bounds();
                if top.x - low.x > quad[2].x + 1.0e-9 || top.y - low.y > quad[2].y + 1.0e-9 {
                    let here = self.here();
                    let sentence = format!(
                        "Template \"{template}\" needs {} by {}, but the rectangle is {} by {}.",
                        say(top.x - low.x, self.recipe.measure),
                        say(top.y - low.y, self.recipe.measure),
                        say(quad[2].x, self.recipe.measure),
                        say(quad[2].y, self.recipe.measure)
                    );
                    self.say("cut-outside-width", here, sentence, "Cut a larger rectangle.");
                    return;
                }
                match found.filter(|t| t.applique.is_some()) {
                    Some(template) => self.cut_for_a_ground(piece, template, &drawn, times),
                    None => self.unturned(piece, &drawn, &[], times),
                }
            }
        }
    }

    /// A piece that is laid on a ground, with its line.
    fn cut_for_a_ground(&mut self, piece: &PieceCut, template: &Template, drawn: &Drawn, times: u64) {
        let corners = &drawn.corners;
        let line = template.applique.as_ref().and_then(|a| printed_corners(&a.line));
        let from_back = template.applique.as_ref().is_some_and(|a| a.from_back);
        // Printed for the wrong side: the piece is the print's mirror image within the print's box.
        let (low, high) = Polygon::new(corners.to_vec()).bounds();
        let side_up = |p: &Point| {
            if from_back {
                Point::new(low.x + high.x - p.x, p.y)
            } else {
                *p
            }
        };
        let cut: Vec<Point> = corners.iter().map(side_up).collect();
        let line = Polygon::new(line.unwrap_or_default().iter().map(side_up).collect());
        if !is_simple(&Polygon::new(cut.clone())) || !is_simple(&line) {
            let here = self.here();
            let sentence = format!(
                "Template \"{}\" or its line is no simple outline, right side up.",
                template.name
            );
            let mend =
                "Print both with the cloth on the left, and mirrored only where they are traced on the wrong side.";
            self.say("bad-recipe", here, sentence, mend);
            return;
        }
        self.line = Some(Rc::new(line));
        self.unturned(piece, &Drawn::plain(cut), &[], times);
        self.line = None;
    }

    /// A template as it is drawn, looked at once.
    fn template(&mut self, name: &str) -> Option<Rc<Drawn>> {
        let template = self.templates.get(name).copied()?;
        let known = self.drawn.entry(template.name.as_str());
        known.or_insert_with(|| drawn(template).map(Rc::new)).clone()
    }

    fn unturned(&mut self, piece: &PieceCut, drawn: &Drawn, cuts: &[ShapingCut], times: u64) {
        if piece.turn != Turn::As {
            let here = self.here();
            let sentence = "Only a piece cut straight from the strip can lie turned.".into();
            self.say("bad-recipe", here, sentence, "Name the edges as they lie.");
            return;
        }
        self.piece(&piece.piece, drawn, cuts, times);
    }

    fn piece(&mut self, name: &PieceId, drawn: &Drawn, cuts: &[ShapingCut], times: u64) {
        let here = self.here();
        let Some(&kind) = self.by_name.get(name) else {
            let sentence = format!("The cutting plan cuts a piece {name} that the recipe does not know.");
            self.say("unknown-piece", here, sentence, "List the piece in the recipe.");
            return;
        };
        self.out.counts[kind] = self.out.counts[kind].saturating_add(times);
        let note = &self.recipe.pieces[kind];
        if note.fabric != self.fabric {
            let sentence = format!("Piece {name} is of {} but is cut from {}.", note.fabric, self.fabric);
            self.say("wrong-fabric", here, sentence, "Cut it from its own cloth.");
            return;
        }
        let Some(cloth) = self.shaped(kind, drawn, cuts) else {
            let sentence = if drawn.bowed.contains(&true) {
                format!("The outline of piece {name} crosses or touches itself, or runs the wrong way round.")
            } else {
                format!("Piece {name} is not cut to a shape with all its corners pointing outward.")
            };
            self.say(
                "bad-recipe",
                here,
                sentence,
                "Cut the piece in two, or correct the cuts.",
            );
            return;
        };
        let Some(first) = &self.out.kinds[kind] else {
            self.out.kinds[kind] = Some(cloth);
            return;
        };
        let print = self.prints.get(&self.fabric).copied().unwrap_or_default();
        if let Some(sentence) = unlike(first, &cloth, print, name, self.recipe) {
            self.say(
                "pieces-not-alike",
                here,
                sentence,
                "Cut all pieces of a kind alike, or name two kinds.",
            );
        }
    }

    /// The piece with its edges named, or `None` when it is not convex (with a bowed edge: no simple outline) or nothing
    /// is left of it.
    fn shaped(&mut self, kind: usize, drawn: &Drawn, cuts: &[ShapingCut]) -> Option<Cloth> {
        let named = |edge: usize| {
            let owner = kind as u32 + 1;
            let edge = edge as u32;
            Edge::fresh(Name::Born { owner, edge }, None)
        };
        let corners = &drawn.corners;
        let n = corners.len();
        let outline: Vec<(Point, Edge)> = (0..n)
            .filter(|&i| corners[i].distance(corners[(i + 1) % n]) > 0.0)
            .map(|i| {
                let edge = Edge {
                    bowed: drawn.bowed[i],
                    ..named(drawn.edges[i])
                };
                (corners[i], edge)
            })
            .collect();
        if outline.len() < 3 {
            return None;
        }
        let mut cloth = Cloth::new(outline, kind, Vector::new(0.0, 1.0));
        cloth.marks = drawn.marks.as_slice().into();
        if drawn.bowed.contains(&true) {
            let shape = cloth.polygon();
            return (shape.signed_area() > 1.0e-6 && drawn.simple).then_some(cloth);
        }
        for (i, cut) in cuts.iter().enumerate() {
            let sizes = [
                cut.from.from_left,
                cut.from.from_lower,
                cut.to.from_left,
                cut.to.from_lower,
            ];
            let mut inches = [0.0; 4];
            for (slot, size) in inches.iter_mut().zip(sizes) {
                self.units(size)?;
                *slot = size.inches();
            }
            self.units(cut.past)?;
            let [x0, y0, x1, y1] = inches;
            let line = Line::between(Point::new(x0, y0), Point::new(x1, y1))?.moved_left(-cut.past.inches());
            match cloth.keep_left(line, named(4 + i)) {
                Left::Whole => {}
                Left::Nothing => return None,
                Left::Part(left) => cloth = left,
            }
        }
        if self.line.is_some() {
            cloth.line.clone_from(&self.line);
            return Some(cloth);
        }
        let shape = cloth.polygon();
        (shape.signed_area() > 1.0e-6 && shape.is_convex(1.0e-6) && turns_once(&shape)).then_some(cloth)
    }
}

/// Whether the outline goes round once and not twice: a star of left turns is no piece.
fn turns_once(shape: &Polygon) -> bool {
    let o = shape.corner(0);
    (1..shape.len() - 1).all(|i| (shape.corner(i) - o).cross(shape.corner(i + 1) - o) >= -1.0e-6)
}

fn cut_card(card: &Card) -> Option<CutCard> {
    let corners = printed_corners(&card.corners)?;
    let n = corners.len();
    let shape = Polygon::new(corners.clone());
    let long = (0..n).all(|i| corners[i].distance(corners[(i + 1) % n]) > TOLERANCE);
    if !(long && shape.signed_area() > 1.0e-6 && shape.is_convex(1.0e-6) && turns_once(&shape)) {
        return None;
    }
    let mut flat = vec![false; n];
    let mut before = None;
    for &side in &card.flat {
        if before.is_some_and(|b| side <= b) {
            return None;
        }
        *flat.get_mut(side as usize)? = true;
        before = Some(side);
    }
    flat.contains(&false).then(|| CutCard {
        name: card.name.clone(),
        corners,
        flat,
    })
}

fn printed_corners(corners: &[TemplateCorner]) -> Option<Vec<Point>> {
    let real = |p: Printed| (p.to_inches().abs() <= LONGEST).then(|| p.to_inches());
    let corners: Option<Vec<Point>> = corners
        .iter()
        .map(|c| Some(Point::new(real(c.right)?, real(c.up)?)))
        .collect();
    corners.filter(|c| c.len() >= 3)
}

/// A sheet as it can be laid; `None` where it cannot.
fn sheet_of(guide: &Guide) -> Option<PrintedSheet> {
    let outline = Polygon::new(printed_corners(&guide.outline)?);
    let mut shapes = Vec::new();
    for shape in &guide.shapes {
        let line = Polygon::new(printed_corners(&shape.line)?);
        let there = |s: &Stretch| s.from != s.to && (s.from.max(s.to) as usize) < line.len();
        if !is_simple(&line) || !shape.under.iter().chain(&shape.level).all(there) {
            return None;
        }
        shapes.push(PrintedShape {
            line,
            under: shape.under.clone(),
            level: shape.level.clone(),
        });
    }
    let sound = is_simple(&outline) && outline.is_convex(1.0e-6);
    sound.then_some(PrintedSheet { outline, shapes })
}

/// Places of one template followed; no page holds so many.
const MOST_PLACES: usize = 4000;

/// An outline to cut: its places, the number of the edge that begins or goes on at each, and whether that is bowed.
struct Drawn {
    corners: Vec<Point>,
    edges: Vec<usize>,
    bowed: Vec<bool>,
    marks: Vec<Point>,
    /// It nowhere crosses or touches itself (looked at only where an edge is bowed).
    simple: bool,
}

impl Drawn {
    /// Straight from corner to corner.
    fn plain(corners: Vec<Point>) -> Drawn {
        Drawn {
            edges: (0..corners.len()).collect(),
            bowed: vec![false; corners.len()],
            corners,
            marks: Vec::new(),
            simple: true,
        }
    }
}

/// A template as it is drawn; `None` when it is none.
fn drawn(template: &Template) -> Option<Drawn> {
    let real = |p: Printed| (p.to_inches().abs() <= LONGEST).then(|| p.to_inches());
    let place = |c: &TemplateCorner| Some(Point::new(real(c.right)?, real(c.up)?));
    let mut bowed = vec![false; template.corners.len()];
    for bow in &template.bows {
        let edge = bowed.get_mut(bow.edge as usize)?;
        if *edge || bow.through.is_empty() {
            return None;
        }
        *edge = true;
    }
    let outline = template.outline();
    if template.corners.len() < 2
        || outline.len() < 3
        || outline.len() > MOST_PLACES
        || template.marks.len() > MOST_PLACES
    {
        return None;
    }
    let edges: Vec<usize> = outline.iter().map(|&(_, edge)| edge as usize).collect();
    let corners: Vec<Point> = outline.iter().map(|(c, _)| place(c)).collect::<Option<_>>()?;
    Some(Drawn {
        simple: template.bows.is_empty() || is_simple(&Polygon::new(corners.clone())),
        corners,
        bowed: edges.iter().map(|&e| bowed[e]).collect(),
        edges,
        marks: template.marks.iter().map(place).collect::<Option<_>>()?,
    })
}

/// In what two pieces of a kind differ, if they do.
fn unlike(first: &Cloth, other: &Cloth, print: PrintNote, name: &PieceId, recipe: &Recipe) -> Option<String> {
    let names = |c: &Cloth| c.edges.iter().map(|e| e.name).collect::<Vec<_>>();
    let n = first.corners.len();
    let at = names(other).iter().position(|&e| e == first.edges[0].name);
    let other_corner = |i: usize, at: usize| other.corners[(i + at) % n];
    let Some(at) = at.filter(|&at| {
        other.corners.len() == n
            && (0..n).all(|i| {
                let (ours, theirs) = (first.edges[i], other.edges[(i + at) % n]);
                ours.name == theirs.name && ours.bowed == theirs.bowed
            })
    }) else {
        return Some(format!("Two pieces {name} do not have the same edges."));
    };
    let longest = (0..n).max_by(|&i, &j| {
        let length = |i: usize| first.corners[i].distance(first.corners[(i + 1) % n]);
        length(i).total_cmp(&length(j))
    })?;
    let ours = Line::between(first.corners[longest], first.corners[(longest + 1) % n])?;
    let theirs = Line::between(other_corner(longest, at), other_corner(longest + 1, at))?;
    let motion = Motion::line_to_line(theirs, ours, false);
    let worst = (0..n)
        .map(|i| motion.point(other_corner(i, at)).distance(first.corners[i]))
        .fold(0.0, f64::max);
    if worst > TOLERANCE {
        let off = say(worst, recipe.measure);
        return Some(format!("Two pieces {name} differ by {off} at a corner."));
    }
    let lines_differ = match (&first.line, &other.line) {
        (None, None) => false,
        (Some(a), Some(b)) => motion.polygon(b).difference(a) > TOLERANCE,
        _ => true,
    };
    if lines_differ {
        return Some(format!("Two pieces {name} do not have the same line."));
    }
    let mark_off = |(ours, theirs): (&Point, &Point)| motion.point(*theirs).distance(*ours) > TOLERANCE;
    if first.marks.len() != other.marks.len() || first.marks.iter().zip(other.marks.iter()).any(mark_off) {
        return Some(format!("Two pieces {name} do not have the same marks."));
    }
    let up = motion.vector(other.up).dot(first.up);
    let turned = match print {
        PrintNote::None => false,
        PrintNote::TwoWay => up.abs() < UP_AGREES,
        PrintNote::OneWay => up < UP_AGREES,
    };
    turned.then(|| format!("Two pieces {name} have their print turned against one another."))
}
