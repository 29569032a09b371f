//! A duck farm in two texts, as it was and as it is.

use trug_compare::{Comparison, Side, compare};
use trug_model::{Farm, InMemory, Settings};

const STORE: &str = "use book poultry

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

targets duck-lay for laying-duck
  protein        16 .. 18 %

scale bench      5 kg by 1 g
scale hook       100 kg by 100 g
vessel basin     3 of 30 L
";

const RATIONS: &str = "use \"store.trug\"

ration layer \"Layer mash\"
  for            laying-duck
  meets          duck-lay
  batch          60 kg
  intake         165 g/day
  keeps          21 days
  broken-rice    rest
  soya-meal      24 %
  salt           3 g/kg
  premix         5 g/kg

ration grower
  for            laying-duck
  batch          40 kg
  broken-rice    rest
  soya-meal      20 %
  salt           3 g/kg

group pond-house
  320 laying-duck
  eats           layer 165 g/day
";

/// Texts by their names.
pub(crate) type Texts = Vec<(String, String)>;

/// The farm as it was.
pub(crate) fn farm() -> Texts {
    [("store.trug", STORE), ("rations.trug", RATIONS)]
        .map(|(name, text)| (name.to_owned(), text.to_owned()))
        .into()
}

/// Exchanges a piece of a text.
pub(crate) fn change(texts: &mut Texts, name: &str, from: &str, to: &str) {
    let (_, text) = texts.iter_mut().find(|(known, _)| known == name).unwrap();
    assert!(text.contains(from), "{from} is not in {name}");
    *text = text.replacen(from, to, 1);
}

/// A farm of many rations, and the same with each of them changed.
pub(crate) fn many(number: usize) -> (Texts, Texts) {
    let rations = |soya: &str| {
        let mut text = "use \"store.trug\"\n".to_owned();
        for rank in 0..number {
            text.push_str(&format!(
                "\nration mash-{rank}\n  for            laying-duck\n  batch          60 kg\n  broken-rice    rest\n  soya-meal      {soya} %\n"
            ));
        }
        vec![
            ("store.trug".to_owned(), STORE.to_owned()),
            ("rations.trug".to_owned(), text),
        ]
    };
    (rations("24"), rations("22"))
}

/// Reads both and compares them.
pub(crate) fn with_comparison<T>(
    before: &Texts,
    after: &Texts,
    then: impl Fn(&Comparison) -> T,
) -> T {
    let read = |texts: &Texts| {
        let held = InMemory::new(
            texts
                .iter()
                .map(|(name, text)| (name.as_str(), text.as_str())),
        );
        let names: Vec<String> = texts.iter().map(|(name, _)| name.clone()).collect();
        Farm::read(&names, &held, Settings::default())
    };
    let (one, other) = (read(before), read(after));
    then(&compare(&Side::new(&one, ""), &Side::new(&other, ""), None))
}
