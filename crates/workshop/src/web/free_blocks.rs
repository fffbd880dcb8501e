//! A free layout's blocks: on the picture of the top, taken hold of by the pointer, a finger or the arrow keys and laid elsewhere; and by
//! their measures.

use super::controls::{Desk, Kind, at, set};
use super::shell::capital;
use super::swatch;
use crate::file::seen_size;
use design::{Design, LayoutKind, Placement};
use maud::{Markup, html};
use serde_json::{Value as Json, json};

/// What blocks can be taken hold of by, over the picture; nothing in another layout. Each tells its upright box in inches from the
/// layout's left top, y down.
pub(super) fn handles(design: &Design) -> Markup {
    let LayoutKind::Free { size, place } = &design.layout.kind else {
        return html! {};
    };
    let border: f64 = design.borders.iter().map(|border| border.width).sum();
    html! {
        g #free transform=(format!("translate({border} {border})")) data-width=(size.0) data-height=(size.1) {
            rect.whole x="0" y="0" width=(size.0) height=(size.1) fill="none" {}
            @for (i, placed) in place.iter().enumerate() {
                @let (w, h) = seen_size(placed);
                @let (left, top) = (placed.centre.x - w / 2.0, size.1 - placed.centre.y - h / 2.0);
                polygon tabindex="0" role="button" data-place=(i) data-x=(left) data-y=(top) data-w=(w) data-h=(h)
                    points=(corners(placed, size.1)) data-name=(capital(&placed.block)) aria-describedby="free-keys"
                    aria-label=(format!("{}, {} from the left and {} {} from the top",
                        capital(&placed.block), swatch::told(design, left), swatch::told(design, top), swatch::unit(design).0)) {}
            }
            path #guides d="" {}
        }
    }
}

/// How closely blocks are held, and where the one in hand lies.
pub(super) fn hold(design: &Design) -> Markup {
    let LayoutKind::Free { .. } = &design.layout.kind else {
        return html! {};
    };
    let (unit, per) = swatch::unit(design);
    let ruler = swatch::told(design, design.quilt.ruler);
    let steps: [f64; 3] = if per == 1.0 { [1.0, 0.5, 0.25] } else { [5.0, 1.0, 0.5] };
    html! {
        p.soft #free-keys { "Drag a block where it should lie, or choose it and press the arrow keys. It is held to the edges and middles of the others, and to the step." }
        div.row {
            label.control { span { "Step" }
                select #free-step data-per=(per) data-unit=(unit) {
                    @for (i, step) in steps.iter().enumerate() {
                        option value=(step / per) selected[i == 1] { (swatch::number(*step)) " " (unit) }
                    }
                    option value=(design.quilt.ruler) { (ruler) " " (unit) ", the ruler's mark" }
                }
            }
            p #moved.aimed role="status" aria-live="polite" {}
        }
    }
}

/// The blocks by their measures, and new ones.
pub(super) fn list(desk: &Desk) -> Markup {
    let LayoutKind::Free { place, .. } = &desk.design.layout.kind else {
        return html! {};
    };
    let count = place.len();
    html! {
        ol.placed-list {
            @for (i, placed) in place.iter().enumerate() {
                li {
                    b { (capital(&placed.block)) }
                    @let middle = at!["layout", "place", i, "center"];
                    @if desk.typed(&middle).is_some() {
                        (desk.control(at!["layout", "place", i, "center"], "Middle", Kind::Lengths))
                    } @else {
                        (desk.control(at!["layout", "place", i, "at"], "Left and top", Kind::Lengths))
                    }
                    (desk.control(at!["layout", "place", i, "size"], "Size", Kind::Lengths))
                    (desk.control(at!["layout", "place", i, "turn"], "Turn, degrees", Kind::Number))
                    (desk.control(at!["layout", "place", i, "flip"], "Flipped", Kind::Yes(false)))
                    (desk.press("Take away", &set(at!["layout", "place", i], Json::Null)))
                }
            }
        }
        div.row {
            @for block in &desk.design.blocks {
                @let (x, y) = room(desk.design, block.size);
                @let (unit, per) = swatch::unit(desk.design);
                @let told = |v: f64| format!("{} {unit}", swatch::number(v * per));
                (desk.press(&format!("Place {}", capital(&block.name)),
                    &set(at!["layout", "place", count], json!({ "block": block.name, "at": [told(x), told(y)] }))))
            }
        }
    }
}

/// Where a block of that size first has room, row by row, left top in inches; the left top where it has none.
pub(super) fn room(design: &Design, size: (f64, f64)) -> (f64, f64) {
    let LayoutKind::Free { size: whole, place } = &design.layout.kind else {
        return (0.0, 0.0);
    };
    // At the sides of what lies there, and at the layout's own.
    let boxes: Vec<[f64; 4]> = place
        .iter()
        .map(|placed| {
            let (w, h) = seen_size(placed);
            let (left, top) = (placed.centre.x - w / 2.0, whole.1 - placed.centre.y - h / 2.0);
            [left, top, left + w, top + h]
        })
        .collect();
    let sides = |a: usize, b: usize| {
        let mut all: Vec<f64> = boxes.iter().flat_map(|b4| [b4[a], b4[b]]).chain([0.0]).collect();
        all.sort_by(f64::total_cmp);
        all
    };
    let free = |x: f64, y: f64| {
        let within = x >= 0.0 && y >= 0.0 && x + size.0 <= whole.0 + 1e-9 && y + size.1 <= whole.1 + 1e-9;
        let clear = |b: &[f64; 4]| {
            x + size.0 <= b[0] + 1e-9 || x >= b[2] - 1e-9 || y + size.1 <= b[1] + 1e-9 || y >= b[3] - 1e-9
        };
        within && boxes.iter().all(clear)
    };
    let (across, down) = (sides(0, 2), sides(1, 3));
    down.iter()
        .flat_map(|y| across.iter().map(move |x| (*x, *y)))
        .find(|(x, y)| free(*x, *y))
        .unwrap_or((0.0, 0.0))
}

/// The block's own corners as it lies, y down.
fn corners(placed: &Placement, height: f64) -> String {
    let angle = placed.turn.to_radians();
    let (sin, cos) = match placed.turn.rem_euclid(360.0) {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        _ => (libm::sin(angle), libm::cos(angle)),
    };
    let (w, h) = (placed.size.0 / 2.0, placed.size.1 / 2.0);
    let told: Vec<String> = [(-w, -h), (w, -h), (w, h), (-w, h)]
        .iter()
        .map(|(x, y)| {
            let at = (
                placed.centre.x + x * cos - y * sin,
                height - placed.centre.y + x * sin + y * cos,
            );
            format!("{:.4},{:.4}", at.0, at.1)
        })
        .collect();
    told.join(" ")
}
