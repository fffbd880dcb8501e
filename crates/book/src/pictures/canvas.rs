//! A sheet to draw on, in points, y down, and the kinds of line that mean something.

use crate::model::Picture;
use shape::{Motion, Point, Vector};
use std::fmt::Write;

/// Ink of lines and words.
pub(crate) const INK: &str = "#22262E";
/// Ink of what is said in passing.
pub(crate) const SOFT: &str = "#5B616B";
/// The one accent: stitching.
pub(crate) const THREAD: &str = "#A8322A";
/// The face of all lettering.
const FACE: &str = "Libertinus Serif, serif";

/// A kind of line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pen {
    color: &'static str,
    width: f64,
    /// SVG dash pattern; empty for a solid line.
    dash: &'static str,
}

impl Pen {
    /// A cut edge: solid.
    pub(crate) const CUT: Pen = Pen {
        color: INK,
        width: 0.8,
        dash: "",
    };
    /// Stitching: short dashes in the thread's colour.
    pub(crate) const STITCH: Pen = Pen {
        color: THREAD,
        width: 1.2,
        dash: "3.4 2.2",
    };
    /// Where foundation paper is cut: long dashes.
    pub(crate) const CUT_HERE: Pen = Pen {
        color: INK,
        width: 0.8,
        dash: "7 4",
    };
    /// A line of foundation paper to sew on: solid and strong.
    pub(crate) const SEW_HERE: Pen = Pen {
        color: INK,
        width: 1.1,
        dash: "",
    };
    /// A drawn line: dots.
    pub(crate) const DRAWN: Pen = Pen {
        color: INK,
        width: 1.1,
        dash: "0.1 2.6",
    };
    /// Where the ruler trims: dash and dot.
    pub(crate) const TRIM: Pen = Pen {
        color: INK,
        width: 1.0,
        dash: "8 2.4 0.1 2.4",
    };
    /// A seam already pressed.
    pub(crate) const SEAM: Pen = Pen {
        color: INK,
        width: 0.5,
        dash: "",
    };
    /// An edge that lies hidden, and the hatching of waste.
    pub(crate) const HIDDEN: Pen = Pen {
        color: SOFT,
        width: 0.5,
        dash: "",
    };
    /// Dimension lines.
    pub(crate) const MEASURE: Pen = Pen {
        color: SOFT,
        width: 0.6,
        dash: "",
    };
    /// A patch's edge in the whole quilt.
    pub(crate) const HAIR: Pen = Pen {
        color: INK,
        width: 0.3,
        dash: "",
    };
    /// A white rim about something dark.
    pub(crate) const PLATE: Pen = Pen {
        color: "#FFFFFF",
        width: 0.8,
        dash: "",
    };
    /// A patch's edge where the patch is not meant.
    pub(crate) const GHOST: Pen = Pen {
        color: "#D9D3C6",
        width: 0.25,
        dash: "",
    };
    /// A circle about an overhang.
    pub(crate) const RING: Pen = Pen {
        color: THREAD,
        width: 1.1,
        dash: "",
    };

    fn attributes(self) -> String {
        let mut text = format!(r#" stroke="{}" stroke-width="{}""#, self.color, self.width);
        if !self.dash.is_empty() {
            let _ = write!(text, r#" stroke-dasharray="{}""#, self.dash);
            if self.dash.starts_with("0.1") || self.dash.contains(" 0.1 ") {
                text.push_str(r#" stroke-linecap="round""#);
            }
        }
        text
    }
}

/// Which end of a label stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    Middle,
    End,
}

/// How a label is lettered.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lettering<'a> {
    pub size: f64,
    pub color: &'a str,
    pub bold: bool,
    pub anchor: Anchor,
    /// Upside down, as the piece lies.
    pub turned: bool,
}

impl Lettering<'static> {
    /// A measure on the picture.
    pub(crate) const MEASURE: Lettering<'static> = Lettering {
        size: 9.5,
        color: INK,
        bold: true,
        anchor: Anchor::Middle,
        turned: false,
    };
    /// Words within the picture.
    pub(crate) const WORDS: Lettering<'static> = Lettering {
        size: 8.5,
        color: SOFT,
        bold: false,
        anchor: Anchor::Middle,
        turned: false,
    };
}

/// The sheet.
#[derive(Clone, Debug)]
pub(crate) struct Canvas {
    width: f64,
    height: f64,
    /// All lettering so many times larger (large print).
    letters: f64,
    /// With how many decimals places of outlines and lines are written.
    decimals: u32,
    body: String,
}

impl Canvas {
    pub(crate) fn lettered(width: f64, height: f64, letters: f64) -> Self {
        Canvas {
            letters,
            ..Canvas::new(width, height)
        }
    }

    /// A sheet whose outlines and lines are cut round: their places are written as finely as the page can say them.
    pub(crate) fn true_scale(width: f64, height: f64) -> Self {
        Canvas {
            decimals: 5,
            ..Canvas::new(width, height)
        }
    }

    pub(crate) fn new(width: f64, height: f64) -> Self {
        Canvas {
            width,
            height,
            letters: 1.0,
            decimals: 2,
            body: String::new(),
        }
    }

    /// A closed outline; `fill` is a colour or `none`.
    pub(crate) fn outline(&mut self, corners: &[(f64, f64)], fill: &str, pen: Option<Pen>) {
        self.outlines(std::slice::from_ref(&corners), fill, pen);
    }

    /// Several closed outlines alike, as one path: a screen draws one path of a thousand patches far faster than a
    /// thousand paths. None may lie on another's edge, since all fills come before all edges.
    pub(crate) fn outlines<C: AsRef<[(f64, f64)]>>(&mut self, all: &[C], fill: &str, pen: Option<Pen>) {
        if all.is_empty() {
            return;
        }
        self.body.push_str("<path d=\"");
        for corners in all {
            for (i, &place) in corners.as_ref().iter().enumerate() {
                self.place(if i == 0 { 'M' } else { 'L' }, place);
            }
            self.body.push('Z');
        }
        let stroke = pen.map_or(String::new(), Pen::attributes);
        let _ = write!(self.body, r#"" fill="{fill}"{stroke} stroke-linejoin="round"/>"#);
    }

    fn place(&mut self, how: char, (x, y): (f64, f64)) {
        self.body.push(how);
        put(&mut self.body, x, self.decimals);
        self.body.push(' ');
        put(&mut self.body, y, self.decimals);
    }

    pub(crate) fn line(&mut self, from: (f64, f64), to: (f64, f64), pen: Pen) {
        self.body.push_str("<path d=\"");
        self.place('M', from);
        self.place('L', to);
        let _ = write!(self.body, r#"" fill="none"{}/>"#, pen.attributes());
    }

    pub(crate) fn circle(&mut self, centre: (f64, f64), radius: f64, fill: &str, pen: Option<Pen>) {
        let stroke = pen.map_or(String::new(), Pen::attributes);
        let _ = write!(
            self.body,
            r#"<circle cx="{}" cy="{}" r="{}" fill="{fill}"{stroke}/>"#,
            n(centre.0),
            n(centre.1),
            n(radius)
        );
    }

    /// Words with their baseline at a place; turned ones stand upside down about it.
    pub(crate) fn label(&mut self, at: (f64, f64), words: &str, how: Lettering) {
        let anchor = match how.anchor {
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let weight = if how.bold { r#" font-weight="600""# } else { "" };
        let turn = if how.turned {
            format!(r#" transform="rotate(180 {} {})""#, n(at.0), n(at.1))
        } else {
            String::new()
        };
        let _ = write!(
            self.body,
            r#"<text x="{}" y="{}" font-family="{FACE}" font-size="{}" text-anchor="{anchor}" fill="{}"{weight}{turn}>{}</text>"#,
            n(at.0),
            n(at.1),
            n(how.size * self.letters),
            how.color,
            xml(words)
        );
    }

    /// Words whose middle stands at a place.
    pub(crate) fn centred(&mut self, at: (f64, f64), words: &str, how: Lettering) {
        let drop = how.size * self.letters * if how.turned { -0.32 } else { 0.32 };
        self.label(
            (at.0, at.1 + drop),
            words,
            Lettering {
                anchor: Anchor::Middle,
                ..how
            },
        );
    }

    /// A dimension line below something, its words in a gap of the line, or below the line where there is no room.
    pub(crate) fn span(&mut self, from: f64, to: f64, y: f64, words: &str) {
        let middle = (from + to) / 2.0;
        let half = lettering_width(words, 9.5 * self.letters) / 2.0 + 4.0;
        for x in [from, to] {
            self.line((x, y - 3.0), (x, y + 3.0), Pen::MEASURE);
        }
        if Self::span_is_narrow(to - from, words, self.letters) {
            self.line((from, y), (to, y), Pen::MEASURE);
            self.centred((middle, y + 6.0 + 5.0 * self.letters), words, Lettering::MEASURE);
        } else {
            self.line((from, y), (middle - half, y), Pen::MEASURE);
            self.line((middle + half, y), (to, y), Pen::MEASURE);
            self.centred((middle, y), words, Lettering::MEASURE);
        }
    }

    /// Whether a level dimension line has no room for its words.
    pub(crate) fn span_is_narrow(length: f64, words: &str, letters: f64) -> bool {
        length < lettering_width(words, 9.5 * letters) + 14.0
    }

    /// The same standing upright at the left of something; its words left of the line where there is no room.
    pub(crate) fn upright_span(&mut self, top: f64, bottom: f64, x: f64, words: &str) {
        let middle = (top + bottom) / 2.0;
        let half = 8.0 * self.letters;
        for y in [top, bottom] {
            self.line((x - 3.0, y), (x + 3.0, y), Pen::MEASURE);
        }
        if bottom - top < 2.0 * half + 6.0 {
            self.line((x, top), (x, bottom), Pen::MEASURE);
            let how = Lettering {
                anchor: Anchor::End,
                ..Lettering::MEASURE
            };
            self.label((x - 5.0, middle + 3.0 * self.letters), words, how);
        } else {
            self.line((x, top), (x, middle - half), Pen::MEASURE);
            self.line((x, middle + half), (x, bottom), Pen::MEASURE);
            self.centred((x, middle), words, Lettering::MEASURE);
        }
    }

    /// An outlined arrow: from a seam in the direction the allowances lie.
    pub(crate) fn arrow(&mut self, from: (f64, f64), toward: Vector, length: f64) {
        let Some(u) = toward.unit() else { return };
        let side = u.left();
        let at = |along: f64, across: f64| {
            (
                from.0 + u.x * along + side.x * across,
                from.1 + u.y * along + side.y * across,
            )
        };
        let (neck, w) = (length * 0.55, length * 0.14);
        let corners = [
            at(0.0, -w),
            at(neck, -w),
            at(neck, -w * 2.6),
            at(length, 0.0),
            at(neck, w * 2.6),
            at(neck, w),
            at(0.0, w),
        ];
        self.outline(&corners, "#FFFFFF", Some(Pen { width: 0.9, ..Pen::CUT }));
    }

    /// Fine lines at 45 degrees within an outline, drawn one by one: patterns look different in every viewer. They
    /// lie on one grid all over the sheet, so that neighbouring pieces agree.
    pub(crate) fn hatch(&mut self, corners: &[(f64, f64)], spacing: f64, color: &str, width: f64) {
        let mut d = String::new();
        Self::hatching(&mut d, corners, spacing);
        self.strokes(&d, color, width);
    }

    /// The lines of [`Canvas::hatch`] as path data, for many outlines at once.
    pub(crate) fn hatching(d: &mut String, corners: &[(f64, f64)], spacing: f64) {
        let sums: Vec<f64> = corners.iter().map(|c| c.0 + c.1).collect();
        let low = sums.iter().copied().fold(f64::INFINITY, f64::min);
        let high = sums.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let step = spacing * std::f64::consts::SQRT_2;
        if !(low.is_finite() && high.is_finite() && (high - low) / step < 1.0e5) {
            return;
        }
        let mut line = (low / step).ceil();
        while line * step < high {
            let k = line * step;
            let mut crossings: Vec<(f64, f64)> = Vec::new();
            for (i, &(x, y)) in corners.iter().enumerate() {
                let next = corners[(i + 1) % corners.len()];
                let (a, b) = (x + y - k, next.0 + next.1 - k);
                if (a < 0.0) != (b < 0.0) {
                    let share = a / (a - b);
                    crossings.push((x + (next.0 - x) * share, y + (next.1 - y) * share));
                }
            }
            crossings.sort_by(|p, q| p.0.total_cmp(&q.0));
            for pair in crossings.chunks_exact(2) {
                for (how, (x, y)) in [('M', pair[0]), ('L', pair[1])] {
                    d.push(how);
                    put(d, x, 1);
                    d.push(' ');
                    put(d, y, 1);
                }
            }
            line += 1.0;
        }
    }

    /// Many short strokes as one path.
    pub(crate) fn strokes(&mut self, d: &str, color: &str, width: f64) {
        if !d.is_empty() {
            let _ = write!(
                self.body,
                r#"<path d="{d}" fill="none" stroke="{color}" stroke-width="{}" stroke-linecap="round"/>"#,
                n(width)
            );
        }
    }

    /// The grain: a thin line with a head at both ends along the cloth's length.
    pub(crate) fn grain(&mut self, centre: (f64, f64), along: Vector, length: f64, color: &str) {
        let Some(u) = along.unit() else { return };
        let side = u.left();
        let at = |reach: f64, across: f64| {
            (
                centre.0 + u.x * reach + side.x * across,
                centre.1 + u.y * reach + side.y * across,
            )
        };
        let half = length / 2.0;
        let mut d = String::new();
        for (from, by, to) in [
            (at(-half + 2.6, 1.6), at(-half, 0.0), at(-half + 2.6, -1.6)),
            (at(half - 2.6, 1.6), at(half, 0.0), at(half - 2.6, -1.6)),
        ] {
            let _ = write!(
                d,
                "M{} {}L{} {}L{} {}",
                n1(from.0),
                n1(from.1),
                n1(by.0),
                n1(by.1),
                n1(to.0),
                n1(to.1)
            );
        }
        let (a, b) = (at(-half, 0.0), at(half, 0.0));
        let _ = write!(d, "M{} {}L{} {}", n1(a.0), n1(a.1), n1(b.0), n1(b.1));
        self.strokes(&d, color, 0.6);
    }

    /// Hatching for what is thrown away.
    pub(crate) fn waste(&mut self, corners: &[(f64, f64)], pen: Option<Pen>) {
        self.outline(corners, "#FFFFFF", None);
        self.hatch(corners, 5.0, SOFT, 0.35);
        if pen.is_some() {
            self.outline(corners, "none", pen);
        }
    }

    /// The finished drawing.
    pub(crate) fn finish(self, alt: impl Into<String>) -> Picture {
        let alt = alt.into();
        // What its caption says already is not said twice.
        let told = match alt.as_str() {
            "" => "aria-hidden=\"true\"".to_string(),
            alt => format!("role=\"img\" aria-label=\"{}\"", xml(alt)),
        };
        let mut svg = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}pt" height="{h}pt" viewBox="0 0 {w} {h}" {told}>"#,
            w = n(self.width),
            h = n(self.height)
        );
        svg.push_str(&self.body);
        svg.push_str("</svg>");
        Picture {
            svg,
            width: self.width,
            height: self.height,
            alt,
            caption: None,
        }
    }
}

/// From the engine's frame (inches, y up) to the sheet (points, y down).
#[derive(Clone, Copy, Debug)]
pub(crate) struct View {
    /// Turned by this first.
    pub turn: Motion,
    /// Points per inch.
    pub scale: f64,
    /// The place of the turned frame that lies at `origin`.
    pub low: Point,
    /// Its place on the sheet.
    pub origin: (f64, f64),
}

impl View {
    pub(crate) fn at(&self, p: Point) -> (f64, f64) {
        let q = self.turn.point(p);
        (
            self.origin.0 + (q.x - self.low.x) * self.scale,
            self.origin.1 - (q.y - self.low.y) * self.scale,
        )
    }

    pub(crate) fn all(&self, outline: &shape::Polygon) -> Vec<(f64, f64)> {
        outline.corners().iter().map(|&c| self.at(c)).collect()
    }

    /// A direction on the sheet.
    pub(crate) fn direction(&self, v: Vector) -> Vector {
        let t = self.turn.vector(v);
        Vector::new(t.x, -t.y)
    }
}

/// Roughly how wide words are set, points.
pub(crate) fn lettering_width(words: &str, size: f64) -> f64 {
    words
        .chars()
        .map(|c| {
            if c.is_whitespace() || c == crate::numbers::THIN || ".,:;'il|".contains(c) {
                0.27
            } else {
                0.53
            }
        })
        .sum::<f64>()
        * size
}

/// A number with at most two decimals, never `-0`.
pub(crate) fn n(value: f64) -> String {
    with(value, 2)
}

/// The same with one decimal, for lines that need no more.
pub(crate) fn n1(value: f64) -> String {
    with(value, 1)
}

fn with(value: f64, decimals: u32) -> String {
    let mut text = String::new();
    put(&mut text, value, decimals);
    text
}

/// Writes a number with at most so many decimals (of a point, five are 1/7 200 000 in), never `-0`. Drawings are numbers
/// all through, so they are written digit by digit rather than by the general formatter, which takes far longer.
pub(crate) fn put(out: &mut String, value: f64, decimals: u32) {
    let scale = 10_i64.pow(decimals);
    let scaled = (value * scale as f64).round_ties_even();
    // Beyond this a double holds no more decimals; nothing drawn is nearly as large.
    if scaled.is_nan() || scaled.abs() >= 1.0e15 {
        let _ = write!(out, "{value}");
        return;
    }
    let scaled = scaled as i64;
    if scaled < 0 {
        out.push('-');
    }
    let (whole, mut rest) = (scaled.abs() / scale, scaled.abs() % scale);
    digits(out, whole, 1);
    if rest > 0 {
        let mut places = decimals as usize;
        while rest % 10 == 0 {
            rest /= 10;
            places -= 1;
        }
        out.push('.');
        digits(out, rest, places);
    }
}

/// The digits of a number that is not negative, with noughts before it up to so many.
fn digits(out: &mut String, mut number: i64, places: usize) {
    let mut found = [b'0'; 20];
    let mut at = found.len();
    while number > 0 || found.len() - at < places {
        at -= 1;
        found[at] = b'0' + (number % 10) as u8;
        number /= 10;
    }
    out.extend(found[at..].iter().map(|&digit| char::from(digit)));
}

/// Text inside XML: no character of it is ever markup, and characters XML does not know are left out.
pub(crate) fn xml(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\t' | '\r' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{FFFE}' | '\u{FFFF}') => {}
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short() {
        assert_eq!(n(-0.001), "0");
        assert_eq!(n(12.50), "12.5");
        assert_eq!(n(100.0), "100");
        assert_eq!(with(-0.000_001, 5), "0");
        assert_eq!(with(12.345_678, 5), "12.34568");
        assert_eq!(n(-3.07), "-3.07");
        assert_eq!(n1(0.04), "0");
        assert_eq!(n(1.0e16), "10000000000000000");
    }

    #[test]
    fn numbers_are_those_of_the_general_formatter() {
        // Rust's own formatting, which rounds the exact value, trimmed; a fixed sequence of numbers of all signs and sizes
        let mut seed = 1_u64;
        for _ in 0..20_000 {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            let value = ((seed >> 20) as f64 / (1_u64 << 43) as f64 - 1.0) * 2000.0;
            for decimals in [1, 2, 5] {
                let text = format!("{value:.*}", decimals as usize);
                let text = text.trim_end_matches('0').trim_end_matches('.');
                let text = if text == "-0" { "0" } else { text };
                assert_eq!(with(value, decimals), text, "{value}");
            }
        }
    }

    #[test]
    fn no_text_is_markup() {
        assert_eq!(xml("<script>&\"'\u{1}x"), "&lt;script&gt;&amp;&quot;&#39;x");
    }
}
