//! The designer's words stand where they belong, and words without a place are told.

use drafting::{Spot, draft};

fn with(words: &[(&str, &str)]) -> drafting::Draft {
    let file = format!(
        "{}/../../examples/lantern-harbour.quilt.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let mut text = std::fs::read_to_string(file).expect("an example can be read");
    for (at, said) in words {
        text += &format!("\n[[say]]\nat = \"{at}\"\ntext = \"{said}\"\n");
    }
    draft(&design::read_design(&text).expect("a design")).expect("a plan")
}

#[test]
fn words_find_their_block_unit_and_step() {
    let worked = with(&[("beacon", "one"), ("beacon/A", "two"), ("beacon/A step 2", "three")]);
    let unit = terms::UnitId::new("beacon/A");
    let spots: Vec<&Spot> = worked.says.iter().map(|said| &said.spot).collect();
    assert_eq!(
        spots,
        [
            &Spot::Block("beacon".into()),
            &Spot::Unit(unit.clone()),
            &Spot::Step(terms::StepId { unit, step: 1 }),
        ]
    );
    assert!(
        worked
            .findings
            .iter()
            .all(|finding| finding.code != "say-without-place")
    );
}

#[test]
fn words_without_a_place_are_told_not_dropped() {
    for at in ["beacon/ZZ", "nowhere", "beacon/A step 0", "beacon/A step 900"] {
        let worked = with(&[(at, "Mind the needle.")]);
        assert!(worked.says.is_empty(), "{at}");
        let told: Vec<&terms::Finding> = worked
            .findings
            .iter()
            .filter(|finding| finding.code == "say-without-place")
            .collect();
        assert_eq!(told.len(), 1, "{at}");
        assert!(
            told[0].sentence.contains("Mind the needle.") && !told[0].mend.is_empty(),
            "{}",
            told[0]
        );
    }
}
