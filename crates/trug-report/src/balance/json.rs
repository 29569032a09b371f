//! A balanced ration as `balance/1`.

use trug_balance::{
    Amount, Balanced, BoundStanding, ConflictPart, Infeasible, LeftOut, Outcome, Relax,
};
use trug_findings::{Place, Source};
use trug_model::Q;
use trug_model::choice::{ChoiceEnd, Rule};

use super::BalancedRation;
use super::told::said;
use crate::findings::{file_name, start_of};
use crate::json::balance::{
    AmountJson, BalanceDocument, BoundSideJson, ConflictJson, EndJson, FORMAT, LeftOutJson,
    RelaxJson, RuleJson, StatusJson,
};
use crate::json::number::Decimal;

/// The document of one ration.
#[must_use]
pub fn balance_document(page: &BalancedRation<'_>) -> BalanceDocument {
    let balance = &page.balance;
    let currency = Some(balance.currency.clone()).filter(|currency| !currency.is_empty());
    let document = BalanceDocument {
        format: FORMAT,
        today: page.today.clone(),
        day: page.day.clone(),
        ration: balance.ration.to_string(),
        file: file_name(balance.place, page.sources).to_owned(),
        status: StatusJson::Unproved,
        unproved: None,
        currency,
        cost_per_kg: None,
        cost_bound: None,
        cost_complete: balance.cost_is_complete,
        amounts: Vec::new(),
        bounds: Vec::new(),
        left_out: Vec::new(),
        conflict: Vec::new(),
        relax: Vec::new(),
        relax_together: false,
        counted_as_exact: balance
            .counted_as_exact
            .iter()
            .map(ToString::to_string)
            .collect(),
    };
    match &balance.outcome {
        Outcome::Balanced(balanced) => with_amounts(document, balanced, page.sources),
        Outcome::Infeasible(infeasible) => with_conflict(document, infeasible, page.sources),
        Outcome::Unanswered(why) => BalanceDocument {
            unproved: Some(why.clone()),
            ..document
        },
    }
}

fn with_amounts(
    document: BalanceDocument,
    balanced: &Balanced,
    sources: &[Source],
) -> BalanceDocument {
    let bound = |bound: &BoundStanding| bound_json(bound, sources);
    BalanceDocument {
        status: match balanced.unproved {
            Some(_) => StatusJson::Unproved,
            None => StatusJson::Optimal,
        },
        unproved: balanced.unproved.clone(),
        cost_per_kg: Some(Decimal::from(&balanced.cost_per_kg)),
        cost_bound: Some(Decimal::from(&balanced.cost_bound)),
        amounts: balanced.amounts.iter().map(amount_json).collect(),
        bounds: balanced.bounds.iter().map(bound).collect(),
        left_out: balanced.left_out.iter().map(left_out_json).collect(),
        ..document
    }
}

fn with_conflict(
    document: BalanceDocument,
    infeasible: &Infeasible,
    sources: &[Source],
) -> BalanceDocument {
    let conflict = |part: &ConflictPart| conflict_json(part, sources);
    let relax = |relax: &Relax| relax_json(relax, sources);
    BalanceDocument {
        status: StatusJson::Infeasible,
        conflict: infeasible.conflict.iter().map(conflict).collect(),
        relax: infeasible.relax.iter().map(relax).collect(),
        relax_together: infeasible.is_together,
        ..document
    }
}

fn amount_json(amount: &Amount) -> AmountJson {
    let percent = |share: &Q| Decimal::from(&(share * &Q::int(100)));
    AmountJson {
        ingredient: amount.ingredient.to_string(),
        share_percent: percent(&amount.share),
        price_low: decimal(amount.price_low.as_ref()),
        price_high: decimal(amount.price_high.as_ref()),
        price: decimal(amount.price.as_ref()),
        chosen: amount.is_chosen,
        on_top: amount.on_top,
        before_percent: amount.before.as_ref().map(percent),
    }
}

fn bound_json(bound: &BoundStanding, sources: &[Source]) -> BoundSideJson {
    let (file, line) = written(bound.place, sources);
    BoundSideJson {
        what: bound.what.clone(),
        file,
        line,
        value: decimal(bound.value.as_ref()),
        unit: bound.unit.clone(),
        bound: Decimal::from(&bound.bound),
        binding: bound.binding,
        complete: bound.complete,
        shadow_price: Decimal::from(&bound.shadow_price),
        end: end_json(bound.end),
        kind: rule_json(bound.rule),
        basis: bound.basis.clone(),
    }
}

fn end_json(end: ChoiceEnd) -> EndJson {
    match end {
        ChoiceEnd::AtLeast => EndJson::AtLeast,
        ChoiceEnd::AtMost => EndJson::AtMost,
    }
}

fn rule_json(rule: Rule) -> RuleJson {
    match rule {
        Rule::Range => RuleJson::Range,
        Rule::Limit => RuleJson::Limit,
        Rule::Dose => RuleJson::Dose,
        Rule::Target => RuleJson::Target,
        Rule::Law => RuleJson::Law,
        Rule::Ceiling => RuleJson::Ceiling,
        Rule::Harm | Rule::Never => RuleJson::Harm,
    }
}

fn left_out_json(left_out: &LeftOut) -> LeftOutJson {
    LeftOutJson {
        ingredient: left_out.ingredient.to_string(),
        enters_below_price: decimal(left_out.enters_below_price.as_ref()),
        price: decimal(left_out.price.as_ref()),
    }
}

fn conflict_json(part: &ConflictPart, sources: &[Source]) -> ConflictJson {
    let (file, line) = written(part.place, sources);
    let kind = match part.rule {
        Some(rule) => rule_json(rule),
        None if part.what == trug_balance::SUM => RuleJson::Sum,
        None => RuleJson::Harm,
    };
    ConflictJson {
        what: part.what.clone(),
        file,
        line,
        says: said(part),
        unknown: part.unknown.clone(),
        kind,
    }
}

fn relax_json(relax: &Relax, sources: &[Source]) -> RelaxJson {
    let (file, line) = written(relax.place, sources);
    RelaxJson {
        what: relax.what.clone(),
        file,
        line,
        from: Decimal::from(&relax.from),
        to: Decimal::from(&relax.to),
        unit: relax.unit.clone(),
        cost_per_kg: decimal(relax.cost_per_kg.as_ref()),
        end: end_json(relax.end),
    }
}

fn written(place: Place, sources: &[Source]) -> (String, usize) {
    let file = file_name(place, sources).to_owned();
    (file, start_of(place, sources).line)
}

fn decimal(value: Option<&Q>) -> Option<Decimal> {
    value.map(Decimal::from)
}
