//! Nutrients, ingredients and rations to be written, and the text they make.

use std::collections::BTreeMap;

use trug_findings::FileId;

use crate::book::use_line;

/// Everything a text is made of.
#[derive(Debug, Default)]
pub(crate) struct Items {
    /// The book is used.
    pub(crate) uses_book: bool,
    /// Nutrients of one's own: label and kind by name.
    pub(crate) nutrients: BTreeMap<String, (String, &'static str)>,
    /// The ingredients, in the order of the table.
    pub(crate) ingredients: Vec<Ingredient>,
    /// The rations.
    pub(crate) rations: Vec<Ration>,
}

/// An ingredient.
#[derive(Clone, Debug, Default)]
pub(crate) struct Ingredient {
    pub(crate) name: String,
    /// Empty where the name says it all.
    pub(crate) label: String,
    pub(crate) lines: Vec<String>,
    /// It stands in the table only for its amount.
    pub(crate) is_used: bool,
}

/// A ration.
#[derive(Clone, Debug, Default)]
pub(crate) struct Ration {
    pub(crate) name: String,
    pub(crate) label: String,
    pub(crate) animal: Option<String>,
    pub(crate) lines: Vec<String>,
}

impl Items {
    /// The text, laid out as `tidy` does it.
    pub(crate) fn text(&self) -> String {
        let mut text = String::new();
        if self.uses_book {
            text.push_str(&format!("{}\n\n", use_line()));
        }
        for (name, (label, kind)) in &self.nutrients {
            text.push_str(&format!("{} in {kind}\n", header("nutrient", name, label)));
        }
        text.push('\n');
        for ingredient in self
            .ingredients
            .iter()
            .filter(|ingredient| ingredient.is_used)
        {
            item(
                &header("ingredient", &ingredient.name, &ingredient.label),
                &ingredient.lines,
                &mut text,
            );
        }
        for ration in &self.rations {
            let animal = ration.animal.iter().map(|animal| format!("for {animal}"));
            let lines: Vec<String> = animal.chain(ration.lines.iter().cloned()).collect();
            text.push('\n');
            item(
                &header("ration", &ration.name, &ration.label),
                &lines,
                &mut text,
            );
        }
        let text = text.trim_start_matches('\n');
        trug_syntax::tidy(text)
    }
}

/// An item without lines stands close to the next, as one would write a list.
fn item(header: &str, lines: &[String], text: &mut String) {
    text.push_str(header);
    text.push('\n');
    for line in lines {
        text.push_str("  ");
        text.push_str(line);
        text.push('\n');
    }
    if !lines.is_empty() {
        text.push('\n');
    }
}

fn header(keyword: &str, name: &str, label: &str) -> String {
    if label.is_empty() {
        format!("{keyword} {name}")
    } else {
        format!("{keyword} {name} {}", quoted(label))
    }
}

/// A label as a text has it, on one line and without letters that cannot be shown.
pub(crate) fn quoted(label: &str) -> String {
    format!("\"{}\"", label.replace('"', "\"\""))
}

/// What people call something: one line, one blank between words, no letters that cannot be shown.
pub(crate) fn label(text: &str) -> String {
    let shown: String = text
        .chars()
        .map(|letter| if letter.is_control() { ' ' } else { letter })
        .filter(|letter| !matches!(letter, '\u{fffd}' | '\u{feff}'))
        .collect();
    shown.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What the language says against a line of an item; nothing where it can be read.
pub(crate) fn fault(item: &str, line: &str) -> Option<(String, String)> {
    let text = format!("{item}\n  {line}\n");
    let file = trug_syntax::parse(FileId::default(), &text);
    let finding = file.findings.into_iter().next()?;
    Some((finding.message, finding.help.unwrap_or_default()))
}
