//! The book of the hand-built test quilt: its words, its files, and that nothing of it depends on the day.

#![allow(clippy::unwrap_used)]

mod sources;

use book::{Block, Book, Edition, Paper, Text, compose, cut_list_csv};
use measure::Measure;

fn a4() -> Edition {
    Edition {
        paper: Paper::A4,
        ..Edition::default()
    }
}

/// The words of a book, pictures by what they show.
fn words(book: &Book) -> String {
    let measure = book.set_for.measure;
    let plain = |t: &Text| t.plain(measure);
    let mut out = String::new();
    for section in &book.sections {
        out.push_str(&format!("== {}\n", section.name));
        for block in &section.blocks {
            let line = match block {
                Block::Spot { .. } => continue,
                Block::Photo(photo) => format!("[{}]", photo.alt),
                Block::Cover { quilt, lines } => {
                    format!(
                        "[{}]\n{}",
                        quilt.alt,
                        lines.iter().map(plain).collect::<Vec<_>>().join("\n")
                    )
                }
                Block::Heading {
                    level,
                    words,
                    pill,
                    lead,
                    ..
                } => format!(
                    "{} {words}{}{}",
                    "#".repeat(*level as usize),
                    pill.as_ref().map_or(String::new(), |p| format!(" ({p})")),
                    lead.as_ref().map_or(String::new(), |l| format!("\n{}", plain(l)))
                ),
                Block::Paragraph(text) => plain(text),
                Block::Quote { word, text } => format!("{word}: {text}"),
                Block::Step {
                    number,
                    sentences,
                    pictures,
                    ..
                } => {
                    let mut lines: Vec<String> = sentences.iter().map(plain).collect();
                    lines.extend(pictures.iter().map(|p| format!("[{}]", p.alt)));
                    let number = number.map_or("-".to_string(), |n| format!("{n}."));
                    format!("{number} {}", lines.join("\n   "))
                }
                Block::Gallery(all) => all.iter().map(|p| format!("[{}]", p.alt)).collect::<Vec<_>>().join(" "),
                Block::Table { head, rows } => {
                    let mut lines = vec![head.join(" | ")];
                    lines.extend(rows.iter().map(|r| r.iter().map(plain).collect::<Vec<_>>().join(" | ")));
                    lines.join("\n")
                }
                Block::Caution { word, text } => format!("! {word}. {text}"),
                Block::Check(all) => all
                    .iter()
                    .map(|t| format!("| {}", plain(t)))
                    .collect::<Vec<_>>()
                    .join("\n"),
                Block::Finding { severity, text } => format!("{severity}: {text}"),
                Block::Ticks(all) => all
                    .iter()
                    .map(|t| format!("[ ] {}", plain(t)))
                    .collect::<Vec<_>>()
                    .join("\n"),
                Block::TrueScale(p) => format!("[{}]", p.alt),
            };
            out.push_str(&line);
            out.push('\n');
        }
    }
    out
}

/// HTML without the drawings, whose figures would drown the words.
fn without_drawings(html: &str) -> String {
    let mut parts = html.split("<svg");
    let mut out = parts.next().unwrap_or_default().to_string();
    for part in parts {
        out.push_str("<svg/>");
        out.push_str(part.split_once("</svg>").map_or("", |p| p.1));
    }
    let start = out.find("<style>").unwrap();
    let end = out.find("</style>").unwrap();
    out.replace_range(start + 7..end, "");
    out
}

#[test]
fn the_words_of_the_test_quilt() {
    insta::assert_snapshot!(words(&compose(&sources::lantern(), &a4())));
}

#[test]
fn the_words_for_the_left_hand() {
    let book = compose(
        &sources::lantern(),
        &Edition {
            left_handed: true,
            ..a4()
        },
    );
    let cutting = words(&book);
    let (_, cutting) = cutting.split_once("== cutting").unwrap();
    insta::assert_snapshot!(cutting.split_once("== ").unwrap().0);
}

#[test]
fn the_page_for_the_screen() {
    insta::assert_snapshot!(without_drawings(&compose(&sources::lantern(), &a4()).to_html()));
}

#[test]
fn the_cut_list() {
    insta::assert_snapshot!(cut_list_csv(&sources::lantern().pattern).replace('\r', "<CR>"));
}

#[test]
fn a_cut_list_is_no_program() {
    let mut source = sources::lantern();
    source.pattern.recipe.fabrics[0].label = "=cmd|' /C calc'!A0".into();
    source.pattern.recipe.pieces[0].label = "a, \"b\"\n+1".into();
    let csv = cut_list_csv(&source.pattern);
    // RFC 4180: rows end in CR LF, quotes are doubled within quotes
    assert!(csv.contains("'=cmd|' /C calc'!A0,A1,\"a, \"\"b\"\"\n+1\","));
    assert!(csv.split("\r\n").filter(|l| !l.is_empty()).count() == source.pattern.recipe.pieces.len() + 1);
    assert!(
        !csv.lines()
            .any(|l| l.starts_with(['=', '+', '@', '-']) && !l.starts_with("+1\""))
    );
}

#[test]
fn not_proved_is_said_on_every_page() {
    let book = compose(&sources::unproved(), &a4());
    assert_eq!(book.standing.words, "Not proved");
    let words = words(&book);
    assert!(words.contains("Not proved. The unit measures 6.61 in where 6 1/2 in is printed."));
    assert!(words.contains("stop: Unit beacon/B: The unit measures"));
    assert!(!words.contains("Proved:"));
    let html = book.to_html();
    assert!(html.matches("<span>Not proved</span>").count() == book.sections.len() - 1);
}

#[test]
fn the_file_for_the_screen_needs_nothing_else() {
    let html = compose(&sources::lantern(), &a4()).to_html();
    let without_names = html.replace("http://www.w3.org/2000/svg", "");
    for forbidden in ["http:", "https:", "src=", "<script", "@import", "url("] {
        assert!(!without_names.contains(forbidden), "{forbidden}");
    }
    // Every number that can be pressed has its derivation in the file.
    let mut buttons = 0;
    for part in html.split("popovertarget=\"").skip(1) {
        let id = part.split('"').next().unwrap();
        assert!(html.contains(&format!("<div popover id=\"{id}\"")), "{id}");
        buttons += 1;
    }
    assert!(buttons > 5);
}

#[test]
fn one_book_is_one_file() {
    let source = sources::lantern();
    for edition in [
        a4(),
        Edition {
            left_handed: true,
            large_print: true,
            paper: Paper::Letter,
            ..a4()
        },
    ] {
        let (one, other) = (compose(&source, &edition), compose(&source.clone(), &edition));
        assert_eq!(one, other);
        assert_eq!(one.to_html(), other.to_html());
        let (first, second) = (one.to_pdf().unwrap(), other.to_pdf().unwrap());
        assert!(first.starts_with(b"%PDF-"));
        assert!(first == second, "the bytes differ");
    }
}

#[test]
fn metric_prints_centimetres() {
    let book = compose(
        &sources::lantern(),
        &Edition {
            measure: Measure::Metric,
            ..a4()
        },
    );
    let words = words(&book);
    // 3 1/2 in = 8.89 cm exactly
    assert!(words.contains("8.89 cm"));
    assert!(!words.contains(" in.\n") && !words.contains(" yd"));
}

#[test]
fn a_pattern_without_anything_still_has_pages() {
    let mut source = sources::lantern();
    source.scenes = Default::default();
    assert!(compose(&source, &a4()).to_pdf().is_ok());
    source.pattern.recipe.makes.clear();
    source.pattern.recipe.fabrics.clear();
    source.pattern.recipe.pieces.clear();
    source.pattern.cutting = recipe::CutPlan::default();
    source.pattern.bought = recipe::Bought::default();
    source.picture = terms::TopPicture::default();
    source.stories.clear();
    assert!(compose(&source, &a4()).to_pdf().is_ok());
}

#[test]
fn a_large_template_is_tiled_and_a_huge_one_refused() {
    use measure::Printed;
    let mut source = sources::lantern();
    let sheets = |source: &book::Source| {
        compose(source, &a4())
            .sections
            .iter()
            .flat_map(|s| &s.blocks)
            .filter(|b| matches!(b, Block::TrueScale(_)))
            .count()
    };
    assert_eq!(sheets(&source), 1);
    source.pattern.cutting.templates[0]
        .corners
        .iter_mut()
        .for_each(|c| c.right = Printed::from_units(c.right.units() * 2));
    // 10 in wide: more than the 6.5 in between the margins, so two sheets
    assert_eq!(sheets(&source), 2);
    source.pattern.cutting.templates[0]
        .corners
        .iter_mut()
        .for_each(|c| c.right = Printed::from_units(c.right.units() * 90));
    assert_eq!(sheets(&source), 0);
}

/// A PNG of one pixel.
fn pixel() -> std::sync::Arc<[u8]> {
    use base64::Engine;
    base64::prelude::BASE64_STANDARD
        .decode("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==")
        .unwrap()
        .into()
}

#[test]
fn a_photograph_is_printed_with_its_block_and_says_what_it_shows() {
    let mut source = sources::lantern();
    let count = |pdf: &[u8]| String::from_utf8_lossy(pdf).matches("/Subtype/Image").count();
    let before = count(&compose(&source, &a4()).to_pdf().unwrap());
    let photo = |alt: &str| book::PhotoWords {
        block: "beacon".into(),
        bytes: pixel(),
        kind: book::PhotoKind::Png,
        pixels: (300, 100),
        alt: alt.into(),
    };
    source.photos = vec![photo("A beacon \"lit\" <at> dusk")];
    let book = compose(&source, &a4());
    let shown: Vec<(&str, &book::Photo)> = book
        .sections
        .iter()
        .flat_map(|section| section.blocks.iter().map(|block| (section.name.as_str(), block)))
        .filter_map(|(name, block)| match block {
            Block::Photo(photo) => Some((name, photo)),
            _ => None,
        })
        .collect();
    let [(section, photo_on_page)] = shown.as_slice() else {
        panic!("{shown:?}")
    };
    assert_eq!(*section, "beacon");
    // Derived: three fifths of an A4 sheet's text, 210 mm less twice 62 pt, and a third of that high.
    let width = (210.0 / 25.4 * 72.0 - 124.0) * 0.6;
    assert!((photo_on_page.width - width).abs() < 1e-9 && (photo_on_page.height - width / 3.0).abs() < 1e-9);
    let html = book.to_html();
    assert!(html.contains("alt=\"A beacon &quot;lit&quot; &lt;at&gt; dusk\""));
    assert!(html.contains("src=\"data:image/png;base64,iVBORw0K"));
    assert!(count(&book.to_pdf().unwrap()) > before);
    // Where the designer says nothing, the block's name stands for it.
    source.photos = vec![photo(" ")];
    assert!(
        compose(&source, &a4())
            .to_html()
            .contains("alt=\"Photograph of Beacon\"")
    );
}

#[test]
fn places_for_words_are_marked_on_living_pages_alone() {
    let book = compose(&sources::lantern(), &a4());
    let living: String = (0..book.sections.len())
        .map(|i| book.section_html(i, &mut |_| None))
        .collect();
    assert!(living.contains("<div class=\"spot\" data-spot=\"beacon\" data-steps=\"\"></div>"));
    assert!(living.contains("data-spot=\"beacon/A\" data-steps=\"\""));
    assert!(living.contains("data-spot=\"\""), "a place for the whole quilt");
    assert!(!book.to_html().contains("class=\"spot\""));
    // Every step that the pages tell has a place of its own, and no step has two.
    let mut seen = std::collections::BTreeSet::new();
    for block in book.sections.iter().flat_map(|section| &section.blocks) {
        if let Block::Spot { at, steps } = block {
            assert!(
                steps.iter().all(|step| seen.insert((at.clone(), *step))),
                "{at} {steps:?}"
            );
        }
    }
    assert!(seen.len() > 10, "{seen:?}");
}
