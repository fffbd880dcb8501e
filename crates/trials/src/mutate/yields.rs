//! What comes off the cloth, read from the cutting plan by `docs/recipe.md`, section 1, and nothing else: shapes with
//! numbered edges, counted. It decides which changes of a cutting plan change nothing (cloth within its slack, a square
//! turned onto itself) without asking the table.

use recipe::{Cut, Gives, Pattern, PieceCut, PrintNote, ShapingCut, Strip, Turn};
use std::collections::{BTreeMap, BTreeSet};

/// Agreement asked for, as everywhere (1/64 in).
const TOLERANCE: f64 = 1.0 / 64.0 + 1.0e-6;

/// A corner and the number of the edge that starts there.
pub type Corner = (u32, (f64, f64));

/// One piece as cut; the cloth's length points to +y.
pub type Outline = Vec<Corner>;

/// All pieces that come off.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Yield {
    /// Per kind: the outlines met, each with its count.
    pub kinds: BTreeMap<String, Vec<(Outline, u64)>>,
    prints: BTreeMap<String, PrintNote>,
    /// Kinds that are laid on a ground, with how many corners their line has: their outlines are the cut one and, after it, the
    /// line's; no step names an edge of them.
    laid: BTreeMap<String, usize>,
    /// The recipe's seam, inches.
    seam: f64,
}

impl Yield {
    /// Whether two edges of a kind are parallel.
    pub fn parallel(&self, piece: &str, a: u32, b: u32) -> bool {
        let Some(outline) = self.outline(piece) else {
            return false;
        };
        let n = outline.len();
        let along = |edge: u32| {
            let i = outline.iter().position(|c| c.0 == edge)?;
            let (p, q) = (outline[i].1, outline[(i + 1) % n].1);
            let length = ((q.0 - p.0).powi(2) + (q.1 - p.1).powi(2)).sqrt();
            Some(((q.0 - p.0) / length, (q.1 - p.1) / length))
        };
        along(a)
            .zip(along(b))
            .is_some_and(|(x, y)| (x.0 * y.1 - x.1 * y.0).abs() < 1.0e-6)
    }

    /// How many numbers the edges of a kind take.
    pub fn edge_count(&self, piece: &str) -> Option<u32> {
        if self.laid.contains_key(piece) {
            return None;
        }
        let (outline, _) = self.kinds.get(piece)?.first()?;
        outline.iter().map(|c| c.0 + 1).max()
    }

    /// The first outline of a kind.
    pub fn outline(&self, piece: &str) -> Option<&Outline> {
        Some(&self.kinds.get(piece)?.first()?.0)
    }

    /// How the print of a kind runs.
    pub fn print(&self, piece: &str) -> PrintNote {
        self.prints.get(piece).copied().unwrap_or_default()
    }

    /// Whether the same comes off: the same counts, every piece alike edge for edge.
    pub fn same(&self, other: &Yield) -> bool {
        self.compare(other, &|piece, a, b| self.alike(piece, a, b))
    }

    /// Whether two outlines of a kind are alike. The corners of a cut outline round a line have no names: only the line's are laid
    /// on the sheet's one by one.
    fn alike(&self, piece: &str, a: &Outline, b: &Outline) -> bool {
        let Some(&line) = self.laid.get(piece) else {
            return alike(a, b, self.print(piece));
        };
        let cut = b.len().saturating_sub(line);
        (0..cut).any(|shift| {
            let begun_there = (0..cut).map(|i| (i as u32, b[(i + shift) % cut].1));
            let turned: Outline = begun_there.chain(b[cut..].iter().copied()).collect();
            alike(a, &turned, self.print(piece))
        })
    }

    /// Whether the same comes off as far as steps can tell: edges that no step names may lie anywhere.
    pub fn same_where_named(&self, other: &Yield, named: &BTreeMap<String, BTreeSet<u32>>) -> bool {
        let none = BTreeSet::new();
        self.compare(other, &|piece, a, b| {
            if self.laid.contains_key(piece) {
                return self.alike(piece, a, b);
            }
            let named = named.get(piece).unwrap_or(&none);
            match (only_named(a, named), only_named(b, named)) {
                (Some(a), Some(b)) => alike(&a, &b, self.print(piece)),
                _ => false,
            }
        })
    }

    /// Whether the same comes off but for differences within tolerance, edge from edge.
    pub fn nearly_same(&self, other: &Yield) -> bool {
        self.compare(other, &|piece, a, b| {
            if self.laid.contains_key(piece) {
                return self.alike(piece, a, b);
            }
            // Tips of sharp corners are folded under: what counts is where the edges run along the finished patch.
            let inner = inside(a, self.seam).zip(inside(b, self.seam));
            let apart = inner.and_then(|(a, b)| edges_apart(&a, &b, self.print(piece)));
            apart.is_some_and(|apart| apart <= TOLERANCE)
        })
    }

    fn compare(&self, other: &Yield, alike: &dyn Fn(&str, &Outline, &Outline) -> bool) -> bool {
        let total = |list: &[(Outline, u64)]| list.iter().map(|o| o.1).sum::<u64>();
        self.kinds.len() == other.kinds.len()
            && self.kinds.iter().all(|(piece, ours)| {
                let Some(theirs) = other.kinds.get(piece) else {
                    return false;
                };
                let Some((first, _)) = ours.first() else {
                    return theirs.is_empty();
                };
                total(ours) == total(theirs) && theirs.iter().all(|(o, _)| alike(piece, first, o))
            })
    }
}

/// The outline made by the lines of the named edges alone; `None` when they do not go round.
fn only_named(outline: &Outline, named: &BTreeSet<u32>) -> Option<Outline> {
    let n = outline.len();
    let lines: Vec<(u32, [(f64, f64); 2])> = (0..n)
        .filter(|&i| named.contains(&outline[i].0))
        .map(|i| (outline[i].0, [outline[i].1, outline[(i + 1) % n].1]))
        .collect();
    if lines.len() < 3 {
        return None;
    }
    let m = lines.len();
    (0..m)
        .map(|i| {
            let (before, here) = (&lines[(i + m - 1) % m], &lines[i]);
            Some((here.0, crossing(before.1, here.1)?))
        })
        .collect()
}

fn crossing(a: [(f64, f64); 2], b: [(f64, f64); 2]) -> Option<(f64, f64)> {
    let (p, r) = (a[0], (a[1].0 - a[0].0, a[1].1 - a[0].1));
    let (q, s) = (b[0], (b[1].0 - b[0].0, b[1].1 - b[0].1));
    let cross = r.0 * s.1 - r.1 * s.0;
    if cross.abs() < 1.0e-9 {
        return None;
    }
    let t = ((q.0 - p.0) * s.1 - (q.1 - p.1) * s.0) / cross;
    Some((p.0 + t * r.0, p.1 + t * r.1))
}

/// Whether one outline can be moved (never turned over) onto another, edge number on edge number, and the print with it.
pub fn alike(a: &Outline, b: &Outline, print: PrintNote) -> bool {
    let n = a.len();
    let Some(first) = a.first() else { return b.is_empty() };
    let Some(shift) = b.iter().position(|c| c.0 == first.0).filter(|_| b.len() == n) else {
        return false;
    };
    let other = |i: usize| b[(i + shift) % n];
    if (0..n).any(|i| a[i].0 != other(i).0) || (area(a) > 0.0) != (area(b) > 0.0) {
        return false;
    }
    let apart = |p: (f64, f64), q: (f64, f64)| ((p.0 - q.0).powi(2) + (p.1 - q.1).powi(2)).sqrt();
    for i in 0..n {
        for j in 0..i {
            if (apart(a[i].1, a[j].1) - apart(other(i).1, other(j).1)).abs() > TOLERANCE {
                return false;
            }
        }
    }
    // The print's up (+y) seen from the longest edge.
    let seen =
        |from: (f64, f64), to: (f64, f64)| ((to.0 - from.0) / apart(from, to), (to.1 - from.1) / apart(from, to));
    let longest = (0..n).fold((0, 0.0), |best, i| {
        let length = apart(a[i].1, a[(i + 1) % n].1);
        if length > best.1 { (i, length) } else { best }
    });
    let (i, j) = (longest.0, (longest.0 + 1) % n);
    let (x, y) = (seen(a[i].1, a[j].1), seen(other(i).1, other(j).1));
    let (same, against) = (x.0 * y.0 + x.1 * y.1 > 0.999_8, x.0 * y.0 + x.1 * y.1 < -0.999_8);
    match print {
        PrintNote::None => true,
        PrintNote::TwoWay => same || against,
        PrintNote::OneWay => same,
    }
}

/// The outline with every edge moved in by the seam; `None` when nothing of it is left.
fn inside(outline: &Outline, seam: f64) -> Option<Outline> {
    let n = outline.len();
    let moved: Vec<[(f64, f64); 2]> = (0..n)
        .map(|i| {
            let (p, q) = (outline[i].1, outline[(i + 1) % n].1);
            let length = ((q.0 - p.0).powi(2) + (q.1 - p.1).powi(2)).sqrt();
            let (x, y) = (-(q.1 - p.1) / length * seam, (q.0 - p.0) / length * seam);
            [(p.0 + x, p.1 + y), (q.0 + x, q.1 + y)]
        })
        .collect();
    let inner: Option<Outline> = (0..n)
        .map(|i| Some((outline[i].0, crossing(moved[(i + n - 1) % n], moved[i])?)))
        .collect();
    inner.filter(convex)
}

/// How far the ends of an outline's edges lie off the same edges' lines of another, the other moved (never turned over) as
/// fits best among the ways that bring two of its edges' middles onto their lines, turned like one edge or between two.
fn edges_apart(a: &Outline, b: &Outline, print: PrintNote) -> Option<f64> {
    let n = a.len();
    let shift = b.iter().position(|c| c.0 == a[0].0).filter(|_| b.len() == n)?;
    let b: Outline = (0..n).map(|i| b[(i + shift) % n]).collect();
    if (0..n).any(|i| a[i].0 != b[i].0) || area(&b) <= 0.0 {
        return None;
    }
    let ends = |o: &Outline, i: usize| (o[i].1, o[(i + 1) % n].1);
    let along = |o: &Outline, i: usize| {
        let (p, q) = ends(o, i);
        let length = ((q.0 - p.0).powi(2) + (q.1 - p.1).powi(2)).sqrt();
        ((q.0 - p.0) / length, (q.1 - p.1) / length)
    };
    // As cosine and sine: the turn that brings edge `i` of `b` parallel to that of `a`.
    let turn = |i: usize| {
        let (x, y) = (along(a, i), along(&b, i));
        (x.0 * y.0 + x.1 * y.1, x.1 * y.0 - x.0 * y.1)
    };
    let mut best = f64::INFINITY;
    for i in 0..n {
        for j in 0..=i {
            let (s, t) = (turn(i), turn(j));
            let (c, d) = (s.0 + t.0, s.1 + t.1);
            let length = (c * c + d * d).sqrt();
            if length < 1.0e-9 {
                continue;
            }
            let (c, d) = (c / length, d / length);
            // A print may lie one degree off.
            let upright = match print {
                PrintNote::None => true,
                PrintNote::TwoWay => d.abs() < 0.017_45,
                PrintNote::OneWay => d.abs() < 0.017_45 && c > 0.0,
            };
            if !upright {
                continue;
            }
            let turned: Vec<(f64, f64)> = b.iter().map(|(_, p)| (p.0 * c - p.1 * d, p.0 * d + p.1 * c)).collect();
            let off = |k: usize, p: (f64, f64)| {
                let ((from, _), (x, y)) = (ends(a, k), along(a, k));
                (p.1 - from.1) * x - (p.0 - from.0) * y
            };
            let middle = |k: usize| {
                let (p, q) = (turned[k], turned[(k + 1) % n]);
                off(k, ((p.0 + q.0) / 2.0, (p.1 + q.1) / 2.0))
            };
            for k in 0..n {
                for l in 0..k {
                    // Moving by (mx, my) changes the offset from edge k by my·x − mx·y.
                    let ((xk, yk), (xl, yl)) = (along(a, k), along(a, l));
                    let cross = xk * yl - yk * xl;
                    if cross.abs() < 1.0e-6 {
                        continue;
                    }
                    let (ok, ol) = (-middle(k), -middle(l));
                    let (mx, my) = ((ok * xl - ol * xk) / cross, (ok * yl - ol * yk) / cross);
                    let moved = |p: (f64, f64)| (p.0 + mx, p.1 + my);
                    let worst = (0..n)
                        .flat_map(|e| [off(e, moved(turned[e])), off(e, moved(turned[(e + 1) % n]))])
                        .fold(0.0, |w: f64, o| w.max(o.abs()));
                    best = best.min(worst);
                }
            }
        }
    }
    Some(best)
}

fn area(outline: &Outline) -> f64 {
    let n = outline.len();
    (0..n)
        .map(|i| (outline[i].1, outline[(i + 1) % n].1))
        .map(|(p, q)| p.0 * q.1 - p.1 * q.0)
        .sum::<f64>()
        / 2.0
}

/// Reads the whole plan; `None` when it does not fit the cloth or says something that cannot be cut.
pub fn read(pattern: &Pattern) -> Option<Yield> {
    let recipe = &pattern.recipe;
    let cloth_of: BTreeMap<&str, &str> = recipe
        .pieces
        .iter()
        .map(|p| (p.piece.as_str(), p.fabric.as_str()))
        .collect();
    let prints: BTreeMap<&str, PrintNote> = recipe.fabrics.iter().map(|f| (f.fabric.as_str(), f.print)).collect();
    let mut reader = Reader {
        pattern,
        cloth_of,
        fabric: "",
        out: Yield::default(),
    };
    let mut needed: BTreeMap<&str, i128> = BTreeMap::new();
    let mut opened: BTreeMap<&str, u64> = BTreeMap::new();
    for cloth in &pattern.cutting.cloths {
        reader.fabric = cloth.fabric.as_str();
        let (usable, mut along) = (units(cloth.usable)?, i128::from(units(cloth.square_up)?));
        let copies = u64::from(cloth.times());
        for strip in &cloth.strips {
            along += i128::from(units(strip.height)?) * i128::from(strip.times);
            reader.strip(strip, usable, u64::from(strip.times) * copies)?;
        }
        let wide = pattern.bought.cloths.iter().find(|b| b.fabric == cloth.fabric)?;
        match cloth.alike {
            None => *needed.entry(reader.fabric).or_default() += along,
            Some(alike) => {
                let sold = wide.pieces?;
                *opened.entry(reader.fabric).or_default() += copies;
                if along > i128::from(units(alike.length)?)
                    || alike.length.len > sold.each.len
                    || opened[reader.fabric] > u64::from(sold.count)
                {
                    return None;
                }
            }
        }
        if wide.usable.len < cloth.usable.len {
            return None;
        }
    }
    for (fabric, along) in needed {
        let lengths = (pattern.bought.cloths.iter()).filter(|b| b.fabric.as_str() == fabric && b.pieces.is_none());
        if along > lengths.map(|b| i128::from(b.length.len.units())).sum() {
            return None;
        }
    }
    let mut out = reader.out;
    out.seam = recipe.seam.inches();
    for piece in &recipe.pieces {
        let print = prints.get(piece.fabric.as_str()).copied().unwrap_or_default();
        out.prints.insert(piece.piece.0.clone(), print);
    }
    Some(out)
}

fn units(size: recipe::Size) -> Option<i64> {
    Some(size.len.units()).filter(|u| *u >= 0)
}

struct Reader<'p> {
    pattern: &'p Pattern,
    cloth_of: BTreeMap<&'p str, &'p str>,
    fabric: &'p str,
    out: Yield,
}

impl Reader<'_> {
    fn strip(&mut self, strip: &Strip, width: i64, times: u64) -> Option<()> {
        let height = units(strip.height).filter(|h| *h > 0)?;
        let (mut foot, mut head) = (0_i64, 0_i64);
        for run in &strip.runs {
            for _ in 0..run.times {
                for cut in &run.cuts {
                    let (lower, upper) = (units(cut.lower)?, units(cut.upper)?);
                    self.cut(cut, height, head - foot, times)?;
                    (foot, head) = (foot + lower, head + upper);
                }
                if foot.max(head) > width {
                    return None;
                }
            }
        }
        let left = width - foot.max(head);
        let mut stacked = 0_i128;
        for rest in &strip.rest {
            stacked += i128::from(units(rest.height)?) * i128::from(rest.times);
            self.strip(rest, left, times * u64::from(rest.times))?;
        }
        (stacked <= i128::from(height)).then_some(())
    }

    fn cut(&mut self, cut: &Cut, height: i64, lead: i64, times: u64) -> Option<()> {
        let inches = |units: i64| units as f64 / 8128.0;
        let (lower, upper) = (cut.lower.len.units(), cut.upper.len.units());
        if lower == 0 && upper == 0 {
            return None;
        }
        let high = inches(height);
        let quad = [
            (0.0, 0.0),
            (inches(lower), 0.0),
            (inches(lead + upper), high),
            (inches(lead), high),
        ];
        let square = lead == 0 && lower == upper;
        if !square && !matches!(cut.gives, Gives::Waste | Gives::Piece(_)) {
            return None;
        }
        let [a, b, c, d] = quad;
        match &cut.gives {
            Gives::Waste => Some(()),
            Gives::Piece(piece) => {
                let turns = match piece.turn {
                    Turn::As => 0,
                    Turn::Quarter => 1,
                    Turn::Half => 2,
                    Turn::ThreeQuarters => 3,
                };
                let outline = (0..4).map(|i| quad[(i + turns) % 4]).collect();
                self.piece(piece, outline, times)
            }
            Gives::Halves { rising, lower, upper } => {
                let (under, over) = if *rising {
                    (vec![a, b, c], vec![c, d, a])
                } else {
                    (vec![a, b, d], vec![c, d, b])
                };
                self.unturned(lower, under, times)?;
                self.unturned(upper, over, times)
            }
            Gives::Quarters(pieces) => {
                let middle = ((a.0 + c.0) / 2.0, (a.1 + c.1) / 2.0);
                let sound = lower == height && pieces.len() == 4;
                sound.then_some(())?;
                for (i, piece) in pieces.iter().enumerate() {
                    self.unturned(piece, vec![quad[i], quad[(i + 1) % 4], middle], times)?;
                }
                Some(())
            }
            Gives::Shaped { piece, cuts } => {
                let named = quad.iter().enumerate().map(|(i, p)| (i as u32, *p)).collect();
                let outline = cuts
                    .iter()
                    .enumerate()
                    .try_fold(named, |outline: Outline, (i, cut)| shaped(&outline, cut, 4 + i as u32))?;
                self.add(piece, outline, times)
            }
            Gives::Template { piece, template } => {
                let found = self.pattern.cutting.templates.iter().find(|t| t.name == *template)?;
                let corners: Vec<(f64, f64)> = found
                    .corners
                    .iter()
                    .map(|c| (c.right.to_inches(), c.up.to_inches()))
                    .collect();
                let span = |get: &dyn Fn(&(f64, f64)) -> f64| {
                    let (low, top) = corners
                        .iter()
                        .map(get)
                        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, t), v| (l.min(v), t.max(v)));
                    top - low
                };
                let fits = span(&|p| p.0) <= c.0 + 1.0e-9 && span(&|p| p.1) <= c.1 + 1.0e-9;
                fits.then_some(())?;
                let Some(laid) = &found.applique else {
                    return self.unturned(piece, corners, times);
                };
                (piece.turn == Turn::As).then_some(())?;
                let line = laid.line.iter().map(|c| (c.right.to_inches(), c.up.to_inches()));
                // Traced on the wrong side it comes out as the mirror image.
                let side_up = |p: (f64, f64)| if laid.from_back { (-p.0, p.1) } else { p };
                let whole = corners.iter().copied().chain(line).map(side_up);
                let outline = whole.enumerate().map(|(i, p)| (i as u32, p)).collect();
                self.out.laid.insert(piece.piece.0.clone(), laid.line.len());
                self.add(piece, outline, times)
            }
        }
    }

    fn unturned(&mut self, piece: &PieceCut, corners: Vec<(f64, f64)>, times: u64) -> Option<()> {
        (piece.turn == Turn::As).then_some(())?;
        self.piece(piece, corners, times)
    }

    fn piece(&mut self, piece: &PieceCut, corners: Vec<(f64, f64)>, times: u64) -> Option<()> {
        let n = corners.len();
        let outline = (0..n)
            .filter(|&i| corners[i] != corners[(i + 1) % n])
            .map(|i| (i as u32, corners[i]))
            .collect();
        self.add(piece, outline, times)
    }

    fn add(&mut self, piece: &PieceCut, outline: Outline, times: u64) -> Option<()> {
        let fabric = self.cloth_of.get(piece.piece.as_str())?;
        if *fabric != self.fabric
            || outline.len() < 3
            || !(convex(&outline) || self.out.laid.contains_key(piece.piece.as_str()))
        {
            return None;
        }
        if times == 0 {
            return Some(());
        }
        let met = self.out.kinds.entry(piece.piece.0.clone()).or_default();
        match met.iter_mut().find(|m| m.0 == outline) {
            Some(known) => known.1 += times,
            None => met.push((outline, times)),
        }
        Some(())
    }
}

fn convex(outline: &Outline) -> bool {
    let n = outline.len();
    area(outline) > 1.0e-6
        && (0..n).all(|i| {
            let (p, q, r) = (outline[i].1, outline[(i + 1) % n].1, outline[(i + 2) % n].1);
            (q.0 - p.0) * (r.1 - q.1) - (q.1 - p.1) * (r.0 - q.0) > -1.0e-6
        })
}

/// What lies to the left of the line through both dots, moved `past` to its right; the new edge is `number`.
fn shaped(outline: &Outline, cut: &ShapingCut, number: u32) -> Option<Outline> {
    let dot = |d: &recipe::Dot| {
        Some((
            units(d.from_left)? as f64 / 8128.0,
            units(d.from_lower)? as f64 / 8128.0,
        ))
    };
    let (p, q, past) = (dot(&cut.from)?, dot(&cut.to)?, units(cut.past)? as f64 / 8128.0);
    let (dx, dy) = (q.0 - p.0, q.1 - p.1);
    let length = (dx * dx + dy * dy).sqrt();
    if length < 1.0e-9 {
        return None;
    }
    let (ux, uy) = (dx / length, dy / length);
    // Left of a direction (x, y) is (-y, x).
    let off = |c: (f64, f64)| (c.1 - p.1) * ux - (c.0 - p.0) * uy + past;
    let n = outline.len();
    let mut kept = Outline::new();
    for i in 0..n {
        let ((edge, a), (_, b)) = (outline[i], outline[(i + 1) % n]);
        let (da, db) = (off(a), off(b));
        let between = || {
            let t = da / (da - db);
            (a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t)
        };
        if da > 1.0e-9 {
            kept.push((edge, a));
            if db < -1.0e-9 {
                kept.push((number, between()));
            }
        } else if da >= -1.0e-9 {
            kept.push((if db < -1.0e-9 { number } else { edge }, a));
        } else if db > 1.0e-9 {
            kept.push((edge, between()));
        }
    }
    // A cut that only touches takes nothing off and gives no edge.
    let touched: Outline = if outline.iter().all(|c| off(c.1) >= -1.0e-9) {
        outline.clone()
    } else {
        kept
    };
    (touched.len() >= 3).then_some(touched)
}
