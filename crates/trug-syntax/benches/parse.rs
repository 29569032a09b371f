//! How many lines a second are read: 100,000 lines of every common kind in one text.

use divan::counter::ItemsCount;
use trug_findings::FileId;

const LINES: usize = 100_000;

fn main() {
    divan::main();
}

/// A repository of farms in small: ingredients, targets and rations, comments and blank lines between.
fn text() -> String {
    let farm = "\
# one farm of many
ingredient broken-rice \"Broken rice\"
  dry-matter     87.5 %
  protein        8.0 ± 0.4 %
  ame            14.2 MJ/kg
  calcium        0.03 % of dry-matter
  price          92 LKR/kg as of 2026-11-01
  bulk-density   0.80 kg/L

targets duck-lay for laying-duck
  ame            11.1 .. 11.9 MJ/kg
  protein        16 .. 18 %
  calcium / available-phosphorus  6 .. 10

ration river-layer \"River layer mash\"
  for            laying-duck
  meets          duck-lay
  batch          120 kg
  broken-rice    46 %               # the farm's own
  rice-bran      rest
  soya-meal      12 .. 24 %
  fish-meal      4 kg lot FM-02
  vitamin-premix 2.5 kg/t
  lysine-hcl     giving 0.6 g/kg lysine
  toxin-binder   1.5 kg/t on top
";
    let mut text = String::new();
    let mut lines = 0;
    while lines < LINES {
        text.push_str(farm);
        lines += farm.lines().count();
    }
    text
}

#[divan::bench]
fn parse(bencher: divan::Bencher<'_, '_>) {
    let text = text();
    bencher
        .counter(ItemsCount::new(text.lines().count()))
        .bench(|| trug_syntax::parse(FileId(0), divan::black_box(&text)));
}
