//! From what was taken to what there is to say: what is short, what to buy for it, how long it lasts, what expires.

use std::collections::{BTreeMap, BTreeSet};

use smol_str::SmolStr;
use trug_model::Q;
use trug_model::view::Ingredient;

use crate::buying::{Buying, Expiring, Fed, Lasts, MixedAhead, Purchase, Row, Short, StockDay};
use crate::eaten::Table;
use crate::feeds::{Feed, Feeds, What};
use crate::lots::{Held, Lots};
use crate::mixes::{Day, Days, Meal, mixes};
use crate::money;
use crate::store::{Course, From, Store, Taken};

/// Takes what is eaten from the store, first in the days asked for, then, with what was bought for those, in the days after.
pub(crate) fn summary(table: &Table<'_>, store: Store, days: &Days) -> Buying {
    let feeds = &table.feeds;
    let mut stock = store.stock();
    let run = |span, stock: &mut _| {
        let mixes = mixes(&table.meals, &span);
        store.run(feeds, &mixes, &span, stock)
    };
    let fed = run(days.fed(), &mut stock);
    let mut rows: BTreeMap<usize, Row> = BTreeMap::new();
    for (rank, taken) in by_feed(&fed) {
        let Some(feed) = feeds.get(rank) else {
            continue;
        };
        let What::Ingredient(ingredient) = &feed.what else {
            continue;
        };
        let row = row(
            feed,
            ingredient,
            &taken,
            &of_feed(&store.lots, rank, &fed),
            days,
        );
        if let Some(purchase) = &row.purchase {
            stock.bought.insert(rank, &purchase.mass - &purchase.short);
        }
        rows.insert(rank, row);
    }
    let after = run(days.after(), &mut stock);
    let reached = reached(&table.meals, feeds);
    for (rank, row) in &mut rows {
        row.is_stock_known = store.lots.told.contains(rank);
        row.lasts = lasts(*rank, &after, &reached, days);
    }
    let costs = rows.iter().filter_map(|(rank, row)| {
        let view = feeds.get(*rank).and_then(|feed| table.views.get(feed.view));
        Some((row, row.purchase.as_ref()?.cost.as_ref()?, view))
    });
    let mut costs: Vec<_> = costs.collect();
    costs.sort_by(|(a, ..), (b, ..)| order(a).cmp(&order(b)));
    let totals = money::totals(costs.into_iter().map(|(_, cost, view)| (cost, view)));
    let mut rows: Vec<Row> = rows.into_values().collect();
    rows.sort_by(|a, b| order(a).cmp(&order(b)));
    Buying {
        today: days.today,
        days: days.asked,
        last: days.date(*days.fed().end()),
        looked_until: days.date(*days.after().end()),
        fed: with_short(table, &store.lots, &fed, days),
        uncounted: table.uncounted.clone(),
        unfed: table.unfed.clone(),
        beside: table.beside.clone(),
        rows,
        mixed: mixed(feeds, &store.lots, &fed, days),
        expiring: expiring(&store.lots, [&fed, &after], days),
        left_out: store.lots.left_out,
        totals,
    }
}

/// Who is fed, with what runs out for each of them.
fn with_short(table: &Table<'_>, lots: &Lots, course: &Course, days: &Days) -> Vec<Fed> {
    let mut all = table.fed.clone();
    for ((fed, feed), day) in &course.short {
        if let Some((fed, of)) = all.get_mut(*fed).zip(table.feeds.get(*feed)) {
            fed.short.push(Short {
                day: days.date(*day),
                of: of.name.clone(),
                label: of.label.clone(),
                is_stock_known: lots.told.contains(feed),
            });
        }
    }
    for fed in &mut all {
        fed.short
            .sort_by(|a, b| (a.day, &a.of).cmp(&(b.day, &b.of)));
    }
    all
}

/// First what is to be bought, by the day; then the rest; each by name.
fn order(
    row: &Row,
) -> (
    bool,
    Option<jiff::civil::Date>,
    &SmolStr,
    trug_findings::Place,
) {
    let by = row.purchase.as_ref().map(|purchase| purchase.by);
    (by.is_none(), by, &row.name, row.place)
}

fn by_feed(course: &Course) -> BTreeMap<usize, Vec<&Taken>> {
    let mut by_feed: BTreeMap<usize, Vec<&Taken>> = BTreeMap::new();
    for taken in &course.taken {
        by_feed.entry(taken.feed).or_default().push(taken);
    }
    by_feed
}

/// The lots of a feed, and what expired of them: the day it was good no longer, and the mass.
struct OfFeed<'a> {
    lots: Vec<&'a Held>,
    expired: Vec<(Day, &'a Q)>,
}

fn of_feed<'a>(lots: &'a Lots, feed: usize, course: &'a Course) -> OfFeed<'a> {
    let is_of = |lot: usize| lots.all.get(lot).is_some_and(|held| held.feed == feed);
    OfFeed {
        lots: lots.all.iter().filter(|held| held.feed == feed).collect(),
        expired: course
            .expired
            .iter()
            // What was past its day before today was never counted as there.
            .filter(|(lot, day, _)| is_of(*lot) && 0 < *day)
            .map(|(_, day, mass)| (*day, mass))
            .collect(),
    }
}

impl Held {
    /// The day it comes in the days asked for, today where it is there; none where it comes too late or is past its day.
    fn comes(&self, days: &Days) -> Option<Day> {
        let day = self.from.max(0);
        let is_good = self.until.is_none_or(|until| 0 <= until);
        (is_good && day <= *days.fed().end()).then_some(day)
    }
}

fn row(
    feed: &Feed,
    ingredient: &Ingredient,
    taken: &[&Taken],
    there: &OfFeed<'_>,
    days: &Days,
) -> Row {
    let sum = |keeps: &dyn Fn(&Taken) -> bool| -> Q {
        let some = taken.iter().filter(|taken| keeps(taken));
        some.map(|taken| &taken.mass).sum()
    };
    let come = |keeps: &dyn Fn(Day) -> bool| -> Q {
        let some = there
            .lots
            .iter()
            .filter(|held| held.comes(days).is_some_and(keeps));
        some.map(|held| &held.on_hand).sum()
    };
    let purchase = purchase(ingredient, taken, days);
    let stock = stock_days(taken, there, purchase.as_ref(), days);
    Row {
        name: feed.name.clone(),
        label: feed.label.clone(),
        place: feed.place,
        is_stock_known: false,
        on_hand: come(&|day| day == 0),
        coming: come(&|day| 0 < day),
        needed: sum(&|_| true),
        used: sum(&|taken| matches!(taken.from, From::Lot(_))),
        expired: there.expired.iter().map(|(_, mass)| *mass).sum(),
        left: stock.last().map(|day| day.left.clone()).unwrap_or_default(),
        purchase,
        lasts: Lasts::Beyond,
        days: stock,
        withdrawals: ingredient.withdrawals.clone(),
    }
}

fn purchase(ingredient: &Ingredient, taken: &[&Taken], days: &Days) -> Option<Purchase> {
    let missing: Vec<&&Taken> = taken
        .iter()
        .filter(|taken| taken.from == From::Nowhere)
        .collect();
    let by = missing.iter().map(|taken| taken.day).min()?;
    let short: Q = missing.iter().map(|taken| &taken.mass).sum();
    let (mass, sacks) = money::whole(&short, ingredient);
    let mut instead_of: BTreeMap<SmolStr, Q> = BTreeMap::new();
    for taken in missing {
        if let Some(lot) = &taken.named {
            *instead_of.entry(lot.clone()).or_default() += &taken.mass;
        }
    }
    let price = ingredient.price.clone();
    Some(Purchase {
        by: days.date(by),
        short,
        sacks,
        cost: price.as_ref().map(|price| money::cost(&mass, price)),
        mass,
        price,
        instead_of: instead_of.into_iter().collect(),
    })
}

/// Every day on which something changes, and the first.
fn stock_days(
    taken: &[&Taken],
    there: &OfFeed<'_>,
    purchase: Option<&Purchase>,
    days: &Days,
) -> Vec<StockDay> {
    let mut all: BTreeMap<Day, StockDay> = BTreeMap::new();
    let mut on = |day: Day, change: &dyn Fn(&mut StockDay)| {
        change(all.entry(day).or_insert_with(|| StockDay {
            day: days.date(day),
            came: Q::ZERO,
            bought: Q::ZERO,
            taken: Q::ZERO,
            expired: Q::ZERO,
            left: Q::ZERO,
        }));
    };
    on(0, &|_| {});
    for held in &there.lots {
        if let Some(day) = held.comes(days) {
            on(day, &|stock| stock.came += &held.on_hand);
        }
    }
    if let Some(purchase) = purchase {
        let by = days.of(purchase.by);
        on(by, &|stock| stock.bought += &purchase.mass);
    }
    for (day, mass) in &there.expired {
        on(*day, &|stock| stock.expired += *mass);
    }
    for taken in taken {
        on(taken.day, &|stock| stock.taken += &taken.mass);
    }
    let mut left = Q::ZERO;
    let mut told: Vec<StockDay> = all.into_values().collect();
    for day in &mut told {
        left += &day.came + &day.bought;
        left -= &day.taken + &day.expired;
        day.left = left.clone();
    }
    told
}

/// The ingredients each meal leads to, with the last day on which something eats them; none is on and on.
fn reached(meals: &[Meal], feeds: &Feeds) -> BTreeMap<usize, Option<Day>> {
    let mut reached: BTreeMap<usize, Option<Day>> = BTreeMap::new();
    for meal in meals {
        let mut open = BTreeSet::from([meal.feed]);
        while let Some(feed) = open.pop_last() {
            let last = reached.entry(feed).or_insert(meal.last);
            *last = match (*last, meal.last) {
                (Some(known), Some(other)) => Some(known.max(other)),
                _ => None,
            };
            if let Some(What::Ration(parts)) = feeds.get(feed).map(|feed| &feed.what) {
                open.extend(parts.iter().map(|part| part.feed));
            }
        }
    }
    reached
}

fn lasts(
    feed: usize,
    after: &Course,
    reached: &BTreeMap<usize, Option<Day>>,
    days: &Days,
) -> Lasts {
    let is_short = |taken: &&Taken| taken.feed == feed && taken.from == From::Nowhere;
    let short = after.taken.iter().filter(is_short).map(|taken| taken.day);
    if let Some(day) = short.min() {
        return Lasts::Until(days.date(day - 1));
    }
    match reached.get(&feed) {
        Some(Some(last)) if *last <= *days.after().end() => Lasts::Eaten(days.date(*last)),
        _ => Lasts::Beyond,
    }
}

fn mixed(feeds: &Feeds, lots: &Lots, course: &Course, days: &Days) -> Vec<MixedAhead> {
    let mut mixed: BTreeMap<usize, MixedAhead> = BTreeMap::new();
    for held in &lots.all {
        let Some(feed) = feeds.get(held.feed) else {
            continue;
        };
        if held.comes(days).is_none() || !matches!(feed.what, What::Ration(_)) {
            continue;
        }
        let one = mixed.entry(held.feed).or_insert_with(|| MixedAhead {
            name: feed.name.clone(),
            label: feed.label.clone(),
            on_hand: Q::ZERO,
            used: Q::ZERO,
        });
        one.on_hand += &held.on_hand;
    }
    for taken in &course.taken {
        if let Some(one) = mixed.get_mut(&taken.feed) {
            one.used += &taken.mass;
        }
    }
    mixed.into_values().collect()
}

fn expiring(lots: &Lots, courses: [&Course; 2], days: &Days) -> Vec<Expiring> {
    let all = courses.into_iter().flat_map(|course| &course.expired);
    let mut expiring: Vec<Expiring> = all
        .filter_map(|(lot, _, mass)| {
            let held = lots.all.get(*lot)?;
            Some(Expiring {
                lot: held.lot.name.clone(),
                label: held.lot.label.clone(),
                of: held.lot.of.clone(),
                place: held.lot.place,
                best_before: days.date(held.until?),
                left: mass.clone(),
            })
        })
        .collect();
    expiring
        .sort_by(|a, b| (a.best_before, &a.lot, a.place).cmp(&(b.best_before, &b.lot, b.place)));
    expiring
}
