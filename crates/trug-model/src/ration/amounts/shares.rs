//! From amounts to shares of the 100 %.

use trug_findings::{Finding, Place};

use super::settle::Read;
use crate::Q;
use crate::findings::{amount, basis, sum};
use crate::quantity::Basis;
use crate::ration::Ration;
use crate::ration::draft::Draft;
use crate::ration::quantified::Quantified;

/// The least and greatest share of each line.
pub(super) struct Shares {
    pub(super) ranges: Vec<(Q, Q)>,
    /// The 100 %, where masses name it.
    pub(super) batch: Option<Q>,
}

/// Shares the whole out among the lines. Says what is wrong; none then.
pub(super) fn share_out(
    draft: &Draft<'_>,
    lines: &[Read<'_, '_>],
    ration: &mut Ration,
    findings: &mut Vec<Finding>,
) -> Option<Shares> {
    let is_per_day = |line: &&Read<'_, '_>| matches!(line.written.amount, Quantified::PerDay(_));
    if lines.iter().any(|line| is_per_day(&line)) {
        return per_day(draft, lines, ration, findings);
    }
    let batch = batch(draft, lines, ration, findings)?;
    ration.batch.clone_from(&batch);
    let dry = dry_basis(draft, lines, findings)?;
    let of_batch = |mass: &Q| {
        batch
            .as_ref()
            .and_then(|batch| mass.over(batch))
            .unwrap_or_default()
    };
    let mut ranges: Vec<(Q, Q)> = lines
        .iter()
        .map(|line| match &line.written.amount {
            Quantified::Share(share, _) => (share.clone(), share.clone()),
            Quantified::Mass(mass) => (of_batch(mass), of_batch(mass)),
            Quantified::Open(range) => (
                range.low.clone().unwrap_or_default(),
                range.high.clone().unwrap_or(Q::ONE),
            ),
            Quantified::OpenMass(range) => (
                range.low.as_ref().map(of_batch).unwrap_or_default(),
                range.high.as_ref().map_or(Q::ONE, of_batch),
            ),
            Quantified::Parts(_) | Quantified::Rest | Quantified::PerDay(_) => (Q::ZERO, Q::ZERO),
        })
        .collect();
    fill_up(lines, &mut ranges, draft, findings)?;
    if dry {
        ranges = from_dry(lines, ranges, findings)?;
    }
    Some(Shares { ranges, batch })
}

/// Shares of a ration that gives its amounts a day: their sum is what an animal eats.
fn per_day(
    draft: &Draft<'_>,
    lines: &[Read<'_, '_>],
    ration: &mut Ration,
    findings: &mut Vec<Finding>,
) -> Option<Shares> {
    let daily = |line: &Read<'_, '_>| match &line.written.amount {
        Quantified::PerDay(mass) => Some(mass.clone()),
        _ => None,
    };
    let mut total = Q::ZERO;
    for line in lines.iter().filter(|line| !line.is_on_top()) {
        let Some(mass) = daily(line) else {
            findings.push(amount::not_per_day(line.place, line.name(), &draft.name));
            return None;
        };
        total += mass;
    }
    if let (Some(intake), Some((written, file))) = (&ration.intake, draft.intake)
        && *intake != total
    {
        findings.push(amount::intake_differs(
            Place::new(file, written.span),
            &draft.name,
            &total,
            intake,
        ));
        return None;
    }
    let mut ranges = Vec::new();
    for line in lines {
        let share = match &line.written.amount {
            Quantified::Share(share, None | Some(Basis::AsFed)) => share.clone(),
            _ => match daily(line) {
                Some(mass) => mass.over(&total)?,
                None => {
                    findings.push(amount::not_per_day(line.place, line.name(), &draft.name));
                    return None;
                }
            },
        };
        ranges.push((share.clone(), share));
    }
    ration.intake = Some(total);
    ration.is_per_day = true;
    Some(Shares {
        ranges,
        batch: ration.batch.clone(),
    })
}

/// The mass of the 100 %, where it is named or follows; outer none where it is needed and does neither.
fn batch(
    draft: &Draft<'_>,
    lines: &[Read<'_, '_>],
    ration: &Ration,
    findings: &mut Vec<Finding>,
) -> Option<Option<Q>> {
    if ration.batch.is_some() {
        return Some(ration.batch.clone());
    }
    let is_mass = |line: &Read<'_, '_>| {
        matches!(
            line.written.amount,
            Quantified::Mass(_) | Quantified::OpenMass(_)
        )
    };
    let Some(first) = lines.iter().find(|line| is_mass(line)) else {
        return Some(None);
    };
    let mut masses = Q::ZERO;
    let mut shares = Q::ZERO;
    let mut follows = true;
    for line in lines.iter().filter(|line| !line.is_on_top()) {
        match &line.written.amount {
            Quantified::Mass(mass) => masses += mass,
            Quantified::Share(share, _) if !line.written.gives_active => shares += share,
            _ => follows = false,
        }
    }
    if !follows || masses.is_zero() {
        findings.push(amount::batch(
            draft.place,
            &draft.name,
            first.name(),
            first.place,
        ));
        return None;
    }
    if shares >= Q::ONE {
        findings.push(sum::shares_and_masses(
            draft.place,
            &draft.name,
            &shares,
            &masses,
        ));
        return None;
    }
    Some(masses.over(&(Q::ONE - shares)))
}

/// Whether the shares are of dry matter. None where two bases meet.
fn dry_basis(
    draft: &Draft<'_>,
    lines: &[Read<'_, '_>],
    findings: &mut Vec<Finding>,
) -> Option<bool> {
    let is_dry = |basis: &Option<Basis>| !matches!(basis, None | Some(Basis::AsFed));
    let mut first: Option<(Option<Basis>, Place, &str)> = None;
    for line in lines {
        let basis = match &line.written.amount {
            Quantified::Share(_, basis) => basis.clone(),
            Quantified::Open(range) => range.basis.clone(),
            Quantified::Mass(_) | Quantified::OpenMass(_) => None,
            Quantified::Parts(_) | Quantified::Rest | Quantified::PerDay(_) => continue,
        };
        let is_open = matches!(line.written.amount, Quantified::Open(_));
        if is_dry(&basis) && (is_open || line.is_on_top()) {
            findings.push(basis::only_fixed(line.place, line.name()));
            return None;
        }
        if line.is_on_top() {
            continue;
        }
        match &first {
            None => first = Some((basis, line.place, line.name())),
            Some((known, place, name)) => {
                let same = known == &basis || (!is_dry(known) && !is_dry(&basis));
                if !same {
                    let words = |basis: &Option<Basis>| {
                        basis.as_ref().map_or("as fed".to_owned(), Basis::words)
                    };
                    findings.push(basis::mixed(
                        line.place,
                        (line.name(), &words(&basis)),
                        (name, &words(known), *place),
                        &draft.name,
                    ));
                    return None;
                }
            }
        }
    }
    Some(first.is_some_and(|(basis, _, _)| is_dry(&basis)))
}

/// Gives parts and the rest what the other lines leave.
fn fill_up(
    lines: &[Read<'_, '_>],
    ranges: &mut [(Q, Q)],
    draft: &Draft<'_>,
    findings: &mut Vec<Finding>,
) -> Option<()> {
    let mut parts = Q::ZERO;
    let (mut low, mut high) = (Q::ZERO, Q::ZERO);
    let (mut has_rest, mut is_open) = (false, false);
    for (line, range) in lines
        .iter()
        .zip(&*ranges)
        .filter(|(line, _)| !line.is_on_top())
    {
        match &line.written.amount {
            Quantified::Parts(part) => parts += part,
            Quantified::Rest => has_rest = true,
            _ => {
                is_open |= range.0 != range.1;
                if line.draft.clauses.or_none.is_none() || range.0 == range.1 {
                    low += &range.0;
                }
                high += &range.1;
            }
        }
    }
    if parts.is_positive() && (has_rest || is_open) {
        findings.push(amount::parts(draft.place, &draft.name, has_rest));
        return None;
    }
    if parts.is_positive() && low == Q::ONE {
        findings.push(amount::no_parts(draft.place, &draft.name));
        return None;
    }
    let zero_or_more = |share: Q| share.max(Q::ZERO);
    for (line, range) in lines.iter().zip(ranges) {
        match &line.written.amount {
            Quantified::Parts(part) => {
                let share = zero_or_more(Q::ONE - &low) * part.over(&parts)?;
                *range = (share.clone(), share);
            }
            Quantified::Rest => {
                *range = (zero_or_more(Q::ONE - &high), zero_or_more(Q::ONE - &low));
            }
            _ => {}
        }
    }
    Some(())
}

/// Shares of dry matter as shares of the feed as it is: each weighs its share over its dry matter.
fn from_dry(
    lines: &[Read<'_, '_>],
    ranges: Vec<(Q, Q)>,
    findings: &mut Vec<Finding>,
) -> Option<Vec<(Q, Q)>> {
    let mut weights = Vec::with_capacity(lines.len());
    let mut total = Q::ZERO;
    let mut is_known = true;
    for (line, (share, _)) in lines.iter().zip(&ranges) {
        let dry_matter = line.feed.dry_matter();
        let weight = if line.is_on_top() {
            Some(Q::ZERO)
        } else if dry_matter.is_complete {
            share.over(&dry_matter.known)
        } else {
            None
        };
        let Some(weight) = weight else {
            findings.push(basis::no_dry_matter(line.place, "its share", line.name()));
            is_known = false;
            continue;
        };
        total += &weight;
        weights.push(weight);
    }
    if !is_known || total.is_zero() {
        return None;
    }
    // Where the shares of dry matter miss the whole, so do the shares as fed, by as much.
    let whole: Q = lines
        .iter()
        .zip(&ranges)
        .filter(|(line, _)| !line.is_on_top())
        .map(|(_, (share, _))| share)
        .sum();
    let as_fed = lines
        .iter()
        .zip(ranges)
        .zip(weights)
        .map(|((line, range), weight)| {
            if line.is_on_top() {
                return range;
            }
            let share = weight * &whole / &total;
            (share.clone(), share)
        });
    Some(as_fed.collect())
}
