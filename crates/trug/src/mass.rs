//! A mass as it is typed: `250kg`, `250 kg`, `0.5 t`, `500lb`.

use trug_model::Q;
use trug_model::quantity::{Base, Dimension, word};

use crate::ending::Failure;

/// Reads a mass in kg. No unit is ever guessed.
pub(crate) fn mass(typed: &str) -> Result<Q, Failure> {
    let refused = || Failure::new(format!("{} is no mass to mix", typed.escape_debug()));
    let plain = typed.trim();
    let ends = plain.find(|letter: char| !letter.is_ascii_digit() && !".,".contains(letter));
    let (number, unit) = plain.split_at(ends.unwrap_or(plain.len()));
    if number.contains(',') {
        return Err(
            refused().help("write the number with a point and without commas, such as 1250.5kg")
        );
    }
    let is_short = number.len() <= MOST_DIGITS;
    let number = Q::decimal(number).filter(|number| is_short && number.is_positive());
    let unit = word(unit.trim()).filter(|unit| unit.dimension == Dimension::of(Base::Mass));
    match (number, unit) {
        (Some(number), Some(unit)) => Ok(number * unit.factor),
        _ => {
            Err(refused()
                .help("write a number above 0 with its unit, such as 250kg, 0.5t or 500lb"))
        }
    }
}

/// As many as a number in a text may have.
const MOST_DIGITS: usize = 40;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn masses_are_read_with_and_without_a_blank() {
        let kg = |typed: &str| mass(typed).ok().map(|mass| mass.exact());
        assert_eq!(kg("250kg"), kg("0.25 t"));
        assert_eq!(kg(" 250  kg "), Some("250/1".to_owned()));
        assert_eq!(kg("1500g"), Some("3/2".to_owned()));
        assert_eq!(kg("100lb"), Some("45359237/1000000".to_owned()));
    }

    #[test]
    fn what_is_no_mass_is_refused() {
        for typed in [
            "", "250", "kg", "0kg", "-5kg", "1,5t", "1.2.3kg", ".5kg", "250 L", "250 kg/t",
            "5 horses",
        ] {
            assert!(mass(typed).is_err(), "{typed}");
        }
    }
}
