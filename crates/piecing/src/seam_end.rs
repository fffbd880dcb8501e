//! One end of a seam as it is written: the datum a maker places it by, and the dots that need drawing for it.

use crate::bench::Bench;
use crate::ends::{EndKind, Inner, end_kind};
use measure::Length;
use recipe::{EdgeRef, End, PointRef, Slot, Step};

/// One layer at one end of a seam.
#[derive(Clone, Copy, Debug)]
pub struct LayerEnd {
    /// What lies on the table of which the edges are part.
    pub on: Slot,
    /// The edge along the seam.
    pub run: EdgeRef,
    /// The edge that meets it at this end.
    pub end: EdgeRef,
    /// The finished angle between them, inside the cloth.
    pub angle: Inner,
}

/// How a maker places this end, by the angles of both layers; with the edges to snip level with afterwards, where the
/// tips lie on dots.
pub fn place(bench: &mut Bench<'_>, lower: LayerEnd, upper: LayerEnd) -> (End, Option<[EdgeRef; 2]>) {
    let (a, b) = (lower.end, upper.end);
    match end_kind(lower.angle, upper.angle) {
        EndKind::Even => (End::Even { a, b }, None),
        EndKind::Notch { cotangent } => {
            let fine = Length::from_units((bench.settings.ruling.mark().units() / 2).max(1));
            let about = bench.whys.overhang(bench.settings.seam, cotangent, fine);
            (End::Notch { a, b, about }, None)
        }
        EndKind::Dots => (dots(bench, lower, upper), Some([a, b])),
    }
}

/// Dots on both finished corners, one to lie on the other.
pub fn dots(bench: &mut Bench<'_>, lower: LayerEnd, upper: LayerEnd) -> End {
    let seam = bench.whys.given("seam", bench.settings.seam_inches());
    let mut dot = |layer: LayerEnd| {
        let name = bench.mark("dot");
        bench.step(Step::Dot {
            on: layer.on,
            name: name.clone(),
            at: PointRef::FromEdges {
                a: layer.run,
                a_by: seam,
                b: layer.end,
                b_by: seam,
            },
        });
        name
    };
    End::Dots {
        a: dot(lower),
        b: dot(upper),
    }
}
