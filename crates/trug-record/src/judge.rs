//! Judges the records of a text: weights, lots, days, and what the batch really held.

mod asked;
mod days;
mod lots;
mod mixed;
mod outcome;
mod weights;

use std::collections::BTreeMap;
use std::sync::Arc;

use smol_str::SmolStr;
use trug_findings::{Finding, Place};
use trug_model::ration::Ration;
use trug_model::view::Record;
use trug_model::{Q, View};

use asked::{Asked, asked};

pub use outcome::{Outcome, outcome};

/// Says what is wrong with every record of the view's own text.
pub(crate) fn records(view: &View<'_>, findings: &mut Vec<Finding>) {
    let named = view.farm().records(view.file());
    if named.is_empty() {
        return;
    }
    let mut plans = Plans::default();
    for named in &named {
        if let Some(record) = view.record(named) {
            one(view, &record, &mut plans, findings);
        }
    }
}

/// Says what is wrong with one record.
fn one(view: &View<'_>, record: &Record, plans: &mut Plans, findings: &mut Vec<Finding>) {
    // What a line that could not be read says may be what is missing here.
    if record.has_unread_line {
        return;
    }
    days::judge(view, record, findings);
    let Some(ration) = view.made_out(&record.of) else {
        return;
    };
    lots::judge(view, record, &ration, findings);
    group(view, record, &ration, findings);
    weights::judge(view, record, &ration, plans, findings);
}

/// A group that does not eat the ration; silent where it was said for whom the ration is not made.
fn group(view: &View<'_>, record: &Record, ration: &Ration, findings: &mut Vec<Finding>) {
    for fed in &record.fed {
        let is_said = |finding: &Finding| finding.place == fed.place;
        if view.knows_group(&fed.group)
            && view.order_of(&fed.group, ration).is_none()
            && !findings.iter().any(is_said)
        {
            let ration = (ration.name.as_str(), ration.place);
            findings.push(crate::findings::record::group(
                fed.place, &fed.group, ration,
            ));
        }
    }
}

/// Plans that were made for records of one text, each once.
#[derive(Default)]
struct Plans {
    asked: BTreeMap<(SmolStr, Q), Option<Arc<Asked>>>,
    written: BTreeMap<SmolStr, Arc<Vec<Finding>>>,
}

impl Plans {
    /// What the plan of so much of a ration asks; none where there is none.
    fn asked(&mut self, view: &View<'_>, ration: &Ration, batch: &Q) -> Option<Arc<Asked>> {
        let key = (ration.name.clone(), batch.clone());
        let made = || asked(view, ration, batch).map(Arc::new);
        self.asked.entry(key).or_insert_with(made).clone()
    }

    /// What there is to say about the ration as it is written.
    fn written(&mut self, view: &View<'_>, ration: &Ration) -> Arc<Vec<Finding>> {
        let made = || Arc::new(view.judge(ration));
        let kept = self.written.entry(ration.name.clone());
        Arc::clone(kept.or_insert_with(made))
    }
}

/// What was weighed of one ingredient, over all its lines.
struct Sum<'record> {
    name: &'record str,
    kg: Q,
    /// Where the first of it is written.
    written: Place,
}

/// What was weighed, an entry an ingredient, in the order of the record; none where a weight could not be made out.
fn sums<'record>(view: &View<'_>, record: &'record Record) -> Option<Vec<Sum<'record>>> {
    let mut sums: Vec<Sum<'record>> = Vec::new();
    let mut ranks: BTreeMap<&str, usize> = BTreeMap::new();
    for weighed in &record.weighed {
        let kg = weighed.kg.as_ref()?;
        view.declaration(trug_model::Namespace::Feed, &weighed.name)?;
        if let Some(sum) = ranks.get(weighed.name.as_str()) {
            sums.get_mut(*sum)?.kg += kg;
        } else {
            ranks.insert(&weighed.name, sums.len());
            sums.push(Sum {
                name: &weighed.name,
                kg: kg.clone(),
                written: weighed.written,
            });
        }
    }
    Some(sums)
}
