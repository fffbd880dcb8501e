//! What keeping a print upright does to the grain: `print-on-bias` where a patch then has no side along or across the cloth.

use crate::{Design, Print};
use shape::Vector;
use std::collections::BTreeMap;
use terms::{FabricId, Finding, Place, TopPicture};

pub(crate) fn find(design: &Design, picture: &TopPicture) -> Vec<Finding> {
    let mut found: BTreeMap<&FabricId, usize> = BTreeMap::new();
    for face in picture.faces.iter().chain(&picture.laid) {
        let Some(up) = &face.up else { continue };
        let sides = (0..face.outline.len()).filter_map(|i| face.outline.edge(i));
        if !sides.map(|side| side.along).any(|along| runs_with(along, up.toward)) {
            *found.entry(&face.fabric).or_default() += 1;
        }
    }
    found
        .into_iter()
        .map(|(fabric, n)| {
            let print = design.fabric(fabric).map_or(Print::None, |f| f.print);
            let kept = if print == Print::TwoWay { "the stripe" } else { "the print" };
            let patches = if n == 1 { "1 patch".into() } else { format!("{n} patches") };
            Finding::care(
                "print-on-bias",
                Place::Quilt,
                format!("So that {kept} of fabric {fabric} stands upright, {patches} are cut with every side on the bias."),
                "Starch the cloth and handle these pieces gently, let the print turn with the block (up = \"block\"), or give them another cloth.",
            )
        })
        .collect()
}

/// Within two degrees along or across.
fn runs_with(along: Vector, up: Vector) -> bool {
    let (cos, sin) = (along.dot(up).abs(), along.cross(up).abs());
    cos < 0.035 || sin < 0.035
}
