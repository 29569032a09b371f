//! The verifier of plans: reads what a plan's JSON says and names every rule it breaks.
//!
//! It shares no code with the planner and knows nothing but the document, so a mistake in the planner cannot hide
//! itself here. Whatever JSON it is handed, it answers and never panics. A plan that breaks a rule is never printed.

mod amounts;
mod apart;
mod batch;
mod carriers;
mod document;
mod flow;
mod given;
mod kinds;
mod lots;
mod number;
mod pre_blend;
mod ratios;
mod remarks;
mod resolve;
mod scales;
mod sheet;
mod vessels;
mod weighings;

use serde_json::Value;

/// One rule broken at one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Breach {
    /// Which rule.
    pub rule: Rule,
    /// Where in the plan: `batch 1, step s3`.
    pub place: String,
    /// What is wrong there, with the numbers.
    pub says: String,
}

/// The rules a plan keeps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// Every field is there and of its kind.
    Form,
    /// Names and ids stand for one thing.
    Name,
    /// What is named exists.
    Reference,
    /// Shares are 100 %, tops apart.
    Shares,
    /// An amount ordered is its share of the batch.
    Ordered,
    /// The fewest equal batches that the floor takes.
    Batches,
    /// Weighings sum to the amount, amounts to the batch, batches to the whole.
    Sums,
    /// Weighed and ordered differ by no more than the scales force.
    Snapped,
    /// Of the scales that read a weighing, the one of fewest loads, then the finest.
    Scale,
    /// Every reading is a multiple of the scale's division.
    Division,
    /// No load is under the scale's minimum.
    Minimum,
    /// No load is over the scale's capacity.
    Capacity,
    /// No load is more than one person lifts.
    Lift,
    /// Loads sum to the mass and are as few as can be.
    Loads,
    /// The possible error is that of the scale's class, or one division a load.
    PossibleError,
    /// What a weighing may read is what `weigh` allows.
    Window,
    /// The possible error is within `weigh`, or a finding says it is not.
    Accuracy,
    /// Each weighing and each step but the last is an input once.
    Inputs,
    /// Steps and weighings stand in the order of work.
    Order,
    /// A step's inputs sum to its output.
    StepSum,
    /// The last step is the whole batch.
    Last,
    /// A step does what its kind says.
    Kind,
    /// An ingredient is in its class, and at least one carries.
    Class,
    /// Carriers are bulk that may carry, taken as the rule says.
    Carrier,
    /// The pre-blend has the mass the rule gives.
    PreBlend,
    /// A step's ratio is its output over its smallest input that needs diluting.
    Ratio,
    /// No ratio is over what the method allows without a finding.
    Dilutes,
    /// Liquids are worked in gradually.
    Liquid,
    /// No pair that is to be apart meets too early.
    Apart,
    /// A step's volume follows from the densities.
    Litres,
    /// A step is in the vessel it belongs in, and that is not overfull.
    Vessel,
    /// No vessel is in use twice at once.
    VesselTwice,
    /// What is said to be proved can have been.
    Least,
    /// A lot gives no more than there is of it, and what is to be used first is.
    Lot,
    /// A plan with an error among its findings is a draft.
    Draft,
}

impl Rule {
    /// Its plain name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Rule::Form => "every field is there and of its kind",
            Rule::Name => "names and ids stand for one thing",
            Rule::Reference => "what is named exists",
            Rule::Shares => "shares are 100 %, tops apart",
            Rule::Ordered => "an amount ordered is its share of the batch",
            Rule::Batches => "the fewest equal batches that the floor takes",
            Rule::Sums => "weighings sum to amounts, amounts to batches, batches to the whole",
            Rule::Snapped => "weighed and ordered differ by no more than the scales force",
            Rule::Scale => "the scale of fewest loads, then the finest",
            Rule::Division => "readings are multiples of the scale's division",
            Rule::Minimum => "no load is under the scale's minimum",
            Rule::Capacity => "no load is over the scale's capacity",
            Rule::Lift => "no load is more than one person lifts",
            Rule::Loads => "loads sum to the mass and are as few as can be",
            Rule::PossibleError => "the possible error is the scale's, per load",
            Rule::Window => "what may be read is what the method allows",
            Rule::Accuracy => "the possible error is within what the method allows",
            Rule::Inputs => "each weighing and each step but the last is an input once",
            Rule::Order => "steps and weighings stand in the order of work",
            Rule::StepSum => "a step's inputs sum to its output",
            Rule::Last => "the last step is the whole batch",
            Rule::Kind => "a step does what its kind says",
            Rule::Class => "an ingredient is in its class",
            Rule::Carrier => "carriers are bulk that may carry, taken as the rule says",
            Rule::PreBlend => "the pre-blend has the mass the rule gives",
            Rule::Ratio => "a ratio is the output over the smallest input to be diluted",
            Rule::Dilutes => "no ratio is over what the method allows",
            Rule::Liquid => "liquids are worked in gradually",
            Rule::Apart => "what is to be apart does not meet early",
            Rule::Litres => "a volume follows from the densities",
            Rule::Vessel => "a step is in the vessel it belongs in",
            Rule::VesselTwice => "no vessel is in use twice at once",
            Rule::Least => "what is said to be proved can have been",
            Rule::Lot => "a lot gives what there is of it, the first one first",
            Rule::Draft => "a plan with an error is a draft",
        }
    }
}

/// Every rule that `plan`, a `trug.plan/1` document, breaks; empty for a plan that may be printed.
#[must_use]
pub fn verify(plan: &Value) -> Vec<Breach> {
    let mut found = Breaches::default();
    if let Some(sheet) = resolve::sheet(plan, &mut found) {
        remarks::check(&sheet, &mut found);
        amounts::check(&sheet, &mut found);
        lots::check(&sheet, &mut found);
        for batch in &sheet.batches {
            weighings::check(&sheet, batch, &mut found);
            // Where the steps do not hang together, nothing can be said of what they hold.
            let Some(flow) = flow::follow(batch, &mut found) else {
                continue;
            };
            // What several lots share is one thing to be mixed.
            let mixed = lots::joined(batch);
            kinds::check(&sheet, &mixed, &flow, &mut found);
            ratios::check(&sheet, batch, &flow, &mut found);
            ratios::check_liquid_order(&sheet, &mixed, &mut found);
            apart::check(&sheet, batch, &flow, &mut found);
            pre_blend::check(&sheet, batch, &flow, &mut found);
            carriers::check(&sheet, batch, &flow, &mut found);
            vessels::check(&sheet, batch, &flow, &mut found);
        }
    }
    found.list
}

/// What was found so far.
#[derive(Default)]
struct Breaches {
    list: Vec<Breach>,
}

impl Breaches {
    fn add(&mut self, rule: Rule, place: impl Into<String>, says: impl Into<String>) {
        self.list.push(Breach {
            rule,
            place: place.into(),
            says: says.into(),
        });
    }
}
