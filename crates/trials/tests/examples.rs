//! The project's own examples are proved, with and without their derivations, and every printed number is what its
//! derivation says.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::Size;
use trials::whole::Whole;

fn examples() -> Vec<(String, Whole)> {
    let folder = format!("{}/../../examples", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    files
        .into_iter()
        .filter(|f| f.to_string_lossy().ends_with(".quilt.toml"))
        .map(|f| {
            let name = f.file_name().unwrap().to_string_lossy().into_owned();
            let whole = Whole::of(&std::fs::read_to_string(&f).unwrap())
                .unwrap_or_else(|findings| panic!("{name}: {findings:?}"));
            (name, whole)
        })
        .collect()
}

#[test]
fn every_example_is_proved() {
    let examples = examples();
    assert!(examples.len() >= 5);
    for (name, whole) in &examples {
        let proof = whole.rehearse().unwrap_or_else(|findings| {
            panic!(
                "{name}: {}",
                findings.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
            )
        });
        println!("{name}: {proof:?}");
        assert!(proof.largest_difference <= 1.0 / 64.0);
    }
}

#[test]
fn why_is_erased_before_rehearsal() {
    for (name, whole) in examples() {
        let mut erased = whole.clone();
        erased.pattern = whole.pattern.without_whys();
        assert_ne!(erased.pattern, whole.pattern);
        assert_eq!(erased.rehearse(), whole.rehearse(), "{name}");
    }
}

#[test]
fn every_number_is_what_its_derivation_says() {
    for (name, whole) in examples() {
        let json = serde_json::to_value(&whole.pattern).unwrap();
        let mut sizes = 0;
        check_sizes(&json, &whole, &name, &mut sizes);
        // Every number that carries a derivation was looked at.
        let carried = json.to_string().matches("\"why\":").count();
        assert!(sizes > 0 && sizes == carried, "{name}: {sizes} of {carried}");
    }
}

fn check_sizes(value: &serde_json::Value, whole: &Whole, name: &str, count: &mut usize) {
    match value {
        serde_json::Value::Object(fields) if fields.contains_key("len") => {
            let size: Size = serde_json::from_value(value.clone()).unwrap();
            let why = size
                .why
                .unwrap_or_else(|| panic!("{name}: a size without derivation: {value}"));
            let derived = whole.pattern.whys[why.0 as usize].length();
            assert_eq!(
                derived,
                Some(size.len),
                "{name}: {:?}",
                whole.pattern.whys[why.0 as usize]
            );
            *count += 1;
        }
        serde_json::Value::Object(fields) => fields.values().for_each(|v| check_sizes(v, whole, name, count)),
        serde_json::Value::Array(items) => items.iter().for_each(|v| check_sizes(v, whole, name, count)),
        _ => {}
    }
}
