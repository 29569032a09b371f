//! Judging: over which sources, on which basis, over which choices a bound is judged.

use crate::says;

/// 10 mg/kg of a feed with 44 % dry matter are 20 mg/kg at 88 %.
#[test]
fn law_and_harm_count_at_88_percent_dry_matter() {
    let text = "
nutrient copper in share
animal goat
  copper at most 20 mg/kg law
  copper at most 19 mg/kg harm
  copper at most 10 mg/kg as fed harm
  copper at most 22 mg/kg of dry-matter harm
ingredient silage
  copper 10 mg/kg
  dry-matter 44 %
ration a
  for goat
  silage 100 %
";
    let said = says(text);
    assert_eq!(
        said,
        ["error[harm/animal] 100 %", "error[harm/animal] 100 %"]
    );
}

#[test]
fn without_dry_matter_law_and_harm_count_as_fed_and_say_so() {
    let text = "
nutrient copper in share
animal goat
  copper at most 20 mg/kg law
ingredient silage
  copper 10 mg/kg
ration a
  for goat
  silage 100 %
";
    let said = says(text);
    assert_eq!(said, ["warning[basis/unknown] a"]);
}

#[test]
fn harm_of_parent_and_child_both_hold_and_the_nearest_dose_wins() {
    let text = "
nutrient copper in share
animal bird
  copper at most 20 mg/kg harm
animal duck is bird
  copper at most 40 mg/kg harm
ingredient maize
  dry-matter 88 %
  copper 30 mg/kg
ingredient salt
  nothing else
  dry-matter 100 %
  dose 1 .. 3 g/kg
  dose 2 .. 5 g/kg for bird
ration a
  for duck
  maize rest
  salt 4 g/kg
";
    let said = says(text);
    assert_eq!(said, ["error[harm/animal] rest"]);
}

#[test]
fn unknown_is_not_zero() {
    let text = "
nutrient protein in share
nutrient ame in energy
animal duck
targets t for duck
  protein at least 5 %
  protein at most 99 %
  ame at most 25 MJ/kg
  ame at least 30 MJ/kg
ingredient maize
  protein 8 %
  ame 14 MJ/kg
ingredient rice
ration a
  for duck
  meets t
  maize 75 %
  rice 25 %
";
    let said = says(text);
    assert_eq!(said, ["warning[target/under] a"]);
}

#[test]
fn a_bound_over_open_amounts_is_missed_only_where_no_choice_keeps_it() {
    let text = "
nutrient protein in share
animal duck
targets t for duck
  protein at least 20 %
targets u for duck
  protein at least 30 %
ingredient maize
  protein 8 %
ingredient soya-meal
  protein 44 %
ration a
  for duck
  meets t
  meets u
  maize rest
  soya-meal 10 .. 40 %
";
    let said = says(text);
    assert_eq!(said, ["note[amount/open] a", "warning[target/under] a"]);
}

#[test]
fn selenium_of_two_premixes_and_a_nested_mix_is_one_selenium() {
    let text = "
nutrient selenium in share
animal duck
  selenium at most 5 mg/kg as fed harm
ingredient maize
  selenium 0 %
ingredient pre-a
  selenium 1 g/kg
ingredient pre-b
  selenium 1 g/kg
ration m
  for mixing
  pre-b 1 %
  maize rest
ration a
  for duck
  maize rest
  pre-a 2 kg/t
  pre-b 2 kg/t
  m 15 %
";
    let said = says(text);
    assert_eq!(said, ["error[harm/animal] a"]);
}

#[test]
fn a_dose_is_summed_over_lines_and_nested_mixes() {
    let text = "
animal duck
ingredient maize
ingredient salt
  dose 1 .. 4 g/kg
ration m
  for mixing
  salt 10 %
  maize rest
ration a
  for duck
  maize rest
  salt 2.5 g/kg
  m 2 %
";
    let said = says(text);
    assert_eq!(said, ["warning[dose/over] 2 %"]);
}

#[test]
fn never_with_reaches_into_nested_mixes() {
    let text = "
animal duck
ingredient maize
ingredient tiamulin
ingredient monensin
  never with tiamulin
ration m
  for mixing
  tiamulin 10 %
  maize rest
ration a
  for duck
  maize rest
  m 2 %
  monensin 1 g/kg
";
    let said = says(text);
    assert_eq!(said, ["error[harm/together] 1 g/kg"]);
}

#[test]
fn one_currency_is_no_other() {
    let text = "
rate 1 EUR = 325 EUR
rate 1 kg = 3 EUR
rate 0 EUR = 325 LKR
";
    let said = says(text);
    assert_eq!(
        said,
        [
            "error[unit/mismatch] 1 EUR = 325 EUR",
            "error[unit/mismatch] kg",
            "error[unit/mismatch] 0 EUR = 325 LKR"
        ]
    );
}

#[test]
fn per_day_lines_stand_alone() {
    let text = "
animal goat
ingredient hay
ingredient grass
ration a
  for goat
  hay 1 kg/day
  grass rest
ration b
  for goat
  intake 5 kg/day
  hay 1 kg/day
  grass 3 kg/day
";
    let said = says(text);
    assert_eq!(
        said,
        ["error[amount/form] rest", "error[amount/form] 5 kg/day"]
    );
}
