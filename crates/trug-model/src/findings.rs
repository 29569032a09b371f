//! Everything the model can say: one file a family, a code beside the function that raises it.

#![expect(missing_docs, reason = "a code's page says what it means")]

pub mod accept;
pub mod amount;
pub mod basis;
pub mod data;
pub mod dose;
pub mod harm;
pub mod law;
pub mod limit;
pub mod name;
pub mod record;
pub mod store;
pub mod sum;
pub mod target;
pub mod unit;
pub mod used;

use std::collections::BTreeSet;

use trug_findings::Code;

/// The codes of every family, in the order of the reference.
pub static ALL: &[&[&Code]] = &[
    used::ALL,
    name::ALL,
    unit::ALL,
    basis::ALL,
    sum::ALL,
    amount::ALL,
    dose::ALL,
    target::ALL,
    limit::ALL,
    law::ALL,
    harm::ALL,
    data::ALL,
    store::ALL,
    record::ALL,
    accept::ALL,
];

/// `a`, `a and b`, `a, b and c`; beyond that, how many more. Each name once.
pub(crate) fn listed<T: AsRef<str>>(names: &[T]) -> String {
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let names = names.iter().map(AsRef::as_ref);
    let once: Vec<&str> = names.filter(|name| seen.insert(*name)).collect();
    match once.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first, second] => format!("{first} and {second}"),
        [first, second, third] => format!("{first}, {second} and {third}"),
        [first, second, third, rest @ ..] => {
            format!("{first}, {second}, {third} and {} more", rest.len())
        }
    }
}
