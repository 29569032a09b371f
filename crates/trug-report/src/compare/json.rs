//! A comparison as `compare/0`.

use trug_compare::{
    Amount, Bounded, Cause, Eaten, FactChange, FoundChange, GroupChange, Hindrance, Pair,
    RationChange, Standing, StandingChange, Turn, Work,
};
use trug_findings::Severity;
use trug_model::Q;
use trug_model::analysis::BoundKind;

use super::Compared;
use crate::json::analysis::BoundKindJson;
use crate::json::compare::{
    AmountChangeJson, AmountJson, BothJson, BoundChangeJson, CauseJson, ChangeJson,
    CompareDocument, CostAtJson, DoseChangeJson, EatenChangeJson, EatenJson, FORMAT, FactJson,
    FoundJson, GroupChangeJson, HindranceJson, NutrientAtJson, NutrientChangeJson,
    RationChangeJson, StandingJson, StepAtJson, TurnJson, WorkJson,
};
use crate::json::finding::SeverityJson;
use crate::json::number::Decimal;

/// The document of a comparison.
#[must_use]
pub fn compare_document(compared: &Compared<'_>) -> CompareDocument {
    let comparison = compared.comparison;
    CompareDocument {
        format: FORMAT,
        today: compared.today.map(str::to_owned),
        before: compared.before.to_owned(),
        after: compared.after.to_owned(),
        ration: compared.ration.map(str::to_owned),
        changed: !comparison.is_empty(),
        texts_differ: comparison.texts_differ,
        alike: comparison.alike,
        causes: comparison.causes.iter().map(cause).collect(),
        rations: comparison.rations.iter().map(ration).collect(),
        groups: comparison.groups.iter().map(group).collect(),
        elsewhere: comparison.elsewhere.iter().map(found).collect(),
    }
}

fn both<T, U>(pair: &Pair<T>, make: impl Fn(&T) -> U) -> BothJson<U> {
    let made = pair.map(make);
    BothJson {
        before: made.before,
        after: made.after,
    }
}

fn words(pair: &Pair<String>) -> BothJson<String> {
    both(pair, Clone::clone)
}

fn cause(cause: &Cause) -> CauseJson {
    CauseJson {
        kind: cause.kind.word(),
        name: cause.name.clone(),
        file: words(&cause.file),
        changes: cause.changes.iter().map(fact).collect(),
    }
}

fn fact(change: &FactChange) -> FactJson {
    let (before, after) = (change.says.before.as_ref(), change.says.after.as_ref());
    FactJson {
        what: change.what.clone(),
        says: BothJson {
            before: before.map(|says| says.apart(after)),
            after: after.map(|says| says.apart(before)),
        },
    }
}

fn ration(ration: &RationChange) -> RationChangeJson {
    let (mut bounds, mut doses) = (Vec::new(), Vec::new());
    for change in &ration.standings {
        match &change.of {
            Bounded::Bound { kind, what, basis } => bounds.push(BoundChangeJson {
                what: what.clone(),
                kind: kind_json(*kind),
                basis: basis.clone(),
                turn: turn(change),
                at: both(&change.at, standing),
            }),
            Bounded::Dose {
                ingredient,
                nutrient,
            } => doses.push(DoseChangeJson {
                ingredient: ingredient.clone(),
                nutrient: nutrient.clone(),
                turn: turn(change),
                at: both(&change.at, standing),
            }),
        }
    }
    let nutrients = ration.nutrients.iter().map(|change| NutrientChangeJson {
        name: change.name.clone(),
        at: both(&change.at, |at| NutrientAtJson {
            value: Decimal::from(&at.value),
            unit: at.unit.clone(),
            complete: at.complete,
        }),
    });
    RationChangeJson {
        name: ration.name.clone(),
        change: if ration.is_added() {
            ChangeJson::Added
        } else if ration.is_removed() {
            ChangeJson::Removed
        } else {
            ChangeJson::Changed
        },
        file: words(&ration.file),
        hindrances: both(&ration.hindrances, |all| {
            all.iter().map(hindrance).collect()
        }),
        lines: ration.facts.iter().map(fact).collect(),
        amounts: amounts(ration),
        bounds,
        doses,
        nutrients: nutrients.collect(),
        cost: ration.cost.as_ref().map(|cost| {
            both(cost, |at| CostAtJson {
                currency: at.currency.clone(),
                per_kg: Decimal::from(&at.per_kg),
                complete: at.complete,
            })
        }),
        work: ration
            .work
            .as_ref()
            .map(|both_works| both(both_works, work)),
        findings: ration.found.iter().map(found).collect(),
    }
}

fn amounts(ration: &RationChange) -> Vec<AmountChangeJson> {
    let changes = ration.amounts.iter().map(|change| AmountChangeJson {
        ingredient: change.ingredient.clone(),
        on_top: change.on_top,
        amount: both(&change.amount, amount),
    });
    changes.collect()
}

fn amount(amount: &Amount) -> AmountJson {
    let percent = |part: &Q| Decimal::from(&(part * &Q::int(100)));
    let grams = |kg: &Q| Decimal::from(&(kg * &Q::int(1000)));
    AmountJson {
        low_percent: percent(&amount.low),
        high_percent: percent(&amount.high),
        open: amount.is_open,
        or_none: amount.or_none,
        low_g: amount.kg.as_ref().map(|(low, _)| grams(low)),
        high_g: amount.kg.as_ref().map(|(_, high)| grams(high)),
        lots: amount.lots.clone(),
    }
}

fn standing(at: &Standing) -> StandingJson {
    let decimal = |value: &Option<Q>| value.as_ref().map(Decimal::from);
    StandingJson {
        value: decimal(&at.value),
        unit: at.unit.clone(),
        min: decimal(&at.min),
        max: decimal(&at.max),
        ceiling: decimal(&at.ceiling),
        met: at.met,
        whose: (!at.whose.is_empty()).then(|| at.whose.clone()),
    }
}

fn work(work: &Work) -> WorkJson {
    let steps = work.steps.iter().map(|step| StepAtJson {
        kind: step.kind,
        vessel: step.vessel.clone(),
        ingredients: step.ingredients.clone(),
        turns: step.turns,
    });
    WorkJson {
        batches: work.batches,
        weighings: work.weighings,
        steps: steps.collect(),
        vessels: work.vessels.clone(),
        scales: work.scales.clone(),
    }
}

fn found(change: &FoundChange) -> FoundJson {
    let found = &change.found;
    FoundJson {
        new: change.is_new,
        code: found.code,
        severity: match found.severity {
            Severity::Error => SeverityJson::Error,
            Severity::Warning => SeverityJson::Warning,
            Severity::Note => SeverityJson::Note,
        },
        message: found.message.clone(),
        accepted: found.is_accepted,
        file: found.file.clone(),
        line: found.line,
    }
}

fn group(group: &GroupChange) -> GroupChangeJson {
    let eats = group.eats.iter().map(|change| EatenChangeJson {
        ration: change.ration.clone(),
        eaten: both(&change.eaten, eaten),
    });
    GroupChangeJson {
        name: group.name.clone(),
        file: words(&group.file),
        eats: eats.collect(),
    }
}

fn eaten(eaten: &Eaten) -> EatenJson {
    EatenJson {
        head: Decimal::from(&eaten.head),
        day_g: eaten
            .kg
            .as_ref()
            .map(|kg| Decimal::from(&(kg * &Q::int(1000)))),
        cost_a_day: eaten.cost.as_ref().map(|(amount, _)| Decimal::from(amount)),
        currency: eaten.cost.as_ref().map(|(_, currency)| currency.clone()),
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

fn turn(change: &StandingChange) -> TurnJson {
    match change.turn() {
        Turn::Missed => TurnJson::Missed,
        Turn::StillMissed => TurnJson::StillMissed,
        Turn::Undecided => TurnJson::Undecided,
        Turn::Met => TurnJson::Met,
        Turn::Kept => TurnJson::Kept,
        Turn::Gone => TurnJson::Gone,
    }
}

fn hindrance(hindrance: &Hindrance) -> HindranceJson {
    match hindrance {
        Hindrance::Unread => HindranceJson::Unread,
        Hindrance::NotWhole => HindranceJson::NotWhole,
        Hindrance::Open => HindranceJson::Open,
        Hindrance::Errors => HindranceJson::Errors,
        Hindrance::NoBatch => HindranceJson::NoBatch,
    }
}
