//! What patches are filled with on the screen: a cloth's colour, or its picture, at true scale and with its up where it belongs.

use super::app::Opened;
use crate::pictures::measured;
use design::{Design, Print, UpRule};
use maud::{Markup, html};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

/// How much cloth a picture shows across when the file does not say it, inches.
pub(super) const SHOWN: f64 = 8.0;

/// A cloth's picture.
struct Seen {
    /// Where the browser finds it.
    address: String,
    /// Its width and height on the cloth, inches.
    size: (f64, f64),
}

/// The cloths of a design as they are shown. Pictures that were used are remembered, and how they were turned.
pub(super) struct Cloths<'a> {
    /// The design.
    pub(super) design: &'a Design,
    seen: BTreeMap<String, Seen>,
    used: RefCell<BTreeSet<(String, i32)>>,
}

impl<'a> Cloths<'a> {
    /// By colour alone.
    pub(super) fn plain(design: &'a Design) -> Cloths<'a> {
        Cloths {
            design,
            seen: BTreeMap::new(),
            used: RefCell::default(),
        }
    }

    /// With the pictures beside the file; a picture that cannot be read is passed over.
    pub(super) fn of(opened: &Opened, design: &'a Design) -> Cloths<'a> {
        let mut cloths = Cloths::plain(design);
        for fabric in design.fabrics.iter().filter(|fabric| !fabric.image.is_empty()) {
            let Some((_, (w, h))) = opened
                .shelf
                .picture(&fabric.image)
                .ok()
                .and_then(|bytes| measured(&bytes))
            else {
                continue;
            };
            let width = fabric.image_width.unwrap_or(SHOWN);
            let seen = Seen {
                address: address(&opened.name, &fabric.image),
                size: (width, width * f64::from(h) / f64::from(w)),
            };
            cloths.seen.insert(fabric.name.0.clone(), seen);
        }
        cloths
    }

    /// Whether the cloth is shown by a picture.
    pub(super) fn is_seen(&self, role: &str) -> bool {
        self.seen.contains_key(role)
    }

    /// What a patch of the role is filled with; its print's up is turned so far clockwise, degrees.
    pub(super) fn fill(&self, role: &str, turn: f64) -> String {
        if !self.is_seen(role) {
            return super::swatch::color(self.design, role);
        }
        // To a tenth of a degree, which nobody sees.
        let turn = ((turn * 10.0).round() as i32).rem_euclid(3600);
        self.used.borrow_mut().insert((role.to_string(), turn));
        format!("url(#{})", id(role, turn))
    }

    /// Whether a patch of the role turns its print with the block.
    pub(super) fn turns_with_block(&self, role: &str) -> bool {
        let fabric = self.design.fabrics.iter().find(|f| f.name.as_str() == role);
        self.is_seen(role) && fabric.is_some_and(|f| f.print != Print::None && f.up == UpRule::Block)
    }

    /// The pictures that were used, to be put once on the page after all that is filled with them.
    pub(super) fn pictures(&self) -> Markup {
        let used = self.used.borrow();
        html! {
            @if !used.is_empty() {
                svg.unseen width="0" height="0" aria-hidden="true" focusable="false" {
                    defs {
                        @for (role, turn) in used.iter() {
                            @if let Some(seen) = self.seen.get(role) {
                                @let (w, h) = seen.size;
                                pattern id=(id(role, *turn)) patternUnits="userSpaceOnUse" width=(w) height=(h)
                                    patternTransform=(format!("rotate({})", f64::from(*turn) / 10.0)) {
                                    rect width=(w) height=(h) fill=(super::swatch::color(self.design, role)) {}
                                    image href=(seen.address) width=(w) height=(h) preserveAspectRatio="none" {}
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn id(role: &str, turn: i32) -> String {
    format!("seen-{role}-{turn}")
}

/// Where the browser finds a picture of a quilt; of its name only the space is not plain.
pub(super) fn address(quilt: &str, file: &str) -> String {
    format!("/quilts/{quilt}/picture/{}", file.replace(' ', "%20"))
}
