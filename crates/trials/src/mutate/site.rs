//! A place of a pattern that can be altered, and an alteration of it.

use serde_json::Value;
use terms::FabricId;

/// What kind of thing a site holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A printed length.
    Size,
    /// The ruler's smallest mark.
    RulerMark,
    /// A coordinate of a template's corner.
    TemplateCorner,
    /// How many times, how many spare.
    Count,
    /// A coordinate of a printed sheet's corner.
    GuideCorner,
    /// An end of a stretch of a shape's outline.
    StretchEnd,
    /// The number of a shape on its sheet.
    ShapeNumber,
    /// The name of a sheet.
    GuideName,
    /// A coordinate of a card's corner.
    CardCorner,
    /// The name of a card.
    CardName,
    /// The number of a card's side.
    CardSide,
    /// What becomes of a shape's edge.
    ShapeEdge,
    /// Whether a template is laid on the wrong side.
    FromBack,
    /// The number of an edge.
    EdgeNumber,
    /// The number of a seam.
    SeamNumber,
    /// The number of the top's upper side.
    SideNumber,
    /// The number of a joint along a run.
    Joint,
    /// A slot.
    Slot,
    /// The name of a cloth.
    Fabric,
    /// The name of a kind of piece.
    Piece,
    /// The name of a kind of unit.
    Unit,
    /// The name of a drawn mark.
    MarkName,
    /// The name of a template.
    TemplateName,
    /// The name of a foundation paper.
    PaperName,
    /// The number of a printed line.
    LineNumber,
    /// Which way a seam is pressed.
    Press,
    /// How a piece lies in its strip.
    Turn,
    /// A ruler's angle.
    Angle,
    /// A print's direction.
    Print,
    /// Where a seam stops.
    Stop,
    /// Which diagonal.
    Rising,
    /// What a strip is kept whole for.
    Purpose,
    /// Whether a cloth has a right side.
    RightSide,
    /// Whether two pieces become one face.
    Join,
    /// How one end is placed or checked.
    End,
    /// Both ends of a lay, exchanged.
    Ends,
    /// What a part is taken from.
    Take,
    /// What a cut gives.
    Gives,
    /// Where stitches run.
    Path,
    /// What kind of line.
    Line,
    /// A whole step.
    Step,
    /// A whole part, as if it lay turned or turned over.
    PartTurned,
}

/// What a site belongs to; indices into the pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Home {
    /// The recipe as a whole.
    Header,
    /// A cloth's note.
    Fabric(usize),
    /// A piece's note.
    Piece(usize),
    /// A making: its name and counts.
    Make(usize),
    /// A part of a making.
    Part(usize, usize),
    /// A step of a making.
    Step(usize, usize),
    /// What a making gives.
    Give(usize),
    /// A cloth of the cutting plan: its width and squared end.
    Cloth(usize),
    /// A strip of the cutting plan.
    Strip(usize, usize),
    /// A template.
    Template(usize),
    /// A foundation paper.
    Paper(usize),
    /// A printed sheet.
    Guide(usize),
    /// A card.
    Card(usize),
    /// A cloth as bought.
    Bought(FabricId),
}

/// A place that can be altered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Site {
    /// JSON pointer into the pattern.
    pub path: String,
    /// What is there.
    pub kind: Kind,
    /// What it belongs to.
    pub home: Home,
}

impl Site {
    /// Whether `key` is one of the names on the way.
    pub fn passes(&self, key: &str) -> bool {
        self.path.split('/').any(|k| k == key)
    }

    /// The last name on the way that is not a number.
    pub fn key(&self) -> &str {
        self.path
            .rsplit('/')
            .find(|k| k.parse::<usize>().is_err())
            .unwrap_or_default()
    }

    /// The making it lies in.
    pub fn make(&self) -> Option<usize> {
        match self.home {
            Home::Make(m) | Home::Part(m, _) | Home::Step(m, _) | Home::Give(m) => Some(m),
            _ => None,
        }
    }
}

/// What is done at one place.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// A value is put where the pointer leads.
    Put(String, Value),
    /// The item of a list is left out.
    Drop(String),
    /// The item of a list stands there twice.
    Repeat(String),
    /// The item of a list and the next change places.
    Swap(String),
}

/// One alteration.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// In words: `+1/16 in`, `drop`.
    pub says: String,
    /// What is put where.
    pub edits: Vec<Edit>,
}

impl Change {
    /// One value put at a site.
    pub fn one(says: impl Into<String>, path: &str, value: Value) -> Self {
        Change {
            says: says.into(),
            edits: vec![Edit::Put(path.to_string(), value)],
        }
    }
}
