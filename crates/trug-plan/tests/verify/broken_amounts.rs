//! Changes that break what a plan says of names, amounts and weighings, each with its rule.

use trug_plan::verify::Rule;

use crate::whole_changes::{RICHER_HEAP, SWAPPED_BULK};

/// A plan, what is put where, and the rule that must say so.
pub(crate) type Case = (&'static str, &'static [(&'static str, &'static str)], Rule);

/// Values are JSON; `-` takes the place away.
pub(crate) const AMOUNTS: &[Case] = &[
    ("heap", &[("/format", r#""trug.plan/2""#)], Rule::Form),
    ("heap", &[("/today", r#""2026-02-30""#)], Rule::Form),
    ("heap", &[("/given/method/lift_g", "-")], Rule::Form),
    (
        "heap",
        &[("/batches/0/weighings/0/mass_g", "25000")],
        Rule::Form,
    ),
    (
        "heap",
        &[("/batches/0/weighings/0/mass_g", r#""25000.0""#)],
        Rule::Form,
    ),
    ("heap", &[("/batches/0/times", "0")], Rule::Form),
    ("heap", &[("/batches/0/number", "2")], Rule::Form),
    ("heap", &[("/batches", "[]")], Rule::Form),
    ("heap", &[("/given/method/dilutes", r#""0.5""#)], Rule::Form),
    (
        "river-layer",
        &[("/batches/0/weighings/1/id", r#""w1""#)],
        Rule::Name,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/1/id", r#""s1""#)],
        Rule::Name,
    ),
    (
        "river-layer",
        &[("/given/ingredients/1/name", r#""broken-rice""#)],
        Rule::Name,
    ),
    (
        "river-layer",
        &[("/given/scales/1/name", r#""bench""#)],
        Rule::Name,
    ),
    (
        "river-layer",
        &[("/given/vessels/1/name", r#""basin""#)],
        Rule::Name,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/0/scale", r#""beam""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/0/step", r#""s9""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/0/ingredient", r#""chalk""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/vessel", r#""drum""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/1/inputs/0/step", r#""s9""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/amounts/0/ingredient", r#""rice-bran""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/cautions/0/ingredient", r#""chalk""#)],
        Rule::Reference,
    ),
    (
        "apart",
        &[("/given/ingredients/4/apart/0/from", r#""choline-60""#)],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/given/ingredients/7/share_percent", r#""0.6""#)],
        Rule::Shares,
    ),
    (
        "river-layer",
        &[("/given/ingredients/7/on_top", "true")],
        Rule::Shares,
    ),
    (
        "tops",
        &[("/given/ingredients/1/exact", r#""297/15""#)],
        Rule::Shares,
    ),
    (
        "tops",
        &[("/given/ingredients/1/exact", r#""592/30""#)],
        Rule::Shares,
    ),
    (
        "river-layer",
        &[("/batches/0/amounts/0/ordered_g", r#""48001""#)],
        Rule::Ordered,
    ),
    (
        "tops",
        &[("/batches/0/amounts/1/ordered_g", r#""49333.333333333332""#)],
        Rule::Ordered,
    ),
    (
        "river-layer",
        &[("/given/method/floor_g", r#""119999""#)],
        Rule::Batches,
    ),
    (
        "tops",
        &[("/given/method/floor_g", r#""500000""#)],
        Rule::Batches,
    ),
    (
        "river-layer",
        &[("/batches/0/amounts/0/weighed_g", r#""48080""#)],
        Rule::Sums,
    ),
    (
        "river-layer",
        &[("/batches/0/total_g", r#""120100""#)],
        Rule::Sums,
    ),
    ("tops", &[("/weighed_g", r#""250375""#)], Rule::Sums),
    ("tops", &[("/batches/0/times", "3")], Rule::Sums),
    ("heap", &RICHER_HEAP, Rule::Snapped),
    ("heap", &SWAPPED_BULK, Rule::Snapped),
    (
        "river-layer",
        &[("/batches/0/weighings/1/scale", r#""bench""#)],
        Rule::Scale,
    ),
    (
        "liquids",
        &[("/given/scales/2/capacity_g", r#""650""#)],
        Rule::Scale,
    ),
    (
        "coarse",
        &[
            ("/batches/0/weighings/3/scale", "null"),
            ("/findings", "[]"),
        ],
        Rule::Scale,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/4/scale", r#""pocket""#)],
        Rule::Capacity,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/0/scale", r#""hook""#)],
        Rule::Minimum,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/3/scale", r#""hook""#)],
        Rule::Division,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/1/from_g", r#""294.05""#)],
        Rule::Division,
    ),
    (
        "river-layer",
        &[("/given/method/lift_g", r#""24000""#)],
        Rule::Lift,
    ),
    (
        "river-layer",
        &[("/given/scales/1/capacity_g", r#""24000""#)],
        Rule::Capacity,
    ),
    (
        "river-layer",
        &[("/given/scales/1/minimum_g", r#""6100""#)],
        Rule::Minimum,
    ),
    (
        "river-layer",
        &[("/batches/0/weighings/6/loads_g", r#"["18300", "18100"]"#)],
        Rule::Loads,
    ),
    (
        "heap",
        &[("/batches/0/weighings/1/loads_g", r#"["8000", "7000"]"#)],
        Rule::Loads,
    ),
    (
        "heap",
        &[("/batches/0/weighings/1/loads_g", "[]")],
        Rule::Loads,
    ),
    (
        "heap",
        &[("/batches/0/weighings/0/error_g", r#""200""#)],
        Rule::PossibleError,
    ),
    (
        "heap",
        &[("/given/scales/1/accuracy_class", r#""IIII""#)],
        Rule::PossibleError,
    ),
    (
        "heap",
        &[("/batches/0/weighings/0/from_g", r#""24400""#)],
        Rule::Window,
    ),
    (
        "heap",
        &[("/batches/0/weighings/0/to_g", r#""25600""#)],
        Rule::Window,
    ),
    (
        "heap",
        &[("/given/method/weigh_percent", r#""3""#)],
        Rule::Window,
    ),
    ("coarse", &[("/findings", "[]")], Rule::Accuracy),
    (
        "coarse",
        &[("/findings/0/severity", r#""note""#)],
        Rule::Accuracy,
    ),
    (
        "lots",
        &[("/given/ingredients/0/lots/0/on_hand_g", r#""40200""#)],
        Rule::Lot,
    ),
    // What is left of the first would cover the last weighing.
    (
        "lots",
        &[("/given/ingredients/0/lots/0/on_hand_g", r#""60000""#)],
        Rule::Lot,
    ),
    (
        "lots",
        &[("/batches/0/weighings/2/lot", r#""MZ-2""#)],
        Rule::Lot,
    ),
    ("lots", &[("/batches/0/weighings/2/lot", "-")], Rule::Lot),
    (
        "lots",
        &[("/given/ingredients/0/lots/1/best_before", r#""2026-12-01""#)],
        Rule::Lot,
    ),
    (
        "lots",
        &[("/batches/1/weighings/1/lot", r#""MZ-3""#)],
        Rule::Reference,
    ),
    (
        "lots",
        &[("/given/ingredients/0/lots/1/name", r#""MZ-1""#)],
        Rule::Name,
    ),
    // Two parts of one lot stand where one would do, so bran is not in its place.
    (
        "lots",
        &[("/batches/1/weighings/1/lot", r#""MZ-1""#)],
        Rule::Order,
    ),
];
