//! Data: tables, lots, dry matter.

#![expect(clippy::expect_used, reason = "a test says what it expects")]

use trug_model::{Concerns, Farm, InMemory, Settings};

use crate::said;

/// Strength of data: lot, then the farm's text, then tables, then the book.
#[test]
fn a_table_adds_what_the_farm_does_not_say() {
    let farm = "
use \"lab.csv\"
nutrient protein in share
animal duck
targets t for duck
  protein 9 .. 11 %
ingredient maize \"Maize, yellow\"
  protein 10 %
ingredient rice
  dry-matter 80 %
lot R-1 of rice
  protein 12 %
ration by-farm
  for duck
  meets t
  maize 100 %
ration by-table
  for duck
  meets t
  rice 100 %
ration by-lot
  for duck
  meets t
  rice 100 % lot R-1
ration table-only
  for duck
  meets t
  barley 100 %
";
    let lab = "
ingredient,protein % of dry-matter,dry-matter %
\"Maize, yellow\",5,90
rice,12.5 ± 0.5,90
barley,20,50
";
    let said = said(&[("farm.trug", farm), ("lab.csv", lab)]);
    assert_eq!(said, ["farm.trug: warning[target/over] by-lot"]);
}

#[test]
fn a_tables_places_are_its_cells_and_headings() {
    let farm = "
use \"lab.csv\"
nutrient protein in share
ingredient maize
ingredient rice
ration grit-mix
";
    let lab = "\
\u{feff}ingredient;protein %;ash %;price kg;supplier;dry-matter %\r
maize;8,5;2;3;Mill;\r
rice;140;;4;;87\r
rice;8;;;;\r
Fish meal;60;;;;\r
;7;;;;\r
grit-mix;7;;;;;left\r
";
    let said = said(&[("farm.trug", farm), ("lab.csv", lab)]);
    assert_eq!(
        said,
        [
            "farm.trug: error[sum/nothing] grit-mix",
            "lab.csv: error[name/unknown] ash %",
            "lab.csv: error[unit/mismatch] price kg",
            "lab.csv: warning[use/table] supplier",
            "lab.csv: error[unit/comma] 8,5",
            "lab.csv: error[data/outside] 140",
            "lab.csv: error[data/twice] rice",
            "lab.csv: warning[use/table] Fish meal",
            "lab.csv: warning[use/table] 7",
            "lab.csv: warning[use/table] grit-mix",
            "lab.csv: warning[use/table] left"
        ]
    );
}

#[test]
fn a_table_that_is_none_says_so_once() {
    let farm = "
use \"prices.csv\"
use \"other.csv\"
use \"gone.csv\"
ingredient maize
";
    let other = "
";
    let prices = "
name,price LKR/kg
maize,185
";
    let said = said(&[
        ("farm.trug", farm),
        ("other.csv", other),
        ("prices.csv", prices),
    ]);
    assert_eq!(
        said,
        [
            "farm.trug: error[use/missing] \"gone.csv\"",
            "other.csv: warning[use/table] ",
            "prices.csv: warning[use/table] name"
        ]
    );
}

/// What is wrong with a row concerns the rations that hold its ingredient, by name or by label, and no others.
#[test]
fn a_row_concerns_the_rations_of_its_ingredient() {
    let farm = "
use \"lab.csv\"
nutrient protein in share
animal duck
ingredient maize \"Yellow maize\"
ingredient rice
ration of-maize
  for duck
  maize 100 %
ration of-rice
  for duck
  rice 100 %
";
    let lab = "ingredient,protein %\nYellow maize,140\n";
    let held = InMemory::new([("farm.trug", farm), ("lab.csv", lab)]);
    let farm = Farm::read(&["farm.trug".to_owned()], &held, Settings::default());
    let findings = farm.check();
    let concerns = Concerns::of(&farm);
    let file = farm.file("farm.trug").expect("it was read");
    let counts: Vec<usize> = farm
        .rations(file)
        .iter()
        .map(|ration| concerns.concerning(ration, None, &findings).len())
        .collect();
    assert_eq!((findings.len(), counts), (1, vec![1, 0]));
}

#[test]
fn a_table_of_dry_matter_finds_the_dry_matter_of_the_text() {
    let text = "use \"p.csv\"\nnutrient protein in share\ningredient maize \"Maize\"\n  dry-matter     88 %\n";
    let table = "ingredient,price LKR/kg,protein % of dry-matter\nmaize,92,9.1\n";
    assert_eq!(
        said(&[("farm.trug", text), ("p.csv", table)]),
        Vec::<String>::new()
    );
}
