//! What the addresses answer programs, as types: the description of the interface is made from these.

use crate::file::{Refused, Wish};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// A wish, and the revision it was made on.
#[derive(Clone, Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct WishBody {
    /// Fingerprint of the file's text when the wish was made.
    #[schema(example = "0123456789abcdef")]
    pub base: String,
    /// What is asked.
    pub wish: Wish,
}

/// How the quilt stands after a change.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub(super) struct Changed {
    /// Fingerprint of the file's text.
    pub revision: String,
    /// What undo would take back.
    #[schema(required)]
    pub undo: Option<String>,
    /// What redo would do again.
    #[schema(required)]
    pub redo: Option<String>,
    /// Whether the pages are still being worked out.
    pub working: bool,
}

/// Why something was not done. Nothing has changed.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub(super) struct Trouble {
    /// A stable code.
    pub code: String,
    /// What is in the way, and what would do.
    pub words: String,
}

impl From<&Refused> for Trouble {
    fn from(refused: &Refused) -> Self {
        Trouble {
            code: refused.code.clone(),
            words: refused.words.clone(),
        }
    }
}

/// Where the hand's aim is held.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub(super) struct Aimed {
    /// Inches from the block's left side.
    pub x: f64,
    /// Inches from its top.
    pub y: f64,
    /// What holds it.
    pub snap: String,
    /// In words.
    pub words: String,
}

/// The living pages.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub(super) struct Living {
    /// Fingerprint of the file's text.
    pub revision: String,
    /// Fingerprint of the text that the pages are of; none when there are none yet.
    #[schema(required)]
    pub worked: Option<String>,
    /// Whether all of them are; what is in sight comes first.
    pub whole: bool,
    /// Whether newer pages are being worked out.
    pub working: bool,
    /// What undo would take back.
    #[schema(required)]
    pub undo: Option<String>,
    /// What redo would do again.
    #[schema(required)]
    pub redo: Option<String>,
    /// Whether it is proved, as HTML.
    pub standing: String,
    /// The makings that can be watched, as HTML.
    pub makings: String,
    /// Names that the drawings call colours by, each with its colour; none when there are no pages.
    #[schema(required)]
    pub colors: Option<Vec<(String, String)>>,
    /// What the checks say, as HTML.
    pub findings: String,
    /// The pages in order.
    pub leaves: Vec<LivingLeaf>,
    /// What is in the first drawings of them, by fingerprint, where the window has nothing yet.
    pub drawings: BTreeMap<String, String>,
}

/// One section of the living pages.
#[derive(Clone, Debug, Serialize, ToSchema)]
pub(super) struct LivingLeaf {
    /// Its name.
    pub name: String,
    /// Fingerprint of its markup.
    pub print: String,
    /// Its markup as HTML; none when the window said that it has it.
    #[schema(required)]
    pub markup: Option<String>,
}
