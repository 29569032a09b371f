//! What may come next behind the name of an ingredient in a ration: the amount, then its clauses.

use super::super::place::Said;
use super::{Expect, Fit, Written, bound, next, quantity};

/// The words that open a clause, in the order a tidy line has them.
const CLAUSES: [&str; 7] = [
    "within",
    "or none",
    "on top",
    "small",
    "bulk",
    "not carrier",
    "lot",
];

pub(super) fn amount(name: &str, said: &[Said<'_>]) -> Vec<Expect> {
    let fit = || Fit::Amount(name.to_owned());
    match said {
        [] => vec![Expect::Amount(name.to_owned())],
        [Said::Word("rest"), rest @ ..] => clauses(name, rest),
        [Said::Word("giving"), rest @ ..] => giving(name, rest),
        [Said::Number] => vec![Expect::Units(fit()), Expect::Words(&["parts", ".."])],
        [Said::Number, Said::Word("parts" | "part"), rest @ ..] => clauses(name, rest),
        [Said::Number, Said::Sign(".." | "\u{2026}"), ..] | [Said::Word("at"), ..] => {
            next(bound(said), fit()).unwrap_or_else(|rest| clauses(name, rest))
        }
        [Said::Number, ..] => {
            next(quantity(said), fit()).unwrap_or_else(|rest| clauses(name, rest))
        }
        _ => Vec::new(),
    }
}

fn giving(name: &str, said: &[Said<'_>]) -> Vec<Expect> {
    match next(quantity(said), Fit::Share) {
        Ok(expected) => expected,
        Err([]) => vec![Expect::Actives(name.to_owned())],
        Err([_, rest @ ..]) => clauses(name, rest),
    }
}

/// The clauses that are not there yet, or what the last one still wants.
fn clauses(name: &str, said: &[Said<'_>]) -> Vec<Expect> {
    let mut seen: Vec<&str> = Vec::new();
    let mut rest = said;
    loop {
        rest = match rest {
            [] => break,
            [Said::Word("within"), bounds @ ..] => {
                seen.push("within");
                match bound(bounds) {
                    Written::Whole(after) if after.len() < bounds.len() => after,
                    written => return next(written, Fit::Share).unwrap_or_default(),
                }
            }
            [Said::Word("lot")] => return vec![Expect::Lots(name.to_owned())],
            [Said::Word("lot"), _, after @ ..] => {
                seen.push("lot");
                after
            }
            [Said::Word("or")] => return vec![Expect::Words(&["none"])],
            [Said::Word("on")] => return vec![Expect::Words(&["top"])],
            [Said::Word("not")] => return vec![Expect::Words(&["carrier"])],
            [Said::Word("or"), Said::Word("none"), after @ ..] => {
                seen.push("or none");
                after
            }
            [Said::Word("on"), Said::Word("top"), after @ ..] => {
                seen.push("on top");
                after
            }
            [Said::Word("not"), Said::Word("carrier"), after @ ..]
            | [Said::Word("small" | "bulk"), after @ ..] => {
                seen.extend(["small", "bulk", "not carrier"]);
                after
            }
            _ => return Vec::new(),
        };
    }
    let mut expected: Vec<Expect> = CLAUSES
        .iter()
        .filter(|clause| !seen.contains(clause))
        .map(|clause| Expect::Words(std::slice::from_ref(clause)))
        .collect();
    if !seen.contains(&"within") && said.is_empty() {
        expected.push(Expect::Words(&["of dry-matter"]));
    }
    expected.push(Expect::Words(&["accept"]));
    expected
}
