//! What is to be handed out: chosen sizes, cloths, measures, parts and prints, and the list of files that makes.

use super::export::{Export, Print};
use crate::file::Refused;
use design::Design;
use measure::Measure;
use std::collections::BTreeSet;

/// Most files of one order: more than any class or shop asks for, and some hours of work.
const MOST_FILES: usize = 2000;

/// Where it goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Destination {
    /// One file to download.
    #[default]
    Zip,
    /// A folder beside the quilt.
    Folder,
}

/// A design in one size, one cloth and one measure.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Variant {
    /// The size's name.
    pub size: String,
    /// The colourway's name; the cloth as listed when there is none.
    pub colorway: Option<String>,
    /// In centimetres.
    pub metric: bool,
}

impl Variant {
    /// The design so; `None` when it has no such size or colourway.
    pub fn design(&self, whole: &Design) -> Option<Design> {
        let mut design = whole.at_size(&self.size)?;
        if let Some(name) = &self.colorway {
            design = design.in_colorway(name)?;
        }
        let wanted = if self.metric { Measure::Metric } else { Measure::Inch };
        Some(if design.quilt.measure == wanted {
            design
        } else {
            design.in_measure(wanted)
        })
    }

    /// Its folder. No name in a file has an underscore, so the cloth as listed is no colourway's.
    pub fn folder(&self) -> String {
        let cloth = self.colorway.as_deref().unwrap_or("as_listed");
        format!("{}/{cloth}/{}", self.size, if self.metric { "metric" } else { "inch" })
    }

    /// In words.
    pub fn words(&self) -> String {
        let cloth = self.colorway.as_deref().unwrap_or("the cloth as listed");
        let measure = if self.metric { "centimetres" } else { "inches" };
        format!("size {}, {cloth}, {measure}", self.size)
    }
}

/// One file of an order.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Entry {
    /// Of what.
    pub variant: Variant,
    /// Of which part, from 1; of the whole when there is none.
    pub part: Option<usize>,
    /// Which.
    pub export: Export,
    /// For whom.
    pub print: Print,
}

impl Entry {
    /// Its path in the zip or the folder, with `/` between.
    pub fn path(&self) -> String {
        let part = self.part.map_or(String::new(), |number| format!("part-{number}/"));
        let file = self.export.file();
        let (stem, ending) = file.rsplit_once('.').unwrap_or((file, ""));
        format!("{}/{part}{stem}{}.{ending}", self.variant.folder(), self.print.mark())
    }
}

/// What is to be handed out; every list holds something, each thing once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    /// The files, by variant.
    pub entries: Vec<Entry>,
    /// Where they go.
    pub to: Destination,
}

impl Order {
    /// Reads an order from a form's names and values: `size`, `colorway` (empty: as listed), `measure` (`inch`, `metric`), `part` (`whole`
    /// or its number), `hand` (`right`, `left`), `print` (`usual`, `large`), `file`, each as often as wanted; `to` (`zip`, `folder`).
    /// What is not said is the file's own: its default size, its measure, the cloth as listed, the whole, the right hand, all files.
    ///
    /// # Errors
    /// When something is chosen that is not there, or it would be more files than are made at once.
    pub fn of_form(design: &Design, form: &[(String, String)]) -> Result<Order, Refused> {
        let chosen = |key: &str, usual: &str| -> BTreeSet<String> {
            let all: BTreeSet<String> = form.iter().filter(|(k, _)| k == key).map(|(_, v)| v.clone()).collect();
            if all.is_empty() {
                BTreeSet::from([usual.to_string()])
            } else {
                all
            }
        };
        let known = ["size", "colorway", "measure", "part", "hand", "print", "file", "to"];
        if let Some((key, _)) = form.iter().find(|(key, _)| !known.contains(&key.as_str())) {
            return Err(not_there("choice", key));
        }
        let own = match design.quilt.measure {
            Measure::Inch => "inch",
            Measure::Metric => "metric",
        };
        let mut variants = BTreeSet::new();
        for size in chosen("size", design.default_size()) {
            for colorway in chosen("colorway", "") {
                for measure in chosen("measure", own) {
                    let variant = Variant {
                        size: size.clone(),
                        colorway: (!colorway.is_empty()).then(|| colorway.clone()),
                        metric: one_of("measure", &measure, ["inch", "metric"])?,
                    };
                    if !design.size_names().contains(&size.as_str()) {
                        return Err(not_there("size", &size));
                    }
                    if !colorway.is_empty() && !design.colorways.iter().any(|c| c.name == colorway) {
                        return Err(not_there("colourway", &colorway));
                    }
                    variants.insert(variant);
                }
            }
        }
        let parts = (chosen("part", "whole").iter())
            .map(|part| match part.as_str() {
                "whole" => Ok(None),
                number => match number.parse() {
                    Ok(number) if number >= 1 => Ok(Some(number)),
                    _ => Err(not_there("part", number)),
                },
            })
            .collect::<Result<BTreeSet<Option<usize>>, Refused>>()?;
        let mut prints = BTreeSet::new();
        for hand in chosen("hand", "right") {
            for print in chosen("print", "usual") {
                prints.insert(Print {
                    left_handed: one_of("hand", &hand, ["right", "left"])?,
                    large: one_of("print", &print, ["usual", "large"])?,
                });
            }
        }
        let all_files = Export::ALL.map(|export| ("file".to_string(), export.file().to_string()));
        let named = form.iter().any(|(key, _)| key == "file");
        let exports = (if named { form } else { &all_files[..] }.iter())
            .filter(|(key, _)| key == "file")
            .map(|(_, file)| Export::of_file(file).ok_or_else(|| not_there("file", file)))
            .collect::<Result<BTreeSet<Export>, Refused>>()?;
        let to = match one_of(
            "to",
            form.iter().rev().find(|(k, _)| k == "to").map_or("zip", |(_, v)| v),
            ["zip", "folder"],
        )? {
            false => Destination::Zip,
            true => Destination::Folder,
        };
        let count = (variants.len().saturating_mul(parts.len())).saturating_mul(exports.len() * prints.len());
        if count > MOST_FILES {
            return Err(Refused::new(
                "too-many-files",
                format!(
                    "That would be {count} files, and at most {MOST_FILES} are made at once. Choose fewer sizes, colourways or parts."
                ),
            ));
        }
        let mut entries = Vec::new();
        for variant in &variants {
            for part in &parts {
                for export in exports.iter().filter(|e| part.is_none() || e.is_of_part()) {
                    for print in &prints {
                        if export.is_set() || print == prints.first().unwrap_or(print) {
                            entries.push(Entry {
                                variant: variant.clone(),
                                part: *part,
                                export: *export,
                                print: if export.is_set() { *print } else { Print::default() },
                            });
                        }
                    }
                }
            }
        }
        if entries.is_empty() {
            return Err(Refused::new(
                "nothing-chosen",
                "The parts chosen have no file of this kind. Choose the whole as well, or another file.",
            ));
        }
        Ok(Order { entries, to })
    }
}

/// Whether it is the second of two words.
fn one_of(key: &str, value: &str, words: [&str; 2]) -> Result<bool, Refused> {
    words
        .iter()
        .position(|word| *word == value)
        .map(|at| at == 1)
        .ok_or_else(|| not_there(key, value))
}

fn not_there(what: &str, value: &str) -> Refused {
    let shown: String = value.chars().take(60).collect();
    Refused::new("no-such-choice", format!("There is no {what} \"{shown}\" to hand out."))
}
