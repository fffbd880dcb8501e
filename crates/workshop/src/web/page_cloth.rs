//! Cloth: the fabrics and their colourways.

use super::app::Opened;
use super::cloths::Cloths;
use super::controls;
use super::shell::{self, hands};
use design::Design;
use maud::{Markup, html};
use std::sync::Arc;

/// The page, or only its cloth side.
pub(super) fn page(opened: &Arc<Opened>, only_cloth: bool) -> Markup {
    let moment = opened.moment();
    let cloth = match &moment.design {
        Ok(design) => {
            let cloths = Cloths::of(opened, design);
            html! {
                div.tools { (hands(&moment)) }
                (controls::cloth(&moment.text, &cloths))
                (photo(design))
                (cloths.pictures())
            }
        }
        Err(_) => {
            html! { div.tools { (hands(&moment)) } p.empty { "The file cannot be read at the moment; what is wrong stands below." } }
        }
    };
    if only_cloth {
        return cloth;
    }
    let title = moment
        .design
        .as_ref()
        .map_or(opened.name.clone(), |d| d.quilt.title.clone());
    shell::quilt_page(
        opened,
        &moment,
        "cloth",
        &title,
        "what you need",
        &["controls.js", "pictures.js"],
        cloth,
    )
}

/// A photograph's colours, to take one for a cloth.
fn photo(design: &Design) -> Markup {
    html! {
        h2 { "Colours from a photograph" }
        p.soft { "Its main colours are shown here; press on one. The photograph itself is not kept." }
        div.row {
            label.control.file { span { "Photograph" } input #photo type="file" accept="image/png,image/jpeg"; }
            label.control { span { "A colour pressed becomes that of" }
                select #photo-for {
                    @for (i, fabric) in design.fabrics.iter().enumerate() { option value=(i) { (fabric.label) } }
                    option value="new" { "a new cloth" }
                }
            }
        }
        div #photo-colours.swatches role="group" aria-label="Main colours of the photograph" {}
    }
}
