//! Writes the design file of what is wanted.

use super::Wanted;
use super::chance::Chance;
use super::outlines::{Corner, area, as_rectangle, rectangle};
use std::fmt::Write as _;

pub(super) const FABRICS: [(&str, &str); 5] = [
    ("night", "#1f2d4a"),
    ("foam", "#efe8d8"),
    ("sea", "#6f9a98"),
    ("brass", "#d19a36"),
    ("rust", "#a9472e"),
];

/// The mark that generated corners lie on, inches.
pub(super) const MARK: f64 = 0.25;

pub(super) struct Author {
    pub(super) wanted: Wanted,
    pub(super) chance: Chance,
    pub(super) text: String,
    nested: usize,
}

impl Author {
    pub(super) fn new(wanted: Wanted) -> Self {
        let chance = Chance::new(wanted.seed ^ 0xD1CE);
        Author {
            wanted,
            chance,
            text: String::new(),
            nested: 0,
        }
    }

    pub(super) fn write(mut self) -> String {
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
    pub(super) fn begin(&mut self, title: &str) {
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
    pub(super) fn written(
        &mut self,
        name: &str,
        width: f64,
        height: f64,
        pieces: &[Vec<Corner>],
        nest: bool,
    ) -> String {
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
        if self.wanted.laid {
            text.push_str(&self.laid(width, height));
        }
        let _ = write!(text, "]\nplace = [\n{placed}]\n\n");
        before + &text
    }
}
