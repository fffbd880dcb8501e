//! Sources built by hand: a four patch, a half-square pair, a leaning pair, a long row; and the book's test quilt of
//! all of them. The geometry is derived here from the sizes, not taken from the planner.
#![allow(dead_code, missing_docs, clippy::unwrap_used)]

mod bench;

use bench::*;
use book::{ClothWords, ProofFigures, Source, Story};
use finishing::{BackingWish, BattingWish, BindingWish, Cloth, Finishing, SleeveWish, Top, Wishes};
use measure::{Length, Measure, Printed, Way, Why};
use recipe::*;
use rehearse::{MarkView, Segment, UnitScenes, WorkView};
use shape::{Line, Motion, Point, Polygon, Vector};
use std::sync::Arc;
use terms::{FabricId, Face, Finding, PatchPath, PieceId, Place, TopPicture, UnitId};

pub fn inches(numerator: i64, denominator: i64) -> Size {
    Size::bare(Length::fraction(numerator, denominator))
}

fn why(id: u32, size: Size) -> Size {
    Size {
        why: Some(WhyId(id)),
        ..size
    }
}

fn edge(of: u32, edge: u32) -> EdgeRef {
    EdgeRef { of: Slot(of), edge }
}

fn run(of: u32, number: u32) -> EdgeRun {
    EdgeRun(vec![edge(of, number)])
}

fn even(a: u32, ae: u32, b: u32, be: u32) -> End {
    End::Even {
        a: edge(a, ae),
        b: edge(b, be),
    }
}

fn beside() -> Path {
    Path::Beside {
        by: inches(1, 4),
        from: Stop::Raw,
        to: Stop::Raw,
    }
}

fn take_piece(slot: u32, name: &str) -> Part {
    Part {
        slot: Slot(slot),
        take: Take::Piece(PieceId::new(name)),
    }
}

fn take_unit(slot: u32, name: &str) -> Part {
    Part {
        slot: Slot(slot),
        take: Take::Unit(UnitId::new(name)),
    }
}

fn give(slot: u32) -> Give {
    Give {
        slot: Slot(slot),
        sides: (0..4).map(|i| run(slot, i)).collect(),
        seams: Vec::new(),
    }
}

fn check(of: u32, is: Size) -> Step {
    Step::Check {
        of: Slot(of),
        what: Measured::Across(run(of, 0), run(of, 2)),
        is,
    }
}

fn seam_steps(a: u32, ae: u32, b: u32, be: u32, stack: u32, into: u32, press: Press) -> Vec<Step> {
    vec![
        Step::Lay {
            a: Slot(a),
            b: Slot(b),
            how: Lay::Edges {
                a: run(a, ae),
                b: run(b, be),
                first: even(a, 0, b, 0),
                last: even(a, 2, b, 2),
                meets: Vec::new(),
            },
            into: Slot(stack),
        },
        Step::Sew {
            stack: Slot(stack),
            path: beside(),
            join: false,
        },
        Step::Open {
            stack: Slot(stack),
            press,
            into: Slot(into),
        },
    ]
}

/// Two squares in a row, and two such pairs head to tail.
fn four_patch() -> (Vec<Make>, Vec<UnitScenes>) {
    let square = Polygon::rectangle(3.5, 3.5);
    let (a, b) = (piece(0, "A1", "foam", square.clone()), piece(1, "A2", "night", square));
    let stitch = Segment {
        from: point(3.25, 0.0),
        to: point(3.25, 3.5),
    };
    let (stack, opened) = sewn(
        (2, 3),
        std::slice::from_ref(&a),
        std::slice::from_ref(&b),
        &Motion::slide(Vector::new(3.0, 0.0)),
        stitch,
    );
    let mut steps = seam_steps(0, 1, 1, 3, 2, 3, Press::TowardUpper);
    steps.push(check(3, inches(13, 2)));
    steps.push(check(3, inches(7, 2)));
    let pair = Make {
        unit: UnitId::new("harbour/A"),
        label: "Pair".into(),
        times: 16,
        parts: vec![take_piece(0, "A1"), take_piece(1, "A2")],
        steps,
        gives: vec![give(3)],
        spare: 0,
    };
    let pair_scenes = UnitScenes {
        unit: pair.unit.clone(),
        parts: vec![work(0, vec![a]), work(1, vec![b])],
        after: vec![stack.clone(), stack, opened.clone(), opened.clone(), opened.clone()],
    };
    let pieces = pieces_of(&opened);
    let (p, q) = (as_unit(0, &pieces), as_unit(1, &pieces));
    let pose = half_turn_about(point(3.25, 3.25));
    let stitch = Segment {
        from: point(6.5, 3.25),
        to: point(0.0, 3.25),
    };
    let (stack, opened) = sewn((2, 3), &p, &q, &pose, stitch);
    let mut steps = seam_steps(0, 2, 1, 2, 2, 3, Press::Open);
    if let Step::Lay {
        how: Lay::Edges { meets, .. },
        ..
    } = &mut steps[0]
    {
        meets.push(Meet { a: 0, b: 0 });
    }
    steps.push(check(3, inches(13, 2)));
    steps.push(check(3, inches(13, 2)));
    let four = Make {
        unit: UnitId::new("harbour/B"),
        label: "Four patch".into(),
        times: 8,
        parts: vec![take_unit(0, "harbour/A"), take_unit(1, "harbour/A")],
        steps,
        gives: vec![give(3)],
        spare: 0,
    };
    let scenes = UnitScenes {
        unit: four.unit.clone(),
        parts: vec![work(0, p), work(1, q)],
        after: vec![stack.clone(), stack, opened.clone(), opened.clone(), opened],
    };
    (vec![pair, four], vec![pair_scenes, scenes])
}

/// Two squares with a drawn diagonal, sewn on both sides of it, cut apart, opened, trimmed.
fn half_square_pair() -> (Make, UnitScenes) {
    // 3 in finished: squares of 3 + 7/8, opened units trimmed to 3 1/2 (common practice; derived in shape::allowance)
    let side = 3.875;
    let square = Polygon::rectangle(side, side);
    let (a, b) = (piece(0, "B1", "night", square.clone()), piece(1, "B2", "brass", square));
    let corner = |before: u32, after: u32| CornerRef {
        before: edge(0, before),
        after: edge(0, after),
    };
    let mark = MarkName("line".into());
    let diagonal = Line::between(point(0.0, 0.0), point(side, side)).unwrap();
    let offset = |by: f64| {
        let d = by * 2f64.sqrt();
        if by > 0.0 {
            Segment {
                from: point(0.0, d),
                to: point(side - d, side),
            }
        } else {
            Segment {
                from: point(-d, 0.0),
                to: point(side, side + d),
            }
        }
    };
    let over = moved(&b, &Motion::mirror(diagonal));
    let whole = Segment {
        from: point(0.0, 0.0),
        to: point(side, side),
    };
    let mut stack = WorkView {
        slot: Slot(2),
        layers: vec![
            rehearse::LayerView {
                turned_over: false,
                pieces: shared(vec![a.clone()]),
            },
            rehearse::LayerView {
                turned_over: true,
                pieces: shared(vec![over]),
            },
        ],
        marks: vec![MarkView::Line(mark.clone(), diagonal, whole)],
        ..WorkView::default()
    };
    let laid = stack.clone();
    stack.stitches = vec![offset(0.25), offset(-0.25)];
    let mut cut = stack.clone();
    cut.cuts.push(whole);
    // Opened: the lower right half, its seam a quarter inch from the cut.
    let seam = offset(-0.25);
    let line = Line::between(seam.to, seam.from).unwrap();
    let lower = rehearse::PieceView {
        outline: a.outline.left_of(line),
        ..a.clone()
    };
    let upper = moved(
        &rehearse::PieceView {
            outline: a.outline.left_of(line),
            piece: PieceId::new("B2"),
            fabric: FabricId::new("brass"),
            edges: b.edges.clone(),
            ..a.clone()
        },
        &Motion::mirror(line),
    );
    let opened = work(5, vec![lower, upper]);
    let (low, high) = (point(side - 3.5 - 0.02, 0.0), point(side, 3.5));
    let frame = Polygon::new(vec![low, point(high.x, low.y), high, point(low.x, high.y)]);
    let trimmed_pieces: Vec<_> = opened.layers[0]
        .pieces
        .iter()
        .map(|p| {
            let mut outline = p.outline.clone();
            for i in 0..4 {
                outline = outline.left_of(frame.edge(i).unwrap());
            }
            rehearse::PieceView {
                outline,
                ..p.as_ref().clone()
            }
        })
        .collect();
    let mut trimmed = work(6, trimmed_pieces);
    trimmed.cuts = vec![
        Segment {
            from: point(low.x, low.y),
            to: point(low.x, high.y),
        },
        Segment {
            from: high,
            to: point(low.x, high.y),
        },
    ];
    trimmed.waste = vec![
        Polygon::new(vec![
            point(low.x - 0.02, 0.0),
            point(low.x, 0.0),
            point(low.x, 3.5),
            point(low.x - 0.02, 3.5),
        ]),
        Polygon::new(vec![
            point(low.x, 3.5),
            point(high.x, 3.5),
            point(high.x, 3.52),
            point(low.x, 3.52),
        ]),
    ];
    let line_ref = LineRef::Mark(mark.clone());
    let steps = vec![
        Step::Mark {
            on: Slot(1),
            name: mark.clone(),
            line: Ruler::TwoMarks {
                from: PointRef::Corner(corner(0, 1)),
                to: PointRef::Corner(corner(2, 3)),
            },
        },
        Step::Lay {
            a: Slot(0),
            b: Slot(1),
            how: Lay::Corner {
                a: corner(0, 1),
                b: corner(0, 1),
            },
            into: Slot(2),
        },
        Step::Sew {
            stack: Slot(2),
            path: Path::BothSides { mark, by: inches(1, 4) },
            join: false,
        },
        Step::CutApart {
            stack: Slot(2),
            line: Ruler::Beside {
                line: line_ref,
                at: inches(0, 1),
                toward: corner(0, 1),
            },
            keep: vec![
                Keep {
                    corner: corner(0, 1),
                    into: Slot(3),
                },
                Keep {
                    corner: corner(2, 3),
                    into: Slot(4),
                },
            ],
            offcut: Vec::new(),
        },
        Step::Open {
            stack: Slot(3),
            press: Press::TowardLower,
            into: Slot(5),
        },
        Step::Open {
            stack: Slot(4),
            press: Press::TowardLower,
            into: Slot(7),
        },
        Step::Trim {
            of: Slot(5),
            lines: vec![TrimLine {
                ruler: Ruler::Angle {
                    line: LineRef::Seam(SeamRef { of: Slot(5), seam: 0 }),
                    angle: RulerAngle::FortyFive,
                    through: PointRef::Crossing(
                        LineRef::Seam(SeamRef { of: Slot(5), seam: 0 }),
                        LineRef::Edge(edge(0, 0)),
                    ),
                    like: edge(0, 1),
                },
                off: run(0, 0),
                shave: inches(1, 64),
            }],
            into: Slot(6),
        },
        check(6, why(0, inches(7, 2))),
        check(6, why(0, inches(7, 2))),
    ];
    let make = Make {
        unit: UnitId::new("beacon/A"),
        label: "Half-square unit".into(),
        times: 8,
        parts: vec![take_piece(0, "B1"), take_piece(1, "B2")],
        steps,
        gives: vec![give(6), give(7)],
        spare: 0,
    };
    let scenes = UnitScenes {
        unit: make.unit.clone(),
        parts: vec![work(0, vec![a]), work(1, vec![b])],
        after: vec![
            WorkView::default(),
            laid,
            stack,
            cut,
            opened.clone(),
            opened,
            trimmed.clone(),
            trimmed.clone(),
            trimmed,
        ],
    };
    (make, scenes)
}

/// Two pieces leaning at 2 : 1, sewn with a notch at both ends.
fn leaning_pair() -> (Make, UnitScenes) {
    let outline = polygon(&[(0.0, 0.0), (4.5, 0.0), (2.75, 3.5), (0.0, 3.5)]);
    let (a, b) = (piece(0, "C1", "foam", outline.clone()), piece(1, "C2", "sea", outline));
    let raw = Line::between(point(4.5, 0.0), point(2.75, 3.5)).unwrap();
    let path = raw.moved_left(0.25);
    let at_height = |y: f64| path.at((y - path.through.y) / path.along.y);
    let stitch = Segment {
        from: at_height(0.0),
        to: at_height(3.5),
    };
    let pose = half_turn_about(stitch.from.toward(stitch.to, 0.5));
    let (stack, opened) = sewn(
        (2, 3),
        std::slice::from_ref(&a),
        std::slice::from_ref(&b),
        &pose,
        stitch,
    );
    let mut steps = seam_steps(0, 1, 1, 1, 2, 3, Press::TowardUpper);
    if let Step::Lay {
        how: Lay::Edges { first, last, .. },
        ..
    } = &mut steps[0]
    {
        // 2 s cot α = 2 · 1/4 · 1/2 at a 2 : 1 slope (derived)
        *first = End::Notch {
            a: edge(0, 0),
            b: edge(1, 2),
            about: inches(1, 4),
        };
        *last = End::Notch {
            a: edge(0, 2),
            b: edge(1, 0),
            about: inches(1, 4),
        };
    }
    steps.push(Step::Snip {
        of: Slot(3),
        along: vec![edge(0, 0)],
    });
    let (low, high) = (point(0.2, 0.0), point(6.7, 3.5));
    let off = opened.layers[0].pieces[1].outline.bounds().1.x;
    let mut trimmed = opened.clone();
    for p in &mut trimmed.layers[0].pieces {
        let p = Arc::make_mut(p);
        p.outline = p.outline.left_of(Line {
            through: low,
            along: Vector::new(0.0, -1.0),
        });
        p.outline = p.outline.left_of(Line {
            through: high,
            along: Vector::new(0.0, 1.0),
        });
    }
    trimmed.cuts = vec![
        Segment {
            from: point(low.x, 3.5),
            to: low,
        },
        Segment {
            from: point(high.x, 0.0),
            to: high,
        },
    ];
    trimmed.waste = vec![
        Polygon::new(vec![point(0.0, 0.0), low, point(low.x, 3.5), point(0.0, 3.5)]),
        Polygon::new(vec![point(high.x, 0.0), point(off, 0.0), point(off, 3.5), high]),
    ];
    let line = |shave| TrimLine {
        ruler: Ruler::Beside {
            line: LineRef::Seam(SeamRef { of: Slot(3), seam: 0 }),
            at: inches(7, 4),
            toward: CornerRef {
                before: edge(0, 3),
                after: edge(0, 0),
            },
        },
        off: run(0, 3),
        shave,
    };
    steps.push(Step::Trim {
        of: Slot(3),
        lines: vec![line(inches(3, 16)), line(inches(3, 16))],
        into: Slot(4),
    });
    steps.push(check(4, inches(13, 2)));
    steps.push(check(4, why(1, inches(7, 2))));
    let make = Make {
        unit: UnitId::new("beacon/B"),
        label: "Leaning unit".into(),
        times: 8,
        parts: vec![take_piece(0, "C1"), take_piece(1, "C2")],
        steps,
        gives: vec![give(4)],
        spare: 0,
    };
    let scenes = UnitScenes {
        unit: make.unit.clone(),
        parts: vec![work(0, vec![a]), work(1, vec![b])],
        after: vec![
            stack.clone(),
            stack,
            opened.clone(),
            opened,
            trimmed.clone(),
            trimmed.clone(),
            trimmed,
        ],
    };
    (make, scenes)
}

/// Seven squares in a row.
fn long_row() -> (Make, UnitScenes) {
    let square = Polygon::rectangle(2.5, 2.5);
    let cloth = ["foam", "night", "sea", "brass", "rust", "foam", "night"];
    let mut steps = Vec::new();
    let mut after = Vec::new();
    let mut body = vec![piece(0, "D1", "foam", square.clone())];
    let mut parts = vec![work(0, body.clone())];
    let mut taken = vec![take_piece(0, "D1")];
    let mut slot = 0;
    for i in 1..7u32 {
        let name = format!("D{}", if i < 5 { i + 1 } else { i - 4 });
        let next = piece(i, &name, cloth[i as usize], square.clone());
        parts.push(work(i, vec![next.clone()]));
        taken.push(take_piece(i, &name));
        let x = 2.0 * f64::from(i) + 0.25;
        let stitch = Segment {
            from: point(x, 0.0),
            to: point(x, 2.5),
        };
        let pose = Motion::slide(Vector::new(2.0 * f64::from(i), 0.0));
        let (stack, opened) = sewn((100 + i, 200 + i), &body, std::slice::from_ref(&next), &pose, stitch);
        let press = if i % 2 == 0 {
            Press::TowardLower
        } else {
            Press::TowardUpper
        };
        steps.extend(seam_steps(slot, 1, i, 3, 100 + i, 200 + i, press));
        after.extend([stack.clone(), stack, opened.clone()]);
        body = pieces_of(&opened);
        slot = 200 + i;
    }
    steps.push(check(slot, inches(29, 2)));
    steps.push(check(slot, inches(5, 2)));
    after.extend([work(slot, body.clone()), work(slot, body)]);
    let make = Make {
        unit: UnitId::new("rows/A"),
        label: "Row of seven".into(),
        times: 2,
        parts: taken,
        steps,
        gives: vec![give(slot)],
        spare: 0,
    };
    let scenes = UnitScenes {
        unit: make.unit.clone(),
        parts,
        after,
    };
    (make, scenes)
}

/// The last making: two four patches beside one another.
fn top(four: &UnitScenes) -> (Make, UnitScenes) {
    let pieces = pieces_of(&four.after[2]);
    let (p, q) = (as_unit(0, &pieces), as_unit(1, &pieces));
    let stitch = Segment {
        from: point(6.25, 0.0),
        to: point(6.25, 6.5),
    };
    let (stack, opened) = sewn((2, 3), &p, &q, &Motion::slide(Vector::new(6.0, 0.0)), stitch);
    let mut steps = seam_steps(0, 1, 1, 3, 2, 3, Press::TowardLower);
    if let Step::Lay {
        how: Lay::Edges { meets, .. },
        ..
    } = &mut steps[0]
    {
        meets.extend([Meet { a: 0, b: 0 }, Meet { a: 1, b: 1 }]);
    }
    steps.push(check(3, inches(25, 2)));
    steps.push(check(3, inches(13, 2)));
    steps.push(Step::Finish {
        top: Slot(3),
        sides: (0..4).map(|i| run(3, i)).collect(),
        up: 2,
        seam: inches(1, 4),
    });
    let make = Make {
        unit: UnitId::new("top"),
        label: "The top".into(),
        times: 1,
        parts: vec![take_unit(0, "harbour/B"), take_unit(1, "harbour/B")],
        steps,
        gives: Vec::new(),
        spare: 0,
    };
    let scenes = UnitScenes {
        unit: make.unit.clone(),
        parts: vec![work(0, p), work(1, q)],
        after: vec![
            stack.clone(),
            stack,
            opened.clone(),
            opened.clone(),
            opened.clone(),
            opened,
        ],
    };
    (make, scenes)
}

fn cut(lower: Size, upper: Size, gives: Gives) -> Cut {
    Cut {
        lower,
        upper,
        ruler: None,
        gives,
    }
}

fn whole(name: &str, turn: Turn) -> Gives {
    Gives::Piece(PieceCut {
        piece: PieceId::new(name),
        turn,
    })
}

fn strip(height: Size, times: u32, runs: Vec<CutRun>) -> Strip {
    Strip {
        height,
        times,
        runs,
        rest: Vec::new(),
        purpose: None,
    }
}

fn one_run(times: u32, cuts: Vec<Cut>) -> CutRun {
    CutRun { times, cuts }
}

fn cutting() -> CutPlan {
    let three = inches(7, 2);
    let squares = |name: &str, n| one_run(n, vec![cut(three, three, whole(name, Turn::As))]);
    let leaning = |name: &str| {
        one_run(
            4,
            vec![
                cut(inches(9, 2), inches(11, 4), whole(name, Turn::As)),
                cut(inches(11, 4), inches(9, 2), whole(name, Turn::Half)),
            ],
        )
    };
    let seven = why(2, inches(31, 8));
    let half = |name: &str| PieceCut {
        piece: PieceId::new(name),
        turn: Turn::As,
    };
    let cloth = |fabric: &str, strips| ClothPlan {
        fabric: FabricId::new(fabric),
        usable: inches(40, 1),
        square_up: inches(1, 1),
        alike: None,
        strips,
    };
    let mut night_last = strip(
        seven,
        1,
        vec![one_run(8, vec![cut(seven, seven, whole("B1", Turn::As))])],
    );
    night_last.rest.push(strip(
        inches(5, 2),
        1,
        vec![one_run(2, vec![cut(inches(5, 2), inches(5, 2), whole("D2", Turn::As))])],
    ));
    let mut template_strip = strip(inches(4, 1), 1, Vec::new());
    template_strip.runs.push(one_run(
        2,
        vec![cut(
            inches(5, 1),
            inches(5, 1),
            Gives::Template {
                piece: half("E1"),
                template: "T1".into(),
            },
        )],
    ));
    let dot = |x: Size, y: Size| Dot {
        from_left: x,
        from_lower: y,
    };
    template_strip.runs.push(one_run(
        3,
        vec![cut(
            inches(5, 1),
            inches(5, 1),
            Gives::Shaped {
                piece: half("E2"),
                cuts: vec![ShapingCut {
                    from: dot(inches(17, 4), inches(1, 4)),
                    to: dot(inches(2, 1), inches(15, 4)),
                    past: inches(1, 4),
                }],
            },
        )],
    ));
    template_strip.runs.push(one_run(
        2,
        vec![cut(
            inches(4, 1),
            inches(4, 1),
            Gives::Quarters(["E3"; 4].map(half).to_vec()),
        )],
    ));
    CutPlan {
        cloths: vec![
            cloth(
                "foam",
                vec![
                    strip(three, 2, vec![squares("A1", 8)]),
                    strip(three, 1, vec![leaning("C1")]),
                ],
            ),
            cloth("night", vec![strip(three, 2, vec![squares("A2", 8)]), night_last]),
            cloth("sea", vec![strip(three, 1, vec![leaning("C2")])]),
            cloth(
                "brass",
                vec![strip(
                    seven,
                    1,
                    vec![one_run(8, vec![cut(seven, seven, whole("B2", Turn::As))])],
                )],
            ),
            cloth(
                "rust",
                vec![
                    template_strip,
                    strip(
                        seven,
                        1,
                        vec![one_run(
                            6,
                            vec![cut(
                                seven,
                                seven,
                                Gives::Halves {
                                    rising: true,
                                    lower: half("E4"),
                                    upper: half("E4"),
                                },
                            )],
                        )],
                    ),
                ],
            ),
        ],
        templates: vec![Template {
            name: "T1".into(),
            corners: [(0, 0), (5, 0), (3, 4), (1, 4)]
                .map(|(x, y)| TemplateCorner {
                    right: Printed::inches(x),
                    up: Printed::inches(y),
                })
                .to_vec(),
            ..Template::default()
        }],
        cards: Vec::new(),
        guides: Vec::new(),
        papers: Vec::new(),
    }
}

fn fabrics() -> Vec<FabricNote> {
    [
        ("foam", "Foam", "#EEE6D6"),
        ("night", "Night", "#243C5A"),
        ("sea", "Sea", "#6E9A96"),
        ("brass", "Brass", "#D19C3A"),
        ("rust", "Rust", "#A84A2E"),
    ]
    .map(|(name, label, color)| FabricNote {
        fabric: FabricId::new(name),
        label: label.into(),
        color: color.into(),
        right_side: true,
        print: PrintNote::None,
    })
    .to_vec()
}

fn whys() -> Vec<Why> {
    let seams = || Why::given("seam", 0.25).times(2, 1, 1).named("two seams");
    let eighth = Length::fraction(1, 8);
    vec![
        Why::Sum(vec![Why::given("finished", 3.0), seams()]).to_mark(eighth, Way::Up),
        Why::Sum(vec![Why::given("finished height", 3.0), seams()]).to_mark(eighth, Way::Up),
        Why::Sum(vec![
            Why::given("finished", 3.0),
            seams(),
            Why::given("seam", 0.25).times(1, 2, 1).named("diagonal"),
        ])
        .to_mark(eighth, Way::Up),
    ]
}

fn picture() -> TopPicture {
    let tones = ["foam", "night", "sea", "brass", "rust"];
    let mut faces = Vec::new();
    let mut add = |corners: &[(f64, f64)], tone: &str| {
        faces.push(Face {
            outline: polygon(corners),
            fabric: FabricId::new(tone),
            up: None,
            patch: PatchPath::default(),
        });
    };
    for row in 0..6i32 {
        for column in 0..6i32 {
            let (x, y) = (f64::from(column) * 6.0, f64::from(row) * 6.0);
            if (row + column) % 2 == 0 {
                add(&[(x, y), (x + 3.0, y), (x + 3.0, y + 3.0), (x, y + 3.0)], "foam");
                add(
                    &[(x + 3.0, y), (x + 6.0, y), (x + 6.0, y + 3.0), (x + 3.0, y + 3.0)],
                    "night",
                );
                add(
                    &[(x, y + 3.0), (x + 3.0, y + 3.0), (x + 3.0, y + 6.0), (x, y + 6.0)],
                    "night",
                );
                add(
                    &[
                        (x + 3.0, y + 3.0),
                        (x + 6.0, y + 3.0),
                        (x + 6.0, y + 6.0),
                        (x + 3.0, y + 6.0),
                    ],
                    "foam",
                );
            } else {
                let tone = tones[(row * 2 + column) as usize % 3 + 2];
                add(&[(x, y), (x + 3.75, y), (x + 2.25, y + 3.0), (x, y + 3.0)], "foam");
                add(
                    &[(x + 3.75, y), (x + 6.0, y), (x + 6.0, y + 3.0), (x + 2.25, y + 3.0)],
                    "sea",
                );
                add(&[(x, y + 3.0), (x + 3.0, y + 3.0), (x, y + 6.0)], tone);
                add(&[(x + 3.0, y + 3.0), (x + 3.0, y + 6.0), (x, y + 6.0)], "night");
                add(
                    &[
                        (x + 3.0, y + 3.0),
                        (x + 6.0, y + 3.0),
                        (x + 6.0, y + 6.0),
                        (x + 3.0, y + 6.0),
                    ],
                    "rust",
                );
            }
        }
    }
    TopPicture {
        outer: Polygon::rectangle(36.0, 36.0),
        faces,
        laid: Vec::new(),
    }
}

/// A quilt of all the units above.
pub fn lantern() -> Source {
    let (mut makes, mut scenes) = four_patch();
    let (top_make, top_scenes) = top(&scenes[1]);
    for (make, scene) in [half_square_pair(), leaning_pair(), long_row(), (top_make, top_scenes)] {
        makes.push(make);
        scenes.push(scene);
    }
    let note = |piece: &str, fabric: &str, label: &str, spare: u32| PieceNote {
        piece: PieceId::new(piece),
        fabric: FabricId::new(fabric),
        label: label.into(),
        spare,
        twin: None,
    };
    let story = |unit: &str, block: Option<&str>, method: &str| Story {
        unit: UnitId::new(unit),
        block: block.map(Into::into),
        method: method.into(),
        note: None,
        tip: None,
        quilting: None,
    };
    let mut stories = vec![
        story("harbour/A", Some("harbour"), ""),
        story("harbour/B", Some("harbour"), ""),
        story("beacon/A", Some("beacon"), "two at a time"),
        story("beacon/B", Some("beacon"), "through two marks"),
        story("rows/A", None, ""),
        story("top", None, ""),
    ];
    stories[2].tip = Some("Starch the leaning pieces before you cut them.".into());
    let bought = |fabric: &str, length: Size, bound: Size| BoughtCloth {
        fabric: FabricId::new(fabric),
        length,
        usable: inches(40, 1),
        bound,
        pieces: None,
    };
    let mut whys = whys();
    let finishing = finished(&mut whys);
    Source {
        pattern: Pattern {
            format: RECIPE_FORMAT,
            recipe: Recipe {
                title: "Lantern Harbour".into(),
                author: "A. Maker".into(),
                edition: "1".into(),
                measure: Measure::Inch,
                mark: Length::fraction(1, 8),
                seam: inches(1, 4),
                fabrics: fabrics(),
                pieces: vec![
                    note("A1", "foam", "square", 0),
                    note("A2", "night", "square", 0),
                    note("B1", "night", "square", 1),
                    note("B2", "brass", "square", 0),
                    note("C1", "foam", "leaning piece", 0),
                    note("C2", "sea", "leaning piece", 0),
                ],
                makes,
            },
            cutting: cutting(),
            bought: Bought {
                cloths: vec![
                    bought("foam", inches(27, 2), inches(23, 2)),
                    bought("night", inches(18, 1), inches(27, 2)),
                    bought("sea", inches(9, 2), inches(9, 2)),
                    bought("brass", inches(9, 1), inches(39, 8)),
                    bought("rust", inches(27, 2), inches(71, 8)),
                ],
            },
            whys,
        },
        scenes: Arc::new(scenes),
        picture: picture(),
        stories,
        findings: Vec::new(),
        proof: Some(ProofFigures {
            seams: 412,
            largest_difference: 0.004,
        }),
        finishing,
        cloths: fabrics()
            .into_iter()
            .map(|f| ClothWords {
                fabric: f.fabric,
                width: Length::inches(42),
                step: Length::fraction(9, 2),
                price: Some(12.5),
            })
            .collect(),
        note: Some("For the long evenings by the water.".into()),
        says: Vec::new(),
        photos: Vec::new(),
        part: None,
        parts: Vec::new(),
    }
}

/// The same, not proved, with findings.
pub fn unproved() -> Source {
    let mut source = lantern();
    source.proof = None;
    source.findings = vec![
        Finding::stop(
            "unit-size",
            Place::Unit(UnitId::new("beacon/B")),
            "The unit measures 6.61 in where 6 1/2 in is printed.",
            "Trim it, or cut its pieces 1/8 in shorter.",
        ),
        Finding::care(
            "bias-edge",
            Place::Quilt,
            "A bias edge lies on the outside of the top.",
            "Turn the grain of that patch.",
        ),
    ];
    source
}

pub fn origin() -> Point {
    Point::ORIGIN
}

/// A top of 36 × 36 in: bound, backed, and with a sleeve.
fn finished(whys: &mut Vec<Why>) -> Finishing {
    let wishes = Wishes {
        binding: Some(BindingWish {
            fabric: FabricId::new("brass"),
            several: Vec::new(),
            strip: 2.25,
            bias: false,
        }),
        backing: Some(BackingWish {
            fabric: FabricId::new("sea"),
            over: 4.0,
            wide: None,
        }),
        batting: Some(BattingWish { over: 4.0 }),
        sleeve: Some(SleeveWish {
            fabric: FabricId::new("sea"),
            strip: 8.5,
        }),
        label: None,
    };
    let cloth = |fabric: &str| Cloth {
        fabric: FabricId::new(fabric),
        usable: 40.0,
        longest: None,
        step: 4.5,
        price: None,
    };
    let top = Top {
        width: 36.0,
        height: 36.0,
    };
    finishing::plan(top, &wishes, &[cloth("brass"), cloth("sea")], 0.25, Measure::Inch, whys)
}
