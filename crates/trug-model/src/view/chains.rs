//! What leads to what: rations in rations, sums of nutrients, kinds of animals, measures of measures.
//!
//! Names are made out only where their chain ends, so that nothing else needs to fear a circle.

use std::collections::BTreeMap;

use smol_str::SmolStr;
use trug_findings::{Finding, Place};
use trug_syntax::tree::{Expression, ItemBody, Name, NutrientKind, RationStatement};

use super::View;
use crate::farm::Namespace;
use crate::findings::name;

/// A chain longer than this is not followed.
pub(crate) const LONGEST: usize = 64;

/// How far the chain behind a name leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Chain {
    /// To its end, through so many names, itself among them.
    Ends(usize),
    /// Round in a circle, or into one.
    Circles,
}

/// Chains that are known already.
pub(super) type Chains = BTreeMap<(Namespace, SmolStr), Chain>;

impl<'farm> View<'farm> {
    /// Whether what is behind a name can be followed to its end.
    pub(crate) fn chain_ends(&self, namespace: Namespace, name: &str) -> bool {
        matches!(self.chain(namespace, name), Chain::Ends(length) if length <= LONGEST)
    }

    /// Says, once for all of its members, where a name of this text leads round in a circle or too far.
    pub(crate) fn judge_chain(
        &self,
        namespace: Namespace,
        declared: &Name,
        findings: &mut Vec<Finding>,
    ) {
        let name = declared.text.as_str();
        match self.chain(namespace, name) {
            Chain::Ends(length) if length == LONGEST + 1 => {
                findings.push(name::too_long(self.place(declared.span), name));
            }
            Chain::Ends(_) => {}
            Chain::Circles => {
                if self.first_of_round(namespace, name).as_deref() != Some(name) {
                    return;
                }
                let circle = self.circle(namespace, name).unwrap_or_default();
                if let Some((_, leads)) = circle.first() {
                    let members: Vec<&str> =
                        circle.iter().map(|(member, _)| member.as_str()).collect();
                    findings.push(name::circle(*leads, name, &members));
                }
            }
        }
    }

    pub(super) fn declared_at(&self, namespace: Namespace, name: &str) -> Option<Place> {
        let item = self.find(namespace, name).any()?;
        let span = self.item(item).body.name()?.span;
        Some(Place::new(item.file, span))
    }

    /// Depth first over what each name leads to, with its own stack: texts may be as deep as they like.
    pub(super) fn chain(&self, namespace: Namespace, name: &str) -> Chain {
        let key = |name: &SmolStr| (namespace, name.clone());
        let start = SmolStr::new(name);
        if let Some(known) = self.chains.borrow().get(&key(&start)) {
            return *known;
        }
        let mut chains = self.chains.borrow_mut();
        let mut path = vec![Step::of(self, namespace, start.clone())];
        // Names of the path, for finding a circle without walking it.
        let mut under_way = BTreeMap::from([(start.clone(), ())]);
        while let Some(step) = path.last_mut() {
            let Some(next) = step.left.pop() else {
                let done = step.chain;
                under_way.remove(&step.name);
                chains.insert(key(&step.name), done);
                path.pop();
                if let Some(above) = path.last_mut() {
                    above.take(done);
                }
                continue;
            };
            if under_way.contains_key(&next) {
                step.chain = Chain::Circles;
            } else if let Some(known) = chains.get(&key(&next)) {
                let known = *known;
                step.take(known);
            } else {
                under_way.insert(next.clone(), ());
                path.push(Step::of(self, namespace, next));
            }
        }
        chains.get(&key(&start)).copied().unwrap_or(Chain::Ends(1))
    }

    /// The shortest way from a name back to itself: each member, with the place that leads on from the one before.
    fn circle(&self, namespace: Namespace, name: &str) -> Option<Vec<(SmolStr, Place)>> {
        let mut came: BTreeMap<SmolStr, (SmolStr, Place)> = BTreeMap::new();
        let mut wave = vec![SmolStr::new(name)];
        while !wave.is_empty() {
            let mut next = Vec::new();
            for from in wave {
                for (to, place) in self.links(namespace, &from) {
                    if to == name {
                        return Some(way_back(&came, (from, place), name));
                    }
                    if !came.contains_key(&to) && self.are_in_one_round(namespace, name, &to) {
                        came.insert(to.clone(), (from.clone(), place));
                        next.push(to);
                    }
                }
            }
            wave = next;
        }
        None
    }

    /// What a name is directly made of, and where that is written.
    pub(super) fn links(&self, namespace: Namespace, name: &str) -> Vec<(SmolStr, Place)> {
        let mut links = Vec::new();
        if namespace == Namespace::Unit {
            self.measure_links(name, &mut links);
            return links;
        }
        let mut items = self.items(namespace, name);
        if namespace != Namespace::Animal {
            // The farm's own wins; an animal keeps the book's kind beside its own.
            items = items.pop().into_iter().collect();
        }
        for (item_ref, item) in items {
            let mut link = |name: &Name| {
                links.push((name.text.clone(), Place::new(item_ref.file, name.span)));
            };
            match &item.body {
                ItemBody::Animal(animal) => animal.is.iter().for_each(&mut link),
                ItemBody::Nutrient(nutrient) => {
                    if let NutrientKind::Of(expression) = &nutrient.kind {
                        names_of(expression).for_each(&mut link);
                    }
                }
                ItemBody::Ration(ration) => {
                    ration.like.iter().for_each(&mut link);
                    for line in &ration.lines {
                        match &line.statement {
                            RationStatement::Amount(amount) => link(&amount.name),
                            RationStatement::Beside { name, .. } => link(name),
                            RationStatement::Replace { with, .. } => link(with),
                            _ => {}
                        }
                    }
                }
                _ => {}
            }
        }
        links
    }

    fn measure_links(&self, name: &str, links: &mut Vec<(SmolStr, Place)>) {
        for item in self.measures_called(name) {
            if let ItemBody::Unit(unit) = &self.item(item).body
                && let Some(made_of) = &unit.equals.unit
            {
                let word = &made_of.unit;
                links.push((word.text.clone(), Place::new(item.file, word.span)));
            }
        }
    }
}

/// One name on the way, with what it leads to and was not looked at yet.
struct Step {
    name: SmolStr,
    left: Vec<SmolStr>,
    chain: Chain,
}

impl Step {
    fn of(view: &View<'_>, namespace: Namespace, name: SmolStr) -> Step {
        let links = view.links(namespace, &name);
        Step {
            left: links.into_iter().map(|(to, _)| to).collect(),
            chain: Chain::Ends(1),
            name,
        }
    }

    /// Takes in how far one of its links leads.
    fn take(&mut self, link: Chain) {
        self.chain = match (self.chain, link) {
            (Chain::Ends(own), Chain::Ends(behind)) => Chain::Ends(own.max(behind + 1)),
            _ => Chain::Circles,
        };
    }
}

fn names_of(expression: &Expression) -> impl Iterator<Item = &Name> {
    let below = expression.over.iter().flat_map(|sum| &sum.terms);
    let terms = expression.sum.terms.iter().chain(below);
    terms.map(|term| &term.name)
}

/// The members of a circle in order, `name` last.
fn way_back(
    came: &BTreeMap<SmolStr, (SmolStr, Place)>,
    last: (SmolStr, Place),
    name: &str,
) -> Vec<(SmolStr, Place)> {
    let (mut at, place) = last;
    let mut circle = vec![(SmolStr::new(name), place)];
    while at != name {
        let Some((from, place)) = came.get(&at) else {
            break;
        };
        circle.push((at, *place));
        at = from.clone();
    }
    circle.reverse();
    circle
}
