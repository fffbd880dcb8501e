//! A picture beneath a block's cloth, to be traced: how it is shown, and what moves it.

use super::app::Opened;
use super::cloths::address;
use super::swatch;
use crate::drawing::Drawing;
use crate::pictures::{Traced, Tracing, measured};
use design::Design;
use maud::{Markup, html};

/// A picture beneath a block, as it is shown.
pub(super) struct Shown {
    /// How it lies.
    pub(super) traced: Traced,
    address: String,
    /// Its height for its width.
    ratio: f64,
}

impl Shown {
    /// The picture, in inches from the block's left top.
    pub(super) fn picture(&self) -> Markup {
        let traced = &self.traced;
        html! {
            image #traced href=(self.address) x=(traced.left) y=(traced.top) width=(traced.width) height=(traced.width * self.ratio)
                data-picture=(traced.picture) data-ratio=(self.ratio) preserveAspectRatio="none" aria-hidden="true" {}
        }
    }
}

/// The picture beneath a block, when there is one that can be read.
pub(super) fn traced(opened: &Opened, block: &str) -> Option<Shown> {
    let traced = Tracing::read(&opened.shelf.tracing(&opened.name)).0.remove(block)?;
    let bytes = opened.shelf.picture(&traced.picture).ok()?;
    let (_, (w, h)) = measured(&bytes)?;
    Some(Shown {
        address: address(&opened.name, &traced.picture),
        ratio: f64::from(h) / f64::from(w),
        traced,
    })
}

/// What lays a picture beneath the block, moves it and takes it away.
pub(super) fn controls(design: &Design, block: &str, drawing: &Drawing, shown: Option<&Shown>) -> Markup {
    let (unit, per) = swatch::unit(design);
    let step = if per == 1.0 { "0.125" } else { "0.25" };
    let told = |inches: f64| swatch::told(design, inches);
    html! {
        details.typed #tracing data-block=(block) data-per=(per) data-width=(drawing.width) data-height=(drawing.height) {
            summary { "A picture beneath, to trace" }
            form #trace {
                label.file { @if shown.is_some() { "Another picture " } @else { "Picture (PNG or JPEG) " } input #trace-file type="file" accept="image/png,image/jpeg"; }
                @if let Some(shown) = shown {
                    @let traced = &shown.traced;
                    label { "Left, " (unit) " " input name="left" type="number" step=(step) value=(told(traced.left)) required; }
                    label { "Top, " (unit) " " input name="top" type="number" step=(step) value=(told(traced.top)) required; }
                    label { "Width, " (unit) " " input name="width" type="number" step=(step) min=(step) value=(told(traced.width)) required; }
                    label { "How thickly the cloth lies over it " input name="cloth" type="range" min="0" max="1" step="0.05" value=(traced.cloth); }
                    button type="button" data-trace="fit" { "As wide as the block" }
                    button type="button" data-trace="drag" aria-pressed="false" { "Move it by hand" }
                    button type="button" data-trace="off" { "Take it away" }
                }
            }
            p.soft { "It lies under the cloth of this screen only; the pattern knows nothing of it." }
        }
    }
}
