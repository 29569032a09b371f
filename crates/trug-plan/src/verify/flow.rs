//! How steps hang together: what goes where, in which order, and what each step holds.

use std::collections::BTreeMap;

use trug_model::Q;

use super::number::Number;
use super::sheet::{Batch, Class, InputSource, Sheet, Step};
use super::{Breaches, Rule};

/// What each step of a batch holds and what becomes of it.
pub(super) struct Flow {
    /// By rank of step: the grams of each ingredient in its output, by rank of ingredient.
    held: Vec<BTreeMap<usize, Number>>,
    /// By rank of step: the step that takes its output.
    users: Vec<Option<usize>>,
}

impl Flow {
    /// The grams of each ingredient that a step holds.
    pub(super) fn held(&self, step: usize) -> impl Iterator<Item = (usize, &Number)> {
        self.held
            .get(step)
            .into_iter()
            .flatten()
            .map(|(rank, mass)| (*rank, mass))
    }

    /// The grams of each ingredient in an input.
    pub(super) fn held_by(&self, batch: &Batch, source: InputSource) -> BTreeMap<usize, Number> {
        match source {
            InputSource::Weighing(rank) => batch
                .weighings
                .get(rank)
                .map(|weighing| (weighing.ingredient, weighing.mass.clone()))
                .into_iter()
                .collect(),
            InputSource::Step(rank) => self.held.get(rank).cloned().unwrap_or_default(),
        }
    }

    /// Whether a step holds anything of a class.
    pub(super) fn holds(&self, sheet: &Sheet, step: usize, class: Class) -> bool {
        self.held(step).any(|(rank, _)| {
            sheet
                .ingredients
                .get(rank)
                .is_some_and(|it| it.class == class)
        })
    }

    /// Whether an input holds anything of a class.
    pub(super) fn input_holds(
        &self,
        sheet: &Sheet,
        batch: &Batch,
        source: InputSource,
        class: Class,
    ) -> bool {
        self.held_by(batch, source).keys().any(|rank| {
            sheet
                .ingredients
                .get(*rank)
                .is_some_and(|it| it.class == class)
        })
    }

    /// The step that takes a step's output; none for the last.
    pub(super) fn user(&self, step: usize) -> Option<usize> {
        self.users.get(step).copied().flatten()
    }
}

/// Checks the inputs, sums and order of all steps; none where it cannot be told what they hold.
pub(super) fn follow(batch: &Batch, found: &mut Breaches) -> Option<Flow> {
    let before = found.list.len();
    let users = check_inputs(batch, found);
    check_masses(batch, found);
    check_last(batch, found);
    let is_sound = found.list.len() == before;
    check_work_order(batch, found);
    is_sound.then(|| Flow {
        held: contents(batch),
        users,
    })
}

/// Each weighing goes into the step it names, each step but the last into a later one, all of them once.
fn check_inputs(batch: &Batch, found: &mut Breaches) -> Vec<Option<usize>> {
    let mut weighing_users: Vec<Vec<usize>> = vec![Vec::new(); batch.weighings.len()];
    let mut step_users: Vec<Vec<usize>> = vec![Vec::new(); batch.steps.len()];
    for (rank, step) in batch.steps.iter().enumerate() {
        for input in &step.inputs {
            let users = match input.source {
                InputSource::Weighing(source) => weighing_users.get_mut(source),
                InputSource::Step(source) => step_users.get_mut(source),
            };
            users.into_iter().for_each(|users| users.push(rank));
        }
    }
    for (weighing, users) in batch.weighings.iter().zip(&weighing_users) {
        if users.as_slice() != [weighing.step] {
            let says = format!(
                "it is an input {} times, or not of the step it names",
                users.len()
            );
            found.add(Rule::Inputs, batch.at_weighing(weighing), says);
        }
    }
    for (rank, (step, users)) in batch.steps.iter().zip(&step_users).enumerate() {
        let wanted = usize::from(rank + 1 < batch.steps.len());
        if users.len() != wanted {
            let says = format!("it is an input {} times, not {wanted}", users.len());
            found.add(Rule::Inputs, batch.at_step(step), says);
        }
        if users.iter().any(|user| *user <= rank) {
            let says = "it is used before it is made";
            found.add(Rule::Order, batch.at_step(step), says);
        }
    }
    step_users
        .iter()
        .map(|users| users.first().copied())
        .collect()
}

/// An input is the whole of its source, and the inputs are the output.
fn check_masses(batch: &Batch, found: &mut Breaches) {
    for step in &batch.steps {
        let place = batch.at_step(step);
        for input in &step.inputs {
            let source = match input.source {
                InputSource::Weighing(rank) => batch.weighings.get(rank).map(|it| &it.mass),
                InputSource::Step(rank) => batch.steps.get(rank).map(|it| &it.output),
            };
            if let Some(mass) = source
                && !mass.is(&input.mass)
            {
                let says = format!("{} g go in of a source of {mass} g", input.mass);
                found.add(Rule::StepSum, &place, says);
            }
        }
        let sum: Number = step.inputs.iter().map(|input| &input.mass).sum();
        if step.inputs.is_empty() || !sum.is(&step.output) {
            let says = format!("its inputs are {sum} g, its output {} g", step.output);
            found.add(Rule::StepSum, &place, says);
        }
        if !step.output.is_positive() {
            found.add(
                Rule::StepSum,
                &place,
                format!("its output is {} g", step.output),
            );
        }
    }
}

fn check_last(batch: &Batch, found: &mut Breaches) {
    match batch.steps.last() {
        None => found.add(Rule::Last, &batch.place, "it has no step"),
        Some(last) if !last.output.is(&batch.total) => {
            let says = format!("the last step is {} g of {} g", last.output, batch.total);
            found.add(Rule::Last, batch.at_step(last), says);
        }
        Some(_) => {}
    }
}

/// Weighings stand in the order in which the steps take them.
fn check_work_order(batch: &Batch, found: &mut Breaches) {
    let taken = batch
        .steps
        .iter()
        .flat_map(|step| &step.inputs)
        .filter_map(|input| match input.source {
            InputSource::Weighing(rank) => Some(rank),
            InputSource::Step(_) => None,
        });
    for (place, rank) in taken.enumerate() {
        if place != rank {
            let id = batch
                .weighings
                .get(rank)
                .map_or("", |weighing| &weighing.id);
            let says = format!("weighing {id} is not in the order of work");
            found.add(Rule::Order, &batch.place, says);
            return;
        }
    }
}

/// What every step holds. Each source stands before its step, so one pass will do.
fn contents(batch: &Batch) -> Vec<BTreeMap<usize, Number>> {
    let mut contents: Vec<BTreeMap<usize, Number>> = Vec::new();
    for step in &batch.steps {
        let mut held = BTreeMap::new();
        for input in &step.inputs {
            match input.source {
                InputSource::Weighing(rank) => {
                    if let Some(weighing) = batch.weighings.get(rank) {
                        put(&mut held, weighing.ingredient, &weighing.mass);
                    }
                }
                InputSource::Step(rank) => {
                    for (ingredient, mass) in contents.get(rank).into_iter().flatten() {
                        put(&mut held, *ingredient, mass);
                    }
                }
            }
        }
        contents.push(held);
    }
    contents
}

fn put(held: &mut BTreeMap<usize, Number>, ingredient: usize, mass: &Number) {
    let entry = held
        .entry(ingredient)
        .or_insert_with(|| Number::exact(Q::ZERO));
    *entry = entry.plus(mass);
}

/// A step with its rank.
pub(super) fn numbered(batch: &Batch) -> impl Iterator<Item = (usize, &Step)> {
    batch.steps.iter().enumerate()
}
