//! Chi-square against published tables and against sums that can be done by hand.

use super::{probability_below, quantile};

fn close(found: f64, wanted: f64, relative: f64) {
    let off = (found - wanted).abs();
    assert!(off <= relative * wanted.abs(), "{found} is not {wanted}");
}

fn at(probability: f64, freedom: f64) -> f64 {
    quantile(probability, freedom).unwrap_or(f64::NAN)
}

/// NIST/SEMATECH, *e-Handbook of Statistical Methods*, 1.3.6.7.4, critical values of the chi-square distribution: the
/// probability below, the degrees of freedom, the value to three decimals.
const TABLE: [(f64, f64, f64); 24] = [
    (0.025, 1.0, 0.001),
    (0.05, 1.0, 0.004),
    (0.95, 1.0, 3.841),
    (0.975, 1.0, 5.024),
    (0.025, 5.0, 0.831),
    (0.05, 5.0, 1.145),
    (0.95, 5.0, 11.070),
    (0.975, 5.0, 12.833),
    (0.025, 9.0, 2.700),
    (0.05, 9.0, 3.325),
    (0.95, 9.0, 16.919),
    (0.975, 9.0, 19.023),
    (0.025, 10.0, 3.247),
    (0.05, 10.0, 3.940),
    (0.95, 10.0, 18.307),
    (0.975, 10.0, 20.483),
    (0.025, 30.0, 16.791),
    (0.05, 30.0, 18.493),
    (0.95, 30.0, 43.773),
    (0.975, 30.0, 46.979),
    (0.025, 100.0, 74.222),
    (0.05, 100.0, 77.929),
    (0.95, 100.0, 124.342),
    (0.975, 100.0, 129.561),
];

#[test]
fn the_published_table_is_met_to_its_last_digit() {
    for (probability, freedom, wanted) in TABLE {
        let found = at(probability, freedom);
        assert!(
            (found - wanted).abs() <= 0.000_5 + 1e-9,
            "{probability} of {freedom}: {found} is not {wanted}"
        );
    }
}

#[test]
fn two_degrees_of_freedom_are_a_logarithm() {
    for probability in [1e-9, 0.025, 0.05, 0.3, 0.5, 0.7, 0.95, 0.975, 0.999_999] {
        close(
            at(probability, 2.0),
            -2.0 * libm::log1p(-probability),
            1e-13,
        );
    }
}

#[test]
fn one_degree_of_freedom_is_the_normal_distribution() {
    for value in [1e-8, 0.001, 0.5, 1.0, 3.84, 30.0] {
        let wanted = libm::erf(f64::sqrt(value / 2.0));
        close(probability_below(value, 1.0), wanted, 1e-13);
    }
}

/// With 2k degrees of freedom the part above is a sum of k terms of Poisson's.
#[test]
fn even_degrees_of_freedom_are_a_finite_sum() {
    for half in [1_u32, 2, 5, 10, 50] {
        for value in [0.5, 4.0, 10.0, 60.0, 130.0] {
            let mut term = libm::exp(-value / 2.0);
            let mut above = 0.0;
            for rank in 1..=half {
                above += term;
                term *= value / 2.0 / f64::from(rank);
            }
            let found = 1.0 - probability_below(value, 2.0 * f64::from(half));
            assert!((found - above).abs() < 1e-13, "{half} {value}");
        }
    }
}

#[test]
fn a_quantile_leads_back_to_its_probability() {
    for freedom in [1.0, 2.0, 3.0, 9.0, 99.0, 4_999.0, 99_999.0] {
        for probability in [1e-6, 0.025, 0.05, 0.5, 0.95, 0.975, 0.999_99] {
            let back = probability_below(at(probability, freedom), freedom);
            close(back, probability, 1e-9);
        }
    }
}

#[test]
fn what_is_no_probability_has_no_quantile() {
    for (probability, freedom) in [
        (0.0, 5.0),
        (1.0, 5.0),
        (-0.1, 5.0),
        (f64::NAN, 5.0),
        (0.5, 0.0),
        (0.5, -1.0),
        (0.5, f64::INFINITY),
        (0.5, f64::NAN),
    ] {
        assert_eq!(quantile(probability, freedom), None);
    }
}
