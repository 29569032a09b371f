//! A shopping list with every word and number final: what all forms for people are drawn from.

use trug_store::{
    Buying, Expiring, Fed, Lasts, LeftOut, Purchase, Row, Uncounted, Unfed, WhyLeftOut,
    WhyUncounted,
};

use super::ShoppingList;
use super::remarks::remarks;
use crate::findings::{file_name, start_of};
use crate::words::{count, mass, money};
use trug_findings::Place;
use trug_model::Q;

/// What is told.
pub(super) struct Told {
    pub(super) title: String,
    /// What is not counted: before anything else.
    pub(super) alarms: Vec<String>,
    pub(super) fed: Vec<FedTold>,
    pub(super) buy: Vec<BuyTold>,
    /// What to say where there is nothing to buy.
    pub(super) nothing: &'static str,
    /// What all of it costs.
    pub(super) total: String,
    pub(super) enough: Vec<EnoughTold>,
    /// The last good day, and what is left then.
    pub(super) expires: Vec<(String, String)>,
    pub(super) cautions: Vec<String>,
    pub(super) remarks: Vec<String>,
}

/// A group and what it eats.
pub(super) struct FedTold {
    pub(super) who: String,
    pub(super) daily: String,
    pub(super) cost: String,
    pub(super) about: String,
}

/// Something to be bought.
pub(super) struct BuyTold {
    pub(super) by: String,
    pub(super) what: String,
    pub(super) amount: String,
    pub(super) cost: String,
    /// How it comes to that, in sentences without a full stop at the end.
    pub(super) about: Vec<String>,
}

/// Something of which there is enough.
pub(super) struct EnoughTold {
    pub(super) what: String,
    pub(super) on_hand: String,
    pub(super) needed: String,
    pub(super) left: String,
    pub(super) lasts: String,
}

pub(super) fn tell(list: &ShoppingList<'_>) -> Told {
    let buying = list.buying;
    let alarming = buying.uncounted.iter().filter(|one| !one.is_later);
    let now = buying.fed.iter().filter(|fed| 0 < fed.days);
    Told {
        title: format!(
            "Shopping list for {} from {} to {}",
            count(buying.days as usize, "day", "days"),
            buying.today,
            buying.last
        ),
        alarms: alarming
            .map(|one| alarm(one, list))
            .chain(buying.unfed.iter().map(|one| unfed(one, list)))
            .collect(),
        fed: now.map(|fed| fed_told(fed, buying)).collect(),
        buy: to_buy(list),
        nothing: nothing(buying),
        total: total(buying),
        enough: enough(list),
        expires: buying
            .expiring
            .iter()
            .map(|one| expires(one, buying))
            .collect(),
        cautions: buying.rows.iter().filter_map(caution).collect(),
        remarks: remarks(list),
    }
}

fn nothing(buying: &Buying) -> &'static str {
    if buying.fed.iter().any(|fed| 0 < fed.days) {
        "nothing to buy: the store has enough of what is counted"
    } else if buying.is_whole() {
        "nothing is eaten on these days"
    } else {
        "nothing could be counted"
    }
}

/// What is to be bought, by the day and by what people call it.
fn to_buy(list: &ShoppingList<'_>) -> Vec<BuyTold> {
    let rows = list.buying.to_buy();
    let mut told: Vec<BuyTold> = rows
        .map(|(row, purchase)| buy_told(row, purchase, list))
        .collect();
    told.sort_by(|a, b| (&a.by, &a.what).cmp(&(&b.by, &b.what)));
    told
}

fn enough(list: &ShoppingList<'_>) -> Vec<EnoughTold> {
    let rows = list.buying.rows.iter();
    let rows = rows.filter(|row| row.purchase.is_none());
    let mut told: Vec<EnoughTold> = rows.map(|row| enough_told(row, list)).collect();
    told.sort_by(|a, b| a.what.cmp(&b.what));
    told
}

/// A mass in kg in words.
pub(super) fn kilograms(kilograms: &Q) -> String {
    mass(&(kilograms * &Q::int(1000)))
}

pub(super) fn at(place: Place, list: &ShoppingList<'_>) -> String {
    let file = file_name(place, list.sources);
    format!("{file}:{}", start_of(place, list.sources).line)
}

/// What people call an ingredient; with its text where several go by that name.
pub(super) fn called(row: &Row, list: &ShoppingList<'_>) -> String {
    let shown = |row: &Row| row.label.clone().unwrap_or_else(|| row.name.to_string());
    let name = shown(row);
    let same = list.buying.rows.iter().filter(|other| shown(other) == name);
    if same.count() == 1 {
        return name;
    }
    let file = file_name(row.place, list.sources);
    format!("{name} ({} in {file})", row.name)
}

fn alarm(one: &Uncounted, list: &ShoppingList<'_>) -> String {
    let at = at(one.place, list);
    let why = why_uncounted(one);
    match (&one.group, &one.ration) {
        (Some(group), Some(ration)) => {
            format!("NOT COUNTED: what {group} eats of {ration} ({at}): {why}")
        }
        _ => format!("NOT COUNTED: {at}: {why}"),
    }
}

fn unfed(one: &Unfed, list: &ShoppingList<'_>) -> String {
    let name = one.label.as_deref().unwrap_or(&one.group);
    let days = if one.from == one.to {
        format!("on {}", one.from)
    } else {
        format!("from {} to {}", one.from, one.to)
    };
    format!(
        "NOTHING TO EAT: {name} ({}) {days}, from day {} of its age on: no line of it is for these days",
        at(one.place, list),
        one.age
    )
}

/// Why something could not be counted, without a full stop.
pub(super) fn why_uncounted(one: &Uncounted) -> String {
    let ration = one.ration.as_deref().unwrap_or("the ration");
    let group = one.group.as_deref().unwrap_or("the group");
    match one.why {
        WhyUncounted::HasErrors => match one.errors.as_slice() {
            [] => format!("{group} or {ration} has an error"),
            [first, ..] => format!("{} ({})", first.message, first.code.name),
        },
        WhyUncounted::NotKnown => format!("the amounts of {ration} are not known"),
        WhyUncounted::NoAnimals => format!("how many animals {group} has is not said"),
        WhyUncounted::NoIntake => {
            format!("neither {group} nor {ration} says how much an animal eats")
        }
        WhyUncounted::Unread => {
            "what stands there could not be read, and may be a group or what one eats".to_owned()
        }
    }
}

/// Why a lot is not counted, without a full stop.
pub(super) fn why_left_out(one: &LeftOut) -> String {
    match one.why {
        WhyLeftOut::NotSeen => "no text that has a group uses the text of the lot".to_owned(),
        WhyLeftOut::HasErrors => "the lot has an error".to_owned(),
    }
}

fn fed_told(fed: &Fed, buying: &Buying) -> FedTold {
    let name = fed.label.clone().unwrap_or_else(|| fed.group.to_string());
    let head = fed
        .head
        .to_i64()
        .and_then(|head| usize::try_from(head).ok());
    let head = match head {
        Some(head) => count(head, "animal", "animals"),
        None => format!("{} animals", fed.head),
    };
    let mixes = match fed.mix_days {
        Some(days) => format!(
            "{} of at most {}",
            count(fed.mixes as usize, "mix", "mixes"),
            count(days as usize, "day", "days")
        ),
        None => "taken day by day".to_owned(),
    };
    let from = fed.from.filter(|from| buying.today < *from);
    let from = from.map_or_else(String::new, |day| format!(", from {day}"));
    let until = fed
        .to
        .map_or_else(String::new, |day| format!(", until {day}"));
    let ration = fed.ration_label.as_deref().unwrap_or(&fed.ration);
    FedTold {
        who: format!("{name}, {head}"),
        daily: format!("{} a day", kilograms(&fed.daily)),
        cost: fed.cost.as_ref().map_or_else(String::new, |cost| {
            let least = if cost.complete { "" } else { "at least " };
            format!(
                "{least}{} a day",
                money(&cost.money.amount, &cost.money.currency)
            )
        }),
        about: format!(
            "{} each of {ration}; {mixes}{from}{until}",
            kilograms(&fed.intake)
        ),
    }
}

fn buy_told(row: &Row, purchase: &Purchase, list: &ShoppingList<'_>) -> BuyTold {
    let amount = match &purchase.sacks {
        Some(sacks) => {
            let many = if sacks.count == Q::ONE {
                "sack"
            } else {
                "sacks"
            };
            format!("{} {many} of {} kg", sacks.count, sacks.each)
        }
        None => format!("{} kg", purchase.mass),
    };
    let cost = purchase.cost.as_ref().map_or_else(
        || "price unknown".to_owned(),
        |cost| money(&cost.amount, &cost.currency),
    );
    BuyTold {
        by: purchase.by.to_string(),
        what: called(row, list),
        amount,
        cost,
        about: about(row, purchase, list.buying),
    }
}

/// How a purchase comes about.
fn about(row: &Row, purchase: &Purchase, buying: &Buying) -> Vec<String> {
    let needed = kilograms(&row.needed);
    let mut about = vec![if !row.is_stock_known {
        format!("{needed} needed; nothing on hand is written")
    } else if row.used.is_zero() {
        format!("{needed} needed; nothing of it in the store")
    } else {
        format!("{needed} needed, {} in the store", kilograms(&row.used))
    }];
    if let Some(price) = &purchase.price {
        let price = money(&price.value, &price.currency);
        about.push(match &purchase.sacks {
            Some(sacks) if sacks.count != Q::ONE => {
                format!("{} kg at {price}/kg", purchase.mass)
            }
            _ => format!("at {price}/kg"),
        });
    }
    if purchase.sacks.is_none() {
        about.push("rounded up to whole kg: what a sack holds is not written".to_owned());
    }
    if !row.left.is_zero() {
        about.push(format!(
            "{} left over, enough {}",
            kilograms(&row.left),
            lasts(row, buying)
        ));
    }
    for (lot, short) in &purchase.instead_of {
        about.push(format!(
            "{} in place of lot {lot}, which the ration names: name the new lot there",
            kilograms(short)
        ));
    }
    about
}

fn total(buying: &Buying) -> String {
    if buying.to_buy().next().is_none() {
        return String::new();
    }
    let totals: Vec<String> = buying
        .totals
        .iter()
        .map(|total| money(&total.amount, &total.currency))
        .collect();
    let unknown: Vec<&str> = buying
        .to_buy()
        .filter(|(_, purchase)| purchase.cost.is_none())
        .map(|(row, _)| row.label.as_deref().unwrap_or(&row.name))
        .collect();
    let totals = totals.join(" and ");
    match (totals.is_empty(), unknown.is_empty()) {
        (true, _) => "not known: no price is written".to_owned(),
        (false, true) => totals,
        (false, false) => format!("{totals} and what {} costs", unknown.join(", ")),
    }
}

fn enough_told(row: &Row, list: &ShoppingList<'_>) -> EnoughTold {
    let coming = if row.coming.is_zero() {
        String::new()
    } else {
        format!(" + {}", kilograms(&row.coming))
    };
    EnoughTold {
        what: called(row, list),
        on_hand: format!("{}{coming}", kilograms(&row.on_hand)),
        needed: kilograms(&row.needed),
        left: kilograms(&row.left),
        lasts: lasts(row, list.buying),
    }
}

/// How long what is left lasts.
pub(super) fn lasts(row: &Row, buying: &Buying) -> String {
    match row.lasts {
        Lasts::Until(day) => format!("until {day}"),
        Lasts::Beyond => format!("past {}", buying.looked_until),
        Lasts::Eaten(_) => "as long as eaten".to_owned(),
    }
}

fn expires(one: &Expiring, buying: &Buying) -> (String, String) {
    let of = buying.rows.iter().find(|row| row.name == one.of);
    let of = of.and_then(|row| row.label.as_deref()).unwrap_or(&one.of);
    let left = kilograms(&one.left);
    let then = if one.best_before < buying.today {
        "past its day, not counted"
    } else {
        "not used by then"
    };
    (
        one.best_before.to_string(),
        format!("{left} of {of}, lot {}: {then}", one.lot),
    )
}

/// What a medicated ingredient must be told with.
pub(super) fn caution(row: &Row) -> Option<String> {
    let withdrawals: Vec<String> = row
        .withdrawals
        .iter()
        .map(|withdrawal| format!("{} days for {}", withdrawal.days, withdrawal.product))
        .collect();
    if withdrawals.is_empty() {
        return None;
    }
    let name = row.label.as_deref().unwrap_or(&row.name);
    Some(format!(
        "{name} is medicated (withdrawal {}): its label, a veterinarian and local law decide whether it is bought and fed.",
        withdrawals.join(", ")
    ))
}
