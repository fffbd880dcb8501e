//! The counter where orders are made ready, one at a time, on a thread of their own. All files are written aside first and go to
//! their place together at the end; whoever stops an order finds nothing of it.

use super::order::{Destination, Entry, Order, Variant};
use super::pack::zipped;
use super::ready::{Ready, Unready};
use crate::file::{Photos, Refused, put_whole};
use design::Design;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use tokio::sync::watch;
use utoipa::ToSchema;

/// The file that says what is there and what is proved.
const CONTENTS: &str = "contents.txt";

/// How an order stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// None was given.
    #[default]
    None,
    /// It is being made.
    Working,
    /// It was told to stop, and does so at the next file.
    Stopping,
    /// It was stopped; nothing of it is left.
    Stopped,
    /// It is ready.
    Ready,
    /// It could not be made; nothing of it is left.
    Failed,
}

impl State {
    /// Whether something is still being done.
    pub fn is_busy(self) -> bool {
        matches!(self, State::Working | State::Stopping)
    }
}

/// How far an order is.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, ToSchema)]
pub struct Progress {
    /// How it stands.
    pub state: State,
    /// Files made.
    pub done: usize,
    /// Files to make.
    pub of: usize,
    /// What is in hand, or how it ended.
    pub words: String,
    /// What was left out or is not proved.
    pub notes: Vec<String>,
    /// Fingerprint of the text it is made from.
    pub revision: String,
    /// Bytes of the zip when it is ready.
    pub bytes: u64,
    /// Name of the folder when it is ready there.
    #[schema(required)]
    pub folder: Option<String>,
}

/// An order.
pub struct Handing {
    progress: watch::Sender<Progress>,
    stop: AtomicBool,
    zip: PathBuf,
}

impl Handing {
    /// How far it is.
    pub fn progress(&self) -> Progress {
        self.progress.borrow().clone()
    }

    /// Hears every step.
    pub fn listen(&self) -> watch::Receiver<Progress> {
        self.progress.subscribe()
    }

    /// Stops it at the next file.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
        self.progress.send_if_modified(|now| {
            let working = now.state == State::Working;
            if working {
                now.state = State::Stopping;
                now.words = "Stopping after the file in hand.".into();
            }
            working
        });
    }

    /// The zip, when it is ready.
    pub fn zip(&self) -> Option<&Path> {
        let ready = self.progress.borrow();
        (ready.state == State::Ready && ready.folder.is_none()).then_some(&self.zip)
    }

    fn goes_on(&self) -> bool {
        !self.stop.load(Ordering::Relaxed)
    }

    fn say(&self, change: impl FnOnce(&mut Progress)) {
        self.progress.send_modify(|now| {
            change(now);
            // It may have been told to stop in the meantime.
            if now.state == State::Working && !self.goes_on() {
                now.state = State::Stopping;
            }
        });
    }
}

/// Where orders are made.
#[derive(Clone, Default)]
pub struct Counter {
    orders: Arc<Mutex<BTreeMap<String, Arc<Handing>>>>,
}

impl Counter {
    /// The order of a quilt: the one in hand, or the last.
    pub fn of(&self, quilt: &str) -> Option<Arc<Handing>> {
        lock(&self.orders).get(quilt).cloned()
    }

    /// Begins an order. `aside` is a folder of the workshop's own, `beside` where the quilt's file lies.
    ///
    /// # Errors
    /// When another is in hand, of this quilt or any.
    pub fn begin(
        &self,
        quilt: &str,
        revision: &str,
        design: Arc<Design>,
        order: Order,
        aside: &Path,
        beside: &Path,
    ) -> Result<Arc<Handing>, Refused> {
        let mut orders = lock(&self.orders);
        if let Some((busy, _)) = orders.iter().find(|(_, h)| h.progress.borrow().state.is_busy()) {
            return Err(Refused::new(
                "handing-out",
                format!("{busy} is being handed out at the moment. Wait until it is ready, or stop it."),
            ));
        }
        let (progress, _) = watch::channel(Progress {
            state: State::Working,
            of: order.entries.len(),
            words: "Beginning.".into(),
            revision: revision.to_string(),
            ..Progress::default()
        });
        let handing = Arc::new(Handing {
            progress,
            stop: AtomicBool::new(false),
            zip: aside.join(format!("{quilt}.zip")),
        });
        orders.insert(quilt.to_string(), handing.clone());
        drop(orders);
        let making = Making {
            title: quilt.to_string(),
            design,
            order,
            aside: aside.join(quilt),
            beside: beside.join(format!("{quilt}-handed-out")),
            photos: Photos::of(beside),
            handing: handing.clone(),
        };
        thread::spawn(move || making.run());
        Ok(handing)
    }

    /// Lets an order go: its quilt goes elsewhere.
    pub fn let_go(&self, quilt: &str) {
        if let Some(handing) = lock(&self.orders).remove(quilt) {
            handing.stop();
        }
    }
}

/// An order being made.
struct Making {
    title: String,
    design: Arc<Design>,
    order: Order,
    aside: PathBuf,
    beside: PathBuf,
    photos: Photos,
    handing: Arc<Handing>,
}

/// How a making ended early.
enum Ended {
    Stopped,
    Failed(String),
}

impl From<io::Error> for Ended {
    fn from(error: io::Error) -> Self {
        Ended::Failed(format!("The computer says: {error}."))
    }
}

/// What was made so far.
#[derive(Default)]
struct Made {
    paths: Vec<String>,
    notes: Vec<String>,
    contents: Vec<String>,
}

impl Making {
    fn run(self) {
        // What an earlier run of the program left behind.
        let _ = fs::remove_dir_all(&self.aside);
        let ended = self.make();
        let _ = fs::remove_dir_all(&self.aside);
        if let Err(ended) = ended {
            let (state, words) = match ended {
                Ended::Stopped => (State::Stopped, "Stopped. Nothing was handed out.".to_string()),
                Ended::Failed(words) => (State::Failed, words),
            };
            self.handing.progress.send_modify(|now| {
                now.state = state;
                now.words = words;
            });
        }
    }

    fn asked(&self) -> Result<(), Ended> {
        if self.handing.goes_on() {
            Ok(())
        } else {
            Err(Ended::Stopped)
        }
    }

    fn make(&self) -> Result<(), Ended> {
        let mut made = Made::default();
        let mut rest = &self.order.entries[..];
        while let Some(first) = rest.first() {
            let count = rest.iter().take_while(|entry| entry.variant == first.variant).count();
            self.variant(&first.variant, &rest[..count], &mut made)?;
            rest = &rest[count..];
        }
        if made.paths.is_empty() {
            let why = made.notes.join(" ");
            return Err(Ended::Failed(format!("There is nothing to hand out. {why}")));
        }
        self.put_aside(CONTENTS, self.contents(&made).as_bytes())?;
        made.paths.push(CONTENTS.into());
        self.asked()?;
        match self.order.to {
            Destination::Zip => {
                self.handing.say(|now| now.words = "Putting the files together.".into());
                let part = self.handing.zip.with_extension("zip.part");
                let done = File::create(&part)
                    .and_then(|file| zipped(&self.aside, &made.paths, file, || self.handing.goes_on()))
                    .and_then(|done| {
                        if done {
                            fs::rename(&part, &self.handing.zip)?
                        }
                        Ok(done)
                    });
                if !matches!(done, Ok(true)) {
                    let _ = fs::remove_file(&part);
                }
                if !done? {
                    return Err(Ended::Stopped);
                }
                let bytes = fs::metadata(&self.handing.zip)?.len();
                self.ready(made, bytes, None);
            }
            Destination::Folder => {
                // Each file is moved whole; what other files lie in the folder is left alone.
                for path in &made.paths {
                    let place = self.beside.join(path);
                    if let Some(folder) = place.parent() {
                        fs::create_dir_all(folder)?;
                    }
                    fs::rename(self.aside.join(path), place)?;
                }
                let name = self.beside.file_name().map(|name| name.to_string_lossy().into_owned());
                self.ready(made, 0, name);
            }
        }
        Ok(())
    }

    fn ready(&self, made: Made, bytes: u64, folder: Option<String>) {
        let count = made.paths.len();
        // Nothing of it lies about any more when it is said to be ready.
        let _ = fs::remove_dir_all(&self.aside);
        self.handing.progress.send_modify(|now| {
            now.state = State::Ready;
            now.done = now.of;
            now.words = match &folder {
                Some(folder) => format!("{count} files are in the folder {folder}, beside the quilt."),
                None => format!("{count} files are in the zip."),
            };
            now.notes = made.notes;
            now.bytes = bytes;
            now.folder = folder;
        });
    }

    /// All files of one variant, which is planned and rehearsed once.
    fn variant(&self, variant: &Variant, entries: &[Entry], made: &mut Made) -> Result<(), Ended> {
        let said = variant.words();
        self.handing.say(|now| now.words = format!("Proving {said}."));
        let leave_out = |why: String, made: &mut Made| {
            made.contents.push(format!("{}: not here. {why}", variant.folder()));
            made.notes.push(format!("Left out: {said}. {why}"));
            self.handing.say(|now| {
                now.done += entries.len();
                now.notes.clone_from(&made.notes);
            });
        };
        let Some(design) = variant.design(&self.design) else {
            leave_out("There is no such size or colourway any more.".into(), made);
            return Ok(());
        };
        let ready = match Ready::of(&design, &self.photos, || self.handing.goes_on()) {
            Ok(ready) => ready,
            Err(Unready::Stopped) => return Err(Ended::Stopped),
            Err(Unready::NoPlan(findings)) => {
                let first = findings
                    .iter()
                    .find(|f| f.is_stop())
                    .map_or("", |f| f.sentence.as_str());
                leave_out(format!("It cannot be made as drawn. {first}"), made);
                return Ok(());
            }
        };
        made.contents.push(match &ready.proof {
            Ok(proof) => format!("{}: proved, {} seams", variant.folder(), proof.seams),
            Err(_) => format!("{}: not proved; the booklet says so", variant.folder()),
        });
        if ready.proof.is_err() {
            made.notes.push(format!("Not proved: {said}. The booklet says so."));
        }
        let mut missing: BTreeSet<usize> = BTreeSet::new();
        for entry in entries {
            self.asked()?;
            let path = entry.path();
            self.handing.say(|now| {
                now.words = format!("Making {path}.");
                now.notes.clone_from(&made.notes);
            });
            match entry.part {
                Some(part) if part > ready.parts.list.len() => {
                    missing.insert(part);
                }
                _ => {
                    let bytes = entry.export.make(&ready, entry.part, entry.print);
                    let bytes = bytes.map_err(|why| Ended::Failed(format!("{path}: {why}.")))?;
                    self.put_aside(&path, &bytes)?;
                    made.paths.push(path);
                }
            }
            self.handing.say(|now| now.done += 1);
        }
        for part in missing {
            made.contents.push(format!("{}: has no part {part}", variant.folder()));
            made.notes.push(format!(
                "Left out: part {part} of {said}, which has {}.",
                ready.parts.list.len()
            ));
        }
        Ok(())
    }

    fn contents(&self, made: &Made) -> String {
        let title = self.design.quilt.title.replace(char::is_control, " ");
        let mut text = format!("{title} ({})\n\n", self.title);
        for line in &made.contents {
            text += &line.replace(char::is_control, " ");
            text.push('\n');
        }
        text.push('\n');
        let mut paths = made.paths.clone();
        paths.sort();
        for path in paths {
            text += &path;
            text.push('\n');
        }
        text
    }

    fn put_aside(&self, path: &str, bytes: &[u8]) -> io::Result<()> {
        let place = self.aside.join(path);
        if let Some(folder) = place.parent() {
            fs::create_dir_all(folder)?;
        }
        put_whole(&place, bytes)
    }
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
