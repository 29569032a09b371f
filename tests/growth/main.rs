//! What the worst inputs known ask of memory: ten times the input asks for little more than ten times as much.
//!
//! Bytes asked for are counted, not time: they are nearly the same on every machine and every run, and work that grows as the
//! square of its input shows in them wherever anything is made on the way.

#![expect(clippy::unwrap_used, reason = "a test may stop where it stands")]

mod made;
#[path = "../../crates/trug-model/benches/made/worst.rs"]
mod worst;

use std::alloc::System;
use std::sync::{Mutex, PoisonError};

use stats_alloc::{INSTRUMENTED_SYSTEM, Region, StatsAlloc};
use trug_findings::{Finding, Source};
use trug_model::{Farm, InMemory, Settings};
use trug_plan::Request;
use trug_report::findings::{Style, findings_document, human, lines, sarif};
use trug_report::json::to_json;
use trug_tests::answer;
use worst::{ALL, Texts};

#[global_allocator]
static MEMORY: &StatsAlloc<System> = &INSTRUMENTED_SYSTEM;

/// One thing is counted at a time.
static ALONE: Mutex<()> = Mutex::new(());

/// Ten times the input may ask for so many times as much: sorting takes a logarithm more, and tables double as they grow. What
/// grows as the square asks for a hundred times as much.
const MOST: f64 = 16.0;

/// What some work asks of memory, in bytes.
fn asked_for(work: &dyn Fn()) -> f64 {
    let region = Region::new(MEMORY);
    work();
    let change = region.change();
    change.bytes_allocated as f64 + change.bytes_reallocated.max(0) as f64
}

/// How many times as much the same work asks for, of ten times the input.
fn grows(of: &dyn Fn(usize) -> Box<dyn Fn()>) -> f64 {
    let _alone = ALONE.lock().unwrap_or_else(PoisonError::into_inner);
    let (small, large) = (of(1), of(10));
    // What is made once and kept, such as the bundled books, is not what is looked at.
    small();
    asked_for(&large) / asked_for(&small)
}

fn hold(all: Vec<(&str, f64)>) {
    let wrong = all.iter().filter(|(_, times)| *times > MOST);
    let wrong: Vec<String> = wrong
        .map(|(name, times)| {
            format!("{name}: 10 times the input asks for {times:.1} times as much")
        })
        .collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

fn read(texts: &Texts) -> Farm {
    let pairs = texts
        .iter()
        .map(|(path, text)| (path.as_str(), text.as_str()));
    Farm::read(
        &["a.trug".to_owned()],
        &InMemory::new(pairs),
        Settings::default(),
    )
}

#[test]
fn the_check_asks_for_no_more_than_its_input_grows() {
    let of = |worst: &'static worst::Worst| {
        let times = grows(&|times| {
            let texts = (worst.made)(worst.size * times);
            Box::new(move || drop(read(&texts).check()))
        });
        (worst.name, times)
    };
    hold(ALL.iter().map(of).collect());
}

/// What was found in a text is drawn and written in every form.
#[test]
fn findings_in_every_form_ask_for_no_more_than_there_are() {
    let found = |texts: &Texts| -> (Vec<Finding>, Vec<Source>) {
        let farm = read(texts);
        (farm.check(), farm.sources().to_vec())
    };
    type Form = (&'static str, fn(&[Finding], &[Source]) -> usize);
    let forms: [Form; 4] = [
        ("text", |findings, sources| {
            human(
                findings,
                sources,
                &Style {
                    width: 80,
                    color: false,
                    ascii: false,
                },
            )
            .len()
        }),
        ("lines", |findings, sources| lines(findings, sources).len()),
        ("json", |findings, sources| {
            to_json(&findings_document(findings, sources, None)).len()
        }),
        ("sarif", |findings, sources| {
            sarif(findings, sources, None).len()
        }),
    ];
    let of = |(name, form): Form| {
        let times = grows(&|times| {
            let (findings, sources) = found(&made::mistakes(300 * times));
            assert!(findings.len() >= 300 * times);
            Box::new(move || assert!(form(&findings, &sources) > 0))
        });
        (name, times)
    };
    hold(forms.into_iter().map(of).collect());
}

#[test]
fn plans_and_analyses_ask_for_no_more_than_their_ration_grows() {
    type Work = (&'static str, usize, fn(usize) -> String, fn(&str));
    let plan = |text: &str| {
        let planned = answer::plan_in(&[("a.trug", text)], "a.trug", "mash", &Request::default());
        assert!(planned.document.is_some(), "{:?}", planned.findings);
    };
    let analyse = |text: &str| {
        let analysed = answer::analyse_in(&[("a.trug", text)], "a.trug", "mash");
        assert!(analysed.document.is_some(), "{:?}", analysed.findings);
    };
    let works: [Work; 5] = [
        ("a plan of many bulk ingredients", 20, made::bulks, plan),
        ("a plan of many small ingredients", 20, made::smalls, plan),
        ("a plan of many pairs apart", 6, made::pairs_apart, plan),
        ("an analysis of many doses", 50, made::doses, analyse),
        ("an analysis of many targets", 20, made::targets, analyse),
    ];
    let of = |(name, size, made, work): Work| {
        let times = grows(&|times| {
            let text = made(size * times);
            Box::new(move || work(&text))
        });
        (name, times)
    };
    hold(works.into_iter().map(of).collect());
}

#[test]
fn the_editor_asks_for_no_more_than_the_text_grows() {
    type Question = (&'static str, fn(&Farm, usize));
    let questions: [Question; 3] = [
        ("completion", |farm, offset| {
            let file = farm.file("a.trug").unwrap();
            assert!(
                !trug_ide::completion(farm, file, offset)
                    .candidates
                    .is_empty()
            );
        }),
        ("hover", |farm, offset| {
            let file = farm.file("a.trug").unwrap();
            assert!(trug_ide::hover(farm, file, offset).is_some());
        }),
        ("lenses", |farm, _| {
            let file = farm.file("a.trug").unwrap();
            drop(trug_ide::lens_places(farm, file));
        }),
    ];
    let of = |(name, question): Question| {
        let times = grows(&|times| {
            let text = made::bulks(100 * times);
            // In the name of the last ration's last line.
            let offset = text.rfind("  f").unwrap() + 3;
            let farm = read(&vec![("a.trug".to_owned(), text)]);
            Box::new(move || question(&farm, offset))
        });
        (name, times)
    };
    hold(questions.into_iter().map(of).collect());
}

#[test]
fn tidying_asks_for_no_more_than_the_text_grows() {
    let times = grows(&|times| {
        let text = made::bulks(300 * times);
        Box::new(move || assert!(!trug_syntax::tidy(&text).is_empty()))
    });
    hold(vec![("tidy", times)]);
}
