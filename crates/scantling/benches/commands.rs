//! How long the program itself takes, from its start to its end: `cargo bench -p scantling`.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

fn main() {
    divan::main();
}

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../examples/{name}.quilt.toml"))
}

fn run(arguments: &[&str], file: &Path, out: Option<&Path>) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_scantling"));
    command.args(arguments).arg(file).stdout(Stdio::null());
    if let Some(out) = out {
        command.arg("--out").arg(out);
    }
    let status = command.status();
    assert!(status.is_ok_and(|s| s.success()), "{arguments:?} did not go well");
}

#[divan::bench(args = ["first-strips", "lantern-harbour"])]
fn check(name: &str) {
    run(&["check"], &example(name), None);
}

#[divan::bench(args = ["first-strips", "lantern-harbour"])]
fn plan(name: &str) {
    run(&["plan"], &example(name), None);
}

#[divan::bench(args = ["first-strips", "lantern-harbour"])]
fn rehearse(name: &str) {
    run(&["rehearse"], &example(name), None);
}

#[divan::bench(args = ["first-strips", "lantern-harbour"])]
fn write(bencher: divan::Bencher, name: &str) {
    let out = std::env::temp_dir().join(format!("scantling-bench-{}", std::process::id()));
    bencher.bench_local(|| run(&["write"], &example(name), Some(&out)));
    // What is left of a run that failed is the temporary folder's own affair.
    let _ = std::fs::remove_dir_all(&out);
}
