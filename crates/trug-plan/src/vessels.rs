//! Where each step is done: in the smallest vessel that holds it and is free, else on the floor.

use trug_findings::Finding;
use trug_model::Q;

use crate::amounts::Case;
use crate::batches::fullest;
use crate::draft::{Draft, Source};
use crate::findings::vessel;
use crate::order::MixesIn;
use crate::plan::StepKind;

/// Where one step is done.
#[derive(Clone, Debug)]
pub(crate) struct Home {
    /// Rank in the order's vessels; none for the floor.
    pub(crate) vessel: Option<usize>,
    pub(crate) litres: Option<Q>,
}

impl Home {
    /// The vessel's name, or `floor`.
    pub(crate) fn name(&self, case: &Case) -> String {
        let vessel = self.vessel.and_then(|rank| case.order.vessels.get(rank));
        vessel.map_or_else(|| "floor".to_owned(), |vessel| vessel.name.clone())
    }
}

/// A place for every act.
///
/// A vessel is taken from the act that fills it up to and with the act that uses what is in it: nothing is ever mixed into what is
/// still to be tipped out. The whole batch is mixed in the vessel of the method, which is kept free for it.
pub(crate) fn house(case: &Case, draft: &Draft) -> Vec<Home> {
    let litres = litres(case, draft);
    let emptied = emptied_by(draft);
    let mut by_size: Vec<usize> = (0..case.order.vessels.len()).collect();
    by_size.sort_by(|a, b| {
        let litres = |rank: &usize| &case.order.vessels[*rank].litres;
        litres(a).cmp(litres(b)).then(a.cmp(b))
    });
    let mut homes: Vec<Home> = Vec::with_capacity(draft.acts.len());
    for (act, volume) in litres.into_iter().enumerate() {
        let is_last = act + 1 == draft.acts.len();
        let is_free = |rank: usize| {
            let taken = homes
                .iter()
                .enumerate()
                .filter(|(earlier, home)| home.vessel == Some(rank) && emptied[*earlier] >= act)
                .count();
            let kept = usize::from(mixing_vessel(case) == Some(rank));
            let count = usize::try_from(case.order.vessels[rank].count).unwrap_or(usize::MAX);
            taken + kept < count
        };
        let vessel = match (&volume, draft.acts[act].kind) {
            (None, _) => None,
            (Some(volume), _) if is_last => {
                mixing_vessel(case).filter(|rank| holds(case, *rank, volume))
            }
            (_, StepKind::Heap | StepKind::Final) => None,
            (Some(volume), _) => by_size
                .iter()
                .copied()
                .filter(|rank| holds(case, *rank, volume))
                .find(|rank| is_free(*rank)),
        };
        homes.push(Home {
            vessel,
            litres: volume,
        });
    }
    homes
}

fn mixing_vessel(case: &Case) -> Option<usize> {
    match case.order.method.mixes_in {
        MixesIn::Floor(_) => None,
        MixesIn::Vessel(rank) => (rank < case.order.vessels.len()).then_some(rank),
    }
}

fn holds(case: &Case, rank: usize, litres: &Q) -> bool {
    *litres <= fullest() * &case.order.vessels[rank].litres
}

/// The volume of every act's output; none where a density is not known.
fn litres(case: &Case, draft: &Draft) -> Vec<Option<Q>> {
    let mut litres: Vec<Option<Q>> = Vec::with_capacity(draft.acts.len());
    for act in &draft.acts {
        let volume = act.inputs.iter().try_fold(Q::ZERO, |sum, source| {
            let part = match source {
                Source::Act(act) => litres[*act].clone()?,
                Source::Part(part) => {
                    let part = &draft.parts[*part];
                    let density = case.ingredient(part.ingredient).g_per_litre.as_ref()?;
                    part.mass.over(density)?
                }
            };
            Some(sum + part)
        });
        litres.push(volume);
    }
    litres
}

/// The act that uses each act's output; beyond all for the last.
fn emptied_by(draft: &Draft) -> Vec<usize> {
    let mut emptied = vec![draft.acts.len(); draft.acts.len()];
    for (rank, act) in draft.acts.iter().enumerate() {
        for source in &act.inputs {
            if let Source::Act(used) = source {
                emptied[*used] = rank;
            }
        }
    }
    emptied
}

/// Steps that should be in a vessel and are not.
pub(crate) fn judge(case: &Case, draft: &Draft, homes: &[Home]) -> Vec<Finding> {
    let mut lacking: Vec<(usize, Q)> = Vec::new();
    let mut is_unknown = false;
    for (rank, act) in draft.acts.iter().enumerate() {
        let is_last = rank + 1 == draft.acts.len();
        let wants_vessel = matches!(act.kind, StepKind::Together | StepKind::Dilute)
            || (is_last && mixing_vessel(case).is_some());
        if !wants_vessel || homes[rank].vessel.is_some() {
            continue;
        }
        match &homes[rank].litres {
            Some(litres) => lacking.push((rank, litres.clone())),
            None => is_unknown = true,
        }
    }
    let mut findings = Vec::new();
    if !lacking.is_empty() {
        findings.push(vessel::full(case, &lacking));
    }
    if is_unknown {
        findings.push(vessel::density(case));
    }
    findings
}
