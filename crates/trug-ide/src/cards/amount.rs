//! An amount in a ration: what it is in the batch, what it adds to each bound and to the cost, where each dose stands.

use trug_model::analysis::{BoundKind, Cost, DoseValue};
use trug_model::ration::{Line, Ration};
use trug_model::view::Ingredient;
use trug_model::{AddedTo, Q, View};
use trug_report::words::{beside, mass, money, percent, quantity};
use trug_syntax::tree::Amount;

use super::quantity::in_other_units;
use crate::markdown::{DEFERS, paragraphs, plain, points, table, typed};

/// What there is to say about an amount of a ration of the view's own text.
pub(crate) fn amount(view: &View<'_>, ration: &str, written: &Amount) -> Option<String> {
    let made = view.made_out(ration)?;
    let is_here =
        |line: &Line| line.named.file == view.file() && line.named.span == written.name.span;
    let rank = made.lines.iter().position(is_here)?;
    let line = made.lines.get(rank)?;
    let units = in_other_units(view, view.file(), written);
    if !made.is_sound {
        let why = format!(
            "A line of {} could not be made out, so it is not summed.",
            typed(ration)
        );
        return Some(paragraphs([
            format!("**{}**", plain(&written.name.text)),
            why,
            units,
        ]));
    }
    let doses = doses(&view.doses(&made), rank);
    let can_hurt = !doses.is_empty() || line.ingredient().is_some_and(|it| can_harm(it));
    let defers = if can_hurt {
        DEFERS.to_owned()
    } else {
        String::new()
    };
    let mut told = vec![units];
    told.extend(cost(view.cost(&made).as_ref(), rank));
    told.extend(doses);
    told.retain(|one| !one.is_empty());
    let bounds = added(&view.additions(&made), rank);
    Some(paragraphs([
        head(&made, line),
        sum_is_off(&made),
        points(&told),
        bounds,
        defers,
    ]))
}

fn can_harm(ingredient: &Ingredient) -> bool {
    ingredient.can_harm()
}

fn head(ration: &Ration, line: &Line) -> String {
    let name = typed(&line.name);
    let share = range(&line.low, &line.high, &percent);
    let of = if line.on_top {
        "on top of the 100 %"
    } else {
        "of the 100 %"
    };
    let Some(batch) = &ration.batch else {
        return format!("{name}: **{share}** {of}; the ration names no batch");
    };
    let grams = |share: &Q| mass(&(share * batch * Q::int(1000)));
    let in_batch = range(&line.low, &line.high, &grams);
    let batch = mass(&(batch * &Q::int(1000)));
    format!("{name}: **{in_batch}** in the batch of {batch}, {share} {of}")
}

/// One amount, or the two ends of what may be chosen.
fn range(low: &Q, high: &Q, say: &dyn Fn(&Q) -> String) -> String {
    if low == high {
        say(low)
    } else {
        format!("{} to {}", say(low), say(high))
    }
}

fn sum_is_off(ration: &Ration) -> String {
    if ration.adds_up {
        return String::new();
    }
    let name = typed(&ration.name);
    format!(
        "The lines of {name} do not make the whole yet, so bounds and cost are of the lines as they are."
    )
}

fn cost(cost: Option<&Cost>, rank: usize) -> Option<String> {
    let cost = cost?;
    let line = cost.lines.get(rank)?;
    if !line.complete {
        return Some("cost: it has no price".to_owned());
    }
    let adds = money(&line.per_kg, &cost.currency);
    let part = line.per_kg.over(&cost.per_kg).map(|part| percent(&part));
    let part = part.map_or_else(String::new, |part| format!(", {part} of the cost"));
    Some(format!("cost: adds {adds} to a kg of finished feed{part}"))
}

/// Where each window of what this line brings stands, in words.
fn doses(doses: &[DoseValue], rank: usize) -> Vec<String> {
    let is_of_line = |dose: &&DoseValue| {
        let mut rises = dose.rises.iter();
        rises.any(|(line, rise)| *line == rank && !rise.is_zero())
    };
    doses.iter().filter(is_of_line).map(dose).collect()
}

fn dose(dose: &DoseValue) -> String {
    let what = match &dose.nutrient {
        None => format!("dose of {}", typed(&dose.ingredient)),
        Some(active) => format!("dose of {} from {}", typed(active), typed(&dose.ingredient)),
    };
    let Some(value) = &dose.value else {
        return format!("{what}: how much it adds is unknown");
    };
    let ends: Vec<&Q> = [&dose.min, &dose.max, &dose.ceiling]
        .into_iter()
        .flatten()
        .collect();
    let value_is = quantity(&beside(value, &ends), &dose.unit);
    let window = trug_report::words::bound(dose.min.as_ref(), dose.max.as_ref(), &dose.unit);
    let mut says = format!("{what}: **{value_is}**");
    if !window.is_empty() {
        let stands = if dose.min.as_ref().is_some_and(|min| value < min) {
            "**below** the label's"
        } else if dose.max.as_ref().is_some_and(|max| value > max) {
            "**above** the label's"
        } else {
            "inside the label's"
        };
        says.push_str(&format!(", {stands} {window}"));
    }
    if let Some(ceiling) = &dose.ceiling {
        let stands = if value > ceiling {
            "**above**"
        } else {
            "not above"
        };
        let ceiling = quantity(&ceiling.to_string(), &dose.unit);
        says.push_str(&format!(", {stands} its ceiling of {ceiling}"));
    }
    says
}

/// What the line adds to each bounded value, against the bound.
fn added(bounds: &[AddedTo], rank: usize) -> String {
    let mut rows = Vec::new();
    for bound in bounds {
        let adds = match bound.adds.get(rank) {
            Some(adds) if adds.is_zero() => continue,
            Some(adds) => plain(&bound.range.unit.say(adds)),
            None => match bound.rises.get(rank) {
                Some(rise) if rise.is_positive() => "raises it".to_owned(),
                Some(rise) if rise.is_negative() => "lowers it".to_owned(),
                _ => continue,
            },
        };
        rows.push(vec![
            plain(&bound.what),
            adds,
            now(bound),
            plain(&bound.range.words()),
            whose(bound),
            met(bound.met).to_owned(),
        ]);
    }
    table(&["bounded", "adds", "in all", "bound", "of", ""], &rows)
}

/// The ration's value in the bound's own unit.
pub(super) fn now(bound: &AddedTo) -> String {
    let Some(value) = &bound.value else {
        return "unknown".to_owned();
    };
    let unit = &bound.range.unit;
    let ends: Vec<Q> = [&bound.range.low, &bound.range.high]
        .into_iter()
        .flatten()
        .map(|end| unit.of(end))
        .collect();
    let ends: Vec<&Q> = ends.iter().collect();
    let known = if bound.met.is_none() { " known" } else { "" };
    let says = quantity(&beside(&unit.of(value), &ends), &unit.text);
    format!("{}{known}", plain(&says))
}

pub(super) fn whose(bound: &AddedTo) -> String {
    let whose = typed(&bound.whose);
    let basis = match bound.basis.as_str() {
        "as fed" | "ratio" | "" => String::new(),
        basis => format!(", {basis}"),
    };
    match bound.kind {
        BoundKind::Law => format!("law for {whose}{basis}"),
        BoundKind::Harm => format!("harm for {whose}{basis}"),
        _ => format!("{whose}{basis}"),
    }
}

pub(super) fn met(met: Option<bool>) -> &'static str {
    match met {
        Some(true) => "met",
        Some(false) => "**missed**",
        None => "undecided",
    }
}
