//! What can be chosen in a ration with open amounts, and everything the choice has to keep.

mod enemies;
mod ratio;
mod rules;

use smol_str::SmolStr;
use trug_findings::Place;

use crate::Q;
use crate::judge::Mix;
use crate::prices::Prices;
use crate::quantity::{Range, Shown};
use crate::ration::{Line, Ration};
use crate::view::{Feed, View};

pub use ratio::{ChoiceSum, Ratio};

/// The open amounts of a ration, and every bound on them. Shares are fractions of the 100 %.
#[derive(Clone, Debug)]
pub struct Choice {
    /// The finished feed over the 100 %.
    pub whole: Q,
    /// ISO 4217 code: that of the ration's first price.
    pub currency: Option<String>,
    /// What can be chosen, in the order of the text.
    pub shares: Vec<OpenShare>,
    /// What they add up to: what the fixed lines leave.
    pub total: Q,
    /// Every bound, in the order of the texts; the sum is not among them.
    pub bounds: Vec<ChoiceBound>,
    /// What may never be in one feed.
    pub exclusions: Vec<ChoiceExclusion>,
    /// What the fixed lines cost, per kg of finished feed: what is known of it.
    pub fixed_cost: Q,
    /// Every fixed line has a price that could be counted.
    pub fixed_cost_is_complete: bool,
    /// Ingredients whose analyses have no scatter though a certainty is asked for: they count as exact.
    pub counted_as_exact: Vec<SmolStr>,
}

/// One amount that can be chosen.
#[derive(Clone, Debug)]
pub struct OpenShare {
    /// Rank of its line in the ration.
    pub line: usize,
    /// The ingredient, or the ration mixed beforehand.
    pub name: SmolStr,
    /// Where its amount is written.
    pub written: Place,
    /// Money for one kg of it; none where a price is missing or in a currency without rate.
    pub price: Option<Q>,
    /// It may be left out.
    pub or_none: bool,
    /// What is written now.
    pub now: Option<Q>,
    /// It takes what the others leave.
    pub is_rest: bool,
}

/// What stands behind a bound on a choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// The range of the line itself.
    Range,
    /// `limit` of the ration, `at most` and `at least` of an ingredient.
    Limit,
    /// The product's label.
    Dose,
    /// `targets`.
    Target,
    /// A regulation.
    Law,
    /// The amount of one ingredient above which harm is possible.
    Ceiling,
    /// Harm from the whole feed.
    Harm,
    /// `never for` the animal.
    Never,
}

impl Rule {
    /// Whether a bound of this kind may be loosened to make a choice possible: never what can harm.
    #[must_use]
    pub fn may_be_relaxed(self) -> bool {
        matches!(self, Rule::Range | Rule::Limit | Rule::Target)
    }
}

/// Which side of a bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ChoiceEnd {
    /// Not below.
    AtLeast,
    /// Not above.
    AtMost,
}

/// One side of one bound.
#[derive(Clone, Debug)]
pub struct ChoiceBound {
    /// What stands behind it.
    pub rule: Rule,
    /// What is bounded, as written.
    pub what: String,
    /// Which side.
    pub end: ChoiceEnd,
    /// What it must keep, in base units.
    pub limit: Q,
    /// The unit as written.
    pub unit: Shown,
    /// What the value is per, in words.
    pub basis: String,
    /// The value as the bound counts it: where contents are unknown, on the safe side of what can harm.
    pub counted: Ratio,
    /// The value of what is known.
    pub known: Ratio,
    /// It holds only where this share, an `or none`, is used.
    pub if_used: Option<usize>,
    /// It says again what the bound before it says, for another share that may be left out.
    pub is_echo: bool,
    /// One-sided quantile of the normal distribution that is to be kept clear of it.
    pub reliance: Option<Q>,
    /// Where it is written.
    pub place: Place,
}

/// Two ingredients that may never be in one feed.
#[derive(Clone, Debug)]
pub struct ChoiceExclusion {
    /// Shares that hold the one.
    pub one: Vec<usize>,
    /// Shares that hold the other; empty where a fixed line holds it.
    pub other: Vec<usize>,
    /// Both, in words.
    pub what: String,
    /// Where it is written.
    pub place: Place,
}

impl Line {
    /// The range its amount is chosen from; none where its amount is fixed.
    #[must_use]
    pub fn chosen_within(&self) -> Option<&Range> {
        if self.on_top || self.gives_active {
            return None;
        }
        self.open.as_ref().or(self.within.as_ref())
    }

    /// Whether its amount is chosen at least cost: from a range, or as what the others leave.
    #[must_use]
    pub fn is_chosen(&self) -> bool {
        self.chosen_within().is_some() || (self.is_rest && !self.on_top)
    }
}

impl Ration {
    /// Whether any of its amounts is chosen from a range.
    #[must_use]
    pub fn has_choice(&self) -> bool {
        self.lines.iter().any(|line| line.chosen_within().is_some())
    }

    /// The ration with every amount that can be chosen open over its whole range.
    fn opened(&self) -> Ration {
        let mut opened = self.clone();
        for line in opened.lines.iter_mut().filter(|line| line.is_chosen()) {
            let range = line.chosen_within();
            let low = range.and_then(|range| range.low.clone());
            let high = range.and_then(|range| range.high.clone());
            (line.low, line.high) = (low.unwrap_or_default(), high.unwrap_or(Q::ONE));
            line.is_open = true;
        }
        opened.leaves = std::sync::OnceLock::new();
        opened
    }
}

impl View<'_> {
    /// What can be chosen in a ration, and what the choice has to keep; none where a line of it could not be made out, or holds
    /// a ration whose own amounts are not known.
    #[must_use]
    pub fn choice(&self, ration: &Ration) -> Option<Choice> {
        self.choice_at(ration, &Prices::default())
    }

    /// The same at other prices than those of the texts, where there are any.
    #[must_use]
    pub fn choice_at(&self, ration: &Ration, prices: &Prices) -> Option<Choice> {
        if !ration.is_sound || ration.lines.iter().any(|line| !line.feed.is_sound()) {
            return None;
        }
        let opened = ration.opened();
        let mix = Mix::of(&opened);
        let is_chosen = |line: &&Line| line.is_chosen();
        let fixed = |line: &Line| !line.is_chosen() && !line.on_top;
        let currency = currency(&opened, prices);
        let price = |feed: &Feed| price(self, feed, currency.as_deref(), prices);
        let shares: Vec<OpenShare> = ration
            .lines
            .iter()
            .enumerate()
            .filter(|(_, line)| is_chosen(line))
            .map(|(rank, line)| OpenShare {
                line: rank,
                name: line.name.clone(),
                written: line.written,
                price: price(&line.feed),
                or_none: line.or_none,
                now: (line.within.is_some() && line.is_fixed()).then(|| line.low.clone()),
                is_rest: line.is_rest,
            })
            .collect();
        let mut fixed_cost = Q::ZERO;
        let mut fixed_cost_is_complete = true;
        for line in opened.lines.iter().filter(|line| !line.is_chosen()) {
            match price(&line.feed) {
                Some(price) => fixed_cost += price * &line.low,
                None => fixed_cost_is_complete &= line.low.is_zero(),
            }
        }
        let taken: Q = opened
            .lines
            .iter()
            .filter(|line| fixed(line))
            .map(|line| &line.low)
            .sum();
        Some(Choice {
            total: Q::ONE - taken,
            currency: currency.as_ref().map(SmolStr::to_string),
            bounds: rules::all(self, &mix, &shares),
            exclusions: enemies::all(&opened, &shares),
            fixed_cost: fixed_cost.over(&mix.whole)?,
            fixed_cost_is_complete,
            counted_as_exact: rules::counted_as_exact(self, &opened),
            whole: mix.whole.clone(),
            shares,
        })
    }
}

fn currency(ration: &Ration, prices: &Prices) -> Option<SmolStr> {
    let mut leaves = ration.lines.iter().flat_map(|line| line.feed.leaves());
    leaves.find_map(|leaf| {
        let own = leaf.ingredient.price.as_ref();
        let own = own.map(|price| price.currency.clone());
        let of_day = prices.of(&leaf.ingredient.name);
        own.or_else(|| of_day.map(|(_, currency)| SmolStr::new(currency)))
    })
}

/// What one kg of a feed costs.
fn price(view: &View<'_>, feed: &Feed, currency: Option<&str>, prices: &Prices) -> Option<Q> {
    let mut total = Q::ZERO;
    for leaf in feed.leaves() {
        let own = leaf.ingredient.price.as_ref();
        let own = own.map(|price| (&price.value, price.currency.as_str()));
        let (value, of) = prices.of(&leaf.ingredient.name).or(own)?;
        total += view.exchange(value, of, currency?)? * leaf.fraction;
    }
    Some(total)
}
