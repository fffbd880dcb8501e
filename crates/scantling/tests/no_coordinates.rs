//! No step of a recipe holds a coordinate: read off the schema of the recipe file.

use serde_json::Value;
use std::collections::BTreeSet;

/// Names of all definitions that a part of the schema leads to, through any number of others.
fn leads_to(schema: &Value, part: &Value, found: &mut BTreeSet<String>) {
    match part {
        Value::Object(fields) => {
            if let Some(name) = fields.get("$ref").and_then(Value::as_str) {
                let name = name.trim_start_matches("#/$defs/").to_string();
                if found.insert(name.clone()) {
                    leads_to(schema, definition(schema, &name), found);
                }
            }
            fields.values().for_each(|inner| leads_to(schema, inner, found));
        }
        Value::Array(items) => items.iter().for_each(|inner| leads_to(schema, inner, found)),
        _ => {}
    }
}

fn definition<'s>(schema: &'s Value, name: &str) -> &'s Value {
    let found = &schema["$defs"][name];
    assert!(found.is_object(), "the schema defines {name}");
    found
}

/// Whether a number that is no whole number may stand somewhere in it, not following references.
fn has_fractions(part: &Value) -> bool {
    match part {
        Value::Object(fields) => {
            let kind = fields.get("type");
            let said = |kind: &Value| kind == "number";
            kind.is_some_and(|kind| said(kind) || kind.as_array().is_some_and(|all| all.iter().any(said)))
                || fields.values().any(has_fractions)
        }
        Value::Array(items) => items.iter().any(has_fractions),
        _ => false,
    }
}

fn beneath(schema: &Value, name: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    leads_to(schema, definition(schema, name), &mut found);
    found
}

#[test]
fn the_sewing_has_no_point_and_no_fraction_in_it() {
    let schema = recipe::recipe_schema();
    let sewing = beneath(&schema, "Recipe");
    for name in ["Step", "Lay", "Ruler", "PointRef", "EdgeRef", "Length"] {
        assert!(sewing.contains(name), "the walk reaches {name}: {sewing:?}");
    }
    for name in &sewing {
        assert!(
            !name.starts_with("Template")
                && !name.starts_with("Guide")
                && !["Card", "Printed", "Paper", "SewingLine"].contains(&name.as_str()),
            "the sewing names a printed shape: {name}"
        );
        assert!(
            !has_fractions(definition(&schema, name)),
            "{name} holds a number that is no whole number"
        );
    }
}

#[test]
fn only_printed_matter_has_corners_and_only_derivations_have_fractions() {
    let schema = recipe::recipe_schema();
    let names: Vec<String> = schema["$defs"]
        .as_object()
        .expect("definitions")
        .keys()
        .cloned()
        .collect();
    for name in &names {
        let definition = definition(&schema, name);
        let text = definition.to_string();
        let printed = [
            "Template",
            "TemplateLine",
            "Bow",
            "Card",
            "Guide",
            "GuideShape",
            "Paper",
            "SewingLine",
        ];
        if !printed.contains(&name.as_str()) {
            assert!(
                !text.contains("#/$defs/TemplateCorner"),
                "{name} holds a corner of printed matter"
            );
        }
        if name != "TemplateCorner" {
            assert!(
                !text.contains("#/$defs/Printed"),
                "{name} holds a place on printed matter"
            );
        }
        assert_eq!(has_fractions(definition), name == "Why", "{name}");
    }
}
