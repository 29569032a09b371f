//! One mistake, one finding; acceptances.

use crate::{said, says};

/// One mistake, one finding.
#[test]
fn an_unread_line_silences_its_item() {
    let text = "
nutrient protein in share
animal duck
targets t for duck
  protein plenty
ingredient maize
  at most 10 %
ration a
  for duck
  meets t
  maize all of it
";
    let said = says(text);
    assert_eq!(
        said,
        ["error[syntax/line] plenty", "error[syntax/line] all"]
    );
}

#[test]
fn a_missing_file_silences_the_names_it_would_bring() {
    let text = "
use \"store.trug\"
ration a
  for duck
  maize 60 %
  rice 2 basket
";
    let said = says(text);
    assert_eq!(said, ["error[use/missing] \"store.trug\""]);
}

#[test]
fn an_unknown_name_silences_sums_and_bounds_of_its_ration() {
    let text = "
animal duck
ingredient maize
  at most 10 %
ration m
  for mixing
  mais 70 %
ration a
  for duck
  m 50 %
  maize 60 %
";
    let said = says(text);
    assert_eq!(said, ["error[name/unknown] mais", "error[sum/over] a"]);
}

/// Names are unique over a file and all it uses.
#[test]
fn forty_farms_may_each_have_a_layer() {
    let a = "
animal duck
";
    let b = "
animal duck
";
    let c = "
use \"a.trug\"
use \"b.trug\"
";
    let said = said(&[("a.trug", a), ("b.trug", b), ("c.trug", c)]);
    assert_eq!(said, ["c.trug: error[name/twice] \"b.trug\""]);
}

#[test]
fn names_that_differ_in_case_are_one_too_many() {
    let text = "
animal duck
animal Duck
ingredient maize
ration maize
  for duck
  maize 100 %
";
    let said = says(text);
    assert_eq!(said, ["error[name/twice] Duck", "error[name/twice] maize"]);
}

#[test]
fn masses_are_summed_against_the_batch() {
    let text = "
animal duck
ingredient maize
ingredient rice
ration a
  for duck
  batch 100 kg
  maize 60 kg
  rice 50 kg
";
    let said = says(text);
    assert_eq!(said, ["error[sum/over] a"]);
}

#[test]
fn tops_are_beyond_the_whole_and_dosed_of_it() {
    let text = "
animal duck
ingredient maize
ingredient binder
  dose 1 .. 2 kg/t
ration a
  for duck
  maize 100 %
  binder 2.001 kg/t on top
";
    let said = says(text);
    assert_eq!(said, ["warning[dose/over] 2.001 kg/t"]);
}

#[test]
fn an_accepted_finding_is_not_inherited() {
    let text = "
animal duck
ingredient maize
  at most 50 %
ingredient rice
ration a
  for duck
  maize 60 %
  rice 40 %
  accept limit/over \"Agreed.\"
ration b like a
";
    let said = says(text);
    assert_eq!(
        said,
        [
            "warning[limit/over] 60 % (accepted)",
            "warning[limit/over] b"
        ]
    );
}

#[test]
fn an_acceptance_silences_its_own_line_only() {
    let text = "
animal duck
ingredient maize
  at most 50 %
ingredient rice
ration a
  for duck
  maize 60 %
  rice 40 % accept limit/over \"Agreed.\"
";
    let said = says(text);
    assert_eq!(
        said,
        [
            "warning[limit/over] 60 %",
            "warning[accept/unused] accept limit/over \"Agreed.\""
        ]
    );
}

#[test]
fn a_dose_with_a_withdrawal_is_an_error_that_can_be_accepted() {
    let text = "
animal duck
  gives eggs
ingredient maize
ingredient worm-premix
  dose 1 .. 2 kg/t
  withdrawal 5 days for eggs
ration a
  for duck
  maize rest
  worm-premix 3 kg/t accept dose/over \"Order 14.\"
";
    let said = says(text);
    assert_eq!(
        said,
        [
            "error[dose/over] 3 kg/t (accepted)",
            "warning[law/withdrawal] 3 kg/t"
        ]
    );
}
