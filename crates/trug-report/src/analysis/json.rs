//! An analysis as `analysis/1`.

use trug_findings::Source;
use trug_model::Q;
use trug_model::analysis::{
    Analysis, BoundKind, BoundValue, Cost, DoseValue, LineCost, NutrientValue, Sourced,
};

use super::{Beside, Interval};
use crate::findings::{file_name, start_of};
use crate::json::analysis::{
    AnalysisDocument, BoundJson, BoundKindJson, CostJson, DoseJson, FORMAT, IntervalJson,
    LineCostJson, NutrientJson, SourceJson, SourcedJson,
};
use crate::json::number::{Decimal, statistic};

/// The document of one ration.
#[must_use]
pub fn analysis_document(
    analysis: &Analysis,
    sources: &[Source],
    beside: &Beside<'_>,
) -> AnalysisDocument {
    let bounds = analysis.bounds.iter().enumerate();
    let doses = analysis.doses.iter().enumerate();
    AnalysisDocument {
        format: FORMAT,
        today: beside.today.map(str::to_owned),
        ration: analysis.ration.clone(),
        file: file_name(analysis.place, sources).to_owned(),
        mass_g: decimal(analysis.mass_g.as_ref()),
        cost: analysis.cost.as_ref().map(cost_json),
        costs: analysis.cost.as_ref().map_or_else(Vec::new, costs_json),
        nutrients: analysis.nutrients.iter().map(nutrient_json).collect(),
        bounds: bounds
            .map(|(rank, bound)| bound_json(bound, sources, beside.bounds.get(rank)))
            .collect(),
        doses: doses
            .map(|(rank, dose)| dose_json(dose, beside.doses.get(rank)))
            .collect(),
        sources: beside.origins.iter().map(source_json).collect(),
    }
}

fn source_json(origin: &Sourced) -> SourceJson {
    let value = |(of, what): &(String, Vec<String>)| SourcedJson {
        of: of.clone(),
        what: what.clone(),
    };
    SourceJson {
        source: origin.source.clone(),
        unverified: origin.unverified,
        values: origin.values.iter().map(value).collect(),
    }
}

fn cost_json(cost: &Cost) -> CostJson {
    CostJson {
        currency: cost.currency.clone(),
        per_kg: Decimal::from(&cost.per_kg),
        complete: cost.complete,
    }
}

fn costs_json(cost: &Cost) -> Vec<LineCostJson> {
    let line = |line: &LineCost| LineCostJson {
        ingredient: line.ingredient.clone(),
        share_percent: Decimal::from(&(&line.share * &Q::int(100))),
        per_kg: Decimal::from(&line.per_kg),
        complete: line.complete,
    };
    cost.lines.iter().map(line).collect()
}

fn nutrient_json(nutrient: &NutrientValue) -> NutrientJson {
    NutrientJson {
        name: nutrient.name.clone(),
        value: Decimal::from(&nutrient.value),
        unit: nutrient.unit.clone(),
        value_dry_matter: decimal(nutrient.value_dry_matter.as_ref()),
        complete: nutrient.complete,
        low: nutrient.low.and_then(statistic),
        high: nutrient.high.and_then(statistic),
    }
}

fn bound_json(bound: &BoundValue, sources: &[Source], interval: Option<&Interval>) -> BoundJson {
    BoundJson {
        what: bound.what.clone(),
        kind: kind_json(bound.kind),
        value: decimal(bound.value.as_ref()),
        unit: bound.unit.clone(),
        basis: bound.basis.clone(),
        min: decimal(bound.min.as_ref()),
        max: decimal(bound.max.as_ref()),
        met: bound.met,
        probability: bound.probability.and_then(statistic),
        file: file_name(bound.place, sources).to_owned(),
        line: start_of(bound.place, sources).line,
        interval: interval_json(interval),
    }
}

fn kind_json(kind: BoundKind) -> BoundKindJson {
    match kind {
        BoundKind::Target => BoundKindJson::Target,
        BoundKind::Law => BoundKindJson::Law,
        BoundKind::Harm => BoundKindJson::Harm,
        BoundKind::Limit => BoundKindJson::Limit,
    }
}

fn dose_json(dose: &DoseValue, interval: Option<&Interval>) -> DoseJson {
    DoseJson {
        ingredient: dose.ingredient.clone(),
        nutrient: dose.nutrient.clone(),
        value: decimal(dose.value.as_ref()),
        unit: dose.unit.clone(),
        min: decimal(dose.min.as_ref()),
        max: decimal(dose.max.as_ref()),
        ceiling: decimal(dose.ceiling.as_ref()),
        met: dose.met,
        interval: interval_json(interval),
    }
}

fn interval_json(interval: Option<&Interval>) -> IntervalJson {
    let Some(interval) = interval else {
        return IntervalJson::default();
    };
    let low = |ends: Option<(f64, f64)>| ends.and_then(|ends| statistic(ends.0));
    let high = |ends: Option<(f64, f64)>| ends.and_then(|ends| statistic(ends.1));
    IntervalJson {
        batch_low: low(interval.batch),
        batch_high: high(interval.batch),
        portion_low: low(interval.portion),
        portion_high: high(interval.portion),
    }
}

fn decimal(value: Option<&Q>) -> Option<Decimal> {
    value.map(Decimal::from)
}
