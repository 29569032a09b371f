//! Published diets, recomputed from book values: within what the sources' own tables differ by.
//!
//! The tables printed with the papers give the shares and what their authors calculated. Soya meal there is of a grade
//! that is not named; the book's 44 grade stands in. Energy is printed on the scale of trials and comes out lower by the EU
//! equation, by up to 0.9 MJ/kg; so it is compared as that, never as the same thing.

use trug_model::analysis::Analysis;
use trug_model::{Farm, InMemory, Settings};

/// A diet: what it is made of, and what its authors print.
struct Diet {
    /// Percent of each, in the book's names; `premix` is what is no feed.
    parts: &'static [(&'static str, &'static str)],
    /// What is printed of each nutrient, in percent, and how far the book may be from it.
    printed: &'static [(&'static str, f64, f64)],
    /// Printed energy, MJ/kg.
    energy: f64,
}

/// Starter for broilers, Scientific Reports 2025, s41598-025-23938-4, table 1; oil taken as soya oil, fish meal as 61 %.
const STARTER: Diet = Diet {
    parts: &[
        ("maize", "55.01"),
        ("soya-meal-44", "35"),
        ("fish-meal-61", "4"),
        ("soya-oil", "3"),
        ("limestone", "0.7"),
        ("dicalcium-phosphate", "1.5"),
        ("salt", "0.3"),
        ("dl-methionine", "0.11"),
        ("l-lysine-hcl", "0.13"),
        ("premix", "0.25"),
    ],
    printed: &[
        ("protein", 22.3, 0.4),
        ("lysine", 1.30, 0.08),
        ("methionine", 0.50, 0.04),
        ("calcium", 1.01, 0.12),
        ("available-phosphorus", 0.47, 0.04),
    ],
    energy: 12.81,
};

/// Broilers, PeerJ 2021, PMC8643103, table 1 (its columns are headed g/kg, its figures are percent but for the last five).
const BROILER: Diet = Diet {
    parts: &[
        ("maize", "58.15"),
        ("soya-meal-44", "33.5"),
        ("soya-oil", "3.21"),
        ("limestone", "1.3"),
        ("dicalcium-phosphate", "2.05"),
        ("l-lysine-hcl", "0.34"),
        ("dl-methionine", "0.15"),
        ("salt", "0.3"),
        ("premix", "1"),
    ],
    printed: &[
        ("protein", 19.25, 0.5),
        ("lysine", 1.26, 0.08),
        ("methionine", 0.427, 0.04),
        ("met-cys", 0.835, 0.05),
        ("calcium", 1.07, 0.12),
        ("available-phosphorus", 0.46, 0.04),
    ],
    energy: 12.08,
};

/// Laying hens, J. Anim. Sci. Biotechnol. 2018, s40104-018-0271-z, table 1, 0.40 % non-phytate phosphorus.
const LAYER: Diet = Diet {
    parts: &[
        ("maize", "60.45"),
        ("soya-meal-44", "27.29"),
        ("soya-oil", "1.21"),
        ("limestone", "8.59"),
        ("dicalcium-phosphate", "1.65"),
        ("salt", "0.3"),
        ("dl-methionine", "0.17"),
        ("premix", "0.34"),
    ],
    printed: &[
        ("protein", 17.0, 0.4),
        ("lysine", 0.86, 0.08),
        ("met-cys", 0.65, 0.1),
        ("tryptophan", 0.21, 0.04),
        ("threonine", 0.66, 0.06),
        // Its limestone held less calcium than the book's 38 %.
        ("calcium", 3.5, 0.3),
        ("available-phosphorus", 0.40, 0.04),
    ],
    energy: 11.3,
};

fn analysis(diet: &Diet) -> Analysis {
    let mut text = "use book poultry\nuse book additives\n\ningredient premix\n  nothing else\n\nration diet\n".to_owned();
    text.push_str("  for chicken\n");
    for (name, share) in diet.parts {
        text.push_str(&format!("  {name}  {share} %\n"));
    }
    let texts = InMemory::new([("diet.trug", text.as_str())]);
    let farm = Farm::read(&["diet.trug".to_owned()], &texts, Settings::default());
    let errors = farm.check();
    let errors = errors
        .iter()
        .filter(|it| it.severity == trug_findings::Severity::Error);
    assert_eq!(
        errors.map(|it| &it.message).collect::<Vec<_>>(),
        Vec::<&String>::new()
    );
    let view = farm.open(farm.asked()[0]);
    let ration = view.made_out("diet").unwrap();
    view.analyse(&ration)
}

fn recomputed(diet: &Diet) {
    let analysis = analysis(diet);
    let value = |name: &str| {
        let found = analysis.nutrients.iter().find(|it| it.name == name);
        found.unwrap_or_else(|| panic!("no {name}")).value.to_f64()
    };
    for (name, printed, apart) in diet.printed {
        let said = value(name);
        assert!(
            (said - printed).abs() <= *apart,
            "{name}: {said} against {printed}"
        );
    }
    let below = diet.energy - value("ame-eu");
    assert!(
        (0.0..=0.95).contains(&below),
        "energy is {below} MJ/kg below"
    );
}

#[test]
fn a_starter_for_broilers() {
    recomputed(&STARTER);
}

#[test]
fn a_diet_for_broilers() {
    recomputed(&BROILER);
}

#[test]
fn a_diet_for_laying_hens() {
    recomputed(&LAYER);
}
