//! A shopping list: the question, and all there is to its answer. Masses in kg.

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place};
use trug_model::view::{Price, Withdrawal};
use trug_model::{Farm, Q};

use crate::eaten::Table;
use crate::mixes::Days;
use crate::store::Store;
use crate::summary;

/// How far past the days asked for it looks ahead for what runs out or expires, in days.
pub(crate) const AHEAD: u32 = 366;

/// What there is to say of the texts, by which a group is counted or not.
#[derive(Clone, Copy, Debug)]
pub enum Judged<'a> {
    /// All findings of the farm.
    Found(&'a [Finding]),
    /// Only what the ration itself shows, and no day after those asked for: enough for a glance, not for a list to buy by.
    AtAGlance {
        /// The only group that counts; none is all of them.
        only: Option<&'a str>,
    },
}

/// What is to be bought, and what runs out or expires when.
#[derive(Clone, Debug)]
pub struct Buying {
    /// The first day.
    pub today: Date,
    /// How many days are fed.
    pub days: u32,
    /// The last of them.
    pub last: Date,
    /// How far ahead it was looked for what runs out or expires after them.
    pub looked_until: Date,
    /// Who eats what, in the order of texts and lines; also what is to be eaten only later.
    pub fed: Vec<Fed>,
    /// What could not be counted.
    pub uncounted: Vec<Uncounted>,
    /// Groups that by their age eat nothing on some of the days asked for.
    pub unfed: Vec<Unfed>,
    /// What is eaten beside, and neither has a price nor comes in sacks or lots.
    pub beside: Vec<Beside>,
    /// The ingredients needed: first those to be bought, by the day and the name; then the others, by name.
    pub rows: Vec<Row>,
    /// Feed mixed ahead that is on hand.
    pub mixed: Vec<MixedAhead>,
    /// Lots that expire before they are used up, by the day.
    pub expiring: Vec<Expiring>,
    /// Lots that are not counted.
    pub left_out: Vec<LeftOut>,
    /// What it costs, in the currency of the first price; what no rate leads there from, on its own.
    pub totals: Vec<Money>,
}

/// A group that eats a ration.
#[derive(Clone, Debug)]
pub struct Fed {
    /// The group.
    pub group: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// Where it says that it eats this.
    pub place: Place,
    /// The ration.
    pub ration: SmolStr,
    /// What people call the ration.
    pub ration_label: Option<String>,
    /// How many animals.
    pub head: Q,
    /// What each eats a day.
    pub intake: Q,
    /// What all of them eat a day.
    pub daily: Q,
    /// What that costs a day.
    pub cost: Option<Daily>,
    /// The first day; none is always.
    pub from: Option<Date>,
    /// The last day; none is on and on.
    pub to: Option<Date>,
    /// How many days one mix is made for; none where nothing says, and it is taken day by day.
    pub mix_days: Option<u32>,
    /// On how many of the days asked for it eats.
    pub days: u32,
    /// In how many mixes.
    pub mixes: u32,
    /// What its mixes are short of on the days asked for, each ingredient once, by the day.
    pub short: Vec<Short>,
}

/// Something that runs out.
#[derive(Clone, Debug, PartialEq)]
pub struct Short {
    /// The day of the first mix that is short of it.
    pub day: Date,
    /// The ingredient.
    pub of: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// A text says how much of it is on hand, even if that is nothing.
    pub is_stock_known: bool,
}

/// Money a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Daily {
    /// How much, in which currency.
    pub money: Money,
    /// Every ingredient has a price that could be counted.
    pub complete: bool,
}

/// An amount of money.
#[derive(Clone, Debug, PartialEq)]
pub struct Money {
    /// How much.
    pub amount: Q,
    /// ISO 4217 code.
    pub currency: SmolStr,
}

/// Days on which a group eats nothing, because a phase is over or has not begun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unfed {
    /// The group.
    pub group: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// Where it is named.
    pub place: Place,
    /// The first of these days.
    pub from: Date,
    /// The last that was asked for.
    pub to: Date,
    /// How many days old it is on the first.
    pub age: i64,
}

/// Something that could not be counted.
#[derive(Clone, Debug)]
pub struct Uncounted {
    /// The group; none where an item could not be read that may be one.
    pub group: Option<SmolStr>,
    /// What it eats, where that is known.
    pub ration: Option<SmolStr>,
    /// Where that is written.
    pub place: Place,
    /// Why not.
    pub why: WhyUncounted,
    /// It is only eaten after the days asked for.
    pub is_later: bool,
    /// The errors that stand in the way.
    pub errors: Vec<Finding>,
}

/// Why a group could not be counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyUncounted {
    /// The group, the ration, or what it rests on has an error.
    HasErrors,
    /// Amounts of the ration are open or unknown.
    NotKnown,
    /// Nobody says how many animals it has.
    NoAnimals,
    /// Neither group nor ration says how much an animal eats.
    NoIntake,
    /// An item could not be read, and may be a group or what one eats.
    Unread,
}

/// Something eaten beside a ration that is not on the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Beside {
    /// Its name.
    pub name: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// What all animals eat of it in the days asked for.
    pub mass: Q,
}

/// An ingredient that is needed.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its name.
    pub name: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// Where it is declared.
    pub place: Place,
    /// A text says how much of it is on hand, even if that is nothing.
    pub is_stock_known: bool,
    /// What is there today and still good.
    pub on_hand: Q,
    /// What comes in the days asked for, of lots received later.
    pub coming: Q,
    /// What the mixes of the days asked for take.
    pub needed: Q,
    /// How much of that is in the store.
    pub used: Q,
    /// What expires in those days.
    pub expired: Q,
    /// What is left after the last day, of lots and of what is bought.
    pub left: Q,
    /// What is to be bought; none where the store has enough.
    pub purchase: Option<Purchase>,
    /// How long what is left then lasts.
    pub lasts: Lasts,
    /// The days on which something comes or goes, and what is left in the evening.
    pub days: Vec<StockDay>,
    /// It is medicated.
    pub withdrawals: Vec<Withdrawal>,
}

/// What is to be bought of an ingredient.
#[derive(Clone, Debug, PartialEq)]
pub struct Purchase {
    /// The day it must be there: of the first mix that would be short.
    pub by: Date,
    /// What is short over all the days.
    pub short: Q,
    /// What is bought: whole sacks; whole kilograms where no sack is known.
    pub mass: Q,
    /// The sacks; none where no sack is known.
    pub sacks: Option<Sacks>,
    /// What a kg costs.
    pub price: Option<Price>,
    /// What it costs.
    pub cost: Option<Money>,
    /// Lots that ration lines name and that are short of so much.
    pub instead_of: Vec<(SmolStr, Q)>,
}

/// Whole sacks.
#[derive(Clone, Debug, PartialEq)]
pub struct Sacks {
    /// How many.
    pub count: Q,
    /// What one holds.
    pub each: Q,
}

/// How long what is left after the days asked for, and after buying, lasts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lasts {
    /// Up to the evening of this day: the next mix would be short.
    Until(Date),
    /// As far ahead as it was looked.
    Beyond,
    /// Nothing that is written eats it after this day.
    Eaten(Date),
}

/// One day on which the stock of an ingredient changes.
#[derive(Clone, Debug, PartialEq)]
pub struct StockDay {
    /// The day.
    pub day: Date,
    /// What came of lots; what was on hand counts as come on the first day.
    pub came: Q,
    /// What was bought for that day.
    pub bought: Q,
    /// What the mixes took.
    pub taken: Q,
    /// What was no longer good that morning.
    pub expired: Q,
    /// What is left in the evening.
    pub left: Q,
}

/// Feed mixed ahead, in a lot.
#[derive(Clone, Debug, PartialEq)]
pub struct MixedAhead {
    /// The ration.
    pub name: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// What is there today, or comes in the days asked for.
    pub on_hand: Q,
    /// What is eaten or mixed in of it.
    pub used: Q,
}

/// A lot of which something is left when it expires.
#[derive(Clone, Debug, PartialEq)]
pub struct Expiring {
    /// The lot.
    pub lot: SmolStr,
    /// What people call the lot.
    pub label: Option<String>,
    /// What it is a lot of.
    pub of: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// The last day it is good.
    pub best_before: Date,
    /// What is left of it then.
    pub left: Q,
}

/// A lot with something on hand that is not counted.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// The lot.
    pub lot: SmolStr,
    /// What it is a lot of.
    pub of: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// What is on hand; none where that could not be made out.
    pub on_hand: Option<Q>,
    /// Why not.
    pub why: WhyLeftOut,
}

/// Why a lot is not counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhyLeftOut {
    /// No text that has a group sees it.
    NotSeen,
    /// It has an error.
    HasErrors,
}

impl Buying {
    /// Everything that is eaten in the days asked for is counted.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.uncounted.iter().all(|one| one.is_later)
    }

    /// The ingredients to be bought, by the day and the name.
    pub fn to_buy(&self) -> impl Iterator<Item = (&Row, &Purchase)> {
        let rows = self.rows.iter();
        rows.filter_map(|row| Some((row, row.purchase.as_ref()?)))
    }

    /// Everything to be bought has a price.
    #[must_use]
    pub fn is_priced(&self) -> bool {
        self.to_buy().all(|(_, purchase)| purchase.cost.is_some())
    }
}

/// What is to be bought so that the groups of these texts, each seen from its own text, are fed for so many days from today on.
#[must_use]
pub fn buying(farm: &Farm, texts: &[FileId], judged: Judged<'_>, today: Date, days: u32) -> Buying {
    let ahead = match judged {
        Judged::Found(_) => AHEAD,
        Judged::AtAGlance { .. } => 0,
    };
    let asked = Days::new(today, days, ahead);
    let mut table = Table::of(farm, texts, judged, &asked);
    let store = Store::of(farm, &mut table, judged, &asked);
    summary::summary(&table, store, &asked)
}
