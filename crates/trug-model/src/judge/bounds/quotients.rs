//! What stands above and below the line of a bound, summed over the lines of a ration.

use super::{Asked, Per};
use crate::Q;
use crate::analysis::BoundKind;
use crate::judge::mix::{Mix, Spread};
use crate::view::{Feed, Interval, Quotient};

/// What is above and below the line, in all and in one unit of each line.
pub(super) struct Quotients {
    pub(super) above: Spread,
    pub(super) below: Spread,
    /// Of one kg of each line.
    pub(super) contents: Vec<(Interval, Interval)>,
    /// What one kg counts as.
    scale: Q,
}

impl Quotients {
    /// What is known of one unit of each line.
    pub(super) fn per_line(&self) -> Vec<(Q, Q)> {
        let known = |interval: &Interval| &interval.known * &self.scale;
        let contents = self.contents.iter();
        contents
            .map(|(above, below)| (known(above), known(below)))
            .collect()
    }
}

/// What is above and below the line. None where the ration says not how much is eaten and that is needed.
pub(super) fn quotients(mix: &Mix<'_>, asked: &Asked<'_>, per: &Per) -> Option<Quotients> {
    let is_daily = matches!(per, Per::Day);
    let above = |feed: &Feed| feed.linear(&asked.quotient.above);
    let below = |feed: &Feed| match (per, &asked.quotient.below) {
        (Per::Sum, Some(below)) => feed.linear(below),
        (Per::DryMatter(fraction), _) => feed
            .dry_matter()
            .times(&fraction.inverse().unwrap_or(Q::ONE)),
        (Per::Day, _) => Interval::ZERO,
        _ => Interval::exactly(Q::ONE),
    };
    let is_eaten_beside = !mix.ration.beside.is_empty();
    let counts_beside = is_eaten_beside && (asked.kind == BoundKind::Harm || is_daily);
    let scale = if counts_beside || is_daily {
        mix.ration.intake.as_ref()?.over(&mix.whole)?
    } else {
        Q::ONE
    };
    let lines = mix.ration.lines.iter();
    let contents: Vec<(Interval, Interval)> = lines
        .map(|line| (above(&line.feed), below(&line.feed)))
        .collect();
    let mut quotients = Quotients {
        above: mix.spread_of(contents.iter().map(|(above, _)| above)),
        below: mix.spread_of(contents.iter().map(|(_, below)| below)),
        contents,
        scale,
    };
    if counts_beside || is_daily {
        quotients.above = quotients.above.times(&quotients.scale);
        quotients.below = quotients.below.times(&quotients.scale);
        for beside in &mix.ration.beside {
            let above = above(&beside.feed).times(&beside.amount);
            quotients.above.fixed = quotients.above.fixed.plus(&above);
            let below = below(&beside.feed).times(&beside.amount);
            quotients.below.fixed = quotients.below.fixed.plus(&below);
        }
    }
    if is_daily {
        quotients.below = mix.constant(Interval::exactly(Q::ONE));
    }
    Some(quotients)
}

/// The rank of the only line that can hold any of what is bounded.
pub(super) fn only_source(
    mix: &Mix<'_>,
    quotient: &Quotient,
    contents: &[(Interval, Interval)],
) -> Option<usize> {
    if quotient.below.is_some() || !mix.ration.beside.is_empty() {
        return None;
    }
    let lines = mix.ration.lines.iter().zip(contents).enumerate();
    let mut sources = lines.filter_map(|(rank, (line, (above, _)))| {
        (line.high.is_positive() && *above != Interval::ZERO).then_some(rank)
    });
    let rank = sources.next()?;
    sources.next().is_none().then_some(rank)
}
