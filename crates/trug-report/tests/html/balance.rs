//! The page of a balanced ration as a program reads it: whole, closed, and with no markup that came from a text.

use trug_balance::{
    Amount, Balance, Balanced, BoundStanding, ConflictPart, Infeasible, LeftOut, Outcome, Relax,
};
use trug_findings::{FileId, Place, Source, Span};
use trug_model::Q;
use trug_model::choice::{ChoiceEnd, Rule};
use trug_report::balance::{BalancedDays, BalancedRation, balance_html, days_html};

use crate::element;
use crate::hostile;

fn q(text: &str) -> Q {
    Q::fraction(text).unwrap()
}

fn place() -> Place {
    Place::new(FileId(0), Span::new(0, 1))
}

fn balanced(text: &str, percent: &str) -> Outcome {
    let share = q(percent) / Q::int(100);
    Outcome::Balanced(Box::new(Balanced {
        unproved: Some(text.to_owned()),
        cost_per_kg: q("96.5"),
        cost_bound: q("96"),
        amounts: vec![Amount {
            ingredient: text.into(),
            share,
            on_top: false,
            is_chosen: true,
            before: Some(q("1/3")),
            price: Some(q("80")),
            price_low: Some(q("-1")),
            price_high: None,
        }],
        bounds: vec![BoundStanding {
            rule: Rule::Target,
            what: text.to_owned(),
            end: ChoiceEnd::AtLeast,
            value: Some(q("17")),
            unit: text.to_owned(),
            basis: text.to_owned(),
            bound: q("17"),
            binding: true,
            complete: false,
            shadow_price: q("10/3"),
            place: place(),
        }],
        left_out: vec![LeftOut {
            ingredient: text.into(),
            price: None,
            enters_below_price: Some(q("12")),
        }],
        edits: Vec::new(),
    }))
}

fn infeasible(text: &str) -> Outcome {
    Outcome::Infeasible(Infeasible {
        conflict: vec![ConflictPart {
            rule: Some(Rule::Target),
            what: text.to_owned(),
            says: text.to_owned(),
            unknown: vec![text.to_owned()],
            place: place(),
        }],
        relax: vec![Relax {
            what: text.to_owned(),
            end: ChoiceEnd::AtLeast,
            unit: text.to_owned(),
            from: q("20"),
            to: q("14.72"),
            cost_per_kg: Some(q("80")),
            place: place(),
        }],
        is_together: false,
    })
}

fn balance(text: &str, outcome: Outcome) -> Balance {
    Balance {
        ration: text.into(),
        place: place(),
        currency: "LKR".to_owned(),
        outcome,
        counted_as_exact: vec![text.into()],
        cost_is_complete: false,
    }
}

/// Every page there is, with this text wherever one can stand.
fn pages(text: &str) -> Vec<String> {
    let sources = [Source::new(text, "ration mash\n")];
    let of = |outcome: Outcome| BalancedRation {
        balance: balance(text, outcome),
        sources: &sources,
        today: None,
        day: None,
        label: Some(text.to_owned()),
    };
    let unanswered = Outcome::Unanswered(text.to_owned());
    let all = [
        of(balanced(text, "20.84")),
        of(infeasible(text)),
        of(unanswered),
    ];
    let days = BalancedDays {
        ration: text.to_owned(),
        label: Some(text.to_owned()),
        place: place(),
        days: ["20.84", "30"]
            .map(|percent| (text.to_owned(), balance(text, balanced(text, percent))))
            .into_iter()
            .chain([(text.to_owned(), balance(text, infeasible(text)))])
            .collect(),
        sources: &sources,
    };
    vec![balance_html(&all), days_html(&[days])]
}

#[test]
fn the_page_is_well_formed_and_keeps_its_shape_whatever_a_text_says() {
    let shape = |page: &str| {
        let (page, errors) = element::read(page);
        assert_eq!(errors, Vec::<String>::new());
        let all = page.all();
        let names = all.iter().map(|it| {
            let attributes: Vec<String> = it.attributes.keys().cloned().collect();
            (it.name.clone(), attributes)
        });
        names.collect::<Vec<_>>()
    };
    let plain: Vec<_> = pages("maize").iter().map(|page| shape(page)).collect();
    for text in hostile() {
        let shapes: Vec<_> = pages(&text).iter().map(|page| shape(page)).collect();
        assert_eq!(shapes, plain, "with {text:?}");
    }
}

#[test]
fn exact_shares_stand_in_the_page() {
    for (page, wanted) in pages("maize")
        .iter()
        .zip([&["20.84"][..], &["96.5", "20.84", "30"]])
    {
        let (page, _) = element::read(page);
        let values: Vec<String> = page
            .all()
            .iter()
            .filter(|it| it.name == "data")
            .filter_map(|it| it.attribute("value").map(str::to_owned))
            .collect();
        for value in wanted {
            assert!(values.iter().any(|it| it == value), "{value} in {values:?}");
        }
    }
}
