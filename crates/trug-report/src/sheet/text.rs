//! The sheet as a page of text, good enough to be read aloud over the telephone.

mod weighing_table;

use super::{Booklet, DayOrder, Draft, Fact, Label, Section, Sheet, Steps, Totals};
use crate::words::{NO_BREAK, columns, hanging, lines_of, printable};
use weighing_table::weighing_table;

/// Narrower than this no table reads.
const LEAST_WIDTH: usize = 72;
/// Where something is written in by hand.
const TO_WRITE_ON: &str = "____________";

/// The sheets, one under the other.
#[must_use]
pub fn booklet_text(booklet: &Booklet, width: usize) -> String {
    let width = width.max(LEAST_WIDTH);
    let day = booklet.day.iter().map(|day| day_order(day, width));
    let sheets = booklet.sheets.iter().map(|sheet| sheet_text(sheet, width));
    let pages: Vec<String> = day.chain(sheets).collect();
    // The lines are broken now; who copies a number out of the page wants plain blanks.
    printable(&pages.join("\n\n")).replace(NO_BREAK, " ")
}

fn sheet_text(sheet: &Sheet, width: usize) -> String {
    let banner = sheet.draft.as_ref().map(|draft| banner(draft, width));
    let mut sections: Vec<String> = banner.clone().into_iter().collect();
    sections.push(head(sheet, width));
    sections.extend(sheet.beware.as_ref().map(|beware| warnings(beware, width)));
    sections.push(weighing_table(&sheet.weigh, width));
    sections.push(steps(&sheet.mix, width));
    sections.push(totals(&sheet.totals, width));
    if let Some(doses) = &sheet.doses {
        let rows = doses.rows.iter();
        let rows: String = rows
            .map(|row| hanging("  ", &row.sentence, width))
            .collect();
        sections.push(lines(&doses.heading, width) + &rows);
    }
    sections.extend(sheet.found.as_ref().map(|found| findings(found, width)));
    sections.push(label(&sheet.label, width));
    sections.push(lines(&sheet.defers, width));
    sections.extend(banner);
    sections.join("\n")
}

fn lines(text: &str, width: usize) -> String {
    lines_of(text, width).join("\n") + "\n"
}

/// What a draft says of itself, above and below.
fn banner(draft: &Draft, width: usize) -> String {
    hanging(&format!("{}  ", draft.word), &draft.why, width)
}

fn head(sheet: &Sheet, width: usize) -> String {
    let mut name = sheet.title.clone();
    if let Some(subtitle) = &sheet.subtitle {
        name.push_str(&format!(" ({subtitle})"));
    }
    lines(&name, width) + &facts(&sheet.facts, width)
}

fn facts(facts: &[Fact], width: usize) -> String {
    let widest = facts.iter().map(|fact| columns(&fact.what)).max();
    let lines = facts.iter().map(|fact| {
        let heading = format!("  {} ", left(&fact.what, widest.unwrap_or(0)));
        let value = if fact.value.is_empty() {
            TO_WRITE_ON
        } else {
            &fact.value
        };
        hanging(&heading, value, width)
    });
    lines.collect()
}

fn warnings(beware: &Section, width: usize) -> String {
    let warnings = beware.lines.iter();
    let text: String = warnings.map(|line| hanging("! ", line, width)).collect();
    lines(&beware.heading, width) + &text
}

fn steps(mix: &Steps, width: usize) -> String {
    let mut text = lines(&mix.heading, width);
    for step in &mix.steps {
        let output = step.output.as_ref();
        let words = match output {
            Some(output) => format!("{} → {output}", step.text),
            None => step.text.clone(),
        };
        text.push_str(&hanging(&format!("{:>2}. ", step.number), &words, width));
    }
    text
}

/// What of each ingredient goes into a batch; the column adds up.
fn totals(totals: &Totals, width: usize) -> String {
    let facts = || totals.rows.iter().chain([&totals.together]);
    let wide = facts().map(|fact| columns(&fact.value)).max().unwrap_or(0);
    let room = width.saturating_sub(wide + 4);
    let names: Vec<Vec<String>> = facts().map(|fact| lines_of(&fact.what, room)).collect();
    let name_wide = names
        .iter()
        .flatten()
        .map(|name| columns(name))
        .max()
        .unwrap_or(0);
    let mut text = lines(&totals.heading, width);
    for (rank, (name, fact)) in names.iter().zip(facts()).enumerate() {
        if rank == totals.rows.len() {
            text.push_str(&format!("  {}\n", "-".repeat(name_wide + wide + 2)));
        }
        let (last, first) = name
            .split_last()
            .map_or(("", [].as_slice()), |(last, first)| (last.as_str(), first));
        for line in first {
            text.push_str(&format!("  {line}\n"));
        }
        let name = left(last, name_wide);
        text.push_str(&format!("  {name}  {}\n", right(&fact.value, wide)));
    }
    for parts in &totals.in_parts {
        text.push_str(&hanging("  ", parts, width));
    }
    text
}

fn findings(found: &Section, width: usize) -> String {
    let mut text = lines(&found.heading, width);
    for finding in &found.lines {
        for (rank, line) in finding.split('\n').enumerate() {
            let indent = if rank == 0 { "  " } else { "    " };
            text.push_str(&hanging(indent, line, width));
        }
    }
    text
}

fn label(label: &Label, width: usize) -> String {
    let mut text = lines(&label.heading, width);
    if let Some(alarm) = &label.alarm {
        text.push_str(&hanging("  ", alarm, width));
    }
    text.push_str(&hanging("  ", &label.title, width));
    text.push_str(&facts(&label.facts, width));
    for line in &label.lines {
        text.push_str(&hanging("  ! ", line, width));
    }
    text
}

/// What is mixed one after the other.
fn day_order(day: &DayOrder, width: usize) -> String {
    let mut text = lines(&day.heading, width);
    for [number, what, mass, see_to] in &day.rows {
        let words = format!("{what}: {mass}. {see_to}");
        text.push_str(&hanging(&format!("{number:>2}. "), words.trim_end(), width));
    }
    text
}

/// Set at the left of a column.
fn left(cell: &str, width: usize) -> String {
    format!("{cell}{}", " ".repeat(width.saturating_sub(columns(cell))))
}

/// Set at the right of a column.
fn right(cell: &str, width: usize) -> String {
    format!("{}{cell}", " ".repeat(width.saturating_sub(columns(cell))))
}
