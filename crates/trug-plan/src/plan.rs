//! A mixing plan: weighings, and the steps from weighings to finished feed. Masses are exact grams.

use trug_findings::Finding;
use trug_model::Q;

use crate::order::Order;

/// How an order is mixed.
#[derive(Clone, Debug)]
pub struct Plan {
    /// What was asked, as the planner was given it.
    pub order: Order,
    /// What kind each ingredient is in this mix, and whether it may carry; by rank in the order.
    pub kinds: Vec<Kind>,
    /// What was ordered, tops included, in grams.
    pub ordered_g: Q,
    /// What will be weighed, tops included, over all batches, in grams.
    pub weighed_g: Q,
    /// The batches: one entry for all that are done alike.
    pub batches: Vec<Batch>,
    /// What the planner has to say. An error among them makes the plan a draft.
    pub findings: Vec<Finding>,
}

/// What an ingredient is in a mix.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kind {
    /// Its class.
    pub class: Class,
    /// It may carry smaller ones.
    pub may_carry: bool,
}

/// The classes of ingredient in a hand mix.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// Goes through the pre-blend.
    Small,
    /// Goes on the heap, and carries.
    Bulk,
    /// Is worked into heap ingredients.
    Liquid,
}

/// A batch, done so many times.
#[derive(Clone, Debug)]
pub struct Batch {
    /// Counted from 1.
    pub number: u32,
    /// How often it is done.
    pub times: u32,
    /// What it weighs, tops included, in grams.
    pub total_g: Q,
    /// What of each ingredient, in the order of the ration.
    pub amounts: Vec<Amount>,
    /// In the order of work.
    pub weighings: Vec<Weighing>,
    /// In the order of work; the last one is the whole batch.
    pub steps: Vec<Step>,
    /// No plan with fewer steps exists, and that was proved.
    pub least: bool,
}

/// What of one ingredient goes into a batch.
#[derive(Clone, Debug)]
pub struct Amount {
    /// Rank in the order's ingredients.
    pub ingredient: usize,
    /// What the ration asks, in grams.
    pub ordered_g: Q,
    /// What the scales can give, in grams.
    pub weighed_g: Q,
}

/// One part of an ingredient, weighed for one step.
#[derive(Clone, Debug)]
pub struct Weighing {
    /// `w1`, `w2`, … in the order of work.
    pub id: String,
    /// Rank in the order's ingredients.
    pub ingredient: usize,
    /// The delivery it is taken from, where that is known.
    pub lot: Option<String>,
    /// Id of the step it goes into.
    pub step: String,
    /// How much, in grams.
    pub mass_g: Q,
    /// Rank in the order's scales; none where no scale will do.
    pub scale: Option<usize>,
    /// The loads it is weighed in, in grams.
    pub loads_g: Vec<Q>,
    /// How far it may be off, in grams.
    pub error_g: Q,
    /// The least it may read, in grams.
    pub from_g: Q,
    /// The most it may read, in grams.
    pub to_g: Q,
}

/// One act of mixing.
#[derive(Clone, Debug)]
pub struct Step {
    /// `s1`, `s2`, … in the order of work.
    pub id: String,
    /// What it does.
    pub kind: StepKind,
    /// What goes in, in the order it goes in.
    pub inputs: Vec<Input>,
    /// What comes out, in grams.
    pub output_g: Q,
    /// Output over the smallest input that needs diluting; none for a heap.
    pub ratio: Option<Q>,
    /// The vessel's name, or `floor`.
    pub vessel: String,
    /// The volume, where every density is known.
    pub litres: Option<Q>,
    /// How often it is turned.
    pub turns: Option<u32>,
    /// In how many portions the pre-blend is spread.
    pub portions: Option<u32>,
}

/// The kinds of step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepKind {
    /// Mixes small ingredients, and earlier mixes of them, without new carrier.
    Together,
    /// Adds carrier on the way.
    Dilute,
    /// Reaches the pre-blend.
    PreBlend,
    /// Works a liquid into heap ingredients.
    Liquid,
    /// Mixes the bulk that is left.
    Heap,
    /// Spreads one on the other.
    Final,
}

impl StepKind {
    /// The word programs read.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            StepKind::Together => "together",
            StepKind::Dilute => "dilute",
            StepKind::PreBlend => "preblend",
            StepKind::Liquid => "liquid",
            StepKind::Heap => "heap",
            StepKind::Final => "final",
        }
    }
}

/// Something that goes into a step.
#[derive(Clone, Debug)]
pub struct Input {
    /// Where it comes from.
    pub source: InputSource,
    /// How much, in grams.
    pub mass_g: Q,
}

/// Where an input comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum InputSource {
    /// The id of a weighing.
    Weighing(String),
    /// The id of an earlier step.
    Step(String),
}
