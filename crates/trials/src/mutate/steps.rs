//! What a step takes in hand and what it only names: whether two neighbours may change places.

use recipe::{
    CornerRef, EdgeRef, EdgeRun, End, Lay, LineRef, MarkName, Measured, Path, PointRef, Ruler, SeamRef, Step,
};
use std::collections::BTreeSet;

/// What a step does to the table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Touch {
    /// Slots it fills, uses up or alters.
    pub writes: BTreeSet<u32>,
    /// Slots it looks at, or whose edges and seams it names.
    pub reads: BTreeSet<u32>,
    /// Marks it draws.
    pub draws: BTreeSet<String>,
    /// Marks it uses.
    pub uses: BTreeSet<String>,
}

impl Touch {
    /// Of one step.
    pub fn of(step: &Step) -> Touch {
        let mut touch = Touch::default();
        touch.step(step);
        touch
    }

    /// Whether two steps may be done in either order: neither alters, fills or draws what the other needs.
    pub fn commutes(&self, other: &Touch) -> bool {
        let clear = |a: &Touch, b: &Touch| {
            a.writes.is_disjoint(&b.writes)
                && a.writes.is_disjoint(&b.reads)
                && a.draws.is_disjoint(&b.draws)
                && a.draws.is_disjoint(&b.uses)
        };
        clear(self, other) && clear(other, self)
    }

    fn step(&mut self, step: &Step) {
        match step {
            Step::Mark { on, name, line } => {
                self.reads.insert(on.0);
                self.draws.insert(name.0.clone());
                self.ruler(line);
            }
            Step::Dot { on, name, at } => {
                self.reads.insert(on.0);
                self.draws.insert(name.0.clone());
                self.point(at);
            }
            Step::Lay { a, b, how, into } => {
                self.writes.extend([a.0, b.0, into.0]);
                self.lay(how);
            }
            Step::Sew { stack, path, .. } => {
                self.writes.insert(stack.0);
                match path {
                    Path::OnMark(mark) | Path::BothSides { mark, .. } => self.mark(mark),
                    Path::Round { edges, .. } => edges.iter().for_each(|e| self.edge(e)),
                    Path::Beside { .. } | Path::OnPaper { .. } => {}
                }
            }
            Step::CutApart {
                stack,
                line,
                keep,
                offcut,
            } => {
                self.writes.insert(stack.0);
                self.ruler(line);
                for k in keep {
                    self.writes.insert(k.into.0);
                    self.corner(&k.corner);
                }
                offcut.iter().for_each(|c| self.corner(c));
            }
            Step::Open { stack, into, .. } => self.writes.extend([stack.0, into.0]),
            Step::Pivot {
                stack,
                a,
                b,
                first,
                last,
                ..
            } => {
                self.writes.insert(stack.0);
                self.run(a);
                self.run(b);
                self.ends([first, last]);
            }
            Step::Close {
                work,
                seam,
                a,
                b,
                end,
                into,
                ..
            } => {
                self.writes.extend([work.0, into.0]);
                self.seam(seam);
                self.run(a);
                self.run(b);
                self.ends([end, end]);
            }
            Step::SubCut {
                of,
                first,
                toward,
                into,
                ..
            } => {
                self.writes.insert(of.0);
                self.writes.extend(into.iter().map(|s| s.0));
                self.ruler(first);
                self.corner(toward);
            }
            Step::Snip { of, along } => {
                self.writes.insert(of.0);
                along.iter().for_each(|e| self.edge(e));
            }
            Step::Trim { of, lines, into } => {
                self.writes.extend([of.0, into.0]);
                for l in lines {
                    self.ruler(&l.ruler);
                    self.run(&l.off);
                }
            }
            Step::Check { of, what, .. } | Step::SetAside { of, what, .. } => {
                if let Step::SetAside { .. } = step {
                    self.writes.insert(of.0);
                }
                self.reads.insert(of.0);
                match what {
                    Measured::Across(a, b) => {
                        self.run(a);
                        self.run(b);
                    }
                    Measured::Between(a, b) => {
                        self.point(a);
                        self.point(b);
                    }
                }
            }
            Step::Baste {
                piece,
                along,
                inside,
                flat,
                into,
                ..
            } => {
                self.writes.extend([piece.0, into.0]);
                self.edge(along);
                inside.iter().for_each(|i| self.edge(&i.edge));
                flat.iter().for_each(|e| self.edge(e));
            }
            Step::Whip { a, b, edges, into } => {
                self.writes.extend([a.0, b.0, into.0]);
                for whipped in edges {
                    self.run(&whipped.a);
                    self.run(&whipped.b);
                }
            }
            // The work lies as it did; only its cards are fewer.
            Step::TakeOut { of, .. } => {
                self.reads.insert(of.0);
                self.draws.insert(format!("the cards in {}", of.0));
            }
            Step::Guide { on, guide, sides } => {
                self.writes.insert(on.0);
                self.draws.insert(guide.clone());
                sides.iter().for_each(|s| self.run(s));
            }
            Step::StitchDown { piece, on, guide, .. } => {
                self.writes.extend([piece.0, on.0]);
                self.uses.insert(guide.clone());
            }
            Step::Spread {
                on, piece, along, into, ..
            } => {
                self.writes.extend([on.0, piece.0, into.0]);
                self.edge(&along.edge);
            }
            Step::Pare { of, .. } => {
                self.writes.insert(of.0);
            }
            Step::CutOut { of, into } => self.writes.extend([of.0, into.0]),
            Step::Finish { top, sides, .. } => {
                self.writes.insert(top.0);
                sides.iter().for_each(|s| self.run(s));
            }
        }
    }

    fn ends(&mut self, ends: [&End; 2]) {
        for end in ends {
            match end {
                End::Even { a, b } | End::Notch { a, b, .. } | End::Overhang { a, b, .. } => {
                    self.edge(a);
                    self.edge(b);
                }
                End::Dots { a, b } => {
                    self.mark(a);
                    self.mark(b);
                }
                End::Centre | End::Match(_) | End::Open => {}
            }
        }
    }

    fn lay(&mut self, how: &Lay) {
        match how {
            Lay::Edges { a, b, first, last, .. } => {
                self.run(a);
                self.run(b);
                self.ends([first, last]);
            }
            Lay::Curve { a, b, .. } => {
                self.run(a);
                self.run(b);
            }
            Lay::Corner { a, b } => {
                self.corner(a);
                self.corner(b);
            }
            Lay::OverPaper { along, .. } => self.edge(&along.edge),
            Lay::TwoDots { a, b } => a.iter().chain(b).for_each(|mark| self.mark(mark)),
        }
    }

    fn edge(&mut self, edge: &EdgeRef) {
        self.reads.insert(edge.of.0);
    }

    fn seam(&mut self, seam: &SeamRef) {
        self.reads.insert(seam.of.0);
    }

    fn mark(&mut self, mark: &MarkName) {
        self.uses.insert(mark.0.clone());
    }

    fn run(&mut self, run: &EdgeRun) {
        run.0.iter().for_each(|e| self.edge(e));
    }

    fn corner(&mut self, corner: &CornerRef) {
        self.edge(&corner.before);
        self.edge(&corner.after);
    }

    fn line(&mut self, line: &LineRef) {
        match line {
            LineRef::Edge(edge) => self.edge(edge),
            LineRef::Seam(seam) => self.seam(seam),
            LineRef::Mark(mark) => self.mark(mark),
        }
    }

    fn point(&mut self, point: &PointRef) {
        match point {
            PointRef::Corner(corner) => self.corner(corner),
            PointRef::Crossing(a, b) => {
                self.line(a);
                self.line(b);
            }
            PointRef::Along { from, edge, .. } => {
                self.corner(from);
                self.edge(edge);
            }
            PointRef::FromEdges { a, b, .. } => {
                self.edge(a);
                self.edge(b);
            }
            PointRef::Dot(mark) => self.mark(mark),
        }
    }

    fn ruler(&mut self, ruler: &Ruler) {
        match ruler {
            Ruler::Beside { line, toward, .. } => {
                self.line(line);
                self.corner(toward);
            }
            Ruler::Angle {
                line, through, like, ..
            } => {
                self.line(line);
                self.point(through);
                self.edge(like);
            }
            Ruler::TwoMarks { from, to } => {
                self.point(from);
                self.point(to);
            }
        }
    }
}
