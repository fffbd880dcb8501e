//! A step in words: what the hands do, one sentence for each action, numbers still numbers.

use crate::model::{Text, Token};
use crate::names::Names;
use crate::numbers::{judged, roughly};
use crate::plural::counted;
use measure::{Length, Measure};
use recipe::{
    End, Lay, LineRef, Measured, Path, PointRef, Press, Recipe, Ruler, ShapeEdge, Size, Slot, Step, Stop, TrimLine,
};

/// The step as a maker is told it.
pub fn step_sentence(step: &Step, names: &Names, recipe: &Recipe) -> Text {
    match step {
        Step::Mark { on, line, .. } => line_in_words(
            Text::of(format!("On the wrong side of {} draw a line ", names.name(*on))),
            line,
        )
        .say("."),
        Step::Dot { on, at, .. } => {
            let text = Text::of(format!("On the wrong side of {} dot the place ", names.name(*on)));
            place(text, at).say(".")
        }
        Step::Lay { a, b, how, .. } => lay(*a, *b, how, names, recipe.measure),
        Step::Sew { path, join, .. } => sew(path, *join),
        Step::CutApart { line, keep, .. } => cut_apart(line, keep.len(), 1),
        Step::Open { press, .. } => Text::of(match press {
            Press::Open => "Open, and press the seam apart.",
            Press::TowardLower | Press::TowardUpper => "Open, and press the seam as the arrow shows.",
            Press::SpunLower | Press::SpunUpper => return Text::of("Open. ").say(SPIN),
        }),
        Step::Close { end, press, .. } => {
            let text = Text::of(
                "Close the partial seam: right sides together, lay what is left of its two edges on one another",
            );
            let pressed = match press {
                Press::Open => "press the whole seam apart.",
                _ => "press the whole seam to the side that is pressed already.",
            };
            ends(text, end, end, recipe.measure).say(format!(" Sew on from where it stopped to the end, and {pressed}"))
        }
        Step::Pivot { first, last, .. } => {
            let text = Text::of(
                "With the needle down in the dot, turn the upper layer round it until the next two edges lie together",
            );
            ends(text, first, last, recipe.measure)
        }
        Step::SubCut { first, width, into, .. } => {
            let text = match first {
                Ruler::Beside { at, .. } if at.len.units() > 0 => {
                    Text::of("Trim ").size(*at).say(" off one end to square it")
                }
                _ => line_in_words(Text::of("Cut off one end "), first),
            };
            text.say(format!(
                ", then from there cut {}, each ",
                counted(into.len() as u64, "length")
            ))
            .size(*width)
            .say(" wide.")
        }
        Step::Snip { .. } => Text::of("Snip off the dog ears, level with the edge."),
        Step::SetAside { label, is, .. } => Text::of(format!("Lay the other aside for another quilt: a {label}, "))
            .size(*is)
            .say(" across as it is."),
        Step::Trim { lines, .. } => {
            let mut text = Text::of("Trim: ");
            for (i, line) in lines.iter().enumerate() {
                if i > 0 {
                    text = text.say("; then ");
                }
                text = trim_line(text, &line.ruler, line.shave, (recipe.mark, recipe.measure));
            }
            text.say(".")
        }
        Step::Check { of, what, is } => {
            let from = match what {
                Measured::Across(..) => "from edge to edge",
                Measured::Between(..) => "from place to place",
            };
            Text::of(format!("Measure {} {from}: ", names.name(*of)))
                .size(*is)
                .say(".")
        }
        Step::Baste { card, least, .. } => Text::of(format!("Baste {card}: fold at least "))
            .size(*least)
            .say(" of cloth over the card."),
        Step::Whip { .. } => Text::of("Whip the folded edges together from corner to corner."),
        Step::TakeOut { .. } => Text::of("Press, and take out the cards whose sides are all sewn."),
        Step::Guide { .. } => Text::of(
            "Fold the ground in half both ways for centre creases and lay the placement sheet on it, its outline a seam's \
             width inside the raw edges all round.",
        ),
        Step::StitchDown { shape, edge, .. } => {
            let text = Text::of(format!("Lay the piece on its line, number {}", shape + 1));
            match edge {
                ShapeEdge::Turned { by } => text
                    .say("; turn under ")
                    .size(*by)
                    .say(" along its drawn line as you go, and stitch it down."),
                ShapeEdge::Raw => text.say(", fuse it, and stitch over its edge."),
            }
        }
        Step::Spread { piece, along, .. } => Text::of("Hold the paper to the light, printed side away from you. Lay ")
            .strong(names.name(*piece))
            .say(" on it right side up, over area 1: its edge ")
            .size(along.past)
            .say(" past line 2 and its end ")
            .size(along.beyond)
            .say(" beyond that line's ringed end. Pin it, or fix it with a dab of glue stick."),
        Step::Pare { line, past, .. } => {
            Text::of(format!("Fold the paper back on line {} and trim the cloth ", line + 2))
                .size(*past)
                .say(" past the fold.")
        }
        Step::CutOut { .. } => Text::of(
            "Lay the ruler on the dashed line and cut paper and cloth along it. Leave the paper on until the seams round the section are sewn, then tear it off line by line.",
        ),
        Step::Finish { seam, .. } => Text::of("The top is done. Its outer ")
            .quiet(*seam)
            .say(" all round goes under the binding."),
    }
}

/// A cut through stacks, so many alike.
pub(crate) fn cut_apart(line: &Ruler, kept: usize, many: u64) -> Text {
    let what = match many {
        1 => "the stack".to_string(),
        2 => "both parts".to_string(),
        n => format!("all {}", counted(n, "part")),
    };
    match (kept, line) {
        (
            2..,
            Ruler::Beside {
                line: LineRef::Mark(_),
                at,
                ..
            },
        ) if at.len.units() == 0 => {
            let what = if many == 1 { String::new() } else { format!("{what} ") };
            Text::of(format!(
                "Cut {what}on the drawn line, between the two rows of stitches."
            ))
        }
        (2.., _) => line_in_words(Text::of(format!("Cut {what} in two ")), line).say("."),
        _ if is_level(line) => Text::of("Trim off what runs over, level with the raw edge of the other layer."),
        (_, Ruler::Beside { at, .. }) => Text::of("Trim off the outer part ")
            .size(*at)
            .say(" beyond the stitches."),
        _ => line_in_words(Text::of("Trim off the outer part "), line).say("."),
    }
}

/// Whether the ruler lies along a raw edge.
pub(crate) fn is_level(ruler: &Ruler) -> bool {
    matches!(ruler, Ruler::Beside { line: LineRef::Edge(_), at, .. } if at.len.units() == 0)
}

/// A trim, one sentence for each placing of the ruler.
pub(crate) fn trim_sentences(lines: &[TrimLine], mark: Length, measure: Measure) -> Vec<Text> {
    let mut told: Vec<(Text, u64)> = Vec::new();
    for line in lines {
        let text = trim_line(Text::new(), &line.ruler, line.shave, (mark, measure)).say(".");
        match told.last_mut() {
            Some(last) if last.0.plain(measure) == text.plain(measure) => last.1 += 1,
            _ => told.push((text, 1)),
        }
    }
    told.into_iter()
        .map(|(text, count)| match count {
            1 => capitalised(text),
            2 => capitalised(text).say(" Do both such sides."),
            n => capitalised(text).say(format!(" Do all {n} such sides.")),
        })
        .collect()
}

fn capitalised(mut text: Text) -> Text {
    if let Some(Token::Words(first)) = text.0.first_mut() {
        let mut letters = first.chars();
        *first = letters
            .next()
            .map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect());
    }
    text
}

/// A measure from place to place, as a hand can take it.
pub(crate) fn between_sentence((from, to): (&PointRef, &PointRef), edge: &str, is: Size, near: Length) -> Text {
    let about = if near == is.len { ": " } else { ": about " };
    // The two ways the planner measures; anything else is told place by place.
    let text = match (from, to) {
        (PointRef::Corner(_), PointRef::Corner(_)) => {
            Text::of(format!("Measure along {edge}, from corner to corner")).say(about)
        }
        (PointRef::Corner(_), PointRef::Crossing(LineRef::Seam(_), LineRef::Edge(_))) => {
            Text::of("Measure along the raw edge, from the corner pressed over to where the seam meets the edge")
                .say(about)
        }
        _ => place(
            place(Text::of("Measure from the place "), from).say(" to the place "),
            to,
        )
        .say(about),
    };
    text.size(Size { len: near, why: is.why }).say(".")
}

/// How a seam is spun.
const SPIN: &str = "Spin the seam: where seams cross, take out the two or three stitches of the shorter seams that lie within the allowance, and press the seam one way before that place and the other way after it, as the arrows show. All allowances then lie turned the same way round, and the place lies flat.";

/// The sentence of an opening with the name of the part the allowances lie on.
pub(crate) fn press_sentence(press: Press, lower: &str, upper: &str, many: u64) -> Text {
    let open = match many {
        1 => "Open".to_string(),
        2 => "Open both".to_string(),
        n => format!("Open all {n}"),
    };
    match press {
        Press::Open => Text::of(format!("{open}, and press the seam apart.")),
        Press::SpunLower | Press::SpunUpper => Text::of(format!("{open}. ")).say(SPIN),
        _ if lower == upper => Text::of(format!("{open}, and press the seam as the arrow shows.")),
        Press::TowardLower => Text::of(format!("{open}, and press the seam toward "))
            .strong(lower)
            .say("."),
        Press::TowardUpper => Text::of(format!("{open}, and press the seam toward "))
            .strong(upper)
            .say("."),
    }
}

fn lay(a: Slot, b: Slot, how: &Lay, names: &Names, measure: Measure) -> Text {
    let (upper, lower) = names.both(b, a);
    let start = Text::of("Lay ")
        .strong(upper.as_str())
        .say(" on ")
        .strong(lower.as_str())
        .say(", right sides together");
    match how {
        Lay::Edges { first, last, meets, .. } => {
            let mut text = ends(start, first, last, measure);
            if !meets.is_empty() {
                let what = if meets.len() == 1 {
                    "Pin where the seams meet."
                } else {
                    "Pin wherever seams meet: "
                };
                text = text.say(format!(" {what}"));
                if meets.len() > 1 {
                    text = text.strong(counted(meets.len() as u64, "place")).say(".");
                }
            }
            text
        }
        Lay::Curve { pins, .. } => {
            let start = Text::of("Clip into the seam allowance of ")
                .strong(upper.as_str())
                .say(" along its hollow edge, half way to the dashes, a thumb's width apart. Lay ")
                .strong(upper.as_str())
                .say(" on ")
                .strong(lower.as_str())
                .say(", right sides together. ");
            let text = if pins.len() == 2 {
                start.say("Pin dot on dot at both ends")
            } else {
                start
                    .say("Pin dot on dot, ")
                    .strong(counted(pins.len() as u64, "place"))
                    .say(", from the middle outward")
            };
            text.say("; ease the hollow edge in between. Sew with ")
                .strong(upper.as_str())
                .say(" on top, slowly, without tucks.")
        }
        Lay::Corner { .. } => start.say(", corner on corner as pictured, both edges even."),
        Lay::OverPaper { .. } => Text::of("Lay ")
            .strong(names.name(b))
            .say(" on it right side down, its edge level with the trimmed edge."),
        Lay::TwoDots { .. } => {
            start.say(", crosswise, so that the dots of one lie on the dots of the other: pin through both.")
        }
    }
}

fn ends(text: Text, first: &End, last: &End, measure: Measure) -> Text {
    match (first, last) {
        (End::Even { .. }, End::Even { .. }) => text.say(", edges and ends even."),
        (End::Open, End::Open) => text.say(", edges even."),
        (End::Open, End::Even { .. }) | (End::Even { .. }, End::Open) => {
            text.say(", edges even, and one end even. The other end is left open.")
        }
        (End::Open, other) | (other, End::Open) => {
            ends(text, other, other, measure).say(" The other end is left open.")
        }
        (End::Notch { about: one, .. }, End::Notch { about: other, .. }) if one.len == other.len => text
            .say(", edges even. Let each end run over by about ")
            .size(*one)
            .say(": the two end edges cross on the stitch line."),
        (End::Notch { about: one, .. }, End::Notch { about: other, .. }) => text
            .say(", edges even. Let one end run over by about ")
            .bare(*one)
            .say(" and the other by about ")
            .size(*other)
            .say(": the end edges cross on the stitch line."),
        (End::Notch { about, .. }, _) | (_, End::Notch { about, .. }) => text
            .say(", edges even. At the ringed end let one corner run over by about ")
            .size(*about)
            .say(": the two end edges cross on the stitch line."),
        // Of two strips as long as each other, one stepped on from the other.
        (End::Overhang { by: one, .. }, End::Overhang { by: other, .. }) if one.len == -other.len => {
            let on = if one.len > other.len { *one } else { *other };
            text.say(", edges even, its end stepped on by ")
                .size(on)
                .say(" from the end of the other, as in the picture.")
        }
        (End::Overhang { by, .. }, _) | (_, End::Overhang { by, .. }) => {
            // Where it only checks, a hand can judge it no finer than what a trim takes off.
            let which = if by.len.units() < 0 { "lower" } else { "upper" };
            let seen = judged(by.len.abs(), measure);
            let about = if seen == by.len.abs() { "" } else { "about " };
            text.say(format!(
                ", edges even. At the ringed end let the {which} corner run over by {about}"
            ))
            .size(Size { len: seen, why: by.why })
            .say(".")
        }
        (End::Dots { .. }, _) | (_, End::Dots { .. }) => text.say(", edges even, dot on dot."),
        (End::Centre, _) | (_, End::Centre) => text.say(", edges even, the middle of one on the middle of the other."),
        (End::Match(_), _) | (_, End::Match(_)) => text.say(", edges even, seam on seam."),
    }
}

fn sew(path: &Path, join: bool) -> Text {
    match path {
        Path::Beside { by, from, to } => {
            let start = if join { "Join them: sew " } else { "Sew " };
            let text = Text::of(start).size(*by).say(" from the edge");
            match (from, to) {
                (Stop::Raw, Stop::Raw) => text.say("."),
                (Stop::Dot, Stop::Dot) => text.say(", from dot to dot."),
                (Stop::At(by), begin) | (begin, Stop::At(by)) => {
                    let begin = if *begin == Stop::Dot { "the dot" } else { "the even end" };
                    text.say(format!(", beginning at {begin}, but only for "))
                        .size(*by)
                        .say(": the rest of this partial seam is closed later.")
                }
                _ => text.say(", between the raw end and the dot: not a stitch beyond the dot."),
            }
        }
        Path::OnMark(_) => Text::of("Sew on the drawn line, a thread to the side of the corner that goes."),
        Path::BothSides { by, .. } => Text::of("Sew ")
            .size(*by)
            .say(" from the drawn line, on both sides of it."),
        Path::Round { by, .. } => Text::of("Sew ").size(*by).say(" from the edge, all the way round."),
        Path::OnPaper { beyond } => {
            Text::of("Turn the paper over and sew on the printed line with short stitches, beginning and ending ")
                .size(*beyond)
                .say(" beyond it.")
        }
    }
}

fn line_in_words(text: Text, ruler: &Ruler) -> Text {
    match ruler {
        Ruler::TwoMarks {
            from: PointRef::Corner(_),
            to: PointRef::Corner(_),
        } => text.say("from corner to corner"),
        Ruler::TwoMarks {
            from: PointRef::Dot(_),
            to: PointRef::Dot(_),
        } => text.say("through both dots, from edge to edge"),
        Ruler::TwoMarks {
            from: PointRef::Crossing(LineRef::Seam(_), LineRef::Seam(_)),
            to: PointRef::Crossing(LineRef::Seam(_), LineRef::Seam(_)),
        } => text.say("along one side, from the first to the last point where two seams cross"),
        Ruler::TwoMarks { from, to } => place(place(text.say("from the place "), from).say(" to the place "), to),
        Ruler::Beside { line, at, .. } if at.len.units() == 0 => text.say(format!("along {}", line_name(line))),
        Ruler::Beside { line, at, .. } => text.size(*at).say(format!(" from {}", line_name(line))),
        Ruler::Angle {
            line, angle, through, ..
        } => {
            let text = text.say(format!(
                "at {:.0}° to {}, through the place ",
                angle.degrees(),
                line_name(line)
            ));
            place(text, through)
        }
    }
}

fn trim_line(text: Text, ruler: &Ruler, shave: Size, (mark, measure): (Length, Measure)) -> Text {
    let seen = judged(shave.len, measure);
    let flush = matches!(ruler, Ruler::Beside { at, .. } if at.len.units() == 0);
    // What merely runs over, or is cut to measure, comes off as it comes.
    // Measured from the far end: not the little that comes off at the near one.
    let from_far =
        matches!(ruler, Ruler::Angle { through: PointRef::Along { by, .. }, .. } if by.len > shave.len + shave.len);
    let seen = if seen == shave.len || !(flush || from_far || is_measured(ruler, mark)) {
        seen
    } else {
        roughly(shave.len, measure)
    };
    let text = match ruler {
        Ruler::Beside { at, .. } if is_measured(ruler, mark) => text
            .say("measure what it will be sewn to, from raw edge to raw edge through the middle, and cut it to that length, about ")
            .size(Size {
                len: judged(at.len, measure),
                why: at.why,
            }),
        Ruler::Beside { line, at, .. } if at.len.units() == 0 => {
            text.say(format!("lay the ruler's edge along {} and cut", line_name(line)))
        }
        Ruler::Beside { line, at, .. } => text
            .say("lay the ruler's ")
            .size(*at)
            .say(format!(" line on {} and cut", line_name(line))),
        Ruler::Angle {
            angle,
            through: PointRef::Along { by, .. },
            ..
        } if from_far => {
            let seen = judged(by.len, measure);
            let about = if seen == by.len { "" } else { "about " };
            text.say(format!("from the corner at its other end measure {about}"))
                .size(Size { len: seen, why: by.why })
                .say(format!(
                    " along its shorter long edge; there lay the ruler's {:.0}° line on that edge and cut",
                    angle.degrees()
                ))
        }
        Ruler::Angle {
            line, angle, through, ..
        } => {
            let words = format!(
                "lay the ruler's {:.0}° line on {}, its edge through the place ",
                angle.degrees(),
                line_name(line)
            );
            place(text.say(words), through).say(", and cut")
        }
        Ruler::TwoMarks { from, to } => {
            let text = place(text.say("lay the ruler's edge from the place "), from).say(" to the place ");
            place(text, to).say(" and cut")
        }
    };
    if seen.units() == 0 {
        text.say("; only threads come off")
    } else if seen == shave.len {
        text.say("; ").size(shave).say(" comes off")
    } else {
        text.say("; about ")
            .size(Size {
                len: seen,
                why: shave.why,
            })
            .say(" comes off")
    }
}

/// Whether a length is cut as it is measured: no ruler has a line for it.
fn is_measured(ruler: &Ruler, mark: Length) -> bool {
    let Ruler::Beside {
        line: LineRef::Edge(_),
        at,
        ..
    } = ruler
    else {
        return false;
    };
    at.len.units() % mark.units().max(1) != 0
}

fn line_name(line: &LineRef) -> &'static str {
    match line {
        LineRef::Edge(_) => "the raw edge",
        LineRef::Seam(_) => "the seam",
        LineRef::Mark(_) => "the drawn line",
    }
}

fn place(text: Text, at: &PointRef) -> Text {
    match at {
        PointRef::Corner(_) => text.say("at the corner"),
        PointRef::Crossing(LineRef::Seam(_), LineRef::Seam(_)) => text.say("where the two seams cross"),
        PointRef::Crossing(one, other) => text.say(format!("where {} meets {}", line_name(one), line_name(other))),
        PointRef::Along { by, .. } => text.size(*by).say(" along the edge from the corner"),
        PointRef::FromEdges { a_by, b_by, .. } if a_by.len == b_by.len => text.size(*a_by).say(" in from both edges"),
        PointRef::FromEdges { a_by, b_by, .. } => text
            .bare(*a_by)
            .say(" in from one edge and ")
            .size(*b_by)
            .say(" in from the other"),
        PointRef::Dot(_) => text.say("at the dot"),
    }
}
