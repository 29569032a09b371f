//! What the ration contains, and what each ingredient costs.

use maud::{Markup, html};
use trug_model::Q;
use trug_model::analysis::{Cost, LineCost, NutrientValue};

use super::{Analysed, Text, apart, bar, estimate, id, number, words};
use crate::analysis::text::{FIGURES, called, source_words};
use crate::words::{mass, money, percent, statistic, unit_said};

/// Every nutrient, as fed and of dry matter.
pub(super) fn composition(page: &Analysed<'_>, rank: usize) -> Markup {
    let nutrients = &page.analysis.nutrients;
    if nutrients.is_empty() {
        return html! {};
    }
    html! {
        section aria-labelledby=(id(rank, "contains")) {
            h2 id=(id(rank, "contains")) { (words::COMPOSITION) }
            table.contains {
                thead { tr {
                    th scope="col" { (words::NUTRIENT) }
                    th scope="col" { (words::AS_FED) }
                    th scope="col" { (words::OF_DRY_MATTER) }
                    th scope="col" { (words::UNIT) }
                } }
                tbody { @for nutrient in nutrients { (nutrient_row(nutrient)) } }
            }
        }
    }
}

fn nutrient_row(nutrient: &NutrientValue) -> Markup {
    let (unit, times) = unit_said(&nutrient.unit, &[&nutrient.value]);
    let said = |value: &Q| number(value, &(value * &times).readable(FIGURES));
    let scatter = |value: f64| estimate(value, &statistic(value * times.to_f64()));
    let likely = nutrient
        .low
        .zip(nutrient.high)
        .filter(|(low, high)| low.is_finite() && high.is_finite());
    html! {
        tr {
            th scope="row" {
                (apart(&called(nutrient)))
                @if let Some((low, high)) = likely {
                    p.remark {
                        (words::LIKELY) " " (scatter(low)) " .. " (scatter(high))
                    }
                }
                @if !nutrient.complete { p.remark { strong { (words::PART_UNKNOWN) } } }
            }
            td { (said(&nutrient.value)) }
            td { @if let Some(dry) = &nutrient.value_dry_matter { (said(dry)) } }
            td.unit { (apart(unit)) }
        }
    }
}

/// What each line of the ration costs, the dearest first; nothing where no ingredient has a price.
pub(super) fn costs(page: &Analysed<'_>, rank: usize) -> Markup {
    let Some(cost) = page
        .analysis
        .cost
        .as_ref()
        .filter(|cost| !cost.lines.is_empty())
    else {
        return html! {};
    };
    let grams = page.analysis.mass_g.as_ref();
    let mut lines: Vec<(usize, &LineCost)> = cost.lines.iter().enumerate().collect();
    lines.sort_by(|a, b| b.1.per_kg.cmp(&a.1.per_kg).then(a.0.cmp(&b.0)));
    html! {
        section.cost aria-labelledby=(id(rank, "costs")) {
            h2 id=(id(rank, "costs")) { (words::COSTS) }
            table.costs {
                thead { tr {
                    th scope="col" { (words::INGREDIENT) }
                    th scope="col" { @if grams.is_some() { (words::IN_THE_BATCH) } @else { (words::OF_FEED) } }
                    th scope="col" {
                        (Text(&cost.currency)) " "
                        @if grams.is_some() { (words::THE_BATCH) } @else { (words::A_KG_OF_FEED) }
                    }
                    th scope="col" { (words::OF_COST) }
                } }
                tbody { @for (place, line) in lines {
                    (cost_row(page, cost, line, &id(rank, &format!("cost-{}", place + 1))))
                } }
                tfoot { tr {
                    th scope="row" {
                        (words::TOGETHER)
                        @if !cost.complete { p.remark { strong { (words::PRICE_PARTLY_KNOWN) } } }
                    }
                    td { @if let Some(grams) = grams { (number(grams, &mass(grams))) } }
                    td { (amount(&cost.per_kg, grams, &cost.currency)) }
                    td {}
                } }
            }
            p.remark { (words::ROUNDED) }
        }
    }
}

/// The sources, and what each is the source of.
pub(super) fn origins(page: &Analysed<'_>, rank: usize) -> Markup {
    if page.origins.is_empty() {
        return html! {};
    }
    html! {
        section.origins aria-labelledby=(id(rank, "origins")) {
            h2 id=(id(rank, "origins")) { (words::ORIGINS) }
            table.origins {
                thead { tr { th scope="col" { (words::SOURCE) } th scope="col" { (words::READ_THERE) } } }
                tbody { @for origin in &page.origins { tr {
                    th scope="row" { (apart(&source_words(origin))) }
                    td { @for (of, whats) in &origin.values { p {
                        (apart(page.called(of))) ": " (apart(&whats.join(", ")))
                    } } }
                } } }
            }
        }
    }
}

fn cost_row(page: &Analysed<'_>, cost: &Cost, line: &LineCost, id: &str) -> Markup {
    let grams = page.analysis.mass_g.as_ref();
    let hundredths = &line.share * &Q::int(100);
    let part = line.per_kg.over(&cost.per_kg).unwrap_or_default();
    let is_unknown = !line.complete && line.per_kg.is_zero();
    html! {
        tr id=(id) {
            th scope="row" {
                (apart(page.called(&line.ingredient)))
                @if !is_unknown { (bar::part(part.to_f64())) }
                @if !line.complete && !is_unknown { p.remark { strong { (words::PRICE_PARTLY_KNOWN) } } }
            }
            td.share {
                @if let Some(grams) = grams {
                    @let own = grams * &line.share;
                    (number(&own, &mass(&own))) br;
                }
                span.percent { (number(&hundredths, &percent(&line.share))) }
            }
            @if is_unknown {
                td colspan="2" { strong { (words::PRICE_UNKNOWN) } }
            } @else {
                td { (amount(&line.per_kg, grams, &cost.currency)) }
                td { (percent(&part)) }
            }
        }
    }
}

/// Money for the batch, or for one kg of feed where no batch is named; programs read that of one kg.
fn amount(per_kg: &Q, grams: Option<&Q>, currency: &str) -> Markup {
    let shown = match grams {
        Some(grams) => per_kg * &(grams / &Q::int(1000)),
        None => per_kg.clone(),
    };
    let shown = money(&shown, currency);
    let digits = shown.strip_suffix(currency).unwrap_or(&shown).trim();
    number(per_kg, digits)
}
