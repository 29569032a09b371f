//! What a plan says, with names replaced by ranks, so that the rules can be asked of it.

use trug_model::Q;

use super::number::Number;

/// A whole plan.
pub(super) struct Sheet {
    pub(super) draft: bool,
    pub(super) ordered: Number,
    pub(super) weighed: Number,
    pub(super) method: Method,
    pub(super) scales: Vec<Scale>,
    pub(super) vessels: Vec<Vessel>,
    pub(super) ingredients: Vec<Ingredient>,
    pub(super) batches: Vec<Batch>,
    /// Findings that stand open.
    pub(super) open: Vec<Remark>,
    /// Findings that were accepted.
    pub(super) accepted: Vec<Remark>,
}

/// How it is mixed; fractions of one.
pub(super) struct Method {
    pub(super) pre_blend: Q,
    pub(super) dilutes: Q,
    pub(super) weigh: Q,
    pub(super) floor: Option<Number>,
    pub(super) lift: Option<Number>,
}

pub(super) struct Scale {
    pub(super) name: String,
    pub(super) capacity: Number,
    pub(super) division: Number,
    pub(super) minimum: Number,
    pub(super) class: Option<AccuracyClass>,
}

/// Accuracy classes of OIML R 76.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum AccuracyClass {
    One,
    Two,
    Three,
    Four,
}

pub(super) struct Vessel {
    pub(super) name: String,
    pub(super) count: u32,
    pub(super) litres: Number,
}

pub(super) struct Ingredient {
    pub(super) name: String,
    /// Of one.
    pub(super) share: Number,
    pub(super) on_top: bool,
    pub(super) class: Class,
    pub(super) carrier: bool,
    pub(super) g_per_litre: Option<Number>,
    /// Rank of another ingredient, and how thin each must be before they meet.
    pub(super) apart: Vec<(usize, Q)>,
    /// Its deliveries, the one to be used first at the head.
    pub(super) lots: Vec<Lot>,
}

pub(super) struct Lot {
    pub(super) name: String,
    pub(super) on_hand: Option<Number>,
    /// A line takes from it and from no other.
    pub(super) is_named: bool,
    /// A line that names none may take from it.
    pub(super) is_open: bool,
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Class {
    Small,
    Bulk,
    Liquid,
}

#[derive(Clone)]
pub(super) struct Batch {
    /// `batch 1`.
    pub(super) place: String,
    pub(super) times: u32,
    pub(super) total: Number,
    /// By rank of ingredient.
    pub(super) amounts: Vec<Amount>,
    pub(super) weighings: Vec<Weighing>,
    pub(super) steps: Vec<Step>,
    pub(super) least: bool,
}

#[derive(Clone)]
pub(super) struct Amount {
    pub(super) ordered: Number,
    pub(super) weighed: Number,
}

#[derive(Clone)]
pub(super) struct Weighing {
    pub(super) id: String,
    pub(super) ingredient: usize,
    pub(super) lot: Option<String>,
    /// Rank of the step it says it goes into.
    pub(super) step: usize,
    pub(super) mass: Number,
    pub(super) scale: Option<usize>,
    pub(super) loads: Vec<Number>,
    pub(super) error: Number,
    pub(super) from: Number,
    pub(super) to: Number,
}

#[derive(Clone)]
pub(super) struct Step {
    pub(super) id: String,
    pub(super) kind: StepKind,
    pub(super) inputs: Vec<Input>,
    pub(super) output: Number,
    pub(super) ratio: Option<f64>,
    /// None for the floor.
    pub(super) vessel: Option<usize>,
    pub(super) litres: Option<Number>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum StepKind {
    Together,
    Dilute,
    PreBlend,
    Liquid,
    Heap,
    Final,
}

#[derive(Clone)]
pub(super) struct Input {
    pub(super) source: InputSource,
    pub(super) mass: Number,
}

/// A rank among the batch's weighings or steps.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum InputSource {
    Weighing(usize),
    Step(usize),
}

/// A finding, as far as a rule can be excused by it.
pub(super) struct Remark {
    pub(super) code: String,
    pub(super) is_error: bool,
    pub(super) is_note: bool,
}

impl Remark {
    /// The part of the code before the slash.
    pub(super) fn family(&self) -> &str {
        self.code.split('/').next().unwrap_or("")
    }
}

impl Sheet {
    /// Whether some finding, open or accepted, answers to `is_meant`.
    pub(super) fn says(&self, is_meant: impl Fn(&Remark) -> bool) -> bool {
        self.open.iter().chain(&self.accepted).any(is_meant)
    }

    /// Whether the plan owns up to a step it could not make as the method asks.
    pub(super) fn owns_up_to_mixing(&self) -> bool {
        self.says(|remark| {
            remark.family() == "mix"
                && !remark.is_note
                && !["mix/evenness", "mix/apart"].contains(&remark.code.as_str())
        })
    }

    /// Whether the plan owns up to anything it could not do as the method asks: then it may have made the best of it, and what
    /// is only a matter of choice is not asked.
    pub(super) fn owns_up(&self) -> bool {
        self.says(|remark| {
            ["mix", "weigh"].contains(&remark.family())
                && !remark.is_note
                && remark.code != "mix/evenness"
        })
    }

    /// How many batches are made.
    pub(super) fn batch_count(&self) -> u64 {
        self.batches
            .iter()
            .map(|batch| u64::from(batch.times))
            .sum()
    }

    /// The 100 % of one batch.
    pub(super) fn whole_of_a_batch(&self) -> Number {
        let tops: Number = self
            .ingredients
            .iter()
            .filter(|ingredient| ingredient.on_top)
            .map(|ingredient| &ingredient.share)
            .sum();
        let count = i64::try_from(self.batch_count().max(1)).unwrap_or(i64::MAX);
        // A share of a top is never below zero, so the divisor is at least one.
        let wholes = (Q::ONE + &tops.value).max(Q::ONE) * Q::int(count);
        self.ordered.times(&(Q::ONE / wholes))
    }

    /// The two ingredients of every pair in the mix that is to be apart, and how thin each is to be.
    pub(super) fn pairs(&self) -> Vec<(usize, usize, Q)> {
        let mut pairs = Vec::new();
        for (rank, ingredient) in self.ingredients.iter().enumerate() {
            for (other, times) in &ingredient.apart {
                let is_there = self
                    .ingredients
                    .get(*other)
                    .is_some_and(|it| it.share.is_positive());
                if is_there && ingredient.share.is_positive() {
                    pairs.push((rank, *other, times.clone()));
                }
            }
        }
        pairs
    }
}

impl Batch {
    /// `batch 1, weighing w2`.
    pub(super) fn at_weighing(&self, weighing: &Weighing) -> String {
        format!("{}, weighing {}", self.place, weighing.id)
    }

    /// `batch 1, step s2`.
    pub(super) fn at_step(&self, step: &Step) -> String {
        format!("{}, step {}", self.place, step.id)
    }
}
