//! Mosaics over card: generated fields of hexagons are proved, and their cards counted by closed form.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use trials::generate::hexagons;
use trials::whole::Whole;

fn proved(text: &str) -> Whole {
    let whole = Whole::of(text).unwrap_or_else(|f| panic!("{}\n{text}", f[0]));
    if let Err(findings) = whole.rehearse() {
        panic!("{}\n{text}", findings[0]);
    }
    whole
}

#[test]
fn fields_of_hexagons_of_random_colours_are_proved() {
    for seed in 0..40 {
        let whole = proved(&hexagons(seed));
        assert!(whole.methods.contains(&"over card"), "seed {seed}: {:?}", whole.methods);
    }
}

#[test]
fn a_flower_of_so_many_rounds_takes_so_many_cards() {
    // *derived*: r rounds about a hexagon are 1 + 3r(r + 1) hexagons. In the field of the collection's flower (two rounds) four
    // whole hexagons of the ground remain: rows of six, seven, six … seven rows, of which the first and last are cut, and the
    // ends of those of seven.
    let whole = proved(design::collection_file("flower-garden-over-card").unwrap());
    let hexagons = 1 + 3 * 2 * (2 + 1);
    let cards = &whole.pattern.cutting.cards;
    let uses: u32 = cards.iter().filter(|c| c.flat.is_empty()).map(|c| c.uses).sum();
    assert_eq!(uses, hexagons + 4);
    let one = proved(
        &design::collection_file("flower-garden")
            .unwrap()
            .replace("grid =", "method = \"over card\"\ngrid ="),
    );
    let cards = &one.pattern.cutting.cards;
    // Two of them have a side on the block's edge.
    let uses: u32 = cards.iter().filter(|c| c.corners.len() == 6).map(|c| c.uses).sum();
    assert_eq!(uses, 1 + 3 * (1 + 1));
    for card in whole.pattern.cutting.cards.iter().chain(cards) {
        assert!(card.cut <= card.uses && card.cut > 0);
    }
}

#[test]
fn altered_mosaics_are_refused() {
    let mut tally = trials::judge::Tally::default();
    for name in ["star-of-diamonds", "tumbling-blocks-over-card"] {
        let whole = proved(design::collection_file(name).unwrap());
        tally.judge(name, &whole.pattern, &whole.picture, 1500);
    }
    for seed in 0..6 {
        let whole = proved(&hexagons(seed));
        tally.judge(&format!("hexagons {seed}"), &whole.pattern, &whole.picture, 500);
    }
    println!("{}", tally.table());
    assert!(tally.unread.is_empty(), "{:?}", tally.unread);
    assert_eq!(tally.total().unexpected, 0, "{}", tally.unexpected.join("\n"));
}
