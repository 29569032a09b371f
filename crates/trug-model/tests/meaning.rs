//! What the texts of a farm mean, sentence by sentence of the language page: texts in, codes and places out.

use trug_findings::Finding;
use trug_model::{Farm, InMemory, Settings};

/// What is said of these texts: `severity[code] what stands there`, with the file where there are several.
fn said(texts: &[(&str, &str)]) -> Vec<String> {
    let names: Vec<String> = texts.iter().map(|(name, _)| (*name).to_owned()).collect();
    let held = InMemory::new(texts.iter().copied());
    let farm = Farm::read(&names, &held, Settings::default());
    let line = |finding: &Finding| {
        let source = &farm.sources()[finding.place.file.index()];
        let there = finding.place.span.of(source.text());
        let file = if texts.len() > 1 {
            format!("{}: ", source.name())
        } else {
            String::new()
        };
        let (severity, code) = (finding.severity.word(), finding.code.name);
        let accepted = if finding.is_open() { "" } else { " (accepted)" };
        format!("{file}{severity}[{code}] {there}{accepted}")
    };
    farm.check().iter().map(line).collect()
}

/// What is said of one text.
fn says(text: &str) -> Vec<String> {
    said(&[("farm.trug", text)])
}

/// Circles of every kind are said once, by the member that is declared first.
#[test]
fn a_circle_of_rations_is_said_once() {
    let text = "
animal duck
ration a
  for duck
  b 100 %
ration b
  for duck
  a 100 %
";
    let said = says(text);
    assert_eq!(said, ["error[name/circle] b"]);
}

#[test]
fn a_ration_in_itself_is_a_circle() {
    let text = "
animal duck
ration a
  for duck
  a 100 %
";
    let said = says(text);
    assert_eq!(said, ["error[name/circle] a"]);
}

#[test]
fn rations_like_each_other_are_a_circle() {
    let text = "
animal duck
ration a like b
  for duck
ration b like a
";
    let said = says(text);
    assert_eq!(said, ["error[name/circle] b"]);
}

#[test]
fn nutrients_made_of_each_other_are_a_circle() {
    let text = "
nutrient a = b + b
nutrient b = a + a
";
    let said = says(text);
    assert_eq!(said, ["error[name/circle] b"]);
}

#[test]
fn measures_made_of_each_other_are_a_circle() {
    let text = "
unit tub = 3 scoop
unit scoop = 2 tub
";
    let said = says(text);
    assert_eq!(said, ["error[name/circle] scoop"]);
}

/// Seventy mixes, each in the next, from the inside out or from the outside in.
fn mixes_in_mixes(is_outside_first: bool) -> String {
    let mut items: Vec<String> = (1..70)
        .map(|rank| format!("ration m{rank}\n  for mixing\n  m{} 100 %\n", rank - 1))
        .collect();
    items.insert(0, "ration m0\n  for mixing\n  maize 100 %\n".to_owned());
    if is_outside_first {
        items.reverse();
    }
    format!("ingredient maize\n{}", items.concat())
}

#[test]
fn a_chain_too_long_to_follow_is_said_once_in_any_order() {
    for is_outside_first in [false, true] {
        let text = mixes_in_mixes(is_outside_first);
        assert_eq!(says(&text), ["error[name/circle] m63"]);
    }
}

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
