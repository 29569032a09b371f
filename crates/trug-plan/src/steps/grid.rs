//! The amounts in which carrier may enter early: at most two significant figures, and weighable.

use trug_model::Q;

use crate::amounts::Case;
use crate::order::Scale;
use crate::scales::{carrier_error, one_load};

/// Everything that some scale can give.
#[derive(Clone, Debug, Default)]
pub(crate) struct Grid {
    bands: Vec<Band>,
}

/// What one scale can give, in units of the search.
#[derive(Clone, Debug)]
struct Band {
    division: i128,
    /// What the figures count: grams; divisions where the division is of another measure.
    unit: i128,
    low: i128,
    high: i128,
}

impl Grid {
    /// The amounts that the scales of the case can give, in units of which a gram has `per_gram`.
    pub(crate) fn new(case: &Case, per_gram: i128) -> Grid {
        if case.order.scales.is_empty() {
            return Grid::without_scales(case, per_gram);
        }
        let bands = case
            .order
            .scales
            .iter()
            .filter_map(|scale| band(case, scale, per_gram))
            .collect();
        Grid { bands }
    }

    /// Where there is no scale yet, every amount of two figures: that a scale is wanted is said once, of the weighings.
    fn without_scales(case: &Case, per_gram: i128) -> Grid {
        let total = (&case.total * &Q::of_parts(per_gram, 1)).floor().parts();
        let bands = total.map(|(high, _)| Band {
            division: 1,
            unit: smallest_unit(per_gram),
            low: 1,
            high: high.min(super::LARGEST),
        });
        Grid {
            bands: bands.into_iter().collect(),
        }
    }

    /// The smallest amount there is.
    pub(crate) fn smallest(&self) -> Option<i128> {
        self.at_least(1)
    }

    /// The smallest amount not below `mass`.
    pub(crate) fn at_least(&self, mass: i128) -> Option<i128> {
        self.bands
            .iter()
            .filter_map(|band| band.at_least(mass))
            .min()
    }

    /// The largest amount not above `mass`.
    pub(crate) fn at_most(&self, mass: i128) -> Option<i128> {
        self.bands
            .iter()
            .filter_map(|band| band.at_most(mass))
            .max()
    }
}

fn band(case: &Case, scale: &Scale, per_gram: i128) -> Option<Band> {
    let units = |mass: &Q| -> Option<i128> {
        let (over, under) = (mass * &Q::of_parts(per_gram, 1)).parts()?;
        (under == 1 && over > 0 && over < super::LARGEST).then_some(over)
    };
    let division = units(&scale.division_g)?;
    let readable = scale.division_g.over(&carrier_error())?;
    let mut least = readable.max(scale.minimum_g.clone());
    let load = one_load(case, scale);
    // Several loads can share any mass only where two of the least are no more than one full one.
    let most = if &scale.minimum_g * &Q::int(2) <= load {
        case.total.clone()
    } else {
        load.clone().min(case.total.clone())
    };
    let mut most = most.floor_to(&scale.division_g);
    let mut unit = smallest_unit(per_gram);
    if !has_two_figures(&scale.division_g) {
        unit = division;
        let scales = case.order.scales.iter();
        // An amount counts in the divisions of the scale that weighs it: what another would weigh instead is left to that one.
        for other in scales.filter(|other| other.division_g != scale.division_g) {
            most = most.min(load.floor_to(&scale.division_g));
            if other.division_g < scale.division_g {
                least = least.max(one_load(case, other) + &scale.division_g);
            }
        }
    }
    let low = units(&least.ceil_to(&scale.division_g))?;
    let high = units(&most)?;
    Some(Band {
        division,
        unit,
        low,
        high,
    })
}

/// The smallest decimal part of a gram that is a whole number of units.
fn smallest_unit(per_gram: i128) -> i128 {
    let mut unit = per_gram;
    while unit % 10 == 0 {
        unit /= 10;
    }
    unit
}

/// Whether at most two significant figures write it in grams.
fn has_two_figures(mass: &Q) -> bool {
    let figures = mass.rounded(12).replace('.', "");
    let figures = figures.trim_matches('0');
    mass.decimals_end() && figures.len() <= 2
}

impl Band {
    fn at_least(&self, mass: i128) -> Option<i128> {
        let mass = mass.max(self.low);
        if mass > self.high {
            return None;
        }
        let mut figure = self.unit;
        loop {
            if figure * 100 >= mass {
                let step = common_multiple(self.division, figure)?;
                let amount = -(-mass).div_euclid(step) * step;
                if amount <= figure * 100 {
                    return (amount <= self.high).then_some(amount);
                }
            }
            figure = figure.checked_mul(10)?;
            if figure > self.high {
                return None;
            }
        }
    }

    fn at_most(&self, mass: i128) -> Option<i128> {
        let mut mass = mass.min(self.high);
        let mut figure = self.unit;
        while figure.checked_mul(100)? < mass {
            figure *= 10;
        }
        while mass >= self.low && figure >= self.unit {
            let step = common_multiple(self.division, figure)?;
            let amount = mass / step * step;
            if amount >= figure * 10 || (amount > 0 && figure == self.unit) {
                return (amount >= self.low).then_some(amount);
            }
            mass = mass.min(figure * 10);
            figure /= 10;
        }
        None
    }
}

fn common_multiple(one: i128, other: i128) -> Option<i128> {
    let (mut a, mut b) = (one, other);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    (one / a).checked_mul(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn band(division: i128, low: i128, high: i128) -> Band {
        Band {
            division,
            unit: 1,
            low,
            high,
        }
    }

    fn amounts(band: &Band) -> Vec<i128> {
        let has_two_figures = |amount: i128| {
            let mut figures = amount;
            while figures % 10 == 0 {
                figures /= 10;
            }
            figures < 100
        };
        (band.low..=band.high)
            .filter(|amount| amount % band.division == 0 && has_two_figures(*amount))
            .collect()
    }

    #[test]
    fn the_nearest_amounts_are_found() {
        for band in [
            band(1, 10, 5000),
            band(5, 50, 2300),
            band(2, 20, 999),
            band(50, 500, 7777),
            band(7, 70, 3000),
            band(250, 2500, 12000),
        ] {
            let all = amounts(&band);
            for mass in 1..band.high + 10 {
                let above = all.iter().copied().find(|amount| *amount >= mass);
                let below = all.iter().copied().rfind(|amount| *amount <= mass);
                assert_eq!(band.at_least(mass), above, "{band:?} {mass}");
                assert_eq!(band.at_most(mass), below, "{band:?} {mass}");
            }
        }
    }
}
