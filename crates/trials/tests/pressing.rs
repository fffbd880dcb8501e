//! Pressing of whole designs: how many meetings there are and how many nest, worked out by hand beside each, against
//! what the planner says; every one proved.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::{Lay, Press, Step};
use std::collections::BTreeMap;
use trials::whole::Whole;

const HEAD: &str = r##"format = 1
[quilt]
title = "Trial"
[[fabric]]
name = "a"
color = "#efe8d8"
[[fabric]]
name = "b"
color = "#1f2d4a"
"##;

/// A block of squares of an inch, a letter for each, rows from the top.
fn squares(name: &str, rows: &[&str]) -> String {
    let (width, height) = (rows[0].len(), rows.len());
    let mut text =
        format!("[[block]]\nname = \"{name}\"\nsize = [{width}, {height}]\ngrid = [{width}, {height}]\npatches = [\n");
    for (y, row) in rows.iter().enumerate() {
        for (x, fabric) in row.chars().enumerate() {
            let (right, below) = (x + 1, y + 1);
            text += &format!("  {{ fabric = \"{fabric}\", path = \"M{x} {y} H{right} V{below} H{x} Z\" }},\n");
        }
    }
    text + "]\n"
}

fn layout(rows: &[&[&str]]) -> String {
    let rows: Vec<String> = rows
        .iter()
        .map(|row| {
            format!(
                "[{}]",
                row.iter().map(|b| format!("\"{b}\"")).collect::<Vec<_>>().join(", ")
            )
        })
        .collect();
    format!("[layout]\nkind = \"straight\"\nrows = [{}]\n", rows.join(", "))
}

fn proved(rest: &str) -> Whole {
    let whole = Whole::of(&format!("{HEAD}{rest}")).unwrap_or_else(|f| panic!("{f:#?}"));
    if let Err(findings) = whole.rehearse() {
        panic!("{findings:#?}");
    }
    whole
}

/// Points matched in all laying of edge on edge, as often as it is done: the places where seams meet.
fn matched(whole: &Whole) -> u64 {
    let mut sum = 0;
    for make in &whole.pattern.recipe.makes {
        for step in &make.steps {
            if let Step::Lay {
                how: Lay::Edges { meets, .. },
                ..
            } = step
            {
                sum += u64::from(make.times) * meets.len() as u64;
            }
        }
    }
    sum
}

/// How many meetings nest, and of how many.
fn nesting(design: &str) -> (u64, u64) {
    let design = design::read_design(&format!("{HEAD}{design}")).unwrap();
    let nesting = piecing::plan(&design).unwrap().nesting;
    (nesting.nesting, nesting.meetings)
}

/// What is said of seams that do not nest.
fn said(whole: &Whole) -> Option<String> {
    let found = whole.findings.iter().find(|f| f.code == "seams-do-not-nest");
    found.map(|f| f.sentence.clone())
}

fn two_ways(whole: &Whole) -> Vec<String> {
    let labels = whole.pattern.recipe.makes.iter().map(|m| m.label.clone());
    labels.filter(|label| label.contains("pressed")).collect()
}

#[test]
fn all_four_meetings_of_a_nine_patch_nest() {
    // By hand: rows aba, bab, aba, each pressed toward the dark: outer rows outward, the middle row inward. Two seams of
    // the rows meet at each of two long seams: 2 x 2 = 4, all opposite.
    let whole = proved(&(squares("n", &["aba", "bab", "aba"]) + &layout(&[&["n"]])));
    assert_eq!((matched(&whole), said(&whole)), (4, None));
    assert_eq!(two_ways(&whole), [""; 0]);
}

#[test]
fn blocks_beside_their_like_are_pressed_in_and_out() {
    // By hand: the seam of each block of two meets that of the next. Made one way all three meetings would miss; blocks
    // by turns in and out, all nest. Two makings of the block, two of each.
    let whole = proved(&(squares("t", &["a", "b"]) + &layout(&[&["t", "t", "t", "t"]])));
    assert_eq!((matched(&whole), said(&whole)), (3, None));
    assert_eq!(two_ways(&whole), ["T block, pressed in", "T block, pressed out"]);
    let makes = &whole.pattern.recipe.makes;
    let times: Vec<u32> = makes
        .iter()
        .filter(|m| m.label.contains("pressed"))
        .map(|m| m.times)
        .collect();
    assert_eq!(times, [2, 2]);
    let presses = |label: &str| -> Vec<Press> {
        let make = makes.iter().find(|m| m.label.ends_with(label)).unwrap();
        let press = |step: &Step| match step {
            Step::Open { press, .. } => Some(*press),
            _ => None,
        };
        make.steps.iter().filter_map(press).collect()
    };
    let (inward, outward) = (presses("pressed in"), presses("pressed out"));
    assert_eq!(inward.len(), 1);
    assert_ne!(inward, outward);
}

#[test]
fn a_grid_of_four_patches_nests_throughout() {
    // By hand: n x n blocks are 2n x 2n squares, with (2n - 1)^2 places where seams cross. The short seams of a block
    // nest with their like turned half round; the long one, and the rows' seams, need a second way. Where there are but
    // 2 x 2 blocks that would be three makings more for three meetings, so there it is left.
    for n in [3, 5_usize] {
        let row = vec!["f"; n];
        let rows: Vec<&[&str]> = vec![&row; n];
        let whole = proved(&(squares("f", &["ab", "ba"]) + &layout(&rows)));
        let crossings = (2 * n as u64 - 1).pow(2);
        assert_eq!((matched(&whole), said(&whole)), (crossings, None), "{n}");
    }
}

#[test]
fn four_patches_and_plain_squares_by_turns_need_one_way_only() {
    // By hand: 8 four patches with one meeting within each; 3 x 3 where the rows' seams meet, each pressed toward the
    // plain square, so that they lie opposite. A plain square's side has no seam to meet.
    let blocks = squares("f", &["ab", "ba"])
        + "[[block]]\nname = \"p\"\nsize = [2, 2]\ngrid = [1, 1]\npatches = [{ fabric = \"b\", path = \"M0 0 H1 V1 H0 Z\" }]\n";
    let (odd, even): (&[&str], &[&str]) = (&["f", "p", "f", "p"], &["p", "f", "p", "f"]);
    let whole = proved(&(blocks + &layout(&[odd, even, odd, even])));
    assert_eq!((matched(&whole), said(&whole)), (17, None));
    assert_eq!(two_ways(&whole), [""; 0]);
}

#[test]
fn pinwheels_nest_at_every_centre_and_corner() {
    // By hand: all four diagonals are pressed round the middle the same way, so that beside any straight seam one goes up
    // and the other down. Of a block's meetings 4 are of diagonals, laid on one another with the half-square units, and 1
    // is of the two short straight seams. Of 2 x 2 blocks: 4 x 5 within them; where two blocks are joined, 1 of their
    // rows' seams and 2 of diagonals at the corners, twice; along the last seam 2 of the blocks' own, 1 of the rows' own,
    // 4 of diagonals: 33. That of the two rows of blocks, which are alike, would nest only by a second making of the row:
    // 1 meeting, and 2 are asked for.
    let mut pinwheel = String::from("[[block]]\nname = \"w\"\nsize = [4, 4]\ngrid = [2, 2]\npatches = [\n");
    for path in ["M0 0 H1 V1", "M2 0 V1 H1", "M2 2 H1 V1", "M0 2 V1 H1"] {
        pinwheel += &format!("  {{ fabric = \"b\", path = \"{path} Z\" }},\n");
    }
    for path in ["M0 0 V1 H1", "M2 0 H1 V1", "M2 2 V1 H1", "M0 2 H1 V1"] {
        pinwheel += &format!("  {{ fabric = \"a\", path = \"{path} Z\" }},\n");
    }
    pinwheel += "]\n";
    let one: &[&[&str]] = &[&["w"]];
    let four: &[&[&str]] = &[&["w", "w"], &["w", "w"]];
    let (one, four) = (pinwheel.clone() + &layout(one), pinwheel + &layout(four));
    assert_eq!((nesting(&one), two_ways(&proved(&one)).len()), ((5, 5), 0));
    proved(&four);
    assert_eq!(nesting(&four), (32, 33));
}

#[test]
fn a_kind_more_is_made_only_where_it_pays() {
    // By hand: two blocks of two squares side by side have one meeting, which only a second way of the block would nest:
    // 1 meeting for 1 making more. By the rule 2 are asked for; where what forgives most counts first, 1.
    let two = squares("t", &["a", "b"]) + &layout(&[&["t", "t"]]);
    let whole = proved(&two);
    assert_eq!((nesting(&two), two_ways(&whole).len()), ((0, 1), 0));
    let why = said(&whole).unwrap();
    assert!(why.contains("1 more would nest") && why.contains("only for 2"), "{why}");
    let forgiving = HEAD.replace("[quilt]", "[quilt]\nprefer = \"forgiving\"");
    let whole = Whole::of(&format!("{forgiving}{two}")).unwrap();
    assert_eq!((said(&whole), two_ways(&whole).len()), (None, 2));
    // Three in a row: 2 meetings for 1 making more, which is just enough.
    let three = squares("t", &["a", "b"]) + &layout(&[&["t", "t", "t"]]);
    assert_eq!((nesting(&three), two_ways(&proved(&three)).len()), ((2, 2), 2));
}

/// Presses that the steps of a making take, and what it takes of other makings.
struct Bare {
    times: u64,
    /// For each press step that may be tried both ways: its lay's parts.
    make: recipe::Make,
}

/// An independent count, from the recipe alone: joints of laid runs, and for each joint the step whose pressing says which
/// way the cloth lies there. Squares only, whose makings all lay, sew and open.
struct Counter {
    makes: Vec<Bare>,
}

/// A piece of a unit, by the parts it came through; the steps that joined any two are found from that.
type Route = Vec<(usize, u32)>;

/// Two seams (unit and number), whether they nest when both turn or neither does, and how often they meet.
type Meeting = ((usize, usize), (usize, usize), bool, u64);

impl Counter {
    fn of(whole: &Whole) -> Self {
        let makes = whole.pattern.recipe.makes.iter();
        Counter {
            makes: makes
                .map(|m| Bare {
                    times: u64::from(m.times),
                    make: m.clone(),
                })
                .collect(),
        }
    }

    fn index(&self, unit: &terms::UnitId) -> usize {
        self.makes.iter().position(|m| &m.make.unit == unit).unwrap()
    }

    /// The pieces along an edge of a slot of a making, in the order of the run.
    fn along(&self, make: usize, e: &recipe::EdgeRef) -> Vec<Route> {
        let part = self.makes[make].make.parts.iter().find(|p| p.slot == e.of).unwrap();
        match &part.take {
            recipe::Take::Piece(_) => vec![vec![(make, e.of.0)]],
            recipe::Take::Unit(unit) => {
                let inner = self.index(unit);
                let side = &self.makes[inner].make.gives[0].sides[e.edge as usize];
                let pieces = side.0.iter().flat_map(|e| self.along(inner, e));
                pieces
                    .map(|mut route| {
                        route.insert(0, (make, e.of.0));
                        route
                    })
                    .collect()
            }
            _ => panic!("no such part here"),
        }
    }

    /// The press step that joined two neighbours, and whether the first of them was in its lower layer.
    fn joined(&self, x: &Route, y: &Route) -> ((usize, usize), bool) {
        let apart = x.iter().zip(y).find(|(p, q)| p != q).unwrap();
        let ((make, p), (_, q)) = apart;
        // Which slots lie in which work, step by step.
        let mut holds: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
        let mut stack = BTreeMap::new();
        let of = |holds: &BTreeMap<u32, Vec<u32>>, s: u32| holds.get(&s).cloned().unwrap_or_else(|| vec![s]);
        for (number, step) in self.makes[*make].make.steps.iter().enumerate() {
            match step {
                Step::Lay { a, b, into, .. } => {
                    stack.insert(into.0, (of(&holds, a.0), of(&holds, b.0)));
                }
                Step::Open { stack: s, into, .. } => {
                    let (lower, upper) = stack[&s.0].clone();
                    if lower.contains(p) && upper.contains(q) {
                        return ((*make, number), true);
                    }
                    if lower.contains(q) && upper.contains(p) {
                        return ((*make, number), false);
                    }
                    holds.insert(into.0, [lower, upper].concat());
                }
                _ => {}
            }
        }
        panic!("never joined");
    }

    /// Whether a seam's allowances lie toward the first of two neighbours, at the joint between these; and whether the
    /// seam is spun.
    fn toward_first(&self, x: &Route, y: &Route) -> (bool, bool) {
        let ((make, number), x_low) = self.joined(x, y);
        let steps = &self.makes[make].make.steps;
        let Step::Open { press, stack, .. } = &steps[number] else {
            panic!("no press")
        };
        let lower = match press {
            Press::TowardLower => true,
            Press::TowardUpper => false,
            Press::SpunLower | Press::SpunUpper => {
                // Which end of the seam: the lower piece is the first of its run or the last.
                let run = steps.iter().find_map(|step| match step {
                    Step::Lay {
                        how: Lay::Edges { a, .. },
                        into,
                        ..
                    } if into == stack => Some(a),
                    _ => None,
                });
                let along: Vec<Route> = run.unwrap().0.iter().flat_map(|e| self.along(make, e)).collect();
                let place = x.iter().position(|(m, _)| *m == make).unwrap();
                let low = if x_low { &x[place..] } else { &y[place..] };
                let at_start = along.first().is_some_and(|first| first == low);
                assert!(
                    at_start != along.last().is_some_and(|last| last == low),
                    "an end of the seam"
                );
                (*press == Press::SpunLower) == at_start
            }
            Press::Open => panic!("pressed apart"),
        };
        (lower == x_low, press.is_spun())
    }

    /// How many meetings nest as the recipe presses them; every spun seam lies the same way round as what crosses it.
    fn nest_as_pressed(&self) -> u64 {
        let mut nest = 0;
        for (i, bare) in self.makes.iter().enumerate() {
            for step in &bare.make.steps {
                let Step::Lay {
                    how: Lay::Edges { a, b, meets, .. },
                    into,
                    ..
                } = step
                else {
                    continue;
                };
                let run =
                    |run: &recipe::EdgeRun| -> Vec<Route> { run.0.iter().flat_map(|e| self.along(i, e)).collect() };
                let (lower, upper) = (run(a), run(b));
                let opened = bare.make.steps.iter().find_map(|step| match step {
                    Step::Open { stack, press, .. } if stack == into => Some(*press),
                    _ => None,
                });
                for meet in meets {
                    let back = |run: &[Route], at: u32| self.toward_first(&run[at as usize], &run[at as usize + 1]).0;
                    let (low, up) = (back(&lower, meet.a), back(&upper, meet.b));
                    // The runs run against each other: both toward the earlier of its run, or both toward the later, nest.
                    nest += if low == up { bare.times } else { 0 };
                    match opened {
                        // A quarter turn on from the lower layer's seam, the same way round: where that lies toward the
                        // end of the run, the half before it lies toward the lower layer.
                        Some(Press::SpunLower) => assert!(!low && !up),
                        Some(Press::SpunUpper) => assert!(low && up),
                        _ => {}
                    }
                }
            }
        }
        nest
    }

    fn spins(&self) -> bool {
        let spun = |step: &Step| matches!(step, Step::Open { press, .. } if press.is_spun());
        self.makes.iter().any(|bare| bare.make.steps.iter().any(spun))
    }

    /// All meetings: two press steps, whether they nest when pressed toward like layers, and how often.
    fn meetings(&self) -> Vec<Meeting> {
        let mut all = Vec::new();
        for (i, bare) in self.makes.iter().enumerate() {
            for step in &bare.make.steps {
                let Step::Lay {
                    how: Lay::Edges { a, b, meets, .. },
                    ..
                } = step
                else {
                    continue;
                };
                let run =
                    |run: &recipe::EdgeRun| -> Vec<Route> { run.0.iter().flat_map(|e| self.along(i, e)).collect() };
                let (lower, upper) = (run(a), run(b));
                for meet in meets {
                    let joint = |run: &[Route], at: u32| self.joined(&run[at as usize], &run[at as usize + 1]);
                    let ((s, s_low), (t, t_low)) = (joint(&lower, meet.a), joint(&upper, meet.b));
                    // The runs run against each other: both toward the earlier of its run, or both toward the later, nest.
                    all.push((s, t, s_low == t_low, bare.times));
                }
            }
        }
        all
    }
}

/// The best of all ways of pressing, one by one; none where there are too many.
fn best_of_all(whole: &Whole) -> Option<(u64, u64, usize)> {
    let meetings = Counter::of(whole).meetings();
    let mut seams: Vec<(usize, usize)> = meetings.iter().flat_map(|m| [m.0, m.1]).collect();
    seams.sort_unstable();
    seams.dedup();
    let place = |s: &(usize, usize)| seams.binary_search(s).unwrap();
    let bare: Vec<(usize, usize, bool, u64)> = meetings.iter().map(|m| (place(&m.0), place(&m.1), m.2, m.3)).collect();
    let all = bare.iter().map(|m| m.3).sum();
    if seams.len() > 16 {
        return None;
    }
    let nest = |choice: u32| -> u64 {
        let way = |s: usize| choice >> s & 1;
        bare.iter().filter(|m| (way(m.0) == way(m.1)) == m.2).map(|m| m.3).sum()
    };
    Some(((0..1_u32 << seams.len()).map(nest).max().unwrap_or(0), all, seams.len()))
}

/// The oracle: small designs of squares drawn by lot, every way of pressing of the makings there are tried one by one from
/// the recipe alone, against what the planner says it nests. (Derived: an exhaustive count.) In a making pressed both in
/// and out each is a step of its own here, so that the best of all is never fewer than the planner's, and equal where no
/// unit is made twice.
#[test]
fn as_many_nest_as_in_the_best_of_all_ways() {
    let mut state = 7_u64;
    let mut draw = |below: usize| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % below
    };
    let (mut tried, mut frustrated, mut spun, mut better) = (0, 0, 0, 0);
    for _ in 0..400 {
        let (wide, high) = (1 + draw(3), 1 + draw(3));
        let block = |name: &str, draw: &mut dyn FnMut(usize) -> usize| {
            let rows: Vec<String> = (0..high)
                .map(|_| (0..wide).map(|_| ["a", "b"][draw(2)]).collect())
                .collect();
            squares(name, &rows.iter().map(String::as_str).collect::<Vec<_>>())
        };
        let blocks = block("p", &mut draw) + &block("q", &mut draw);
        let (across, down) = (1 + draw(3), 1 + draw(3));
        let rows: Vec<Vec<&str>> = (0..down)
            .map(|_| (0..across).map(|_| ["p", "q"][draw(2)]).collect())
            .collect();
        let rows: Vec<&[&str]> = rows.iter().map(Vec::as_slice).collect();
        let design = blocks + &layout(&rows);
        let Ok(whole) = Whole::of(&format!("{HEAD}{design}")) else {
            continue;
        };
        if whole.methods.iter().any(|m| *m != "plain patches") {
            continue;
        }
        let Some((best, all, seams)) = best_of_all(&whole) else {
            continue;
        };
        let (nesting, meetings) = nesting(&design);
        assert_eq!(meetings, all, "{design}");
        let counter = Counter::of(&whole);
        assert_eq!(counter.nest_as_pressed(), nesting, "{design}");
        spun += usize::from(counter.spins());
        if counter.spins() {
            // The two ends of a spun seam go opposite ways, which no choice of one way for each can.
            better += usize::from(nesting > best);
            assert!(nesting >= best || !two_ways(&whole).is_empty(), "{design}");
        } else if two_ways(&whole).is_empty() {
            assert_eq!(nesting, best, "{design}");
        } else {
            assert!(nesting <= best, "{design}");
        }
        tried += usize::from(seams > 1);
        frustrated += usize::from(best < all);
    }
    println!(
        "{tried} designs tried, {frustrated} of them not all nest; {spun} with spun seams, {better} nest more by it"
    );
    assert!(
        tried > 60 && frustrated > 10 && spun > 20 && better > 5,
        "{tried} {frustrated} {spun} {better}"
    );
}

/// All presses of the recipe, making by making.
fn presses(whole: &Whole) -> Vec<Vec<Press>> {
    let of = |steps: &[Step]| {
        let one = |step: &Step| match step {
            Step::Open { press, .. } => Some(*press),
            _ => None,
        };
        steps.iter().filter_map(one).collect()
    };
    whole.pattern.recipe.makes.iter().map(|make| of(&make.steps)).collect()
}

#[test]
fn a_pinned_way_is_followed_whatever_the_cloths_and_an_impossible_one_says_why() {
    let two = |pin: &str| {
        let block = squares("p", &["ab"]);
        let layout = layout(&[&["p"]]);
        proved(&format!("{block}{pin}{layout}"))
    };
    let by_itself = presses(&two(""));
    let other = |ways: &[Vec<Press>]| -> Vec<Vec<Press>> {
        let turned = |press: &Press| match press {
            Press::TowardLower => Press::TowardUpper,
            _ => Press::TowardLower,
        };
        ways.iter().map(|ways| ways.iter().map(turned).collect()).collect()
    };
    // By itself toward the darker cloth, which is patch 2.
    assert_eq!(presses(&two("[[block.pin]]\npress = [1, 2]\n")), by_itself);
    let pinned = two("[[block.pin]]\npress = [2, 1]\n");
    assert_eq!(presses(&pinned), other(&by_itself));
    assert!(!pinned.findings.iter().any(|f| f.code == "pin-does-not-fit"));

    // In a four patch the two short seams nest whichever is pinned: the other turns to it.
    let four = |pin: &str| {
        let block = squares("p", &["ab", "ba"]);
        let layout = layout(&[&["p"]]);
        proved(&format!("{block}{pin}{layout}"))
    };
    for pin in ["press = [1, 2]", "press = [2, 1]", "press = [4, 3]"] {
        let whole = four(&format!("[[block.pin]]\n{pin}\n"));
        assert!(!whole.findings.iter().any(|f| f.code == "seams-do-not-nest"), "{pin}");
        assert!(!whole.findings.iter().any(|f| f.code == "pin-does-not-fit"), "{pin}");
    }
    // The long seam cannot go both ways.
    let whole = four("[[block.pin]]\npress = [1, 2]\n[[block.pin]]\npress = [4, 3]\n");
    let said = whole.findings.iter().find(|f| f.code == "pin-does-not-fit").unwrap();
    assert!(said.sentence.contains("patches 4 and 3"), "{said}");
    // No seam lies between what meets in a corner only.
    let whole = four("[[block.pin]]\npress = [1, 4]\n");
    let said = whole.findings.iter().find(|f| f.code == "pin-does-not-fit").unwrap();
    assert!(said.sentence.contains("patches 1 and 4"), "{said}");
}

#[test]
fn a_designer_says_by_what_the_layers_of_a_seam_are_placed() {
    // A four patch: its last seam has a joint to match; a short one has none. Both layers of each are squares or rows of two,
    // so that their raw middles lie on one another (by hand).
    let four = |pin: &str| {
        let block = squares("p", &["ab", "ba"]);
        proved(&format!("{block}{pin}{}", layout(&[&["p"]])))
    };
    let firsts = |whole: &Whole| -> Vec<recipe::End> {
        let steps = whole.pattern.recipe.makes.iter().flat_map(|make| &make.steps);
        let first = |step: &Step| match step {
            Step::Lay {
                how: Lay::Edges { first, .. },
                ..
            } => Some(first.clone()),
            _ => None,
        };
        steps.filter_map(first).collect()
    };
    let fits = |whole: &Whole| !whole.findings.iter().any(|f| f.code == "pin-does-not-fit");
    let by_ends = four("");
    assert!(
        firsts(&by_ends)
            .iter()
            .all(|end| matches!(end, recipe::End::Even { .. }))
    );
    // Patches are numbered row by row: 1 above 3.
    let long = ["[1, 3]", "[2, 4]"];
    let long = long
        .into_iter()
        .find(|pair| fits(&four(&format!("[[block.pin]]\nlay = {pair}\nby = \"seams\"\n"))));
    let whole = match long {
        Some(pair) => four(&format!("[[block.pin]]\nlay = {pair}\nby = \"seams\"\n")),
        // Else the block was sewn the other way, columns first.
        None => four("[[block.pin]]\nlay = [1, 2]\nby = \"seams\"\n"),
    };
    assert!(fits(&whole), "{:?}", whole.findings);
    assert_eq!(
        firsts(&whole)
            .iter()
            .filter(|end| matches!(end, recipe::End::Match(_)))
            .count(),
        1
    );
    for pair in ["[1, 2]", "[1, 3]"] {
        let whole = four(&format!("[[block.pin]]\nlay = {pair}\nby = \"middle\"\n"));
        assert!(
            fits(&whole) && firsts(&whole).contains(&recipe::End::Centre),
            "{pair} {:?}",
            whole.findings
        );
    }
    // No seams meet along a short seam, no seam lies between patches that meet in a corner only.
    let why = |pin: &str| {
        let whole = four(pin);
        let found = whole.findings.iter().find(|f| f.code == "pin-does-not-fit");
        found.map(|f| f.sentence.clone()).unwrap_or_default()
    };
    let short = [1, 2].map(|first| why(&format!("[[block.pin]]\nlay = [1, {}]\nby = \"seams\"\n", first + 1)));
    assert!(
        short.iter().any(|why| why.contains("no seams of the two layers meet")),
        "{short:?}"
    );
    assert!(why("[[block.pin]]\nlay = [1, 4]\nby = \"middle\"\n").contains("no seam that joins parts"));
}
