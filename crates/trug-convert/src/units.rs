//! Units as people write them in headings and cells, in the spelling of the language. None is guessed.

use trug_model::quantity::{self, Dimension, is_currency};
use trug_syntax::usual_unit;

/// A unit in the spelling of the language.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Unit {
    /// As a text has it.
    pub(crate) text: String,
    /// What it counts; none for parts.
    pub(crate) dimension: Option<Dimension>,
}

/// What a heading says besides its words.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Parts {
    /// Its words, without unit and basis.
    pub(crate) words: String,
    /// Its unit, where it has one.
    pub(crate) unit: Option<Unit>,
    /// `of dry-matter`, `as fed`, or nothing.
    pub(crate) basis: &'static str,
}

/// The unit that a text is; none where it is none, or more than one.
pub(crate) fn unit(text: &str) -> Option<Unit> {
    let tokens = tokens(text);
    let (unit, taken) = unit_at(&tokens, 0)?;
    (taken == tokens.len()).then_some(unit)
}

/// The unit, and what a share is of, that a cell beside a heading is: `% DM`.
pub(crate) fn unit_and_basis(text: &str) -> Option<(Unit, &'static str)> {
    // What a share is of stands behind words.
    let parts = parts(&format!("of {text}"));
    let unit = parts.unit.filter(|_| parts.words == "of")?;
    Some((unit, parts.basis))
}

/// Takes a heading apart: `Price (LKR/kg)`, `CP % DM`, `ME, kcal per kg`.
pub(crate) fn parts(heading: &str) -> Parts {
    let mut tokens = tokens(heading);
    let is_per = |rank: usize| {
        let before = rank.checked_sub(1).and_then(|before| tokens.get(before));
        before.is_some_and(|before| before.eq_ignore_ascii_case("per"))
    };
    let found = (0..tokens.len()).filter_map(|rank| {
        // `Price per kg` does not say what is counted.
        let (unit, taken) = unit_at(&tokens, rank).filter(|_| !is_per(rank))?;
        Some((rank, taken, unit))
    });
    // Of several, one of two words is meant before a word that may be anything, and what stands last before the first.
    let key = |(rank, taken, unit): &(usize, usize, Unit)| {
        let is_compound = 1 < *taken || unit.text.contains(['/', ' ']);
        (is_compound, 0 < *rank, *rank)
    };
    let best = found.max_by_key(key);
    let mut unit = best.map(|(rank, taken, unit)| {
        tokens.drain(rank..rank + taken);
        unit
    });
    if let Some(money) = unit.as_mut() {
        money_per(money, &mut tokens);
    }
    let basis = basis(&mut tokens);
    for filler in ["in", "content", "value"] {
        if 1 < tokens.len()
            && tokens
                .last()
                .is_some_and(|last| last.eq_ignore_ascii_case(filler))
        {
            tokens.pop();
        }
    }
    Parts {
        words: tokens.join(" "),
        unit,
        basis,
    }
}

/// `Price per kg (LKR)`: what the money is for stands among the words.
fn money_per(unit: &mut Unit, tokens: &mut Vec<String>) {
    if !is_currency(&unit.text) {
        return;
    }
    let joined = tokens
        .last()
        .and_then(|last| last.split_once('/'))
        .map(|(word, per)| (word.to_owned(), per.to_owned()));
    let per = match (joined, tokens.as_slice()) {
        (Some((word, per)), _) => {
            tokens.pop();
            tokens.extend((!word.is_empty()).then_some(word));
            per
        }
        (None, [.., word, per]) if word.eq_ignore_ascii_case("per") => {
            let per = per.clone();
            tokens.truncate(tokens.len().saturating_sub(2));
            per
        }
        _ => return,
    };
    match unit_of(&[format!("{}/{per}", unit.text)]) {
        Some(whole) => *unit = whole,
        None => tokens.push(per),
    }
}

fn unit_of(tokens: &[String]) -> Option<Unit> {
    unit_at(tokens, 0).map(|(unit, _)| unit)
}

/// Takes what a share is of off the words; none is left where the words are about dry matter itself.
fn basis(tokens: &mut Vec<String>) -> &'static str {
    const SPELLINGS: &[(&[&str], &str)] = &[
        (&["of", "dry", "matter"], "of dry-matter"),
        (&["on", "dry", "matter", "basis"], "of dry-matter"),
        (&["dry", "matter", "basis"], "of dry-matter"),
        (&["dry", "basis"], "of dry-matter"),
        (&["of", "dry-matter"], "of dry-matter"),
        (&["on", "dm", "basis"], "of dry-matter"),
        (&["dm", "basis"], "of dry-matter"),
        (&["of", "dm"], "of dry-matter"),
        (&["in", "dm"], "of dry-matter"),
        (&["on", "dm"], "of dry-matter"),
        (&["in", "dry", "matter"], "of dry-matter"),
        (&["dry", "matter"], "of dry-matter"),
        (&["dm"], "of dry-matter"),
        (&["dmb"], "of dry-matter"),
        (&["as", "fed", "basis"], "as fed"),
        (&["as", "fed"], "as fed"),
        (&["as-fed"], "as fed"),
        (&["as-fed", "basis"], "as fed"),
    ];
    for (words, basis) in SPELLINGS {
        let Some(before) = tokens.len().checked_sub(words.len()) else {
            continue;
        };
        let end = tokens.get(before..).unwrap_or_default();
        let is_it = end
            .iter()
            .zip(*words)
            .all(|(token, word)| token.eq_ignore_ascii_case(word));
        if is_it && 0 < before {
            tokens.truncate(before);
            return basis;
        }
    }
    ""
}

/// The words of a heading: brackets and commas part them, a percent sign stands alone.
fn tokens(text: &str) -> Vec<String> {
    let mut spread = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '%' | '\u{ff05}' => spread.push_str(" % "),
            '(' | ')' | '[' | ']' | '{' | '}' | ',' | ';' | ':' | '"' => spread.push(' '),
            _ => spread.push(letter),
        }
    }
    let mut tokens: Vec<String> = Vec::new();
    let mut joins = false;
    for word in spread.split_whitespace() {
        match tokens.last_mut() {
            // `kcal / kg` is `kcal/kg`.
            Some(last) if joins || word.starts_with('/') && word != "/" => last.push_str(word),
            Some(last) if word == "/" => last.push('/'),
            _ => tokens.push(word.to_owned()),
        }
        joins = tokens.last().is_some_and(|last| last.ends_with('/'));
    }
    tokens
}

/// The unit that begins at a word, and how many words it takes.
fn unit_at(tokens: &[String], rank: usize) -> Option<(Unit, usize)> {
    let first = tokens.get(rank)?;
    if let Some((above, below)) = first.split_once('/') {
        let digits = below.find(|letter: char| !letter.is_ascii_digit())?;
        let (count, below) = below.split_at_checked(digits)?;
        // `LKR/50 kg`: the unit is the next word.
        if below.is_empty() {
            return None;
        }
        return Some((quotient(above, count, below)?, 1));
    }
    let next = |offset: usize| tokens.get(rank + offset).map(String::as_str);
    if next(1).is_some_and(|word| word.eq_ignore_ascii_case("per")) {
        let count = next(2).filter(|word| word.bytes().all(|byte| byte.is_ascii_digit()));
        let below = next(2 + usize::from(count.is_some()));
        let whole = below.and_then(|below| quotient(first, count.unwrap_or(""), below));
        if let Some(unit) = whole {
            return Some((unit, 3 + usize::from(count.is_some())));
        }
    }
    if first.eq_ignore_ascii_case("parts") {
        let text = "parts".to_owned();
        return Some((
            Unit {
                text,
                dimension: None,
            },
            1,
        ));
    }
    let (text, dimension) = word(first)?;
    let dimension = Some(dimension);
    Some((Unit { text, dimension }, 1))
}

fn quotient(above: &str, count: &str, below: &str) -> Option<Unit> {
    let capitals = above.to_uppercase();
    let (above, counted) =
        word(above).or_else(|| word(&capitals).filter(|_| is_currency(&capitals)))?;
    let (below, per) = word(below)?;
    let text = match count {
        "" | "1" => format!("{above}/{below}"),
        count => format!("{above} per {count} {below}"),
    };
    Some(Unit {
        text,
        dimension: Some(counted.over(&per)?),
    })
}

/// A word of a unit in its usual form, and what it counts.
fn word(written: &str) -> Option<(String, Dimension)> {
    let usual = usual_unit(written).unwrap_or(written);
    let factor = quantity::word(usual)?;
    Some((usual.to_owned(), factor.dimension))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(heading: &str) -> (String, String, &'static str) {
        let parts = parts(heading);
        (
            parts.words,
            parts.unit.map_or_else(String::new, |unit| unit.text),
            parts.basis,
        )
    }

    #[test]
    fn units_beside_headings() {
        let told = |text| unit_and_basis(text).map(|(unit, basis)| (unit.text, basis));
        assert_eq!(told("% DM"), Some(("%".to_owned(), "of dry-matter")));
        assert_eq!(told("kcal / kg"), Some(("kcal/kg".to_owned(), "")));
        assert_eq!(told("ground"), None);
        assert_eq!(told("42"), None);
    }

    #[test]
    fn headings_as_people_write_them() {
        let is = |heading, words: &str, unit: &str, basis| {
            assert_eq!(
                told(heading),
                (words.to_owned(), unit.to_owned(), basis),
                "{heading}"
            );
        };
        is("Price (LKR/kg)", "Price", "LKR/kg", "");
        is("price lkr / Kg", "price", "LKR/kg", "");
        is("Price per kg (LKR)", "Price", "LKR/kg", "");
        is("Price/kg, LKR", "Price", "LKR/kg", "");
        is("Cost LKR per 25 kg", "Cost", "LKR per 25 kg", "");
        is("CP %", "CP", "%", "");
        is("%CP", "CP", "%", "");
        is("CP % DM", "CP", "%", "of dry-matter");
        is(
            "Crude protein (g/kg DM)",
            "Crude protein",
            "g/kg",
            "of dry-matter",
        );
        is("ME kcal/kg as fed", "ME", "kcal/kg", "as fed");
        is("DM", "DM", "", "");
        is("% DM", "DM", "%", "");
        is("Mg %", "Mg", "%", "");
        is("Zn (mg/kg)", "Zn", "mg/kg", "");
        is("Lysine g/100g", "Lysine", "g per 100 g", "");
        is("kg", "", "kg", "");
        is("%", "", "%", "");
        is("Amount in Kgs", "Amount", "kg", "");
        is("Inclusion", "Inclusion", "", "");
        is("parts", "", "parts", "");
        is("Price Rs/kg", "Price Rs/kg", "", "");
        is("Price per kg", "Price per kg", "", "");
        is("", "", "", "");
    }
}
