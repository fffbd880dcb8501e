//! Pictures brought in: of cloth, to be seen in the drawings; of a drawing, to be traced; of anything, for its colours. They are
//! decoded within bounds, made upright and small, and kept beside the design file under names that can be no path.

mod colours;
mod decode;
mod names;
mod tracing;
mod words;

pub use colours::{MainColour, main_colours};
pub use decode::{MOST_BYTES, Picture, PictureError, decode, measured};
pub use names::{fresh_name, is_picture_name};
pub use tracing::{Traced, Tracing};
pub use words::colour_words;
