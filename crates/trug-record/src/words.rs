//! Amounts, days and names as people read them.

use jiff::ToSpan;
use jiff::civil::Date;
use trug_model::Q;

/// A mass of so many kg: in kg, or in g below one.
pub(crate) fn mass(kg: &Q) -> String {
    if kg.abs() < Q::ONE {
        format!("{} g", (kg * &Q::int(1000)).readable(4))
    } else {
        format!("{} kg", kg.readable(5))
    }
}

/// Two masses beside each other: both with as many figures as tell them apart.
pub(crate) fn masses_apart(one: &Q, other: &Q) -> (String, String) {
    let (short, long) = (mass(one), mass(other));
    if short != long || one == other {
        return (short, long);
    }
    let told = |kg: &Q| format!("{} g", (kg * &Q::int(1000)).readable(9));
    (told(one), told(other))
}

/// Names in a row, with `and` before the last; the first few where there are many.
pub(crate) fn names<T: AsRef<str>>(names: &[T]) -> String {
    const SHOWN: usize = 4;
    let names: Vec<&str> = names.iter().map(AsRef::as_ref).collect();
    match names.as_slice() {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [others @ .., last] if names.len() <= SHOWN => {
            format!("{} and {last}", others.join(", "))
        }
        many => {
            let (shown, more) = many.split_at(SHOWN - 1);
            format!("{} and {} more", shown.join(", "), more.len())
        }
    }
}

/// The last of so many days after a day; none beyond the calendar.
pub(crate) fn days_after(day: Date, days: &Q) -> Option<Date> {
    day.checked_add(days.to_i64()?.days()).ok()
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;

    #[test]
    fn masses_read_plainly() {
        assert_eq!(mass(&Q::ratio(3, 10)), "300 g");
        assert_eq!(mass(&Q::ratio(277, 5)), "55.4 kg");
        let close = masses_apart(&Q::ratio(3_000_001, 1_000_000), &Q::int(3));
        assert_eq!(close, ("3000.001 g".to_owned(), "3000 g".to_owned()));
    }

    #[test]
    fn names_are_joined() {
        assert_eq!(names(&["maize"]), "maize");
        assert_eq!(names(&["maize", "bran", "oil"]), "maize, bran and oil");
        assert_eq!(names(&["a", "b", "c", "d", "e"]), "a, b, c and 2 more");
    }

    #[test]
    fn days_are_counted_over_the_end_of_a_month() {
        assert_eq!(
            days_after(date(2026, 11, 21), &Q::int(21)),
            Some(date(2026, 12, 12))
        );
        assert_eq!(days_after(Date::MAX, &Q::ONE), None);
    }
}
