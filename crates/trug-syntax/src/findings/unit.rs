//! What can be said about numbers and units while they are read.

use trug_findings::{Code, Edit, Finding, Fix, Place};

/// A comma stands in a number.
pub static COMMA: Code = Code::error("unit/comma", include_str!("pages/unit-comma.md"));

/// All codes of this family that are raised while reading.
pub static ALL: &[&Code] = &[&COMMA];

/// `1,5` or `8,000`: each number of the line that has a comma, as written and where.
///
/// A comma before exactly three digits may part thousands or decimals; both are offered and neither is sure.
/// Any other single comma can only stand for the decimal point.
#[must_use]
pub fn comma(numbers: &[(Place, String)]) -> Finding {
    let Some((place, first)) = numbers.first() else {
        return COMMA.at(Place::default());
    };
    let decimals: Vec<_> = numbers
        .iter()
        .map(|(place, number)| (*place, as_decimal(number)))
        .collect();
    let finding = COMMA
        .at(*place)
        .says(format!("the comma in `{first}` is no part of a number"));
    if let Some(edits) = all_sure(&decimals) {
        let help = format!("write `{}` with a point", first.replace(',', "."));
        let mut finding = finding.help(help);
        finding.fixes.push(Fix {
            title: "write a point for the comma".to_owned(),
            edits,
            sure: true,
        });
        return finding;
    }
    let whole = first.replace(',', "");
    match as_decimal(first) {
        Decimal::Sure(point) | Decimal::OnlyReading(point) => finding
            .help(format!("write `{point}` with a point"))
            .offer(format!("write `{point}`"), *place, point),
        Decimal::OneOfTwo(point) => finding
            .help(format!(
                "write `{whole}` if the comma parts thousands, `{point}` if it parts decimals"
            ))
            .offer(format!("write `{whole}`"), *place, whole)
            .offer(format!("write `{point}`"), *place, point),
        Decimal::No => finding
            .help(format!("write `{whole}`, without commas"))
            .offer(format!("write `{whole}`"), *place, whole),
    }
}

/// How a number with a comma reads with a point instead.
enum Decimal {
    /// It can mean nothing else.
    Sure(String),
    /// Three digits follow, but only a zero stands before: no thousands.
    OnlyReading(String),
    /// Three digits follow: it may be thousands.
    OneOfTwo(String),
    /// Several commas, or a comma and a point.
    No,
}

fn as_decimal(number: &str) -> Decimal {
    let Some((whole, part)) = number.split_once(',') else {
        return Decimal::No;
    };
    if part.contains([',', '.']) {
        return Decimal::No;
    }
    let point = format!("{whole}.{part}");
    let is_zero = whole
        .trim_start_matches(|sign: char| !sign.is_ascii_digit())
        .trim_start_matches('0')
        .is_empty();
    match (part.len() == 3, is_zero) {
        (false, _) => Decimal::Sure(point),
        (true, true) => Decimal::OnlyReading(point),
        (true, false) => Decimal::OneOfTwo(point),
    }
}

fn all_sure(decimals: &[(Place, Decimal)]) -> Option<Vec<Edit>> {
    decimals
        .iter()
        .map(|(place, decimal)| match decimal {
            Decimal::Sure(point) => Some(Edit {
                place: *place,
                text: point.clone(),
            }),
            _ => None,
        })
        .collect()
}
