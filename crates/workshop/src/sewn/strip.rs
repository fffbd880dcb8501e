//! A making step by step on one page, to be printed and laid beside the machine.

use super::stage::{Cloth, Shot};
use super::told::{cloth_name, ends, path, watched, words};
use book::{Book, Source};
use maud::{Markup, PreEscaped, html};
use rehearse::{MarkView, Segment};
use shape::Point;
use std::collections::BTreeMap;

/// One step of the strip.
pub struct Panel {
    /// The step's number among those of the making, from 1; none for the parts.
    pub number: Option<usize>,
    /// What is done.
    pub words: Vec<String>,
    /// How it lies then.
    pub picture: Markup,
}

/// The strip of a making.
pub struct Strip {
    /// Its panels; steps that leave everything as it lies, as measuring does, stand with the step before them.
    pub panels: Vec<Panel>,
    /// How many steps are not told again: what is cut apart is told of one part.
    pub alike: usize,
}

/// The strip of a making; `None` when there is none of this number, or more of it than a page can show.
pub fn strip(source: &Source, book: &Book, number: usize) -> Option<Strip> {
    let (make, film) = watched(source, number)?;
    let again = book::told_again(make);
    let words = words(source, make, &film);
    let colors: BTreeMap<&str, &str> = book.colors.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    let mut lying: BTreeMap<u32, Cloth> = BTreeMap::new();
    let mut panels: Vec<Panel> = Vec::new();
    for (shot, words) in film.shots.iter().zip(words) {
        let before: Vec<Option<&Cloth>> = shot.set.iter().map(|cloth| lying.get(&cloth.number)).collect();
        let same = before
            .iter()
            .zip(&shot.set)
            .all(|(was, is)| was.is_some_and(|was| was == is));
        let idle =
            same && shot.gone.is_empty() && shot.sewn.is_empty() && shot.cuts.is_empty() && shot.waste.is_empty();
        let unmarked = shot.marks.is_empty();
        for number in &shot.gone {
            lying.remove(number);
        }
        for cloth in &shot.set {
            lying.insert(cloth.number, cloth.clone());
        }
        if shot.step.is_some_and(|step| again.contains(&step)) {
            continue;
        }
        match panels.last_mut() {
            Some(last) if idle && unmarked => last.words.push(words),
            _ => panels.push(Panel {
                number: shot.step.map(|step| step + 1),
                words: vec![words],
                picture: picture(source, &colors, shot),
            }),
        }
    }
    Some(Strip {
        panels,
        alike: again.len(),
    })
}

fn picture(source: &Source, colors: &BTreeMap<&str, &str>, shot: &Shot) -> Markup {
    let corners = (shot.set.iter().flat_map(|cloth| cloth.outline.corners()))
        .chain(shot.paper.iter().flat_map(|(outline, _)| outline.corners()))
        .chain(shot.waste.iter().flat_map(|outline| outline.corners()));
    let bounds = corners.fold(None, |bounds: Option<(Point, Point)>, &c| {
        let (low, high) = bounds.unwrap_or((c, c));
        Some((
            Point::new(low.x.min(c.x), low.y.min(c.y)),
            Point::new(high.x.max(c.x), high.y.max(c.y)),
        ))
    });
    let Some((low, high)) = bounds else {
        return html! {};
    };
    let inches = |v: f64| format!("{v:.4}");
    let edge = 0.05 * (high.x - low.x).max(high.y - low.y).max(1.0);
    let (w, h) = (high.x - low.x + 2.0 * edge, high.y - low.y + 2.0 * edge);
    let view = format!("{:.3} {:.3} {w:.3} {h:.3}", low.x - edge, -high.y - edge);
    // Lines of one width on paper, however large the unit is.
    let hair = w.max(h) / 220.0;
    let color = |cloth: &Cloth, shade: &str| {
        let name = format!("{}{shade}", cloth_name(source, &cloth.fabric));
        colors.get(name.as_str()).copied().unwrap_or("#BBBBBB")
    };
    let line = |s: &Segment| {
        let [x1, y1, x2, y2] = ends(s);
        format!("M{x1} {y1}L{x2} {y2}")
    };
    let lines = |all: &[Segment]| all.iter().map(line).collect::<String>();
    let layer = |above: bool| shot.set.iter().filter(move |cloth| cloth.above == above);
    html! {
        svg viewBox=(view) aria-hidden="true" {
            @if let Some((outline, _)) = &shot.paper {
                path d=(path(outline)) fill="#FFFFFF" stroke="#5B616B" stroke-width=(inches(hair)) {}
            }
            @for above in [false, true] {
                @for cloth in layer(above) {
                    path d=(path(&cloth.outline)) fill=(color(cloth, if cloth.wrong { "-wrong" } else { "" }))
                        stroke="#22262E" stroke-width=(inches(hair)) stroke-linejoin="round" {}
                    @if cloth.wrong {
                        path d=(path(&cloth.outline)) fill="url(#wrong-side)" {}
                    }
                }
            }
            // The edges of what lies beneath show through, thinly.
            @if layer(true).next().is_some() {
                @for cloth in layer(false) {
                    path d=(path(&cloth.outline)) fill="none" stroke="#5B616B" stroke-width=(inches(hair * 0.5)) {}
                }
            }
            @for waste in &shot.waste {
                path d=(path(waste)) fill="#FFFFFF" stroke="#5B616B" stroke-width=(inches(hair * 0.5)) {}
                path d=(path(waste)) fill="url(#wrong-side)" {}
            }
            @if let Some((_, sew)) = &shot.paper {
                path d=(lines(sew)) fill="none" stroke="#5B616B" stroke-width=(inches(hair)) {}
            }
            @for mark in &shot.marks {
                @match mark {
                    // On a pale ground of its own, so that it is seen on dark cloth.
                    MarkView::Line(_, _, s) => {
                        path d=(line(s)) fill="none" stroke="#FFFFFF" stroke-width=(inches(hair * 2.6)) stroke-opacity="0.8"
                            stroke-linecap="round" {}
                        path d=(line(s)) fill="none" stroke="#22262E" stroke-width=(inches(hair * 1.2))
                            stroke-dasharray=(format!("0.01 {:.4}", hair * 3.0)) stroke-linecap="round" {}
                    }
                    MarkView::Dot(_, p) => { circle cx=(p.x) cy=(-p.y) r=(inches(hair * 2.0)) fill="#22262E"
                        stroke="#FFFFFF" stroke-width=(inches(hair * 0.8)) {} }
                }
            }
            path d=(lines(&shot.cuts)) fill="none" stroke="#22262E" stroke-width=(inches(hair * 1.2))
                stroke-dasharray=(format!("{:.4} {:.4} {hair:.4} {:.4}", hair * 8.0, hair * 2.4, hair * 2.4)) {}
            path d=(lines(&shot.stitches)) fill="none" stroke="#A8322A" stroke-width=(inches(hair * 1.6))
                stroke-dasharray=(format!("{:.4} {:.4}", hair * 4.0, hair * 2.6)) {}
            @for way in &shot.pressed {
                // An arrow as wide as it can be seen, however large the unit is.
                path d=(arrow(way, hair * 14.0)) fill="#FFFFFF" stroke="#22262E" stroke-width=(inches(hair)) stroke-linejoin="round" {}
            }
        }
    }
}

/// An outlined arrow of a length, y down, from where a way begins.
fn arrow(way: &Segment, long: f64) -> String {
    let [x, y, to_x, to_y] = ends(way);
    let far = libm::hypot(to_x - x, to_y - y).max(1.0e-6);
    let (u, v) = ((to_x - x) / far * long, (to_y - y) / far * long);
    let at = |along: f64, across: f64| format!("{:.4} {:.4}", x + u * along - v * across, y + v * along + u * across);
    let corners = [
        at(0.0, -0.14),
        at(0.55, -0.14),
        at(0.55, -0.36),
        at(1.0, 0.0),
        at(0.55, 0.36),
        at(0.55, 0.14),
        at(0.0, 0.14),
    ];
    format!("M{}Z", corners.join("L"))
}

/// The slanting lines of a wrong side, once for all pictures of a page; so far apart in inches.
pub fn wrong_side(apart: f64) -> Markup {
    let line = format!(
        r##"<svg class="hatching" width="0" height="0" aria-hidden="true"><defs><pattern id="wrong-side" width="{apart}" height="{apart}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V{apart}" stroke="#22262E" stroke-opacity="0.35" stroke-width="{}"/></pattern></defs></svg>"##,
        apart / 8.0
    );
    html! { (PreEscaped(line)) }
}
