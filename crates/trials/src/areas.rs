//! Finished cloth by fabric, counted twice: as the picture of the top has it, and as the planar map has it.

use crate::whole::Whole;
use design::{BlockIndex, Design, Fill};
use shape::Polygon;
use std::collections::BTreeMap;
use terms::Finding;

/// Square inches by fabric as the picture has it, what is laid on a ground left out.
pub fn pictured(whole: &Whole) -> BTreeMap<String, f64> {
    let mut areas = BTreeMap::new();
    for face in &whole.picture.faces {
        *areas.entry(face.fabric.0.clone()).or_default() += face.outline.signed_area();
    }
    areas
}

/// The same as the planar map has it, blocks within blocks counted as often as they lie there.
///
/// # Errors
/// The design's own stop findings.
pub fn mapped(design: &Design) -> Result<BTreeMap<String, f64>, Vec<Finding>> {
    let sheet = design.sheet()?;
    let mut by_block: Vec<BTreeMap<String, f64>> = Vec::new();
    for block in &sheet.blocks {
        let mut areas: BTreeMap<String, f64> = BTreeMap::new();
        for face in &block.faces {
            match &face.fill {
                Fill::Patch { fabric, .. } => {
                    let corners = face.outline.iter().map(|v| block.vertices[v.0]).collect();
                    *areas.entry(fabric.0.clone()).or_default() += Polygon::new(corners).signed_area();
                }
                Fill::Block { block, .. } => {
                    let BlockIndex(at) = *block;
                    for (fabric, area) in &by_block[at] {
                        *areas.entry(fabric.clone()).or_default() += area;
                    }
                }
            }
        }
        by_block.push(areas);
    }
    Ok(by_block[sheet.top.0].clone())
}

/// In what the two differ, or in what they are not the whole top; `None` when all agree. Welding moves corners by up to
/// 1/256 in, so a hundredth is granted by fabric and a thousandth in all.
pub fn differ(design: &Design, whole: &Whole) -> Option<String> {
    let picture = pictured(whole);
    let map = match mapped(design) {
        Ok(map) => map,
        Err(findings) => return findings.first().map(ToString::to_string),
    };
    if picture.len() != map.len() {
        return Some(format!("{} fabrics pictured, {} mapped", picture.len(), map.len()));
    }
    for (fabric, area) in &picture {
        let there = map.get(fabric).copied().unwrap_or(0.0);
        if (area - there).abs() > 0.01 * area.max(1.0) {
            return Some(format!("{area} sq in of {fabric} pictured, {there} mapped"));
        }
    }
    // *derived*: what is pieced covers the top once.
    let (w, h) = design.top_size();
    let all: f64 = picture.values().sum();
    ((all - w * h).abs() > 0.001 * w * h).then(|| format!("{all} sq in of a top of {}", w * h))
}
