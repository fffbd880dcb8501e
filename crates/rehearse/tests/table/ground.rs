//! Pieces laid on a ground: where they lie, what is turned under, what lies above what, and what a seam takes of them.

use crate::builder::*;
use measure::Printed;
use recipe::{
    Gives, Guide, GuideShape, PieceCut, PrintNote, ShapeEdge, Size, Slot, Step, Stretch, Template, TemplateCorner,
    TemplateLine, Turn,
};
use shape::{Line, Point, Polygon, Vector};
use terms::{FabricId, Face, PatchPath, PieceId, UpWanted};

pub(crate) type Corners = Vec<(f64, f64)>;

pub(crate) const TURN: f64 = 0.1875;

fn s16(count: i64) -> Size {
    s64(count * 4)
}

pub(crate) fn printed(corners: &[(f64, f64)]) -> Vec<TemplateCorner> {
    corners
        .iter()
        .map(|&(x, y)| TemplateCorner {
            right: Printed::nearest(x).unwrap(),
            up: Printed::nearest(y).unwrap(),
        })
        .collect()
}

/// A circle of so many straight edges round a place.
fn circle(x: f64, y: f64, radius: f64, edges: u32) -> Corners {
    (0..edges)
        .map(|i| {
            let angle = f64::from(i) * std::f64::consts::TAU / f64::from(edges);
            (x + radius * libm::cos(angle), y + radius * libm::sin(angle))
        })
        .collect()
}

/// Every edge moved out by so much of its own; corners where the moved edges cross.
pub(crate) fn grown(corners: &[(f64, f64)], by: &dyn Fn(usize) -> f64) -> Corners {
    let outline = Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect());
    let n = outline.len();
    let moved = |i: usize| -> Line { outline.edge(i).unwrap().moved_left(-by(i)) };
    (0..n)
        .map(|i| {
            let before = (i + n - 1) % n;
            // Two edges in one line have no crossing of their own.
            let straight = outline.corner(i) + outline.edge(i).unwrap().along.left() * -by(i);
            let corner = moved(before).crossing(moved(i)).unwrap_or(straight);
            (corner.x, corner.y)
        })
        .collect()
}

/// A shape on the sheet, how its piece is cut, and of what.
pub(crate) struct Shape {
    pub(crate) cloth: &'static str,
    pub(crate) line: Corners,
    pub(crate) cut: Corners,
    pub(crate) under: Vec<Stretch>,
    pub(crate) level: Vec<Stretch>,
    pub(crate) from_back: bool,
    pub(crate) edge: ShapeEdge,
}

impl Shape {
    pub(crate) fn turned(cloth: &'static str, line: Corners) -> Shape {
        Shape {
            cut: grown(&line, &|_| TURN),
            line,
            cloth,
            under: Vec::new(),
            level: Vec::new(),
            from_back: false,
            edge: ShapeEdge::Turned { by: s16(3) },
        }
    }

    pub(crate) fn raw(cloth: &'static str, line: Corners) -> Shape {
        Shape {
            cut: line.clone(),
            edge: ShapeEdge::Raw,
            ..Shape::turned(cloth, line)
        }
    }
}

/// The cloth of the name, cut into one piece round the shape's template.
fn cut_shape(b: &mut Bench, number: usize, shape: &Shape, times: u32) {
    let (cut, line) = (&shape.cut, &shape.line);
    let low = (
        cut.iter().map(|c| c.0).fold(f64::INFINITY, f64::min),
        cut.iter().map(|c| c.1).fold(f64::INFINITY, f64::min),
    );
    let high = (
        cut.iter().map(|c| c.0).fold(f64::NEG_INFINITY, f64::max),
        cut.iter().map(|c| c.1).fold(f64::NEG_INFINITY, f64::max),
    );
    let put = |corners: &[(f64, f64)]| -> Corners {
        corners
            .iter()
            .map(|&(x, y)| {
                let right = if shape.from_back { high.0 - x } else { x - low.0 };
                (right, y - low.1)
            })
            .collect()
    };
    let name = format!("S{number}");
    b.pattern.cutting.templates.push(Template {
        name: name.clone(),
        corners: printed(&put(cut)),
        bows: Vec::new(),
        marks: Vec::new(),
        applique: Some(TemplateLine {
            line: printed(&put(line)),
            from_back: shape.from_back,
        }),
    });
    let up = |x: f64| s64((x * 64.0).ceil() as i64 + 1);
    let (w, h) = (up(high.0 - low.0), up(high.1 - low.1));
    b.cloth(shape.cloth, PrintNote::None).kind(&name).strip(
        h,
        &[(
            times,
            &[(
                w,
                w,
                Gives::Template {
                    piece: PieceCut {
                        piece: PieceId::new(&name),
                        turn: Turn::As,
                    },
                    template: name.clone(),
                },
            )],
        )],
    );
}

/// The sheet of a ground of so many inches finished.
fn sheet(b: &mut Bench, width: f64, height: f64, shapes: &[Shape]) {
    b.pattern.cutting.guides.push(Guide {
        name: "sheet".into(),
        outline: printed(&[(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]),
        shapes: shapes
            .iter()
            .map(|s| GuideShape {
                line: printed(&s.line),
                under: s.under.clone(),
                level: s.level.clone(),
            })
            .collect(),
    });
}

fn lay_sheet(on: u32, sides: &[recipe::EdgeRun]) -> Step {
    Step::Guide {
        on: Slot(on),
        guide: "sheet".into(),
        sides: sides.to_vec(),
    }
}

fn down(piece: u32, on: u32, shape: u32, edge: ShapeEdge) -> Step {
    Step::StitchDown {
        piece: Slot(piece),
        on: Slot(on),
        guide: "sheet".into(),
        shape,
        edge,
    }
}

fn laid(b: &mut Bench, fabric: &str, corners: &[(f64, f64)]) {
    let patch = b.picture.laid.len() as u32;
    b.picture.laid.push(Face {
        outline: Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect()),
        fabric: FabricId::new(fabric),
        up: None,
        patch: PatchPath {
            placements: Vec::new(),
            patch,
        },
    });
}

fn square_sides() -> [recipe::EdgeRun; 4] {
    [run(&[(0, 0)]), run(&[(0, 1)]), run(&[(0, 2)]), run(&[(0, 3)])]
}

/// A 6 in square of light with these shapes on it; that alone is the top. The picture has the shapes as drawn.
pub(crate) fn on_a_square(shapes: &[Shape]) -> Bench {
    let mut b = Bench::new();
    b.cloth("light", PrintNote::None).rectangles("L", s8(52), s8(52), 1);
    let mut parts = vec![piece(0, "L")];
    let mut steps = vec![lay_sheet(0, &square_sides())];
    sheet(&mut b, 6.0, 6.0, shapes);
    for (i, shape) in shapes.iter().enumerate() {
        cut_shape(&mut b, i, shape, 1);
        parts.push(piece(1 + i as u32, &format!("S{i}")));
        steps.push(down(1 + i as u32, 0, i as u32, shape.edge));
        laid(&mut b, shape.cloth, &shape.line);
    }
    steps.push(finish(0, &square_sides(), 2));
    b.make("top", 1, &parts, &steps, &[]);
    b.outer(6.0, 6.0).rect("light", 0.0, 0.0, 6.0, 6.0);
    b
}

/// Not its own mirror image: a leaf with a hollow side.
pub(crate) fn leaf() -> Corners {
    vec![(1.0, 1.0), (4.0, 1.5), (5.0, 4.0), (3.5, 2.75), (1.5, 3.0)]
}

#[test]
fn a_circle_on_a_square() {
    // *derived*: a circle of diameter 4 turned by 3/16 is cut from a box of 4 3/8.
    let b = on_a_square(&[Shape::turned("dark", circle(3.0, 3.0, 2.0, 96))]);
    let template = &b.pattern.cutting.templates[0];
    let widest = template.corners.iter().map(|c| c.right.to_inches()).fold(0.0, f64::max);
    assert!((widest - 4.375).abs() < 0.003, "{widest}");
    let proof = b.proved();
    assert_eq!((proof.pieces_cut, proof.pieces_used), (2, 2));
    assert!(proof.largest_difference < 1e-6);
}

#[test]
fn hollow_shapes_raw_and_turned_traced_on_either_side() {
    for from_back in [false, true] {
        on_a_square(&[Shape {
            from_back,
            ..Shape::turned("dark", leaf())
        }])
        .proved();
        on_a_square(&[Shape {
            from_back,
            ..Shape::raw("dark", leaf())
        }])
        .proved();
    }
}

#[test]
fn a_mirrored_template_gives_the_twin_and_is_seen() {
    for shape in [Shape::turned("dark", leaf()), Shape::raw("dark", leaf())] {
        let mut b = on_a_square(&[shape]);
        // Traced on the wrong side though it is printed for the right one.
        b.pattern.cutting.templates[0].applique.as_mut().unwrap().from_back = true;
        b.refused("bad-recipe");
        // The twin of the shape, its corners in the right order: a shape of its own, not this one.
        let mirrored: Corners = leaf().iter().rev().map(|&(x, y)| (6.0 - x, y)).collect();
        let twin = Shape::turned("dark", mirrored);
        let mut b = on_a_square(&[Shape::turned("dark", leaf())]);
        b.pattern.cutting.templates.clear();
        cut_shape(&mut b, 0, &twin, 1);
        b.pattern.recipe.pieces.pop();
        b.pattern.cutting.cloths.pop();
        b.pattern.recipe.fabrics.pop();
        b.pattern.bought.cloths.pop();
        b.refused_at("shape-differs", "top", 1);
    }
}

#[test]
fn cloth_to_turn_under_is_there_all_round() {
    let mut b = on_a_square(&[Shape::turned("dark", leaf())]);
    // one corner of the cut outline an eighth short
    let line = b.pattern.cutting.templates[0].applique.clone().unwrap().line;
    let corner = &mut b.pattern.cutting.templates[0].corners[1];
    corner.right = Printed::nearest(line[1].right.to_inches() + 0.1).unwrap();
    b.refused_at("turn-under-differs", "top", 1);
    // more is said than there is, and less than half of what there is
    for sixteenths in [4, 1] {
        let mut b = on_a_square(&[Shape::turned("dark", leaf())]);
        if let Step::StitchDown { edge, .. } = &mut b.pattern.recipe.makes[0].steps[1] {
            *edge = ShapeEdge::Turned { by: s16(sixteenths) };
        }
        b.refused_at("turn-under-differs", "top", 1);
    }
    // a raw edge has nothing beyond its line
    let mut b = on_a_square(&[Shape::turned("dark", leaf())]);
    if let Step::StitchDown { edge, .. } = &mut b.pattern.recipe.makes[0].steps[1] {
        *edge = ShapeEdge::Raw;
    }
    b.refused_at("turn-under-differs", "top", 1);
}

#[test]
fn the_sheet_lies_a_seam_inside_the_ground() {
    let mut b = on_a_square(&[Shape::turned("dark", leaf())]);
    // an eighth too wide
    for corner in &mut b.pattern.cutting.guides[0].outline[1..3] {
        corner.right = Printed::nearest(6.125).unwrap();
    }
    b.refused_at("guide-does-not-fit", "top", 0);
    let mut b = on_a_square(&[Shape::turned("dark", leaf())]);
    // its sides named from another corner on: the sheet fits the square but the leaf lies turned
    if let Step::Guide { sides, .. } = &mut b.pattern.recipe.makes[0].steps[0] {
        sides.rotate_left(1);
    }
    b.refused("face-differs");
}

#[test]
fn a_shape_stays_within_the_finished_ground() {
    // touching the finished outline
    on_a_square(&[Shape::turned("dark", circle(2.0, 3.0, 2.0, 96))]).proved();
    // a sixteenth beyond
    on_a_square(&[Shape::turned("dark", circle(1.9375, 3.0, 2.0, 96))]).refused_at("off-the-ground", "top", 1);
}

#[test]
fn every_shape_gets_its_piece_in_order() {
    let two = || {
        on_a_square(&[
            Shape::turned("dark", leaf()),
            Shape::turned("red", circle(4.0, 4.0, 1.0, 48)),
        ])
    };
    two().proved();
    let mut b = two();
    b.pattern.recipe.makes[0].steps.swap(1, 2);
    b.refused_at("shape-order", "top", 1);
    let mut b = two();
    b.pattern.recipe.makes[0].steps.remove(2);
    b.refused_at("shape-missing", "top", 2);
    let mut b = two();
    if let Step::StitchDown { piece, .. } = &mut b.pattern.recipe.makes[0].steps[1] {
        *piece = Slot(2);
    }
    b.refused_at("shape-differs", "top", 1);
    let mut b = two();
    b.pattern.recipe.makes[0].steps.remove(0);
    b.refused_at("unknown-guide", "top", 0);
}

#[test]
fn what_lies_above_is_above() {
    // The circle's middle lies on the leaf's tip.
    let two = || {
        on_a_square(&[
            Shape::turned("dark", leaf()),
            Shape::turned("red", circle(4.5, 4.0, 1.0, 48)),
        ])
    };
    two().proved();
    let mut b = two();
    b.picture.laid.swap(0, 1);
    b.refused("layers-out-of-order");
    // Where they do not touch, the order is no matter.
    let mut b = on_a_square(&[
        Shape::turned("dark", leaf()),
        Shape::turned("red", circle(1.0, 5.0, 0.75, 48)),
    ]);
    b.picture.laid.swap(0, 1);
    b.proved();
    let mut b = two();
    b.picture.laid[0].fabric = FabricId::new("red");
    b.refused("wrong-fabric");
    let mut b = two();
    b.picture.laid.pop();
    b.refused("face-extra");
    let mut b = two();
    let more = b.picture.laid[0].clone();
    b.picture.laid.push(more);
    b.refused("face-missing");
}

#[test]
fn an_edge_left_unturned_is_covered() {
    // A stem of 1 x 3, its upper end 3/4 in under a circle: 3/4 in of both sides and the end.
    let stem = vec![(2.5, 0.5), (3.5, 0.5), (3.5, 2.9), (3.5, 3.5), (2.5, 3.5), (2.5, 2.9)];
    let under = |to: u32| {
        on_a_square(&[
            Shape {
                under: vec![Stretch { from: 2, to }],
                ..Shape::turned("dark", stem.clone())
            },
            Shape::turned("red", circle(3.0, 3.75, 1.25, 96)),
        ])
    };
    // *derived*: (3.5, 2.9) lies 0.2638 within the circle, more than the 3/16 turned under.
    under(5).proved();
    // one stretch further the stem's foot would lie bare
    under(0).refused_at("shape-not-covered", "top", 3);
    // nothing above
    let mut b = under(5);
    b.pattern.cutting.guides[0].shapes[1].line = printed(&circle(1.5, 4.5, 1.25, 96));
    b.refused_at("shape-not-covered", "top", 3);
}

/// Two grounds, each a light square beside a dark one, with a circle on their join; sewn end for end into one top.
fn on_a_join(sideways: f64) -> Bench {
    let shape = Shape::turned("red", circle(3.0 + sideways, 1.5, 1.25, 96));
    let mut b = Bench::new();
    b.cloth("light", PrintNote::None).rectangles("L", s8(28), s8(28), 2);
    b.cloth("dark", PrintNote::None).rectangles("D", s8(28), s8(28), 2);
    cut_shape(&mut b, 0, &shape, 2);
    sheet(&mut b, 6.0, 3.0, &[shape]);
    b.make(
        "pair",
        2,
        &[piece(0, "L"), piece(1, "D")],
        &[
            lay(
                0,
                1,
                2,
                run(&[(0, 1)]),
                run(&[(1, 3)]),
                even(e(0, 0), e(1, 0)),
                even(e(0, 2), e(1, 2)),
                &[],
            ),
            sew(2),
            open(2, 3),
        ],
        &[give(
            3,
            &[
                run(&[(0, 0), (1, 0)]),
                run(&[(1, 1)]),
                run(&[(1, 2), (0, 2)]),
                run(&[(0, 3)]),
            ],
        )],
    );
    b.make(
        "laid",
        2,
        &[unit(0, "pair"), piece(1, "S0")],
        &[
            lay_sheet(0, &square_sides()),
            down(1, 0, 0, ShapeEdge::Turned { by: s16(3) }),
        ],
        &[give(0, &square_sides())],
    );
    b.make(
        "top",
        1,
        &[unit(0, "laid"), unit(1, "laid")],
        &[
            lay(
                0,
                1,
                2,
                run(&[(0, 2)]),
                run(&[(1, 2)]),
                even(e(0, 1), e(1, 3)),
                even(e(0, 3), e(1, 1)),
                &[(0, 0)],
            ),
            sew(2),
            open(2, 3),
            finish(
                3,
                &[
                    run(&[(0, 0)]),
                    run(&[(0, 1), (1, 3)]),
                    run(&[(1, 0)]),
                    run(&[(1, 1), (0, 3)]),
                ],
                2,
            ),
        ],
        &[],
    );
    b.outer(6.0, 6.0)
        .rect("light", 0.0, 0.0, 3.0, 3.0)
        .rect("dark", 3.0, 0.0, 3.0, 3.0)
        .rect("dark", 0.0, 3.0, 3.0, 3.0)
        .rect("light", 3.0, 3.0, 3.0, 3.0);
    laid(&mut b, "red", &circle(3.0 + sideways, 1.5, 1.25, 96));
    laid(&mut b, "red", &circle(3.0 - sideways, 4.5, 1.25, 96));
    b
}

#[test]
fn laid_on_a_join_and_carried_through_later_seams() {
    on_a_join(0.0).proved();
    let proof = on_a_join(0.375).proved();
    assert_eq!(proof.pieces_used, 6);
    // The second lies end for end, not mirrored.
    let mut b = on_a_join(0.375);
    b.picture.laid.pop();
    laid(&mut b, "red", &circle(3.375, 4.5, 1.25, 96));
    b.refused("face-differs");
}

#[test]
fn a_seam_takes_what_reaches_into_it() {
    // A quarter circle of radius 2 in the corner of each of two squares, level with their raw edges there. Sewn together
    // along these edges it ends at the seam.
    let quarter = |radius: f64| -> Corners {
        let mut corners = vec![(0.0, 0.0)];
        corners.extend((0..=24).map(|i| {
            let angle = f64::from(i) * std::f64::consts::FRAC_PI_2 / 24.0;
            (radius * libm::cos(angle), radius * libm::sin(angle))
        }));
        corners
    };
    // Out to the raw edges: the corner, and the two ends square to the sides.
    let mut line = quarter(2.0);
    line[0] = (-0.25, -0.25);
    line.insert(1, (2.0, -0.25));
    line.push((-0.25, 2.0));
    let last = line.len() - 1;
    let by = |i: usize| if i == 0 || i == last { 0.0 } else { TURN };
    let shape = || Shape {
        cut: grown(&line, &by),
        level: vec![Stretch {
            from: last as u32,
            to: 1,
        }],
        ..Shape::turned("red", line.clone())
    };
    let mut b = on_a_square(&[shape()]);
    b.picture.laid.clear();
    laid(&mut b, "red", &quarter(2.0));
    b.proved();
    // what shows ends at the finished outline
    let mut wrong = b;
    wrong.picture.laid.clear();
    laid(&mut wrong, "red", &quarter(2.03));
    wrong.refused("face-differs");
    // the stretch not said to be level reaches beyond the ground
    let mut b = on_a_square(&[shape()]);
    b.pattern.cutting.guides[0].shapes[0].level.clear();
    b.refused_at("turn-under-differs", "top", 1);
    // not level with the raw edge at all
    on_a_square(&[Shape {
        level: vec![Stretch { from: 0, to: 1 }],
        ..Shape::raw("red", leaf())
    }])
    .refused_at("off-the-ground", "top", 1);
}

#[test]
fn prints_lie_as_they_are_wanted() {
    let mut b = on_a_square(&[Shape::turned("dark", leaf())]);
    b.pattern.recipe.fabrics.last_mut().unwrap().print = PrintNote::OneWay;
    let up = |x: f64, y: f64| {
        Some(UpWanted {
            toward: Vector::new(x, y),
            two_way: false,
        })
    };
    b.picture.laid[0].up = up(0.0, 1.0);
    b.proved();
    b.picture.laid[0].up = up(1.0, 0.0);
    b.refused("print-turned");
}

#[test]
fn a_piece_to_be_laid_is_sewn_into_nothing() {
    let mut b = on_a_square(&[Shape::turned("dark", leaf())]);
    b.pattern.recipe.makes[0].steps[1] = lay(
        0,
        1,
        2,
        run(&[(0, 1)]),
        run(&[(1, 3)]),
        even(e(0, 0), e(1, 0)),
        even(e(0, 2), e(1, 2)),
        &[],
    );
    b.refused_at("unknown-edge", "top", 1);
    // and what is sewn is not laid
    let mut b = on_a_square(&[Shape::turned("dark", leaf())]);
    b.pattern.cutting.templates[0].corners = printed(&[(0.0, 0.0), (2.0, 0.0), (2.0, 2.0)]);
    b.pattern.cutting.templates[0].applique = None;
    b.refused_at("bad-recipe", "top", 1);
}
