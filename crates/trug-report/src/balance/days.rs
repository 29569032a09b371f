//! One ration balanced at the prices of many days: how cost and amounts move.

mod page;
mod picture;
mod text;

pub use page::days_html;
pub use text::days_text;

use trug_balance::{Amount, Balance, Balanced, Outcome};
use trug_findings::{Place, Source};
use trug_model::Q;

use crate::findings::{file_name, start_of};
use crate::words::{count, money};

/// One ration at the prices of many days, in their order.
#[derive(Clone, Debug)]
pub struct BalancedDays<'a> {
    /// The ration's name.
    pub ration: String,
    /// What people call it.
    pub label: Option<String>,
    /// Where it is named.
    pub place: Place,
    /// Each day with what came of balancing.
    pub days: Vec<(String, Balance)>,
    /// The texts, by their number.
    pub sources: &'a [Source],
}

/// One amount, or the cost, over the days; none where a day has no choice.
struct Series {
    name: String,
    values: Vec<Option<Q>>,
}

impl Series {
    /// The least and the greatest of its values.
    fn ends(&self) -> Option<(&Q, &Q)> {
        let known = || self.values.iter().flatten();
        known().min().zip(known().max())
    }

    fn moves(&self) -> bool {
        self.ends()
            .is_some_and(|(least, greatest)| least < greatest)
    }
}

impl BalancedDays<'_> {
    fn title(&self) -> &str {
        self.label.as_deref().unwrap_or(&self.ration)
    }

    fn written(&self) -> String {
        let line = start_of(self.place, self.sources).line;
        format!("{}:{line}", file_name(self.place, self.sources))
    }

    fn currency(&self) -> &str {
        self.days
            .first()
            .map_or("", |(_, balance)| &balance.currency)
    }

    fn balanced(&self) -> Vec<Option<&Balanced>> {
        let days = self.days.iter();
        days.map(|(_, balance)| match &balance.outcome {
            Outcome::Balanced(balanced) => Some(&**balanced),
            Outcome::Infeasible(_) | Outcome::Unanswered(_) => None,
        })
        .collect()
    }

    fn cost(&self) -> Series {
        let costs = self.balanced().into_iter();
        Series {
            name: "cost a kg".to_owned(),
            values: costs
                .map(|balanced| balanced.map(|balanced| balanced.cost_per_kg.clone()))
                .collect(),
        }
    }

    /// The chosen amounts in percent, in the order of the ration.
    fn amounts(&self) -> Vec<Series> {
        let balanced = self.balanced();
        let Some(first) = balanced.iter().flatten().next() else {
            return Vec::new();
        };
        let chosen = first.amounts.iter().enumerate();
        let chosen = chosen.filter(|(_, amount)| amount.is_chosen);
        chosen
            .map(|(rank, amount)| Series {
                name: amount.ingredient.to_string(),
                values: balanced
                    .iter()
                    .map(|day| day.and_then(|day| day.amounts.get(rank)).map(percent))
                    .collect(),
            })
            .collect()
    }

    /// How many days, and between what the cost moves.
    fn summary(&self) -> String {
        let days = count(self.days.len(), "day", "days");
        let without = self.balanced().iter().filter(|day| day.is_none()).count();
        let none = match without {
            0 => String::new(),
            without => format!("; {} without a choice", count(without, "day", "days")),
        };
        match self.cost().ends() {
            Some((least, greatest)) if least == greatest => {
                format!("{} a kg on {days}{none}", money(least, self.currency()))
            }
            Some((least, greatest)) => format!(
                "{} to {} a kg over {days}{none}",
                money(least, self.currency()),
                money(greatest, self.currency())
            ),
            None => format!("no amounts keep everything on any of {days}"),
        }
    }
}

fn percent(amount: &Amount) -> Q {
    &amount.share * &Q::int(100)
}
