//! A comparison as Markdown, for a review comment: the short of it first, then tables; never longer than a comment may be.

use super::Compared;
use super::telling::{RationTold, Table, tell};
use crate::words::{count, printable};

/// A comment of the usual code hosts holds 65,536 characters; what surrounds ours needs room too.
pub const MOST_CHARACTERS: usize = 60_000;
/// Room for the sentence that says what was left out, and for the closing.
const ROOM_AT_THE_END: usize = 1_000;
/// Lines of a list before it is cut short.
const MOST_LINES: usize = 100;
const ARROW: &str = "→";

/// The comparison as Markdown.
#[must_use]
pub fn compare_markdown(compared: &Compared<'_>) -> String {
    let told = tell(compared, ARROW);
    let mut page = Page::default();
    page.must(&format!(
        "### {}\n\n{}\n",
        text(&told.title),
        text(&told.summary)
    ));
    let short: Vec<String> = told
        .rations
        .iter()
        .map(|ration| format!("**{}**: {}", text(&ration.name), text(&ration.summary)))
        .collect();
    page.list("", &short);
    let told_of = |lines: &[String]| lines.iter().map(|line| text(line)).collect::<Vec<_>>();
    page.list("#### Because of", &told_of(&told.causes));
    for one in &told.rations {
        page.may(&ration(one));
    }
    page.list("#### Groups, a day", &told_of(&told.groups));
    page.list("#### Found elsewhere", &told_of(&told.elsewhere));
    page.end(&format!("<sub>{}</sub>", text(&told.closing)))
}

/// A page that counts its characters.
#[derive(Default)]
struct Page {
    text: String,
    characters: usize,
    left_out: usize,
}

impl Page {
    fn must(&mut self, part: &str) {
        self.characters += part.chars().count();
        self.text.push_str(part);
    }

    /// Adds a part where there is room for it whole.
    fn may(&mut self, part: &str) {
        let after = self.characters + part.chars().count();
        if part.is_empty() {
        } else if after + ROOM_AT_THE_END <= MOST_CHARACTERS {
            self.must(part);
        } else {
            self.left_out += 1;
        }
    }

    fn list(&mut self, heading: &str, lines: &[String]) {
        if lines.is_empty() {
            return;
        }
        let mut part = String::from("\n");
        if !heading.is_empty() {
            part.push_str(&format!("{heading}\n\n"));
        }
        for line in lines.iter().take(MOST_LINES) {
            part.push_str(&format!("- {line}\n"));
        }
        if let Some(more) = lines.len().checked_sub(MOST_LINES).filter(|more| *more > 0) {
            part.push_str(&format!("- … and {more} more\n"));
        }
        self.may(&part);
    }

    fn end(mut self, closing: &str) -> String {
        if self.left_out > 0 {
            let parts = count(self.left_out, "part is", "parts are");
            self.must(&format!(
                "\n**Too long for a comment: {parts} left out.** Run `trug compare` for all of it.\n"
            ));
        }
        self.must(&format!("\n{closing}\n"));
        self.text
    }
}

fn ration(ration: &RationTold) -> String {
    let mut part = format!("\n#### {} ({})\n", text(&ration.name), text(&ration.about));
    let mut list = |lines: &[String], mark: &str| {
        if !lines.is_empty() {
            part.push('\n');
        }
        for line in lines {
            part.push_str(&format!("- {mark}{}\n", text(line)));
        }
    };
    list(&ration.worse, "⚠️ ");
    list(&ration.notes, "");
    for one in &ration.tables {
        part.push_str(&table(one));
    }
    if !ration.found.is_empty() {
        part.push('\n');
        for line in &ration.found {
            part.push_str(&format!("- {}\n", text(line)));
        }
    }
    part
}

fn table(table: &Table) -> String {
    let mut part = String::from("\n");
    let mut columns: Vec<&str> = table.columns.clone();
    if let Some(first) = columns.first_mut() {
        *first = table.heading;
    }
    part.push_str(&format!(
        "| {} |\n|{}\n",
        columns.join(" | "),
        " --- |".repeat(columns.len())
    ));
    for row in &table.rows {
        let cells = row.cells.iter().map(|cell| {
            let cell = text(cell);
            if row.is_loud && !cell.is_empty() {
                format!("**{cell}**")
            } else {
                cell
            }
        });
        part.push_str(&format!("| {} |\n", cells.collect::<Vec<_>>().join(" | ")));
    }
    part
}

/// A text of the farm's, with nothing in it that Markdown or HTML would act on, in one line.
///
/// An `@` or `#` could call a person or a ticket; a code host reads them also inside a word.
fn text(words: &str) -> String {
    let mut safe = String::new();
    for letter in printable(words).chars() {
        match letter {
            '\n' => safe.push(' '),
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '@' => safe.push_str("&#64;"),
            '#' => safe.push_str("&#35;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '~' | '!' => safe.extend(['\\', letter]),
            // An address that is not whole is no link.
            ':' => safe.push_str(if words.contains("://") { "&#58;" } else { ":" }),
            _ => safe.push(letter),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_of_the_farm_is_no_markup() {
        assert_eq!(
            text("a|b *c* <img src=x> @all #1 https://x\nd"),
            "a\\|b \\*c\\* &lt;img src=x&gt; &#64;all &#35;1 https&#58;//x d"
        );
        assert_eq!(text("broken-rice: 46 %"), "broken-rice: 46 %");
    }

    #[test]
    fn what_does_not_fit_is_left_out_and_said() {
        let mut page = Page::default();
        page.must("head");
        page.may(&"x".repeat(MOST_CHARACTERS));
        page.may("small\n");
        let text = page.end("end");
        assert!(
            text.contains("small") && text.contains("1 part is left out"),
            "{text}"
        );
        assert!(text.chars().count() <= MOST_CHARACTERS);
    }
}
