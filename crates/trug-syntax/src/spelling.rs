//! Everyday spellings that are understood with a note: units as people write them, signs as text processors set them.
//!
//! Only spellings with one meaning stand here. `Mg`, `MG`, `T`, `ton`, `gr`, `mj` and the like have two, or another
//! one than was meant by a factor of a thousand; they stay as written and are unknown units.

use std::ops::Range;

use crate::lines::is_typographic_quote;

/// The usual form of a unit's word; none where it already has it.
#[must_use]
pub fn usual_unit(word: &str) -> Option<&'static str> {
    // Most words are these; comparing them first keeps the long list out of the common path.
    if matches!(
        word,
        "%" | "kg" | "g" | "t" | "mg" | "L" | "MJ" | "IU" | "day" | "days" | "LKR"
    ) {
        return None;
    }
    let usual = match word {
        "\u{ff05}" | "percent" | "pct" => "%",
        "mcg" | "\u{b5}g" | "\u{3bc}g" | "microgram" | "micrograms" => "ug",
        "\u{b5}m" | "\u{3bc}m" | "micron" | "microns" => "um",
        "mgs" | "milligram" | "milligrams" => "mg",
        "gm" | "gms" | "Gm" | "gram" | "grams" | "Gram" | "Grams" | "gramme" | "grammes" => "g",
        "Kg" | "KG" | "kG" | "kgs" | "Kgs" | "KGs" | "KGS" | "kilo" | "kilos" | "kilogram"
        | "kilograms" | "Kilogram" | "kilogramme" | "kilogrammes" => "kg",
        "tonne" | "tonnes" | "Tonne" | "Tonnes" => "t",
        "lbs" | "Lb" | "Lbs" | "LB" | "LBS" | "pound" | "pounds" => "lb",
        "ounce" | "ounces" | "Oz" | "OZ" => "oz",
        "ml" | "mls" | "millilitre" | "millilitres" | "milliliter" | "milliliters" | "cc" => "mL",
        "l" | "lt" | "ltr" | "ltrs" | "Ltr" | "Ltrs" | "litre" | "litres" | "liter" | "liters"
        | "Litre" | "Litres" | "Liter" | "Liters" => "L",
        "m\u{b3}" => "m3",
        "Kj" | "KJ" => "kJ",
        "Kcal" | "KCal" | "kCal" => "kcal",
        "MCal" => "Mcal",
        "mEq" => "meq",
        "Eq" => "eq",
        "iu" | "Iu" => "IU",
        "PPM" | "Ppm" => "ppm",
        "hr" | "hrs" | "hour" | "hours" => "h",
        "Day" | "Days" => "day",
        "wk" | "wks" | "Week" | "Weeks" => "week",
        _ => return None,
    };
    Some(usual)
}

/// Signs as text processors set them, outside quotes: each with what is typed instead. Ranges are of `line`.
pub(crate) fn typography(line: &str) -> Vec<(Range<usize>, &'static str)> {
    let mut found: Vec<(Range<usize>, &'static str)> = Vec::new();
    let mut in_quotes = None;
    for (at, character) in line.char_indices() {
        let here = at..at + character.len_utf8();
        match in_quotes {
            None if character == '"' || is_typographic_quote(character) => {
                in_quotes = Some(character == '"')
            }
            Some(is_straight) => {
                let closes = if is_straight {
                    character == '"'
                } else {
                    is_typographic_quote(character)
                };
                if closes {
                    in_quotes = None;
                }
            }
            None => {
                let Some(typed) = typed(character) else {
                    continue;
                };
                match found.last_mut() {
                    Some((last, before)) if last.end == at && *before == " " && typed == " " => {
                        last.end = here.end
                    }
                    _ => found.push((here, typed)),
                }
            }
        }
    }
    found
}

fn typed(character: char) -> Option<&'static str> {
    match character {
        '\u{2026}' => Some(".."),
        '\u{2212}' | '\u{2013}' => Some("-"),
        _ if !character.is_ascii() && character.is_whitespace() => Some(" "),
        _ => None,
    }
}

/// A text in quotes: what the quotes hold, with doubled quotes single.
pub(crate) fn quoted(text: &str) -> String {
    let mut inside = text.chars();
    let opens = inside.next();
    inside.next_back();
    let inside = inside.as_str();
    if opens == Some('"') && inside.contains('"') {
        inside.replace("\"\"", "\"")
    } else {
        inside.to_owned()
    }
}

/// A text as it stands in straight quotes.
pub(crate) fn in_straight_quotes(text: &str) -> String {
    format!("\"{}\"", text.replace('"', "\"\""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_of_two_meanings_stay() {
        for word in [
            "Mg", "MG", "mj", "T", "ton", "gr", "ML", "u", "mcal", "M", "IU", "U", "MJ", "mg",
        ] {
            assert_eq!(usual_unit(word), None, "{word}");
        }
        assert_eq!(usual_unit("mcg"), Some("ug"));
        assert_eq!(usual_unit("\u{b5}g"), Some("ug"));
        assert_eq!(usual_unit("KG"), Some("kg"));
    }

    #[test]
    fn typography_is_found_outside_quotes_only() {
        assert_eq!(
            typography("a\u{a0}\u{a0}“x\u{a0}…” −5 … 6"),
            [(1..5, " "), (18..21, "-"), (23..26, "..")]
        );
    }
}
