//! Quilts of units of the trade, one kind to a number: what straight cuts left to chance never or seldom give. Sizes, cloths, counts and
//! what is preferred are left to chance.

use super::chance::Chance;
use std::fmt::Write as _;

const CLOTHS: [(&str, &str); 4] = [
    ("ash", "#efe8d8"),
    ("bay", "#1f2d4a"),
    ("clay", "#a33a2a"),
    ("dune", "#c9b27c"),
];

/// How many kinds there are: numbers that differ by this many give the same kind.
pub const KINDS: u64 = 19;

/// A block: what stands in its table besides its name, and its patches, each the number of a cloth and a path with perhaps more.
struct Block {
    size: (f64, f64),
    grid: (f64, f64),
    more: String,
    patches: Vec<(usize, String)>,
}

impl Block {
    fn new(size: (f64, f64), grid: (f64, f64), patches: &[(usize, &str)]) -> Block {
        Block {
            size,
            grid,
            more: String::new(),
            patches: patches.iter().map(|&(cloth, path)| (cloth, path.to_string())).collect(),
        }
    }

    fn grain(mut self, grain: &str) -> Block {
        for (_, path) in &mut self.patches {
            let _ = write!(path, "\", grain = \"{grain}");
        }
        self
    }

    fn pinned(mut self, method: &str) -> Block {
        self.more = format!("method = \"{method}\"\n");
        self
    }
}

/// The design file of a number.
pub fn trade(seed: u64) -> String {
    let mut chance = Chance::new(seed ^ 0x7AADE);
    let mut cloths = [0, 1, 2, 3];
    for i in (1..4).rev() {
        cloths.swap(i, chance.below(i + 1));
    }
    let prefer = ["steps", "steps", "cloth", "forgiving"][chance.below(4)];
    let kind = seed % KINDS;
    let block = block(kind, &mut chance);
    let mut text = format!("format = 1\n[quilt]\ntitle = \"Units {seed}\"\nprefer = \"{prefer}\"\n");
    for (name, color) in CLOTHS {
        let _ = write!(text, "[[fabric]]\nname = \"{name}\"\ncolor = \"{color}\"\n");
    }
    let (w, h) = block.size;
    let _ = write!(
        text,
        "[[block]]\nname = \"unit\"\nsize = [\"{w:.7} in\", \"{h:.7} in\"]\ngrid = [{:.7}, {:.7}]\n{}patches = [\n",
        block.grid.0, block.grid.1, block.more
    );
    for (cloth, path) in &block.patches {
        let _ = writeln!(
            text,
            "  {{ fabric = \"{}\", path = \"{path}\" }},",
            CLOTHS[cloths[*cloth]].0
        );
    }
    text.push_str("]\n[layout]\nrows = [\n");
    // From few to what is made many at a time.
    let (rows, columns) = (1 + chance.below(4), 1 + chance.below(5));
    let flips = kind == 5;
    for _ in 0..rows {
        let cells: Vec<String> = (0..columns)
            .map(|_| {
                let flip = if flips && chance.below(2) == 0 { "~" } else { "" };
                let turn = if w == h {
                    ["", "@90", "@180", "@270"][chance.below(4)]
                } else {
                    ["", "@180"][chance.below(2)]
                };
                format!("\"unit{flip}{turn}\"")
            })
            .collect();
        let _ = writeln!(text, "  [{}],", cells.join(", "));
    }
    text + "]\n"
}

fn block(kind: u64, chance: &mut Chance) -> Block {
    let n = [2.0, 3.0, 4.0, 6.0][chance.below(4)];
    let square = |size: f64, grid: f64, patches: &[(usize, &str)]| Block::new((size, size), (grid, grid), patches);
    match kind {
        0 => square(n, 1.0, &[(0, "M0 0 H1 L0 1 Z"), (1, "M1 0 V1 H0 Z")]),
        // Their long edges on the bias of the unit.
        1 => {
            let halves = square(n, 1.0, &[(0, "M0 0 H1 L0 1 Z"), (1, "M1 0 V1 H0 Z")]);
            if chance.below(2) == 0 {
                halves.pinned("half-squares by fours")
            } else {
                let along = |(cloth, path): &(usize, String)| (*cloth, format!("{path}\", grain = 45, on = \"seam"));
                Block {
                    patches: halves.patches.iter().map(along).collect(),
                    ..halves
                }
            }
        }
        2 => {
            let last = [1, 3][chance.below(2)];
            square(
                n,
                2.0,
                &[
                    (0, "M0 0 H2 L1 1 Z"),
                    (1, "M2 0 V2 L1 1 Z"),
                    (0, "M2 2 H0 L1 1 Z"),
                    (last, "M0 2 V0 L1 1 Z"),
                ],
            )
        }
        3 | 4 => {
            let right = if kind == 3 { 1 } else { 2 };
            Block::new(
                (2.0 * n, n),
                (2.0, 1.0),
                &[(0, "M1 0 L2 1 H0 Z"), (1, "M0 0 H1 L0 1 Z"), (right, "M1 0 H2 V1 Z")],
            )
        }
        5 => Block::new((n, 2.0 * n), (1.0, 1.0), &[(0, "M1 0 V1 H0 Z"), (1, "M0 0 H1 L0 1 Z")]),
        6 => nine(n, chance),
        7 => checks(n, chance),
        8 => rails(n, chance),
        9 => diamonds(n, chance),
        10 | 11 => square_in_square(n, kind == 11, chance),
        12 => corners(n, chance),
        13 => leaning(n, chance),
        14 => wedges(n),
        15 | 16 => log_cabin(kind == 16, chance),
        17 => windmill(n, chance),
        // A square set into a mitred corner.
        _ => square(
            n.max(3.0),
            3.0,
            &[
                (0, "M1 0 H3 V2 H1 Z"),
                (1, "M0 0 H1 V2 L0 3 Z"),
                (2, "M0 3 L1 2 H3 V3 Z"),
            ],
        ),
    }
}

fn cell(x: usize, y: usize) -> String {
    format!("M{x} {y} h1 v1 h-1 Z")
}

/// Three rows of three squares.
fn nine(n: f64, chance: &mut Chance) -> Block {
    let middle = 1 + chance.below(2);
    let mut block = Block::new((n.max(3.0), n.max(3.0)), (3.0, 3.0), &[]);
    for (x, y) in (0..9).map(|i| (i % 3, i / 3)) {
        let cloth = if (x, y) == (1, 1) { 2 * middle - 2 } else { (x + y) % 2 };
        block.patches.push((cloth, cell(x, y)));
    }
    block
}

/// A checkerboard of four by four.
fn checks(n: f64, chance: &mut Chance) -> Block {
    let count = [2, 4][chance.below(2)];
    let size = n.max(count as f64);
    let mut block = Block::new((size, size), (count as f64, count as f64), &[]);
    for (x, y) in (0..count * count).map(|i| (i % count, i / count)) {
        block.patches.push(((x + y) % 2, cell(x, y)));
    }
    if count == 2 && chance.below(2) == 0 {
        block = block.pinned("plain patches, trimmed");
    }
    block
}

/// Two to five rails.
fn rails(n: f64, chance: &mut Chance) -> Block {
    let count = 2 + chance.below(4);
    let size = [1.0, 1.5, 2.0][chance.below(3)] * count as f64;
    let long = if chance.below(3) == 0 { n } else { size };
    let mut block = Block::new((long, size), (1.0, count as f64), &[]);
    for y in 0..count {
        block.patches.push(([0, 1, 2, 1, 3][y], format!("M0 {y} h1 v1 h-1 Z")));
    }
    block
}

/// A band of diamonds at 45 or 60 degrees, two by two, between the corners that make it a rectangle.
fn diamonds(n: f64, chance: &mut Chance) -> Block {
    let wide = [1.5, 2.0][chance.below(2)] * if n > 3.0 { 1.5 } else { 1.0 };
    // Diamonds so wide across, leaning so far for each row.
    let (high, side) = if chance.below(2) == 0 {
        (wide, wide * std::f64::consts::SQRT_2)
    } else {
        (wide, wide * 2.0 / 3f64.sqrt())
    };
    let lean = (side * side - high * high).sqrt();
    let count = 2 + chance.below(2);
    let total = 2.0 * side + count as f64 * lean;
    let mut block = Block::new((total, count as f64 * high), (total, count as f64 * high), &[]);
    // Row by row from strip sets, or patch by patch along the ruler's lines.
    if chance.below(2) == 0 {
        block = block.pinned("angled strip sets");
    }
    for row in 0..count {
        // From the top row, which leans furthest to the right.
        let (top, bottom) = ((count - row) as f64 * lean, (count - row - 1) as f64 * lean);
        let (y, below) = (row as f64 * high, (row + 1) as f64 * high);
        for column in 0..2 {
            let x = column as f64 * side;
            let path = format!(
                "M{:.7} {y:.7} L{:.7} {y:.7} L{:.7} {below:.7} L{:.7} {below:.7} Z",
                x + top,
                x + side + top,
                x + side + bottom,
                x + bottom
            );
            block.patches.push(((row + column) % 2, path));
        }
    }
    let (reach, deep) = (count as f64 * lean, count as f64 * high);
    let (left, right) = (
        format!("M0 0 L{reach:.7} 0 L0 {deep:.7} Z"),
        format!("M{total:.7} 0 L{total:.7} {deep:.7} L{:.7} {deep:.7} Z", total - reach),
    );
    block.patches.extend([(3, left), (3, right)]);
    block
}

/// A square on its corners in a square: flipped, of halves, or of quarters of squares, as the grain goes.
fn square_in_square(n: f64, quarters: bool, chance: &mut Chance) -> Block {
    let grain = if quarters { 45 } else { 0 };
    let corner = [
        "M0 0 L1 0 L0 1 Z",
        "M2 0 L2 1 L1 0 Z",
        "M2 2 L1 2 L2 1 Z",
        "M0 2 L0 1 L1 2 Z",
    ];
    let mut block = Block::new((n, n), (2.0, 2.0), &[(0, "M1 0 L2 1 L1 2 L0 1 Z")]);
    if chance.below(2) == 0 {
        block = block.grain("x");
    }
    for (i, path) in corner.into_iter().enumerate() {
        // The long edges of two opposite corners lean one way.
        let turned = if i % 2 == 0 { grain } else { 180 - grain };
        block
            .patches
            .push((1, format!("{path}\", grain = {turned}, on = \"seam")));
    }
    block
}

/// A rectangle with one to four corners off.
fn corners(n: f64, chance: &mut Chance) -> Block {
    let off = [1, 2, 4][chance.below(3)];
    let size = n.max(3.0);
    let all = [
        "M0 0 L1 0 L0 1 Z",
        "M3 0 L3 1 L2 0 Z",
        "M3 3 L2 3 L3 2 Z",
        "M0 3 L0 2 L1 3 Z",
    ];
    let body = [
        "M0 1 L1 0 H3 V3 H0 Z",
        "M0 1 L1 0 H2 L3 1 V3 H0 Z",
        "",
        "M0 1 L1 0 H2 L3 1 V2 L2 3 H1 L0 2 Z",
    ][off - 1];
    let mut block = Block::new((size, size), (3.0, 3.0), &[(0, body)]);
    block
        .patches
        .extend(all[..off].iter().map(|path| (1, path.to_string())));
    block
}

/// Two pieces that meet at a slope of two to one, of either hand.
fn leaning(n: f64, chance: &mut Chance) -> Block {
    let paths = match chance.below(2) {
        0 => ["M0 0 H2 L1 2 H0 Z", "M2 0 H4 V2 H1 Z"],
        _ => ["M0 0 H1 L2 2 H0 Z", "M1 0 H4 V2 H2 Z"],
    };
    Block::new((2.0 * n, n), (4.0, 2.0), &[(0, paths[0]), (1, paths[1])])
}

/// Eight wedges round the middle and corners.
fn wedges(n: f64) -> Block {
    // From the middle every second wedge ends on a side of the block, between corners of so much.
    let off = 2.0 - std::f64::consts::SQRT_2;
    let (near, far) = (format!("{off:.7}"), format!("{:.7}", 2.0 - off));
    let size = n.max(4.0) * 1.5;
    let mut block = Block::new((size, size), (2.0, 2.0), &[]);
    let ring = [
        format!("{near} 0"),
        format!("{far} 0"),
        format!("2 {near}"),
        format!("2 {far}"),
        format!("{far} 2"),
        format!("{near} 2"),
        format!("0 {far}"),
        format!("0 {near}"),
    ];
    for i in 0..8 {
        let path = format!("M1 1 L{} L{} Z", ring[i], ring[(i + 1) % 8]);
        block.patches.push((i % 2, path));
    }
    for (i, corner) in [(1, "2 0"), (3, "2 2"), (5, "0 2"), (7, "0 0")] {
        let path = format!("M{} L{corner} L{} Z", ring[i], ring[(i + 1) % 8]);
        block.patches.push((2, path));
    }
    block
}

/// Four rectangles chasing one another round a square, of either hand.
fn windmill(n: f64, chance: &mut Chance) -> Block {
    let paths = match chance.below(2) {
        0 => [
            "M0 0 H2 V1 H0 Z",
            "M2 0 H3 V2 H2 Z",
            "M1 2 H3 V3 H1 Z",
            "M0 1 H1 V3 H0 Z",
        ],
        _ => [
            "M1 0 H3 V1 H1 Z",
            "M2 1 H3 V3 H2 Z",
            "M0 2 H2 V3 H0 Z",
            "M0 0 H1 V2 H0 Z",
        ],
    };
    let size = n.max(3.0);
    let mut block = Block::new((size, size), (3.0, 3.0), &[(2, "M1 1 H2 V2 H1 Z")]);
    let arms = paths.iter().enumerate().map(|(i, path)| (i % 2, path.to_string()));
    block.patches.extend(arms);
    block
}

/// A middle and one to three rounds of logs; in one turn, or on opposite sides.
fn log_cabin(opposite: bool, chance: &mut Chance) -> Block {
    let rounds = 1 + chance.below(3);
    let middle = 1 + chance.below(2);
    let side = middle + 2 * rounds;
    let size = side as f64 * [0.75, 1.0, 1.5][chance.below(3)];
    let mut block = Block::new((size, size), (side as f64, side as f64), &[]);
    let at = rounds;
    block
        .patches
        .push((3, format!("M{at} {at} h{middle} v{middle} h-{middle} Z")));
    let mut log = |cloth: usize, x: usize, y: usize, w: usize, h: usize| {
        block.patches.push((cloth, format!("M{x} {y} h{w} v{h} h-{w} Z")));
    };
    for round in 1..=rounds {
        let (low, inner) = (at - round, middle + 2 * (round - 1));
        let (near, far) = (low + 1, low + 1 + inner);
        if opposite {
            log(0, near, low, inner, 1);
            log(0, near, far, inner, 1);
            log(1, low, low, 1, inner + 2);
            log(1, far, low, 1, inner + 2);
        } else {
            log(0, near, low, inner, 1);
            log(0, far, low, 1, inner + 1);
            log(1, near, far, inner + 1, 1);
            log(1, low, low, 1, inner + 2);
        }
    }
    match chance.below(3) {
        0 => block.pinned("log cabin rounds, trimmed"),
        _ => block,
    }
}
