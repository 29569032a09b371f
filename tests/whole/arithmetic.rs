//! Arithmetic against that of another library: `BigRational` of the crate `num-rational`, which shares nothing with ours.

use num_bigint::BigInt;
use num_rational::BigRational;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use trug_model::Q;

pub(crate) fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(2026),
        ..ProptestConfig::default()
    }
}

pub(crate) fn whole(number: i64) -> BigRational {
    BigRational::from_integer(BigInt::from(number))
}

pub(crate) fn ratio(above: i64, below: i64) -> BigRational {
    BigRational::new(BigInt::from(above), BigInt::from(below))
}

/// Digits with a point, read by hand.
pub(crate) fn read(digits: &str) -> BigRational {
    let (front, back) = digits.split_once('.').unwrap_or((digits, ""));
    let above: BigInt = format!("{front}{back}").parse().unwrap();
    let below = BigInt::from(10).pow(u32::try_from(back.len()).unwrap());
    BigRational::new(above, below)
}

/// The tool's number in the other arithmetic.
pub(crate) fn other(number: &Q) -> BigRational {
    let exact = number.exact();
    let (above, below) = exact.split_once('/').unwrap();
    BigRational::new(above.parse().unwrap(), below.parse().unwrap())
}

fn ours(number: &BigRational) -> Q {
    Q::fraction(&format!("{}/{}", number.numer(), number.denom())).unwrap()
}

/// Numbers near and beyond what fits a machine word.
fn number() -> impl Strategy<Value = BigRational> {
    let part = || {
        prop_oneof![
            4 => (-2000_i128..2000).boxed(),
            2 => any::<i64>().prop_map(i128::from).boxed(),
            1 => any::<i128>().boxed(),
        ]
    };
    let size = prop_oneof![4 => 1_i128..2000, 1 => 1_i128..i128::MAX];
    (part(), size).prop_map(|(above, below)| BigRational::new(above.into(), below.into()))
}

/// `number` over `step`, rounded half to even, times `step`.
fn half_even(number: &BigRational) -> BigRational {
    let floor = number.floor();
    let rest = number - &floor;
    let is_odd = floor.numer() % 2 != BigInt::ZERO;
    let goes_up = ratio(1, 2) < rest || (rest == ratio(1, 2) && is_odd);
    if goes_up { floor + whole(1) } else { floor }
}

proptest! {
    #![proptest_config(config(3000))]

    #[test]
    fn arithmetic_is_that_of_another_library((a, b) in (number(), number())) {
        let (p, q) = (ours(&a), ours(&b));
        prop_assert_eq!(other(&(&p + &q)), &a + &b);
        prop_assert_eq!(other(&(&p - &q)), &a - &b);
        prop_assert_eq!(other(&(&p * &q)), &a * &b);
        prop_assert_eq!(p.over(&q).map(|it| other(&it)), (b != whole(0)).then(|| &a / &b));
        prop_assert_eq!(p.cmp(&q), a.cmp(&b));
        prop_assert_eq!(other(&p.floor()), a.floor());
        prop_assert_eq!(other(&p.ceil()), a.ceil());
        prop_assert_eq!(other(&p.round_half_even()), half_even(&a));
        prop_assert_eq!(other(&p.abs()), if a < whole(0) { -a } else { a });
    }

    #[test]
    fn what_is_printed_is_the_nearest_decimal((a, decimals) in (number(), 0_usize..13)) {
        let printed = ours(&a).rounded(decimals);
        let scale = BigRational::from_integer(BigInt::from(10).pow(u32::try_from(decimals).unwrap()));
        prop_assert_eq!(read(&printed), half_even(&(&a * &scale)) / scale, "{}", printed);
    }

    #[test]
    fn steps_are_whole((a, above, below) in (number(), 1_i64..5000, 1_i64..5000)) {
        let step = ratio(above, below);
        let (p, q) = (ours(&a), ours(&step));
        prop_assert_eq!(other(&p.floor_to(&q)), (&a / &step).floor() * &step);
        prop_assert_eq!(other(&p.ceil_to(&q)), (&a / &step).ceil() * &step);
        prop_assert_eq!(other(&p.round_to(&q)), half_even(&(&a / &step)) * &step);
    }
}
