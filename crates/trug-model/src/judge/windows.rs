//! Between which inclusions one line keeps each bound that can hurt, the other lines as they are.

use trug_findings::Place;

use super::bounds::Bounded;
use crate::Q;
use crate::analysis::BoundKind;
use crate::quantity::Range;
use crate::ration::Ration;
use crate::view::View;

/// The inclusions of one line that keep one bound.
#[derive(Clone, Debug)]
pub struct LineWindow {
    /// Rank of the line.
    pub line: usize,
    /// What stands behind the bound.
    pub kind: LineWindowKind,
    /// Least inclusion of the 100 %.
    pub low: Option<Q>,
    /// Greatest inclusion of the 100 %.
    pub high: Option<Q>,
    /// What is bounded, for people.
    pub what: String,
    /// Where the bound is written.
    pub place: Place,
}

/// What stands behind a window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineWindowKind {
    /// The product's label.
    Dose,
    /// The ingredient's own ceiling.
    Ceiling,
    /// A regulation on the whole feed.
    Law,
    /// Harm from the whole feed.
    Harm,
}

/// The windows of every line of a ration with known amounts.
pub(crate) fn windows(view: &View<'_>, ration: &Ration) -> Vec<LineWindow> {
    let mut windows = Vec::new();
    of_doses(view, ration, &mut windows);
    if !ration.for_mixing {
        for bounded in super::bounds(view, ration) {
            of_bound(ration, &bounded, &mut windows);
        }
    }
    windows
}

fn of_doses(view: &View<'_>, ration: &Ration, windows: &mut Vec<LineWindow>) {
    for judged in super::doses(view, ration) {
        let (Some(content), Some((value, _))) = (&judged.content, &judged.value) else {
            continue;
        };
        if content.is_zero() {
            continue;
        }
        for (&rank, rise) in judged.lines.iter().zip(&judged.rises) {
            if rise.is_zero() {
                continue;
            }
            // What the other lines bring of it stays.
            let own = &ration.lines[rank].low * rise;
            let others = value - &own;
            let of_line = |end: &Q| (end - &others).over(rise);
            let what = judged.active.as_ref().map_or_else(
                || format!("the dose of {}", judged.ingredient),
                |active| format!("the dose of {active} from {}", judged.ingredient),
            );
            if let Some(Range { low, high, .. }) = &judged.range {
                windows.push(LineWindow {
                    line: rank,
                    kind: LineWindowKind::Dose,
                    low: low.as_ref().and_then(of_line),
                    high: high.as_ref().and_then(of_line),
                    what: what.clone(),
                    place: judged.place,
                });
            }
            if let Some((ceiling, _, place)) = &judged.ceiling {
                windows.push(LineWindow {
                    line: rank,
                    kind: LineWindowKind::Ceiling,
                    low: None,
                    high: of_line(ceiling),
                    what: format!("the ceiling of {}", judged.ingredient),
                    place: *place,
                });
            }
        }
    }
}

fn of_bound(ration: &Ration, bounded: &Bounded, windows: &mut Vec<LineWindow>) {
    let kind = match bounded.kind {
        BoundKind::Law => LineWindowKind::Law,
        BoundKind::Harm => LineWindowKind::Harm,
        BoundKind::Target | BoundKind::Limit => return,
    };
    let (Some(most), Some(value)) = (&bounded.range.high, &bounded.value) else {
        return;
    };
    if value > most {
        return;
    }
    for (rank, rise) in bounded.rises.iter().enumerate() {
        if !rise.is_positive() {
            continue;
        }
        let room = (most - value).over(rise);
        windows.push(LineWindow {
            line: rank,
            kind,
            low: None,
            high: room.map(|room| &ration.lines[rank].low + &room),
            what: match kind {
                LineWindowKind::Law => format!("{} by law", bounded.what),
                _ => format!("{} that harms", bounded.what),
            },
            place: bounded.written,
        });
    }
}
