//! What can be said about names while they are read.

use trug_findings::{Code, Finding, Place};

/// A word of the language stands where an item declares its name.
pub static RESERVED: Code = Code::error("name/reserved", include_str!("pages/name-reserved.md"));

/// All codes of this family that are raised while reading.
pub static ALL: &[&Code] = &[&RESERVED];

/// `ration rest`: the name is a word of the language.
#[must_use]
pub fn reserved(place: Place, keyword: &str, name: &str) -> Finding {
    let kind = match keyword {
        "ingredient" | "ration" => "feed",
        other => other,
    };
    let lower = name.to_lowercase();
    let other = format!("{lower}-{kind}");
    RESERVED
        .at(place)
        .says(format!(
            "`{name}` is a word of the language and cannot be a name"
        ))
        .help(format!(
            "choose another name, such as `{other}`, wherever it is meant"
        ))
        .offer(format!("name it `{other}` here"), place, other)
}
