//! How people write headings, and what each means: the words of the feed trade.
//!
//! A heading is looked up as [`plain`] writes it: small letters and digits, one blank between words, its unit and
//! basis taken off. Only words with one meaning stand here: `CF` is fibre to one and fat to another, and stays what it
//! is. A digestible or standardised amino acid is not the total one, and stays apart as well.

/// What a heading is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Means {
    /// The ingredient's name.
    Name,
    /// What people call it, where the name stands beside it.
    Label,
    /// How much of it a ration takes.
    Amount,
    /// The units of the headings beside it, in a table that has its ingredients in columns.
    Unit,
    /// A line of the ingredient that opens with this word.
    Line(&'static str),
    /// A content, under the book's name of the nutrient.
    Nutrient(&'static str),
}

use Means::{Amount, Label, Line, Name, Nutrient, Unit};

/// What is meant, and how people write it.
pub(crate) static HEADINGS: &[(Means, &[&str])] = &[
    (
        Name,
        &[
            "ingredient",
            "ingredients",
            "ingredient name",
            "feed ingredient",
            "feed ingredients",
            "raw material",
            "raw materials",
            "material",
            "feedstuff",
            "feedstuffs",
            "feed name",
            "commodity",
            "component",
            "components",
            "item",
            "name",
            "nutrient",
            "nutrients",
            "parameter",
            "parameters",
            "analysis",
            "composition",
        ],
    ),
    (Label, &["label"]),
    (
        Amount,
        &[
            "inclusion",
            "inclusion rate",
            "inclusion level",
            "amount",
            "quantity",
            "qty",
            "weight",
            "mass",
            "share",
            "proportion",
            "proportions",
            "level",
            "usage",
            "mix",
            "mixture",
            "formula",
            "recipe",
            "ration",
            "diet",
            "batch",
            "part",
            "parts",
            "parts by weight",
            "in mix",
            "in the mix",
            "of mix",
            "of ration",
            "in ration",
            "in diet",
            "of diet",
            "in feed",
            "of feed",
            "per batch",
            "in batch",
            "kg",
            "percent",
            "percentage",
        ],
    ),
    (Unit, &["unit", "units"]),
    (
        Line("dry-matter"),
        &["dm", "dry matter", "dry matter content"],
    ),
    (
        Line("price"),
        &[
            "price",
            "cost",
            "unit price",
            "unit cost",
            "market price",
            "purchase price",
            "price per kg",
            "cost per kg",
            "current price",
        ],
    ),
    (Line("bulk-density"), &["bulk density"]),
    (
        Line("sold in"),
        &[
            "sold in",
            "pack",
            "pack size",
            "bag",
            "bag size",
            "bag weight",
            "sack",
            "sack size",
            "sack weight",
        ],
    ),
    (
        Line("at most"),
        &[
            "at most",
            "max",
            "maximum",
            "max inclusion",
            "maximum inclusion",
            "inclusion max",
            "max level",
            "max limit",
            "upper limit",
        ],
    ),
    (
        Line("at least"),
        &[
            "at least",
            "min",
            "minimum",
            "min inclusion",
            "minimum inclusion",
            "inclusion min",
            "min level",
            "min limit",
            "lower limit",
        ],
    ),
    (Line("particle-size"), &["particle size"]),
    (Line("particle-density"), &["particle density"]),
    (Line("form"), &["form"]),
    (
        Nutrient("protein"),
        &["cp", "crude protein", "protein", "c protein", "c p"],
    ),
    (
        Nutrient("fat"),
        &[
            "fat",
            "crude fat",
            "ee",
            "ether extract",
            "ether extracts",
            "crude oil",
            "oil",
        ],
    ),
    (
        Nutrient("fibre"),
        &["fibre", "fiber", "crude fibre", "crude fiber"],
    ),
    (Nutrient("ash"), &["ash", "crude ash", "total ash"]),
    (Nutrient("starch"), &["starch"]),
    (
        Nutrient("sugars"),
        &["sugar", "sugars", "total sugar", "total sugars"],
    ),
    (Nutrient("linoleic-acid"), &["linoleic acid", "linoleic"]),
    // On a sheet for poultry, ME is the apparent metabolisable energy of poultry; what is read so is said.
    (
        Nutrient("ame"),
        &[
            "ame",
            "me",
            "me poultry",
            "poultry me",
            "metabolisable energy",
            "metabolizable energy",
            "apparent metabolisable energy",
            "apparent metabolizable energy",
        ],
    ),
    (Nutrient("calcium"), &["ca", "calcium"]),
    (
        Nutrient("phosphorus"),
        &[
            "p",
            "phosphorus",
            "total p",
            "p total",
            "total phosphorus",
            "phosphorus total",
            "phosphorous",
        ],
    ),
    (
        Nutrient("available-phosphorus"),
        &[
            "av p",
            "avp",
            "avail p",
            "available p",
            "p available",
            "available phosphorus",
            "phosphorus available",
            "avail phosphorus",
        ],
    ),
    (Nutrient("sodium"), &["na", "sodium"]),
    (Nutrient("potassium"), &["k", "potassium"]),
    (Nutrient("chloride"), &["cl", "chloride", "chlorine"]),
    (Nutrient("magnesium"), &["mg", "magnesium"]),
    (Nutrient("sulphur"), &["s", "sulphur", "sulfur"]),
    (Nutrient("iron"), &["fe", "iron"]),
    (Nutrient("copper"), &["cu", "copper"]),
    (Nutrient("zinc"), &["zn", "zinc"]),
    (Nutrient("manganese"), &["mn", "manganese"]),
    (Nutrient("iodine"), &["i", "iodine"]),
    (Nutrient("selenium"), &["se", "selenium"]),
    (Nutrient("cobalt"), &["co", "cobalt"]),
    (Nutrient("molybdenum"), &["mo", "molybdenum"]),
    (
        Nutrient("lysine"),
        &["lys", "lysine", "total lysine", "total lys", "l lysine"],
    ),
    (
        Nutrient("methionine"),
        &[
            "met",
            "methionine",
            "total methionine",
            "total met",
            "dl methionine",
        ],
    ),
    (Nutrient("cystine"), &["cys", "cystine"]),
    (
        Nutrient("met-cys"),
        &[
            "met cys",
            "m c",
            "methionine cystine",
            "tsaa",
            "total sulphur amino acids",
            "total sulfur amino acids",
        ],
    ),
    (
        Nutrient("threonine"),
        &["thr", "threonine", "total threonine"],
    ),
    (
        Nutrient("tryptophan"),
        &["trp", "try", "tryptophan", "total tryptophan"],
    ),
    (Nutrient("arginine"), &["arg", "arginine"]),
    (Nutrient("isoleucine"), &["ile", "isoleucine"]),
    (Nutrient("leucine"), &["leu", "leucine"]),
    (Nutrient("valine"), &["val", "valine"]),
    (Nutrient("histidine"), &["his", "histidine"]),
    (Nutrient("phenylalanine"), &["phe", "phenylalanine"]),
    (Nutrient("tyrosine"), &["tyr", "tyrosine"]),
    (Nutrient("glycine"), &["gly", "glycine"]),
    (Nutrient("serine"), &["ser", "serine"]),
    (Nutrient("vitamin-a"), &["vitamin a", "vit a"]),
    (
        Nutrient("vitamin-d3"),
        &["vitamin d3", "vit d3", "vitamin d 3"],
    ),
    (Nutrient("vitamin-e"), &["vitamin e", "vit e"]),
    (Nutrient("vitamin-k"), &["vitamin k", "vit k"]),
    (
        Nutrient("thiamin"),
        &["thiamin", "thiamine", "vitamin b1", "vit b1"],
    ),
    (
        Nutrient("riboflavin"),
        &["riboflavin", "vitamin b2", "vit b2"],
    ),
    (Nutrient("niacin"), &["niacin"]),
    (Nutrient("pantothenic-acid"), &["pantothenic acid"]),
    (
        Nutrient("pyridoxine"),
        &["pyridoxine", "vitamin b6", "vit b6"],
    ),
    (Nutrient("biotin"), &["biotin"]),
    (Nutrient("folic-acid"), &["folic acid"]),
    (Nutrient("vitamin-b12"), &["vitamin b12", "vit b12"]),
    (Nutrient("vitamin-c"), &["vitamin c", "vit c"]),
    (Nutrient("choline"), &["choline"]),
    (Nutrient("phytase"), &["phytase"]),
    (Nutrient("xylanase"), &["xylanase"]),
    (Nutrient("aflatoxin-b1"), &["aflatoxin b1"]),
    (Nutrient("deoxynivalenol"), &["deoxynivalenol"]),
];

/// First words of rows that sum or judge the others.
const TOTALS: &[&str] = &[
    "total",
    "totals",
    "sum",
    "subtotal",
    "sub total",
    "grand total",
    "average",
    "mean",
    "check",
    "balance check",
    "requirement",
    "requirements",
    "required",
    "target",
    "targets",
    "specification",
    "spec",
    "standard",
    "supplied",
    "supply",
    "calculated",
    "calculated analysis",
    "difference",
    "deficit",
    "surplus",
    "cost per kg",
    "cost kg",
];

/// What a heading means, in plain words; none where the trade has several meanings for it, or none.
pub(crate) fn meaning(heading: &str) -> Option<Means> {
    let heading = plain(heading);
    let is_spelling = |(_, spellings): &&(Means, &[&str])| spellings.contains(&heading.as_str());
    HEADINGS.iter().find(is_spelling).map(|(means, _)| *means)
}

/// Whether a row is called so that it sums or judges the rows above it, and is no ingredient.
pub(crate) fn is_total(name: &str) -> bool {
    let name = plain(name);
    let first = name.split(' ').next().unwrap_or_default();
    matches!(first, "total" | "totals" | "subtotal") || TOTALS.contains(&name.as_str())
}

/// Small letters and digits, one blank between words.
pub(crate) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        if letter.is_alphanumeric() {
            plain.extend(letter.to_lowercase());
        } else if !plain.is_empty() && !plain.ends_with(' ') {
            plain.push(' ');
        }
    }
    plain.truncate(plain.trim_end().len());
    plain
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn every_spelling_is_plain_and_means_one_thing() {
        let mut seen = BTreeSet::new();
        for spelling in HEADINGS.iter().flat_map(|(_, spellings)| *spellings) {
            assert_eq!(plain(spelling), *spelling);
            assert!(seen.insert(spelling), "{spelling} stands twice");
        }
        assert!(TOTALS.iter().all(|word| plain(word) == *word));
    }

    #[test]
    fn the_trades_words_are_known() {
        assert_eq!(meaning("Crude Protein"), Some(Nutrient("protein")));
        assert_eq!(meaning("Met. + Cys."), Some(Nutrient("met-cys")));
        assert_eq!(meaning("CF"), None);
        assert_eq!(meaning("Dig. Lys"), None);
        assert!(is_total("TOTAL (kg)") && is_total("Sub-total") && !is_total("Totally mixed"));
    }
}
