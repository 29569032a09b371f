//! A balanced ration as a person reads it, at two widths.

use trug_balance::{Watch, balance_ration};
use trug_model::prices::Prices;
use trug_model::{Farm, InMemory, Settings};
use trug_report::balance::{BalancedRation, balance_text};
use trug_report::words::columns;

const STORE: &str = "\
animal duck
nutrient protein in share
ingredient maize
  protein        8 ± 0.5 %
  price          80 LKR/kg
ingredient soya-meal
  protein        44 %
  price          200 LKR/kg
ingredient sesame-cake
  protein        40 %
  price          195 LKR/kg
ingredient rice-bran-from-the-mill-at-the-bend
  protein        13 %
  price          50 LKR/kg
  at most        30 %
targets growth for duck
  protein        at least 17 %
ration mash \"Duck mash\"
  for            duck
  meets          growth
  certainty      90 %
  maize          rest
  soya-meal      12 % within 10 .. 40 %
  sesame-cake    3 .. 8 % or none
  rice-bran-from-the-mill-at-the-bend 0 .. 40 %
";

fn drawn(text: &str, width: usize) -> String {
    let farm = Farm::read(
        &["mash.trug".to_owned()],
        &InMemory::new([("mash.trug", text)]),
        Settings::default(),
    );
    let view = farm.open(farm.asked()[0]);
    let ration = view.made_out("mash").unwrap();
    let watch = Watch::usual(&|| false);
    let page = BalancedRation {
        balance: balance_ration(&view, &ration, &Prices::default(), &watch).unwrap(),
        sources: farm.sources(),
        today: None,
        day: None,
        label: ration.label.clone(),
    };
    let drawn = balance_text(&page, width);
    let widest = drawn.lines().map(columns).max();
    assert!(widest <= Some(width), "{widest:?}\n{drawn}");
    drawn
}

#[test]
fn amounts_with_what_decides_and_what_is_left_out() {
    insta::assert_snapshot!(drawn(STORE, 80));
}

#[test]
fn a_narrow_page() {
    insta::assert_snapshot!(drawn(STORE, 66));
}

#[test]
fn what_contradicts_what_and_what_would_help() {
    let strong = STORE.replace("at least 17 %", "at least 31 %");
    insta::assert_snapshot!(drawn(&strong, 80));
}

#[test]
fn the_label_is_never_to_be_loosened() {
    let with_label = STORE.replace("at least 17 %", "at least 31 %").replace(
        "  price          200",
        "  dose           at most 300 g/kg\n  price          200",
    );
    insta::assert_snapshot!(drawn(&with_label, 80));
}
