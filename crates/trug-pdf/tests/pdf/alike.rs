//! The PDF tells what the sheet tells, element by element and no more; the page of text tells the same numbers; and the
//! masses are those that the document for programs says.

use std::path::Path;

use crate::orders;
use crate::support::read::{Element, elements};
use crate::support::told::{Told, bare, numbers, pictured, told};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use trug_findings::Source;
use trug_model::{Farm, InMemory, Q, Settings};
use trug_pdf::{Paper, pdf};
use trug_plan::plan::Plan;
use trug_plan::{Request, plan_ration};
use trug_report::plan::{PlanAbout, plan_document};
use trug_report::sheet::{Booklet, Copies, Sheet, booklet, booklet_text};
use trug_report::speech::Speech;

const TODAY: &str = "2026-11-26";

/// Holds a drawn booklet to all that tells the same.
fn hold(plan: &Plan, about: &PlanAbout<'_>, tag: &str, paper: Paper) -> Result<(), String> {
    let booklet = booklet(
        &[(plan, about)],
        &Speech::of(tag).unwrap(),
        Copies::EachBatch,
    );
    let drawn = pdf(&booklet, paper).unwrap();
    let read = lopdf::Document::load_mem(&drawn.bytes).unwrap();
    let mut parts = elements(&read);
    if booklet.day.is_some() {
        parts.remove(0);
    }
    if parts.len() != booklet.sheets.len() {
        return Err(format!(
            "{} parts of {} sheets",
            parts.len(),
            booklet.sheets.len()
        ));
    }
    for (sheet, part) in booklet.sheets.iter().zip(&parts) {
        let sections = drawn_whole(sheet, part)?;
        if booklet.day.is_none() && booklet.sheets.len() == 1 {
            as_in_the_text(&booklet, sheet, &sections)?;
        }
    }
    if tag == "en" {
        as_in_the_document(plan, about, &booklet)?;
    }
    Ok(())
}

/// A section as it was drawn.
struct Drawn {
    name: &'static str,
    text: String,
}

/// Every element of the sheet is drawn once, in the order of its section, and nothing else is.
fn drawn_whole(sheet: &Sheet, part: &Element) -> Result<Vec<Drawn>, String> {
    let leaves = part.leaves();
    let (figures, leaves): (Vec<_>, Vec<_>) =
        leaves.into_iter().partition(|(kind, _)| *kind == "Figure");
    let texts: Vec<&str> = leaves
        .into_iter()
        .map(|(_, text)| text)
        .filter(|text| !bare(text).is_empty())
        .collect();
    let figure: String = figures.iter().map(|(_, text)| bare(text)).collect();
    if !figures.is_empty() && figure != pictured(sheet) {
        return Err(format!(
            "the picture says {figure}, not {}",
            pictured(sheet)
        ));
    }
    sections_of(told(sheet, true), &texts).or_else(|_| sections_of(told(sheet, false), &texts))
}

fn sections_of(told: Vec<Told>, texts: &[&str]) -> Result<Vec<Drawn>, String> {
    let bares: Vec<String> = texts.iter().map(|text| bare(text)).collect();
    let mut is_told = vec![false; texts.len()];
    let mut sections = Vec::new();
    for section in told {
        let wanted: Vec<String> = section
            .elements
            .iter()
            .map(|element| bare(element))
            .collect();
        let mut places = bares.windows(wanted.len()).enumerate();
        let place = places.find(|(at, window)| *window == wanted && !is_told[*at]);
        let Some((at, _)) = place else {
            return Err(format!(
                "{}: {wanted:#?} is not in {bares:#?}",
                section.name
            ));
        };
        let place = at..at + wanted.len();
        is_told[place.clone()].fill(true);
        sections.push(Drawn {
            name: section.name,
            text: texts[place].join(" "),
        });
    }
    match is_told.iter().position(|is_told| !is_told) {
        Some(at) => Err(format!("{} is no element of the sheet", texts[at])),
        None => Ok(sections),
    }
}

/// Each section of the page of text tells the numbers that are drawn in it, each as often.
fn as_in_the_text(booklet: &Booklet, sheet: &Sheet, sections: &[Drawn]) -> Result<(), String> {
    let text = booklet_text(booklet, 80);
    let headings = [
        ("weigh", Some(&sheet.weigh.heading)),
        ("mix", Some(&sheet.mix.heading)),
        ("totals", Some(&sheet.totals.heading)),
        ("doses", sheet.doses.as_ref().map(|doses| &doses.heading)),
        ("found", sheet.found.as_ref().map(|found| &found.heading)),
        ("label", Some(&sheet.label.heading)),
    ];
    let (mut name, mut rest) = ("head", text.as_str());
    let mut told_in_text = Vec::new();
    for (next, heading) in headings {
        let Some(heading) = heading else { continue };
        let (own, after) = rest
            .split_once(&format!("\n{heading}\n"))
            .ok_or_else(|| format!("{heading} is not in\n{rest}"))?;
        told_in_text.push((name, own));
        (name, rest) = (next, after);
    }
    // What the tool says of itself comes last, and has no numbers.
    let defers: Vec<&str> = sheet.defers.split_whitespace().take(3).collect();
    told_in_text.push((name, rest.split(&defers.join(" ")).next().unwrap_or(rest)));
    for (name, text) in told_in_text {
        let drawn = sections.iter().find(|section| section.name == name);
        let drawn = match name {
            // Where there is no room for the list, its sums are drawn; the list is that of the sheet.
            "totals" => {
                let list = told(sheet, true)
                    .into_iter()
                    .find(|section| section.name == name);
                list.map(|section| section.elements.join(" "))
            }
            _ => drawn.map(|section| section.text.clone()),
        };
        let (drawn, text) = (numbers(&drawn.unwrap_or_default()), numbers(text));
        if drawn != text {
            return Err(format!("{name}: drawn {drawn:?}, in the text {text:?}"));
        }
    }
    Ok(())
}

/// The masses of the sheets are those of the document: of every weighing, step, ingredient and batch.
fn as_in_the_document(plan: &Plan, about: &PlanAbout<'_>, booklet: &Booklet) -> Result<(), String> {
    let document = serde_json::to_value(plan_document(plan, about)).unwrap();
    let mut sheets = booklet.sheets.iter();
    for batch in document["batches"].as_array().unwrap() {
        for _ in 0..batch["times"].as_u64().unwrap() {
            let sheet = sheets.next().ok_or("a batch has no sheet")?;
            let mut held = vec![(sheet.weigh.together.value.as_str(), &batch["total_g"])];
            let rows: Vec<_> = sheet
                .weigh
                .blocks
                .iter()
                .flat_map(|block| &block.rows)
                .collect();
            let weighings = batch["weighings"].as_array().unwrap();
            if rows.len() != weighings.len() {
                return Err(format!(
                    "{} rows of {} weighings",
                    rows.len(),
                    weighings.len()
                ));
            }
            for (row, weighing) in rows.iter().zip(weighings) {
                held.push((&row.mass, &weighing["mass_g"]));
                let range = row.range.replace(blank, " ");
                let (from, to) = range.split_once(" to ").unwrap_or_default();
                if !to.is_empty() {
                    // The unit stands once, behind both.
                    let unit = to.rsplit(blank).next().unwrap_or_default();
                    agree(&format!("{from} {unit}"), &weighing["from_g"])?;
                    agree(to, &weighing["to_g"])?;
                } else if !weighing["scale"].is_null() {
                    return Err(format!("weighing {} has no range", row.number));
                }
            }
            for step in batch["steps"].as_array().unwrap() {
                let lines = sheet.mix.steps.iter();
                let line = lines
                    .into_iter()
                    .find(|line| line.id.as_deref() == step["id"].as_str());
                let line = line.ok_or_else(|| format!("step {} has no line", step["id"]))?;
                held.extend(
                    line.output
                        .iter()
                        .map(|output| (output.as_str(), &step["output_g"])),
                );
            }
            for (row, amount) in sheet
                .totals
                .rows
                .iter()
                .zip(batch["amounts"].as_array().unwrap())
            {
                held.push((&row.value, &amount["weighed_g"]));
            }
            for (shown, grams) in held {
                agree(shown, grams)?;
            }
        }
    }
    match sheets.next() {
        Some(sheet) => Err(format!("{} is no batch", sheet.title)),
        None => Ok(()),
    }
}

fn blank(letter: char) -> bool {
    letter.is_whitespace()
}

/// Whether a mass with its unit is what so many grams round to in its last figure.
fn agree(shown: &str, grams: &serde_json::Value) -> Result<(), String> {
    let (number, unit) = shown.split_once(blank).unwrap_or_default();
    let unit = match unit {
        "g" => Q::ONE,
        "mg" => Q::ratio(1, 1_000),
        "kg" => Q::int(1_000),
        "t" => Q::int(1_000_000),
        _ => return Err(format!("{shown} has no unit")),
    };
    let decimals = number
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    let last = Q::ratio(1, 10_i64.pow(u32::try_from(decimals).unwrap())) * &unit;
    let exact = grams.as_str().and_then(Q::decimal).unwrap();
    let off = (Q::decimal(number).unwrap_or_default() * &unit - &exact).abs();
    match off * Q::int(2) <= last {
        true => Ok(()),
        false => Err(format!("{shown} is not {exact} g")),
    }
}

/// The farms of `examples/`, each with its texts.
fn examples() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut texts = Vec::new();
    let mut folders = vec![root.clone()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path
                .extension()
                .is_some_and(|end| end == "trug" || end == "csv")
            {
                let name = path
                    .strip_prefix(&root)
                    .unwrap()
                    .to_str()
                    .unwrap()
                    .replace('\\', "/");
                texts.push((name, std::fs::read_to_string(&path).unwrap()));
            }
        }
    }
    texts.sort();
    texts
}

#[test]
fn rations_of_the_examples_are_drawn_as_they_are_told() {
    let texts = examples();
    let held = InMemory::new(
        texts
            .iter()
            .map(|(name, text)| (name.as_str(), text.as_str())),
    );
    let names: Vec<String> = texts
        .iter()
        .map(|(name, _)| name.clone())
        .filter(|name| name.ends_with(".trug"))
        .collect();
    let farm = Farm::read(&names, &held, Settings::default());
    let mut drawn = 0;
    for name in &names {
        let file = farm.file(name).unwrap();
        let view = farm.open(file);
        for ration in farm.rations(file) {
            let made = view.made_out(&ration.name).unwrap();
            let Ok(planned) = plan_ration(&view, &made, &Request::default()) else {
                continue;
            };
            let findings = farm.check_file(file);
            let about = PlanAbout::of(&planned, &made, &findings, farm.sources(), TODAY);
            for (tag, paper) in [("en", Paper::A4), ("en", Paper::Letter), ("sw", Paper::A4)] {
                let held = hold(&planned.plan, &about, tag, paper);
                assert_eq!(held, Ok(()), "{} of {name} in {tag}", ration.name);
            }
            drawn += 1;
        }
    }
    assert!(5 < drawn, "{drawn} rations are drawn");
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 24,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(2027),
        ..ProptestConfig::default()
    })]

    #[test]
    fn rations_of_every_kind_are_drawn_as_they_are_told(
        order in prop_oneof![orders::sensible(0..=9).boxed(), orders::order_of(6).boxed()],
        language in 0..5_usize,
        is_letter: bool,
    ) {
        let sources = [Source::new("rations.trug", "ration mash\n")];
        let about = PlanAbout {
            sources: &sources,
            file: "rations.trug".to_owned(),
            today: TODAY.to_owned(),
            ..PlanAbout::default()
        };
        let plan = trug_plan::plan(order);
        prop_assume!(plan.batches.iter().map(|batch| batch.times).sum::<u32>() < 12);
        let paper = if is_letter { Paper::Letter } else { Paper::A4 };
        let tag = ["en", "en", "es", "fr", "pt"][language];
        prop_assert_eq!(hold(&plan, &about, tag, paper), Ok(()));
    }
}
