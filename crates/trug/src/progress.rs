//! A sign of life on a terminal while work takes long.

use std::io::IsTerminal;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

/// Work that is done sooner shows nothing.
const PATIENCE: Duration = Duration::from_millis(300);
const BEAT: Duration = Duration::from_millis(100);

/// Shows progress until it is dropped; nothing unless standard error is a terminal.
#[derive(Debug)]
pub(crate) struct Progress(Option<(Sender<()>, JoinHandle<()>)>);

impl Progress {
    /// Shows what is being done, as `reading texts`, and to how many it has been so far.
    pub(crate) fn of(doing: &'static str, done_so_far: Arc<AtomicUsize>) -> Progress {
        if !std::io::stderr().is_terminal() {
            return Progress(None);
        }
        let (done, is_done) = channel::<()>();
        let drawer = std::thread::Builder::new().spawn(move || {
            if is_done.recv_timeout(PATIENCE) != Err(RecvTimeoutError::Timeout) {
                return;
            }
            // Every terminal can draw these.
            let style = ProgressStyle::default_spinner().tick_chars("-\\|/ ");
            let spinner = ProgressBar::new_spinner().with_style(style);
            while is_done.recv_timeout(BEAT) == Err(RecvTimeoutError::Timeout) {
                spinner.set_message(format!("{doing}: {}", done_so_far.load(Ordering::Relaxed)));
                spinner.tick();
            }
            spinner.finish_and_clear();
        });
        // Work is done without a sign of life where no thread can be had.
        Progress(drawer.ok().map(|drawer| (done, drawer)))
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((done, drawer)) = self.0.take() {
            drop(done);
            let _ = drawer.join();
        }
    }
}
