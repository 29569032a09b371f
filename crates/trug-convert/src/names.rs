//! What people call an ingredient, as a name of the language: small letters, digits and hyphens, a letter first.

use std::collections::BTreeSet;

use trug_syntax::{composed, is_name, is_reserved};

/// Letters of a name made from a label: what is longer can be said shorter.
const LONGEST: usize = 60;

/// The names that are taken, whatever their case.
#[derive(Clone, Debug, Default)]
pub(crate) struct Names {
    taken: BTreeSet<String>,
}

impl Names {
    /// A name for what is called so, other than all before: the plainest of some that is still free.
    pub(crate) fn name(&mut self, label: &str) -> String {
        let whole = hyphened(label);
        let mut wishes = vec![without_hand(&whole).to_owned(), whole.clone()];
        wishes.retain(|name| is_name(name) && !is_reserved(name));
        if wishes.is_empty() {
            let stem = if whole.is_empty() { "thing" } else { &whole };
            let with_ending = format!("{stem}-feed");
            let name = if is_name(&with_ending) {
                with_ending
            } else {
                "thing".to_owned()
            };
            wishes.push(name);
        }
        let free = wishes.iter().find(|name| self.take(name));
        if let Some(name) = free {
            return name.clone();
        }
        let last = wishes.pop().unwrap_or_default();
        let mut count = 2_u32;
        loop {
            let name = format!("{last}-{count}");
            if self.take(&name) {
                return name;
            }
            count += 1;
        }
    }

    /// Takes a name; whether it was free.
    pub(crate) fn take(&mut self, name: &str) -> bool {
        self.taken.insert(name.to_lowercase())
    }
}

/// Whether a text is a name already and may stay as it is.
pub(crate) fn is_free_name(text: &str) -> bool {
    is_name(text) && !is_reserved(text) && composed(text) == text
}

/// Letters and digits of a label in small letters, hyphens for all else; numbers that lead go to the end.
fn hyphened(label: &str) -> String {
    let label = composed(label).to_lowercase();
    let mut words: Vec<String> = Vec::new();
    let mut word = String::new();
    for letter in label.chars() {
        if is_letter(letter) {
            word.push(letter);
        } else if !matches!(letter, '\'' | '\u{2019}') && !word.is_empty() {
            words.push(std::mem::take(&mut word));
        }
    }
    words.push(word);
    words.retain(|word| !word.is_empty());
    let starts = |word: &String| is_name(word);
    let first = words.iter().position(starts).unwrap_or(words.len());
    words.rotate_left(first);
    let mut name = String::new();
    for word in words {
        if !name.is_empty() && LONGEST < name.chars().count() + word.chars().count() {
            break;
        }
        if !name.is_empty() {
            name.push('-');
        }
        name.extend(word.chars().take(LONGEST));
    }
    name
}

/// Whether a letter, or a mark or digit, can stand in a name.
fn is_letter(letter: char) -> bool {
    if letter.is_ascii() {
        return letter.is_ascii_alphanumeric();
    }
    let mut tried = String::from("a");
    tried.push(letter);
    is_name(&tried)
}

/// `l-lysine-hcl` as `lysine-hcl`: the hand of a molecule is no part of a name on a farm.
fn without_hand(name: &str) -> &str {
    let hands = ["dl-", "l-", "d-"];
    let bare = hands.iter().find_map(|hand| name.strip_prefix(hand));
    bare.filter(|bare| is_name(bare)).unwrap_or(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_becomes_a_name() {
        let name = |label| Names::default().name(label);
        assert_eq!(name("L-lysine HCl"), "lysine-hcl");
        assert_eq!(name("Maize (yellow), ground"), "maize-yellow-ground");
        assert_eq!(name("50% choline"), "choline-50");
        assert_eq!(name("Farmer's bran & chaff"), "farmers-bran-chaff");
        assert_eq!(name("කැඩුනු සහල්"), "කැඩුනු-සහල්");
        assert_eq!(name("Rest"), "rest-feed");
        assert_eq!(name("44"), "thing");
        assert_eq!(name(""), "thing-feed");
        assert!(name(&"long ".repeat(1000)).len() < 80);
    }

    #[test]
    fn no_name_is_given_twice() {
        let mut names = Names::default();
        let given: Vec<String> = ["L-methionine", "DL-methionine", "Methionine", "methionine"]
            .map(|label| names.name(label))
            .into();
        assert_eq!(
            given,
            [
                "methionine",
                "dl-methionine",
                "methionine-2",
                "methionine-3"
            ]
        );
    }
}
