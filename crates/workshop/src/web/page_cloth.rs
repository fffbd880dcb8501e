//! Cloth: the fabrics and their colourways.

use super::app::Opened;
use super::controls;
use super::shell::{self, hands};
use maud::{Markup, html};
use std::sync::Arc;

/// The page, or only its cloth side.
pub(super) fn page(opened: &Arc<Opened>, only_cloth: bool) -> Markup {
    let moment = opened.moment();
    let cloth = match &moment.design {
        Ok(design) => html! {
            div.tools { (hands(&moment)) }
            (controls::cloth(&moment.text, design))
        },
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
        &["controls.js"],
        cloth,
    )
}
