//! Outside checks of the whole way: small designs of our own drawing, planned, read back from the recipe and the
//! cutting plan, rehearsed, and held against published figures. Each check names its source beside it; the tables under
//! tests/outside/data name theirs in the first line.
#![allow(clippy::unwrap_used)] // A test may stop.

#[path = "published/angled.rs"]
mod angled;
#[path = "published/areas.rs"]
mod areas;
#[path = "published/at_angle.rs"]
mod at_angle;
#[path = "published/blocks.rs"]
mod blocks;
#[path = "published/borders.rs"]
mod borders;
#[path = "published/collection.rs"]
mod collection;
#[path = "published/contradicted.rs"]
mod contradicted;
#[path = "published/drawn.rs"]
mod drawn;
#[path = "published/lists.rs"]
mod lists;
#[path = "published/many_at_once.rs"]
mod many_at_once;
#[path = "published/setting.rs"]
mod setting;
#[path = "published/shapes.rs"]
mod shapes;
#[path = "published/tables.rs"]
mod tables;
#[path = "published/traditional.rs"]
mod traditional;
