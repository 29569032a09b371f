//! What a sheet tells, section by section, as its elements are to read.

use trug_report::sheet::picture::Shape;
use trug_report::sheet::{Fact, Section, Sheet, WeighingRow};

/// A section: what each of its elements says, in their order.
pub(crate) struct Told {
    pub(crate) name: &'static str,
    pub(crate) elements: Vec<String>,
}

/// Every section of a sheet but the picture. Totals are a list only where there is room for it.
pub(crate) fn told(sheet: &Sheet, lists_totals: bool) -> Vec<Told> {
    let mut told = Vec::new();
    let mut add = |name, elements: Vec<String>| {
        let elements: Vec<String> = elements
            .into_iter()
            .filter(|it| !bare(it).is_empty())
            .collect();
        if !elements.is_empty() {
            told.push(Told { name, elements });
        }
    };
    add("head", head(sheet));
    add("weigh", weigh(sheet));
    let mut mix = vec![sheet.mix.heading.clone()];
    mix.extend(sheet.mix.steps.iter().map(|step| {
        let output = step
            .output
            .as_ref()
            .map(|output| format!(" \u{2192} {output}"));
        format!(
            "{} {}{}",
            step.number,
            step.text,
            output.unwrap_or_default()
        )
    }));
    if !sheet.mix.steps.is_empty() {
        add("mix", mix);
    }
    let totals = &sheet.totals;
    let mut sums = vec![totals.heading.clone()];
    let listed = totals.rows.iter().filter(|_| lists_totals);
    for row in listed.chain([&totals.together]) {
        sums.extend([row.what.clone(), row.value.clone()]);
    }
    sums.extend(totals.in_parts.iter().cloned());
    add("totals", sums);
    add("doses", doses(sheet));
    let section = |section: &Section| {
        let heading = [section.heading.clone()];
        heading
            .into_iter()
            .chain(section.lines.iter().cloned())
            .collect()
    };
    add("found", sheet.found.as_ref().map_or_else(Vec::new, section));
    let label = &sheet.label;
    let mut elements = vec![format!("\u{2702} {}", label.heading), label.title.clone()];
    elements.extend(label.alarm.clone());
    elements.extend(label.facts.iter().map(fact));
    elements.extend(label.lines.iter().map(|line| format!("! {line}")));
    add("label", elements);
    add("defers", vec![sheet.defers.clone()]);
    told
}

fn fact(fact: &Fact) -> String {
    format!("{} {}", fact.what, fact.value)
}

fn head(sheet: &Sheet) -> Vec<String> {
    let mut head = vec![sheet.title.clone()];
    head.extend(sheet.subtitle.clone());
    head.extend(
        sheet
            .draft
            .as_ref()
            .map(|draft| format!("{} {}", draft.word, draft.why)),
    );
    head.extend(sheet.facts.iter().map(fact));
    if let Some(beware) = &sheet.beware {
        head.push(beware.heading.clone());
        head.extend(beware.lines.iter().map(|line| format!("! {line}")));
    }
    head
}

fn weigh(sheet: &Sheet) -> Vec<String> {
    let table = &sheet.weigh;
    let names = &table.columns;
    let mut weigh = vec![table.heading.clone(), names.what.clone()];
    if table.has_lots {
        weigh.push(names.lot.clone());
    }
    weigh.extend(
        [
            &names.mass,
            &names.scale,
            &names.range,
            &names.done,
            &names.actual,
        ]
        .map(String::clone),
    );
    for block in &table.blocks {
        weigh.push(block.heading.clone());
        weigh.extend(block.rows.iter().flat_map(row));
    }
    weigh.extend([table.together.what.clone(), table.together.value.clone()]);
    weigh
}

fn row(row: &WeighingRow) -> Vec<String> {
    let cautions: Vec<String> = row
        .cautions
        .iter()
        .map(|caution| format!("! {caution}"))
        .collect();
    vec![
        row.number.to_string(),
        row.what.clone(),
        row.lot.clone().unwrap_or_default(),
        row.mass.clone(),
        row.scale.clone(),
        row.range.clone(),
        row.unit.to_owned(),
        format!(
            "{} {}",
            row.loads.clone().unwrap_or_default(),
            cautions.join(" ")
        ),
    ]
}

fn doses(sheet: &Sheet) -> Vec<String> {
    let Some(table) = sheet.doses.as_ref().filter(|table| !table.rows.is_empty()) else {
        return Vec::new();
    };
    let names = &table.columns;
    let mut doses = vec![table.heading.clone()];
    doses.extend(
        [
            &names.what,
            &names.value,
            &names.bound,
            &names.batch,
            &names.portion,
        ]
        .map(String::clone),
    );
    let (hurting, others): (Vec<_>, Vec<_>) = table.rows.iter().partition(|row| row.can_hurt);
    for row in hurting.into_iter().chain(others) {
        doses.extend(
            [&row.what, &row.value, &row.bound, &row.batch, &row.portion].map(String::clone),
        );
    }
    doses
}

/// What is written in the picture.
pub(crate) fn pictured(sheet: &Sheet) -> String {
    let texts = sheet.picture.shapes.iter().filter_map(|shape| match shape {
        Shape::Text { text, .. } => Some(bare(text)),
        _ => None,
    });
    texts.collect()
}

/// Without blanks: where lines are broken is up to who draws.
pub(crate) fn bare(text: &str) -> String {
    text.chars()
        .filter(|letter| !letter.is_whitespace())
        .collect()
}

/// The words of a text that are numbers, in order.
pub(crate) fn numbers(text: &str) -> Vec<String> {
    let mut numbers: Vec<String> = text
        .split_whitespace()
        .map(|word| word.trim_matches(|letter: char| "()[],;:.!".contains(letter)))
        .filter(|word| word.starts_with(|letter: char| letter.is_ascii_digit()))
        .map(str::to_owned)
        .collect();
    numbers.sort();
    numbers
}
