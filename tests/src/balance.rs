//! What the tool answers where a ration is to be balanced.

use trug_balance::{Balance, Outcome, Watch, balance_found};
use trug_findings::{Finding, Severity};
use trug_model::prices::Prices;
use trug_model::{Concerns, Farm};
use trug_report::balance::{BalancedRation, balance_document};

use crate::answer::{Answer, TODAY, Text, farm_of};
use crate::fixes;

/// The balance of a ration of one of these texts: what is left to say once its amounts are chosen, and the document.
#[must_use]
pub fn balance_in(texts: &[Text<'_>], path: &str, ration: &str) -> Answer {
    let farm = farm_of(texts);
    let (balance, findings) = balanced(&farm, path, ration);
    let document = balance.map(|balance| {
        balance_document(&BalancedRation {
            balance,
            sources: farm.sources(),
            today: Some(TODAY.to_owned()),
            day: None,
            label: None,
        })
    });
    Answer {
        sources: farm.sources().to_vec(),
        findings,
        document: document.and_then(|document| serde_json::to_value(document).ok()),
        ..Answer::default()
    }
}

/// The text with the amounts of a balanced ration written into it.
#[must_use]
pub fn written_in(texts: &[Text<'_>], (path, text): Text<'_>, ration: &str) -> Answer {
    let farm = farm_of(texts);
    let (balance, _) = balanced(&farm, path, ration);
    let edits = match balance.map(|balance| balance.outcome) {
        Some(Outcome::Balanced(balanced)) => balanced.edits,
        _ => Vec::new(),
    };
    Answer {
        text: Some(fixes::edited(text, &edits)),
        ..Answer::default()
    }
}

fn balanced(farm: &Farm, path: &str, ration: &str) -> (Option<Balance>, Vec<Finding>) {
    let findings = farm.check();
    let Some(file) = farm.file(path) else {
        return (None, findings);
    };
    let rations = farm.rations(file);
    let Some(named) = rations.iter().find(|named| named.name == ration) else {
        return (None, findings);
    };
    let concerning = Concerns::of(farm).concerning(named, None, &findings);
    let watch = Watch::usual(&|| false);
    let view = farm.open(file);
    match balance_found(&view, ration, &concerning, &Prices::default(), &watch) {
        Ok(settled) => {
            let mut found = settled.found;
            found.retain(|finding| finding.severity > Severity::Note);
            (Some(settled.balance), found)
        }
        Err(found) => (None, found),
    }
}
