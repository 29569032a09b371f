//! One batch of a document read into the sheet.

use serde_json::Value;

use super::document::{AmountPart, BatchPart, InputPart, StepPart, WeighingPart, part};
use super::resolve::{Names, Ranks};
use super::sheet::{Amount, Batch, Input, InputSource, Step, StepKind, Weighing};
use super::{Breaches, Rule};

/// The name the floor goes by among vessels.
const FLOOR: &str = "floor";

/// Reads one batch; none where a name in it stands for nothing.
pub(super) fn batch(
    value: &Value,
    index: usize,
    names: &Names,
    classes: &[&str],
    found: &mut Breaches,
) -> Option<Batch> {
    let place = format!("batch {}", index + 1);
    let head: BatchPart = part(value, &place, found)?;
    if usize::try_from(head.number) != Ok(index + 1) {
        let says = format!("its number is {}, not {}", head.number, index + 1);
        found.add(Rule::Form, &place, says);
    }
    if head.times == 0 {
        found.add(Rule::Form, &place, "it is done no times");
    }
    let weighings = parts::<WeighingPart>(&head.weighings, &place, "weighing", found)?;
    let steps = parts::<StepPart>(&head.steps, &place, "step", found)?;
    let weighing_ranks = ids(weighings.iter().map(|it| &it.id), &place, "weighing", found);
    let step_ranks = ids(steps.iter().map(|it| &it.id), &place, "step", found);
    let before = found.list.len();
    let amounts = amounts(&head.amounts, &place, names, found)?;
    let mut read_weighings = Vec::new();
    for weighing in weighings {
        read_weighings.extend(read_weighing(
            weighing,
            &place,
            names,
            classes,
            &step_ranks,
            found,
        ));
    }
    let mut read_steps = Vec::new();
    for step in steps {
        read_steps.extend(read_step(
            step,
            &place,
            names,
            &weighing_ranks,
            &step_ranks,
            found,
        ));
    }
    (found.list.len() == before).then_some(Batch {
        place,
        times: head.times,
        total: head.total_g,
        amounts,
        weighings: read_weighings,
        steps: read_steps,
        least: head.least,
    })
}

fn parts<T: serde::de::DeserializeOwned>(
    values: &[Value],
    place: &str,
    what: &str,
    found: &mut Breaches,
) -> Option<Vec<T>> {
    let mut read = Vec::new();
    for (index, value) in values.iter().enumerate() {
        read.push(part(
            value,
            &format!("{place}, {what} {}", index + 1),
            found,
        )?);
    }
    Some(read)
}

fn ids<'a>(
    ids: impl Iterator<Item = &'a String>,
    place: &str,
    what: &str,
    found: &mut Breaches,
) -> Ranks {
    let mut ranks = Ranks::new();
    for (rank, id) in ids.enumerate() {
        if id.is_empty() || ranks.insert(id.clone(), rank).is_some() {
            let says = format!("{what} {id}: the id is empty or given twice");
            found.add(Rule::Name, place, says);
        }
    }
    ranks
}

fn look_up(name: &str, among: &Ranks, place: &str, found: &mut Breaches) -> Option<usize> {
    let rank = among.get(name).copied();
    if rank.is_none() {
        found.add(Rule::Reference, place, format!("there is no {name}"));
    }
    rank
}

/// One amount for each ingredient, in their order.
fn amounts(
    values: &[Value],
    place: &str,
    names: &Names,
    found: &mut Breaches,
) -> Option<Vec<Amount>> {
    let parts: Vec<AmountPart> = parts(values, place, "amount", found)?;
    if parts.len() != names.ingredients.len() {
        let says = format!(
            "{} amounts for {} ingredients",
            parts.len(),
            names.ingredients.len()
        );
        found.add(Rule::Reference, place, says);
    }
    let mut amounts = Vec::new();
    for (index, amount) in parts.into_iter().enumerate() {
        let place = format!("{place}, amount {}", index + 1);
        if look_up(&amount.ingredient, &names.ingredients, &place, found)? != index {
            let says = format!("{} is out of the ration's order", amount.ingredient);
            found.add(Rule::Reference, &place, says);
        }
        amounts.push(Amount {
            ordered: amount.ordered_g,
            weighed: amount.weighed_g,
        });
    }
    Some(amounts)
}

fn read_weighing(
    part: WeighingPart,
    batch: &str,
    names: &Names,
    classes: &[&str],
    steps: &Ranks,
    found: &mut Breaches,
) -> Option<Weighing> {
    let place = format!("{batch}, weighing {}", part.id);
    let ingredient = look_up(&part.ingredient, &names.ingredients, &place, found)?;
    let step = look_up(&part.step, steps, &place, found)?;
    let scale = match &part.scale {
        Some(name) => Some(look_up(name, &names.scales, &place, found)?),
        None => None,
    };
    if classes.get(ingredient) != Some(&part.class.as_str()) {
        let says = format!("{} is not of class {}", part.ingredient, part.class);
        found.add(Rule::Class, &place, says);
    }
    if part.lot.as_deref() == Some("") {
        found.add(Rule::Form, &place, "its lot has no name");
    }
    Some(Weighing {
        id: part.id,
        ingredient,
        lot: part.lot,
        step,
        mass: part.mass_g,
        scale,
        loads: part.loads_g,
        error: part.error_g,
        from: part.from_g,
        to: part.to_g,
    })
}

fn read_step(
    part: StepPart,
    batch: &str,
    names: &Names,
    weighings: &Ranks,
    steps: &Ranks,
    found: &mut Breaches,
) -> Option<Step> {
    let place = format!("{batch}, step {}", part.id);
    let Some(kind) = step_kind(&part.kind) else {
        found.add(
            Rule::Form,
            &place,
            format!("{} is no kind of step", part.kind),
        );
        return None;
    };
    let vessel = if part.vessel == FLOOR {
        None
    } else {
        Some(look_up(&part.vessel, &names.vessels, &place, found)?)
    };
    if part.turns == Some(0) || part.portions == Some(0) {
        found.add(Rule::Form, &place, "it is turned, or spread in, nothing");
    }
    if part.portions.is_some() && kind != StepKind::Final {
        found.add(
            Rule::Kind,
            &place,
            "only the pre-blend is spread in portions",
        );
    }
    let mut inputs = Vec::new();
    for input in part.inputs {
        inputs.push(read_input(input, &place, weighings, steps, found)?);
    }
    Some(Step {
        id: part.id,
        kind,
        inputs,
        output: part.output_g,
        ratio: part.ratio,
        vessel,
        litres: part.litres,
    })
}

fn read_input(
    part: InputPart,
    place: &str,
    weighings: &Ranks,
    steps: &Ranks,
    found: &mut Breaches,
) -> Option<Input> {
    let source = match (&part.weighing, &part.step) {
        (Some(id), None) => InputSource::Weighing(look_up(id, weighings, place, found)?),
        (None, Some(id)) => InputSource::Step(look_up(id, steps, place, found)?),
        _ => {
            found.add(
                Rule::Form,
                place,
                "an input is a weighing or a step, one of them",
            );
            return None;
        }
    };
    Some(Input {
        source,
        mass: part.mass_g,
    })
}

fn step_kind(word: &str) -> Option<StepKind> {
    Some(match word {
        "together" => StepKind::Together,
        "dilute" => StepKind::Dilute,
        "preblend" => StepKind::PreBlend,
        "liquid" => StepKind::Liquid,
        "heap" => StepKind::Heap,
        "final" => StepKind::Final,
        _ => return None,
    })
}
