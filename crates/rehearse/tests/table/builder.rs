//! A small builder for recipes written by hand.

use measure::{Length, Measure};
use recipe::{
    Bought, BoughtCloth, ClothPlan, CornerRef, Cut, CutPlan, CutRun, EdgeRef, EdgeRun, End, FabricNote, Give, Gives,
    Lay, Make, Measured, Meet, Part, Path, Pattern, PieceCut, PieceNote, Press, PrintNote, RECIPE_FORMAT, Recipe, Size,
    Slot, Step, Stop, Strip, Take, Turn,
};
use rehearse::{Proof, rehearse};
use shape::{Point, Polygon};
use terms::{FabricId, Face, Finding, PatchPath, PieceId, Place, StepId, TopPicture, UnitId, UpWanted};

/// So many 64ths of an inch.
pub fn s64(count: i64) -> Size {
    Size::bare(Length::fraction(count, 64))
}

/// Eighths.
pub fn s8(count: i64) -> Size {
    s64(count * 8)
}

/// The nearest unit to so many inches.
pub fn near(inches: f64) -> Size {
    Size::bare(Length::nearest(inches).unwrap())
}

/// Edge `edge` of slot `of`.
pub fn e(of: u32, edge: u32) -> EdgeRef {
    EdgeRef { of: Slot(of), edge }
}

pub fn run(edges: &[(u32, u32)]) -> EdgeRun {
    EdgeRun(edges.iter().map(|&(of, edge)| e(of, edge)).collect())
}

pub fn corner(before: EdgeRef, after: EdgeRef) -> CornerRef {
    CornerRef { before, after }
}

pub fn even(a: EdgeRef, b: EdgeRef) -> End {
    End::Even { a, b }
}

#[allow(clippy::too_many_arguments)]
pub fn lay(
    a: u32,
    b: u32,
    into: u32,
    run_a: EdgeRun,
    run_b: EdgeRun,
    first: End,
    last: End,
    meets: &[(u32, u32)],
) -> Step {
    Step::Lay {
        a: Slot(a),
        b: Slot(b),
        how: Lay::Edges {
            a: run_a,
            b: run_b,
            first,
            last,
            meets: meets.iter().map(|&(a, b)| Meet { a, b }).collect(),
        },
        into: Slot(into),
    }
}

pub fn sew(stack: u32) -> Step {
    Step::Sew {
        stack: Slot(stack),
        path: Path::Beside {
            by: s8(2),
            from: Stop::Raw,
            to: Stop::Raw,
        },
        join: false,
    }
}

/// With these stops.
pub fn sew_to(stack: u32, from: Stop, to: Stop) -> Step {
    Step::Sew {
        stack: Slot(stack),
        path: Path::Beside { by: s8(2), from, to },
        join: false,
    }
}

pub fn open(stack: u32, into: u32) -> Step {
    Step::Open {
        stack: Slot(stack),
        press: Press::TowardUpper,
        into: Slot(into),
    }
}

pub fn across(of: u32, a: EdgeRun, b: EdgeRun, is: Size) -> Step {
    Step::Check {
        of: Slot(of),
        what: Measured::Across(a, b),
        is,
    }
}

pub fn finish(top: u32, sides: &[EdgeRun], up: u32) -> Step {
    Step::Finish {
        top: Slot(top),
        sides: sides.to_vec(),
        up,
        seam: s8(2),
    }
}

pub fn piece(slot: u32, name: &str) -> Part {
    Part {
        slot: Slot(slot),
        take: Take::Piece(PieceId::new(name)),
    }
}

pub fn unit(slot: u32, name: &str) -> Part {
    Part {
        slot: Slot(slot),
        take: Take::Unit(UnitId::new(name)),
    }
}

pub fn give(slot: u32, sides: &[EdgeRun]) -> Give {
    Give {
        slot: Slot(slot),
        sides: sides.to_vec(),
        seams: Vec::new(),
    }
}

pub fn one(name: &str) -> Gives {
    Gives::Piece(PieceCut {
        piece: PieceId::new(name),
        turn: Turn::As,
    })
}

/// A cut: along the lower edge, along the upper edge, what comes off.
pub type Going = (Size, Size, Gives);

/// A cloth bought 40 in wide, each strip with its cuts, each cut `count` times over.
pub struct Bench {
    pub pattern: Pattern,
    pub picture: TopPicture,
}

impl Bench {
    pub fn new() -> Self {
        Bench {
            pattern: Pattern {
                format: RECIPE_FORMAT,
                recipe: Recipe {
                    title: "Test".into(),
                    author: String::new(),
                    edition: "1".into(),
                    measure: Measure::Inch,
                    mark: Length::fraction(1, 8),
                    seam: s8(2),
                    fabrics: Vec::new(),
                    pieces: Vec::new(),
                    makes: Vec::new(),
                },
                cutting: CutPlan::default(),
                bought: Bought::default(),
                whys: Vec::new(),
            },
            picture: TopPicture::default(),
        }
    }

    pub fn cloth(&mut self, fabric: &str, print: PrintNote) -> &mut Self {
        let fabric = FabricId::new(fabric);
        self.pattern.recipe.fabrics.push(FabricNote {
            fabric: fabric.clone(),
            label: fabric.to_string(),
            color: "#000000".into(),
            right_side: true,
            print,
        });
        self.pattern.cutting.cloths.push(ClothPlan {
            fabric: fabric.clone(),
            usable: s8(320),
            square_up: s8(8),
            alike: None,
            strips: Vec::new(),
        });
        self.pattern.bought.cloths.push(BoughtCloth {
            fabric,
            length: s8(8),
            usable: s8(320),
            bound: s8(0),
            pieces: None,
        });
        self
    }

    /// A kind of piece of the cloth named last.
    pub fn kind(&mut self, name: &str) -> &mut Self {
        let fabric = self.pattern.recipe.fabrics.last().unwrap().fabric.clone();
        self.pattern.recipe.pieces.push(PieceNote {
            piece: PieceId::new(name),
            fabric,
            label: name.into(),
            spare: 0,
            twin: None,
        });
        self
    }

    /// One strip of the cloth named last; exactly enough cloth is bought.
    pub fn strip(&mut self, height: Size, runs: &[(u32, &[Going])]) -> &mut Self {
        let strip = Strip {
            height,
            times: 1,
            runs: runs
                .iter()
                .map(|(times, cuts)| CutRun {
                    times: *times,
                    cuts: cuts
                        .iter()
                        .map(|(lower, upper, gives)| Cut {
                            lower: *lower,
                            upper: *upper,
                            ruler: None,
                            gives: gives.clone(),
                        })
                        .collect(),
                })
                .collect(),
            rest: Vec::new(),
            purpose: None,
        };
        self.pattern.cutting.cloths.last_mut().unwrap().strips.push(strip);
        self.pattern.bought.cloths.last_mut().unwrap().length.len += height.len;
        self
    }

    /// `count` rectangles of a new kind of the cloth named last.
    pub fn rectangles(&mut self, name: &str, width: Size, height: Size, count: u32) -> &mut Self {
        self.kind(name).strip(height, &[(count, &[(width, width, one(name))])])
    }

    pub fn make(&mut self, name: &str, times: u32, parts: &[Part], steps: &[Step], gives: &[Give]) -> &mut Self {
        self.pattern.recipe.makes.push(Make {
            unit: UnitId::new(name),
            label: name.into(),
            times,
            parts: parts.to_vec(),
            steps: steps.to_vec(),
            gives: gives.to_vec(),
            spare: 0,
        });
        self
    }

    pub fn outer(&mut self, width: f64, height: f64) -> &mut Self {
        self.picture.outer = Polygon::rectangle(width, height);
        self
    }

    pub fn face(&mut self, fabric: &str, corners: &[(f64, f64)]) -> &mut Self {
        let patch = self.picture.faces.len() as u32;
        self.picture.faces.push(Face {
            outline: Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect()).counter_clockwise(),
            fabric: FabricId::new(fabric),
            up: None,
            patch: PatchPath {
                placements: Vec::new(),
                patch,
            },
        });
        self
    }

    /// The face named last wants its print's up there.
    pub fn up(&mut self, x: f64, y: f64, two_way: bool) -> &mut Self {
        self.picture.faces.last_mut().unwrap().up = Some(UpWanted {
            toward: shape::Vector::new(x, y),
            two_way,
        });
        self
    }

    pub fn rect(&mut self, fabric: &str, x: f64, y: f64, w: f64, h: f64) -> &mut Self {
        self.face(fabric, &[(x, y), (x + w, y), (x + w, y + h), (x, y + h)])
    }

    pub fn rehearse(&self) -> Result<Proof, Vec<Finding>> {
        let p = &self.pattern;
        rehearse(&p.recipe, &p.cutting, &p.bought, &self.picture)
    }

    #[track_caller]
    pub fn proved(&self) -> Proof {
        match self.rehearse() {
            Ok(proof) => proof,
            Err(findings) => {
                let all: Vec<String> = findings.iter().map(|f| f.to_string()).collect();
                panic!("not proved:\n{}", all.join("\n"));
            }
        }
    }

    /// The one finding, by its code.
    #[track_caller]
    pub fn refused(&self, code: &str) -> Finding {
        let findings = self.rehearse().expect_err("should be refused");
        let all: Vec<String> = findings.iter().map(|f| f.to_string()).collect();
        findings
            .into_iter()
            .find(|f| f.code == code)
            .unwrap_or_else(|| panic!("not refused as {code} but:\n{}", all.join("\n")))
    }

    #[track_caller]
    pub fn refused_at(&self, code: &str, unit: &str, step: u32) {
        let finding = self.refused(code);
        assert_eq!(
            finding.place,
            Place::Step(StepId {
                unit: UnitId::new(unit),
                step
            }),
            "{finding}"
        );
    }
}
