//! Animals: whose kind each is, what it gives, and what law and harm bound for it.

use std::collections::BTreeSet;
use std::sync::Arc;

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place};
use trug_syntax::tree::{self, AnimalStatement, ItemBody, Strength};

use super::{Quotient, View, Wants};
use crate::farm::Namespace;
use crate::findings::unit;
use crate::quantity::{Activity, Base, Dimension, Range};

/// Kinds of one animal that are looked at. A chain that is not too long to be followed has fewer: each step adds the kind that
/// the farm names, and the ones that a book does.
const MOST_KINDS: usize = 512;

/// An animal, as one text sees it.
#[derive(Debug)]
pub(crate) struct Animal {
    pub(crate) name: SmolStr,
    /// The kind it is one of: the book's, and beside it the farm's where that names another.
    pub(crate) is: Vec<SmolStr>,
    /// What it gives: eggs, milk, meat.
    pub(crate) gives: Vec<SmolStr>,
    /// Its own bounds, not its kind's.
    pub(crate) bounds: Vec<AnimalBound>,
    /// A line of it could not be read, so no ration for it is judged whole.
    pub(crate) is_sound: bool,
}

/// A bound that law or harm sets on what an animal eats.
#[derive(Debug)]
pub(crate) struct AnimalBound {
    pub(crate) of: Quotient,
    pub(crate) range: Range,
    pub(crate) strength: Strength,
    pub(crate) reason: Option<String>,
    pub(crate) place: Place,
    /// Whether a book wrote it.
    pub(crate) is_book: bool,
}

pub(super) fn make(
    view: &View<'_>,
    name: &str,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Animal>> {
    let mut animal = Animal {
        name: SmolStr::new(name),
        is: Vec::new(),
        gives: Vec::new(),
        bounds: Vec::new(),
        is_sound: true,
    };
    for (item_ref, item) in view.items(Namespace::Animal, name) {
        let ItemBody::Animal(written) = &item.body else {
            return None;
        };
        animal.is_sound &= !item.has_unread_line;
        if let Some(is) = &written.is {
            let place = Place::new(item_ref.file, is.span);
            if view.knows(Namespace::Animal, is, place, findings) {
                animal.is.push(is.text.clone());
            }
        }
        for line in &written.lines {
            match &line.statement {
                AnimalStatement::Gives(product) => animal.gives.push(product.text.clone()),
                AnimalStatement::Bound { .. } => {
                    match bound(view, item_ref.file, &line.statement, findings) {
                        Some(bound) => animal.bounds.push(bound),
                        None => animal.is_sound = false,
                    }
                }
                AnimalStatement::Accept(_) | AnimalStatement::Unread => {}
            }
        }
    }
    Some(Arc::new(animal))
}

fn bound(
    view: &View<'_>,
    file: FileId,
    statement: &AnimalStatement,
    findings: &mut Vec<Finding>,
) -> Option<AnimalBound> {
    let AnimalStatement::Bound {
        of,
        bound,
        strength,
        reason,
    } = statement
    else {
        return None;
    };
    let quotient = view.quotient(of, file, findings)?;
    let range = view.bound_of(&quotient, bound, file, findings)?;
    Some(AnimalBound {
        range,
        of: quotient,
        strength: *strength,
        reason: reason.as_ref().map(|reason| reason.text.clone()),
        place: Place::new(file, bound.span),
        is_book: view.farm.is_book(file),
    })
}

impl View<'_> {
    /// The bound of a sum of nutrients: per kg in the sum's own dimension, or per animal and day.
    pub(crate) fn bound_of(
        &self,
        of: &Quotient,
        bound: &tree::Bound,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) -> Option<Range> {
        let reader = self.reader(file);
        if of.dimension.is_share() && of.below.is_some() && bound.unit.is_none() {
            return Some(reader.plain_range(bound));
        }
        let wants = if of.dimension.is_share() {
            Wants::SHARE
        } else {
            Wants {
                units: units_for(&of.dimension),
                ..Wants::ANY
            }
        };
        let range = reader.range(
            bound,
            &Wants {
                fits: |_| true,
                ..wants
            },
            findings,
        )?;
        if range.dimension == of.dimension
            || (of.below.is_none() && is_per_day(&of.dimension, &range.dimension))
        {
            return Some(range);
        }
        let place = Place::new(
            file,
            bound.unit.as_ref().map_or(bound.span, |unit| unit.span),
        );
        findings.push(unit::unlike(
            place,
            (&range.unit.text, &range.dimension),
            (&of.words, &of.dimension),
            wants.units,
        ));
        None
    }

    /// The animal and the kinds it is one of, itself first, the nearest next.
    pub(crate) fn kinds_of(&self, animal: &str) -> Vec<Arc<super::Animal>> {
        let mut kinds: Vec<Arc<super::Animal>> = self.animal(animal).into_iter().collect();
        let mut names: BTreeSet<SmolStr> = BTreeSet::from([SmolStr::new(animal)]);
        let mut next = 0;
        while let Some(kind) = kinds.get(next).cloned() {
            for is in &kind.is {
                if kinds.len() < MOST_KINDS && names.insert(is.clone()) {
                    kinds.extend(self.animal(is));
                }
            }
            next += 1;
        }
        kinds
    }

    /// How many steps up from `animal` the kind `kind` stands; none where it is no kind of it.
    pub(crate) fn steps_up(&self, animal: &str, kind: &str) -> Option<usize> {
        self.kinds_of(animal)
            .iter()
            .position(|one| one.name == kind)
    }
}

/// Whether `bound` is of the same thing per day as `content` is per kg.
fn is_per_day(content: &Dimension, bound: &Dimension) -> bool {
    let eaten = Dimension::per(Base::Mass, Base::Time);
    content.times(&eaten).as_ref() == Some(bound)
}

/// Units that fit a content of that dimension.
pub(crate) fn units_for(dimension: &Dimension) -> &'static [&'static str] {
    let is_active = |activity| *dimension == Dimension::activity_per_mass(activity);
    if dimension.is_share() {
        &["%", "g/kg", "mg/kg"]
    } else if dimension.is_per(Base::Energy, Base::Mass) {
        &["MJ/kg", "kcal/kg"]
    } else if dimension.is_per(Base::Charge, Base::Mass) {
        &["meq/kg"]
    } else if is_active(Activity::Iu) {
        &["IU/kg"]
    } else if is_active(Activity::U) {
        &["U/kg"]
    } else if is_active(Activity::Ftu) {
        &["FTU/kg"]
    } else if is_active(Activity::Cfu) {
        &["CFU/kg"]
    } else {
        &["g/MJ"]
    }
}
