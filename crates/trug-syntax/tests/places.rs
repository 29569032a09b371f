//! Every part of the tree says where it stands, to the byte.

use trug_findings::{FileId, Span};
use trug_syntax::parse;
use trug_syntax::tree::{
    AmountForm, BasisKind, IngredientStatement, ItemBody, NutrientKind, Quantity, RationStatement,
    UseSource,
};

/// The first ingredient's statements of a text.
fn statements(text: &str) -> Vec<IngredientStatement> {
    let file = parse(FileId(0), text);
    assert!(
        file.items.iter().all(|item| !item.has_unread_line),
        "{:#?}",
        file.findings
    );
    let ingredient = file.items.into_iter().find_map(|item| match item.body {
        ItemBody::Ingredient(ingredient) => Some(ingredient),
        _ => None,
    });
    let lines = ingredient
        .map(|ingredient| ingredient.lines)
        .unwrap_or_default();
    lines.into_iter().map(|line| line.statement).collect()
}

fn content(text: &str) -> Quantity {
    match statements(text).into_iter().next() {
        Some(IngredientStatement::Content { value, .. }) => value,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_quantity_knows_its_parts() {
    let text = "ingredient a\n  protein  8.0 ± 0.4 %  at  88 % dry-matter # x\n";
    let value = content(text);
    assert_eq!(value.span.of(text), "8.0 ± 0.4 %  at  88 % dry-matter");
    assert_eq!(value.number.span.of(text), "8.0");
    let scatter = value
        .scatter
        .map(|scatter| (scatter.span.of(text), scatter.number.digits.to_string()));
    assert_eq!(scatter, Some(("± 0.4", "0.4".to_owned())));
    assert_eq!(value.unit.map(|unit| unit.span.of(text)), Some("%"));
    let basis = value.basis.map(|basis| (basis.span.of(text), basis.kind));
    let Some((written, BasisKind::AtDryMatter(number))) = basis else {
        panic!("{basis:?}")
    };
    assert_eq!(
        (written, number.digits.as_str()),
        ("at  88 % dry-matter", "88")
    );
}

#[test]
fn a_unit_knows_its_words() {
    for (unit, first, number, second) in [
        ("LKR per 25 kg", "LKR", Some("25"), Some("kg")),
        ("LKR  per 25kg", "LKR", Some("25"), Some("kg")),
        ("LKR per kg", "LKR", None, Some("kg")),
        ("mcg/Kg", "mcg", None, Some("Kg")),
        ("basket", "basket", None, None),
        ("%", "%", None, None),
    ] {
        let text = format!("ingredient a\n  protein 4600 {unit}\n");
        let Some(read) = content(&text).unit else {
            panic!("{unit}")
        };
        assert_eq!(read.span.of(&text), unit);
        assert_eq!(read.unit.span.of(&text), first);
        let of = |span: Span| span.of(&text);
        let per = read.per.as_ref();
        assert_eq!(
            per.and_then(|(number, _)| number.as_ref())
                .map(|number| of(number.span)),
            number
        );
        assert_eq!(per.map(|(_, word)| of(word.span)), second);
    }
    let text = "ingredient a\n  protein 5 mcg/Kg\n";
    let Some(unit) = content(text).unit else {
        panic!("{text}")
    };
    assert_eq!(
        (
            unit.unit.text.as_str(),
            unit.per.map(|(_, word)| word.text.to_string())
        ),
        ("ug", Some("kg".to_owned()))
    );
}

#[test]
fn names_are_composed_and_numbers_plain() {
    let text = "ingredient re\u{301}gime\n  a −5 %\n  b +5 %\n  c 46%\n";
    let file = parse(FileId(0), text);
    assert_eq!(
        file.items[0].body.name().map(|name| name.text.as_str()),
        Some("r\u{e9}gime")
    );
    let digits: Vec<_> = statements(text)
        .into_iter()
        .map(|statement| match statement {
            IngredientStatement::Content { value, .. } => value.number.digits.to_string(),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(digits, ["-5", "5", "46"]);
}

#[test]
fn items_and_amounts_know_where_they_stand() {
    let text = "\u{feff}ration a \"A\" like b  # x\r\n\r\n  fish-meal  4 kg  lot F small # y\r\n  # z\r\nuse \"p.CSV\"\r\n";
    let file = parse(FileId(0), text);
    assert!(file.findings.is_empty());
    assert_eq!(file.items[0].header.of(text), "ration a \"A\" like b");
    assert_eq!(file.items[0].keyword.of(text), "ration");
    assert!(file.items[0].whole.of(text).ends_with("lot F small"));
    let ItemBody::Ration(ration) = &file.items[0].body else {
        panic!()
    };
    assert_eq!(
        ration.lines[0].span.of(text),
        "fish-meal  4 kg  lot F small"
    );
    let RationStatement::Amount(amount) = &ration.lines[0].statement else {
        panic!()
    };
    assert_eq!(amount.span.of(text), "4 kg");
    assert!(matches!(amount.form, AmountForm::Fixed(_)));
    assert_eq!(
        amount.clauses.carry.map(|(_, span)| span.of(text)),
        Some("small")
    );
    let ItemBody::Use(used) = &file.items[1].body else {
        panic!()
    };
    assert!(matches!(used.source, UseSource::Table(_)));
}

#[test]
fn one_sum_over_another_takes_all_on_its_left() {
    for sum in [
        "methionine + cystine / lysine",
        "(methionine + cystine) / lysine",
    ] {
        let text = format!("nutrient x = {sum}\n");
        let file = parse(FileId(0), &text);
        let ItemBody::Nutrient(nutrient) = &file.items[0].body else {
            panic!()
        };
        let NutrientKind::Of(of) = &nutrient.kind else {
            panic!()
        };
        assert_eq!(of.sum.terms.len(), 2, "{sum}");
        assert_eq!(
            of.over.as_ref().map(|over| over.terms.len()),
            Some(1),
            "{sum}"
        );
        assert_eq!(of.span.of(&text), sum);
    }
    let text = "nutrient x = 2 * sodium / 22.99 g/eq - chloride × 3\n";
    let file = parse(FileId(0), text);
    let ItemBody::Nutrient(nutrient) = &file.items[0].body else {
        panic!()
    };
    let NutrientKind::Of(of) = &nutrient.kind else {
        panic!()
    };
    let factors: Vec<_> = of
        .sum
        .terms
        .iter()
        .map(|term| (term.is_subtracted, term.factors.len()))
        .collect();
    assert_eq!(factors, [(false, 2), (true, 1)]);
    assert!(of.over.is_none());
}

#[test]
fn a_name_of_two_words_counts_as_the_one_it_was_meant_for() {
    let text = "ingredient broken rice \"Broken rice\"\n";
    let file = parse(FileId(0), text);
    let name = file.items[0]
        .body
        .name()
        .map(|name| (name.text.as_str(), name.span.of(text)));
    assert_eq!(name, Some(("broken-rice", "broken rice")));
}
