//! Bounds on inclusions: of a ration's own lines, of sums of them, and of each ingredient.

mod few;

use trug_findings::{Finding, Place};

use super::outcome::{End, Side, Verdict, side};
use crate::Q;
use crate::findings::limit::{self, Limited};
use crate::quantity::Range;
use crate::ration::{Limit, Ration};
use crate::view::View;
use few::FewOf;

pub(crate) use few::Inclusions;

/// A limit and how the ration stands to it.
#[derive(Clone, Debug)]
pub(crate) struct LimitJudged {
    pub(crate) what: String,
    pub(crate) range: Range,
    pub(crate) value: Option<Q>,
    pub(crate) low: Option<Side>,
    pub(crate) high: Option<Side>,
    pub(crate) place: Place,
    pub(crate) written: Place,
    /// What is above and below the line.
    pub(crate) sums: (Inclusions, Inclusions),
    /// The range as written, where its lower end counts only if the ingredient is used; and the lines that bring it.
    pub(crate) if_used: Option<(Range, Vec<usize>)>,
}

pub(super) fn judge(ration: &Ration, findings: &mut Vec<Finding>) {
    for line in &ration.lines {
        let Some(within) = &line.within else { continue };
        let told = |value: &Q, end: &Q| Limited {
            what: line.name.to_string(),
            value: within.unit.say_apart(value, end),
            range: within.words(),
            is_open: false,
            written: line.written,
        };
        match (&within.low, &within.high) {
            // Left out, as it may be.
            _ if line.or_none && line.low.is_zero() => {}
            (Some(low), _) if line.low < *low => {
                findings.push(limit::under(line.place, &told(&line.low, low)));
            }
            (_, Some(high)) if line.low > *high => {
                findings.push(limit::over(line.place, &told(&line.low, high)));
            }
            _ => {}
        }
    }
    for judged in own(ration) {
        say(ration, &judged, findings);
    }
}

fn say(ration: &Ration, judged: &LimitJudged, findings: &mut Vec<Finding>) {
    let told = |side: &Side, end: &Option<Q>| Limited {
        what: judged.what.clone(),
        value: side.nearest.as_ref().map_or_else(
            || "out of reach".to_owned(),
            |value| {
                let end = end.clone().unwrap_or_default();
                judged.range.unit.say_apart(value, &end)
            },
        ),
        range: judged.range.words(),
        is_open: !ration.is_fixed(),
        written: judged.written,
    };
    if let Some(side) = judged
        .low
        .as_ref()
        .filter(|side| side.verdict == Verdict::Missed)
    {
        findings.push(limit::under(judged.place, &told(side, &judged.range.low)));
    } else if let Some(side) = judged
        .high
        .as_ref()
        .filter(|side| side.verdict == Verdict::Missed)
    {
        findings.push(limit::over(judged.place, &told(side, &judged.range.high)));
    }
}

/// The ration's `limit` lines.
pub(crate) fn own(ration: &Ration) -> Vec<LimitJudged> {
    if ration.limits.is_empty() {
        return Vec::new();
    }
    let few = FewOf::new(ration);
    ration
        .limits
        .iter()
        .map(|limit| of_limit(&few, limit))
        .collect()
}

fn of_limit(few: &FewOf<'_>, limit: &Limit) -> LimitJudged {
    let above = few.sum(&limit.above);
    let below = match &limit.below {
        Some(below) => few.sum(below),
        None => Inclusions::whole(),
    };
    judged(
        few,
        &limit.words,
        (above, below),
        &limit.range,
        limit.place,
        limit.written,
    )
}

fn judged(
    few: &FewOf<'_>,
    what: &str,
    sums: (Inclusions, Inclusions),
    range: &Range,
    place: Place,
    written: Place,
) -> LimitJudged {
    let (mix, (above, below)) = few.gathered(&sums);
    let end = |end: &Option<Q>, which| {
        end.as_ref()
            .map(|end| side(&mix, &above, &below, end, which))
    };
    LimitJudged {
        what: what.to_owned(),
        value: few.at_middle(&sums.0).over(&few.at_middle(&sums.1)),
        low: end(&range.low, End::AtLeast),
        high: end(&range.high, End::AtMost),
        range: range.clone(),
        place,
        written,
        sums,
        if_used: None,
    }
}

/// The `at most` and `at least` lines of each ingredient, the nearest to the ration's animal.
pub(crate) fn of_ingredients(view: &View<'_>, ration: &Ration) -> Vec<LimitJudged> {
    let mut few: Option<FewOf<'_>> = None;
    let mut limits = Vec::new();
    for inclusion in ration.inclusions() {
        let ingredient = &inclusion.ingredient;
        let bounds = ingredient.limits.iter();
        let bounds = super::doses::nearest(
            view,
            ration,
            bounds.map(|limit| (limit.animal.clone(), limit)),
        );
        if bounds.is_empty() || inclusion.high.is_zero() {
            continue;
        }
        let few = few.get_or_insert_with(|| FewOf::new(ration));
        let sum = few.of_inclusion(&inclusion);
        let place = inclusion
            .lines
            .last()
            .map_or(ration.place, |line| line.place);
        let lines = inclusion.ranks.clone();
        for bound in bounds {
            let mut range = bound.range.clone();
            if inclusion.or_none {
                range.low = None;
            }
            let limit = judged(
                few,
                &ingredient.name,
                (sum.clone(), Inclusions::whole()),
                &range,
                place,
                bound.place,
            );
            let if_used = (bound.range.clone(), lines.clone());
            limits.push(LimitJudged {
                if_used: inclusion.or_none.then_some(if_used),
                ..limit
            });
        }
    }
    limits
}

/// Says which ingredients' own limits a fed ration misses.
pub(super) fn judge_ingredients(view: &View<'_>, ration: &Ration, findings: &mut Vec<Finding>) {
    for judged in of_ingredients(view, ration) {
        say(ration, &judged, findings);
    }
}
