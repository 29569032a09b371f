//! Findings of two sides: which came and which went. One that only tells of another number stayed.

use std::collections::{BTreeMap, BTreeSet};

use trug_findings::{Finding, Severity};

use crate::change::FoundChange;
use crate::rations::Told;
use crate::side::Side;

/// A finding, by what it says; where it stands is told and makes no difference.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Found {
    /// How much it weighs.
    pub severity: Severity,
    /// Its code.
    pub code: &'static str,
    /// Its sentence.
    pub message: String,
    /// The text accepts it.
    pub is_accepted: bool,
    /// The text it stands in, relative to its side.
    pub file: String,
    /// The line it stands at.
    pub line: usize,
}

impl Found {
    pub(crate) fn of(side: &Side<'_>, finding: &Finding) -> Found {
        let (file, line) = side.line(finding.place);
        Found {
            severity: finding.severity,
            code: finding.code.name,
            message: finding.message.clone(),
            is_accepted: !finding.is_open(),
            file,
            line,
        }
    }

    /// What makes it the same finding on the other side: all but its numbers and its place.
    fn key(&self) -> (Severity, &'static str, bool, String) {
        let is_number = |word: &str| {
            let digits = word.trim_start_matches(['-', '+', '(', '"']);
            digits.starts_with(|first: char| first.is_ascii_digit())
        };
        let words = self.message.split(' ');
        let words = words.map(|word| if is_number(word) { "#" } else { word });
        let words: Vec<&str> = words.collect();
        (self.severity, self.code, self.is_accepted, words.join(" "))
    }
}

/// Those that came and those that went, errors first, what came before what went.
pub(crate) fn changes(before: &[Found], after: &[Found]) -> Vec<FoundChange> {
    let change = |is_new: bool| {
        move |found: &Found| FoundChange {
            is_new,
            found: found.clone(),
        }
    };
    let mut changes: Vec<FoundChange> = only(after, before).into_iter().map(change(true)).collect();
    changes.extend(only(before, after).into_iter().map(change(false)));
    let rank = |change: &FoundChange| (!change.is_new, std::cmp::Reverse(change.found.severity));
    changes.sort_by(|one, other| {
        let place = |found: &Found| {
            (
                found.file.clone(),
                found.line,
                found.code,
                found.message.clone(),
            )
        };
        rank(one)
            .cmp(&rank(other))
            .then_with(|| place(&one.found).cmp(&place(&other.found)))
    });
    changes
}

/// Those of `these` for which there is none among `others`, each of which stands for one.
fn only<'a>(these: &'a [Found], others: &[Found]) -> Vec<&'a Found> {
    let mut left: BTreeMap<_, usize> = BTreeMap::new();
    for other in others {
        *left.entry(other.key()).or_default() += 1;
    }
    let is_only = |found: &&Found| match left.get_mut(&found.key()) {
        Some(number) if *number > 0 => {
            *number -= 1;
            false
        }
        _ => true,
    };
    these.iter().filter(is_only).collect()
}

/// What came or went without belonging to a ration that is told of.
pub(crate) fn elsewhere(before: &Side<'_>, after: &Side<'_>, told: &Told) -> Vec<FoundChange> {
    let rest = |side: &Side<'_>, told: &BTreeSet<Found>| -> Vec<Found> {
        let all = side.all_found().map(|finding| Found::of(side, finding));
        all.filter(|found| !told.contains(found)).collect()
    };
    changes(&rest(before, &told.before), &rest(after, &told.after))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(message: &str, line: usize) -> Found {
        Found {
            severity: Severity::Warning,
            code: "target/under",
            message: message.to_owned(),
            is_accepted: false,
            file: "rations.trug".to_owned(),
            line,
        }
    }

    #[test]
    fn another_number_is_the_same_finding() {
        let before = [found("protein is 15.2 %; duck-lay wants at least 16 %", 4)];
        let after = [found("protein is 14.9 %; duck-lay wants at least 16 %", 9)];
        assert_eq!(changes(&before, &after), []);
        let twice = [after.clone(), after.clone()].concat();
        assert_eq!(changes(&before, &twice).len(), 1);
    }

    #[test]
    fn a_name_with_a_digit_is_no_number() {
        let changes = changes(
            &[found("premix-1 is unknown", 1)],
            &[found("premix-2 is unknown", 1)],
        );
        assert_eq!(
            changes
                .iter()
                .map(|change| change.is_new)
                .collect::<Vec<_>>(),
            [true, false]
        );
    }
}
