//! What an editor asks of a text: what a name means, which names there are, what a quantity is.
//!
//! Nothing here says what is wrong; what cannot be made out is none.

use std::collections::BTreeMap;
use std::sync::Arc;

use smol_str::SmolStr;
use trug_findings::{FileId, Place};
use trug_syntax::tree::{self, Item, ItemBody};

use crate::Q;
use crate::analysis::{self, BoundKind, Cost, DoseValue};
use crate::farm::{Farm, ItemRef, Namespace};
use crate::judge;
use crate::quantity::{Dimension, Measure, Range, Shown};
use crate::ration::{Line, Ration};
use crate::view::{Ingredient, Lot, Method, View, Wants, units_for};

/// A name that a text can use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KnownName {
    /// The name.
    pub name: SmolStr,
    /// The item that declares it: the farm's own where a book has one too.
    pub item: ItemRef,
}

/// How a nutrient is counted.
#[derive(Clone, Debug)]
pub struct Counted {
    /// Its name.
    pub name: SmolStr,
    /// What people call it.
    pub label: Option<String>,
    /// What a content of it is.
    pub dimension: Dimension,
    /// The unit contents are shown in.
    pub unit: Shown,
    /// Units that fit a content of it, the commonest first.
    pub units: &'static [&'static str],
    /// It is a sum of others.
    pub is_sum: bool,
}

/// A bound on a ration, and what each of its lines adds to the value.
#[derive(Clone, Debug)]
pub struct AddedTo {
    /// What stands behind the bound.
    pub kind: BoundKind,
    /// What is bounded, as written.
    pub what: String,
    /// Whose bound it is: the targets' or the animal's name.
    pub whose: SmolStr,
    /// The bound, in base units.
    pub range: Range,
    /// What the value is per, in words.
    pub basis: String,
    /// The ration's value, in base units.
    pub value: Option<Q>,
    /// Kept, missed, or undecided for want of data.
    pub met: Option<bool>,
    /// What each line adds, in base units; empty where the bound is a ratio, to which nothing is added.
    pub adds: Vec<Q>,
    /// How fast the value rises with the inclusion of each line.
    pub rises: Vec<Q>,
    /// Where the bound is written.
    pub place: Place,
}

impl<'farm> View<'farm> {
    /// The text it is a view of.
    #[must_use]
    pub fn file(&self) -> FileId {
        self.scope.own()
    }

    /// The texts it sees: itself, then those it uses, the books last.
    #[must_use]
    pub fn sees(&self) -> &[FileId] {
        &self.scope.files
    }

    /// A text it uses could not be had, so a name may be declared there.
    #[must_use]
    pub fn is_incomplete(&self) -> bool {
        self.scope.is_incomplete
    }

    /// Every name of a kind, each once, in the order of the texts it sees.
    #[must_use]
    pub fn names(&self, namespace: Namespace) -> Vec<KnownName> {
        let mut seen: BTreeMap<&str, ()> = BTreeMap::new();
        let mut names = Vec::new();
        for (file, declared) in self.scope.all(self.farm, namespace) {
            // A row of a table may go by a label; what it adds to is named elsewhere.
            if self.farm.is_table(file) || seen.insert(&declared.name, ()).is_some() {
                continue;
            }
            let rank = declared.rank;
            names.push(KnownName {
                name: declared.name.clone(),
                item: ItemRef { file, rank },
            });
        }
        names
    }

    /// The items that say something of a name, the weaker first: the book's, those of tables, the farm's own.
    #[must_use]
    pub fn written(&self, namespace: Namespace, name: &str) -> Vec<(FileId, &'farm Item)> {
        let items = self.items(namespace, name).into_iter();
        items.map(|(at, item)| (at.file, item)).collect()
    }

    /// The item that declares a name, the farm's own where a book has one too.
    #[must_use]
    pub fn declaration(&self, namespace: Namespace, name: &str) -> Option<(FileId, &'farm Item)> {
        let found = self.find(namespace, name).any()?;
        Some((found.file, self.item(found)))
    }

    /// The ingredient of that name, with what the book, tables and the farm say of it.
    #[must_use]
    pub fn ingredient_called(&self, name: &str) -> Option<Arc<Ingredient>> {
        self.ingredient(name)
    }

    /// The deliveries of an ingredient that can be seen.
    #[must_use]
    pub fn lots_of(&self, ingredient: &str) -> Vec<Lot> {
        let lots = self.all_lots().into_iter();
        lots.filter(|lot| lot.of == ingredient).collect()
    }

    /// A lot, and its ingredient as that delivery was analysed.
    #[must_use]
    pub fn delivery(&self, lot: &str) -> Option<(Lot, Ingredient)> {
        let lot = self.lot(lot)?;
        let ingredient = self.ingredient(&lot.of)?;
        let delivered = self.ingredient_of_lot(&ingredient, &lot.name, &mut Vec::new());
        Some((lot, delivered))
    }

    /// How a nutrient is counted.
    #[must_use]
    pub fn counted(&self, nutrient: &str) -> Option<Counted> {
        let nutrient = self.nutrient(nutrient)?;
        Some(Counted {
            name: nutrient.name.clone(),
            label: nutrient.label.clone(),
            units: units_for(&nutrient.dimension),
            dimension: nutrient.dimension.clone(),
            unit: nutrient.unit.clone(),
            is_sum: nutrient.formula.is_some(),
        })
    }

    /// What one kg of an ingredient holds of a nutrient, in base units, where that is known.
    #[must_use]
    pub fn held(&self, ingredient: &Ingredient, nutrient: &str) -> Option<Q> {
        let content = ingredient.content(&*self.nutrient(nutrient)?);
        content.is_complete.then_some(content.known)
    }

    /// What a sum of nutrients, or one over another, is counted in, as it stands in `file`.
    #[must_use]
    pub fn dimension_of(&self, of: &tree::Expression, file: FileId) -> Option<Dimension> {
        let quotient = self.quotient(of, file, &mut Vec::new())?;
        Some(quotient.dimension)
    }

    /// The animal and the kinds it is one of, itself first, the nearest next.
    #[must_use]
    pub fn kinds(&self, animal: &str) -> Vec<SmolStr> {
        let kinds = self.kinds_of(animal).into_iter();
        kinds.map(|kind| kind.name.clone()).collect()
    }

    /// The method of that name, the farm's lines over the book's.
    #[must_use]
    pub fn method_called(&self, name: &str) -> Option<Method> {
        self.method(name, &mut Vec::new())
    }

    /// A quantity that stands in `file`, of an ingredient where local measures are meant.
    #[must_use]
    pub fn measured(
        &self,
        written: &tree::Quantity,
        file: FileId,
        of: Option<&str>,
    ) -> Option<Measure> {
        let reader = match of {
            Some(ingredient) => self.reader_of(file, ingredient),
            None => self.reader(file),
        };
        reader.quantity(written, &Wants::ANY, &mut Vec::new())
    }

    /// The two ends of a bound that stands in `file`.
    #[must_use]
    pub fn bounded(&self, written: &tree::Bound, file: FileId, of: Option<&str>) -> Option<Range> {
        let reader = match of {
            Some(ingredient) => self.reader_of(file, ingredient),
            None => self.reader(file),
        };
        reader.range(written, &Wants::ANY, &mut Vec::new())
    }

    /// So much money in another currency; none where no rates lead there.
    #[must_use]
    pub fn exchanged(&self, amount: &Q, from: &str, to: &str) -> Option<Q> {
        self.exchange(amount, from, to)
    }

    /// Whether a line may take up what others leave, or be rounded, without an eye on it: neither its label nor law
    /// and harm speak of what it is or holds much of.
    #[must_use]
    pub fn may_be_changed(&self, ration: &Ration, line: &Line) -> bool {
        let speaks = |leaf: &crate::ration::Leaf| {
            leaf.ingredient.can_harm() || !leaf.ingredient.apart.is_empty()
        };
        if line.feed.leaves().iter().any(speaks) {
            return false;
        }
        let kinds = ration.animal.as_deref().map(|animal| self.kinds_of(animal));
        let bounds = kinds.iter().flatten().flat_map(|kind| &kind.bounds);
        let mut most = bounds.filter(|bound| {
            bound.of.below.is_none() && bound.range.dimension == bound.of.dimension
        });
        !most.any(|bound| {
            let held = line.feed.linear(&bound.of.above).known;
            bound.range.high.as_ref().is_some_and(|high| held > *high)
        })
    }

    /// Every bound of targets, law and harm on a ration, with what each line adds to the value.
    #[must_use]
    pub fn additions(&self, ration: &Ration) -> Vec<AddedTo> {
        if ration.for_mixing {
            return Vec::new();
        }
        let bounds = judge::bounds(self, ration).into_iter();
        bounds.map(AddedTo::of).collect()
    }

    /// The same of some targets that it meets, or of one bound of them alone.
    #[must_use]
    pub fn additions_of(&self, ration: &Ration, targets: &str, at: Option<Place>) -> Vec<AddedTo> {
        let met = ration.meets.iter().find(|(name, _)| name == targets);
        let Some((name, _)) = met.filter(|_| !ration.for_mixing) else {
            return Vec::new();
        };
        let is_wanted = |place: Place| at.is_none_or(|at| at == place);
        let bounds = judge::of_targets(self, &judge::Mix::of(ration), name, &is_wanted);
        bounds.into_iter().map(AddedTo::of).collect()
    }

    /// What a ration costs, and what each line adds to it.
    #[must_use]
    pub fn cost(&self, ration: &Ration) -> Option<Cost> {
        analysis::cost_of(self, ration)
    }

    /// Every dose and ceiling of the ingredients of a ration.
    #[must_use]
    pub fn doses(&self, ration: &Ration) -> Vec<DoseValue> {
        if ration.for_mixing {
            return Vec::new();
        }
        analysis::doses(self, ration)
    }
}

impl AddedTo {
    fn of(bounded: judge::Bounded) -> AddedTo {
        AddedTo {
            met: bounded.met(),
            kind: bounded.kind,
            what: bounded.what,
            whose: bounded.whose,
            range: bounded.range,
            basis: bounded.basis,
            value: bounded.value,
            adds: bounded.adds,
            rises: bounded.rises,
            place: bounded.written,
        }
    }
}

impl Farm {
    /// An item, by its text and its rank in it; none where there is no such item.
    #[must_use]
    pub fn item_at(&self, item: ItemRef) -> Option<&Item> {
        self.entries().get(item.file.index())?.tree.get(item.rank)
    }

    /// The texts that declare a name themselves, in the order of the texts; books too.
    #[must_use]
    pub fn declaring(&self, namespace: Namespace, name: &str) -> Vec<FileId> {
        let folded = crate::farm::names::fold(name);
        let declares = |file: &FileId| {
            let names = &self.entry(*file).names;
            names.find(namespace, name, &folded).is_some() && !self.is_table(*file)
        };
        self.files().filter(declares).collect()
    }
}

/// The kind of name an item declares; none where it declares none.
#[must_use]
pub fn namespace_of(body: &ItemBody) -> Option<Namespace> {
    Namespace::of(body)
}
