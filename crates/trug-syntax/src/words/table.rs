//! The table of items: each with its lines, what it wants and an example as it is typed.

use super::lines::{
    ANIMAL, ANIMAL_BOUND, GROUP, GROUP_ANIMALS, INGREDIENT, INGREDIENT_CONTENT, LOT, METHOD,
    RATION, RATION_AMOUNT, RECORD, TARGET, TARGETS,
};
use super::{ItemWord, LineWord};
use crate::grammar::Rule;

const fn item(
    word: &'static str,
    rule: Rule,
    wants: &'static str,
    example: &'static str,
    lines: &'static [LineWord],
    otherwise: Option<&'static LineWord>,
) -> ItemWord {
    ItemWord {
        word,
        wants,
        example,
        lines,
        otherwise,
        rule,
    }
}

/// The words that open items, in the order of the reference.
pub static ITEMS: &[ItemWord] = &[
    item(
        "use",
        Rule::use_item,
        "a file name in quotes, or `book` and its name",
        "use \"yard.trug\"",
        &[],
        None,
    ),
    item(
        "unit",
        Rule::unit_item,
        "a name, `=` and how much one holds",
        "unit sack = 50 kg",
        &[],
        None,
    ),
    item(
        "rate",
        Rule::rate_item,
        "money, `=` and what it is worth",
        "rate 1 EUR = 325 LKR",
        &[],
        None,
    ),
    item(
        "animal",
        Rule::animal_item,
        "a name, and perhaps `is` another animal and a label in quotes",
        "animal laying-duck is duck \"Laying duck\"",
        ANIMAL,
        Some(&ANIMAL_BOUND),
    ),
    item(
        "nutrient",
        Rule::nutrient_item,
        "a name, and `in` how it is counted or `=` a sum of others",
        "nutrient lysine \"Lysine\" in share",
        &[],
        None,
    ),
    item(
        "ingredient",
        Rule::ingredient_item,
        "a name, and perhaps a label in quotes",
        "ingredient broken-rice \"Broken rice\"",
        INGREDIENT,
        Some(&INGREDIENT_CONTENT),
    ),
    item(
        "lot",
        Rule::lot_item,
        "a name, `of` an ingredient, and perhaps a label in quotes",
        "lot BR-17 of broken-rice \"240817/B\"",
        LOT,
        Some(&INGREDIENT_CONTENT),
    ),
    item(
        "targets",
        Rule::targets_item,
        "a name, and perhaps `for` an animal, and the days of its life as `from day 0 to 21`",
        "targets duck-lay for laying-duck",
        TARGETS,
        Some(&TARGET),
    ),
    item(
        "ration",
        Rule::ration_item,
        "a name, and perhaps `like` another ration and a label in quotes",
        "ration river-layer \"River layer mash\"",
        RATION,
        Some(&RATION_AMOUNT),
    ),
    item(
        "scale",
        Rule::scale_item,
        "a name, the most it weighs, `by` and its steps",
        "scale bench \"Kitchen scale\" 5 kg by 1 g",
        &[],
        None,
    ),
    item(
        "vessel",
        Rule::vessel_item,
        "a name, perhaps how many, and what each holds",
        "vessel basin 3 of 30 L",
        &[],
        None,
    ),
    item(
        "method",
        Rule::method_item,
        "a name, and perhaps a label in quotes",
        "method shovel \"Shovel and floor\"",
        METHOD,
        None,
    ),
    item(
        "group",
        Rule::group_item,
        "a name, and perhaps a label in quotes",
        "group pond-house \"Pond house\"",
        GROUP,
        Some(&GROUP_ANIMALS),
    ),
    item(
        "record",
        Rule::record_item,
        "a name, and `of` a ration",
        "record R-0412 of river-layer",
        RECORD,
        None,
    ),
];

/// The words that open a clause of an amount, and the words that join parts of lines and headers.
pub static CLAUSES: &[&str] = &[
    "within", "or", "on", "small", "bulk", "not", "lot", "accept", "rest", "giving", "parts",
    "part", "mixing", "law", "harm", "as", "at", "of", "per", "for", "from", "to", "until", "by",
    "with", "like", "is", "in", "class", "minimum", "assay",
];
