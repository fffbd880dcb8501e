//! `scantling write`: the booklet, the cut list and the recipe as files. Each is whole or not there: all are written
//! beside their places first and moved there at the end.

use crate::args::WriteArgs;
use crate::load;
use crate::print::{self, Ink};
use crate::trouble::{Outcome, Trouble};
use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use terms::Severity;
use workshop::handing::{Export, Print, Ready, Unready};

/// Runs the command.
///
/// # Errors
/// When the design cannot be read or a file cannot be written.
pub fn run(args: &WriteArgs) -> Result<Outcome, Trouble> {
    let design = load::open_as(&args.file, &args.chosen)?;
    let ink = Ink::for_output();
    let ready = match Ready::of(&design, &load::photos(&args.file), || true) {
        Ok(ready) => ready,
        Err(unready) => {
            let findings = match unready {
                Unready::NoPlan(findings) => findings,
                Unready::Stopped => Vec::new(),
            };
            print::say(&format!(
                "{}{} Nothing was written: there is no plan to write down.\n",
                print::findings(&findings, ink),
                ink.severity(Severity::Stop, "Not proved.")
            ))?;
            return Ok(Outcome::Objected);
        }
    };
    let proof = &ready.proof;
    let files = compose(&ready, args)?;
    put_all(&args.out, &files)?;
    let mut text = print::findings(&ready.parts.findings, ink);
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

/// All files with their names, in memory.
fn compose(ready: &Ready, args: &WriteArgs) -> Result<Vec<(&'static str, Vec<u8>)>, Trouble> {
    if let Some(number) = args.part.filter(|number| ready.source(Some(*number)).is_none()) {
        return Err(Trouble::unusable(&args.file, no_such_part(&ready.parts, number)));
    }
    let print = Print {
        left_handed: args.left_hand,
        large: args.large_print,
    };
    Export::ALL
        .into_iter()
        .map(|export| {
            let part = args.part.filter(|_| export.is_of_part());
            let bytes = export.make(ready, part, print);
            let bytes = bytes.map_err(|because| Trouble::unusable(&args.out.join(export.file()), because))?;
            Ok((export.file(), bytes))
        })
        .collect()
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
