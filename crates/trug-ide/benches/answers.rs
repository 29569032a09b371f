//! How long each answer takes in a text of 1,000 lines, in a farm of 10,000 texts.

use std::sync::LazyLock;

use trug_findings::{FileId, Finding, Span};
use trug_ide::HintKinds;
use trug_model::{Farm, InMemory, Settings};

fn main() {
    divan::main();
}

const TEXTS: usize = 10_000;

struct Asked {
    farm: Farm,
    file: FileId,
    text: String,
    findings: Vec<Finding>,
}

static ASKED: LazyLock<Asked> = LazyLock::new(|| {
    let store = include_str!("../../../examples/river-farm/coop/store.trug");
    let targets = include_str!("../../../examples/river-farm/coop/targets.trug");
    let rations = include_str!("../../../examples/river-farm/rations.trug");
    let (_, ration) = rations.split_once("ration laying-mash").unwrap_or_default();
    let (ration, _) = ration.split_once("ration goat").unwrap_or_default();
    let mut text = rations.to_owned();
    for rank in 0.. {
        if text.lines().count() >= 1000 {
            break;
        }
        let copy = ration.replace(
            "growing-mash like laying-mash",
            &format!("growing-{rank} like laying-{rank}"),
        );
        text.push_str(&format!("\nration laying-{rank}{copy}"));
    }
    let mut texts: Vec<(String, String)> = vec![
        ("farm/rations.trug".into(), text.clone()),
        ("farm/coop/store.trug".into(), store.into()),
        ("farm/coop/targets.trug".into(), targets.into()),
        (
            "farm/yard.trug".into(),
            include_str!("../../../examples/river-farm/yard.trug").into(),
        ),
        (
            "farm/lots.trug".into(),
            include_str!("../../../examples/river-farm/lots.trug").into(),
        ),
    ];
    for rank in texts.len()..TEXTS {
        let other = format!(
            "use \"../farm/coop/store.trug\"\nration mash-{rank}\n  for duck\n  maize 60 %\n  sorghum 40 %\n"
        );
        texts.push((format!("other/{rank}.trug"), other));
    }
    let names: Vec<String> = texts.iter().map(|(name, _)| name.clone()).collect();
    let held = InMemory::new(
        texts
            .iter()
            .map(|(name, text)| (name.as_str(), text.as_str())),
    );
    let farm = Farm::read(&names, &held, Settings::default());
    let file = farm.file("farm/rations.trug").unwrap_or_default();
    let findings = trug_record::check_file(&farm, file);
    Asked {
        farm,
        file,
        text,
        findings,
    }
});

/// Offsets all over the text, by turns.
fn at(rank: &mut usize) -> usize {
    *rank = rank.wrapping_add(7919);
    *rank % ASKED.text.len()
}

#[divan::bench]
fn hover(bencher: divan::Bencher<'_, '_>) {
    let (asked, mut rank) = (&*ASKED, 0);
    bencher.bench_local(|| trug_ide::hover(&asked.farm, asked.file, at(&mut rank)));
}

#[divan::bench]
fn completion(bencher: divan::Bencher<'_, '_>) {
    let (asked, mut rank) = (&*ASKED, 0);
    bencher.bench_local(|| trug_ide::completion(&asked.farm, asked.file, at(&mut rank)));
}

#[divan::bench]
fn completion_of_a_path(bencher: divan::Bencher<'_, '_>) {
    let asked = &*ASKED;
    let inside = asked.text.find("use \"").map_or(0, |at| at + 5);
    bencher.bench_local(|| trug_ide::completion(&asked.farm, asked.file, inside));
}

#[divan::bench]
fn hints(bencher: divan::Bencher<'_, '_>) {
    let (asked, mut rank) = (&*ASKED, 0);
    bencher.bench_local(|| {
        let start = at(&mut rank);
        // What a window shows.
        trug_ide::hints(
            &asked.farm,
            asked.file,
            Span::new(start, start + 2000),
            HintKinds::ALL,
        )
    });
}

#[divan::bench]
fn hints_of_the_whole(bencher: divan::Bencher<'_, '_>) {
    let asked = &*ASKED;
    let whole = Span::new(0, asked.text.len());
    bencher.bench_local(|| trug_ide::hints(&asked.farm, asked.file, whole, HintKinds::ALL));
}

#[divan::bench]
fn lenses(bencher: divan::Bencher<'_, '_>) {
    let asked = &*ASKED;
    bencher.bench_local(|| trug_ide::lenses(&asked.farm, asked.file));
}

#[divan::bench]
fn one_lens_of_each(bencher: divan::Bencher<'_, '_>) {
    let asked = &*ASKED;
    bencher.bench_local(|| {
        let places = trug_ide::lens_places(&asked.farm, asked.file);
        let shown = places.into_iter().rev().take(4);
        shown
            .map(|lens| trug_ide::resolve_lens(&asked.farm, asked.file, lens))
            .collect::<Vec<_>>()
    });
}

#[divan::bench]
fn tokens(bencher: divan::Bencher<'_, '_>) {
    let asked = &*ASKED;
    let whole = Span::new(0, asked.text.len());
    bencher.bench_local(|| trug_ide::tokens(&asked.farm, asked.file, whole));
}

#[divan::bench]
fn format(bencher: divan::Bencher<'_, '_>) {
    let asked = &*ASKED;
    bencher.bench_local(|| trug_ide::format(&asked.farm, asked.file));
}

#[divan::bench]
fn actions(bencher: divan::Bencher<'_, '_>) {
    let (asked, mut rank) = (&*ASKED, 0);
    bencher.bench_local(|| {
        let range = Span::at(at(&mut rank));
        trug_ide::actions(&asked.farm, asked.file, range, &asked.findings)
    });
}
