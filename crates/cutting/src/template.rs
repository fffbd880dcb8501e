//! Templates: the rectangle that is cut first, on the ruler's marks, and the print turned where the cloth asks for it.

use crate::kinds::keep;
use measure::{Length, PRINTED_PER_LENGTH, Printed, Way, Why};
use recipe::{Size, Template, TemplateCorner, Turn};

/// A template turned counter-clockwise, its box beginning at nothing, nothing; a turned one has a name of its own.
pub(crate) fn turned_template(template: &Template, turn: Turn) -> Template {
    let (name, quarters) = match turn {
        Turn::As => return template.clone(),
        Turn::Quarter => (format!("{} turned once", template.name), 1),
        Turn::Half => (format!("{} turned round", template.name), 2),
        Turn::ThreeQuarters => (format!("{} turned back", template.name), 3),
    };
    let mut corners = template.corners.clone();
    for _ in 0..quarters {
        corners = corners
            .into_iter()
            .map(|c| TemplateCorner {
                right: -c.up,
                up: c.right,
            })
            .collect();
    }
    let left = corners.iter().map(|c| c.right).min().unwrap_or_default();
    let lowest = corners.iter().map(|c| c.up).min().unwrap_or_default();
    let corners = corners.into_iter().map(|c| TemplateCorner {
        right: c.right - left,
        up: c.up - lowest,
    });
    Template {
        name,
        corners: corners.collect(),
    }
}

/// The width and height of the box that holds a template, in whole lengths.
pub(crate) fn box_of(template: &Template) -> (i64, i64) {
    let extent = |values: Vec<Printed>| {
        let (least, most) = (values.iter().min(), values.iter().max());
        let printed = most.copied().unwrap_or_default() - least.copied().unwrap_or_default();
        printed.least_length().units()
    };
    (
        extent(template.corners.iter().map(|c| c.right).collect()),
        extent(template.corners.iter().map(|c| c.up).collect()),
    )
}

/// Four times the area of a template, in square units of length, rounded down: no plan can do with less.
pub(crate) fn four_areas(template: &Template) -> i128 {
    let corners = &template.corners;
    let mut twice = 0i128;
    for (i, a) in corners.iter().enumerate() {
        let b = &corners[(i + 1) % corners.len()];
        twice += i128::from(a.right.units()) * i128::from(b.up.units())
            - i128::from(b.right.units()) * i128::from(a.up.units());
    }
    2 * twice.abs() / i128::from(PRINTED_PER_LENGTH * PRINTED_PER_LENGTH)
}

/// The mark at or above a length.
pub(crate) fn on_mark(units: i64, mark: Length) -> i64 {
    if mark > Length::ZERO {
        (units + mark.units() - 1) / mark.units() * mark.units()
    } else {
        units
    }
}

/// The side of the rectangle that is cut for a template.
pub(crate) fn box_size(what: &str, units: i64, mark: Length, whys: &mut Vec<Why>) -> Size {
    let given = Why::given(what, Length::from_units(units).to_inches());
    let why = if mark > Length::ZERO {
        given.to_mark(mark, Way::Up)
    } else {
        given
    };
    keep(why, Length::from_units(on_mark(units, mark)), whys)
}
