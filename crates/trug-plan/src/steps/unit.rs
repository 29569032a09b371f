//! The mass that the search counts in: whole numbers of it are exact and quick to compare.

use trug_model::Q;

use super::LARGEST;
use crate::amounts::Case;
use crate::draft::Part;
use crate::preblend::Preblend;

/// The mass that the search counts in.
#[derive(Clone, Copy, Debug)]
pub(super) struct Unit {
    pub(super) per_gram: i128,
    /// Whether every mass is a whole number of it.
    pub(super) is_exact: bool,
}

impl Unit {
    /// The largest that measures everything; else one so fine that nothing is lost that a scale could show.
    pub(super) fn of(case: &Case, small: &[Part], preblend: &Preblend, all: &Q) -> Unit {
        let divisions = case.order.scales.iter().map(|scale| &scale.division_g);
        let masses = small.iter().map(|part| &part.mass);
        let carriers = preblend.carriers.iter().map(|carrier| &carrier.mass);
        let common = divisions
            .chain(masses)
            .chain(carriers)
            .try_fold(1_i128, |common, mass| {
                let (_, under) = mass.parts()?;
                let (mut a, mut b) = (common, under);
                while b != 0 {
                    (a, b) = (b, a % b);
                }
                (common / a).checked_mul(under)
            });
        let fits = |per_gram: &i128| all * &Q::of_parts(*per_gram, 1) < Q::of_parts(LARGEST, 1);
        match common.filter(fits) {
            Some(per_gram) => Unit {
                per_gram,
                is_exact: true,
            },
            None => {
                let fitting = (0..15).map(|power| 10_i128.pow(15 - power)).find(fits);
                Unit {
                    per_gram: fitting.unwrap_or(1),
                    is_exact: false,
                }
            }
        }
    }

    /// A mass in this unit, down.
    pub(super) fn down(&self, mass: &Q) -> i128 {
        let units = (mass * &Q::of_parts(self.per_gram, 1)).floor();
        units.parts().map_or(LARGEST, |(over, _)| over.min(LARGEST))
    }

    /// A mass in this unit, up.
    pub(super) fn up(&self, mass: &Q) -> i128 {
        let units = (mass * &Q::of_parts(self.per_gram, 1)).ceil();
        units.parts().map_or(LARGEST, |(over, _)| over.min(LARGEST))
    }

    pub(super) fn mass(&self, units: i128) -> Q {
        Q::of_parts(units, self.per_gram)
    }
}
