//! What the store does not hold, or holds too long.

use jiff::Span;
use jiff::civil::Date;
use trug_findings::{Finding, Place};
use trug_model::findings::store::{self, Short};
use trug_model::ration::Ration;
use trug_model::view::Lot as InView;
use trug_model::{Q, View};

use crate::from_ration::{Wanted, is_past};
use crate::order::Ingredient;
use crate::phases;
use crate::plan::{Plan, Weighing};
use crate::words::mass;

/// So many lots are named beside what is wanting.
const MOST_NAMED: usize = 6;

/// What the lots of each ingredient do not cover, and what of them is past its day before the feed is eaten.
///
/// What was said `before` of the ration as it is written is not said again.
pub(crate) fn judge(
    view: &View<'_>,
    ration: &Ration,
    plan: &Plan,
    (wanted, group): (&Wanted, Option<&str>),
    before: &[Finding],
) -> Vec<Finding> {
    let judge = Judge {
        plan,
        lots: view.all_lots(),
        today: view.farm().settings().today,
        first: first_day(view, wanted),
        wanted,
        group,
        tops: ration.tops(),
    };
    let mut findings = Vec::new();
    for rank in 0..plan.order.ingredients.len() {
        findings.extend(judge.all_expired(rank).or_else(|| judge.short(rank)));
        findings.extend(judge.before_eaten(rank));
    }
    findings.retain(|found| {
        let mut known = before.iter();
        !known.any(|known| known.code == found.code && known.place == found.place)
    });
    findings
}

/// Today; where a group eats it only when it is older, the day on which it is so old.
fn first_day(view: &View<'_>, wanted: &Wanted) -> Option<Date> {
    let today = view.farm().settings().today?;
    let order = wanted.group.as_ref().and_then(|group| group.phase.as_ref());
    Some(order.map_or(today, |order| phases::first_day(order, today)))
}

struct Judge<'a> {
    plan: &'a Plan,
    lots: Vec<InView>,
    today: Option<Date>,
    wanted: &'a Wanted,
    group: Option<&'a str>,
    /// The first day on which the feed is eaten.
    first: Option<Date>,
    tops: Q,
}

impl Judge<'_> {
    fn ingredient(&self, rank: usize) -> &Ingredient {
        &self.plan.order.ingredients[rank]
    }

    /// The deliveries of an ingredient, in the order of their names.
    fn own(&self, rank: usize) -> impl Iterator<Item = &InView> {
        let name = &self.ingredient(rank).name;
        self.lots.iter().filter(move |lot| lot.of == *name)
    }

    /// What is left lies in lots that are all past their day.
    fn all_expired(&self, rank: usize) -> Option<Finding> {
        let today = self.today?;
        let ingredient = self.ingredient(rank);
        let is_left = |lot: &&InView| lot.on_hand.as_ref().is_some_and(Q::is_positive);
        let left: Vec<&InView> = self.own(rank).filter(is_left).collect();
        let is_asked = ingredient.share.is_positive() && ingredient.named.is_empty();
        if left.is_empty() || !is_asked || !left.iter().all(|lot| lot.is_past(today)) {
            return None;
        }
        let lots: Vec<(String, Place, Date)> = left
            .iter()
            .filter_map(|lot| Some((lot.name.to_string(), lot.place, lot.best_before?)))
            .collect();
        let (place, name) = (ingredient.place, &ingredient.name);
        Some(store::all_expired(place, name, &lots, today))
    }

    fn short(&self, rank: usize) -> Option<Finding> {
        let ingredient = self.ingredient(rank);
        if ingredient.lots.is_empty() {
            return None;
        }
        let (wanted, given) = (
            self.weighed(rank, |_| true),
            self.weighed(rank, is_from_lot),
        );
        if given >= wanted {
            return None;
        }
        let kg = |grams: Q| grams / Q::int(1000);
        Some(store::short(&Short {
            place: ingredient.place,
            ingredient: &ingredient.name,
            runs_out: self.runs_out(rank, &given),
            wanted: &kg(wanted),
            given: &kg(given),
            batches: self.batches(rank),
            lots: self.told(rank),
        }))
    }

    /// What all batches weigh of an ingredient, in grams.
    fn weighed(&self, rank: usize, counts: impl Fn(&Weighing) -> bool) -> Q {
        let batches = self.plan.batches.iter();
        let each = batches.map(|batch| {
            let own = batch.weighings.iter().filter(|it| it.ingredient == rank);
            let own = own.filter(|it| counts(it));
            own.map(|it| &it.mass_g).sum::<Q>() * Q::int(i64::from(batch.times))
        });
        each.sum()
    }

    /// How many batches, from the first on, are weighed from lots alone, and how many there are.
    fn batches(&self, rank: usize) -> (u32, u32) {
        let is_covered = |weighing: &Weighing| weighing.ingredient != rank || is_from_lot(weighing);
        let batches = self.plan.batches.iter();
        let covered = batches
            .clone()
            .take_while(|batch| batch.weighings.iter().all(is_covered));
        let times = |sum: u32, times: u32| sum.saturating_add(times);
        (
            covered.map(|batch| batch.times).fold(0, times),
            batches.map(|batch| batch.times).fold(0, times),
        )
    }

    /// The group, and the first day on which its feed lacks what the lots give.
    fn runs_out(&self, rank: usize, given: &Q) -> Option<(&str, Date)> {
        let group = self.wanted.group.as_ref()?;
        let share = self.ingredient(rank).share.over(&(Q::ONE + &self.tops))?;
        let daily = &group.head * group.intake.as_ref()? * share * Q::int(1000);
        let days = given.over(&daily)?.floor().to_i64()?;
        let day = self
            .first?
            .checked_add(Span::new().try_days(days).ok()?)
            .ok()?;
        Some((self.group?, day))
    }

    /// Each lot, and why it does not help.
    fn told(&self, rank: usize) -> Vec<(Place, String)> {
        let tell = |lot: &InView| {
            let name = &lot.name;
            let taken = self.weighed(rank, |it| it.lot.as_deref() == Some(name));
            let says = match (&lot.on_hand, lot.best_before) {
                (None, _) => format!("lot {name} does not say what is on hand"),
                (Some(_), Some(day)) if is_past(lot, self.today) => {
                    format!("lot {name}: best before {day}, so not taken")
                }
                (Some(left), _) => {
                    let (left, taken) = (mass(&(left * &Q::int(1000))), mass(&taken));
                    format!("lot {name}: {left} on hand, {taken} taken")
                }
            };
            (lot.place, says)
        };
        self.own(rank).take(MOST_NAMED).map(tell).collect()
    }

    /// Lots that are taken, and whose day comes before the feed with them is eaten.
    fn before_eaten(&self, rank: usize) -> Vec<Finding> {
        let last = || {
            let days = self.wanted.days.as_ref()?.ceil().to_i64()? - 1;
            self.first?
                .checked_add(Span::new().try_days(days).ok()?)
                .ok()
        };
        let Some(last) = last() else {
            return Vec::new();
        };
        let ingredient = self.ingredient(rank);
        let is_taken = |lot: &&InView| {
            let mut weighings = self.plan.batches.iter().flat_map(|it| &it.weighings);
            weighings.any(|it| it.lot.as_deref() == Some(&lot.name))
        };
        let is_too_soon =
            |lot: &&InView| lot.is_past(last) && !is_past(lot, self.today) && is_taken(lot);
        self.own(rank)
            .filter(is_too_soon)
            .filter_map(|lot| {
                let lot_and_place = (lot.name.as_str(), lot.place);
                let (place, name) = (ingredient.place, &ingredient.name);
                let day = lot.best_before?;
                Some(store::before_eaten(place, name, lot_and_place, day, last))
            })
            .collect()
    }
}

fn is_from_lot(weighing: &Weighing) -> bool {
    weighing.lot.is_some()
}
