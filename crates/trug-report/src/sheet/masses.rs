//! Masses as they are read off a scale or said over the telephone.

use trug_model::Q;

use crate::speech::{Part, Speech};

/// Decimals of a mass that does not end: no scale shows more.
const MOST_DECIMALS: usize = 3;

/// Kilograms from one on, grams below; every digit a scale of this plan shows, and none it does not.
pub(super) fn shown(grams: &Q, speech: &Speech) -> String {
    let unit = Unit::of(grams);
    speech.quantity(&unit.digits(grams), unit.word)
}

/// `588 to 612 g`, in the unit the mass itself is said in.
pub(super) fn shown_range(from: &Q, to: &Q, mass: &Q, speech: &Speech) -> String {
    let unit = Unit::of(mass);
    speech.range(&unit.digits(from), &unit.digits(to), unit.word)
}

/// What a mass is said and typed in.
pub(super) struct Unit {
    /// Its symbol.
    pub(super) word: &'static str,
    /// How many grams it is.
    pub(super) grams: u32,
}

impl Unit {
    /// The unit a mass is said in.
    pub(super) fn of(grams: &Q) -> Unit {
        if grams.abs() >= Q::int(1000) {
            Unit {
                word: "kg",
                grams: 1000,
            }
        } else {
            Unit {
                word: "g",
                grams: 1,
            }
        }
    }

    fn digits(&self, grams: &Q) -> String {
        let value = grams / &Q::int(i64::from(self.grams));
        if value.decimals_end() {
            value.to_string()
        } else {
            value.rounded(MOST_DECIMALS)
        }
    }
}

/// `19.1 kg, 19.1 kg and 19 kg`; many alike are counted.
pub(super) fn shown_loads(loads: &[Q], speech: &Speech) -> String {
    let mut runs: Vec<(usize, &Q)> = Vec::new();
    for load in loads {
        match runs.last_mut() {
            Some((count, last)) if *last == load => *count += 1,
            _ => runs.push((1, load)),
        }
    }
    let words: Vec<String> = runs
        .iter()
        .map(|(count, load)| {
            let mass = shown(load, speech);
            match count {
                1 => mass,
                many => {
                    let parts = [("count", Part::Count(*many)), ("mass", Part::Words(&mass))];
                    speech.say_of("loads-alike", &parts)
                }
            }
        })
        .collect();
    speech.list(&words)
}

/// Kilograms, all with as many decimals as the finest of them needs, so that they add up on the page.
pub(super) fn column_of_kilograms(masses: &[&Q]) -> Vec<String> {
    let kilograms: Vec<Q> = masses.iter().map(|mass| *mass / &Q::int(1000)).collect();
    let decimals = kilograms
        .iter()
        .map(|mass| {
            let digits = mass.to_string();
            digits
                .split_once('.')
                .map_or(0, |(_, decimals)| decimals.len())
        })
        .max()
        .unwrap_or(0);
    kilograms
        .iter()
        .map(|mass| {
            let digits = mass.rounded(decimals);
            let (whole, part) = digits.split_once('.').unwrap_or((&digits, ""));
            if decimals == 0 {
                whole.to_owned()
            } else {
                format!("{whole}.{part:0<decimals$}")
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn masses_are_said_in_kilograms_from_one_on() {
        let english = Speech::english();
        let shown = |grams: &Q| shown(grams, english);
        assert_eq!(shown(&Q::int(999)), "999 g");
        assert_eq!(shown(&Q::int(1000)), "1 kg");
        assert_eq!(shown(&Q::ratio(3, 10)), "0.3 g");
        assert_eq!(shown(&Q::ratio(1000, 3)), "333.333 g");
        let (from, to) = (Q::int(980), Q::int(1020));
        let range = |mass: i64| shown_range(&from, &to, &Q::int(mass), english);
        assert_eq!(range(1000), "0.98\u{a0}to\u{a0}1.02\u{a0}kg");
        assert_eq!(range(999), "980\u{a0}to\u{a0}1020\u{a0}g");
    }

    #[test]
    fn loads_alike_are_counted() {
        let english = Speech::english();
        let loads = [Q::int(25_000), Q::int(25_000), Q::int(1500)];
        assert_eq!(shown_loads(&loads, english), "2 of 25 kg and 1.5 kg");
        assert_eq!(shown_loads(&loads[2..], english), "1.5 kg");
    }

    #[test]
    fn a_column_has_one_number_of_decimals() {
        let (a, b) = (Q::int(47_980), Q::ratio(3755, 10));
        assert_eq!(column_of_kilograms(&[&a, &b]), ["47.9800", "0.3755"]);
        assert_eq!(column_of_kilograms(&[&Q::int(3000)]), ["3"]);
    }
}
