//! The built-in collection against published figures: the same tables that the drawings of these tests are held against,
//! so that what a maker places by name is the block that the tables mean.

use super::drawn::proved;
use super::lists::{Form, across, others, pieces, rectangles, size_text, units_of_size};
use super::tables::{inches, rows};
use shape::Polygon;
use std::collections::BTreeMap;
use trials::whole::Whole;

const ROOT2: f64 = std::f64::consts::SQRT_2;

/// A block of the collection as the whole top, so large, in the cloths of the tables.
fn placed(name: &str, (w, h): (f64, f64)) -> Whole {
    proved(&format!(
        "format = 1\n[quilt]\ntitle = \"Check\"\n[[fabric]]\nname = \"light\"\ncolor = \"#efe8d8\"\n\
         [[fabric]]\nname = \"dark\"\ncolor = \"#1f2d4a\"\n[[fabric]]\nname = \"mid\"\ncolor = \"#a9472e\"\n\
         [[block]]\nname = \"drawn\"\nsize = [\"{w} in\", \"{h} in\"]\nplace = [{{ block = \"std/{name}\", at = [0, 0], size = [1, 1], \
         recolor = {{ medium = \"mid\", accent = \"mid\" }} }}]\n[layout]\nrows = [[\"drawn\"]]\n"
    ))
}

/// In two cloths only.
fn placed_in_two(name: &str, (w, h): (f64, f64)) -> Whole {
    proved(&format!(
        "format = 1\n[quilt]\ntitle = \"Check\"\n[[fabric]]\nname = \"light\"\ncolor = \"#efe8d8\"\n\
         [[fabric]]\nname = \"dark\"\ncolor = \"#1f2d4a\"\n\
         [[block]]\nname = \"drawn\"\nsize = [\"{w} in\", \"{h} in\"]\nplace = [{{ block = \"std/{name}\", at = [0, 0], size = [1, 1], \
         recolor = {{ medium = \"dark\", accent = \"dark\" }} }}]\n[layout]\nrows = [[\"drawn\"]]\n"
    ))
}

/// A block as it stands in the collection, in two cloths only, so large, and made by a method.
fn in_two_pinned(name: &str, size: &str, method: &str) -> Whole {
    let text = design::collection_file(name).unwrap();
    let lines = text.lines().map(|line| match line.split_once(" = ") {
        Some(("size", _)) => format!("size = {size}\nmethod = \"{method}\"\n"),
        _ => line.replace("fabric = \"medium\"", "fabric = \"dark\"") + "\n",
    });
    proved(&lines.collect::<String>())
}

/// The collection's name for a block of the tables.
fn std_name(table: &str) -> String {
    table.to_lowercase().replace('\'', "").replace(' ', "-")
}

#[test]
fn as_many_pieces_as_the_tables_say() {
    // The table names what each count rests on. Two rows are drawn as units only and have no block of their name here.
    let table = rows(include_str!("../../../../tests/outside/data/block_piece_counts.csv"));
    let mut held = 0;
    for row in table {
        let name = std_name(row[0]);
        if design::collection_file(&name).is_none() {
            assert!(
                ["Flying Geese unit", "Seven-grid chain"].contains(&row[0]),
                "{}",
                row[0]
            );
            continue;
        }
        let size = (inches(row[1]), inches(row[2]));
        let whole = placed(&name, size);
        assert_eq!(whole.picture.faces.len(), row[3].parse::<usize>().unwrap(), "{name}");
        held += 1;
    }
    assert_eq!(held, 22);
}

#[test]
fn counts_that_have_a_closed_form() {
    // *derived*: a log cabin and courthouse steps of three rounds have 1 + 4n pieces (the same count in two cutting lists
    // published on the web and by a quilters' guild); an eight-pointed star of n x n diamonds to a point 8 n^2 + 8, which
    // for n = 1 is the plain star's 16 (drafting pages, no year given; lone star, published on the web, 2021); seven
    // hexagons are the centred hexagonal number 3k(k+1)+1 for k = 1, here on a ground of ten patches (each corner in two, so
    // that all are convex); a drunkard's path of 4 x 4 units has two pieces each.
    for (name, count) in [
        ("log-cabin", 1 + 4 * 3),
        ("courthouse-steps", 1 + 4 * 3),
        ("lemoyne-star", 8 + 8),
        ("lone-star", 8 * 4 + 8),
        ("flower-garden", 7 + 10),
        ("drunkards-path", 2 * 16),
        ("tumbling-blocks", 3 + 4),
    ] {
        let design = design::read_design(design::collection_file(name).unwrap()).unwrap();
        assert_eq!(design.blocks[0].patches.len(), count, "{name}");
    }
}

#[test]
fn blocks_cut_the_published_way() {
    // The table names the source of each list. Squares that the lists halve first are sewn two at a time here, from the
    // very same squares, and geese are flipped; both pinned.
    let table = rows(include_str!("../../../../tests/outside/data/block_cutting_lists.csv"));
    for (name, finished, method) in [
        ("Churn Dash", 6.0, "half-square pairs"),
        ("Sawtooth Star", 6.0, "goose by sew-and-flip"),
        ("Pinwheel", 6.0, "half-square pairs"),
        ("Bear's Paw", 14.0, "half-square pairs"),
    ] {
        let mut expected: BTreeMap<(String, String), u32> = BTreeMap::new();
        for row in table.iter().filter(|r| r[0] == name && inches(r[1]) == finished) {
            let (a, b) = row[4].split_once(" x ").unwrap();
            let key = (row[2].to_string(), size_text(inches(a), inches(b)));
            *expected.entry(key).or_insert(0) += row[3].parse::<u32>().unwrap();
        }
        let whole = in_two_pinned(&std_name(name), &format!("\"{finished} in\""), method);
        assert_eq!(rectangles(&whole.pattern), expected, "{name}");
        assert!(others(&whole.pattern).is_empty(), "{name}");
    }
}

#[test]
fn an_ohio_stars_squares_and_quarters() {
    // Block of the month of a quilters' group, 2015 (12 in), and a 9 in block published on the web, 2004: squares of
    // 4 1/2 and 3 1/2, quartered squares of 5 1/4 and 4 1/4.
    for (finished, square, quartered) in [(12.0, "4 1/2", "5 1/4"), (9.0, "3 1/2", "4 1/4")] {
        let whole = placed_in_two("ohio-star", (finished, finished));
        let square = size_text(inches(square), inches(square));
        let list = rectangles(&whole.pattern);
        assert_eq!(list.get(&("light".to_string(), square.clone())), Some(&4));
        assert_eq!(list.get(&("dark".to_string(), square)), Some(&1));
        quarters_of(&whole, inches(quartered), 16);
    }
}

/// So many triangles come of squares of the published size, four of each (sewn and cut in pairs, so that one over may be
/// left); nothing is cut beside dots.
fn quarters_of(whole: &Whole, square: f64, count: u32) {
    let size = size_text(square, square);
    let list = rectangles(&whole.pattern);
    let squares: u32 = list.iter().filter(|(key, _)| key.1 == size).map(|(_, n)| n).sum();
    assert!(
        squares >= count / 4 && squares <= count / 2,
        "{squares} squares of {size}: {list:?}"
    );
    assert!(others(&whole.pattern).is_empty());
}

#[test]
fn an_hourglass_from_quartered_squares() {
    // Published on the web, 2011: finished 6 from 7 1/4; 12 and 9 in Ohio Star lists (2015, 2004): 4 from 5 1/4, 3 from
    // 4 1/4.
    for (finished, square) in [(6.0, 7.25), (4.0, 5.25), (3.0, 4.25)] {
        quarters_of(&placed("hourglass", (finished, finished)), square, 4);
    }
}

#[test]
fn units_measure_what_is_published() {
    // Storm at Sea guide, a magazine, 2020: corners 3 1/2, sides 3 1/2 x 6 1/2, centre 6 1/2 unfinished. Bear's Paw, cutting
    // list on the web: the paw is 6 1/2. Churn Dash, likewise: units of 2 1/2. Ohio Star, a quilters' group, 2015: units of
    // 4 1/2. Pinwheels, a quilters' guild, 2025: units of 3 1/2. Nine patch of three 2 1/2 in strips, a glossary on the
    // web, 2021: 6 1/2. Sew-and-flip geese, on the web: 2 1/2 x 4 1/2 (a Dutchman's Puzzle of 8 in has those).
    for (name, side, units) in [
        ("storm-at-sea", 12.0, vec![(3.5, 3.5), (3.5, 6.5), (6.5, 6.5)]),
        ("bears-paw", 14.0, vec![(6.5, 6.5), (2.5, 2.5)]),
        ("churn-dash", 6.0, vec![(2.5, 2.5)]),
        ("ohio-star", 12.0, vec![(4.5, 4.5)]),
        ("pinwheel", 6.0, vec![(3.5, 3.5)]),
        ("nine-patch", 6.0, vec![(6.5, 6.5)]),
        ("dutchmans-puzzle", 8.0, vec![(2.5, 4.5)]),
    ] {
        let whole = placed(name, (side, side));
        for (a, b) in units {
            assert!(!units_of_size(&whole.pattern, a, b).is_empty(), "{name}: {a} x {b}");
        }
        let measured: Vec<f64> = whole.pattern.recipe.makes.iter().flat_map(across).collect();
        assert!(!measured.is_empty());
    }
}

#[test]
fn a_snowball_and_a_square_of_thirds() {
    // Snowball blocks, published on the web, 2013: 6 in from 6 1/2 and four 2 1/2.
    let whole = placed("snowball", (6.0, 6.0));
    let expected: BTreeMap<(String, String), u32> = [
        (("light".to_string(), size_text(6.5, 6.5)), 1),
        (("dark".to_string(), size_text(2.5, 2.5)), 4),
    ]
    .into();
    assert_eq!(rectangles(&whole.pattern), expected);
}

#[test]
fn geese_by_sew_and_flip_stay_their_rectangle() {
    // Stitch and flip, published on the web: a rectangle of 2 1/2 x 4 1/2 and two squares of 2 1/2.
    let whole = in_two_pinned("flying-geese", "[\"4 in\", \"8 in\"]", "goose by sew-and-flip");
    let list = rectangles(&whole.pattern);
    assert_eq!(list.get(&("dark".to_string(), size_text(2.5, 4.5))), Some(&4));
    assert_eq!(list.get(&("light".to_string(), size_text(2.5, 2.5))), Some(&8));
    assert_eq!(list.len(), 2);
}

#[test]
fn corners_of_a_square_on_point() {
    // Setting-triangle chart, published on the web, no year given, rounded up to eighths: the corner square to halve for
    // a block on point of so many inches. A square in a square is that block between four such corners.
    for (block, corner) in [
        (5.0, "4 1/2"),
        (6.0, "5 1/8"),
        (8.0, "6 5/8"),
        (10.0, "8"),
        (12.0, "9 3/8"),
        (14.0, "10 7/8"),
        (15.0, "11 1/2"),
        (16.0, "12 1/4"),
    ] {
        let side = block * ROOT2;
        let whole = placed_in_two("square-in-a-square", (side, side));
        let mut corners = 0;
        for cutting in pieces(&whole.pattern).into_values().filter(|c| c.cloth == "light") {
            let (Form::Shaped(outline) | Form::Template(outline)) = cutting.form else {
                panic!("{:?}", cutting.form)
            };
            let leg = leg(&outline);
            // *derived*: n / sqrt2 + s(2 + sqrt2); the chart adds 7/8 and rounds up.
            let exact = block / ROOT2 + 0.25 * (2.0 + ROOT2);
            assert!((leg - exact).abs() < 1.0 / 64.0, "{block}: {leg} for {exact}");
            assert!(
                leg <= inches(corner) && inches(corner) - leg < 0.15,
                "{block}: {leg} for {corner}"
            );
            corners += cutting.count;
        }
        assert_eq!(corners, 4);
    }
}

/// The shorter side of a right triangle of equal legs, from its area.
fn leg(outline: &Polygon) -> f64 {
    (2.0 * outline.signed_area()).sqrt()
}

#[test]
fn an_eight_pointed_stars_side() {
    // Drafting pages, no year given: 6 / 3.414 = 1.7574, and the diagonal of that corner 2.484.
    let text = design::collection_file("lemoyne-star")
        .unwrap()
        .replace("size = \"9 in\"", "size = \"6 in\"");
    let design = design::read_design(&text.replace("[\"9 in\", \"9 in\"]", "\"6 in\"")).unwrap();
    let block = &design.blocks[0];
    assert_eq!(block.size, (6.0, 6.0));
    let squares: Vec<f64> = block
        .patches
        .iter()
        .filter(|p| p.outline.len() == 4 && p.fabric.as_str() == "light")
        .map(|p| p.outline.signed_area().sqrt())
        .collect();
    assert_eq!(squares.len(), 4);
    for side in squares {
        assert!((side - 1.7574).abs() < 0.0001, "{side}");
        assert!((side * ROOT2 - 2.485).abs() < 0.001, "{side}");
    }
}
