//! Drawings in grid units, y down, and the design file around them: one block is the whole top.

use std::fmt::Write;
use trials::whole::Whole;

/// A corner or any other place.
pub type Spot = (f64, f64);

/// The two cloths that most drawings need.
pub const LIGHT: &str = "light";
/// See [`LIGHT`].
pub const DARK: &str = "dark";

/// Patches of one block.
#[derive(Clone, Debug, Default)]
pub struct Drawing {
    patches: Vec<(&'static str, Vec<Spot>)>,
}

/// The corners of a box: top left, top right, bottom right, bottom left.
fn corners(x: f64, y: f64, w: f64, h: f64) -> [Spot; 4] {
    [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
}

fn middle(a: Spot, b: Spot) -> Spot {
    ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0)
}

impl Drawing {
    /// How many patches.
    pub fn count(&self) -> usize {
        self.patches.len()
    }

    /// Any outline.
    pub fn patch(&mut self, cloth: &'static str, outline: &[Spot]) {
        self.patches.push((cloth, outline.to_vec()));
    }

    /// A rectangle.
    pub fn rectangle(&mut self, cloth: &'static str, x: f64, y: f64, w: f64, h: f64) {
        self.patch(cloth, &corners(x, y, w, h));
    }

    /// A square.
    pub fn square(&mut self, cloth: &'static str, x: f64, y: f64, side: f64) {
        self.rectangle(cloth, x, y, side, side);
    }

    /// A square of two triangles; `first` has its right angle at corner `at` (0 top left, then clockwise).
    pub fn half_square(&mut self, [first, second]: [&'static str; 2], at: usize, x: f64, y: f64, side: f64) {
        let c = corners(x, y, side, side);
        self.patch(first, &[c[(at + 3) % 4], c[at % 4], c[(at + 1) % 4]]);
        self.patch(second, &[c[(at + 1) % 4], c[(at + 2) % 4], c[(at + 3) % 4]]);
    }

    /// A square of four triangles: top, right, bottom, left.
    pub fn quarter_square(&mut self, cloths: [&'static str; 4], x: f64, y: f64, side: f64) {
        let c = corners(x, y, side, side);
        let centre = middle(c[0], c[2]);
        for (i, cloth) in cloths.into_iter().enumerate() {
            self.patch(cloth, &[c[i], c[(i + 1) % 4], centre]);
        }
    }

    /// A goose with its tip in the middle of side `tip` (0 top, then clockwise), and its two corners of sky.
    pub fn goose(&mut self, [goose, sky]: [&'static str; 2], tip: usize, x: f64, y: f64, w: f64, h: f64) {
        let c = corners(x, y, w, h);
        let at = |i: usize| c[(tip + i) % 4];
        let point = middle(at(0), at(1));
        self.patch(goose, &[point, at(2), at(3)]);
        self.patch(sky, &[at(0), point, at(3)]);
        self.patch(sky, &[point, at(1), at(2)]);
    }

    /// The four corners of a box cut off from middle to middle of its sides.
    pub fn corners_off(&mut self, cloth: &'static str, x: f64, y: f64, w: f64, h: f64) {
        let c = corners(x, y, w, h);
        for i in 0..4 {
            let (before, here, after) = (c[(i + 3) % 4], c[i], c[(i + 1) % 4]);
            self.patch(cloth, &[middle(before, here), here, middle(here, after)]);
        }
    }

    /// What is left when the corners are off.
    pub fn diamond(&mut self, cloth: &'static str, x: f64, y: f64, w: f64, h: f64) {
        let c = corners(x, y, w, h);
        let outline: Vec<Spot> = (0..4).map(|i| middle(c[i], c[(i + 1) % 4])).collect();
        self.patch(cloth, &outline);
    }

    /// A square, a round of triangles on it, and another round.
    pub fn economy(&mut self, [outer, inner, centre]: [&'static str; 3], x: f64, y: f64, side: f64) {
        self.corners_off(outer, x, y, side, side);
        let c = corners(x, y, side, side);
        let q = corners(x + side / 4.0, y + side / 4.0, side / 2.0, side / 2.0);
        for i in 0..4 {
            self.patch(inner, &[q[i], middle(c[i], c[(i + 1) % 4]), q[(i + 1) % 4]]);
        }
        self.square(centre, x + side / 4.0, y + side / 4.0, side / 2.0);
    }

    /// The same drawing turned clockwise by quarter turns in its grid of `side`, added.
    pub fn add_turned(&mut self, other: &Drawing, quarters: usize, side: f64) {
        for (cloth, outline) in &other.patches {
            let turned = outline
                .iter()
                .map(|&spot| (0..quarters).fold(spot, |(x, y), _| (side - y, x)));
            self.patches.push((cloth, turned.collect()));
        }
    }

    /// The design file: a top of this one block, so large, drawn in a grid of so many units.
    pub fn design(&self, size: Spot, grid: Spot) -> String {
        self.design_with(size, grid, "")
    }

    /// With more lines in its `[quilt]` table.
    pub fn design_with(&self, (w, h): Spot, (across, down): Spot, quilt: &str) -> String {
        let mut text = format!(
            "format = 1\n[quilt]\ntitle = \"Check\"\n{quilt}\n\
             [[fabric]]\nname = \"light\"\ncolor = \"#efe8d8\"\n[[fabric]]\nname = \"dark\"\ncolor = \"#1f2d4a\"\n\
             [[fabric]]\nname = \"mid\"\ncolor = \"#a9472e\"\n\
             [[block]]\nname = \"drawn\"\nsize = [\"{w} in\", \"{h} in\"]\ngrid = [{across}, {down}]\npatches = [\n"
        );
        for (cloth, outline) in &self.patches {
            let path: Vec<String> = outline.iter().map(|(x, y)| format!("{x} {y}")).collect();
            writeln!(text, "  {{ fabric = \"{cloth}\", path = \"M{} Z\" }},", path.join(" L")).unwrap();
        }
        text + "]\n[layout]\nrows = [[\"drawn\"]]\n"
    }

    /// Planned at that size, and proved.
    pub fn proved(&self, size: Spot, grid: Spot) -> Whole {
        proved(&self.design(size, grid))
    }
}

/// A design's whole way, which must end in a proof.
pub fn proved(text: &str) -> Whole {
    let told = |findings: Vec<terms::Finding>| -> Whole {
        let findings: Vec<String> = findings.iter().map(ToString::to_string).collect();
        panic!("{}\n{text}", findings.join("\n"))
    };
    match Whole::of(text) {
        Ok(whole) => match whole.rehearse() {
            Ok(proof) => {
                assert!(proof.largest_difference <= 1.0 / 64.0);
                whole
            }
            Err(findings) => told(findings),
        },
        Err(findings) => told(findings),
    }
}
