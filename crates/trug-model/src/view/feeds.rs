//! Ingredients and lots: what is known of each, as one text sees it.

mod bounds;
mod contents;
mod lines;
mod lots;

pub use lots::Delivered;

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;
use smol_str::SmolStr;
use trug_findings::{FileId, Finding, Place};
use trug_syntax::tree::{self, IngredientStatement, Item, ItemBody};

use super::{View, Wants};
use crate::Q;
use crate::farm::{ItemRef, Namespace};
use crate::findings::{basis, data};
use crate::quantity::{Basis, Measure, Range, Shown};

/// An ingredient, with what the book and the farm say of it. Contents are as fed, per kg.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "each field is the line of that word")]
pub struct Ingredient {
    pub name: SmolStr,
    pub label: Option<String>,
    pub place: Place,
    pub contents: BTreeMap<SmolStr, Content>,
    /// Contents as given on a dry basis: with another dry matter, of a lot, they are others as fed.
    pub(crate) on_dry_basis: BTreeMap<SmolStr, Measure>,
    pub dry_matter: Option<Content>,
    pub price: Option<Price>,
    /// In kg/L.
    pub bulk_density: Option<Q>,
    /// In kg.
    pub sold_in: Option<Q>,
    pub nothing_else: bool,
    pub limits: Vec<FeedLimit>,
    pub doses: Vec<Dose>,
    pub ceilings: Vec<Ceiling>,
    pub apart: Vec<ApartFrom>,
    pub never_with: Vec<Never>,
    pub never_for: Vec<Never>,
    pub withdrawals: Vec<Withdrawal>,
    pub cautions: Vec<(String, Place)>,
    pub form: Option<SmolStr>,
    /// In mm.
    pub particle_size: Option<Q>,
    /// In g/mL.
    pub particle_density: Option<Q>,
    /// By language tag.
    pub labels: BTreeMap<SmolStr, String>,
    /// The lot whose analysis this is; none where it is what its own text says.
    pub(crate) delivery: Option<SmolStr>,
    /// Every line could be read: it may be summed and judged.
    pub is_sound: bool,
}

/// How much of one nutrient one kg holds, as fed.
#[derive(Clone, Debug, PartialEq)]
pub struct Content {
    /// In base units per kg.
    pub value: Q,
    /// One standard deviation.
    pub deviation: Option<Q>,
    /// Where it is written.
    pub place: Place,
}

/// What a kg costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// Money per kg.
    pub value: Q,
    /// ISO 4217 code.
    pub currency: SmolStr,
    /// Where it is written.
    pub place: Place,
}

/// A bound on its inclusion in any ration.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the fields say it")]
pub struct FeedLimit {
    pub range: Range,
    pub animal: Option<SmolStr>,
    pub place: Place,
}

/// The label's window, of the product or of an active.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the fields say it")]
pub struct Dose {
    pub range: Range,
    pub active: Option<SmolStr>,
    pub animal: Option<SmolStr>,
    pub place: Place,
}

/// The amount above which harm is possible.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the fields say it")]
pub struct Ceiling {
    pub value: Q,
    pub unit: Shown,
    pub active: Option<SmolStr>,
    pub animal: Option<SmolStr>,
    pub reason: Option<String>,
    pub place: Place,
}

/// What it may meet only when diluted.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the fields say it")]
pub struct ApartFrom {
    pub other: SmolStr,
    pub times: Q,
    pub place: Place,
}

/// What it may never be fed with, or to.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the fields say it")]
pub struct Never {
    pub other: SmolStr,
    pub reason: Option<String>,
    pub place: Place,
}

/// How long what the animal gives is not for people.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "the fields say it")]
pub struct Withdrawal {
    pub days: Q,
    pub product: SmolStr,
    pub place: Place,
}

/// A delivery of an ingredient.
#[derive(Clone, Debug)]
pub struct Lot {
    /// Its name.
    pub name: SmolStr,
    /// What it is a delivery of.
    pub of: SmolStr,
    /// What the supplier calls it.
    pub label: Option<String>,
    /// Where it is named.
    pub place: Place,
    /// The day it came.
    pub received: Option<Date>,
    /// How much of it came, in kg; none where the text does not say, or not in a way that could be made out.
    pub came: Option<Q>,
    /// The last day it is good.
    pub best_before: Option<Date>,
    /// What is left of it, in kg; none where the text does not say, or not in a way that could be made out.
    pub on_hand: Option<Q>,
}

impl Ingredient {
    fn new(name: &str, place: Place) -> Ingredient {
        Ingredient {
            name: SmolStr::new(name),
            label: None,
            place,
            contents: BTreeMap::new(),
            on_dry_basis: BTreeMap::new(),
            dry_matter: None,
            price: None,
            bulk_density: None,
            sold_in: None,
            nothing_else: false,
            limits: Vec::new(),
            doses: Vec::new(),
            ceilings: Vec::new(),
            apart: Vec::new(),
            never_with: Vec::new(),
            never_for: Vec::new(),
            withdrawals: Vec::new(),
            cautions: Vec::new(),
            form: None,
            particle_size: None,
            particle_density: None,
            labels: BTreeMap::new(),
            delivery: None,
            is_sound: true,
        }
    }

    /// Whether it is worked in as a liquid.
    #[must_use]
    pub fn is_liquid(&self) -> bool {
        self.form.as_deref() == Some("liquid")
    }

    /// Whether too much or too little of it can hurt: such an amount is never mended by the tool.
    #[must_use]
    pub fn can_harm(&self) -> bool {
        !(self.doses.is_empty()
            && self.ceilings.is_empty()
            && self.withdrawals.is_empty()
            && self.never_for.is_empty()
            && self.never_with.is_empty())
    }
}

/// The ingredients among items, the weakest first.
fn written_in<'item>(
    items: &'item [(ItemRef, &'item Item)],
) -> impl Iterator<Item = (ItemRef, &'item tree::Ingredient)> {
    items
        .iter()
        .filter_map(|(item_ref, item)| match &item.body {
            ItemBody::Ingredient(written) => Some((*item_ref, written)),
            _ => None,
        })
}

pub(super) fn make(
    view: &View<'_>,
    name: &str,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Ingredient>> {
    let items = view.items(Namespace::Feed, name);
    let (item_ref, item) = items.last()?;
    let ItemBody::Ingredient(written) = &item.body else {
        return None;
    };
    let place = Place::new(item_ref.file, written.name.span);
    let mut ingredient = Ingredient::new(name, place);
    // The strongest dry matter first: other contents, of whatever strength, may be given of it.
    for (item_ref, written) in written_in(&items) {
        for line in &written.lines {
            if let IngredientStatement::DryMatter(written) = &line.statement {
                let reader = view.reader_of(item_ref.file, name);
                let measure = reader.quantity(written, &Wants::PERCENT, findings);
                ingredient.set_dry_matter(measure, item_ref.file, findings);
            }
        }
    }
    for (item_ref, written) in written_in(&items) {
        if let Some(label) = &written.label {
            ingredient.label = Some(label.text.clone());
        }
        let is_book = |file: FileId| view.farm.is_book(file);
        if says_all(written) && !is_book(item_ref.file) {
            // What a farm does not list is zero then, whatever a book says of it.
            ingredient
                .contents
                .retain(|_, content| !is_book(content.place.file));
            let contents = &ingredient.contents;
            ingredient
                .on_dry_basis
                .retain(|name, _| contents.contains_key(name));
        }
        let mut lines = lines::Lines::new(view, item_ref.file, &mut ingredient);
        for line in &written.lines {
            lines.read(&line.statement, line.span, findings);
        }
    }
    ingredient.is_sound &= items.iter().all(|(_, item)| !item.has_unread_line);
    Some(Arc::new(ingredient))
}

/// Whether an ingredient says that what it does not list is zero.
fn says_all(written: &tree::Ingredient) -> bool {
    let says =
        |line: &tree::IngredientLine| matches!(line.statement, IngredientStatement::NothingElse);
    written.lines.iter().any(says)
}

impl Ingredient {
    fn set_dry_matter(
        &mut self,
        measure: Option<Measure>,
        file: FileId,
        findings: &mut Vec<Finding>,
    ) {
        let Some(measure) = measure else {
            self.is_sound = false;
            return;
        };
        let place = Place::new(file, measure.span);
        if !measure.value.is_positive() || measure.value > Q::ONE {
            findings.push(data::outside(
                place,
                "dry matter",
                &measure.unit.say(&measure.value),
                "above 0, up to 100 %",
            ));
            self.is_sound = false;
            return;
        }
        self.dry_matter = Some(Content {
            value: measure.value,
            deviation: measure.deviation,
            place,
        });
        for (nutrient, measure) in &self.on_dry_basis {
            let factor = measure
                .basis
                .as_ref()
                .and_then(|basis| self.as_fed_factor(basis));
            if let (Some(factor), Some(content)) = (factor, self.contents.get(nutrient)) {
                let content = measured(measure, &factor, content.place);
                self.contents.insert(nutrient.clone(), content);
            }
        }
    }

    /// What a content on that basis is multiplied by to be as fed; none where the dry matter is unknown.
    fn as_fed_factor(&self, basis: &Basis) -> Option<Q> {
        let dry_matter = || {
            self.dry_matter
                .as_ref()
                .map(|content| content.value.clone())
        };
        match basis {
            Basis::AsFed => Some(Q::ONE),
            Basis::OfDryMatter => dry_matter(),
            Basis::AtDryMatter(at) => dry_matter()?.over(at),
        }
    }

    /// A content on any basis, as fed; none, and a finding, where the dry matter for that is unknown.
    fn as_fed(
        &self,
        measure: &Measure,
        nutrient: &str,
        place: Place,
        findings: &mut Vec<Finding>,
    ) -> Option<Content> {
        let basis = measure.basis.as_ref().unwrap_or(&Basis::AsFed);
        let Some(factor) = self.as_fed_factor(basis) else {
            findings.push(basis::no_dry_matter(place, nutrient, &self.name));
            return None;
        };
        Some(measured(measure, &factor, place))
    }
}

fn measured(measure: &Measure, factor: &Q, place: Place) -> Content {
    let deviation = measure.deviation.as_ref();
    Content {
        value: &measure.value * factor,
        deviation: deviation.map(|deviation| deviation * factor),
        place,
    }
}
