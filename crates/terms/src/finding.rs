//! Findings: what the checks have to say, as values until the edge of the program.

use crate::{FabricId, PieceId, StepId, UnitId};
use serde::Serialize;
use shape::Point;
use std::fmt;

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// Cannot be made as drawn, or is not proved.
    Stop,
    /// Can be made, with trouble.
    Care,
    /// Good to know.
    Note,
}

impl fmt::Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Severity::Stop => "stop",
            Severity::Care => "care",
            Severity::Note => "note",
        })
    }
}

/// What a finding is about.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    /// The quilt as a whole.
    Quilt,
    /// A place in the design file; line and column from 1.
    File {
        /// Line.
        line: u32,
        /// Column, in characters.
        column: u32,
    },
    /// A block, and where in it (inches, y up, from its lower left corner).
    Block {
        /// Its name.
        name: String,
        /// Patches concerned, indices from 0.
        patches: Vec<u32>,
        /// A place to point at.
        at: Option<Point>,
    },
    /// A place in the top (inches, y up, from its lower left corner).
    Top {
        /// Where.
        at: Point,
    },
    /// A fabric.
    Fabric(FabricId),
    /// A kind of cut piece.
    Piece(PieceId),
    /// A strip of the cutting plan (strips counted from 0 through the cloth).
    Strip {
        /// The cloth.
        fabric: FabricId,
        /// Which strip.
        strip: u32,
    },
    /// A kind of unit.
    Unit(UnitId),
    /// One action.
    Step(StepId),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Quilt => write!(f, "the quilt"),
            Place::File { line, column } => write!(f, "line {line}, column {column}"),
            Place::Block { name, patches, .. } => {
                write!(f, "block {name}")?;
                if !patches.is_empty() {
                    let word = if patches.len() == 1 { "patch" } else { "patches" };
                    write!(f, ", {word} {}", numbered_from_one(patches))?;
                }
                Ok(())
            }
            Place::Top { at } => write!(f, "the top at {:.2} in across, {:.2} in up", at.x, at.y),
            Place::Fabric(id) => write!(f, "fabric {id}"),
            Place::Piece(id) => write!(f, "piece {id}"),
            Place::Strip { fabric, strip } => write!(f, "fabric {fabric}, strip {}", strip + 1),
            Place::Unit(id) => write!(f, "unit {id}"),
            Place::Step(id) => write!(f, "{id}"),
        }
    }
}

/// Numbers counted from 1: 1, 3 to 5 and 8.
fn numbered_from_one(patches: &[u32]) -> String {
    let mut stretches: Vec<(u64, u64)> = Vec::new();
    for number in patches.iter().map(|&p| u64::from(p) + 1) {
        match stretches.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            _ => stretches.push((number, number)),
        }
    }
    // Two in a row are no stretch.
    let mut told: Vec<String> = Vec::new();
    for (first, last) in stretches {
        match last - first {
            0 => told.push(first.to_string()),
            1 => told.extend([first.to_string(), last.to_string()]),
            _ => told.push(format!("{first} to {last}")),
        }
    }
    match told.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// One thing a check has to say.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// Stable, kebab-case (`seam-trapped`); part of the program's interface.
    pub code: &'static str,
    /// How bad.
    pub severity: Severity,
    /// Where.
    pub place: Place,
    /// What is the matter, one sentence with its figures, in a maker's words.
    pub sentence: String,
    /// What to do about it.
    pub mend: String,
}

impl Finding {
    /// A stop finding.
    pub fn stop(code: &'static str, place: Place, sentence: impl Into<String>, mend: impl Into<String>) -> Self {
        Finding {
            code,
            severity: Severity::Stop,
            place,
            sentence: sentence.into(),
            mend: mend.into(),
        }
    }

    /// A care finding.
    pub fn care(code: &'static str, place: Place, sentence: impl Into<String>, mend: impl Into<String>) -> Self {
        Finding {
            severity: Severity::Care,
            ..Finding::stop(code, place, sentence, mend)
        }
    }

    /// A note finding.
    pub fn note(code: &'static str, place: Place, sentence: impl Into<String>, mend: impl Into<String>) -> Self {
        Finding {
            severity: Severity::Note,
            ..Finding::stop(code, place, sentence, mend)
        }
    }

    /// Whether it stops the work.
    pub fn is_stop(&self) -> bool {
        self.severity == Severity::Stop
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} [{}] {}: {}", self.severity, self.code, self.place, self.sentence)?;
        if !self.mend.is_empty() {
            write!(f, " {}", self.mend)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn patches_in_a_row_are_told_as_one() {
        assert_eq!(super::numbered_from_one(&[0]), "1");
        assert_eq!(super::numbered_from_one(&[3, 7]), "4 and 8");
        assert_eq!(super::numbered_from_one(&[0, 2, 3, 4, 7]), "1, 3 to 5 and 8");
        assert_eq!(super::numbered_from_one(&[0, 1, 8, 12]), "1, 2, 9 and 13");
    }
}
