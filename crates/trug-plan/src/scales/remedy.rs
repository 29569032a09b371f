//! What would make a weighing good enough: a finer scale, or a mix made ahead for several batches. Offers, never steps of the plan.

use trug_findings::{Edit, Finding};
use trug_model::Q;

use super::{choose, is_within};
use crate::amounts::Case;
use crate::order::{AmountForm, Scale};
use crate::plan::Class;
use crate::words::mass;

/// So many batches at most are mixed ahead.
const MOST_BATCHES: i64 = 1000;

/// A mix of one ingredient and a carrier, made for several batches.
struct Ahead {
    carrier: usize,
    /// The mix over the ingredient in it.
    dilution: i64,
    batches: i64,
}

/// Adds what would do, and the edits that write a mix made ahead.
pub(crate) fn offer(case: &Case, found: Finding, rank: usize, allowed: &Q) -> Finding {
    let ahead = ahead(case, rank, allowed);
    let found = say(case, found, rank, allowed, ahead.as_ref());
    match ahead {
        Some(ahead) => write(case, found, rank, &ahead),
        None => found,
    }
}

/// Adds what would do, and no edits.
pub(crate) fn help_only(case: &Case, found: Finding, rank: usize, allowed: &Q) -> Finding {
    say(
        case,
        found,
        rank,
        allowed,
        ahead(case, rank, allowed).as_ref(),
    )
}

fn say(case: &Case, found: Finding, rank: usize, allowed: &Q, ahead: Option<&Ahead>) -> Finding {
    let Some(division) = division(allowed) else {
        return found.help(format!(
            "leave room between {} and its bound: no scale can hold it there",
            case.name(rank)
        ));
    };
    let finer = format!(
        "use a scale that shows steps of {} or finer",
        mass(&division)
    );
    match ahead {
        None => found.help(finer),
        Some(ahead) => found.help(format!(
            "{finer}, or mix {} ahead with {}, 1 in {}, for {} batches at once",
            case.name(rank),
            case.name(ahead.carrier),
            ahead.dilution,
            ahead.batches
        )),
    }
}

/// The coarsest division in the row 1, 2, 5 that is not above the error; none where none is small enough to exist.
fn division(allowed: &Q) -> Option<Q> {
    let mut decade = Q::int(100_000);
    for _ in 0..11 {
        for figure in [5, 2, 1] {
            let division = Q::int(figure) * &decade;
            if division <= *allowed {
                return Some(division);
            }
        }
        decade = decade / Q::int(10);
    }
    None
}

/// The weakest dilution in one step, and then the fewest batches, with which both weighings are good enough.
fn ahead(case: &Case, rank: usize, allowed: &Q) -> Option<Ahead> {
    if case.class(rank) != Class::Small || !allowed.is_positive() {
        return None;
    }
    let carrier = (0..case.amounts.len())
        .filter(|other| case.kinds[*other].may_carry)
        .filter(|other| case.amount(*other).is_positive())
        .max_by(|a, b| case.amount(*a).cmp(&case.amount(*b)).then(b.cmp(a)))?;
    let amount = case.amount(rank);
    let ratio = case.order.method.dilutes.floor().to_i64()?;
    // Half of what is allowed for the mix, half for the ingredient in it.
    let half = allowed / &Q::int(2);
    let errs = |times: i64| {
        let snap = |scale: &Scale| (&amount * &Q::int(times)).round_to(&scale.division_g);
        let (reading, _) = choose(case, snap, |reading| {
            is_within(reading, &case.order.method.weigh)
        })?;
        Some(reading.error / Q::int(times))
    };
    let is_good = |times: &i64| errs(*times).is_some_and(|error| error <= half);
    let dilutions = [2, 5, 10, 20, ratio];
    let dilution = dilutions
        .into_iter()
        .filter(|times| *times <= ratio)
        .find(is_good)?;
    // About so many divisions are needed; from there on single batches more.
    let finest = super::finest(case)?;
    let start = finest.over(&half)?.ceil().to_i64()?.clamp(2, MOST_BATCHES);
    let batches = (start..MOST_BATCHES).take(40).find(is_good)?;
    Some(Ahead {
        carrier,
        dilution,
        batches,
    })
}

/// The edits: a ration that makes the mix, and the lines that use it. Only where every one of them can be written exactly.
fn write(case: &Case, found: Finding, rank: usize, ahead: &Ahead) -> Finding {
    let Some(edits) = edits(case, rank, ahead) else {
        return found;
    };
    let title = format!(
        "make {}-mix ahead for {} batches",
        case.name(rank),
        ahead.batches
    );
    found.offer_all(title, edits)
}

fn edits(case: &Case, rank: usize, ahead: &Ahead) -> Option<Vec<Edit>> {
    let ingredient = case.ingredient(rank);
    let carrier = case.ingredient(ahead.carrier);
    let (line, carrier_line) = (ingredient.line?, carrier.line?);
    if ingredient.on_top || !ingredient.named.is_empty() {
        return None;
    }
    let name = format!("{}-mix", ingredient.name);
    let dilution = Q::int(ahead.dilution);
    let in_percent = |share: Q| {
        let percent = share * Q::int(100);
        percent.decimals_end().then(|| format!("{percent} %"))
    };
    let batch = (case.amount(rank) * &dilution * Q::int(ahead.batches)).round_to(&Q::ONE);
    let strength = in_percent(Q::ONE / &dilution)?;
    let text = format!(
        "\n\nration {name}\n  {:<14} mixing\n  {:<14} {batch} g\n  {:<14} {strength} small\n  {:<14} rest",
        "for", "batch", ingredient.name, carrier.name
    );
    let edit = |place, text| Edit { place, text };
    let mut edits = vec![
        edit(line.name, name),
        edit(ingredient.place, in_percent(&ingredient.share * &dilution)?),
        edit(case.order.after?, text),
    ];
    match carrier_line.form {
        AmountForm::Rest => {}
        AmountForm::Share => {
            let taken = &ingredient.share * &(dilution - Q::ONE);
            edits.push(edit(carrier.place, in_percent(&carrier.share - &taken)?));
        }
        AmountForm::Other => return None,
    }
    Some(edits)
}
