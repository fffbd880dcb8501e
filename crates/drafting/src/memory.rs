//! What was planned last, for whoever drafts one version of a design after another.

use design::{Design, Sheet};
use piecing::{Planned, Settings, plan_sheet, settings_of};
use terms::Finding;

/// The last plan beside everything it was made from, and the cloths cut before.
#[derive(Debug, Default)]
pub struct Memory {
    pieced: Option<Pieced>,
    pub(crate) cut: cutting::Known,
}

#[derive(Debug)]
struct Pieced {
    sheet: Sheet,
    settings: Settings,
    planned: Planned,
}

impl Memory {
    /// Plans a design, or remembers: of other colours a plan takes no more than which of two cloths is the darker.
    pub(crate) fn plan(&mut self, design: &Design) -> Result<Planned, Vec<Finding>> {
        let (sheet, settings) = (design.sheet()?, settings_of(design)?);
        if let Some(last) = &self.pieced
            && last.sheet == sheet
            && last.settings.alike_but_for_colors(&settings)
            && let Some(planned) = last.planned.in_other_colors(&settings)
        {
            return Ok(planned);
        }
        let planned = plan_sheet(&sheet, &settings)?;
        self.pieced = Some(Pieced {
            sheet,
            settings,
            planned: planned.clone(),
        });
        Ok(planned)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{draft, draft_again};

    /// Each example in other colours, one version after another: what is remembered is what would be planned anew.
    #[test]
    fn what_is_remembered_is_what_would_be_planned() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples");
        let mut remembered = 0;
        for file in std::fs::read_dir(folder).expect("the examples are there") {
            let file = file.expect("it is there").path();
            if file.extension().is_none_or(|of| of != "toml") {
                continue;
            }
            let text = std::fs::read_to_string(file).expect("it reads");
            let mut design = design::read_design(&text).expect("an example is a design");
            let mut memory = Memory::default();
            for step in 0..12_u32 {
                // From light to dark and back, so that now and then a seam goes another way.
                let cloths = design.fabrics.len() as u32;
                for (i, fabric) in (0..).zip(&mut design.fabrics) {
                    let shade = ((i * 251 + step * (31 + 67 * (i % 3))) % 256) as u8;
                    if i % cloths == step % cloths {
                        fabric.color = design::Color {
                            red: shade,
                            green: shade / 2 + 40,
                            blue: 255 - shade,
                        };
                    }
                }
                let before = memory.pieced.as_ref().map(|last| last.settings.clone());
                let (again, anew) = (draft_again(&design, &mut memory), draft(&design));
                let (again, anew) = (again.expect("a plan"), anew.expect("a plan"));
                assert_eq!(again.pattern, anew.pattern);
                assert_eq!((&again.findings, &again.demands), (&anew.findings, &anew.demands));
                remembered += u32::from(before == memory.pieced.as_ref().map(|last| last.settings.clone()));
            }
        }
        println!("{remembered} remembered");
        assert!(remembered > 20);
    }
}
