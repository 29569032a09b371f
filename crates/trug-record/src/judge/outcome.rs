//! A record in a few numbers: what an editor shows above it.

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_model::view::Record;
use trug_model::{Q, View};

use super::weights::part_of_main;
use super::{Plans, one, sums};
use crate::findings::record::{EXTRA, MISSING, WEIGHT};

/// What became of a batch.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// What was weighed of the 100 %, in kg; none where nothing was, or not in a way that could be made out.
    pub mixed: Option<Q>,
    /// What was to be mixed, in kg.
    pub batch: Option<Q>,
    /// How many weights are outside of what the plan allows, missing or too much.
    pub outside: usize,
    /// How many bounds the batch misses as it was really mixed, and its ration as written does not.
    pub missed: usize,
    /// Whom it was fed to, and until when.
    pub fed: Vec<(SmolStr, Option<Date>)>,
}

/// What became of the batch of a record.
#[must_use]
pub fn outcome(view: &View<'_>, record: &Record) -> Outcome {
    let mut found = Vec::new();
    one(view, record, &mut Plans::default(), &mut found);
    let (mut outside, mut missed) = (0, 0);
    for finding in &found {
        let code = finding.code.name;
        if code == MISSING.name {
            outside += finding.related.len().max(1);
        } else if code == WEIGHT.name || code == EXTRA.name {
            outside += 1;
        } else if finding.message.starts_with(super::mixed::AS_MIXED) {
            missed += 1;
        }
    }
    let ration = view.made_out(&record.of);
    let sums = sums(view, record).filter(|sums| !sums.is_empty());
    let mixed = sums.zip(ration).map(|(sums, ration)| {
        let main = sums
            .iter()
            .map(|sum| &sum.kg * &part_of_main(&ration, sum.name));
        main.sum()
    });
    Outcome {
        mixed,
        batch: record.batch.clone(),
        outside,
        missed,
        fed: record
            .fed
            .iter()
            .map(|fed| (fed.group.clone(), fed.to.map(|(day, _)| day)))
            .collect(),
    }
}
