//! A terminal for the tests: runs the built program and keeps what it said; a folder of its own for each test.

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// What the program said.
pub struct Said {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Said {
    pub fn from(output: Output) -> Self {
        Said {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).expect("the program speaks UTF-8"),
            err: String::from_utf8(output.stderr).expect("the program speaks UTF-8"),
        }
    }

    /// Ended in this way, and never by a panic.
    pub fn ends(self, code: i32) -> Self {
        assert!(!self.err.contains("panicked"), "{}", self.err);
        assert_eq!(self.code, Some(code), "said: {}\ncomplained: {}", self.out, self.err);
        self
    }
}

/// The program with no terminal about.
pub fn command() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_scantling"));
    command.stdin(Stdio::null());
    command
}

pub fn scantling<I: AsRef<std::ffi::OsStr>>(arguments: impl IntoIterator<Item = I>) -> Said {
    Said::from(command().args(arguments).output().expect("the program runs"))
}

/// A folder that is empty at first and gone at the end.
pub struct Folder(PathBuf);

impl Folder {
    pub fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).expect("a folder for the test");
        Folder(path)
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }

    pub fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path(name);
        std::fs::write(&path, bytes).expect("a file for the test");
        path
    }

    /// Everything in it, hidden files too.
    pub fn names(&self, of: &str) -> Vec<String> {
        let mut names: Vec<String> = std::fs::read_dir(self.path(of))
            .expect("a folder to look into")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// A design as `scantling new` begins it.
pub fn beginning(folder: &Folder, metric: bool) -> PathBuf {
    let mut arguments = vec!["new".into(), folder.path("beginning").into_os_string()];
    if metric {
        arguments.push("--metric".into());
    }
    scantling(arguments).ends(0);
    folder.path("beginning.quilt.toml")
}
