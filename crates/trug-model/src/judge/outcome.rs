//! How a ration stands to one side of one bound.

use smol_str::SmolStr;

use super::mix::{Mix, Spread};
use crate::Q;
use crate::view::Interval;

/// Met, missed, or undecided for want of data.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    Met,
    Missed,
    Undecided,
}

/// One side of a bound: what is above and below the line of a quotient, and the end it must keep.
#[derive(Clone, Debug)]
pub(crate) struct Side {
    pub(crate) verdict: Verdict,
    /// The value that comes nearest to keeping the bound, of what is known.
    pub(crate) nearest: Option<Q>,
    /// The lines whose unknown contents matter most, where it is undecided.
    pub(crate) blame: Vec<SmolStr>,
    /// How probably it is kept, where any analysis has a scatter.
    pub(crate) probability: Option<f64>,
}

/// Which end of a bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    AtLeast,
    AtMost,
}

/// Judges `above ÷ below` against `end`: as `above − end × below`, which is a sum over the lines.
pub(crate) fn side(mix: &Mix<'_>, above: &Spread, below: &Spread, end: &Q, which: End) -> Side {
    if above.is_exact() && below.is_exact() {
        return exact_side(mix, above, below, end, which);
    }
    let spare = above.plus(&below.times(&-end));
    let spare = match which {
        End::AtLeast => spare,
        End::AtMost => spare.times(&Q::int(-1)),
    };
    let of_lines = |weight: &dyn Fn(&Interval) -> Option<Q>| -> Vec<Option<Q>> {
        spare.lines.iter().map(weight).collect()
    };
    let known = of_lines(&|line| Some(line.known.clone()));
    let nearest = mix.fill(&known);
    let most = of_lines(&|line| line.high.clone());
    let at_most = mix.fill(&most);
    let best = mix.total(&most, spare.fixed.high.as_ref(), &at_most);
    let least = of_lines(&|line| Some(line.low.clone()));
    let at_least = mix.fill(&least);
    let worst = mix.total(&least, Some(&spare.fixed.low), &at_least);
    let verdict = if best.is_some_and(|best| best.is_negative()) {
        Verdict::Missed
    } else if worst.is_some_and(|worst| !worst.is_negative()) {
        Verdict::Met
    } else {
        Verdict::Undecided
    };
    let value = mix.known(above, &nearest).over(&mix.known(below, &nearest));
    Side {
        verdict,
        nearest: value,
        blame: if verdict == Verdict::Undecided {
            blame(mix, &spare)
        } else {
            Vec::new()
        },
        probability: probability(
            &mix.known(&spare, &nearest),
            &mix.variance(&spare, &nearest),
        ),
    }
}

/// The same where nothing is unknown and nothing scatters, the usual case.
fn exact_side(mix: &Mix<'_>, above: &Spread, below: &Spread, end: &Q, which: End) -> Side {
    let spare = |above: &Interval, below: &Interval| {
        let over = &above.known - end * &below.known;
        match which {
            End::AtLeast => over,
            End::AtMost => -over,
        }
    };
    let lines = above.lines.iter().zip(&below.lines);
    let weights: Vec<Option<Q>> = lines
        .map(|(above, below)| Some(spare(above, below)))
        .collect();
    let nearest = mix.fill(&weights);
    let fixed = spare(&above.fixed, &below.fixed);
    let best = mix.total(&weights, Some(&fixed), &nearest);
    Side {
        verdict: if best.is_none_or(|best| best.is_negative()) {
            Verdict::Missed
        } else {
            Verdict::Met
        },
        nearest: mix.known(above, &nearest).over(&mix.known(below, &nearest)),
        blame: Vec::new(),
        probability: None,
    }
}

/// The chance that a normal quantity of that mean and variance is not below zero.
fn probability(mean: &Q, variance: &Q) -> Option<f64> {
    if variance.is_zero() {
        return None;
    }
    let z = mean.to_f64() / variance.to_f64().sqrt();
    // Rounded, so that the last bits of a float never show.
    let chance = 0.5 * libm::erfc(-z / std::f64::consts::SQRT_2);
    Some((chance * 1e6).round() / 1e6)
}

/// The lines whose contents are unknown, the one that could change most first.
fn blame(mix: &Mix<'_>, spare: &Spread) -> Vec<SmolStr> {
    let width = |line: &Interval| line.high.as_ref().map(|high| high - &line.low);
    let mut unknown: Vec<(Option<Q>, usize)> = Vec::new();
    for (rank, line) in spare.lines.iter().enumerate() {
        let share = &mix.ranges[rank].1;
        if !line.is_complete && share.is_positive() {
            unknown.push((width(line).map(|width| width * share), rank));
        }
    }
    unknown.sort_by(|a, b| match (&a.0, &b.0) {
        (None, None) => a.1.cmp(&b.1),
        (None, Some(_)) => std::cmp::Ordering::Less,
        (Some(_), None) => std::cmp::Ordering::Greater,
        (Some(first), Some(second)) => second.cmp(first).then(a.1.cmp(&b.1)),
    });
    let mut names: Vec<SmolStr> = Vec::new();
    for (_, rank) in unknown {
        let name = &mix.ration.lines[rank].name;
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
    if names.is_empty() && !spare.fixed.is_complete {
        names.extend(mix.ration.beside.iter().map(|beside| beside.name.clone()));
        let tops = mix.ration.lines.iter().filter(|line| line.on_top);
        names.extend(tops.map(|line| line.name.clone()));
    }
    names
}
