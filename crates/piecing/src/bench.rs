//! The bench: one making being written, with its slots and marks numbered as it goes.

use crate::pieces::Pieces;
use crate::settings::Settings;
use crate::whys::Whys;
use recipe::{CornerRef, EdgeRef, EdgeRun, Lay, MarkName, Paper, Part, Path, Press, SeamRef, Slot, Step, Stop, Take};

/// What a making takes for one of its parts: the thing, and for each side of its finished outline the number of the
/// edge that lies there.
#[derive(Clone, Debug)]
pub struct Handle {
    /// A piece or a unit.
    pub take: Take,
    /// Edge number of side `i`.
    pub edges: Vec<u32>,
}

/// One making being written.
pub struct Bench<'a> {
    /// Derivations.
    pub whys: &'a mut Whys,
    /// Pieces.
    pub pieces: &'a mut Pieces,
    /// Settings.
    pub settings: &'a Settings,
    /// Parts taken.
    pub parts: Vec<Part>,
    /// Steps written.
    pub steps: Vec<Step>,
    /// Foundation papers taken, not named yet.
    pub papers: Vec<Paper>,
    /// Which way the making's seams go, as far as that is decided.
    pub ways: Vec<Press>,
    slots: u32,
    marks: u32,
}

impl<'a> Bench<'a> {
    /// An empty bench.
    pub fn new(whys: &'a mut Whys, pieces: &'a mut Pieces, settings: &'a Settings) -> Self {
        Bench {
            whys,
            pieces,
            settings,
            parts: Vec::new(),
            steps: Vec::new(),
            papers: Vec::new(),
            ways: Vec::new(),
            slots: 0,
            marks: 0,
        }
    }

    /// Which way the making's seam of this number goes; as given where nothing is decided.
    pub fn way(&self, seam: usize, else_this: Press) -> Press {
        self.ways.get(seam).copied().unwrap_or(else_this)
    }

    /// The next free slot.
    pub fn slot(&mut self) -> Slot {
        self.slots += 1;
        Slot(self.slots - 1)
    }

    /// A name for a line or dot.
    pub fn mark(&mut self, what: &str) -> MarkName {
        self.marks += 1;
        MarkName(format!("{what} {}", self.marks))
    }

    /// Takes a part from the pool.
    pub fn take(&mut self, take: Take) -> Slot {
        let slot = self.slot();
        self.parts.push(Part { slot, take });
        slot
    }

    /// Lays the second on the first, edge on edge, sews a seam's width inside and opens; gives the opened work.
    pub fn sew(&mut self, lower: Slot, upper: Slot, how: Lay, press: Press, join: bool) -> Slot {
        let stack = self.lay_and_sew(lower, upper, how, join);
        let into = self.slot();
        self.step(Step::Open { stack, press, into });
        into
    }

    /// The same without opening; gives the stack.
    pub fn lay_and_sew(&mut self, lower: Slot, upper: Slot, how: Lay, join: bool) -> Slot {
        let by = self.whys.given("seam", self.settings.seam_inches());
        let stack = self.slot();
        self.step(Step::Lay {
            a: lower,
            b: upper,
            how,
            into: stack,
        });
        self.step(Step::Sew {
            stack,
            path: Path::Beside {
                by,
                from: Stop::Raw,
                to: Stop::Raw,
            },
            join,
        });
        stack
    }

    /// Writes a step.
    pub fn step(&mut self, step: Step) {
        self.steps.push(step);
    }
}

/// Shorthand for an edge.
pub fn edge(of: Slot, edge: u32) -> EdgeRef {
    EdgeRef { of, edge }
}

/// Shorthand for a run of one edge.
pub fn run(of: Slot, number: u32) -> EdgeRun {
    EdgeRun(vec![edge(of, number)])
}

/// Shorthand for a corner.
pub fn corner(before: EdgeRef, after: EdgeRef) -> CornerRef {
    CornerRef { before, after }
}

/// The seam just opened in a slot.
pub fn seam(of: Slot) -> SeamRef {
    SeamRef { of, seam: 0 }
}
