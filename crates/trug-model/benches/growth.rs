//! How the check grows over the worst inputs known, at 1×, 10× and 100× their size.
//!
//! `cargo bench -p trug-model --bench growth`. That nothing grows much faster than its input is held by the test `growth` of
//! `trug-tests`, which counts what is asked of memory; here are the times.

#[path = "made/worst.rs"]
mod worst;

use std::fmt;

use trug_model::{Farm, InMemory, Settings};
use worst::{ALL, Texts, Worst};

fn main() {
    divan::main();
}

/// One of the worst, at so many times its size.
struct Case(&'static Worst, usize);

impl fmt::Display for Case {
    fn fmt(&self, form: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(form, "{} ×{}", self.0.name, self.1)
    }
}

fn cases() -> impl Iterator<Item = Case> {
    let of_each = |worst| [1, 10, 100].map(|times| Case(worst, times));
    ALL.iter().flat_map(of_each)
}

fn check(texts: &Texts) -> usize {
    let pairs = texts
        .iter()
        .map(|(path, text)| (path.as_str(), text.as_str()));
    let asked = ["a.trug".to_owned()];
    Farm::read(&asked, &InMemory::new(pairs), Settings::default())
        .check()
        .len()
}

#[divan::bench(args = cases(), sample_count = 3, sample_size = 1)]
fn check_of(bencher: divan::Bencher<'_, '_>, Case(worst, times): &Case) {
    let texts = (worst.made)(worst.size * times);
    bencher.bench(|| check(&texts));
}
