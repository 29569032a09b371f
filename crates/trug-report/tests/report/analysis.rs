//! An analysis as a person and as a program reads it.

use trug_findings::Source;
use trug_model::Q;
use trug_model::analysis::{
    Analysis, BoundKind, BoundValue, Cost, DoseValue, LineCost, NutrientValue,
};
use trug_report::analysis::{Beside, Interval, analysis_document, analysis_text};
use trug_report::json::{to_json, to_json_line};
use trug_report::words::columns;

use crate::farm::{place, sources};

fn number(text: &str) -> Q {
    Q::fraction(text).unwrap()
}

fn nutrient(name: &str, value: &str, unit: &str) -> NutrientValue {
    NutrientValue {
        name: name.to_owned(),
        label: None,
        value: number(value),
        unit: unit.to_owned(),
        value_dry_matter: None,
        complete: true,
        low: None,
        high: None,
    }
}

fn bound(sources: &[Source], what: &str, kind: BoundKind, value: Option<&str>) -> BoundValue {
    BoundValue {
        what: what.to_owned(),
        kind,
        value: value.map(number),
        unit: "%".to_owned(),
        basis: "as fed".to_owned(),
        min: None,
        max: None,
        met: None,
        probability: None,
        rises: Vec::new(),
        deviation: 0.0,
        place: place(sources, 1, "ceiling"),
    }
}

fn dose(ingredient: &str, value: Option<&str>) -> DoseValue {
    DoseValue {
        ingredient: ingredient.to_owned(),
        nutrient: None,
        value: value.map(number),
        unit: "g/kg".to_owned(),
        min: Some(number("0.2")),
        max: Some(number("4")),
        ceiling: Some(number("10")),
        met: Some(false),
        rises: Vec::new(),
        deviation: 0.0,
        place: trug_findings::Place::default(),
    }
}

fn line_cost(ingredient: &str, share: &str, per_kg: &str) -> LineCost {
    LineCost {
        ingredient: ingredient.to_owned(),
        share: number(share),
        per_kg: number(per_kg),
        complete: true,
    }
}

/// An analysis with one of everything.
pub(crate) fn river_layer(sources: &[Source]) -> Analysis {
    let energy = NutrientValue {
        label: Some("Metabolisable energy".to_owned()),
        value_dry_matter: Some(number("12.83")),
        low: Some(11.123_456),
        high: Some(11.7),
        ..nutrient("ame", "34/3", "MJ/kg")
    };
    let lysine = NutrientValue {
        complete: false,
        ..nutrient("lysine", "0.84", "%")
    };
    Analysis {
        ration: "river-layer".to_owned(),
        place: place(sources, 0, "river-layer"),
        mass_g: Some(number("120180")),
        cost: Some(Cost {
            currency: "LKR".to_owned(),
            per_kg: number("96.4"),
            complete: false,
            lines: vec![
                line_cost("broken-rice", "0.46", "62.1"),
                line_cost("lysine-hcl", "0.012", "34.3"),
                LineCost {
                    complete: false,
                    ..line_cost("soya-meal", "0.528", "0")
                },
            ],
        }),
        nutrients: vec![
            energy,
            nutrient("charge-balance", "-1250/7", "meq/kg"),
            lysine,
        ],
        bounds: bounds(sources),
        doses: vec![
            dose("lysine-hcl", Some("12")),
            DoseValue {
                nutrient: Some("lysine".to_owned()),
                met: None,
                ceiling: None,
                ..dose("lysine-hcl", None)
            },
            DoseValue {
                min: None,
                max: None,
                met: Some(true),
                ..dose("oyster-shell", Some("1/3"))
            },
        ],
    }
}

fn bounds(sources: &[Source]) -> Vec<BoundValue> {
    vec![
        BoundValue {
            min: Some(number("16")),
            max: Some(number("18")),
            met: Some(false),
            probability: Some(0.47),
            ..bound(sources, "protein", BoundKind::Target, Some("15.9996"))
        },
        BoundValue {
            unit: String::new(),
            min: Some(number("6")),
            max: Some(number("10")),
            met: Some(true),
            ..bound(
                sources,
                "calcium / available-phosphorus",
                BoundKind::Target,
                Some("22/3"),
            )
        },
        BoundValue {
            max: Some(number("5")),
            unit: "mg/kg".to_owned(),
            basis: "at 88 % dry-matter".to_owned(),
            ..bound(sources, "selenium", BoundKind::Harm, None)
        },
        BoundValue {
            max: Some(number("26")),
            met: Some(true),
            ..bound(
                sources,
                "soya-meal + sesame-cake",
                BoundKind::Limit,
                Some("24"),
            )
        },
    ]
}

const INTERVALS: [Interval; 1] = [Interval {
    batch: Some((11.5, 12.5)),
    portion: Some((9.0, 15.0)),
}];

fn beside() -> Beside<'static> {
    Beside {
        bounds: &[],
        doses: &INTERVALS,
        origins: &[],
        today: Some("2026-11-25"),
    }
}

#[test]
fn an_analysis_at_80_columns() {
    let sources = sources();
    insta::assert_snapshot!(analysis_text(
        &river_layer(&sources),
        &sources,
        &beside(),
        80
    ));
}

#[test]
fn an_analysis_at_60_columns() {
    let sources = sources();
    let text = analysis_text(&river_layer(&sources), &sources, &Beside::default(), 60);
    assert!(text.lines().all(|line| columns(line) <= 60), "{text}");
    insta::assert_snapshot!(text);
}

#[test]
fn an_analysis_of_nothing_says_what_it_lacks() {
    let sources = sources();
    let analysis = Analysis {
        mass_g: None,
        cost: None,
        nutrients: Vec::new(),
        bounds: Vec::new(),
        doses: Vec::new(),
        ..river_layer(&sources)
    };
    insta::assert_snapshot!(analysis_text(&analysis, &sources, &Beside::default(), 80));
    assert_eq!(
        to_json_line(&analysis_document(&analysis, &sources, &Beside::default())),
        concat!(
            r#"{"format":"trug.analysis/1","ration":"river-layer","file":"rations/river.trug","#,
            r#""mass_g":null,"nutrients":[],"bounds":[],"doses":[]}"#,
            "\n"
        )
    );
}

#[test]
fn the_document_is_as_pinned() {
    let sources = sources();
    let document = analysis_document(&river_layer(&sources), &sources, &beside());
    insta::assert_snapshot!(to_json(&document));
}

#[test]
fn statistics_that_are_no_numbers_are_left_out() {
    let sources = sources();
    let mut analysis = river_layer(&sources);
    analysis.nutrients[0].low = Some(f64::NAN);
    analysis.nutrients[0].high = Some(f64::INFINITY);
    let json = to_json(&analysis_document(&analysis, &sources, &Beside::default()));
    assert!(
        !json.contains("\"low\"") && !json.contains("\"high\""),
        "{json}"
    );
    let text = analysis_text(&analysis, &sources, &Beside::default(), 80);
    assert!(text.contains("? .. ?"), "{text}");
}
