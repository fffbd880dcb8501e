//! One bench where designs are worked out, beside the requests. Only the newest wish of each quilt waits; a newer one stops
//! the work on an older at the next door between two rooms.

use super::rehearsed::Memory;
use super::worked::{InSight, Worked, work};
use crate::file::Photos;
use crate::handing::Print;
use design::Design;
use std::collections::VecDeque;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::thread;
use std::time::Duration;

/// How long the machine is left to the windows once what is in sight was sent, before the rest is worked out.
const REST: Duration = Duration::from_millis(150);

/// A design to be worked out.
#[derive(Clone)]
pub struct Job {
    /// Which quilt.
    pub quilt: String,
    /// Fingerprint of its text.
    pub revision: String,
    /// The design.
    pub design: Arc<Design>,
    /// Where its photographs are found.
    pub photos: Photos,
    /// What is in sight of it, asked when its pages are made.
    pub in_sight: Arc<dyn Fn() -> InSight + Send + Sync>,
    /// What to do with what came of it: first what is in sight, then all.
    pub done: Arc<dyn Fn(Worked) + Send + Sync>,
}

#[derive(Default)]
struct Pile {
    waiting: VecDeque<Job>,
    /// The quilt and revision on the bench, and how the work is told to stop.
    on_bench: Option<(String, String, Arc<AtomicBool>)>,
    closing: bool,
}

/// The bench.
#[derive(Clone)]
pub struct Bench {
    pile: Arc<(Mutex<Pile>, Condvar)>,
}

impl Default for Bench {
    fn default() -> Self {
        Self::new()
    }
}

impl Bench {
    /// Sets it up; it works until the program ends or [`Bench::close`].
    pub fn new() -> Bench {
        let pile = Arc::new((Mutex::new(Pile::default()), Condvar::new()));
        let bench = Bench { pile: pile.clone() };
        thread::spawn(move || run(&pile));
        bench
    }

    /// Puts a job on the pile in place of an older one of the same quilt; the same job already on the bench is left alone.
    pub fn put(&self, job: Job) {
        let (pile, bell) = &*self.pile;
        let mut pile = pile.lock().unwrap_or_else(PoisonError::into_inner);
        pile.waiting.retain(|waiting| waiting.quilt != job.quilt);
        if let Some((quilt, revision, stop)) = &pile.on_bench
            && *quilt == job.quilt
        {
            if *revision == job.revision && !stop.load(Ordering::Relaxed) {
                return;
            }
            stop.store(true, Ordering::Relaxed);
        }
        pile.waiting.push_back(job);
        bell.notify_one();
    }

    /// No more work is begun.
    pub fn close(&self) {
        let (pile, bell) = &*self.pile;
        pile.lock().unwrap_or_else(PoisonError::into_inner).closing = true;
        bell.notify_all();
    }
}

fn run(pile: &(Mutex<Pile>, Condvar)) {
    let (lock, bell) = pile;
    let mut memory = Memory::default();
    loop {
        let stop = Arc::new(AtomicBool::new(false));
        let job = {
            let mut pile = lock.lock().unwrap_or_else(PoisonError::into_inner);
            loop {
                if pile.closing {
                    return;
                }
                if let Some(job) = pile.waiting.pop_front() {
                    pile.on_bench = Some((job.quilt.clone(), job.revision.clone(), stop.clone()));
                    break job;
                }
                pile = bell.wait(pile).unwrap_or_else(PoisonError::into_inner);
            }
        };
        let edition = Print::default().edition(job.design.quilt.measure);
        let go_on = || !stop.load(Ordering::Relaxed);
        let first = |worked: Worked| {
            if go_on() {
                (job.done)(worked);
            }
        };
        // Until a newer job comes, or one of another quilt, or the time is over.
        let rest = || {
            let pile = lock.lock().unwrap_or_else(PoisonError::into_inner);
            let nothing_new = |pile: &mut Pile| pile.waiting.is_empty() && !pile.closing;
            drop(bell.wait_timeout_while(pile, REST, nothing_new));
        };
        let made = work(
            &job.revision,
            &job.design,
            &edition,
            (&job.photos, &mut memory),
            go_on,
            (&*job.in_sight, first, rest),
        );
        lock.lock().unwrap_or_else(PoisonError::into_inner).on_bench = None;
        if let Some(worked) = made {
            (job.done)(worked);
        }
    }
}
