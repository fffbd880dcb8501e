//! Over some hundred generated designs every method and every structure of the planner occurs, and all that is planned is proved.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::{CutAngle, Gives, Lay, Step};
use std::collections::{BTreeMap, BTreeSet};
use trials::generate::{KINDS, Wanted, hexagons, trade};
use trials::whole::Whole;

/// What is seen of a pattern besides its methods' names.
fn structures(whole: &Whole) -> BTreeSet<&'static str> {
    let mut seen = BTreeSet::new();
    let recipe = &whole.pattern.recipe;
    for make in &recipe.makes {
        let steps = &make.steps;
        for step in steps {
            seen.extend(match step {
                Step::Pivot { .. } => Some("a seam that turns at a dot"),
                Step::Close { .. } => Some("a seam closed in two goes"),
                Step::Lay {
                    how: Lay::Curve { .. }, ..
                } => Some("a curve pinned"),
                Step::Lay {
                    how: Lay::OverPaper { .. },
                    ..
                } => Some("a line sewn on paper"),
                Step::StitchDown { .. } => Some("a patch stitched down"),
                Step::Whip { .. } => Some("edges whipped"),
                Step::Snip { .. } => Some("dog ears snipped"),
                Step::Trim { .. } => Some("a unit trimmed"),
                _ => None,
            });
        }
        let lengths = |s: &Step| matches!(s, Step::SubCut { .. });
        if let Some(at) = steps.iter().position(lengths) {
            let Step::SubCut { into, .. } = &steps[at] else {
                continue;
            };
            let strips = 1 + steps[..at].iter().filter(|s| matches!(s, Step::Open { .. })).count();
            seen.insert(if strips == 2 {
                "a strip set of two"
            } else {
                "a strip set of more"
            });
            seen.insert(if into.len() > 1 {
                "lengths cut from a set"
            } else {
                "one length of a set"
            });
        }
        // Mirror images of one another are made each by itself.
        let twin = recipe.pieces.iter().any(|p| p.twin.is_some());
        if twin {
            seen.insert("twins cut");
        }
    }
    let cutting = &whole.pattern.cutting;
    for cut in (cutting.cloths.iter().flat_map(|c| &c.strips)).flat_map(|s| s.runs.iter().flat_map(|r| &r.cuts)) {
        seen.extend(cut.ruler.map(|ruler| match ruler.angle {
            CutAngle::Thirty => "a cut at 30 degrees",
            CutAngle::FortyFive => "a cut at 45 degrees",
            CutAngle::Sixty => "a cut at 60 degrees",
            CutAngle::Wedge => "a cut along an angle ruler",
        }));
        seen.extend(match &cut.gives {
            Gives::Halves { .. } => Some("squares halved"),
            Gives::Quarters(_) => Some("squares quartered"),
            Gives::Shaped { .. } => Some("a piece cut beside dots"),
            Gives::Template { .. } => Some("a piece cut round a template"),
            Gives::Piece(_) if cut.lower != cut.upper => Some("a piece cut through two marks"),
            _ => None,
        });
    }
    seen
}

/// Which generators, and how many of each.
fn designs() -> Vec<(String, String)> {
    let mut all = Vec::new();
    all.extend((0..60).map(|seed| (format!("{seed}"), Wanted::any(seed).design())));
    all.extend((0..12).map(|seed| (format!("laid-{seed}"), Wanted::laid(seed).design())));
    all.extend((0..18 * KINDS).map(|seed| (format!("trade-{seed}"), trade(seed))));
    all.extend((0..10).map(|seed| (format!("curves-{seed}"), trials::curved::design(seed))));
    all.extend((0..10).map(|seed| (format!("hexagons-{seed}"), hexagons(seed))));
    all
}

/// Seen in these designs, whatever else they are for.
const STRUCTURES: [&str; 22] = [
    "a seam that turns at a dot",
    "a seam closed in two goes",
    "a curve pinned",
    "a line sewn on paper",
    "a patch stitched down",
    "edges whipped",
    "dog ears snipped",
    "a unit trimmed",
    "a strip set of two",
    "a strip set of more",
    "lengths cut from a set",
    "twins cut",
    "a cut at 45 degrees",
    "a cut at 60 degrees",
    "a cut along an angle ruler",
    "squares halved",
    "squares quartered",
    "a piece cut beside dots",
    "a piece cut round a template",
    "a piece cut through two marks",
    "half-rectangles rising",
    "half-rectangles falling",
];

/// Ways that have a name but cannot be pinned.
const STRUCTURAL: [&str; 4] = ["set-in seam", "partial seam", "curved seam", "applique"];

#[test]
fn every_method_and_structure_occurs() {
    let mut methods: BTreeMap<&'static str, usize> = BTreeMap::new();
    let mut seen: BTreeMap<&'static str, usize> = BTreeMap::new();
    let (mut proved, mut failures) = (0, Vec::new());
    let all = designs();
    for (name, text) in &all {
        let whole = match Whole::of(text) {
            Ok(whole) => whole,
            Err(findings) => {
                // A drawing left to chance may be one that cannot be made; a unit of the trade never is.
                let stop = findings.iter().find(|f| f.is_stop()).unwrap();
                let fatal = matches!(stop.code, "seam-trapped" | "unreadable" | "gap" | "overlap");
                if fatal || !name.starts_with(|c: char| c.is_ascii_digit()) && !name.starts_with("laid") {
                    failures.push(format!("{name}: {stop}"));
                }
                continue;
            }
        };
        match whole.rehearse() {
            Ok(_) => proved += 1,
            Err(findings) => failures.push(format!("{name}: {}", findings[0])),
        }
        whole.methods.iter().for_each(|m| *methods.entry(m).or_default() += 1);
        structures(&whole)
            .into_iter()
            .for_each(|s| *seen.entry(s).or_default() += 1);
        hands(&whole).into_iter().for_each(|s| *seen.entry(s).or_default() += 1);
    }
    println!("{proved} of {} proved", all.len());
    println!("methods: {methods:?}");
    println!("structures: {seen:?}");
    // A template is no unit's way: it is seen by how pieces are cut.
    let pinnable = piecing::method_names().into_iter().filter(|m| *m != "template");
    let names = pinnable.chain(STRUCTURAL);
    let unmet: Vec<&str> = names.filter(|m| !methods.contains_key(m)).collect();
    let unseen: Vec<&str> = STRUCTURES.into_iter().filter(|s| !seen.contains_key(s)).collect();
    let some = failures.iter().take(20).cloned().collect::<Vec<_>>().join("\n");
    assert!(failures.is_empty(), "{} not proved:\n{some}", failures.len());
    assert!(unmet.is_empty() && unseen.is_empty(), "never: {unmet:?} {unseen:?}");
}

/// Which hands of half-rectangle units are made in pairs, by the picture: a unit of two triangles taller than wide.
fn hands(whole: &Whole) -> Vec<&'static str> {
    if !whole.methods.contains(&"half-rectangle pairs") {
        return Vec::new();
    }
    let mut found = Vec::new();
    for face in whole.picture.faces.iter().filter(|f| f.outline.len() == 3) {
        let n = face.outline.len();
        for i in 0..n {
            let way = face.outline.corner(i + 1) - face.outline.corner(i);
            if way.x.abs() > 0.1 && way.y.abs() > 0.1 {
                found.push(if way.x * way.y > 0.0 {
                    "half-rectangles rising"
                } else {
                    "half-rectangles falling"
                });
            }
        }
    }
    found
}
