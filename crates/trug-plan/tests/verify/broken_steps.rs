//! Changes that break what a plan says of its steps, each with its rule.

use trug_plan::verify::Rule;

use crate::broken_amounts::Case;
use crate::whole_changes::{ALL_SMALL, EIGHT_SMALL, THICK_LIQUID, THREE_FIGURES, UNEQUAL_CARRIERS};

/// Values are JSON; `-` takes the place away.
pub(crate) const STEPS: &[Case] = &[
    (
        "river-layer",
        &[("/batches/0/weighings/0/step", r#""s2""#)],
        Rule::Inputs,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/1/inputs/1/weighing", r#""w7""#)],
        Rule::Inputs,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/3/inputs/0", "-")],
        Rule::Inputs,
    ),
    (
        "river-layer",
        &[(
            "/batches/0/steps/0/inputs/0",
            r#"{"step": "s2", "mass_g": "600"}"#,
        )],
        Rule::Order,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/output_g", r#""1701""#)],
        Rule::StepSum,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/inputs/0/mass_g", r#""601""#)],
        Rule::StepSum,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/3/output_g", r#""119999""#)],
        Rule::Last,
    ),
    (
        "river-layer",
        &[("/batches/0/steps", "[]")],
        Rule::Reference,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/kind", r#""together""#)],
        Rule::Kind,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/1/kind", r#""dilute""#)],
        Rule::Kind,
    ),
    (
        "liquids",
        &[("/batches/0/steps/0/kind", r#""dilute""#)],
        Rule::Kind,
    ),
    (
        "liquids",
        &[("/batches/0/steps/2/kind", r#""heap""#)],
        Rule::Kind,
    ),
    ("heap", &[("/batches/0/steps/0/portions", "4")], Rule::Kind),
    (
        "river-layer",
        &[("/batches/0/weighings/0/class", r#""bulk""#)],
        Rule::Class,
    ),
    (
        "river-layer",
        &[("/given/ingredients/7/class", r#""bulk""#)],
        Rule::Class,
    ),
    ("pre-blend-is-the-batch", &ALL_SMALL, Rule::Class),
    (
        "river-layer",
        &[("/given/ingredients/0/carrier", "false")],
        Rule::Kind,
    ),
    (
        "river-layer",
        &[("/given/ingredients/7/carrier", "true")],
        Rule::Carrier,
    ),
    ("river-layer", &UNEQUAL_CARRIERS, Rule::Carrier),
    (
        "apart",
        &[("/given/ingredients/4/apart/0/from", r#""maize""#)],
        Rule::Carrier,
    ),
    ("river-layer", &THREE_FIGURES, Rule::Carrier),
    (
        "river-layer",
        &[("/given/method/preblend_percent", r#""25""#)],
        Rule::PreBlend,
    ),
    (
        "river-layer",
        &[("/given/method/preblend_percent", r#""15""#)],
        Rule::PreBlend,
    ),
    (
        "pre-blend-is-the-batch",
        &[
            ("/given/ingredients/1/class", r#""bulk""#),
            ("/batches/0/weighings/1/class", r#""bulk""#),
        ],
        Rule::PreBlend,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/ratio", "14.168")],
        Rule::Ratio,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/ratio", "null")],
        Rule::Ratio,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/2/ratio", "5.0")],
        Rule::Ratio,
    ),
    (
        "river-layer",
        &[("/given/method/dilutes", r#""14.1""#)],
        Rule::Dilutes,
    ),
    (
        "liquids",
        &[("/given/method/dilutes", r#""19.9""#)],
        Rule::Dilutes,
    ),
    (
        "liquids",
        &[("/given/ingredients/0/class", r#""liquid""#)],
        Rule::Carrier,
    ),
    ("liquids", &THICK_LIQUID, Rule::Liquid),
    (
        "apart",
        &[("/given/ingredients/4/apart/0/times", r#""10.1""#)],
        Rule::Apart,
    ),
    (
        "river-layer",
        &[(
            "/given/ingredients/5/apart",
            r#"[{"from": "salt", "times": "2"}]"#,
        )],
        Rule::Apart,
    ),
    (
        "river-layer",
        &[(
            "/given/ingredients/5/apart",
            r#"[{"from": "soya-meal", "times": "300"}]"#,
        )],
        Rule::Apart,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/litres", r#""2.0376""#)],
        Rule::Litres,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/litres", "null")],
        Rule::Litres,
    ),
    (
        "tops",
        &[("/batches/0/steps/0/litres", r#""5""#)],
        Rule::Litres,
    ),
    (
        "river-layer",
        &[("/given/ingredients/7/g_per_litre", "-")],
        Rule::Litres,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/vessel", r#""basin""#)],
        Rule::Vessel,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/0/vessel", r#""floor""#)],
        Rule::Vessel,
    ),
    (
        "river-layer",
        &[("/batches/0/steps/1/vessel", r#""basin""#)],
        Rule::Vessel,
    ),
    (
        "river-layer",
        &[("/given/vessels/1/litres", r#""2.9""#)],
        Rule::Vessel,
    ),
    (
        "tops",
        &[("/batches/0/steps/0/vessel", r#""basin""#)],
        Rule::Vessel,
    ),
    ("tops", &[("/findings", "[]")], Rule::Vessel),
    (
        "apart",
        &[("/given/vessels/0/count", "1")],
        Rule::VesselTwice,
    ),
    ("river-layer", &EIGHT_SMALL, Rule::Least),
    (
        "coarse",
        &[("/findings/0/severity", r#""error""#)],
        Rule::Draft,
    ),
];
