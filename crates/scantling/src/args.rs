//! The commands and their options.

use clap::{Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// From a drawn quilt to a pattern whose every number is computed and proved.
#[derive(Debug, Parser)]
#[command(name = "scantling", version, max_term_width = 100)]
pub struct Args {
    /// What to do; the workshop opens when nothing is said
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Begin a design: a small file with comments, ready to be changed
    New(NewArgs),
    /// Say what cannot be made as drawn, or only with trouble
    Check(CheckArgs),
    /// Show the plan: units, pieces and the cloth to buy
    Plan(PlanArgs),
    /// Cut and sew the pattern on the virtual table and compare the result with the drawing
    Rehearse(RehearseArgs),
    /// Write the booklet, the cut list and the recipe
    Write(WriteArgs),
    /// Explain a number: where each size comes from
    Why(WhyArgs),
    /// Every size of the quilt, planned and proved, and friendly sizes near it
    Sizes(SizesArgs),
    /// How the cloths work together: from dark to light, and what is hard to tell apart
    Cloths(CheckArgs),
    /// Open the workshop in the browser: draw, see it proved, hand it out
    Open(OpenArgs),
}

/// Options of `open`.
#[derive(Debug, Default, clap::Args)]
pub struct OpenArgs {
    /// The folder of quilts; one that is not there is made and gets the examples [default: Scantling in your home folder]
    pub folder: Option<PathBuf>,
    /// The port it listens at on this computer; 0 takes a free one
    #[arg(long, value_name = "N", default_value_t = 0)]
    pub port: u16,
    /// Do not open the browser, only say the address
    #[arg(long)]
    pub no_browser: bool,
}

/// What counts first where a unit can be made in several ways.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Prefer {
    /// The least cloth
    Cloth,
    /// The fewest steps
    Steps,
    /// Cut large and trimmed, so that small errors go
    Forgiving,
}

/// In which size and in which cloth a design is meant, and what counts first.
#[derive(Clone, Debug, Default, clap::Args)]
pub struct Chosen {
    /// In this size of the file; the file's default if not said
    #[arg(long, value_name = "NAME")]
    pub size: Option<String>,
    /// In this colourway of the file; the cloth as listed if not said
    #[arg(long, value_name = "NAME")]
    pub colorway: Option<String>,
    /// What counts first where a unit can be made in several ways, whatever the file says
    #[arg(long, value_name = "WHAT")]
    pub prefer: Option<Prefer>,
    /// Planned and written in this measure, whatever the file says; finished sizes stay as drawn
    #[arg(long, value_name = "MEASURE")]
    pub measure: Option<Ruled>,
}

/// In which measure a pattern is planned and written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Ruled {
    /// In inches
    Inch,
    /// In centimetres
    Metric,
}

/// Options of `new`.
#[derive(Debug, clap::Args)]
pub struct NewArgs {
    /// The design's name; the file becomes NAME.quilt.toml
    pub name: PathBuf,
    /// In centimetres instead of inches
    #[arg(long)]
    pub metric: bool,
}

/// Options of `check`.
#[derive(Debug, clap::Args)]
pub struct CheckArgs {
    /// The design file
    pub file: PathBuf,
    /// In which size, in which cloth, and what counts first
    #[command(flatten)]
    pub chosen: Chosen,
    /// As JSON
    #[arg(long)]
    pub json: bool,
}

/// Options of `plan`.
#[derive(Debug, clap::Args)]
pub struct PlanArgs {
    /// The design file
    pub file: PathBuf,
    /// As JSON: recipe, cutting, bought, whys, findings, the picture of the top, and the parts
    #[arg(long)]
    pub json: bool,
    /// For each kind of unit the ways it could be made in, and why one was chosen
    #[arg(long)]
    pub compare: bool,
    /// A list of cloth in hand, one piece a line, such as `night 40 in x 18 in`: does it suffice, and what to buy besides
    #[arg(long, value_name = "LIST", conflicts_with_all = ["json", "compare"])]
    pub stash: Option<PathBuf>,
    /// In which size, in which cloth, and what counts first
    #[command(flatten)]
    pub chosen: Chosen,
}

/// Options of `rehearse`.
#[derive(Debug, clap::Args)]
pub struct RehearseArgs {
    /// The design file
    pub file: PathBuf,
    /// As JSON
    #[arg(long)]
    pub json: bool,
    /// Rehearse this recipe file instead of the design's own plan
    #[arg(long, value_name = "RECIPE")]
    pub recipe: Option<PathBuf>,
    /// In which size, in which cloth, and what counts first
    #[command(flatten)]
    pub chosen: Chosen,
    /// Many times over with a maker whose cuts, seams and ends stray: how far out each unit comes, and where it adds up
    #[arg(long)]
    pub wobble: bool,
    /// Write what the budget proposes into the design file, as pins, where it is proved and pays
    #[arg(long, requires = "wobble", conflicts_with_all = ["recipe", "json"])]
    pub apply: bool,
    /// How many rehearsals
    #[arg(long, requires = "wobble", default_value_t = 100)]
    pub runs: u32,
    /// Where the draws begin; the same seed gives the same figures
    #[arg(long, requires = "wobble", default_value_t = 1)]
    pub seed: u64,
    /// Spread of a cut piece's size, in inches (millimetres in a metric design); 1/64 in if not said
    #[arg(long, requires = "wobble", value_name = "LENGTH")]
    pub cut_spread: Option<f64>,
    /// Spread of a seam's width; 1/64 in if not said
    #[arg(long, requires = "wobble", value_name = "LENGTH")]
    pub seam_spread: Option<f64>,
    /// By how much every seam is too wide; 0 if not said
    #[arg(long, requires = "wobble", value_name = "LENGTH", allow_negative_numbers = true)]
    pub seam_bias: Option<f64>,
    /// What the fold of a seam takes on each side; 0 if not said
    #[arg(long, requires = "wobble", value_name = "LENGTH", allow_negative_numbers = true)]
    pub fold: Option<f64>,
    /// Spread of how ends are placed; 1/64 in if not said
    #[arg(long, requires = "wobble", value_name = "LENGTH")]
    pub end_spread: Option<f64>,
    /// The difference the maker notices; 1/16 in if not said
    #[arg(long, requires = "wobble", value_name = "LENGTH")]
    pub eye: Option<f64>,
}

/// Options of `write`.
#[derive(Debug, clap::Args)]
pub struct WriteArgs {
    /// The design file
    pub file: PathBuf,
    /// The folder to write into; made if it is not there
    #[arg(long, value_name = "FOLDER")]
    pub out: PathBuf,
    /// For a left-handed maker: cutting pictures turned half round, cuts counted from the other end
    #[arg(long)]
    pub left_hand: bool,
    /// In large print
    #[arg(long)]
    pub large_print: bool,
    /// Only this part of the pattern, counted from 1: its pages, its cutting, its steps
    #[arg(long, value_name = "N")]
    pub part: Option<usize>,
    /// In which size, in which cloth, and what counts first
    #[command(flatten)]
    pub chosen: Chosen,
}

/// Options of `why`.
#[derive(Debug, clap::Args)]
pub struct WhyArgs {
    /// The design file
    pub file: PathBuf,
    /// A piece (A2), a unit or a fabric; without it, what can be asked about
    pub what: Option<String>,
    /// In which size, in which cloth, and what counts first
    #[command(flatten)]
    pub chosen: Chosen,
}

/// Options of `sizes`.
#[derive(Debug, clap::Args)]
pub struct SizesArgs {
    /// The design file
    pub file: PathBuf,
    /// As JSON
    #[arg(long)]
    pub json: bool,
}
