//! What a sheet tells to weigh, read back out of any of its forms, so that they can be compared.

use serde_json::Value;
use trug_model::Q;

/// How much, and what the scale may read, in grams.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// How much.
    pub mass: Q,
    /// The least it may read.
    pub from: Q,
    /// The most it may read.
    pub to: Q,
}

/// Out of the document plan/1, in the order of work; `times` over, where each batch has a sheet of its own. What no
/// scale will do for has no reading.
#[must_use]
pub fn in_plan(plan: &Value, each_batch: bool) -> Vec<Reading> {
    let grams = |of: &Value| of.as_str().and_then(Q::decimal).unwrap_or_default();
    let mut readings = Vec::new();
    for batch in plan["batches"].as_array().into_iter().flatten() {
        let times = if each_batch {
            batch["times"].as_u64().unwrap_or(1)
        } else {
            1
        };
        for _ in 0..times {
            let weighings = batch["weighings"].as_array().into_iter().flatten();
            let on_scale = weighings.filter(|weighing| !weighing["scale"].is_null());
            readings.extend(on_scale.map(|weighing| Reading {
                mass: grams(&weighing["mass_g"]),
                from: grams(&weighing["from_g"]),
                to: grams(&weighing["to_g"]),
            }));
        }
    }
    readings
}

/// Out of the table.
#[must_use]
pub fn in_csv(table: &str) -> Vec<Reading> {
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let headings = reader.headers().cloned().unwrap_or_default();
    let column = |name: &str| headings.iter().position(|heading| heading == name);
    let rows = reader.records().filter_map(Result::ok);
    rows.filter_map(|row| {
        let cell = |name: &str| row.get(column(name)?);
        let grams = |name: &str| Q::decimal(cell(name)?);
        (cell("kind")? == "weighing" && !cell("scale")?.is_empty()).then_some(())?;
        Some(Reading {
            mass: grams("mass_g")?,
            from: grams("from_g")?,
            to: grams("to_g")?,
        })
    })
    .collect()
}

/// Out of a page of text, whose word between two numbers is `to`: lines that hold `600 g … 588 to 612 g`.
#[must_use]
pub fn in_text(page: &str, to: &str) -> Vec<Reading> {
    page.lines().filter_map(|line| in_line(line, to)).collect()
}

/// Out of a page of HTML: what stands in a row of a table is on one line.
#[must_use]
pub fn in_html(page: &str, to: &str) -> Vec<Reading> {
    let body = page.split_once("<body").map_or(page, |(_, body)| body);
    let mut text = String::new();
    for piece in body.split('<') {
        let (tag, words) = piece.split_once('>').unwrap_or(("", piece));
        text.push_str(if tag.starts_with("tr") { "\n" } else { " " });
        text.push_str(words);
    }
    in_text(&text, to)
}

fn in_line(line: &str, to: &str) -> Option<Reading> {
    let words: Vec<&str> = line.split_whitespace().collect();
    let at = words.iter().enumerate().position(|(rank, word)| {
        let unit = words.get(rank + 2).and_then(|unit| grams_in(unit));
        *word == to && unit.is_some()
    })?;
    let unit = grams_in(words.get(at + 2)?)?;
    let before = words.get(..at.checked_sub(1)?)?;
    let mass = before
        .windows(2)
        .rev()
        .find_map(|pair| Some(number(pair[0])? * grams_in(pair[1])?))?;
    Some(Reading {
        mass,
        from: number(words.get(at - 1)?)? * &unit,
        to: number(words.get(at + 1)?)? * &unit,
    })
}

fn grams_in(unit: &str) -> Option<Q> {
    match unit {
        "g" => Some(Q::ONE),
        "kg" => Some(Q::int(1000)),
        _ => None,
    }
}

fn number(digits: &str) -> Option<Q> {
    Q::decimal(&digits.replacen(',', ".", 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_any_form_tells_what_to_weigh() {
        let reading = |mass, from, to| Reading { mass, from, to };
        let kilograms = || reading(Q::int(6300), Q::int(6174), Q::int(6426));
        let line = " 6  Soya bean meal  44 %   6.3 kg  kitchen  6.174 to 6.426 kg  [ ]";
        assert_eq!(in_text(line, "to"), [kilograms()]);
        let line = "6 Soja 6,3 kg cuisine 6,174 à 6,426 kg kg";
        assert_eq!(in_text(line, "à"), [kilograms()]);
        let row = "<body><tr><td>6</td><td>6.3 kg</td><td>6.174 to 6.426 kg</td></tr>";
        assert_eq!(in_html(row, "to"), [kilograms()]);
        // What a dose can be is no reading of a scale.
        assert_eq!(in_text("salt 3 g/kg 2 to 5 g/kg", "to"), []);
    }
}
