//! How long an editor waits for an answer, in a repository of ten thousand texts.

use std::sync::LazyLock;

use trug_findings::FileId;
use trug_ide::definition;
use trug_ide::rename;
use trug_ide::selections;
use trug_ide::{document_symbols, workspace_symbols};
use trug_ide::{highlights, references};
use trug_model::{Farm, InMemory, Settings};

fn main() {
    divan::main();
}

const FARMS: usize = 500;
const RATIONS: usize = 18;

/// Five hundred farms, each with a store, a yard and eighteen texts of rations, all on the book and one co-operative.
static REPOSITORY: LazyLock<Farm> = LazyLock::new(|| {
    let mut texts = vec![("coop.trug".to_owned(), store("coop", 300))];
    for farm in 0..FARMS {
        let folder = format!("farm-{farm:03}");
        texts.push((
            format!("{folder}/store.trug"),
            format!("use \"../coop.trug\"\n{}", store("own", 40)),
        ));
        texts.push((
            format!("{folder}/yard.trug"),
            "scale bench 5 kg by 1 g\nvessel basin 3 of 30 L\n".to_owned(),
        ));
        for rank in 0..RATIONS {
            texts.push((format!("{folder}/ration-{rank:02}.trug"), ration(rank)));
        }
    }
    let names: Vec<String> = texts.iter().map(|(name, _)| name.clone()).collect();
    let texts = texts
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()));
    Farm::read(&names, &InMemory::new(texts), Settings::default())
});

/// A text of a thousand lines that sees all there is of its farm.
static LONG: LazyLock<Farm> = LazyLock::new(|| {
    let rations: String = (0..40)
        .map(ration)
        .collect::<String>()
        .replace("use", "# use");
    let long = format!("use \"store.trug\"\nuse book poultry\n{rations}");
    let texts = [("long.trug", long), ("store.trug", store("own", 300))];
    let texts = texts.iter().map(|(name, text)| (*name, text.as_str()));
    Farm::read(
        &["long.trug".to_owned()],
        &InMemory::new(texts),
        Settings::default(),
    )
});

fn store(of: &str, count: usize) -> String {
    let mut text = String::from("use book poultry\n");
    for rank in 0..count {
        text.push_str(&format!(
            "ingredient {of}-{rank} \"Ingredient {rank}\"\n  protein        8 %\n  price          92 LKR/kg\n"
        ));
    }
    text
}

fn ration(rank: usize) -> String {
    let mut text = format!(
        "use \"store.trug\"\nuse \"yard.trug\"\nration layer-{rank}\n  for            laying-duck\n"
    );
    for line in 0..20 {
        text.push_str(&format!(
            "  own-{line:<10} {} %\n",
            if line == 0 { 81 } else { 1 }
        ));
    }
    text
}

/// A text, and where a name stands in it the last time.
fn at(farm: &Farm, name: &str, word: &str) -> (FileId, usize) {
    let file = farm.file(name).unwrap_or_default();
    let text = farm.sources().get(file.index()).map_or("", |it| it.text());
    (file, text.rfind(word).unwrap_or(0))
}

#[divan::bench]
fn definition_in_the_repository(bencher: divan::Bencher) {
    let (file, offset) = at(&REPOSITORY, "farm-123/ration-07.trug", "own-5 ");
    bencher.bench(|| definition(&REPOSITORY, file, offset));
}

#[divan::bench]
fn definition_in_a_long_text(bencher: divan::Bencher) {
    let (file, offset) = at(&LONG, "long.trug", "own-5 ");
    bencher.bench(|| definition(&LONG, file, offset));
}

#[divan::bench]
fn highlights_in_a_long_text(bencher: divan::Bencher) {
    let (file, offset) = at(&LONG, "long.trug", "own-5 ");
    bencher.bench(|| highlights(&LONG, file, offset));
}

#[divan::bench]
fn symbols_of_a_long_text(bencher: divan::Bencher) {
    let (file, _) = at(&LONG, "long.trug", "own-5 ");
    bencher.bench(|| document_symbols(&LONG, file));
}

#[divan::bench]
fn selection_in_a_long_text(bencher: divan::Bencher) {
    let (file, offset) = at(&LONG, "long.trug", "own-5 ");
    bencher.bench(|| selections(&LONG, file, offset));
}

#[divan::bench]
fn references_in_one_farm(bencher: divan::Bencher) {
    let (file, offset) = at(&REPOSITORY, "farm-123/ration-07.trug", "own-5 ");
    bencher.bench(|| references(&REPOSITORY, file, offset, true));
}

#[divan::bench]
fn references_in_every_farm(bencher: divan::Bencher) {
    let (file, offset) = at(&REPOSITORY, "farm-123/ration-07.trug", "laying-duck");
    bencher.bench(|| references(&REPOSITORY, file, offset, true));
}

#[divan::bench]
fn rename_in_every_farm(bencher: divan::Bencher) {
    let (file, offset) = at(&REPOSITORY, "coop.trug", "coop-5 ");
    bencher.bench(|| rename(&REPOSITORY, file, offset, "other-name").ok());
}

#[divan::bench]
fn symbols_of_the_repository(bencher: divan::Bencher) {
    bencher.bench(|| workspace_symbols(&REPOSITORY, "lay7", 100));
}
