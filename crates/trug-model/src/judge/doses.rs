//! The doses and ceilings of each ingredient, summed over wherever it sits in the ration.

use smol_str::SmolStr;
use trug_findings::{Finding, Place, Severity};

use crate::Q;
use crate::findings::dose::{self, Dosed};
use crate::findings::{data, harm};
use crate::quantity::{Range, Shown};
use crate::ration::{Inclusion, Ration};
use crate::view::{Ingredient, Interval, View};

/// One window of one ingredient, and what the ration gives of it.
#[derive(Clone, Debug)]
pub(crate) struct DoseJudged {
    pub(crate) ingredient: SmolStr,
    pub(crate) active: Option<SmolStr>,
    /// Least and greatest, in base units; none where the active's content is unknown.
    pub(crate) value: Option<(Q, Q)>,
    /// What one of the product adds of what is bounded; of several deliveries, in the mean.
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
    /// How far the analysis of each delivery may be off.
    scatter: Vec<Scatter>,
}

/// One delivery of a product.
#[derive(Clone, Debug)]
struct Scatter {
    delivery: Option<SmolStr>,
    /// One standard deviation of what one of it holds of the active.
    deviation: f64,
    /// Ranks of the lines it sits in, with its fraction of each.
    fractions: Vec<(usize, f64)>,
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

    /// One standard deviation of the value: deliveries are analysed apart, so theirs add as squares.
    pub(crate) fn deviation_of(&self, ration: &Ration) -> f64 {
        let of_one = |scatter: &Scatter| {
            let fractions = scatter.fractions.iter();
            let inclusion: f64 = fractions
                .map(|(rank, fraction)| fraction * ration.lines[*rank].low.to_f64())
                .sum();
            inclusion * scatter.deviation
        };
        match self.scatter.as_slice() {
            [scatter] => of_one(scatter),
            several => {
                let squares: f64 = several.iter().map(|one| of_one(one).powi(2)).sum();
                squares.sqrt()
            }
        }
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
    let Given {
        value,
        content,
        rises,
        scatter,
    } = given(view, inclusion, active);
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
            scatter: scatter.clone(),
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

/// What a ration gives of what is bounded.
struct Given {
    value: Option<(Q, Q)>,
    content: Option<Q>,
    rises: Vec<Q>,
    scatter: Vec<Scatter>,
}

fn given(view: &View<'_>, inclusion: &Inclusion<'_>, active: &Option<SmolStr>) -> Given {
    let mut given = Given {
        value: None,
        content: None,
        rises: vec![Q::ZERO; inclusion.ranks.len()],
        scatter: Vec::new(),
    };
    let mut is_known = true;
    for (rank, leaf) in &inclusion.deliveries {
        let content = content_of(view, &leaf.ingredient, active);
        if let Ok(at) = inclusion.ranks.binary_search(rank) {
            given.rises[at] += &leaf.fraction * &content.known;
            is_known &= content.is_complete || inclusion.lines[at].high.is_zero();
        }
        let fraction = (*rank, leaf.fraction.to_f64());
        let delivery = &leaf.ingredient.delivery;
        let known = given.scatter.iter_mut();
        match known.into_iter().find(|one| one.delivery == *delivery) {
            Some(scatter) => scatter.fractions.push(fraction),
            None => given.scatter.push(Scatter {
                delivery: delivery.clone(),
                deviation: content.variance.to_f64().sqrt(),
                fractions: vec![fraction],
            }),
        }
    }
    if is_known {
        let (mut low, mut high) = (Q::ZERO, Q::ZERO);
        for (line, rise) in inclusion.lines.iter().zip(&given.rises) {
            if !line.or_none {
                low += &line.low * rise;
            }
            high += &line.high * rise;
        }
        given.content = (&low + &high).over(&(&inclusion.low + &inclusion.high));
        given.value = Some((low, high));
    }
    given
}

/// What one of the product holds of the active; one where the window is of the product.
pub(crate) fn content_of(
    view: &View<'_>,
    ingredient: &Ingredient,
    active: &Option<SmolStr>,
) -> Interval {
    let Some(active) = active else {
        return Interval::exactly(Q::ONE);
    };
    match view.nutrient(active) {
        Some(nutrient) => ingredient.content(&nutrient),
        None => Interval::unknown(None),
    }
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
