//! A test of evenness to come: of which batch, from where, how much, and what it will be able to tell.

use smol_str::SmolStr;
use trug_findings::Place;
use trug_model::view::MixesIn;
use trug_model::{Q, View};

use crate::places::{Portion, bags, places, portion};
use crate::test::{Wanted, wanted};
use crate::verdict::{Reach, reach};

/// What a bag holds, in kg, where a batch is bagged: common practice, and what the World Food Programme's page takes.
pub const BAG_KG: i64 = 25;

/// Where and how samples of a batch are taken.
#[derive(Clone, Debug)]
pub struct Sampling {
    /// The ration.
    pub ration: SmolStr,
    /// Where it is named.
    pub place: Place,
    /// The batch, in kg, where it is known.
    pub batch: Option<Q>,
    /// The vessel it is mixed in; none is the floor.
    pub vessel: Option<SmolStr>,
    /// How many samples.
    pub samples: usize,
    /// Where each of them is taken.
    pub places: Vec<crate::places::Place>,
    /// Into how many bags the batch goes, where it is known.
    pub bags: Option<usize>,
    /// In which of them each sample is taken; empty where that is not known.
    pub in_bags: Vec<usize>,
    /// How much is taken.
    pub portion: Portion,
    /// How even the batch should be; none where an error may hide it.
    pub wanted: Option<Wanted>,
    /// What so many samples can tell of that.
    pub reach: Option<Reach>,
}

/// So many samples of a batch of a ration; none where there is no such ration.
#[must_use]
pub fn sampling(
    view: &View<'_>,
    ration: &str,
    batch: Option<Q>,
    samples: usize,
) -> Option<Sampling> {
    let made = view.made_out(ration)?;
    let vessel = match view.method_of(&made).mixes_in {
        MixesIn::Vessel(name) => Some(name),
        MixesIn::Floor(_) => None,
    };
    let batch = batch.or_else(|| made.batch.clone());
    let filled = batch.as_ref().and_then(|batch| {
        let bags = (batch / &Q::int(BAG_KG)).ceil().to_i64()?;
        usize::try_from(bags).ok()
    });
    let wanted = wanted(view, ration);
    let reach = wanted
        .as_ref()
        .and_then(|wanted| reach(samples, wanted.percent.to_f64()));
    Some(Sampling {
        ration: made.name.clone(),
        place: made.place,
        vessel,
        samples,
        places: places(samples),
        bags: filled,
        in_bags: filled.map_or_else(Vec::new, |filled| bags(samples, filled)),
        portion: portion(samples, batch.as_ref()),
        batch,
        wanted,
        reach,
    })
}
