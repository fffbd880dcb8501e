//! The quilts that are open, each with its text, its states and what became of it.

use crate::file::{History, Photos, Refused, Shelf, ShelfError, Wish, granted, put_whole};
use crate::handing::{Counter, Print};
use crate::living::{Bench, InSight, Job, Memory, Worked, fingerprint, work};
use design::{Design, FileError};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Duration;
use tokio::sync::watch;

/// How often files are looked at for changes by other programs.
const LOOK: Duration = Duration::from_millis(600);

/// The workshop.
#[derive(Clone)]
pub struct App {
    /// The folder.
    pub shelf: Shelf,
    /// The photographs of the folder.
    pub photos: Photos,
    /// Where orders are made ready.
    pub counter: Counter,
    bench: Bench,
    open: Arc<Mutex<BTreeMap<String, Arc<Opened>>>>,
}

/// A quilt that is open.
pub struct Opened {
    /// Its name.
    pub name: String,
    /// The shelf it lies on.
    pub shelf: Shelf,
    inner: Mutex<Inner>,
    worked: Mutex<Option<Arc<Worked>>>,
    /// The section that some window asked for last.
    in_sight: Mutex<String>,
    bell: watch::Sender<Pulse>,
}

struct Inner {
    text: String,
    revision: String,
    design: Read,
    history: History,
}

/// What a text says, or why it says nothing.
type Read = Result<Arc<Design>, Vec<FileError>>;

/// What windows are told when something changed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pulse {
    /// Fingerprint of the text.
    pub revision: String,
    /// Fingerprint of the text that the pages are of.
    pub worked: String,
    /// Whether all of them are.
    pub whole: bool,
}

/// The quilt as it is at a moment.
#[derive(Clone)]
pub struct Moment {
    /// The file.
    pub text: String,
    /// Its fingerprint.
    pub revision: String,
    /// What it says, or why it says nothing.
    pub design: Result<Arc<Design>, Vec<FileError>>,
    /// What undo would take back.
    pub undo: Option<String>,
    /// What redo would do again.
    pub redo: Option<String>,
}

impl App {
    /// The workshop of a shelf.
    pub fn new(shelf: Shelf) -> App {
        let app = App {
            photos: Photos::of(shelf.folder()),
            shelf,
            counter: Counter::default(),
            bench: Bench::new(),
            open: Arc::default(),
        };
        let watching = app.clone();
        thread::spawn(move || {
            loop {
                thread::sleep(LOOK);
                let open: Vec<Arc<Opened>> = lock(&watching.open).values().cloned().collect();
                for quilt in open {
                    // A file that is gone for a moment is being saved by another program.
                    let _ = watching.look(&quilt);
                }
            }
        });
        app
    }

    /// Takes the quilt changed last through the rooms once, and keeps nothing of it: what is read and set up when something is done for
    /// the first time (letters to set in pictures, pages of the program) is then there when a window asks.
    pub fn practise(&self) {
        let newest = self.shelf.quilts().ok().and_then(|quilts| {
            let last = quilts.into_iter().max_by_key(|quilt| quilt.changed)?;
            design::read_design(&self.shelf.text(&last.name).ok()?).ok()
        });
        let Some(design) = newest else { return };
        let edition = Print::default().edition(design.quilt.measure);
        let beside = (&self.photos, &mut Memory::default());
        // As far as the first page.
        let seen = AtomicBool::new(false);
        let cover = || InSight {
            leaf: "cover".into(),
            before: None,
        };
        let first = |_: Worked| seen.store(true, Ordering::Relaxed);
        let go_on = || !seen.load(Ordering::Relaxed);
        drop(work("", &design, &edition, beside, go_on, (cover, first, || ())));
    }

    /// Opens a quilt, or finds it open.
    ///
    /// # Errors
    /// When it is not there or cannot be read.
    pub fn quilt(&self, name: &str) -> Result<Arc<Opened>, ShelfError> {
        if let Some(open) = lock(&self.open).get(name).cloned() {
            self.look(&open)?;
            return Ok(open);
        }
        let text = self.shelf.text(name)?;
        let history = History::open(&self.shelf.history(name), &text).map_err(|error| ShelfError::Io(error.0))?;
        let revision = fingerprint(&text);
        let design = design::read_design(&text).map(Arc::new);
        let (bell, _) = watch::channel(Pulse {
            revision: revision.clone(),
            worked: String::new(),
            whole: false,
        });
        let opened = Arc::new(Opened {
            name: name.to_string(),
            shelf: self.shelf.clone(),
            inner: Mutex::new(Inner {
                text,
                revision,
                design,
                history,
            }),
            worked: Mutex::new(None),
            in_sight: Mutex::default(),
            bell,
        });
        let opened = lock(&self.open).entry(name.to_string()).or_insert(opened).clone();
        self.plan(&opened);
        Ok(opened)
    }

    /// What became of a quilt when it was last worked out, if it is open.
    pub fn known(&self, name: &str) -> Option<Arc<Worked>> {
        let open = lock(&self.open).get(name).cloned()?;
        open.worked()
    }

    /// Closes a quilt: its file goes elsewhere.
    pub fn close(&self, name: &str) {
        lock(&self.open).remove(name);
        self.counter.let_go(name);
    }

    /// Sees whether another program changed the file; then that is a new state.
    fn look(&self, quilt: &Arc<Opened>) -> Result<(), ShelfError> {
        // Read with the door closed: else a change of our own, saved in between, would look like someone else's older text.
        let mut inner = lock(&quilt.inner);
        let text = self.shelf.text(&quilt.name)?;
        if inner.text == text {
            return Ok(());
        }
        inner
            .history
            .did("Changed outside the workshop", &text)
            .map_err(|error| ShelfError::Io(error.0))?;
        let design = design::read_design(&text).map(Arc::new);
        quilt.take(&mut inner, text, design);
        drop(inner);
        self.plan(quilt);
        Ok(())
    }

    /// Grants a wish: the file is changed and saved before this returns.
    ///
    /// # Errors
    /// When the file has changed since the wish was made, the wish cannot be done, or the file cannot be saved.
    pub fn grant(&self, quilt: &Arc<Opened>, base: &str, wish: &Wish) -> Result<Moment, Refused> {
        self.change(quilt, Some(base), |inner, begin| {
            let design = inner.design.as_ref().map_err(|_| {
                Refused::new(
                    "file-is-broken",
                    "The file was changed outside and cannot be read. Undo that change, or mend it there.",
                )
            })?;
            let (text, label) = granted(&inner.text, design, wish)?;
            if text != inner.text {
                begin(&text);
                inner.history.did(&label, &text).map_err(unsaved)?;
            }
            Ok(text)
        })
    }

    /// One state back.
    ///
    /// # Errors
    /// When there is none, or the file cannot be saved.
    pub fn undo(&self, quilt: &Arc<Opened>) -> Result<Moment, Refused> {
        self.change(quilt, None, |inner, _| {
            let text = inner.history.undo().map_err(unsaved)?;
            text.ok_or_else(|| Refused::new("nothing-to-undo", "This is the first state; there is nothing to undo."))
        })
    }

    /// One state on again.
    ///
    /// # Errors
    /// When there is none, or the file cannot be saved.
    pub fn redo(&self, quilt: &Arc<Opened>) -> Result<Moment, Refused> {
        self.change(quilt, None, |inner, _| {
            let text = inner.history.redo().map_err(unsaved)?;
            text.ok_or_else(|| Refused::new("nothing-to-redo", "Nothing was undone that could be done again."))
        })
    }

    fn change(
        &self,
        quilt: &Arc<Opened>,
        base: Option<&str>,
        act: impl FnOnce(&mut Inner, &mut dyn FnMut(&str)) -> Result<String, Refused>,
    ) -> Result<Moment, Refused> {
        self.look(quilt)
            .map_err(|error| Refused::new("file-gone", error.to_string()))?;
        let mut inner = lock(&quilt.inner);
        if base.is_some_and(|base| base != inner.revision) {
            return Err(Refused::new(
                "changed-meanwhile",
                "The quilt was changed elsewhere in the meantime. It is shown as it is now; nothing of yours was done to it. Do it again if you still want it.",
            ));
        }
        let changed = self.changed(quilt, &mut inner, act);
        let moment = inner.moment();
        drop(inner);
        // Also when it could not be saved: what was begun then is not what holds.
        self.plan(quilt);
        changed.map(|()| moment)
    }

    /// Does the change and saves it. A disk takes its time to be sure, so the new text is worked out meanwhile.
    fn changed(
        &self,
        quilt: &Arc<Opened>,
        inner: &mut Inner,
        act: impl FnOnce(&mut Inner, &mut dyn FnMut(&str)) -> Result<String, Refused>,
    ) -> Result<(), Refused> {
        let mut begun: Option<Read> = None;
        let mut begin = |text: &str| {
            let design = design::read_design(text).map(Arc::new);
            if let Ok(design) = &design {
                self.bench.put(self.job(quilt, fingerprint(text), design.clone()));
            }
            begun = Some(design);
        };
        let text = act(inner, &mut begin)?;
        if text == inner.text {
            return Ok(());
        }
        put_whole(&self.shelf.file(&quilt.name), text.as_bytes())
            .map_err(|error| Refused::new("not-saved", format!("The file could not be saved: {error}.")))?;
        let design = begun.unwrap_or_else(|| design::read_design(&text).map(Arc::new));
        quilt.take(inner, text, design);
        Ok(())
    }

    /// Has the newest text worked out.
    fn plan(&self, quilt: &Arc<Opened>) {
        let inner = lock(&quilt.inner);
        let Ok(design) = &inner.design else { return };
        if lock(&quilt.worked)
            .as_ref()
            .is_some_and(|w| w.revision == inner.revision && w.whole)
        {
            return;
        }
        self.bench.put(self.job(quilt, inner.revision.clone(), design.clone()));
    }

    /// A text to be worked out for a quilt.
    fn job(&self, quilt: &Arc<Opened>, revision: String, design: Arc<Design>) -> Job {
        let told = Arc::downgrade(quilt);
        let asked = Arc::downgrade(quilt);
        Job {
            quilt: quilt.name.clone(),
            revision,
            design,
            photos: self.photos.clone(),
            in_sight: Arc::new(move || {
                let Some(quilt) = asked.upgrade() else {
                    return InSight::default();
                };
                InSight {
                    leaf: lock(&quilt.in_sight).clone(),
                    before: quilt.worked(),
                }
            }),
            done: Arc::new(move |worked| {
                if let Some(quilt) = told.upgrade() {
                    let (revision, whole) = (worked.revision.clone(), worked.whole);
                    // Taking thousands of pictures down takes a while: the windows hear first.
                    let before = lock(&quilt.worked).replace(Arc::new(worked));
                    quilt
                        .bell
                        .send_modify(|pulse| (pulse.worked, pulse.whole) = (revision, whole));
                    drop(before);
                }
            }),
        }
    }
}

fn unsaved(error: crate::file::HistoryError) -> Refused {
    Refused::new("not-saved", format!("The change could not be kept: {}.", error.0))
}

impl Inner {
    fn moment(&self) -> Moment {
        Moment {
            text: self.text.clone(),
            revision: self.revision.clone(),
            design: self.design.clone(),
            undo: self.history.last().map(str::to_string),
            redo: self.history.next().map(str::to_string),
        }
    }
}

impl Opened {
    fn take(&self, inner: &mut Inner, text: String, design: Read) {
        inner.revision = fingerprint(&text);
        inner.design = design;
        inner.text = text;
        let revision = inner.revision.clone();
        self.bell.send_modify(|pulse| pulse.revision = revision);
    }

    /// As it is now.
    pub fn moment(&self) -> Moment {
        lock(&self.inner).moment()
    }

    /// A window shows this section, or all (`*`): it is made first after the next change.
    pub fn looked_at(&self, leaf: &str) {
        let mut in_sight = lock(&self.in_sight);
        if *in_sight != leaf {
            *in_sight = leaf.to_string();
        }
    }

    /// What became of it last.
    pub fn worked(&self) -> Option<Arc<Worked>> {
        lock(&self.worked).clone()
    }

    /// Rings when something changes.
    pub fn listen(&self) -> watch::Receiver<Pulse> {
        self.bell.subscribe()
    }
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::{CellAct, EXAMPLES, Step};
    use serde_json::json;

    /// All remarks, on lines of their own and behind values.
    fn comments(text: &str) -> Vec<&str> {
        text.lines()
            .filter_map(|line| match line.trim_start().starts_with('#') {
                true => Some(line.trim()),
                false => line.find(" # ").map(|at| &line[at..]),
            })
            .collect()
    }

    fn set(at: &[&str], to: &str) -> Wish {
        let step = |step: &&str| step.parse().map_or_else(|_| Step::Key((*step).into()), Step::Index);
        Wish::Set {
            at: at.iter().map(step).collect(),
            to: json!(to),
        }
    }

    /// Changes and what takes each back.
    fn there_and_back(design: &Design) -> Vec<(Vec<Wish>, bool)> {
        let fabric = &design.fabrics[0];
        let renamed = |from: &str, to: &str| Wish::Rename {
            list: "fabric".into(),
            from: from.into(),
            to: to.into(),
        };
        let moved = |from, to| Wish::Move {
            list: "fabric".into(),
            from,
            to,
        };
        let said = json!({ "at": design.blocks[0].name, "text": "For a moment" });
        let mut all = vec![
            (
                vec![
                    set(&["quilt", "title"], "Another"),
                    set(&["quilt", "title"], &design.quilt.title),
                ],
                true,
            ),
            (
                vec![
                    set(&["fabric", "0", "color"], "#010203"),
                    set(&["fabric", "0", "color"], &fabric.color.hex()),
                ],
                false,
            ),
            (
                vec![
                    renamed(fabric.name.as_str(), "other-cloth"),
                    renamed("other-cloth", fabric.name.as_str()),
                ],
                true,
            ),
            (
                vec![
                    Wish::Add {
                        list: "say".into(),
                        with: said.as_object().unwrap().clone(),
                    },
                    Wish::Take {
                        list: "say".into(),
                        index: design.says.len(),
                    },
                ],
                true,
            ),
        ];
        if design.fabrics.len() > 1 {
            all.push((vec![moved(0, 1), moved(1, 0)], true));
        }
        if let design::LayoutKind::Straight { rows, .. } = &design.layout.kind
            && rows.first().and_then(|row| row.first()).is_some_and(Option::is_some)
        {
            let turn = || Wish::Cells {
                act: CellAct::Turn { row: 0, column: 0 },
            };
            all.push((vec![turn(), turn(), turn(), turn()], false));
        }
        all
    }

    #[test]
    fn what_is_changed_and_changed_back_is_the_same_quilt_with_its_comments() {
        let folder = std::env::temp_dir().join(format!("workshop-round-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&folder);
        let app = App::new(Shelf::open(&folder).unwrap());
        for (name, text) in EXAMPLES {
            let design = design::read_design(text).unwrap();
            for (wishes, to_the_byte) in there_and_back(&design) {
                let quilt = app.quilt(name).unwrap();
                let before = std::fs::read_to_string(app.shelf.file(name)).unwrap();
                for (i, wish) in wishes.iter().enumerate() {
                    let base = quilt.moment().revision;
                    let moment = app
                        .grant(&quilt, &base, wish)
                        .unwrap_or_else(|why| panic!("{name} {wish:?}: {why:?}"));
                    // What is shown is what lies on the disk.
                    let kept = std::fs::read_to_string(app.shelf.file(name)).unwrap();
                    assert_eq!(kept, moment.text);
                    assert!(
                        i + 1 == wishes.len() || kept != before,
                        "{name} {wish:?} changes nothing"
                    );
                    for line in comments(text) {
                        assert!(kept.contains(line), "{name} {wish:?} loses {line}");
                    }
                }
                let after = std::fs::read_to_string(app.shelf.file(name)).unwrap();
                assert_eq!(design::read_design(&after).unwrap(), design, "{name} {wishes:?}");
                if to_the_byte {
                    assert_eq!(after, before, "{name} {wishes:?}");
                }
            }
        }
        std::fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn a_change_is_not_taken_for_one_from_outside_while_it_is_saved() {
        let folder = std::env::temp_dir().join(format!("workshop-look-{}", std::process::id()));
        let app = App::new(Shelf::open(&folder).expect("the folder can be made"));
        let quilt = app.quilt("first-strips").expect("it is on the shelf");
        let over = AtomicBool::new(false);
        let last = thread::scope(|scope| {
            // Every request looks at the file; here two do so all the time.
            for _ in 0..2 {
                scope.spawn(|| {
                    while !over.load(Ordering::Relaxed) {
                        app.quilt("first-strips").expect("it is open");
                    }
                });
            }
            let mut revision = quilt.moment().revision;
            for i in 0..60 {
                let wish = Wish::Set {
                    at: vec![Step::Key("quilt".into()), Step::Key("title".into())],
                    to: format!("Title {i}").into(),
                };
                let made = app.grant(&quilt, &revision, &wish).map(|moment| moment.revision);
                let Ok(next) = made else {
                    over.store(true, Ordering::Relaxed);
                    return made;
                };
                revision = next;
            }
            over.store(true, Ordering::Relaxed);
            Ok(revision)
        });
        let now = quilt.moment();
        let _ = std::fs::remove_dir_all(&folder);
        assert_eq!(
            last.expect("each wish is granted on what the one before left"),
            now.revision
        );
        assert!(now.text.contains("Title 59"));
    }
}
