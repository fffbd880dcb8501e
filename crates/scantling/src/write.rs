//! `scantling write`: the booklet, the cut list and the recipe as files. Each is whole or not there: all are written
//! beside their places first and moved there at the end.

use crate::args::WriteArgs;
use crate::load;
use crate::print::{self, Ink};
use crate::trouble::{Outcome, Trouble};
use book::{Edition, Paper};
use design::Design;
use drafting::{Draft, draft};
use measure::Measure;
use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use terms::{Finding, Severity};

/// Runs the command.
///
/// # Errors
/// When the design cannot be read or a file cannot be written.
pub fn run(args: &WriteArgs) -> Result<Outcome, Trouble> {
    let design = load::open_as(&args.file, &args.chosen)?;
    let ink = Ink::for_output();
    let worked = match draft(&design) {
        Ok(worked) => worked,
        Err(findings) => {
            print::say(&format!(
                "{}{} Nothing was written: there is no plan to write down.\n",
                print::findings(&findings, ink),
                ink.severity(Severity::Stop, "Not proved.")
            ))?;
            return Ok(Outcome::Objected);
        }
    };
    let pattern = &worked.pattern;
    let rehearsed = rehearse::rehearse(&pattern.recipe, &pattern.cutting, &pattern.bought, &worked.picture);
    let proof = match &rehearsed {
        Ok(proof) if !worked.findings.iter().any(Finding::is_stop) => Ok(proof),
        Ok(_) => Err(worked.findings.as_slice()),
        Err(findings) => Err(findings.as_slice()),
    };
    let parts = worked.parts(&design);
    let issued: Vec<rehearse::Issued<'_>> = parts.list.iter().map(issued).collect();
    let in_parts = match issued.as_slice() {
        [] => Ok(()),
        all => rehearse::rehearse_in_parts(all, &worked.picture).map(drop),
    };
    let proof = match &in_parts {
        Ok(()) => proof,
        Err(findings) => proof.and(Err(findings.as_slice())),
    };
    let files = compose(&design, &worked, &parts, proof, args)?;
    put_all(&args.out, &files)?;
    let mut text = print::findings(&parts.findings, ink);
    if let Err(findings) = proof {
        text += &print::findings(findings, ink);
    }
    for (name, bytes) in &files {
        let place = args.out.join(name);
        text += &format!(
            "{} ({} kB)\n",
            print::harmless(&place.display().to_string()),
            bytes.len().div_ceil(1000)
        );
    }
    text += &match proof {
        Ok(_) => format!("{}\n", ink.good("Proved.")),
        Err(_) => format!("{} The booklet says so.\n", ink.severity(Severity::Stop, "Not proved.")),
    };
    print::say(&text)?;
    Ok(Outcome::when(proof.is_ok()))
}

/// A part for the table.
pub fn issued(part: &drafting::PartDraft) -> rehearse::Issued<'_> {
    rehearse::Issued {
        name: &part.name,
        recipe: &part.pattern.recipe,
        plan: &part.pattern.cutting,
        bought: &part.pattern.bought,
    }
}

/// All files with their names, in memory.
fn compose(
    design: &Design,
    worked: &Draft,
    parts: &drafting::Parts,
    proof: Result<&rehearse::Proof, &[Finding]>,
    args: &WriteArgs,
) -> Result<Vec<(&'static str, Vec<u8>)>, Trouble> {
    let out = args.out.as_path();
    let objections = proof.err().unwrap_or_default();
    let mut source = workshop::living::source(design, worked, proof.ok(), objections);
    let mut pattern = &worked.pattern;
    if let Some(number) = args.part {
        let part = number.checked_sub(1).and_then(|i| parts.list.get(i));
        let (Some(part), Some(of_part)) = (part, workshop::living::source_of_part(&source, parts, number)) else {
            return Err(Trouble::unusable(&args.file, no_such_part(parts, number)));
        };
        source = of_part;
        pattern = &part.pattern;
    }
    let edition = Edition {
        measure: design.quilt.measure,
        left_handed: args.left_hand,
        large_print: args.large_print,
        // Makers who measure in inches print on letter paper.
        paper: match design.quilt.measure {
            Measure::Inch => Paper::Letter,
            Measure::Metric => Paper::A4,
        },
    };
    let pages = book::compose(&source, &edition);
    let pdf = pages
        .to_pdf()
        .map_err(|error| Trouble::unusable(&out.join("booklet.pdf"), format!("the pages could not be set: {error}")))?;
    let picture = serde_json::to_string_pretty(&worked.picture)
        .map_err(|error| Trouble::unusable(&out.join("picture.json"), error.to_string()))?;
    Ok(vec![
        ("booklet.pdf", pdf),
        ("booklet.html", pages.to_html().into_bytes()),
        ("cut-list.csv", book::cut_list_csv(pattern).into_bytes()),
        ("recipe.json", pattern.to_json().into_bytes()),
        ("picture.json", (picture + "\n").into_bytes()),
    ])
}

/// Which parts there are, when the one asked for is not.
fn no_such_part(parts: &drafting::Parts, number: usize) -> String {
    let named: Vec<String> = parts
        .list
        .iter()
        .enumerate()
        .map(|(i, part)| format!("{} {}", i + 1, print::harmless(&part.name)))
        .collect();
    if named.is_empty() {
        "this design has no [[part]]; without --part the whole pattern is written".to_string()
    } else {
        format!("there is no part {number}; there are: {}", named.join(", "))
    }
}

/// Puts all files into the folder, or none.
fn put_all(folder: &Path, files: &[(&'static str, Vec<u8>)]) -> Result<(), Trouble> {
    outgrown_files_are_errors();
    let folder_is_new = !folder.exists();
    fs::create_dir_all(folder).map_err(|error| Trouble::with_file(folder, &error))?;
    let mut beside: Vec<(PathBuf, PathBuf)> = Vec::new();
    let put = put_beside(folder, files, &mut beside).and_then(|()| {
        beside
            .iter()
            .try_for_each(|(part, place)| fs::rename(part, place).map_err(|error| Trouble::with_file(place, &error)))
    });
    if put.is_err() {
        // Best effort: what is left behind is hidden and never has the name of a finished file.
        for (part, _) in &beside {
            let _ = fs::remove_file(part);
        }
        if folder_is_new {
            let _ = fs::remove_dir(folder);
        }
    }
    put
}

fn put_beside(
    folder: &Path,
    files: &[(&'static str, Vec<u8>)],
    beside: &mut Vec<(PathBuf, PathBuf)>,
) -> Result<(), Trouble> {
    for (name, bytes) in files {
        let place = folder.join(name);
        if place.is_dir() {
            return Err(Trouble::unusable(
                &place,
                "this is a folder, and a file of this name is to be written",
            ));
        }
        let part = folder.join(format!(".{name}.part-{}", std::process::id()));
        beside.push((part.clone(), place.clone()));
        write_new(&part, bytes).map_err(|error| Trouble::with_file(&place, &error))?;
    }
    Ok(())
}

fn write_new(part: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(part)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// A limit on file sizes (`ulimit -f`) makes the system end the program by a signal; once the signal is taken, the
/// write fails as an error instead and can be reported.
fn outgrown_files_are_errors() {
    #[cfg(unix)]
    {
        use std::sync::Arc;
        use std::sync::atomic::AtomicBool;
        // Without it the limit still holds; only its report is worse.
        let _ = signal_hook::flag::register(signal_hook::consts::SIGXFSZ, Arc::new(AtomicBool::new(false)));
    }
}
