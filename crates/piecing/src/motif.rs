//! Motifs: a patch of such a cloth is cut from the middle of one whole repeat, beside dots, its motif in its middle. One
//! piece takes one repeat; so much cloth is asked for.

use crate::patch::{CutWay, PatchCut, frame_of, lying};
use crate::settings::Settings;
use crate::whys::Whys;
use design::{Motif, Up};
use measure::{Length, Way, Why};
use recipe::{Demand, DemandShape, Dot, ShapingCut, Size};
use shape::Polygon;
use shape::allowance::with_allowance;
use terms::{Finding, Place};

/// The cut of a patch in the middle of a repeat; `None` when its corners or the repeat lie between the ruler's marks, or
/// when with its seams it is larger than the repeat.
pub fn centred(outline: &Polygon, up: Up, motif: Motif, settings: &Settings, whys: &mut Whys) -> Option<PatchCut> {
    let seam = settings.seam_inches();
    settings.ruling.on_mark(seam)?;
    let patch = frame_of(-up.toward.left()).polygon(outline);
    let raw = with_allowance(&patch, seam)?;
    let ((low, high), (raw_low, raw_high)) = (patch.bounds(), raw.bounds());
    for c in patch.corners() {
        settings.ruling.on_mark(c.x - low.x)?;
        settings.ruling.on_mark(c.y - low.y)?;
    }
    let mark = settings.ruling.mark();
    let mut repeat = |what: &str, inches: f64| -> Option<Size> {
        settings.ruling.on_mark(inches)?;
        Some(whys.size(Why::given(what, inches).to_mark(mark, Way::Nearest)))
    };
    let width = repeat("motif's repeat across", motif.every.0)?;
    let height = repeat("motif's repeat along", motif.every.1)?;
    // Half of what is over goes to either end, to the nearest mark: the middle is within half a mark.
    let end = |every: f64, finished: f64| settings.ruling.round((every - finished) / 2.0, Way::Nearest);
    let before = (end(motif.every.0, high.x - low.x)?, end(motif.every.1, high.y - low.y)?);
    let fits = |before: Length, every: f64, finished: f64, tip: f64, far_tip: f64| {
        let before = before.to_inches();
        before + 1.0e-6 >= tip && every - before - finished + 1.0e-6 >= far_tip
    };
    let across = fits(
        before.0,
        motif.every.0,
        high.x - low.x,
        low.x - raw_low.x,
        raw_high.x - high.x,
    );
    let along = fits(
        before.1,
        motif.every.1,
        high.y - low.y,
        low.y - raw_low.y,
        raw_high.y - high.y,
    );
    if !(across && along) {
        return None;
    }
    let mut place = |what: &str, every: f64, finished: f64, corner: f64| {
        let whole = Why::given("repeat", every);
        let middle = Why::Sum(vec![
            Why::Quotient(
                Box::new(Why::Less(
                    Box::new(whole),
                    Box::new(Why::given("finished size", finished)),
                )),
                Box::new(Why::Count {
                    what: "ends".into(),
                    count: 2,
                }),
            )
            .to_mark(mark, Way::Nearest),
            Why::given(what, corner),
        ]);
        whys.size(middle.to_mark(mark, Way::Nearest))
    };
    let dots: Vec<Dot> = (patch.corners().iter())
        .map(|c| Dot {
            from_left: place("corner across", motif.every.0, high.x - low.x, c.x - low.x),
            from_lower: place("corner up", motif.every.1, high.y - low.y, c.y - low.y),
        })
        .collect();
    let past = whys.given("seam", seam);
    let n = dots.len();
    let cuts = (0..n)
        .map(|i| ShapingCut {
            from: dots[i],
            to: dots[(i + 1) % n],
            past,
        })
        .collect();
    Some(PatchCut {
        shape: DemandShape::Shaped { width, height, cuts },
        edges: (4..4 + n as u32).collect(),
        turns: lying(up.two_way, false),
        way: CutWay::Shaped,
        off_grain: false,
    })
}

/// A care finding for each cloth with a motif of which some kind of piece is cut otherwise.
pub fn not_centred(demands: &[Demand], settings: &Settings) -> Vec<Finding> {
    let mut findings = Vec::new();
    for cloth in &settings.cloths {
        let Some(motif) = cloth.motif else { continue };
        let repeat = (Length::nearest(motif.every.0), Length::nearest(motif.every.1));
        let in_the_middle = |demand: &&Demand| match &demand.shape {
            DemandShape::Shaped { width, height, cuts } => {
                (Some(width.len), Some(height.len)) == repeat && cuts.len() >= 3
            }
            _ => false,
        };
        let of_cloth = || demands.iter().filter(|d| d.fabric == cloth.note.fabric);
        let pieces: u64 = of_cloth()
            .filter(|d| !in_the_middle(d))
            .map(|d| u64::from(d.count))
            .sum();
        if pieces > 0 {
            let all: u64 = of_cloth().map(|d| u64::from(d.count)).sum();
            findings.push(Finding::care(
                "motif-not-centred",
                Place::Quilt,
                format!(
                    "{pieces} of the {all} pieces of fabric {} are cut without regard to its motif: with their seams they are larger than a repeat, \
                     they or the repeat lie between the ruler's marks, or their method cuts them in another way.",
                    cloth.note.fabric
                ),
                "Give these patches another cloth, make them smaller, or pin \"plain patches\" to their block.",
            ));
        }
    }
    findings
}
