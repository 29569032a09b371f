//! The deliveries that lines name: whether they are past their day, and whether one batch can be taken from them.

use std::collections::BTreeMap;

use smol_str::SmolStr;
use trug_findings::Finding;

use crate::Q;
use crate::findings::store;
use crate::ration::{Line, Ration};
use crate::view::View;

/// Says what is wrong with the lots that a ration names. Without a day nothing is past it.
pub(super) fn judge(view: &View<'_>, ration: &Ration, findings: &mut Vec<Finding>) {
    let mut taken: BTreeMap<&SmolStr, (&Line, Q)> = BTreeMap::new();
    for line in &ration.lines {
        let Some(name) = &line.lot else { continue };
        let (_, share) = taken.entry(name).or_insert((line, Q::ZERO));
        *share += &line.low;
    }
    for (name, (line, share)) in taken {
        let Some(lot) = view.lot(name) else { continue };
        let declared = (name.as_str(), lot.place);
        let today = view.farm.settings().today;
        if let (Some(today), Some(day)) = (today, lot.best_before)
            && lot.is_past(today)
        {
            // The ration it is taken over from says so at the line itself.
            if !line.is_inherited {
                findings.push(store::named(line.place, &line.name, declared, day, today));
            }
            continue;
        }
        if let (Some(left), Some(batch)) = (&lot.on_hand, &ration.batch) {
            let wanted = share * batch;
            if wanted > *left {
                let masses = [&wanted, left];
                findings.push(store::named_short(line.place, &line.name, declared, masses));
            }
        }
    }
}
