//! The design file of a drawing, and what its own checks say of it.

use super::Said;
use super::cover::{self, Piece};
use super::grid;
use super::read::read;
use crate::file::is_name;
use crate::pictures::colour_words;
use kurbo::Point;
use serde::{Deserialize, Serialize};
use std::fmt::Write;
use terms::{Finding, Place, Severity};

/// Decimal places of a coordinate in grid units, as everywhere in the workshop.
const PLACES: usize = 6;

/// The colour of ground until it is dressed otherwise.
const GROUND: &str = "#f3eee2";

/// What is asked of a drawing.
#[derive(Clone, Debug, Deserialize)]
pub struct Wanted {
    /// The drawing, SVG.
    pub svg: String,
    /// The quilt's name.
    #[serde(default)]
    pub name: String,
    /// The block's width, inches or centimetres.
    pub width: f64,
    /// Its height; in proportion when not said.
    #[serde(default)]
    pub height: Option<f64>,
    /// Grid across; found when not said.
    #[serde(default)]
    pub across: Option<f64>,
    /// Grid down; as across when not said.
    #[serde(default)]
    pub down: Option<f64>,
    /// The block is the drawing's whole page, not what is drawn on it.
    #[serde(default)]
    pub page: bool,
    /// What is drawn later lies on top and cuts away what is beneath.
    #[serde(default)]
    pub on_top: bool,
    /// What is open is filled with a ground cloth.
    #[serde(default)]
    pub ground: bool,
    /// Centimetres.
    #[serde(default)]
    pub metric: bool,
}

/// What became of a drawing.
#[derive(Clone, Debug, Serialize)]
pub struct Brought {
    /// Whether it can be a quilt.
    pub good: bool,
    /// The design file.
    pub text: String,
    /// What there is to say.
    pub said: Vec<Said>,
    /// The block as it would be, SVG; what is open or doubtful is marked.
    pub picture: String,
    /// How many patches and cloths.
    pub patches: usize,
    /// Cloths: labels and colours.
    pub cloths: Vec<(String, String)>,
    /// The block's size and grid in words.
    pub words: String,
}

/// Brings a drawing in.
///
/// # Errors
/// When nothing can be made of it at all.
pub fn bring(wanted: &Wanted) -> Result<Brought, Said> {
    let per = if wanted.metric { 2.54 } else { 1.0 };
    let measure = |v: f64, what: &str| {
        let inches = v / per;
        if (0.25..=200.0).contains(&inches) {
            return Ok(inches);
        }
        let words = format!("The block's {what} is no {what} of a block.");
        Err(Said::stop(
            "no-size",
            words,
            "Name one between 1/4 in and 200 in (0.6 cm and 5 m).",
        ))
    };
    let count = |v: f64| {
        if v.fract() == 0.0 && (1.0..=200.0).contains(&v) {
            return Ok(v);
        }
        Err(Said::stop(
            "no-grid",
            "The grid is no whole number.",
            "Name a whole number from 1 to 200, or leave it open.",
        ))
    };
    let width = measure(wanted.width, "width")?;
    let named = match (wanted.across, wanted.down) {
        (Some(a), Some(d)) => Some((count(a)?, count(d)?)),
        (Some(one), None) | (None, Some(one)) => Some((count(one)?, count(one)?)),
        (None, None) => None,
    };
    let read = read(&wanted.svg)?;
    let frame = grid::frame(&read.shapes, wanted.page.then_some(read.page));
    if frame.width() <= 0.0 || frame.height() <= 0.0 || !frame.width().is_finite() || !frame.height().is_finite() {
        return Err(Said::stop(
            "nothing-filled",
            "What is drawn has no width or no height.",
            "Draw the block's patches as closed outlines.",
        ));
    }
    let mut said = read.said;
    let height = height_of(wanted, width, frame.height() / frame.width(), per, &mut said)?;
    let laid = grid::lay(&read.shapes, frame, (width, height), named);
    let moved = laid.moved * per;
    let unit = if wanted.metric { "cm" } else { "in" };
    if moved * 128.0 >= per {
        let words = format!(
            "Corners were moved by up to {} {unit} to lie on the grid.",
            short(moved)
        );
        said.push(Said::note("corners-moved", words));
    }
    let pieces = cover::part(&laid.shapes, laid.size, wanted.on_top, wanted.ground);
    let cloths = cloths(&pieces);
    let text = text(wanted, laid.size, laid.grid, &pieces, &cloths);
    let mut marks = Vec::new();
    match design::read_design(&text) {
        Ok(design) => said.extend(design.findings().iter().filter_map(|finding| told(finding, &mut marks))),
        Err(errors) => said.extend(errors.iter().take(10).map(|error| {
            let words = format!("An outline cannot be a patch: {}.", error.message.trim_end_matches('.'));
            Said::stop(
                error.code,
                words,
                "Draw it as one closed outline that does not cross or touch itself.",
            )
        })),
    }
    let words = format!(
        "{} × {} {unit}, {}",
        short(laid.size.0 * per),
        short(laid.size.1 * per),
        match laid.grid {
            Some((a, d)) if a == d => format!("grid of {}", short(a)),
            Some((a, d)) => format!("grid of {} across and {} down", short(a), short(d)),
            None => "its corners on no grid".to_string(),
        }
    );
    Ok(Brought {
        good: !said.iter().any(|said| said.stop),
        picture: picture(laid.size, &pieces, &marks),
        patches: pieces.len(),
        cloths: cloths.iter().map(|c| (c.label.clone(), c.color.clone())).collect(),
        said,
        text,
        words,
    })
}

/// The height named, or that in proportion; one a hundredth off a square is a square.
fn height_of(wanted: &Wanted, width: f64, ratio: f64, per: f64, said: &mut Vec<Said>) -> Result<f64, Said> {
    let natural = if (ratio - 1.0).abs() < 0.01 {
        width
    } else {
        width * ratio
    };
    // To a sixteenth of an inch or a millimetre, in proportion it would seldom be a measure.
    let step = if wanted.metric { 0.1 / 2.54 } else { 1.0 / 16.0 };
    let natural = (natural / step).round().max(1.0) * step;
    let height = match wanted.height {
        Some(height) => height / per,
        None => natural,
    };
    if !(0.25..=200.0).contains(&height) {
        return Err(Said::stop(
            "no-size",
            "The block's height is no height of a block.",
            "Name one between 1/4 in and 200 in (0.6 cm and 5 m).",
        ));
    }
    if (height / (width * ratio) - 1.0).abs() > 0.02 {
        said.push(Said::note(
            "stretched",
            "The drawing has other proportions than the block; it was stretched.",
        ));
    }
    Ok(height)
}

/// A finding of the design that is about the drawing.
fn told(finding: &Finding, marks: &mut Vec<(f64, f64)>) -> Option<Said> {
    let Place::Block { name, at, .. } = &finding.place else {
        return None;
    };
    if name == "top" || finding.severity == Severity::Note {
        return None;
    }
    let mend = match finding.code {
        "gap" => "Let a ground cloth fill what is open, or draw the outline that is missing.",
        "overlap" => "Let what is drawn later lie on top, or part the outlines.",
        "outside-block" => "Move the outline onto the block, or take the whole page as the block.",
        "weld-ambiguous" | "sliver" | "acute" => "Name a coarser grid, or draw it wider.",
        _ => return None,
    };
    if let Some(at) = at {
        marks.push((at.x, at.y));
    }
    Some(Said {
        code: finding.code.to_string(),
        stop: finding.is_stop(),
        words: finding.sentence.clone(),
        mend: mend.to_string(),
    })
}

/// A cloth of the quilt.
struct Cloth {
    fill: Option<[u8; 3]>,
    name: String,
    label: String,
    color: String,
}

/// One for each colour, in the order they come, ground last.
fn cloths(pieces: &[Piece]) -> Vec<Cloth> {
    let mut all: Vec<Cloth> = Vec::new();
    for piece in pieces {
        if all.iter().any(|cloth| cloth.fill == piece.fill) {
            continue;
        }
        let (words, color) = match piece.fill {
            Some([r, g, b]) => (colour_words(r, g, b), format!("#{r:02x}{g:02x}{b:02x}")),
            None => ("Ground".to_string(), GROUND.to_string()),
        };
        let same = all
            .iter()
            .filter(|cloth| cloth.label == words || cloth.label.starts_with(&format!("{words} ")))
            .count();
        let label = if same == 0 {
            words
        } else {
            format!("{words} {}", same + 1)
        };
        all.push(Cloth {
            fill: piece.fill,
            name: label.to_lowercase().replace(' ', "-"),
            label,
            color,
        });
    }
    all
}

/// The design file: the block as drawn, laid three by three.
fn text(wanted: &Wanted, size: (f64, f64), grid: Option<(f64, f64)>, pieces: &[Piece], cloths: &[Cloth]) -> String {
    let (per, unit) = if wanted.metric { (2.54, "cm") } else { (1.0, "in") };
    let mut text = format!(
        "format = 1\n\n[quilt]\ntitle = \"{}\"\n{}",
        title(&wanted.name),
        if wanted.metric { "units = \"metric\"\n" } else { "" }
    );
    for cloth in cloths {
        let _ = write!(
            text,
            "\n[[fabric]]\nname = \"{}\"\nlabel = \"{}\"\ncolor = \"{}\"\n",
            cloth.name, cloth.label, cloth.color
        );
    }
    // With no grid the drawing's units are the file's own.
    let grid = grid.unwrap_or((size.0 * per, size.1 * per));
    let (sx, sy) = (grid.0 / size.0, grid.1 / size.1);
    let number = |v: f64| crate::drawing::trimmed(v, PLACES);
    let _ = write!(
        text,
        "\n[[block]]\nname = \"drawn\"\nsize = [\"{} {unit}\", \"{} {unit}\"]\ngrid = [{}, {}]\npatches = [\n",
        number(size.0 * per),
        number(size.1 * per),
        number(grid.0),
        number(grid.1)
    );
    for piece in pieces {
        let name = cloths
            .iter()
            .find(|cloth| cloth.fill == piece.fill)
            .map_or("", |cloth| &cloth.name);
        let outline = piece.outline.carried(|p| Point::new(p.x * sx, p.y * sy), 0.0);
        let _ = writeln!(
            text,
            "  {{ fabric = \"{name}\", path = \"{}\" }},",
            outline.text(PLACES)
        );
    }
    text.push_str("]\n\n[layout]\nkind = \"straight\"\nrows = [\n");
    for _ in 0..3 {
        text.push_str("  [\"drawn\", \"drawn\", \"drawn\"],\n");
    }
    let first = cloths.first().map_or("", |cloth| &cloth.name);
    let last = cloths.last().map_or("", |cloth| &cloth.name);
    let _ = write!(
        text,
        "]\nfill = \"{last}\"\n\n[finish]\nbinding = {{ fabric = \"{first}\" }}\nbacking = {{ fabric = \"{last}\" }}\nbatting = {{}}\n"
    );
    text
}

/// The block as it would be. Beneath it lies what shows where nothing covers it; rings stand where something is the matter.
fn picture(size: (f64, f64), pieces: &[Piece], marks: &[(f64, f64)]) -> String {
    let (w, h) = size;
    let edge = w.max(h) / 50.0;
    let mut out = format!(
        "<svg class=\"brought\" xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{} {} {} {}\" role=\"img\" aria-label=\"The block as it would be\">\
         <defs><pattern id=\"open\" patternUnits=\"userSpaceOnUse\" width=\"{edge}\" height=\"{edge}\" patternTransform=\"rotate(45)\">\
         <rect width=\"{edge}\" height=\"{edge}\" fill=\"#FFFFFF\"/><rect width=\"{}\" height=\"{edge}\" fill=\"#A8322A\"/></pattern></defs>\
         <rect width=\"{w}\" height=\"{h}\" fill=\"url(#open)\"/>",
        -edge,
        -edge,
        w + 2.0 * edge,
        h + 2.0 * edge,
        edge / 3.0
    );
    for piece in pieces {
        let fill = match piece.fill {
            Some([r, g, b]) => format!("#{r:02x}{g:02x}{b:02x}"),
            None => GROUND.to_string(),
        };
        let _ = write!(
            out,
            "<path d=\"{}\" fill=\"{fill}\" stroke=\"#22262E\" stroke-width=\"{}\"/>",
            piece.outline.text(4),
            edge / 12.0
        );
    }
    for (x, y) in marks {
        let _ = write!(
            out,
            "<circle cx=\"{x:.3}\" cy=\"{:.3}\" r=\"{}\" fill=\"none\" stroke=\"#A3211B\" stroke-width=\"{}\"/>",
            h - y,
            edge * 1.4,
            edge / 4.0
        );
    }
    out + "</svg>"
}

/// A figure for reading.
fn short(v: f64) -> String {
    crate::drawing::trimmed(v, 3)
}

/// The quilt's name as a title.
fn title(name: &str) -> String {
    let words = if is_name(name) {
        name.replace('-', " ")
    } else {
        "drawn".to_string()
    };
    let mut letters = words.chars();
    letters
        .next()
        .map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
