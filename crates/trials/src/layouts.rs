//! Generated layouts: simple blocks set straight with sashing and cornerstones, on point, or free on a ground; borders butted,
//! mitred or with corner blocks; sizes, parts, both measures. Every size lies on the ruler's marks where the layout lets it, and
//! blocks fill their cells, so that each is valid by construction.

use crate::generate::Chance;
use std::fmt::Write as _;

/// How the blocks lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Set {
    /// In rows.
    Straight,
    /// In rows with strips between.
    Sashed,
    /// On their corners.
    OnPoint,
    /// On their corners with strips between.
    OnPointSashed,
    /// Anywhere on a ground.
    Free,
}

/// A generated layout.
#[derive(Clone, Debug)]
pub struct Laid {
    /// Its blocks lie so.
    pub set: Set,
    /// What else it has, in a word each.
    pub with: Vec<&'static str>,
    /// The design file.
    pub text: String,
}

/// Blocks drawn in a grid of so many units, each patch a cloth and a path.
type Drawn = (&'static str, u32, &'static [(&'static str, &'static str)]);

const BLOCKS: [Drawn; 6] = [
    (
        "rail",
        3,
        &[
            ("dark", "M0 0 H3 V1 H0 Z"),
            ("light", "M0 1 H3 V2 H0 Z"),
            ("medium", "M0 2 H3 V3 H0 Z"),
        ],
    ),
    (
        "four",
        2,
        &[
            ("dark", "M0 0 H1 V1 H0 Z"),
            ("light", "M1 0 H2 V1 H1 Z"),
            ("light", "M0 1 H1 V2 H0 Z"),
            ("dark", "M1 1 H2 V2 H1 Z"),
        ],
    ),
    (
        "wheel",
        2,
        &[
            ("dark", "M0 0 H1 V1 Z"),
            ("light", "M0 0 L1 1 H0 Z"),
            ("dark", "M1 0 H2 L1 1 Z"),
            ("light", "M2 0 V1 H1 Z"),
            ("medium", "M0 1 H1 V2 H0 Z"),
            ("dark", "M1 1 H2 V2 H1 Z"),
        ],
    ),
    ("half", 1, &[("dark", "M0 0 H1 L0 1 Z"), ("light", "M1 0 V1 H0 Z")]),
    (
        "frame",
        3,
        &[
            ("medium", "M0 0 H3 V1 H0 Z"),
            ("medium", "M0 1 H1 V2 H0 Z"),
            ("dark", "M1 1 H2 V2 H1 Z"),
            ("medium", "M2 1 H3 V2 H2 Z"),
            ("medium", "M0 2 H3 V3 H0 Z"),
        ],
    ),
    ("plain", 1, &[("medium", "M0 0 H1 V1 H0 Z")]),
];

/// The layout of that number.
pub fn layout(seed: u64) -> Laid {
    let mut author = Author {
        chance: Chance::new(seed ^ 0x1a70),
        metric: false,
        with: Vec::new(),
        text: String::new(),
        blocks: Vec::new(),
        cell: 0.0,
    };
    author.write()
}

struct Author {
    chance: Chance,
    metric: bool,
    with: Vec<&'static str>,
    text: String,
    blocks: Vec<&'static str>,
    /// Side of a cell, in the file's unit.
    cell: f64,
}

impl Author {
    fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.chance.below(of.len())]
    }

    fn say(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    fn write(&mut self) -> Laid {
        self.metric = self.chance.below(4) == 0;
        if self.metric {
            self.with.push("metric");
        }
        let set = self.one(&[Set::Straight, Set::Sashed, Set::OnPoint, Set::OnPointSashed, Set::Free]);
        self.head();
        // Thirds and halves of these lie on the marks.
        self.cell = if self.metric {
            self.one(&[15.0, 18.0, 24.0])
        } else {
            self.one(&[6.0, 9.0, 12.0])
        };
        let first = self.chance.below(BLOCKS.len());
        let kinds = 1 + self.chance.below(3);
        let drawn: Vec<Drawn> = (0..kinds).map(|k| BLOCKS[(first + k) % BLOCKS.len()]).collect();
        for block in &drawn {
            self.block(block, self.cell);
            self.blocks.push(block.0);
        }
        let counts = match set {
            Set::Straight | Set::Sashed => self.straight(set == Set::Sashed),
            Set::OnPoint | Set::OnPointSashed => self.on_point(set == Set::OnPointSashed),
            Set::Free => self.free(),
        };
        self.borders();
        self.finish();
        self.sizes(set);
        self.parts(&counts);
        Laid {
            set,
            with: self.with.clone(),
            text: self.text.clone(),
        }
    }

    fn head(&mut self) {
        let units = if self.metric { "metric" } else { "inch" };
        let prefer = self.one(&["steps", "cloth", "forgiving"]);
        self.say(&format!(
            "format = 1\n[quilt]\ntitle = \"Layout\"\nunits = \"{units}\"\nprefer = \"{prefer}\""
        ));
        for (name, color) in [("dark", "#1f2d4a"), ("medium", "#a8552f"), ("light", "#efe8d8")] {
            self.say(&format!("[[fabric]]\nname = \"{name}\"\ncolor = \"{color}\""));
        }
    }

    fn block(&mut self, (name, grid, patches): &Drawn, side: f64) {
        self.say(&format!(
            "[[block]]\nname = \"{name}\"\nsize = {side}\ngrid = {grid}\npatches = ["
        ));
        for (fabric, path) in *patches {
            self.say(&format!("  {{ fabric = \"{fabric}\", path = \"{path}\" }},"));
        }
        self.say("]");
    }

    /// A cell: a block, turned or flipped as squares may be.
    fn cell_text(&mut self) -> String {
        let at = self.chance.below(self.blocks.len());
        let flip = if self.chance.below(4) == 0 { "~" } else { "" };
        let turn = self.one(&["", "", "@90", "@180", "@270"]);
        format!("{}{flip}{turn}", self.blocks[at])
    }

    /// Rows of cells, so many in each; how often each block lies in them.
    fn rows(&mut self, lengths: &[usize], empty: bool) -> (String, Vec<u32>) {
        let mut counts = vec![0; self.blocks.len()];
        let mut rows = Vec::new();
        for &length in lengths {
            let mut cells = Vec::new();
            for _ in 0..length {
                if empty && self.chance.below(6) == 0 {
                    cells.push("\"\"".to_string());
                    continue;
                }
                let cell = self.cell_text();
                if let Some(at) = self
                    .blocks
                    .iter()
                    .position(|b| cell.split(['~', '@']).next() == Some(b))
                {
                    counts[at] += 1;
                }
                cells.push(format!("\"{cell}\""));
            }
            rows.push(format!("[{}]", cells.join(", ")));
        }
        (format!("rows = [{}]", rows.join(", ")), counts)
    }

    fn sashing(&mut self, outer: bool) {
        let width = if self.metric {
            self.one(&[2.5, 4.0])
        } else {
            self.one(&[1.0, 1.5, 2.0])
        };
        let stones = self.chance.below(2) == 0;
        let mut text = format!("sashing = {{ width = {width}, fabric = \"light\"");
        if stones {
            self.with.push("cornerstones");
            text += ", cornerstones = \"dark\"";
        }
        if outer && self.chance.below(2) == 0 {
            self.with.push("outer sashing");
            text += ", outer = true";
        }
        self.say(&(text + " }"));
    }

    fn straight(&mut self, sashed: bool) -> Vec<u32> {
        let (down, across) = (1 + self.chance.below(4), 1 + self.chance.below(4));
        let (rows, counts) = self.rows(&vec![across; down], true);
        let side = self.cell;
        self.say(&format!("[layout]\ncell = {side}\nfill = \"light\"\n{rows}"));
        if sashed {
            self.sashing(true);
        }
        counts
    }

    fn on_point(&mut self, sashed: bool) -> Vec<u32> {
        let (rows, across) = (1 + 2 * self.chance.below(3), 1 + self.chance.below(3));
        // A row of none at all is no row.
        let across = if rows > 1 { across.max(2) } else { across };
        let lengths: Vec<usize> = (0..rows).map(|row| across - row % 2).collect();
        let (text, counts) = self.rows(&lengths, false);
        let side = self.cell;
        self.say(&format!(
            "[layout]\nkind = \"on-point\"\ncell = {side}\nfill = \"light\"\n{text}"
        ));
        if sashed {
            self.sashing(false);
        } else if self.chance.below(2) == 0 {
            self.with.push("float");
            let float = self.one(&[1.0, 2.5]);
            self.say(&format!("float = {float}"));
        }
        counts
    }

    /// Blocks on a ground of so many cells, each in its own size or twice that, none on another; one may stand on its corner.
    fn free(&mut self) -> Vec<u32> {
        let (across, down) = (2 + self.chance.below(4), 2 + self.chance.below(4));
        let mut taken = vec![vec![false; across]; down];
        let mut counts = vec![0; self.blocks.len()];
        let mut placed = Vec::new();
        for _ in 0..(1 + self.chance.below(5)) {
            let size = 1 + usize::from(self.chance.below(3) == 0);
            let (x, y) = (self.chance.below(across - size + 1), self.chance.below(down - size + 1));
            let fresh = (y..y + size).all(|j| (x..x + size).all(|i| !taken[j][i]));
            if !fresh {
                continue;
            }
            (y..y + size).for_each(|j| taken[j][x..x + size].fill(true));
            let at = self.chance.below(self.blocks.len());
            counts[at] += 1;
            let (name, cell) = (self.blocks[at], self.cell);
            let span = cell * size as f64;
            let (left, top) = (x as f64 * cell, y as f64 * cell);
            if size == 2 && self.chance.below(2) == 0 {
                // On its corner, in the middle of its place: across its corners 1.42 cells of the two.
                self.with.push("on its corner");
                placed.push(format!(
                    "{{ block = \"{name}\", center = [{}, {}], size = [{cell}, {cell}], turn = 45 }}",
                    left + cell,
                    top + cell
                ));
                continue;
            }
            let turn = self.one(&[0, 90, 180, 270]);
            let flip = self.chance.below(4) == 0;
            placed.push(format!(
                "{{ block = \"{name}\", at = [{left}, {top}], size = [{span}, {span}], turn = {turn}, flip = {flip} }}"
            ));
        }
        let (w, h) = (across as f64 * self.cell, down as f64 * self.cell);
        self.say(&format!(
            "[layout]\nkind = \"free\"\nsize = [{w}, {h}]\nfill = \"light\"\nplace = [\n  {},\n]",
            placed.join(",\n  ")
        ));
        counts
    }

    fn borders(&mut self) {
        let count = self.chance.below(4);
        let mut corner = String::new();
        let mut borders = String::new();
        for number in 0..count {
            let width = if self.metric {
                self.one(&[5.0, 6.0, 7.5])
            } else {
                self.one(&[2.0, 3.0, 4.0])
            };
            let fabric = self.one(&["dark", "medium"]);
            let _ = write!(borders, "[[border]]\nwidth = {width}\nfabric = \"{fabric}\"\n");
            match self.chance.below(4) {
                0 => {
                    self.with.push("mitred");
                    borders += "corners = \"mitred\"\n";
                }
                1 => {
                    self.with.push("corner blocks");
                    let name = format!("corner-{number}");
                    let _ = write!(
                        corner,
                        "[[block]]\nname = \"{name}\"\nsize = {width}\ngrid = 1\npatches = [{{ fabric = \"light\", path = \"M0 0 H1 V1 Z\" }}, \
                         {{ fabric = \"dark\", path = \"M0 0 L1 1 H0 Z\" }}]\n"
                    );
                    let _ = writeln!(borders, "corners = \"{name}\"");
                }
                2 => {
                    self.with.push("top first");
                    borders += "first = \"top\"\n";
                }
                _ => self.with.push("butted"),
            }
            if self.chance.below(4) == 0 {
                self.with.push("along the cloth");
                borders += "grain = \"length\"\n";
            }
        }
        self.text += &corner;
        self.text += &borders;
    }

    fn finish(&mut self) {
        if self.chance.below(2) == 0 {
            return;
        }
        self.with.push("finish");
        let cut = self.one(&["straight", "bias"]);
        self.say(&format!(
            "[finish]\nbinding = {{ fabric = \"dark\", cut = \"{cut}\" }}\nbacking = {{ fabric = \"medium\" }}\nbatting = {{}}"
        ));
    }

    fn sizes(&mut self, set: Set) {
        if self.chance.below(3) > 0 {
            return;
        }
        self.with.push("sizes");
        let scale = self.one(&["1.5", "2"]);
        self.say(&format!("[[size]]\nname = \"larger\"\nscale = {scale}"));
        if matches!(set, Set::Straight | Set::Sashed) {
            let (rows, _) = self.rows(&[2, 2], false);
            self.say(&format!("[[size]]\nname = \"small\"\n{rows}"));
        }
    }

    fn parts(&mut self, counts: &[u32]) {
        if counts.iter().all(|count| *count == 0) || self.chance.below(3) > 0 {
            return;
        }
        self.with.push("parts");
        let blocks: Vec<(&str, u32)> = (self.blocks.iter().copied())
            .zip(counts.iter().copied())
            .filter(|(_, count)| *count > 0)
            .collect();
        for (number, (name, count)) in blocks.iter().enumerate() {
            let half = count.div_ceil(2);
            self.say(&format!(
                "[[part]]\nname = \"Part {}\"\nblocks = {{ {name} = {half} }}",
                number + 1
            ));
        }
        if self.chance.below(2) == 0 {
            let all: Vec<String> = blocks.iter().map(|(name, _)| format!("{name} = \"all\"")).collect();
            self.say(&format!(
                "[[part]]\nname = \"Last\"\nblocks = {{ {} }}\nalso = [\"sashing\", \"setting\", \"borders\", \"finish\"]",
                all.join(", ")
            ));
        }
    }
}
