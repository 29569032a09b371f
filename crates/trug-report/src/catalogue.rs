//! Every code the tool has, and its page made readable in a terminal.

use trug_findings::Code;

use crate::words::{hanging, lines_of};

/// What each crate can say.
static CRATES: &[&[&[&Code]]] = &[
    &[trug_syntax::findings::ALL],
    trug_model::findings::ALL,
    &trug_plan::findings::FAMILIES,
    &trug_record::findings::FAMILIES,
    &trug_balance::findings::FAMILIES,
];

/// Every code, by name.
#[must_use]
pub fn codes() -> Vec<&'static Code> {
    joined(&CRATES.concat())
}

/// The page of a code for a terminal; none where there is no such code.
#[must_use]
pub fn why(code: &str, width: usize) -> Option<String> {
    let known = codes().into_iter().find(|known| known.name == code)?;
    Some(page_text(known, width))
}

/// One line a code: name, severity, and what it means in a sentence.
#[must_use]
pub fn why_list() -> String {
    list(&codes())
}

/// A list of codes, in columns.
#[must_use]
pub fn list(codes: &[&Code]) -> String {
    let longest = codes.iter().map(|code| code.name.len()).max().unwrap_or(0);
    let line = |code: &&Code| {
        let severity = code.severity.word();
        let summary = summary(code);
        let sentence = first_sentence(&summary);
        format!("{:longest$}  {severity:7}  {sentence}\n", code.name)
    };
    codes.iter().map(line).collect()
}

/// The first paragraph of a code's page, in one line.
#[must_use]
pub fn summary(code: &Code) -> String {
    let paragraphs = code.page.split("\n\n").map(str::trim);
    let first = paragraphs
        .filter(|paragraph| !paragraph.is_empty() && !paragraph.starts_with('#'))
        .map(|paragraph| paragraph.split_whitespace().collect::<Vec<_>>().join(" "));
    first.take(1).collect()
}

/// A page: its examples set in under `wrong` and `right`, its paragraphs broken to the width.
#[must_use]
pub fn page_text(code: &Code, width: usize) -> String {
    let width = width.clamp(40, 100);
    let mut text = format!("{}[{}]\n", code.severity.word(), code.name);
    let mut is_example = false;
    let mut paragraph = String::new();
    for line in code.page.lines() {
        if let Some(fence) = line.strip_prefix("```") {
            end_paragraph(&mut paragraph, width, &mut text);
            is_example = !is_example;
            if is_example {
                text.push_str(example_heading(fence));
            }
        } else if is_example {
            text.push_str(format!("    {line}").trim_end());
            text.push('\n');
        } else if line.starts_with('#') || line.trim().is_empty() {
            end_paragraph(&mut paragraph, width, &mut text);
        } else if let Some(point) = line.strip_prefix("- ") {
            end_paragraph(&mut paragraph, width, &mut text);
            text.push_str(&hanging("- ", point, width));
        } else {
            paragraph.push_str(line);
            paragraph.push(' ');
        }
    }
    end_paragraph(&mut paragraph, width, &mut text);
    text
}

/// What stands above an example: the word its fence has.
fn example_heading(fence: &str) -> &'static str {
    if fence.contains("wrong") {
        "\nwrong:\n\n"
    } else if fence.contains("right") {
        "\nright:\n\n"
    } else {
        "\n"
    }
}

fn end_paragraph(paragraph: &mut String, width: usize, text: &mut String) {
    if paragraph.trim().is_empty() {
        return;
    }
    text.push('\n');
    for line in lines_of(&paragraph.replace("**", ""), width) {
        text.push_str(&line);
        text.push('\n');
    }
    paragraph.clear();
}

fn first_sentence(paragraph: &str) -> &str {
    let end = paragraph.find(". ").map(|end| end + 1);
    end.and_then(|end| paragraph.get(..end))
        .unwrap_or(paragraph)
}

fn joined(crates: &[&[&'static Code]]) -> Vec<&'static Code> {
    let mut codes = crates.concat();
    codes.sort_by_key(|code| code.name);
    codes
}

#[cfg(test)]
mod tests {
    use super::*;

    static SHORT: Code = Code::error(
        "sum/short",
        "# sum/short\n\nThe lines are\nnot enough. More.\n",
    );
    static OPEN: Code = Code::note("amount/open", "# amount/open\n\nStill to be chosen.\n");

    #[test]
    fn codes_of_all_crates_are_joined_by_name() {
        let names: Vec<&str> = joined(&[&[&SHORT], &[], &[&OPEN]])
            .iter()
            .map(|code| code.name)
            .collect();
        assert_eq!(names, ["amount/open", "sum/short"]);
    }

    #[test]
    fn a_list_has_one_line_a_code() {
        assert_eq!(
            list(&[&OPEN, &SHORT]),
            "amount/open  note     Still to be chosen.\nsum/short    error    The lines are not enough.\n"
        );
    }

    #[test]
    fn every_code_of_the_tool_has_its_page() {
        let codes = codes();
        for pair in codes.windows(2) {
            assert!(pair[0].name < pair[1].name, "{} twice", pair[0].name);
        }
        for code in codes {
            assert!(why(code.name, 80).is_some());
            assert_eq!(lacks(code), Vec::<String>::new(), "{}", code.name);
            assert!(!summary(code).is_empty(), "{}", code.name);
        }
        assert_eq!(why("no/such", 80), None);
    }

    #[test]
    fn a_page_without_examples_would_be_noticed() {
        assert_eq!(
            lacks(&SHORT),
            ["\nwrong:\n", "\nright:\n", "What to do on the farm:"]
        );
    }

    /// The parts every page has, and this one has not.
    fn lacks(code: &Code) -> Vec<String> {
        let text = format!("{}{}", code.page, page_text(code, 80));
        let parts = [
            format!("# {}\n", code.name),
            "\nwrong:\n".to_owned(),
            "\nright:\n".to_owned(),
            "What to do on the farm:".to_owned(),
        ];
        let is_missing = |part: &String| part.is_empty() || !text.contains(part.as_str());
        parts.into_iter().filter(is_missing).collect()
    }
}
