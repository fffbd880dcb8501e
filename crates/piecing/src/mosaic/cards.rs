//! The register of cards: patches of one outline, turned or not, are basted over cards of one name.

use measure::Printed;
use recipe::{Card, Make, Step, TemplateCorner};
use shape::{Line, Motion, Point, Polygon, Vector};

/// Corners this close are one card's, inches.
const ONE_CARD: f64 = 1.0 / 5000.0;

/// All cards in order of first use.
#[derive(Debug, Default)]
pub struct Cards {
    list: Vec<Known>,
}

#[derive(Debug)]
struct Known {
    /// With its lower left corner at the origin.
    outline: Polygon,
    flat: Vec<bool>,
}

/// The card of a patch: its name, and the patch's side on the card's side 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CardOf {
    /// The name.
    pub name: String,
    /// Which side of the patch is the card's first.
    pub first: usize,
}

impl CardOf {
    /// The card's number of a side of the patch.
    pub fn side(&self, side: usize, sides: usize) -> u32 {
        ((side + sides - self.first % sides) % sides) as u32
    }
}

impl Cards {
    /// The card for an outline with these sides left flat, met before or new; `None` for what has no sides.
    pub fn of(&mut self, outline: &Polygon, flat: &[bool]) -> Option<CardOf> {
        for (i, known) in self.list.iter().enumerate() {
            if let Some(first) = known.fits(outline, flat) {
                return Some(CardOf { name: name(i), first });
            }
        }
        let first = (0..flat.len()).find(|&i| flat[i]).unwrap_or(0);
        let onto = Line {
            through: Point::ORIGIN,
            along: Vector::new(1.0, 0.0),
        };
        let turned = Motion::line_to_line(outline.edge(first)?, onto, false).polygon(outline);
        let (low, _) = turned.bounds();
        let n = outline.len();
        let corners = (0..n)
            .map(|i| turned.corner(first + i) - (low - Point::ORIGIN))
            .collect();
        self.list.push(Known {
            outline: Polygon::new(corners),
            flat: (0..n).map(|i| flat[(first + i) % n]).collect(),
        });
        Some(CardOf {
            name: name(self.list.len() - 1),
            first,
        })
    }

    /// As printed, with how many are used and wanted at once; what no making uses is left out.
    pub fn printed(&self, makes: &[Make]) -> Vec<Card> {
        let each = self.list.iter().enumerate().filter_map(|(i, known)| {
            let corner = |p: &Point| {
                Some(TemplateCorner {
                    right: Printed::nearest(p.x)?,
                    up: Printed::nearest(p.y)?,
                })
            };
            let (uses, cut) = counts(&name(i), makes);
            Some(Card {
                name: name(i),
                corners: known.outline.corners().iter().map(corner).collect::<Option<_>>()?,
                flat: (0..known.flat.len() as u32)
                    .filter(|&s| known.flat[s as usize])
                    .collect(),
                uses: u32::try_from(uses).ok().filter(|&u| u > 0)?,
                cut: u32::try_from(cut).ok()?,
            })
        });
        each.collect()
    }
}

impl Known {
    /// The side of an outline that lies on the card's side 0, if it is this card's outline.
    fn fits(&self, outline: &Polygon, flat: &[bool]) -> Option<usize> {
        let n = self.outline.len();
        if outline.len() != n {
            return None;
        }
        let onto = self.outline.edge(0)?;
        (0..n).find(|&first| {
            let Some(from) = outline.edge(first) else { return false };
            let motion = Motion::line_to_line(from, onto, false);
            (0..n).all(|i| {
                let near = motion.point(outline.corner(first + i)).distance(self.outline.corner(i)) <= ONE_CARD;
                near && flat[(first + i) % n] == self.flat[i]
            })
        })
    }
}

fn name(number: usize) -> String {
    (number + 1).to_string()
}

/// How often a card is used, and how many are in cloth at the fullest moment.
fn counts(card: &str, makes: &[Make]) -> (i64, i64) {
    let (mut uses, mut kept, mut fullest) = (0_i64, 0_i64, 0_i64);
    for make in makes {
        let times = i64::from(make.times);
        let (mut more, mut most) = (0_i64, 0_i64);
        for step in &make.steps {
            match step {
                Step::Baste { card: used, .. } if used == card => {
                    uses += times;
                    more += 1;
                }
                Step::TakeOut { cards, .. } => {
                    more -= cards
                        .iter()
                        .filter(|c| c.card == card)
                        .map(|c| i64::from(c.count))
                        .sum::<i64>();
                }
                _ => {}
            }
            most = most.max(more);
        }
        // The first time round is the fullest, or the last where each time leaves more in cloth than it found.
        let last = kept + more.max(0) * (times - 1).max(0);
        fullest = fullest.max(last + most);
        kept += more * times;
    }
    (uses, fullest)
}
