//! A strip of cloth with its cuts, to scale: names on the pieces, measures on the edges.

use super::canvas::{Anchor, Canvas, INK, Lettering, Pen, View, lettering_width};
use super::cloth::Cloth;
use crate::model::{Edition, Picture};
use crate::numbers::{THIN, set_length, unit};
use recipe::{Cut, Gives, PieceCut, Strip, Turn};
use shape::{Line, Motion, Point, Polygon};

/// Room at the left for the strip's height.
const LEFT: f64 = 44.0;
/// More cuts than this in one strip are not drawn.
const MOST_CUTS: u32 = 4000;
/// Room above for measures.
const ABOVE: f64 = 16.0;
/// No strip is drawn higher than this, points.
const TALLEST: f64 = 260.0;

/// One kind of strip, drawn once.
pub(crate) fn strip(
    strip: &Strip,
    usable: f64,
    cloth: &Cloth,
    templates: &[recipe::Template],
    edition: &Edition,
    width: f64,
    with_width: bool,
) -> Picture {
    let scale = ((width - LEFT - 4.0) / usable.max(1.0)).min(TALLEST / strip.height.inches().max(0.1));
    let (across, high) = (usable * scale, strip.height.inches() * scale);
    let leaning = strip
        .runs
        .iter()
        .flat_map(|r| &r.cuts)
        .any(|c| c.lower != c.upper || c.ruler.is_some());
    let letters = edition.letters();
    let under = if leaning { 16.0 * letters } else { 5.0 };
    let below = under + if with_width { 18.0 } else { 0.0 };
    let above = ABOVE * letters;
    let mut canvas = Canvas::lettered(width, above + high + below, letters);
    // Turned half round for the left hand: what was the squared left end is the right end, and the lower edge is the
    // upper one. Nothing is mirrored, so every piece keeps its hand.
    let turn = if edition.left_handed {
        Motion::quarter_turns(2)
    } else {
        Motion::STILL
    };
    let low = if edition.left_handed {
        Point::new(-usable, -strip.height.inches())
    } else {
        Point::ORIGIN
    };
    let view = View {
        turn,
        scale,
        low,
        origin: (LEFT, above + high),
    };
    let mut pen = StripPen {
        canvas: &mut canvas,
        view,
        cloth,
        templates,
        edition,
        top: above,
        bottom: above + high,
    };

    let whole = Polygon::rectangle(usable, strip.height.inches());
    let band = view.all(&whole);
    pen.canvas.waste(&band, Some(Pen::CUT));
    pen.fill(strip, 0.0, 0.0, usable, true);
    let height_words = set_length(strip.height.len, edition.measure);
    canvas.upright_span(
        above,
        above + high,
        LEFT - if high < 24.0 { 8.0 } else { 20.0 },
        &height_words,
    );
    let usable_words = format!(
        "{}{THIN}{} usable",
        set_length(measure::Length::nearest(usable).unwrap_or_default(), edition.measure),
        unit(edition.measure)
    );
    if with_width {
        canvas.span(LEFT, LEFT + across, above + high + under + 8.0, &usable_words);
    }
    canvas.finish(format!(
        "A strip {height_words} {} high with its cuts, to scale",
        unit(edition.measure)
    ))
}

struct StripPen<'a> {
    canvas: &'a mut Canvas,
    view: View,
    cloth: &'a Cloth,
    templates: &'a [recipe::Template],
    edition: &'a Edition,
    top: f64,
    bottom: f64,
}

impl StripPen<'_> {
    /// Draws the cuts of a strip whose lower left corner lies at (`x`, `y`).
    fn fill(&mut self, strip: &Strip, x: f64, y: f64, usable: f64, outer: bool) {
        let height = strip.height.inches();
        let (mut foot, mut head) = (x, x);
        let mut order = 0u32;
        let mut ends: Vec<(Point, u32)> = Vec::new();
        let cuts_in_all: u64 = strip
            .runs
            .iter()
            .map(|r| u64::from(r.times) * r.cuts.len() as u64)
            .sum();
        let leaning = strip.runs.iter().flat_map(|r| &r.cuts).any(|c| c.lower != c.upper);
        let mut told: Vec<(measure::Length, measure::Length)> = Vec::new();
        for run in &strip.runs {
            for _ in 0..run.times {
                for cut in &run.cuts {
                    // A plan that runs off its strip is refused elsewhere; here it only must not draw for ever.
                    if foot.max(head) > x + usable + 1.0 || order >= MOST_CUTS {
                        return;
                    }
                    let (f, h) = (foot + cut.lower.inches(), head + cut.upper.inches());
                    let quad = [
                        Point::new(foot, y),
                        Point::new(f, y),
                        Point::new(h, y + height),
                        Point::new(head, y + height),
                    ];
                    self.piece(cut, quad);
                    order += 1;
                    let sizes = (cut.lower.len, cut.upper.len);
                    if outer && !told.contains(&sizes) && told.len() < 6 {
                        told.push(sizes);
                        self.measures(cut, quad);
                    }
                    if outer && leaning && cuts_in_all <= 14 {
                        ends.push((quad[1].toward(quad[2], 0.5), order));
                    }
                    (foot, head) = (f, h);
                }
            }
        }
        // The order of the cuts, on the cuts themselves so that no numeral is read as a measure.
        for (middle, order) in ends {
            let at = self.view.at(middle);
            self.canvas.circle(at, 5.0, "#FFFFFF", Some(Pen::SEAM));
            self.canvas.centred(
                at,
                &order.to_string(),
                Lettering {
                    size: 7.5,
                    color: INK,
                    ..Lettering::WORDS
                },
            );
        }
        // What is left, squared from the further of foot and head.
        let begin = foot.max(head);
        let mut up = y;
        for rest in &strip.rest {
            for _ in 0..rest.times {
                if up + rest.height.inches() > y + height + 1e-6 {
                    return;
                }
                let band = Polygon::new(
                    [
                        (begin, up),
                        (x + usable, up),
                        (x + usable, up + rest.height.inches()),
                        (begin, up + rest.height.inches()),
                    ]
                    .map(|(px, py)| Point::new(px, py))
                    .to_vec(),
                );
                let corners = self.view.all(&band);
                self.canvas.waste(&corners, Some(Pen::CUT));
                self.fill(rest, begin, up, x + usable - begin, false);
                up += rest.height.inches();
            }
        }
    }

    fn piece(&mut self, cut: &Cut, quad: [Point; 4]) {
        let outline = Polygon::new(quad.to_vec());
        match &cut.gives {
            Gives::Waste => {
                let corners = self.view.all(&outline);
                self.canvas.waste(&corners, Some(Pen::TRIM));
            }
            Gives::Piece(piece) => self.cloth_piece(&outline, piece),
            Gives::Halves { rising, lower, upper } => {
                let [a, b, c, d] = quad;
                let (low, high) = if *rising {
                    ([a, b, c], [c, d, a])
                } else {
                    ([a, b, d], [c, d, b])
                };
                self.cloth_piece(&Polygon::new(low.to_vec()), lower);
                self.cloth_piece(&Polygon::new(high.to_vec()), upper);
            }
            Gives::Quarters(pieces) => {
                let middle = outline.corner(0).toward(outline.corner(2), 0.5);
                for (i, piece) in pieces.iter().enumerate().take(4) {
                    let part = Polygon::new(vec![outline.corner(i), outline.corner(i + 1), middle]);
                    self.cloth_piece(&part, piece);
                }
            }
            Gives::Shaped { piece, cuts } => {
                let corners = self.view.all(&outline);
                self.canvas.waste(&corners, Some(Pen::CUT));
                let mut kept = outline;
                let place =
                    |dot: &recipe::Dot| quad[0] + shape::Vector::new(dot.from_left.inches(), dot.from_lower.inches());
                let mut dots = Vec::new();
                for shaping in cuts {
                    let (from, to) = (place(&shaping.from), place(&shaping.to));
                    if let Some(line) = Line::between(from, to) {
                        kept = kept.left_of(line.moved_left(-shaping.past.inches()));
                    }
                    dots.extend([from, to]);
                }
                self.cloth_piece(&kept, piece);
                for dot in dots {
                    let at = self.view.at(dot);
                    self.canvas.circle(at, 1.9, INK, Some(Pen::PLATE));
                }
            }
            Gives::Template { piece, template } => {
                let corners = self.view.all(&outline);
                self.canvas.waste(&corners, Some(Pen::CUT));
                let shape = self.templates.iter().find(|t| &t.name == template);
                if let Some(shape) = shape {
                    let outline = super::template::template_outline(shape);
                    let moved = (outline.corners().iter())
                        .map(|&c| quad[0] + (c - Point::ORIGIN))
                        .collect();
                    self.cloth_piece(&Polygon::new(moved), piece);
                }
            }
        }
    }

    fn cloth_piece(&mut self, outline: &Polygon, piece: &PieceCut) {
        let corners = self.view.all(outline);
        self.cloth.right(self.canvas, &corners, Some(Pen::CUT));
        let (low, high) = bounds(&corners);
        let name = piece.piece.as_str();
        let triangle = outline.simplified(1e-6).len() == 3;
        let room = if triangle { 0.42 } else { 0.86 };
        let natural = lettering_width(name, 1.0).max(0.5);
        let size = ((high.0 - low.0) * room / natural)
            .min((high.1 - low.1) * room * 0.8)
            .min(9.5);
        if size < 4.0 {
            return;
        }
        // The centroid of a sliver may lie close to an edge; of a four-sided piece it never does.
        let centre = centroid(&corners);
        let turned = piece.turn == Turn::Half;
        let ink = self.cloth.lettering();
        let how = Lettering {
            size,
            color: ink,
            bold: true,
            anchor: Anchor::Middle,
            turned,
        };
        self.canvas.centred(centre, name, how);
    }

    fn measures(&mut self, cut: &Cut, quad: [Point; 4]) {
        let words = |size: recipe::Size| set_length(size.len, self.edition.measure);
        // Of what is cut at the ruler's angle only what is measured is told: straight across, or on from the last cut.
        if let Some(ruler) = cut.ruler {
            if let Some(across) = ruler.across {
                let middle = (self.view.at(quad[3]).0 + self.view.at(quad[2]).0) / 2.0;
                let label = format!("{} across", words(across));
                self.canvas.label((middle, self.top - 5.0), &label, Lettering::MEASURE);
            }
            return;
        }
        let slant = cut.lower != cut.upper;
        let (over, under) = if self.edition.left_handed {
            ((quad[0], quad[1]), (quad[3], quad[2]))
        } else {
            ((quad[3], quad[2]), (quad[0], quad[1]))
        };
        let (over_size, under_size) = if self.edition.left_handed {
            (cut.lower, cut.upper)
        } else {
            (cut.upper, cut.lower)
        };
        let middle = |view: &View, ends: (Point, Point)| (view.at(ends.0).0 + view.at(ends.1).0) / 2.0;
        let x = middle(&self.view, over);
        if over_size.inches() > 0.0 {
            self.canvas
                .label((x, self.top - 5.0), &words(over_size), Lettering::MEASURE);
        }
        if slant && under_size.inches() > 0.0 {
            let x = middle(&self.view, under);
            self.canvas.label(
                (x, self.bottom + 3.5 + 7.0 * self.edition.letters()),
                &words(under_size),
                Lettering::MEASURE,
            );
        }
    }
}

fn bounds(corners: &[(f64, f64)]) -> ((f64, f64), (f64, f64)) {
    corners.iter().fold(
        ((f64::INFINITY, f64::INFINITY), (f64::NEG_INFINITY, f64::NEG_INFINITY)),
        |(l, h), c| ((l.0.min(c.0), l.1.min(c.1)), (h.0.max(c.0), h.1.max(c.1))),
    )
}

fn centroid(corners: &[(f64, f64)]) -> (f64, f64) {
    let points = corners.iter().map(|&(x, y)| Point::new(x, y)).collect();
    let c = Polygon::new(points).centroid();
    (c.x, c.y)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Paper;
    use crate::pictures::Cloths;
    use measure::{Length, Measure};
    use recipe::{CutRun, FabricNote, PrintNote, Size};
    use terms::{FabricId, PieceId};

    fn corners(svg: &str) -> Vec<(f64, f64)> {
        svg.split("d=\"M")
            .skip(1)
            .filter_map(|d| d.split_once("Z\""))
            .flat_map(|(d, _)| d.split('L').map(str::to_string).collect::<Vec<_>>())
            .filter_map(|p| {
                p.split_once(' ')
                    .and_then(|(x, y)| Some((x.parse().ok()?, y.parse().ok()?)))
            })
            .collect()
    }

    #[test]
    fn the_left_hand_turns_the_picture_and_never_mirrors_it() {
        let size = |n, d| Size::bare(Length::fraction(n, d));
        let gives = Gives::Piece(PieceCut {
            piece: PieceId::new("A1"),
            turn: Turn::As,
        });
        let plan = Strip {
            height: size(7, 2),
            times: 1,
            runs: vec![CutRun {
                times: 1,
                cuts: vec![Cut {
                    lower: size(9, 2),
                    upper: size(11, 4),
                    ruler: None,
                    gives,
                }],
            }],
            rest: Vec::new(),
            purpose: None,
        };
        let note = FabricNote {
            fabric: FabricId::new("foam"),
            label: String::new(),
            color: "#EEE6D6".into(),
            right_side: true,
            print: PrintNote::None,
        };
        let cloths = Cloths::of(&[note]);
        let cloth = cloths.get(&FabricId::new("foam"));
        let right = Edition {
            measure: Measure::Inch,
            left_handed: false,
            large_print: false,
            paper: Paper::A4,
        };
        let left = Edition {
            left_handed: true,
            ..right
        };
        let picture = |edition: &Edition| corners(&strip(&plan, 40.0, cloth, &[], edition, 471.0, true).svg);
        let (right, left) = (picture(&right), picture(&left));
        assert_eq!(right.len(), left.len());
        // A half turn about the middle of the strip: the sums of the two pictures' coordinates are all alike (derived).
        // A mirror image would leave one of the coordinates alone.
        let (x, y) = (right[0].0 + left[0].0, right[0].1 + left[0].1);
        for (a, b) in right.iter().zip(&left) {
            assert!(
                (a.0 + b.0 - x).abs() < 0.03 && (a.1 + b.1 - y).abs() < 0.03,
                "{a:?} {b:?}"
            );
        }
    }
}
