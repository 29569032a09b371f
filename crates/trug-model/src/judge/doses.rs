//! The doses and ceilings of each ingredient, summed over wherever it sits in the ration.

use smol_str::SmolStr;
use trug_findings::{Finding, Place, Severity};

use crate::Q;
use crate::findings::dose::{self, Dosed};
use crate::findings::{data, harm};
use crate::quantity::{Range, Shown};
use crate::ration::{Inclusion, Ration};
use crate::view::{Ingredient, View};

/// One window of one ingredient, and what the ration gives of it.
#[derive(Clone, Debug)]
pub(crate) struct DoseJudged {
    pub(crate) ingredient: SmolStr,
    pub(crate) active: Option<SmolStr>,
    /// Least and greatest, in base units; none where the active's content is unknown.
    pub(crate) value: Option<(Q, Q)>,
    /// What one of the product adds of what is bounded.
    pub(crate) content: Option<Q>,
    pub(crate) range: Option<Range>,
    pub(crate) ceiling: Option<(Q, Option<String>, Place)>,
    pub(crate) unit: Shown,
    pub(crate) place: Place,
    pub(crate) has_withdrawal: bool,
    pub(crate) or_none: bool,
    /// Ranks of the lines it sits in.
    pub(crate) lines: Vec<usize>,
    /// How fast the value rises with the inclusion of each of these lines.
    pub(crate) rises: Vec<Q>,
    /// One standard deviation of what one of the product holds of the active.
    pub(crate) deviation: f64,
}

impl DoseJudged {
    pub(crate) fn is_under(&self) -> bool {
        let low = self.range.as_ref().and_then(|range| range.low.as_ref());
        matches!((&self.value, low), (Some((_, most)), Some(low)) if most < low) && !self.or_none
    }

    pub(crate) fn is_over(&self) -> bool {
        let high = self.range.as_ref().and_then(|range| range.high.as_ref());
        matches!((&self.value, high), (Some((least, _)), Some(high)) if least > high)
    }

    /// One standard deviation of the value, from the scatter of the active's analysis.
    pub(crate) fn deviation_of(&self, ration: &Ration) -> f64 {
        let content = self.content.as_ref().map_or(0.0, Q::to_f64);
        if content == 0.0 {
            return 0.0;
        }
        let inclusion: f64 = self
            .rises
            .iter()
            .zip(&self.lines)
            .map(|(rise, rank)| rise.to_f64() / content * ration.lines[*rank].low.to_f64())
            .sum();
        inclusion * self.deviation
    }

    pub(crate) fn is_above_ceiling(&self) -> bool {
        matches!((&self.value, &self.ceiling), (Some((least, _)), Some((ceiling, ..))) if least > ceiling)
    }
}

pub(super) fn judge(view: &View<'_>, ration: &Ration, findings: &mut Vec<Finding>) {
    if ration.for_mixing {
        return;
    }
    for judged in all(view, ration) {
        let Some(rank) = judged.lines.last() else {
            continue;
        };
        let place = ration.lines[*rank].place;
        let Some((least, most)) = &judged.value else {
            let active = judged.active.as_deref().unwrap_or_default();
            findings.push(data::dose_unknown(
                place,
                &judged.ingredient,
                active,
                judged.place,
                &judged.unit.text,
            ));
            continue;
        };
        let told = |value: &Q, end: &Q| Dosed {
            ingredient: judged.ingredient.clone(),
            active: judged.active.clone(),
            value: judged.unit.say_apart(value, end),
            window: judged.range.as_ref().map(Range::words),
            in_batch: in_batch(ration, &judged),
            written: judged.place,
        };
        if let Some((ceiling, reason, written)) = judged
            .ceiling
            .as_ref()
            .filter(|_| judged.is_above_ceiling())
        {
            findings.push(harm::ceiling(
                place,
                &told(least, ceiling),
                &judged.unit.say(ceiling),
                reason.as_deref(),
                *written,
            ));
            continue;
        }
        let weighing = if judged.has_withdrawal {
            Severity::Error
        } else {
            Severity::Warning
        };
        let (low, high) = judged.range.as_ref().map_or((None, None), |range| {
            (range.low.as_ref(), range.high.as_ref())
        });
        if let Some(low) = low.filter(|_| judged.is_under()) {
            findings.push(dose::under(place, &told(most, low)).weighing(weighing));
        } else if let Some(high) = high.filter(|_| judged.is_over()) {
            findings.push(dose::over(place, &told(least, high)).weighing(weighing));
        }
    }
}

/// The window of the product as masses in the batch named.
fn in_batch(ration: &Ration, judged: &DoseJudged) -> Option<String> {
    let batch = ration.batch.as_ref()?;
    let content = judged.content.as_ref()?;
    let range = judged.range.as_ref()?;
    let grams = |end: &Q| Some((end.over(content)? * batch * Q::int(1000)).readable(3));
    match (&range.low, &range.high) {
        (Some(low), Some(high)) => Some(format!("{} g to {} g", grams(low)?, grams(high)?)),
        (None, Some(high)) => Some(format!("at most {} g", grams(high)?)),
        (Some(low), None) => Some(format!("at least {} g", grams(low)?)),
        (None, None) => None,
    }
}

/// Every window of every ingredient, the nearest to the ration's animal where some are for animals.
pub(crate) fn all(view: &View<'_>, ration: &Ration) -> Vec<DoseJudged> {
    let mut judged = Vec::new();
    for inclusion in ration.inclusions() {
        if inclusion.high.is_zero() {
            continue;
        }
        let ingredient = &inclusion.ingredient;
        let mut actives: Vec<Option<SmolStr>> = ingredient
            .doses
            .iter()
            .map(|dose| dose.active.clone())
            .collect();
        actives.extend(
            ingredient
                .ceilings
                .iter()
                .map(|ceiling| ceiling.active.clone()),
        );
        let mut done: Vec<Option<SmolStr>> = Vec::new();
        for active in actives {
            if done.contains(&active) {
                continue;
            }
            judged.extend(of_active(view, ration, &inclusion, &active));
            done.push(active);
        }
    }
    judged
}

fn of_active(
    view: &View<'_>,
    ration: &Ration,
    inclusion: &Inclusion<'_>,
    active: &Option<SmolStr>,
) -> Vec<DoseJudged> {
    let ingredient = &inclusion.ingredient;
    let (content, deviation) = content_of(view, ingredient, active);
    let rises = rises(inclusion, content.as_ref());
    let value = content
        .as_ref()
        .map(|content| (&inclusion.low * content, &inclusion.high * content));
    let doses = ingredient
        .doses
        .iter()
        .filter(|dose| dose.active == *active);
    let doses = nearest(view, ration, doses.map(|dose| (dose.animal.clone(), dose)));
    let ceilings = ingredient
        .ceilings
        .iter()
        .filter(|ceiling| ceiling.active == *active);
    let ceilings = nearest(
        view,
        ration,
        ceilings.map(|ceiling| (ceiling.animal.clone(), ceiling)),
    );
    let mut lowest = None;
    for ceiling in ceilings {
        if lowest.is_none_or(|known: &crate::view::Ceiling| ceiling.value < known.value) {
            lowest = Some(ceiling);
        }
    }
    let judged =
        |range: Option<&Range>, unit: &Shown, place: Place, with_ceiling: bool| DoseJudged {
            ingredient: ingredient.name.clone(),
            active: active.clone(),
            value: value.clone(),
            content: content.clone(),
            range: range.cloned(),
            ceiling: lowest
                .filter(|_| with_ceiling)
                .map(|ceiling| (ceiling.value.clone(), ceiling.reason.clone(), ceiling.place)),
            unit: unit.clone(),
            place,
            has_withdrawal: !ingredient.withdrawals.is_empty(),
            or_none: inclusion.or_none,
            lines: inclusion.ranks.clone(),
            rises: rises.clone(),
            deviation,
        };
    let mut windows: Vec<DoseJudged> = Vec::new();
    for (rank, dose) in doses.into_iter().enumerate() {
        windows.push(judged(
            Some(&dose.range),
            &dose.range.unit,
            dose.place,
            rank == 0,
        ));
    }
    if windows.is_empty()
        && let Some(ceiling) = lowest
    {
        windows.push(judged(None, &ceiling.unit, ceiling.place, true));
    }
    windows
}

/// What one of the product holds of the active; one where the window is of the product.
fn content_of(
    view: &View<'_>,
    ingredient: &Ingredient,
    active: &Option<SmolStr>,
) -> (Option<Q>, f64) {
    let Some(active) = active else {
        return (Some(Q::ONE), 0.0);
    };
    let Some(nutrient) = view.nutrient(active) else {
        return (None, 0.0);
    };
    let content = ingredient.content(&nutrient);
    let deviation = content.variance.to_f64().sqrt();
    (content.is_complete.then_some(content.known), deviation)
}

/// What one unit of each line it sits in adds of what is dosed.
fn rises(inclusion: &Inclusion<'_>, content: Option<&Q>) -> Vec<Q> {
    let rise = |fraction: &Q| content.map_or(Q::ZERO, |content| fraction * content);
    inclusion.fractions.iter().map(rise).collect()
}

/// Those for the ration's animal, or for the nearest of its kinds, or for any.
pub(super) fn nearest<T>(
    view: &View<'_>,
    ration: &Ration,
    of: impl Iterator<Item = (Option<SmolStr>, T)>,
) -> Vec<T> {
    let mut best: Option<usize> = None;
    let mut chosen = Vec::new();
    for (animal, one) in of {
        let steps = match (&animal, &ration.animal) {
            (None, _) => Some(usize::MAX),
            (Some(kind), Some(animal)) => view.steps_up(animal, kind),
            (Some(_), None) => None,
        };
        let Some(steps) = steps else { continue };
        if best.is_none_or(|best| steps < best) {
            best = Some(steps);
            chosen.clear();
        }
        if best == Some(steps) {
            chosen.push(one);
        }
    }
    chosen
}
