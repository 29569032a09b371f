//! Days of a record beside each other: made, used, fed. Only days that are written down; none is the day it is.

use jiff::civil::Date;
use trug_findings::Finding;
use trug_model::View;
use trug_model::ration::Ration;
use trug_model::view::Record;

use crate::findings::record as says;
use crate::words::days_after;

/// Says what cannot have been, and what is too old.
pub(super) fn judge(view: &View<'_>, record: &Record, findings: &mut Vec<Finding>) {
    let Some(made) = record.made else {
        return;
    };
    let ration = view.made_out(&record.of);
    let last = ration.as_ref().and_then(|it| keeps_until(it, made.0));
    for fed in &record.fed {
        let first = fed.from.or(fed.to);
        if let Some((day, place)) = first.filter(|(day, _)| *day < made.0) {
            findings.push(says::fed_early(place, &record.name, day, made));
            continue;
        }
        let until = fed.to.or(fed.from);
        if let (Some((day, place)), Some(last), Some(ration)) = (until, last, &ration)
            && last < day
        {
            let of = ration.place;
            findings.push(says::fed_late(place, &record.name, day, last, of));
        }
    }
    for weighed in &record.weighed {
        let Some((name, place)) = &weighed.lot else {
            continue;
        };
        // A lot wins over a record of the same name.
        let mix = view.record_called(name).filter(|mix| {
            mix.of == weighed.name && view.delivery(name).is_none() && mix.place != record.place
        });
        let Some((mix, mixed)) = mix.and_then(|mix| Some((mix.clone(), mix.made?.0))) else {
            continue;
        };
        let kept = view.made_out(&mix.of);
        let kept = kept.and_then(|ration| keeps_until(&ration, mixed));
        if made.0 < mixed {
            let mix = (mix.name.as_str(), mixed, mix.place);
            findings.push(says::used_early(*place, mix, &record.name, made.0));
        } else if let Some(kept) = kept.filter(|kept| *kept < made.0) {
            let mix = (mix.name.as_str(), kept, mix.place);
            findings.push(says::used_late(*place, mix, &record.name, made.0));
        }
    }
}

/// The last day on which a batch made on a day keeps; none where the ration does not say.
fn keeps_until(ration: &Ration, made: Date) -> Option<Date> {
    days_after(made, &ration.keeps.as_ref()?.floor())
}
