//! The table of words: each with what it wants, an example as it is typed, and the rule that reads it.

use super::{ItemWord, LineWord};
use crate::grammar::Rule;

const ACCEPT: LineWord = LineWord::new(
    "accept",
    Rule::accept_line,
    "the code of a finding and a reason in quotes",
    "accept dose/over \"vet's order 14 of 2026-11-02\"",
);
const CONTENT: LineWord = LineWord::new(
    "a content",
    Rule::content_line,
    "a nutrient and how much of it, with its unit",
    "protein 8.0 ± 0.4 %",
);
const DRY_MATTER: LineWord = LineWord::new(
    "dry-matter",
    Rule::dry_matter_line,
    "a share",
    "dry-matter 87.5 %",
);
const PRICE: LineWord = LineWord::new(
    "price",
    Rule::price_line,
    "money per mass, and perhaps `as of` a day",
    "price 92 LKR/kg as of 2026-11-01",
);
const BULK_DENSITY: LineWord = LineWord::new(
    "bulk-density",
    Rule::bulk_density_line,
    "mass per volume",
    "bulk-density 0.80 kg/L",
);
const BATCH: LineWord = LineWord::new("batch", Rule::batch_line, "a mass", "batch 120 kg");

static ANIMAL: &[LineWord] = &[LineWord::new(
    "gives",
    Rule::gives_line,
    "one word for what the animal gives",
    "gives eggs",
)];
static ANIMAL_BOUND: LineWord = LineWord::new(
    "a bound",
    Rule::bound_line,
    "a nutrient, its bound, and `law` or `harm`",
    "selenium at most 5 mg/kg harm \"Selenium poisons in small excess.\"",
);

static INGREDIENT: &[LineWord] = &[
    DRY_MATTER,
    PRICE,
    BULK_DENSITY,
    LineWord::new(
        "sold in",
        Rule::sold_in_line,
        "`in` and the mass of one sack",
        "sold in 50 kg",
    ),
    LineWord::new(
        "at most",
        Rule::inclusion_line,
        "`at most` or `at least`, a share, and perhaps `for` an animal",
        "at most 30 % for duckling",
    ),
    LineWord::new(
        "label",
        Rule::label_line,
        "a language and a text in quotes",
        "label si \"කැඩුනු සහල්\"",
    ),
    LineWord::new(
        "nothing else",
        Rule::nothing_else_line,
        "just `else`",
        "nothing else",
    ),
    LineWord::new(
        "form",
        Rule::form_line,
        "one of crystal, powder, meal, grain, pellet, liquid",
        "form crystal",
    ),
    LineWord::new(
        "particle-size",
        Rule::particle_size_line,
        "a length",
        "particle-size 0.5 mm",
    ),
    LineWord::new(
        "particle-density",
        Rule::particle_density_line,
        "mass per volume",
        "particle-density 1.28 g/mL",
    ),
    LineWord::new(
        "dose",
        Rule::dose_line,
        "a range with its unit, and perhaps the active and `for` an animal",
        "dose 0.2 .. 4 g/kg",
    ),
    LineWord::new(
        "ceiling",
        Rule::ceiling_line,
        "one amount with its unit, and perhaps a reason in quotes",
        "ceiling 10 g/kg \"Upsets the balance of amino acids.\"",
    ),
    LineWord::new(
        "apart from",
        Rule::apart_from_line,
        "`from`, an ingredient, and perhaps `until 1 in 20`",
        "apart from choline-60 until 1 in 20",
    ),
    LineWord::new(
        "never with",
        Rule::never_line,
        "`with` an ingredient or `for` an animal, and perhaps a reason in quotes",
        "never for horse \"Poisons horses.\"",
    ),
    LineWord::new(
        "withdrawal",
        Rule::withdrawal_line,
        "a time and `for` what the animal gives",
        "withdrawal 5 days for meat",
    ),
    LineWord::new(
        "caution",
        Rule::caution_line,
        "a text in quotes",
        "caution \"Dust irritates: mask and gloves.\"",
    ),
    ACCEPT,
];
static INGREDIENT_CONTENT: LineWord = CONTENT;

static LOT: &[LineWord] = &[
    LineWord::new(
        "received",
        Rule::received_line,
        "a day",
        "received 2026-10-30",
    ),
    LineWord::new(
        "best before",
        Rule::best_before_line,
        "`before` and a day",
        "best before 2027-01-15",
    ),
    LineWord::new(
        "on hand",
        Rule::on_hand_line,
        "`hand` and a mass",
        "on hand 400 kg",
    ),
    DRY_MATTER,
    PRICE,
    BULK_DENSITY,
    ACCEPT,
];

static TARGET: LineWord = LineWord::new(
    "a target",
    Rule::target_line,
    "a nutrient and its bounds with their unit",
    "protein 16 .. 18 %",
);

static RATION: &[LineWord] = &[
    LineWord::new(
        "for",
        Rule::for_line,
        "an animal, or `mixing`",
        "for laying-duck",
    ),
    LineWord::new(
        "meets",
        Rule::meets_line,
        "the name of targets",
        "meets duck-lay",
    ),
    BATCH,
    LineWord::new(
        "mix by",
        Rule::mix_by_line,
        "`by` and a method",
        "mix by shovel",
    ),
    LineWord::new(
        "intake",
        Rule::intake_line,
        "a mass per day",
        "intake 165 g/day",
    ),
    LineWord::new(
        "beside",
        Rule::beside_line,
        "an ingredient and a mass per day",
        "beside green-fodder 40 g/day",
    ),
    LineWord::new("keeps", Rule::keeps_line, "a time", "keeps 21 days"),
    LineWord::new(
        "limit",
        Rule::limit_line,
        "an ingredient or a sum of some, and a bound",
        "limit soya-meal + sesame-cake at most 26 %",
    ),
    LineWord::new(
        "certainty",
        Rule::certainty_line,
        "a share",
        "certainty 90 %",
    ),
    LineWord::new(
        "drop",
        Rule::drop_line,
        "one inherited ingredient",
        "drop lysine-hcl",
    ),
    LineWord::new(
        "replace",
        Rule::replace_line,
        "an inherited ingredient, `with`, and another",
        "replace fish-meal with blood-meal",
    ),
    ACCEPT,
];
static RATION_AMOUNT: LineWord = LineWord::new(
    "an amount",
    Rule::amount_line,
    "an ingredient and its amount with a unit, a range, `rest` or `giving`",
    "broken-rice 46 %",
);

static METHOD: &[LineWord] = &[
    LineWord::new(
        "small",
        Rule::small_line,
        "`below` and a share",
        "small below 3 %",
    ),
    LineWord::new(
        "pre-blend",
        Rule::pre_blend_line,
        "a share of the batch",
        "pre-blend 20 %",
    ),
    LineWord::new(
        "step",
        Rule::step_line,
        "`at most 1 in` and a number",
        "step at most 1 in 20",
    ),
    LineWord::new(
        "weigh",
        Rule::weigh_line,
        "`within` and a share",
        "weigh within 2 %",
    ),
    LineWord::new(
        "even",
        Rule::even_line,
        "`within` and a share",
        "even within 10 %",
    ),
    LineWord::new("floor", Rule::floor_line, "a mass", "floor 300 kg"),
    LineWord::new("in", Rule::in_line, "a vessel that mixes", "in drum"),
    LineWord::new("lift", Rule::lift_line, "a mass", "lift 25 kg"),
    LineWord::new(
        "turn",
        Rule::turn_line,
        "a number and `times`",
        "turn 6 times",
    ),
    LineWord::new("portions", Rule::portions_line, "a number", "portions 4"),
    ACCEPT,
];

static GROUP: &[LineWord] = &[
    LineWord::new(
        "eats",
        Rule::eats_line,
        "a ration, a mass per day, and perhaps `from` and `to` a day",
        "eats river-layer 165 g/day from 2026-12-01 to 2027-02-28",
    ),
    LineWord::new(
        "mix for",
        Rule::mix_for_line,
        "`for at most` and a time",
        "mix for at most 14 days",
    ),
    ACCEPT,
];
static GROUP_ANIMALS: LineWord = LineWord::new(
    "a count",
    Rule::animals_line,
    "how many animals, and which",
    "320 laying-duck",
);

static RECORD: &[LineWord] = &[
    LineWord::new(
        "made",
        Rule::made_line,
        "a day, and perhaps `by` whom in quotes",
        "made 2026-11-21 by \"N.\"",
    ),
    BATCH,
    LineWord::new(
        "weighed",
        Rule::weighed_line,
        "an ingredient, a mass, and perhaps its lot",
        "weighed broken-rice 55.4 kg lot BR-17",
    ),
    LineWord::new(
        "sampled",
        Rule::sampled_line,
        "a nutrient, the samples, one unit, and perhaps the assay's deviation",
        "sampled chloride 0.31 0.29 0.33 % assay 0.01 %",
    ),
    LineWord::new(
        "fed to",
        Rule::fed_to_line,
        "`to`, a group, and perhaps `from` and `to` a day",
        "fed to pond-house from 2026-11-22 to 2026-12-04",
    ),
    ACCEPT,
];

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
        "a name, and perhaps `for` an animal",
        "targets duck-lay for laying-duck",
        &[],
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
