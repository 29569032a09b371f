//! The fewest steps for up to seven small ingredients, proved.
//!
//! **What is searched.** Every plan is a tree: its leaves are the small ingredients, each weighed once; every inner node is a step that
//! mixes some leaves and earlier mixes, with or without carrier; the root is the pre-blend, of known mass. A step that mixes the set
//! S of ingredients has an output of what S weighs plus the carrier that entered on the way, *however that came about*. So all that the rest of a plan can see of a
//! sub-tree is the set, how many steps it took, how many of them added carrier, and what outputs it can have.
//!
//! **Why it is complete.** For every set and every number of steps the table holds the outputs that can be had, as intervals: the step that makes the mix
//! splits S into blocks, and all splits are tried, each block with every interval that its own set has. Given intervals [l, h] of the
//! blocks, an output O can be had where each block can be brought to at least O / R and all together weigh no more than O. The
//! set of such O is an interval again, since O - Σ max(l, O / R) is concave in O. An interval that lies inside one of no more steps and no
//! more carriers is left out: it can do nothing the other cannot. A pair that is apart only raises the least that the two blocks must reach
//! in the split that parts them. By induction every tree lies in the table.
//!
//! The table lets carrier enter in any amount from the smallest weighable one, so it may allow a plan that two significant figures
//! do not; it never forbids one that they do. A plan with as few steps as the table allows, with amounts
//! the scales can give, is therefore proved to be of the fewest steps. Where no amounts are found for the trees of so many steps that the table
//! shows, every tree with every amount is tried (see `thorough`); where even that would take too long, the answer says that it is not proved.
//!
//! A plan that was found otherwise bounds the steps from above: a way that could not be brought to the pre-blend's need within them, were
//! every step left to dilute as far as it may, is left out too.

use super::bound::{Bound, compare};
use super::fill::{Filled, fill};
use super::question::{Answer, Question};
use super::table::{MOST_STEPS, Table};
use super::thorough::{self, Outcome};

/// The best answer, with no more steps than the one that is known; none where no tree keeps the ratio, or where looking would take
/// more than so many splits.
pub(crate) fn search(question: &Question, known: Option<&Filled>, effort: u64) -> Option<Answer> {
    let known_steps = known.and_then(|known| u32::try_from(known.steps()).ok());
    let most_steps = known_steps.unwrap_or(MOST_STEPS);
    let mut table = Table::new(question, question.bound, most_steps, effort);
    let mut is_proved = true;
    let mut left = effort;
    let mut idle = 0;
    for steps in 0..=most_steps {
        let has_grown = table.grow(steps);
        idle = if has_grown { 0 } else { idle + 1 };
        if table.is_exhausted() || idle > question.masses.len() {
            return None;
        }
        let sketches = table.sketches(steps);
        let mut first = sketches.iter().find_map(|sketch| fill(question, sketch));
        if known_steps == Some(steps) {
            let candidates = first.into_iter().chain(known.cloned());
            first = candidates.min_by_key(Filled::weighings);
        } else if first.is_none() && !sketches.is_empty() {
            // The table allows what two significant figures may not: only trying every amount can tell.
            match thorough::search(question, steps, &mut left) {
                Outcome::Found(found) => first = Some(found),
                Outcome::Proved => {}
                Outcome::GaveUp => is_proved = false,
            }
        }
        if let Some(first) = first {
            let best = improve(question, first, steps, effort);
            return Some(best.answer(is_proved));
        }
    }
    None
}

/// Lowers the largest ratio as far as plans with as few steps and weighings allow.
fn improve(question: &Question, first: Filled, steps: u32, effort: u64) -> Filled {
    let mut best = first;
    for _ in 0..12 {
        let largest = best.largest_ratio();
        if compare(largest, question.spread).is_le() {
            break;
        }
        let bound = Bound {
            ratio: largest,
            is_strict: true,
        };
        let mut table = Table::new(question, bound, steps, effort / 8);
        for more in 0..=steps {
            table.grow(more);
        }
        let better = table
            .sketches(steps)
            .iter()
            .filter_map(|sketch| fill(question, sketch))
            .filter(|filled| filled.weighings() <= best.weighings())
            .filter(|filled| compare(filled.largest_ratio(), largest).is_lt())
            .min_by(|a, b| compare(a.largest_ratio(), b.largest_ratio()));
        match better {
            Some(better) => best = better,
            None => break,
        }
    }
    best
}
