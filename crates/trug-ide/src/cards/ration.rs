//! A ration on one card: its sum, batch and cost, how it stands to its bounds, and what is accepted in it.

use trug_model::analysis::Cost;
use trug_model::ration::Ration;
use trug_model::{AddedTo, Namespace, Q, View};
use trug_report::words::{count, mass, money, percent};
use trug_syntax::tree::ItemBody;

use super::amount::{met, now, whose};
use crate::markdown::{heading, paragraphs, plain, points, table, typed};
use crate::parts;

/// A card shows so many bounds, those that are missed first.
const MOST_BOUNDS: usize = 14;

pub(super) fn ration(view: &View<'_>, name: &str) -> Option<String> {
    let label = match &view.declaration(Namespace::Feed, name)?.1.body {
        ItemBody::Ration(ration) => ration.label.as_ref().map(|label| label.text.clone()),
        _ => None,
    };
    let Some(made) = view.made_out(name) else {
        let head = heading(label.as_deref(), name, "ration");
        return Some(paragraphs([
            head,
            "What it is made of could not be made out.".to_owned(),
        ]));
    };
    let kind = match (&made.animal, made.for_mixing) {
        (_, true) => "ration for mixing, not fed as it is".to_owned(),
        (Some(animal), _) => format!("ration for {}", typed(animal)),
        (None, _) => "ration that does not say whom it is for".to_owned(),
    };
    let head = heading(label.as_deref(), name, &kind);
    if !made.is_sound {
        let why = "A line of it could not be made out, so it is neither summed nor judged.";
        return Some(paragraphs([head, why.to_owned(), accepted(view, name)]));
    }
    let bounds = view.additions(&made);
    let mut told = vec![sum(&made)];
    told.extend(batch(&made));
    told.push(cost(view.cost(&made).as_ref(), &made));
    told.extend(tally(&bounds));
    Some(paragraphs([
        head,
        points(&told),
        rows(&bounds),
        accepted(view, name),
    ]))
}

/// What its lines make of the whole.
fn sum(ration: &Ration) -> String {
    let on_top = ration.tops();
    let lines = ration.lines.iter().filter(|line| !line.on_top);
    let (mut low, mut high) = (Q::ZERO, Q::ZERO);
    for line in lines {
        low += &line.low;
        high += &line.high;
    }
    let sum = match (ration.adds_up, low == high) {
        (true, true) => "sum: 100 %".to_owned(),
        (true, false) => "sum: 100 % within its open amounts".to_owned(),
        (false, true) if low > Q::ONE => {
            format!(
                "sum: **{}**, {} too much",
                exact(&low),
                exact(&(&low - &Q::ONE))
            )
        }
        (false, true) => {
            format!(
                "sum: **{}**, {} short of 100 %",
                exact(&low),
                exact(&(Q::ONE - &low))
            )
        }
        (false, false) => format!(
            "sum: **{} to {}**, which cannot be 100 %",
            exact(&low),
            exact(&high)
        ),
    };
    if on_top.is_zero() {
        sum
    } else {
        format!("{sum}, and {} on top", percent(&on_top))
    }
}

fn exact(share: &Q) -> String {
    format!("{} %", share * Q::int(100))
}

fn batch(ration: &Ration) -> Option<String> {
    let batch = ration.batch.as_ref()?;
    Some(format!("batch: {}", mass(&(batch * &Q::int(1000)))))
}

fn cost(cost: Option<&Cost>, ration: &Ration) -> String {
    let Some(cost) = cost else {
        return "cost: no ingredient has a price".to_owned();
    };
    let mut says = format!(
        "cost: {} a kg of finished feed",
        money(&cost.per_kg, &cost.currency)
    );
    if let Some(batch) = &ration.batch {
        let whole = batch * &(Q::ONE + ration.tops());
        let all = money(&(&cost.per_kg * &whole), &cost.currency);
        says.push_str(&format!(", {all} the batch"));
    }
    if !cost.complete {
        says.push_str("; some prices are unknown");
    }
    says
}

/// How many bounds are met, missed and undecided.
fn tally(bounds: &[AddedTo]) -> Option<String> {
    if bounds.is_empty() {
        return None;
    }
    let of = |met: Option<bool>| bounds.iter().filter(|bound| bound.met == met).count();
    let (missed, undecided) = (of(Some(false)), of(None));
    let mut says = format!("bounds: {} met", of(Some(true)));
    if missed > 0 {
        says.push_str(&format!(", **{missed} missed**"));
    }
    if undecided > 0 {
        says.push_str(&format!(", {undecided} undecided"));
    }
    says.push_str(". These were checked and no others. Product label, veterinarian and local feed law decide.");
    Some(says)
}

fn rows(bounds: &[AddedTo]) -> String {
    let mut bounds: Vec<&AddedTo> = bounds.iter().collect();
    let rank = |met: Option<bool>| match met {
        Some(false) => 0,
        None => 1,
        Some(true) => 2,
    };
    bounds.sort_by_key(|bound| rank(bound.met));
    let row = |bound: &&AddedTo| {
        vec![
            met(bound.met).to_owned(),
            plain(&bound.what),
            now(bound),
            plain(&bound.range.words()),
            whose(bound),
        ]
    };
    let shown: Vec<Vec<String>> = bounds.iter().take(MOST_BOUNDS).map(row).collect();
    let more = bounds.len().saturating_sub(MOST_BOUNDS);
    let rest = match more {
        0 => String::new(),
        more => format!("And {} more.", count(more, "bound", "bounds")),
    };
    paragraphs([table(&["", "bounded", "now", "bound", "of"], &shown), rest])
}

/// What is accepted in its item, with the reasons.
fn accepted(view: &View<'_>, name: &str) -> String {
    let Some((_, item)) = view.declaration(Namespace::Feed, name) else {
        return String::new();
    };
    let accepts = parts::lines(&item.body)
        .into_iter()
        .filter_map(|line| line.accept());
    let told: Vec<String> = accepts
        .map(|accept| {
            format!(
                "accepted {}: {}",
                typed(&accept.code.text),
                plain(&accept.reason.text)
            )
        })
        .collect();
    points(&told)
}
