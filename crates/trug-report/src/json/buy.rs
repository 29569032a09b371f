//! `buy/0`: what is to be bought by when, and what runs out or expires; not pinned yet.

use schemars::JsonSchema;
use serde::Serialize;

use super::finding::FindingJson;
use super::number::Decimal;

/// Name and version of the document.
pub const FORMAT: &str = "trug.buy/0";

/// What the groups of some texts need from the store. Masses in grams.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BuyDocument {
    /// `trug.buy/0`.
    #[schemars(extend("const" = FORMAT))]
    pub format: &'static str,
    /// The first day that is fed.
    pub today: String,
    /// How many days are fed.
    #[schemars(range(min = 1))]
    pub days: u32,
    /// The last of them.
    pub last: String,
    /// How far past them it was looked for what runs out or expires.
    pub looked_until: String,
    /// Everything that is eaten on those days is counted.
    pub complete: bool,
    /// Who eats what.
    pub groups: Vec<FedJson>,
    /// What could not be counted, and why.
    pub not_counted: Vec<UncountedJson>,
    /// Groups that by their age eat nothing on some of the days; absent where there are none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unfed: Vec<UnfedJson>,
    /// What is eaten beside the rations, and neither has a price nor comes in sacks or lots.
    pub beside: Vec<BesideJson>,
    /// The ingredients needed: first those to be bought, by the day and the name; then the others, by name.
    pub ingredients: Vec<NeededJson>,
    /// Feed mixed ahead that is on hand, which is used before any is mixed.
    pub mixed: Vec<MixedJson>,
    /// Lots that expire before they are used up, by the day.
    pub expiring: Vec<ExpiringJson>,
    /// Lots that are not counted.
    pub lots_left_out: Vec<LeftOutJson>,
    /// What it costs: one entry for each currency that no rate leads from into the first.
    pub cost: Vec<MoneyJson>,
    /// Everything to be bought has a price.
    pub cost_complete: bool,
}

/// A group that eats a ration.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FedJson {
    /// The group.
    pub group: String,
    /// The text and the line that say it eats this.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// The ration.
    pub ration: String,
    /// How many animals.
    pub head: Decimal,
    /// What each eats a day.
    pub intake_g: Decimal,
    /// What all of them eat a day.
    pub daily_g: Decimal,
    /// What that costs a day, where a price is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub daily_cost: Option<DailyCostJson>,
    /// The first day it eats this; absent where it always does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// The last day; absent where it goes on and on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// For how many days a mix is made; absent where nothing says, and it is taken day by day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mix_days: Option<u32>,
    /// On how many of the days asked for it eats.
    pub days: u32,
    /// In how many mixes.
    pub mixes: u32,
    /// What it eats on those days.
    pub eaten_g: Decimal,
    /// What its mixes are short of, each ingredient once, by the day.
    pub short: Vec<ShortJson>,
}

/// Something that runs out.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ShortJson {
    /// The day of the first mix that is short of it.
    pub day: String,
    /// The ingredient.
    pub ingredient: String,
}

/// Money a day.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DailyCostJson {
    /// How much.
    pub amount: Decimal,
    /// ISO 4217 code.
    pub currency: String,
    /// Every ingredient has a price that could be counted.
    pub complete: bool,
}

/// An amount of money.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MoneyJson {
    /// How much.
    pub amount: Decimal,
    /// ISO 4217 code.
    pub currency: String,
}

/// Something that could not be counted.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct UncountedJson {
    /// The group; absent where an item could not be read that may be one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// The ration.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ration: Option<String>,
    /// The text.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// Why not, in a sentence.
    pub why: String,
    /// It is only eaten after the days asked for.
    pub later: bool,
    /// The errors that stand in the way.
    pub findings: Vec<FindingJson>,
}

/// Days on which a group eats nothing, because a phase is over or has not begun.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct UnfedJson {
    /// The group.
    pub group: String,
    /// The text.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// The first of these days.
    pub from: String,
    /// The last.
    pub to: String,
    /// How many days old the group is on the first.
    pub age_days: i64,
}

/// Something eaten beside the rations.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BesideJson {
    /// Its name.
    pub ingredient: String,
    /// What all animals eat of it on the days asked for.
    pub needed_g: Decimal,
}

/// An ingredient that is needed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NeededJson {
    /// Its name.
    pub ingredient: String,
    /// What people call it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// The text that declares it.
    pub file: String,
    /// A text says how much of it is on hand, even if that is nothing.
    pub stock_known: bool,
    /// What is there today and still good.
    pub on_hand_g: Decimal,
    /// What comes on the days asked for, of lots received later.
    pub coming_g: Decimal,
    /// What the mixes of those days take.
    pub needed_g: Decimal,
    /// How much of that is in the store.
    pub used_g: Decimal,
    /// What expires on those days.
    pub expired_g: Decimal,
    /// What is left after the last day, of lots and of what is bought.
    pub left_g: Decimal,
    /// What is to be bought; null where the store has enough.
    pub buy: Option<PurchaseJson>,
    /// The last day that what is left then is enough for; null where that was not reached.
    pub lasts_until: Option<String>,
    /// The days on which something comes or goes.
    pub stock: Vec<StockDayJson>,
    /// What the label and a veterinarian are to be asked about.
    pub cautions: Vec<String>,
}

/// What is to be bought of an ingredient.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PurchaseJson {
    /// The day it must be there.
    pub by: String,
    /// What is short over all the days.
    pub short_g: Decimal,
    /// What is bought: whole sacks, or whole kilograms where no sack is known.
    pub bought_g: Decimal,
    /// How many sacks; null where no sack is known.
    pub sacks: Option<Decimal>,
    /// What a sack holds; null where no sack is known.
    pub sack_g: Option<Decimal>,
    /// What a kg costs; null where that is unknown.
    pub price_per_kg: Option<MoneyJson>,
    /// What it costs; null where the price is unknown.
    pub cost: Option<MoneyJson>,
    /// Lots that lines of rations name and that are short.
    pub instead_of: Vec<InsteadJson>,
}

/// A lot that is short.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct InsteadJson {
    /// The lot.
    pub lot: String,
    /// How much of it is short.
    pub short_g: Decimal,
}

/// One day on which the stock of an ingredient changes.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StockDayJson {
    /// The day.
    pub day: String,
    /// What came of lots; what was on hand counts as come on the first day.
    pub came_g: Decimal,
    /// What was bought for that day.
    pub bought_g: Decimal,
    /// What the mixes took.
    pub taken_g: Decimal,
    /// What was no longer good that morning.
    pub expired_g: Decimal,
    /// What is left in the evening.
    pub left_g: Decimal,
}

/// Feed mixed ahead that is on hand.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MixedJson {
    /// The ration.
    pub ration: String,
    /// What is there, or comes on the days asked for.
    pub on_hand_g: Decimal,
    /// What is eaten or mixed in of it.
    pub used_g: Decimal,
}

/// A lot of which something is left when it expires.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ExpiringJson {
    /// The lot.
    pub lot: String,
    /// What it is a lot of.
    pub of: String,
    /// The text that declares it.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// The last day it is good.
    pub best_before: String,
    /// What is left of it then.
    pub left_g: Decimal,
}

/// A lot that is not counted.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LeftOutJson {
    /// The lot.
    pub lot: String,
    /// What it is a lot of.
    pub of: String,
    /// The text that declares it.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// Why not, in a sentence.
    pub why: String,
}
