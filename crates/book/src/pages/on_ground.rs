//! Pieces laid on a ground and stitched down: the steps shape by shape, and the placement sheets to print.

use super::Desk;
use super::bench::Bench;
use super::shopping::heading;
use crate::model::{Block, Section, Text};
use crate::pictures::{ground_so_far, guide_pages};
use crate::words::step_sentence;
use recipe::{ShapeEdge, Step};
use terms::Severity;

impl Bench<'_> {
    /// Whether pieces are laid on a ground in this making.
    pub(super) fn is_on_ground(&self) -> bool {
        self.make.steps.iter().any(|s| matches!(s, Step::StitchDown { .. }))
    }

    /// All steps of such a making but its checks: how the pieces are readied, the sheet, then shape by shape.
    pub(super) fn on_ground(&self, blocks: &mut Vec<Block>) {
        let recipe = &self.desk.source.pattern.recipe;
        let edges: Vec<ShapeEdge> = (self.make.steps.iter())
            .filter_map(|step| match step {
                Step::StitchDown { edge, .. } => Some(*edge),
                _ => None,
            })
            .collect();
        blocks.push(self.step(1, ready(&edges), None));
        let mut number = 1;
        for (i, step) in self.make.steps.iter().enumerate() {
            if !matches!(step, Step::Guide { .. } | Step::StitchDown { .. }) {
                continue;
            }
            number += 1;
            let mut sentences = Vec::new();
            if let Step::StitchDown { piece, .. } = step {
                sentences.push(Text::of("Take ").strong(self.names.name(*piece)).say("."));
            }
            sentences.push(step_sentence(step, self.names, recipe));
            blocks.push(self.step(number, sentences, Some(i)));
        }
        let behind = "Where the ground is to lie flat or will be quilted by hand, its cloth behind a large shape may be cut away, \
                      a seam's width inside the stitches. Not with raw edges: those need the ground.";
        if edges.iter().any(|edge| matches!(edge, ShapeEdge::Turned { .. })) {
            blocks.push(Block::Paragraph(Text::new().soft(behind)));
        }
    }

    fn step(&self, number: u32, sentences: Vec<Text>, at: Option<usize>) -> Block {
        let picture = self.scenes.zip(self.pictures.as_ref()).and_then(|(scenes, pictures)| {
            ground_so_far(
                pictures,
                scenes.after.get(at?)?,
                "The ground with what lies on it so far",
            )
        });
        Block::Step {
            number: Some(number),
            sentences,
            pictures: picture.into_iter().map(|p| p.captioned("So far")).collect(),
            wide: self.long,
        }
    }
}

/// How the pieces are readied, for the edges that occur.
fn ready(edges: &[ShapeEdge]) -> Vec<Text> {
    let mut all = Vec::new();
    if edges.iter().any(|edge| matches!(edge, ShapeEdge::Turned { .. })) {
        all.push(Text::of(
            "Pieces with a turned edge: draw the dashed line of the template on the right side and cut on the solid one. Clip into \
             hollow curves and corners, not quite to the line.",
        ));
        all.push(Text::of(
            "Turn the edge with the needle as you go, or press it over a shape of freezer paper cut on the dashed line, which comes out \
             before the last stitches. An edge that another shape covers stays flat.",
        ));
    }
    if edges.contains(&ShapeEdge::Raw) {
        all.push(Text::of(
            "Pieces with a raw edge: their templates are printed reversed. Trace them on the paper side of fusible web, fuse it to the \
             wrong side of the cloth, then cut on the line.",
        ));
        all.push(Text::of(
            "Iron by the maker's instructions; keep the web's glue off the iron and mind the hot plate.",
        ));
    }
    all
}

/// The placement sheets, each at true scale.
pub(super) fn sheets(desk: &Desk) -> Vec<Section> {
    let mut sections = Vec::new();
    for guide in &desk.source.pattern.cutting.guides {
        let name = guide.name.replace('-', " ");
        let pages = guide_pages(guide, desk.edition.paper);
        let many = pages.len();
        if pages.is_empty() {
            let text = format!(
                "The placement sheet of {name} is too large to print on sheets of this size; enlarge it from the design."
            );
            sections.push(Section {
                name: "placement".into(),
                blocks: vec![
                    heading(1, "Placement"),
                    Block::Finding {
                        severity: Severity::Care,
                        text,
                    },
                ],
            });
        }
        for (i, page) in pages.into_iter().enumerate() {
            let title = if many > 1 {
                format!("Placement of {name}, sheet {} of {many}", i + 1)
            } else {
                format!("Placement of {name}")
            };
            let mut text = Text::of(
                "Print at 100 %, without fitting to the page, and measure both test squares. The dashes are the finished outline of the ground, \
                 the dots its middle creases, each line a shape's finished edge with its number in the order of stitching.",
            );
            if many > 1 {
                text = text.say(" Tape the sheets together on the thin frames, letter on letter.");
            }
            sections.push(Section {
                name: "placement".into(),
                blocks: vec![heading(1, &title), Block::Paragraph(text), Block::TrueScale(page)],
            });
        }
    }
    sections
}
