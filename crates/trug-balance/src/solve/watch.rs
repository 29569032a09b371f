//! How much work may be spent on a question, and whether the answer is still wanted.
//!
//! Work is counted, never timed: the same question gives the same answer on every machine.

use std::fmt;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering::Relaxed};

/// A budget of steps, and a way to be told to stop.
pub struct Watch<'a> {
    pivots: AtomicU64,
    nodes: AtomicU64,
    is_cancelled: &'a (dyn Fn() -> bool + Sync),
    is_spent: AtomicBool,
    is_unwanted: AtomicBool,
}

/// Why work ended before its time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stopped {
    /// The steps allowed are spent.
    Spent,
    /// The answer is no longer wanted.
    Cancelled,
}

impl<'a> Watch<'a> {
    /// Steps of the simplex in machine numbers that are enough for any ration seen.
    pub const PIVOTS: u64 = 5_000_000;
    /// How many steps in machine numbers one in exact arithmetic is worth, for forty shares under forty bounds.
    pub const EXACT: u64 = 200;
    /// Patterns of used shares looked at before the best so far must do.
    pub const NODES: u64 = 20_000;

    /// A budget of so many pivots and so many nodes. A pivot in exact arithmetic counts as [`Watch::EXACT`].
    #[must_use]
    pub fn new(pivots: u64, nodes: u64, is_cancelled: &'a (dyn Fn() -> bool + Sync)) -> Watch<'a> {
        Watch {
            pivots: AtomicU64::new(pivots),
            nodes: AtomicU64::new(nodes),
            is_cancelled,
            is_spent: AtomicBool::new(false),
            is_unwanted: AtomicBool::new(false),
        }
    }

    /// The usual budget.
    #[must_use]
    pub fn usual(is_cancelled: &'a (dyn Fn() -> bool + Sync)) -> Watch<'a> {
        Watch::new(Watch::PIVOTS, Watch::NODES, is_cancelled)
    }

    /// A budget of its own for reasons: they are good to have, and must not take for ever.
    pub(crate) fn of_reasons(&self) -> Watch<'a> {
        Watch::new(Watch::PIVOTS / 10, Watch::NODES / 10, self.is_cancelled)
    }

    /// Why work ended; none while it may go on, or where only nodes are spent.
    #[must_use]
    pub fn stopped(&self) -> Option<Stopped> {
        if self.is_unwanted.load(Relaxed) {
            Some(Stopped::Cancelled)
        } else {
            self.is_spent.load(Relaxed).then_some(Stopped::Spent)
        }
    }

    /// Whether anyone still waits for the answer.
    pub(crate) fn is_wanted(&self) -> bool {
        if (self.is_cancelled)() {
            self.is_unwanted.store(true, Relaxed);
        }
        !self.is_unwanted.load(Relaxed)
    }

    /// Takes one pivot in machine numbers from the budget; false where work must end.
    pub(crate) fn pivot(&self) -> bool {
        self.spend(1)
    }

    /// Takes one pivot in exact arithmetic from the budget; false where work must end.
    pub(crate) fn exact_pivot(&self) -> bool {
        self.spend(Watch::EXACT)
    }

    fn spend(&self, pivots: u64) -> bool {
        if !self.is_wanted() || self.is_spent.load(Relaxed) {
            return false;
        }
        take(&self.pivots, pivots) || {
            self.is_spent.store(true, Relaxed);
            false
        }
    }

    /// Takes one node from the budget; false where no further one may be opened.
    pub(crate) fn node(&self) -> bool {
        self.stopped().is_none() && take(&self.nodes, 1)
    }
}

/// One search counts at a time, so what is left need not be taken in one step.
fn take(left: &AtomicU64, count: u64) -> bool {
    let less = left.load(Relaxed).checked_sub(count);
    left.store(less.unwrap_or(0), Relaxed);
    less.is_some()
}

impl fmt::Debug for Watch<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Watch")
            .field("pivots", &self.pivots.load(Relaxed))
            .field("nodes", &self.nodes.load(Relaxed))
            .field("stopped", &self.stopped())
            .finish_non_exhaustive()
    }
}
