//! Rations: inheritance, sums, what a line is taken for.

use crate::{said, says};

/// Inheritance: what only the child makes wrong is said in the child.
#[test]
fn an_unknown_name_in_replace_is_said() {
    let text = "
animal duck
ingredient maize
ration a
  for duck
  maize 100 %
ration b like a
  replace maize with mais
";
    let said = says(text);
    assert_eq!(said, ["error[name/unknown] mais"]);
}

#[test]
fn a_replaced_line_is_judged_where_it_is_replaced() {
    let a = "
use \"b.trug\"
ingredient barley
  at most 10 %
ration b like a
  replace maize with barley
";
    let b = "
animal duck
ingredient maize
ration a
  for duck
  maize 100 %
";
    let said = said(&[("a.trug", a), ("b.trug", b)]);
    assert_eq!(said, ["a.trug: warning[limit/over] barley"]);
}

#[test]
fn a_child_that_drops_the_rest_hears_of_it() {
    let text = "
nutrient lysine in share
animal duck
ingredient maize
ingredient soya-meal
ingredient lysine-hcl
  lysine 78.8 %
ration a
  for duck
  maize rest
  soya-meal 20 %
  lysine-hcl giving 0.6 g/kg lysine
ration b like a
  drop maize
";
    let said = says(text);
    assert_eq!(said, ["error[amount/giving] b"]);
}

#[test]
fn a_child_does_not_repeat_what_its_parent_says() {
    let text = "
animal duck
ingredient maize
ingredient rice
ration a
  for duck
  maize 50 %
  rice 60 %
ration b like a
ration c
  for duck
  maize rest
  rice rest
ration d like c
";
    let said = says(text);
    assert_eq!(said, ["error[sum/over] a", "error[amount/two-rests] rest"]);
}

#[test]
fn a_child_that_changes_an_amount_is_summed() {
    let text = "
animal duck
ingredient maize
ingredient rice
ration a
  for duck
  maize 40 %
  rice 60 %
ration b like a
  rice 50 %
";
    let said = says(text);
    assert_eq!(said, ["error[sum/short] b"]);
}

#[test]
fn a_childs_rest_needs_an_amount_for_the_parents() {
    let text = "
animal duck
ingredient maize
ingredient rice
ration a
  for duck
  maize 60 %
  rice rest
ration b like a
  maize rest
";
    let said = says(text);
    assert_eq!(said, ["error[amount/needed] rest"]);
}

#[test]
fn an_inherited_mass_keeps_its_share() {
    let text = "
animal duck
ingredient maize
ingredient rice
  at most 20 %
ration a
  for duck
  maize 80 kg
  rice 20 kg
ration b like a
  batch 500 kg
";
    let said = says(text);
    assert_eq!(said, Vec::<String>::new());
}

/// Lines of one kind repeat only where that makes sense.
#[test]
fn lines_that_can_hold_once_are_not_given_twice() {
    let text = "
animal duck
animal sheep
ingredient maize
  dry-matter 80 %
  dry-matter 87 %
  form meal
  form grain
ration a
  for duck
  for sheep
  batch 10 kg
  batch 20 kg
  maize 100 %
";
    let said = says(text);
    assert_eq!(
        said,
        [
            "error[data/twice] dry-matter 87 %",
            "error[data/twice] form grain",
            "error[data/twice] for sheep",
            "error[data/twice] batch 20 kg"
        ]
    );
}

/// 10 .. 20 kg of 100 kg are 10 .. 20 % of any batch.
#[test]
fn an_inherited_range_of_masses_keeps_its_shares() {
    let text = "
animal duck
ingredient maize
ingredient rice
ingredient soya-meal
  at most 9 %
ration a
  for duck
  batch 100 kg
  maize rest
  rice 15 kg within 10 .. 20 kg
  soya-meal 5 .. 8 kg
ration b like a
  batch 500 kg
ration c like a
  batch 10 kg
";
    let said = says(text);
    assert_eq!(
        said,
        [
            "note[amount/open] a",
            "note[amount/open] b",
            "note[amount/open] c"
        ]
    );
}
