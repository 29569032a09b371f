//! How long findings take to draw: ten thousand in a text of four megabytes must stay below a second.

use trug_findings::{Code, FileId, Finding, Place, Source, Span};
use trug_report::findings::{Style, findings_document, human, lines, sarif};
use trug_report::json::to_json;

static OVER: Code = Code::error("sum/over", "# sum/over\n\nThe lines are too much.\n");

fn main() {
    divan::main();
}

/// A text of four megabytes with a finding on every twentieth line or so.
fn many() -> (Vec<Finding>, Vec<Source>) {
    so_many(10_000)
}

fn so_many(count: usize) -> (Vec<Finding>, Vec<Source>) {
    let line = "  broken-rice    46 %   # bought\n";
    let text = line.repeat(4_000_000 / line.len());
    let step = text.len() / count;
    let finding = |rank: usize| {
        let start = rank * step / line.len() * line.len() + 17;
        let place = Place::new(FileId(0), Span::new(start, start + 4));
        OVER.at(place)
            .says("river-layer adds up to 101.5 %: 1.5 % too much")
            .label("44.5 % here would close it")
            .help("write `rest` on one line: it takes up what the others leave")
    };
    (
        (0..count).map(finding).collect(),
        vec![Source::new("big.trug", text)],
    )
}

/// The same number of findings on one line of four megabytes.
fn one_line() -> (Vec<Finding>, Vec<Source>) {
    let (findings, _) = many();
    (
        findings,
        vec![Source::new("long.trug", "x".repeat(4_000_000))],
    )
}

#[divan::bench(sample_count = 5)]
fn human_over_many_lines(bencher: divan::Bencher<'_, '_>) {
    let (findings, sources) = many();
    let style = Style {
        width: 80,
        color: true,
        ascii: false,
    };
    bencher.bench_local(|| human(&findings, &sources, &style));
}

#[divan::bench(sample_count = 5)]
fn human_on_one_line(bencher: divan::Bencher<'_, '_>) {
    let (findings, sources) = one_line();
    let style = Style {
        width: 80,
        color: true,
        ascii: false,
    };
    bencher.bench_local(|| human(&findings, &sources, &style));
}

#[divan::bench(sample_count = 5)]
fn lines_over_many_lines(bencher: divan::Bencher<'_, '_>) {
    let (findings, sources) = many();
    bencher.bench_local(|| lines(&findings, &sources));
}

#[divan::bench(sample_count = 5)]
fn json_over_many_lines(bencher: divan::Bencher<'_, '_>) {
    let (findings, sources) = many();
    bencher.bench_local(|| to_json(&findings_document(&findings, &sources, None)));
}

/// How each form grows up to a million findings, in a text as large as one may be.
#[divan::bench(args = [10_000, 100_000, 1_000_000], sample_count = 1, sample_size = 1)]
fn human_of(bencher: divan::Bencher<'_, '_>, count: usize) {
    let (findings, sources) = so_many(count);
    let style = Style {
        width: 80,
        color: false,
        ascii: false,
    };
    bencher.bench_local(|| human(&findings, &sources, &style).len());
}

#[divan::bench(args = [10_000, 100_000, 1_000_000], sample_count = 1, sample_size = 1)]
fn json_of(bencher: divan::Bencher<'_, '_>, count: usize) {
    let (findings, sources) = so_many(count);
    bencher.bench_local(|| to_json(&findings_document(&findings, &sources, None)).len());
}

#[divan::bench(args = [10_000, 100_000, 1_000_000], sample_count = 1, sample_size = 1)]
fn sarif_of(bencher: divan::Bencher<'_, '_>, count: usize) {
    let (findings, sources) = so_many(count);
    bencher.bench_local(|| sarif(&findings, &sources, None).len());
}
