//! Whether the lines of a ration make the whole, and what would mend it where they do not.

use trug_findings::{Finding, Place};

use super::settle::Read;
use super::shares::Shares;
use crate::Q;
use crate::findings::sum::{self, Closing};
use crate::ration::Ration;
use crate::ration::draft::Draft;
use crate::ration::quantified::Quantified;
use crate::view::{Feed, View};

/// Says whether the lines make 100 %, or the batch where all are masses.
pub(super) fn judge(
    view: &View<'_>,
    draft: &Draft<'_>,
    lines: &[Read<'_, '_>],
    shares: &Shares,
    ration: &Ration,
    findings: &mut Vec<Finding>,
) -> bool {
    if lines.is_empty() {
        findings.push(sum::nothing(draft.place, &draft.name));
        return false;
    }
    let (mut low, mut high) = (Q::ZERO, Q::ZERO);
    let mut has_rest = false;
    let mut all_masses = true;
    for (line, range) in lines
        .iter()
        .zip(&shares.ranges)
        .filter(|(line, _)| !line.is_on_top())
    {
        all_masses &= matches!(line.written.amount, Quantified::Mass(_));
        if matches!(line.written.amount, Quantified::Rest) {
            has_rest = true;
            continue;
        }
        let is_open = range.0 != range.1;
        if line.draft.clauses.or_none.is_none() || !is_open {
            low += &range.0;
        }
        high += &range.1;
    }
    let off = if low > Q::ONE {
        low - Q::ONE
    } else if high < Q::ONE && !has_rest {
        high - Q::ONE
    } else {
        return true;
    };
    if draft.repeats_a_wrong_sum {
        return false;
    }
    let total = Q::ONE + &off;
    let whole = if all_masses {
        ration.batch.as_ref()
    } else {
        None
    };
    let closing = closing(view, ration.animal.as_deref(), lines, shares, &off);
    findings.push(sum::off(
        draft.place,
        &draft.name,
        &total,
        &off,
        whole,
        closing,
    ));
    false
}

/// The line that could take up the difference: the largest bulk line that cannot harm.
fn closing(
    view: &View<'_>,
    animal: Option<&str>,
    lines: &[Read<'_, '_>],
    shares: &Shares,
    off: &Q,
) -> Option<Closing> {
    let mut best: Option<(&Q, &Read<'_, '_>)> = None;
    for (line, (share, high)) in lines.iter().zip(&shares.ranges) {
        let may_close = share == high
            && !line.is_on_top()
            && !line.draft.is_inherited
            && !line.written.gives_active
            && line.draft.clauses.within.is_none()
            && matches!(&line.feed, Feed::Ingredient(ingredient) if !ingredient.can_harm() && ingredient.limits.is_empty())
            && !is_concentrated(view, animal, &line.feed);
        if may_close && best.is_none_or(|(largest, _)| share > largest) {
            best = Some((share, line));
        }
    }
    let (share, line) = best?;
    let closed = share - off;
    // Only a bulk line: below 3 % a line counts as small, and small amounts are never mended.
    if closed < Q::ratio(3, 100) || *share < Q::ratio(3, 100) {
        return None;
    }
    let unit = line.written.unit.as_ref()?;
    let in_unit = match &line.written.amount {
        Quantified::Mass(_) => unit.of(&(&closed * shares.batch.as_ref()?)),
        Quantified::Share(_, None) => unit.of(&closed),
        _ => return None,
    };
    let place = Place::new(line.draft.file, line.draft.span);
    in_unit.decimals_end().then(|| Closing {
        name: line.name().to_string(),
        place,
        amount: format!("{in_unit} {}", unit.text),
    })
}

/// Whether it holds more of something than law or harm let the whole feed hold: more of it can hurt.
fn is_concentrated(view: &View<'_>, animal: Option<&str>, feed: &Feed) -> bool {
    let Some(animal) = animal else { return false };
    let kinds = view.kinds_of(animal);
    kinds.iter().flat_map(|kind| &kind.bounds).any(|bound| {
        let is_per_mass = bound.of.below.is_none() && bound.range.dimension == bound.of.dimension;
        let most = bound.range.high.as_ref().filter(|_| is_per_mass);
        most.is_some_and(|most| feed.linear(&bound.of.above).known > *most)
    })
}
