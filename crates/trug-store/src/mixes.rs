//! Days, and on which of them what is mixed: feed is mixed before it is eaten, so the store must have it on the first day of a mix.

use std::collections::BTreeMap;
use std::ops::RangeInclusive;

use jiff::ToSpan;
use jiff::civil::Date;
use trug_model::Q;

/// A day, counted from today.
pub(crate) type Day = i64;

/// The days asked for, and those after them that are looked at.
#[derive(Clone, Debug)]
pub(crate) struct Days {
    pub(crate) today: Date,
    pub(crate) asked: u32,
    ahead: u32,
}

impl Days {
    pub(crate) fn new(today: Date, asked: u32, ahead: u32) -> Days {
        let asked = asked.max(1);
        Days {
            today,
            asked,
            ahead,
        }
    }

    /// The days asked for.
    pub(crate) fn fed(&self) -> RangeInclusive<Day> {
        0..=Day::from(self.asked) - 1
    }

    /// The days after them.
    pub(crate) fn after(&self) -> RangeInclusive<Day> {
        let first = Day::from(self.asked);
        first..=first + Day::from(self.ahead) - 1
    }

    /// The number of a date; below nothing where it is past.
    pub(crate) fn of(&self, date: Date) -> Day {
        Day::from((date - self.today).get_days())
    }

    /// The date of a number; the last there is where the calendar ends.
    pub(crate) fn date(&self, day: Day) -> Date {
        self.today.checked_add(day.days()).unwrap_or(Date::MAX)
    }
}

/// Something eaten day by day, and mixed for several days at once.
#[derive(Clone, Debug)]
pub(crate) struct Meal {
    /// Who eats it, by the rank among those who are fed.
    pub(crate) fed: usize,
    /// What is eaten, by its rank among the feeds.
    pub(crate) feed: usize,
    /// The view it is seen from.
    pub(crate) view: usize,
    /// What is eaten a day, in kg.
    pub(crate) daily: Q,
    /// The first day; it may be past.
    pub(crate) first: Day,
    /// The last day; none is on and on.
    pub(crate) last: Option<Day>,
    /// How many days a mix is made for, at least one.
    pub(crate) every: u32,
}

/// One mix, taken from the store as a whole.
#[derive(Clone, Debug)]
pub(crate) struct Mix {
    pub(crate) fed: usize,
    pub(crate) feed: usize,
    pub(crate) view: usize,
    pub(crate) mass: Q,
}

impl Meal {
    /// The days of a span on which it is eaten; none where it is not.
    pub(crate) fn within(&self, span: &RangeInclusive<Day>) -> Option<RangeInclusive<Day>> {
        let first = self.first.max(*span.start());
        let last = self.last.map_or(*span.end(), |last| last.min(*span.end()));
        (first <= last).then_some(first..=last)
    }

    /// On how many days of a span it is eaten.
    pub(crate) fn count(&self, span: &RangeInclusive<Day>) -> u32 {
        let days = self
            .within(span)
            .map_or(0, |days| days.end() - days.start() + 1);
        u32::try_from(days).unwrap_or(u32::MAX)
    }

    /// The first day of each mix of a span, and how many days it is for. The first mix is made on the first day that it is eaten
    /// in the span, the last is as much smaller as days are left.
    pub(crate) fn mixes(&self, span: &RangeInclusive<Day>) -> impl Iterator<Item = (Day, u32)> {
        let every = self.every.max(1);
        let days = self.within(span);
        let last = days.as_ref().map_or(0, |days| *days.end());
        days.into_iter()
            .flat_map(move |days| days.step_by(usize::try_from(every).unwrap_or(usize::MAX)))
            .map(move |day| {
                let left = u32::try_from(last - day + 1).unwrap_or(u32::MAX);
                (day, every.min(left))
            })
    }
}

/// All mixes of a span, by their day, in the order of the meals.
pub(crate) fn mixes(meals: &[Meal], span: &RangeInclusive<Day>) -> BTreeMap<Day, Vec<Mix>> {
    let mut all: BTreeMap<Day, Vec<Mix>> = BTreeMap::new();
    for meal in meals {
        for (day, days) in meal.mixes(span) {
            all.entry(day).or_default().push(Mix {
                fed: meal.fed,
                feed: meal.feed,
                view: meal.view,
                mass: &meal.daily * &Q::int(i64::from(days)),
            });
        }
    }
    all
}
