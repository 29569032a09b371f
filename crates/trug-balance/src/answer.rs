//! The question answered.
use crate::conflict::conflict;
use crate::programme::{Answer, Programme};
use crate::rounding::rounded;
use crate::settled::{Kept, Least, least};
use crate::solve::Watch;
/// A
pub fn answer(programme: &Programme, watch: &Watch<'_>) -> Answer {
    let costs: Vec<trug_model::Q> = programme
        .shares
        .iter()
        .map(|share| share.cost.clone())
        .collect();
    if let Least::Choice(shares, _) = least(programme, &costs, &Kept::all(programme), watch) {
        let rounded = rounded(programme, &shares, watch);
        return Answer::Unanswered(format!("{rounded:?}"));
    }
    conflict(programme, watch).map_or(Answer::Unanswered(String::new()), Answer::Infeasible)
}
