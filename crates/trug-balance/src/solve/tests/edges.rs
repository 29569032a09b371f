//! Small questions whose answers are known, at the edges of what can be asked.

use trug_model::Q;

use super::blends::{at_least_where_used, bound, sum};
use super::{Cheapest, Found, cheapest};
use crate::programme::{Bound, End, Exclusion, Programme, Share, Sum};
use crate::solve::watch::Watch;

fn decimal(text: &str) -> Q {
    Q::decimal(text).unwrap()
}

fn decimals(texts: &[&str]) -> Vec<Q> {
    texts.iter().map(|text| decimal(text)).collect()
}

/// A question of shares at these costs that make one.
fn of_costs(costs: &[&str]) -> Programme {
    let share = |cost: &&str| Share {
        cost: decimal(cost),
        or_none: false,
        now: None,
        is_rest: false,
    };
    Programme {
        shares: costs.iter().map(share).collect(),
        total: Q::ONE,
        fixed_cost: Q::ZERO,
        bounds: Vec::new(),
        exclusions: Vec::new(),
    }
}

fn found(programme: &Programme) -> Found {
    match cheapest(programme, &Watch::usual(&|| false)) {
        Cheapest::Found(found) => {
            assert_eq!(found.cost, found.cost_bound);
            found
        }
        other => panic!("{other:?}"),
    }
}

fn nothing(programme: &Programme) -> bool {
    cheapest(programme, &Watch::usual(&|| false)) == Cheapest::Nothing
}

#[test]
fn two_shares_and_a_protein() {
    // Maize at 0.30 with 80 g/kg, soya at 0.60 with 440 g/kg, 180 g/kg wanted: 5/18 soya, as the square of Pearson says.
    let mut programme = of_costs(&["0.3", "0.6"]);
    programme.bounds.push(bound(
        sum(decimals(&["80", "440"])),
        End::AtLeast,
        Q::int(180),
    ));
    let found = found(&programme);
    assert_eq!(found.shares, [Q::ratio(13, 18), Q::ratio(5, 18)]);
    assert!(found.bounds[0].is_binding);
    assert_eq!(found.bounds[0].price, Q::ratio(3, 10) / Q::int(360));
    assert_eq!(found.costs[0].high, Some(decimal("0.6")));
    assert_eq!(found.costs[0].low, None);
    assert_eq!(found.costs[1].low, Some(decimal("0.3")));
    assert_eq!(found.costs[1].high, None);
    assert_eq!(found.used, [true, true]);
}

#[test]
fn a_dear_share_enters_below_its_worth() {
    // At these prices a g/kg of protein is worth 1/1200 and the rest 0.3 - 80/1200: 300 g/kg are worth 0.3 + 220/1200.
    let mut programme = of_costs(&["0.3", "0.6", "0.9"]);
    programme.bounds.push(bound(
        sum(decimals(&["80", "440", "300"])),
        End::AtLeast,
        Q::int(180),
    ));
    let found = found(&programme);
    assert_eq!(
        found.costs[2].enters_below,
        Some(decimal("0.3") + Q::ratio(220, 1200))
    );
    assert_eq!(found.costs[2].high, None);
    assert_eq!(found.costs[0].enters_below, None);
}

#[test]
fn one_share_is_the_whole() {
    let one = of_costs(&["7"]);
    assert_eq!(found(&one).shares, [Q::ONE]);
    let mut none = of_costs(&[]);
    assert!(nothing(&none));
    none.total = Q::ZERO;
    assert!(found(&none).shares.is_empty());
}

#[test]
fn nothing_costs_nothing() {
    let mut programme = of_costs(&["0", "0", "0"]);
    programme.total = decimal("0.85");
    programme.bounds.push(bound(
        sum(decimals(&["1", "0", "0"])),
        End::AtMost,
        decimal("0.25"),
    ));
    assert_eq!(found(&programme).shares, decimals(&["0.25", "0.6", "0"]));
}

#[test]
fn a_ratio_of_calcium_to_phosphorus() {
    let mut programme = of_costs(&["0.2", "0.1"]);
    let ratio = |limit: &str, end: End| Bound {
        below: Sum {
            constant: decimal("0.001"),
            ..sum(decimals(&["0.003", "0"]))
        },
        ..bound(sum(decimals(&["0.0005", "0.38"])), end, decimal(limit))
    };
    programme.bounds.push(ratio("1.5", End::AtLeast));
    programme.bounds.push(ratio("2.5", End::AtMost));
    let choice = found(&programme);
    let above = decimal("0.0005") * &choice.shares[0] + decimal("0.38") * &choice.shares[1];
    let below = decimal("0.003") * &choice.shares[0] + decimal("0.001");
    assert_eq!(above / below, decimal("2.5"));
    assert!(choice.bounds[1].is_binding && !choice.bounds[0].is_binding);
    // A little change of the limit, as the price says: both sums change, so it is nearly that.
    let little = decimal("0.000001");
    programme.bounds[1].limit = decimal("2.5") - &little;
    let dearer = (found(&programme).cost - &choice.cost) / little;
    let apart = (dearer / &choice.bounds[1].price - Q::ONE).abs();
    assert!(apart < decimal("0.0001"), "{apart}");
}

#[test]
fn a_balance_of_charges_may_be_negative() {
    // mEq/kg: sodium and potassium less chloride; grain -20, molasses 900, acid salt -3000; -50 to -40 wanted.
    let mut programme = of_costs(&["0.2", "0.1", "0.8"]);
    let charges = decimals(&["-20", "900", "-3000"]);
    programme
        .bounds
        .push(bound(sum(charges.clone()), End::AtMost, Q::int(-40)));
    programme
        .bounds
        .push(bound(sum(charges.clone()), End::AtLeast, Q::int(-50)));
    programme.bounds.push(bound(
        sum(decimals(&["0", "1", "0"])),
        End::AtLeast,
        decimal("0.05"),
    ));
    let choice = found(&programme);
    let value: Q = charges
        .iter()
        .zip(&choice.shares)
        .map(|(charge, share)| charge * share)
        .sum();
    assert_eq!(value, Q::int(-40));
    assert!(choice.bounds[0].price.is_positive());
}

#[test]
fn what_is_tiny_stands_beside_what_is_huge() {
    // Selenium in parts of 1e-7 beside energy in J/kg, 1e7, and a vitamin in IU/kg.
    let mut programme = of_costs(&["0.2", "0.35", "0.5", "90", "2500"]);
    let mut add = |weights: &[&str], end: End, limit: &str| {
        programme
            .bounds
            .push(bound(sum(decimals(weights)), end, decimal(limit)));
    };
    add(
        &["0.00000003", "0.0000001", "0.00000005", "0", "0.0045"],
        End::AtLeast,
        "0.0000003",
    );
    add(
        &["0.00000003", "0.0000001", "0.00000005", "0", "0.0045"],
        End::AtMost,
        "0.0000005",
    );
    add(
        &["14000000", "9500000", "12000000", "0", "0"],
        End::AtLeast,
        "11500000",
    );
    add(&["0", "0", "0", "500000000", "0"], End::AtLeast, "8000");
    add(&["0.08", "0.44", "0.2", "0", "0"], End::AtLeast, "0.18");
    let choice = found(&programme);
    assert_eq!(choice.shares[3], Q::ratio(8000, 500_000_000));
    let selenium: Q = programme.bounds[0]
        .above
        .weights
        .iter()
        .zip(&choice.shares)
        .map(|(weight, share)| weight * share)
        .sum();
    assert_eq!(selenium, decimal("0.0000003"));
    assert!(choice.bounds[0].price > Q::int(100_000));
}

#[test]
fn what_cannot_be_is_proved() {
    let mut programme = of_costs(&["1", "2"]);
    programme.bounds.push(bound(
        sum(decimals(&["80", "440"])),
        End::AtLeast,
        Q::int(441),
    ));
    assert!(nothing(&programme));
    programme.bounds[0].limit = Q::int(440);
    assert_eq!(found(&programme).shares, decimals(&["0", "1"]));
    // Nothing chosen is in it: the constant misses by itself.
    programme.bounds[0] = bound(sum(decimals(&["0", "0"])), End::AtLeast, Q::ONE);
    assert!(nothing(&programme));
}

#[test]
fn an_exclusion_leaves_the_dearer_side_out() {
    let mut programme = of_costs(&["1", "1.9", "3"]);
    programme.bounds.push(bound(
        sum(decimals(&["1", "0", "0"])),
        End::AtMost,
        decimal("0.5"),
    ));
    programme.exclusions.push(Exclusion {
        one: vec![0],
        other: vec![1],
    });
    assert_eq!(found(&programme).shares, decimals(&["0", "1", "0"]));
    programme.exclusions.push(Exclusion {
        one: vec![1],
        other: Vec::new(),
    });
    assert_eq!(found(&programme).shares, decimals(&["0.5", "0", "0.5"]));
}

#[test]
fn or_none_is_none_or_enough() {
    let mut programme = of_costs(&["1", "0.5"]);
    programme.shares[1].or_none = true;
    programme.bounds.push(bound(
        sum(decimals(&["0", "1"])),
        End::AtMost,
        decimal("0.1"),
    ));
    programme
        .bounds
        .push(at_least_where_used(2, 1, decimal("0.2")));
    assert_eq!(found(&programme).used, [true, false]);
    programme.bounds[0].limit = decimal("0.2");
    assert_eq!(found(&programme).shares, decimals(&["0.8", "0.2"]));
    // Dearer than what it replaces it is left out, and enters when it is no dearer.
    programme.shares[1].cost = decimal("1.5");
    let choice = found(&programme);
    assert_eq!(choice.used, [true, false]);
    assert_eq!(choice.costs[1].enters_below, Some(Q::ONE));
    assert!(!choice.bounds[1].is_binding);
}

#[test]
fn a_margin_on_one_share_is_kept_exactly() {
    // 440 g/kg with a standard deviation of 30: at least 180 with 1.645 of them is 180 / (440 - 49.35).
    let mut programme = of_costs(&["0", "1"]);
    let mut certain = bound(sum(decimals(&["0", "440"])), End::AtLeast, Q::int(180));
    certain.above.variances[1] = Q::int(900);
    certain.reliance = Some(decimal("1.645"));
    programme.bounds.push(certain);
    let Cheapest::Found(choice) = cheapest(&programme, &Watch::usual(&|| false)) else {
        panic!("there is one")
    };
    let exact = Q::int(180) / (Q::int(440) - decimal("49.35"));
    assert!(choice.cost >= exact && choice.cost_bound <= exact);
    assert!((&choice.cost - &choice.cost_bound) / exact < decimal("0.00000001"));
    assert!(choice.bounds[0].is_binding && choice.bounds[0].price.is_positive());
}
