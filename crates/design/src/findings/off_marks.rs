//! Finished sizes between the ruler's marks: `off-marks`, with the sizes nearby that would lie on them.

use crate::resolve::Used;
use crate::{Design, LayoutKind, Spacer};
use measure::{Length, Measure, Ruling, Style};
use shape::{NOISE, WELD};
use terms::{Finding, Place};

/// How far from the drawn size friendly sizes are looked for, as a share of it.
const NEARBY: f64 = 0.34;

pub(crate) fn find(design: &Design, used: &[Used]) -> Vec<Finding> {
    let Some(ruling) = Length::nearest(design.quilt.ruler).and_then(Ruling::new) else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    for one in used {
        findings.extend(block(design, one, ruling));
    }
    strips(design, ruling, &mut findings);
    findings
}

/// How many sides of a quilt's patches lie between the ruler's marks.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OffMarks {
    /// Sides that run with their block's and have a length between marks, each patch of a block once; widths of borders and sashing.
    pub cuts: usize,
    /// How far the worst of them lies from the nearest mark, inches.
    pub worst: f64,
}

/// Counted over all blocks at the sizes they are used in.
pub(crate) fn count(design: &Design, used: &[Used]) -> OffMarks {
    let mut off = OffMarks::default();
    let Some(ruling) = Length::nearest(design.quilt.ruler).and_then(Ruling::new) else {
        return off;
    };
    let mut measured = |inches: f64| {
        if !on_mark(ruling, inches) {
            let mark = ruling.round(inches, measure::Way::Nearest).unwrap_or_default();
            off.cuts += 1;
            off.worst = off.worst.max((mark.to_inches() - inches).abs());
        }
    };
    let sash = match &design.layout.kind {
        LayoutKind::Straight { sashing, .. } | LayoutKind::OnPoint { sashing, .. } => sashing.as_ref(),
        LayoutKind::Free { .. } => None,
    };
    let borders = design.borders.iter().map(|border| border.width);
    borders.chain(sash.map(|s| s.width)).for_each(&mut measured);
    for one in used {
        let Some(block) = design.blocks.get(one.block) else {
            continue;
        };
        for (i, patch) in block.pieced().filter(|(_, p)| !p.is_curved()) {
            let outline = one.outline(i, patch);
            for k in 0..outline.len() {
                let (a, b) = (outline.corner(k), outline.corner(k + 1));
                for (along, across) in [(b.x - a.x, b.y - a.y), (b.y - a.y, b.x - a.x)] {
                    if across.abs() <= WELD && along.abs() > WELD {
                        measured(along.abs());
                    }
                }
            }
        }
    }
    off
}

pub(super) fn print(design: &Design, inches: f64) -> String {
    match (Length::nearest(inches), design.quilt.measure) {
        (Some(length), Measure::Inch) if length.units() % 127 != 0 => format!("{} in", crate::read::figure(inches)),
        (Some(length), measure) => length.print(measure, Style::Plain),
        (None, _) => format!("{inches} in"),
    }
}

fn on_mark(ruling: Ruling, inches: f64) -> bool {
    ruling.on_mark(inches).is_some()
}

fn block(design: &Design, one: &Used, ruling: Ruling) -> Option<Finding> {
    let block = design.blocks.get(one.block)?;
    // What is basted over cards is cut with something to spare; no size need lie on a mark.
    if block.method == "over card" {
        return None;
    }
    let (width, height) = (block.size.0 * one.scale, block.size.1 * one.scale);
    // Lengths of sides that run with the block's, and places of corners, of straight patches.
    let mut sides: Vec<f64> = Vec::new();
    let mut places: Vec<f64> = vec![width, height];
    let mut off_sides: Vec<u32> = Vec::new();
    let mut off_corners: Vec<u32> = Vec::new();
    let mut first: Option<f64> = None;
    for (i, patch) in block.pieced().filter(|(_, p)| !p.is_curved()) {
        let outline = one.outline(i, patch);
        let (mut side_off, mut corner_off) = (false, false);
        for k in 0..outline.len() {
            let (a, b) = (outline.corner(k), outline.corner(k + 1));
            for (along, across) in [(b.x - a.x, b.y - a.y), (b.y - a.y, b.x - a.x)] {
                if across.abs() <= WELD && along.abs() > WELD {
                    sides.push(along.abs());
                    if !on_mark(ruling, along.abs()) {
                        side_off = true;
                        first = first.or(Some(along.abs()));
                    }
                }
            }
            corner_off |= !on_mark(ruling, a.x) || !on_mark(ruling, a.y);
            places.extend([a.x, a.y]);
        }
        if side_off {
            off_sides.push(i as u32);
        } else if corner_off {
            off_corners.push(i as u32);
        }
    }
    let place = |patches: Vec<u32>| Place::Block {
        name: block.name.clone(),
        patches,
        at: None,
    };
    let mark = print(design, ruling.mark().to_inches());
    if let Some(first) = first {
        let many = match off_sides.len() {
            1 => "One patch has a side".to_string(),
            n => format!("{n} patches have sides"),
        };
        let sentence = format!(
            "{many} between the ruler's {mark} marks (such as {}).",
            print(design, first)
        );
        return Some(Finding::care(
            "off-marks",
            place(off_sides),
            sentence,
            friendly(design, ruling, (width, height), sides),
        ));
    }
    if !off_corners.is_empty() {
        let many = match off_corners.len() {
            1 => "One patch has a corner".to_string(),
            n => format!("{n} patches have corners"),
        };
        let sentence = format!("{many} between the ruler's {mark} marks, where slanting seams meet.");
        return Some(Finding::note(
            "off-marks",
            place(off_corners),
            sentence,
            friendly(design, ruling, (width, height), places),
        ));
    }
    None
}

/// The nearest smaller and larger block sizes at which all `lengths` lie on marks.
fn friendly(design: &Design, ruling: Ruling, (width, height): (f64, f64), mut lengths: Vec<f64>) -> String {
    lengths.sort_by(f64::total_cmp);
    lengths.dedup_by(|a, b| (*a - *b).abs() < NOISE);
    lengths.retain(|l| l.abs() > NOISE);
    let mark = ruling.mark().to_inches();
    let fits = |candidate: f64| {
        let scale = candidate / width;
        on_mark(ruling, height * scale) && lengths.iter().all(|l| on_mark(ruling, l * scale))
    };
    let nearest_mark = (width / mark).round();
    let steps = ((width * NEARBY / mark) as i64).min(400);
    let search = |sign: f64| {
        (0..=steps)
            .map(|k| (nearest_mark + sign * k as f64) * mark)
            .find(|&w| w > mark && (w - width) * sign >= -NOISE && fits(w))
    };
    let size = |w: f64| {
        let h = height * w / width;
        if (h - w).abs() < WELD {
            print(design, w)
        } else {
            format!("{} by {}", print(design, w), print(design, h))
        }
    };
    match (search(-1.0), search(1.0)) {
        (Some(small), Some(large)) if (large - small).abs() > NOISE => {
            format!("Friendly block sizes nearby: {} or {}.", size(small), size(large))
        }
        (Some(one), _) | (None, Some(one)) => format!("A friendly block size nearby: {}.", size(one)),
        (None, None) => {
            "No block size nearby brings every side onto a mark; use a template or foundation paper.".to_string()
        }
    }
}

/// Sashing and borders.
fn strips(design: &Design, ruling: Ruling, findings: &mut Vec<Finding>) {
    let mut widths: Vec<(String, f64)> = Vec::new();
    if let LayoutKind::Straight { sashing: Some(s), .. } = &design.layout.kind {
        widths.push(("The sashing".to_string(), s.width));
    }
    for (i, border) in design.borders.iter().enumerate() {
        widths.push((format!("Border {}", i + 1), border.width));
        if let Some(Spacer::Widths(sides, ends)) = border.spacer {
            widths.push((format!("The spacer of border {}", i + 1), sides));
            if (sides - ends).abs() > NOISE {
                widths.push((format!("The spacer of border {} at top and bottom", i + 1), ends));
            }
        }
    }
    for (what, width) in widths {
        if on_mark(ruling, width) {
            continue;
        }
        let near = |way| ruling.round(width, way).map_or(width, Length::to_inches);
        findings.push(Finding::care(
            "off-marks",
            Place::Quilt,
            format!(
                "{what} finishes {} wide, between the ruler's {} marks.",
                print(design, width),
                print(design, ruling.mark().to_inches())
            ),
            format!(
                "Friendly widths nearby: {} or {}.",
                print(design, near(measure::Way::Down)),
                print(design, near(measure::Way::Up))
            ),
        ));
    }
}
