//! Which thing of one side is which of the other: the same text and name, or else a name there is only one of.

use std::collections::BTreeMap;

use crate::change::Pair;

/// Pairs what has the same text and name; then what has a name that each side has only once.
///
/// `key` gives the text and the name. Both lists keep their order; what has no other stands alone.
pub(crate) fn pairs<T: Clone>(
    before: &[T],
    after: &[T],
    key: impl Fn(&T) -> (String, String),
) -> Vec<Pair<T>> {
    let mut ranks: BTreeMap<(String, String), Vec<usize>> = BTreeMap::new();
    for (rank, one) in after.iter().enumerate().rev() {
        ranks.entry(key(one)).or_default().push(rank);
    }
    let mut other_of: Vec<Option<usize>> = before
        .iter()
        .map(|one| ranks.get_mut(&key(one)).and_then(Vec::pop))
        .collect();
    let (only_before, only_after) = (alone(before, &key), alone(after, &key));
    for (rank, other) in other_of.iter_mut().enumerate() {
        let name = before.get(rank).map(|one| key(one).1);
        let is_alone = |name: &String| only_before.get(name) == Some(&Some(rank));
        if let Some(name) = name.filter(|name| other.is_none() && is_alone(name)) {
            *other = only_after.get(&name).copied().flatten();
        }
    }
    let mut taken = vec![false; after.len()];
    let mut paired = Vec::new();
    for (one, other) in before.iter().zip(&other_of) {
        let other = other.inspect(|rank| {
            if let Some(taken) = taken.get_mut(*rank) {
                *taken = true;
            }
        });
        paired.push(Pair {
            before: Some(one.clone()),
            after: other.and_then(|rank| after.get(rank)).cloned(),
        });
    }
    let left = after.iter().zip(&taken).filter(|(_, taken)| !**taken);
    paired.extend(left.map(|(one, _)| Pair {
        before: None,
        after: Some(one.clone()),
    }));
    paired
}

/// The rank of each name that is there once; none for the others.
fn alone<T>(things: &[T], key: impl Fn(&T) -> (String, String)) -> BTreeMap<String, Option<usize>> {
    let mut ranks = BTreeMap::new();
    for (rank, thing) in things.iter().enumerate() {
        let only = ranks.entry(key(thing).1);
        only.and_modify(|rank| *rank = None).or_insert(Some(rank));
    }
    ranks
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paired(before: &[&str], after: &[&str]) -> Vec<String> {
        let key = |one: &&str| {
            let (file, name) = one.split_once('/').unwrap_or(("", one));
            (file.to_owned(), name.to_owned())
        };
        let pairs = pairs(before, after, key).into_iter();
        let shown = pairs.map(|pair| {
            format!(
                "{} {}",
                pair.before.unwrap_or("-"),
                pair.after.unwrap_or("-")
            )
        });
        shown.collect()
    }

    #[test]
    fn a_name_that_is_there_once_is_found_in_another_text() {
        assert_eq!(
            paired(&["a/layer", "a/grower"], &["b/layer", "a/grower"]),
            ["a/layer b/layer", "a/grower a/grower"]
        );
    }

    #[test]
    fn a_name_that_is_there_twice_is_not_guessed() {
        assert_eq!(
            paired(&["a/layer", "b/layer"], &["a/layer", "c/layer"]),
            ["a/layer a/layer", "b/layer -", "- c/layer"]
        );
        assert_eq!(
            paired(&["a/layer"], &["a/layer", "c/layer"]),
            ["a/layer a/layer", "- c/layer"]
        );
    }
}
