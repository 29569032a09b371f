//! What leads to what: rations in rations, sums of nutrients, kinds of animals, measures of measures.
//!
//! Names are made out only where their chain ends, so that nothing else needs to fear a circle.

use std::collections::{BTreeMap, BTreeSet};

use smol_str::SmolStr;
use trug_findings::{Finding, Place};
use trug_syntax::tree::{Expression, ItemBody, Name, NutrientKind, RationStatement};

use super::View;
use crate::farm::Namespace;
use crate::findings::name;
use crate::rounds::Rounds;

/// A chain longer than this is not followed.
pub(crate) const LONGEST: usize = 64;

/// A walk over more names than this leaves off: a long text is judged in parts, and each would walk as far.
const FAR: usize = 2 * LONGEST;

/// The kinds of name that lead to others of their kind.
const LEADING: [Namespace; 4] = [
    Namespace::Feed,
    Namespace::Animal,
    Namespace::Nutrient,
    Namespace::Unit,
];

/// How far the chain behind a name leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Chain {
    /// To its end, through so many names, itself among them.
    Ends(usize),
    /// Round in a circle, or into one.
    Circles,
}

/// Names that lead round to each other; the member that is declared first stands first.
pub(super) type NameRounds = Rounds<(Namespace, SmolStr)>;

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
                let key = (namespace, declared.text.clone());
                if self.rounds().round_of(&key).and_then(<[_]>::first) != Some(&key) {
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

    fn declared_at(&self, namespace: Namespace, name: &str) -> Option<Place> {
        let item = self.find(namespace, name).any()?;
        let span = self.item(item).body.name()?.span;
        Some(Place::new(item.file, span))
    }

    pub(super) fn chain(&self, namespace: Namespace, name: &str) -> Chain {
        let key = (namespace, SmolStr::new(name));
        let known = |chains: &Chains| chains.get(&key).copied();
        let known_far = || self.shared.far.get().and_then(known);
        if let Some(chain) = known(&self.chains.borrow()).or_else(known_far) {
            return chain;
        }
        let no_chains = Chains::new();
        let far = self.shared.far.get();
        let mut chains = self.chains.borrow_mut();
        let mut walk = Walk {
            view: self,
            namespace,
            far: far.unwrap_or(&no_chains),
            chains: &mut chains,
        };
        let most = if far.is_none() { FAR } else { usize::MAX };
        if let Some(chain) = walk.from(key.1.clone(), most) {
            return chain;
        }
        drop(chains);
        self.shared.far.get_or_init(|| self.all_chains());
        self.chain(namespace, name)
    }

    /// The chains of all names that this text declares, and of those behind them.
    fn all_chains(&self) -> Chains {
        let (none, mut chains) = (Chains::new(), Chains::new());
        for namespace in LEADING {
            let own = self.farm.entry(self.scope.own());
            for declared in own.names.of_kind(namespace) {
                if !chains.contains_key(&(namespace, declared.name.clone())) {
                    let mut walk = Walk {
                        view: self,
                        namespace,
                        far: &none,
                        chains: &mut chains,
                    };
                    walk.from(declared.name.clone(), usize::MAX);
                }
            }
        }
        chains
    }

    /// The names that lead round to each other, of those that this text declares and those behind them.
    fn rounds(&self) -> &NameRounds {
        self.shared.rounds.get_or_init(|| {
            let own = self.farm.entry(self.scope.own());
            let names = |namespace: Namespace| {
                let declared = own.names.of_kind(namespace).iter();
                declared.map(move |declared| (namespace, declared.name.clone()))
            };
            let is_round = |(namespace, name): &(Namespace, SmolStr)| {
                self.chain(*namespace, name) == Chain::Circles
            };
            let leads = |(namespace, name): &(Namespace, SmolStr)| {
                let links = self.links(*namespace, name).into_iter();
                let names = links.map(|(to, _)| (*namespace, to));
                names.filter(is_round).collect()
            };
            let declared = |(namespace, name): &(Namespace, SmolStr)| {
                (self.declared_at(*namespace, name), name.clone())
            };
            let starts = LEADING.into_iter().flat_map(names).filter(is_round);
            Rounds::of(starts, leads, declared)
        })
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
                    let is_in_round = |to: &SmolStr| {
                        let (one, other) = (SmolStr::new(name), to.clone());
                        self.rounds()
                            .are_in_one(&(namespace, one), &(namespace, other))
                    };
                    if !came.contains_key(&to) && is_in_round(&to) {
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

/// A walk, depth first, over what each name leads to, with its own stack: texts may be as deep as they like.
struct Walk<'view, 'farm> {
    view: &'view View<'farm>,
    namespace: Namespace,
    /// Chains that were made out for all views of the text.
    far: &'view Chains,
    chains: &'view mut Chains,
}

/// One name on the way, with what it leads to and was not looked at yet.
struct Step {
    name: SmolStr,
    left: Vec<SmolStr>,
    chain: Chain,
}

impl Walk<'_, '_> {
    /// The chain behind a name that is not known yet; none where the way to its end is longer than `most` names.
    fn from(&mut self, start: SmolStr, most: usize) -> Option<Chain> {
        let mut path = vec![self.step(start.clone())];
        // Names of the path, for finding a circle without walking it.
        let mut under_way = BTreeSet::from([start]);
        loop {
            let step = path.last_mut()?;
            let Some(next) = step.left.pop() else {
                let done = path.pop()?;
                under_way.remove(&done.name);
                self.chains.insert((self.namespace, done.name), done.chain);
                match path.last_mut() {
                    Some(above) => above.take(done.chain),
                    None => return Some(done.chain),
                }
                continue;
            };
            if under_way.contains(&next) {
                step.chain = Chain::Circles;
            } else if let Some(known) = self.known(&next) {
                step.take(known);
            } else if path.len() == most {
                return None;
            } else {
                under_way.insert(next.clone());
                path.push(self.step(next));
            }
        }
    }

    fn known(&self, name: &SmolStr) -> Option<Chain> {
        let key = (self.namespace, name.clone());
        let known = self.chains.get(&key).or_else(|| self.far.get(&key));
        known.copied()
    }

    fn step(&self, name: SmolStr) -> Step {
        let links = self.view.links(self.namespace, &name);
        Step {
            left: links.into_iter().map(|(to, _)| to).collect(),
            chain: Chain::Ends(1),
            name,
        }
    }
}

impl Step {
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
