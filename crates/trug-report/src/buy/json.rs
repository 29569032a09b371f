//! A shopping list as `buy/0`.

use trug_findings::{Place, Source};
use trug_model::Q;
use trug_store::{Buying, Fed, Lasts, Money, Purchase, Row, Unfed};

use super::ShoppingList;
use super::told::{caution, why_left_out, why_uncounted};
use crate::findings::{file_name, finding_json, start_of};
use crate::json::buy::{
    BesideJson, BuyDocument, DailyCostJson, ExpiringJson, FORMAT, FedJson, InsteadJson,
    LeftOutJson, MixedJson, MoneyJson, NeededJson, PurchaseJson, ShortJson, StockDayJson,
    UncountedJson, UnfedJson,
};
use crate::json::number::Decimal;

/// The document of a shopping list.
#[must_use]
pub fn buy_document(list: &ShoppingList<'_>) -> BuyDocument {
    let (buying, sources) = (list.buying, list.sources);
    BuyDocument {
        format: FORMAT,
        today: buying.today.to_string(),
        days: buying.days,
        last: buying.last.to_string(),
        looked_until: buying.looked_until.to_string(),
        complete: buying.is_whole(),
        groups: buying
            .fed
            .iter()
            .map(|fed| fed_json(fed, sources))
            .collect(),
        not_counted: uncounted(buying, sources),
        unfed: buying
            .unfed
            .iter()
            .map(|one| unfed_json(one, sources))
            .collect(),
        beside: buying
            .beside
            .iter()
            .map(|beside| BesideJson {
                ingredient: beside.name.to_string(),
                needed_g: grams(&beside.mass),
            })
            .collect(),
        ingredients: buying.rows.iter().map(|row| needed(row, sources)).collect(),
        mixed: buying
            .mixed
            .iter()
            .map(|mixed| MixedJson {
                ration: mixed.name.to_string(),
                on_hand_g: grams(&mixed.on_hand),
                used_g: grams(&mixed.used),
            })
            .collect(),
        expiring: expiring(buying, sources),
        lots_left_out: left_out(buying, sources),
        cost: buying.totals.iter().map(money).collect(),
        cost_complete: buying.is_priced(),
    }
}

fn unfed_json(one: &Unfed, sources: &[Source]) -> UnfedJson {
    UnfedJson {
        group: one.group.to_string(),
        file: file_name(one.place, sources).to_owned(),
        line: start_of(one.place, sources).line,
        from: one.from.to_string(),
        to: one.to.to_string(),
        age_days: one.age,
    }
}

fn grams(kilograms: &Q) -> Decimal {
    Decimal::from(&(kilograms * &Q::int(1000)))
}

fn money(money: &Money) -> MoneyJson {
    MoneyJson {
        amount: Decimal::from(&money.amount),
        currency: money.currency.to_string(),
    }
}

/// The text and the line of a place.
fn at(place: Place, sources: &[Source]) -> (String, usize) {
    (
        file_name(place, sources).to_owned(),
        start_of(place, sources).line,
    )
}

fn fed_json(fed: &Fed, sources: &[Source]) -> FedJson {
    let (file, line) = at(fed.place, sources);
    FedJson {
        group: fed.group.to_string(),
        file,
        line,
        ration: fed.ration.to_string(),
        head: Decimal::from(&fed.head),
        intake_g: grams(&fed.intake),
        daily_g: grams(&fed.daily),
        daily_cost: fed.cost.as_ref().map(|cost| DailyCostJson {
            amount: Decimal::from(&cost.money.amount),
            currency: cost.money.currency.to_string(),
            complete: cost.complete,
        }),
        from: fed.from.map(|day| day.to_string()),
        to: fed.to.map(|day| day.to_string()),
        mix_days: fed.mix_days,
        days: fed.days,
        mixes: fed.mixes,
        eaten_g: grams(&(&fed.daily * &Q::int(i64::from(fed.days)))),
        short: fed
            .short
            .iter()
            .map(|short| ShortJson {
                day: short.day.to_string(),
                ingredient: short.of.to_string(),
            })
            .collect(),
    }
}

fn uncounted(buying: &Buying, sources: &[Source]) -> Vec<UncountedJson> {
    let told = buying.uncounted.iter().map(|one| {
        let (file, line) = at(one.place, sources);
        UncountedJson {
            group: one.group.as_ref().map(ToString::to_string),
            ration: one.ration.as_ref().map(ToString::to_string),
            file,
            line,
            why: why_uncounted(one),
            later: one.is_later,
            findings: one
                .errors
                .iter()
                .map(|error| finding_json(error, sources))
                .collect(),
        }
    });
    told.collect()
}

fn needed(row: &Row, sources: &[Source]) -> NeededJson {
    NeededJson {
        ingredient: row.name.to_string(),
        label: row.label.clone(),
        file: file_name(row.place, sources).to_owned(),
        stock_known: row.is_stock_known,
        on_hand_g: grams(&row.on_hand),
        coming_g: grams(&row.coming),
        needed_g: grams(&row.needed),
        used_g: grams(&row.used),
        expired_g: grams(&row.expired),
        left_g: grams(&row.left),
        buy: row.purchase.as_ref().map(purchase),
        lasts_until: match row.lasts {
            Lasts::Until(day) => Some(day.to_string()),
            Lasts::Beyond | Lasts::Eaten(_) => None,
        },
        stock: row
            .days
            .iter()
            .map(|day| StockDayJson {
                day: day.day.to_string(),
                came_g: grams(&day.came),
                bought_g: grams(&day.bought),
                taken_g: grams(&day.taken),
                expired_g: grams(&day.expired),
                left_g: grams(&day.left),
            })
            .collect(),
        cautions: caution(row).into_iter().collect(),
    }
}

fn purchase(purchase: &Purchase) -> PurchaseJson {
    let sacks = purchase.sacks.as_ref();
    PurchaseJson {
        by: purchase.by.to_string(),
        short_g: grams(&purchase.short),
        bought_g: grams(&purchase.mass),
        sacks: sacks.map(|sacks| Decimal::from(&sacks.count)),
        sack_g: sacks.map(|sacks| grams(&sacks.each)),
        price_per_kg: purchase.price.as_ref().map(|price| MoneyJson {
            amount: Decimal::from(&price.value),
            currency: price.currency.to_string(),
        }),
        cost: purchase.cost.as_ref().map(money),
        instead_of: purchase
            .instead_of
            .iter()
            .map(|(lot, short)| InsteadJson {
                lot: lot.to_string(),
                short_g: grams(short),
            })
            .collect(),
    }
}

fn expiring(buying: &Buying, sources: &[Source]) -> Vec<ExpiringJson> {
    let told = buying.expiring.iter().map(|one| {
        let (file, line) = at(one.place, sources);
        ExpiringJson {
            lot: one.lot.to_string(),
            of: one.of.to_string(),
            file,
            line,
            best_before: one.best_before.to_string(),
            left_g: grams(&one.left),
        }
    });
    told.collect()
}

fn left_out(buying: &Buying, sources: &[Source]) -> Vec<LeftOutJson> {
    let told = buying.left_out.iter().map(|one| {
        let (file, line) = at(one.place, sources);
        LeftOutJson {
            lot: one.lot.to_string(),
            of: one.of.to_string(),
            file,
            line,
            why: why_left_out(one),
        }
    });
    told.collect()
}
