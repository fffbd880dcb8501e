//! How long the cutting takes: a quilt's worth of kinds, and far more than any quilt has.

use cutting::{ClothNote, plan_cutting};
use measure::{Length, Measure};
use recipe::{Demand, DemandShape, Size, Turn};
use terms::{FabricId, PieceId};

fn main() {
    divan::main();
}

/// Rectangles by a fixed rule, so that every run does the same.
fn demands(kinds: u32) -> Vec<Demand> {
    let size = |eighths: u32| Size::bare(Length::fraction(i64::from(eighths), 8));
    let one = |i: u32| Demand {
        piece: PieceId::new(format!("A{i}")),
        fabric: FabricId::new("foam"),
        count: 4 + i * 7 % 45,
        shape: DemandShape::Rectangle {
            width: size(12 + i * 37 % 83),
            height: size(12 + i * 53 % 71),
        },
        turns: vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters],
    };
    (0..kinds).map(one).collect()
}

#[divan::bench(args = [3, 12, 40, 200, 1000])]
fn kinds(bencher: divan::Bencher, kinds: u32) {
    let demands = demands(kinds);
    let foam = FabricId::new("foam");
    let cloths = [ClothNote {
        fabric: foam,
        usable: 40.0,
        square_up: 1.0,
        step: 4.5,
        shrink: 0.0,
        cut: None,
    }];
    bencher.bench_local(|| {
        plan_cutting(
            &demands,
            &[],
            &cloths,
            Length::fraction(1, 8),
            Measure::Inch,
            &mut Vec::new(),
        )
    });
}
