//! The steps that bring the small ingredients into the pre-blend: as few as the ratio of one step allows.
//!
//! Preferred, in this order: fewest steps, fewest weighings, smallest largest ratio, names in order. Up to seven small ingredients the
//! fewest are proved (see `exhaustive`); beyond, they are the fewest that were found. With a handful of small
//! ingredients of like size this comes out as the common practice of the trade: small together, pre-blend, heap, spread.
//!
//! What is left of the first carrier's part always enters with the pre-blend itself.

mod bound;
mod exhaustive;
mod fill;
mod greedy;
mod grid;
mod question;
mod sketches;
mod table;
mod thorough;
mod unit;
mod writer;

use trug_model::Q;

use crate::amounts::Case;
use crate::apart::is_asked;
use crate::draft::{Draft, Part, Source};
use crate::plan::Class;
use crate::preblend::Preblend;
use crate::scales;

use bound::Bound;
use grid::Grid;
use question::{Answer, Apart, Blend, Mix, Question};
use unit::Unit;
use writer::Writer;

/// Masses of the search stay below this, so that their products fit.
const LARGEST: i128 = 1 << 52;
/// Up to so many small ingredients the fewest steps are proved.
const PROVED: usize = 7;
/// So many splits are looked at before the search for the proved fewest gives up; and where something could not be kept anyway.
const EFFORT: u64 = 200_000;
const LITTLE_EFFORT: u64 = 4_000;
/// So many of what is apart are tried one by one where not all can be kept.
const MOST_TRIED: usize = 64;

/// The small ingredients on their way: what the spread takes, and whether no fewer steps would do.
pub(crate) struct Blended {
    pub(crate) sources: Vec<Source>,
    pub(crate) is_proved: bool,
}

/// Draws the steps up to the pre-blends into the draft, such that a pre-blend heavier by `margin` would keep the ratio too.
pub(crate) fn blend(
    case: &Case,
    draft: &mut Draft,
    small: Vec<Part>,
    preblend: &Preblend,
    margin: &Q,
) -> Blended {
    let mut small = small;
    small.sort_by(|a, b| {
        let names = case.name(a.ingredient).cmp(case.name(b.ingredient));
        names.then(a.ingredient.cmp(&b.ingredient))
    });
    let carried: Q = preblend.carriers.iter().map(|carrier| &carrier.mass).sum();
    let masses: Q = small.iter().map(|part| &part.mass).sum();
    let unit = Unit::of(case, &small, preblend, &(&masses + &carried));
    let mut question = ask(case, &small, preblend, &unit);
    question.output += unit.up(margin);
    let answer = settle(&question);
    let sources = small.into_iter().map(|part| draft.part(part)).collect();
    let mut writer = Writer::new(case, draft, sources, &preblend.carriers, unit);
    let sources = writer.blends(&answer.blends);
    Blended {
        sources,
        is_proved: answer.is_proved && unit.is_exact && question.masses.len() <= PROVED,
    }
}

/// The ratio of one step as whole numbers; rounded down where it has too many digits.
fn bound(dilutes: &Q) -> Bound {
    let exact = dilutes
        .parts()
        .filter(|(over, under)| *over > 0 && *over < 1 << 40 && *under < 1 << 40);
    let rounded = || {
        let parts = (dilutes * &Q::int(1 << 20)).floor().parts();
        parts.map(|(over, _)| (over.clamp(1, 1 << 40), 1 << 20))
    };
    Bound {
        ratio: exact.or_else(rounded).unwrap_or((1, 1)),
        is_strict: false,
    }
}

/// The question the search answers, in whole units.
fn ask(case: &Case, small: &[Part], preblend: &Preblend, unit: &Unit) -> Question {
    let masses: Vec<i128> = small
        .iter()
        .map(|part| unit.down(&part.mass).max(1))
        .collect();
    let grid = if unit.is_exact {
        Grid::new(case, unit.per_gram)
    } else {
        Grid::default()
    };
    let carriers = preblend.carriers.iter();
    let carried: i128 = carriers.map(|carrier| unit.up(&carrier.most)).sum();
    let first = preblend.carriers.first();
    let first = first.map_or(0, |carrier| unit.down(&carrier.mass));
    let kept_back = scales::least_weighable(case).map_or(LARGEST, |least| unit.up(&least));
    let output = masses.iter().sum::<i128>() + carried;
    let rank_of = |ingredient: usize| small.iter().position(|part| part.ingredient == ingredient);
    let reached = |rank: usize, times: &Q| unit.up(&(times * &small[rank].mass));
    let mut apart = Vec::new();
    let mut reach = vec![0; small.len()];
    for pair in &case.pairs {
        match (rank_of(pair.first), rank_of(pair.second)) {
            (Some(one), Some(other)) => apart.push(Apart {
                one,
                other,
                one_in: reached(one, &pair.times),
                other_in: reached(other, &pair.times),
            }),
            (Some(rank), None) | (None, Some(rank)) if is_asked(case, small[rank].ingredient) => {
                let least = reached(rank, &pair.times);
                // What even all of the pre-blend does not reach is said of the plan, not sought here.
                if least <= output {
                    reach[rank] = reach[rank].max(least);
                }
            }
            _ => {}
        }
    }
    let in_one_step = |mass: &Q| mass.over(&case.order.method.dilutes).unwrap_or_default();
    let total = unit.up(&case.total);
    // Where the pre-blend is the batch there is nothing to spread it on, and so there is only one.
    let spreadable = if preblend.wanted >= case.total {
        LARGEST
    } else {
        unit.up(&in_one_step(&case.total))
    };
    Question {
        masses,
        output,
        early: (first - kept_back).max(0),
        bound: bound(&case.order.method.dilutes),
        apart,
        reach,
        spreadable,
        spread: (total.max(1), output.max(1)),
        grid,
    }
}

/// An answer in any case: where the ratio or what is apart cannot be kept, as much of it as can.
fn settle(question: &Question) -> Answer {
    if let Some(answer) = find(question, EFFORT) {
        return answer;
    }
    // Something cannot be kept: then in one pre-blend, so that what is said of it is one thing.
    let mut eased = Question {
        apart: Vec::new(),
        spreadable: LARGEST,
        ..question.clone()
    };
    let mut answer = find(&eased, LITTLE_EFFORT);
    for _ in 0..LARGEST.ilog2() {
        if answer.is_some() {
            break;
        }
        eased.bound.ratio.0 = (eased.bound.ratio.0 * 3 / 2 + 1).min(LARGEST);
        answer = find(&eased, LITTLE_EFFORT);
    }
    for apart in question.apart.iter().take(MOST_TRIED) {
        eased.apart.push(*apart);
        match find(&eased, LITTLE_EFFORT) {
            Some(better) => answer = Some(better),
            None => {
                eased.apart.pop();
            }
        }
    }
    let mut answer = answer.unwrap_or_else(|| Answer {
        blends: vec![Blend {
            parts: (0..question.masses.len()).map(Mix::Alone).collect(),
            output: question.output,
        }],
        is_proved: false,
    });
    answer.is_proved = false;
    answer
}

/// The fewest steps, proved where there are few small ingredients; else the fewest found.
fn find(question: &Question, effort: u64) -> Option<Answer> {
    let found = greedy::search(question);
    if question.masses.len() > PROVED {
        return found.map(|found| found.answer(false));
    }
    let proved = exhaustive::search(question, found.as_ref(), effort);
    proved.or_else(|| {
        // No step dilutes further than the ratio, so the lightest needs so many at least.
        let found = found?;
        let lightest = question.masses.iter().copied().min()?;
        let need = question.bound.least(question.output);
        let fewest = table::fewest(&question.bound, lightest, need);
        let steps = u32::try_from(found.steps()).ok();
        let is_proved = question.apart.is_empty() && steps == Some(fewest);
        Some(found.answer(is_proved))
    })
}

/// The small ingredients of the case, weighed.
pub(crate) fn small(case: &Case) -> Vec<Part> {
    case.of_class(Class::Small)
        .into_iter()
        .map(|rank| scales::whole(case, rank))
        .collect()
}
