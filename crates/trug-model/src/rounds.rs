//! Which things lead round to each other, found in one walk however many there are (Tarjan, Depth-first search and linear graph
//! algorithms, 1972).

use std::collections::BTreeMap;

/// Rounds: things that all lead to each other.
#[derive(Debug)]
pub(crate) struct Rounds<K> {
    /// The round of each thing that was looked at; one that is alone, and does not lead to itself, has an empty one.
    of: BTreeMap<K, usize>,
    members: Vec<Vec<K>>,
}

/// A thing on the way, with what it leads to and was not looked at yet.
struct Step<K> {
    thing: K,
    left: Vec<K>,
    /// When it was come to.
    came: usize,
    /// The earliest thing on the way that can be reached from it.
    reaches: usize,
    leads_to_itself: bool,
}

/// A walk from one thing.
struct Walk<K> {
    way: Vec<Step<K>>,
    /// What was come to and whose round is not known yet, and when.
    open: Vec<K>,
    came: BTreeMap<K, usize>,
}

impl<K: Ord + Clone> Rounds<K> {
    /// The rounds among these things and all they lead to. The members of each stand in the order of their `rank`.
    pub(crate) fn of<R: Ord>(
        starts: impl Iterator<Item = K>,
        leads: impl Fn(&K) -> Vec<K>,
        rank: impl Fn(&K) -> R,
    ) -> Rounds<K> {
        let mut rounds = Rounds {
            of: BTreeMap::new(),
            members: Vec::new(),
        };
        for start in starts {
            if !rounds.of.contains_key(&start) {
                rounds.walk(start, &leads);
            }
        }
        for members in &mut rounds.members {
            members.sort_by_cached_key(&rank);
        }
        rounds
    }

    /// All that lead to a thing and to which it leads, itself among them; none where it does not lead to itself.
    pub(crate) fn round_of(&self, thing: &K) -> Option<&[K]> {
        let members = self.members.get(*self.of.get(thing)?)?;
        (!members.is_empty()).then_some(members)
    }

    /// Whether each of two things leads to the other.
    pub(crate) fn are_in_one(&self, one: &K, other: &K) -> bool {
        let round = self.of.get(one);
        round.is_some() && round == self.of.get(other)
    }

    fn walk(&mut self, start: K, leads: &impl Fn(&K) -> Vec<K>) {
        let mut walk = Walk {
            way: Vec::new(),
            open: Vec::new(),
            came: BTreeMap::new(),
        };
        let left = leads(&start);
        walk.go_to(start, left);
        while let Some(step) = walk.way.last_mut() {
            let Some(next) = step.left.pop() else {
                self.leave(&mut walk);
                continue;
            };
            if let Some(came) = walk.came.get(&next) {
                step.leads_to_itself |= next == step.thing;
                step.reaches = step.reaches.min(*came);
            } else if !self.of.contains_key(&next) {
                let left = leads(&next);
                walk.go_to(next, left);
            }
        }
    }

    /// Goes back from a thing that everything was looked at from.
    fn leave(&mut self, walk: &mut Walk<K>) {
        let Some(done) = walk.way.pop() else { return };
        if let Some(before) = walk.way.last_mut() {
            before.reaches = before.reaches.min(done.reaches);
        }
        if done.reaches < done.came {
            return;
        }
        let members = walk.open.split_off(done.came);
        let round = self.members.len();
        for member in &members {
            walk.came.remove(member);
            self.of.insert(member.clone(), round);
        }
        let is_round = members.len() > 1 || done.leads_to_itself;
        self.members
            .push(if is_round { members } else { Vec::new() });
    }
}

impl<K: Ord + Clone> Walk<K> {
    fn go_to(&mut self, thing: K, left: Vec<K>) {
        // Rounds are taken from the end of what is open, so those that stay open keep their order.
        let came = self.open.len();
        self.came.insert(thing.clone(), came);
        self.open.push(thing.clone());
        self.way.push(Step {
            thing,
            left,
            came,
            reaches: came,
            leads_to_itself: false,
        });
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::*;

    /// What can be reached from a thing in one step or more, by following everything.
    fn reached(links: &[(u8, u8)], from: u8) -> BTreeSet<u8> {
        let mut reached = BTreeSet::new();
        let mut next = vec![from];
        while let Some(at) = next.pop() {
            for (_, to) in links.iter().filter(|(link, _)| *link == at) {
                if reached.insert(*to) {
                    next.push(*to);
                }
            }
        }
        reached
    }

    proptest! {
        #[test]
        fn rounds_are_what_reaches_each_other(links in prop::collection::vec((0..12_u8, 0..12_u8), 0..30)) {
            let leads = |at: &u8| -> Vec<u8> {
                links.iter().filter(|(from, _)| from == at).map(|(_, to)| *to).collect()
            };
            let rounds = Rounds::of(0..12, leads, |thing| *thing);
            for one in 0..12 {
                let ahead = reached(&links, one);
                let round: Vec<u8> = ahead.iter().copied().filter(|other| reached(&links, *other).contains(&one)).collect();
                prop_assert_eq!(rounds.round_of(&one).unwrap_or_default(), &round[..]);
                for other in 0..12 {
                    prop_assert_eq!(rounds.are_in_one(&one, &other), one == other || round.contains(&other));
                }
            }
        }
    }
}
