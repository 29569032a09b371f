//! Judges a ration: every bound on it, from the label's dose to the law.

mod bounds;
mod doses;
mod enemies;
pub(crate) mod limits;
mod mix;
mod outcome;
mod store;
mod unverified;
mod verdicts;
mod windows;

use trug_findings::Finding;

use crate::findings::{amount, harm};
use crate::ration::{Line, Ration};
use crate::view::View;

pub(crate) use bounds::{Bounded, all as bounds, of_targets, rows};
pub(crate) use doses::{DoseJudged, all as doses, content_of};
pub(crate) use mix::{Mix, Spread};
pub(crate) use outcome::{Side, Verdict};
pub(crate) use verdicts::for_other_animal;
pub(crate) use windows::windows;
pub use windows::{LineWindow, LineWindowKind};

/// Says what is wrong with a ration whose amounts are made out.
pub(crate) fn judge(view: &View<'_>, ration: &Ration, findings: &mut Vec<Finding>) {
    // One without any line has said so, and holds nothing to judge.
    if !ration.is_sound || ration.lines.is_empty() {
        return;
    }
    note_open(ration, findings);
    if ration.lines.iter().any(|line| !line.feed.is_sound()) {
        return;
    }
    limits::judge(ration, findings);
    enemies::judge(view, ration, findings);
    store::judge(view, ration, findings);
    doses::judge(view, ration, findings);
    if ration.adds_up {
        verdicts::judge(view, ration, findings);
    }
    if !ration.for_mixing && ration.animal.is_none() {
        findings.push(harm::unjudged(ration.place, &ration.name));
    }
}

fn note_open(ration: &Ration, findings: &mut Vec<Finding>) {
    // A mix made beforehand whose amounts are open leaves what it brings along open here.
    let is_open = |line: &&Line| {
        let nested = line.nested();
        line.is_open || nested.is_some_and(|nested| nested.is_sound && !nested.is_fixed())
    };
    let open: Vec<_> = ration.lines.iter().filter(is_open).collect();
    if !open.is_empty() {
        let places = open.iter().map(|line| (line.written, line.name.as_str()));
        findings.push(amount::open(ration.place, &ration.name, places));
    }
}
