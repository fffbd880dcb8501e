//! What comes out for each example, told in short lines and kept beside this test, so that any change of a plan shows
//! as a change of text a person can read. The makers' own words are the book's; these are only for looking at.
//!
//! `INSTA_UPDATE=no cargo test -p trials --test golden` compares; `INSTA_UPDATE=always` writes anew.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use measure::{Length, Measure, Style};
use recipe::*;
use std::fmt::Write as _;
use trials::whole::Whole;

fn examples() -> Vec<(String, String)> {
    let folder = format!("{}/../../examples", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    files
        .into_iter()
        .filter_map(|f| {
            let name = f.file_name()?.to_str()?.strip_suffix(".quilt.toml")?.to_string();
            Some((name, std::fs::read_to_string(&f).unwrap()))
        })
        .collect()
}

#[test]
fn each_example_comes_out_as_before() {
    let mut settings = insta::Settings::clone_current();
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| {
        for (name, text) in examples() {
            insta::assert_snapshot!(name.clone(), telling(&text));
        }
    });
}

#[test]
fn the_same_file_gives_the_same_bytes() {
    for (name, text) in examples() {
        let [first, second] = [(); 2].map(|()| {
            let whole = Whole::of(&text).unwrap();
            (
                whole.pattern.to_json(),
                format!("{:?} {:?} {:?}", whole.findings, whole.picture, whole.rehearse()),
            )
        });
        assert!(first == second, "{name} came out differently the second time");
    }
}

fn telling(text: &str) -> String {
    let design = design::read_design(text).unwrap();
    let planned = piecing::plan(&design).unwrap();
    let whole = Whole::of_design(&design).unwrap();
    let teller = Teller {
        measure: whole.pattern.recipe.measure,
    };
    let recipe = &whole.pattern.recipe;
    let mut out = format!(
        "{}: {:?}, seam {}, marks of {}\n",
        recipe.title,
        recipe.measure,
        teller.size(recipe.seam),
        teller.length(recipe.mark)
    );
    out.push_str("\nFINDINGS\n");
    if whole.findings.is_empty() {
        out.push_str("none\n");
    }
    for finding in &whole.findings {
        let _ = writeln!(out, "{finding}");
    }
    teller.bought(&whole.pattern.bought, &mut out);
    teller.pieces(&recipe.pieces, &planned.demands, &mut out);
    out.push_str("\nCUTTING\n");
    for cloth in &whole.pattern.cutting.cloths {
        let (usable, square_up) = (teller.size(cloth.usable), teller.size(cloth.square_up));
        let _ = writeln!(out, "{}, {usable} usable, {square_up} squared off", cloth.fabric);
        cloth.strips.iter().for_each(|s| teller.strip(s, 1, &mut out));
    }
    out.push_str("\nMAKINGS\n");
    for (make, method) in recipe.makes.iter().zip(&whole.methods) {
        teller.making(make, method, &mut out);
    }
    let proof = whole.rehearse().unwrap();
    let _ = write!(
        out,
        "\nPROOF\nlargest difference {:.6} in\n{} units, {} seams, {} checks\n{} pieces cut, {} sewn, {} spare\n",
        proof.largest_difference,
        proof.units,
        proof.seams,
        proof.checks,
        proof.pieces_cut,
        proof.pieces_used,
        proof.pieces_spare
    );
    out
}

struct Teller {
    measure: Measure,
}

impl Teller {
    fn length(&self, length: Length) -> String {
        length.print(self.measure, Style::Plain)
    }

    fn size(&self, size: Size) -> String {
        self.length(size.len)
    }

    fn bought(&self, bought: &Bought, out: &mut String) {
        out.push_str("\nCLOTH\n");
        for cloth in &bought.cloths {
            let (length, usable, bound) = (self.size(cloth.length), self.size(cloth.usable), self.size(cloth.bound));
            let _ = writeln!(
                out,
                "{}: {length} of {usable} usable; no plan takes less than {bound}",
                cloth.fabric
            );
        }
    }

    fn pieces(&self, notes: &[PieceNote], demands: &[Demand], out: &mut String) {
        out.push_str("\nPIECES\n");
        for note in notes {
            let Some(demand) = demands.iter().find(|d| d.piece == note.piece) else {
                let _ = writeln!(out, "{}: asked for nowhere", note.piece);
                continue;
            };
            let _ = write!(
                out,
                "{} × {} {}, {}: ",
                demand.count, note.piece, note.fabric, note.label
            );
            out.push_str(&self.shape(&demand.shape));
            if demand.turns.len() < 4 {
                let _ = write!(out, ", lies {:?}", demand.turns);
            }
            if note.spare > 0 {
                let _ = write!(out, ", {} spare", note.spare);
            }
            if let Some(twin) = &note.twin {
                let _ = write!(out, ", twin of {twin}");
            }
            out.push('\n');
        }
    }

    fn shape(&self, shape: &DemandShape) -> String {
        let by = |w: &Size, h: &Size| format!("{} × {}", self.size(*w), self.size(*h));
        match shape {
            DemandShape::Rectangle { width, height } => by(width, height),
            DemandShape::Half { width, height, rising } => {
                format!(
                    "half of {}, {}",
                    by(width, height),
                    if *rising { "rising" } else { "falling" }
                )
            }
            DemandShape::Quarter { side } => format!("quarter of {}", by(side, side)),
            DemandShape::Slant {
                height,
                lower,
                upper,
                lead,
                ..
            } => format!(
                "leaning, {} high, {} below, {} above, {} ahead",
                self.size(*height),
                self.size(*lower),
                self.size(*upper),
                self.length(*lead)
            ),
            DemandShape::Shaped { width, height, cuts } => {
                let mut text = by(width, height);
                cuts.iter().for_each(|c| self.shaping(c, &mut text));
                text
            }
            DemandShape::Template { template } => {
                let corners: Vec<String> = template
                    .corners
                    .iter()
                    .map(|c| format!("({:.4}, {:.4})", c.right.to_inches(), c.up.to_inches()))
                    .collect();
                format!("round a template, inches {}", corners.join(" "))
            }
        }
    }

    fn shaping(&self, cut: &ShapingCut, text: &mut String) {
        let dot = |d: &Dot| format!("({}, {})", self.size(d.from_left), self.size(d.from_lower));
        let _ = write!(
            text,
            "; cut {} past dots {} and {}",
            self.size(cut.past),
            dot(&cut.from),
            dot(&cut.to)
        );
    }

    fn strip(&self, strip: &Strip, depth: usize, out: &mut String) {
        let indent = "  ".repeat(depth);
        let _ = writeln!(out, "{indent}{} × strip {}", strip.times, self.size(strip.height));
        for run in &strip.runs {
            let cuts: Vec<String> = run.cuts.iter().map(|c| self.cut(c)).collect();
            let _ = writeln!(out, "{indent}  {} × {}", run.times, cuts.join(" | "));
        }
        if !strip.rest.is_empty() {
            let _ = writeln!(out, "{indent}  what is left:");
            strip.rest.iter().for_each(|s| self.strip(s, depth + 2, out));
        }
    }

    fn cut(&self, cut: &Cut) -> String {
        let lies = |p: &PieceCut| match p.turn {
            Turn::As => p.piece.to_string(),
            turn => format!("{} {turn:?}", p.piece)
                .to_lowercase()
                .replacen(&p.piece.0.to_lowercase(), &p.piece.0, 1),
        };
        let gives = match &cut.gives {
            Gives::Waste => "waste".to_string(),
            Gives::Piece(p) => lies(p),
            Gives::Halves { rising, lower, upper } => {
                format!(
                    "{} cut in two: {}, {}",
                    if *rising { "rising" } else { "falling" },
                    lies(lower),
                    lies(upper)
                )
            }
            Gives::Quarters(four) => {
                format!("cut in four: {}", four.iter().map(lies).collect::<Vec<_>>().join(", "))
            }
            Gives::Shaped { piece, cuts } => format!("{} shaped by {} cuts", lies(piece), cuts.len()),
            Gives::Template { piece, .. } => format!("{} round its template", lies(piece)),
        };
        if cut.lower == cut.upper {
            format!("{}: {gives}", self.size(cut.lower))
        } else {
            format!(
                "{} below, {} above: {gives}",
                self.size(cut.lower),
                self.size(cut.upper)
            )
        }
    }

    fn making(&self, make: &Make, method: &str, out: &mut String) {
        let _ = write!(out, "{} × {} ({}), {method}", make.times, make.unit, make.label);
        match make.gives.len() {
            1 => {}
            0 => out.push_str(", the end"),
            n => {
                let _ = write!(out, ", {n} each time");
            }
        }
        if make.spare > 0 {
            let _ = write!(out, ", {} spare", make.spare);
        }
        out.push('\n');
        let parts: Vec<String> = make
            .parts
            .iter()
            .map(|p| match &p.take {
                Take::Piece(id) => format!("{} = {id}", p.slot.0),
                Take::Unit(id) => format!("{} = {id}", p.slot.0),
                Take::Paper(name) => format!("{} = paper {name}", p.slot.0),
            })
            .collect();
        let _ = writeln!(out, "   take {}", parts.join(", "));
        for (i, step) in make.steps.iter().enumerate() {
            let _ = writeln!(out, "{:3} {}", i + 1, self.step(step));
        }
        for give in &make.gives {
            let _ = write!(out, "   give {} with sides {}", give.slot.0, sides(&give.sides));
            if !give.seams.is_empty() {
                let _ = write!(
                    out,
                    ", seams {}",
                    give.seams.iter().map(seam).collect::<Vec<_>>().join(", ")
                );
            }
            out.push('\n');
        }
    }

    fn step(&self, step: &Step) -> String {
        match step {
            Step::Mark { on, name, line } => format!("mark \"{}\" on {} {}", name.0, on.0, self.ruler(line)),
            Step::Dot { on, name, at } => format!("dot \"{}\" on {} at {}", name.0, on.0, self.point(at)),
            Step::Lay { a, b, how, into } => format!("lay {} on {}: {} -> {}", b.0, a.0, self.lay(how), into.0),
            Step::Sew { stack, path, join } => {
                format!(
                    "sew {} {}{}",
                    stack.0,
                    self.path(path),
                    if *join { ", a join" } else { "" }
                )
            }
            Step::CutApart {
                stack,
                line,
                keep,
                offcut,
            } => {
                let keep: Vec<String> = keep
                    .iter()
                    .map(|k| format!("{} -> {}", corner(&k.corner), k.into.0))
                    .collect();
                let offcut: Vec<String> = offcut.iter().map(corner).collect();
                let away = if offcut.is_empty() {
                    String::new()
                } else {
                    format!(", away {}", offcut.join(", "))
                };
                format!(
                    "cut {} apart {}: keep {}{away}",
                    stack.0,
                    self.ruler(line),
                    keep.join(", ")
                )
            }
            Step::Open { stack, press, into } => {
                let way = match press {
                    Press::TowardLower => "toward the lower",
                    Press::TowardUpper => "toward the upper",
                    Press::Open => "apart",
                    Press::SpunLower => "spun, toward the lower first",
                    Press::SpunUpper => "spun, toward the upper first",
                };
                format!("open {}, press {way} -> {}", stack.0, into.0)
            }
            Step::Pivot {
                stack,
                a,
                b,
                first,
                last,
                meets,
            } => format!("pivot {}: {}", stack.0, self.edges(a, b, first, last, meets)),
            Step::Close {
                work,
                seam: of,
                a,
                b,
                end,
                meets,
                into,
                ..
            } => {
                let how = self.edges(a, b, end, end, meets);
                format!("close {} at {}: {how} -> {}", work.0, seam(of), into.0)
            }
            Step::SubCut {
                of,
                first,
                toward,
                width,
                into,
            } => {
                let into: Vec<String> = into.iter().map(|s| s.0.to_string()).collect();
                format!(
                    "cut {} {} toward {} every {} -> {}",
                    of.0,
                    self.ruler(first),
                    corner(toward),
                    self.size(*width),
                    into.join(", ")
                )
            }
            Step::Guide { on, guide, sides } => {
                let sides: Vec<String> = sides.iter().map(run).collect();
                format!("guide {guide} on {} with sides {}", on.0, sides.join(", "))
            }
            Step::StitchDown {
                piece,
                on,
                guide,
                shape,
                edge: how,
            } => {
                let how = match how {
                    ShapeEdge::Turned { by } => format!("turned by {}", self.size(*by)),
                    ShapeEdge::Raw => "raw".to_string(),
                };
                format!("stitch {} down on {} at {guide} {shape}, {how}", piece.0, on.0)
            }
            Step::SetAside { of, label, is, .. } => format!("set {} aside: {label}, {}", of.0, self.size(*is)),
            Step::Snip { of, along } => {
                format!(
                    "snip {} level with {}",
                    of.0,
                    along.iter().map(edge).collect::<Vec<_>>().join(", ")
                )
            }
            Step::Trim { of, lines, into } => {
                let lines: Vec<String> = lines
                    .iter()
                    .map(|l| format!("{} off {} {}", self.size(l.shave), run(&l.off), self.ruler(&l.ruler)))
                    .collect();
                format!("trim {}: {} -> {}", of.0, lines.join("; "), into.0)
            }
            Step::Check { of, what, is } => {
                let what = match what {
                    Measured::Across(a, b) => format!("from {} across to {}", run(a), run(b)),
                    Measured::Between(a, b) => format!("from {} to {}", self.point(a), self.point(b)),
                };
                format!("check {} {what} is {}", of.0, self.size(*is))
            }
            Step::Baste {
                piece,
                card,
                side,
                along,
                inside,
                flat,
                least,
                most,
                into,
            } => {
                let flat: Vec<String> = flat.iter().map(edge).collect();
                let left = if flat.is_empty() {
                    String::new()
                } else {
                    format!(", {} left flat", flat.join(", "))
                };
                let inside: String = (inside.iter())
                    .map(|i| format!(", side {} {} inside {}", i.side, self.size(i.by), edge(&i.edge)))
                    .collect();
                let (least, most) = (self.size(*least), self.size(*most));
                format!(
                    "baste {} over card {card}, side {side} along {}{inside}{left}, {least} to {most} over -> {}",
                    piece.0,
                    edge(along),
                    into.0
                )
            }
            Step::Whip { a, b, edges, into } => {
                let pairs: Vec<String> = (edges.iter())
                    .map(|w| format!("{} on {}", run(&w.b), run(&w.a)))
                    .collect();
                format!("whip {} to {}: {} -> {}", b.0, a.0, pairs.join(", "), into.0)
            }
            Step::TakeOut { of, cards } => {
                let cards: Vec<String> = cards.iter().map(|c| format!("{} x {}", c.count, c.card)).collect();
                format!("take cards out of {}: {}", of.0, cards.join(", "))
            }
            Step::Spread { on, piece, along, into } => {
                format!("spread {} on {}, {} -> {}", piece.0, on.0, self.along(along), into.0)
            }
            Step::Pare { of, line, past } => format!("pare {} to {} past line {line}", of.0, self.size(*past)),
            Step::CutOut { of, into } => format!("cut {} out -> {}", of.0, into.0),
            Step::Finish {
                top,
                sides: around,
                up,
                seam,
            } => {
                format!(
                    "finish {} with sides {}, side {up} up, {} beyond",
                    top.0,
                    sides(around),
                    self.size(*seam)
                )
            }
        }
    }

    fn edges(&self, a: &EdgeRun, b: &EdgeRun, first: &End, last: &End, meets: &[recipe::Meet]) -> String {
        let mut text = format!("{} on {}, {}, {}", run(b), run(a), self.end(first), self.end(last));
        if !meets.is_empty() {
            let joints: Vec<String> = meets.iter().map(|m| format!("{}-{}", m.a, m.b)).collect();
            let _ = write!(text, ", joints {}", joints.join(" "));
        }
        text
    }

    fn lay(&self, how: &Lay) -> String {
        match how {
            Lay::Edges {
                a,
                b,
                first,
                last,
                meets,
            } => self.edges(a, b, first, last, meets),
            Lay::Curve { a, b, pins } => {
                let pins: Vec<String> = pins.iter().map(|p| format!("{} on {}", p.b, p.a)).collect();
                format!("curve {} on {}, marks {}", run(b), run(a), pins.join(", "))
            }
            Lay::Corner { a, b } => format!("corner {} on {}", corner(b), corner(a)),
            Lay::TwoDots { a, b } => format!("dots {} {} on {} {}", b[0].0, b[1].0, a[0].0, a[1].0),
            Lay::OverPaper { line, along } => format!("over line {line}, {}", self.along(along)),
        }
    }

    fn along(&self, along: &AlongLine) -> String {
        let (past, beyond, margin) = (along.past, along.beyond, along.margin);
        format!(
            "{} {} past and {} beyond, margin {}",
            edge(&along.edge),
            self.size(past),
            self.size(beyond),
            self.size(margin)
        )
    }

    fn end(&self, end: &End) -> String {
        let on = |a: &EdgeRef, b: &EdgeRef| format!("{}/{}", edge(b), edge(a));
        match end {
            End::Even { a, b } => format!("even {}", on(a, b)),
            End::Notch { a, b, about } => format!("notch {} about {}", on(a, b), self.size(*about)),
            End::Dots { a, b } => format!("dot \"{}\" on \"{}\"", b.0, a.0),
            End::Centre => "middle on middle".to_string(),
            End::Open => "left open".to_string(),
            End::Match(m) => format!("joint {} on {}", m.b, m.a),
            End::Overhang { a, b, by } => format!("overhang {} by {}", on(a, b), self.size(*by)),
        }
    }

    fn path(&self, path: &Path) -> String {
        let stop = |s: &Stop| match s {
            Stop::Raw => String::new(),
            Stop::Dot => ", to the dot".to_string(),
            Stop::At(size) => format!(", {} along", self.size(*size)),
        };
        match path {
            Path::Beside { by, from, to } => format!("{} inside{}{}", self.size(*by), stop(from), stop(to)),
            Path::OnMark(mark) => format!("on \"{}\"", mark.0),
            Path::BothSides { mark, by } => format!("{} on both sides of \"{}\"", self.size(*by), mark.0),
            Path::Round { edges, by } => {
                let edges: Vec<String> = edges.iter().map(edge).collect();
                format!("{} inside all round {}", self.size(*by), edges.join(", "))
            }
            Path::OnPaper { beyond } => format!("on the printed line, {} beyond", self.size(*beyond)),
        }
    }

    fn ruler(&self, ruler: &Ruler) -> String {
        match ruler {
            Ruler::Beside { line: of, at, toward } => {
                format!("{} from {} toward {}", self.size(*at), line(of), corner(toward))
            }
            Ruler::Angle {
                line: to,
                angle,
                through,
                like,
            } => {
                format!(
                    "at {}° to {} through {} like {}",
                    angle.degrees(),
                    line(to),
                    self.point(through),
                    edge(like)
                )
            }
            Ruler::TwoMarks { from, to } => format!("from {} to {}", self.point(from), self.point(to)),
        }
    }

    fn point(&self, point: &PointRef) -> String {
        match point {
            PointRef::Corner(of) => format!("corner {}", corner(of)),
            PointRef::Crossing(a, b) => format!("{} × {}", line(a), line(b)),
            PointRef::Along { from, edge: of, by } => {
                format!("{} along {} from {}", self.size(*by), edge(of), corner(from))
            }
            PointRef::FromEdges { a, a_by, b, b_by } => {
                format!(
                    "{} in from {}, {} in from {}",
                    self.size(*a_by),
                    edge(a),
                    self.size(*b_by),
                    edge(b)
                )
            }
            PointRef::Dot(mark) => format!("\"{}\"", mark.0),
        }
    }
}

/// Edge 2 of slot 3 as `3.2`.
fn edge(of: &EdgeRef) -> String {
    format!("{}.{}", of.of.0, of.edge)
}

fn run(of: &EdgeRun) -> String {
    of.0.iter().map(edge).collect::<Vec<_>>().join("+")
}

fn sides(of: &[EdgeRun]) -> String {
    of.iter().map(run).collect::<Vec<_>>().join(", ")
}

fn corner(of: &CornerRef) -> String {
    format!("{}^{}", edge(&of.before), edge(&of.after))
}

fn seam(of: &SeamRef) -> String {
    format!("seam {}.{}", of.of.0, of.seam)
}

fn line(of: &LineRef) -> String {
    match of {
        LineRef::Edge(e) => edge(e),
        LineRef::Seam(s) => seam(s),
        LineRef::Mark(m) => format!("\"{}\"", m.0),
    }
}
