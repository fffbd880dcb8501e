//! Sewing on foundation paper: a section of three pieces that is nothing like its mirror image, and everything that can be
//! wrong with it.

use crate::builder::*;
use measure::Printed;
use recipe::{AlongLine, Lay, Paper, Part, Path, PrintNote, SewingLine, Size, Slot, Step, Take, TemplateCorner};

const UNITS: f64 = 8_128_000.0;

/// The place of the sewn section, as printed: mirrored, from the corner of the cutting line's box.
fn printed(x: f64, y: f64) -> TemplateCorner {
    let at = |inches: f64| Printed::nearest(inches).unwrap();
    assert!(inches_fit(x) && inches_fit(y));
    TemplateCorner {
        right: at(4.25 - x),
        up: at(y + 0.25),
    }
}

fn inches_fit(inches: f64) -> bool {
    (inches * UNITS).abs() < 1.0e12
}

/// 4 in x 3 in: below a level line at 1 1/2 in area 1, above it area 2, and on the right, beyond the line from (3, 0) to
/// (4, 3), area 3.
fn paper() -> Paper {
    let all = |corners: [(f64, f64); 4]| corners.map(|(x, y)| printed(x, y)).to_vec();
    Paper {
        name: "section".into(),
        print: 1,
        outline: all([(0.0, 3.0), (4.0, 3.0), (4.0, 0.0), (0.0, 0.0)]),
        cutting: all([(-0.25, 3.25), (4.25, 3.25), (4.25, -0.25), (-0.25, -0.25)]),
        lines: vec![
            SewingLine {
                from: printed(3.5, 1.5),
                to: printed(0.0, 1.5),
            },
            SewingLine {
                from: printed(3.0, 0.0),
                to: printed(4.0, 3.0),
            },
        ],
    }
}

fn along(of: u32, past: Size, beyond: Size) -> AlongLine {
    AlongLine {
        edge: e(of, 0),
        past,
        beyond,
        margin: s8(2),
    }
}

fn over(a: u32, b: u32, into: u32, line: u32, along: AlongLine) -> Step {
    Step::Lay {
        a: Slot(a),
        b: Slot(b),
        how: Lay::OverPaper { line, along },
        into: Slot(into),
    }
}

fn on_line(stack: u32, beyond: Size) -> Step {
    Step::Sew {
        stack: Slot(stack),
        path: Path::OnPaper { beyond },
        join: false,
    }
}

fn pare(of: u32, line: u32) -> Step {
    Step::Pare {
        of: Slot(of),
        line,
        past: s8(2),
    }
}

/// The sizes have a margin of 1/4 in (*derived*, with the slant s = 0.25·√10/3 = 0.2635 by which the second line's allowance
/// moves it to the right): area 1 must be covered from -1/4 to 1.75/3 + 3 + s = 3.847 across and from -1/4 to 1 3/4 up; area 2 from -1/4
/// to 4 1/4 and from 1 1/2 to 3 1/4; area 3, along its line from (4, 3), from -0.316 to 3.426, and 1.265 away from it.
fn section() -> Bench {
    let mut b = Bench::new();
    b.cloth("night", PrintNote::None)
        .rectangles("A", s8(37), s8(20), 1)
        .cloth("foam", PrintNote::None)
        .rectangles("B", s8(40), s8(18), 1)
        .cloth("brass", PrintNote::None)
        .rectangles("C", s8(35), s8(15), 1);
    b.pattern.cutting.papers.push(paper());
    let parts = [
        Part {
            slot: Slot(0),
            take: Take::Paper("section".into()),
        },
        piece(1, "A"),
        piece(2, "B"),
        piece(3, "C"),
    ];
    let steps = [
        Step::Spread {
            on: Slot(0),
            piece: Slot(1),
            along: along(1, s8(4), s8(5)),
            into: Slot(4),
        },
        pare(4, 0),
        over(4, 2, 5, 0, along(2, s8(2), s8(4))),
        on_line(5, s8(4)),
        open(5, 6),
        pare(6, 1),
        over(6, 3, 7, 1, along(3, s8(2), s8(5))),
        on_line(7, s8(4)),
        open(7, 8),
        Step::CutOut {
            of: Slot(8),
            into: Slot(9),
        },
        finish(9, &[run(&[(9, 2)]), run(&[(9, 1)]), run(&[(9, 0)]), run(&[(9, 3)])], 2),
    ];
    b.make("top", 1, &parts, &steps, &[]);
    b.outer(4.0, 3.0)
        .face("night", &[(0.0, 0.0), (3.0, 0.0), (3.5, 1.5), (0.0, 1.5)])
        .face("foam", &[(0.0, 1.5), (3.5, 1.5), (4.0, 3.0), (0.0, 3.0)])
        .face("brass", &[(3.0, 0.0), (4.0, 0.0), (4.0, 3.0)]);
    b
}

fn step(b: &mut Bench, at: usize) -> &mut Step {
    &mut b.pattern.recipe.makes[0].steps[at]
}

fn laid(b: &mut Bench, at: usize) -> &mut AlongLine {
    match step(b, at) {
        Step::Spread { along, .. }
        | Step::Lay {
            how: Lay::OverPaper { along, .. },
            ..
        } => along,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_section_of_three_comes_out_as_the_mirror_of_its_print() {
    let proof = section().proved();
    assert_eq!(proof.seams, 2);
    assert!(proof.largest_difference < 1.0e-6, "{}", proof.largest_difference);
}

/// As if the sheet were printed the way the section is sewn: every area comes out as its mirror image.
#[test]
fn a_paper_printed_the_other_way_round_is_noticed() {
    let mut b = section();
    let paper = &mut b.pattern.cutting.papers[0];
    let turn = |c: &mut TemplateCorner| c.right = Printed::nearest(4.5 - c.right.to_inches()).unwrap();
    paper.outline.iter_mut().for_each(turn);
    paper.cutting.iter_mut().for_each(turn);
    paper.outline.reverse();
    paper.cutting.reverse();
    for line in &mut paper.lines {
        turn(&mut line.from);
        turn(&mut line.to);
        std::mem::swap(&mut line.from, &mut line.to);
    }
    // Sides keep their places but their numbers follow the corners: 0 is now the lower side.
    assert!(b.rehearse().is_err());
}

/// Refused since the piece does not cover what it must, be it noticed along the line or at the opening.
fn short(b: &Bench) {
    let findings = b.rehearse().expect_err("too short");
    let codes: Vec<&str> = findings.iter().map(|f| f.code).collect();
    assert!(
        matches!(codes[..], ["piece-falls-short" | "path-not-covered"]),
        "{codes:?}"
    );
}

#[test]
fn a_maker_may_be_off_by_the_margin_either_way() {
    for (at, judged, moved) in [(0, 0, 1), (0, 0, -1), (2, 4, 1), (2, 4, -1), (6, 8, 1), (6, 8, -1)] {
        let mut b = section();
        let along = laid(&mut b, at);
        along.beyond = Size::bare(measure::Length::from_units(
            along.beyond.len.units() + moved * s8(2).len.units(),
        ));
        // As laid a quarter inch off, cloth is still where it must be, if none is asked for beyond that.
        b.refused_at("piece-falls-short", "top", judged);
        laid(&mut b, at).margin = s8(0);
        b.proved();
        // Nor may it be further off than the margin and what the rounding of the sizes left over, less than two marks.
        let along = laid(&mut b, at);
        along.beyond = Size::bare(measure::Length::from_units(
            along.beyond.len.units() + moved * s8(3).len.units(),
        ));
        short(&b);
    }
}

#[test]
fn no_more_margin_is_told_than_the_edge_that_is_laid_has() {
    // The second piece's edge lies a seam, 1/4 in, past its line: off by more than that it does not reach the line.
    let mut b = section();
    laid(&mut b, 2).margin = Size::bare(measure::Length::fraction(5, 16));
    b.refused_at("piece-falls-short", "top", 2);
}

#[test]
fn a_piece_too_narrow_or_too_short_is_refused_with_its_figure() {
    for cloth in 0..3 {
        let mut b = section();
        let strip = &mut b.pattern.cutting.cloths[cloth].strips[0];
        strip.height = Size::bare(measure::Length::from_units(
            strip.height.len.units() - s8(5).len.units(),
        ));
        short(&b);
        let mut b = section();
        let cut = &mut b.pattern.cutting.cloths[cloth].strips[0].runs[0].cuts[0];
        cut.lower = Size::bare(measure::Length::from_units(cut.lower.len.units() - s8(5).len.units()));
        cut.upper = cut.lower;
        short(&b);
    }
    let mut b = section();
    b.pattern.cutting.cloths[1].strips[0].height = s8(14);
    let finding = b.refused("piece-falls-short");
    // 1/4 + 1 1/2 + 1/4 is 2 in and the strip is 1 3/4.
    assert!(finding.sentence.contains("falls 1/4 in short"), "{}", finding.sentence);
}

#[test]
fn lines_are_sewn_in_order_and_all_of_them() {
    let mut b = section();
    *step(&mut b, 1) = pare(4, 1);
    b.refused_at("line-out-of-order", "top", 1);
    let mut b = section();
    *step(&mut b, 2) = over(4, 2, 5, 1, along(2, s8(2), s8(4)));
    b.refused_at("line-out-of-order", "top", 2);
    let mut b = section();
    let steps = &mut b.pattern.recipe.makes[0].steps;
    steps.drain(5..9);
    steps[5] = Step::CutOut {
        of: Slot(6),
        into: Slot(9),
    };
    b.refused_at("section-not-done", "top", 5);
}

#[test]
fn cloth_left_under_the_piece_is_refused() {
    let mut b = section();
    b.pattern.recipe.makes[0].steps.remove(1);
    b.refused_at("raw-edges-not-level", "top", 1);
    let mut b = section();
    b.pattern.recipe.makes[0].steps.remove(5);
    b.refused_at("raw-edges-not-level", "top", 5);
}

#[test]
fn an_allowance_too_narrow_is_refused() {
    // Laid 3/8 in lower, area 1's piece ends 1/8 in past its line; what it must cover is not asked of it here.
    let mut b = section();
    *laid(&mut b, 0) = AlongLine {
        past: s8(1),
        margin: s8(0),
        ..*laid(&mut b, 0)
    };
    b.refused_at("piece-falls-short", "top", 0);
    for (at, past) in [(1, s8(3)), (2, s8(3))] {
        let mut b = section();
        match step(&mut b, at) {
            Step::Pare { past: p, .. } => *p = past,
            _ => laid(&mut b, at).past = past,
        }
        b.refused_at("seam-not-allowance", "top", at as u32);
    }
}

#[test]
fn stitches_go_on_through_the_allowance() {
    let mut b = section();
    *step(&mut b, 3) = on_line(5, s8(1));
    b.refused_at("stitches-stop-short", "top", 3);
    // 1/4 in is short of the slanting side's allowance, s = 0.2635, by less than 1/64 in.
    let mut b = section();
    *step(&mut b, 3) = on_line(5, s8(2));
    b.proved();
    let mut b = section();
    *step(&mut b, 7) = on_line(7, s64(14));
    b.refused_at("stitches-stop-short", "top", 7);
}

#[test]
fn a_paper_must_be_sound() {
    type Spoil = fn(&mut Paper);
    let spoilt: [Spoil; 8] = [
        |p| p.cutting[0].up = printed(0.0, 3.0).up,
        |p| p.outline[1].right = printed(3.5, 0.0).right,
        |p| p.lines[0].to = printed(1.0, 1.5),
        |p| p.lines.swap(0, 1),
        |p| p.lines[1].from = p.lines[1].to,
        |p| {
            let line = p.lines[1];
            p.lines[1] = SewingLine {
                from: line.to,
                to: line.from,
            };
        },
        |p| p.outline.reverse(),
        |p| {
            p.outline.pop();
        },
    ];
    for (i, spoil) in spoilt.iter().enumerate() {
        let mut b = section();
        spoil(&mut b.pattern.cutting.papers[0]);
        assert_eq!(b.refused("paper-unsound").code, "paper-unsound", "{i}");
    }
    let mut b = section();
    let again = paper();
    b.pattern.cutting.papers.push(again);
    b.refused("paper-unsound");
}

#[test]
fn papers_are_counted() {
    let mut b = section();
    b.pattern.cutting.papers[0].print = 2;
    b.refused("pool-left");
    b.pattern.cutting.papers[0].print = 0;
    b.refused("pool-short");
    b.pattern.cutting.papers.clear();
    b.refused("unknown-paper");
}

#[test]
fn a_section_is_no_work_before_it_is_cut_out() {
    let mut b = section();
    let steps = &mut b.pattern.recipe.makes[0].steps;
    steps.remove(9);
    steps[9] = finish(8, &[run(&[(1, 0)])], 0);
    b.refused_at("bad-recipe", "top", 9);
    let mut b = section();
    *step(&mut b, 3) = sew(5);
    b.refused_at("bad-recipe", "top", 3);
    let mut b = section();
    b.pattern.recipe.makes[0].steps.truncate(9);
    assert!(b.rehearse().is_err());
}

/// A line moved on the sheet by a sixteenth shows in the cloth, though the paper is sound.
#[test]
fn a_line_printed_elsewhere_shows() {
    let mut b = section();
    let line = &mut b.pattern.cutting.papers[0].lines[0];
    for end in [&mut line.from, &mut line.to] {
        end.up = Printed::nearest(end.up.to_inches() + 1.0 / 16.0).unwrap();
    }
    line.from.right = printed(3.5 + 1.0 / 48.0, 0.0).right;
    laid(&mut b, 0).margin = s8(0);
    laid(&mut b, 2).margin = s8(0);
    b.refused("face-differs");
}
