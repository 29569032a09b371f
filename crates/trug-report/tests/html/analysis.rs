//! The page of an analysis as a program reads it: whole, closed, and with the numbers of the document.

use std::collections::BTreeMap;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::Value;
use sha2::{Digest as _, Sha256};
use trug_findings::{FileId, Place, Source, Span};
use trug_model::Q;
use trug_model::analysis::{
    Analysis, BoundKind, BoundValue, Cost, DoseValue, LineCost, NutrientValue,
};
use trug_report::analysis::{Analysed, Beside, Interval, analysis_document, analysis_html};

use crate::element::{self, Element};
use crate::hostile;

const BOUNDS: [Interval; 1] = [Interval {
    batch: Some((15.8, 16.2)),
    portion: Some((14.5, 17.5)),
}];
const DOSES: [Interval; 2] = [
    Interval {
        batch: Some((11.5, 12.5)),
        portion: None,
    },
    Interval {
        batch: Some((f64::NAN, f64::INFINITY)),
        portion: None,
    },
];

fn q(text: &str) -> Q {
    Q::fraction(text).unwrap()
}

fn bound(text: &str, kind: BoundKind, value: Option<&str>) -> BoundValue {
    BoundValue {
        what: text.to_owned(),
        kind,
        value: value.map(q),
        unit: text.to_owned(),
        basis: text.to_owned(),
        min: None,
        max: None,
        met: None,
        probability: None,
        rises: Vec::new(),
        deviation: 0.0,
        place: Place::new(FileId(0), Span::new(0, 1)),
    }
}

fn bounds(text: &str) -> Vec<BoundValue> {
    vec![
        BoundValue {
            min: Some(q("16")),
            max: Some(q("18")),
            met: Some(false),
            probability: Some(0.47),
            ..bound(text, BoundKind::Target, Some("15.9996"))
        },
        BoundValue {
            max: Some(q("1/3")),
            ..bound(text, BoundKind::Harm, None)
        },
        BoundValue {
            min: Some(q("-200")),
            met: Some(true),
            ..bound(text, BoundKind::Limit, Some("-1250/7"))
        },
        BoundValue {
            min: Some(q("0.8")),
            ..bound(text, BoundKind::Law, Some("0.3"))
        },
    ]
}

fn doses(text: &str) -> Vec<DoseValue> {
    let dose = DoseValue {
        ingredient: text.to_owned(),
        nutrient: None,
        value: Some(q("12")),
        unit: "g/kg".to_owned(),
        min: Some(q("0.2")),
        max: Some(q("4")),
        ceiling: Some(q("10")),
        met: Some(false),
        rises: Vec::new(),
        deviation: 0.0,
        place: Place::default(),
    };
    vec![
        dose.clone(),
        DoseValue {
            nutrient: Some(text.to_owned()),
            max: None,
            ceiling: None,
            met: Some(true),
            ..dose.clone()
        },
        DoseValue {
            min: None,
            max: None,
            met: None,
            value: None,
            ..dose
        },
    ]
}

/// An analysis with one of everything, in which every text that can come from a user is this one.
fn analysis(text: &str) -> Analysis {
    let nutrient = NutrientValue {
        name: text.to_owned(),
        label: Some(text.to_owned()),
        value: q("34/3"),
        unit: text.to_owned(),
        value_dry_matter: Some(q("12.83")),
        complete: true,
        low: Some(11.123_456),
        high: Some(11.7),
    };
    let line = |ingredient: &str, share: &str, per_kg: &str, complete| LineCost {
        ingredient: ingredient.to_owned(),
        share: q(share),
        per_kg: q(per_kg),
        complete,
    };
    Analysis {
        ration: text.to_owned(),
        place: Place::new(FileId(0), Span::new(0, 1)),
        mass_g: Some(q("120180")),
        cost: Some(Cost {
            currency: "LKR".to_owned(),
            per_kg: q("90"),
            complete: false,
            lines: vec![
                line("rice", "2/3", "30", true),
                line(text, "1/4", "60", true),
                line("grit", "1/12", "0", false),
            ],
        }),
        nutrients: vec![
            nutrient.clone(),
            NutrientValue {
                value_dry_matter: None,
                complete: false,
                low: None,
                high: None,
                ..nutrient
            },
        ],
        bounds: bounds(text),
        doses: doses(text),
    }
}

fn sources(text: &str) -> Vec<Source> {
    vec![Source::new(text, "ration of ducks\n")]
}

/// The page of so many analyses in which every text is this one.
fn page_of(text: &str, count: usize) -> String {
    let (analysis, sources) = (analysis(text), sources(text));
    let labels: BTreeMap<String, String> = [(text.to_owned(), text.to_owned())].into();
    let page = Analysed {
        analysis,
        sources: &sources,
        bounds: BOUNDS.to_vec(),
        doses: DOSES.to_vec(),
        origins: Vec::new(),
        today: Some("2026-11-25".to_owned()),
        label: Some(text.to_owned()),
        labels,
    };
    analysis_html(&vec![page; count])
}

fn read(text: &str, count: usize) -> Element {
    element::read(&page_of(text, count)).0
}

#[test]
fn the_page_is_well_formed_whatever_a_label_says() {
    for text in hostile() {
        for count in 0..3 {
            let (_, errors) = element::read(&page_of(&text, count));
            assert_eq!(errors, Vec::<String>::new(), "with {text:?}");
        }
    }
}

#[test]
fn a_label_changes_nothing_but_itself() {
    let shape = |text: &str| {
        let page = read(text, 2);
        let names = |it: &&Element| {
            let names: Vec<String> = it.attributes.keys().cloned().collect();
            (it.name.clone(), names)
        };
        page.all().iter().map(names).collect::<Vec<_>>()
    };
    let plain = shape("Maize, ground");
    // Where a basis says nothing, nothing stands for it.
    for text in hostile().iter().filter(|text| !text.is_empty()) {
        assert!(shape(text) == plain, "with {text:?}");
    }
    let steers = |character: char| {
        (character.is_control() && character != '\n')
            || matches!(character, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    for text in hostile() {
        assert_eq!(
            page_of(&text, 1).chars().find(|it| steers(*it)),
            None,
            "with {text:?}"
        );
    }
}

#[test]
fn nothing_in_the_page_can_act() {
    let page = read("Maize", 2);
    let all = page.all();
    let policy = all
        .iter()
        .find(|it| it.attribute("http-equiv") == Some("Content-Security-Policy"))
        .and_then(|it| it.attribute("content"));
    let styles: Vec<_> = all.iter().filter(|it| it.name == "style").collect();
    assert_eq!(styles.len(), 1);
    let hash = STANDARD.encode(Sha256::digest(styles[0].text()));
    let wanted = format!(
        "default-src 'none'; script-src 'none'; style-src 'sha256-{hash}'; base-uri 'none'; form-action 'none'"
    );
    assert_eq!(policy, Some(wanted.as_str()));
    for element in &all {
        assert_ne!(element.name, "script");
        for name in element.attributes.keys() {
            let acts = name.starts_with("on") || name == "style" || name == "src";
            assert!(!acts, "{} has {name}", element.name);
        }
        let href = element.attribute("href");
        assert!(href.is_none_or(|href| href.starts_with('#')), "{href:?}");
    }
}

#[test]
fn ids_are_their_own_and_what_is_named_is_there() {
    let page = read("Maize", 3);
    let all = page.all();
    let ids: Vec<&str> = all.iter().filter_map(|it| it.attribute("id")).collect();
    let once: std::collections::BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(ids.len(), once.len());
    let mut named = 0;
    for element in &all {
        let labelled = element.attribute("aria-labelledby").into_iter();
        let link = element.attribute("href").map(|href| &href[1..]);
        for id in labelled.flat_map(str::split_whitespace).chain(link) {
            assert!(once.contains(id), "{} names {id}", element.name);
            named += 1;
        }
    }
    assert!(named > 20, "{named}");
}

/// The numbers for programs in the element with this id.
fn numbers(page: &Element, id: &str) -> Vec<String> {
    let all = page.all();
    let found = all
        .iter()
        .find(|it| it.attribute("id") == Some(id))
        .unwrap();
    data(found)
}

fn data(element: &Element) -> Vec<String> {
    let all = element.all();
    let data = all.iter().filter(|it| it.name == "data");
    data.filter_map(|it| it.attribute("value").map(str::to_owned))
        .collect()
}

/// The numbers of a part of the document, in the order of these fields; those that are not there are left out.
fn of_document(part: &Value, fields: &[&str]) -> Vec<String> {
    let number = |field: &&str| match &part[*field] {
        Value::String(digits) => Some(digits.clone()),
        Value::Number(number) => Some(number.as_f64().unwrap().to_string()),
        _ => None,
    };
    fields.iter().filter_map(number).collect()
}

#[test]
fn the_numbers_are_those_of_the_document() {
    let (analysis, sources) = (analysis("maize"), sources("farm.trug"));
    let beside = Beside {
        bounds: &BOUNDS,
        doses: &DOSES,
        origins: &[],
        today: None,
    };
    let document = analysis_document(&analysis, &sources, &beside);
    let document = serde_json::to_value(&document).unwrap();
    let page = read("maize", 1);
    let ends = ["batch_low", "batch_high", "portion_low", "portion_high"];
    let list = |name: &str| document[name].as_array().unwrap().clone();
    for (rank, bound) in list("bounds").iter().enumerate() {
        let fields = [&["value", "min", "max"][..], &ends, &["probability"]].concat();
        let id = format!("r1-bound-{}", rank + 1);
        assert_eq!(numbers(&page, &id), of_document(bound, &fields));
    }
    for (rank, dose) in list("doses").iter().enumerate() {
        let fields = [&["value", "min", "max", "ceiling"][..], &ends].concat();
        let id = format!("r1-dose-{}", rank + 1);
        assert_eq!(numbers(&page, &id), of_document(dose, &fields));
    }
    for (rank, line) in list("costs").iter().enumerate() {
        let all = numbers(&page, &format!("r1-cost-{}", rank + 1));
        let wanted = of_document(line, &["share_percent", "per_kg"]);
        let is_known = line["complete"] == true;
        let wanted = if is_known { &wanted[..] } else { &wanted[..1] };
        assert_eq!(&all[1..], wanted, "the first is the mass in the batch");
    }
    let all = page.all();
    let contains = all
        .iter()
        .find(|it| it.attribute("class") == Some("contains"))
        .unwrap();
    let fields = ["low", "high", "value", "value_dry_matter"];
    let nutrients = list("nutrients");
    let wanted: Vec<String> = nutrients
        .iter()
        .flat_map(|one| of_document(one, &fields))
        .collect();
    assert_eq!(data(contains), wanted);
    let foot = all.iter().find(|it| it.name == "tfoot").unwrap();
    let total = [
        document["mass_g"].clone(),
        document["cost"]["per_kg"].clone(),
    ];
    assert_eq!(
        data(foot)
            .iter()
            .map(|it| Value::from(it.as_str()))
            .collect::<Vec<_>>(),
        total
    );
}

#[test]
fn every_verdict_is_a_word_and_every_bar_is_told_beside_it() {
    let page = read("maize", 1);
    let all = page.all();
    let rows: Vec<&&Element> = all
        .iter()
        .filter(|it| {
            it.attribute("class")
                .is_some_and(|class| class.starts_with("standing "))
        })
        .collect();
    let words: Vec<String> = rows
        .iter()
        .map(|row| {
            let inside = row.all();
            let verdict = inside
                .iter()
                .find(|it| it.attribute("class") == Some("verdict"));
            verdict.unwrap().text()
        })
        .collect();
    assert_eq!(
        words,
        ["undecided", "undecided", "MISSED", "MISSED", "undecided"]
    );
    let bars = all.iter().filter(|it| it.attribute("class") == Some("bar"));
    // One dose has an interval that is no number, so that nothing can be drawn to scale.
    assert_eq!(bars.count(), 6);
    let text = page.text();
    assert!(text.contains("2 met, 2 missed, 3 undecided."));
    assert!(text.contains("Product label, veterinarian and local feed law decide."));
    assert!(text.contains("15.9996"), "reads on its own side of 16");
    assert!(!text.contains("NaN") && !text.contains("inf"));
}

#[test]
fn the_dearest_stands_first_and_what_has_no_price_says_so() {
    let page = read("maize", 1);
    let all = page.all();
    let costs = all
        .iter()
        .find(|it| it.attribute("class") == Some("costs"))
        .unwrap();
    let text = costs.text();
    let place = |name: &str| text.find(name).unwrap();
    assert!(place("maize") < place("rice") && place("rice") < place("grit"));
    assert!(
        text.contains("price not known") && text.contains("66.67 %"),
        "{text}"
    );
    assert!(
        text.contains("7210.80"),
        "60 LKR for each of 120.18 kg: {text}"
    );
}
