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
rice;8.1;;;;\r
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

/// Semicolons, and commas for decimals in all numbers: the table says so as a whole, and is read so.
#[test]
fn a_table_may_have_decimal_commas_throughout() {
    let farm = "
use \"lab.csv\"
nutrient protein in share
animal duck
targets t for duck
  protein 8.45 .. 8.55 %
ingredient maize
ration mash
  for duck
  meets t
  maize 100 %
";
    let lab = "ingredient;protein %;dry-matter %\nmaize;8,5 ± 0,4;88\nrice;7,1;\n";
    assert_eq!(
        said(&[("farm.trug", farm), ("lab.csv", lab)]),
        Vec::<String>::new()
    );
    let mixed = lab.replace("7,1", "7.1");
    assert_eq!(
        said(&[("farm.trug", farm), ("lab.csv", &mixed)]),
        ["lab.csv: error[unit/comma] 8,5 ± 0,4"]
    );
}

/// A row that nothing else names is no mistake, unless an ingredient of nearly that name waits for its row.
#[test]
fn a_misspelt_row_is_told_what_it_may_be() {
    let farm = "
use \"lab.csv\"
nutrient protein in share
ingredient rice-bran \"Rice bran\"
ingredient soya-meal \"Soya meal\"
ingredient maize
";
    let lab = "ingredient,protein %\nrice-brann,12\nSoya mael,44\nmaise,8\nbarley,9\nmaize,8\n";
    let held = InMemory::new([("farm.trug", farm), ("lab.csv", lab)]);
    let farm = Farm::read(&["farm.trug".to_owned()], &held, Settings::default());
    let told: Vec<(String, String)> = farm
        .check()
        .into_iter()
        .map(|finding| (finding.message, finding.help.unwrap_or_default()))
        .collect();
    let told: Vec<(&str, &str)> = told
        .iter()
        .map(|(says, help)| (says.as_str(), help.as_str()))
        .collect();
    assert_eq!(
        told,
        [
            (
                "rice-brann stands in this table alone; rice-bran has no row",
                "write `rice-bran` if that is meant, or declare rice-brann in a text of the farm"
            ),
            (
                "no ingredient has the name or label Soya mael",
                "write `Soya meal` if that is meant; this row is not read"
            ),
        ]
    );
}

/// What a heading says wrong is said once, however many rows there are.
#[test]
fn a_heading_is_at_fault_once() {
    let farm = "
use \"lab.csv\"
nutrient protein in share
";
    let lab = "ingredient,protein g/Kg,price LKR//kg,dose g/kg\na,80,1,0.2 .. 4\nb,81,2,0.3 .. 4\nc,8#1,3,5\n";
    assert_eq!(
        said(&[("farm.trug", farm), ("lab.csv", lab)]),
        [
            "lab.csv: note[syntax/spelling] protein g/Kg",
            "lab.csv: error[syntax/line] price LKR//kg",
            "lab.csv: warning[use/table] 8#1",
            "lab.csv: error[syntax/range] 5",
        ]
    );
}

/// What a table says besides numbers: labels, cautions, what may never meet, and that nothing else is in it.
#[test]
fn a_table_may_say_all_that_an_ingredient_says() {
    let farm = "
use \"lab.csv\"
nutrient selenium in share
animal duck
animal horse
ingredient salt
ration mash
  for horse
  salt 50 %
  yeast-selenium 50 %
";
    let lab = "ingredient,label,caution,never for,nothing else,form,\"ceiling g/kg \"\"Burns.\"\"\"\n\
        yeast-selenium,Selenium yeast,Dust: wear a mask.,\"horse \"\"Reason.\"\"\",yes,powder,10\n";
    assert_eq!(
        said(&[("farm.trug", farm), ("lab.csv", lab)]),
        [
            "farm.trug: error[harm/animal] 50 %",
            "farm.trug: error[harm/ceiling] 50 %",
        ]
    );
    let held = InMemory::new([("farm.trug", farm), ("lab.csv", lab)]);
    let farm = Farm::read(&["farm.trug".to_owned()], &held, Settings::default());
    let view = farm.open(farm.file("farm.trug").expect("it was read"));
    let yeast = view
        .ingredient_called("yeast-selenium")
        .expect("the table has it");
    assert_eq!(yeast.label.as_deref(), Some("Selenium yeast"));
    assert!(yeast.nothing_else);
    assert_eq!(yeast.cautions[0].0, "Dust: wear a mask.");
}

/// Ten thousand rows of one ingredient cost what ten thousand rows cost: each name is followed once.
#[test]
fn a_name_in_very_many_rows_is_followed_once() {
    let farm = "
use \"lab.csv\"
nutrient protein in share
animal duck
ingredient maize \"Maize\"
ration mash
  for duck
  maize 100 %
";
    let lab = format!("ingredient,protein %\n{}", "maize,8\n".repeat(50_000));
    let held = InMemory::new([("farm.trug", farm), ("lab.csv", lab.as_str())]);
    let farm = Farm::read(&["farm.trug".to_owned()], &held, Settings::default());
    let findings = farm.check();
    let concerns = Concerns::of(&farm);
    let file = farm.file("farm.trug").expect("it was read");
    let rations = farm.rations(file);
    assert_eq!(
        concerns.concerning(&rations[0], None, &findings).len(),
        findings.len()
    );
    let row = trug_model::ItemRef {
        file: farm.file("lab.csv").expect("it was read"),
        rank: 49_999,
    };
    assert_eq!(farm.open(file).row_is_of(row).as_deref(), Some("maize"));
}

struct Latin;

impl trug_model::Texts for Latin {
    fn get(&self, name: &str) -> Result<std::sync::Arc<str>, trug_model::Absent> {
        match name {
            "farm.trug" => Ok(
                "use \"prices.csv\"\nanimal duck\nration mash\n  for duck\n  maize 100 %\n".into(),
            ),
            _ => Err(trug_model::Absent::NotText(0)),
        }
    }
}

/// A table in another encoding says what to do, and hides nothing else.
#[test]
fn a_table_that_is_not_utf_8_says_how_to_save_it() {
    let farm = Farm::read(&["farm.trug".to_owned()], &Latin, Settings::default());
    let findings = farm.check();
    let told: Vec<&str> = findings.iter().map(|finding| finding.code.name).collect();
    assert_eq!(told, ["syntax/text"]);
    let help = findings[0].help.as_deref();
    assert!(help.is_some_and(|help| help.contains("CSV UTF-8")));
}
