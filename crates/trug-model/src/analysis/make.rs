//! Works an analysis out: sums of contents, bounds, doses, cost.

use std::collections::BTreeSet;
use std::sync::Arc;

use smol_str::SmolStr;

use super::{Analysis, BoundKind, BoundValue, Cost, DoseValue, LineCost, NutrientValue};
use crate::Q;
use crate::farm::Namespace;
use crate::judge::limits::{self, LimitJudged};
use crate::judge::{self, Bounded, Mix, Verdict};
use crate::ration::{Line, Ration};
use crate::view::{Feed, Nutrient, View};

/// What a ration holds, keeps and costs. Open amounts count at the middle of what can be chosen.
pub(crate) fn analyse(view: &View<'_>, ration: &Ration) -> Analysis {
    let mix = Mix::of(ration);
    let mut bounds = Vec::new();
    if !ration.for_mixing {
        bounds.extend(judge::bounds(view, ration).into_iter().map(bound_value));
        bounds.extend(
            limits::of_ingredients(view, ration)
                .into_iter()
                .map(limit_value),
        );
    }
    bounds.extend(limits::own(ration).into_iter().map(limit_value));
    let doses = if ration.for_mixing {
        Vec::new()
    } else {
        doses(view, ration)
    };
    Analysis {
        ration: ration.name.to_string(),
        place: ration.place,
        mass_g: ration
            .batch
            .as_ref()
            .map(|batch| batch * &mix.whole * Q::int(1000)),
        cost: cost(view, &mix),
        nutrients: nutrients(view, &mix),
        bounds,
        doses,
    }
}

/// The nutrients its sources name, those its bounds name, and those that follow from them.
fn counted(view: &View<'_>, ration: &Ration) -> Vec<Arc<Nutrient>> {
    let mut names: BTreeSet<SmolStr> = BTreeSet::new();
    for line in &ration.lines {
        for leaf in line.feed.leaves() {
            names.extend(leaf.ingredient.contents.keys().cloned());
        }
    }
    let declared = view.scope.all(view.farm, Namespace::Nutrient);
    let formulas: BTreeSet<SmolStr> = declared
        .map(|(_, declared)| declared.name.clone())
        .collect();
    let mut nutrients: Vec<Arc<Nutrient>> = Vec::new();
    for name in names.iter().chain(&formulas) {
        let Some(nutrient) = view.nutrient(name) else {
            continue;
        };
        let follows = nutrient.formula.as_ref().is_some_and(|formula| {
            formula
                .terms
                .iter()
                .all(|(_, part)| names.contains(&part.name))
        });
        let is_new = !nutrients.iter().any(|known| known.name == nutrient.name);
        if is_new && (names.contains(name) || follows) {
            nutrients.push(nutrient);
        }
    }
    nutrients.sort_by(|a, b| a.name.cmp(&b.name));
    nutrients
}

fn nutrients(view: &View<'_>, mix: &Mix<'_>) -> Vec<NutrientValue> {
    let shares = mix.middle();
    let dry_matter = mix.spread(&Feed::dry_matter);
    let is_dry_known = dry_matter.is_complete(mix);
    let dry_matter = mix.known(&dry_matter, &shares);
    let value = |nutrient: &Arc<Nutrient>| {
        let spread = mix.spread(&|feed: &Feed| feed.content(nutrient));
        let total = mix.known(&spread, &shares);
        let value = total.over(&mix.whole).unwrap_or_default();
        let variance = mix
            .variance(&spread, &shares)
            .over(&(&mix.whole * &mix.whole))
            .unwrap_or_default();
        let in_unit = |value: &Q| nutrient.unit.of(value);
        let deviation = variance.to_f64().sqrt() / nutrient.unit.factor.to_f64();
        let has_scatter = variance.is_positive();
        let shown = in_unit(&value);
        NutrientValue {
            name: nutrient.name.to_string(),
            label: nutrient.label.clone(),
            unit: nutrient.unit.text.clone(),
            value_dry_matter: is_dry_known
                .then(|| total.over(&dry_matter))
                .flatten()
                .map(|value| in_unit(&value)),
            complete: spread.is_complete(mix),
            low: has_scatter.then(|| shown.to_f64() - 2.0 * deviation),
            high: has_scatter.then(|| shown.to_f64() + 2.0 * deviation),
            value: shown,
        }
    };
    counted(view, mix.ration).iter().map(value).collect()
}

fn bound_value(bounded: Bounded) -> BoundValue {
    let met = bounded.met();
    let probability = bounded.probability();
    let in_unit = |value: &Q| bounded.range.unit.of(value);
    BoundValue {
        value: bounded.value.as_ref().map(in_unit),
        min: bounded.range.low.as_ref().map(in_unit),
        max: bounded.range.high.as_ref().map(in_unit),
        unit: bounded.range.unit.text.clone(),
        what: bounded.what,
        kind: bounded.kind,
        basis: bounded.basis,
        met,
        probability,
        rises: bounded.rises.iter().map(in_unit).collect(),
        deviation: bounded.variance.to_f64().sqrt() / bounded.range.unit.factor.to_f64(),
        place: bounded.written,
    }
}

fn limit_value(limit: LimitJudged) -> BoundValue {
    let in_unit = |value: &Q| limit.range.unit.of(value);
    let missed = |side: &Option<judge::Side>| {
        side.as_ref()
            .is_some_and(|side| side.verdict == Verdict::Missed)
    };
    BoundValue {
        value: limit.value.as_ref().map(in_unit),
        min: limit.range.low.as_ref().map(in_unit),
        max: limit.range.high.as_ref().map(in_unit),
        unit: limit.range.unit.text.clone(),
        met: Some(!missed(&limit.low) && !missed(&limit.high)),
        what: limit.what,
        kind: BoundKind::Limit,
        basis: "as fed".to_owned(),
        probability: None,
        rises: Vec::new(),
        deviation: 0.0,
        place: limit.written,
    }
}

/// Every dose and ceiling of the ingredients of a ration.
pub(crate) fn doses(view: &View<'_>, ration: &Ration) -> Vec<DoseValue> {
    let half = Q::ratio(1, 2);
    let value = |judged: judge::DoseJudged| {
        let is_missed = judged.is_under() || judged.is_over() || judged.is_above_ceiling();
        let in_unit = |value: &Q| judged.unit.of(value);
        let range = judged.range.as_ref();
        DoseValue {
            ingredient: judged.ingredient.to_string(),
            nutrient: judged.active.as_ref().map(SmolStr::to_string),
            value: judged
                .value
                .as_ref()
                .map(|(low, high)| in_unit(&((low + high) * &half))),
            unit: judged.unit.text.clone(),
            min: range.and_then(|range| range.low.as_ref()).map(in_unit),
            max: range.and_then(|range| range.high.as_ref()).map(in_unit),
            ceiling: judged
                .ceiling
                .as_ref()
                .map(|(ceiling, ..)| in_unit(ceiling)),
            met: judged.value.is_some().then_some(!is_missed),
            rises: {
                let lines = judged.lines.iter().copied();
                lines.zip(judged.rises.iter().map(in_unit)).collect()
            },
            deviation: judged.deviation_of(ration) / judged.unit.factor.to_f64(),
            place: judged.place,
        }
    };
    judge::doses(view, ration).into_iter().map(value).collect()
}

/// What a ration costs, alone.
pub(crate) fn cost_of(view: &View<'_>, ration: &Ration) -> Option<Cost> {
    cost(view, &Mix::of(ration))
}

/// Money for one kg of finished feed, in the currency of the first price.
fn cost(view: &View<'_>, mix: &Mix<'_>) -> Option<Cost> {
    let leaves = || mix.ration.lines.iter().flat_map(|line| line.feed.leaves());
    let currency =
        leaves().find_map(|leaf| Some(leaf.ingredient.price.as_ref()?.currency.clone()))?;
    let shares = mix.middle();
    let lines = mix.ration.lines.iter().zip(&shares);
    let lines = lines
        .map(|(line, share)| {
            let share = if line.on_top { &line.low } else { share };
            line_cost(view, mix, line, share, &currency)
        })
        .collect::<Option<Vec<LineCost>>>()?;
    Some(Cost {
        currency: currency.to_string(),
        per_kg: lines.iter().map(|line| &line.per_kg).sum(),
        complete: lines.iter().all(|line| line.complete),
        lines,
    })
}

fn line_cost(
    view: &View<'_>,
    mix: &Mix<'_>,
    line: &Line,
    share: &Q,
    currency: &SmolStr,
) -> Option<LineCost> {
    let mut total = Q::ZERO;
    let mut is_complete = true;
    for leaf in line.feed.leaves() {
        let price = leaf.ingredient.price.as_ref();
        let price = price.and_then(|price| view.exchange(&price.value, &price.currency, currency));
        match price {
            Some(price) => total += price * share * &leaf.fraction,
            None => is_complete &= share.is_zero(),
        }
    }
    Some(LineCost {
        ingredient: line.name.to_string(),
        share: share.over(&mix.whole)?,
        per_kg: total.over(&mix.whole)?,
        complete: is_complete,
    })
}
