//! Recipes written by hand in which stacks are cut apart more than once, sewn all round or piled up, and strip sets cut into
//! lengths, altered: no planner makes such steps yet, so the trials of planned patterns do not reach them.

// The recipes are those of the table's own tests, with all their breakages.
#![allow(clippy::unwrap_used, dead_code, unused_imports)]

use trials::judge::Tally;
use trials::mutate::Kind;

#[path = "../../rehearse/tests/table/builder.rs"]
mod builder;
#[path = "../../rehearse/tests/table/several.rs"]
mod several;
#[path = "../../rehearse/tests/table/strip_set.rs"]
mod strip_set;

#[test]
fn every_hand_made_recipe_altered_is_refused() {
    let over = 0.375 - 2f64.sqrt() / 4.0;
    let s8 = builder::s8;
    let benches = [
        (
            "four pairs",
            several::four_at_a_time(s8(44), builder::near(5.0 / 2f64.sqrt() - 3.5)),
        ),
        ("eight pairs", several::eight_at_a_time(s8(62), builder::near(over))),
        ("hourglass", several::hourglass(s8(34), over)),
        ("geese", several::geese(s8(42), s8(23), over)),
        ("lengths", strip_set::four_lengths([s8(84); 3])),
        ("leaning", strip_set::diamonds(60.0)),
        ("leaning more", strip_set::diamonds(45.0)),
    ];
    let mut tally = Tally::default();
    for (name, bench) in &benches {
        bench.proved();
        tally.judge(name, &bench.pattern, &bench.picture, 20_000);
    }
    println!("{}", tally.table());
    assert!(tally.unread.is_empty(), "{:?}", tally.unread);
    println!("pointing elsewhere:\n{}", tally.misnamed.join("\n"));
    assert_eq!(tally.total().unexpected, 0, "{}", tally.unexpected.join("\n"));
    assert!(
        tally.share_named() >= 0.95,
        "only {:.3} name the place",
        tally.share_named()
    );
    // All changes are tried.
    assert_eq!(tally.changes.0, tally.changes.1);
    assert!(tally.rows[&Kind::Path].mutants > 10);
}
