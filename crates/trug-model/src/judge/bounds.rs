//! Every bound on what a ration holds: targets, law, harm.

mod quotients;

use smol_str::SmolStr;
use trug_findings::Place;
use trug_syntax::tree::{ItemBody, Strength};

use super::mix::{Asks, Mix, Spread};
use super::outcome::{End, Side, Verdict, side};
use crate::Q;
use crate::analysis::BoundKind;
use crate::farm::Namespace;
use crate::quantity::{Basis, Range};
use crate::ration::Ration;
use crate::view::{Quotient, View};
use quotients::{Quotients, only_source, quotients};

/// A bound and how the ration stands to it.
#[derive(Clone, Debug)]
pub(crate) struct Bounded {
    pub(crate) kind: BoundKind,
    /// What is bounded, as written.
    pub(crate) what: String,
    /// Whose bound it is: the targets' or the animal's name.
    pub(crate) whose: SmolStr,
    pub(crate) range: Range,
    /// What the value is per, in words.
    pub(crate) basis: String,
    /// The value of what is known, in base units; of open amounts, at the middle of their ranges.
    pub(crate) value: Option<Q>,
    pub(crate) low: Option<Side>,
    pub(crate) high: Option<Side>,
    pub(crate) reason: Option<String>,
    /// Where the bound is written.
    pub(crate) written: Place,
    /// How fast the value rises with the inclusion of each line, at what is written.
    pub(crate) rises: Vec<Q>,
    /// What each line adds to the value; empty where that is a ratio.
    pub(crate) adds: Vec<Q>,
    /// Square of one standard deviation of the value, from the scatter of the analyses.
    pub(crate) variance: Q,
    /// The only line that supplies what is bounded.
    pub(crate) only_source: Option<usize>,
    /// It could not be judged at all, and why.
    pub(crate) wanting: Option<Wanting>,
    /// A bound of law or harm counted as fed, since these have no dry matter.
    pub(crate) counted_as_fed: Vec<SmolStr>,
    /// What is above and below the line, over every line of the ration; none where it could not be judged.
    pub(crate) spreads: Option<(Spread, Spread)>,
}

/// Why a bound could not be judged.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Wanting {
    /// The ration says not how much is eaten.
    Intake,
    /// The dry matter of these is unknown.
    DryMatter(Vec<SmolStr>),
}

impl Bounded {
    /// Kept, missed, or undecided.
    pub(crate) fn met(&self) -> Option<bool> {
        if self.wanting.is_some() {
            return None;
        }
        let mut met = Some(true);
        for side in [&self.low, &self.high].into_iter().flatten() {
            match side.verdict {
                Verdict::Missed => return Some(false),
                Verdict::Undecided => met = None,
                Verdict::Met => {}
            }
        }
        met
    }

    /// How probably it is kept. The two ends exclude each other, so what is lost at each adds up.
    pub(crate) fn probability(&self) -> Option<f64> {
        let sides = [&self.low, &self.high].into_iter().flatten();
        let mut lost = None;
        for chance in sides.filter_map(|side| side.probability) {
            lost = Some(lost.unwrap_or(0.0) + (1.0 - chance));
        }
        lost.map(|lost| ((1.0 - lost).max(0.0) * 1e6).round() / 1e6)
    }
}

/// All bounds on what the ration holds: its targets, then law and harm of its animal and its kinds.
pub(crate) fn all(view: &View<'_>, ration: &Ration) -> Vec<Bounded> {
    of_mix(view, &Mix::of(ration))
}

/// What each line adds to what is bounded, and nothing of how the ration stands to it.
pub(crate) fn rows(view: &View<'_>, ration: &Ration) -> Vec<Bounded> {
    of_mix(view, &Mix::of(ration).asking(Asks::Rows))
}

/// How a ration stands to each bound, and nothing of what its lines add to it.
pub(super) fn verdicts(view: &View<'_>, ration: &Ration) -> Vec<Bounded> {
    of_mix(view, &Mix::of(ration).asking(Asks::Verdicts))
}

fn of_mix(view: &View<'_>, mix: &Mix<'_>) -> Vec<Bounded> {
    let ration = mix.ration;
    let mut bounds = Vec::new();
    for (targets, _) in &ration.meets {
        bounds.extend(of_targets(view, mix, targets, &|_| true));
    }
    if let Some(animal) = &ration.animal {
        bounds.extend(of_animal(view, mix, animal));
    }
    bounds
}

/// The bounds of some targets on a ration, those alone whose place is wanted.
pub(crate) fn of_targets(
    view: &View<'_>,
    mix: &Mix<'_>,
    name: &SmolStr,
    is_wanted: &dyn Fn(Place) -> bool,
) -> Vec<Bounded> {
    let mut bounds = Vec::new();
    for (item_ref, item) in view.items(Namespace::Targets, name) {
        let ItemBody::Targets(targets) = &item.body else {
            continue;
        };
        if item.has_unread_line {
            return Vec::new();
        }
        for line in &targets.lines {
            let Some(target) = &line.target else { continue };
            let written = Place::new(item_ref.file, target.bound.span);
            if !is_wanted(written) {
                continue;
            }
            let silent = &mut Vec::new();
            let quotient = view.quotient(&target.of, item_ref.file, silent);
            let Some(quotient) = quotient else { continue };
            let range = view.bound_of(&quotient, &target.bound, item_ref.file, silent);
            let Some(range) = range else { continue };
            let asked = Asked {
                kind: BoundKind::Target,
                whose: name,
                quotient: &quotient,
                range: &range,
                reason: None,
                written,
            };
            bounds.push(judge(mix, &asked));
        }
    }
    bounds
}

pub(super) fn of_animal(view: &View<'_>, mix: &Mix<'_>, animal: &str) -> Vec<Bounded> {
    let mut bounds = Vec::new();
    for kind in view.kinds_of(animal) {
        for bound in &kind.bounds {
            let asked = Asked {
                kind: match bound.strength {
                    Strength::Law => BoundKind::Law,
                    Strength::Harm => BoundKind::Harm,
                },
                whose: &kind.name,
                quotient: &bound.of,
                range: &bound.range,
                reason: bound.reason.as_deref(),
                written: bound.place,
            };
            bounds.push(judge(mix, &asked));
        }
    }
    bounds
}

struct Asked<'a> {
    kind: BoundKind,
    whose: &'a SmolStr,
    quotient: &'a Quotient,
    range: &'a Range,
    reason: Option<&'a str>,
    written: Place,
}

/// What a value is per.
enum Per {
    Mass,
    DryMatter(Q),
    Day,
    Sum,
}

fn judge(mix: &Mix<'_>, asked: &Asked<'_>) -> Bounded {
    let mut bounded = Bounded {
        kind: asked.kind,
        what: asked.quotient.words.clone(),
        whose: asked.whose.clone(),
        range: asked.range.clone(),
        basis: String::new(),
        value: None,
        low: None,
        high: None,
        reason: asked.reason.map(str::to_owned),
        written: asked.written,
        rises: Vec::new(),
        adds: Vec::new(),
        variance: Q::ZERO,
        only_source: None,
        wanting: None,
        counted_as_fed: Vec::new(),
        spreads: None,
    };
    let per = per(mix, asked, &mut bounded);
    if bounded.wanting.is_some() {
        return bounded;
    }
    let Some(quotients) = quotients(mix, asked, &per) else {
        bounded.wanting = Some(Wanting::Intake);
        return bounded;
    };
    if mix.asks != Asks::Rows {
        stand(mix, asked, &quotients, &mut bounded);
    }
    if mix.asks == Asks::Everything {
        add_up(mix, &quotients, !matches!(per, Per::Sum), &mut bounded);
    }
    bounded.spreads = Some((quotients.above, quotients.below));
    bounded
}

/// How the ration stands to both ends.
fn stand(mix: &Mix<'_>, asked: &Asked<'_>, quotients: &Quotients, bounded: &mut Bounded) {
    let (above, below) = (&quotients.above, &quotients.below);
    let end = |end: &Option<Q>, which| end.as_ref().map(|end| side(mix, above, below, end, which));
    bounded.low = end(&asked.range.low, End::AtLeast);
    bounded.high = end(&asked.range.high, End::AtMost);
    bounded.only_source = only_source(mix, asked.quotient, &quotients.contents);
}

/// The value, and what each line adds to it.
fn add_up(mix: &Mix<'_>, quotients: &Quotients, is_sum: bool, bounded: &mut Bounded) {
    let (above, below) = (&quotients.above, &quotients.below);
    let middle = mix.middle();
    let whole = mix.known(below, &middle);
    bounded.value = mix.known(above, &middle).over(&whole);
    let per_line = quotients.per_line();
    if is_sum {
        bounded.adds = adds(mix, &per_line, &middle, &whole);
    }
    if let Some(value) = &bounded.value {
        let rise =
            |(above, below): (Q, Q)| (above - value * below).over(&whole).unwrap_or_default();
        bounded.rises = per_line.into_iter().map(rise).collect();
        let spare = above.plus(&below.times(&-value));
        let variance = mix.variance(&spare, &middle);
        bounded.variance = variance.over(&(&whole * &whole)).unwrap_or_default();
    }
}

/// What each line adds to a value that is a sum over all of them.
fn adds(mix: &Mix<'_>, per_line: &[(Q, Q)], shares: &[Q], whole: &Q) -> Vec<Q> {
    let lines = mix.ration.lines.iter().zip(per_line).zip(shares);
    let add = |((line, (above, _)), share): ((&crate::ration::Line, &(Q, Q)), &Q)| {
        let share = if line.on_top { &line.low } else { share };
        (above * share).over(whole).unwrap_or_default()
    };
    lines.map(add).collect()
}

/// What the bound's value is per. Law and harm count at 88 % dry matter unless the line says otherwise.
fn per(mix: &Mix<'_>, asked: &Asked<'_>, bounded: &mut Bounded) -> Per {
    if asked.quotient.below.is_some() {
        "ratio".clone_into(&mut bounded.basis);
        return Per::Sum;
    }
    if asked.range.dimension != asked.quotient.dimension {
        "per day".clone_into(&mut bounded.basis);
        return Per::Day;
    }
    let is_usual = asked.range.basis.is_none() && asked.kind != BoundKind::Target;
    let basis = match &asked.range.basis {
        Some(basis) => basis.clone(),
        None if is_usual => Basis::AtDryMatter(Q::ratio(88, 100)),
        None => Basis::AsFed,
    };
    let fraction = match &basis {
        Basis::AsFed => None,
        Basis::OfDryMatter => Some(Q::ONE),
        Basis::AtDryMatter(fraction) => Some(fraction.clone()),
    };
    bounded.basis = basis.words();
    let Some(fraction) = fraction else {
        return Per::Mass;
    };
    let unknown = without_dry_matter(mix);
    if unknown.is_empty() {
        return Per::DryMatter(fraction);
    }
    if asked.kind == BoundKind::Target {
        bounded.wanting = Some(Wanting::DryMatter(unknown));
    } else {
        bounded.basis = Basis::AsFed.words();
        bounded.counted_as_fed = unknown;
    }
    Per::Mass
}

fn without_dry_matter(mix: &Mix<'_>) -> Vec<SmolStr> {
    let lines = mix
        .ration
        .lines
        .iter()
        .filter(|line| line.high.is_positive());
    let mut names: Vec<SmolStr> = Vec::new();
    for line in lines {
        if !line.feed.dry_matter().is_complete && !names.contains(&line.name) {
            names.push(line.name.clone());
        }
    }
    names
}
