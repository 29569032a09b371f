//! Steps in short sentences, as one would say them across the yard or over the telephone.

use trug_plan::plan::{Batch, Class, Input, InputSource, Step, StepKind, Weighing};

use super::writing::Writing;
use super::{StepLine, Steps};
use crate::speech::Part;

impl Writing<'_> {
    /// The steps of a batch, then the sample, the bags, and the cleaning after what is medicated.
    pub(super) fn steps(&self, batch: &Batch, heading: String) -> Steps {
        let mut steps: Vec<StepLine> = batch
            .steps
            .iter()
            .enumerate()
            .map(|(rank, step)| StepLine {
                id: Some(step.id.clone()),
                number: rank + 1,
                text: Tale::of(self, batch, step).sentences(),
                output: Some(self.mass(&step.output_g)),
            })
            .collect();
        for text in self.afterwards(batch) {
            steps.push(StepLine {
                id: None,
                number: steps.len() + 1,
                text,
                output: None,
            });
        }
        Steps { heading, steps }
    }

    fn afterwards(&self, batch: &Batch) -> Vec<String> {
        let has_heap = batch.steps.last().map(|step| step.kind) != Some(StepKind::PreBlend);
        let sample = if has_heap {
            "sample-heap"
        } else {
            "sample-feed"
        };
        let day = self.speech.date(&self.about.today);
        let parts = [
            ("ration", Part::Words(self.title())),
            ("day", Part::Words(&day)),
        ];
        let mut afterwards = vec![self.speech.say(sample), self.speech.say_of("bag", &parts)];
        if self.about.is_medicated {
            afterwards.push(self.speech.say("clean"));
        }
        afterwards
    }

    /// All steps in sentences, for who cannot see the picture of them.
    pub(super) fn told(&self, batch: &Batch) -> String {
        let steps = batch.steps.iter().enumerate();
        let lines: Vec<String> = steps
            .map(|(rank, step)| {
                let told = Tale::of(self, batch, step).sentences();
                format!("{}. {told} → {}", rank + 1, self.mass(&step.output_g))
            })
            .collect();
        lines.join(" ")
    }
}

struct Tale<'a> {
    writing: &'a Writing<'a>,
    batch: &'a Batch,
    step: &'a Step,
}

impl<'a> Tale<'a> {
    fn of(writing: &'a Writing<'a>, batch: &'a Batch, step: &'a Step) -> Tale<'a> {
        Tale {
            writing,
            batch,
            step,
        }
    }

    fn say(&self, phrase: &str) -> String {
        self.writing.speech.say(phrase)
    }

    /// What is done in the step.
    fn sentences(&self) -> String {
        let is_last = self
            .batch
            .steps
            .last()
            .is_some_and(|last| last.id == self.step.id);
        match self.step.kind {
            StepKind::Together | StepKind::Dilute => self.together(None),
            StepKind::PreBlend if is_last => self.together(Some("this-is-batch")),
            StepKind::PreBlend => self.together(Some("this-is-preblend")),
            StepKind::Liquid => self.worked_in("put", None),
            StepKind::Heap if is_last => self.worked_in("heap", Some("this-is-batch")),
            StepKind::Heap => self.worked_in("heap", Some("this-is-heap")),
            StepKind::Final => self.spread(),
        }
    }

    /// Everything into one vessel.
    fn together(&self, close: Option<&str>) -> String {
        let all: Vec<&Input> = self.step.inputs.iter().collect();
        let put = self.placed("put", &all);
        let close = close.map(|phrase| self.say(phrase));
        joined([Some(put), Some(self.turns("stir")), close])
    }

    /// Bulk first, in its order; liquids into it.
    fn worked_in(&self, verb: &str, close: Option<&str>) -> String {
        let is_liquid = |input: &&Input| match self.weighing(input) {
            Some(weighing) => {
                let kind = self.writing.plan.kinds.get(weighing.ingredient);
                kind.is_some_and(|kind| kind.class == Class::Liquid)
            }
            None => false,
        };
        let (liquids, bulk): (Vec<&Input>, Vec<&Input>) =
            self.step.inputs.iter().partition(is_liquid);
        let verb = match verb {
            "heap" if bulk.len() > 1 => "heap-in-order",
            verb => verb,
        };
        let put = self.placed(verb, &bulk);
        let work = (!liquids.is_empty()).then(|| {
            let speech = self.writing.speech;
            speech.say_one("work-in", "what", &self.inputs(&liquids))
        });
        let close = close.map(|phrase| self.say(phrase));
        joined([Some(put), work, Some(self.turns("stir")), close])
    }

    /// The pre-blend over the heap.
    fn spread(&self) -> String {
        let is_heap = |input: &&Input| {
            self.mixed(input)
                .is_some_and(|(_, step)| step.kind == StepKind::Heap)
        };
        let (heap, over): (Vec<&Input>, Vec<&Input>) = self.step.inputs.iter().partition(is_heap);
        let over = self.inputs(&over);
        let speech = self.writing.speech;
        let sprinkle = match self.step.portions {
            Some(portions) if portions > 1 => {
                let parts = [
                    ("what", Part::Words(&over)),
                    ("count", Part::Count(portions as usize)),
                ];
                speech.say_of("sprinkle-in-portions", &parts)
            }
            _ => speech.say_one("sprinkle", "what", &over),
        };
        joined([
            Some(self.placed("lay-out", &heap)),
            Some(sprinkle),
            Some(self.turns("turn-until-even")),
            Some(self.say("this-is-batch")),
        ])
    }

    fn turns(&self, unless_said: &str) -> String {
        match self.step.turns {
            Some(turns) => self.writing.speech.say_count("turn", turns as usize),
            None => self.say(unless_said),
        }
    }

    /// What is done with these, and where: in the basin, on the floor; in one basin of several.
    fn placed(&self, verb: &str, inputs: &[&Input]) -> String {
        let name = &self.step.vessel;
        let vessels = &self.writing.plan.order.vessels;
        let vessel = vessels.iter().find(|vessel| vessel.name == *name);
        let place = match vessel {
            None => self.say("on-floor"),
            Some(vessel) => {
                let phrase = if vessel.count > 1 { "in-one" } else { "in-the" };
                self.writing.speech.say_one(phrase, "vessel", name)
            }
        };
        let parts = [
            ("what", Part::Words(&self.inputs(inputs))),
            ("where", Part::Words(&place)),
        ];
        self.writing.speech.say_of(verb, &parts)
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

    /// What goes in, one after the other; what comes from several lots is one thing to be mixed.
    fn inputs(&self, inputs: &[&Input]) -> String {
        let mut all: Vec<Input> = Vec::with_capacity(inputs.len());
        for input in inputs {
            let same = |last: &&mut Input| match (self.weighing(last), self.weighing(input)) {
                (Some(last), Some(this)) => {
                    last.ingredient == this.ingredient && last.lot != this.lot
                }
                _ => false,
            };
            match all.last_mut().filter(same) {
                Some(last) => last.mass_g += &input.mass_g,
                None => all.push(Input::clone(input)),
            }
        }
        let all: Vec<String> = all.iter().map(|input| self.input(input)).collect();
        self.writing.speech.list(&all)
    }

    /// `600 g salt`, `the mix of step 1 (1.7 kg)`.
    fn input(&self, input: &Input) -> String {
        let mass = self.writing.mass(&input.mass_g);
        let speech = self.writing.speech;
        if let Some(weighing) = self.weighing(input) {
            let what = self.writing.name_of(weighing.ingredient);
            let parts = [("mass", Part::Words(&mass)), ("what", Part::Words(what))];
            return speech.say_of("mass-of", &parts);
        }
        let Some((number, step)) = self.mixed(input) else {
            return mass;
        };
        let phrase = match step.kind {
            StepKind::PreBlend => "the-preblend",
            StepKind::Heap => "the-heap",
            _ => "the-mix",
        };
        let parts = [("step", Part::Count(number)), ("mass", Part::Words(&mass))];
        speech.say_of(phrase, &parts)
    }
}

/// Sentences with a blank between them.
fn joined<const N: usize>(sentences: [Option<String>; N]) -> String {
    let said: Vec<String> = sentences.into_iter().flatten().collect();
    said.join(" ")
}
