//! Cloth on the screen: a block or a top as SVG, swatches to dress in, and mends that are one press.

use crate::drawing::Side;
use crate::file::{Step, Wish, granted};
use design::{Block, Design};
use kurbo::Point;
use maud::{Markup, html};
use serde_json::json;
use std::fmt::Write;
use terms::{FabricId, Face, Finding, Place, TopPicture};

/// A role's colour; grey for one that is no cloth of the file.
pub(super) fn color(design: &Design, role: &str) -> String {
    design
        .fabrics
        .iter()
        .find(|f| f.name.as_str() == role)
        .map_or("#bbbbbb".into(), |f| f.color.hex())
}

/// A role as makers call it.
pub(super) fn label(design: &Design, role: &str) -> String {
    design
        .fabrics
        .iter()
        .find(|f| f.name.as_str() == role)
        .map_or(role.to_string(), |f| f.label.clone())
}

/// Path data of sides in inches, y down.
pub(super) fn sides_path(sides: &[Side]) -> String {
    let mut path = String::new();
    let put = |p: Point| format!("{:.4} {:.4}", p.x, p.y);
    for (i, side) in sides.iter().enumerate() {
        if i == 0 {
            let _ = write!(path, "M{}", put(side.from()));
        }
        match side {
            Side::Straight { to, .. } => {
                let _ = write!(path, "L{}", put(*to));
            }
            Side::Bow {
                from,
                to,
                centre,
                sweep,
            } => {
                let r = (*from - *centre).hypot();
                let (large, flag) = (u8::from(sweep.abs() > std::f64::consts::PI), u8::from(*sweep > 0.0));
                let _ = write!(path, "A{r:.4} {r:.4} 0 {large} {flag} {}", put(*to));
            }
            Side::Curve(c) => {
                let _ = write!(path, "C{} {} {}", put(c.p1), put(c.p2), put(c.p3));
            }
        }
    }
    path + "Z"
}

/// What shape a patch has, for those who cannot see it.
pub(super) fn shape_word(sides: &[Side]) -> &'static str {
    if sides.iter().any(|side| !side.is_straight()) {
        return "curved patch";
    }
    match sides.len() {
        3 => "triangle",
        4 => "four-sided patch",
        5 => "five-sided patch",
        6 => "six-sided patch",
        _ => "patch",
    }
}

/// The faces of a block of the design, placed blocks included, as SVG shapes in inches from its top left, y down.
pub(super) fn block_faces(design: &Design, block: &Block, depth: u8) -> String {
    let mut out = String::new();
    faces(
        design,
        block,
        depth,
        &mut out,
        &|p| (p.x, block.size.1 - p.y),
        &|role| role.clone(),
    );
    out
}

fn faces(
    design: &Design,
    block: &Block,
    depth: u8,
    out: &mut String,
    to: &dyn Fn(shape::Point) -> (f64, f64),
    role: &dyn Fn(&FabricId) -> FabricId,
) {
    for patch in &block.patches {
        let points: Vec<String> = patch
            .outline
            .corners()
            .iter()
            .map(|c| {
                let (x, y) = to(*c);
                format!("{x:.3},{y:.3}")
            })
            .collect();
        let fill = color(design, role(&patch.fabric).as_str());
        let _ = write!(out, "<polygon points=\"{}\" fill=\"{fill}\"/>", points.join(" "));
    }
    if depth == 0 {
        return;
    }
    for placed in &block.place {
        let Some(inner) = design
            .block(&placed.block)
            .cloned()
            .or_else(|| of_collection(&placed.block))
        else {
            continue;
        };
        let (sx, sy) = (placed.size.0 / inner.size.0, placed.size.1 / inner.size.1);
        let angle = -placed.turn.to_radians();
        let (sin, cos) = exact(angle, placed.turn);
        let carry = |p: shape::Point| {
            let (mut x, y) = ((p.x - inner.size.0 / 2.0) * sx, (p.y - inner.size.1 / 2.0) * sy);
            if placed.flip {
                x = -x;
            }
            to(shape::Point {
                x: placed.centre.x + x * cos - y * sin,
                y: placed.centre.y + x * sin + y * cos,
            })
        };
        let recolored = |id: &FabricId| role(placed.recolor.get(id).unwrap_or(id));
        faces(design, &inner, depth - 1, out, &carry, &recolored);
    }
}

/// Sine and cosine, exact at quarter turns.
fn exact(angle: f64, degrees: f64) -> (f64, f64) {
    match degrees.rem_euclid(360.0) {
        0.0 => (0.0, 1.0),
        90.0 => (-1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (1.0, 0.0),
        _ => (libm::sin(angle), libm::cos(angle)),
    }
}

/// A block of the built-in collection.
fn of_collection(name: &str) -> Option<Block> {
    let name = name.strip_prefix("std/")?;
    let file = design::collection_file(name)?;
    let design = design::read_design(file).ok()?;
    design.first_block().cloned()
}

/// A small picture of a block.
pub(super) fn thumbnail(design: &Design, block: &Block) -> Markup {
    let (w, h) = block.size;
    html! {
        svg.thumbnail viewBox=(format!("0 0 {w} {h}")) aria-hidden="true" {
            g id=[face_of(design, block)] { (maud::PreEscaped(block_faces(design, block, 8))) }
        }
    }
}

/// What the small picture of a block of the file is called on its page, where others show it again.
pub(super) fn face_of(design: &Design, block: &Block) -> Option<String> {
    let number = design.blocks.iter().position(|b| b.name == block.name)?;
    Some(format!("face-{number}"))
}

/// The top as shapes, y down, in inches. What is pieced of one cloth is one path, since a screen draws it far faster than
/// thousands of shapes; what is laid on it follows in its own order.
pub(super) fn top_faces(design: &Design, picture: &TopPicture) -> String {
    let height = picture.outer.bounds().1.y;
    let mut pieced: Vec<(&FabricId, String)> = Vec::new();
    for face in &picture.faces {
        let at = match pieced.iter().position(|(fabric, _)| *fabric == &face.fabric) {
            Some(at) => at,
            None => {
                pieced.push((&face.fabric, String::new()));
                pieced.len() - 1
            }
        };
        outline(&mut pieced[at].1, face, height);
    }
    for face in &picture.laid {
        let mut path = String::new();
        outline(&mut path, face, height);
        pieced.push((&face.fabric, path));
    }
    let mut out = String::new();
    for (fabric, path) in &pieced {
        let fill = color(design, fabric.as_str());
        let _ = write!(out, "<path d=\"{path}\" fill=\"{fill}\"/>");
    }
    out
}

fn outline(path: &mut String, face: &Face, height: f64) {
    for (i, corner) in face.outline.corners().iter().enumerate() {
        let letter = if i == 0 { 'M' } else { 'L' };
        // Thousandths of an inch, without idle noughts.
        let thousandth = |v: f64| (v * 1000.0).round() / 1000.0 + 0.0;
        let _ = write!(
            path,
            "{letter}{} {}",
            thousandth(corner.x),
            thousandth(height - corner.y)
        );
    }
    path.push('Z');
}

/// Swatches to dress in.
pub(super) fn swatches(design: &Design, chosen: &str) -> Markup {
    html! {
        div.swatches role="radiogroup" aria-label="Fabric" {
            @for fabric in &design.fabrics {
                @let name = fabric.name.as_str();
                button type="button" role="radio" aria-checked=(if name == chosen { "true" } else { "false" })
                    tabindex=(if name == chosen { "0" } else { "-1" }) data-fabric=(name) {
                    svg.chip viewBox="0 0 10 10" aria-hidden="true" { rect width="10" height="10" fill=(fabric.color.hex()) {} }
                    (fabric.label)
                }
            }
        }
    }
}

/// A mend that is one press: the word on its button and the wish it makes. It is offered only when it helps.
pub(super) fn mend(text: &str, design: &Design, finding: &Finding) -> Option<(String, String)> {
    match (finding.code, &finding.place) {
        ("off-marks", Place::Block { name, .. }) => friendly_size(text, design, name),
        _ => None,
    }
}

/// The size nearest to a block's own whose grid comes out on the ruler's marks.
fn friendly_size(text: &str, design: &Design, name: &str) -> Option<(String, String)> {
    let index = design.blocks.iter().position(|b| b.name == name)?;
    let block = &design.blocks[index];
    let step = design.quilt.ruler;
    let whole = |size: f64, grid: f64| ((size / grid / step).round() * step).max(step) * grid;
    let size = (whole(block.size.0, block.grid.0), whole(block.size.1, block.grid.1));
    let (unit, per) = unit(design);
    let told = |v: f64| format!("{} {unit}", number(v * per));
    let wish = Wish::Set {
        at: vec![Step::Key("block".into()), Step::Index(index), Step::Key("size".into())],
        to: json!([told(size.0), told(size.1)]),
    };
    let (mended, _) = granted(text, design, &wish).ok()?;
    let mended = design::read_design(&mended).ok()?;
    if mended.off_marks().cuts >= design.off_marks().cuts {
        return None;
    }
    let words = format!("Make it {} × {}", told(size.0), told(size.1));
    Some((words, serde_json::to_string(&wish).ok()?))
}

/// The unit that the design is measured in, and how many of it make an inch.
pub(super) fn unit(design: &Design) -> (&'static str, f64) {
    match design.quilt.measure {
        measure::Measure::Inch => ("in", 1.0),
        measure::Measure::Metric => ("cm", 2.54),
    }
}

/// Inches as the design is measured, without the unit, to a hundredth.
pub(super) fn told(design: &Design, inches: f64) -> String {
    number((inches * unit(design).1 * 100.0).round() / 100.0)
}

/// A number without idle noughts.
pub(super) fn number(v: f64) -> String {
    let text = format!("{v:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}
