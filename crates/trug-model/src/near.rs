//! Names that are near to what was written, and how much may be spent on looking for them.

use std::cell::Cell;

/// The known name nearest to what was written; none where none is near.
///
/// Near is within a third of the letters, counting swapped neighbours as one.
pub(crate) fn nearest<'a>(written: &str, names: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    nearest_within(&Cell::new(usize::MAX), written, names)
}

/// Letters of the longest name that is looked at: nobody mistypes a longer one, and comparing takes the square of them.
const LONGEST_COMPARED: usize = 60;

/// What a text may spend on looking for near names: enough for a hundred mistyped among thousands of known ones. A hundred
/// thousand unknown among a hundred thousand known are not all compared: the later ones are offered nothing.
pub(crate) const LETTERS_COMPARED: usize = 1_000_000;

/// The same while something is `left` to spend on it, counted in letters that are compared.
pub(crate) fn nearest_within<'a>(
    left: &Cell<usize>,
    written: &str,
    names: impl Iterator<Item = &'a str>,
) -> Option<&'a str> {
    let folded = written.to_lowercase();
    let letters = written.chars().count();
    if LONGEST_COMPARED < letters {
        return None;
    }
    let most = (letters / 3).max(1);
    let own = Bag::of(&folded);
    let mut best: Option<(usize, &str)> = None;
    for name in names {
        if left.get() == 0 {
            break;
        }
        // A letter has four bytes at most.
        if name.len() / 4 > LONGEST_COMPARED {
            spend(left, 1);
            continue;
        }
        let known = name.to_lowercase();
        if own.least_distance(&Bag::of(&known)) > most {
            spend(left, 1);
            continue;
        }
        spend(left, letters);
        let distance = strsim::damerau_levenshtein(&folded, &known);
        if distance <= most
            && name != written
            && best.is_none_or(|(known, other)| (distance, name) < (known, other))
        {
            best = Some((distance, name));
        }
    }
    best.map(|(_, name)| name)
}

fn spend(left: &Cell<usize>, letters: usize) {
    left.set(left.get().saturating_sub(letters));
}

/// How often each letter stands in a word, letters of one rank counted as one.
struct Bag([u16; 32]);

impl Bag {
    fn of(word: &str) -> Bag {
        let mut bag = [0_u16; 32];
        for letter in word.chars() {
            let count = &mut bag[letter as usize % 32];
            *count = count.saturating_add(1);
        }
        Bag(bag)
    }

    /// Fewer changes do not make one word of the other: each puts in one letter and takes out one, at most.
    fn least_distance(&self, other: &Bag) -> usize {
        let (mut in_own, mut in_other) = (0, 0);
        for (own, other) in self.0.iter().zip(&other.0) {
            in_own += usize::from(own.saturating_sub(*other));
            in_other += usize::from(other.saturating_sub(*own));
        }
        in_own.max(in_other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every pair of these, by the distance alone.
    fn plainly<'a>(written: &str, names: &[&'a str]) -> Option<&'a str> {
        let folded = written.to_lowercase();
        let most = (written.chars().count() / 3).max(1);
        let distance = |name: &str| strsim::damerau_levenshtein(&folded, &name.to_lowercase());
        let near = names.iter().copied().filter(|name| *name != written);
        let near = near.filter(|name| distance(name) <= most);
        near.min_by_key(|name| (distance(name), *name))
    }

    #[test]
    fn leaving_out_what_cannot_be_near_changes_nothing() {
        let names = [
            "maize",
            "Maize",
            "maiez",
            "wheat",
            "wheat-bran",
            "rice-bran",
            "rice",
            "oats",
            "oat",
            "soya-meal",
            "soya",
            "salt",
            "sand",
            "කැඩුනු",
            "කැඩුන",
            "İstanbul",
            "istanbul",
            "ß",
            "ss",
        ];
        for written in names
            .iter()
            .chain(&["maze", "mazie", "bran", "slat", "soja-meal", "x"])
        {
            let known = nearest(written, names.iter().copied());
            assert_eq!(known, plainly(written, &names), "{written}");
        }
    }

    #[test]
    fn what_is_spent_on_near_names_has_an_end() {
        let known: Vec<String> = (0..2_000).map(|rank| format!("feed-{rank}")).collect();
        let left = Cell::new(LETTERS_COMPARED);
        let mut offered = 0;
        let mut compared = 0;
        for rank in 0..2_000 {
            let written = format!("feet-{rank}");
            let looked_at = known.iter().map(|name| {
                compared += 1;
                name.as_str()
            });
            offered += usize::from(nearest_within(&left, &written, looked_at).is_some());
        }
        assert_eq!(left.get(), 0);
        assert!(
            offered >= 50,
            "{offered} of the first are offered their near name"
        );
        assert!(
            compared <= LETTERS_COMPARED,
            "{compared} of four million pairs"
        );
    }
}
