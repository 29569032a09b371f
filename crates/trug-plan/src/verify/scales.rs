//! How far a scale may be off, from the table of OIML R 76, and which scale is the right one.

use trug_model::Q;

use super::number::Number;
use super::sheet::{AccuracyClass, Scale, Sheet, Weighing};

/// OIML R 76-1:2006, Table 6: up to so many divisions the error on verification is half a division,
/// up to so many one, above that one and a half.
fn limits(class: AccuracyClass) -> (i64, i64) {
    match class {
        AccuracyClass::One => (50_000, 200_000),
        AccuracyClass::Two => (5_000, 20_000),
        AccuracyClass::Three => (500, 2_000),
        AccuracyClass::Four => (50, 200),
    }
}

/// The possible error of one load: in service a scale may be off by twice the error on verification
/// (OIML R 76-1:2006, 3.5.2); where its class is not known, by one division.
pub(super) fn possible_error(scale: &Scale, load: &Number) -> Number {
    let divisions = match scale.class {
        None => 1,
        Some(class) => {
            let (half, one) = limits(class);
            if load.fits(&scale.division.times(&Q::int(half))) {
                1
            } else if load.fits(&scale.division.times(&Q::int(one))) {
                2
            } else {
                3
            }
        }
    };
    scale.division.times(&Q::int(divisions))
}

/// The most that one load may be: what the scale takes and one person lifts, in whole divisions.
pub(super) fn largest_load(scale: &Scale, lift: Option<&Number>) -> Q {
    let capacity = scale.capacity.value.clone();
    let most = match lift {
        Some(lift) => capacity.min(lift.value.clone()),
        None => capacity,
    };
    most.floor_to(&scale.division.value)
}

/// More loads than this for one weighing are no work for a hand: no scale is asked for them.
const MOST_LOADS: i64 = 100_000;

/// In how few loads a mass can be weighed; none where the scale takes nothing.
pub(super) fn fewest_loads(scale: &Scale, lift: Option<&Number>, mass: &Q) -> Option<Q> {
    Some(mass.over(&largest_load(scale, lift))?.ceil())
}

/// The loads a scale needs for `mass`, if it reads it within `allowed` grams whichever way the loads are cut.
pub(super) fn surely_reads(
    scale: &Scale,
    lift: Option<&Number>,
    mass: &Q,
    allowed: &Q,
) -> Option<Q> {
    let loads = fewest_loads(scale, lift, mass)?;
    if loads > Q::int(MOST_LOADS) {
        return None;
    }
    let each = mass.over(&loads)?.floor_to(&scale.division.value);
    if each < scale.minimum.value {
        return None;
    }
    let largest = Number::exact(largest_load(scale, lift).min(mass.clone()));
    let error = possible_error(scale, &largest).value * &loads;
    (error <= *allowed).then_some(loads)
}

/// How far a carrier's part may have been snapped: any scale that reads it within a tenth may have cut it before the
/// total asked for a finer one.
pub(super) fn snapped_by(sheet: &Sheet, weighing: &Weighing) -> Number {
    let own = weighing.scale.and_then(|rank| sheet.scales.get(rank));
    let ten = Q::int(10);
    sheet
        .scales
        .iter()
        .filter(|scale| scale.division.times(&ten).fits(&weighing.mass))
        .chain(own)
        .map(|scale| scale.division.clone())
        .max_by(|a, b| a.value.cmp(&b.value))
        .unwrap_or(Number::exact(Q::ZERO))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "the inputs are fixed")]
mod tests {
    use super::*;

    fn scale(division: &str, class: Option<AccuracyClass>) -> Scale {
        Scale {
            name: "bench".to_owned(),
            capacity: Number::read("10000000").unwrap(),
            division: Number::read(division).unwrap(),
            minimum: Number::read(division).unwrap(),
            class,
        }
    }

    /// Class III loads as derived from Table 6 of OIML R 76-1:2006, doubled for a scale in service.
    #[test]
    fn errors_in_service_follow_the_table() {
        let cases = [
            ("20", "1", "1"),
            ("500", "1", "1"),
            ("501", "1", "2"),
            ("2000", "1", "2"),
            ("2001", "1", "3"),
            ("10000", "1", "3"),
            ("2500", "5", "5"),
            ("2505", "5", "10"),
            ("10000", "5", "10"),
            ("10005", "5", "15"),
            ("50", "0.1", "0.1"),
            ("50.1", "0.1", "0.2"),
        ];
        for (load, division, error) in cases {
            let scale = scale(division, Some(AccuracyClass::Three));
            let load = Number::read(load).unwrap();
            assert_eq!(possible_error(&scale, &load).to_string(), error, "{load}");
        }
        let plain = scale("5", None);
        let load = Number::read("10005").unwrap();
        assert_eq!(possible_error(&plain, &load).to_string(), "5");
    }

    /// First and last load of each band for the other classes, from the same table.
    #[test]
    fn each_class_has_its_own_bands() {
        let bands = [
            (AccuracyClass::One, 50_000, 200_000),
            (AccuracyClass::Two, 5_000, 20_000),
            (AccuracyClass::Four, 50, 200),
        ];
        for (class, half, one) in bands {
            let scale = scale("1", Some(class));
            let error = |load| possible_error(&scale, &Number::exact(Q::int(load))).value;
            assert_eq!(error(half), Q::int(1));
            assert_eq!(error(half + 1), Q::int(2));
            assert_eq!(error(one), Q::int(2));
            assert_eq!(error(one + 1), Q::int(3));
        }
    }
}
