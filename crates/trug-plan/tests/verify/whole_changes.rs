//! Changes of several places at once, so that all sums still hold and one rule alone is broken.

/// A kilogram of rice bran too much, rightly weighed and summed.
pub(crate) const RICHER_HEAP: [(&str, &str); 13] = [
    ("/batches/0/weighings/1/mass_g", r#""16000""#),
    ("/batches/0/weighings/1/loads_g", r#"["16000"]"#),
    ("/batches/0/weighings/1/from_g", r#""15700""#),
    ("/batches/0/weighings/1/to_g", r#""16300""#),
    ("/batches/0/steps/0/inputs/1/mass_g", r#""16000""#),
    ("/batches/0/steps/0/output_g", r#""51000""#),
    ("/batches/0/amounts/1/weighed_g", r#""16000""#),
    ("/batches/0/total_g", r#""51000""#),
    ("/weighed_g", r#""51000""#),
    ("/given/ingredients/0/g_per_litre", "-"),
    ("/batches/0/steps/0/litres", "null"),
    ("/ordered_g", r#""50000""#),
    ("/draft", "true"),
];

/// A kilogram more of one, a kilogram less of another.
pub(crate) const SWAPPED_BULK: [(&str, &str); 12] = [
    ("/batches/0/weighings/1/mass_g", r#""16000""#),
    ("/batches/0/weighings/1/loads_g", r#"["16000"]"#),
    ("/batches/0/weighings/1/from_g", r#""15700""#),
    ("/batches/0/weighings/1/to_g", r#""16300""#),
    ("/batches/0/steps/0/inputs/1/mass_g", r#""16000""#),
    ("/batches/0/amounts/1/weighed_g", r#""16000""#),
    ("/batches/0/weighings/2/mass_g", r#""9000""#),
    ("/batches/0/weighings/2/loads_g", r#"["9000"]"#),
    ("/batches/0/weighings/2/from_g", r#""8900""#),
    ("/batches/0/weighings/2/to_g", r#""9100""#),
    ("/batches/0/steps/0/inputs/2/mass_g", r#""9000""#),
    ("/batches/0/amounts/2/weighed_g", r#""9000""#),
];

/// Nothing is bulk, though the largest should be.
pub(crate) const ALL_SMALL: [(&str, &str); 3] = [
    ("/given/ingredients/0/class", r#""small""#),
    ("/given/ingredients/0/carrier", "false"),
    ("/batches/0/weighings/2/class", r#""small""#),
];

/// Two kilograms of carrier from the rice that should be from the bran.
pub(crate) const UNEQUAL_CARRIERS: [(&str, &str); 16] = [
    ("/batches/0/weighings/4/mass_g", r#""12800""#),
    ("/batches/0/weighings/4/loads_g", r#"["12800"]"#),
    ("/batches/0/steps/1/inputs/1/mass_g", r#""12800""#),
    ("/batches/0/weighings/5/mass_g", r#""9500""#),
    ("/batches/0/weighings/5/loads_g", r#"["9500"]"#),
    ("/batches/0/steps/1/inputs/2/mass_g", r#""9500""#),
    ("/batches/0/weighings/6/mass_g", r#""34500""#),
    ("/batches/0/weighings/6/loads_g", r#"["17200", "17300"]"#),
    ("/batches/0/steps/2/inputs/0/mass_g", r#""34500""#),
    ("/batches/0/weighings/7/mass_g", r#""26500""#),
    ("/batches/0/weighings/7/loads_g", r#"["13200", "13300"]"#),
    ("/batches/0/steps/2/inputs/1/mass_g", r#""26500""#),
    ("/batches/0/steps/2/output_g", r#""96000""#),
    ("/batches/0/steps/1/output_g", r#""24000""#),
    ("/batches/0/steps/3/inputs/0/mass_g", r#""96000""#),
    ("/batches/0/steps/3/inputs/1/mass_g", r#""24000""#),
];

/// 685 g of carrier enter early.
pub(crate) const THREE_FIGURES: [(&str, &str); 9] = [
    ("/batches/0/weighings/3/mass_g", r#""685""#),
    ("/batches/0/weighings/3/loads_g", r#"["685"]"#),
    ("/batches/0/steps/0/inputs/3/mass_g", r#""685""#),
    ("/batches/0/steps/0/output_g", r#""1705""#),
    ("/batches/0/steps/1/inputs/0/mass_g", r#""1705""#),
    ("/batches/0/steps/1/output_g", r#""24005""#),
    ("/batches/0/steps/3/inputs/1/mass_g", r#""24005""#),
    ("/batches/0/steps/3/output_g", r#""120005""#),
    ("/batches/0/total_g", r#""120005""#),
];

/// The oil goes into four times its mass of bran.
pub(crate) const THICK_LIQUID: [(&str, &str); 10] = [
    ("/batches/0/weighings/4/mass_g", r#""2400""#),
    ("/batches/0/weighings/4/loads_g", r#"["2400"]"#),
    ("/batches/0/steps/2/inputs/1/mass_g", r#""2400""#),
    ("/batches/0/steps/2/output_g", r#""3000""#),
    ("/batches/0/weighings/6/mass_g", r#""12000""#),
    ("/batches/0/weighings/6/loads_g", r#"["12000"]"#),
    ("/batches/0/steps/3/inputs/1/mass_g", r#""12000""#),
    ("/batches/0/steps/3/inputs/2/mass_g", r#""3000""#),
    ("/batches/0/steps/2/ratio", "5.0"),
    ("/batches/0/steps/2/litres", "null"),
];

/// Every one of eight is small, and the fewest steps are said to be proved.
pub(crate) const EIGHT_SMALL: [(&str, &str); 17] = [
    ("/given/ingredients/0/class", r#""small""#),
    ("/given/ingredients/1/class", r#""small""#),
    ("/given/ingredients/2/class", r#""small""#),
    ("/given/ingredients/3/class", r#""small""#),
    ("/given/ingredients/4/class", r#""small""#),
    ("/given/ingredients/0/carrier", "false"),
    ("/given/ingredients/1/carrier", "false"),
    ("/given/ingredients/2/carrier", "false"),
    ("/given/ingredients/3/carrier", "false"),
    ("/batches/0/weighings/3/class", r#""small""#),
    ("/batches/0/weighings/4/class", r#""small""#),
    ("/batches/0/weighings/5/class", r#""small""#),
    ("/batches/0/weighings/6/class", r#""small""#),
    ("/batches/0/weighings/7/class", r#""small""#),
    ("/batches/0/weighings/8/class", r#""small""#),
    ("/batches/0/weighings/9/class", r#""small""#),
    ("/batches/0/weighings/10/class", r#""small""#),
];
