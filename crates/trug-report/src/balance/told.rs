//! A balanced ration in words: every sentence and number final, for the text and the page alike.

use trug_balance::{
    Amount, Balanced, BoundStanding, ConflictPart, Infeasible, LeftOut, Outcome, Relax,
};
use trug_findings::{Place, Source};
use trug_model::Q;
use trug_model::choice::{ChoiceEnd, Rule};

use super::BalancedRation;
use crate::findings::{file_name, start_of};
use crate::words::{beside, money, quantity};

/// A balanced ration in words.
pub(super) struct Told {
    /// What people call the ration.
    pub(super) title: String,
    /// The text and line it is named in.
    pub(super) written: String,
    /// What came of it, in a sentence.
    pub(super) result: String,
    /// The amounts of its lines.
    pub(super) amounts: Vec<AmountTold>,
    /// Why these: bounds kept with nothing to spare, what costs most first.
    pub(super) reasons: Vec<ReasonTold>,
    /// What is not used, and when it would be.
    pub(super) left_out: Vec<String>,
    /// What cannot all be kept, and where each is written.
    pub(super) conflict: Vec<(String, String)>,
    /// What that conflict leaves to do.
    pub(super) ways_out: &'static str,
    /// What would make a choice possible.
    pub(super) relax: Vec<RelaxTold>,
    /// What this rests on.
    pub(super) remarks: Vec<String>,
}

/// One line of the ration.
pub(super) struct AmountTold {
    pub(super) ingredient: String,
    pub(super) percent: String,
    /// The exact percent, as programs read it.
    pub(super) exact: Q,
    pub(super) before: String,
    pub(super) price: String,
    /// Between which prices the amounts stay.
    pub(super) stays: String,
    pub(super) is_chosen: bool,
}

/// One bound that decides.
pub(super) struct ReasonTold {
    pub(super) bound: String,
    pub(super) says: String,
    pub(super) written: String,
}

/// One bound loosened.
pub(super) struct RelaxTold {
    pub(super) what: String,
    pub(super) change: String,
    pub(super) then: String,
    pub(super) written: String,
}

/// What the tool says of itself; it never calls a feed safe.
const CHECKED: &str = "Chosen to keep every bound that is written and known here, and no other. Product label, veterinarian \
    and local feed law decide.";
const EACH: &str = "each of these alone would make a choice possible:";
const TOGETHER: &str = "only together would these make a choice possible:";
const NO_WAY: &str = "no change of a bound is a way out: what can harm, the label and the law stay. Take another ingredient.";
const STATE_IT: &str = "write how much these hold, from the label, an analysis or a table, or take another ingredient.";
/// Ingredients that a sentence lists before it counts.
const MOST_NAMES: usize = 4;

pub(super) fn told(page: &BalancedRation<'_>) -> Told {
    let balance = &page.balance;
    let mut told = Told {
        title: page
            .label
            .clone()
            .unwrap_or_else(|| balance.ration.to_string()),
        written: written(balance.place, page.sources),
        result: String::new(),
        amounts: Vec::new(),
        reasons: Vec::new(),
        left_out: Vec::new(),
        conflict: Vec::new(),
        ways_out: "",
        relax: Vec::new(),
        remarks: Vec::new(),
    };
    match &balance.outcome {
        Outcome::Balanced(balanced) => {
            let words = Words {
                currency: &balance.currency,
                sources: page.sources,
            };
            words.balanced(balanced, &mut told);
        }
        Outcome::Infeasible(infeasible) => {
            let words = Words {
                currency: &balance.currency,
                sources: page.sources,
            };
            words.infeasible(infeasible, &mut told);
        }
        Outcome::Unanswered(why) => {
            told.result = format!("no amounts were found: {why}");
        }
    }
    if !balance.counted_as_exact.is_empty() {
        told.remarks.push(format!(
            "Counted as exact, since no analysis gives a scatter (±): {}.",
            balance.counted_as_exact.join(", ")
        ));
    }
    if !balance.cost_is_complete {
        told.remarks.push(
            "A fixed line has no price, so the feed costs more than is said; the choice is the same."
                .to_owned(),
        );
    }
    if matches!(balance.outcome, Outcome::Balanced(_)) {
        told.remarks.push(CHECKED.to_owned());
    }
    told
}

struct Words<'a> {
    currency: &'a str,
    sources: &'a [Source],
}

impl Words<'_> {
    fn balanced(&self, balanced: &Balanced, told: &mut Told) {
        let cost = self.money(&balanced.cost_per_kg);
        told.result = format!("{cost} a kg");
        told.remarks.extend(self.proof(balanced));
        told.amounts = balanced
            .amounts
            .iter()
            .map(|amount| self.amount(amount))
            .collect();
        let mut deciding: Vec<&BoundStanding> = balanced
            .bounds
            .iter()
            .filter(|bound| bound.binding)
            .collect();
        // What can be said with money comes first, in the order of the texts.
        deciding.sort_by_key(|bound| bound.shadow_price.is_zero());
        told.reasons = deciding
            .into_iter()
            .map(|bound| self.reason(bound))
            .collect();
        told.left_out = balanced
            .left_out
            .iter()
            .map(|left_out| self.left_out(left_out))
            .collect();
    }

    fn proof(&self, balanced: &Balanced) -> Option<String> {
        let bound = self.money(&balanced.cost_bound);
        Some(match &balanced.unproved {
            None => format!("Proved: no amounts keep these bounds for less than {bound} a kg."),
            Some(why) => format!(
                "Not proved to be the cheapest: {why}. Nothing costs less than {bound} a kg."
            ),
        })
    }

    fn amount(&self, amount: &Amount) -> AmountTold {
        let percent = &amount.share * &Q::int(100);
        let shown = |percent: &Q| {
            if percent.decimals_end() {
                percent.to_string()
            } else {
                percent.readable(6)
            }
        };
        let before = amount.before.as_ref().map(|before| before * &Q::int(100));
        let on_top = if amount.on_top { " on top" } else { "" };
        // A price down to nothing, and below, has no end that is ever met.
        let low = amount.price_low.as_ref().filter(|low| low.is_positive());
        let ends = (low, amount.price_high.as_ref());
        let stays = match ends {
            (Some(low), Some(high)) => format!("{} .. {}", low.readable(4), high.readable(4)),
            (Some(low), None) => format!("from {}", low.readable(4)),
            (None, Some(high)) => format!("up to {}", high.readable(4)),
            (None, None) if amount.is_chosen && amount.price.is_some() => "any price".to_owned(),
            (None, None) => String::new(),
        };
        AmountTold {
            ingredient: amount.ingredient.to_string(),
            percent: format!("{} %{on_top}", shown(&percent)),
            before: before
                .filter(|before| *before != percent)
                .map_or_else(String::new, |before| format!("was {} %", shown(&before))),
            price: amount
                .price
                .as_ref()
                .map_or_else(String::new, |price| self.money(price)),
            stays,
            is_chosen: amount.is_chosen,
            exact: percent,
        }
    }

    fn reason(&self, bound: &BoundStanding) -> ReasonTold {
        let limit = quantity(&bound.bound.to_string(), &bound.unit);
        let (side, change, does) = match bound.end {
            ChoiceEnd::AtLeast => ("at least", "more", "costs"),
            ChoiceEnd::AtMost => ("at most", "less", "costs"),
        };
        let says = if bound.rule == Rule::Never {
            "left out".to_owned()
        } else if bound.shadow_price.is_zero() {
            "nothing to spare".to_owned()
        } else {
            let cost = self.money(&bound.shadow_price);
            let one = if bound.unit.is_empty() {
                format!("one {change}")
            } else {
                format!("one {} {change}", bound.unit)
            };
            format!("{one} {does} {cost} a kg")
        };
        let partly = if bound.complete {
            ""
        } else {
            " (part unknown)"
        };
        ReasonTold {
            bound: match bound.rule {
                Rule::Never => bound.what.clone(),
                _ => format!("{} {side} {limit}{partly}", bound.what),
            },
            says,
            written: written(bound.place, self.sources),
        }
    }

    fn left_out(&self, left_out: &LeftOut) -> String {
        let price = left_out.price.as_ref();
        let price = price.map_or_else(String::new, |price| format!(" at {}", self.money(price)));
        let when = match &left_out.enters_below_price {
            Some(enters) => format!("would be used below {} a kg", self.money(enters)),
            None => "no price would bring it in".to_owned(),
        };
        format!("{}{price}: {when}", left_out.ingredient)
    }

    fn infeasible(&self, infeasible: &Infeasible, told: &mut Told) {
        "no amounts keep everything".clone_into(&mut told.result);
        let conflict = infeasible.conflict.iter();
        told.conflict = conflict
            .map(|part| (said(part), written(part.place, self.sources)))
            .collect();
        let lacks_data = infeasible
            .conflict
            .iter()
            .any(|part| !part.unknown.is_empty());
        told.ways_out = if infeasible.relax.is_empty() {
            if lacks_data { STATE_IT } else { NO_WAY }
        } else if infeasible.is_together {
            TOGETHER
        } else {
            EACH
        };
        told.relax = infeasible
            .relax
            .iter()
            .map(|relax| self.relax(relax))
            .collect();
    }

    fn relax(&self, relax: &Relax) -> RelaxTold {
        let side = match relax.end {
            ChoiceEnd::AtLeast => "at least",
            ChoiceEnd::AtMost => "at most",
        };
        let to = quantity(&self.loosened(relax), &relax.unit);
        let cost = relax.cost_per_kg.as_ref();
        RelaxTold {
            what: relax.what.clone(),
            change: format!("{side} {to} instead of {}", relax.from),
            then: cost.map_or_else(String::new, |cost| {
                format!("then {} a kg", self.money(cost))
            }),
            written: written(relax.place, self.sources),
        }
    }

    /// A bound that suffices, rounded to the side on which it still does.
    fn loosened(&self, relax: &Relax) -> String {
        for decimals in 2..=trug_model::exact::PRINTED_DECIMALS {
            let step = (0..decimals).fold(Q::ONE, |step, _| step / Q::int(10));
            let rounded = match relax.end {
                ChoiceEnd::AtLeast => relax.to.floor_to(&step),
                ChoiceEnd::AtMost => relax.to.ceil_to(&step),
            };
            if rounded != relax.from {
                return rounded.to_string();
            }
        }
        beside(&relax.to, &[&relax.from])
    }

    fn money(&self, amount: &Q) -> String {
        money(amount, self.currency)
    }
}

fn written(place: Place, sources: &[Source]) -> String {
    let line = start_of(place, sources).line;
    format!("{}:{line}", file_name(place, sources))
}

/// A part of a conflict, and for want of what it binds.
pub(super) fn said(part: &ConflictPart) -> String {
    let Some(names) = part.unknown.chunks(MOST_NAMES).next() else {
        return part.says.clone();
    };
    let more = match part.unknown.len() - names.len() {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    format!(
        "{}; unknown in {}{more}, where it counts as the most there can be",
        part.says,
        names.join(", ")
    )
}
