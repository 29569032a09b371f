//! The whole check, from texts in memory to sorted findings, and the process from start to end.
//!
//! `cargo bench -p trug`. Texts are generated the same on every run.

use std::fmt::Write as _;
use std::process::{Command, Stdio};

use trug_model::{Farm, InMemory, Settings};

fn main() {
    divan::main();
}

/// One ingredient of every nine lines, one ration of eight ingredients and its targets after eight of them.
fn text(file: usize, lines: usize) -> String {
    let mut text = String::from("use book poultry\n\n");
    let mut written = 2;
    let mut block = 0;
    while written < lines {
        for rank in 0..8 {
            let _ = writeln!(
                text,
                "ingredient feed-{file}-{block}-{rank} \"Feed {rank}\"\n  dry-matter     88 %\n  \
                 protein        {}.5 ± 0.4 %\n  ame            12.{rank} MJ/kg\n  calcium        0.{} %\n  \
                 lysine         0.{} %\n  price          {} LKR/kg as of 2026-11-01\n  \
                 bulk-density   0.6{rank} kg/L\n",
                8 + rank,
                rank + 1,
                rank + 2,
                80 + rank,
            );
        }
        let _ = writeln!(
            text,
            "targets t-{file}-{block} for laying-duck\n  protein        8 .. 18 %\n  \
             ame            at least 11 MJ/kg\n  calcium        at least 0.1 %\n\n\
             ration r-{file}-{block} \"Ration\"\n  for            laying-duck\n  \
             meets          t-{file}-{block}\n  batch          120 kg",
        );
        for rank in 0..7 {
            let _ = writeln!(text, "  feed-{file}-{block}-{rank} 10 %   # a comment");
        }
        let _ = writeln!(text, "  feed-{file}-{block}-7 rest\n");
        written += 8 * 9 + 5 + 4 + 9;
        block += 1;
    }
    text
}

fn check(names: &[String], texts: &InMemory) -> usize {
    trug_record::check(&Farm::read(names, texts, Settings::default())).len()
}

fn farm(files: usize, lines: usize) -> (Vec<String>, InMemory) {
    let names: Vec<String> = (0..files)
        .map(|file| format!("farm-{file:04}.trug"))
        .collect();
    let texts: Vec<String> = (0..files).map(|file| text(file, lines)).collect();
    let pairs = names
        .iter()
        .map(String::as_str)
        .zip(texts.iter().map(String::as_str));
    let texts = InMemory::new(pairs);
    (names, texts)
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn a_thousand_files_of_a_thousand_lines(bencher: divan::Bencher<'_, '_>) {
    let (names, texts) = farm(1000, 1000);
    bencher.bench(|| check(&names, &texts));
}

#[divan::bench(sample_count = 10, sample_size = 1)]
fn one_file_of_a_hundred_thousand_lines(bencher: divan::Bencher<'_, '_>) {
    let (names, texts) = farm(1, 100_000);
    bencher.bench(|| check(&names, &texts));
}

/// A farm of one file, as typed in a terminal: read, checked, planned, printed.
#[divan::bench(sample_count = 50, sample_size = 1, args = ["check", "plan"])]
fn the_whole_process_on_a_small_farm(bencher: divan::Bencher<'_, '_>, command: &str) {
    let farm = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/small/hens.trug"
    );
    bencher.bench(|| {
        Command::new(env!("CARGO_BIN_EXE_trug"))
            .args([command, farm])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()
            .is_ok_and(|status| status.success())
    });
}
