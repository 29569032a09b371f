//! A farm small enough to see through, with rations that are right, that harm, and that are broken.

use serde_json::Value;

use crate::farm::{Farm, Ran};

/// Store and yard; a ration needs nothing else.
pub(crate) const STORE: &str = "animal hen \"Hen\"
  gives          eggs

ingredient maize \"Maize, ground\"
  dry-matter     88 %
  bulk-density   0.7 kg/L
  price          0.3 USD/kg

ingredient soya \"Soya bean meal\"
  dry-matter     88 %
  bulk-density   0.6 kg/L
  price          0.6 USD/kg

ingredient salt \"Salt, fine\"
  dry-matter     99 %
  bulk-density   1.2 kg/L
  dose           2 .. 5 g/kg
  ceiling        8 g/kg \"Too much salt kills.\"
  caution        \"Weigh it.\"
  price          0.2 USD/kg

scale bench      5 kg by 1 g
scale hook       100 kg by 100 g
vessel basin     3 of 30 L

method shovel \"Shovel and floor\"
  small          below 3 %
  pre-blend      20 %
  step           at most 1 in 20
  weigh          within 2 %
  floor          300 kg
  lift           25 kg
  turn           6 times
  portions       4
";

/// A ration that plans without a word.
pub(crate) fn mash(name: &str) -> String {
    format!(
        "ration {name} \"Mash\"\n  for            hen\n  batch          30 kg\n  mix by         shovel\n  \
         intake         120 g/day\n  keeps          21 days\n  maize          rest\n  soya           25 %\n  salt           3 g/kg\n"
    )
}

/// A text that uses the store.
pub(crate) fn of_store(text: &str) -> String {
    format!("use \"store.trug\"\n\n{text}")
}

/// A store, a ration that is right, one that harms, one that is mixed into others, and a group.
pub(crate) fn farm() -> Farm {
    let harmful = mash("salty").replace("3 g/kg", "10 g/kg");
    let before = "ration grit \"Grit\"\n  for mixing\n  batch          10 kg\n  maize          50 %\n  soya           50 %\n";
    let group = "\ngroup pen \"Pen\"\n  40 hen\n  eats           hen-mash 120 g/day\n  mix for        at most 14 days\n";
    Farm::new(&[
        ("store.trug", STORE),
        ("mash.trug", &of_store(&(mash("hen-mash") + group))),
        ("salty.trug", &of_store(&harmful)),
        ("both.trug", &of_store(&(mash("mash") + "\n" + before))),
        (
            "two.trug",
            &of_store(&(mash("mash") + "\n" + &mash("other"))),
        ),
        (
            "broken.trug",
            &of_store(&(mash("mash") + "\n" + &mash("other").replace("soya  ", "moon  "))),
        ),
    ])
}

/// What was printed, as JSON.
pub(crate) fn document(ran: &Ran) -> Value {
    serde_json::from_str(&ran.out).unwrap()
}
