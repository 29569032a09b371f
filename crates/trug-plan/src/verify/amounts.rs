//! Shares, amounts and totals: what was ordered against what will be weighed.

use trug_model::Q;

use super::number::Number;
use super::sheet::{Batch, Class, Sheet};
use super::{Breaches, Rule};

/// Checks every sum from the shares to the whole.
pub(super) fn check(sheet: &Sheet, found: &mut Breaches) {
    check_shares(sheet, found);
    check_classes(sheet, found);
    check_batches(sheet, found);
    for batch in &sheet.batches {
        check_ordered(sheet, batch, found);
        check_weighed(sheet, batch, found);
        check_snapped(sheet, batch, found);
    }
    check_wholes(sheet, found);
}

fn check_shares(sheet: &Sheet, found: &mut Breaches) {
    let within = sheet
        .ingredients
        .iter()
        .filter(|ingredient| !ingredient.on_top);
    let sum: Number = within.map(|ingredient| &ingredient.share).sum();
    if !sum.is(&Number::exact(Q::ONE)) {
        let says = format!("they are {} %", sum.times(&Q::int(100)));
        found.add(Rule::Shares, "the ingredients", says);
    }
}

fn check_classes(sheet: &Sheet, found: &mut Breaches) {
    let has = |class| sheet.ingredients.iter().any(|it| it.class == class);
    // A mix of nothing but liquids and small ingredients has no largest that could be shovelled.
    if !has(Class::Bulk) && !has(Class::Liquid) {
        found.add(
            Rule::Class,
            "the ingredients",
            "none is bulk: the largest counts as bulk",
        );
    }
}

/// Batches are equal, so there are as few as the floor takes.
fn check_batches(sheet: &Sheet, found: &mut Breaches) {
    let Some(floor) = &sheet.method.floor else {
        return;
    };
    let count = sheet.batch_count();
    let whole = sheet.whole_of_a_batch();
    if whole.is_over(floor) {
        let says = format!("{whole} g in one batch, and the floor takes {floor} g");
        found.add(Rule::Batches, "the batches", says);
    }
    let fewer = i64::try_from(count.saturating_sub(1)).unwrap_or(i64::MAX);
    let more = i64::try_from(count).unwrap_or(i64::MAX);
    if fewer > 0 && whole.times(&Q::ratio(more, fewer)).fits(floor) {
        let says = format!("{count} batches, and {fewer} of them would fit the floor");
        found.add(Rule::Batches, "the batches", says);
    }
}

fn check_ordered(sheet: &Sheet, batch: &Batch, found: &mut Breaches) {
    let whole = sheet.whole_of_a_batch();
    for (ingredient, amount) in sheet.ingredients.iter().zip(&batch.amounts) {
        let share = &ingredient.share;
        let due = Number {
            value: &whole.value * &share.value,
            slack: &whole.slack * &share.value + &share.slack * &whole.value,
        };
        if !amount.ordered.prints(&due) {
            let says = format!(
                "{} is ordered {} g; its share of the batch is {due} g",
                ingredient.name, amount.ordered
            );
            found.add(Rule::Ordered, &batch.place, says);
        }
    }
}

/// Every ingredient's weighings are its amount, and all amounts are the batch.
fn check_weighed(sheet: &Sheet, batch: &Batch, found: &mut Breaches) {
    for (rank, (ingredient, amount)) in sheet.ingredients.iter().zip(&batch.amounts).enumerate() {
        let parts = batch.weighings.iter().filter(|it| it.ingredient == rank);
        let sum: Number = parts.map(|weighing| &weighing.mass).sum();
        if !sum.is(&amount.weighed) {
            let says = format!(
                "{} is weighed {} g; its weighings are {sum} g",
                ingredient.name, amount.weighed
            );
            found.add(Rule::Sums, &batch.place, says);
        }
    }
    let sum: Number = batch.amounts.iter().map(|amount| &amount.weighed).sum();
    if !sum.is(&batch.total) {
        let says = format!("it is {} g; its amounts are {sum} g", batch.total);
        found.add(Rule::Sums, &batch.place, says);
    }
}

/// The division of the coarsest scale a batch is weighed on.
pub(super) fn coarsest(sheet: &Sheet, batch: &Batch) -> Number {
    batch
        .weighings
        .iter()
        .filter_map(|weighing| sheet.scales.get(weighing.scale?))
        .map(|scale| scale.division.clone())
        .max_by(|a, b| a.value.cmp(&b.value))
        .unwrap_or(Number::exact(Q::ZERO))
}

/// Snapping to scales moves each amount no further than the scales force it to.
fn check_snapped(sheet: &Sheet, batch: &Batch, found: &mut Breaches) {
    let coarsest = coarsest(sheet, batch);
    let apart = |amount: &super::sheet::Amount| {
        let difference = amount.weighed.less(&amount.ordered);
        Number {
            value: difference.value.abs(),
            slack: difference.slack,
        }
    };
    let ordered: Number = batch.amounts.iter().map(|amount| &amount.ordered).sum();
    let difference = batch.total.less(&ordered);
    let size = Number {
        value: difference.value.abs(),
        slack: difference.slack.clone(),
    };
    // Bulk too little for its scale cannot take up what is left over.
    let most = if sheet.owns_up() {
        coarsest.times(&Q::int(2))
    } else {
        coarsest.clone()
    };
    if size.is_over(&most) {
        let says = format!(
            "weighed and ordered differ by {difference} g; the coarsest scale shows {coarsest} g"
        );
        found.add(Rule::Snapped, &batch.place, says);
    }
    // Bulk takes up what the others leave, and one division of its own.
    let mut left_over = coarsest.clone();
    for (ingredient, amount) in sheet.ingredients.iter().zip(&batch.amounts) {
        if ingredient.class != Class::Bulk {
            left_over = left_over.plus(&apart(amount));
        }
    }
    for (rank, (ingredient, amount)) in sheet.ingredients.iter().zip(&batch.amounts).enumerate() {
        let own: Number = batch
            .weighings
            .iter()
            .filter(|weighing| weighing.ingredient == rank)
            .filter_map(|weighing| sheet.scales.get(weighing.scale?))
            .map(|scale| &scale.division)
            .sum();
        let most = if ingredient.class == Class::Bulk {
            &left_over
        } else {
            &own
        };
        if apart(amount).is_over(most) {
            let says = format!(
                "{} is ordered {} g and weighed {} g; {most} g apart would do",
                ingredient.name, amount.ordered, amount.weighed
            );
            found.add(Rule::Snapped, &batch.place, says);
        }
    }
}

fn check_wholes(sheet: &Sheet, found: &mut Breaches) {
    let mut ordered = Number::exact(Q::ZERO);
    let mut weighed = Number::exact(Q::ZERO);
    for batch in &sheet.batches {
        let times = Q::int(i64::from(batch.times));
        let sum: Number = batch.amounts.iter().map(|amount| &amount.ordered).sum();
        ordered = ordered.plus(&sum.times(&times));
        weighed = weighed.plus(&batch.total.times(&times));
    }
    let wholes = [
        ("ordered", &sheet.ordered, ordered),
        ("weighed", &sheet.weighed, weighed),
    ];
    for (what, said, sum) in wholes {
        if !said.is(&sum) {
            let says = format!("{said} g are {what}; the batches are {sum} g");
            found.add(Rule::Sums, "the plan", says);
        }
        if !said.is_positive() {
            found.add(Rule::Sums, "the plan", format!("{said} g are {what}"));
        }
    }
}
