//! Generated designs: recursive straight cuts at any angle, nested blocks, repeated blocks, tiny and large. Valid by
//! construction, and written as design files, so that reading them is tried too.
//!
//! The same function serves as property test and as fuzz input: one number gives one design.

use std::collections::{BTreeMap, BinaryHeap};
use std::fmt::Write as _;

/// What to generate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// Gives everything that is left to chance.
    pub seed: u64,
    /// All corners lie on marks of 1/4 in.
    pub on_marks: bool,
    /// About so many patches to a block.
    pub patches: usize,
    /// Rows and columns of blocks.
    pub rows: usize,
    /// See `rows`.
    pub columns: usize,
    /// Some rectangles hold another block.
    pub nested: bool,
    /// Sashing with cornerstones and a border.
    pub framed: bool,
    /// Some rectangles are windmills, or corners with a rectangle set in: no seam runs through.
    pub round_corners: bool,
    /// All blocks are pinned to foundation paper.
    pub on_paper: bool,
    /// Some rectangles are units of the trade: halves of squares and of rectangles, geese.
    pub units: bool,
}

impl Wanted {
    /// Everything from one number.
    pub fn any(seed: u64) -> Self {
        let mut chance = Chance::new(seed);
        Wanted {
            seed,
            on_marks: chance.below(2) == 0,
            patches: 1 + chance.below(14),
            rows: 1 + chance.below(4),
            columns: 1 + chance.below(4),
            nested: chance.below(3) == 0,
            framed: chance.below(3) == 0,
            round_corners: chance.below(3) == 0,
            on_paper: chance.below(4) == 0,
            units: chance.below(3) == 0,
        }
    }

    /// The design file.
    pub fn design(&self) -> String {
        Author::new(*self).write()
    }
}

/// One block of so many patches, all different, alone in its quilt: what makes the most work for its size. Always the
/// longest patch is cut next, so that few are too large for their cloth.
pub fn free_form(patches: usize) -> String {
    let side = (3.0 * (patches as f64).sqrt()).ceil();
    let wanted = Wanted {
        seed: 1,
        on_marks: false,
        patches,
        rows: 1,
        columns: 1,
        nested: false,
        framed: false,
        round_corners: false,
        on_paper: false,
        units: false,
    };
    let mut author = Author::new(wanted);
    let mut pieces = vec![rectangle(side, side)];
    let rank = |piece: &[Corner], i: usize| {
        let widest = piece
            .iter()
            .flat_map(|&a| piece.iter().map(move |&b| distance(a, b)))
            .fold(0.0, f64::max);
        ((widest * 1.0e6) as u64, i)
    };
    let mut uncut = BinaryHeap::from([rank(&pieces[0], 0)]);
    let mut corners = Corners::default();
    while pieces.len() < patches
        && let Some((_, at)) = uncut.pop()
    {
        // Corners of neighbours that nearly meet on one edge would be welded: cut elsewhere.
        let cut = (0..40).find_map(|_| {
            let (a, b) = author.cut(&pieces[at])?;
            let fresh = [a[0], a[a.len() - 1]];
            fresh.iter().all(|&c| corners.keeps_off(c)).then_some((a, b, fresh))
        });
        if let Some((a, b, fresh)) = cut {
            fresh.into_iter().for_each(|c| corners.add(c));
            uncut.extend([rank(&a, at), rank(&b, pieces.len())]);
            pieces[at] = a;
            pieces.push(b);
        }
    }
    author.begin("Free form");
    let block = author.written("free-form", side, side, &pieces, false);
    author.text + &block + "[layout]\nkind = \"straight\"\nrows = [[\"free-form\"]]\n"
}

/// Corners drawn so far, in cells of 1/8 in.
#[derive(Default)]
struct Corners(BTreeMap<(i64, i64), Vec<Corner>>);

impl Corners {
    fn cell((x, y): Corner) -> (i64, i64) {
        ((x * 8.0).floor() as i64, (y * 8.0).floor() as i64)
    }

    fn add(&mut self, corner: Corner) {
        self.0.entry(Corners::cell(corner)).or_default().push(corner);
    }

    /// Whether a corner is on one of them, or 1/16 in from all.
    fn keeps_off(&self, corner: Corner) -> bool {
        let (x, y) = Corners::cell(corner);
        (x - 1..=x + 1)
            .flat_map(|x| (y - 1..=y + 1).filter_map(move |y| self.0.get(&(x, y))))
            .flatten()
            .map(|&other| distance(other, corner))
            .all(|d| d <= 1.0e-9 || d > 1.0 / 16.0)
    }
}

/// A small deterministic source of chance (SplitMix64; Steele, Lea, Flood 2014).
#[derive(Clone, Debug)]
pub struct Chance(u64);

impl Chance {
    /// From a seed.
    pub fn new(seed: u64) -> Self {
        Chance(seed)
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number below `n` (`n` > 0).
    pub fn below(&mut self, n: usize) -> usize {
        (self.bits() % n.max(1) as u64) as usize
    }

    /// A share from 0 up to 1.
    pub fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }
}

const FABRICS: [(&str, &str); 5] = [
    ("night", "#1f2d4a"),
    ("foam", "#efe8d8"),
    ("sea", "#6f9a98"),
    ("brass", "#d19a36"),
    ("rust", "#a9472e"),
];

/// The mark that generated corners lie on, inches.
const MARK: f64 = 0.25;

type Corner = (f64, f64);

struct Author {
    wanted: Wanted,
    chance: Chance,
    text: String,
    nested: usize,
}

impl Author {
    fn new(wanted: Wanted) -> Self {
        let chance = Chance::new(wanted.seed ^ 0xD1CE);
        Author {
            wanted,
            chance,
            text: String::new(),
            nested: 0,
        }
    }

    fn write(mut self) -> String {
        let wanted = self.wanted;
        self.begin(&format!("Generated {}", wanted.seed));
        let sizes = [3.0, 6.0, 8.0, 9.0, 12.0, 16.0];
        let least = if wanted.patches > 8 { 3 } else { 0 };
        let side = sizes[least + self.chance.below(sizes.len() - least)];
        let kinds = 1 + self.chance.below(3);
        for kind in 0..kinds {
            let block = self.block(&format!("block-{kind}"), side, side, wanted.patches, wanted.nested);
            self.text.push_str(&block);
        }
        let _ = write!(
            self.text,
            "[layout]\nkind = \"straight\"\ncell = [{side}, {side}]\nfill = \"foam\"\nrows = [\n"
        );
        for _ in 0..wanted.rows {
            let names: Vec<String> = (0..wanted.columns)
                .map(|_| {
                    let flip = if self.chance.below(4) == 0 { "~" } else { "" };
                    let turn = ["", "@90", "@180", "@270"][self.chance.below(4)];
                    format!("\"block-{}{flip}{turn}\"", self.chance.below(kinds))
                })
                .collect();
            let _ = writeln!(self.text, "  [{}],", names.join(", "));
        }
        self.text.push_str("]\n");
        if wanted.framed {
            let outer = self.chance.below(2) == 0;
            let _ = write!(
                self.text,
                "sashing = {{ width = 1.5, fabric = \"sea\", cornerstones = \"brass\", outer = {outer} }}\n\n[[border]]\nwidth = 3\nfabric = \"night\"\n"
            );
        }
        self.text
    }

    /// What stands before the blocks.
    fn begin(&mut self, title: &str) {
        let _ = write!(self.text, "format = 1\n\n[quilt]\ntitle = \"{title}\"\n\n");
        for (name, color) in FABRICS {
            // On paper one print has an up, whichever way the seams lie.
            let up = if self.wanted.on_paper && name == "brass" {
                "print = \"one-way\"\nup = \"block\"\n"
            } else {
                ""
            };
            let _ = write!(self.text, "[[fabric]]\nname = \"{name}\"\ncolor = \"{color}\"\n{up}\n");
        }
    }

    /// A block cut into about so many patches.
    fn block(&mut self, name: &str, width: f64, height: f64, patches: usize, nest: bool) -> String {
        let mut pieces = vec![rectangle(width, height)];
        let mut misses = 0;
        while pieces.len() < patches && misses < 60 {
            // The larger a piece, the likelier it is cut.
            let largest = (0..3)
                .map(|_| self.chance.below(pieces.len()))
                .max_by(|&a, &b| area(&pieces[a]).total_cmp(&area(&pieces[b])));
            let Some(at) = largest else { break };
            if self.wanted.round_corners
                && self.chance.below(4) == 0
                && let Some(parts) = self.without_through_seam(&pieces[at])
            {
                pieces.swap_remove(at);
                pieces.extend(parts);
                continue;
            }
            if self.wanted.units
                && self.chance.below(3) == 0
                && let Some(parts) = self.as_unit(&pieces[at])
            {
                pieces.swap_remove(at);
                pieces.extend(parts);
                continue;
            }
            match self.cut(&pieces[at]) {
                Some((a, b)) => {
                    pieces[at] = a;
                    pieces.push(b);
                }
                None => misses += 1,
            }
        }
        self.written(name, width, height, &pieces, nest)
    }

    /// The block in the file's words; some of its rectangles become blocks of their own.
    fn written(&mut self, name: &str, width: f64, height: f64, pieces: &[Vec<Corner>], nest: bool) -> String {
        let mut before = String::new();
        let mut placed = String::new();
        let pinned = if self.wanted.on_paper {
            "method = \"foundation\"\n"
        } else {
            ""
        };
        let mut text = format!(
            "[[block]]\nname = \"{name}\"\n{pinned}size = [{width}, {height}]\ngrid = [{width}, {height}]\npatches = [\n"
        );
        for piece in pieces {
            if nest
                && self.nested < 4
                && self.chance.below(2) == 0
                && let Some((x, y, w, h)) = as_rectangle(piece)
            {
                self.nested += 1;
                let inner = format!("inner-{}", self.nested);
                let turn = [0, 90, 180, 270][self.chance.below(4)];
                let (bw, bh) = if turn % 180 == 90 { (h, w) } else { (w, h) };
                before.push_str(&self.block(&inner, bw, bh, 4, false));
                let flip = self.chance.below(3) == 0;
                let _ = writeln!(
                    placed,
                    "  {{ block = \"{inner}\", at = [{x}, {y}], size = [{w}, {h}], turn = {turn}, flip = {flip} }},"
                );
                continue;
            }
            // In few cloths the two wings of a goose are often one.
            let cloths = if self.wanted.units { 2 } else { FABRICS.len() };
            let fabric = FABRICS[self.chance.below(cloths)].0;
            let mut path = String::new();
            for (i, (x, y)) in piece.iter().enumerate() {
                let _ = write!(path, "{}{x} {y} ", if i == 0 { "M" } else { "L" });
            }
            let _ = writeln!(text, "  {{ fabric = \"{fabric}\", path = \"{path}Z\" }},");
        }
        let _ = write!(text, "]\nplace = [\n{placed}]\n\n");
        before + &text
    }

    /// A rectangle as a windmill of either hand, or as a rectangle set into a mitred corner, if the parts are fair.
    fn without_through_seam(&mut self, piece: &[Corner]) -> Option<Vec<Vec<Corner>>> {
        let (x, y, w, h) = as_rectangle(piece)?;
        let mut between = |from: f64, size: f64| {
            let marks = (size / MARK).round() as usize;
            let a = 1 + self.chance.below(marks.checked_sub(2)?.max(1));
            let b = a + 1 + self.chance.below((marks - a).checked_sub(1)?.max(1));
            Some((from + a as f64 * MARK, from + b as f64 * MARK))
        };
        let ((x1, x2), (y1, y2)) = (between(x, w)?, between(y, h)?);
        let (right, top) = (x + w, y + h);
        let box_of = |l: f64, b: f64, r: f64, t: f64| vec![(l, b), (r, b), (r, t), (l, t)];
        let parts = match self.chance.below(3) {
            0 => vec![
                box_of(x, y, x2, y1),
                box_of(x2, y, right, y2),
                box_of(x1, y2, right, top),
                box_of(x, y1, x1, top),
                box_of(x1, y1, x2, y2),
            ],
            1 => vec![
                box_of(x1, y, right, y1),
                box_of(x2, y1, right, top),
                box_of(x, y2, x2, top),
                box_of(x, y, x1, y2),
                box_of(x1, y1, x2, y2),
            ],
            _ => vec![
                box_of(x1, y, right, y1),
                vec![(x, y), (x1, y), (x1, y1), (x, top)],
                vec![(x, top), (x1, y1), (right, y1), (right, top)],
            ],
        };
        parts.iter().all(|p| fair(p)).then_some(parts)
    }

    /// A rectangle on one of its diagonals, or one twice as wide as high (or as high as wide) as a goose.
    fn as_unit(&mut self, piece: &[Corner]) -> Option<Vec<Vec<Corner>>> {
        let (x, y, w, h) = as_rectangle(piece)?;
        let [a, b, c, d] = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)];
        let mut choices = vec![vec![vec![a, b, c], vec![a, c, d]], vec![vec![a, b, d], vec![b, c, d]]];
        if w == 2.0 * h || h == 2.0 * w {
            let (corners, tips) = if w > h {
                ([a, b, c, d], [(x + w / 2.0, y + h), (x + w / 2.0, y)])
            } else {
                ([b, c, d, a], [(x, y + h / 2.0), (x + w, y + h / 2.0)])
            };
            let [p, q, r, s] = corners;
            choices.push(vec![vec![p, q, tips[0]], vec![q, r, tips[0]], vec![s, p, tips[0]]]);
            choices.push(vec![vec![r, s, tips[1]], vec![s, p, tips[1]], vec![q, r, tips[1]]]);
        }
        let parts = choices.swap_remove(self.chance.below(choices.len()));
        parts.iter().all(|p| fair(p)).then_some(parts)
    }

    /// Cuts a convex piece in two, if a fair cut is found.
    fn cut(&mut self, piece: &[Corner]) -> Option<(Vec<Corner>, Vec<Corner>)> {
        for _ in 0..20 {
            let n = piece.len();
            let (i, j) = (self.chance.below(n), self.chance.below(n));
            if i >= j {
                continue;
            }
            let square = self.chance.below(3) == 0;
            let Some(p) = self.place_on(piece, i) else { continue };
            let q = if square {
                across(piece, i, j, p)
            } else {
                self.place_on(piece, j)
            };
            let Some(mut q) = q else { continue };
            let mut p = p;
            // Squares are often halved on the diagonal, and corners cut off at 45°, as the trade does.
            if let Some((_, _, w, h)) = as_rectangle(piece) {
                if w == h && j == i + 2 && self.chance.below(2) == 0 {
                    (p, q) = (piece[i], piece[j]);
                } else if j == i + 1 && self.chance.below(2) == 0 {
                    let leg = (1 + self.chance.below(4)) as f64;
                    if leg <= w.min(h) {
                        (p, q) = (along(piece[j], piece[i], leg), along(piece[j], piece[(j + 1) % n], leg));
                    }
                }
            }
            let mut a = vec![p];
            a.extend_from_slice(&piece[i + 1..=j]);
            a.push(q);
            let mut b = vec![q];
            b.extend_from_slice(&piece[j + 1..]);
            b.extend_from_slice(&piece[..=i]);
            b.push(p);
            let (a, b) = (without_doubles(a), without_doubles(b));
            if fair(&a) && fair(&b) {
                return Some((a, b));
            }
        }
        None
    }

    /// A place on edge `i`: a mark along it, a corner, or anywhere.
    fn place_on(&mut self, piece: &[Corner], i: usize) -> Option<Corner> {
        let (a, b) = (piece[i], piece[(i + 1) % piece.len()]);
        if self.chance.below(4) == 0 {
            return Some(a);
        }
        if self.wanted.on_marks {
            if (a.0 - b.0).abs() > 1e-9 && (a.1 - b.1).abs() > 1e-9 {
                return Some(if self.chance.below(2) == 0 { a } else { b });
            }
            let length = (b.0 - a.0).abs().max((b.1 - a.1).abs());
            let marks = (length / MARK).round() as usize;
            if marks < 2 {
                return None;
            }
            let t = (1 + self.chance.below(marks - 1)) as f64 * MARK / length;
            let snap = |x: f64| (x / MARK).round() * MARK;
            return Some((snap(a.0 + (b.0 - a.0) * t), snap(a.1 + (b.1 - a.1) * t)));
        }
        let t = 0.15 + 0.7 * self.chance.share();
        Some((a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t))
    }
}

/// The place on edge `j` straight across (upright or level) from `p` on edge `i`, so that square cuts are common.
fn across(piece: &[Corner], i: usize, j: usize, p: Corner) -> Option<Corner> {
    let (a, b) = (piece[i], piece[(i + 1) % piece.len()]);
    let (c, d) = (piece[j], piece[(j + 1) % piece.len()]);
    let level = (a.1 - b.1).abs() < 1e-9 && (c.1 - d.1).abs() < 1e-9;
    let upright = (a.0 - b.0).abs() < 1e-9 && (c.0 - d.0).abs() < 1e-9;
    let within = |x: f64, u: f64, v: f64| x > u.min(v) + 1e-9 && x < u.max(v) - 1e-9;
    if level && within(p.0, c.0, d.0) {
        return Some((p.0, c.1));
    }
    if upright && within(p.1, c.1, d.1) {
        return Some((c.0, p.1));
    }
    None
}

fn rectangle(width: f64, height: f64) -> Vec<Corner> {
    vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
}

/// The place so far from `from` toward `to`.
fn along(from: Corner, to: Corner, by: f64) -> Corner {
    let length = distance(from, to);
    (
        from.0 + (to.0 - from.0) * by / length,
        from.1 + (to.1 - from.1) * by / length,
    )
}

fn without_doubles(corners: Vec<Corner>) -> Vec<Corner> {
    let mut kept: Vec<Corner> = Vec::new();
    for c in corners {
        if kept.last().is_none_or(|&l| distance(l, c) > 1e-9) {
            kept.push(c);
        }
    }
    while kept.len() > 1 && distance(kept[0], kept[kept.len() - 1]) <= 1e-9 {
        kept.pop();
    }
    kept
}

fn distance(a: Corner, b: Corner) -> f64 {
    ((a.0 - b.0).powi(2) + (a.1 - b.1).powi(2)).sqrt()
}

fn area(piece: &[Corner]) -> f64 {
    let n = piece.len();
    let twice: f64 = (0..n)
        .map(|i| {
            let (a, b) = (piece[i], piece[(i + 1) % n]);
            a.0 * b.1 - b.0 * a.1
        })
        .sum();
    (twice / 2.0).abs()
}

/// Large enough to sew: no edge under 3/4 in, nowhere narrower than 1/2 in, no angle under about 20°, no corner flat.
fn fair(piece: &[Corner]) -> bool {
    let n = piece.len();
    if n < 3 {
        return false;
    }
    (0..n).all(|i| {
        let (a, b, c) = (piece[(i + n - 1) % n], piece[i], piece[(i + 1) % n]);
        let (u, v) = ((a.0 - b.0, a.1 - b.1), (c.0 - b.0, c.1 - b.1));
        let (lu, lv) = (distance(a, b), distance(b, c));
        if lu < 0.75 || lv < 0.75 {
            return false;
        }
        let cos = (u.0 * v.0 + u.1 * v.1) / (lu * lv);
        let height = |k: usize| {
            let p = piece[k];
            ((c.0 - b.0) * (p.1 - b.1) - (c.1 - b.1) * (p.0 - b.0)).abs() / lv
        };
        let narrow = (0..n).map(height).fold(0.0, f64::max);
        cos < 0.94 && cos > -0.999 && narrow >= 0.5
    })
}

fn as_rectangle(piece: &[Corner]) -> Option<(f64, f64, f64, f64)> {
    if piece.len() != 4 {
        return None;
    }
    let low = piece
        .iter()
        .fold((f64::MAX, f64::MAX), |m, c| (m.0.min(c.0), m.1.min(c.1)));
    let high = piece
        .iter()
        .fold((f64::MIN, f64::MIN), |m, c| (m.0.max(c.0), m.1.max(c.1)));
    let (w, h) = (high.0 - low.0, high.1 - low.1);
    ((area(piece) - w * h).abs() < 1e-9).then_some((low.0, low.1, w, h))
}

/// A field of hexagons of random colours in one block, to be pieced over card.
pub fn hexagons(seed: u64) -> String {
    let mut chance = Chance::new(seed);
    let (columns, rows) = (1 + chance.below(6), 1 + chance.below(6));
    let side = [0.75, 1.0, 1.25, 1.5][chance.below(4)];
    let cloths = ["sky", "sun", "leaf", "clay"];
    let half = 3f64.sqrt() / 2.0;
    let (wide, high) = (2.0 * half * columns as f64, 1.5 * (rows + 1) as f64);
    let mut patches = String::new();
    // Rows stand with their middles on the upper edge, then 3/2 of a side further down; every second one is half a hexagon
    // further right. What lies beyond the block is cut off.
    for row in 0..=rows + 1 {
        for column in 0..=columns {
            let shift = if row % 2 == 1 { half } else { 0.0 };
            let (x, y) = (2.0 * half * column as f64 + shift, 1.5 * row as f64);
            let corners = [
                (0.0, -1.0),
                (half, -0.5),
                (half, 0.5),
                (0.0, 1.0),
                (-half, 0.5),
                (-half, -0.5),
            ];
            let whole: Vec<Corner> = corners.iter().map(|&(dx, dy)| (x + dx, y + dy)).collect();
            let cut = within_box(whole, wide, high);
            if cut.len() < 3 {
                continue;
            }
            let path: Vec<String> = cut.iter().map(|(x, y)| format!("{x:.7} {y:.7}")).collect();
            let cloth = cloths[chance.below(cloths.len())];
            let _ = writeln!(
                patches,
                "  {{ fabric = \"{cloth}\", path = \"M{} Z\" }},",
                path.join(" L")
            );
        }
    }
    let mut text = String::from("format = 1\n\n[quilt]\ntitle = \"Hexagons\"\n");
    for (cloth, color) in cloths.iter().zip(["#88aacc", "#e0b040", "#5f8f5f", "#a05038"]) {
        let _ = write!(text, "\n[[fabric]]\nname = \"{cloth}\"\ncolor = \"{color}\"\n");
    }
    let (w, h) = (wide * side, high * side);
    let _ = write!(
        text,
        "\n[[block]]\nname = \"field\"\nsize = [\"{w:.7} in\", \"{h:.7} in\"]\ngrid = [{wide:.7}, {high:.7}]\nmethod = \"over card\"\npatches = [\n{patches}]\n\n[layout]\nrows = [[\"field\"]]\n"
    );
    text
}

/// What of an outline lies within a box from nothing, nothing.
fn within_box(mut outline: Vec<Corner>, wide: f64, high: f64) -> Vec<Corner> {
    let sides: [fn(Corner, f64, f64) -> f64; 4] = [|c, _, _| c.0, |c, w, _| w - c.0, |c, _, _| c.1, |c, _, h| h - c.1];
    for inside in sides {
        let n = outline.len();
        let mut kept: Vec<Corner> = Vec::new();
        for i in 0..n {
            let (a, b) = (outline[i], outline[(i + 1) % n]);
            let (da, db) = (inside(a, wide, high), inside(b, wide, high));
            if da > -1.0e-9 {
                kept.push(a);
            }
            if (da > 1.0e-9 && db < -1.0e-9) || (da < -1.0e-9 && db > 1.0e-9) {
                let t = da / (da - db);
                kept.push((a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t));
            }
        }
        outline = kept;
    }
    let area: f64 = (0..outline.len())
        .map(|i| {
            let (a, b) = (outline[i], outline[(i + 1) % outline.len()]);
            a.0 * b.1 - b.0 * a.1
        })
        .sum();
    if area.abs() < 1.0e-6 { Vec::new() } else { outline }
}
