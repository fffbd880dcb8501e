//! `scantling open`: the workshop, served to this computer's browser until the program is ended.

use crate::args::OpenArgs;
use crate::print;
use crate::trouble::{Outcome, Trouble};
use std::path::PathBuf;
use std::process::{Command, Stdio};

/// Runs the command.
///
/// # Errors
/// When the folder cannot be made or read, or the port is taken.
pub fn run(args: &OpenArgs) -> Result<Outcome, Trouble> {
    let folder = match &args.folder {
        Some(folder) => folder.clone(),
        None => home()?.join("Scantling"),
    };
    let shown = print::harmless(&folder.display().to_string());
    let browser = !args.no_browser;
    workshop::open(&folder, args.port, |address| {
        // Nobody to tell is no reason not to serve.
        let _ = print::say(&format!(
            "The workshop of {shown} is open at {}\nEnd it with Ctrl+C; every change is saved as it is made.\n",
            address.url
        ));
        if browser {
            show(&address.url);
        }
    })
    .map_err(|error| Trouble::with_file(&folder, &error))?;
    Ok(Outcome::Good)
}

/// The maker's own folder.
fn home() -> Result<PathBuf, Trouble> {
    std::env::home_dir()
        .filter(|home| !home.as_os_str().is_empty())
        .ok_or_else(|| {
            Trouble::unusable(
                &PathBuf::from("~"),
                "there is no home folder; name a folder: scantling open FOLDER",
            )
        })
}

/// Opens the system's browser; where there is none, the address was said.
fn show(url: &str) {
    let (program, before): (&str, &[&str]) = if cfg!(target_os = "macos") {
        ("open", &[])
    } else if cfg!(windows) {
        ("cmd", &["/c", "start", ""])
    } else {
        ("xdg-open", &[])
    };
    let _ = Command::new(program)
        .args(before)
        .arg(url)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
}
