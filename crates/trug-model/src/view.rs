//! What one text sees, made out: its names, and what each of them means there.
//!
//! Everything is made out in the scope of the text that is judged, once, and kept. Making out says
//! what is wrong with an item; the findings count only where the item's own text is judged.

mod animals;
mod chains;
mod feeds;
mod measures;
mod money;
mod nutrients;
mod records;
mod tables;
mod wants;
mod yard;

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use smol_str::SmolStr;
use trug_findings::{Finding, Place, Span};
use trug_syntax::tree::{Item, ItemBody, Name};

pub(crate) use animals::{Animal, AnimalBound, units_for};
pub(crate) use chains::LONGEST;
pub use feeds::{
    ApartFrom, Ceiling, Content, Delivered, Dose, FeedLimit, Ingredient, Lot, Never, Price,
    Withdrawal,
};
pub(crate) use measures::{day, number};
pub(crate) use nutrients::{Interval, Linear, Nutrient, Quotient};
pub use records::{FedTo, Readings, Record, RecordName, Sampled, WantedEvenness, Weighed};
pub use trug_syntax::tree::{Carry, ScaleClass};
pub(crate) use wants::Wants;
pub(crate) use yard::count;
pub use yard::{Method, MixesIn, Scale, Vessel};

use crate::farm::{Farm, Found, ItemRef, Namespace, Scope};
use crate::findings::name;
use crate::near;
use crate::ration::Ration;

type Kept<T> = RefCell<BTreeMap<SmolStr, Option<Arc<T>>>>;

/// A text with everything it sees.
pub struct View<'farm> {
    pub(crate) farm: &'farm Farm,
    pub(crate) scope: Arc<Scope>,
    animals: Kept<Animal>,
    nutrients: Kept<Nutrient>,
    ingredients: Kept<Ingredient>,
    rations: Kept<Ration>,
    rates: std::cell::OnceCell<money::Rates>,
    shared: Arc<Shared>,
    chains: RefCell<chains::Chains>,
    /// Letters that may still be compared in search of near names.
    left_to_compare: std::cell::Cell<usize>,
}

/// What takes a walk over all that a text sees: made out once for all views of it.
#[derive(Default)]
struct Shared {
    rows: OnceLock<tables::Rows>,
    measures: OnceLock<measures::Measures>,
    far: OnceLock<chains::Chains>,
    rounds: OnceLock<chains::NameRounds>,
}

/// The texts that a text sees, and what was made out of all of them.
#[derive(Clone)]
pub(crate) struct Seen(Arc<Scope>, Arc<Shared>);

/// What a feed's name means.
#[derive(Clone, Debug)]
pub(crate) enum Feed {
    /// An ingredient.
    Ingredient(Arc<Ingredient>),
    /// A ration mixed beforehand.
    Ration(Arc<Ration>),
}

impl<'farm> View<'farm> {
    pub(crate) fn new(farm: &'farm Farm, file: trug_findings::FileId) -> View<'farm> {
        let scope = Arc::new(Scope::of(farm, file));
        View::beside(farm, Seen(scope, Arc::default()))
    }

    /// What another view of the same text need not make out again, wherever that view is.
    pub(crate) fn seen(&self) -> Seen {
        Seen(Arc::clone(&self.scope), Arc::clone(&self.shared))
    }

    /// One more view of a text that is seen already.
    pub(crate) fn beside(farm: &'farm Farm, Seen(scope, shared): Seen) -> View<'farm> {
        View {
            farm,
            scope,
            animals: Kept::default(),
            nutrients: Kept::default(),
            ingredients: Kept::default(),
            rations: Kept::default(),
            rates: std::cell::OnceCell::new(),
            shared,
            chains: RefCell::default(),
            left_to_compare: std::cell::Cell::new(near::LETTERS_COMPARED),
        }
    }

    pub(crate) fn place(&self, span: Span) -> Place {
        Place::new(self.scope.own(), span)
    }

    pub(crate) fn find(&self, namespace: Namespace, name: &str) -> Found {
        let mut found = self.scope.find(self.farm, namespace, name);
        if namespace == Namespace::Feed {
            found.table = self.rows_of(name).first().copied();
        }
        found
    }

    pub(crate) fn item(&self, item: ItemRef) -> &'farm Item {
        self.farm.item(item)
    }

    /// The items of that name, the weaker first: the books', those of tables, the farm's own.
    pub(crate) fn items(&self, namespace: Namespace, name: &str) -> Vec<(ItemRef, &'farm Item)> {
        let found = self.scope.find(self.farm, namespace, name);
        let books = match found.book {
            Some(_) => self.scope.in_books(self.farm, namespace, name),
            None => Vec::new(),
        };
        let rows = if namespace == Namespace::Feed {
            self.rows_of(name)
        } else {
            &[]
        };
        let items = books.into_iter().rev().chain(rows.iter().rev().copied());
        let items = items.chain(found.farm);
        items.map(|item| (item, self.farm.item(item))).collect()
    }

    /// Whether the name is declared; says so where it is not, unless it may be in a text that is missing.
    pub(crate) fn knows(
        &self,
        namespace: Namespace,
        written: &Name,
        place: Place,
        findings: &mut Vec<Finding>,
    ) -> bool {
        let is_made_out = match namespace {
            Namespace::Nutrient => is_kept(&self.nutrients, &written.text),
            Namespace::Animal => is_kept(&self.animals, &written.text),
            _ => false,
        };
        if is_made_out || self.find(namespace, &written.text).any().is_some() {
            return true;
        }
        if !self.scope.is_incomplete {
            findings.push(self.unknown(namespace, &written.text, place));
        }
        false
    }

    fn unknown(&self, namespace: Namespace, written: &str, place: Place) -> Finding {
        let names = self.scope.all(self.farm, namespace);
        let names = names.map(|(_, declared)| declared.name.as_str());
        let near = near::nearest_within(&self.left_to_compare, written, names);
        name::unknown(namespace, written, place, near)
    }

    /// The animal of that name, with what the book and the farm say of it.
    pub(crate) fn animal(&self, name: &str) -> Option<Arc<Animal>> {
        keep(&self.animals, name, || {
            animals::make(self, name, &mut Vec::new())
        })
    }

    /// The nutrient of that name.
    pub(crate) fn nutrient(&self, name: &str) -> Option<Arc<Nutrient>> {
        keep(&self.nutrients, name, || {
            nutrients::make(self, name, &mut Vec::new())
        })
    }

    /// The ingredient of that name, with what the book and the farm say of it.
    pub(crate) fn ingredient(&self, name: &str) -> Option<Arc<Ingredient>> {
        keep(&self.ingredients, name, || {
            feeds::make(self, name, &mut Vec::new())
        })
    }

    /// The ration of that name; none where it is no ration, or what it is made of has no end.
    pub(crate) fn ration(&self, name: &str) -> Option<Arc<Ration>> {
        keep(&self.rations, name, || {
            crate::ration::make(self, name, &mut Vec::new()).map(Arc::new)
        })
    }

    /// What a feed's name means; none where it means nothing that could be read.
    pub(crate) fn feed(&self, name: &str) -> Option<Feed> {
        let item = self.find(Namespace::Feed, name).any()?;
        match &self.item(item).body {
            ItemBody::Ingredient(_) => self.ingredient(name).map(Feed::Ingredient),
            ItemBody::Ration(_) => self.ration(name).map(Feed::Ration),
            _ => None,
        }
    }

    /// Says what is wrong with a ration's lines, and keeps the ration.
    pub(crate) fn judge_ration(
        &self,
        name: &str,
        findings: &mut Vec<Finding>,
    ) -> Option<Arc<Ration>> {
        let made = crate::ration::make(self, name, findings).map(Arc::new);
        self.rations
            .borrow_mut()
            .insert(SmolStr::new(name), made.clone());
        made
    }

    /// Says what is wrong with an animal of this text, and keeps it.
    pub(crate) fn judge_animal(&self, name: &str, findings: &mut Vec<Finding>) {
        let made = animals::make(self, name, findings);
        self.animals.borrow_mut().insert(SmolStr::new(name), made);
    }

    /// Says what is wrong with a nutrient of this text, and keeps it.
    pub(crate) fn judge_nutrient(&self, name: &str, findings: &mut Vec<Finding>) {
        let made = nutrients::make(self, name, findings);
        self.nutrients.borrow_mut().insert(SmolStr::new(name), made);
    }

    /// Says what is wrong with an ingredient that a table alone has, and forgets it: there may be a million.
    pub(crate) fn look_at_ingredient(&self, name: &str, findings: &mut Vec<Finding>) {
        let _ = feeds::make(self, name, findings);
    }

    /// Says what is wrong with an ingredient of this text, and keeps it.
    pub(crate) fn judge_ingredient(&self, name: &str, findings: &mut Vec<Finding>) {
        let made = feeds::make(self, name, findings);
        self.ingredients
            .borrow_mut()
            .insert(SmolStr::new(name), made);
    }
}

/// Whether something of that name was made out before.
fn is_kept<T>(kept: &Kept<T>, name: &str) -> bool {
    kept.borrow().get(name).is_some_and(Option::is_some)
}

/// The kept value, or a new one, which is then kept.
fn keep<T>(kept: &Kept<T>, name: &str, make: impl FnOnce() -> Option<Arc<T>>) -> Option<Arc<T>> {
    if let Some(known) = kept.borrow().get(name) {
        return known.clone();
    }
    let made = make();
    kept.borrow_mut().insert(SmolStr::new(name), made.clone());
    made
}
