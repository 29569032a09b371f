//! Where the values of an analysis were read, as their lines say.

use std::collections::BTreeMap;

use trug_findings::Place;

use super::Analysis;
use crate::ration::Ration;
use crate::view::View;

/// Values that were read in one source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sourced {
    /// The source; none where a line only says that its value was not read.
    pub source: Option<String>,
    /// The values were not read in it.
    pub unverified: bool,
    /// The ingredients, targets and animals, by name, and of each what is from there.
    pub values: Vec<(String, Vec<String>)>,
}

/// Unverified or not, the source, then whose values.
type Gathered = BTreeMap<(bool, Option<String>), BTreeMap<String, Vec<String>>>;

/// The sources of what a ration holds and of the bounds on it: what is verified first, each by name.
///
/// Values whose lines name no source are left out.
pub(crate) fn sources(view: &View<'_>, ration: &Ration, analysis: &Analysis) -> Vec<Sourced> {
    let mut gathered = Gathered::new();
    for line in &ration.lines {
        for leaf in line.feed.leaves() {
            let ingredient = &leaf.ingredient;
            if let Some(content) = &ingredient.dry_matter {
                gather(view, &mut gathered, "dry matter", content.place);
            }
            for (nutrient, content) in &ingredient.contents {
                gather(view, &mut gathered, nutrient, content.place);
            }
            for dose in &ingredient.doses {
                gather(view, &mut gathered, "dose", dose.place);
            }
            for ceiling in &ingredient.ceilings {
                gather(view, &mut gathered, "ceiling", ceiling.place);
            }
        }
    }
    for bound in &analysis.bounds {
        let told = format!("bound on {}", bound.what);
        gather(view, &mut gathered, &told, bound.place);
    }
    gathered.into_iter().map(sourced).collect()
}

fn sourced((key, values): ((bool, Option<String>), BTreeMap<String, Vec<String>>)) -> Sourced {
    let (unverified, source) = key;
    Sourced {
        source,
        unverified,
        values: values.into_iter().collect(),
    }
}

fn gather(view: &View<'_>, gathered: &mut Gathered, what: &str, place: Place) {
    let Some((item, origin)) = view.farm.origin_in(place) else {
        return;
    };
    let Some(name) = item.body.name() else { return };
    let source = origin.source.as_ref().map(|source| source.text.clone());
    let key = (origin.unverified.is_some(), source);
    let of_key = gathered.entry(key).or_default();
    let whats = of_key.entry(name.text.to_string()).or_default();
    if !whats.iter().any(|known| known == what) {
        whats.push(what.to_owned());
    }
}
