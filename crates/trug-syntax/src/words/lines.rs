//! The lines of each item: each with what it wants, an example as it is typed, and the rule that reads it.

use super::LineWord;
use crate::grammar::Rule;

pub(crate) const ACCEPT: LineWord = LineWord::new(
    "accept",
    Rule::accept_line,
    "the code of a finding and a reason in quotes",
    "accept dose/over \"vet's order 14 of 2026-11-02\"",
);
pub(crate) const SOURCE: LineWord = LineWord::new(
    "source",
    Rule::origin_line,
    "where the values were read, in quotes",
    "source \"Feed tables of the co-operative, 2026\"",
);
const UNVERIFIED: LineWord = LineWord::new(
    "unverified",
    Rule::origin_line,
    "nothing more, or `source` and a text in quotes",
    "unverified",
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

pub(super) static ANIMAL: &[LineWord] = &[
    LineWord::new(
        "gives",
        Rule::gives_line,
        "one word for what the animal gives",
        "gives eggs",
    ),
    SOURCE,
    UNVERIFIED,
    ACCEPT,
];
pub(super) static ANIMAL_BOUND: LineWord = LineWord::new(
    "a bound",
    Rule::bound_line,
    "a nutrient, its bound, and `law` or `harm`",
    "selenium at most 5 mg/kg harm \"Selenium poisons in small excess.\"",
);

pub(super) static INGREDIENT: &[LineWord] = &[
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
    SOURCE,
    UNVERIFIED,
    ACCEPT,
];
pub(super) static INGREDIENT_CONTENT: LineWord = CONTENT;

pub(super) static LOT: &[LineWord] = &[
    LineWord::new(
        "received",
        Rule::received_line,
        "a day, before it perhaps a mass and `on`",
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
    SOURCE,
    UNVERIFIED,
    ACCEPT,
];

pub(super) static TARGETS: &[LineWord] = &[SOURCE, UNVERIFIED, ACCEPT];
pub(super) static TARGET: LineWord = LineWord::new(
    "a target",
    Rule::target_line,
    "a nutrient and its bounds with their unit",
    "protein 16 .. 18 %",
);

pub(super) static RATION: &[LineWord] = &[
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
pub(super) static RATION_AMOUNT: LineWord = LineWord::new(
    "an amount",
    Rule::amount_line,
    "an ingredient and its amount with a unit, a range, `rest` or `giving`",
    "broken-rice 46 %",
);

pub(super) static METHOD: &[LineWord] = &[
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
    SOURCE,
    UNVERIFIED,
    ACCEPT,
];

pub(super) static GROUP: &[LineWord] = &[
    LineWord::new(
        "eats",
        Rule::eats_line,
        "a ration, a mass per day, and perhaps `from` and `to` a day",
        "eats river-layer 165 g/day from 2026-12-01 to 2027-02-28",
    ),
    LineWord::new(
        "placed on",
        Rule::placed_line,
        "`on` and the day they came, and perhaps `at day` and how old they were",
        "placed on 2026-11-01 at day 7",
    ),
    LineWord::new(
        "mix for",
        Rule::mix_for_line,
        "`for at most` and a time",
        "mix for at most 14 days",
    ),
    ACCEPT,
];
pub(super) static GROUP_ANIMALS: LineWord = LineWord::new(
    "a count",
    Rule::animals_line,
    "how many animals, and which",
    "320 laying-duck",
);

pub(super) static RECORD: &[LineWord] = &[
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
