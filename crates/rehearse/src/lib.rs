//! The virtual sewing table. It takes only a recipe with its cutting plan, does to plane cloth what they say, and holds
//! what comes off the table against the picture of the top. What every step means is laid down in `docs/recipe.md`; no
//! formula is shared with the rooms that plan.
//!
//! **What is proved** when [`rehearse`] answers with a [`Proof`]: every cut lies in the cloth that is bought and strips do
//! not overlap; all pieces of a kind are alike, edge for edge, and so are all units of a kind; laid edges are flush and
//! their ends and joints come out as printed, within 1/64 in; each stitch line goes through both layers from end to end,
//! a seam's width from the raw edges, and catches no other cloth; trims take off what they say; units measure what they
//! say; cloth reaches past every side of a card it is folded over, whipped edges meet corner on corner, and cards come out
//! when all their sides are sewn, as many as are told; what is cut and made is used up but for named spares; and the finished outline and every face agree with the
//! picture, corner to boundary both ways, within 1/64 in, each of its cloth, right side up, its print's up where one is
//! wanted, none missing and none too many. What is laid on a ground lies on cloth all over, on its printed line, with as much
//! cloth to turn under as is said, and is held against the picture apart, layer above layer.
//!
//! **What is not proved**: cloth here has no thickness and does not stretch, so bulk, stretch and pressing are left to
//! the maker; dog ears folded under are left out of account; and that the design file says what the designer meant.
//! That paper comes out of the printer true to scale is the maker's part too.
//!
//! **The error budget** ([`wobble`]) is many rehearsals on this table with a [`Maker`] whose hands stray; without hands nothing
//! is drawn and nothing changes.
//!
//! Each kind of unit is rehearsed once and counted as often as it is made. Nothing is copied while a unit is made: parts
//! move by links between frames, and a seam touches only the pieces along it.

mod alike_gives;
mod begun;
mod carried;
mod close;
mod compare;
mod curve;
mod cut;
mod cut_out;
mod ends;
mod film;
mod finish;
mod give;
mod ground;
mod hollow;
mod in_parts;
mod lay;
mod make;
mod maker;
mod open;
mod outline;
mod over_card;
mod paper;
mod parted;
mod piece;
mod pinned;
mod pivot;
mod pool;
mod rehearse;
mod resolve;
mod round;
mod round_sides;
mod scene;
mod section;
mod sew;
mod sub_cut;
mod table;
mod trim;
mod whip;
mod wobble;
mod words;
mod work;

pub use in_parts::{Issued, rehearse_in_parts};
pub use maker::Maker;
pub use rehearse::{Proof, rehearse, rehearse_and_film, scenes, scenes_by, scenes_while};
pub use scene::{LaidView, LayerView, MarkView, PaperView, PieceView, Segment, UnitScenes, WorkView};
pub use wobble::{Proposal, UnitWobble, Wobble, WobbleOptions, wobble};
