//! Names: what leads round in a circle, what is declared twice.

use crate::says;

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
