//! What can be said about records beside the plan: weights, lots, days and the group it went to.

use jiff::civil::Date;
use trug_findings::{Code, Finding, Place};
use trug_model::Q;

use crate::words::{mass, masses_apart, names};

pub static WEIGHT: Code = Code::warning("record/weight", include_str!("pages/record-weight.md"));

pub static TOTAL: Code = Code::note("record/total", include_str!("pages/record-total.md"));

pub static MISSING: Code = Code::warning("record/missing", include_str!("pages/record-missing.md"));

pub static EXTRA: Code = Code::warning("record/extra", include_str!("pages/record-extra.md"));

pub static RATION: Code = Code::warning("record/ration", include_str!("pages/record-ration.md"));

pub static LOT: Code = Code::warning("record/lot", include_str!("pages/record-lot.md"));

pub static DAYS: Code = Code::warning("record/days", include_str!("pages/record-days.md"));

pub static GROUP: Code = Code::warning("record/group", include_str!("pages/record-group.md"));

pub static ALL: &[&Code] = &[
    &WEIGHT, &TOTAL, &MISSING, &EXTRA, &RATION, &LOT, &DAYS, &GROUP,
];

/// A weight outside of what the plan allows. Masses in kg.
pub(crate) fn weight(
    place: Place,
    ingredient: &str,
    weighed: &Q,
    (from, to): (&Q, &Q),
    asked: Place,
) -> Finding {
    let end = if weighed < from { from } else { to };
    let (was, _) = masses_apart(weighed, end);
    let wanted = if from == to {
        format!("the plan reads {}", masses_apart(weighed, end).1)
    } else {
        format!(
            "the plan reads from {} to {}",
            masses_apart(weighed, from).1,
            masses_apart(weighed, to).1
        )
    };
    WEIGHT
        .at(place)
        .says(format!("{ingredient} was {was}; {wanted}"))
        .also(asked, "asked here")
        .help("look at the sheet what the scale showed; if it was so, weigh the next batch by the plan")
}

/// What was weighed does not make the batch. Masses in kg.
pub(crate) fn total(place: Place, record: &str, weighed: &Q, batch: &Q, error: &Q) -> Finding {
    let (sum, whole) = masses_apart(weighed, batch);
    let off = mass(&(weighed - batch).abs());
    let way = if weighed < batch { "short" } else { "too much" };
    TOTAL
        .at(place)
        .says(format!(
            "{record} adds up to {sum}; its batch is {whole}: {off} {way}"
        ))
        .help(format!(
            "compare each weight with the sheet; the scales alone may be off by {}",
            mass(error)
        ))
}

/// What the ration holds and nobody weighed.
pub(crate) fn missing(place: Place, record: &str, missing: &[(&str, Place)]) -> Finding {
    let of: Vec<&str> = missing.iter().map(|(name, _)| *name).collect();
    let mut finding = MISSING
        .at(place)
        .says(format!(
            "{record} does not say what was weighed of {}",
            names(&of)
        ))
        .help("write `weighed NAME MASS` for each; what was left out is missing in the trough too");
    for (name, asked) in missing {
        finding = finding.also(*asked, format!("{name} is asked here"));
    }
    finding
}

/// Weighed, and not in the ration.
pub(crate) fn extra(place: Place, ingredient: &str, weighed: &Q, ration: (&str, Place)) -> Finding {
    EXTRA
        .at(place)
        .says(format!(
            "{} of {ingredient} was weighed; {} holds none",
            mass(weighed),
            ration.0
        ))
        .also(ration.1, format!("{} is made here", ration.0))
        .help("check the name; if it went in, it is counted in what the batch really holds")
}

/// The ration has changed so much since that its plan says nothing about the record.
pub(crate) fn ration(
    place: Place,
    record: &str,
    ration: (&str, Place),
    same: usize,
    of: usize,
) -> Finding {
    RATION
        .at(place)
        .says(format!(
            "{record} shares {same} of {of} ingredients with {} as it is now",
            ration.0
        ))
        .also(ration.1, "the ration as it is now")
        .help("keep the ration as it was under a name of its own, and let the record be of that")
}

/// The ration's line names another delivery than was used.
pub(crate) fn other_lot(
    place: Place,
    ingredient: &str,
    used: &str,
    named: (&str, Place),
) -> Finding {
    LOT.at(place)
        .says(format!(
            "{ingredient} is of lot {used}; the ration asks for lot {}",
            named.0
        ))
        .also(named.1, "asked here")
        .help("check the label of the bag; another lot may hold more or less of what is bounded")
}

/// A delivery used after its last day.
pub(crate) fn past_best(
    place: Place,
    lot: (&str, Place),
    best_before: Date,
    record: &str,
    made: Date,
) -> Finding {
    LOT.at(place)
        .says(format!(
            "lot {} was best before {best_before}; {record} was made on {made}",
            lot.0
        ))
        .also(lot.1, "the lot")
        .help("look for mould and a stale smell before the batch is fed; vitamins and medicines lose strength with age")
}

/// A delivery used before it came.
pub(crate) fn not_yet_here(
    place: Place,
    lot: (&str, Place),
    received: Date,
    record: &str,
    made: Date,
) -> Finding {
    LOT.at(place)
        .says(format!(
            "lot {} came on {received}; {record} was made on {made}",
            lot.0
        ))
        .also(lot.1, "the lot")
        .help("check both days and the name of the lot: in a recall it is looked for by them")
}

/// Fed before it was made.
pub(crate) fn fed_early(place: Place, record: &str, fed: Date, made: (Date, Place)) -> Finding {
    DAYS.at(place)
        .says(format!(
            "{record} is fed on {fed}, before it was made on {}",
            made.0
        ))
        .also(made.1, "made here")
        .help("check both days")
}

/// Fed after it keeps.
pub(crate) fn fed_late(
    place: Place,
    record: &str,
    fed: Date,
    keeps_until: Date,
    ration: Place,
) -> Finding {
    DAYS.at(place)
        .says(format!(
            "{record} is fed until {fed}; it keeps until {keeps_until}"
        ))
        .also(ration, "how long it keeps is said here")
        .help("feed no more of what is left: what is old grows mould and loses vitamins")
}

/// A mix used before it was made.
pub(crate) fn used_early(
    place: Place,
    mix: (&str, Date, Place),
    record: &str,
    made: Date,
) -> Finding {
    DAYS.at(place)
        .says(format!(
            "{} was made on {}, after {record} on {made}",
            mix.0, mix.1
        ))
        .also(mix.2, "made here")
        .help("check both days and the name of the record")
}

/// A mix used after it keeps.
pub(crate) fn used_late(
    place: Place,
    mix: (&str, Date, Place),
    record: &str,
    made: Date,
) -> Finding {
    DAYS.at(place)
        .says(format!(
            "{} keeps until {}; {record} was made with it on {made}",
            mix.0, mix.1
        ))
        .also(mix.2, "the mix")
        .help("make the mix afresh: vitamins and medicines lose strength with age")
}

/// Fed to a group that does not eat it.
pub(crate) fn group(place: Place, group: &str, ration: (&str, Place)) -> Finding {
    GROUP
        .at(place)
        .says(format!("{group} does not eat {} by its lines", ration.0))
        .also(ration.1, "the ration")
        .help("check the name of the group; if it was fed so, see that the ration is made for its animals")
}
