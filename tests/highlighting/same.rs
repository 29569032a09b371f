//! Tokens of a grammar against those of the language, line by line.

use std::collections::BTreeMap;

use crate::kinds::{self, Token};
use crate::reference;
use crate::texts::Text;

/// The tokens of each line of a text, by its number.
pub(crate) type Tokens = BTreeMap<usize, Vec<Token>>;

/// Stops where a grammar differs on a line that can be read; `found` has the tokens of each text.
pub(crate) fn hold(grammar: &str, texts: &[Text], found: &[Tokens]) {
    assert_eq!(texts.len(), found.len(), "{grammar} left texts out");
    let mut differences = Vec::new();
    let mut held = 0;
    for (text, found) in texts.iter().zip(found) {
        let lines = kinds::lines(&text.text);
        for (number, wanted) in reference::tokens(&text.text) {
            let line = lines[number].text;
            let is = kinds::usual(line, found.get(&number).map_or(&[][..], Vec::as_slice));
            held += wanted.len();
            if is != wanted {
                differences.push(format!(
                    "{}:{}: {line}\n  wanted {}\n  is     {}",
                    text.name,
                    number + 1,
                    told(line, &wanted),
                    told(line, &is),
                ));
            }
        }
    }
    assert!(
        held > 10_000 || texts.len() < 100,
        "only {held} tokens were held"
    );
    let some: Vec<_> = differences.iter().take(40).cloned().collect();
    let count = differences.len();
    assert!(
        count == 0,
        "{grammar}: {count} lines differ\n{}",
        some.join("\n")
    );
}

fn told(line: &str, tokens: &[Token]) -> String {
    let told = tokens
        .iter()
        .map(|token| format!("{:?} `{}`", token.kind, &line[token.start..token.end]));
    told.collect::<Vec<_>>().join(", ")
}
