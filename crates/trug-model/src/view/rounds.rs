//! Which names lead round to each other, found in one walk however many there are (Tarjan, Depth-first search and linear graph
//! algorithms, 1972).

use std::collections::BTreeMap;

use smol_str::SmolStr;
use trug_findings::Place;

use super::View;
use super::chains::Chain;
use crate::farm::Namespace;

/// What is known of rounds: names that all lead to each other.
#[derive(Default)]
pub(super) struct Rounds {
    /// The round of each name that was looked at.
    of: BTreeMap<(Namespace, SmolStr), usize>,
    /// The member of each round that is declared first; none where a name is alone, and does not lead to itself.
    first: Vec<Option<SmolStr>>,
}

/// A name on the way, with what it leads to and was not looked at yet.
struct Step {
    name: SmolStr,
    left: Vec<SmolStr>,
    /// When it was come to.
    came: usize,
    /// The earliest name on the way that can be reached from it.
    reaches: usize,
    leads_to_itself: bool,
}

/// A walk from one name.
#[derive(Default)]
struct Walk {
    way: Vec<Step>,
    /// Names come to whose round is not known yet, and when.
    open: Vec<SmolStr>,
    came: BTreeMap<SmolStr, usize>,
}

impl View<'_> {
    /// The member that is declared first of all that lead to this name and to which it leads; none where it leads not to itself.
    pub(super) fn first_of_round(&self, namespace: Namespace, name: &str) -> Option<SmolStr> {
        let key = (namespace, SmolStr::new(name));
        if !self.rounds.borrow().of.contains_key(&key) {
            self.walk_round(namespace, key.1.clone());
        }
        let rounds = self.rounds.borrow();
        rounds.first.get(*rounds.of.get(&key)?)?.clone()
    }

    fn walk_round(&self, namespace: Namespace, start: SmolStr) {
        let mut walk = Walk::default();
        walk.go_to(start.clone(), self.leads(namespace, &start));
        while let Some(step) = walk.way.last_mut() {
            let Some(next) = step.left.pop() else {
                self.leave(namespace, &mut walk);
                continue;
            };
            if let Some(came) = walk.came.get(&next) {
                step.leads_to_itself |= next == step.name;
                step.reaches = step.reaches.min(*came);
            } else if !self.is_in_a_round(namespace, &next) {
                let leads = self.leads(namespace, &next);
                walk.go_to(next, leads);
            }
        }
    }

    /// Goes back from a name that everything was looked at from.
    fn leave(&self, namespace: Namespace, walk: &mut Walk) {
        let Some(done) = walk.way.pop() else { return };
        if let Some(before) = walk.way.last_mut() {
            before.reaches = before.reaches.min(done.reaches);
        }
        if done.reaches < done.came {
            return;
        }
        let from = walk.open.iter().rposition(|name| *name == done.name);
        let members = walk.open.split_off(from.unwrap_or_default());
        let is_round = members.len() > 1 || done.leads_to_itself;
        let declared = |name: &SmolStr| -> Option<(Place, SmolStr)> {
            Some((self.declared_at(namespace, name)?, name.clone()))
        };
        let first = members.iter().filter_map(declared).min();
        let mut rounds = self.rounds.borrow_mut();
        let round = rounds.first.len();
        rounds
            .first
            .push(first.map(|(_, name)| name).filter(|_| is_round));
        for member in members {
            walk.came.remove(&member);
            rounds.of.insert((namespace, member), round);
        }
    }

    /// Whether each of two names that were looked at leads to the other.
    pub(super) fn are_in_one_round(&self, namespace: Namespace, one: &str, other: &str) -> bool {
        let rounds = self.rounds.borrow();
        let round = |name: &str| rounds.of.get(&(namespace, SmolStr::new(name)));
        round(one).is_some_and(|own| round(other) == Some(own))
    }

    fn is_in_a_round(&self, namespace: Namespace, name: &SmolStr) -> bool {
        let key = (namespace, name.clone());
        self.rounds.borrow().of.contains_key(&key)
    }

    /// What a name leads to, of that what leads round.
    fn leads(&self, namespace: Namespace, name: &str) -> Vec<SmolStr> {
        let links = self.links(namespace, name).into_iter();
        let leads = links.filter(|(to, _)| self.chain(namespace, to) == Chain::Circles);
        leads.map(|(to, _)| to).collect()
    }
}

impl Walk {
    fn go_to(&mut self, name: SmolStr, left: Vec<SmolStr>) {
        // Rounds are taken from the end of what is open, so those that stay open keep their order.
        let came = self.open.len();
        self.came.insert(name.clone(), came);
        self.open.push(name.clone());
        self.way.push(Step {
            name,
            left,
            came,
            reaches: came,
            leads_to_itself: false,
        });
    }
}
