//! A quantity in other units and on other bases.

use trug_findings::FileId;
use trug_model::quantity::{Base, Basis, Measure};
use trug_model::{Q, View};
use trug_report::words::money;
use trug_syntax::tree::{Amount, AmountForm, Bound, Quantity};

use crate::markdown::{paragraphs, plain, points};
use crate::units::{is_handy, number, others};

/// So many other units are told.
const MOST_UNITS: usize = 4;

/// A quantity that stands in `file`, of an ingredient where it is one's content, price or amount.
pub(crate) fn quantity(
    view: &View<'_>,
    file: FileId,
    written: &Quantity,
    of: Option<&str>,
    is_content: bool,
) -> Option<String> {
    let measure = view.measured(written, file, of)?;
    let mut told = Vec::new();
    let equal = equal_to(&measure.value, &measure);
    if !equal.is_empty() {
        told.push(format!("= {equal}"));
    }
    if is_content {
        told.extend(on_other_bases(view, &measure, of));
    }
    if measure.dimension.is_per(Base::Money, Base::Mass) || measure.dimension.is(Base::Money) {
        told.extend(in_other_money(view, &measure, of));
    }
    let basis = measure
        .basis
        .as_ref()
        .map_or_else(String::new, |basis| format!(" {}", basis.words()));
    let head = format!(
        "**{}**{basis}",
        plain(&measure.unit.say_exactly(&measure.value))
    );
    (!told.is_empty()).then(|| paragraphs([head, points(&told)]))
}

/// A bound that stands in `file`, in other units.
pub(crate) fn bound(
    view: &View<'_>,
    file: FileId,
    written: &Bound,
    of: Option<&str>,
) -> Option<String> {
    let range = view.bounded(written, file, of)?;
    let end = |end: &Option<Q>| {
        end.as_ref()
            .map(|end| others(end, &range.dimension, &range.unit.text))
    };
    let ends = [end(&range.low), end(&range.high)];
    let units = ends
        .iter()
        .flatten()
        .next()?
        .iter()
        .map(|(unit, _)| unit.clone());
    let mut told = Vec::new();
    for unit in units {
        let values: Vec<&Q> = ends
            .iter()
            .flatten()
            .filter_map(|end| {
                end.iter()
                    .find(|(known, _)| *known == unit)
                    .map(|(_, value)| value)
            })
            .collect();
        if values.iter().all(|value| is_handy(value)) {
            let values: Vec<String> = values.iter().map(|value| number(value)).collect();
            told.push(format!("= {} {}", values.join(" .. "), plain(&unit)));
        }
    }
    told.truncate(MOST_UNITS);
    let head = format!("**{}**", plain(&range.words()));
    (!told.is_empty()).then(|| paragraphs([head, points(&told)]))
}

/// The amount of a ration's line in other units; empty where there are none.
pub(super) fn in_other_units(view: &View<'_>, file: FileId, written: &Amount) -> String {
    let quantity = match &written.form {
        AmountForm::Fixed(quantity) | AmountForm::Giving { quantity, .. } => quantity,
        AmountForm::Parts(_) | AmountForm::Rest | AmountForm::Open(_) => return String::new(),
    };
    let Some(measure) = view.measured(quantity, file, Some(&written.name.text)) else {
        return String::new();
    };
    let equal = equal_to(&measure.value, &measure);
    if equal.is_empty() {
        return equal;
    }
    format!(
        "{} = {equal}",
        plain(&measure.unit.say_exactly(&measure.value))
    )
}

fn equal_to(value: &Q, measure: &Measure) -> String {
    let others = others(value, &measure.dimension, &measure.unit.text);
    let handy = others.into_iter().filter(|(_, value)| is_handy(value));
    let told: Vec<String> = handy
        .take(MOST_UNITS)
        .map(|(unit, value)| format!("{} {}", number(&value), plain(&unit)))
        .collect();
    told.join(" = ")
}

/// A content as fed, of dry matter, and at 88 %, where the ingredient's dry matter is known.
fn on_other_bases(view: &View<'_>, measure: &Measure, of: Option<&str>) -> Vec<String> {
    let dry = of.and_then(|of| view.ingredient_called(of)?.dry_matter.clone());
    let Some(dry) = dry.map(|content| content.value).filter(Q::is_positive) else {
        return vec!["its dry matter is unknown: no other basis can be told".to_owned()];
    };
    let as_fed = match &measure.basis {
        None | Some(Basis::AsFed) => Some(measure.value.clone()),
        Some(Basis::OfDryMatter) => Some(&measure.value * &dry),
        Some(Basis::AtDryMatter(at)) => (&measure.value * &dry).over(at),
    };
    let Some(as_fed) = as_fed else {
        return Vec::new();
    };
    let usual = Basis::AtDryMatter(Q::ratio(88, 100));
    let on_usual = as_fed.over(&dry).map(|of_dry| of_dry * Q::ratio(88, 100));
    let ways = [
        (Basis::AsFed, Some(as_fed.clone())),
        (Basis::OfDryMatter, as_fed.over(&dry)),
        (usual, on_usual),
    ];
    let written = measure.basis.clone().unwrap_or(Basis::AsFed);
    let told = ways.into_iter().filter(|(basis, _)| *basis != written);
    told.filter_map(|(basis, value)| Some((basis, value?)))
        .map(|(basis, value)| format!("{}: {}", basis.words(), plain(&measure.unit.say(&value))))
        .collect()
}

/// A price a sack, and in the other moneys that rates lead to.
fn in_other_money(view: &View<'_>, measure: &Measure, of: Option<&str>) -> Vec<String> {
    let Some(currency) = measure.dimension.currency() else {
        return Vec::new();
    };
    let is_price = measure.dimension.is_per(Base::Money, Base::Mass);
    let mut told = Vec::new();
    let sack = of.and_then(|of| view.ingredient_called(of)?.sold_in.clone());
    if let Some(sack) = sack.filter(|_| is_price) {
        let all = money(&(&measure.value * &sack), currency);
        told.push(format!("{all} for what it is sold in, {sack} kg"));
    }
    let mut others: Vec<String> = Vec::new();
    for &file in view.sees() {
        for item in &view.farm().tree(file).items {
            if let trug_syntax::tree::ItemBody::Rate(rate) = &item.body {
                for quantity in [&rate.from, &rate.to] {
                    others.extend(quantity.unit.iter().map(|unit| unit.unit.text.to_string()));
                }
            }
        }
    }
    others.sort();
    others.dedup();
    for other in others.iter().filter(|other| *other != currency) {
        if let Some(worth) = view.exchanged(&measure.value, currency, other) {
            let per = if is_price { " a kg" } else { "" };
            told.push(format!("= {}{per}", money(&worth, other)));
        }
    }
    told
}
