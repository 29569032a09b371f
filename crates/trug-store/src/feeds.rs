//! What is eaten, opened up: rations to their lines, down to ingredients. An ingredient that several texts see is one.

use std::collections::BTreeMap;
use std::sync::Arc;

use smol_str::SmolStr;
use trug_findings::Place;
use trug_model::ration::Ration;
use trug_model::view::Ingredient;
use trug_model::{Q, View};

/// What a feed is.
#[derive(Clone, Debug)]
pub(crate) enum What {
    /// An ingredient, as its first view sees it.
    Ingredient(Arc<Ingredient>),
    /// A ration, and what one kg of it is made of.
    Ration(Vec<Part>),
}

/// A part of a ration.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    /// Its rank among the feeds: lower than the ration's own.
    pub(crate) feed: usize,
    /// The lot its line names.
    pub(crate) lot: Option<SmolStr>,
    /// Its fraction of the finished feed.
    pub(crate) fraction: Q,
}

/// Something that is eaten or mixed in.
#[derive(Clone, Debug)]
pub(crate) struct Feed {
    pub(crate) name: SmolStr,
    pub(crate) label: Option<String>,
    pub(crate) place: Place,
    /// The first view that sees it.
    pub(crate) view: usize,
    pub(crate) what: What,
}

/// All feeds: what a ration is made of stands before it.
#[derive(Debug, Default)]
pub(crate) struct Feeds {
    all: Vec<Feed>,
    /// An ingredient is where it is declared; a ration is also who sees it, for that decides what its names mean.
    ranks: BTreeMap<(SmolStr, Place, Option<usize>), usize>,
}

impl Feeds {
    pub(crate) fn all(&self) -> &[Feed] {
        &self.all
    }

    pub(crate) fn get(&self, rank: usize) -> Option<&Feed> {
        self.all.get(rank)
    }

    /// The rank of a feed by its name, as that view sees it.
    pub(crate) fn named(&mut self, views: &[View<'_>], view: usize, name: &str) -> Option<usize> {
        let seen = views.get(view)?;
        match seen.made_out(name) {
            Some(ration) => Some(self.ration(views, view, &ration)),
            None => self.ingredient(views, view, name),
        }
    }

    fn ingredient(&mut self, views: &[View<'_>], view: usize, name: &str) -> Option<usize> {
        let ingredient = views.get(view)?.ingredient_called(name)?;
        let key = (ingredient.name.clone(), ingredient.place, None);
        if let Some(known) = self.ranks.get(&key) {
            return Some(*known);
        }
        let feed = Feed {
            name: ingredient.name.clone(),
            label: ingredient.label.clone(),
            place: ingredient.place,
            view,
            what: What::Ingredient(ingredient),
        };
        Some(self.add(key, feed))
    }

    /// The rank of a ration; rations do not hold themselves, and each is opened up once.
    pub(crate) fn ration(&mut self, views: &[View<'_>], view: usize, ration: &Ration) -> usize {
        let key = (ration.name.clone(), ration.place, Some(view));
        if let Some(known) = self.ranks.get(&key) {
            return *known;
        }
        let whole = Q::ONE + ration.tops();
        let mut parts = Vec::new();
        for line in &ration.lines {
            let feed = match line.nested() {
                Some(nested) => Some(self.ration(views, view, nested)),
                None => self.ingredient(views, view, &line.name),
            };
            let fraction = line.low.over(&whole).filter(Q::is_positive);
            if let (Some(feed), Some(fraction)) = (feed, fraction) {
                parts.push(Part {
                    feed,
                    lot: line.lot.clone(),
                    fraction,
                });
            }
        }
        let feed = Feed {
            name: ration.name.clone(),
            label: ration.label.clone(),
            place: ration.place,
            view,
            what: What::Ration(parts),
        };
        self.add(key, feed)
    }

    fn add(&mut self, key: (SmolStr, Place, Option<usize>), feed: Feed) -> usize {
        let rank = self.all.len();
        self.all.push(feed);
        self.ranks.insert(key, rank);
        rank
    }
}
