//! The sizes a maker meets, with their names: of a piece as cut, in a step, in the cloth.

use crate::print;
use measure::Measure;
use recipe::{
    AlongLine, BoughtCloth, ClothPlan, DemandShape, End, Lay, Path, PointRef, Ruler, ShapeEdge, Size, Step, Stop,
    Strip, TrimLine,
};

/// A size and what it is the size of.
pub type NamedSize = (String, Size);

/// A piece's size as cut, on one line.
pub fn in_words(shape: &DemandShape, measure: Measure) -> String {
    let length = |size: &Size| print::length(size.len, measure);
    match shape {
        DemandShape::Rectangle { width, height } => format!("{} × {}", length(width), length(height)),
        DemandShape::Half { width, height, .. } => format!("half of {} × {}", length(width), length(height)),
        DemandShape::Quarter { side } => format!("quarter of {} × {}", length(side), length(side)),
        DemandShape::Slant {
            height,
            ruler: Some(recipe::RulerCut {
                across: Some(across), ..
            }),
            ..
        } => format!(
            "strip of {}, {} straight across at the ruler's angle",
            length(height),
            length(across)
        ),
        DemandShape::Slant {
            height, lower, upper, ..
        } => format!(
            "strip of {}, {} and {} along its edges",
            length(height),
            length(lower),
            length(upper)
        ),
        DemandShape::Shaped { width, height, .. } => {
            format!("{} × {}, corners cut off", length(width), length(height))
        }
        DemandShape::Template { template } => format!("by template {}", print::harmless(&template.name)),
    }
}

/// The sizes of a piece as cut.
pub fn of_shape(shape: &DemandShape) -> Vec<NamedSize> {
    let named = |name: &str, size: &Size| (name.to_string(), *size);
    match shape {
        DemandShape::Rectangle { width, height } => vec![named("width", width), named("height", height)],
        DemandShape::Half { width, height, .. } => vec![
            named("width of the rectangle it is half of", width),
            named("height of the rectangle it is half of", height),
        ],
        DemandShape::Quarter { side } => vec![named("side of the square it is a quarter of", side)],
        DemandShape::Slant {
            height, lower, upper, ..
        } => vec![
            named("height of the strip", height),
            named("along the strip's lower edge", lower),
            named("along the strip's upper edge", upper),
        ],
        DemandShape::Shaped { width, height, cuts } => {
            let mut sizes = vec![named("width", width), named("height", height)];
            for (index, cut) in cuts.iter().enumerate() {
                let cut_name = format!("cut {}", index + 1);
                for (dot, which) in [(&cut.from, "first"), (&cut.to, "second")] {
                    sizes.push((format!("{cut_name}, {which} dot, from the left edge"), dot.from_left));
                    sizes.push((format!("{cut_name}, {which} dot, from the lower edge"), dot.from_lower));
                }
                sizes.push((format!("{cut_name}, past the dots"), cut.past));
            }
            sizes
        }
        // A template is printed to scale; nobody measures it.
        DemandShape::Template { .. } => Vec::new(),
    }
}

/// The sizes of a cloth: what is bought, what is lost, the strips.
pub fn of_cloth(plans: &[&ClothPlan], bought: Option<&BoughtCloth>) -> Vec<NamedSize> {
    let mut sizes = Vec::new();
    if let Some(bought) = bought {
        sizes.push(("length to buy".into(), bought.length));
        sizes.push(("usable width".into(), bought.usable));
        sizes.push(("what no plan does with less than".into(), bought.bound));
        if let Some(pieces) = bought.pieces {
            sizes.push((format!("one {}", pieces.form.one()), pieces.each));
        }
    }
    for (lot, plan) in plans.iter().enumerate() {
        if lot == 0 {
            sizes.push(("lost to squaring up".into(), plan.square_up));
        }
        let lot = match (plan.alike, plans.len()) {
            (Some(alike), 2..) => {
                sizes.push((format!("lot {}, length of each", lot + 1), alike.length));
                format!("lot {}, ", lot + 1)
            }
            _ => String::new(),
        };
        for (index, strip) in plan.strips.iter().enumerate() {
            of_strip(strip, &format!("{lot}strip {}", index + 1), &mut sizes);
        }
    }
    sizes
}

/// A strip and those cut from its rest: strip 2, strip 2.1, strip 2.1.1.
fn of_strip(strip: &Strip, name: &str, sizes: &mut Vec<NamedSize>) {
    sizes.push((format!("{name}, height"), strip.height));
    for (index, rest) in strip.rest.iter().enumerate() {
        of_strip(rest, &format!("{name}.{}", index + 1), sizes);
    }
}

/// The sizes a maker reads in a step.
pub fn of_step(step: &Step) -> Vec<NamedSize> {
    let mut sizes = Vec::new();
    match step {
        Step::Mark { line, .. } => of_ruler(line, "mark", &mut sizes),
        Step::Dot { at, .. } => of_point(at, "dot", &mut sizes),
        Step::Lay { how, .. } => of_lay(how, &mut sizes),
        Step::Sew { path, .. } => of_path(path, &mut sizes),
        Step::CutApart { line, .. } => of_ruler(line, "cut apart", &mut sizes),
        Step::SubCut { first, width, .. } => {
            of_ruler(first, "sub-cut", &mut sizes);
            sizes.push(("sub-cut, width of each length".into(), *width));
        }
        Step::Pivot { first, last, .. } => of_ends(first, last, &mut sizes),
        Step::Close { end, .. } => of_ends(end, end, &mut sizes),
        Step::Trim { lines, .. } => {
            for TrimLine { ruler, shave, .. } in lines {
                of_ruler(ruler, "trim", &mut sizes);
                sizes.push(("trim, shave".into(), *shave));
            }
        }
        Step::Check { is, .. } => sizes.push(("check".into(), *is)),
        Step::SetAside { is, .. } => sizes.push(("left over, across".into(), *is)),
        Step::Finish { seam, .. } => sizes.push(("beyond the finished outline".into(), *seam)),
        Step::Baste {
            inside, least, most, ..
        } => {
            sizes.extend(inside.iter().map(|i| ("baste, card inside the raw edge".into(), i.by)));
            sizes.push(("baste, cloth folded over, at least".into(), *least));
            sizes.push(("baste, cloth folded over, at most".into(), *most));
        }
        Step::StitchDown {
            edge: ShapeEdge::Turned { by },
            ..
        } => sizes.push(("turned under".into(), *by)),
        Step::Spread { along, .. } => of_along(along, "spread", &mut sizes),
        Step::Pare { past, .. } => sizes.push(("trim, past the printed line".into(), *past)),
        Step::Open { .. } | Step::Snip { .. } | Step::Whip { .. } | Step::TakeOut { .. } => {}
        Step::Guide { .. } | Step::StitchDown { .. } | Step::CutOut { .. } => {}
    }
    sizes
}

fn of_lay(how: &Lay, sizes: &mut Vec<NamedSize>) {
    match how {
        Lay::Edges { first, last, .. } => of_ends(first, last, sizes),
        Lay::OverPaper { along, .. } => of_along(along, "lay", sizes),
        Lay::Corner { .. } | Lay::Curve { .. } | Lay::TwoDots { .. } => {}
    }
}

fn of_along(along: &AlongLine, what: &str, sizes: &mut Vec<NamedSize>) {
    sizes.push((format!("{what}, past the printed line"), along.past));
    sizes.push((format!("{what}, beyond the line's start"), along.beyond));
    sizes.push((format!("{what}, margin"), along.margin));
}

fn of_ends(first: &End, last: &End, sizes: &mut Vec<NamedSize>) {
    for end in [first, last] {
        match end {
            End::Notch { about, .. } => sizes.push(("lay, overhang at the notch, about".into(), *about)),
            End::Overhang { by, .. } => sizes.push(("lay, overhang".into(), *by)),
            End::Even { .. } | End::Dots { .. } | End::Centre | End::Match(_) | End::Open => {}
        }
    }
}

fn of_path(path: &Path, sizes: &mut Vec<NamedSize>) {
    match path {
        Path::Beside { by, from, to } => {
            sizes.push(("sew, seam".into(), *by));
            for stop in [from, to] {
                if let Stop::At(at) = stop {
                    sizes.push(("sew, stop".into(), *at));
                }
            }
        }
        Path::BothSides { by, .. } => sizes.push(("sew, beside the line on both sides".into(), *by)),
        Path::Round { by, .. } => sizes.push(("sew, seam".into(), *by)),
        Path::OnPaper { beyond } => sizes.push(("sew, beyond both ends of the line".into(), *beyond)),
        Path::OnMark(_) => {}
    }
}

fn of_ruler(ruler: &Ruler, what: &str, sizes: &mut Vec<NamedSize>) {
    match ruler {
        // At no distance the ruler lies on the line itself; there is nothing to read.
        Ruler::Beside { at, .. } if at.len == measure::Length::ZERO => {}
        Ruler::Beside { at, .. } => sizes.push((format!("{what}, ruler's distance"), *at)),
        Ruler::Angle { through, .. } => of_point(through, what, sizes),
        Ruler::TwoMarks { from, to } => {
            of_point(from, what, sizes);
            of_point(to, what, sizes);
        }
    }
}

fn of_point(point: &PointRef, what: &str, sizes: &mut Vec<NamedSize>) {
    match point {
        PointRef::Along { by, .. } => sizes.push((format!("{what}, along the edge"), *by)),
        PointRef::FromEdges { a_by, b_by, .. } => {
            sizes.push((format!("{what}, in from one edge"), *a_by));
            sizes.push((format!("{what}, in from the other"), *b_by));
        }
        PointRef::Corner(_) | PointRef::Crossing(..) | PointRef::Dot(_) => {}
    }
}
