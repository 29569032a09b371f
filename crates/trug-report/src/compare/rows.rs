//! The tables of a ration: amounts, nutrients with their bounds, doses, cost, work.

use trug_compare::{
    AmountChange, Bounded, CostAt, Pair, RationChange, Standing, StandingChange, StepAt, Turn, Work,
};
use trug_model::Q;
use trug_model::analysis::BoundKind;

use super::sentences::turn_word;
use super::telling::{Row, Table};
use super::values::{
    NOTHING, bounded, contents, difference, ends, masses, prices, shares, standing_values,
};

/// What changed, a table for each kind of thing; those without rows are left out.
pub(super) fn tables(ration: &RationChange, arrow: &str) -> Vec<Table> {
    // Of a ration that is gone nothing but that matters.
    if ration.is_removed() {
        return Vec::new();
    }
    let tables = [
        facts(ration),
        amounts(ration, arrow),
        nutrients(ration, arrow),
        doses(ration, arrow),
        costs(ration),
        work(ration),
    ];
    tables
        .into_iter()
        .filter(|table| !table.rows.is_empty())
        .collect()
}

fn quiet(cells: impl IntoIterator<Item = String>) -> Row {
    Row {
        cells: cells.into_iter().collect(),
        is_loud: false,
    }
}

fn or_nothing(pair: Pair<String>) -> [String; 2] {
    [pair.before, pair.after].map(|side| side.unwrap_or_else(|| NOTHING.to_owned()))
}

fn facts(ration: &RationChange) -> Table {
    let rows = ration.facts.iter().map(|change| {
        let (before, after) = (change.says.before.as_ref(), change.says.after.as_ref());
        let [before, after] = or_nothing(Pair {
            before: before.map(|says| says.apart(after)),
            after: after.map(|says| says.apart(before)),
        });
        quiet([change.what.clone(), before, after])
    });
    Table {
        heading: "Ration",
        columns: vec!["line", "before", "after"],
        rows: rows.collect(),
    }
}

fn amounts(ration: &RationChange, arrow: &str) -> Table {
    Table {
        heading: "Amounts",
        columns: vec!["ingredient", "before", "after", "change", "in the batch"],
        rows: ration
            .amounts
            .iter()
            .map(|change| amount(change, arrow))
            .collect(),
    }
}

fn amount(change: &AmountChange, arrow: &str) -> Row {
    let mut name = change.ingredient.clone();
    if change.on_top {
        name.push_str(" (on top)");
    }
    let lots = change.amount.map(|amount| amount.lots.join(" and "));
    let is_other_lot =
        lots.differs() && change.amount.before.is_some() && change.amount.after.is_some();
    let with_lot = |share: Option<String>, lot: Option<String>| {
        let lot = lot.filter(|lot| !lot.is_empty() && is_other_lot);
        share.map(|share| lot.map_or(share.clone(), |lot| format!("{share}, lot {lot}")))
    };
    let shares = shares(&change.amount);
    let [before, after] = or_nothing(Pair {
        before: with_lot(shares.before, lots.before),
        after: with_lot(shares.after, lots.after),
    });
    let more = match (&change.amount.before, &change.amount.after) {
        (Some(one), Some(other)) if one.low == one.high && other.low == other.high => {
            let hundred = Q::int(100);
            if one.low == other.low {
                String::new()
            } else {
                difference(&(&one.low * &hundred), &(&other.low * &hundred))
            }
        }
        (None, _) => "new".to_owned(),
        (_, None) => "gone".to_owned(),
        _ => String::new(),
    };
    quiet([
        name,
        before,
        after,
        more,
        between(masses(&change.amount), arrow),
    ])
}

/// `55.2 kg -> 52.8 kg`, or the one there is.
fn between(pair: Pair<String>, arrow: &str) -> String {
    match (pair.before, pair.after) {
        (Some(before), Some(after)) if before != after => format!("{before} {arrow} {after}"),
        (before, after) => after.or(before).unwrap_or_default(),
    }
}

/// Bounds on what the ration holds, then what is bounded by nothing.
fn nutrients(ration: &RationChange, arrow: &str) -> Table {
    let is_bound = |change: &&StandingChange| {
        // Of a new ration only what is not kept is told: the rest is what one expects.
        matches!(change.of, Bounded::Bound { .. }) && (!ration.is_added() || !is_kept(change))
    };
    let bounds = ration.standings.iter().filter(is_bound);
    let mut rows: Vec<Row> = bounds.map(|change| standing(change, arrow)).collect();
    if !ration.is_added() {
        let is_told = |name: &str| ration.standings.iter().any(|change| is_of(change, name));
        let others = ration
            .nutrients
            .iter()
            .filter(|change| !is_told(&change.name));
        rows.extend(others.map(|change| {
            let [before, after] = or_nothing(contents(&change.at));
            quiet([
                change.name.clone(),
                before,
                after,
                String::new(),
                String::new(),
            ])
        }));
    }
    Table {
        heading: "Nutrients",
        columns: vec!["nutrient", "before", "after", "bound", "verdict"],
        rows,
    }
}

/// Whether a change of a bound tells already how much there is of a nutrient.
fn is_of(change: &StandingChange, nutrient: &str) -> bool {
    matches!(&change.of, Bounded::Bound { what, kind, .. }
        if what == nutrient && *kind != BoundKind::Limit)
}

fn is_kept(change: &StandingChange) -> bool {
    change
        .at
        .after
        .as_ref()
        .is_some_and(|at| at.met == Some(true))
}

fn doses(ration: &RationChange, arrow: &str) -> Table {
    let is_dose = |change: &&StandingChange| {
        matches!(change.of, Bounded::Dose { .. }) && (!ration.is_added() || !is_kept(change))
    };
    Table {
        heading: "Doses",
        columns: vec!["dose", "before", "after", "label", "verdict"],
        rows: ration
            .standings
            .iter()
            .filter(is_dose)
            .map(|change| standing(change, arrow))
            .collect(),
    }
}

fn standing(change: &StandingChange, arrow: &str) -> Row {
    let what = match &change.of {
        Bounded::Dose {
            ingredient,
            nutrient: Some(nutrient),
        } => format!("{nutrient} from {ingredient}"),
        Bounded::Dose { ingredient, .. } => ingredient.clone(),
        bound @ Bounded::Bound { .. } => bounded(bound),
    };
    let [before, after] = or_nothing(standing_values(&change.at));
    let windows: Pair<String> = change.at.map(|at: &Standing| ends(at));
    Row {
        cells: vec![
            what,
            before,
            after,
            between(windows, arrow),
            turn_word(change).to_owned(),
        ],
        is_loud: matches!(change.turn(), Turn::Missed | Turn::StillMissed),
    }
}

fn costs(ration: &RationChange) -> Table {
    let row = |cost: &Pair<CostAt>| {
        let more = match (&cost.before, &cost.after) {
            (Some(one), Some(other)) if one.currency == other.currency => {
                difference(&one.per_kg, &other.per_kg)
            }
            _ => String::new(),
        };
        let [before, after] = or_nothing(priced(cost));
        quiet(["a kg of feed".to_owned(), before, after, more])
    };
    Table {
        heading: "Cost",
        columns: vec!["cost of", "before", "after", "change"],
        rows: ration.cost.iter().map(row).collect(),
    }
}

/// Prices, with a word where a part has none.
fn priced(cost: &Pair<CostAt>) -> Pair<String> {
    let shown = prices(cost);
    let said = |price: Option<String>, at: &Option<CostAt>| {
        let is_complete = at.as_ref().is_none_or(|at| at.complete);
        price.map(|price| {
            if is_complete {
                price
            } else {
                format!("at least {price}")
            }
        })
    };
    Pair {
        before: said(shown.before, &cost.before),
        after: said(shown.after, &cost.after),
    }
}

/// `95.20 LKR -> 96.40 LKR a kg`.
pub(super) fn cost_words(cost: &Pair<CostAt>, arrow: &str) -> String {
    let shown = priced(cost);
    match (shown.before, shown.after) {
        (Some(before), Some(after)) => format!("{before} {arrow} {after} a kg"),
        (None, Some(after)) => format!("{after} a kg"),
        (Some(_), None) | (None, None) => "its cost is no longer known".to_owned(),
    }
}

/// `5 steps -> 6 steps`, where that changed.
pub(super) fn steps_words(ration: &RationChange, arrow: &str) -> Option<String> {
    let work = ration.work.as_ref()?;
    let steps = work.map(|work| work.steps.len());
    match (steps.before, steps.after) {
        (Some(before), Some(after)) if before != after => {
            Some(format!("{before} {arrow} {after} steps"))
        }
        (Some(_), None) => Some("no longer planned".to_owned()),
        (None, Some(_)) => Some("can be planned now".to_owned()),
        _ => None,
    }
}

/// Something about the work, and how it is said.
type Fact = (&'static str, fn(&Work) -> String);

fn work(ration: &RationChange) -> Table {
    let mut rows = Vec::new();
    // Where it is no longer planned, that is said by itself, with the reason.
    if let Some(work) = ration.work.as_ref().filter(|work| work.after.is_some()) {
        let facts: [Fact; 5] = [
            ("batches", |work| work.batches.to_string()),
            ("steps", |work| work.steps.len().to_string()),
            ("weighings", |work| work.weighings.to_string()),
            ("vessels", |work| work.vessels.join(", ")),
            ("scales", |work| work.scales.join(", ")),
        ];
        for (what, said) in facts {
            let pair = work.map(said);
            if pair.differs() {
                let [before, after] = or_nothing(pair);
                rows.push(quiet([what.to_owned(), before, after]));
            }
        }
        if work.before.is_some() && work.after.is_some() {
            rows.extend(steps(work));
        }
    }
    Table {
        heading: "Work",
        columns: vec!["work", "before", "after"],
        rows,
    }
}

/// Steps that only one side has, in the order of work.
fn steps(work: &Pair<Work>) -> Vec<Row> {
    let of = |work: &Option<Work>| {
        work.as_ref()
            .map(|work| work.steps.clone())
            .unwrap_or_default()
    };
    let (mut before, mut after) = (of(&work.before), of(&work.after));
    before.retain(|step| match after.iter().position(|other| other == step) {
        Some(rank) => {
            after.remove(rank);
            false
        }
        None => true,
    });
    let gone = before
        .iter()
        .map(|step| quiet(["step".to_owned(), step_words(step), NOTHING.to_owned()]));
    let come = after
        .iter()
        .map(|step| quiet(["step".to_owned(), NOTHING.to_owned(), step_words(step)]));
    gone.chain(come).collect()
}

/// `dilute in basin: maize`.
fn step_words(step: &StepAt) -> String {
    let of = if step.ingredients.is_empty() {
        String::new()
    } else {
        format!(": {}", step.ingredients.join(", "))
    };
    let turns = step
        .turns
        .map_or_else(String::new, |turns| format!(", turned {turns} times"));
    let place = if step.vessel == "floor" {
        "on the"
    } else {
        "in"
    };
    format!("{} {place} {}{of}{turns}", step.kind, step.vessel)
}
