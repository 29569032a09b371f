//! A plan as work: its steps as its document names them, and what comes of doing them.

use std::collections::BTreeMap;

use serde_json::Value;

use super::chance::Chance;
use super::heap::{Hand, Heap, scoop_g};

/// What one animal eats a day: evenness is asked of portions.
pub(super) const PORTION_G: f64 = 160.0;

/// Cells of something small; of what is larger, each is a portion.
const FEWEST_CELLS: usize = 64;

/// Batches that are mixed to learn how even one is.
const BATCHES: u64 = 40;

/// An ingredient that is looked at.
#[derive(Clone, Debug)]
pub(super) struct Looked {
    pub(super) name: &'static str,
    /// Mass of one particle.
    pub(super) particle_g: f64,
}

/// The steps of one batch.
#[derive(Clone, Debug)]
pub(super) struct Work {
    pub(super) steps: Vec<Step>,
    pub(super) total_g: f64,
}

/// One act of mixing.
#[derive(Clone, Debug)]
pub(super) struct Step {
    id: String,
    pub(super) kind: String,
    /// Ingredients weighed, or the ids of earlier steps.
    inputs: Vec<(Input, f64)>,
    pub(super) output_g: f64,
}

#[derive(Clone, Debug)]
enum Input {
    Ingredient(String),
    Step(String),
}

fn grams(value: &Value) -> f64 {
    value.as_str().unwrap().parse().unwrap()
}

impl Work {
    /// Of a plan's document.
    pub(super) fn of(plan: &Value) -> Work {
        let batch = &plan["batches"][0];
        let of_weighing: BTreeMap<&str, &str> = batch["weighings"]
            .as_array()
            .unwrap()
            .iter()
            .map(|it| {
                (
                    it["id"].as_str().unwrap(),
                    it["ingredient"].as_str().unwrap(),
                )
            })
            .collect();
        let input = |input: &Value| {
            let source = match input["weighing"].as_str() {
                Some(id) => Input::Ingredient(of_weighing[id].to_owned()),
                None => Input::Step(input["step"].as_str().unwrap().to_owned()),
            };
            (source, grams(&input["mass_g"]))
        };
        let step = |step: &Value| Step {
            id: step["id"].as_str().unwrap().to_owned(),
            kind: step["kind"].as_str().unwrap().to_owned(),
            inputs: step["inputs"]
                .as_array()
                .unwrap()
                .iter()
                .map(input)
                .collect(),
            output_g: grams(&step["output_g"]),
        };
        Work {
            steps: batch["steps"]
                .as_array()
                .unwrap()
                .iter()
                .map(step)
                .collect(),
            total_g: grams(&batch["total_g"]),
        }
    }

    /// All weighings at once in one heap.
    pub(super) fn at_once(&self) -> Work {
        let weighed = self.steps.iter().flat_map(|step| &step.inputs);
        let weighed = weighed.filter(|(input, _)| matches!(input, Input::Ingredient(_)));
        Work {
            steps: vec![Step {
                id: "s1".to_owned(),
                kind: "final".to_owned(),
                inputs: weighed.cloned().collect(),
                output_g: self.total_g,
            }],
            total_g: self.total_g,
        }
    }

    /// What is lifted in turning every step once.
    pub(super) fn once_g(&self) -> f64 {
        self.steps.iter().map(|step| step.output_g).sum()
    }

    /// How uneven the batch is after so many turns of each step: variance over the square of the mean, the mean of many batches.
    pub(super) fn unevenness(&self, looked: &Looked, turns: &Turns, hand: Hand) -> f64 {
        let sum: f64 = (0..BATCHES)
            .map(|batch| self.mixed(looked, turns, hand, 2_026 + batch).unevenness())
            .sum();
        sum / BATCHES as f64
    }

    /// One batch, mixed.
    pub(super) fn mixed(&self, looked: &Looked, turns: &Turns, hand: Hand, seed: u64) -> Heap {
        let mut chance = Chance::new(seed);
        let mut made: BTreeMap<&str, Heap> = BTreeMap::new();
        let mut last = Heap::weighed(1.0, 0);
        for step in &self.steps {
            let parts = step.inputs.iter().map(|(input, mass_g)| match input {
                Input::Step(id) => made.remove(id.as_str()).unwrap(),
                Input::Ingredient(name) if name == looked.name => {
                    Heap::weighed(*mass_g, (mass_g / looked.particle_g).round() as u64)
                }
                Input::Ingredient(_) => Heap::weighed(*mass_g, 0),
            });
            let parts: Vec<Heap> = parts.collect();
            let portions = (step.output_g / PORTION_G).round() as usize;
            let mut heap = Heap::put_together(parts, portions.max(FEWEST_CELLS), &mut chance);
            let scoops = step.output_g / scoop_g(step.output_g) * turns.of(step);
            // What holds none of it cannot become more even in it: the work is counted, and need not be done.
            if heap.particles() > 0 {
                heap.shovel(scoops.round() as usize, hand, &mut chance);
            }
            last = heap.clone();
            made.insert(&step.id, heap);
        }
        last
    }
}

/// How often each step is turned.
#[derive(Clone, Copy, Debug)]
pub(super) struct Turns {
    /// The last step and the heap, and everything else that is not named below.
    pub(super) each: f64,
    /// So many times that in the pre-blend and all before it.
    pub(super) small: f64,
}

impl Turns {
    pub(super) fn each(each: f64) -> Turns {
        Turns { each, small: 1.0 }
    }

    fn of(&self, step: &Step) -> f64 {
        match step.kind.as_str() {
            "final" | "heap" => self.each,
            _ => self.each * self.small,
        }
    }
}

/// The CV in percent.
pub(super) fn cv(unevenness: f64) -> f64 {
    100.0 * unevenness.sqrt()
}
