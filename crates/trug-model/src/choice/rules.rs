//! Every bound on a choice, one entry a side, in the order of the texts.

use smol_str::SmolStr;
use trug_findings::Place;

use super::ratio::{ChoiceSum, Count, Ratio};
use super::{ChoiceBound, ChoiceEnd, OpenShare, Rule};
use crate::Q;
use crate::analysis::BoundKind;
use crate::judge::{self, Bounded, DoseJudged, Mix, Spread, limits};
use crate::quantity::{Range, Shown};
use crate::ration::Ration;
use crate::view::{Ingredient, Interval, View};

/// A window on one value: its ends become a bound each.
struct Window<'a> {
    rule: Rule,
    what: String,
    range: &'a Range,
    basis: String,
    place: Place,
    /// Shares that all may be left out: the lower end counts only where one is used.
    if_used: Vec<usize>,
}

/// Every bound on what can be chosen.
pub(super) fn all(view: &View<'_>, mix: &Mix<'_>, shares: &[OpenShare]) -> Vec<ChoiceBound> {
    let ration = mix.ration;
    let mut rules = Rules {
        mix,
        shares,
        bounds: Vec::new(),
    };
    rules.ranges();
    for limit in limits::own(ration) {
        rules.limit(&limit);
    }
    if !ration.for_mixing {
        for limit in limits::of_ingredients(view, ration) {
            rules.limit(&limit);
        }
        for dose in judge::doses(view, ration) {
            rules.dose(view, &dose);
        }
        for bounded in judge::rows(view, ration) {
            rules.bounded(&bounded);
        }
        if let Some(animal) = &ration.animal {
            rules.never_for(view, animal);
        }
    }
    let mut bounds = rules.bounds;
    bounds.sort_by_key(|bound| (bound.place.file, bound.place.span.start, bound.end));
    bounds
}

/// Ingredients that a certainty counts as exact: they hold something of what targets bound, and no scatter is given of any of it.
pub(super) fn counted_as_exact(view: &View<'_>, ration: &Ration) -> Vec<SmolStr> {
    if ration.certainty.is_none() {
        return Vec::new();
    }
    let mut holds = vec![false; ration.lines.len()];
    let mut scatters = vec![false; ration.lines.len()];
    for bounded in judge::rows(view, ration) {
        let (BoundKind::Target, Some((above, _))) = (bounded.kind, &bounded.spreads) else {
            continue;
        };
        for (rank, interval) in above.lines.iter().enumerate() {
            holds[rank] |= interval.known.is_positive();
            scatters[rank] |= interval.variance.is_positive();
        }
    }
    let mut names: Vec<SmolStr> = Vec::new();
    for ((line, holds), scatters) in ration.lines.iter().zip(holds).zip(scatters) {
        if holds && !scatters && !names.contains(&line.name) {
            names.push(line.name.clone());
        }
    }
    names
}

/// One-sided quantile of the normal distribution, in decimals that end.
fn quantile(certainty: &Q) -> Option<Q> {
    let wanted = certainty.to_f64();
    let below = |z: f64| 0.5 * libm::erfc(-z / std::f64::consts::SQRT_2);
    let (mut low, mut high) = (0.0_f64, 40.0_f64);
    // Bisection: erfc rises steadily, and 200 halvings pass the last bit of a float.
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if below(middle) < wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    // Rounded up: never less certain than was asked for.
    Q::decimal(&format!("{:.12}", high + 5e-13))
}

struct Rules<'a, 'ration> {
    mix: &'a Mix<'ration>,
    shares: &'a [OpenShare],
    bounds: Vec<ChoiceBound>,
}

impl Rules<'_, '_> {
    /// The ranges of the lines themselves.
    fn ranges(&mut self) {
        for (rank, share) in self.shares.iter().enumerate() {
            let line = &self.mix.ration.lines[share.line];
            let Some(range) = line.chosen_within().cloned() else {
                continue;
            };
            let mut spread = self.mix.constant(Interval::ZERO);
            spread.lines[share.line] = Interval::exactly(Q::ONE);
            let window = Window {
                rule: Rule::Range,
                what: share.name.to_string(),
                range: &range,
                basis: "as fed".to_owned(),
                place: share.written,
                if_used: if share.or_none {
                    vec![rank]
                } else {
                    Vec::new()
                },
            };
            let ratio = Ratio::plain(self.sum(&spread, Count::Known));
            self.window(&window, &ratio, &ratio.clone(), None);
        }
    }

    fn limit(&mut self, limit: &limits::LimitJudged) {
        let (above, below) = &limit.sums;
        let (above, below) = (above.spread(self.mix), below.spread(self.mix));
        let (range, lines) = match &limit.if_used {
            Some((range, lines)) => (range, lines.as_slice()),
            None => (&limit.range, [].as_slice()),
        };
        let ratio = Ratio {
            above: self.sum(&above, Count::Known),
            below: self.sum(&below, Count::Known),
        };
        let window = Window {
            rule: Rule::Limit,
            what: limit.what.clone(),
            range,
            basis: "as fed".to_owned(),
            place: limit.written,
            if_used: self.where_left_out(lines),
        };
        self.window(&window, &ratio, &ratio.clone(), None);
    }

    fn dose(&mut self, view: &View<'_>, dose: &DoseJudged) {
        let mut spread = self.mix.constant(Interval::ZERO);
        for (rank, adds) in self.of_dose(view, dose).into_iter().enumerate() {
            if self.mix.ration.lines[rank].on_top {
                spread.fixed = spread
                    .fixed
                    .plus(&adds.times(&self.mix.ration.lines[rank].low));
            } else {
                spread.lines[rank] = adds;
            }
        }
        let what = dose.active.as_ref().map_or_else(
            || dose.ingredient.to_string(),
            |active| format!("{active} from {}", dose.ingredient),
        );
        let known = Ratio::plain(self.sum(&spread, Count::Known));
        if let (Some(range), true) = (&dose.range, dose.content.is_some()) {
            let window = Window {
                rule: Rule::Dose,
                what: what.clone(),
                range,
                basis: "as fed".to_owned(),
                place: dose.place,
                if_used: self.where_left_out(&dose.lines),
            };
            self.window(&window, &known, &known, None);
        }
        if let Some((ceiling, _, place)) = &dose.ceiling {
            let counted = Ratio::plain(self.sum(&spread, Count::Most));
            self.bounds.push(ChoiceBound {
                rule: Rule::Ceiling,
                what,
                end: ChoiceEnd::AtMost,
                limit: ceiling.clone(),
                unit: dose.unit.clone(),
                basis: "as fed".to_owned(),
                counted,
                known,
                if_used: None,
                is_echo: false,
                reliance: None,
                place: *place,
            });
        }
    }

    /// What one of each line adds of what is dosed.
    fn of_dose(&self, view: &View<'_>, dose: &DoseJudged) -> Vec<Interval> {
        let adds = |line: &crate::ration::Line| {
            let mut sum = Interval::ZERO;
            for leaf in line.feed.leaves() {
                if leaf.ingredient.name == dose.ingredient {
                    let content = judge::content_of(view, &leaf.ingredient, &dose.active);
                    // Its scatter is not what a choice is made by.
                    let content = match content.is_complete {
                        true => Interval::exactly(content.known),
                        false => content,
                    };
                    sum = sum.plus(&content.times(&leaf.fraction));
                }
            }
            sum
        };
        self.mix.ration.lines.iter().map(adds).collect()
    }

    /// Which fraction of each line an ingredient is.
    fn of_product(&self, name: &str) -> Vec<Q> {
        let fraction = |line: &crate::ration::Line| {
            let leaves = line.feed.leaves();
            let of_name = leaves.iter().filter(|leaf| leaf.ingredient.name == name);
            of_name.map(|leaf| &leaf.fraction).sum()
        };
        self.mix.ration.lines.iter().map(fraction).collect()
    }

    /// The shares of these lines, where each of them may be left out; else none.
    fn where_left_out(&self, lines: &[usize]) -> Vec<usize> {
        let share = |line: &usize| {
            let rank = self.shares.iter().position(|share| share.line == *line)?;
            self.shares[rank].or_none.then_some(rank)
        };
        let shares: Option<Vec<usize>> = lines.iter().map(share).collect();
        shares.unwrap_or_default()
    }

    /// Targets, law and harm.
    fn bounded(&mut self, bounded: &Bounded) {
        let Some((above, below)) = &bounded.spreads else {
            return;
        };
        let rule = match bounded.kind {
            BoundKind::Target => Rule::Target,
            BoundKind::Law => Rule::Law,
            BoundKind::Harm => Rule::Harm,
            BoundKind::Limit => Rule::Limit,
        };
        let known = Ratio {
            above: self.sum(above, Count::Known),
            below: self.sum(below, Count::Known),
        };
        // What can harm is counted at its worst: as much as there can be, in as little as there can be.
        let worst = match rule {
            Rule::Law | Rule::Harm => Some(Ratio {
                above: self.sum(above, Count::Most),
                below: self.sum(below, Count::Least),
            }),
            _ => None,
        };
        let certainty = self.mix.ration.certainty.as_ref();
        let certainty = certainty.filter(|_| rule == Rule::Target);
        let reliance = certainty.and_then(quantile);
        let window = Window {
            rule,
            what: bounded.what.clone(),
            range: &bounded.range,
            basis: bounded.basis.clone(),
            place: bounded.written,
            if_used: Vec::new(),
        };
        let at_most = worst.unwrap_or_else(|| known.clone());
        self.ends(&window, &known, &at_most, &known, reliance.as_ref());
    }

    fn never_for(&mut self, view: &View<'_>, animal: &str) {
        let inclusions = self.mix.ration.inclusions();
        let products: Vec<std::sync::Arc<Ingredient>> = inclusions
            .into_iter()
            .map(|inclusion| inclusion.ingredient)
            .collect();
        for product in products {
            for never in &product.never_for {
                if view.steps_up(animal, &never.other).is_none() {
                    continue;
                }
                let mut spread = self.mix.constant(Interval::ZERO);
                for (rank, fraction) in self.of_product(&product.name).into_iter().enumerate() {
                    let is_open = self.shares.iter().any(|share| share.line == rank);
                    if is_open {
                        spread.lines[rank] = Interval::exactly(fraction);
                    }
                }
                let ratio = Ratio::plain(self.sum(&spread, Count::Known));
                if ratio.above.weights.iter().all(Q::is_zero) {
                    continue;
                }
                self.bounds.push(ChoiceBound {
                    rule: Rule::Never,
                    what: format!("{} never for {}", product.name, never.other),
                    end: ChoiceEnd::AtMost,
                    limit: Q::ZERO,
                    unit: Shown::new("%", Q::ratio(1, 100)),
                    basis: "as fed".to_owned(),
                    counted: ratio.clone(),
                    known: ratio,
                    if_used: None,
                    is_echo: false,
                    reliance: None,
                    place: never.place,
                });
            }
        }
    }

    fn sum(&self, spread: &Spread, count: Count) -> ChoiceSum {
        ChoiceSum::of(self.mix, self.shares, spread, count)
    }

    /// Both ends of a window on one value.
    fn window(
        &mut self,
        window: &Window<'_>,
        counted: &Ratio,
        known: &Ratio,
        reliance: Option<&Q>,
    ) {
        self.ends(window, counted, counted, known, reliance);
    }

    fn ends(
        &mut self,
        window: &Window<'_>,
        at_least: &Ratio,
        at_most: &Ratio,
        known: &Ratio,
        reliance: Option<&Q>,
    ) {
        let bound = |end: ChoiceEnd, limit: &Q, counted: &Ratio| ChoiceBound {
            rule: window.rule,
            what: window.what.clone(),
            end,
            limit: limit.clone(),
            unit: window.range.unit.clone(),
            basis: window.basis.clone(),
            counted: counted.clone(),
            known: known.clone(),
            if_used: None,
            is_echo: false,
            reliance: reliance.cloned(),
            place: window.place,
        };
        if let Some(low) = &window.range.low {
            let side = bound(ChoiceEnd::AtLeast, low, at_least);
            if window.if_used.is_empty() {
                self.bounds.push(side.clone());
            }
            for (rank, share) in window.if_used.iter().enumerate() {
                self.bounds.push(ChoiceBound {
                    if_used: Some(*share),
                    is_echo: rank > 0,
                    ..side.clone()
                });
            }
        }
        if let Some(high) = &window.range.high {
            self.bounds.push(bound(ChoiceEnd::AtMost, high, at_most));
        }
    }
}
