//! Steps in short sentences, as one would say them across the yard or over the telephone.

use trug_plan::plan::{Batch, Class, Input, InputSource, Plan, Step, StepKind, Weighing};

use super::PlanAbout;
use super::masses::{listed, shown};

/// What is done in a step, and what comes of it.
pub(super) fn sentence(plan: &Plan, batch: &Batch, step: &Step, about: &PlanAbout<'_>) -> String {
    let is_last = batch.steps.last().is_some_and(|last| last.id == step.id);
    let tale = Tale {
        plan,
        batch,
        step,
        about,
    };
    let done = match step.kind {
        StepKind::Together | StepKind::Dilute => tale.together(""),
        StepKind::PreBlend if is_last => tale.together("This is the whole batch."),
        StepKind::PreBlend => tale.together("This is the pre-blend."),
        StepKind::Liquid => tale.worked_in("Put", ""),
        StepKind::Heap if is_last => tale.worked_in("Heap", "This is the whole batch."),
        StepKind::Heap => tale.worked_in("Heap", "This is the heap."),
        StepKind::Final => tale.spread(),
    };
    format!("{done} → {}", shown(&step.output_g))
}

struct Tale<'a> {
    plan: &'a Plan,
    batch: &'a Batch,
    step: &'a Step,
    about: &'a PlanAbout<'a>,
}

impl Tale<'_> {
    /// Everything into one vessel.
    fn together(&self, close: &str) -> String {
        let all: Vec<String> = self.step.inputs.iter().map(|it| self.input(it)).collect();
        let put = format!("Put {} {}.", listed(&all), self.place());
        joined(&[&put, &self.turns("Mix."), close])
    }

    /// Bulk first, in its order; liquids into it.
    fn worked_in(&self, verb: &str, close: &str) -> String {
        let is_liquid = |input: &&Input| match self.weighing(input) {
            Some(weighing) => {
                let kind = self.plan.kinds.get(weighing.ingredient);
                kind.is_some_and(|kind| kind.class == Class::Liquid)
            }
            None => false,
        };
        let (liquids, bulk): (Vec<&Input>, Vec<&Input>) =
            self.step.inputs.iter().partition(is_liquid);
        let words = |inputs: &[&Input]| {
            let all: Vec<String> = inputs.iter().map(|it| self.input(it)).collect();
            listed(&all)
        };
        let order = if self.step.kind == StepKind::Heap && bulk.len() > 1 {
            ", in this order"
        } else {
            ""
        };
        let put = format!("{verb} {} {}{order}.", words(&bulk), self.place());
        let work = if liquids.is_empty() {
            String::new()
        } else {
            format!("Work {} into it.", words(&liquids))
        };
        joined(&[&put, &work, &self.turns("Mix."), close])
    }

    /// The pre-blend over the heap.
    fn spread(&self) -> String {
        let is_heap = |input: &&Input| {
            self.mixed(input)
                .is_some_and(|(_, step)| step.kind == StepKind::Heap)
        };
        let (heap, over): (Vec<&Input>, Vec<&Input>) = self.step.inputs.iter().partition(is_heap);
        let words = |inputs: &[&Input]| {
            let all: Vec<String> = inputs.iter().map(|it| self.input(it)).collect();
            listed(&all)
        };
        let portions = match self.step.portions {
            Some(portions) if portions > 1 => format!(" in {portions} portions"),
            _ => String::new(),
        };
        let lay = format!("Lay out {} {}.", words(&heap), self.place());
        let sprinkle = format!("Sprinkle {} over it{portions}.", words(&over));
        let turns = self.turns("Turn until it is even.");
        joined(&[&lay, &sprinkle, &turns, "This is the whole batch."])
    }

    fn turns(&self, unless_said: &str) -> String {
        match self.step.turns {
            Some(1) => "Turn once.".to_owned(),
            Some(turns) => format!("Turn {turns} times."),
            None => unless_said.to_owned(),
        }
    }

    /// `in the basin`, `on the floor`; `in one basin` of several.
    fn place(&self) -> String {
        let name = &self.step.vessel;
        let vessel = self
            .plan
            .order
            .vessels
            .iter()
            .find(|vessel| vessel.name == *name);
        match vessel {
            None => "on the floor".to_owned(),
            Some(vessel) if vessel.count > 1 => format!("in one {name}"),
            Some(_) => format!("in the {name}"),
        }
    }

    fn weighing(&self, input: &Input) -> Option<&Weighing> {
        match &input.source {
            InputSource::Weighing(id) => self.batch.weighings.iter().find(|it| it.id == *id),
            InputSource::Step(_) => None,
        }
    }

    /// The earlier step an input comes from, and its number.
    fn mixed(&self, input: &Input) -> Option<(usize, &Step)> {
        let InputSource::Step(id) = &input.source else {
            return None;
        };
        let rank = self.batch.steps.iter().position(|step| step.id == *id)?;
        Some((rank + 1, self.batch.steps.get(rank)?))
    }

    /// `600 g salt`, `the mix of step 1 (1.7 kg)`.
    fn input(&self, input: &Input) -> String {
        let mass = shown(&input.mass_g);
        if let Some(weighing) = self.weighing(input) {
            return format!(
                "{mass} {}",
                self.about.name_of(self.plan, weighing.ingredient)
            );
        }
        match self.mixed(input) {
            Some((number, step)) => {
                let what = match step.kind {
                    StepKind::PreBlend => "pre-blend",
                    StepKind::Heap => "heap",
                    _ => "mix",
                };
                format!("the {what} of step {number} ({mass})")
            }
            None => mass,
        }
    }
}

/// Sentences with a blank between them.
fn joined(sentences: &[&str]) -> String {
    let said: Vec<&str> = sentences
        .iter()
        .copied()
        .filter(|it| !it.is_empty())
        .collect();
    said.join(" ")
}
