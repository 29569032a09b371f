//! What the lines of an item say, by what they are about.

use std::collections::{BTreeMap, BTreeSet};

use trug_model::Q;
use trug_model::quantity::{Range, Shown};

use crate::change::{FactChange, Pair};
use crate::said::Said;

/// What one line says: in base units, by which it is compared, and as it is shown.
#[derive(Clone, Debug, Default)]
struct Fact {
    exact: Said,
    says: Said,
}

/// The lines of an item by what they are about.
#[derive(Clone, Debug, Default)]
pub(super) struct Facts(BTreeMap<String, Vec<Fact>>);

impl Facts {
    /// Adds a line that is compared as it is shown.
    pub(super) fn add(&mut self, what: impl Into<String>, says: Said) {
        let exact = says.clone();
        self.push(what.into(), Fact { exact, says });
    }

    /// Adds a quantity, and words behind it.
    pub(super) fn quantity(&mut self, what: impl Into<String>, value: &Q, unit: &Shown) {
        self.add(what, Said::quantity(&unit.of(value), &unit.text));
    }

    /// Adds a bound and words behind it; the unit it is written in makes no difference.
    pub(super) fn range(&mut self, what: impl Into<String>, range: &Range, behind: &str) {
        let base = Range {
            unit: Shown::new("", Q::ONE),
            ..range.clone()
        };
        let fact = Fact {
            exact: Said::range(&base)
                .word(format!("{:?}", range.dimension))
                .word(behind),
            says: Said::range(range).word(behind),
        };
        self.push(what.into(), fact);
    }

    fn push(&mut self, what: String, fact: Fact) {
        self.0.entry(what).or_default().push(fact);
    }

    /// Leaves out what `other` says in the same words.
    pub(super) fn without(mut self, other: &Facts) -> Facts {
        let said = |what: &String, fact: &Fact| {
            let known = other.0.get(what).into_iter().flatten();
            known.into_iter().any(|known| known.exact == fact.exact)
        };
        for (what, facts) in &mut self.0 {
            facts.retain(|fact| !said(what, fact));
        }
        self.0.retain(|_, facts| !facts.is_empty());
        self
    }
}

/// The lines that differ. Several on one thing are told apart by what they say.
pub(super) fn changes(before: &Facts, after: &Facts) -> Vec<FactChange> {
    let all: BTreeSet<&String> = before.0.keys().chain(after.0.keys()).collect();
    let mut changes = Vec::new();
    for what in all {
        let of = |facts: &Facts| facts.0.get(what).cloned().unwrap_or_default();
        let (mut gone, mut come) = (of(before), of(after));
        gone.retain(
            |fact| match come.iter().position(|other| other.exact == fact.exact) {
                Some(rank) => {
                    come.remove(rank);
                    false
                }
                None => true,
            },
        );
        let mut come = come.into_iter();
        let mut add = |before: Option<Fact>, after: Option<Fact>| {
            changes.push(FactChange {
                what: what.clone(),
                says: Pair {
                    before: before.map(|fact| fact.says),
                    after: after.map(|fact| fact.says),
                },
            });
        };
        for fact in gone {
            let other = come.next();
            add(Some(fact), other);
        }
        for fact in come {
            add(None, Some(fact));
        }
    }
    changes
}
