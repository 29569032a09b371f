//! Claims about a document the tool prints for programs: `nutrients[protein].value = 11 ~ 0.01`.
//!
//! A step of a path is a field, then perhaps a place in a list: a number counted from 0, or the words by
//! which the member goes (`name`, `ingredient`, `id`, `kind`, `what`, `number`). Several members of that
//! name are taken in order with `#`: `bounds[calcium#1]` is the second.
//! `count(path)` is how many members a list has. Numbers are compared exactly, or within `~ tolerance`.

use serde_json::Value;

/// The fields by which a member of a list goes.
const NAMES: [&str; 7] = ["name", "ingredient", "id", "kind", "what", "number", "code"];

/// The claims that do not hold, each with what is there instead; empty where all hold.
#[must_use]
pub fn broken(claims: &str, document: &Value) -> Vec<String> {
    let hold = |line: &str| match claim_of(line) {
        None => None,
        Some((path, wanted, tolerance)) => {
            let found = look_up(path, document);
            let holds = agree(&wanted, found.as_deref(), tolerance);
            (!holds).then(|| {
                format!(
                    "{line}\n    found {}",
                    found.as_deref().unwrap_or("nothing")
                )
            })
        }
    };
    claims.lines().filter_map(hold).collect()
}

/// The claims with the document's values in place of those written.
#[must_use]
pub fn rewritten(claims: &str, document: &Value) -> String {
    let rewrite = |line: &str| match claim_of(line) {
        Some((path, wanted, tolerance)) => {
            let found = look_up(path, document).unwrap_or_else(|| "none".to_owned());
            if agree(&wanted, Some(&found), tolerance) {
                format!("{line}\n")
            } else {
                let within = tolerance.map_or(String::new(), |it| format!(" ~ {it}"));
                format!("{path} = {found}{within}\n")
            }
        }
        None => format!("{line}\n"),
    };
    claims.lines().map(rewrite).collect()
}

/// A claim's path, value and tolerance; none for a blank line or a comment.
fn claim_of(line: &str) -> Option<(&str, String, Option<f64>)> {
    let line = line.trim();
    if line.is_empty() || line.starts_with('#') {
        return None;
    }
    let (path, wanted) = line.split_once(" = ").unwrap_or((line, ""));
    let wanted = wanted.split(" #").next().unwrap_or(wanted).trim();
    let (wanted, tolerance) = match wanted.rsplit_once(" ~ ") {
        Some((wanted, tolerance)) => (wanted, tolerance.trim().parse().ok()),
        None => (wanted, None),
    };
    Some((path.trim(), wanted.trim().to_owned(), tolerance))
}

fn agree(wanted: &str, found: Option<&str>, tolerance: Option<f64>) -> bool {
    match (found, tolerance) {
        (None, _) => wanted == "none",
        (Some(found), None) => found == wanted,
        (Some(found), Some(tolerance)) => {
            let numbers = (wanted.parse::<f64>(), found.parse::<f64>());
            matches!(numbers, (Ok(wanted), Ok(found)) if (wanted - found).abs() <= tolerance)
        }
    }
}

/// What stands at `path`, as words; none where nothing does.
fn look_up(path: &str, document: &Value) -> Option<String> {
    if let Some(inner) = path.strip_prefix("count(") {
        let list = at(inner.strip_suffix(')')?, document)?.as_array()?;
        return Some(list.len().to_string());
    }
    Some(match at(path, document)? {
        Value::String(text) => text.clone(),
        Value::Null => "null".to_owned(),
        other => other.to_string(),
    })
}

fn at<'a>(path: &str, document: &'a Value) -> Option<&'a Value> {
    let mut here = document;
    for step in steps_of(path) {
        let (field, place) = match step.split_once('[') {
            Some((field, place)) => (field, place.strip_suffix(']')),
            None => (step.as_str(), None),
        };
        here = here.get(field)?;
        if let Some(place) = place {
            here = member(place, here.as_array()?)?;
        }
    }
    Some(here)
}

/// Splits at the dots that stand outside brackets.
fn steps_of(path: &str) -> Vec<String> {
    let mut steps = vec![String::new()];
    let mut depth = 0;
    for letter in path.chars() {
        match letter {
            '[' => depth += 1,
            ']' => depth -= 1,
            _ => {}
        }
        match steps.last_mut() {
            Some(step) if letter != '.' || depth > 0 => step.push(letter),
            _ => steps.push(String::new()),
        }
    }
    steps
}

fn member<'a>(place: &str, list: &'a [Value]) -> Option<&'a Value> {
    if let Ok(index) = place.parse::<usize>() {
        return list.get(index);
    }
    let (name, rank) = match place.rsplit_once('#') {
        Some((name, rank)) => (name, rank.parse().ok()?),
        None => (place, 0),
    };
    let goes_by = |value: &&Value| {
        let is = |field: &str| value.get(field).and_then(Value::as_str) == Some(name);
        NAMES.iter().any(|field| is(field))
    };
    list.iter().filter(goes_by).nth(rank)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn claims_hold_or_say_what_is_there() {
        let document = json!({"bounds": [
            {"what": "calcium / available-phosphorus", "value": "7.5", "met": true},
            {"what": "calcium", "value": "3.5", "met": null},
            {"what": "calcium", "value": "5", "met": false},
        ]});
        let held = "# a comment\nbounds[calcium / available-phosphorus].value = 7.4 ~ 0.2\n\
                    bounds[calcium#1].met = false\ncount(bounds) = 3\nbounds[0].none = none\n";
        assert_eq!(broken(held, &document), Vec::<String>::new());
        assert_eq!(rewritten(held, &document), held);
        let wrong = "bounds[calcium].value = 4\n";
        assert_eq!(broken(wrong, &document).len(), 1);
        assert_eq!(rewritten(wrong, &document), "bounds[calcium].value = 3.5\n");
    }
}
