//! The deliveries a record names, beside those the ration asks for and their own days.

use trug_findings::Finding;
use trug_model::View;
use trug_model::ration::Ration;
use trug_model::view::Record;

use crate::findings::record as says;

/// Says which lot was used that the ration does not ask for, or that was too old or not there yet.
pub(super) fn judge(
    view: &View<'_>,
    record: &Record,
    ration: &Ration,
    findings: &mut Vec<Finding>,
) {
    for weighed in &record.weighed {
        let Some((name, place)) = &weighed.lot else {
            continue;
        };
        // One that means nothing, or another ingredient, was spoken of.
        let lot = view.delivery(name).map(|(lot, _)| lot);
        let Some(lot) = lot.filter(|lot| lot.of == weighed.name) else {
            continue;
        };
        let of_lot = (lot.name.as_str(), lot.place);
        if let Some((made, _)) = record.made {
            if let Some(best) = lot.best_before.filter(|best| *best < made) {
                findings.push(says::past_best(*place, of_lot, best, &record.name, made));
            }
            if let Some(came) = lot.received.filter(|came| made < *came) {
                findings.push(says::not_yet_here(*place, of_lot, came, &record.name, made));
            }
        }
        let asked = ration.lines.iter().filter(|line| line.name == weighed.name);
        let asked: Vec<_> = asked
            .filter_map(|line| Some((line.lot.as_ref()?, line.written)))
            .collect();
        if let Some((first, written)) = asked.first()
            && asked.iter().all(|(asked, _)| **asked != lot.name)
        {
            findings.push(says::other_lot(
                *place,
                &weighed.name,
                &lot.name,
                (first, *written),
            ));
        }
    }
}
