//! Blocks: their drawings, turned over at this door (the file's y is down, ours is up), and what is placed in them.

use super::keys::{Reading, SMALLEST, Section, is_name};
use super::tree::{Node, Value};
use super::{Places, UsedBlock};
use crate::collection::{PREFIX, ROLES};
use crate::error::shown;
use crate::model::Curves;
use crate::path;
use crate::{Block, GrainRule, GroundEdge, LaidBy, LayPin, Patch, Pin, Placement, PressPin};
use shape::Point;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use terms::FabricId;

/// The frame of what things are placed in: inches to a drawing unit, and its height in inches.
#[derive(Clone, Copy)]
pub(super) struct Frame {
    pub unit: (f64, f64),
    pub height: f64,
    /// Placements give lengths with units instead of numbers of the grid.
    pub lengths: bool,
}

impl Frame {
    fn place(self, x: f64, y: f64) -> Point {
        Point::new(x * self.unit.0, self.height - y * self.unit.1)
    }
}

pub(super) fn read_blocks(r: &mut Reading, file: &mut Section, places: &mut Places) -> Vec<Block> {
    let nodes = file.tables(r, "block");
    let mut names: BTreeSet<String> = BTreeSet::new();
    let mut blocks = Vec::new();
    for node in nodes {
        if r.is_full() {
            break;
        }
        let mut spans = Vec::new();
        let Some(block) = read_block(r, node, places, &mut spans) else {
            continue;
        };
        if !names.insert(block.name.clone()) {
            let message = format!("there are two blocks \"{}\"", block.name);
            r.error(&node.span, "twice", message, "a name of its own");
            continue;
        }
        places.of_blocks.push((node.span.clone(), spans));
        blocks.push(block);
    }
    blocks
}

fn read_block(r: &mut Reading, node: &Node, places: &mut Places, spans: &mut Vec<Range<usize>>) -> Option<Block> {
    let mut s = Section::of(r, node, "a block")?;
    let name = s.must(r, "name", "\"...\"").and_then(|n| r.name(n, "name"));
    if name.as_deref() == Some("top") {
        r.error(&s.span, "bad-name", "\"top\" is the quilt's own name", "another name");
    }
    let size = s
        .must(r, "size", "[\"12 in\", \"12 in\"]")
        .and_then(|n| r.pair(n, "size", true, |r, n, w| r.size(n, w)));
    let grid = s.take("grid").and_then(|n| r.pair(n, "grid", true, grid_number));
    let (size, grid) = (size.unwrap_or((1.0, 1.0)), grid.unwrap_or((1.0, 1.0)));
    let frame = Frame {
        unit: (size.0 / grid.0, size.1 / grid.1),
        height: size.1,
        lengths: false,
    };
    let mut patches = Vec::new();
    let drawn = s.tables(r, "patches");
    for patch in drawn {
        if r.is_full() {
            break;
        }
        if let Some((read, edge)) = read_patch(r, patch, frame, places) {
            patches.push((read, edge));
        }
    }
    let edge = s.word(r, "edge", &EDGES, GroundEdge::Turned);
    for patch in &mut patches {
        // What a patch says of its own edge goes before what its block says.
        patch.0.ground = patch.0.ground.map(|_| patch.1.unwrap_or(edge));
    }
    let patches: Vec<Patch> = patches.into_iter().map(|(patch, _)| patch).collect();
    let mut place = Vec::new();
    let placed = s.tables(r, "place");
    for node in placed {
        if r.is_full() {
            break;
        }
        if let Some(read) = read_placement(r, node, frame, &|_| None, places) {
            spans.push(node.span.clone());
            place.push(read);
        }
    }
    let split = s.word(r, "split", &[("auto", true), ("never", false)], true);
    let quilting = s.text(r, "quilting");
    let (method, note, tip) = (s.text(r, "method"), s.text(r, "note"), s.text(r, "tip"));
    let photo = read_photo(r, &mut s);
    let photo_alt = s.text(r, "photo-alt");
    let (mut pins, mut presses, mut lays) = (Vec::new(), Vec::new(), Vec::new());
    for node in s.tables(r, "pin") {
        if r.is_full() {
            break;
        }
        pins.extend(read_pins(r, node, &patches, (&mut presses, &mut lays)));
    }
    let span = s.span.clone();
    s.done(r);
    let name = name?;
    if drawn.is_empty() && placed.is_empty() {
        r.error(
            &span,
            "empty-block",
            format!("block \"{name}\" has neither patches nor blocks"),
            "patches or place",
        );
    }
    Some(Block {
        name,
        size,
        grid,
        patches,
        place,
        split,
        method,
        pins,
        presses,
        lays,
        note,
        tip,
        quilting,
        photo,
        photo_alt,
    })
}

/// A photograph beside the file; nothing that could be a path to elsewhere.
fn read_photo(r: &mut Reading, s: &mut Section) -> String {
    let Some(node) = s.take("photo") else {
        return String::new();
    };
    let Some(photo) = r.text(node, "photo") else {
        return String::new();
    };
    if photo.is_empty() || is_photo_name(&photo) {
        return photo;
    }
    r.error(
        &node.span,
        "bad-name",
        "photo names no picture beside the file",
        "a file's name without a folder that ends in .jpg, .jpeg or .png, such as \"beacon.jpg\"",
    );
    String::new()
}

/// Whether a text can name a photograph beside the design: no folder, not hidden, at most 120 characters, `.jpg`, `.jpeg` or
/// `.png` at its end.
pub fn is_photo_name(text: &str) -> bool {
    let ending = text.rsplit_once('.').map(|(_, ending)| ending.to_ascii_lowercase());
    let known = matches!(ending.as_deref(), Some("jpg" | "jpeg" | "png"));
    let plain =
        |c: char| !c.is_control() && !matches!(c, '/' | '\\' | ':' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    known && !text.starts_with('.') && text.chars().count() <= 120 && text.chars().all(plain)
}

/// Patches made as a unit of their own: two that are sewn together first, or several and perhaps how; and which way the seam
/// between two is pressed.
fn read_pins(
    r: &mut Reading,
    node: &Node,
    drawn: &[Patch],
    (presses, lays): (&mut Vec<PressPin>, &mut Vec<LayPin>),
) -> Vec<Pin> {
    let Some(mut s) = Section::of(r, node, "a pin") else {
        return Vec::new();
    };
    let mut pins = Vec::new();
    let span = s.span.clone();
    let method = s.text(r, "method");
    let patches = s.take("patches").and_then(|n| patch_numbers(r, n, "patches", drawn));
    let first = s
        .take("first")
        .and_then(|n| patch_numbers(r, n, "first", drawn).map(|list| (n, list)));
    if let Some(at) = s.take("press") {
        presses.extend(read_press(r, at, drawn));
    }
    let lay = s.take("lay");
    let by = s.word(r, "by", &LaidBy::WORDS, LaidBy::Ends);
    if let Some(at) = lay
        && let Some(numbers) = patch_numbers(r, at, "lay", drawn)
    {
        match numbers[..] {
            [a, b] => lays.push(LayPin { patches: [a, b], by }),
            _ => r.error(
                &at.span,
                "bad-pin",
                "a seam whose layers are laid so lies between two patches",
                "lay = [1, 2]",
            ),
        }
    }
    s.done(r);
    if let Some((at, list)) = first {
        if list.len() == 2 {
            pins.push(Pin {
                patches: list,
                method: String::new(),
            });
        } else {
            r.error(
                &at.span,
                "bad-pin",
                "a first seam lies between two patches",
                "first = [1, 2]",
            );
        }
    }
    match patches {
        Some(patches) => pins.push(Pin { patches, method }),
        None if !method.is_empty() => {
            r.error(
                &span,
                "missing-key",
                "this pin says a method for no patches",
                "patches = [1, 2]",
            );
        }
        None => {}
    }
    pins
}

/// From which patch toward which: the order says the way.
fn read_press(r: &mut Reading, node: &Node, drawn: &[Patch]) -> Option<PressPin> {
    let numbers = patch_numbers(r, node, "press", drawn)?;
    let [low, high] = numbers[..] else {
        r.error(
            &node.span,
            "bad-pin",
            "a seam is pressed from one patch toward one other",
            "press = [1, 2]",
        );
        return None;
    };
    let first = r.list(node, "press")?.first().and_then(|entry| match entry.value {
        Value::Whole(n) => u32::try_from(n - 1).ok(),
        _ => None,
    });
    let (from, toward) = if first == Some(high) { (high, low) } else { (low, high) };
    Some(PressPin { from, toward })
}

/// Patches by their numbers in the block, from 1; two at least, in order, none twice.
fn patch_numbers(r: &mut Reading, node: &Node, what: &str, patches: &[Patch]) -> Option<Vec<u32>> {
    let drawn = patches.len();
    let mut numbers = BTreeSet::new();
    for entry in r.list(node, what)? {
        match entry.value {
            Value::Whole(n) if n >= 1 && usize::try_from(n).is_ok_and(|n| n <= drawn) => {
                let number = u32::try_from(n - 1).ok()?;
                if patches.get(number as usize).is_some_and(|p| p.ground.is_some()) {
                    let message = format!("patch {n} lies on a ground; it is sewn to nothing");
                    r.error(&entry.span, "bad-pin", message, "patches that are sewn together");
                    return None;
                }
                numbers.insert(number);
            }
            _ => {
                let message = format!("{what} names patches by their numbers, from 1 to {drawn} here");
                r.error(&entry.span, "bad-pin", message, "patches = [1, 2]");
                return None;
            }
        }
    }
    if numbers.len() < 2 {
        r.error(
            &node.span,
            "bad-pin",
            format!("{what} names fewer than two patches"),
            "patches = [1, 2]",
        );
        return None;
    }
    Some(numbers.into_iter().collect())
}

fn grid_number(r: &mut Reading, node: &Node, what: &str) -> Option<f64> {
    let number = r.number(node, what)?;
    if (1.0e-3..=1.0e5).contains(&number) {
        return Some(number);
    }
    r.error(
        &node.span,
        "bad-number",
        format!("{what} cannot be {number}"),
        "a number from 0.001 to 100 000",
    );
    None
}

/// What an `edge` may be.
const EDGES: [(&str, GroundEdge); 2] = [("turned", GroundEdge::Turned), ("raw", GroundEdge::Raw)];

/// A patch, and what it says of its own edge.
fn read_patch(r: &mut Reading, node: &Node, frame: Frame, places: &mut Places) -> Option<(Patch, Option<GroundEdge>)> {
    let mut s = Section::of(r, node, "a patch")?;
    let fabric = s
        .must(r, "fabric", "\"...\"")
        .and_then(|n| read_role(r, n, "fabric", places));
    let grain = s.take("grain").and_then(|n| read_grain(r, n)).unwrap_or_default();
    let on_ground = s.word(r, "on", &[("seam", false), ("ground", true)], false);
    let edge_node = s.take("edge");
    let edge = edge_node.and_then(|n| r.word(n, "edge", &EDGES));
    if let Some(node) = edge_node
        && !on_ground
    {
        let message = "only a patch on a ground has an edge of its own";
        r.error(&node.span, "edge-without-ground", message, "on = \"ground\" beside it");
    }
    let path = s.must(r, "path", "\"M0 0 H2 V2 H0 Z\"");
    s.done(r);
    let path_node = path?;
    let text = r.text(path_node, "path")?;
    let drawn = match path::read(&text, frame.unit, path::MOST_CORNERS) {
        Ok(drawn) => drawn,
        Err(error) => {
            // The place within the text can only be told where the text stands in the file as it is.
            let start = path_node.span.start + 1;
            let as_is = r.lines.text().get(start..start + text.len()) == Some(text.as_str());
            let at = if as_is {
                start + error.at.min(text.len())
            } else {
                path_node.span.start
            };
            r.error(&(at..at), "bad-path", error.message, error.expected);
            return None;
        }
    };
    let (outline, bows) = drawn.outline(frame.unit, frame.height);
    if outline
        .corners()
        .iter()
        .any(|c| c.x.abs() > 2000.0 || c.y.abs() > 2000.0)
    {
        r.error(
            &path_node.span,
            "bad-path",
            "the patch lies far outside its block",
            "grid units of the block",
        );
        return None;
    }
    if crate::simple::crosses_itself(&outline) {
        r.error(
            &path_node.span,
            "bad-path",
            "the outline crosses or touches itself",
            "one simple closed outline",
        );
        return None;
    }
    if outline.signed_area() < 1.0e-6 {
        r.error(
            &path_node.span,
            "bad-path",
            "the patch has no area",
            "an outline that encloses cloth",
        );
        return None;
    }
    let curves = bows.contains(&true).then_some(Curves {
        path: text,
        unit: frame.unit,
        height: frame.height,
    });
    let patch = Patch {
        fabric: fabric?,
        outline,
        bows,
        curves,
        grain,
        ground: on_ground.then_some(GroundEdge::Turned),
    };
    Some((patch, edge))
}

fn read_grain(r: &mut Reading, node: &Node) -> Option<GrainRule> {
    match &node.value {
        Value::Text(_) => {
            let words = [
                ("auto", GrainRule::Auto),
                ("x", GrainRule::Degrees(0.0)),
                ("y", GrainRule::Degrees(90.0)),
            ];
            r.word(node, "grain", &words)
        }
        _ => read_degrees(r, node, "grain").map(GrainRule::Degrees),
    }
}

fn read_degrees(r: &mut Reading, node: &Node, what: &str) -> Option<f64> {
    let degrees = r.number(node, what)?;
    if degrees.abs() <= 3600.0 {
        return Some(degrees.rem_euclid(360.0));
    }
    r.error(
        &node.span,
        "bad-number",
        format!("{what} is {degrees} degrees"),
        "degrees from 0 to 360",
    );
    None
}

/// A role, remembered so that it can be looked up once all are known.
pub(super) fn read_role(r: &mut Reading, node: &Node, what: &str, places: &mut Places) -> Option<FabricId> {
    let id = FabricId(r.text(node, what)?);
    places.fabrics.push((id.clone(), node.span.clone()));
    Some(id)
}

/// A block's name, remembered likewise.
pub(super) fn note_block(name: &str, at: &Range<usize>, recolored: Option<BTreeSet<FabricId>>, places: &mut Places) {
    places.blocks.push(UsedBlock {
        name: name.to_string(),
        at: at.clone(),
        recolored,
    });
}

/// `own_size` gives a block's own size where the box may be left out (free layouts).
pub(super) fn read_placement(
    r: &mut Reading,
    node: &Node,
    frame: Frame,
    own_size: &dyn Fn(&str) -> Option<(f64, f64)>,
    places: &mut Places,
) -> Option<Placement> {
    let mut s = Section::of(r, node, "a placed block")?;
    let block_node = s.must(r, "block", "\"...\"");
    let block = block_node.and_then(|n| r.text(n, "block"));
    let flip = s.truth(r, "flip", false);
    let turn = s.take("turn").and_then(|n| read_degrees(r, n, "turn")).unwrap_or(0.0);
    let recolor = s
        .take("recolor")
        .map(|n| read_recolor(r, n, block.as_deref().unwrap_or_default(), places))
        .unwrap_or_default();
    if let (Some(name), Some(node)) = (&block, block_node) {
        note_block(name, &node.span, Some(recolor.keys().cloned().collect()), places);
    }
    let coordinate = |r: &mut Reading, n: &Node, what: &str| -> Option<f64> {
        if frame.lengths {
            r.length(n, what)
        } else {
            r.number(n, what)
        }
    };
    let at = s.take("at").map(|n| (n, r.pair(n, "at", false, coordinate)));
    let centre = s.take("center").map(|n| (n, r.pair(n, "center", false, coordinate)));
    let size = s.take("size").map(|n| (n, r.pair(n, "size", true, coordinate)));
    let span = s.span.clone();
    s.done(r);
    let given = match size {
        Some((n, pair)) => {
            let (w, h) = pair?;
            let (w, h) = (w * frame.unit.0, h * frame.unit.1);
            if !(w >= SMALLEST && h >= SMALLEST && w <= 1000.0 && h <= 1000.0) {
                let message = "the box is too small or too large to make";
                r.error(&n.span, "bad-length", message, "sizes from 1/64 in to 1000 in");
                return None;
            }
            Some((w, h))
        }
        None if frame.lengths => None,
        None => {
            let message = "a placed block has no size";
            r.error(&span, "missing-key", message, "size = [across, down] in grid units");
            return None;
        }
    };
    let quarter = turn % 90.0 == 0.0;
    let sideways = quarter && (turn / 90.0) as u32 % 2 == 1;
    let turned = |(w, h): (f64, f64)| if sideways { (h, w) } else { (w, h) };
    let block = block?;
    let (centre, size) = match (at, centre) {
        (Some((n, pair)), None) => {
            if !quarter {
                let message = format!("a block turned by {turn} degrees has no upright box");
                r.error(&n.span, "bad-turn", message, "center instead of at");
                return None;
            }
            let (x, y) = pair?;
            let corner = frame.place(x, y);
            // `size` is the box as seen; the block's own width is its height when it lies sideways.
            let (width, height) = match given {
                Some(seen) => seen,
                None => turned(own_size(&block)?),
            };
            (
                Point::new(corner.x + width / 2.0, corner.y - height / 2.0),
                turned((width, height)),
            )
        }
        (None, Some((_, pair))) => {
            let (x, y) = pair?;
            let own = match given {
                Some(own) => own,
                None => own_size(&block)?,
            };
            (frame.place(x, y), own)
        }
        (Some((n, _)), Some(_)) => {
            r.error(
                &n.span,
                "bad-place",
                "a placed block has both at and center",
                "one of them",
            );
            return None;
        }
        (None, None) => {
            r.error(
                &span,
                "missing-key",
                "a placed block has no place",
                "at = [across, down]",
            );
            return None;
        }
    };
    if centre.x.abs() > 4000.0 || centre.y.abs() > 4000.0 {
        r.error(
            &span,
            "bad-place",
            "the block lies far outside",
            "a place inside the drawing",
        );
        return None;
    }
    Some(Placement {
        block,
        centre,
        size,
        turn,
        flip,
        recolor,
    })
}

/// `of` is the placed block: the roles that the collection is drawn in need not be fabrics of the file.
fn read_recolor(r: &mut Reading, node: &Node, of: &str, places: &mut Places) -> BTreeMap<FabricId, FabricId> {
    let mut map = BTreeMap::new();
    let Value::Table(entries) = &node.value else {
        r.wrong_type(node, "recolor", "a table such as { foam = \"brass\" }");
        return map;
    };
    for entry in entries {
        let from = FabricId(entry.key.clone());
        if !(of.starts_with(PREFIX) && ROLES.contains(&from.as_str())) {
            places.fabrics.push((from.clone(), entry.at.clone()));
        }
        if let Some(to) = read_role(r, &entry.node, "recolor", places) {
            map.insert(from, to);
        }
    }
    map
}

/// `name`, `name@90`, `name~`, `name~@180`.
pub(super) fn read_cell_text(text: &str) -> Result<crate::Cell, String> {
    let (rest, quarters) = match text.split_once('@') {
        None => (text, 0),
        Some((rest, turn)) => match turn {
            "0" => (rest, 0),
            "90" => (rest, 1),
            "180" => (rest, 2),
            "270" => (rest, 3),
            other => return Err(format!("a block cannot be turned by \"{}\"", shown(other))),
        },
    };
    let (name, flip) = match rest.strip_suffix('~') {
        Some(name) => (name, true),
        None => (rest, false),
    };
    if !is_name(name.strip_prefix("std/").unwrap_or(name)) {
        return Err(format!("\"{}\" is not a block", shown(text)));
    }
    Ok(crate::Cell {
        block: name.to_string(),
        quarters,
        flip,
    })
}
