//! Withdrawals still running: for what the animals of a group give, since what was fed to them.

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::Place;
use trug_model::Q;

use super::{Kind, Way};
use crate::ledger::{Fed, Medicated};
use crate::words::days_after;

/// A withdrawal that has not ended.
#[derive(Clone, Debug, PartialEq)]
pub struct Running {
    /// The group that was fed.
    pub group: SmolStr,
    /// What its animals give that is not for people.
    pub product: SmolStr,
    /// The ingredient it comes with.
    pub ingredient: SmolStr,
    /// How long, in days after the last feeding.
    pub days: Q,
    /// The record of the batch.
    pub record: SmolStr,
    /// The first day it was fed.
    pub from: Option<Date>,
    /// The last day it was fed; none where the record does not say that it has ended.
    pub last_fed: Option<Date>,
    /// The last day of the withdrawal; where the feeding has not ended, if it ends today. None beyond the calendar.
    pub until: Option<Date>,
    /// Where the withdrawal is written.
    pub place: Place,
    /// It was weighed; else the ration holds it as it is written, and the record does not say that it was weighed.
    pub is_weighed: bool,
}

/// The withdrawals running on a day by these records: of each group, product and ingredient the one that ends last.
pub(super) fn running(way: &Way<'_>, ranks: &[usize], today: Date) -> Vec<Running> {
    let mut running: Vec<Running> = Vec::new();
    for made in ranks.iter().filter_map(|rank| way.made(*rank)) {
        let fed = made.fed.iter();
        let fed = fed.filter(|fed| way.start.kind != Kind::Group || way.is_fed_here(fed));
        for fed in fed {
            for medicated in &made.medicated {
                let Some(one) = since(&made.record.name, fed, medicated, today) else {
                    continue;
                };
                let same = |known: &&mut Running| {
                    known.group == one.group
                        && known.product == one.product
                        && known.ingredient == one.ingredient
                };
                match running.iter_mut().find(same) {
                    Some(known) if ends(known) < ends(&one) => *known = one,
                    Some(_) => {}
                    None => running.push(one),
                }
            }
        }
    }
    running.sort_by(|a, b| {
        let name = |one: &Running| {
            (
                one.group.clone(),
                one.product.clone(),
                one.ingredient.clone(),
            )
        };
        ends(b).cmp(&ends(a)).then(name(a).cmp(&name(b)))
    });
    running
}

/// How late it ends: what is still fed ends last, and what is beyond the calendar after all days.
fn ends(one: &Running) -> (bool, bool, Option<Date>) {
    (one.last_fed.is_none(), one.until.is_none(), one.until)
}

fn since(record: &SmolStr, fed: &Fed, medicated: &Medicated, today: Date) -> Option<Running> {
    // What is not said to have ended is fed today; what begins later, at the earliest on its first day.
    let last = fed
        .to
        .unwrap_or_else(|| fed.from.map_or(today, |from| from.max(today)));
    let until = days_after(last, &medicated.days.ceil());
    if until.is_some_and(|until| until < today) {
        return None;
    }
    Some(Running {
        group: fed.name.clone(),
        product: medicated.product.clone(),
        ingredient: medicated.ingredient.clone(),
        days: medicated.days.clone(),
        record: record.clone(),
        from: fed.from,
        last_fed: fed.to,
        until,
        place: medicated.place,
        is_weighed: medicated.is_weighed,
    })
}
