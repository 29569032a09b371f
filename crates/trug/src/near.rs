//! Which known words are spelled much like one that was typed.

/// The known words near to `typed`, the nearest first; none where all are far.
pub(crate) fn nearest<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    // Of a long word a third may be wrong, of a short one a letter.
    let most = (typed.chars().count() / 3).max(1);
    let mut near: Vec<(usize, &str)> = known
        .into_iter()
        .map(|word| (strsim::damerau_levenshtein(typed, word), word))
        .filter(|(distance, _)| *distance <= most)
        .collect();
    near.sort_unstable();
    near.truncate(MOST_OFFERED);
    near.into_iter().map(|(_, word)| word).collect()
}

const MOST_OFFERED: usize = 4;

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn near_words_are_offered_and_far_ones_are_not() {
        let known = ["sum/over", "sum/short", "dose/over", "use/missing"];
        assert_eq!(nearest("sum/ovre", known), ["sum/over"]);
        assert_eq!(nearest("sun/over", known), ["sum/over"]);
        assert!(nearest("horse", known).is_empty());
        assert!(nearest("", known).is_empty());
    }
}
