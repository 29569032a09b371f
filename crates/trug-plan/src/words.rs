//! Amounts as people read them.

use trug_model::Q;

/// A mass in grams or, from a kilogram on, in kilograms.
pub(crate) fn mass(grams: &Q) -> String {
    let kilogram = Q::int(1000);
    if grams.abs() < kilogram {
        format!("{} g", grams.readable(4))
    } else {
        format!("{} kg", (grams / &kilogram).readable(4))
    }
}

/// A fraction as percent.
pub(crate) fn percent(fraction: &Q) -> String {
    format!("{} %", (fraction * &Q::int(100)).readable(3))
}

/// Names in a row, with `and` before the last.
pub(crate) fn names(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [others @ .., last] => format!("{} and {last}", others.join(", ")),
    }
}

/// Steps by their ids, the first few where there are many.
pub(crate) fn steps(acts: impl Iterator<Item = usize>) -> String {
    const SHOWN: usize = 5;
    let ids: Vec<String> = acts.map(|act| format!("s{}", act + 1)).collect();
    let mut shown: Vec<&str> = ids.iter().map(String::as_str).take(SHOWN).collect();
    let more = format!("{} more", ids.len().saturating_sub(SHOWN));
    if ids.len() > SHOWN {
        shown.push(&more);
    }
    names(&shown)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_read_plainly() {
        assert_eq!(mass(&Q::ratio(75, 2)), "37.5 g");
        assert_eq!(mass(&Q::int(55_400)), "55.4 kg");
        assert_eq!(percent(&Q::ratio(1, 3)), "33.3 %");
        assert_eq!(names(&["maize", "bran", "oil"]), "maize, bran and oil");
        assert_eq!(steps([0, 2].into_iter()), "s1 and s3");
        assert_eq!(steps(0..9), "s1, s2, s3, s4, s5 and 4 more");
    }
}
