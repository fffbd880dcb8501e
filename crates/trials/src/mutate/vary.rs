//! Every way in which a site of each kind is altered, in a fixed order.

use super::facts::{Facts, MakeFacts};
use super::site::{Change, Edit, Home, Kind, Site};
use measure::Measure;
use serde_json::{Value, json};

/// Sizes go up and down by so much, in 1/8128 in, and once by a whole inch.
const SIZES: [(i64, &str); 7] = [
    (508, "+1/16 in"),
    (-508, "-1/16 in"),
    (1016, "+1/8 in"),
    (-1016, "-1/8 in"),
    (2032, "+1/4 in"),
    (-2032, "-1/4 in"),
    (8128, "+1 in"),
];

/// A template's corners are so many times finer.
const PRINTED: i64 = measure::PRINTED_PER_LENGTH;

/// A shop's step: 1/8 yd, or 10 cm.
pub fn shop_step(measure: Measure) -> i64 {
    match measure {
        Measure::Inch => 36_576,
        Measure::Metric => 32_000,
    }
}

/// All changes of one site.
pub fn vary(site: &Site, value: &Value, facts: &Facts, root: &Value) -> Vec<Change> {
    let make = site.make().and_then(|m| facts.makes.get(m));
    let p = site.path.as_str();
    match site.kind {
        Kind::Size | Kind::RulerMark | Kind::TemplateCorner | Kind::GuideCorner | Kind::CardCorner => {
            sizes(site, value, facts)
        }
        Kind::StretchEnd | Kind::ShapeNumber | Kind::CardSide => counts(p, value),
        Kind::GuideName => names(
            p,
            value,
            &[facts.guides.as_slice(), &["printed nowhere".into()]].concat(),
        ),
        Kind::CardName => names(
            p,
            value,
            &[facts.cards.as_slice(), &["printed nowhere".into()]].concat(),
        ),
        Kind::ShapeEdge => shape_edges(p, value),
        Kind::Count => counts(p, value),
        Kind::EdgeNumber => edges(p, value, make, root),
        Kind::SeamNumber => vec![number(p, "next seam", value.as_u64().unwrap_or(0) + 1)],
        Kind::SideNumber => sides(p, value, root),
        Kind::Joint => counts(p, value),
        Kind::Slot => {
            let mut found = slots(p, value, make);
            // One of the lengths cut from a strip set.
            if p.rsplit_once('/').is_some_and(|(list, _)| list.ends_with("/into")) {
                found.push(Change {
                    says: "left out".into(),
                    edits: vec![Edit::Drop(p.into())],
                });
            }
            found
        }
        Kind::Fabric => names(p, value, &facts.fabrics),
        Kind::Piece => names(p, value, &facts.pieces),
        Kind::Unit => names(p, value, &facts.units),
        Kind::MarkName => {
            let marks = make.map(|m| m.marks.as_slice()).unwrap_or_default();
            names(p, value, &[marks, &["drawn nowhere".into()]].concat())
        }
        Kind::TemplateName => names(
            p,
            value,
            &[facts.templates.as_slice(), &["printed nowhere".into()]].concat(),
        ),
        Kind::PaperName => names(
            p,
            value,
            &[facts.papers.as_slice(), &["printed nowhere".into()]].concat(),
        ),
        Kind::LineNumber => counts(p, value),
        Kind::Press => choices(
            p,
            value,
            &["toward-lower", "toward-upper", "open", "spun-lower", "spun-upper"],
        ),
        Kind::Turn => choices(p, value, &["as", "quarter", "half", "three-quarters"]),
        Kind::Purpose => choices(p, value, &["binding", "bias-square", "backing", "sleeve", "label"]),
        Kind::Angle => choices(p, value, &["30", "45", "60", "90"]),
        Kind::Print => choices(p, value, &["none", "two-way", "one-way"]),
        Kind::Stop => [
            ("to the raw edge", json!("raw")),
            ("stop at a dot", json!("dot")),
            ("stop an inch along", json!({ "at": { "len": 8128 } })),
        ]
        .into_iter()
        .filter(|(_, stop)| stop.is_object() != value.is_object() || stop.is_string() && stop != value)
        .map(|(says, stop)| Change::one(says, p, stop))
        .collect(),
        Kind::Rising | Kind::RightSide | Kind::Join | Kind::FromBack => {
            let old = value.as_bool().unwrap_or(false);
            vec![Change::one(
                if old { "true to false" } else { "false to true" },
                p,
                json!(!old),
            )]
        }
        Kind::End => ends(p, value),
        Kind::Ends => exchange(p, value),
        Kind::Take => takes(p, value, facts),
        Kind::Gives => gives(site, value, facts, root),
        Kind::Path => paths(p, value, root),
        Kind::Line => lines(p, value),
        Kind::Step => steps(p, root),
        Kind::PartTurned => turned(p, value, make, root),
    }
}

fn number(path: &str, says: &str, new: u64) -> Change {
    Change::one(says, path, json!(new))
}

fn sizes(site: &Site, value: &Value, facts: &Facts) -> Vec<Change> {
    let Some(old) = value.as_i64() else { return Vec::new() };
    let printed = matches!(site.kind, Kind::TemplateCorner | Kind::GuideCorner | Kind::CardCorner);
    let fine = if printed { PRINTED } else { 1 };
    let by = |(d, says): &(i64, &str)| Change::one(*says, &site.path, json!(old + d * fine));
    let mut found: Vec<Change> = SIZES.iter().map(by).collect();
    if matches!(site.home, Home::Bought(_)) && site.passes("length") {
        let step = shop_step(facts.measure);
        found.push(Change::one("one shop step less", &site.path, json!(old - step)));
    }
    found
}

fn shape_edges(path: &str, value: &Value) -> Vec<Change> {
    let (says, other) = match value.as_str() {
        Some(_) => ("raw to turned", json!({ "turned": { "by": { "len": 1524 } } })),
        None => ("turned to raw", json!("raw")),
    };
    vec![Change::one(says, path, other)]
}

fn counts(path: &str, value: &Value) -> Vec<Change> {
    let old = value.as_u64().unwrap_or(0);
    let mut found = vec![number(path, "one more", old + 1)];
    if old > 0 {
        found.push(number(path, "one less", old - 1));
    }
    found
}

fn edges(path: &str, value: &Value, make: Option<&MakeFacts>, root: &Value) -> Vec<Change> {
    let old = value.as_u64().unwrap_or(0);
    let of = path
        .rsplit_once('/')
        .and_then(|(edge, _)| root.pointer(&format!("{edge}/of"))?.as_u64());
    let n = of
        .zip(make)
        .and_then(|(of, make)| make.edges.get(&(of as u32)).copied());
    match n.map(u64::from) {
        Some(n) if n > 1 && old < n => {
            let others: Vec<u64> = if n <= 5 { (1..n).collect() } else { vec![1, n - 1] };
            others
                .into_iter()
                .map(|k| number(path, &format!("edge {k} on"), (old + k) % n))
                .collect()
        }
        _ => vec![number(path, "edge 1 on", old + 1)],
    }
}

fn sides(path: &str, value: &Value, root: &Value) -> Vec<Change> {
    let old = value.as_u64().unwrap_or(0);
    let sides = path
        .rsplit_once('/')
        .and_then(|(f, _)| root.pointer(&format!("{f}/sides"))?.as_array());
    let n = sides.map_or(0, |s| s.len() as u64).max(1);
    (1..n)
        .map(|k| number(path, &format!("side {k} on"), (old + k) % n))
        .collect()
}

fn slots(path: &str, value: &Value, make: Option<&MakeFacts>) -> Vec<Change> {
    let (Some(old), Some(make)) = (value.as_u64(), make) else {
        return Vec::new();
    };
    let slots = &make.slots;
    let mut found = Vec::new();
    if let Some(at) = slots.iter().position(|&s| u64::from(s) == old) {
        let n = slots.len();
        if n > 1 {
            found.push(number(path, "next slot", slots[(at + 1) % n].into()));
        }
        if n > 2 {
            found.push(number(path, "slot before", slots[(at + n - 1) % n].into()));
        }
    }
    let fresh = u64::from(slots.last().copied().unwrap_or(0)) + 1;
    found.push(number(path, "slot of nothing", fresh));
    found
}

fn names(path: &str, value: &Value, known: &[String]) -> Vec<Change> {
    let Some(old) = value.as_str() else { return Vec::new() };
    let n = known.len();
    let at = known.iter().position(|k| k == old).unwrap_or(0);
    let mut others: Vec<&String> = Vec::new();
    for k in [1, n.saturating_sub(1)] {
        let other = known.get((at + k) % n.max(1));
        others.extend(other.filter(|o| *o != old && !others.contains(o)));
    }
    others
        .into_iter()
        .map(|o| Change::one("another name", path, json!(o)))
        .collect()
}

fn choices(path: &str, value: &Value, all: &[&str]) -> Vec<Change> {
    let old = value.as_str().unwrap_or_default();
    all.iter()
        .filter(|c| **c != old)
        .map(|c| Change::one(format!("{old} to {c}"), path, json!(c)))
        .collect()
}

fn ends(path: &str, value: &Value) -> Vec<Change> {
    let mut found = Vec::new();
    let with = |key: &str, extra: Value, of: &Value| {
        let mut of = of.clone();
        if let (Some(fields), Some(extra)) = (of.as_object_mut(), extra.as_object()) {
            fields.remove("about");
            fields.remove("by");
            fields.extend(extra.clone());
        }
        json!({ key: of })
    };
    for kind in ["even", "notch", "overhang"] {
        let Some(of) = value.get(kind) else { continue };
        if kind != "even" {
            found.push(Change::one(
                format!("{kind} to even"),
                path,
                with("even", json!({}), of),
            ));
        }
        if kind != "notch" {
            let notch = with("notch", json!({ "about": { "len": 0 } }), of);
            found.push(Change::one(format!("{kind} to notch"), path, notch));
        }
        let overhang = with("overhang", json!({ "by": { "len": 508 } }), of);
        found.push(Change::one(format!("{kind} to overhang"), path, overhang));
        let mut crossed = of.clone();
        if let Some(fields) = crossed.as_object_mut()
            && let (Some(a), Some(b)) = (fields.remove("a"), fields.remove("b"))
        {
            fields.insert("a".into(), b);
            fields.insert("b".into(), a);
        }
        found.push(Change::one("layers exchanged", path, json!({ kind: crossed })));
    }
    if let (Some(a), Some(b)) = (value.pointer("/dots/a"), value.pointer("/dots/b")) {
        let crossed = json!({ "dots": { "a": b, "b": a } });
        found.push(Change::one("dots exchanged", path, crossed));
    }
    if value.as_str() != Some("open") {
        found.push(Change::one("to open", path, json!("open")));
    }
    if value.as_str() != Some("centre") {
        found.push(Change::one("to centre", path, json!("centre")));
    }
    found
}

/// First for last.
fn exchange(path: &str, value: &Value) -> Vec<Change> {
    let (Some(first), Some(last)) = (value.get("first"), value.get("last")) else {
        return Vec::new();
    };
    let edits = vec![
        Edit::Put(format!("{path}/first"), last.clone()),
        Edit::Put(format!("{path}/last"), first.clone()),
    ];
    vec![Change {
        says: "first for last".into(),
        edits,
    }]
}

fn takes(path: &str, value: &Value, facts: &Facts) -> Vec<Change> {
    let other = if value.get("piece").is_some() {
        facts.units.first().map(|u| json!({ "unit": u }))
    } else {
        facts.pieces.first().map(|p| json!({ "piece": p }))
    };
    other
        .map(|o| Change::one("piece for unit", path, o))
        .into_iter()
        .collect()
}

fn gives(site: &Site, value: &Value, facts: &Facts, root: &Value) -> Vec<Change> {
    let path = site.path.as_str();
    let one = |piece: &Value| json!({ "piece": { "piece": piece, "turn": "as" } });
    let mut found = Vec::new();
    if value.as_str() == Some("waste") {
        let notes = root.pointer("/recipe/pieces").and_then(Value::as_array);
        let fabric = match site.home {
            Home::Strip(cloth, _) => root.pointer(&format!("/cutting/cloths/{cloth}/fabric")),
            _ => None,
        };
        let piece = notes.and_then(|n| n.iter().find(|p| p.get("fabric") == fabric)?.get("piece"));
        found.extend(piece.map(|p| Change::one("waste to piece", path, one(p))));
        return found;
    }
    found.push(Change::one("to waste", path, json!("waste")));
    if let Some(halves) = value.get("halves") {
        let piece = halves.pointer("/lower/piece").cloned().unwrap_or_default();
        found.push(Change::one("halves to piece", path, one(&piece)));
    }
    if let Some(piece) = value.pointer("/piece/piece") {
        let half = json!({ "piece": piece, "turn": "as" });
        let halves = json!({ "halves": { "rising": true, "lower": half, "upper": half } });
        found.push(Change::one("piece to halves", path, halves));
    }
    for kind in ["shaped", "template"] {
        if let Some(piece) = value.pointer(&format!("/{kind}/piece/piece")) {
            found.push(Change::one(format!("{kind} to piece"), path, one(piece)));
        }
    }
    if facts.pieces.is_empty() { Vec::new() } else { found }
}

fn paths(path: &str, value: &Value, root: &Value) -> Vec<Change> {
    let seam = root.pointer("/recipe/seam").cloned().unwrap_or_default();
    if let Some(mark) = value.get("on-mark") {
        let both = json!({ "both-sides": { "mark": mark, "by": seam } });
        return vec![Change::one("on the line to both sides of it", path, both)];
    }
    if let Some(edges) = value.pointer("/round/edges").and_then(Value::as_array) {
        let round = |edges: Vec<Value>| json!({ "round": { "edges": edges, "by": seam } });
        let backward: Vec<Value> = edges.iter().rev().cloned().collect();
        let short: Vec<Value> = edges.iter().skip(1).cloned().collect();
        let twice = [edges.as_slice(), edges.as_slice()].concat();
        let beside = json!({ "beside": { "by": seam, "from": "raw", "to": "raw" } });
        return vec![
            Change::one("round the other way", path, round(backward)),
            Change::one("not all round", path, round(short)),
            Change::one("round twice", path, round(twice)),
            Change::one("round to beside", path, beside),
        ];
    }
    if value.get("on-paper").is_some() {
        let beside = json!({ "beside": { "by": seam, "from": "raw", "to": "raw" } });
        return vec![Change::one("on the printed line to beside", path, beside)];
    }
    let mark = value.pointer("/both-sides/mark");
    mark.map(|m| Change::one("both sides of the line to on it", path, json!({ "on-mark": m })))
        .into_iter()
        .collect()
}

fn lines(path: &str, value: &Value) -> Vec<Change> {
    if let Some(of) = value.pointer("/edge/of") {
        return vec![Change::one(
            "edge to seam",
            path,
            json!({ "seam": { "of": of, "seam": 0 } }),
        )];
    }
    let of = value.pointer("/seam/of");
    of.map(|of| Change::one("seam to edge", path, json!({ "edge": { "of": of, "edge": 0 } })))
        .into_iter()
        .collect()
}

fn steps(path: &str, root: &Value) -> Vec<Change> {
    let one = |says: &str, edit: Edit| Change {
        says: says.into(),
        edits: vec![edit],
    };
    let mut found = vec![
        one("drop", Edit::Drop(path.into())),
        one("repeat", Edit::Repeat(path.into())),
    ];
    let next = path
        .rsplit_once('/')
        .and_then(|(list, i)| Some((list, i.parse::<usize>().ok()? + 1)));
    if next.is_some_and(|(list, i)| root.pointer(&format!("{list}/{i}")).is_some()) {
        found.push(one("swap with next", Edit::Swap(path.into())));
    }
    found
}

/// A part called as if it lay turned, and as if it lay turned over: every mention of its edges renumbered.
fn turned(path: &str, value: &Value, make: Option<&MakeFacts>, root: &Value) -> Vec<Change> {
    let of = value.get("slot").and_then(Value::as_u64);
    let n = of
        .zip(make)
        .and_then(|(of, make)| make.edges.get(&(of as u32)).copied());
    let (Some(of), Some(n)) = (of, n.filter(|n| *n > 2)) else {
        return Vec::new();
    };
    let Some((make_path, _)) = path.split_once("/parts/") else {
        return Vec::new();
    };
    let mut found = Vec::new();
    let mut rename = |says: String, to: &dyn Fn(u64) -> u64| {
        let mut edits = Vec::new();
        for list in ["steps", "gives"] {
            let at = format!("{make_path}/{list}");
            if let Some(steps) = root.pointer(&at) {
                mentions(steps, &at, of, to, &mut edits);
            }
        }
        found.push(Change { says, edits });
    };
    let n = u64::from(n);
    for k in 1..n.min(5) {
        rename(format!("part turned {k} on"), &|edge| (edge + k) % n);
    }
    rename("part turned over".into(), &|edge| (2 * n - edge - 1) % n);
    rename("part turned over the other way".into(), &|edge| (n - edge % n) % n);
    found
}

fn mentions(value: &Value, path: &str, slot: u64, to: &dyn Fn(u64) -> u64, edits: &mut Vec<Edit>) {
    match value {
        Value::Array(items) => {
            for (i, inner) in items.iter().enumerate() {
                mentions(inner, &format!("{path}/{i}"), slot, to, edits);
            }
        }
        Value::Object(fields) => {
            if fields.get("of").and_then(Value::as_u64) == Some(slot)
                && let Some(edge) = fields.get("edge").and_then(Value::as_u64)
            {
                edits.push(Edit::Put(format!("{path}/edge"), json!(to(edge))));
            }
            for (key, inner) in fields {
                mentions(inner, &format!("{path}/{key}"), slot, to, edits);
            }
        }
        _ => {}
    }
}
