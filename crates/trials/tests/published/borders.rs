//! Butted borders: what the strips round a centre are cut to.

use super::drawn::proved;
use super::lists::{rectangles, size_text};

/// A plain centre in cloth wide enough for every piece to be cut in one.
fn bordered(centre: (f64, f64), border: f64, first: &str) -> String {
    let (w, h) = centre;
    format!(
        "format = 1\n[quilt]\ntitle = \"Check\"\n\
         [[fabric]]\nname = \"light\"\ncolor = \"#efe8d8\"\nwidth = \"108 in\"\n\
         [[fabric]]\nname = \"dark\"\ncolor = \"#1f2d4a\"\nwidth = \"108 in\"\n\
         [[block]]\nname = \"centre\"\nsize = [\"{w} in\", \"{h} in\"]\n\
         patches = [{{ fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" }}]\n\
         [layout]\nrows = [[\"centre\"]]\n\
         [[border]]\nwidth = \"{border} in\"\nfabric = \"dark\"\nfirst = \"{first}\"\n"
    )
}

#[test]
fn butted_borders_sides_first() {
    // How to cut borders, published on the web, no year given: 45 x 60 with 4 in: top and bottom finish 45 + 8 = 53,
    // and half an inch for the seams; a publisher's lesson, no year given: sides as long as the centre, ends its width
    // and twice the border and 1/2 in.
    for (centre, border) in [
        ((45.0, 60.0), 4.0),
        ((50.0, 60.0), 7.0),
        ((56.0, 61.0), 5.0),
        ((60.0, 80.0), 3.5),
    ] {
        let (w, h) = centre;
        let whole = proved(&bordered(centre, border, "sides"));
        let list = rectangles(&whole.pattern);
        let count = |long: f64| list.get(&("dark".to_string(), size_text(long, border + 0.5))).copied();
        assert_eq!(
            (count(h + 0.5), count(w + 2.0 * border + 0.5)),
            (Some(2), Some(2)),
            "{centre:?}"
        );
        assert_eq!(list[&("light".to_string(), size_text(w + 0.5, h + 0.5))], 1);
        let outer = whole.picture.outer.bounds().1;
        assert_eq!((outer.x, outer.y), (w + 2.0 * border, h + 2.0 * border));
    }
    // Derived: the other way round exchanges the two rules.
    let list = rectangles(&proved(&bordered((45.0, 60.0), 4.0, "top")).pattern);
    for long in [45.5, 68.5] {
        assert_eq!(list[&("dark".to_string(), size_text(long, 4.5))], 2);
    }
}

/// Strips of a height cut from the border's cloth.
fn strips(text: &str, height: f64) -> u32 {
    let whole = proved(text);
    let cloths = whole.pattern.cutting.cloths.iter();
    cloths
        .filter(|cloth| cloth.fabric.as_str() == "dark")
        .flat_map(|cloth| &cloth.strips)
        .filter(|strip| strip.height.len.to_inches() == height)
        .map(|strip| strip.times)
        .sum()
}

#[test]
fn border_strips_across_the_cloth() {
    // How to calculate quilt borders, a teaching site, no year given: 56 x 61 with 5 in takes 254 in, 7 strips of 42 in.
    let of = |centre, border, usable: f64| {
        let dark = "name = \"dark\"\ncolor = \"#1f2d4a\"\nwidth = \"108 in\"";
        let narrow = format!("name = \"dark\"\ncolor = \"#1f2d4a\"\nwidth = \"44 in\"\nusable = \"{usable} in\"");
        bordered(centre, border, "sides").replace(dark, &narrow)
    };
    assert_eq!(strips(&of((56.0, 61.0), 5.0, 42.0), 5.5), 7);
    // Applying borders, a quilting group, no year given: 60 x 80: 280 / 40 = 7 strips, 8 for safety, of 4 in: 32 in of cloth. By the
    // outer border's own lengths and with the joins it is the eight.
    assert_eq!(strips(&of((60.0, 80.0), 3.5, 40.0), 4.0), 8);
}

#[test]
fn mitred_strips_are_longer_than_the_printed_inch() {
    // Multiple mitred borders, published on the web, no year given: borders of 7 in on 50 x 60: strips of 65 and 75, side + 2 · 7 + 1.
    // Geometry: the point at each end reaches s (1 + √2) beyond the finished corner, so side + 2 · 7 + 1.2071 at s = 1/4 (*derived*):
    // the printed inch leaves the mitre 0.2 in short. Ours are cut 2 in longer at least (*common practice*), and trimmed to measure.
    let beyond = 2.0 * 0.25 * (1.0 + 2.0_f64.sqrt());
    assert!((beyond - 1.2071).abs() < 0.0001);
    let text = bordered((50.0, 60.0), 7.0, "sides").replace("first = \"sides\"", "corners = \"mitred\"");
    proved(&text);
    let design = design::read_design(&text).unwrap();
    let draft = drafting::draft(&design).unwrap();
    let mut longest: Vec<f64> = (draft.demands.iter())
        .filter(|demand| demand.fabric.as_str() == "dark")
        .map(|demand| match &demand.shape {
            recipe::DemandShape::Slant { lower, upper, lead, .. } => {
                let (low, up, lead) = (lower.inches(), upper.inches(), lead.to_inches());
                low.max(lead + up) - lead.min(0.0)
            }
            recipe::DemandShape::Shaped { width, height, .. } | recipe::DemandShape::Rectangle { width, height } => {
                width.inches().max(height.inches())
            }
            recipe::DemandShape::Template { template } => {
                let right = |c: &recipe::TemplateCorner| c.right.to_inches();
                let up = |c: &recipe::TemplateCorner| c.up.to_inches();
                let most =
                    |of: &dyn Fn(&recipe::TemplateCorner) -> f64| template.corners.iter().map(of).fold(0.0, f64::max);
                most(&right).max(most(&up))
            }
            other => panic!("{other:?}"),
        })
        .collect();
    longest.sort_by(f64::total_cmp);
    longest.dedup();
    assert_eq!(longest.len(), 2, "{longest:?}");
    for (cut, (finished, printed)) in longest.into_iter().zip([(64.0, 65.0), (74.0, 75.0)]) {
        let needed = finished + beyond;
        assert!(
            printed < needed && cut >= finished + 2.0 && cut < finished + 2.25,
            "{cut} for {needed}"
        );
    }
}
