//! Whether the contents can be true: sums, ratios, formulas.

use std::collections::BTreeMap;

use trug_model::quantity::Dimension;

use crate::farm;
use crate::rows::table;

/// Contents in percent, by ingredient and nutrient: all shares of all ingredients of the books.
fn contents() -> BTreeMap<String, BTreeMap<String, f64>> {
    let farm = farm("use book feeds\nuse book additives\n");
    let view = farm.open(farm.asked()[0]);
    let mut contents: BTreeMap<String, BTreeMap<String, f64>> = BTreeMap::new();
    for known in view.names(trug_model::Namespace::Feed) {
        let ingredient = view.ingredient_called(&known.name).unwrap();
        let of = contents.entry(known.name.to_string()).or_default();
        if let Some(dry) = &ingredient.dry_matter {
            of.insert("dry-matter".to_owned(), dry.value.to_f64() * 100.0);
        }
        for (nutrient, content) in &ingredient.contents {
            if view.counted(nutrient).unwrap().dimension == Dimension::SHARE {
                of.insert(nutrient.to_string(), content.value.to_f64() * 100.0);
            }
        }
    }
    contents
}

fn sum(of: &BTreeMap<String, f64>, names: &[&str]) -> f64 {
    names.iter().filter_map(|name| of.get(*name)).sum()
}

/// Known exception: the assays of starch and fibre overlap in the full-fat rice bran of its source (98.6 against a dry
/// matter of 94.9); the fibre taken here is of another source.
#[test]
fn proximates_add_up_to_the_dry_matter_at_most() {
    let parts = ["protein", "fat", "fibre", "ash", "starch", "sugars"];
    let mut checked = 0;
    for (name, of) in contents() {
        if of.get("protein").is_some_and(|it| *it > 0.0) && of.len() > 8 {
            let most = of.get("dry-matter").copied().unwrap_or(100.0);
            assert!(
                sum(&of, &parts) <= most + 0.6,
                "{name}: {}",
                sum(&of, &parts)
            );
            checked += 1;
        }
        assert!(sum(&of, &parts) <= 100.0, "{name}");
    }
    assert!(checked >= 45, "{checked}");
}

/// Known exception: most protein of beet molasses is none, but betaine.
#[test]
fn amino_acids_stay_within_the_protein() {
    let amino = ["lysine", "methionine", "cystine", "threonine", "tryptophan"];
    let mut checked = 0;
    for (name, of) in contents() {
        let (Some(protein), Some(lysine)) = (of.get("protein"), of.get("lysine")) else {
            continue;
        };
        let is_feed = *protein > 0.0 && !name.starts_with("l-") && !name.starts_with("dl-");
        if !is_feed {
            continue;
        }
        let share = lysine / protein * 100.0;
        let is_plausible = (1.0..=12.0).contains(&share);
        assert!(is_plausible, "{name}: lysine is {share} % of protein");
        assert!(sum(&of, &amino) < *protein, "{name}");
        checked += 1;
    }
    assert!(checked >= 43, "{checked}");
}

/// Against the sums that the sources print themselves.
#[test]
fn methionine_and_cystine_add_up_to_what_is_printed() {
    let contents = contents();
    let mut checked = 0;
    for row in table("picks")
        .iter()
        .filter(|row| row["nutrient"] == "met+cys")
    {
        let name = crate::rows::slug(&row["ingredient"]);
        let of = &contents[&name];
        let printed: f64 = row["value"].parse().unwrap();
        let added = sum(of, &["methionine", "cystine"]);
        // These take cystine from another source than methionine.
        let mixed = [
            "wheat",
            "rapeseed-meal",
            "palm-kernel-expeller",
            "skim-milk-powder",
            "brewers-yeast",
        ];
        let apart = if mixed.contains(&name.as_str()) {
            0.21
        } else {
            0.02
        };
        assert!(
            (printed - added).abs() <= apart,
            "{name}: {added} against {printed}"
        );
        checked += 1;
    }
    assert_eq!(checked, 46);
}

#[test]
fn phosphorus_that_is_available_is_part_of_the_whole() {
    for (name, of) in contents() {
        if let (Some(available), Some(total)) =
            (of.get("available-phosphorus"), of.get("phosphorus"))
        {
            assert!(available <= total, "{name}");
        }
    }
}

/// CaCO3: 40.078 / (40.078 + 12.011 + 3 · 15.999) g/mol (IUPAC 2021) is 40.04 % calcium; no limestone holds more.
#[test]
fn limestone_holds_no_more_calcium_than_its_formula() {
    let pure = 100.0 * 40.078 / (40.078 + 12.011 + 3.0 * 15.999);
    let contents = contents();
    assert!((contents["calcium-carbonate"]["calcium"] - pure).abs() < 0.005);
    for name in ["limestone", "oyster-shell"] {
        let calcium = contents[name]["calcium"];
        assert!(calcium <= pure && calcium > 35.0, "{name}: {calcium}");
    }
}

/// Pure substances from atomic weights (IUPAC 2021, abridged), worked out here a second time.
#[test]
fn pure_substances_follow_their_formulas() {
    let (h, c, n, o) = (1.008, 12.011, 14.007, 15.999);
    let (na, s, cl, cu, zn, se) = (22.990, 32.06, 35.45, 63.546, 65.38, 78.971);
    let water = 2.0 * h + o;
    let lysine_hcl = 6.0 * c + 15.0 * h + 2.0 * n + 2.0 * o + cl;
    let cases = [
        ("salt", "sodium", na / (na + cl)),
        ("sodium-bicarbonate", "sodium", na / (na + h + c + 3.0 * o)),
        ("l-lysine-hcl", "protein", 6.25 * 2.0 * n / lysine_hcl),
        (
            "dl-methionine",
            "sulphur",
            s / (5.0 * c + 11.0 * h + n + 2.0 * o + s),
        ),
        (
            "copper-sulphate-pentahydrate",
            "copper",
            cu / (cu + s + 4.0 * o + 5.0 * water),
        ),
        (
            "zinc-sulphate-monohydrate",
            "zinc",
            zn / (zn + s + 4.0 * o + water),
        ),
        (
            "sodium-selenite",
            "selenium",
            se / (2.0 * na + se + 3.0 * o),
        ),
    ];
    let contents = contents();
    for (name, nutrient, fraction) in cases {
        let said = contents[name][nutrient];
        let why = format!("{name}: {said} against {}", fraction * 100.0);
        assert!((said - fraction * 100.0).abs() < 0.02, "{why}");
    }
}

/// The EU equation for compound feed gives every value of `ame-eu` back from the proximates beside it.
///
/// ME = 0.1551 protein + 0.3431 fat + 0.1669 starch + 0.1301 sugars, MJ/kg and percent: Regulation (EC) 152/2009, annex VII.
#[test]
fn the_scale_of_the_eu_equation_is_one_scale() {
    let farm = farm("use book feeds\n");
    let view = farm.open(farm.asked()[0]);
    let contents = contents();
    let mut checked = 0;
    for known in view.names(trug_model::Namespace::Feed) {
        let ingredient = view.ingredient_called(&known.name).unwrap();
        let Some(energy) = ingredient.contents.get("ame-eu") else {
            continue;
        };
        let of = &contents[known.name.as_str()];
        // Their proximates are of another table than their energy, or not all given.
        if [
            "brewers-yeast",
            "rye",
            "potato-protein",
            "palm-kernel-expeller",
        ]
        .contains(&known.name.as_str())
        {
            continue;
        }
        let equation = 0.1551 * of.get("protein").unwrap()
            + 0.3431 * of.get("fat").unwrap()
            + 0.1669 * of.get("starch").unwrap_or(&0.0)
            + 0.1301 * of.get("sugars").unwrap_or(&0.0);
        let said = energy.value.to_f64();
        assert!(
            (said - equation).abs() < 0.06,
            "{}: {said} against {equation}",
            known.name
        );
        checked += 1;
    }
    assert!(checked >= 20, "{checked}");
}
