//! Cells of a spreadsheet: numbers, digit for digit, and what people write where there is none.

use trug_model::table::with_points;

use crate::remarks::short;
use crate::units::{Unit, unit};

/// Digits of a number that a text may have.
const MOST_DIGITS: usize = 40;

/// A number as a text has it, and the unit beside it in the cell.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Amount {
    /// `8.0`, `8.0 ± 0.4`, `12 .. 24`.
    pub(crate) number: String,
    /// The unit, where the cell has one.
    pub(crate) unit: Option<Unit>,
}

/// Why a cell is no number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Trouble {
    pub(crate) says: String,
    pub(crate) help: String,
    /// The cell says that nothing is known.
    pub(crate) is_empty: bool,
}

impl Trouble {
    fn new(says: impl Into<String>, help: impl Into<String>) -> Trouble {
        Trouble {
            says: says.into(),
            help: help.into(),
            is_empty: false,
        }
    }
}

/// What people write where they have no number.
const NOTHING: [&str; 12] = [
    "-", "--", "\u{2013}", "\u{2014}", "n/a", "na", "n.a.", "nd", "n.d.", "nil", "?", ".",
];

/// Reads the number of a cell.
pub(crate) fn amount(cell: &str, has_decimal_comma: bool) -> Result<Amount, Trouble> {
    let text = cell.replace(['\u{a0}', '\u{202f}'], " ");
    let text = text.trim();
    if NOTHING.contains(&text.to_lowercase().as_str()) {
        return Err(Trouble {
            is_empty: true,
            ..Trouble::new(
                format!("`{text}` is no number: what is not given stays unknown"),
                "",
            )
        });
    }
    if text.starts_with('=') {
        return Err(Trouble::new(
            "this cell is a formula",
            "save its value: copy the cells and paste them as values",
        ));
    }
    if text.starts_with('#') {
        return Err(Trouble::new(
            format!("`{}` is the spreadsheet's own mistake", short(text)),
            "mend its formula, or write the number",
        ));
    }
    let pointed = if has_decimal_comma {
        with_points(text)
    } else {
        text.to_owned()
    };
    let Some((first, rest)) = digits(&pointed) else {
        return Err(no_number(text));
    };
    let (second, rest, sign) = match second(rest) {
        Some((sign, after)) => {
            let Some((second, rest)) = digits(after) else {
                return Err(no_number(text));
            };
            (second, rest, sign)
        }
        None => (String::new(), rest, ""),
    };
    if rest.starts_with(',') {
        return Err(comma(text));
    }
    let rest = rest.trim();
    let own = unit(rest);
    if own.is_none() && !rest.is_empty() {
        return Err(no_number(text));
    }
    if MOST_DIGITS < first.len() || MOST_DIGITS < second.len() {
        return Err(Trouble::new(
            "this number has more than 40 digits",
            "write as many digits as a scale or a laboratory can give",
        ));
    }
    Ok(Amount {
        number: format!("{first}{sign}{second}"),
        unit: own,
    })
}

/// Whether the digits are those of zero.
pub(crate) fn is_zero(number: &str) -> bool {
    number
        .bytes()
        .all(|byte| matches!(byte, b'0' | b'.' | b'-' | b'+'))
}

/// A number at the head of a text, as the language writes it, and what follows.
fn digits(text: &str) -> Option<(String, &str)> {
    let text = text.trim_start();
    let (sign, bare) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(bare) => ("-", bare),
        None => ("", text.strip_prefix('+').unwrap_or(text)),
    };
    let is_digit = |letter: char| letter.is_ascii_digit();
    let end = bare.find(|letter| !is_digit(letter)).unwrap_or(bare.len());
    let (whole, rest) = bare.split_at_checked(end)?;
    let part = rest.strip_prefix('.').unwrap_or_default();
    let end = part.find(|letter| !is_digit(letter)).unwrap_or(part.len());
    let (part, after) = part.split_at_checked(end)?;
    if part.is_empty() {
        // `5.` is `5`, `5 .. 6` and `5..6` begin with `5`.
        let is_range = rest.starts_with("..");
        let rest = if is_range {
            rest
        } else {
            rest.strip_prefix('.').unwrap_or(rest)
        };
        return (!whole.is_empty()).then(|| (format!("{sign}{whole}"), rest));
    }
    let whole = if whole.is_empty() { "0" } else { whole };
    Some((format!("{sign}{whole}.{part}"), after))
}

/// A sign between two numbers, and what follows it.
fn second(rest: &str) -> Option<(&'static str, &str)> {
    let rest = rest.trim_start();
    let signs = [
        ("\u{b1}", " \u{b1} "),
        ("+/-", " \u{b1} "),
        ("+-", " \u{b1} "),
        ("..", " .. "),
    ];
    signs
        .into_iter()
        .find_map(|(sign, usual)| Some((usual, rest.strip_prefix(sign)?)))
}

fn no_number(text: &str) -> Trouble {
    let has_words = text.chars().any(char::is_alphabetic);
    let is_digit = |letter: char| letter.is_ascii_digit();
    let ends = text.split_once(['-', '\u{2013}']);
    let is_range =
        ends.is_some_and(|(low, high)| low.ends_with(is_digit) && high.starts_with(is_digit));
    let help = if is_range {
        "write a range with two dots: `12 .. 24`"
    } else if has_words {
        "write the number alone; its unit stands in the heading"
    } else {
        "write the number alone, with a point for decimals and nothing between thousands"
    };
    Trouble::new(format!("`{}` is no number", short(text)), help)
}

fn comma(text: &str) -> Trouble {
    Trouble::new(
        format!("the comma in `{}` is no part of a number", short(text)),
        "write a point for decimals and nothing between thousands, in all cells alike",
    )
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test says what it expects")]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_kept_digit_for_digit() {
        let number = |cell| amount(cell, false).map(|amount| amount.number);
        assert_eq!(number("0.80").as_deref(), Ok("0.80"));
        assert_eq!(number(" 8.0\u{a0}± 0.4 ").as_deref(), Ok("8.0 ± 0.4"));
        assert_eq!(number(".5").as_deref(), Ok("0.5"));
        assert_eq!(number("12..24").as_deref(), Ok("12 .. 24"));
        assert_eq!(number("-150").as_deref(), Ok("-150"));
        let own = amount("46%", false).unwrap().unit.unwrap().text;
        assert_eq!(own, "%");
        assert_eq!(amount("8,5 kg", true).unwrap().number, "8.5");
    }

    #[test]
    fn what_is_no_number_is_said() {
        let says = |cell: &str| amount(cell, false).unwrap_err();
        assert!(says("n/a").is_empty && says("-").is_empty);
        assert!(says("=B2*3").says.contains("formula"));
        assert!(says("#DIV/0!").says.contains("mistake"));
        assert!(says("1,234.5").says.contains("comma"));
        for cell in [
            "abc", "<0.1", "1e3", "1 234", "12-24", "Rs 92", "1.2.3", "$4", "5 ± x", "",
        ] {
            assert!(!says(cell).is_empty, "{cell}");
        }
        assert!(says(&"9".repeat(41)).says.contains("40 digits"));
    }
}
