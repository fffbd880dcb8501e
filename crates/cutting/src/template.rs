//! Templates: the rectangle that is cut first, on the ruler's marks, and the print turned where the cloth asks for it.

use crate::kinds::keep;
use measure::{Length, PRINTED_PER_LENGTH, Printed, Way, Why};
use recipe::{Bow, Size, Template, TemplateCorner, TemplateLine, Turn};

/// A template turned counter-clockwise, its box beginning at nothing, nothing; a turned one has a name of its own.
pub(crate) fn turned_template(template: &Template, turn: Turn) -> Template {
    let (name, quarters) = match turn {
        Turn::As => return template.clone(),
        Turn::Quarter => (format!("{} turned once", template.name), 1),
        Turn::Half => (format!("{} turned round", template.name), 2),
        Turn::ThreeQuarters => (format!("{} turned back", template.name), 3),
    };
    // A print for the wrong side is the piece's mirror image: as the piece turns the one way, its print turns the other.
    let from_back = template.applique.as_ref().is_some_and(|a| a.from_back);
    let quarters = if from_back { 4 - quarters } else { quarters };
    let outline = || template.outline().into_iter().map(|(c, _)| turned(c, quarters));
    let left = outline().map(|c| c.right).min().unwrap_or_default();
    let lowest = outline().map(|c| c.up).min().unwrap_or_default();
    let all = |places: &[TemplateCorner]| -> Vec<TemplateCorner> {
        let at_origin = |c: TemplateCorner| TemplateCorner {
            right: c.right - left,
            up: c.up - lowest,
        };
        places.iter().map(|&c| at_origin(turned(c, quarters))).collect()
    };
    let bow = |bow: &Bow| Bow {
        edge: bow.edge,
        through: all(&bow.through),
    };
    Template {
        name,
        corners: all(&template.corners),
        bows: template.bows.iter().map(bow).collect(),
        marks: all(&template.marks),
        applique: template.applique.as_ref().map(|a| TemplateLine {
            line: all(&a.line),
            from_back,
        }),
    }
}

/// A corner turned counter-clockwise about nothing, nothing.
fn turned(corner: TemplateCorner, quarters: u32) -> TemplateCorner {
    (0..quarters).fold(corner, |c, _| TemplateCorner {
        right: -c.up,
        up: c.right,
    })
}

/// The width and height of the box that holds a template, in whole lengths.
pub(crate) fn box_of(template: &Template) -> (i64, i64) {
    let extent = |values: Vec<Printed>| {
        let (least, most) = (values.iter().min(), values.iter().max());
        let printed = most.copied().unwrap_or_default() - least.copied().unwrap_or_default();
        printed.least_length().units()
    };
    let outline = template.outline();
    (
        extent(outline.iter().map(|(c, _)| c.right).collect()),
        extent(outline.iter().map(|(c, _)| c.up).collect()),
    )
}

/// Four times the area of a template, in square units of length, rounded down: no plan can do with less.
pub(crate) fn four_areas(template: &Template) -> i128 {
    let corners = template.outline();
    let mut twice = 0i128;
    for (i, (a, _)) in corners.iter().enumerate() {
        let (b, _) = &corners[(i + 1) % corners.len()];
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
