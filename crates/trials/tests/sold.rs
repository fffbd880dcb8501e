//! Cloth sold cut, all the way: a design in fat quarters, strips and squares is planned, proved, told by the piece; and a plan that
//! cuts what is not there is refused at the table.
#![allow(clippy::unwrap_used)] // A test may stop.

use design::read_design;
use drafting::{Owned, draft, read_stash};
use measure::{Length, Measure};
use recipe::{BoughtCloth, CutForm, Pattern};
use terms::{FabricId, Finding};
use trials::whole::Whole;

/// Sixteen blocks of half-square units, squares and rails with a border, bound from fat quarters. `extra` goes into the file's head.
fn text(dark: &str, light: &str, extra: &str) -> String {
    format!(
        r##"format = 1
[quilt]
title = "Pantry Shelf"
{extra}
[[fabric]]
name = "dark"
color = "#6b2d4e"
{dark}
[[fabric]]
name = "light"
color = "#f3ead7"
{light}
[[block]]
name = "wheel"
size = "6 in"
grid = [2, 2]
patches = [
  {{ fabric = "dark", path = "M0 0 H1 V1 Z" }},
  {{ fabric = "light", path = "M0 0 L1 1 H0 Z" }},
  {{ fabric = "dark", path = "M1 0 H2 L1 1 Z" }},
  {{ fabric = "light", path = "M2 0 V1 H1 Z" }},
  {{ fabric = "light", path = "M0 1 H1 V2 H0 Z" }},
  {{ fabric = "dark", path = "M1 1 H2 V2 H1 Z" }},
]
[layout]
rows = [["wheel", "wheel@90", "wheel", "wheel@90"], ["wheel@90", "wheel", "wheel@90", "wheel"], ["wheel", "wheel@90", "wheel", "wheel@90"], ["wheel@90", "wheel", "wheel@90", "wheel"]]
[[border]]
width = "2 in"
fabric = "light"
[finish]
binding = {{ fabric = "dark", strip = "2 1/4 in" }}
"##
    )
}

fn bought<'p>(pattern: &'p Pattern, fabric: &str) -> &'p BoughtCloth {
    pattern
        .bought
        .cloths
        .iter()
        .find(|c| c.fabric.as_str() == fabric)
        .unwrap()
}

/// As the table and the second reader of cutting plans see it.
fn proved(text: &str) -> Whole {
    let whole = Whole::of(text).unwrap_or_else(|f| panic!("{f:?}"));
    whole.rehearse().unwrap_or_else(|f| panic!("{f:?}"));
    assert!(trials::mutate::yields::read(&whole.pattern).is_some());
    whole
}

#[test]
fn a_quilt_in_fat_quarters_is_proved_and_bought_by_the_piece() {
    let fat = "sold = \"fat-quarter\"";
    let whole = proved(&text(fat, fat, ""));
    for fabric in ["dark", "light"] {
        let cloth = bought(&whole.pattern, fabric);
        let pieces = cloth.pieces.unwrap();
        assert_eq!(
            (pieces.form, pieces.each.len),
            (CutForm::FatQuarter, Length::inches(18))
        );
        assert_eq!(cloth.usable.len, Length::inches(21));
        assert!(
            pieces.least <= pieces.count && pieces.count <= pieces.least + 1,
            "{pieces:?}"
        );
        let plans = whole
            .pattern
            .cutting
            .cloths
            .iter()
            .filter(|c| c.fabric.as_str() == fabric);
        let cut: u32 = plans.map(recipe::ClothPlan::times).sum();
        assert_eq!(cut, pieces.count);
    }
    // *derived*: 24 in and twice 2 in are 28 in finished, so the binding goes 112 in round with 10 in over; of strips 21 in long, each
    // join taking 2 1/4 in, seven are needed: (122 - 2 1/4) / 18 3/4 = 6.4
    let strips: u32 = (whole.pattern.cutting.cloths.iter())
        .flat_map(|plan| plan.strips.iter().map(|s| (s, plan.times())))
        .filter(|(s, _)| s.purpose == Some(recipe::Purpose::Binding))
        .map(|(s, times)| s.times * times)
        .sum();
    assert_eq!(strips, 7);
}

#[test]
fn metric_fat_quarters_are_half_by_half() {
    let fat = "sold = \"fat-quarter\"";
    let whole = proved(
        &text(fat, fat, "units = \"metric\"")
            .replace("6 in", "16 cm")
            .replace("2 in", "5 cm")
            .replace("2 1/4 in", "6 cm"),
    );
    let cloth = bought(&whole.pattern, "light");
    assert_eq!(cloth.pieces.unwrap().each.len, Length::tenths_of_mm(5000));
    assert_eq!(cloth.usable.len, Length::tenths_of_mm(5250));
    // A fat quarter of cloth as it is sold 45 cm by 55 (common practice in places).
    let short = "sold = \"fat-quarter\"\nlength = \"45 cm\"";
    let whole = proved(&text(short, short, ""));
    assert_eq!(
        bought(&whole.pattern, "dark").pieces.unwrap().each.len,
        Length::tenths_of_mm(4500)
    );
    // The same design on the other ruler's marks takes the other measure's quarters.
    let design = read_design(&text(fat, fat, "")).unwrap().in_measure(Measure::Metric);
    let fabric = design.fabric(&FabricId::new("dark")).unwrap();
    assert!((fabric.length.unwrap() * 2.54 - 50.0).abs() < 1e-9 && (fabric.usable * 2.54 - 52.5).abs() < 1e-9);
    assert!((fabric.square_up * 2.54 - 1.0).abs() < 1e-9);
}

#[test]
fn strips_and_squares_serve_where_the_patches_are_no_larger() {
    // Squares of 3 in finished are cut 3 1/2 in, half-square units from squares of 3 7/8 in: squares of 5 in hold each, and eight at a
    // time would begin with squares of 7 3/4 in, which they do not.
    let by_eights = Whole::of(&text("", "", "prefer = \"steps\"")).unwrap();
    let whole = proved(&text("sold = \"squares 5 in\"", "sold = \"squares 10 in\"", ""));
    assert_eq!(bought(&whole.pattern, "dark").pieces.unwrap().form, CutForm::Squares);
    assert!(whole.methods.contains(&"half-square pairs"), "{:?}", whole.methods);
    assert!(
        !by_eights.methods.contains(&"half-square pairs"),
        "{:?}",
        by_eights.methods
    );
    let whole = proved(&text("sold = \"strips 4 in\"", "sold = \"strips 4 in\"", ""));
    assert_eq!(
        bought(&whole.pattern, "light").pieces.unwrap().each.len,
        Length::inches(4)
    );
}

#[test]
fn what_is_larger_than_a_piece_is_told() {
    let found = Whole::of(&text("sold = \"strips 2 1/2 in\"", "", "")).err().unwrap();
    let larger: Vec<&Finding> = found.iter().filter(|f| f.code == "larger-than-sold").collect();
    assert!(
        !larger.is_empty() && larger.iter().all(|f| f.is_stop() && f.mend.contains("bolt")),
        "{found:?}"
    );
    // A back is cut in lengths.
    let back = text("sold = \"fat-quarter\"", "", "") + "backing = { fabric = \"dark\", over = \"4 in\" }\n";
    let found = Whole::of(&back).err().unwrap();
    assert!(
        found
            .iter()
            .any(|f| f.code == "larger-than-sold" && f.sentence.contains("backing")),
        "{found:?}"
    );
    // A border along the cloth's length is one long piece.
    let along =
        text("", "sold = \"fat-quarter\"", "").replace("width = \"2 in\"", "width = \"2 in\"\ngrain = \"length\"");
    assert!(
        Whole::of(&along)
            .err()
            .unwrap()
            .iter()
            .any(|f| f.code == "larger-than-sold")
    );
}

#[test]
fn a_plan_that_cuts_what_is_not_there_is_refused() {
    let fat = "sold = \"fat-quarter\"";
    let whole = proved(&text(fat, fat, ""));
    let refused = |what: &str, alter: &dyn Fn(&mut Pattern)| {
        let mut pattern = whole.pattern.clone();
        alter(&mut pattern);
        let found = rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &whole.picture);
        let found = found.err().unwrap_or_else(|| panic!("{what} is not noticed"));
        assert!(found.iter().any(|f| f.code == "cloth-short"), "{what}: {found:?}");
        assert!(
            trials::mutate::yields::read(&pattern).is_none(),
            "{what}: the second reader"
        );
    };
    refused("one piece fewer bought", &|p| {
        p.bought.cloths[0].pieces.as_mut().unwrap().count -= 1
    });
    refused("shorter pieces bought", &|p| {
        p.bought.cloths[0].pieces.as_mut().unwrap().each.len = Length::inches(17);
    });
    refused("pieces cut as if longer", &|p| {
        p.cutting.cloths[0].alike.as_mut().unwrap().length.len = Length::inches(19);
    });
    refused("more strips than a piece holds", &|p| {
        let kept = p.cutting.cloths.iter_mut().flat_map(|c| &mut c.strips);
        // Strips for the binding give no pieces, so that only the cloth can object.
        kept.filter(|s| s.purpose.is_some()).for_each(|s| s.times += 8);
    });
    refused("cut off a bolt that is not there", &|p| {
        p.cutting.cloths[0].alike = None
    });
    refused("bought by the yard, cut from pieces", &|p| {
        p.bought.cloths[0].pieces = None
    });
}

#[test]
fn cloth_in_hand_saves_whole_pieces() {
    let fat = "sold = \"fat-quarter\"";
    let design = read_design(&text(fat, fat, "")).unwrap();
    let worked = draft(&design).unwrap();
    let light = |owned: &[Owned]| {
        let (rows, findings) = worked.from_stash(&design, owned);
        assert!(findings.is_empty());
        rows.into_iter().find(|row| row.fabric.as_str() == "light").unwrap()
    };
    let none = light(&[]);
    let (buy, without) = none.pieces.unwrap();
    assert_eq!(buy, without);
    assert_eq!(without, bought(&worked.pattern, "light").pieces.unwrap().count);
    let mut before = buy;
    for n in 1..=without {
        let owned = read_stash(&format!("light 21 in x 18 in x {n}"), Measure::Inch).unwrap();
        let (buy, _) = light(&owned).pieces.unwrap();
        assert!(buy <= before, "{n} in hand: {buy}");
        before = buy;
    }
    assert_eq!(before, 0);
}
