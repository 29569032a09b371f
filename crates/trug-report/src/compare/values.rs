//! Values of two sides in words that tell them apart.

use trug_compare::{Amount, Bounded, CostAt, NutrientAt, Pair, Standing};
use trug_model::Q;
use trug_model::analysis::BoundKind;

use crate::words::{beside, bound, mass, money, quantity, unit_said};

/// Where there is nothing on one side.
pub(super) const NOTHING: &str = "-";
/// Figures of a number, as few as tell two apart.
const FIGURES: std::ops::RangeInclusive<usize> = 4..=12;

/// Two values with the same number of figures, as few as tell them apart.
pub(super) fn apart(before: &Q, after: &Q) -> (String, String) {
    for figures in FIGURES {
        let (one, other) = (before.readable(figures), after.readable(figures));
        if one != other || before == after {
            return (one, other);
        }
    }
    (before.to_string(), after.to_string())
}

/// Two values as shown, or what stands for the one that is not there.
pub(super) fn both(values: &Pair<&Q>) -> Pair<String> {
    match (values.before, values.after) {
        (Some(before), Some(after)) => {
            let (before, after) = apart(before, after);
            Pair::both(before, after)
        }
        _ => values.map(|value| value.readable(*FIGURES.start())),
    }
}

/// How much it became more or less, with its sign.
pub(super) fn difference(before: &Q, after: &Q) -> String {
    let more = after - before;
    let sign = if more.is_negative() { "" } else { "+" };
    format!("{sign}{}", more.readable(3))
}

/// Money for one kg on both sides, with as many decimals as tell them apart.
pub(super) fn prices(cost: &Pair<CostAt>) -> Pair<String> {
    let said = |at: &CostAt| money(&at.per_kg, &at.currency);
    let shown = cost.map(said);
    let is_hidden = shown.before == shown.after;
    match (&cost.before, &cost.after) {
        (Some(before), Some(after)) if is_hidden && before.per_kg != after.per_kg => {
            let (one, other) = apart(&before.per_kg, &after.per_kg);
            Pair::both(
                quantity(&one, &before.currency),
                quantity(&other, &after.currency),
            )
        }
        _ => shown,
    }
}

/// A value as it stands in its bounds, told apart from the other side's.
pub(super) fn standing_values(at: &Pair<Standing>) -> Pair<String> {
    let own_side = |at: &Standing| {
        let ends: Vec<&Q> = at.min.iter().chain(&at.max).chain(&at.ceiling).collect();
        let value = at.value.as_ref();
        let shown = value.map_or_else(|| "?".to_owned(), |value| beside(value, &ends));
        quantity(&shown, &at.unit)
    };
    let shown = at.map(own_side);
    if shown.before != shown.after {
        return shown;
    }
    let value = |at: &Option<Standing>| at.as_ref().and_then(|at| at.value.clone());
    let (Some(before), Some(after)) = (value(&at.before), value(&at.after)) else {
        return shown;
    };
    let unit = at.any().map_or("", |at| at.unit.as_str());
    let (one, other) = apart(&before, &after);
    Pair::both(quantity(&one, unit), quantity(&other, unit))
}

/// The bound itself: `16 .. 18 %`, with the ceiling where there is one.
pub(super) fn ends(at: &Standing) -> String {
    let window = bound(at.min.as_ref(), at.max.as_ref(), &at.unit);
    let Some(ceiling) = &at.ceiling else {
        return window;
    };
    let ceiling = format!("ceiling {}", quantity(&ceiling.to_string(), &at.unit));
    if window.is_empty() {
        ceiling
    } else {
        format!("{window}, {ceiling}")
    }
}

/// What is bounded: `protein`, `selenium by law`, `dose of salt`.
pub(super) fn bounded(of: &Bounded) -> String {
    match of {
        Bounded::Bound { kind, what, basis } => {
            let kind = match kind {
                BoundKind::Target => "",
                BoundKind::Law => " by law",
                BoundKind::Harm => ", harm",
                BoundKind::Limit => ", limit",
            };
            let basis = match basis.as_str() {
                "" | "as fed" => String::new(),
                basis => format!(" ({basis})"),
            };
            format!("{what}{kind}{basis}")
        }
        Bounded::Dose {
            ingredient,
            nutrient: Some(nutrient),
        } => format!("dose of {nutrient} from {ingredient}"),
        Bounded::Dose {
            ingredient,
            nutrient: None,
        } => format!("dose of {ingredient}"),
    }
}

/// A share of the ration: `46 %`, `12 .. 24 %, open`.
pub(super) fn shares(amount: &Pair<Amount>) -> Pair<String> {
    let hundredths = |part: &Q| part * &Q::int(100);
    let lows = amount.map(|amount| hundredths(&amount.low));
    let highs = amount.map(|amount| hundredths(&amount.high));
    let (lows, highs) = (both(&refs(&lows)), both(&refs(&highs)));
    let said = |amount: &Option<Amount>, low: Option<String>, high: Option<String>| {
        let (amount, low, high) = (amount.as_ref()?, low?, high?);
        let mut said = if amount.low == amount.high {
            format!("{low} %")
        } else {
            format!("{low} .. {high} %")
        };
        if amount.is_open {
            said.push_str(", open");
        }
        if amount.or_none {
            said.push_str(", or none");
        }
        Some(said)
    };
    Pair {
        before: said(&amount.before, lows.before, highs.before),
        after: said(&amount.after, lows.after, highs.after),
    }
}

/// What the batch holds of an ingredient.
pub(super) fn masses(amount: &Pair<Amount>) -> Pair<String> {
    let said = |amount: &Amount| {
        let (low, high) = amount.kg.as_ref()?;
        let grams = |kg: &Q| mass(&(kg * &Q::int(1000)));
        Some(if low == high {
            grams(low)
        } else {
            format!("{} .. {}", grams(low), grams(high))
        })
    };
    let said = amount.map(said);
    Pair {
        before: said.before.flatten(),
        after: said.after.flatten(),
    }
}

/// Traces in the unit people say them in.
fn in_words(at: &Pair<NutrientAt>) -> Pair<NutrientAt> {
    let values: Vec<&Q> = at
        .before
        .iter()
        .chain(&at.after)
        .map(|at| &at.value)
        .collect();
    let (unit, times) = unit_said(at.any().map_or("", |at| at.unit.as_str()), &values);
    at.map(|at| NutrientAt {
        value: &at.value * &times,
        unit: unit.to_owned(),
        complete: at.complete,
    })
}

/// Contents, with a word where a part is not known.
pub(super) fn contents(at: &Pair<NutrientAt>) -> Pair<String> {
    let at = in_words(at);
    let values = both(&refs(&at.map(|at| at.value.clone())));
    let said = |at: &Option<NutrientAt>, value: Option<String>| {
        let at = at.as_ref()?;
        let value = quantity(&value?, &at.unit);
        Some(if at.complete {
            value
        } else {
            format!("at least {value}")
        })
    };
    Pair {
        before: said(&at.before, values.before),
        after: said(&at.after, values.after),
    }
}

pub(super) fn refs<T>(pair: &Pair<T>) -> Pair<&T> {
    Pair {
        before: pair.before.as_ref(),
        after: pair.after.as_ref(),
    }
}
