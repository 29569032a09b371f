//! Bounds: what adds, what counts, for whom, and what cannot be loosened.

use crate::{codes, findings, says};

#[test]
fn activities_of_two_nutrients_never_add() {
    let text = "
nutrient vitamin-a in IU
nutrient vitamin-d in IU
nutrient vitamin-a-ester in IU
nutrient both = vitamin-a + vitamin-d
animal duck
targets t for duck
  vitamin-a + vitamin-d at least 100 IU/kg
  vitamin-a + vitamin-a at least 100 IU/kg
  vitamin-a / vitamin-d 2 .. 5
";
    let said = says(text);
    assert_eq!(
        said,
        [
            "error[unit/mismatch] vitamin-d",
            "error[unit/mismatch] vitamin-d"
        ]
    );
}

/// Harm counts what is eaten beside.
#[test]
fn what_is_eaten_beside_counts_in_harm() {
    let text = "
animal goat
  gives milk
ingredient hay
ingredient rhubarb-leaf
  never for goat \"Oxalic acid.\"
ingredient worm-lick
  withdrawal 7 days for milk
ration a
  for goat
  intake 2 kg/day
  beside rhubarb-leaf 1 kg/day
  beside worm-lick 20 g/day
  hay 100 %
";
    let said = says(text);
    assert_eq!(
        said,
        [
            "error[harm/animal] rhubarb-leaf",
            "warning[law/withdrawal] worm-lick"
        ]
    );
}

#[test]
fn beside_without_intake_leaves_harm_undecided() {
    let text = "
nutrient copper in share
animal goat
  copper at most 25 mg/kg harm
ingredient hay
  copper 6 mg/kg
  dry-matter 86 %
ingredient grass
  copper 3 mg/kg
  dry-matter 20 %
ration a
  for goat
  beside grass 1 kg/day
  hay 100 %
";
    let said = says(text);
    assert_eq!(said, ["warning[harm/undecided] a"]);
}

/// A group is fed what is made for its animals.
#[test]
fn a_group_is_judged_whatever_the_order_of_its_lines() {
    let text = "
animal duck
animal sheep
ingredient maize
ration a
  for duck
  maize 100 %
group g
  eats a 100 g/day
  40 sheep
";
    let said = says(text);
    assert_eq!(said, ["warning[target/animal] a"]);
}

#[test]
fn a_group_is_not_fed_what_is_for_mixing() {
    let text = "
animal duck
ingredient maize
ration a
  for mixing
  maize 100 %
group g
  40 duck
  eats a 100 g/day
";
    let said = says(text);
    assert_eq!(said, ["warning[harm/unjudged] a"]);
}

#[test]
fn open_amounts_of_a_nested_mix_are_open_here_too() {
    let text = "
animal duck
ingredient maize
  ceiling 10 %
ingredient rice
ration m
  for mixing
  maize 20 .. 40 %
  rice rest
ration a
  for duck
  m 100 %
";
    let said = says(text);
    assert_eq!(said, ["note[amount/open] m", "note[amount/open] a"]);
}

/// A lot's own analysis wins, its dry matter too: 50 % of 30 % is 15 %.
#[test]
fn a_lots_dry_matter_changes_contents_given_of_dry_matter() {
    let text = "
nutrient protein in share
animal duck
targets t for duck
  protein at least 16 %
ingredient silage
  dry-matter 40 %
  protein 50 % of dry-matter
lot S-1 of silage
  dry-matter 30 %
ration a
  for duck
  meets t
  silage 100 %
ration b like a
  silage 100 % lot S-1
";
    let said = says(text);
    assert_eq!(said, ["warning[target/under] b"]);
}

/// A farm item that loosens a book's bound is itself a finding, on whatever basis, for whatever kind.
#[test]
fn a_farm_does_not_loosen_a_books_bound() {
    let text = "
use book poultry
animal laying-duck
  selenium at most 1 mg/kg law \"x\"
  selenium at most 0.4 mg/kg law \"x\"
animal sheep
  copper at most 26 mg/kg harm \"x\"
  copper at most 21 mg/kg harm \"x\"
  copper at most 27 mg/kg of dry-matter harm \"x\"
";
    let said = says(text);
    assert_eq!(
        said,
        [
            "warning[law/loosened] at most 1 mg/kg",
            "warning[harm/loosened] at most 26 mg/kg",
            "warning[harm/loosened] at most 27 mg/kg of dry-matter"
        ]
    );
}

#[test]
fn a_farm_does_not_take_an_animal_out_of_the_books_kind() {
    let text = "
use book poultry
animal bird
animal laying-duck is bird
ingredient rice
  selenium 3 mg/kg
  dry-matter 88 %
ration a
  for laying-duck
  rice 100 %
";
    let said = says(text);
    assert_eq!(said, ["error[law/over] 100 %"]);
}

#[test]
fn parts_need_something_left() {
    let text = "
animal duck
ingredient maize
ingredient rice
ration a
  for duck
  maize 100 %
  rice 2 parts
";
    let said = says(text);
    assert_eq!(said, ["error[amount/form] a"]);
}

/// Harm of parent and child both hold, also where the child eats what is made for the parent, or for nobody.
#[test]
fn a_group_is_judged_by_its_own_kind() {
    let text = "
nutrient copper in share
animal bird
  copper at most 50 mg/kg as fed harm
animal duckling is bird
  copper at most 20 mg/kg as fed harm
  zinc at most 500 mg/kg as fed harm
nutrient zinc in share
ingredient maize
  copper 30 mg/kg
ingredient monensin
  copper 30 mg/kg
  never for duckling
ration of-bird
  for bird
  maize rest
  monensin 1 g/kg
ration of-none
  for mixing
  maize 100 %
group pen
  40 duckling
  eats of-bird 60 g/day
  eats of-none 60 g/day
";
    let said = says(text);
    assert_eq!(
        said,
        [
            "error[harm/animal] of-bird",
            "error[harm/animal] of-bird",
            "warning[harm/undecided] of-bird",
            "error[harm/animal] of-none",
            "warning[harm/unjudged] of-none"
        ]
    );
}

const CHOICES: &str = "animal horse
animal duck
ingredient maize
ingredient binder
ingredient wormer
  never with     binder \"One undoes the other.\"
  never for      horse \"It poisons them.\"
";

#[test]
fn what_may_be_left_out_is_not_together_or_for_an_animal_yet() {
    let open = format!(
        "{CHOICES}ration mash\n  for            horse\n  maize          rest\n  binder         1 %\n  wormer         1 .. 2 % or none\n"
    );
    assert_eq!(codes(&open), ["amount/open"]);
    let held = open.replace(" or none", "");
    assert_eq!(
        codes(&held),
        ["amount/open", "harm/animal", "harm/together"]
    );
}

#[test]
fn a_limit_is_of_the_mix_as_fed() {
    let text = "animal duck\ningredient maize\n  dry-matter     88 %\ningredient silage\n  dry-matter     30 %\nration mash\n  for            duck\n  maize          rest\n  silage         50 %\n  limit silage at most 30 % of dry-matter\n";
    assert_eq!(codes(text), ["basis/inclusion"]);
}

#[test]
fn a_sum_is_never_mended_with_what_is_rich_in_what_harms() {
    let text = "animal duck\n  selenium       at most 5 mg/kg harm \"Selenium poisons.\"\nnutrient selenium in share\ningredient maize\n  dry-matter     88 %\n  selenium       0.1 mg/kg\ningredient premix\n  dry-matter     90 %\n  selenium       40 mg/kg\nration mash\n  for            duck\n  maize          40 %\n  premix         50 %\n";
    let findings = findings(text);
    let short = findings
        .iter()
        .find(|finding| finding.code.name == "sum/short");
    let titles: Vec<&str> = short
        .iter()
        .flat_map(|finding| &finding.fixes)
        .map(|fix| fix.title.as_str())
        .collect();
    assert_eq!(titles, ["make maize 50 %"]);
}
