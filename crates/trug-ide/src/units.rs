//! One quantity in other units, exactly.

use trug_model::Q;
use trug_model::quantity::{Activity, Base, Dimension, Shown, word};

const SHARE: &[&str] = &["%", "g/kg", "kg/t", "mg/kg", "g/t", "ppm"];
const MASS: &[&str] = &["kg", "g", "t", "mg", "lb", "oz"];
const VOLUME: &[&str] = &["L", "mL", "m3"];
const LENGTH: &[&str] = &["mm", "um"];
const ENERGY: &[&str] = &["MJ", "kJ", "kcal", "Mcal"];
const TIME: &[&str] = &["days", "weeks", "h"];
const DENSITY: &[&str] = &["kg/L", "g/mL", "kg/m3"];
const ENERGY_DENSITY: &[&str] = &["MJ/kg", "kcal/kg", "Mcal/kg", "kJ/g"];
const CHARGE_DENSITY: &[&str] = &["meq/kg", "eq/kg"];
const DAILY_MASS: &[&str] = &["g/day", "kg/day"];
const DAILY_ENERGY: &[&str] = &["MJ/day", "kcal/day"];
const PER_ENERGY: &[&str] = &["g/MJ", "g/kcal", "mg/MJ"];
const CHARGE: &[&str] = &["eq", "meq"];

/// The units one would count such a thing in, the commonest first.
pub(crate) fn fitting(dimension: &Dimension) -> Vec<String> {
    let fixed = [
        (Dimension::SHARE, SHARE),
        (Dimension::of(Base::Mass), MASS),
        (Dimension::of(Base::Volume), VOLUME),
        (Dimension::of(Base::Length), LENGTH),
        (Dimension::of(Base::Energy), ENERGY),
        (Dimension::of(Base::Charge), CHARGE),
        (Dimension::of(Base::Time), TIME),
        (Dimension::per(Base::Mass, Base::Volume), DENSITY),
        (Dimension::per(Base::Energy, Base::Mass), ENERGY_DENSITY),
        (Dimension::per(Base::Charge, Base::Mass), CHARGE_DENSITY),
        (Dimension::per(Base::Mass, Base::Time), DAILY_MASS),
        (Dimension::per(Base::Energy, Base::Time), DAILY_ENERGY),
        (Dimension::per(Base::Mass, Base::Energy), PER_ENERGY),
    ];
    if let Some((_, units)) = fixed.iter().find(|(known, _)| known == dimension) {
        return units.iter().map(|unit| (*unit).to_owned()).collect();
    }
    if let Some(currency) = dimension.currency() {
        let ways: &[&str] = if dimension.is_per(Base::Money, Base::Mass) {
            &["/kg", "/t", "/lb"]
        } else {
            &[""]
        };
        return ways.iter().map(|way| format!("{currency}{way}")).collect();
    }
    let activities = [Activity::Iu, Activity::U, Activity::Ftu, Activity::Cfu];
    let of = |activity: &Activity| *dimension == Dimension::activity_per_mass(*activity);
    match activities.iter().find(|activity| of(activity)) {
        Some(activity) => ["/kg", "/g", "/t"]
            .iter()
            .map(|per| format!("{}{per}", activity.sign()))
            .collect(),
        None => Vec::new(),
    }
}

/// A unit by its text, as `kg/t`; none where the trade has none of that name.
pub(crate) fn unit(text: &str) -> Option<(Shown, Dimension)> {
    let (above, below) = match text.split_once('/') {
        Some((above, below)) => (above, Some(below)),
        None => (text, None),
    };
    let above = word(above)?;
    let (factor, dimension) = match below {
        None => (above.factor, above.dimension),
        Some(below) => {
            let below = word(below)?;
            let dimension = above.dimension.over(&below.dimension)?;
            (above.factor.over(&below.factor)?, dimension)
        }
    };
    Some((Shown::new(text, factor), dimension))
}

/// A value in base units in every other unit one would count it in: the unit and how many of it.
pub(crate) fn others(value: &Q, dimension: &Dimension, written: &str) -> Vec<(String, Q)> {
    let units = fitting(dimension)
        .into_iter()
        .filter(|unit| unit != written);
    let counted = units.filter_map(|text| {
        let (shown, _) = unit(&text).filter(|(_, counts)| counts == dimension)?;
        Some((text, shown.of(value)))
    });
    counted.collect()
}

/// Whether a number reads well: no long row of noughts before or behind the point.
pub(crate) fn is_handy(value: &Q) -> bool {
    let size = value.abs();
    size.is_zero() || (Q::ratio(1, 1000) <= size && size < Q::int(10_000))
}

/// A number for reading, which says where it is rounded.
pub(crate) fn number(value: &Q) -> String {
    let exact = value.to_string();
    if value.decimals_end() && exact.len() <= 12 {
        exact
    } else {
        format!("≈ {}", value.readable(6))
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "the units are in the table")]
mod tests {
    use super::*;

    #[test]
    fn every_unit_that_is_offered_is_one() {
        for dimension in [
            "%", "kg", "L", "mm", "MJ", "eq", "days", "kg/L", "MJ/kg", "meq/kg", "g/day", "MJ/day",
            "g/MJ", "LKR/kg", "LKR", "IU/kg", "FTU/kg",
        ] {
            let (_, dimension) = unit(dimension).unwrap();
            let fitting = fitting(&dimension);
            assert!(!fitting.is_empty());
            for text in fitting {
                assert_eq!(unit(&text).unwrap().1, dimension, "{text}");
            }
        }
    }

    /// 1 kcal = 4.184 kJ (thermochemical; UCUM `cal_th`); 1 lb = 0.45359237 kg (international yard and pound agreement, 1959).
    #[test]
    fn conversions_agree_with_published_factors() {
        let in_unit = |value: &str, from: &str, to: &str| {
            let (shown, dimension) = unit(from).unwrap();
            let base = Q::decimal(value).unwrap() * &shown.factor;
            let others = others(&base, &dimension, from);
            others
                .into_iter()
                .find(|(text, _)| text == to)
                .unwrap()
                .1
                .to_string()
        };
        assert_eq!(in_unit("1", "kcal", "kJ"), "4.184");
        assert_eq!(in_unit("2800", "kcal/kg", "MJ/kg"), "11.7152");
        assert_eq!(in_unit("1", "lb", "kg"), "0.45359237");
        assert_eq!(in_unit("16", "oz", "lb"), "1");
        assert_eq!(in_unit("2.5", "kg/t", "%"), "0.25");
        assert_eq!(in_unit("0.3", "mg/kg", "ppm"), "0.3");
    }
}
