//! A little bench for building scenes by hand, independent of the virtual table.

use recipe::{EdgeRef, Slot};
use rehearse::{LayerView, PieceView, Segment, WorkView};
use shape::{Line, Motion, Point, Polygon, Vector};
use std::sync::Arc;
use terms::{FabricId, PieceId};

pub fn point(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

pub fn polygon(corners: &[(f64, f64)]) -> Polygon {
    Polygon::new(corners.iter().map(|&(x, y)| point(x, y)).collect())
}

/// A piece in its own frame, its edges named by its slot.
pub fn piece(slot: u32, name: &str, fabric: &str, outline: Polygon) -> PieceView {
    let edges = (0..outline.len())
        .map(|i| {
            let segment = Segment {
                from: outline.corner(i),
                to: outline.corner(i + 1),
            };
            (
                EdgeRef {
                    of: Slot(slot),
                    edge: i as u32,
                },
                segment,
            )
        })
        .collect();
    PieceView {
        of: Slot(slot),
        part: slot,
        cut_from: None,
        number: 0,
        lies: Motion::STILL,
        piece: PieceId::new(name),
        fabric: FabricId::new(fabric),
        outline,
        edges,
        up: Vector::new(0.0, 1.0),
    }
}

pub fn moved(piece: &PieceView, motion: &Motion) -> PieceView {
    let mut edges = piece.edges.clone();
    for (_, s) in &mut edges {
        *s = Segment {
            from: motion.point(s.from),
            to: motion.point(s.to),
        };
    }
    PieceView {
        outline: motion.polygon(&piece.outline),
        edges,
        up: motion.vector(piece.up),
        lies: piece.lies.then(motion),
        ..piece.clone()
    }
}

/// The same pieces as they came with a unit: all edges belong to its slot.
pub fn as_unit(slot: u32, pieces: &[PieceView]) -> Vec<PieceView> {
    let mut number = 0;
    pieces
        .iter()
        .map(|p| {
            let mut p = p.clone();
            for (edge, _) in &mut p.edges {
                *edge = EdgeRef {
                    of: Slot(slot),
                    edge: number,
                };
                number += 1;
            }
            p
        })
        .collect()
}

/// Pieces as a layer holds them.
pub fn shared(pieces: Vec<PieceView>) -> Vec<Arc<PieceView>> {
    pieces.into_iter().map(Arc::new).collect()
}

/// The pieces of a work's only layer, to be sewn on.
pub fn pieces_of(work: &WorkView) -> Vec<PieceView> {
    work.layers[0]
        .pieces
        .iter()
        .map(|piece| piece.as_ref().clone())
        .collect()
}

pub fn work(slot: u32, pieces: Vec<PieceView>) -> WorkView {
    WorkView {
        slot: Slot(slot),
        layers: vec![LayerView {
            turned_over: false,
            pieces: shared(pieces),
        }],
        ..WorkView::default()
    }
}

/// Lower pieces, upper pieces with the motion to where they lie once opened, and the stitch line with the lower body
/// on its left: the stack and the opened work.
pub fn sewn(
    slots: (u32, u32),
    a: &[PieceView],
    b: &[PieceView],
    pose: &Motion,
    stitch: Segment,
) -> (WorkView, WorkView) {
    let line = Line::between(stitch.from, stitch.to).unwrap();
    let opened_b: Vec<PieceView> = b.iter().map(|p| moved(p, pose)).collect();
    let over = Motion::mirror(line);
    let stack = WorkView {
        slot: Slot(slots.0),
        layers: vec![
            LayerView {
                turned_over: false,
                pieces: shared(a.to_vec()),
            },
            LayerView {
                turned_over: true,
                pieces: shared(opened_b.iter().map(|p| moved(p, &over)).collect()),
            },
        ],
        stitches: vec![stitch],
        ..WorkView::default()
    };
    let cut = |p: &PieceView, line: Line| PieceView {
        outline: p.outline.left_of(line),
        ..p.clone()
    };
    let mut pieces: Vec<PieceView> = a.iter().map(|p| cut(p, line)).collect();
    pieces.extend(opened_b.iter().map(|p| cut(p, line.reversed())));
    let mut opened = work(slots.1, pieces);
    opened.seams.push(stitch);
    (stack, opened)
}

/// The motion that turns by half about a place.
pub fn half_turn_about(p: Point) -> Motion {
    let there = Vector::new(p.x, p.y);
    Motion::slide(-there)
        .then(&Motion::quarter_turns(2))
        .then(&Motion::slide(there))
}
