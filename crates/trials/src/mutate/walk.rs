//! Reflection: every leaf of a pattern's JSON form becomes a site, unless it is on the list of words.

use super::site::{Home, Kind, Site};
use serde_json::Value;
use terms::FabricId;

/// Keys whose values are words or derivations, which the rehearsal does not read; and the file's format number, which
/// is judged where files are opened.
pub const WORDS: [&str; 9] = [
    "title", "author", "edition", "label", "color", "measure", "why", "whys", "format",
];

/// Keys that are not written while they hold their plain value.
pub const LEFT_OUT_WHEN_PLAIN: [&str; 3] = ["join", "spare", "from_back"];

/// All sites of a pattern.
#[derive(Clone, Debug, Default)]
pub struct Walked {
    /// In the order of the file.
    pub sites: Vec<Site>,
    /// Paths of leaves of an unknown kind.
    pub unread: Vec<String>,
}

/// Walks a pattern.
pub fn walk(pattern: &Value) -> Walked {
    let mut walked = Walked::default();
    let mut keys = Vec::new();
    visit(pattern, pattern, &mut keys, &mut walked);
    walked
}

fn visit(root: &Value, value: &Value, keys: &mut Vec<String>, out: &mut Walked) {
    for kind in whole_kinds(value, keys) {
        add(root, kind, keys, out);
    }
    match value {
        Value::Object(fields) => {
            for (key, inner) in fields {
                if WORDS.contains(&key.as_str()) {
                    continue;
                }
                keys.push(key.clone());
                visit(root, inner, keys, out);
                keys.pop();
            }
            let last = keys.last().map(String::as_str);
            let plain = match last {
                Some("sew") if !fields.contains_key("join") => Some(("join", Kind::Join)),
                Some("applique") if !fields.contains_key("from_back") => Some(("from_back", Kind::FromBack)),
                _ if fields.contains_key("gives") && fields.contains_key("unit") && !fields.contains_key("spare") => {
                    Some(("spare", Kind::Count))
                }
                _ => None,
            };
            if let Some((key, kind)) = plain {
                keys.push(key.into());
                add(root, kind, keys, out);
                keys.pop();
            }
        }
        Value::Array(items) => {
            for (i, inner) in items.iter().enumerate() {
                keys.push(i.to_string());
                visit(root, inner, keys, out);
                keys.pop();
            }
        }
        leaf => match leaf_kind(leaf, keys) {
            Some(kind) => add(root, kind, keys, out),
            None if leaf.is_null() => {}
            None if !whole_kinds(leaf, keys).is_empty() => {}
            None => out.unread.push(path_of(keys)),
        },
    }
}

fn path_of(keys: &[String]) -> String {
    keys.iter().fold(String::new(), |path, key| path + "/" + key)
}

fn add(root: &Value, kind: Kind, keys: &[String], out: &mut Walked) {
    match home(root, keys) {
        Some(home) => out.sites.push(Site {
            path: path_of(keys),
            kind,
            home,
        }),
        None => out.unread.push(path_of(keys)),
    }
}

fn at(keys: &[String], from_end: usize) -> &str {
    keys.len().checked_sub(from_end + 1).map_or("", |i| keys[i].as_str())
}

/// Whether the key before an index, the last key itself being that index.
fn item_of(keys: &[String], list: &str) -> bool {
    at(keys, 1) == list && at(keys, 0).parse::<usize>().is_ok()
}

/// Kinds of sites that hold more than a leaf.
fn whole_kinds(value: &Value, keys: &[String]) -> Vec<Kind> {
    let mut found = Vec::new();
    let has = |key: &str| value.get(key).is_some();
    if item_of(keys, "steps") {
        found.push(Kind::Step);
    }
    if item_of(keys, "parts") {
        found.push(Kind::PartTurned);
    }
    match at(keys, 0) {
        // The first cut of a strip set is a ruler.
        "first" if at(keys, 1) == "sub-cut" => {}
        "first" | "last" | "end" => found.push(Kind::End),
        "take" => found.push(Kind::Take),
        "gives" if !value.is_array() => found.push(Kind::Gives),
        "path" => found.push(Kind::Path),
        "edge" if at(keys, 1) == "stitch-down" => found.push(Kind::ShapeEdge),
        "edges" | "pivot" if has("first") && has("last") => found.push(Kind::Ends),
        "from" | "to" if has("at") => found.push(Kind::Stop),
        "line" if has("edge") || has("seam") || has("mark") => found.push(Kind::Line),
        _ if at(keys, 1) == "crossing" => found.push(Kind::Line),
        _ => {}
    }
    found
}

fn leaf_kind(leaf: &Value, keys: &[String]) -> Option<Kind> {
    let (key, before) = (at(keys, 0), at(keys, 1));
    let top = keys.first().map(String::as_str);
    let in_templates = keys.iter().any(|k| k == "templates");
    let in_papers = keys.iter().any(|k| k == "papers");
    let in_guides = keys.iter().any(|k| k == "guides");
    let in_cards = keys.iter().any(|k| k == "cards");
    match leaf {
        Value::Number(_) => match key {
            "right" | "up" if in_cards => Some(Kind::CardCorner),
            "uses" | "cut" | "count" if in_cards => Some(Kind::Count),
            "side" if top == Some("recipe") => Some(Kind::CardSide),
            _ if before == "flat" && in_cards => Some(Kind::CardSide),
            "len" => Some(Kind::Size),
            "mark" => Some(Kind::RulerMark),
            "right" | "up" if in_templates || in_papers => Some(Kind::TemplateCorner),
            "right" | "up" if in_guides => Some(Kind::GuideCorner),
            "from" | "to" if in_guides => Some(Kind::StretchEnd),
            "shape" if before == "stitch-down" => Some(Kind::ShapeNumber),
            "piece" if before == "stitch-down" => Some(Kind::Slot),
            "up" => Some(Kind::SideNumber),
            "times" | "spare" => Some(Kind::Count),
            "print" if in_papers => Some(Kind::Count),
            "line" => Some(Kind::LineNumber),
            // A step that puts a piece somewhere names its slot.
            "piece" if top == Some("recipe") => Some(Kind::Slot),
            "edge" => Some(Kind::EdgeNumber),
            "seam" => Some(Kind::SeamNumber),
            "a" | "b" if before == "match" || ["meets", "pins"].contains(&at(keys, 2)) => Some(Kind::Joint),
            "a" | "b" | "of" | "slot" | "into" | "stack" | "on" | "top" | "work" => Some(Kind::Slot),
            _ if before == "into" => Some(Kind::Slot),
            _ => None,
        },
        Value::String(_) => match key {
            "fabric" => Some(Kind::Fabric),
            "piece" | "twin" => Some(Kind::Piece),
            "unit" => Some(Kind::Unit),
            "press" => Some(Kind::Press),
            "turn" => Some(Kind::Turn),
            "purpose" => Some(Kind::Purpose),
            "angle" => Some(Kind::Angle),
            "print" => Some(Kind::Print),
            "from" | "to" => Some(Kind::Stop),
            "template" => Some(Kind::TemplateName),
            "name" if in_papers => Some(Kind::PaperName),
            "paper" => Some(Kind::PaperName),
            "name" if in_templates => Some(Kind::TemplateName),
            "name" if in_guides => Some(Kind::GuideName),
            "guide" => Some(Kind::GuideName),
            "name" if in_cards => Some(Kind::CardName),
            "card" => Some(Kind::CardName),
            "name" | "mark" | "on-mark" | "dot" => Some(Kind::MarkName),
            "a" | "b" if before == "dots" => Some(Kind::MarkName),
            _ if at(keys, 2) == "two-dots" => Some(Kind::MarkName),
            _ => None,
        },
        Value::Bool(_) => match key {
            "rising" => Some(Kind::Rising),
            "right_side" => Some(Kind::RightSide),
            "join" => Some(Kind::Join),
            "from_back" => Some(Kind::FromBack),
            _ => None,
        },
        _ => None,
    }
}

/// What a path belongs to.
fn home(root: &Value, keys: &[String]) -> Option<Home> {
    let name = |i: usize| keys.get(i).map_or("", String::as_str);
    let index = |i: usize| keys.get(i).and_then(|k| k.parse::<usize>().ok());
    let home = match (name(0), name(1)) {
        ("recipe", "fabrics") => Home::Fabric(index(2)?),
        ("recipe", "pieces") => Home::Piece(index(2)?),
        ("recipe", "makes") => match name(3) {
            "parts" => Home::Part(index(2)?, index(4)?),
            "steps" => Home::Step(index(2)?, index(4)?),
            "gives" => Home::Give(index(2)?),
            _ => Home::Make(index(2)?),
        },
        ("recipe", _) => Home::Header,
        ("cutting", "cloths") if name(3) == "strips" => Home::Strip(index(2)?, index(4)?),
        ("cutting", "cloths") => Home::Cloth(index(2)?),
        ("cutting", "templates") => Home::Template(index(2)?),
        ("cutting", "papers") => Home::Paper(index(2)?),
        ("cutting", "guides") => Home::Guide(index(2)?),
        ("cutting", "cards") => Home::Card(index(2)?),
        ("bought", "cloths") => {
            let fabric = root
                .pointer(&format!("/bought/cloths/{}/fabric", index(2)?))?
                .as_str()?;
            Home::Bought(FabricId::new(fabric))
        }
        _ => return None,
    };
    Some(home)
}
