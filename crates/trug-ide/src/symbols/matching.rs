//! How near a name is to what was typed for it.

/// The nearer, the less.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Rank {
    /// The letters stand together: at the start, at the start of a word, elsewhere; or apart.
    form: u8,
    /// FoundSymbol in the label and not in the name.
    in_label: bool,
    /// Letters between the first and the last that was typed.
    gaps: usize,
    /// Letters in all.
    length: usize,
}

impl Rank {
    pub(super) fn of_label(self) -> Rank {
        Rank {
            in_label: true,
            ..self
        }
    }
}

/// How near the name is; none where it does not have the letters in that order. The query is in lower case.
pub(super) fn rank(query: &str, name: &str) -> Option<Rank> {
    if name.is_empty() {
        return None;
    }
    let name = name.to_lowercase();
    let length = name.chars().count();
    let (form, gaps) = match name.find(query) {
        Some(0) if name.len() == query.len() => (0, 0),
        Some(0) => (1, 0),
        Some(_) if starts_a_word(query, &name) => (2, 0),
        Some(_) => (3, 0),
        None => (4, gaps(query, &name)?),
    };
    Some(Rank {
        form,
        in_label: false,
        gaps,
        length,
    })
}

fn starts_a_word(query: &str, name: &str) -> bool {
    let is_edge = |letter: char| letter == '-' || letter.is_whitespace();
    name.match_indices(query).any(|(at, _)| {
        name.get(..at)
            .is_some_and(|before| before.ends_with(is_edge))
    })
}

/// The letters left out on the way through the name; none where a letter is missing. Blanks and hyphens are not looked for.
fn gaps(query: &str, name: &str) -> Option<usize> {
    let mut letters = name.chars().enumerate();
    let mut ends: Option<(usize, usize)> = None;
    let mut count = 0;
    for wanted in query.chars().filter(|it| !it.is_whitespace() && *it != '-') {
        let (at, _) = letters.by_ref().find(|(_, letter)| *letter == wanted)?;
        let first = ends.map_or(at, |(first, _)| first);
        ends = Some((first, at));
        count += 1;
    }
    let (first, last) = ends?;
    Some(last + 1 - first - count)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_comes_first() {
        let names = [
            "broken-rice",
            "rice",
            "bran-of-rice",
            "price-list",
            "barley-icing",
            "maize",
        ];
        let mut ranked: Vec<_> = names
            .iter()
            .filter_map(|name| Some((rank("rice", name)?, *name)))
            .collect();
        ranked.sort();
        let order: Vec<&str> = ranked.into_iter().map(|(_, name)| name).collect();
        assert_eq!(order, ["rice", "broken-rice", "bran-of-rice", "price-list"]);
        assert!(rank("bice", "barley-icing").is_none());
        assert!(rank("brice", "broken-rice").is_some());
        assert!(rank("broken rice", "broken-rice").is_some());
        assert!(rank("", "maize").is_some());
    }
}
