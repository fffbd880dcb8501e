//! Large drawings come out right and soon: ten thousand patches in a block, and the most a quilt may hold.

use design::{Design, read_design};

const HEAD: &str = "format = 1\n[quilt]\ntitle = \"t\"\n[[fabric]]\nname = \"a\"\ncolor = \"#f0f0f0\"\n[[fabric]]\nname = \"b\"\n\
                    color = \"#e8e8e8\"\n[[block]]\nname = \"big\"\nsize = 100\ngrid = 100\npatches = [\n";

fn read(text: &str) -> Design {
    read_design(text).unwrap_or_else(|e| panic!("{}", e[0]))
}

fn square(i: u32, j: u32, more: f64) -> String {
    let fabric = if (i + j).is_multiple_of(2) { "a" } else { "b" };
    format!(
        "{{ fabric = \"{fabric}\", path = \"M{i} {j} h{} v1 h-{} Z\" }},\n",
        1.0 + more,
        1.0 + more
    )
}

fn grid(more: f64) -> String {
    let squares: String = (0..100)
        .flat_map(|j| (0..100).map(move |i| square(i, j, if i < 99 { more } else { 0.0 })))
        .collect();
    format!("{HEAD}{squares}]\n[layout]\nrows = [[\"big\"]]\n")
}

#[test]
fn ten_thousand_patches() {
    let design = read(&grid(0.0));
    let sheet = design.sheet().unwrap();
    // 101 × 101 corners (derived)
    assert_eq!(sheet.blocks[0].vertices.len(), 101 * 101);
    assert_eq!(design.top_picture().faces.len(), 10_000);
    let codes: Vec<&str> = design.findings().iter().map(|f| f.code).collect();
    assert_eq!(codes, ["weak-contrast"]);
}

#[test]
fn ten_thousand_patches_that_overlap() {
    let findings = read(&grid(0.5)).findings();
    let overlaps = findings.iter().filter(|f| f.code == "overlap").count();
    // no more than twenty are told
    assert_eq!(overlaps, 20);
}

#[test]
fn ten_thousand_patches_on_one_place() {
    let squares: String = (0..10_000).map(|_| square(50, 50, 0.0)).collect();
    let design = read(&format!("{HEAD}{squares}]\n[layout]\nrows = [[\"big\"]]\n"));
    assert!(design.findings().iter().any(|f| f.code == "overlap"));
}

#[test]
fn the_most_a_quilt_may_hold() {
    let squares: String = (0..100).map(|i| square(i % 10, i / 10, 0.0)).collect();
    let head = HEAD.replace("size = 100\ngrid = 100", "size = 10\ngrid = 10");
    let row: String = (0..40)
        .map(|k| ["\"big\",", "\"big@90\",", "\"big~\","][k % 3])
        .collect();
    let rows: String = (0..50).map(|_| format!("[{row}],\n")).collect();
    let design = read(&format!("{head}{squares}]\n[layout]\nrows = [\n{rows}]\n"));
    assert_eq!(design.top_picture().faces.len(), 200_000);
    assert_eq!(design.sheet().unwrap().blocks.len(), 3);
    assert!(!design.findings().iter().any(terms::Finding::is_stop));
}

#[test]
fn long_thin_patches_side_by_side() {
    // slanting strips whose boxes all overlap
    let strips: String = (0..1000)
        .map(|i| {
            let (a, b) = (f64::from(i) / 10.0, f64::from(i + 1) / 10.0);
            match i {
                0 => format!("{{ fabric = \"a\", path = \"M0 0 H{b} L100 100 L0 {b} Z\" }},\n"),
                _ => format!("{{ fabric = \"a\", path = \"M{a} 0 H{b} L100 100 Z\" }},\n{{ fabric = \"b\", path = \"M0 {a} V{b} L100 100 Z\" }},\n"),
            }
        })
        .collect();
    let design = read(&format!("{HEAD}{strips}]\n[layout]\nrows = [[\"big\"]]\n"));
    let codes: Vec<&str> = design.findings().iter().map(|f| f.code).collect();
    assert!(codes.contains(&"acute"), "{codes:?}");
}
