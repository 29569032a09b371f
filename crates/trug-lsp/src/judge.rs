//! Judges texts in the background: what is being edited on one thread, the rest of the farm on another.
//!
//! A thread takes one text at a time from work that the owner replaces after every edit, so it is never busy for long
//! with what nobody waits for any more.

use std::collections::{BTreeMap, VecDeque};
use std::io;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::Sender;
use std::sync::{Arc, Condvar, Mutex, PoisonError};

use crate::diagnostics::judge;
use crate::event::Event;
use crate::reports::Report;
use crate::snapshot::{AreaShot, Eye};

/// Texts of one area to be judged, the first first.
pub(crate) struct Job {
    pub(crate) eye: Arc<Eye>,
    pub(crate) area: Arc<AreaShot>,
    pub(crate) names: VecDeque<String>,
}

/// Work for one thread, by area.
#[derive(Default)]
struct Work {
    jobs: BTreeMap<u32, Job>,
    is_over: bool,
}

/// A thread that judges.
pub(crate) struct Lane(Arc<(Mutex<Work>, Condvar)>);

impl Lane {
    /// Starts the thread; what it finds is sent to the owner.
    pub(crate) fn start(name: &str, events: Sender<Event>) -> io::Result<Lane> {
        let shared = Arc::new((Mutex::new(Work::default()), Condvar::new()));
        let work = Arc::clone(&shared);
        std::thread::Builder::new()
            .name(name.to_owned())
            .spawn(move || {
                while let Some((eye, area, name)) = next(&work) {
                    let judged = catch_unwind(AssertUnwindSafe(|| judge(&eye, &area, &name)));
                    let report = judged.unwrap_or_else(|_| Report {
                        revision: area.revision,
                        ..Report::default()
                    });
                    let area = area.base.id;
                    if events.send(Event::Judged { area, name, report }).is_err() {
                        return;
                    }
                }
            })?;
        Ok(Lane(shared))
    }

    /// Puts this in the place of what was still to be done for the same area.
    pub(crate) fn set(&self, job: Job) {
        let mut work = self.0.0.lock().unwrap_or_else(PoisonError::into_inner);
        if job.names.is_empty() {
            work.jobs.remove(&job.area.base.id);
        } else {
            work.jobs.insert(job.area.base.id, job);
        }
        self.0.1.notify_one();
    }
}

impl Drop for Lane {
    fn drop(&mut self) {
        self.0
            .0
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .is_over = true;
        self.0.1.notify_one();
    }
}

fn next(shared: &(Mutex<Work>, Condvar)) -> Option<(Arc<Eye>, Arc<AreaShot>, String)> {
    let mut work = shared.0.lock().unwrap_or_else(PoisonError::into_inner);
    loop {
        if work.is_over {
            return None;
        }
        if let Some(mut entry) = work.jobs.first_entry() {
            let job = entry.get_mut();
            let name = job.names.pop_front();
            let (eye, area) = (Arc::clone(&job.eye), Arc::clone(&job.area));
            if job.names.is_empty() {
                entry.remove();
            }
            if let Some(name) = name {
                return Some((eye, area, name));
            }
        } else {
            work = shared.1.wait(work).unwrap_or_else(PoisonError::into_inner);
        }
    }
}
