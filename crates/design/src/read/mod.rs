//! Reading a design file: text to [`Design`], or everything that is wrong with it.

mod blocks;
mod brought;
mod keys;
mod layout;
mod refs;
mod rest;
mod tree;

pub use blocks::is_photo_name;

pub(crate) use refs::figure;

use crate::error::shown;
use crate::{Design, Each, Fabric, FileError, Motif, Prefer, Print, Quilt, Scrappy, Sold, UpRule};
pub(crate) use keys::hex_color;
use keys::{Reading, Section};
use measure::Measure;
use std::collections::BTreeSet;
use std::ops::Range;
use terms::FabricId;
use tree::{Node, Value};

/// Largest file, bytes.
pub const MOST_BYTES: usize = 4_000_000;

/// Reads a design file's text.
///
/// # Errors
/// Everything found wrong, in the order of the file, up to 50 errors. Never panics, whatever the text.
pub fn read_design(text: &str) -> Result<Design, Vec<FileError>> {
    if text.len() > MOST_BYTES {
        let mut r = Reading::of("");
        let message = format!("the file has {} bytes", text.len());
        r.error(&(0..0), "limit", message, "at most 4 MB (4 000 000 bytes)");
        return Err(r.errors);
    }
    let mut r = Reading::of(text);
    let design = read_whole(&mut r, text);
    match design {
        Some(mut design) if r.errors.is_empty() => {
            design.later = r.later;
            Ok(design)
        }
        _ => {
            if r.errors.is_empty() {
                // Nothing is half-read in silence.
                r.error(
                    &(0..0),
                    "not-read",
                    "the file could not be read",
                    "a file as in docs/format.md",
                );
            }
            r.errors.sort_by_key(|e| (e.line, e.column));
            Err(r.errors)
        }
    }
}

/// Reads a design file's bytes: the text must be UTF-8.
///
/// # Errors
/// As [`read_design`]; bytes that are no UTF-8 are one error at the first of them.
pub fn read_design_bytes(bytes: &[u8]) -> Result<Design, Vec<FileError>> {
    match std::str::from_utf8(bytes) {
        Ok(text) => read_design(text),
        Err(error) => {
            let sound = std::str::from_utf8(&bytes[..error.valid_up_to()]).unwrap_or_default();
            let mut r = Reading::of(sound);
            r.error(
                &(sound.len()..sound.len()),
                "not-utf-8",
                "the file has bytes that are no text here",
                "text encoded as UTF-8",
            );
            Err(r.errors)
        }
    }
}

/// Where things stand in the file, and the names they use, until all names are known.
#[derive(Default)]
pub(crate) struct Places {
    /// Roles used, in the order met.
    fabrics: Vec<(FabricId, Range<usize>)>,
    /// Blocks used, in the order met.
    blocks: Vec<UsedBlock>,
    /// Blocks of the built-in collection.
    brought: brought::Brought,
    /// Per block of the model: itself and its placements.
    of_blocks: Vec<(Range<usize>, Vec<Range<usize>>)>,
    /// The layout, and the placements of a free one.
    layout: Range<usize>,
    of_free: Vec<Range<usize>>,
    /// Border corners that are blocks: index of the border, and place.
    of_corners: Vec<(usize, Range<usize>)>,
}

/// A block's name where a placement, a cell or a corner uses it.
pub(crate) struct UsedBlock {
    name: String,
    at: Range<usize>,
    /// Roles that the placement recolours itself; `None` where the block is only spoken of.
    recolored: Option<BTreeSet<FabricId>>,
}

fn read_whole(r: &mut Reading, text: &str) -> Option<Design> {
    let document = match toml_edit::Document::parse(text) {
        Ok(document) => document,
        Err(error) => {
            let at = error.span().unwrap_or(text.len()..text.len());
            let told = error.message().lines().next().unwrap_or_default();
            let (message, expected) = told
                .split_once(", expected ")
                .unwrap_or((told, "TOML, as in docs/format.md"));
            let (message, expected) = match message {
                "recursion limit" => ("brackets or dotted keys are nested too deep", "at most 80 levels"),
                // The parser takes a bare word for a misspelt true.
                "invalid boolean" | "string values must be quoted" => (
                    "there is no value or a bare word",
                    "a text in quotes, a number, true or false",
                ),
                _ => (message, expected),
            };
            r.error(
                &at,
                "not-toml",
                format!("the file cannot be read here: {message}"),
                expected,
            );
            return None;
        }
    };
    let entries = tree::of_table(document.as_table());
    let mut file = Section::whole(&entries);
    check_format(r, &mut file)?;
    let quilt = read_quilt(r, &mut file);
    let mut places = Places {
        brought: brought::Brought::of(&entries),
        ..Places::default()
    };
    let fabrics = read_fabrics(r, &mut file, quilt.measure);
    let mut blocks = blocks::read_blocks(r, &mut file, &mut places);
    blocks.append(&mut places.brought.blocks);
    let layout = layout::read_layout(r, &mut file, &blocks, &mut places);
    let borders = rest::read_borders(r, &mut file, &mut places);
    let finish = rest::read_finish(r, &mut file, &mut places, quilt.measure);
    let colorways = rest::read_colorways(r, &mut file, &mut places);
    let sizes = rest::read_sizes(r, &mut file, &blocks, &mut places, quilt.measure);
    let parts = rest::read_parts(r, &mut file, &mut places);
    let says = rest::read_says(r, &mut file);
    file.done(r);
    let mut design = Design {
        quilt,
        fabrics,
        colorways,
        blocks,
        layout: layout?,
        borders,
        finish,
        sizes,
        parts,
        says,
        later: Vec::new(),
    };
    brought::keep_placed(r, &mut design, &places);
    refs::check(r, &design, &places);
    Some(design)
}

fn check_format(r: &mut Reading, file: &mut Section) -> Option<()> {
    let node = file.must(r, "format", "1")?;
    if matches!(node.value, Value::Whole(1)) {
        return Some(());
    }
    let (message, at) = match &node.value {
        Value::Whole(other) => (format!("this is format {other}"), node.span.clone()),
        other => (format!("format is {}", other.kind()), node.span.clone()),
    };
    r.error(&at, "unknown-format", message, "format = 1");
    None
}

fn read_quilt(r: &mut Reading, file: &mut Section) -> Quilt {
    let mut quilt = Quilt {
        title: String::new(),
        author: String::new(),
        edition: String::new(),
        note: String::new(),
        measure: Measure::Inch,
        seam: 0.25,
        ruler: 0.125,
        spare: 0.0,
        prefer: Prefer::Steps,
        keep_corners: None,
        turn_under: TURN_UNDER,
    };
    let Some(node) = file.must(r, "quilt", "a table [quilt] with its title") else {
        return quilt;
    };
    let Some(mut s) = Section::of(r, node, "[quilt]") else {
        return quilt;
    };
    if let Some(title) = s.must(r, "title", "\"...\"") {
        quilt.title = r.text(title, "title").unwrap_or_default();
    }
    quilt.measure = s.word(
        r,
        "units",
        &[("inch", Measure::Inch), ("metric", Measure::Metric)],
        Measure::Inch,
    );
    let (seam, ruler) = match quilt.measure {
        Measure::Inch => (0.25, 0.125),
        Measure::Metric => (0.75 / 2.54, 0.25 / 2.54),
    };
    r.bare = bare_unit(quilt.measure);
    quilt.author = s.text(r, "author");
    quilt.edition = s.text(r, "edition");
    quilt.note = s.text(r, "note");
    quilt.seam = s.size(r, "seam", seam);
    quilt.ruler = s.size(r, "ruler", ruler);
    quilt.spare = s.share(r, "spare", 0.0);
    quilt.prefer = s.word(r, "prefer", &Prefer::WORDS, Prefer::Steps);
    quilt.keep_corners = s.take("keep-corners").and_then(|node| r.size(node, "keep-corners"));
    if quilt.measure == Measure::Metric {
        quilt.turn_under = 0.5 / 2.54;
    }
    if let Some(node) = s.take("turn-under")
        && let Some(inches) = r.size(node, "turn-under")
    {
        if (1.0 / 16.0 - 1.0e-9..=0.5 + 1.0e-9).contains(&inches) {
            quilt.turn_under = inches;
        } else {
            let message = "so much cloth cannot be turned under";
            r.error(&node.span, "bad-length", message, "from 1/16 in to 1/2 in");
        }
    }
    s.done(r);
    quilt
}

/// Cloth turned under round a patch on a ground, where the file does not say: common practice.
const TURN_UNDER: f64 = 3.0 / 16.0;

/// Inches in a bare number.
fn bare_unit(measure: Measure) -> f64 {
    match measure {
        Measure::Inch => 1.0,
        Measure::Metric => 1.0 / 2.54,
    }
}

fn read_fabrics(r: &mut Reading, file: &mut Section, measure: Measure) -> Vec<Fabric> {
    let nodes = file.tables(r, "fabric");
    if nodes.is_empty() {
        r.error(
            &(0..0),
            "missing-key",
            "the file has no fabric",
            "at least one [[fabric]]",
        );
    }
    let mut fabrics: Vec<Fabric> = Vec::new();
    for node in nodes {
        if r.is_full() {
            break;
        }
        let Some(fabric) = read_fabric(r, node, measure) else {
            continue;
        };
        if fabrics.iter().any(|f| f.name == fabric.name) {
            let message = format!("there are two fabrics \"{}\"", fabric.name);
            r.error(&node.span, "twice", message, "a name of its own");
            continue;
        }
        if fabrics.len() >= 1000 {
            r.error(
                &node.span,
                "limit",
                "the file has more than 1000 fabrics",
                "at most 1000",
            );
            break;
        }
        fabrics.push(fabric);
    }
    check_scrappy(r, nodes, &fabrics);
    fabrics
}

fn read_fabric(r: &mut Reading, node: &Node, measure: Measure) -> Option<Fabric> {
    let step = match measure {
        Measure::Inch => 4.5,
        Measure::Metric => 10.0 / 2.54,
    };
    let mut s = Section::of(r, node, "a fabric")?;
    let name = s.must(r, "name", "\"...\"").and_then(|n| r.name(n, "name"));
    let color = s.must(r, "color", "\"#1f2d4a\"").and_then(|n| r.color(n, "color"));
    let label = s.text(r, "label");
    let sold = read_sold(r, &mut s);
    let custom = sold.custom(measure);
    let (less, square_up) = (custom.selvedges, custom.square_up);
    // Only a fat quarter or eighth may be of another length: of a bolt there is as much as is wanted, the rest says it in its name.
    let length = match sold {
        Sold::FatQuarter | Sold::FatEighth => Some(s.size(r, "length", custom.length.unwrap_or(18.0))),
        _ => custom.length,
    };
    let width = s.size(r, "width", custom.width);
    let usable_at = s.entry("usable").map(|e| e.at.clone());
    let usable = s.size(r, "usable", (width - less).max(keys::SMALLEST));
    if usable > width {
        let at = usable_at.unwrap_or_else(|| s.span.clone());
        r.error(
            &at,
            "bad-length",
            "the usable width is more than the width",
            "at most the width",
        );
    }
    let words = [
        ("none", Print::None),
        ("two-way", Print::TwoWay),
        ("one-way", Print::OneWay),
    ];
    let ups = [
        ("quilt", UpRule::Quilt),
        ("block", UpRule::Block),
        ("free", UpRule::Free),
    ];
    let mut fabric = Fabric {
        width,
        usable,
        square_up: s.length(r, "square-up", square_up),
        shrink: s.share(r, "shrink", 0.0),
        right_side: s.truth(r, "right-side", true),
        print: s.word(r, "print", &words, Print::None),
        up: s.word(r, "up", &ups, UpRule::Quilt),
        motif: s.take("motif").and_then(|n| read_motif(r, n)),
        scrappy: s.take("scrappy").and_then(|n| read_scrappy(r, n)),
        sold,
        length,
        step: s.size(r, "step", step),
        price: s.take("price").and_then(|n| read_price(r, n)),
        image: s.text(r, "image"),
        image_width: s.take("image-width").and_then(|n| r.size(n, "image-width")),
        name: FabricId(name.clone().unwrap_or_default()),
        label: if label.is_empty() {
            name.clone().unwrap_or_default()
        } else {
            label
        },
        color: color.unwrap_or(crate::Color {
            red: 128,
            green: 128,
            blue: 128,
        }),
    };
    if let Some(motif) = fabric.motif {
        count_motifs(r, &s, &mut fabric, motif);
    }
    s.done(r);
    name.map(|_| fabric)
}

/// A cloth with a motif is used by whole repeats: across as many as surely lie between the selvedges, wherever the print begins
/// (one fewer than would fit), along after the first whole one. And it has an up.
fn count_motifs(r: &mut Reading, s: &Section, fabric: &mut Fabric, motif: Motif) {
    let fit = (fabric.usable / motif.every.0 + 1.0e-9).floor();
    let across = motif.across.map_or(fit - 1.0, f64::from);
    if across < 1.0 || across > fit {
        r.error(
            &s.span,
            "bad-number",
            format!(
                "so many whole motifs cannot be counted on between the selvedges of \"{}\"",
                fabric.name
            ),
            format!("across = how many whole ones there are on the cloth, at most {fit}"),
        );
        return;
    }
    fabric.usable = across * motif.every.0;
    fabric.square_up += motif.every.1;
    if fabric.print == Print::None {
        fabric.print = Print::OneWay;
    }
    if fabric.up == UpRule::Free {
        fabric.up = UpRule::Block;
    }
}

/// The motif's repeat.
fn read_motif(r: &mut Reading, node: &Node) -> Option<Motif> {
    let mut s = Section::of(r, node, "the motif")?;
    let every = s
        .must(r, "every", "[\"6 in\", \"8 in\"]")
        .and_then(|n| r.pair(n, "every", true, Reading::size));
    let across = s.take("across").and_then(|n| read_count(r, n, "across", 1, 1000));
    s.done(r);
    Some(Motif {
        every: every?,
        across: across.and_then(|n| u32::try_from(n).ok()),
    })
}

/// The cloths of a scrappy role; whether they are there is looked into when all are read.
fn read_scrappy(r: &mut Reading, node: &Node) -> Option<Scrappy> {
    let mut s = Section::of(r, node, "the scrappy role")?;
    let mut fabrics: Vec<FabricId> = Vec::new();
    if let Some(list) = s.must(r, "fabrics", "[\"...\", \"...\"]") {
        for node in r.list(list, "fabrics")? {
            let Some(name) = r.name(node, "fabrics") else { continue };
            if fabrics.iter().any(|f| f.as_str() == name) {
                let message = format!("the cloth \"{name}\" is listed twice");
                r.error(&node.span, "twice", message, "each cloth once");
            }
            fabrics.push(FabricId(name));
        }
        if fabrics.len() < 2 || fabrics.len() > 200 {
            let message = format!("a scrappy role has {} cloths", fabrics.len());
            r.error(&list.span, "wrong-count", message, "from 2 to 200 cloths");
        }
    }
    let each = s.word(
        r,
        "each",
        &[("block", Each::Block), ("patch", Each::Patch)],
        Each::Block,
    );
    let seed = s.take("seed").and_then(|n| read_count(r, n, "seed", 0, 1_000_000));
    s.done(r);
    Some(Scrappy {
        fabrics,
        each,
        seed: seed.unwrap_or(1),
    })
}

fn read_count(r: &mut Reading, node: &Node, what: &str, least: i64, most: i64) -> Option<u64> {
    match node.value {
        Value::Whole(whole) if (least..=most).contains(&whole) => u64::try_from(whole).ok(),
        Value::Whole(_) => {
            let message = format!("{what} is not such a number");
            r.error(&node.span, "bad-number", message, format!("from {least} to {most}"));
            None
        }
        _ => {
            r.wrong_type(node, what, "a whole number");
            None
        }
    }
}

/// A scrappy role is made of cloths of the file that are not scrappy themselves.
fn check_scrappy(r: &mut Reading, nodes: &[Node], fabrics: &[Fabric]) {
    for (fabric, scrappy) in fabrics.iter().filter_map(|f| Some((f, f.scrappy.as_ref()?))) {
        let span = (nodes.iter())
            .find(|node| matches!(&node.value, Value::Table(entries) if entries.iter().any(|e| e.key == "name" && matches!(&e.node.value, Value::Text(t) if *t == fabric.name.0))))
            .map_or(0..0, |node| node.span.clone());
        for name in &scrappy.fabrics {
            match fabrics.iter().find(|f| f.name == *name) {
                None => {
                    let message = format!(
                        "the scrappy role \"{}\" names the fabric \"{name}\", which is not there",
                        fabric.name
                    );
                    r.error(&span, "unknown-name", message, "a [[fabric]] of that name");
                }
                Some(other) if other.scrappy.is_some() => {
                    let message = format!(
                        "the scrappy role \"{}\" names \"{name}\", which is scrappy itself",
                        fabric.name
                    );
                    r.error(&span, "cycle", message, "the name of one cloth");
                }
                Some(_) => {}
            }
        }
    }
}

fn read_price(r: &mut Reading, node: &Node) -> Option<f64> {
    let price = r.number(node, "price")?;
    if (0.0..=1.0e6).contains(&price) {
        return Some(price);
    }
    r.error(
        &node.span,
        "bad-number",
        "the price is not a price",
        "a number from 0 to 1 000 000",
    );
    None
}

fn read_sold(r: &mut Reading, s: &mut Section) -> Sold {
    let Some(node) = s.take("sold") else {
        return Sold::Bolt;
    };
    let Some(text) = r.text(node, "sold") else {
        return Sold::Bolt;
    };
    let cut = |r: &mut Reading, size: &str| {
        let part = Node {
            span: node.span.clone(),
            value: Value::Text(size.to_string()),
        };
        r.size(&part, "sold")
    };
    let sold = match text.as_str() {
        "bolt" => Some(Sold::Bolt),
        "fat-quarter" => Some(Sold::FatQuarter),
        "fat-eighth" => Some(Sold::FatEighth),
        other => {
            if let Some(size) = other.strip_prefix("strips ") {
                cut(r, size).map(Sold::Strips)
            } else if let Some(size) = other.strip_prefix("squares ") {
                cut(r, size).map(Sold::Squares)
            } else {
                r.error(
                    &node.span,
                    "unknown-word",
                    format!("sold cannot be \"{}\"", shown(&text)),
                    "\"bolt\", \"fat-quarter\", \"fat-eighth\", \"strips 2 1/2 in\" or \"squares 5 in\"",
                );
                None
            }
        }
    };
    sold.unwrap_or_default()
}
