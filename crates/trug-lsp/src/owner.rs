//! The thread that owns the session: takes what happened in the order it came, then makes out what follows from it.

use std::io;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::Receiver;

use crate::event::Event;
use crate::session::{Session, Start};

/// What is taken at once before anything is made out: enough to catch up, too little to fall silent.
const AT_ONCE: usize = 256;

/// Starts the thread.
pub(crate) fn start(start: Start, events: Receiver<Event>) -> io::Result<()> {
    let mut session = Session::new(start)?;
    std::thread::Builder::new()
        .name("owner".to_owned())
        .spawn(move || {
            while let Ok(first) = events.recv() {
                let more = std::iter::from_fn(|| events.try_recv().ok());
                for event in std::iter::once(first).chain(more.take(AT_ONCE)) {
                    if matches!(event, Event::Over) {
                        return;
                    }
                    whatever_comes(|| session.take(event));
                }
                whatever_comes(|| session.settle());
            }
        })?;
    Ok(())
}

/// A mistake of ours in one event must not take the others with it; the panic itself is told on standard error.
fn whatever_comes(work: impl FnOnce()) {
    drop(catch_unwind(AssertUnwindSafe(work)));
}
