//! Each book checks clean, alone and with others, and says each thing once.

use std::collections::BTreeMap;

use trug_findings::Finding;
use trug_model::{Farm, InMemory, Namespace, Settings};

use crate::{book, books, farm};

fn findings(text: &str) -> Vec<String> {
    let farm = farm(text);
    let found = farm.check();
    let line = |finding: &Finding| format!("{}: {}", finding.code.name, finding.message);
    found.iter().map(line).collect()
}

/// As a text of a farm, so that everything in it is judged.
#[test]
fn each_book_checks_clean() {
    for (name, text) in books() {
        assert_eq!(findings(text), Vec::<String>::new(), "{name}");
    }
}

#[test]
fn each_book_is_tidy() {
    for (name, text) in books() {
        assert_eq!(trug_syntax::tidy(text), text, "{name}");
    }
}

#[test]
fn all_books_together_check_clean() {
    let text: String = books()
        .iter()
        .map(|(name, _)| format!("use book {name}\n"))
        .collect();
    assert_eq!(findings(&text), Vec::<String>::new());
}

/// Books add to each other's animals and ingredients; none takes back what another says.
#[test]
fn books_add_to_each_other_in_the_order_they_are_used() {
    let ration = "
ingredient mash
  dry-matter 88 %
  selenium 0.1 mg/kg
  copper 5 mg/kg
  zinc 130 mg/kg
  protein 17 %
ration a
  for laying-hen
  mash 100 %
";
    let alone = findings(&format!("use book poultry\n{ration}"));
    assert_eq!(alone, Vec::<String>::new());
    for uses in [
        "use book poultry\nuse book law-eu",
        "use book law-eu\nuse book poultry",
    ] {
        let both = findings(&format!("{uses}\n{ration}"));
        let zinc = |it: &&String| it.starts_with("law/over") && it.contains("zinc");
        assert_eq!(both.iter().filter(zinc).count(), 1, "{both:?}");
    }
    let sheep = ration
        .replace("laying-hen", "sheep")
        .replace("zinc 130", "zinc 900");
    let sheep = findings(&format!("use book sheep-and-goats\n{sheep}"));
    assert!(
        sheep.iter().any(|it| it.starts_with("harm/animal")),
        "{sheep:?}"
    );
}

/// Two books that use the same part declare nothing twice, and no content stands in two books.
#[test]
fn no_two_books_give_the_same_content() {
    let mut given: BTreeMap<(String, String), &str> = BTreeMap::new();
    for (name, text) in books() {
        let mut item = String::new();
        for line in text.lines() {
            if let Some(header) = line.strip_prefix("ingredient ") {
                item = header.split(' ').next().unwrap_or_default().to_owned();
            } else if line.starts_with("  ") && !item.is_empty() {
                let word = line.trim_start().split(' ').next().unwrap_or_default();
                if ["caution", "dose", "source", "at", "never", "ceiling"].contains(&word) {
                    continue;
                }
                let before = given.insert((item.clone(), word.to_owned()), name);
                assert_eq!(before, None, "{item} {word} in {name}");
            } else if !line.is_empty() {
                item.clear();
            }
        }
    }
}

/// Every animal that the earlier book of poultry had is still there for whom uses it.
#[test]
fn the_book_of_poultry_keeps_its_names() {
    let farm = farm("use book poultry\n");
    let view = farm.open(farm.asked()[0]);
    let animals = "breeding-duck breeding-hen broiler cat cattle chick chicken cockerel dog donkey duck duckling fish goat \
                   goose gosling growing-duck growing-goose growing-quail growing-turkey guinea-fowl horse keet laying-duck \
                   laying-goose laying-guinea-fowl laying-hen laying-quail laying-turkey pig pigeon poult poultry pullet \
                   quail rabbit sheep turkey";
    for animal in animals.split_whitespace() {
        assert!(
            view.declaration(Namespace::Animal, animal).is_some(),
            "{animal}"
        );
    }
    for method in ["shovel", "drum"] {
        assert!(
            view.declaration(Namespace::Method, method).is_some(),
            "{method}"
        );
    }
    assert!(book("nutrients").contains("nutrient ame-eu "));
}

/// A value nobody read is said wherever a ration rests on it.
#[test]
fn the_zeros_of_minerals_are_said_to_be_unverified() {
    let text = "
use book poultry
ration a
  for laying-hen
  maize 91 %
  limestone 9 %
";
    let texts = InMemory::new([("a.trug", text)]);
    let farm = Farm::read(&["a.trug".to_owned()], &texts, Settings::default());
    let found = farm.check();
    let codes: Vec<String> = found.iter().map(|it| it.code.name.to_string()).collect();
    assert_eq!(codes, ["data/unverified"]);
    assert!(
        found[0].message.contains("2 values"),
        "{}",
        found[0].message
    );
}
