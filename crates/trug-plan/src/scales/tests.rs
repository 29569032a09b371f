//! Published values for scales.

use super::*;

/// C01: OIML R 76-1:2006(E), Table 6. Lower bounds are exclusive, upper ones inclusive.
#[test]
fn permissible_errors() {
    let half = Q::ratio(1, 2);
    let one_and_half = Q::ratio(3, 2);
    for (class, first, second) in [
        (AccuracyClass::I, 50_000, 200_000),
        (AccuracyClass::II, 5_000, 20_000),
        (AccuracyClass::III, 500, 2_000),
        (AccuracyClass::IIII, 50, 200),
    ] {
        assert_eq!(permissible(class, &Q::ZERO), half);
        assert_eq!(permissible(class, &Q::int(first)), half);
        assert_eq!(permissible(class, &Q::int(first + 1)), Q::ONE);
        assert_eq!(permissible(class, &Q::int(second)), Q::ONE);
        assert_eq!(permissible(class, &Q::int(second + 1)), one_and_half);
    }
}

/// C03: class III spot values, computed from C01. In service twice as much is permitted (OIML R 76).
#[test]
fn errors_in_grams() {
    for (load, division, permitted) in [
        ("20", "1", "0.5"),
        ("500", "1", "0.5"),
        ("501", "1", "1"),
        ("2000", "1", "1"),
        ("2001", "1", "1.5"),
        ("10000", "1", "1.5"),
        ("2500", "5", "2.5"),
        ("2505", "5", "5"),
        ("10000", "5", "5"),
        ("10005", "5", "7.5"),
        ("50", "0.1", "0.05"),
        ("50.1", "0.1", "0.1"),
    ] {
        let grams = |text: &str| Q::decimal(text).unwrap_or_default();
        let scale = Scale {
            name: "bench".to_owned(),
            capacity_g: Q::int(15_000),
            division_g: grams(division),
            minimum_g: grams(division),
            class: Some(AccuracyClass::III),
        };
        let error = error_of(&scale, &grams(load));
        assert_eq!(
            error,
            grams(permitted) * Q::int(2),
            "{load} g by {division} g"
        );
    }
}

fn scale(capacity: i64, division: i64, minimum: i64) -> Scale {
    Scale {
        name: "hook".to_owned(),
        capacity_g: Q::int(capacity),
        division_g: Q::int(division),
        minimum_g: Q::int(minimum),
        class: None,
    }
}

#[test]
fn loads_are_full_ones_and_what_is_left() {
    let runs = |capacity, minimum, mass| {
        let scale = scale(capacity, 100, minimum);
        let runs = loads(&scale, &Q::int(mass), &scale.capacity_g)?;
        let plain = runs
            .iter()
            .filter_map(|(times, load)| Some((*times, load.to_i64()?)));
        Some(plain.collect::<Vec<_>>())
    };
    assert_eq!(runs(25_000, 100, 20_000), Some(vec![(1, 20_000)]));
    assert_eq!(runs(25_000, 100, 50_000), Some(vec![(2, 25_000)]));
    assert_eq!(
        runs(25_000, 100, 55_400),
        Some(vec![(2, 25_000), (1, 5_400)])
    );
    assert_eq!(
        runs(25_000, 2_000, 50_300),
        Some(vec![(1, 25_000), (1, 12_700), (1, 12_600)])
    );
    assert_eq!(
        runs(25_000, 20_000, 62_000),
        Some(vec![(2, 20_700), (1, 20_600)])
    );
    assert_eq!(
        runs(25_000, 20_000, 30_000),
        None,
        "two loads would be below the minimum"
    );
    assert_eq!(runs(25_000, 100, 150), None, "not on a division");
}
