//! Cloth in hand: what is there is never counted twice, and what is bought besides is enough.

use drafting::{Owned, draft, read_stash};
use measure::{Length, Measure};
use terms::FabricId;

fn lantern() -> design::Design {
    let file = format!(
        "{}/../../examples/lantern-harbour.quilt.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    design::read_design(&std::fs::read_to_string(file).expect("an example can be read")).expect("a design")
}

#[test]
fn nothing_in_hand_buys_all_and_a_bolt_buys_nothing() {
    let design = lantern();
    let worked = draft(&design).expect("a plan");
    let (rows, findings) = worked.from_stash(&design, &[]);
    assert!(findings.is_empty());
    assert_eq!(rows.len(), worked.pattern.bought.cloths.len());
    for row in &rows {
        // The same strips, the same squaring up, the same steps: the same cloth as the cutting plan buys.
        assert_eq!(row.buy, row.without, "{}", row.fabric);
        assert_eq!(row.strips.1, 0);
    }
    // Just what the plan buys is enough.
    let owned: Vec<Owned> = worked
        .pattern
        .bought
        .cloths
        .iter()
        .map(|bought| Owned {
            fabric: bought.fabric.clone(),
            width: bought.usable.len.to_inches(),
            length: bought.length.len.to_inches(),
        })
        .collect();
    for row in worked.from_stash(&design, &owned).0 {
        assert_eq!((row.strips.1, row.buy), (row.strips.0, Length::ZERO), "{}", row.fabric);
    }
}

#[test]
fn more_in_hand_never_buys_more() {
    let design = lantern();
    let worked = draft(&design).expect("a plan");
    let mut before: Vec<Length> = worked.from_stash(&design, &[]).0.iter().map(|row| row.buy).collect();
    for quarters in 1..8 {
        let text = format!("foam 40 in x 18 in x {quarters}\nnight 20 in x 18 in x {quarters}\n");
        let owned = read_stash(&text, Measure::Inch).expect("a list");
        assert_eq!(owned.len(), 2 * quarters);
        let now: Vec<Length> = worked.from_stash(&design, &owned).0.iter().map(|row| row.buy).collect();
        assert!(now.iter().zip(&before).all(|(now, before)| now <= before), "{quarters}");
        before = now;
    }
}

#[test]
fn a_piece_too_narrow_or_too_short_holds_nothing() {
    let design = lantern();
    let worked = draft(&design).expect("a plan");
    for line in ["night 1 in x 90 in", "night 40 in x 1 in", "sea 39 in x 30 in"] {
        let owned = read_stash(line, Measure::Inch).expect("a list");
        let row = worked
            .from_stash(&design, &owned)
            .0
            .into_iter()
            .find(|row| row.fabric == owned[0].fabric);
        let row = row.expect("its cloth");
        // No strip of the back, which takes the whole width, lies on 39 in.
        assert!(row.strips.1 < row.strips.0, "{line}");
        assert_eq!(line.starts_with("night"), row.strips.1 == 0, "{line}");
    }
}

#[test]
fn lists_are_read_with_their_faults() {
    let owned = read_stash("# mine\n\nnight 50 cm × 1 m # from the sale\n", Measure::Metric).expect("a list");
    assert_eq!(owned.len(), 1);
    assert_eq!(owned[0].fabric, FabricId::new("night"));
    // 2.54 cm in an inch (the international inch).
    assert!((owned[0].width * 2.54 - 50.0).abs() < 1.0e-9 && (owned[0].length * 2.54 - 100.0).abs() < 1.0e-9);
    let faults = read_stash(
        "night\nnight 5 in\nnight 5 in x wide\nnight 5 in x 5 in x 0\nnight -5 in x 5 in",
        Measure::Inch,
    );
    let lines: Vec<usize> = faults.expect_err("faults").iter().map(|(line, _)| *line).collect();
    assert_eq!(lines, [1, 2, 3, 4, 5]);
    let (_, findings) = draft(&lantern()).expect("a plan").from_stash(
        &lantern(),
        &read_stash("velvet 40 in x 18 in", Measure::Inch).expect("a list"),
    );
    assert_eq!(findings[0].code, "stash-not-wanted");
}
