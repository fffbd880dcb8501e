//! The register of cut pieces: same shape, same cloth, same way round: one kind.

use crate::mosaic::Cards;
use crate::motif::is_centred;
use crate::settings::Settings;
use measure::{PRINTED_PER_LENGTH, Printed};
use recipe::{Demand, DemandShape, PieceNote, Size, Template, TemplateCorner, Turn};
use shape::Polygon;
use std::collections::BTreeMap;
use terms::{FabricId, PieceId};

/// One kind of piece.
#[derive(Clone, Debug)]
pub struct Kind {
    /// Its name: a letter for the shape, a number for the cloth.
    pub id: PieceId,
    /// Its cloth.
    pub fabric: FabricId,
    /// What to cut.
    pub shape: DemandShape,
    /// How it may lie.
    pub turns: Vec<Turn>,
    /// The finished patch, when the shape is handed.
    pub handed: Option<Polygon>,
}

/// All kinds of piece, in order of first use.
#[derive(Debug, Default)]
pub struct Pieces {
    kinds: Vec<Kind>,
    known: BTreeMap<String, usize>,
    letters: BTreeMap<String, (usize, usize)>,
    /// The prints met so far, by how many corners they have and the cell their corners' sum lies in.
    prints: BTreeMap<(usize, i64), Vec<Template>>,
    /// The cards that mosaics are basted over.
    pub cards: Cards,
}

/// Prints whose corners agree within this are one: a third drawn with four decimals is the third drawn with five.
const ONE_PRINT: i64 = PRINTED_PER_LENGTH / 2;

impl Pieces {
    /// The kind for this demand, met before or new.
    pub fn of(
        &mut self,
        shape: DemandShape,
        fabric: &FabricId,
        turns: Vec<Turn>,
        finished: Option<&Polygon>,
    ) -> PieceId {
        let shape = match shape {
            DemandShape::Template { template } => DemandShape::Template {
                template: self.one_print(template),
            },
            other => other,
        };
        let form = form(&shape);
        let key = format!("{form} {fabric} {turns:?}");
        if let Some(&i) = self.known.get(&key) {
            return self.kinds[i].id.clone();
        }
        let next = self.letters.len();
        let entry = self.letters.entry(form).or_insert((next, 0));
        entry.1 += 1;
        let id = PieceId(format!("{}{}", letters(entry.0), entry.1));
        self.known.insert(key, self.kinds.len());
        let mut shape = shape;
        if let DemandShape::Template { template } = &mut shape {
            template.name = letters(entry.0);
        }
        let handed = finished
            .filter(|p| shape::congruence::is_handed(p, shape::WELD))
            .cloned();
        self.kinds.push(Kind {
            id: id.clone(),
            fabric: fabric.clone(),
            shape,
            turns,
            handed,
        });
        id
    }

    /// The shape of a kind.
    pub fn shape(&self, id: &PieceId) -> Option<&DemandShape> {
        self.kinds.iter().find(|kind| &kind.id == id).map(|kind| &kind.shape)
    }

    /// The first print met that is alike within [`ONE_PRINT`], corner by corner; else this one.
    fn one_print(&mut self, template: Template) -> Template {
        let corners = template.corners.len();
        let sum: i64 = template.corners.iter().map(|c| c.right.units() + c.up.units()).sum();
        // The sums of prints that are one differ by no more than a cell.
        let cell = sum.div_euclid(2 * corners.max(1) as i64 * ONE_PRINT);
        let near = |a: Printed, b: Printed| (a - b).units().abs() <= ONE_PRINT;
        let all_near = |a: &[TemplateCorner], b: &[TemplateCorner]| {
            let mut pairs = a.iter().zip(b);
            a.len() == b.len() && pairs.all(|(a, b)| near(a.right, b.right) && near(a.up, b.up))
        };
        let alike = |known: &&Template| {
            let bows = known.bows.iter().zip(&template.bows);
            all_near(&known.corners, &template.corners)
                && known.bows.len() == template.bows.len()
                && bows
                    .into_iter()
                    .all(|(a, b)| a.edge == b.edge && all_near(&a.through, &b.through))
                && all_near(&known.marks, &template.marks)
                && match (&known.applique, &template.applique) {
                    (None, None) => true,
                    (Some(a), Some(b)) => a.from_back == b.from_back && all_near(&a.line, &b.line),
                    _ => false,
                }
        };
        let found = [cell, cell - 1, cell + 1]
            .iter()
            .find_map(|&cell| self.prints.get(&(corners, cell))?.iter().find(alike));
        if let Some(known) = found {
            return known.clone();
        }
        self.prints.entry((corners, cell)).or_default().push(template.clone());
        template
    }

    /// A rectangle without a print to mind, named with its long side first whichever way it lies in the unit; with
    /// the number of the edge on each of its sides, `width` being side 0.
    pub fn rectangle(&mut self, width: Size, height: Size, fabric: &FabricId) -> (PieceId, [u32; 4]) {
        let turns = vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];
        if width.len >= height.len {
            (
                self.of(DemandShape::Rectangle { width, height }, fabric, turns, None),
                [0, 1, 2, 3],
            )
        } else {
            let shape = DemandShape::Rectangle {
                width: height,
                height: width,
            };
            (self.of(shape, fabric, turns, None), [3, 0, 1, 2])
        }
    }

    /// What to ask of the cutting, and what to note in the recipe, given how many of each are sewn.
    pub fn demands(&self, used: &BTreeMap<PieceId, u64>, settings: &Settings) -> (Vec<Demand>, Vec<PieceNote>) {
        let mut demands = Vec::new();
        let mut notes = Vec::new();
        let twins = Twins::of(&self.kinds);
        for kind in &self.kinds {
            let sewn = used.get(&kind.id).copied().unwrap_or(0);
            if sewn == 0 {
                continue;
            }
            let spare = (sewn as f64 * settings.spare - 1.0e-9).ceil().max(0.0) as u64;
            let count = u32::try_from(sewn + spare).unwrap_or(u32::MAX);
            demands.push(Demand {
                piece: kind.id.clone(),
                fabric: kind.fabric.clone(),
                count,
                shape: kind.shape.clone(),
                turns: kind.turns.clone(),
            });
            notes.push(PieceNote {
                piece: kind.id.clone(),
                fabric: kind.fabric.clone(),
                label: if is_centred(&kind.shape, &kind.fabric, settings) {
                    recipe::ROUND_ITS_MOTIF.to_string()
                } else {
                    label(kind)
                },
                spare: u32::try_from(spare).unwrap_or(u32::MAX),
                twin: twins.of_kind(&self.kinds, kind),
            });
        }
        (demands, notes)
    }
}

/// The handed kinds by area: twins are of one size.
struct Twins {
    by_area: Vec<(f64, usize)>,
}

impl Twins {
    fn of(kinds: &[Kind]) -> Self {
        let area = |(i, kind): (usize, &Kind)| Some((kind.handed.as_ref()?.signed_area(), i));
        let mut by_area: Vec<(f64, usize)> = kinds.iter().enumerate().filter_map(area).collect();
        by_area.sort_by(|a, b| a.0.total_cmp(&b.0));
        Twins { by_area }
    }

    /// The first kind that is the mirror image of this one, of its own cloth if there is one.
    fn of_kind(&self, kinds: &[Kind], kind: &Kind) -> Option<PieceId> {
        let mine = kind.handed.as_ref()?;
        let n = mine.len();
        let round: f64 = (0..n).map(|i| mine.corner(i).distance(mine.corner(i + 1))).sum();
        // Corners that agree within a weld give areas that agree within a weld all round; twice that, to be safe.
        let (area, room) = (mine.signed_area(), 2.0 * shape::WELD * (round + n as f64 * shape::WELD));
        let start = self.by_area.partition_point(|&(a, _)| a < area - room);
        let is_twin = |i: usize| {
            kinds[i].handed.as_ref().is_some_and(|theirs| {
                shape::congruence::alike(mine, theirs, shape::WELD) == Some(shape::congruence::Alike::Twin)
            })
        };
        self.by_area[start..]
            .iter()
            .take_while(|&&(a, _)| a <= area + room)
            .filter(|&&(_, i)| is_twin(i))
            .map(|&(_, i)| (kinds[i].fabric != kind.fabric, i))
            .min()
            .map(|(_, i)| kinds[i].id.clone())
    }
}

fn label(kind: &Kind) -> String {
    match &kind.shape {
        DemandShape::Rectangle { width, height } if width.len == height.len => "square",
        DemandShape::Rectangle { .. } => "rectangle",
        DemandShape::Half { width, height, .. } if width.len == height.len => "half of a square",
        DemandShape::Half { .. } => "half of a rectangle",
        DemandShape::Quarter { .. } => "quarter of a square",
        DemandShape::Slant { lower, upper, .. } if lower.len.units() == 0 || upper.len.units() == 0 => "triangle",
        DemandShape::Slant {
            lower,
            upper,
            ruler: Some(_),
            ..
        } if lower.len == upper.len => "diamond",
        DemandShape::Slant { ruler: Some(_), .. } => "wedge",
        DemandShape::Slant { .. } => "leaning piece",
        DemandShape::Shaped { .. } => "shaped piece",
        DemandShape::Template { template } if template.applique.is_some() => "applique piece",
        DemandShape::Template { .. } => "template piece",
    }
    .to_string()
}

/// The figures of a shape without their reasons: what makes two kinds one.
fn form(shape: &DemandShape) -> String {
    match shape {
        DemandShape::Rectangle { width, height } => format!("r {} {}", width.len.units(), height.len.units()),
        DemandShape::Half { width, height, rising } => {
            format!("h {} {} {rising}", width.len.units(), height.len.units())
        }
        DemandShape::Quarter { side } => format!("q {}", side.len.units()),
        DemandShape::Slant {
            height,
            lower,
            upper,
            lead,
            ruler,
        } => {
            format!(
                "s {} {} {} {} {:?}",
                height.len.units(),
                lower.len.units(),
                upper.len.units(),
                lead.units(),
                ruler.map(|r| (r.angle, r.across.map(|a| a.len.units())))
            )
        }
        DemandShape::Shaped { width, height, cuts } => {
            let cuts: Vec<String> = cuts
                .iter()
                .map(|c| {
                    let dot = |d: &recipe::Dot| format!("{}/{}", d.from_left.len.units(), d.from_lower.len.units());
                    format!("{}-{}+{}", dot(&c.from), dot(&c.to), c.past.len.units())
                })
                .collect();
            format!("d {} {} {}", width.len.units(), height.len.units(), cuts.join(" "))
        }
        DemandShape::Template { template } => {
            let places = |all: &[TemplateCorner]| {
                let all: Vec<String> = all
                    .iter()
                    .map(|c| format!("{}/{}", c.right.units(), c.up.units()))
                    .collect();
                all.join(" ")
            };
            let bows: Vec<String> = (template.bows.iter())
                .map(|bow| format!(" b{} {}", bow.edge, places(&bow.through)))
                .collect();
            let laid = (template.applique.as_ref())
                .map_or(String::new(), |a| format!(" laid {} {}", a.from_back, places(&a.line)));
            let marks = places(&template.marks);
            format!("t {}{} m {marks}{laid}", places(&template.corners), bows.concat())
        }
    }
}

/// A, B … Z, AA, AB …
pub fn letters(mut index: usize) -> String {
    let mut text = Vec::new();
    loop {
        text.push(b'A' + (index % 26) as u8);
        if index < 26 {
            break;
        }
        index = index / 26 - 1;
    }
    text.reverse();
    String::from_utf8_lossy(&text).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn triangle(pieces: &mut Pieces, right: f64) -> PieceId {
        let corners = [(0.0, 0.0), (right, 0.0), (0.0, 2.0)]
            .map(|(x, y)| TemplateCorner {
                right: Printed::nearest(x).unwrap_or_default(),
                up: Printed::nearest(y).unwrap_or_default(),
            })
            .to_vec();
        let template = Template {
            corners,
            ..Template::default()
        };
        let shape = DemandShape::Template { template };
        pieces.of(shape, &FabricId::new("foam"), vec![Turn::As], None)
    }

    #[test]
    fn a_print_drawn_with_one_decimal_more_is_the_same_print() {
        let mut pieces = Pieces::default();
        let third = triangle(&mut pieces, 10.0 / 3.0);
        assert_eq!(triangle(&mut pieces, 3.3333), third);
        assert_eq!(triangle(&mut pieces, 3.33337), third);
        // 1/5000 in: three times what still is one
        assert_ne!(triangle(&mut pieces, 10.0 / 3.0 + 0.0002), third);
        assert_eq!(pieces.kinds.len(), 2);
    }

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!(super::letters(0), "A");
        assert_eq!(super::letters(25), "Z");
        assert_eq!(super::letters(26), "AA");
        assert_eq!(super::letters(701), "ZZ");
        assert_eq!(super::letters(702), "AAA");
    }
}
