//! What another edition of a book changes: its year, its values, and the rations that rest on them.

use trug_compare::{CauseKind, Comparison, Side, compare};
use trug_model::{Edition, Farm, InMemory, Library, Settings};

const OF_2030: &str = "\
nutrient protein in share
animal duck
ingredient maize
  source         \"The table of 2030\"
  protein        8 %
ingredient soya-meal
  protein        44 %
";

fn editions() -> &'static Library {
    let later: &str = Box::leak(OF_2030.replace("8 %", "8.6 %").into_boxed_str());
    let books: &[(&str, &str)] = Box::leak(Box::new([("feeds", later)]));
    let library = Library::of([
        Edition {
            year: 2030,
            books: &[("feeds", OF_2030)],
        },
        Edition { year: 2031, books },
    ]);
    Box::leak(Box::new(library))
}

fn of_year(used: &str, library: &'static Library) -> Farm {
    let text =
        format!("use book {used}\nration mash\n  for duck\n  maize 60 %\n  soya-meal 40 %\n");
    let name = "mash.trug";
    let texts = InMemory::new([(name, text.as_str())]);
    let settings = Settings {
        library,
        ..Settings::default()
    };
    Farm::read(&[name.to_owned()], &texts, settings)
}

fn compared(before: &str, after: &str) -> Comparison {
    let library = editions();
    let (before, after) = (of_year(before, library), of_year(after, library));
    compare(&Side::new(&before, ""), &Side::new(&after, ""), None)
}

#[test]
fn an_edition_is_told_with_each_value_it_changes() {
    let comparison = compared("feeds 2030", "feeds 2031");
    let said: Vec<String> = comparison
        .causes
        .iter()
        .flat_map(|cause| {
            let of = format!("{} {}", cause.kind.word(), cause.name);
            cause.changes.iter().map(move |change| {
                let (one, other) = (&change.says.before, &change.says.after);
                let apart = |said: &Option<trug_compare::Said>| {
                    said.as_ref()
                        .map_or_else(String::new, |said| said.apart(None))
                };
                format!("{of}: {} {} {}", change.what, apart(one), apart(other))
            })
        })
        .collect();
    assert_eq!(
        said,
        [
            "book feeds: edition 2030 2031",
            "ingredient maize: protein 8 % 8.6 %"
        ]
    );
    let rations: Vec<&str> = comparison
        .rations
        .iter()
        .map(|one| one.name.as_str())
        .collect();
    assert_eq!(rations, ["mash"]);
}

#[test]
fn without_a_year_it_is_the_newest() {
    let comparison = compared("feeds", "feeds 2031");
    assert!(comparison.causes.is_empty(), "{comparison:#?}");
    assert!(comparison.rations.is_empty());
    let comparison = compared("feeds 2030", "feeds");
    let kinds: Vec<CauseKind> = comparison.causes.iter().map(|cause| cause.kind).collect();
    assert_eq!(kinds, [CauseKind::Book, CauseKind::Ingredient]);
}
