//! A plan while it is made: parts of ingredients, and the acts of mixing they go into.
//!
//! Acts stand in the order of work: an act that is an input stands before the act that uses it.

use trug_model::Q;

use crate::plan::StepKind;
use crate::scales::Reading;

/// Parts and acts that will be weighings and steps.
#[derive(Clone, Debug, Default)]
pub(crate) struct Draft {
    pub(crate) parts: Vec<Part>,
    pub(crate) acts: Vec<Act>,
}

/// What of one ingredient goes into one act.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    pub(crate) ingredient: usize,
    pub(crate) role: Role,
    pub(crate) mass: Q,
    /// None where no scale will do.
    pub(crate) reading: Option<Reading>,
}

/// Why a part is weighed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// All of an ingredient, its mass fixed.
    Whole,
    /// Bulk that dilutes smaller ones: a fixed part of an ingredient.
    Carrier,
    /// The first half of the largest on the heap: a fixed part.
    Half,
    /// What is left of a bulk ingredient: takes up what snapping leaves.
    Rest,
}

/// One act of mixing.
#[derive(Clone, Debug)]
pub(crate) struct Act {
    pub(crate) kind: StepKind,
    pub(crate) inputs: Vec<Source>,
}

/// What goes into an act, by its rank in the draft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Source {
    Part(usize),
    Act(usize),
}

impl Draft {
    /// Adds a part.
    pub(crate) fn part(&mut self, part: Part) -> Source {
        self.parts.push(part);
        Source::Part(self.parts.len() - 1)
    }

    /// Adds an act, done after all that are there.
    pub(crate) fn act(&mut self, kind: StepKind, inputs: Vec<Source>) -> Source {
        self.acts.push(Act { kind, inputs });
        Source::Act(self.acts.len() - 1)
    }

    /// The mass of every act's output.
    pub(crate) fn outputs(&self) -> Vec<Q> {
        let mut outputs: Vec<Q> = Vec::with_capacity(self.acts.len());
        for act in &self.acts {
            let output = act
                .inputs
                .iter()
                .map(|source| self.mass(*source, &outputs))
                .sum();
            outputs.push(output);
        }
        outputs
    }

    /// The mass of an input, given the outputs of the acts before.
    pub(crate) fn mass(&self, source: Source, outputs: &[Q]) -> Q {
        match source {
            Source::Part(part) => self.parts[part].mass.clone(),
            Source::Act(act) => outputs[act].clone(),
        }
    }

    /// What is weighed of an ingredient in all.
    pub(crate) fn mass_of(&self, ingredient: usize) -> Q {
        self.parts_of(ingredient).map(|part| &part.mass).sum()
    }

    /// The parts of an ingredient.
    pub(crate) fn parts_of(&self, ingredient: usize) -> impl Iterator<Item = &Part> {
        self.parts
            .iter()
            .filter(move |part| part.ingredient == ingredient)
    }

    /// What every part weighs together.
    pub(crate) fn total(&self) -> Q {
        self.parts.iter().map(|part| &part.mass).sum()
    }

    /// For every act, whether `is_sought` holds of an ingredient in it.
    pub(crate) fn acts_with(&self, is_sought: impl Fn(usize) -> bool) -> Vec<bool> {
        let mut with: Vec<bool> = Vec::with_capacity(self.acts.len());
        for act in &self.acts {
            let holds = act
                .inputs
                .iter()
                .any(|source| self.holds(*source, &with, &is_sought));
            with.push(holds);
        }
        with
    }

    /// Whether `is_sought` holds of an ingredient in an input, given the same of the acts before.
    pub(crate) fn holds(
        &self,
        source: Source,
        with: &[bool],
        is_sought: &impl Fn(usize) -> bool,
    ) -> bool {
        match source {
            Source::Part(part) => is_sought(self.parts[part].ingredient),
            Source::Act(act) => with[act],
        }
    }

    /// The first act whose output holds both ingredients.
    pub(crate) fn first_common(&self, one: usize, other: usize) -> Option<usize> {
        let with_one = self.acts_with(|rank| rank == one);
        let with_other = self.acts_with(|rank| rank == other);
        (0..self.acts.len()).find(|act| with_one[*act] && with_other[*act])
    }

    /// The smallest input of an act that holds the ingredient.
    pub(crate) fn smallest_input_with(&self, ingredient: usize, act: usize) -> Option<Q> {
        let is_sought = |rank: usize| rank == ingredient;
        let with = self.acts_with(is_sought);
        let outputs = self.outputs();
        self.acts[act]
            .inputs
            .iter()
            .filter(|source| self.holds(**source, &with, &is_sought))
            .map(|source| self.mass(*source, &outputs))
            .min()
    }
}
