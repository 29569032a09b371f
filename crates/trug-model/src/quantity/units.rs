//! The units the trade uses, with the exact size of each in base units.
//!
//! Sizes: SI; lb = 0.45359237 kg and oz = lb ÷ 16 exactly (UCUM `[lb_av]`, `[oz_av]`); kcal = 4.184 kJ
//! (thermochemical, UCUM `cal_th`).

use std::sync::LazyLock;

use crate::Q;
use crate::quantity::currencies::is_currency;
use crate::quantity::dimension::{Activity, Base, Dimension};

/// What one of a unit is.
#[derive(Clone, Debug, PartialEq)]
pub struct Factor {
    /// Base units in one.
    pub factor: Q,
    /// Of what.
    pub dimension: Dimension,
}

/// Sign, base kind, and base units in one as numerator and denominator.
const TABLE: &[(&str, Base, i64, i64)] = &[
    ("ug", Base::Mass, 1, 1_000_000_000),
    ("mg", Base::Mass, 1, 1_000_000),
    ("g", Base::Mass, 1, 1_000),
    ("kg", Base::Mass, 1, 1),
    ("t", Base::Mass, 1_000, 1),
    ("lb", Base::Mass, 45_359_237, 100_000_000),
    ("oz", Base::Mass, 45_359_237, 1_600_000_000),
    ("mL", Base::Volume, 1, 1_000),
    ("L", Base::Volume, 1, 1),
    ("m3", Base::Volume, 1_000, 1),
    ("um", Base::Length, 1, 1_000),
    ("mm", Base::Length, 1, 1),
    ("J", Base::Energy, 1, 1_000_000),
    ("kJ", Base::Energy, 1, 1_000),
    ("MJ", Base::Energy, 1, 1),
    ("kcal", Base::Energy, 4_184, 1_000_000),
    ("Mcal", Base::Energy, 4_184, 1_000),
    ("eq", Base::Charge, 1, 1),
    ("meq", Base::Charge, 1, 1_000),
    ("h", Base::Time, 1, 24),
    ("day", Base::Time, 1, 1),
    ("days", Base::Time, 1, 1),
    ("week", Base::Time, 7, 1),
    ("weeks", Base::Time, 7, 1),
];

const ACTIVITIES: [Activity; 4] = [Activity::Iu, Activity::U, Activity::Ftu, Activity::Cfu];

/// The units by their signs, sorted, each made once.
static UNITS: LazyLock<Vec<(&'static str, Factor)>> = LazyLock::new(|| {
    let of_table = TABLE.iter().map(|(sign, base, above, below)| {
        let factor = Q::ratio(*above, *below);
        (
            *sign,
            Factor {
                factor,
                dimension: Dimension::of(*base),
            },
        )
    });
    let share = |below| Factor {
        factor: Q::ratio(1, below),
        dimension: Dimension::SHARE,
    };
    let activity = |activity: Activity| {
        let dimension = Dimension::activity(activity);
        (
            activity.sign(),
            Factor {
                factor: Q::ONE,
                dimension,
            },
        )
    };
    let mut units: Vec<(&'static str, Factor)> = of_table.collect();
    units.extend([("%", share(100)), ("ppm", share(1_000_000))]);
    units.extend(ACTIVITIES.map(activity));
    units.sort_by_key(|(sign, _)| *sign);
    units
});

/// The unit of that sign; none where the trade has none.
#[must_use]
pub fn word(sign: &str) -> Option<Factor> {
    if let Ok(rank) = UNITS.binary_search_by_key(&sign, |(known, _)| *known) {
        return Some(UNITS[rank].1.clone());
    }
    is_currency(sign).then(|| Factor {
        factor: Q::ONE,
        dimension: Dimension::money(sign),
    })
}

/// All signs but the currencies', for near names and completion.
#[must_use]
pub fn unit_words() -> Vec<&'static str> {
    UNITS.iter().map(|(sign, _)| *sign).collect()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "the signs are in the table")]
mod tests {
    use super::*;

    /// UCUM, The Unified Code for Units of Measure (case C46 of the published values).
    #[test]
    fn sizes_agree_with_ucum() {
        let size = |sign| word(sign).unwrap().factor;
        assert_eq!(size("lb"), Q::decimal("0.45359237").unwrap());
        assert_eq!(size("oz"), Q::decimal("0.028349523125").unwrap());
        assert_eq!(size("oz") * Q::int(16), size("lb"));
        assert_eq!(size("Mcal"), Q::decimal("4.184").unwrap());
        assert_eq!(size("kcal") * Q::int(1000), size("Mcal"));
        assert_eq!(size("ppm"), Q::ratio(1, 1_000_000));
        assert_eq!(size("%"), Q::ratio(1, 100));
        // kcal per lb to kcal per kg.
        let per_pound = size("lb").inverse().unwrap();
        assert!((per_pound.to_f64() - 2.204_622_621_848_776).abs() < 1e-15);
        // A short ton of 2,000 lb: 1 g in it is 1.1023113109243878 ppm.
        let short_ton = size("lb") * Q::int(2000);
        assert!((short_ton.to_f64() - 907.184_74).abs() < 1e-9);
        let ppm = (size("g") / short_ton) / size("ppm");
        assert!((ppm.to_f64() - 1.102_311_310_924_387_8).abs() < 1e-14);
    }

    /// UCUM 2.2 (case C47): `[iU]` and `eq` do not convert to mass; currencies are ISO 4217's.
    #[test]
    fn activities_and_money_stay_apart() {
        assert_ne!(
            word("IU").unwrap().dimension,
            word("FTU").unwrap().dimension
        );
        assert_ne!(word("IU").unwrap().dimension, word("mg").unwrap().dimension);
        assert_ne!(
            word("LKR").unwrap().dimension,
            word("EUR").unwrap().dimension
        );
        assert_eq!(word("meq").unwrap().factor, Q::ratio(1, 1000));
        for none in ["month", "year", "XYZ", "KG", "", "kgs"] {
            assert_eq!(word(none), None, "{none}");
        }
    }
}
