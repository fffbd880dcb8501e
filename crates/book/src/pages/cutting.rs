//! Cutting, cloth by cloth: each kind of strip with its picture and its sentences.

use super::Desk;
use super::shopping::{capital, heading, no_less, to_buy};
use crate::model::{Block, Paper, Section, Text};
use crate::numbers::judged;
use crate::pictures::{strip, swatch, template_outline, where_used};
use crate::plural::{counted, listed, plural};
use measure::Length;
use recipe::{Alike, ClothPlan, Cut, CutAngle, CutForm, CutRun, Dot, Gives, PieceCut, PrintNote, Purpose, Size, Strip};
use shape::{Line, Point, Polygon};
use terms::PieceId;

/// More faces than this, and the small pictures of where a cloth lies would weigh more than they tell.
const FACES_FOR_ASIDE: usize = 1500;

/// More sentences than this are not kept together with the strip's picture.
const LONGEST: usize = 9;

pub(super) fn cutting(desk: &Desk) -> Section {
    let mut blocks = Vec::new();
    let cloths = &desk.source.pattern.cutting.cloths;
    if cloths.is_empty() {
        return Section {
            name: "cutting".into(),
            blocks,
        };
    }
    blocks.push(heading(1, "Cutting"));
    let hand = if desk.edition.left_handed {
        "The pictures are turned half round for the left hand: the squared end is at the right. Nothing is mirrored, so every piece keeps its hand."
    } else {
        "Each strip is drawn once, with its squared end at the left. Hatched cloth is left over."
    };
    blocks.push(Block::Paragraph(Text::of(hand)));
    blocks.push(Block::Caution {
        word: "Blade".into(),
        text: "Close the cutter at every pause, cut away from you, keep fingers off the ruler's edge, and keep it where no child can reach it.".into(),
    });
    for (i, cloth) in cloths.iter().enumerate() {
        let first = cloths[..i].iter().all(|other| other.fabric != cloth.fabric);
        let last = cloths[i + 1..].iter().all(|other| other.fabric != cloth.fabric);
        if first {
            cloth_head(desk, cloth, &mut blocks);
        }
        if let Some(alike) = cloth.alike {
            let own = cloths[..i].iter().filter(|other| other.fabric == cloth.fabric);
            lot_head(desk, cloth, alike, own.map(ClothPlan::times).sum(), &mut blocks);
        }
        cloth_strips(desk, cloth, &mut blocks);
        if last {
            spares(desk, cloth, &mut blocks);
        }
    }
    Section {
        name: "cutting".into(),
        blocks,
    }
}

/// The cloth's name, what to buy, how its print lies.
fn cloth_head(desk: &Desk, plan: &ClothPlan, blocks: &mut Vec<Block>) {
    let source = desk.source;
    let cloth = desk.cloths.get(&plan.fabric);
    let small = source.picture.faces.len() <= FACES_FOR_ASIDE && !source.picture.outer.is_empty();
    let mut told = None;
    if let Some(bought) = source.pattern.bought.cloths.iter().find(|b| b.fabric == plan.fabric) {
        let measure = desk.edition.measure;
        let mut lead = to_buy(Text::of("Buy "), bought, measure);
        if let Some(pieces) = bought.pieces {
            lead = lead
                .say(", each ")
                .quiet(pieces.each)
                .say(" along the selvedge (the lengthwise grain) and ")
                .quiet(bought.usable)
                .say(" usable across. ");
            lead = if pieces.least >= pieces.count {
                lead.say("No plan can do with fewer.")
            } else {
                lead.say("No plan can do with fewer than ")
                    .say(pieces.least.to_string())
                    .say(".")
            };
        } else if let Some(words) = source.cloths.iter().find(|c| c.fabric == plan.fabric) {
            lead = lead
                .say(" of cloth ")
                .quiet(recipe::Size::bare(words.width))
                .say(" wide");
            let step = words.step.units().max(1);
            let steps = |units: i64| (units + step - 1) / step;
            lead = if steps(bought.bound.len.units()) >= steps(bought.length.len.units()) {
                lead.say(". No plan can do with less.")
            } else {
                lead.say(". No plan can do with less than ")
                    .then(no_less(bought, Some(words.step), measure))
                    .say(".")
            };
        } else {
            lead = lead.say(".");
        }
        told = Some(lead);
    }
    blocks.push(Block::Heading {
        level: 2,
        words: source.label(&plan.fabric),
        pill: None,
        swatch: Some(swatch(cloth, 22.0)),
        aside: small.then(|| where_used(&source.picture, &desk.cloths, &plan.fabric, 76.0)),
        lead: told,
    });
    let print = source
        .pattern
        .recipe
        .fabrics
        .iter()
        .find(|f| f.fabric == plan.fabric)
        .map(|f| f.print);
    let upper = if desk.edition.left_handed { "lower" } else { "upper" };
    match print {
        Some(PrintNote::OneWay) => blocks.push(Block::Paragraph(Text::of(format!(
            "The print has an up: lay the cloth so that it points to the {upper} edge of the picture."
        )))),
        Some(PrintNote::TwoWay) => blocks.push(Block::Paragraph(Text::of(
            "The print has a direction: its length runs from the lower to the upper edge of the picture.",
        ))),
        _ => {}
    }
    let centred = |note: &recipe::PieceNote| note.fabric == plan.fabric && note.label == recipe::ROUND_ITS_MOTIF;
    if source.pattern.recipe.pieces.iter().any(centred) {
        blocks.push(Block::Paragraph(Text::of(
            "The print has a motif that comes into the middle of each piece. Square the end, trim the selvedges and cut the strips midway \
             between motifs, whole repeats only: what is before the first whole one is left over. Each piece is then cut from the middle of \
             its repeat.",
        )));
    }
}

/// Which of the pieces of a cloth sold cut are cut as follows; `before` of them are cut already.
fn lot_head(desk: &Desk, plan: &ClothPlan, alike: Alike, before: u32, blocks: &mut Vec<Block>) {
    let bought = desk.source.pattern.bought.cloths.iter();
    let pieces = bought.filter(|b| b.fabric == plan.fabric).find_map(|b| b.pieces);
    let Some(pieces) = pieces.filter(|pieces| pieces.count > 1) else {
        return;
    };
    let words = match (pieces.form, alike.count) {
        (CutForm::Strips, 1) => "Strip",
        (CutForm::Strips, _) => "Strips",
        (CutForm::Squares, 1) => "Square",
        (CutForm::Squares, _) => "Squares",
        (form, 1) => form.one(),
        (form, _) => form.several(),
    };
    let which = match alike.count {
        1 => format!("{words} {}", before + 1),
        2 => format!("{words} {} and {}, cut alike", before + 1, before + 2),
        n => format!("{words} {} to {}, cut alike", before + 1, before + n),
    };
    blocks.push(heading(3, &capital(&which)));
}

/// Squaring up, then strip by strip.
fn cloth_strips(desk: &Desk, plan: &ClothPlan, blocks: &mut Vec<Block>) {
    let source = desk.source;
    let cloth = desk.cloths.get(&plan.fabric);
    let each = if plan.times() > 1 { " of each" } else { "" };
    let first = if plan.alike.is_some() && plan.square_up.len == Length::ZERO {
        // Strips and squares are sold cut to size: nothing is lost where the pieces are cut from their full height.
        Text::of(format!(
            "Lay it with its lengthwise grain upright; trim one end{each} square."
        ))
    } else {
        let selvedges = if plan.alike.is_some() {
            "the selvedge"
        } else {
            "the selvedges"
        };
        Text::of(format!("Square up one end{each} ("))
            .quiet(plan.square_up)
            .say(format!(" is allowed for it) and trim off {selvedges}."))
    };
    blocks.push(Block::Step {
        number: Some(1),
        sentences: vec![first],
        pictures: Vec::new(),
        wide: false,
    });
    for (number, one) in (2..).zip(&plan.strips) {
        if let Some(purpose) = one.purpose {
            blocks.push(Block::Step {
                number: Some(number),
                sentences: vec![kept_whole(one, purpose)],
                pictures: Vec::new(),
                wide: false,
            });
            continue;
        }
        let width = desk.edition.paper.points().0 - 2.0 * Paper::MARGIN;
        let templates = &source.pattern.cutting.templates;
        let picture = strip(
            one,
            plan.usable.inches(),
            cloth,
            templates,
            desk.edition,
            width,
            number == 2,
        );
        let mut sentences = Vec::new();
        strip_sentences(desk, one, true, &mut sentences);
        // A strip with a long story keeps its first sentence by its picture; the rest may run over the page.
        let rest = if sentences.len() > LONGEST {
            sentences.split_off(1)
        } else {
            Vec::new()
        };
        blocks.push(Block::Step {
            number: Some(number),
            sentences,
            pictures: vec![picture],
            wide: true,
        });
        if !rest.is_empty() {
            blocks.push(Block::Step {
                number: None,
                sentences: rest,
                pictures: Vec::new(),
                wide: false,
            });
        }
    }
    if plan.times() > 1 {
        let mut counts: Vec<(PieceId, u64)> = Vec::new();
        for strip in &plan.strips {
            count_pieces(strip, u64::from(plan.times()), &mut counts);
        }
        let told: Vec<String> = counts.iter().map(|(piece, n)| format!("{n} {piece}")).collect();
        if !told.is_empty() {
            blocks.push(Block::Paragraph(
                Text::of(match plan.times() {
                    2 => "Both together: ".to_string(),
                    n => format!("All {n} together: "),
                })
                .strong(listed(&told))
                .say("."),
            ));
        }
    }
}

/// How many of each piece a strip gives, so many times over.
fn count_pieces(strip: &Strip, times: u64, counts: &mut Vec<(PieceId, u64)>) {
    let times = times * u64::from(strip.times);
    for run in &strip.runs {
        for piece in run.cuts.iter().flat_map(|cut| pieces(&cut.gives)) {
            let many = times * u64::from(run.times);
            match counts.iter_mut().find(|(known, _)| *known == piece.piece) {
                Some((_, count)) => *count += many,
                None => counts.push((piece.piece.clone(), many)),
            }
        }
    }
    for rest in &strip.rest {
        count_pieces(rest, times, counts);
    }
}

/// What is spare of a cloth's pieces.
fn spares(desk: &Desk, plan: &ClothPlan, blocks: &mut Vec<Block>) {
    let spare: Vec<String> = desk
        .source
        .pattern
        .recipe
        .pieces
        .iter()
        .filter(|p| p.fabric == plan.fabric && p.spare > 0)
        .map(|p| format!("{} {}", p.spare, p.piece))
        .collect();
    if !spare.is_empty() {
        blocks.push(Block::Paragraph(Text::of(format!("Spare: {}.", listed(&spare)))));
    }
}

/// A strip that is not cut into pieces: what it is kept for.
fn kept_whole(one: &Strip, purpose: Purpose) -> Text {
    let times = u64::from(one.times);
    let (what, after) = match purpose {
        Purpose::Binding => ("strip", " wide for the binding. Set it aside whole."),
        Purpose::BiasSquare => ("square", " for the bias binding. Set it aside whole."),
        Purpose::Backing => ("length", " for the back, across the full width. Set it aside whole."),
        Purpose::Sleeve => ("strip", " wide for the sleeve. Set it aside whole."),
        Purpose::Label => ("strip", " wide; the label comes from it."),
    };
    let after = if times > 1 {
        after.replace("Set it", "Set them")
    } else {
        after.to_string()
    };
    Text::of("Cut ")
        .strong(counted(times, what))
        .say(" ")
        .size(one.height)
        .say(after)
}

fn strip_sentences(desk: &Desk, one: &Strip, outer: bool, sentences: &mut Vec<Text>) {
    let many = one.times > 1;
    let start = if outer { "Cut " } else { "From what is left cut " };
    sentences.push(
        Text::of(start)
            .strong(counted(u64::from(one.times), "strip"))
            .say(" ")
            .size(one.height)
            .say(if outer { "." } else { " high." }),
    );
    let from = if many { "From each" } else { "From it" };
    let mut runs = one.runs.iter().peekable();
    while let Some(run) = runs.next() {
        // An odd last piece goes on head to tail with those before it.
        let more = runs.next_if(|next| goes_on(run, next)).is_some();
        run_sentences(desk, one, (run, more), from, sentences);
    }
    for rest in &one.rest {
        strip_sentences(desk, rest, false, sentences);
    }
}

/// Whether `next` is one more cut of a run of two that lie head to tail, of one kind of piece.
fn goes_on(run: &CutRun, next: &CutRun) -> bool {
    let ([a, b], [one]) = (run.cuts.as_slice(), next.cuts.as_slice()) else {
        return false;
    };
    let leaning = a.lower.len != a.upper.len && a.lower.len == b.upper.len && a.upper.len == b.lower.len;
    leaning && next.times == 1 && names(&a.gives) == names(&b.gives) && same_cut(a, one)
}

/// One run: as a rule one kind of cut, or two that lie head to tail.
fn run_sentences(desk: &Desk, one: &Strip, (run, more): (&CutRun, bool), from: &str, sentences: &mut Vec<Text>) {
    if run.cuts.iter().any(|c| c.ruler.is_some()) {
        return ruled_sentences(desk, one, (run, more), from, sentences);
    }
    let leaning = run.cuts.iter().any(|c| c.lower != c.upper);
    if leaning {
        return leaning_sentences(desk, one, (run, more), from, sentences);
    }
    let mut seen: Vec<(&Cut, u64)> = Vec::new();
    for cut in &run.cuts {
        match seen.iter_mut().find(|(c, _)| same_cut(c, cut)) {
            Some(entry) => entry.1 += u64::from(run.times),
            None => seen.push((cut, u64::from(run.times))),
        }
    }
    for (cut, count) in seen {
        let in_all = (one.times > 1).then(|| count * u64::from(one.times));
        sentences.push(square_cut(one, cut, count, from, in_all));
        if let Gives::Shaped { cuts, .. } = &cut.gives {
            shaping(desk, cuts, sentences);
        }
        if let Some(words) = handed(desk, cut, one.height) {
            sentences.push(words);
        }
    }
}

fn same_cut(a: &Cut, b: &Cut) -> bool {
    let kinds = |c: &Cut| names(&c.gives);
    a.lower.len == b.lower.len
        && kinds(a) == kinds(b)
        && std::mem::discriminant(&a.gives) == std::mem::discriminant(&b.gives)
}

fn square_cut(one: &Strip, cut: &Cut, count: u64, from: &str, in_all: Option<u64>) -> Text {
    let square = cut.lower.len == one.height.len;
    let box_words = |text: Text| {
        if square {
            text.strong(counted(count, "square")).say(" ").size(cut.lower)
        } else {
            text.strong(counted(count, "rectangle"))
                .say(" ")
                .by(cut.lower, one.height)
        }
    };
    let total = |text: Text, per: u64| match in_all {
        Some(all) => text.say(format!(" ({} in all)", all * per)),
        None => text,
    };
    let text = Text::of(format!("{from} cut "));
    match &cut.gives {
        Gives::Waste => Text::of("Cut off ").size(cut.lower).say("."),
        Gives::Piece(piece) => {
            let text = total(text.strong(format!("{count} {}", piece.piece)), 1).say(", ");
            let text = if square {
                text.size(cut.lower).say(format!(" {}", plural(count, "square")))
            } else {
                text.by(cut.lower, one.height)
            };
            text.say(".")
        }
        Gives::Halves { lower, upper, .. } => {
            // Turned half round a diagonal stays the same diagonal; only in a square does it not matter which.
            let which = if square {
                "once from corner to corner"
            } else {
                "once, along the diagonal in the picture"
            };
            let text = box_words(text).say(format!("; cut each {which}: "));
            if lower.piece == upper.piece {
                total(text.strong(format!("{} {}", count * 2, lower.piece)), 2).say(".")
            } else {
                text.strong(format!("{count} {}", lower.piece))
                    .say(" and ")
                    .strong(format!("{count} {}", upper.piece))
                    .say(".")
            }
        }
        Gives::Quarters(pieces) => {
            let text = box_words(text).say("; cut each twice, from corner to corner both ways: ");
            let kinds = names(&cut.gives);
            let parts: Vec<String> = kinds
                .iter()
                .map(|k| format!("{} {k}", count * pieces.iter().filter(|p| &p.piece == k).count() as u64))
                .collect();
            total(text.strong(listed(&parts)), if kinds.len() == 1 { 4 } else { 1 }).say(".")
        }
        Gives::Shaped { piece, .. } => total(box_words(text), 1)
            .say(" for ")
            .strong(piece.piece.0.clone())
            .say("."),
        Gives::Template { piece, template } => total(box_words(text), 1)
            .say("; lay template ")
            .strong(template.clone())
            .say(" on each, right side up, and cut round it: ")
            .strong(format!("{count} {}", piece.piece))
            .say("."),
    }
}

/// Cuts beside dots: both dots, the ruler's line on them, the blade beyond.
fn shaping(desk: &Desk, cuts: &[recipe::ShapingCut], sentences: &mut Vec<Text>) {
    let (side, edge) = if desk.edition.left_handed {
        ("right", "upper")
    } else {
        ("left", "lower")
    };
    for cut in cuts {
        let dot = |text: Text, d: &recipe::Dot| {
            text.size(d.from_left)
                .say(format!(" from the {side} and "))
                .size(d.from_lower)
                .say(format!(" from the {edge} edge"))
        };
        let text = dot(Text::of("Dot each piece "), &cut.from).say(", and ");
        let text = dot(text, &cut.to).say("; lay the ruler's ");
        sentences.push(text.size(cut.past).say(" line on both dots and cut along its edge."));
    }
}

/// The ruler's line that a cut at an angle is laid by.
fn ruled(angle: CutAngle) -> &'static str {
    match angle {
        CutAngle::Thirty => "the ruler's 30° line on the strip's edge",
        CutAngle::FortyFive => "the ruler's 45° line on the strip's edge",
        CutAngle::Sixty => "the ruler's 60° line on the strip's edge",
        CutAngle::Wedge => "the ruler's 45° line on the last cut, or a wedge ruler on the edge",
    }
}

/// Cuts along a ruler's line at an angle: side by side, measured straight across, or head to tail.
fn ruled_sentences(desk: &Desk, one: &Strip, (run, more): (&CutRun, bool), from: &str, sentences: &mut Vec<Text>) {
    let mut parts: Vec<(PieceId, u64)> = Vec::new();
    for cut in &run.cuts {
        let Some(ruler) = cut.ruler else { continue };
        if matches!(cut.gives, Gives::Waste) {
            let angle = match ruler.angle {
                CutAngle::Wedge => "at 67 1/2° to its edge, with a wedge ruler",
                angle => ruled(angle),
            };
            sentences.push(Text::of(format!("First cut off the end, {angle}, as in the picture.")));
            continue;
        }
        for name in pieces(&cut.gives) {
            match parts.iter_mut().find(|(known, _)| *known == name.piece) {
                Some(entry) => entry.1 += u64::from(run.times),
                None => parts.push((name.piece.clone(), u64::from(run.times))),
            }
        }
    }
    let first = run.cuts.iter().find(|c| !matches!(c.gives, Gives::Waste));
    let Some((first, ruler)) = first.and_then(|c| Some((c, c.ruler?))) else {
        return;
    };
    if let (true, Some(part)) = (more, parts.first_mut()) {
        part.1 += 1;
    }
    let told: Vec<String> = parts.iter().map(|(name, count)| format!("{count} {name}")).collect();
    let line = ruled(ruler.angle);
    let text = match ruler.across {
        Some(across) => Text::of(format!("{from} cut pieces "))
            .size(across)
            .say(format!(", straight across from cut to cut, {line}: ")),
        None => {
            let least = if first.lower.len < first.upper.len {
                first.lower
            } else {
                first.upper
            };
            let start = Text::of(format!("{from} cut, {line}, "));
            let start = if least.len.units() == 0 {
                start.say("from where the last cut meets the edge")
            } else {
                // The ruler's line does it; the measure is for the eye, which sees no thousandths.
                let seen = judged(least.len, desk.edition.measure);
                let start = if seen == least.len { start } else { start.say("about ") };
                start
                    .size(Size { len: seen, ..least })
                    .say(" on along the edge from where the last cut meets it")
            };
            start.say("; turn the ruler end for end for the next and go on, head to tail, to ")
        }
    };
    let text = text.strong(listed(&told));
    sentences.push(match (one.times > 1, parts.as_slice()) {
        (true, [(_, count)]) => text.say(format!(" ({} in all).", count * u64::from(one.times))),
        _ => text.say("."),
    });
}

/// Cuts through two marks, one on each edge, the ruler turned end for end between them.
fn leaning_sentences(desk: &Desk, one: &Strip, (run, more): (&CutRun, bool), from: &str, sentences: &mut Vec<Text>) {
    let left = desk.edition.left_handed;
    // Turned half round, the plan's lower edge is the upper one on the table.
    let edges = |cut: &Cut| {
        if left {
            (cut.lower, cut.upper)
        } else {
            (cut.upper, cut.lower)
        }
    };
    let marks = |text: Text, cut: &Cut| {
        let (upper, lower) = edges(cut);
        match (upper.len.units() == 0, lower.len.units() == 0) {
            (true, _) => text
                .size(lower)
                .say(" along the lower edge; cut from there to where the last cut meets the upper edge"),
            (_, true) => text
                .size(upper)
                .say(" along the upper edge; cut from there to where the last cut meets the lower edge"),
            _ => text
                .size(upper)
                .say(" along the upper edge and ")
                .size(lower)
                .say(" along the lower; cut through both marks"),
        }
    };
    let counts = |cuts: &[&Cut]| {
        let mut parts: Vec<(PieceId, u64)> = Vec::new();
        for cut in cuts {
            for name in pieces(&cut.gives) {
                match parts.iter_mut().find(|(k, _)| *k == name.piece) {
                    Some(entry) => entry.1 += u64::from(run.times),
                    None => parts.push((name.piece.clone(), u64::from(run.times))),
                }
            }
        }
        parts
    };
    let cuts: Vec<&Cut> = run.cuts.iter().collect();
    let mut parts = counts(&cuts);
    if let (true, Some(first)) = (more, parts.first_mut()) {
        first.1 += 1;
    }
    let told: Vec<String> = parts.iter().map(|(k, n)| format!("{n} {k}")).collect();
    if let [only] = cuts.as_slice()
        && matches!(only.gives, Gives::Waste)
    {
        sentences.push(marks(Text::of("First mark "), only).say(". What comes off is waste."));
        return;
    }
    let Some(first) = cuts.first() else { return };
    sentences.push(marks(Text::of(format!("{from}: mark ")), first).say("."));
    let turned = matches!(cuts.as_slice(), [a, b] if a.lower.len == b.upper.len && a.upper.len == b.lower.len);
    let all_told = |text: Text| {
        let text = text.strong(listed(&told));
        match (one.times > 1, parts.as_slice()) {
            (true, [(_, n)]) => text.say(format!(" ({} in all).", n * u64::from(one.times))),
            _ => text.say("."),
        }
    };
    if turned {
        let text = Text::of(
            "Turn the ruler end for end and take the same two marks from the last cut, the other way round; go on, head to tail, to ",
        );
        sentences.push(all_told(text));
    } else {
        for cut in cuts.iter().skip(1) {
            sentences.push(marks(Text::of("From that cut mark "), cut).say("."));
        }
        let again = if run.times > 1 {
            "Go on from the last cut in the same way to "
        } else {
            "That makes "
        };
        sentences.push(all_told(Text::of(again)));
    }
    sentences.push(Text::of(format!(
        "{} handed: cut single cloth, right side up.",
        if parts.iter().map(|p| p.1).sum::<u64>() == 1 {
            "It is"
        } else {
            "They are"
        }
    )));
}

/// A warning for pieces that differ from their mirror image.
fn handed(desk: &Desk, cut: &Cut, strip: Size) -> Option<Text> {
    let twins = pieces(&cut.gives).into_iter().any(|p| {
        desk.source
            .pattern
            .recipe
            .pieces
            .iter()
            .any(|n| n.piece == p.piece && n.twin.is_some())
    });
    let shape = match &cut.gives {
        Gives::Shaped { cuts, .. } => {
            cuts.iter()
                .fold(Polygon::rectangle(cut.lower.inches(), strip.inches()), |left, c| {
                    let at = |dot: &Dot| Point::new(dot.from_left.inches(), dot.from_lower.inches());
                    match Line::between(at(&c.from), at(&c.to)) {
                        Some(line) => left.left_of(line.moved_left(-c.past.inches())),
                        None => left,
                    }
                })
        }
        Gives::Template { template, .. } => {
            let templates = &desk.source.pattern.cutting.templates;
            let found = templates.iter().find(|t| &t.name == template);
            found.map_or_else(Polygon::default, template_outline)
        }
        _ => Polygon::default(),
    };
    let shaped = shape.len() >= 3 && shape::congruence::is_handed(&shape.simplified(1.0e-6), 1.0 / 128.0);
    (twins || shaped).then(|| Text::of("They are handed: cut single cloth, right side up."))
}

fn pieces(gives: &Gives) -> Vec<&PieceCut> {
    match gives {
        Gives::Waste => Vec::new(),
        Gives::Piece(p) => vec![p],
        Gives::Halves { lower, upper, .. } => vec![lower, upper],
        Gives::Quarters(all) => all.iter().collect(),
        Gives::Shaped { piece, .. } | Gives::Template { piece, .. } => vec![piece],
    }
}

fn names(gives: &Gives) -> Vec<PieceId> {
    let mut all: Vec<PieceId> = pieces(gives).into_iter().map(|p| p.piece.clone()).collect();
    all.sort();
    all.dedup();
    all
}
