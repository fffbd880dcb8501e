//! SVG as closed, filled outlines. What is no outline with a plain colour is counted and told. Nothing outside the drawing is read:
//! no picture, no font, no address.

use super::Said;
use super::outline::{Outline, Side};
use kurbo::{Point, QuadBez};
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Node, ParsingOptions};
use usvg::tiny_skia_path::PathSegment;

/// Most bytes of a drawing.
pub const MOST_BYTES: usize = 4 * 1024 * 1024;

/// Most elements of a drawing, those counted again that are used again.
const MOST_ELEMENTS: u64 = 50_000;

/// Most outlines that become patches: as many as a block is drawn with by hand.
const MOST_OUTLINES: usize = crate::drawing::MOST_PATCHES;

/// Deepest nesting that is read.
const DEEPEST: usize = 100;

/// A filled shape.
#[derive(Clone, Debug)]
pub(super) struct Shape {
    /// Its colour.
    pub(super) fill: [u8; 3],
    /// Its outlines; more than one where it has holes or parts.
    pub(super) loops: Vec<Outline>,
    /// Whether overlapping parts of it count as holes.
    pub(super) even_odd: bool,
}

/// What was read.
#[derive(Clone, Debug)]
pub(super) struct Read {
    /// The drawing's page, its own units.
    pub(super) page: (f64, f64),
    /// Its shapes, the later above the earlier.
    pub(super) shapes: Vec<Shape>,
    /// What was left out.
    pub(super) said: Vec<Said>,
}

/// Reads a drawing.
///
/// # Errors
/// What prevents it.
pub(super) fn read(text: &str) -> Result<Read, Said> {
    if text.len() > MOST_BYTES {
        return Err(Said::stop(
            "drawing-too-large",
            "The drawing is larger than 4 million bytes.",
            "Save it without pictures in it, or only the block.",
        ));
    }
    let options = ParsingOptions {
        allow_dtd: true,
        nodes_limit: 400_000,
        ..ParsingOptions::default()
    };
    let unread = |why: String| {
        Said::stop(
            "not-svg",
            format!("This cannot be read as SVG: {why}."),
            "Save or copy the drawing as plain SVG.",
        )
    };
    let document = Document::parse_with_options(text, options).map_err(|error| unread(error.to_string()))?;
    let many = || {
        Said::stop(
            "drawing-too-large",
            "The drawing has more elements than a block could have patches.",
            "Save only the block.",
        )
    };
    if elements(&document).is_none_or(|count| count > MOST_ELEMENTS) {
        return Err(many());
    }
    // No picture is taken in, neither from the drawing nor from elsewhere.
    let settings = usvg::Options {
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..usvg::Options::default()
    };
    let tree = usvg::Tree::from_xmltree(&document, &settings).map_err(|error| unread(error.to_string()))?;
    let mut found = Found::default();
    found.group(tree.root(), 0);
    let named = |name: &str| document.descendants().filter(|n| n.tag_name().name() == name).count();
    found.texts = named("text");
    found.pictures = named("image");
    if found.outlines > MOST_OUTLINES {
        return Err(many());
    }
    if found.shapes.is_empty() {
        return Err(Said::stop(
            "nothing-filled",
            "The drawing has no closed outline that is filled with a plain colour.",
            "Give each patch a closed outline and a plain fill; lines alone are no patches.",
        ));
    }
    let said = found.said();
    Ok(Read {
        page: (f64::from(tree.size().width()), f64::from(tree.size().height())),
        shapes: found.shapes,
        said,
    })
}

/// How many elements the drawing has when everything used again is counted again; `None` for what uses itself or is nested too
/// deeply.
fn elements(document: &Document) -> Option<u64> {
    let mut ids: BTreeMap<&str, Node> = BTreeMap::new();
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            ids.entry(id).or_insert(node);
        }
    }
    let mut known: BTreeMap<usize, u64> = BTreeMap::new();
    count(document.root_element(), &ids, &mut known, 0)
}

fn count(node: Node, ids: &BTreeMap<&str, Node>, known: &mut BTreeMap<usize, u64>, depth: usize) -> Option<u64> {
    if depth > DEEPEST {
        return None;
    }
    if let Some(known) = known.get(&node.id().get_usize()) {
        return Some(*known);
    }
    let mut all = 1u64;
    for child in node.children().filter(Node::is_element) {
        all = all.saturating_add(count(child, ids, known, depth + 1)?);
    }
    let address = node
        .attribute("href")
        .or_else(|| node.attribute(("http://www.w3.org/1999/xlink", "href")));
    if node.tag_name().name() == "use"
        && let Some(used) = address.and_then(|a| a.strip_prefix('#')).and_then(|id| ids.get(id))
    {
        all = all.saturating_add(count(*used, ids, known, depth + 1)?);
    }
    known.insert(node.id().get_usize(), all);
    Some(all)
}

/// What the tree holds.
#[derive(Default)]
struct Found {
    shapes: Vec<Shape>,
    outlines: usize,
    texts: usize,
    pictures: usize,
    lines: usize,
    not_plain: usize,
    see_through: usize,
    clipped: usize,
}

impl Found {
    fn group(&mut self, group: &usvg::Group, depth: usize) {
        if depth > 2 * DEEPEST {
            return;
        }
        if group.clip_path().is_some() || group.mask().is_some() || !group.filters().is_empty() {
            self.clipped += 1;
        }
        if group.opacity().get() < 0.999 {
            self.see_through += 1;
        }
        for node in group.children() {
            match node {
                usvg::Node::Group(inner) => self.group(inner, depth + 1),
                usvg::Node::Path(path) => self.path(path),
                usvg::Node::Image(_) | usvg::Node::Text(_) => {}
            }
        }
    }

    fn path(&mut self, path: &usvg::Path) {
        if !path.is_visible() {
            return;
        }
        let Some(fill) = path.fill() else {
            self.lines += 1;
            return;
        };
        let usvg::Paint::Color(color) = fill.paint() else {
            self.not_plain += 1;
            return;
        };
        if fill.opacity().get() < 0.999 {
            self.see_through += 1;
        }
        let t = path.abs_transform();
        let at = |p: usvg::tiny_skia_path::Point| {
            let (x, y) = (f64::from(p.x), f64::from(p.y));
            Point::new(
                f64::from(t.sx) * x + f64::from(t.kx) * y + f64::from(t.tx),
                f64::from(t.ky) * x + f64::from(t.sy) * y + f64::from(t.ty),
            )
        };
        let mut loops: Vec<Outline> = Vec::new();
        let mut sides: Vec<Side> = Vec::new();
        let (mut begun, mut last) = (Point::ZERO, Point::ZERO);
        let mut close = |sides: &mut Vec<Side>, begun: Point, last: Point| {
            if last != begun {
                sides.push(Side::Line(last, begun));
            }
            let outline = Outline::new(std::mem::take(sides), 1e-6);
            if outline.sides.len() >= 2 && outline.area() > 0.0 {
                loops.push(outline);
            }
        };
        for segment in path.data().segments() {
            match segment {
                PathSegment::MoveTo(p) => {
                    close(&mut sides, begun, last);
                    begun = at(p);
                    last = begun;
                }
                PathSegment::LineTo(p) => {
                    sides.push(Side::Line(last, at(p)));
                    last = at(p);
                }
                PathSegment::QuadTo(a, p) => {
                    let c = QuadBez::new(last, at(a), at(p)).raise();
                    sides.push(Side::Curve(c));
                    last = at(p);
                }
                PathSegment::CubicTo(a, b, p) => {
                    sides.push(Side::Curve(kurbo::CubicBez::new(last, at(a), at(b), at(p))));
                    last = at(p);
                }
                PathSegment::Close => {
                    close(&mut sides, begun, last);
                    last = begun;
                }
            }
        }
        close(&mut sides, begun, last);
        let finite = loops.iter().flat_map(Outline::corners).all(|p| p.is_finite());
        if loops.is_empty() || !finite {
            self.lines += 1;
            return;
        }
        self.outlines += loops.len();
        self.shapes.push(Shape {
            fill: [color.red, color.green, color.blue],
            loops,
            even_odd: fill.rule() == usvg::FillRule::EvenOdd,
        });
    }

    fn said(&self) -> Vec<Said> {
        let counted = |n: usize, one: &str, many: &str| {
            if n == 1 {
                format!("One {one}")
            } else {
                format!("{n} {many}")
            }
        };
        let mut said = Vec::new();
        let mut note = |n: usize, code: &str, one: &str, many: &str, rest: &str| {
            if n > 0 {
                said.push(Said::note(code, format!("{} {rest}.", counted(n, one, many))));
            }
        };
        note(
            self.lines,
            "lines-left-out",
            "line or open outline",
            "lines and open outlines",
            "without a fill left out: only what is filled is a patch",
        );
        note(
            self.not_plain,
            "not-plain-left-out",
            "outline",
            "outlines",
            "filled with a gradient or pattern left out: a patch has one plain colour",
        );
        note(self.texts, "text-left-out", "text", "texts", "left out");
        note(
            self.pictures,
            "pictures-left-out",
            "picture",
            "pictures",
            "left out; a picture can be laid beneath a block and traced",
        );
        note(
            self.see_through,
            "see-through",
            "part",
            "parts",
            "drawn half through; taken at full colour",
        );
        note(
            self.clipped,
            "clipped",
            "group",
            "groups",
            "with a clip, mask or filter; taken as if it had none",
        );
        said
    }
}
