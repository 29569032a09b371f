//! A text to a table and back: every value of every ingredient, and every amount, is what it was.

#![expect(clippy::unwrap_used, reason = "a test says what it expects")]

use proptest::prelude::*;
use trug_convert::{Weight, Wishes, to_table, to_text};
use trug_findings::FileId;
use trug_syntax::tree::{Ingredient, ItemBody, Ration, RationStatement};

/// What a text says of its ingredients and its ration, without places.
fn said(text: &str) -> Vec<String> {
    let file = trug_syntax::parse(FileId::default(), text);
    assert!(file.findings.is_empty(), "{text}\n{:?}", file.findings);
    let mut said: Vec<String> = Vec::new();
    for item in &file.items {
        match &item.body {
            ItemBody::Ingredient(ingredient) => said.extend(of_ingredient(ingredient)),
            ItemBody::Ration(ration) => said.extend(of_ration(ration)),
            _ => {}
        }
    }
    said
}

fn of_ingredient(ingredient: &Ingredient) -> Vec<String> {
    let name = &ingredient.name.text;
    let label = ingredient
        .label
        .as_ref()
        .map_or("", |label| label.text.as_str());
    let mut lines: Vec<String> = ingredient
        .lines
        .iter()
        .map(|line| {
            format!(
                "{name}: {}",
                without_places(&format!("{:?}", line.statement))
            )
        })
        .collect();
    lines.sort();
    lines.push(format!("{name} is called {label:?}"));
    lines
}

fn of_ration(ration: &Ration) -> Vec<String> {
    let amounts = ration
        .lines
        .iter()
        .filter_map(|line| match &line.statement {
            RationStatement::Amount(amount) => Some(without_places(&format!("{amount:?}"))),
            _ => None,
        });
    amounts.collect()
}

/// Places and whether a unit is written with `/` or `per` say nothing of values.
fn without_places(debug: &str) -> String {
    let mut kept = String::new();
    for (rank, part) in debug.split("Span {").enumerate() {
        let part = if rank == 0 {
            part
        } else {
            part.split_once('}').unwrap().1
        };
        kept.push_str(part);
    }
    kept
}

fn number() -> impl Strategy<Value = String> {
    prop_oneof!["[0-9]{1,3}", "[0-9]{1,2}\\.[0-9]{1,4}", "0\\.[0-9]{30}"]
}

fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-z][a-z ,;'=+@#-]{0,12}[a-z]",
        "[=+@'-]{1,2}[a-z\"]{1,6}",
        "සහල්|Maïs, moulu|he said \"yes\"".prop_map(|text: String| text),
    ]
}

fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('"', "\"\""))
}

fn line() -> impl Strategy<Value = String> {
    let nutrient = prop::sample::select(vec![
        "protein",
        "lysine",
        "vitamin-a",
        "goat-energy",
        "phytase",
    ]);
    let unit = prop::sample::select(vec![
        "%",
        "g/kg",
        "MJ/kg",
        "IU/kg",
        "mg per 100 g",
        "% of dry-matter",
        "% at 88 % dry-matter",
    ]);
    let content = (nutrient, number(), prop::option::of(number()), unit).prop_map(
        |(nutrient, number, scatter, unit)| {
            let scatter = scatter
                .map(|scatter| format!(" ± {scatter}"))
                .unwrap_or_default();
            format!("{nutrient} {number}{scatter} {unit}")
        },
    );
    prop_oneof![
        4 => content,
        1 => number().prop_map(|number| format!("dry-matter {number} %")),
        1 => number().prop_map(|number| format!("price {number} LKR/kg as of 2026-11-01")),
        1 => number().prop_map(|number| format!("price {number} LKR per 25 kg")),
        1 => number().prop_map(|number| format!("bulk-density {number} kg/L")),
        1 => number().prop_map(|number| format!("sold in {number} kg")),
        1 => number().prop_map(|number| format!("at most {number} % for duckling")),
        1 => text().prop_map(|text| format!("label si {}", quoted(&text))),
        1 => text().prop_map(|text| format!("caution {}", quoted(&text))),
        1 => (number(), text()).prop_map(|(number, text)| format!("ceiling {number} g/kg lysine {}", quoted(&text))),
        1 => number().prop_map(|number| format!("dose at least {number} g/kg for duck")),
        1 => number().prop_map(|number| format!("dose 0 .. 1{number} g/kg lysine")),
        1 => text().prop_map(|text| format!("never with salt {}", quoted(&text))),
        1 => text().prop_map(|text| format!("never for horse {}", quoted(&text))),
        1 => Just("nothing else".to_owned()),
        1 => Just("form crystal".to_owned()),
        1 => Just("apart from salt until 1 in 20".to_owned()),
        1 => number().prop_map(|number| format!("withdrawal {number} days for meat")),
    ]
}

fn amount() -> impl Strategy<Value = String> {
    prop_oneof![
        number().prop_map(|number| format!("{number} %")),
        number().prop_map(|number| format!("{number} kg/t on top")),
        number().prop_map(|number| format!("{number} kg lot L-1 small")),
        number().prop_map(|number| format!("0 .. 1{number} % or none")),
        number().prop_map(|number| format!("giving {number} g/kg lysine")),
        Just("rest".to_owned()),
        Just("6 parts".to_owned()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_value_comes_back(
        items in prop::collection::vec((prop::option::of(text()), prop::collection::vec(line(), 0..8)), 1..6),
        amounts in prop::collection::vec((0_usize..8, amount()), 0..6),
    ) {
        let names = ["maize", "Rice-bran", "සහල්", "cp", "ash", "f", "g", "h"];
        let mut text = String::new();
        for ((label, lines), name) in items.iter().zip(names) {
            let label = label.as_ref().map(|label| format!(" {}", quoted(label))).unwrap_or_default();
            text += &format!("ingredient {name}{label}\n");
            for line in lines {
                text += &format!("  {line}\n");
            }
        }
        if !amounts.is_empty() {
            text += "ration mash\n";
            for (rank, amount) in &amounts {
                text += &format!("  {} {amount}\n", names[*rank]);
            }
        }
        let table = to_table(&text, None).unwrap();
        prop_assert!(table.remarks.iter().all(|remark| remark.weight != Weight::Lost), "{:?}", table.remarks);
        let back = to_text(&table.text, &Wishes { name: "mash".to_owned(), ..Wishes::default() }).unwrap();
        prop_assert!(back.remarks.is_empty(), "{}\n{:?}", table.text, back.remarks);
        let (mut before, mut after) = (said(&text), said(&back.text));
        // An ingredient that only the ration names is declared in the text that comes back.
        let is_new = |line: &String| line.ends_with(" is called \"\"");
        before.retain(|line| !is_new(line));
        after.retain(|line| !is_new(line));
        before.sort();
        after.sort();
        prop_assert_eq!(before, after, "{}\n{}", table.text, back.text);
    }

    /// Any bytes that are text: nothing panics, and what is made can be read.
    #[test]
    fn any_table_is_converted_or_refused(rows in prop::collection::vec(prop::collection::vec("(Ingredient|CP %|kg|Maize|Total|-?[0-9]{1,3}([.,][0-9]{1,3})?|=1|\"|[ -~]{0,6}|\\PC{0,4})", 0..6), 0..8), divider in "[,;\t]") {
        let text: String = rows.iter().map(|row| row.join(&divider) + "\n").collect();
        if let Ok(converted) = to_text(&text, &Wishes::default()) {
            let file = trug_syntax::parse(FileId::default(), &converted.text);
            prop_assert!(file.findings.is_empty(), "{}\n{:?}", converted.text, file.findings);
            prop_assert_eq!(&trug_syntax::tidy(&converted.text), &converted.text);
        }
    }
}
