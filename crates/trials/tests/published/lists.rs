//! What a pattern prints, read back: pieces by kind from the strips and cuts alone, and the sizes its steps check.

use measure::Length;
use recipe::{Gives, Make, Measured, Pattern, PieceCut, ShapingCut, Step, Strip, Take};
use shape::{Line, Point, Polygon};
use std::collections::BTreeMap;
use terms::PieceId;

/// How a piece comes off its strip; the longer side first.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A rectangle or square.
    Rectangle(Length, Length),
    /// Between two cuts through two marks: strip, lower mark, upper mark (the lesser first).
    Slant(Length, Length, Length),
    /// Between cuts along a ruler's line at an angle: strip, along its edges (the lesser first), and straight across from
    /// cut to cut where that is measured.
    AtAngle(Length, Length, Length, Option<Length>),
    /// A rectangle cut beside dots: its outline as cut.
    Shaped(Polygon),
    /// Round a template: its outline.
    Template(Polygon),
    /// Half or quarter of a rectangle.
    Divided(Length, Length, u32),
}

/// All pieces of one kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// The cloth.
    pub cloth: String,
    /// Their form.
    pub form: Form,
    /// How many come off.
    pub count: u32,
}

/// All cut pieces by kind.
pub fn pieces(pattern: &Pattern) -> BTreeMap<PieceId, Cutting> {
    let mut found = BTreeMap::new();
    for cloth in &pattern.cutting.cloths {
        for strip in &cloth.strips {
            read_strip(pattern, cloth.fabric.as_str(), strip, 1, &mut found);
        }
    }
    found
}

fn read_strip(pattern: &Pattern, cloth: &str, strip: &Strip, times: u32, found: &mut BTreeMap<PieceId, Cutting>) {
    let times = times * strip.times;
    let height = strip.height.len;
    for run in &strip.runs {
        for cut in &run.cuts {
            let (lower, upper) = (cut.lower.len, cut.upper.len);
            let box_form = Form::Rectangle(lower.max(height), lower.min(height));
            let divided = |parts| Form::Divided(lower.max(height), lower.min(height), parts);
            let named: Vec<(&PieceCut, Form)> = match &cut.gives {
                Gives::Waste => Vec::new(),
                Gives::Piece(piece) if cut.ruler.is_some() => {
                    let across = cut.ruler.and_then(|ruler| ruler.across).map(|size| size.len);
                    let form = Form::AtAngle(height, lower.min(upper), lower.max(upper), across);
                    vec![(piece, form)]
                }
                Gives::Piece(piece) if lower == upper => vec![(piece, box_form)],
                Gives::Piece(piece) => vec![(piece, Form::Slant(height, lower.min(upper), lower.max(upper)))],
                Gives::Halves {
                    lower: one,
                    upper: other,
                    ..
                } => vec![(one, divided(2)), (other, divided(2))],
                Gives::Quarters(four) => four.iter().map(|piece| (piece, divided(4))).collect(),
                Gives::Shaped { piece, cuts } => {
                    vec![(piece, Form::Shaped(shaped(lower.to_inches(), height.to_inches(), cuts)))]
                }
                Gives::Template { piece, template } => {
                    let drawn = pattern.cutting.templates.iter().find(|t| &t.name == template).unwrap();
                    let place = |c: &recipe::TemplateCorner| Point::new(c.right.to_inches(), c.up.to_inches());
                    vec![(
                        piece,
                        Form::Template(Polygon::new(drawn.corners.iter().map(place).collect())),
                    )]
                }
            };
            for (piece, form) in named {
                let entry = found.entry(piece.piece.clone()).or_insert_with(|| Cutting {
                    cloth: cloth.to_string(),
                    form: form.clone(),
                    count: 0,
                });
                assert_eq!(entry.form, form, "pieces of one kind are cut alike");
                assert_eq!(entry.cloth, cloth);
                entry.count += times * run.times;
            }
        }
    }
    for rest in &strip.rest {
        read_strip(pattern, cloth, rest, times, found);
    }
}

fn shaped(width: f64, height: f64, cuts: &[ShapingCut]) -> Polygon {
    let place = |dot: &recipe::Dot| Point::new(dot.from_left.inches(), dot.from_lower.inches());
    cuts.iter().fold(Polygon::rectangle(width, height), |cloth, cut| {
        let dots = Line::between(place(&cut.from), place(&cut.to)).unwrap();
        let right = -dots.along.left();
        cloth.left_of(Line {
            through: dots.through + right * cut.past.inches(),
            along: dots.along,
        })
    })
}

/// Rectangles by cloth, longer side and shorter side in inches (as text, so that they can be keys), and how many.
pub fn rectangles(pattern: &Pattern) -> BTreeMap<(String, String), u32> {
    let mut list = BTreeMap::new();
    for cutting in pieces(pattern).into_values() {
        if let Form::Rectangle(long, short) = cutting.form {
            *list
                .entry((cutting.cloth, size_text(long.to_inches(), short.to_inches())))
                .or_insert(0) += cutting.count;
        }
    }
    list
}

/// Two sides as text, the longer first.
pub fn size_text(a: f64, b: f64) -> String {
    format!("{} x {}", a.max(b), a.min(b))
}

/// All pieces that are no rectangles.
pub fn others(pattern: &Pattern) -> Vec<Cutting> {
    pieces(pattern)
        .into_values()
        .filter(|c| !matches!(c.form, Form::Rectangle(..)))
        .collect()
}

/// The sizes that a making's steps measure straight across, in order.
pub fn across(make: &Make) -> Vec<f64> {
    let sizes = make.steps.iter().filter_map(|step| match step {
        Step::Check {
            what: Measured::Across(..),
            is,
            ..
        } => Some(is.inches()),
        _ => None,
    });
    sizes.collect()
}

/// The makings whose units all measure exactly these sizes across, in any order. A making of two units measures both.
pub fn units_of_size(pattern: &Pattern, a: f64, b: f64) -> Vec<&Make> {
    let wanted = size_text(a, b);
    let alike = |make: &&Make| {
        let sizes = across(make);
        !sizes.is_empty()
            && sizes
                .chunks(2)
                .all(|pair| matches!(pair, &[x, y] if size_text(x, y) == wanted))
    };
    pattern.recipe.makes.iter().filter(alike).collect()
}

/// Whether a making takes a piece of that kind.
pub fn takes(make: &Make, piece: &PieceId) -> bool {
    make.parts
        .iter()
        .any(|part| matches!(&part.take, Take::Piece(p) if p == piece))
}
