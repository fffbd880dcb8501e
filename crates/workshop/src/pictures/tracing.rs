//! Which picture lies beneath which block, to be traced, and how it lies: the workshop's own, no part of the design.

use crate::file::put_whole;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::Path;

/// Largest file that is read.
const MOST_BYTES: u64 = 1024 * 1024;

/// A picture beneath a block.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Traced {
    /// Its file beside the design's.
    pub picture: String,
    /// Its left side from the block's, inches.
    pub left: f64,
    /// Its upper side from the block's, inches, y down.
    pub top: f64,
    /// Its width, inches; its height follows from its pixels.
    pub width: f64,
    /// How thickly the cloth lies over it, from 0 to 1.
    pub cloth: f64,
}

impl Traced {
    /// Whether it can be shown: a picture's name, numbers within reason.
    pub fn sound(&self) -> bool {
        super::is_picture_name(&self.picture)
            && [self.left, self.top].iter().all(|v| v.abs() <= 1000.0)
            && (0.01..=1000.0).contains(&self.width)
            && (0.0..=1.0).contains(&self.cloth)
    }
}

/// The pictures beneath a quilt's blocks, by the blocks' names.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Tracing(pub BTreeMap<String, Traced>);

impl Tracing {
    /// Reads them; what is not there or cannot be read is none.
    pub fn read(place: &Path) -> Tracing {
        if !fs::metadata(place).is_ok_and(|about| about.len() <= MOST_BYTES) {
            return Tracing::default();
        }
        let mut tracing: Tracing = fs::read(place)
            .ok()
            .and_then(|bytes| serde_json::from_slice(&bytes).ok())
            .unwrap_or_default();
        tracing.0.retain(|_, traced| traced.sound());
        tracing
    }

    /// Keeps them.
    ///
    /// # Errors
    /// What the system says.
    pub fn keep(&self, place: &Path) -> io::Result<()> {
        if let Some(folder) = place.parent() {
            fs::create_dir_all(folder)?;
        }
        put_whole(place, &serde_json::to_vec_pretty(self).map_err(io::Error::other)?)
    }
}
