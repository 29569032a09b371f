//! Rates between currencies, as the texts give them.

use trug_syntax::tree::ItemBody;

use super::View;
use super::measures::number;
use crate::Q;
use crate::quantity::is_currency;

/// What one unit of a currency is worth in another.
#[derive(Debug, Default)]
pub(super) struct Rates(Vec<(String, String, Q)>);

impl View<'_> {
    /// So much money in another currency; none where no rates lead there.
    pub(crate) fn exchange(&self, amount: &Q, from: &str, to: &str) -> Option<Q> {
        if from == to {
            return Some(amount.clone());
        }
        let rates = self.rates.get_or_init(|| rates(self));
        let mut known = vec![(from.to_owned(), amount.clone())];
        let mut next = 0;
        while next < known.len() {
            let (currency, worth) = known[next].clone();
            if currency == to {
                return Some(worth);
            }
            for (source, target, rate) in &rates.0 {
                if *source == currency && !known.iter().any(|(one, _)| one == target) {
                    known.push((target.clone(), &worth * rate));
                }
            }
            next += 1;
        }
        None
    }
}

fn rates(view: &View<'_>) -> Rates {
    let mut rates = Rates::default();
    // No book holds a rate.
    let own = view
        .scope
        .files
        .iter()
        .filter(|file| !view.farm.is_book(**file));
    for &file in own {
        for item in &view.farm.tree(file).items {
            let ItemBody::Rate(rate) = &item.body else {
                continue;
            };
            let code = |quantity: &trug_syntax::tree::Quantity| {
                let unit = quantity.unit.as_ref()?;
                let is_money = unit.per.is_none() && is_currency(&unit.unit.text);
                is_money.then(|| unit.unit.text.to_string())
            };
            let (Some(from), Some(to)) = (code(&rate.from), code(&rate.to)) else {
                continue;
            };
            let (above, below) = (number(&rate.to.number), number(&rate.from.number));
            let (Some(forth), Some(back)) = (above.over(&below), below.over(&above)) else {
                continue;
            };
            rates.0.push((from.clone(), to.clone(), forth));
            rates.0.push((to, from, back));
        }
    }
    rates
}
