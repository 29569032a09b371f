//! The lines of any item, alike.

use trug_findings::Span;
use trug_model::Namespace;
use trug_syntax::tree::{
    Accept, AmountForm, AnimalLine, AnimalStatement, Clauses, GroupLine, GroupStatement,
    IngredientLine, IngredientStatement, ItemBody, LotLine, LotStatement, MethodLine, MethodRule,
    RationLine, RationStatement, RecordLine, RecordStatement, TargetLine,
};

use super::{Part, expression};

/// A line of an item.
#[derive(Clone, Copy, Debug)]
pub(crate) enum LineRef<'t> {
    Animal(&'t AnimalLine),
    Ingredient(&'t IngredientLine),
    Lot(&'t LotLine),
    Target(&'t TargetLine),
    Ration(&'t RationLine),
    Method(&'t MethodLine),
    Group(&'t GroupLine),
    Record(&'t RecordLine),
}

/// The lines of an item in the order of the text.
pub(crate) fn lines(body: &ItemBody) -> Vec<LineRef<'_>> {
    match body {
        ItemBody::Animal(item) => item.lines.iter().map(LineRef::Animal).collect(),
        ItemBody::Ingredient(item) => item.lines.iter().map(LineRef::Ingredient).collect(),
        ItemBody::Lot(item) => item.lines.iter().map(LineRef::Lot).collect(),
        ItemBody::Targets(item) => item.lines.iter().map(LineRef::Target).collect(),
        ItemBody::Ration(item) => item.lines.iter().map(LineRef::Ration).collect(),
        ItemBody::Method(item) => item.lines.iter().map(LineRef::Method).collect(),
        ItemBody::Group(item) => item.lines.iter().map(LineRef::Group).collect(),
        ItemBody::Record(item) => item.lines.iter().map(LineRef::Record).collect(),
        _ => Vec::new(),
    }
}

impl<'t> LineRef<'t> {
    pub(crate) fn span(self) -> Span {
        match self {
            LineRef::Animal(line) => line.span,
            LineRef::Ingredient(line) => line.span,
            LineRef::Lot(line) => line.span,
            LineRef::Target(line) => line.span,
            LineRef::Ration(line) => line.span,
            LineRef::Method(line) => line.span,
            LineRef::Group(line) => line.span,
            LineRef::Record(line) => line.span,
        }
    }

    /// What it accepts, at its end or as a line of its own.
    pub(crate) fn accept(self) -> Option<&'t Accept> {
        match self {
            LineRef::Animal(line) => match &line.statement {
                AnimalStatement::Accept(accept) => Some(accept),
                _ => line.accept.as_ref(),
            },
            LineRef::Ingredient(line) => match &line.statement {
                IngredientStatement::Accept(accept) => Some(accept),
                _ => line.accept.as_ref(),
            },
            LineRef::Lot(line) => match &line.statement {
                LotStatement::Accept(accept) => Some(accept),
                _ => line.accept.as_ref(),
            },
            LineRef::Target(line) => line.accept.as_ref(),
            LineRef::Ration(line) => match &line.statement {
                RationStatement::Accept(accept) => Some(accept),
                RationStatement::Amount(amount) => amount.clauses.accept.as_ref(),
                _ => line.accept.as_ref(),
            },
            LineRef::Method(line) => match &line.rule {
                Some(MethodRule::Accept(accept)) => Some(accept),
                _ => line.accept.as_ref(),
            },
            LineRef::Group(line) => match &line.statement {
                Some(GroupStatement::Accept(accept)) => Some(accept),
                _ => line.accept.as_ref(),
            },
            LineRef::Record(line) => match &line.statement {
                Some(RecordStatement::Accept(accept)) => Some(accept),
                _ => line.accept.as_ref(),
            },
        }
    }

    /// Its parts in the order of the text.
    pub(crate) fn parts(self) -> Vec<Part<'t>> {
        let mut parts = Vec::new();
        match self {
            LineRef::Animal(line) => animal(&line.statement, &mut parts),
            LineRef::Ingredient(line) => ingredient(&line.statement, &mut parts),
            LineRef::Lot(line) => lot(&line.statement, &mut parts),
            LineRef::Target(line) => {
                if let Some(target) = &line.target {
                    expression(Namespace::Nutrient, &target.of, &mut parts);
                    parts.push(Part::Bound(&target.bound));
                }
            }
            LineRef::Ration(line) => ration(&line.statement, &mut parts),
            LineRef::Method(line) => method(line, &mut parts),
            LineRef::Group(line) => group(line, &mut parts),
            LineRef::Record(line) => record(line, &mut parts),
        }
        parts.extend(self.accept().map(Part::Accept));
        parts.sort_by_key(Part::span);
        parts
    }
}

fn animal<'t>(statement: &'t AnimalStatement, parts: &mut Vec<Part<'t>>) {
    match statement {
        AnimalStatement::Gives(product) => parts.push(Part::Plain(product)),
        AnimalStatement::Bound {
            of, bound, reason, ..
        } => {
            expression(Namespace::Nutrient, of, parts);
            parts.push(Part::Bound(bound));
            parts.extend(reason.iter().map(Part::Text));
        }
        AnimalStatement::Accept(_) | AnimalStatement::Unread => {}
    }
}

fn ingredient<'t>(statement: &'t IngredientStatement, parts: &mut Vec<Part<'t>>) {
    use IngredientStatement as Says;
    match statement {
        Says::Content { nutrient, value } => {
            parts.push(Part::Name(Namespace::Nutrient, nutrient));
            parts.push(Part::Quantity(value));
        }
        Says::DryMatter(value)
        | Says::BulkDensity(value)
        | Says::SoldIn(value)
        | Says::ParticleSize(value)
        | Says::ParticleDensity(value) => parts.push(Part::Quantity(value)),
        Says::Price { value, as_of } => {
            parts.push(Part::Quantity(value));
            parts.extend(as_of.iter().map(Part::Date));
        }
        Says::Limit { bound, for_animal } => {
            parts.push(Part::Bound(bound));
            parts.extend(
                for_animal
                    .iter()
                    .map(|it| Part::Name(Namespace::Animal, it)),
            );
        }
        Says::Label { language, text } => {
            parts.extend([Part::Plain(language), Part::Text(text)]);
        }
        Says::Form(word) => parts.push(Part::Plain(word)),
        Says::Dose {
            bound,
            active,
            for_animal,
        } => {
            parts.push(Part::Bound(bound));
            parts.extend(active.iter().map(|it| Part::Name(Namespace::Nutrient, it)));
            parts.extend(
                for_animal
                    .iter()
                    .map(|it| Part::Name(Namespace::Animal, it)),
            );
        }
        Says::Ceiling {
            value,
            active,
            for_animal,
            reason,
        } => {
            parts.push(Part::Quantity(value));
            parts.extend(active.iter().map(|it| Part::Name(Namespace::Nutrient, it)));
            parts.extend(
                for_animal
                    .iter()
                    .map(|it| Part::Name(Namespace::Animal, it)),
            );
            parts.extend(reason.iter().map(Part::Text));
        }
        Says::ApartFrom { other, until } => {
            parts.push(Part::Name(Namespace::Feed, other));
            parts.extend(until.iter().map(Part::Number));
        }
        Says::NeverWith { other, reason } => {
            parts.push(Part::Name(Namespace::Feed, other));
            parts.extend(reason.iter().map(Part::Text));
        }
        Says::NeverFor { animal, reason } => {
            parts.push(Part::Name(Namespace::Animal, animal));
            parts.extend(reason.iter().map(Part::Text));
        }
        Says::Withdrawal { time, product } => {
            parts.extend([Part::Quantity(time), Part::Plain(product)]);
        }
        Says::Caution(text) => parts.push(Part::Text(text)),
        Says::NothingElse | Says::Accept(_) | Says::Unread => {}
    }
}

fn lot<'t>(statement: &'t LotStatement, parts: &mut Vec<Part<'t>>) {
    match statement {
        LotStatement::Received { mass, date } => {
            parts.extend(mass.iter().map(Part::Quantity));
            parts.push(Part::Date(date));
        }
        LotStatement::BestBefore(date) => parts.push(Part::Date(date)),
        LotStatement::OnHand(value)
        | LotStatement::DryMatter(value)
        | LotStatement::BulkDensity(value) => parts.push(Part::Quantity(value)),
        LotStatement::Content { nutrient, value } => {
            parts.push(Part::Name(Namespace::Nutrient, nutrient));
            parts.push(Part::Quantity(value));
        }
        LotStatement::Price { value, as_of } => {
            parts.push(Part::Quantity(value));
            parts.extend(as_of.iter().map(Part::Date));
        }
        LotStatement::Accept(_) | LotStatement::Unread => {}
    }
}

fn ration<'t>(statement: &'t RationStatement, parts: &mut Vec<Part<'t>>) {
    use RationStatement as Says;
    match statement {
        Says::For(animal) => parts.push(Part::Name(Namespace::Animal, animal)),
        Says::Meets(targets) => parts.push(Part::Name(Namespace::Targets, targets)),
        Says::Batch(value) | Says::Intake(value) | Says::Keeps(value) | Says::Certainty(value) => {
            parts.push(Part::Quantity(value))
        }
        Says::MixBy(method) => parts.push(Part::Name(Namespace::Method, method)),
        Says::Beside { name, amount } => {
            parts.extend([Part::Name(Namespace::Feed, name), Part::Quantity(amount)]);
        }
        Says::Limit { of, bound } => {
            expression(Namespace::Feed, of, parts);
            parts.push(Part::Bound(bound));
        }
        Says::Drop(name) => parts.push(Part::Name(Namespace::Feed, name)),
        Says::Replace { what, with } => {
            parts.extend([what, with].map(|it| Part::Name(Namespace::Feed, it)))
        }
        Says::Amount(amount) => {
            parts.push(Part::Name(Namespace::Feed, &amount.name));
            form(&amount.form, parts);
            clauses(&amount.clauses, parts);
        }
        Says::ForMixing | Says::Accept(_) | Says::Unread(_) => {}
    }
}

fn form<'t>(form: &'t AmountForm, parts: &mut Vec<Part<'t>>) {
    match form {
        AmountForm::Fixed(value) => parts.push(Part::Quantity(value)),
        AmountForm::Parts(number) => parts.push(Part::Number(number)),
        AmountForm::Open(bound) => parts.push(Part::Bound(bound)),
        AmountForm::Giving { quantity, active } => {
            parts.push(Part::Quantity(quantity));
            parts.push(Part::Name(Namespace::Nutrient, active));
        }
        AmountForm::Rest => {}
    }
}

fn clauses<'t>(clauses: &'t Clauses, parts: &mut Vec<Part<'t>>) {
    parts.extend(clauses.within.iter().map(Part::Bound));
    parts.extend(clauses.lot.iter().map(|it| Part::Name(Namespace::Lot, it)));
}

fn method<'t>(line: &'t MethodLine, parts: &mut Vec<Part<'t>>) {
    match &line.rule {
        Some(
            MethodRule::Small(value)
            | MethodRule::PreBlend(value)
            | MethodRule::Weigh(value)
            | MethodRule::Even(value)
            | MethodRule::Floor(value)
            | MethodRule::Lift(value),
        ) => parts.push(Part::Quantity(value)),
        Some(
            MethodRule::Step(number) | MethodRule::Turn(number) | MethodRule::Portions(number),
        ) => parts.push(Part::Number(number)),
        Some(MethodRule::In(vessel)) => parts.push(Part::Name(Namespace::Vessel, vessel)),
        Some(MethodRule::Accept(_)) | None => {}
    }
}

fn group<'t>(line: &'t GroupLine, parts: &mut Vec<Part<'t>>) {
    match &line.statement {
        Some(GroupStatement::Animals { count, animal }) => {
            parts.extend([Part::Number(count), Part::Name(Namespace::Animal, animal)]);
        }
        Some(GroupStatement::Eats {
            ration,
            intake,
            from,
            to,
        }) => {
            parts.push(Part::Name(Namespace::Feed, ration));
            parts.extend(intake.iter().map(Part::Quantity));
            parts.extend(from.iter().chain(to).map(Part::Date));
        }
        Some(GroupStatement::Placed { date, age }) => {
            parts.push(Part::Date(date));
            parts.extend(age.iter().map(Part::Number));
        }
        Some(GroupStatement::MixFor(time)) => parts.push(Part::Quantity(time)),
        Some(GroupStatement::Accept(_)) | None => {}
    }
}

fn record<'t>(line: &'t RecordLine, parts: &mut Vec<Part<'t>>) {
    match &line.statement {
        Some(RecordStatement::Made { date, by }) => {
            parts.push(Part::Date(date));
            parts.extend(by.iter().map(Part::Text));
        }
        Some(RecordStatement::Batch(mass)) => parts.push(Part::Quantity(mass)),
        Some(RecordStatement::Weighed {
            ingredient,
            mass,
            lot,
        }) => {
            parts.extend([
                Part::Name(Namespace::Feed, ingredient),
                Part::Quantity(mass),
            ]);
            parts.extend(lot.iter().map(|it| Part::Name(Namespace::Lot, it)));
        }
        Some(RecordStatement::Sampled {
            nutrient,
            samples,
            unit,
            assay,
        }) => {
            parts.push(Part::Name(Namespace::Nutrient, nutrient));
            parts.extend(samples.iter().map(Part::Number));
            parts.extend(unit.iter().map(Part::Unit));
            parts.extend(assay.iter().map(Part::Quantity));
        }
        Some(RecordStatement::FedTo { group, from, to }) => {
            parts.push(Part::Name(Namespace::Group, group));
            parts.extend(from.iter().chain(to).map(Part::Date));
        }
        Some(RecordStatement::Accept(_)) | None => {}
    }
}
