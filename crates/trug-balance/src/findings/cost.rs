//! What can be said about cost.

use smol_str::SmolStr;
use trug_findings::{Code, Finding, Place};

pub static UNKNOWN: Code = Code::error("cost/unknown", include_str!("pages/cost-unknown.md"));

pub static ALL: &[&Code] = &[&UNKNOWN];

/// What could be chosen has no price, or one in a currency that no rate turns into the ration's.
pub(crate) fn unknown(
    place: Place,
    ration: &str,
    lines: &[(SmolStr, Place)],
    currency: Option<&str>,
) -> Finding {
    let names: Vec<&str> = lines.iter().map(|(name, _)| name.as_str()).collect();
    let has = if names.len() == 1 { "has" } else { "have" };
    let said = match names.as_slice() {
        [first, second, third, rest @ ..] if !rest.is_empty() => {
            format!("{first}, {second}, {third} and {} more", rest.len())
        }
        names => names.join(", "),
    };
    let of = currency.map_or_else(String::new, |currency| format!(" in {currency}"));
    let finding = UNKNOWN.at(place).says(format!(
        "{said} {has} no price{of}: {ration} has no cheapest choice"
    ));
    let finding = lines.iter().fold(finding, |finding, (name, place)| {
        finding.also(*place, format!("{name} could be chosen here"))
    });
    let money = currency.unwrap_or("LKR");
    finding.help(format!(
        "write a price, such as `price 92 {money}/kg`, or a `rate` between the currencies"
    ))
}
