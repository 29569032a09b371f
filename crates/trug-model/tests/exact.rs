//! Quantities against a second implementation: plain fractions of big integers, reduced at the end only.

#![expect(clippy::unwrap_used, reason = "the inputs are made to be read")]

use dashu_int::ops::Gcd;
use dashu_int::{IBig, UBig};
use proptest::prelude::*;
use trug_model::Q;

/// A fraction that is never reduced.
#[derive(Clone, Debug)]
struct Plain(IBig, UBig);

impl Plain {
    fn plus(&self, other: &Plain) -> Plain {
        let above = &self.0 * IBig::from(other.1.clone()) + &other.0 * IBig::from(self.1.clone());
        Plain(above, &self.1 * &other.1)
    }

    fn times(&self, other: &Plain) -> Plain {
        Plain(&self.0 * &other.0, &self.1 * &other.1)
    }

    fn negated(&self) -> Plain {
        Plain(-self.0.clone(), self.1.clone())
    }

    fn inverted(&self) -> Plain {
        let (sign, size) = self.0.clone().into_parts();
        Plain(IBig::from_parts(sign, self.1.clone()), size)
    }

    fn shown(&self) -> String {
        let size = UBig::try_from(if self.0 < IBig::ZERO {
            -self.0.clone()
        } else {
            self.0.clone()
        })
        .unwrap();
        let common = (&size).gcd(&self.1);
        format!(
            "{}/{}",
            &self.0 / IBig::from(common.clone()),
            &self.1 / common
        )
    }
}

/// Numbers near and beyond what fits a machine word.
fn whole() -> impl Strategy<Value = i128> {
    prop_oneof![
        -1000i128..1000,
        any::<i64>().prop_map(i128::from),
        Just(i128::from(i64::MAX)),
        Just(i128::from(i64::MIN)),
        any::<i128>(),
    ]
}

fn pair() -> impl Strategy<Value = (Q, Plain)> {
    (whole(), whole()).prop_filter_map("a denominator above zero", |(above, below)| {
        let below = below.checked_abs().filter(|below| *below > 0)?;
        let q = Q::fraction(&format!("{above}/{below}"))?;
        Some((
            q,
            Plain(IBig::from(above), UBig::from(below.unsigned_abs())),
        ))
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4000))]

    #[test]
    fn arithmetic_agrees_with_plain_fractions((a, p) in pair(), (b, q) in pair()) {
        prop_assert_eq!((&a + &b).exact(), p.plus(&q).shown());
        prop_assert_eq!((&a - &b).exact(), p.plus(&q.negated()).shown());
        prop_assert_eq!((&a * &b).exact(), p.times(&q).shown());
        if !b.is_zero() {
            prop_assert_eq!((&a / &b).exact(), p.times(&q.inverted()).shown());
        }
    }

    #[test]
    fn equal_numbers_are_equal_however_they_came_about((a, _) in pair(), (b, _) in pair()) {
        let there_and_back = &(&a + &b) - &b;
        prop_assert_eq!(&there_and_back, &a);
        prop_assert_eq!(there_and_back.cmp(&a), std::cmp::Ordering::Equal);
        prop_assert_eq!(a < b, (&b - &a).is_positive());
        prop_assert!(a.floor() <= a && a <= a.ceil());
        prop_assert!(&a.ceil() - &a.floor() <= Q::ONE);
    }

    #[test]
    fn decimals_keep_every_digit(whole in "[0-9]{1,20}", fraction in "[0-9]{1,12}") {
        let value = Q::decimal(&format!("{whole}.{fraction}")).unwrap();
        let trimmed = whole.trim_start_matches('0');
        let shown = format!("{}.{fraction}", if trimmed.is_empty() { "0" } else { trimmed });
        prop_assert_eq!(value.to_string(), shown.trim_end_matches('0').trim_end_matches('.'));
    }
}
