//! Answers in Markdown: what a user wrote stays text and steers nothing.

use trug_report::words::printable;

/// What is said wherever a number can hurt.
pub(crate) const DEFERS: &str = "_The product label, a veterinarian and local feed law decide this amount; trug does not change it._";

/// A text as it is, whatever signs it holds.
pub(crate) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for character in printable(text).chars() {
        match character {
            '\n' => plain.push(' '),
            '\\' | '`' | '*' | '_' | '<' | '>' | '[' | ']' | '|' | '#' | '&' | '~' => {
                plain.push('\\');
                plain.push(character);
            }
            _ => plain.push(character),
        }
    }
    plain
}

/// A name or a piece of text of the language, as it is typed.
pub(crate) fn typed(text: &str) -> String {
    format!("`{}`", printable(text).replace('`', "'").replace('\n', " "))
}

/// Lines of the language.
pub(crate) fn block(text: &str) -> String {
    format!("```trug\n{}\n```", printable(text).replace("```", "'''"))
}

/// A bold label and the name beside it; the name alone where there is no label.
pub(crate) fn heading(label: Option<&str>, name: &str, kind: &str) -> String {
    match label {
        Some(label) if !label.trim().is_empty() => {
            format!("**{}** {} — {kind}", plain(label.trim()), typed(name))
        }
        _ => format!("**{}** — {kind}", typed(name)),
    }
}

/// Rows under headings; nothing where there are no rows. Cells are Markdown.
pub(crate) fn table(headings: &[&str], rows: &[Vec<String>]) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let line = |cells: &mut dyn Iterator<Item = &str>| {
        let mut line = String::from("|");
        for cell in cells {
            line.push_str(&format!(" {cell} |"));
        }
        line
    };
    let mut lines = vec![line(&mut headings.iter().copied())];
    lines.push(line(&mut headings.iter().map(|_| "---")));
    lines.extend(
        rows.iter()
            .map(|row| line(&mut row.iter().map(String::as_str))),
    );
    lines.join("\n")
}

/// Sentences as points; nothing where there are none.
pub(crate) fn points(sentences: &[String]) -> String {
    let points: Vec<String> = sentences
        .iter()
        .map(|sentence| format!("- {sentence}"))
        .collect();
    points.join("\n")
}

/// Paragraphs with a blank line between; empty ones are left out.
pub(crate) fn paragraphs(parts: impl IntoIterator<Item = String>) -> String {
    let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join("\n\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_user_wrote_steers_nothing() {
        assert_eq!(
            plain("a *b* <img> [x](y) | c\nd"),
            "a \\*b\\* \\<img\\> \\[x\\](y) \\| c d"
        );
        assert_eq!(typed("a`b"), "`a'b`");
        assert_eq!(table(&["a"], &[]), "");
        assert_eq!(
            table(&["a", "b"], &[vec!["1".into(), "2".into()]]),
            "| a | b |\n| --- | --- |\n| 1 | 2 |"
        );
    }
}
