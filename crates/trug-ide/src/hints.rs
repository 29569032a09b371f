//! What is worked out, shown behind the lines it belongs to: masses, running sums, totals, cost.

use trug_findings::{FileId, Place, Span};
use trug_model::ration::{Line, Ration};
use trug_model::{AddedTo, Farm, Q, View};
use trug_report::words::{beside, count, mass, money, percent, quantity};
use trug_syntax::tree::{self, AmountForm, ItemBody, RationStatement, Targets};

use crate::cards::meeting;
use crate::parts::touches;

/// So many rations are named behind one target.
const MOST_RATIONS: usize = 2;

/// Something worked out, to be shown behind a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hint {
    /// Behind the last character of the line, before its comment. A blank stands before the hint.
    pub offset: usize,
    /// What is shown.
    pub label: String,
    /// Which kind it is.
    pub kind: HintKind,
    /// More about it.
    pub tooltip: String,
}

/// The kinds of hint; each can be left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HintKind {
    /// What a line weighs in the batch, or which share its mass is.
    Mass,
    /// What the lines up to here add up to.
    Sum,
    /// What the rations hold of what a target bounds.
    Nutrient,
    /// What a kg costs.
    Cost,
}

/// Which kinds of hint are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the kind of that name")]
pub struct HintKinds {
    pub mass: bool,
    pub sum: bool,
    pub nutrient: bool,
    pub cost: bool,
}

impl HintKinds {
    /// All of them.
    pub const ALL: HintKinds = HintKinds {
        mass: true,
        sum: true,
        nutrient: true,
        cost: true,
    };
}

/// The hints behind the lines in a range.
#[must_use]
pub fn hints(farm: &Farm, file: FileId, range: Span, wanted: HintKinds) -> Vec<Hint> {
    if farm.sources().get(file.index()).is_none() || farm.is_table(file) {
        return Vec::new();
    }
    let view = farm.open(file);
    let mut hints = Hints {
        view: &view,
        range,
        wanted,
        hints: Vec::new(),
    };
    for item in &farm.tree(file).items {
        if !touches(item.whole, range) {
            continue;
        }
        match &item.body {
            ItemBody::Ration(ration) => hints.ration(ration, item.header),
            ItemBody::Targets(targets) if wanted.nutrient => hints.targets(targets),
            _ => {}
        }
    }
    hints.hints
}

struct Hints<'a> {
    view: &'a View<'a>,
    range: Span,
    wanted: HintKinds,
    hints: Vec<Hint>,
}

impl Hints<'_> {
    fn push(&mut self, behind: Span, kind: HintKind, label: String, tooltip: String) {
        if touches(behind, self.range) && !label.is_empty() {
            self.hints.push(Hint {
                offset: behind.end as usize,
                label,
                kind,
                tooltip,
            });
        }
    }

    fn ration(&mut self, written: &tree::Ration, header: Span) {
        let Some(made) = self.view.made_out(&written.name.text) else {
            return;
        };
        if !made.is_sound || made.lines.is_empty() {
            return;
        }
        if self.wanted.cost && touches(header, self.range) {
            let (label, tooltip) = cost(self.view, &made);
            self.push(header, HintKind::Cost, label, tooltip);
        }
        if !self.wanted.mass && !self.wanted.sum {
            return;
        }
        let mut sum = (Q::ZERO, Q::ZERO);
        for line in &written.lines {
            let RationStatement::Amount(amount) = &line.statement else {
                continue;
            };
            let is_here = |known: &&Line| {
                known.named.span == amount.name.span && known.named.file == self.view.file()
            };
            let Some(known) = made.lines.iter().find(is_here) else {
                continue;
            };
            if self.wanted.mass {
                let label = worth(&made, known, &amount.form);
                let tooltip = format!("{} in {}", known.name, made.name);
                self.push(line.span, HintKind::Mass, label, tooltip);
            }
            if self.wanted.sum && !known.on_top {
                sum.0 += &known.low;
                sum.1 += &known.high;
                let label = format!("Σ {}", between(&sum.0, &sum.1, &percent));
                self.push(
                    line.span,
                    HintKind::Sum,
                    label,
                    "the lines up to here".to_owned(),
                );
            }
        }
    }

    fn targets(&mut self, targets: &Targets) {
        let meeting = meeting(self.view, &targets.name.text);
        let range = self.range;
        let lines = targets
            .lines
            .iter()
            .filter(|line| touches(line.span, range));
        for line in lines {
            let Some(target) = &line.target else { continue };
            let place = Place::new(self.view.file(), target.bound.span);
            let mut now = Vec::new();
            for ration in &meeting {
                let bounds = self
                    .view
                    .additions_of(ration, &targets.name.text, Some(place));
                now.extend(
                    bounds
                        .iter()
                        .map(|bound| held(&ration.name, bound, meeting.len() > 1)),
                );
            }
            let more = now.len().saturating_sub(MOST_RATIONS);
            let tooltip = now.join("; ");
            now.truncate(MOST_RATIONS);
            if more > 0 {
                now.push(format!("and {more} more"));
            }
            self.push(line.span, HintKind::Nutrient, now.join("; "), tooltip);
        }
    }
}

/// What a ration holds of what is bounded, and whether that is missed.
fn held(ration: &str, bound: &AddedTo, is_named: bool) -> String {
    let unit = &bound.range.unit;
    let value = bound.value.as_ref().map(|value| {
        let ends: Vec<Q> = [&bound.range.low, &bound.range.high]
            .into_iter()
            .flatten()
            .map(|end| unit.of(end))
            .collect();
        let ends: Vec<&Q> = ends.iter().collect();
        quantity(&beside(&unit.of(value), &ends), &unit.text)
    });
    let value = value.unwrap_or_else(|| "unknown".to_owned());
    let stands = match bound.met {
        Some(true) => "",
        Some(false) => ", missed",
        None => " known, undecided",
    };
    if is_named {
        format!("{ration} {value}{stands}")
    } else {
        format!("{value}{stands}")
    }
}

fn between(low: &Q, high: &Q, say: &dyn Fn(&Q) -> String) -> String {
    if low == high {
        say(low)
    } else {
        format!("{} .. {}", say(low), say(high))
    }
}

/// What the written amount does not say: the mass of a share, the share of a mass, both of a rest.
fn worth(ration: &Ration, line: &Line, form: &AmountForm) -> String {
    let share = between(&line.low, &line.high, &percent);
    let in_batch = ration.batch.as_ref().map(|batch| {
        between(&line.low, &line.high, &|share: &Q| {
            mass(&(share * batch * Q::int(1000)))
        })
    });
    let says_mass = matches!(form, AmountForm::Fixed(_)) && !line.is_share;
    match (form, in_batch) {
        (AmountForm::Fixed(_), Some(mass)) if line.is_by_measure => format!("{mass}, {share}"),
        (AmountForm::Fixed(_), _) if says_mass => share,
        (AmountForm::Fixed(_) | AmountForm::Open(_), Some(mass)) => mass,
        (AmountForm::Fixed(_) | AmountForm::Open(_), None) => String::new(),
        (_, Some(mass)) => format!("{mass}, {share}"),
        (_, None) => share,
    }
}

/// What a kg costs, and the batch.
pub(crate) fn cost(view: &View<'_>, ration: &Ration) -> (String, String) {
    let Some(cost) = view.cost(ration) else {
        return (String::new(), String::new());
    };
    let unknown = cost.lines.iter().filter(|line| !line.complete).count();
    let about = if unknown > 0 { "at least " } else { "" };
    let label = format!("{about}{} a kg", money(&cost.per_kg, &cost.currency));
    let mut tooltip = match unknown {
        0 => "every ingredient has a price".to_owned(),
        unknown => format!("no price for {}", count(unknown, "line", "lines")),
    };
    if let Some(batch) = &ration.batch {
        let whole = batch * &(Q::ONE + ration.tops());
        let all = money(&(&cost.per_kg * &whole), &cost.currency);
        tooltip = format!("{about}{all} the batch; {tooltip}");
    }
    (label, tooltip)
}
