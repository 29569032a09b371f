//! A ration balanced: the cheapest amounts with their reasons, or why there are none.

mod contradiction;

use smol_str::SmolStr;
use trug_findings::{Edit, Finding, Place};
use trug_model::choice::{Choice, ChoiceEnd, OpenShare, Rule};
use trug_model::prices::Prices;
use trug_model::ration::Ration;
use trug_model::{Q, View};

use crate::answer::answer;
use crate::findings::cost;
use crate::programme::{Answer, Chosen};
use crate::question::question;
use crate::rewrite::edits;
use crate::solve::Watch;
use contradiction::infeasible;

/// What the sum of the amounts is called in a conflict.
pub const SUM: &str = "sum";

/// A ration whose open amounts were chosen at least cost.
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    /// The ration's name.
    pub ration: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// ISO 4217 code; empty where nothing in the ration has a price.
    pub currency: String,
    /// What came of it.
    pub outcome: Outcome,
    /// Ingredients whose analyses have no scatter though a certainty is asked for: they count as exact.
    pub counted_as_exact: Vec<SmolStr>,
    /// Fixed lines without a price make the cost less than it is.
    pub cost_is_complete: bool,
}

/// What came of balancing.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// Amounts that keep every bound.
    Balanced(Box<Balanced>),
    /// No amounts do.
    Infeasible(Infeasible),
    /// Neither was found; the words say why.
    Unanswered(String),
}

/// Amounts that keep every bound, and why these.
#[derive(Clone, Debug, PartialEq)]
pub struct Balanced {
    /// Why it is not proved that nothing is cheaper by more than 0.01 %; none where it is.
    pub unproved: Option<String>,
    /// What one kg of finished feed costs with the amounts as they are written.
    pub cost_per_kg: Q,
    /// No choice costs less; proved.
    pub cost_bound: Q,
    /// Every line of the ration, in order.
    pub amounts: Vec<Amount>,
    /// Every bound on the choice, one entry a side, in the order of the texts.
    pub bounds: Vec<BoundStanding>,
    /// What could be chosen and is not used.
    pub left_out: Vec<LeftOut>,
    /// What writes the amounts into the text.
    pub edits: Vec<Edit>,
}

/// One line of the balanced ration.
#[derive(Clone, Debug, PartialEq)]
pub struct Amount {
    /// The ingredient, or the ration mixed beforehand.
    pub ingredient: SmolStr,
    /// Its share of the 100 %, as it is to be written.
    pub share: Q,
    /// Dosed beyond the 100 %.
    pub on_top: bool,
    /// It was chosen.
    pub is_chosen: bool,
    /// What was written before.
    pub before: Option<Q>,
    /// Money for one kg of it.
    pub price: Option<Q>,
    /// The price down to which the choice stays, per kg; none is without end.
    pub price_low: Option<Q>,
    /// The price up to which the choice stays, per kg; none is without end.
    pub price_high: Option<Q>,
}

/// One side of one bound, and how the balanced ration stands to it.
#[derive(Clone, Debug, PartialEq)]
pub struct BoundStanding {
    /// What stands behind it.
    pub rule: Rule,
    /// What is bounded, as written.
    pub what: String,
    /// Which side.
    pub end: ChoiceEnd,
    /// The value of what is known, in its unit.
    pub value: Option<Q>,
    /// The unit as written.
    pub unit: String,
    /// What the value is per, in words.
    pub basis: String,
    /// What it must keep, in its unit.
    pub bound: Q,
    /// The optimum keeps it with nothing to spare.
    pub binding: bool,
    /// Nothing of the value is unknown.
    pub complete: bool,
    /// What a kg would cost more if the bound were tighter by one of its unit.
    pub shadow_price: Q,
    /// Where it is written.
    pub place: Place,
}

/// Something that could be chosen and is not used.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// The ingredient.
    pub ingredient: SmolStr,
    /// What it costs a kg.
    pub price: Option<Q>,
    /// The greatest price at which some cheapest choice uses it; none where no choice can.
    pub enters_below_price: Option<Q>,
}

/// Why no amounts keep every bound.
#[derive(Clone, Debug, PartialEq)]
pub struct Infeasible {
    /// What cannot all be kept; without any one of them, the others can.
    pub conflict: Vec<ConflictPart>,
    /// What would make a choice possible, the smallest relative change first.
    pub relax: Vec<Relax>,
    /// Only all of `relax` together make a choice possible.
    pub is_together: bool,
}

/// One part of a conflict.
#[derive(Clone, Debug, PartialEq)]
pub struct ConflictPart {
    /// What stands behind it; none for the sum and for what may never meet.
    pub rule: Option<Rule>,
    /// What is bounded, as written; `sum` for the sum.
    pub what: String,
    /// In words, with its number.
    pub says: String,
    /// Ingredients whose content it rests on and which do not say it: it counts as the most there can be.
    pub unknown: Vec<String>,
    /// Where it is written.
    pub place: Place,
}

/// One bound loosened.
#[derive(Clone, Debug, PartialEq)]
pub struct Relax {
    /// What is bounded, as written.
    pub what: String,
    /// Which side.
    pub end: ChoiceEnd,
    /// The unit as written.
    pub unit: String,
    /// The bound as it is, in its unit.
    pub from: Q,
    /// The bound that suffices, in its unit.
    pub to: Q,
    /// What the cheapest choice then costs a kg; none where that was not found.
    pub cost_per_kg: Option<Q>,
    /// Where it is written.
    pub place: Place,
}

/// Why a ration could not be balanced at all.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// A line of it could not be made out, or holds a ration whose own amounts are open: the check says so.
    Unsound,
    /// Something that could be chosen has no price.
    Unpriced(Box<Finding>),
}

/// Chooses the open amounts of a ration at least cost.
///
/// Amounts written with `within` count as open. What is not open stays as it is. Where `prices` names none, what the texts say
/// is paid.
///
/// # Errors
///
/// Where a line could not be made out, or a price is unknown, so that no choice would be the cheapest.
pub fn balance_ration(
    view: &View<'_>,
    ration: &Ration,
    prices: &Prices,
    watch: &Watch<'_>,
) -> Result<Balance, Refusal> {
    let choice = view.choice_at(ration, prices).ok_or(Refusal::Unsound)?;
    let Some(programme) = question(&choice) else {
        return Err(Refusal::Unpriced(Box::new(unpriced(ration, &choice))));
    };
    let outcome = match answer(&programme, watch) {
        Answer::Chosen(chosen) => {
            let balanced = balanced(view, ration, &choice, &chosen);
            Outcome::Balanced(Box::new(balanced))
        }
        Answer::Infeasible(conflict) => {
            Outcome::Infeasible(infeasible(ration, &choice, &programme, &conflict))
        }
        Answer::Unanswered(why) => Outcome::Unanswered(why),
    };
    Ok(Balance {
        ration: ration.name.clone(),
        place: ration.place,
        currency: choice.currency.clone().unwrap_or_default(),
        outcome,
        counted_as_exact: choice.counted_as_exact.clone(),
        cost_is_complete: choice.fixed_cost_is_complete,
    })
}

fn unpriced(ration: &Ration, choice: &Choice) -> Finding {
    let without = choice.shares.iter().filter(|share| share.price.is_none());
    let lines: Vec<(SmolStr, Place)> = without
        .map(|share| (share.name.clone(), share.written))
        .collect();
    cost::unknown(
        ration.place,
        &ration.name,
        &lines,
        choice.currency.as_deref(),
    )
}

fn balanced(view: &View<'_>, ration: &Ration, choice: &Choice, chosen: &Chosen) -> Balanced {
    let left_out = |(share, rank): (&OpenShare, usize)| {
        let is_used = chosen.rounded.get(rank).is_none_or(|used| !used.is_zero());
        if is_used || share.is_rest {
            return None;
        }
        let costs = chosen.costs.get(rank)?;
        // What the rounding left out is used as it is, up to the price at which it no longer is.
        let is_rounded_away = chosen.shares.get(rank).is_some_and(Q::is_positive);
        let enters = costs.enters_below.as_ref();
        let enters = enters.or_else(|| costs.high.as_ref().filter(|_| is_rounded_away));
        Some(LeftOut {
            ingredient: share.name.clone(),
            price: share.price.clone(),
            enters_below_price: enters.map(|cost| cost * &choice.whole),
        })
    };
    let ranked = choice.shares.iter().zip(0..);
    Balanced {
        unproved: chosen.unproved.clone(),
        cost_per_kg: &chosen.cost + &choice.fixed_cost,
        cost_bound: &chosen.cost_bound + &choice.fixed_cost,
        amounts: amounts(ration, choice, chosen),
        bounds: standings(choice, chosen),
        left_out: ranked.filter_map(left_out).collect(),
        edits: edits(view, ration, choice, &chosen.rounded),
    }
}

fn amounts(ration: &Ration, choice: &Choice, chosen: &Chosen) -> Vec<Amount> {
    let lines = ration.lines.iter().enumerate();
    lines
        .map(|(rank, line)| {
            let share = choice.shares.iter().position(|share| share.line == rank);
            let open = share.and_then(|share| choice.shares.get(share));
            let costs = share.and_then(|share| chosen.costs.get(share));
            let price = |cost: Option<&Q>| cost.map(|cost| cost * &choice.whole);
            let rounded = share.and_then(|share| chosen.rounded.get(share));
            Amount {
                ingredient: line.name.clone(),
                share: rounded.unwrap_or(&line.low).clone(),
                on_top: line.on_top,
                is_chosen: open.is_some(),
                before: open.and_then(|open| open.now.clone()),
                price: open.and_then(|open| open.price.clone()),
                price_low: price(costs.and_then(|costs| costs.low.as_ref())),
                price_high: price(costs.and_then(|costs| costs.high.as_ref())),
            }
        })
        .collect()
}

fn standings(choice: &Choice, chosen: &Chosen) -> Vec<BoundStanding> {
    let ranked = choice.bounds.iter().zip(&chosen.bounds);
    let mut standings: Vec<BoundStanding> = Vec::new();
    for (bound, standing) in ranked {
        if bound.is_echo {
            // Said again for another share: the dearer of the two is what the bound costs.
            if let Some(said) = standings.last_mut() {
                said.binding |= standing.is_binding;
                let price = &standing.price * &bound.unit.factor;
                said.shadow_price = said.shadow_price.clone().max(price);
            }
            continue;
        }
        let value = bound.known.at(&chosen.rounded);
        standings.push(BoundStanding {
            rule: bound.rule,
            what: bound.what.clone(),
            end: bound.end,
            value: value.map(|value| bound.unit.of(&value)),
            unit: bound.unit.text.clone(),
            basis: bound.basis.clone(),
            bound: bound.unit.of(&bound.limit),
            binding: standing.is_binding,
            complete: bound.known.is_complete_at(&chosen.rounded),
            shadow_price: &standing.price * &bound.unit.factor,
            place: bound.place,
        });
    }
    standings
}
