//! The built-in collection: traditional blocks, each a design file of its own under `collection/`, carried in the program.
//! A design places one as `std/NAME`.

use crate::{Block, Design, LayoutKind, read_design};

/// The files by name, in the order of their names.
const FILES: &[(&str, &str)] = &[
    (
        "attic-windows",
        include_str!("../../../collection/attic-windows.quilt.toml"),
    ),
    (
        "basket-weave",
        include_str!("../../../collection/basket-weave.quilt.toml"),
    ),
    ("bears-paw", include_str!("../../../collection/bears-paw.quilt.toml")),
    ("big-dipper", include_str!("../../../collection/big-dipper.quilt.toml")),
    (
        "birds-in-the-air",
        include_str!("../../../collection/birds-in-the-air.quilt.toml"),
    ),
    (
        "blazing-star",
        include_str!("../../../collection/blazing-star.quilt.toml"),
    ),
    ("bow-tie", include_str!("../../../collection/bow-tie.quilt.toml")),
    (
        "bright-hopes",
        include_str!("../../../collection/bright-hopes.quilt.toml"),
    ),
    (
        "bright-hopes-mirrored",
        include_str!("../../../collection/bright-hopes-mirrored.quilt.toml"),
    ),
    (
        "broken-dishes",
        include_str!("../../../collection/broken-dishes.quilt.toml"),
    ),
    (
        "broken-dishes-by-fours",
        include_str!("../../../collection/broken-dishes-by-fours.quilt.toml"),
    ),
    (
        "buckeye-beauty",
        include_str!("../../../collection/buckeye-beauty.quilt.toml"),
    ),
    ("cake-stand", include_str!("../../../collection/cake-stand.quilt.toml")),
    ("card-trick", include_str!("../../../collection/card-trick.quilt.toml")),
    (
        "checkerboard",
        include_str!("../../../collection/checkerboard.quilt.toml"),
    ),
    ("chevron", include_str!("../../../collection/chevron.quilt.toml")),
    (
        "chinese-coins",
        include_str!("../../../collection/chinese-coins.quilt.toml"),
    ),
    ("churn-dash", include_str!("../../../collection/churn-dash.quilt.toml")),
    ("circle", include_str!("../../../collection/circle.quilt.toml")),
    (
        "contrary-wife",
        include_str!("../../../collection/contrary-wife.quilt.toml"),
    ),
    (
        "courthouse-steps",
        include_str!("../../../collection/courthouse-steps.quilt.toml"),
    ),
    (
        "crazy-wedge",
        include_str!("../../../collection/crazy-wedge.quilt.toml"),
    ),
    (
        "crooked-fan",
        include_str!("../../../collection/crooked-fan.quilt.toml"),
    ),
    (
        "crosses-and-losses",
        include_str!("../../../collection/crosses-and-losses.quilt.toml"),
    ),
    (
        "double-irish-chain",
        include_str!("../../../collection/double-irish-chain.quilt.toml"),
    ),
    (
        "double-nine-patch",
        include_str!("../../../collection/double-nine-patch.quilt.toml"),
    ),
    (
        "drunkards-path",
        include_str!("../../../collection/drunkards-path.quilt.toml"),
    ),
    (
        "dutchmans-puzzle",
        include_str!("../../../collection/dutchmans-puzzle.quilt.toml"),
    ),
    (
        "eccentric-star",
        include_str!("../../../collection/eccentric-star.quilt.toml"),
    ),
    (
        "economy-patch",
        include_str!("../../../collection/economy-patch.quilt.toml"),
    ),
    (
        "fifty-four-forty",
        include_str!("../../../collection/fifty-four-forty.quilt.toml"),
    ),
    (
        "flock-of-geese",
        include_str!("../../../collection/flock-of-geese.quilt.toml"),
    ),
    (
        "flower-garden",
        include_str!("../../../collection/flower-garden.quilt.toml"),
    ),
    (
        "flower-garden-over-card",
        include_str!("../../../collection/flower-garden-over-card.quilt.toml"),
    ),
    (
        "flying-geese",
        include_str!("../../../collection/flying-geese.quilt.toml"),
    ),
    ("four-patch", include_str!("../../../collection/four-patch.quilt.toml")),
    (
        "four-patch-trimmed",
        include_str!("../../../collection/four-patch-trimmed.quilt.toml"),
    ),
    (
        "four-petals",
        include_str!("../../../collection/four-petals.quilt.toml"),
    ),
    (
        "friendship-star",
        include_str!("../../../collection/friendship-star.quilt.toml"),
    ),
    (
        "grandmothers-fan",
        include_str!("../../../collection/grandmothers-fan.quilt.toml"),
    ),
    (
        "half-log-cabin",
        include_str!("../../../collection/half-log-cabin.quilt.toml"),
    ),
    ("heart", include_str!("../../../collection/heart.quilt.toml")),
    ("honeycomb", include_str!("../../../collection/honeycomb.quilt.toml")),
    ("hourglass", include_str!("../../../collection/hourglass.quilt.toml")),
    (
        "jacobs-ladder",
        include_str!("../../../collection/jacobs-ladder.quilt.toml"),
    ),
    (
        "kaleidoscope",
        include_str!("../../../collection/kaleidoscope.quilt.toml"),
    ),
    ("leaf", include_str!("../../../collection/leaf.quilt.toml")),
    (
        "lemoyne-star",
        include_str!("../../../collection/lemoyne-star.quilt.toml"),
    ),
    ("log-cabin", include_str!("../../../collection/log-cabin.quilt.toml")),
    (
        "log-cabin-trimmed",
        include_str!("../../../collection/log-cabin-trimmed.quilt.toml"),
    ),
    ("lone-star", include_str!("../../../collection/lone-star.quilt.toml")),
    (
        "lone-star-by-strips",
        include_str!("../../../collection/lone-star-by-strips.quilt.toml"),
    ),
    ("maple-leaf", include_str!("../../../collection/maple-leaf.quilt.toml")),
    (
        "martha-washington-star",
        include_str!("../../../collection/martha-washington-star.quilt.toml"),
    ),
    ("nine-patch", include_str!("../../../collection/nine-patch.quilt.toml")),
    ("ohio-star", include_str!("../../../collection/ohio-star.quilt.toml")),
    (
        "orange-peel",
        include_str!("../../../collection/orange-peel.quilt.toml"),
    ),
    (
        "peaky-and-spike",
        include_str!("../../../collection/peaky-and-spike.quilt.toml"),
    ),
    (
        "picket-fence",
        include_str!("../../../collection/picket-fence.quilt.toml"),
    ),
    ("pine-tree", include_str!("../../../collection/pine-tree.quilt.toml")),
    ("pineapple", include_str!("../../../collection/pineapple.quilt.toml")),
    ("pinwheel", include_str!("../../../collection/pinwheel.quilt.toml")),
    (
        "prairie-queen",
        include_str!("../../../collection/prairie-queen.quilt.toml"),
    ),
    ("propeller", include_str!("../../../collection/propeller.quilt.toml")),
    (
        "puss-in-the-corner",
        include_str!("../../../collection/puss-in-the-corner.quilt.toml"),
    ),
    (
        "quarter-circle",
        include_str!("../../../collection/quarter-circle.quilt.toml"),
    ),
    ("rail-fence", include_str!("../../../collection/rail-fence.quilt.toml")),
    (
        "rail-fence-by-strips",
        include_str!("../../../collection/rail-fence-by-strips.quilt.toml"),
    ),
    (
        "rail-fence-turned",
        include_str!("../../../collection/rail-fence-turned.quilt.toml"),
    ),
    (
        "rising-star",
        include_str!("../../../collection/rising-star.quilt.toml"),
    ),
    (
        "robbing-peter",
        include_str!("../../../collection/robbing-peter.quilt.toml"),
    ),
    (
        "rolling-stone",
        include_str!("../../../collection/rolling-stone.quilt.toml"),
    ),
    (
        "roman-square",
        include_str!("../../../collection/roman-square.quilt.toml"),
    ),
    (
        "roman-stripe",
        include_str!("../../../collection/roman-stripe.quilt.toml"),
    ),
    ("sailboat", include_str!("../../../collection/sailboat.quilt.toml")),
    (
        "sawtooth-star",
        include_str!("../../../collection/sawtooth-star.quilt.toml"),
    ),
    (
        "schoolhouse",
        include_str!("../../../collection/schoolhouse.quilt.toml"),
    ),
    ("shoo-fly", include_str!("../../../collection/shoo-fly.quilt.toml")),
    (
        "sisters-choice",
        include_str!("../../../collection/sisters-choice.quilt.toml"),
    ),
    (
        "six-pointed-star",
        include_str!("../../../collection/six-pointed-star.quilt.toml"),
    ),
    (
        "snails-trail",
        include_str!("../../../collection/snails-trail.quilt.toml"),
    ),
    ("snowball", include_str!("../../../collection/snowball.quilt.toml")),
    (
        "spiders-web",
        include_str!("../../../collection/spiders-web.quilt.toml"),
    ),
    (
        "split-nine-patch",
        include_str!("../../../collection/split-nine-patch.quilt.toml"),
    ),
    (
        "split-rectangle",
        include_str!("../../../collection/split-rectangle.quilt.toml"),
    ),
    ("spool", include_str!("../../../collection/spool.quilt.toml")),
    (
        "square-in-a-square",
        include_str!("../../../collection/square-in-a-square.quilt.toml"),
    ),
    (
        "square-in-a-square-flipped",
        include_str!("../../../collection/square-in-a-square-flipped.quilt.toml"),
    ),
    (
        "square-windmill",
        include_str!("../../../collection/square-windmill.quilt.toml"),
    ),
    (
        "star-of-diamonds",
        include_str!("../../../collection/star-of-diamonds.quilt.toml"),
    ),
    (
        "storm-at-sea",
        include_str!("../../../collection/storm-at-sea.quilt.toml"),
    ),
    (
        "streak-of-lightning",
        include_str!("../../../collection/streak-of-lightning.quilt.toml"),
    ),
    (
        "string-square",
        include_str!("../../../collection/string-square.quilt.toml"),
    ),
    (
        "thousand-pyramids",
        include_str!("../../../collection/thousand-pyramids.quilt.toml"),
    ),
    (
        "trip-around-the-world",
        include_str!("../../../collection/trip-around-the-world.quilt.toml"),
    ),
    (
        "tumbling-blocks",
        include_str!("../../../collection/tumbling-blocks.quilt.toml"),
    ),
    (
        "tumbling-blocks-over-card",
        include_str!("../../../collection/tumbling-blocks-over-card.quilt.toml"),
    ),
    ("turnstile", include_str!("../../../collection/turnstile.quilt.toml")),
    (
        "winding-ways",
        include_str!("../../../collection/winding-ways.quilt.toml"),
    ),
    (
        "zigzag-ribbon",
        include_str!("../../../collection/zigzag-ribbon.quilt.toml"),
    ),
];

/// What names of the collection begin with in a design.
pub(crate) const PREFIX: &str = "std/";

/// The roles that the collection's blocks are drawn in, each in as many of them as it needs.
pub(crate) const ROLES: [&str; 4] = ["dark", "medium", "light", "accent"];

/// The blocks of the built-in collection: name and design file, in the order of their names.
pub fn collection() -> &'static [(&'static str, &'static str)] {
    FILES
}

/// The design file of a block of the collection.
pub fn collection_file(name: &str) -> Option<&'static str> {
    let at = FILES.binary_search_by_key(&name, |(known, _)| known).ok()?;
    FILES.get(at).map(|(_, text)| *text)
}

/// A block of the collection as a design has it, under its name there, and what its own file gives for later.
pub(crate) fn block(std_name: &str) -> Option<(Block, Design)> {
    let name = std_name.strip_prefix(PREFIX)?;
    let design = read_design(collection_file(name)?).ok()?;
    let LayoutKind::Straight { .. } = design.layout.kind else {
        return None;
    };
    let mut block = design.block(name)?.clone();
    block.name = std_name.to_string();
    Some((block, design))
}
