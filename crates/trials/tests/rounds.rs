//! Log cabins, kaleidoscopes and stars of diamonds over whole designs: each is made by its method, proved, and refused when
//! altered.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::{End, Lay, Press, Step};
use trials::judge::Tally;
use trials::whole::Whole;

fn proved(text: &str) -> Whole {
    let whole = Whole::of(text).unwrap_or_else(|f| panic!("{f:#?}\n{text}"));
    if let Err(findings) = whole.rehearse() {
        let told: Vec<String> = findings.iter().map(ToString::to_string).collect();
        panic!("{}\n{text}", told.join("\n"));
    }
    whole
}

fn collection(block: &str) -> &'static str {
    design::collection_file(block).unwrap()
}

/// A block of the collection with a pinned method.
fn pinned(block: &str, method: &str) -> String {
    collection(block).replacen("note = ", &format!("method = \"{method}\"\nnote = "), 1)
}

fn steps(whole: &Whole) -> impl Iterator<Item = &Step> {
    whole.pattern.recipe.makes.iter().flat_map(|m| &m.steps)
}

/// By hand: logs in three rounds of four, or two.
const CABINS: [(&str, usize); 3] = [("log-cabin", 12), ("courthouse-steps", 12), ("half-log-cabin", 6)];

#[test]
fn rounds_are_sewn_from_the_middle_outward() {
    // By hand: the middle, then each log on the whole of one side; seams pressed away from the middle; each time the
    // unit is measured across the new log: a 7 in log cabin of 1 in logs grows 2 x 1, 2 x 2, 3 x 2 ... 7 x 7.
    for (block, logs) in CABINS {
        let whole = proved(collection(block));
        assert!(
            whole.methods.contains(&"log cabin rounds"),
            "{block}: {:?}",
            whole.methods
        );
        let make = &whole.pattern.recipe.makes[0];
        assert_eq!(
            (whole.pattern.recipe.makes.len(), make.parts.len()),
            (1, logs + 1),
            "{block}"
        );
        let opened = steps(&whole).filter_map(|s| match s {
            Step::Open { press, .. } => Some(*press),
            _ => None,
        });
        assert_eq!(opened.collect::<Vec<_>>(), vec![Press::TowardUpper; logs], "{block}");
        let measured: Vec<f64> = steps(&whole)
            .filter_map(|s| match s {
                Step::Check { is, .. } => Some(is.inches()),
                _ => None,
            })
            .collect();
        assert_eq!(measured.len(), logs + 1, "{block}");
        if block == "log-cabin" {
            let grown = [2.0, 2.0, 3.0, 3.0, 4.0, 4.0, 5.0, 5.0, 6.0, 6.0, 7.0, 7.0, 7.0];
            assert_eq!(measured, grown.map(|side| side + 0.5), "{block}");
        }
        // The middle is what is drawn as one, also where the first log is as large.
        let recipe::Take::Piece(piece) = &make.parts[0].take else {
            panic!("a piece")
        };
        let note = whole.pattern.recipe.pieces.iter().find(|n| n.piece == *piece);
        assert_eq!(note.unwrap().fabric.as_str(), "accent", "{block}");
    }
}

#[test]
fn logs_are_cut_long_and_trimmed_where_that_is_pinned() {
    for (block, logs) in CABINS {
        let whole = proved(&pinned(block, "log cabin rounds, trimmed"));
        let shaves: Vec<f64> = steps(&whole)
            .filter_map(|s| match s {
                Step::Trim { lines, .. } => Some(lines[0].shave.inches()),
                _ => None,
            })
            .collect();
        assert_eq!(shaves, vec![0.5; logs], "{block}");
        let over: Vec<f64> = steps(&whole)
            .filter_map(|s| match s {
                Step::Lay {
                    how:
                        Lay::Edges {
                            last: End::Overhang { by, .. },
                            ..
                        },
                    ..
                } => Some(by.inches()),
                _ => None,
            })
            .collect();
        assert_eq!(over, shaves, "{block}");
        let plain = proved(&pinned(block, "plain patches"));
        assert!(!plain.methods.iter().any(|m| m.starts_with("log cabin")), "{block}");
    }
}

#[test]
fn what_has_no_rounds_is_no_log_cabin() {
    // By hand: rails lie all one way; in a nine patch no patch covers a side; a windmill's arms chase one another.
    for block in [
        "rail-fence",
        "nine-patch",
        "bright-hopes",
        "roman-stripe",
        "checkerboard",
    ] {
        let whole = proved(collection(block));
        assert!(!whole.methods.iter().any(|m| m.starts_with("log cabin")), "{block}");
    }
}

#[test]
fn wedges_over_a_whole_quilt_do_not_add_up() {
    // A blunt point told as 1/8 in is 0.127 in (see the kaleidoscope's published figures): planned as just the mark, six
    // blocks in a row would come out 0.027 in short (measured), and be refused.
    let row = format!("[{}]", ["\"kaleidoscope\""; 6].join(", "));
    let rows = format!("rows = [{}]", vec![row; 6].join(", "));
    let whole = proved(&collection("kaleidoscope").replace("rows = [[\"kaleidoscope\"]]", &rows));
    let proof = whole.rehearse().unwrap();
    assert!(proof.largest_difference < 1.0 / 512.0, "{}", proof.largest_difference);
    let cloths = &whole.pattern.cutting.cloths;
    let runs = cloths.iter().flat_map(|c| &c.strips).flat_map(|s| &s.runs);
    let ruled: Vec<_> = runs.flat_map(|r| &r.cuts).filter_map(|c| c.ruler).collect();
    assert!(!ruled.is_empty());
    assert!(
        ruled
            .iter()
            .all(|c| c.angle == recipe::CutAngle::Wedge && c.across.is_none())
    );
}

/// Changes that say the same thing in other words (by hand): an edge of the middle that is folded under, or whose name went to
/// a trim's line, is passed over in a run of which its piece is part all the same; the side measured to goes on over the next
/// log's edge on the same line; and an angle to one strip's edge is the same angle to the next strip's, which is parallel.
const THE_SAME: [&str; 5] = [
    "log cabin, trimmed: /recipe/makes/0/steps/5/lay/how/edges/a/0/edge edge 2 on",
    "log cabin, trimmed: /recipe/makes/0/steps/10/lay/how/edges/a/0/edge edge 3 on",
    "log cabin, trimmed: /recipe/makes/0/steps/60/check/what/across/1/0/of next slot",
    "star of diamonds: /recipe/makes/0/steps/4/sub-cut/first/angle/line/edge/of next slot",
    "star of diamonds: /recipe/makes/1/steps/4/sub-cut/first/angle/line/edge/of next slot",
];

#[test]
fn each_is_refused_when_altered() {
    let star = collection("lone-star").replace("size = \"12 in\"", "size = \"19.3137085 in\"");
    let designs = [
        ("log cabin", collection("log-cabin").to_string()),
        ("log cabin, trimmed", pinned("log-cabin", "log cabin rounds, trimmed")),
        ("courthouse steps", collection("courthouse-steps").to_string()),
        ("kaleidoscope", collection("kaleidoscope").to_string()),
        ("star of diamonds", star),
    ];
    let mut tally = Tally::default();
    for (name, text) in &designs {
        let whole = proved(text);
        tally.judge(name, &whole.pattern, &whole.picture, 3000);
    }
    println!("{}", tally.table());
    println!("pointing elsewhere:\n{}", tally.misnamed.join("\n"));
    assert!(tally.unread.is_empty(), "{:?}", tally.unread);
    let survived: Vec<&String> = tally
        .unexpected
        .iter()
        .filter(|told| !THE_SAME.iter().any(|same| told.starts_with(same)))
        .collect();
    assert!(survived.is_empty(), "survived:\n{survived:#?}");
    assert!(tally.share_named() >= 0.95, "{:.3} name the place", tally.share_named());
}
