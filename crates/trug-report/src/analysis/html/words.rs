//! Every fixed word of the page, in English.

use trug_model::analysis::BoundKind;

pub(super) const ANALYSIS: &str = "Analysis";
pub(super) const ANALYSES: &str = "Analyses";
pub(super) const RATION: &str = "ration";
pub(super) const WRITTEN: &str = "written";
pub(super) const BATCH: &str = "batch";
pub(super) const COST: &str = "cost";
pub(super) const DAY: &str = "day";

pub(super) const MISSED: &str = "Missed:";
pub(super) const UNDECIDED: &str = "Undecided, for want of data:";
pub(super) const OF_WHAT_IS_KNOWN: &str = "counting what is known";
pub(super) const SET_AT: &str = "set at";
pub(super) const HARM_ABOVE: &str = "harm is possible above";
pub(super) const KEPT: &str = "kept with";
pub(super) const PROBABILITY: &str = "probability";
pub(super) const IN_BATCH: &str = "in a batch";
pub(super) const IN_PORTION: &str = "in one animal's portion";
pub(super) const ADDED_BY: &str = "added by";
pub(super) const NO_BOUND: &str = "no bound is written";
pub(super) const NOT_KNOWN: &str = "not known";

pub(super) const LEGEND: &str = "How the bars are read";
pub(super) const LEGEND_BAND: &str = "what is allowed, with its ends below";
pub(super) const LEGEND_VALUE: &str = "what this feed comes to";
pub(super) const LEGEND_BATCH: &str = "what a whole batch can come to";
pub(super) const LEGEND_PORTION: &str = "what one animal's portion can come to";
pub(super) const LEGEND_CEILING: &str = "above this, harm is possible";
pub(super) const LEGEND_ALONE: &str = "Each bar has a scale of its own. \"Can come to\" is two standard deviations to either side: \
     nineteen times in twenty.";

pub(super) const COMPOSITION: &str = "What it contains";
pub(super) const NUTRIENT: &str = "nutrient";
pub(super) const AS_FED: &str = "as fed";
pub(super) const OF_DRY_MATTER: &str = "of dry matter";
pub(super) const UNIT: &str = "unit";
pub(super) const LIKELY: &str = "likely";
pub(super) const PART_UNKNOWN: &str = "part unknown: at least this";

pub(super) const COSTS: &str = "What it costs, by ingredient";
pub(super) const INGREDIENT: &str = "ingredient";
pub(super) const OF_FEED: &str = "of the feed";
pub(super) const IN_THE_BATCH: &str = "in the batch";
pub(super) const A_KG_OF_FEED: &str = "a kg of feed";
pub(super) const THE_BATCH: &str = "the batch";
pub(super) const OF_COST: &str = "of the cost";
pub(super) const TOGETHER: &str = "together";
pub(super) const PRICE_UNKNOWN: &str = "price not known";
pub(super) const PRICE_PARTLY_KNOWN: &str = "price of a part not known: at least this";
pub(super) const ROUNDED: &str = "The dearest first. Amounts are summed exactly, and rounded each by itself when they are shown.";

pub(super) const ORIGINS: &str = "Where the values were read";
pub(super) const SOURCE: &str = "source";
pub(super) const READ_THERE: &str = "read there";

/// What a group of bounds is called, and what stands behind it.
pub(super) fn of_kind(kind: BoundKind) -> &'static str {
    match kind {
        BoundKind::Harm => "Harm: possible beyond these",
        BoundKind::Law => "Law",
        BoundKind::Target => "Targets",
        BoundKind::Limit => "Limits",
    }
}

pub(super) const DOSES: &str = "Doses, by the label of each product";
