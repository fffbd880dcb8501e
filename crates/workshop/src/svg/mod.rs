//! A block from a drawing made elsewhere, in SVG: its closed, filled outlines become patches, their colours become cloths.
//!
//! ```text
//! SVG ─▶ read (usvg: shapes in the drawing's units) ─▶ grid (scaled to the block, corners held to a grid) ─▶ cover (what lies on
//! top cuts what is beneath; what is left open is ground) ─▶ quilt (the design file, and what its checks say)
//! ```

mod cover;
mod grid;
mod outline;
mod quilt;
mod read;

#[cfg(test)]
mod tests;

pub use quilt::{Brought, Wanted, bring};
pub use read::MOST_BYTES;

/// Something to say of the drawing, in words of whoever made it.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Said {
    /// Stable code.
    pub code: String,
    /// Whether no quilt can be made of the drawing as it is.
    pub stop: bool,
    /// What is so.
    pub words: String,
    /// What would mend it.
    pub mend: String,
}

impl Said {
    fn stop(code: &str, words: impl Into<String>, mend: impl Into<String>) -> Said {
        Said {
            code: code.to_string(),
            stop: true,
            words: words.into(),
            mend: mend.into(),
        }
    }

    fn note(code: &str, words: impl Into<String>) -> Said {
        Said {
            code: code.to_string(),
            stop: false,
            words: words.into(),
            mend: String::new(),
        }
    }
}
