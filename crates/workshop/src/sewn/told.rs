//! A film told to the window: shapes and places as numbers, y down, in inches; each step in the booklet's own words.

use super::stage::{Cloth, Film, Shot, film};
use book::{Names, Source, step_sentence, unit_name};
use recipe::Make;
use rehearse::{MarkView, Segment};
use serde_json::{Value, json};
use shape::{Motion, Point, Polygon, Vector};
use std::fmt::Write;
use terms::FabricId;

/// A making that can be watched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Making {
    /// Its number among the makings, from 0.
    pub number: usize,
    /// The unit as makers call it.
    pub title: String,
    /// How many units are made.
    pub count: u64,
}

/// The makings of a pattern that are sewn, in order.
pub fn makings(source: &Source) -> Vec<Making> {
    let recipe = &source.pattern.recipe;
    (recipe.makes.iter().enumerate())
        .filter(|(_, make)| make.times > 0 && !make.steps.is_empty())
        .map(|(number, make)| Making {
            number,
            title: unit_name(&make.unit, recipe),
            count: u64::from(make.times) * (make.gives.len() as u64).max(1),
        })
        .collect()
}

/// A making of this number and its film; `None` when there is none, or more of it than a screen can play.
pub fn watched(source: &Source, number: usize) -> Option<(&Make, Film)> {
    let make = source.pattern.recipe.makes.get(number)?;
    let film = film(make, source.scenes_of(&make.unit)?)?;
    Some((make, film))
}

/// What is done in each shot, in words; the first is of the parts.
pub fn words(source: &Source, make: &Make, film: &Film) -> Vec<String> {
    let recipe = &source.pattern.recipe;
    let names = Names::of(make, recipe);
    let told = |shot: &Shot| match shot.step.and_then(|step| make.steps.get(step)) {
        Some(step) => step_sentence(step, &names, recipe).plain(recipe.measure),
        None => "Lay out the parts, right side up.".to_string(),
    };
    film.shots.iter().map(told).collect()
}

/// The number of a cloth in the names of colours; the window's own number for what is no cloth of the pattern.
pub fn cloth_name(source: &Source, fabric: &FabricId) -> String {
    let place = source
        .pattern
        .recipe
        .fabrics
        .iter()
        .position(|note| &note.fabric == fabric);
    place.map_or("cloth-none".into(), |number| format!("cloth-{number}"))
}

/// The film as the window plays it.
pub fn told(source: &Source, number: usize) -> Option<Value> {
    let (make, film) = watched(source, number)?;
    let words = words(source, make, &film);
    let (low, high) = film.bounds;
    let shots: Vec<Value> = film
        .shots
        .iter()
        .zip(words)
        .map(|(shot, words)| one(source, shot, &words))
        .collect();
    Some(json!({
        "title": unit_name(&make.unit, &source.pattern.recipe),
        "view": [round(low.x), round(-high.y), round(high.x - low.x), round(high.y - low.y)],
        "shots": shots,
    }))
}

fn one(source: &Source, shot: &Shot, words: &str) -> Value {
    let set = |c: &Cloth| {
        json!({
            "n": c.number, "cloth": cloth_name(source, &c.fabric), "wrong": c.wrong, "above": c.above, "d": path(&c.outline),
        })
    };
    let paper = shot
        .paper
        .as_ref()
        .map(|(outline, lines)| json!({ "d": path(outline), "lines": segments(lines) }));
    json!({
        "words": words,
        "gone": shot.gone,
        "set": shot.set.iter().filter(|cloth| !shot.same.contains(&cloth.number)).map(set).collect::<Vec<_>>(),
        "moved": shot.moved.iter()
            .map(|m| json!({ "pieces": m.pieces, "from": m.from.iter().map(matrix).collect::<Vec<_>>() }))
            .collect::<Vec<_>>(),
        "sewn": segments(&shot.sewn),
        "stitches": segments(&shot.stitches),
        "marks": shot.marks.iter().map(mark).collect::<Vec<_>>(),
        "cuts": segments(&shot.cuts),
        "waste": shot.waste.iter().map(path).collect::<Vec<_>>(),
        "pressed": segments(&shot.pressed),
        "paper": paper,
    })
}

/// A drawn line by its ends, a dot by its place twice.
fn mark(mark: &MarkView) -> [f64; 4] {
    match mark {
        MarkView::Line(_, _, s) => ends(s),
        MarkView::Dot(_, p) => [round(p.x), round(-p.y), round(p.x), round(-p.y)],
    }
}

fn segments(all: &[Segment]) -> Vec<[f64; 4]> {
    all.iter().map(ends).collect()
}

/// From and to, y down.
pub fn ends(s: &Segment) -> [f64; 4] {
    [round(s.from.x), round(-s.from.y), round(s.to.x), round(-s.to.y)]
}

/// A closed outline as path data, y down.
pub fn path(outline: &Polygon) -> String {
    let mut d = String::new();
    for (i, c) in outline.corners().iter().enumerate() {
        let letter = if i == 0 { 'M' } else { 'L' };
        let _ = write!(d, "{letter}{} {}", round(c.x), round(-c.y));
    }
    d.push('Z');
    d
}

/// A motion as the six numbers of an SVG `matrix`, y down. They are not rounded: a window multiplies them.
fn matrix(motion: &Motion) -> [f64; 6] {
    let (x, y) = (
        motion.vector(Vector::new(1.0, 0.0)),
        motion.vector(Vector::new(0.0, 1.0)),
    );
    let o = motion.point(Point::ORIGIN);
    [x.x, -x.y, -y.x, y.y, o.x, -o.y].map(|v| v + 0.0)
}

/// To a thousandth of an inch, which no screen shows; never `-0`.
fn round(inches: f64) -> f64 {
    (inches * 1000.0).round() / 1000.0 + 0.0
}
