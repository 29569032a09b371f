//! Units as candidates: only those that count what the place wants.

use trug_model::quantity::{Activity, Base, Dimension};
use trug_model::{Namespace, View};
use trug_syntax::tree::{IngredientStatement, ItemBody};

use super::expect::Fit;
use super::{CandidateKind, Offer, Offers};
use crate::units::{fitting, unit};

impl Offers<'_> {
    pub(super) fn units(&mut self, group: usize, fit: &Fit) {
        for text in self.units_of(fit) {
            let detail = unit(&text)
                .map(|(_, dimension)| dimension.to_string())
                .unwrap_or_default();
            self.push(group, Offer::new(text, CandidateKind::Unit).detail(detail));
        }
        if matches!(fit, Fit::Amount(_) | Fit::MassOrVolume) {
            self.names(group + 1, Namespace::Unit);
        }
    }

    /// Two ends in the commonest unit.
    pub(super) fn range(&mut self, group: usize, fit: &Fit) {
        let unit = self.units_of(fit).into_iter().next().unwrap_or_default();
        let snippet = format!("$1 .. $2 {unit}");
        let label = format!("… .. … {unit}");
        let offer = Offer::new(label.trim_end(), CandidateKind::Amount).detail("a range");
        self.push(group, offer.snippet(snippet.trim_end()));
    }

    fn units_of(&self, fit: &Fit) -> Vec<String> {
        let of = |dimension: Dimension| fitting(&dimension);
        match fit {
            Fit::Mass => of(Dimension::of(Base::Mass)),
            Fit::Volume => of(Dimension::of(Base::Volume)),
            Fit::MassOrVolume => [Base::Mass, Base::Volume]
                .into_iter()
                .flat_map(|base| of(Dimension::of(base)))
                .collect(),
            Fit::Length => of(Dimension::of(Base::Length)),
            Fit::Time => of(Dimension::of(Base::Time)),
            Fit::Density => of(Dimension::per(Base::Mass, Base::Volume)),
            Fit::DailyMass => of(Dimension::per(Base::Mass, Base::Time)),
            Fit::Share => of(Dimension::SHARE),
            Fit::Percent => vec!["%".to_owned()],
            Fit::Money => currencies(self.view),
            Fit::Price => prices(self.view),
            Fit::Per => ["kg", "t", "g", "lb", "L", "day"]
                .map(str::to_owned)
                .to_vec(),
            Fit::Amount(name) => self.of_amount(name),
            Fit::Content(name, over, is_bound) => self.of_content(name, over.as_deref(), *is_bound),
        }
    }

    /// Shares and masses; a volume only where the ingredient's density is known.
    fn of_amount(&self, name: &str) -> Vec<String> {
        let mut units = ["%", "kg", "g", "kg/t", "g/kg", "mg/kg", "t", "lb"]
            .map(str::to_owned)
            .to_vec();
        let has_density = self
            .view
            .ingredient_called(name)
            .is_some_and(|ingredient| ingredient.bulk_density.is_some());
        if has_density {
            units.extend(["L", "mL"].map(str::to_owned));
        }
        units.extend(["kg/day", "g/day"].map(str::to_owned));
        units
    }

    fn of_content(&self, name: &str, over: Option<&str>, is_bound: bool) -> Vec<String> {
        let Some(counted) = self.view.counted(name) else {
            let all = [Dimension::SHARE, Dimension::per(Base::Energy, Base::Mass)];
            let activities = [Activity::Iu, Activity::U, Activity::Ftu, Activity::Cfu];
            let activities = activities.map(Dimension::activity_per_mass);
            return all.iter().chain(&activities).flat_map(fitting).collect();
        };
        if let Some(over) = over {
            let over = self
                .view
                .counted(over)
                .and_then(|over| counted.dimension.over(&over.dimension));
            // One share over another has no unit.
            return over
                .filter(|it| !it.is_share())
                .map(|it| fitting(&it))
                .unwrap_or_default();
        }
        let mut units: Vec<String> = counted
            .units
            .iter()
            .map(|unit| (*unit).to_owned())
            .collect();
        units.extend(fitting(&counted.dimension));
        let eaten = Dimension::per(Base::Mass, Base::Time);
        if let Some(daily) = counted.dimension.times(&eaten).filter(|_| is_bound) {
            units.extend(fitting(&daily));
        }
        let mut seen = Vec::new();
        for unit in units {
            if !seen.contains(&unit) {
                seen.push(unit);
            }
        }
        seen
    }
}

/// The money the texts in sight count in, that of this text first.
pub(super) fn currencies(view: &View<'_>) -> Vec<String> {
    let mut seen: Vec<String> = Vec::new();
    for &file in view.sees() {
        for item in &view.farm().tree(file).items {
            let quantities: Vec<_> = match &item.body {
                ItemBody::Rate(rate) => vec![&rate.from, &rate.to],
                ItemBody::Ingredient(ingredient) => ingredient
                    .lines
                    .iter()
                    .filter_map(|line| match &line.statement {
                        IngredientStatement::Price { value, .. } => Some(value),
                        _ => None,
                    })
                    .collect(),
                _ => continue,
            };
            let units = quantities
                .into_iter()
                .filter_map(|quantity| quantity.unit.as_ref());
            for unit in units {
                let code = unit.unit.text.as_str();
                if trug_model::quantity::is_currency(code)
                    && !seen.iter().any(|known| known == code)
                {
                    seen.push(code.to_owned());
                }
            }
        }
    }
    for common in ["EUR", "USD", "INR", "KES", "LKR"] {
        if !seen.iter().any(|known| known == common) {
            seen.push(common.to_owned());
        }
    }
    seen
}

fn prices(view: &View<'_>) -> Vec<String> {
    let currencies = currencies(view);
    let per = |per: &'static str| currencies.iter().map(move |code| format!("{code}/{per}"));
    per("kg").chain(per("t")).collect()
}
