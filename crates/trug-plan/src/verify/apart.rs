//! Pairs that are to be apart: each is thin enough before the two first meet.

use trug_model::Q;

use super::flow::{Flow, numbered};
use super::number::Number;
use super::sheet::{Batch, Class, Input, Sheet};
use super::{Breaches, Rule};

/// Checks every step in which a pair meets.
pub(super) fn check(sheet: &Sheet, batch: &Batch, flow: &Flow, found: &mut Breaches) {
    if sheet.says(|remark| remark.code == "mix/apart" && !remark.is_note) {
        return;
    }
    for (one, other, times) in sheet.pairs() {
        for (_, step) in numbered(batch) {
            let meets = |input: &&Input, wanted: usize, unwanted: usize| {
                let held = flow.held_by(batch, input.source);
                held.contains_key(&wanted) && !held.contains_key(&unwanted)
            };
            let of_one: Vec<_> = step
                .inputs
                .iter()
                .filter(|it| meets(it, one, other))
                .collect();
            let of_other: Vec<_> = step
                .inputs
                .iter()
                .filter(|it| meets(it, other, one))
                .collect();
            if of_one.is_empty() || of_other.is_empty() {
                continue;
            }
            let sides = [(one, other, of_one), (other, one, of_other)];
            for (this, partner, inputs) in sides {
                if !is_asked(sheet, this, partner) {
                    continue;
                }
                if inputs
                    .iter()
                    .any(|it| !is_thin(batch, flow, it, this, &times))
                {
                    let name = |rank: usize| {
                        sheet
                            .ingredients
                            .get(rank)
                            .map_or("", |it| it.name.as_str())
                    };
                    let says = format!(
                        "{} meets {} before it is 1 in {times}",
                        name(this),
                        name(partner)
                    );
                    found.add(Rule::Apart, batch.at_step(step), says);
                }
            }
        }
    }
}

/// Bulk need not be thinned; where both are bulk, nothing is asked.
fn is_asked(sheet: &Sheet, this: usize, partner: usize) -> bool {
    let class = |rank: usize| sheet.ingredients.get(rank).map(|it| it.class);
    let is_bulk = |rank| class(rank) == Some(Class::Bulk);
    if is_bulk(partner) {
        // Asked of the small one only.
        return class(this) == Some(Class::Small);
    }
    !is_bulk(this)
}

/// Whether an input is so many times the mass of what it holds of `ingredient`: an output, unless nothing is asked.
fn is_thin(batch: &Batch, flow: &Flow, input: &Input, ingredient: usize, times: &Q) -> bool {
    let held = flow.held_by(batch, input.source);
    let own: Number = held.get(&ingredient).into_iter().sum();
    own.times(times).fits(&input.mass)
}
