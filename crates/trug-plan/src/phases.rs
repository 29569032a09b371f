//! For how many days an order is, where a group eats by its age: no feed is planned past the days it is eaten on.

use jiff::Span;
use jiff::civil::Date;
use trug_findings::Finding;
use trug_model::findings::target::phase::{self, Fed};
use trug_model::ration::Ration;
use trug_model::{GroupOrder, PhaseOrder, Q, View};

use crate::from_ration::{Request, Wanted};

/// The days on which an order is eaten, and how old the group is on them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FedDays {
    /// The first day.
    pub from: Date,
    /// The last day.
    pub to: Date,
    /// How many days old the group is on the first.
    pub age: i64,
}

/// The first day on which an order is eaten: today, or the first day to come that the group eats it.
pub(crate) fn first_day(order: &PhaseOrder, today: Date) -> Date {
    order.from.map_or(today, |from| from.max(today))
}

/// How many of the days asked for are left until the group eats another ration; none where all are.
pub(crate) fn left(group: &GroupOrder, today: Option<Date>, days: &Q) -> Option<Q> {
    let (order, today) = (group.phase.as_ref()?, today?);
    let first = first_day(order, today);
    let last = order.to.filter(|last| first <= *last)?;
    let left = Q::int(i64::from((last - first).get_days()) + 1);
    (left < *days).then_some(left)
}

/// The days of an order by which a group eats by its age.
pub(crate) fn fed_days(view: &View<'_>, wanted: &Wanted) -> Option<FedDays> {
    let order = wanted.group.as_ref()?.phase.as_ref()?;
    let from = first_day(order, view.farm().settings().today?);
    Some(FedDays {
        from,
        to: last_day(from, wanted.days.as_ref()?)?,
        age: order.placed.age_on(from)?,
    })
}

/// The last of so many days; a part of a day is a day.
fn last_day(first: Date, days: &Q) -> Option<Date> {
    let more = days.ceil().to_i64()?.max(1) - 1;
    first.checked_add(Span::new().try_days(more).ok()?).ok()
}

/// What there is to say of an order for a group and its age.
pub(crate) fn judge(
    view: &View<'_>,
    ration: &Ration,
    (request, wanted): (&Request, &Wanted),
) -> Vec<Finding> {
    let said = || -> Option<Finding> {
        let group = wanted.group.as_ref()?;
        let (order, today) = (group.phase.as_ref()?, view.farm().settings().today?);
        let name = request.group.as_deref()?;
        let first = first_day(order, today);
        let fed = Fed {
            place: group.place,
            group: name,
            ration: &ration.name,
            phase: &order.phase,
            placed: &order.placed,
        };
        let age = order.placed.age_on(first).unwrap_or_default();
        if !order.phase.holds(age) {
            // What is said of the line in any case is not said again.
            let judged = view.group(name).map(|group| view.judge_age(&group));
            let is_said = |known: &Finding| known.place == group.place;
            let is_said = judged.is_some_and(|judged| judged.iter().any(is_said));
            return (!is_said).then(|| phase::not_for(&fed, age));
        }
        let (days, asked) = (wanted.days.as_ref()?, wanted.asked_days.as_ref()?);
        if let (true, Some(last)) = (days < asked, order.to) {
            let asked = asked.ceil().to_string();
            return Some(phase::fewer_days(&fed, (first, last), &asked));
        }
        (today < first).then(|| phase::later(&fed, first, age))
    };
    said().into_iter().collect()
}
