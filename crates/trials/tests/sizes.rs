//! Every example in its sizes and colourways: each planned and proved by itself, its areas those of the drawing, its parts the whole.

use design::Design;
use drafting::Draft;
use rehearse::{Issued, rehearse_in_parts};
use std::collections::BTreeMap;
use terms::{PieceId, UnitId};
use trials::areas;
use trials::whole::Whole;

fn examples() -> Vec<(String, Design)> {
    let folder = format!("{}/../../examples", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("the examples are there")
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.to_string_lossy().ends_with(".quilt.toml"))
        .collect();
    files.sort();
    files
        .into_iter()
        .map(|file| {
            let text = std::fs::read_to_string(&file).expect("an example can be read");
            let design = design::read_design(&text).expect("an example is a design");
            (
                file.file_name().unwrap_or_default().to_string_lossy().into_owned(),
                design,
            )
        })
        .collect()
}

/// Pieces and makings of all parts together are those of the whole.
fn parts_come_to_the_whole(name: &str, design: &Design, worked: &Draft) -> bool {
    let parts = worked.parts(design);
    if parts.list.is_empty() {
        return false;
    }
    let mut sewn: BTreeMap<&UnitId, u32> = BTreeMap::new();
    let mut cut: BTreeMap<&PieceId, u32> = BTreeMap::new();
    for part in &parts.list {
        for make in &part.pattern.recipe.makes {
            *sewn.entry(&make.unit).or_default() += make.times;
        }
        for demand in &part.demands {
            *cut.entry(&demand.piece).or_default() += demand.count;
        }
    }
    let whole: BTreeMap<&UnitId, u32> = worked.pattern.recipe.makes.iter().map(|m| (&m.unit, m.times)).collect();
    assert_eq!(sewn, whole, "{name}");
    let mut asked: BTreeMap<&PieceId, u32> = BTreeMap::new();
    for demand in &worked.demands {
        *asked.entry(&demand.piece).or_default() += demand.count;
    }
    assert_eq!(cut, asked, "{name}");
    let issued: Vec<Issued<'_>> = parts
        .list
        .iter()
        .map(|part| Issued {
            name: &part.name,
            recipe: &part.pattern.recipe,
            plan: &part.pattern.cutting,
            bought: &part.pattern.bought,
            ahead: &part.cut_ahead,
        })
        .collect();
    rehearse_in_parts(&issued, &worked.picture).unwrap_or_else(|f| panic!("{name}: {}", f[0]));
    true
}

/// Everything a quilt of its own must hold.
fn sound(name: &str, design: &Design) {
    let whole = Whole::of_design(design).unwrap_or_else(|f| panic!("{name}: {}", f[0]));
    let proof = whole.rehearse().unwrap_or_else(|f| panic!("{name}: {}", f[0]));
    assert!(proof.seams > 0 || proof.units > 0, "{name}");
    if let Some(differ) = areas::differ(design, &whole) {
        panic!("{name}: {differ}");
    }
}

#[test]
fn every_example_in_its_sizes_and_colourways() {
    let all = examples();
    assert!(all.len() >= 10, "{} examples", all.len());
    let mut in_parts = 0;
    for (file, design) in all {
        assert!(design.size_names().len() >= 3, "{file}: three sizes");
        assert!(!design.colorways.is_empty(), "{file}: two colourways");
        for size in design.size_names() {
            let sized = design.at_size(size).expect("it has the size");
            let name = format!("{file} {size}");
            sound(&name, &sized);
            let draft = drafting::draft(&sized).expect("it is planned");
            in_parts += usize::from(parts_come_to_the_whole(&name, &sized, &draft));
            for colorway in &design.colorways {
                let name = format!("{name} {}", colorway.name);
                let other = sized.in_colorway(&colorway.name).expect("it has the colourway");
                let dressed = Whole::of_design(&other).unwrap_or_else(|f| panic!("{name}: {}", f[0]));
                assert!(dressed.rehearse().is_ok(), "{name}");
                // Other cloth for the same roles: pressing may go another way, what is cut does not.
                assert_eq!(dressed.pattern.cutting, draft.pattern.cutting, "{name}");
            }
        }
    }
    assert!(in_parts >= 3, "some are handed out in parts, in every size");
}

#[test]
fn every_example_drawn_larger() {
    for (file, design) in examples() {
        for scale in [1.5, 2.0] {
            sound(&format!("{file} × {scale}"), &design.clone().scaled(scale));
        }
    }
}
