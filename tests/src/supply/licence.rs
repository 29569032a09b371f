//! Licences: what an expression allows, and the texts that have to go along.

use std::collections::BTreeMap;

use super::Crate;

/// A licence as an SPDX expression; older manifests write `/` for `OR`.
#[must_use]
pub fn expression(licence: &str) -> String {
    let parts: Vec<&str> = licence.split('/').map(str::trim).collect();
    parts.join(" OR ")
}

/// Whether an SPDX expression can be kept under the licences allowed alone. What cannot be read is not allowed.
#[must_use]
pub fn allows(expression: &str, allowed: &[&str]) -> bool {
    let spaced = expression.replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut rest = words.as_slice();
    let allows = either(&mut rest, allowed);
    rest.is_empty() && allows == Some(true)
}

fn either(rest: &mut &[&str], allowed: &[&str]) -> Option<bool> {
    let mut is_allowed = both(rest, allowed)?;
    while let Some((&"OR", after)) = rest.split_first() {
        *rest = after;
        is_allowed |= both(rest, allowed)?;
    }
    Some(is_allowed)
}

fn both(rest: &mut &[&str], allowed: &[&str]) -> Option<bool> {
    let mut is_allowed = one(rest, allowed)?;
    while let Some((&"AND", after)) = rest.split_first() {
        *rest = after;
        is_allowed &= one(rest, allowed)?;
    }
    Some(is_allowed)
}

fn one(rest: &mut &[&str], allowed: &[&str]) -> Option<bool> {
    let (&first, after) = rest.split_first()?;
    *rest = after;
    if first == "(" {
        let inner = either(rest, allowed)?;
        let (&")", after) = rest.split_first()? else {
            return None;
        };
        *rest = after;
        return Some(inner);
    }
    if [")", "OR", "AND", "WITH"].contains(&first) {
        return None;
    }
    let mut name = first.to_owned();
    if let Some((&"WITH", after)) = rest.split_first() {
        let (exception, after) = after.split_first()?;
        name = format!("{first} WITH {exception}");
        *rest = after;
    }
    Some(allowed.contains(&name.as_str()))
}

/// The licence of a crate, and the texts of its files of licences.
#[derive(Clone, Debug)]
pub struct Texts {
    /// Its SPDX expression.
    pub licence: String,
    /// What its files say.
    pub texts: Vec<String>,
}

/// All licences of what others wrote, each text once, with the crates it is of.
#[must_use]
pub fn third_party(crates: &BTreeMap<Crate, Texts>, fonts: &str) -> String {
    let mut page = "The binary trug holds work of others, under the licences below. Each text stands once, after the names of what it is of.\n"
        .to_owned();
    let mut by_text: BTreeMap<String, (String, Vec<String>)> = BTreeMap::new();
    for (one, Texts { licence, texts }) in crates {
        let named = format!("{} {} ({licence})", one.name, one.version);
        if texts.is_empty() {
            let said =
                "The crate has no text of its licence; it names it by the letters in brackets."
                    .to_owned();
            let entry = by_text.entry(String::new()).or_insert((said, Vec::new()));
            entry.1.push(named);
            continue;
        }
        for text in texts {
            // Two copies of one text differ in blanks and line ends.
            let words: Vec<&str> = text.split_whitespace().collect();
            let entry = by_text.entry(words.join(" "));
            let (_, names) = entry.or_insert_with(|| (plain(text), Vec::new()));
            names.push(named.clone());
        }
    }
    let mut all: Vec<(String, Vec<String>)> = by_text.into_values().collect();
    all.push((
        plain(fonts),
        vec!["Noto fonts 20201225 (OFL-1.1)".to_owned()],
    ));
    all.sort_by(|one, other| one.1.cmp(&other.1));
    for (text, mut names) in all {
        names.dedup();
        page += &format!("\n{}\n\n{}\n\n{text}\n", "=".repeat(78), names.join("\n"));
    }
    page
}

fn plain(text: &str) -> String {
    let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    lines.join("\n").trim_matches('\n').to_owned()
}
