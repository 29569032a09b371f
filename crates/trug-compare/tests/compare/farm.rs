//! A duck farm in three texts, and comparisons of it with itself after a change.

use trug_compare::{Comparison, Side, compare};
use trug_model::{Farm, InMemory, Settings};

pub(crate) const STORE: &str = "use book poultry

animal pond-duck is duck \"Pond duck\"
  gives          eggs
  selenium       at most 0.5 mg/kg law \"Total, in complete feed\"

ingredient broken-rice \"Broken rice\"
  dry-matter     87.5 %
  protein        8 %
  selenium       0.02 mg/kg
  price          92 LKR/kg
  bulk-density   0.8 kg/L

ingredient soya-meal \"Soya bean meal\"
  dry-matter     88 %
  protein        44 %
  selenium       0.2 mg/kg
  price          230 LKR/kg
  bulk-density   0.6 kg/L

ingredient salt \"Salt, fine\"
  dry-matter     99 %
  nothing else
  price          60 LKR/kg
  bulk-density   1.2 kg/L
  dose           2 .. 5 g/kg
  ceiling        8 g/kg \"Too much salt kills.\"

ingredient premix \"Vitamins and minerals\"
  dry-matter     95 %
  selenium       60 mg/kg
  nothing else
  price          900 LKR/kg
  bulk-density   0.8 kg/L
  dose           4 .. 6 g/kg

targets duck-lay for pond-duck
  protein        16 .. 18 %
";

pub(crate) const YARD: &str = "scale bench      5 kg by 1 g
scale hook       100 kg by 100 g
vessel basin     3 of 30 L

method shovel
  small          below 3 %
  pre-blend      20 %
  step           at most 1 in 20
  weigh          within 2 %
  floor          300 kg
  lift           25 kg
";

pub(crate) const RATIONS: &str = "use \"store.trug\"
use \"yard.trug\"

ration layer \"Layer mash\"
  for            pond-duck
  meets          duck-lay
  batch          60 kg
  mix by         shovel
  intake         165 g/day
  keeps          21 days
  broken-rice    rest
  soya-meal      24 %
  salt           3 g/kg
  premix         5 g/kg

ration grower
  for            pond-duck
  batch          40 kg
  mix by         shovel
  broken-rice    rest
  soya-meal      20 %
  salt           3 g/kg

group pond-house
  320 pond-duck
  eats           layer 165 g/day
";

/// Texts by their names.
pub(crate) type Texts = Vec<(String, String)>;

/// The farm as it stands.
pub(crate) fn farm() -> Texts {
    let texts = [
        ("store.trug", STORE),
        ("yard.trug", YARD),
        ("rations.trug", RATIONS),
    ];
    texts
        .map(|(name, text)| (name.to_owned(), text.to_owned()))
        .into()
}

/// The farm with a piece of a text exchanged.
pub(crate) fn with(name: &str, from: &str, to: &str) -> Texts {
    changed(farm(), name, from, to)
}

/// Texts with a piece of one exchanged.
pub(crate) fn changed(mut texts: Texts, name: &str, from: &str, to: &str) -> Texts {
    let (_, text) = texts.iter_mut().find(|(known, _)| known == name).unwrap();
    assert!(text.contains(from), "{from} is not in {name}");
    *text = text.replacen(from, to, 1);
    texts
}

fn read(texts: &Texts) -> Farm {
    let held = InMemory::new(
        texts
            .iter()
            .map(|(name, text)| (name.as_str(), text.as_str())),
    );
    let names: Vec<String> = texts.iter().map(|(name, _)| name.clone()).collect();
    Farm::read(&names, &held, Settings::default())
}

/// What changed from one to the other.
pub(crate) fn between(before: &Texts, after: &Texts) -> Comparison {
    of_ration(before, after, None)
}

/// The same of one ration.
pub(crate) fn of_ration(before: &Texts, after: &Texts, ration: Option<&str>) -> Comparison {
    let (one, other) = (read(before), read(after));
    compare(&Side::new(&one, ""), &Side::new(&other, ""), ration)
}
