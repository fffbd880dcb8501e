//! Templates, only where the plan uses them.

use super::Desk;
use super::shopping::heading;
use crate::model::{Block, Section, Text};
use crate::pictures::template_pages;
use crate::plural::listed;
use recipe::{Gives, Strip};
use terms::Severity;

pub(super) fn templates(desk: &Desk) -> Vec<Section> {
    let cutting = &desk.source.pattern.cutting;
    let mut sections = Vec::new();
    for template in &cutting.templates {
        let mut pieces = Vec::new();
        for strip in cutting.cloths.iter().flat_map(|c| &c.strips) {
            users(strip, &template.name, &mut pieces);
        }
        pieces.sort();
        pieces.dedup();
        let seam = desk.source.pattern.recipe.seam.inches();
        let words = if pieces.is_empty() {
            String::new()
        } else {
            format!("for {}", listed(&pieces))
        };
        let pages = template_pages(template, seam, &words, desk.edition.paper);
        let many = pages.len();
        if pages.is_empty() {
            let text = format!(
                "Template {} is too large to print on sheets of this size; make the block smaller, or draw the template from the design.",
                template.name
            );
            sections.push(Section {
                name: "templates".into(),
                blocks: vec![
                    heading(1, "Templates"),
                    Block::Finding {
                        severity: Severity::Care,
                        text,
                    },
                ],
            });
        }
        for (i, page) in pages.into_iter().enumerate() {
            let title = if many > 1 {
                format!("Template {}, sheet {} of {many}", template.name, i + 1)
            } else {
                format!("Template {}", template.name)
            };
            let mut text = Text::of(
                "Print at 100 %, without fitting to the page. Measure both test squares before you cut. The solid line is the cut edge, ",
            )
            .say(match &template.applique {
                None => "the dashes the seam, the arrow the cloth's length. Lay it on the right side of the cloth.",
                Some(laid) if laid.from_back => {
                    "the dashes the finished edge, the arrow the cloth's length. It is printed reversed: it is traced on the wrong side of the cloth."
                }
                Some(_) => "the dashes the finished edge, the arrow the cloth's length. Lay it on the right side of the cloth.",
            });
            if !template.marks.is_empty() {
                text = text.say(" Mark the dots on the wrong side of the cloth: they are pinned on one another.");
            }
            if many > 1 {
                text = text.say(" Tape the sheets together on the thin frames, letter on letter.");
            }
            sections.push(Section {
                name: "templates".into(),
                blocks: vec![heading(1, &title), Block::Paragraph(text), Block::TrueScale(page)],
            });
        }
    }
    sections
}

fn users(strip: &Strip, name: &str, pieces: &mut Vec<String>) {
    for cut in strip.runs.iter().flat_map(|r| &r.cuts) {
        if let Gives::Template { piece, template } = &cut.gives
            && template == name
        {
            pieces.push(piece.piece.0.clone());
        }
    }
    strip.rest.iter().for_each(|r| users(r, name, pieces));
}
