//! The built-in collection's table: each block planned at its natural size, what it comes to, and its drawing. The page
//! `docs/collection.md` and its pictures are written from it.

use crate::whole::Whole;
use design::{Block, Color, Design};
use recipe::Step;
use std::fmt::Write as _;
use terms::TopPicture;

/// Longer side of a drawing, in its own units.
const SIDE: f64 = 96.0;

/// One block of the collection.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its name.
    pub name: &'static str,
    /// Its title.
    pub title: String,
    /// Finished width and height, inches.
    pub size: (f64, f64),
    /// The grid it is drawn on, in words.
    pub grid: String,
    /// Where its geometry is from.
    pub source: String,
    /// How many patches.
    pub patches: usize,
    /// What planning it comes to, or the code of the finding that stops it.
    pub planned: Result<Figures, String>,
    /// Its drawing, SVG.
    pub drawing: String,
}

/// What a planned block comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figures {
    /// Makings: kinds of unit, the block itself among them.
    pub units: usize,
    /// Lines sewn for one block; two beside a drawn line are two.
    pub seams: u32,
    /// Of these, seams that turn in a corner.
    pub set_in: u32,
    /// Of these, seams closed in a second go.
    pub partial: u32,
    /// Methods used, in the order of their names.
    pub methods: Vec<&'static str>,
    /// Templates to print.
    pub templates: usize,
}

/// The whole collection.
///
/// # Errors
/// A name and what is wrong with its file.
pub fn rows() -> Result<Vec<Row>, String> {
    design::collection()
        .iter()
        .map(|&(name, text)| row(name, text))
        .collect()
}

/// The note of a block in its two halves: grid and source.
pub fn grid_and_source(block: &Block) -> Option<(String, String)> {
    let (grid, source) = block.note.strip_prefix("Grid ")?.split_once(". Source: ")?;
    Some((grid.to_string(), source.strip_suffix('.')?.to_string()))
}

fn row(name: &'static str, text: &str) -> Result<Row, String> {
    let design = design::read_design(text).map_err(|errors| format!("{name}: {errors:?}"))?;
    let block = design.block(name).ok_or_else(|| format!("{name}: no such block"))?;
    let (grid, source) = grid_and_source(block).ok_or_else(|| format!("{name}: the note names no grid and source"))?;
    let planned = Whole::of_design(&design)
        .map(|whole| figures(&whole))
        .map_err(|findings| {
            let stop = findings.iter().find(|finding| finding.is_stop());
            stop.map_or("no finding", |finding| finding.code).to_string()
        });
    Ok(Row {
        name,
        title: design.quilt.title.clone(),
        size: block.size,
        grid,
        source,
        patches: block.patches.len(),
        planned,
        drawing: drawing(&design),
    })
}

/// What a planned block comes to.
pub fn figures(whole: &Whole) -> Figures {
    let makes = &whole.pattern.recipe.makes;
    let count = |of: &dyn Fn(&Step) -> u32| -> u32 {
        makes
            .iter()
            .map(|make| make.times * make.steps.iter().map(of).sum::<u32>())
            .sum()
    };
    let mut methods = whole.methods.clone();
    methods.sort_unstable();
    methods.dedup();
    Figures {
        units: makes.len(),
        seams: count(&|step| match step {
            Step::Sew {
                path: recipe::Path::BothSides { .. },
                ..
            } => 2,
            Step::Sew { .. } => 1,
            Step::Whip { edges, .. } => edges.len() as u32,
            _ => 0,
        }),
        set_in: count(&|step| u32::from(matches!(step, Step::Pivot { .. }))),
        partial: count(&|step| u32::from(matches!(step, Step::Close { .. }))),
        methods,
        templates: whole.pattern.cutting.templates.len(),
    }
}

/// The top as a small SVG drawing.
fn drawing(design: &Design) -> String {
    let picture: TopPicture = design.top_picture();
    let (width, height) = design.top_size();
    let scale = SIDE / width.max(height);
    let figure = |v: f64| {
        let text = format!("{v:.1}");
        text.strip_suffix(".0").map_or(text.clone(), str::to_string)
    };
    let (w, h) = (figure(width * scale), figure(height * scale));
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}\" height=\"{h}\" viewBox=\"-1 -1 {} {}\" \
         stroke=\"#222\" stroke-width=\"0.6\" stroke-linejoin=\"round\">\n",
        figure(width * scale + 2.0),
        figure(height * scale + 2.0)
    );
    // Faces of one cloth in a row share a path.
    let mut last = None;
    for face in picture.faces.iter().chain(&picture.laid) {
        let color = design
            .fabric(&face.fabric)
            .map_or_else(|| "none".to_string(), |f| Color::hex(f.color));
        if last.as_ref() != Some(&color) {
            if last.is_some() {
                svg.push_str("\"/>\n");
            }
            let _ = write!(svg, "<path fill=\"{color}\" d=\"");
            last = Some(color);
        }
        for (i, corner) in face.outline.corners().iter().enumerate() {
            let command = if i == 0 { 'M' } else { 'L' };
            let (x, y) = (corner.x * scale, (height - corner.y) * scale);
            let _ = write!(svg, "{command}{} {}", figure(x), figure(y));
        }
        svg.push('Z');
    }
    if last.is_some() {
        svg.push_str("\"/>\n");
    }
    svg + "</svg>\n"
}

/// The table in plain text.
pub fn table(rows: &[Row]) -> String {
    let mut text = format!(
        "{:24} {:>7} {:>5} {:>5} {:>6} {:>7} {:>9}  methods\n",
        "block", "patches", "units", "seams", "set-in", "partial", "templates"
    );
    for row in rows {
        match &row.planned {
            Ok(f) => {
                let _ = writeln!(
                    text,
                    "{:24} {:>7} {:>5} {:>5} {:>6} {:>7} {:>9}  {}  (grid {})",
                    row.name,
                    row.patches,
                    f.units,
                    f.seams,
                    f.set_in,
                    f.partial,
                    f.templates,
                    f.methods.join(", "),
                    row.grid
                );
            }
            Err(code) => {
                let _ = writeln!(
                    text,
                    "{:24} {:>7} waits: {code}  (grid {})",
                    row.name, row.patches, row.grid
                );
            }
        }
    }
    text
}

/// The page `docs/collection.md`.
pub fn page(rows: &[Row]) -> String {
    let ready = rows.iter().filter(|row| row.planned.is_ok()).count();
    let mut text = format!(
        "# The built-in collection\n\n\
         {} traditional blocks, drawn anew on their grids; the names and the geometry are common knowledge. Each is a design\n\
         file in `collection/` and can be placed in any design as `std/NAME` (see [format.md](format.md)). {ready} are planned,\n\
         rehearsed and proved at three sizes by the tests; {} wait for a way of making that is not planned yet, and the\n\
         table says which finding they answer.\n\n\
         Units are kinds of unit made, the block itself among them; seams are lines sewn for one block. This page is written by\n\
         `cargo run --release -p trials --example collection -- docs`; a test holds it against the program.\n\n\
         | | block | finished | grid | patches | units | seams | set-in | partial | templates | methods | source |\n\
         | --- | --- | --- | --- | --: | --: | --: | --: | --: | --: | --- | --- |\n",
        rows.len(),
        rows.len() - ready
    );
    for row in rows {
        let size = format!("{} x {} in", inches(row.size.0), inches(row.size.1));
        let figures = match &row.planned {
            Ok(f) => format!(
                "{} | {} | {} | {} | {} | {}",
                f.units,
                f.seams,
                f.set_in,
                f.partial,
                f.templates,
                f.methods.join(", ")
            ),
            Err(code) => format!("| | | | | waits: `{code}`"),
        };
        let _ = writeln!(
            text,
            "| ![{}](pictures/collection/{}.svg) | {}<br>`std/{}` | {size} | {} | {} | {figures} | {} |",
            row.title, row.name, row.title, row.name, row.grid, row.patches, row.source
        );
    }
    text
}

fn inches(size: f64) -> String {
    let text = format!("{size:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}
