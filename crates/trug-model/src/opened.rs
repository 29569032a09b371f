//! A text opened for work: its rations made out, judged, analysed, and what there is to mix them with.

use std::sync::Arc;

use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place, Span};
use trug_syntax::tree::{Item, ItemBody, RationStatement};

use crate::Q;
use crate::analysis::{Analysis, Sourced, analyse, sources};
use crate::farm::{Farm, Namespace};
use crate::judge::{self, LineWindow};
use crate::ration::Ration;
use crate::view::{Method, Scale, Vessel, View};

/// A ration that a text declares.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RationName {
    /// Its name.
    pub name: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// Its item, from header to last line.
    pub item: Span,
    /// It is not fed as it is.
    pub for_mixing: bool,
}

impl Farm {
    /// Opens a text.
    #[must_use]
    pub fn open(&self, file: FileId) -> View<'_> {
        View::new(self, file)
    }

    /// The rations a text declares, in the order of the text.
    #[must_use]
    pub fn rations(&self, file: FileId) -> Vec<RationName> {
        let items = self.tree(file).items.iter();
        items.filter_map(|item| named(file, item)).collect()
    }

    /// The ration that is named at a place; none where none is.
    #[must_use]
    pub fn ration_named_at(&self, place: Place) -> Option<RationName> {
        let items = &self.tree(place.file).items;
        // Items stand one after the other, so the last that starts before is the only one that can hold it.
        let after = items.partition_point(|item| item.whole.start <= place.span.start);
        let item = items.get(after.checked_sub(1)?)?;
        named(place.file, item).filter(|named| named.place == place)
    }
}

fn named(file: FileId, item: &Item) -> Option<RationName> {
    let ItemBody::Ration(ration) = &item.body else {
        return None;
    };
    let mut lines = ration.lines.iter();
    Some(RationName {
        name: ration.name.text.clone(),
        place: Place::new(file, ration.name.span),
        item: item.whole,
        for_mixing: lines.any(|line| matches!(line.statement, RationStatement::ForMixing)),
    })
}

impl<'farm> View<'farm> {
    /// The farm it is a view of.
    #[must_use]
    pub fn farm(&self) -> &'farm Farm {
        self.farm
    }

    /// The ration of that name; none where it could not be made out.
    #[must_use]
    pub fn made_out(&self, name: &str) -> Option<Arc<Ration>> {
        self.ration(name)
    }

    /// What a ration holds, keeps and costs.
    #[must_use]
    pub fn analyse(&self, ration: &Ration) -> Analysis {
        analyse(self, ration)
    }

    /// Where the values of an analysis were read, as their lines say.
    #[must_use]
    pub fn sources(&self, ration: &Ration, analysis: &Analysis) -> Vec<Sourced> {
        sources(self, ration, analysis)
    }

    /// What there is to say about a ration with these amounts.
    #[must_use]
    pub fn judge(&self, ration: &Ration) -> Vec<Finding> {
        let mut findings = Vec::new();
        judge::judge(self, ration, &mut findings);
        findings
    }

    /// Between which inclusions each line keeps each bound that can hurt.
    #[must_use]
    pub fn windows(&self, ration: &Ration) -> Vec<LineWindow> {
        judge::windows(self, ration)
    }

    /// The method a ration is mixed by; common practice where it names none.
    #[must_use]
    pub fn method_of(&self, ration: &Ration) -> Method {
        let named = ration.method.as_ref();
        let method = named.and_then(|(name, _)| self.method(name, &mut Vec::new()));
        method.unwrap_or_else(|| Method::common(ration.place))
    }

    /// The scales that can be seen, in the order of their names.
    #[must_use]
    pub fn all_scales(&self) -> Vec<Scale> {
        self.scales()
    }

    /// The vessels that can be seen, in the order of their names.
    #[must_use]
    pub fn all_vessels(&self) -> Vec<Vessel> {
        self.vessels()
    }

    /// What people call an animal: the label nearest to this text; its name where it has none.
    #[must_use]
    pub fn animal_called(&self, name: &str) -> String {
        let items = self.items(Namespace::Animal, name);
        let label = items.iter().rev().find_map(|(_, item)| match &item.body {
            ItemBody::Animal(animal) => animal.label.as_ref(),
            _ => None,
        });
        label.map_or_else(|| name.to_owned(), |label| label.text.clone())
    }
}

impl Ration {
    /// Whether every amount of it is known, down to the ingredients of rations inside it.
    #[must_use]
    pub fn is_known(&self) -> bool {
        let are_sound = self.lines.iter().all(|line| line.feed.is_sound());
        self.is_sound && self.adds_up && self.is_fixed() && are_sound
    }

    /// The ingredients it is made of, nested rations opened up, each once.
    #[must_use]
    pub fn ingredients(&self) -> Vec<Arc<crate::view::Ingredient>> {
        let inclusions = self.inclusions().into_iter();
        inclusions.map(|inclusion| inclusion.ingredient).collect()
    }

    /// The ration with other amounts: one inclusion a line, of the 100 %.
    #[must_use]
    pub fn with_inclusions(&self, inclusions: &[Q]) -> Ration {
        let mut ration = self.clone();
        for (line, share) in ration.lines.iter_mut().zip(inclusions) {
            line.low.clone_from(share);
            line.high.clone_from(share);
            line.is_open = false;
        }
        ration.leaves = std::sync::OnceLock::new();
        ration
    }
}

impl crate::ration::Line {
    /// Bulk density in kg/L, where known.
    #[must_use]
    pub fn bulk_density(&self) -> Option<Q> {
        self.feed.bulk_density()
    }
}
