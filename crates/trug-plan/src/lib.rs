//! A checked ration and a batch to a mixing plan, and the verifier of plans.
//!
//! A plan is a tree of steps from weighings to finished feed. Its masses are exact; only what is expected of evenness is floating point. The
//! planner knows no text, only places. The phases stand in the order of the work.

pub mod findings;
pub mod order;
pub mod plan;

mod amounts;
mod batches;
mod classes;
mod draft;
mod mixing;
mod scales;

mod preblend;
mod steps;

mod apart;
mod liquids;
mod vessels;

mod sequence;

mod lots;

pub mod evenness;

mod words;

mod from_ration;

pub mod doses;

mod phases;
mod planned;

mod analysed;

pub mod verify;

use trug_findings::Finding;
use trug_model::Q;

use crate::order::Order;
use crate::plan::Plan;

pub use analysed::{Analysed, analyse_ration};
pub use from_ration::{Refusal, Request};
pub use phases::FedDays;
pub use planned::{Caution, Hazard, Planned, plan_ration};
pub use verify::{Breach, verify};

/// How an order is mixed. There is a plan for every order; what it could not keep is among its findings.
#[must_use]
pub fn plan(order: Order) -> Plan {
    let pairs = apart::pairs(&order);
    let kinds = classes::classify(&order, &pairs);
    let times = batches::count(&order);
    let case = amounts::of_one_batch(&order, &kinds, &pairs, times);
    let mixed = mixing::mix(&case);
    let homes = vessels::house(&case, &mixed.draft);
    let batch = sequence::write_down(&case, &mixed.draft, &homes, times, mixed.is_proved);

    let mut findings: Vec<Finding> = Vec::new();
    findings.extend(scales::judge(&case, &mixed.draft));
    findings.extend(mixing::judge(&case, &mixed));
    findings.extend(apart::judge(&case, &mixed.draft));
    findings.extend(vessels::judge(&case, &mixed.draft, &homes));
    findings.extend(evenness::judge(&case, &mixed.draft));
    trug_findings::sort(&mut findings);

    let ordered_g = &case.total * &Q::int(i64::from(times));
    let weighed_g = &batch.total_g * &Q::int(i64::from(times));
    let batches = lots::allot(&case, batch);
    Plan {
        kinds,
        ordered_g,
        weighed_g,
        batches,
        findings,
        order,
    }
}
